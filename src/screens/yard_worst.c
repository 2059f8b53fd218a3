/* SPDX-License-Identifier: MIT */
#include "yard_worst.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "urgency.h"

void worst_start(struct worst *worst)
{
	worst->count = worst->open = worst->looked = worst->total = 0;
	worst->done = false;
}

static void keep(struct worst *worst, const struct flag *flag)
{
	int32_t at = worst->count;
	while (at > 0 && flag_compare(flag, &worst->flags[at - 1]) < 0)
		at--;
	if (at == WORST_MAX)
		return;
	if (worst->count < WORST_MAX)
		worst->count++;
	memmove(&worst->flags[at + 1], &worst->flags[at],
		(size_t)(worst->count - at - 1) * sizeof worst->flags[0]);
	worst->flags[at] = *flag;
}

static enum status look_at(struct worst *worst, struct session *session, const char *tree_id,
	struct arena *arena, struct fault *why)
{
	struct review review;
	const struct review_options options = {.tree_id = tree_id, .keeper = session->keeper};
	const enum status status = review_make(session->yard, &options, arena, &review, why);
	for (int32_t i = 0; status == STATUS_OK && i < review.count; i++) {
		const struct review_item *item = &review.items[i];
		if (item->state != FLAG_OPEN || item->flag.urgency > URGENCY_SOON)
			continue;
		worst->open++;
		keep(worst, &item->flag);
	}
	worst->looked++;
	return status;
}

enum status worst_look(
	struct worst *worst, struct session *session, double seconds, struct fault *why)
{
	const double until_s = clock_monotonic_s() + seconds;
	struct arena *arena = arena_new();
	struct tree_names names;
	enum status status = session_trees(session, false, &names, why);
	worst->total = status == STATUS_OK ? names.count : 0;
	while (status == STATUS_OK && worst->looked < worst->total &&
		clock_monotonic_s() <= until_s) {
		arena_reset(arena);
		status = look_at(worst, session, names.items[worst->looked].id, arena, why);
	}
	arena_free(arena);
	worst->done = status != STATUS_OK || worst->looked >= worst->total;
	return status;
}

/* --- drawing --- */

int worst_rows(const struct worst *worst, int rows)
{
	if (rows < 2)
		return 1;
	if (worst->looked == 0 || (!worst->done && worst->total > rows))
		return rows; /* so that the list below stays where it is */
	if (worst->count == 0)
		return 1;
	return worst->count < rows ? worst->count : rows;
}

static void draw_none(const struct worst *worst, struct paper *paper)
{
	if (worst->looked == 0 && !worst->done)
		(void)paper_put(paper, 0, 2, 0, STYLE_PLAIN, "looking at the trees ...");
	else if (!worst->done)
		(void)paper_format(paper, 0, 2, 0, STYLE_PLAIN, "looking at the trees ... %d of %d",
			(int)worst->looked, (int)worst->total);
	else if (worst->total == 0)
		(void)paper_put(paper, 0, 2, 0, STYLE_PLAIN, "no trees yet: a adds them");
	else
		(void)paper_put(paper, 0, 2, 0, STYLE_GOOD, "nothing needs you now");
}

int worst_draw(const struct worst *worst, struct paper *paper, int rows)
{
	const int taken = worst_rows(worst, rows);
	if (worst->count == 0)
		draw_none(worst, paper);
	for (int i = 0; i < taken && i < worst->count; i++) {
		const struct flag *flag = &worst->flags[i];
		const bool more = i == taken - 1 && worst->open > taken;
		const int end = paper_columns(paper) - (more ? 12 : 0);
		char rest[24];
		(void)paper_put(
			paper, i, 2, 4, urgency_style(flag->urgency), urgency_word(flag->urgency));
		const int column = paper_put(paper, i, 7, 12, STYLE_STRONG, flag->label) + 1;
		(void)paper_put(paper, i, column, end - column, STYLE_PLAIN, flag->says);
		(void)snprintf(rest, sizeof rest, "r: %d more", (int)(worst->open - taken));
		if (more)
			paper_put_right(paper, i, end + 1, 0, STYLE_FAINT, rest);
	}
	return taken;
}
