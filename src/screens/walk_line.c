/* SPDX-License-Identifier: MIT */
#include "walk_line.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "urgency.h"

/* Labels said of a line for many; trees that a cut is tried on at every letter. */
enum { MANY_SAID = 12, MANY_TRIED = 12 };

static struct line_context context_at(struct session *session, const char *label)
{
	struct line_context context = session_line_context(session);
	context.label = label;
	context.short_labels = true;
	return context;
}

static void ask_first(struct walk_reading *out, struct session *session,
	const struct reading *reading, struct arena *arena)
{
	struct ask_answer answer;
	struct fault why = {.status = STATUS_OK};
	if (review_ask(session->yard, reading, arena, &answer, &why) != STATUS_OK) {
		(void)text_copy(out->asked, sizeof out->asked, why.text);
		out->urgency = URGENCY_NOTE;
		return;
	}
	(void)text_copy(out->settles, sizeof out->settles, answer.settles);
	if (answer.count == 0)
		return;
	out->urgency = answer.items[0].flag.urgency;
	out->more = answer.count - 1;
	(void)text_copy(out->asked, sizeof out->asked, answer.items[0].flag.says);
}

enum status walk_line_ask(struct session *session, const char *label, const char *line,
	struct arena *arena, struct ask_answer *out, struct fault *why)
{
	const struct line_context context = context_at(session, label);
	struct reading *reading = arena_alloc(arena, sizeof *reading);
	const enum status status = line_read(line, &context, arena, reading, NULL, why);
	return status == STATUS_OK ? review_ask(session->yard, reading, arena, out, why) : status;
}

static void say_reading(struct walk_reading *out, const struct reading *reading)
{
	struct text_builder said = text_builder_fixed(out->said, sizeof out->said);
	text_add(&said, reading->said);
	if (reading->remarks[0] == '\0')
		return;
	text_add(&said, "; ");
	text_add(&said, reading->remarks);
}

/* "; 2 trees: D1, D2; 10 gal in all" behind what a line for many says. */
static void say_many(struct walk_reading *out, struct session *session,
	const struct reading *reading, const struct subject *subjects, int32_t count)
{
	const struct amount *amount =
		reading->draft.amount_count > 0 ? &reading->draft.amounts[0] : NULL;
	char sum[24] = "";
	const size_t length = strlen(out->said);
	struct text_builder said =
		text_builder_fixed(out->said + length, sizeof out->said - length);
	if (count > 1 && amount != NULL && amount->low.known && amount->high.known &&
		amount->low.value == amount->high.value && amount->low.value > 0) {
		if (amount->dimension == DIMENSION_VOLUME)
			(void)volume_format(
				amount->low.value * count, &session->numbers, sum, (int)sizeof sum);
		else if (amount->dimension == DIMENSION_MASS)
			(void)mass_format(
				amount->low.value * count, session->units, sum, (int)sizeof sum);
	}
	if (sum[0] != '\0')
		text_add_format(&said, ", %s in all", sum);
	text_add_format(&said, "; %d %s: ", (int)count, count == 1 ? "tree" : "trees");
	for (int32_t i = 0; i < count && i < MANY_SAID; i++)
		text_add_format(&said, "%s%s", i > 0 ? ", " : "", subjects[i].label);
	if (count > MANY_SAID)
		text_add_format(&said, " and %d more", (int)(count - MANY_SAID));
}

/* Whom a line for many is for; a cut is tried on each of them, unless they are too many to try
 * while someone types. STATUS_ABSENT: no tree stands there. */
static enum status read_many(struct walk_reading *out, struct session *session,
	const struct reading *reading, struct arena *arena, struct fault *why)
{
	struct subject *subjects;
	int32_t count;
	const enum status status =
		work_subjects(session->yard, reading, arena, &subjects, &count, why);
	if (status != STATUS_OK || reading->is_total)
		return status;
	say_many(out, session, reading, subjects, count);
	if (reading->draft.kind != KIND_CUT)
		return STATUS_OK;
	if (count <= MANY_TRIED) {
		ask_first(out, session, reading, arena);
	} else {
		(void)snprintf(out->asked, sizeof out->asked,
			"too many to try the rules while you type: Shift-Tab does");
		out->urgency = URGENCY_NOTE;
	}
	return STATUS_OK;
}

void walk_line_read(
	struct walk_reading *out, struct session *session, const char *label, const char *line)
{
	const struct line_context context = context_at(session, label);
	struct arena *arena = arena_new();
	struct reading *reading = arena_alloc(arena, sizeof *reading);
	struct fault why = {.status = STATUS_OK};
	size_t length = strlen(line);
	*out = (struct walk_reading){.status = STATUS_END};
	(void)text_trim(line, &length);
	if (length > 0)
		out->status = line_read(line, &context, arena, reading, NULL, &why);
	if (out->status == STATUS_OK) {
		say_reading(out, reading);
		if (reading->batch != BATCH_ONE)
			out->status = read_many(out, session, reading, arena, &why);
		else if (reading->draft.kind == KIND_CUT)
			ask_first(out, session, reading, arena);
	}
	if (out->status != STATUS_OK && out->status != STATUS_END) {
		(void)text_copy(out->said, sizeof out->said, why.text);
		for (int32_t i = 0; i < reading->line_count && i < WALK_LINES_MAX; i++)
			(void)text_copy(out->lines[out->line_count++], sizeof out->lines[0],
				reading->lines[i]);
	}
	arena_free(arena);
}

enum status walk_line_log(struct session *session, const char *label, const char *line,
	const char *wants_id, struct work_logged *out, struct fault *why)
{
	const struct line_context context = context_at(session, label);
	struct arena *arena = arena_new();
	struct reading *reading = arena_alloc(arena, sizeof *reading);
	enum status status = STATUS_OK;
	if (wants_id[0] != '\0') {
		status = line_read(line, &context, arena, reading, NULL, why);
		if (status == STATUS_OK &&
			(reading->batch != BATCH_ONE ||
				strcmp(reading->draft.subject.id, wants_id) != 0))
			status = fault_set(why, STATUS_CONFLICT,
				"the last line was not for one tree alone: '%.200s'", line);
	}
	if (status == STATUS_OK)
		status = work_enter(session->yard, line, &context, out, why);
	arena_free(arena);
	return status;
}

/* --- drawing --- */

static int draw_lines(const struct walk_reading *reading, struct paper *paper, int row, int rows)
{
	int used = 0;
	for (int32_t i = 0; i < reading->line_count && used < rows; i++, used++)
		(void)paper_put(paper, row + used, 2, 0, STYLE_PLAIN, reading->lines[i]);
	return used;
}

void walk_line_draw(const struct walk_reading *reading, struct paper *paper, int row, int rows)
{
	int used;
	if (reading->status == STATUS_END) {
		(void)paper_wrap(paper, row, 0, 0, rows, STYLE_PLAIN,
			"type what you did or saw: p 6 lb 4 oz, or cut shape 20%, or saw aphids "
			"light; "
			"Enter or Down goes to the next tree, Up to the one before");
		return;
	}
	if (reading->status != STATUS_OK) {
		const int room = reading->line_count > 0 && rows > 1 ? rows - 1 : rows;
		const bool asks = reading->status == STATUS_DOUBT;
		(void)paper_put(paper, row, 0, 0, STYLE_STRONG, asks ? "which?" : "not yet:");
		used = paper_wrap(paper, row, 9, 0, room, STYLE_PLAIN, reading->said);
		(void)draw_lines(reading, paper, row + used, rows - used);
		return;
	}
	const bool warned = reading->asked[0] != '\0';
	const int room = warned && rows > 1 ? rows / 3 + (rows > 4) : rows;
	(void)paper_put(paper, row, 0, 0, STYLE_GOOD, "logs");
	used = paper_wrap(paper, row, 6, 0, room, STYLE_PLAIN, reading->said);
	if (warned && used < rows) {
		const int column = paper_put(paper, row + used, 0, 6,
			urgency_style(reading->urgency), urgency_word(reading->urgency));
		used += paper_wrap(paper, row + used, column < 6 ? 6 : column + 1, 0, rows - used,
			STYLE_STRONG, reading->asked);
		if (used < rows)
			(void)paper_put(paper, row + used, 6, 0, STYLE_FAINT, "Shift-Tab: why");
	} else if (reading->settles[0] != '\0' && used < rows) {
		(void)paper_put(paper, row + used, 0, 0, STYLE_GOOD, "done");
		(void)paper_wrap(
			paper, row + used, 6, 0, rows - used, STYLE_PLAIN, reading->settles);
	}
}
