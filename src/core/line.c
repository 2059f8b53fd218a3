/* SPDX-License-Identifier: MIT */
#include "core/line.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "core/day_parts.h"
#include "core/line_parts.h"

enum { NOTE_SIZE_MAX = 4000 };

enum status line_fail(
	struct line_work *work, enum status status, size_t at, const char *format, ...)
{
	char text[FAULT_TEXT_SIZE];
	va_list arguments;
	va_start(arguments, format);
	(void)vsnprintf(text, sizeof(text), format, arguments);
	va_end(arguments);
	work->failed_at = at;
	return fault_set(work->why, status, "%s", text);
}

void line_remark(struct line_work *work, const char *format, ...)
{
	char text[sizeof(work->out->remarks)];
	va_list arguments;
	va_start(arguments, format);
	(void)vsnprintf(text, sizeof(text), format, arguments);
	va_end(arguments);
	if (work->remarks.length > 0)
		text_add(&work->remarks, "; ");
	text_add_n(&work->remarks, text, text_whole(text, strlen(text)));
}

void line_offer(struct line_work *work, const char *format, ...)
{
	char text[LINE_SIZE];
	if (work->out->line_count == LINES_MAX)
		return;
	va_list arguments;
	va_start(arguments, format);
	(void)vsnprintf(text, sizeof(text), format, arguments);
	va_end(arguments);
	work->out->lines[work->out->line_count++] = arena_text(work->arena, text);
}

int32_t line_find(struct line_work *work, enum name_class class, size_t from, size_t to,
	struct name_match *out, int32_t max)
{
	const struct line_names *names = &work->context->names;
	if (names->find == NULL || from >= to)
		return 0;
	return names->find(names->owner, class, work->text + from, to - from, out, max);
}

const char *line_label(const struct line_work *work)
{
	if (work->out->batch != BATCH_ONE)
		return arena_format(work->arena, "all %s%s",
			work->out->batch == BATCH_ALL_AREA ? "in " : "", work->out->batch_title);
	const struct subject *subject = &work->out->draft.subject;
	const char *lead = subject->kind == SUBJECT_SPOT   ? "spot "
			   : subject->kind == SUBJECT_AREA ? "area "
							   : "";
	return arena_format(work->arena, "%s%s", lead, subject->label);
}

const char *line_day_text(struct line_work *work)
{
	if (work->day_from == 0)
		return "";
	return arena_format(work->arena, " @ %.*s", (int)(work->day_to - work->day_from),
		work->plain->text + work->day_from);
}

bool line_has_field(const struct line_work *work, enum field field)
{
	for (int i = 0; i < KIND_FIELDS_MAX && work->row->fields[i] != FIELD_NONE; i++) {
		if (work->row->fields[i] == field)
			return true;
	}
	return false;
}

/* Does a quoted name start here? Its length with both quotes; an inch mark follows a digit. */
static size_t quoted_at(const char *text, size_t at)
{
	if (text[at] != '"' || (at > 0 && text[at - 1] != ' '))
		return 0;
	const char *close = strchr(text + at + 1, '"');
	return close == NULL ? 0 : (size_t)(close - (text + at)) + 1;
}

/* Finds the note behind the first ';' and the day behind the last '@' before it. */
static void split(struct line_work *work)
{
	struct plain *plain = work->plain;
	size_t sign = plain->length;
	size_t end = plain->length;
	for (size_t at = 0; at < plain->length; at++) {
		size_t quoted = quoted_at(plain->text, at);
		if (quoted > 0) {
			at += quoted - 1;
			continue;
		}
		if (plain->text[at] == ';') {
			const char *note = work->raw + plain->at[at] + 1;
			work->note = note + strspn(note, " \t");
			end = at;
			break;
		}
		if (plain->text[at] == '@' && (at == 0 || plain->text[at - 1] == ' '))
			sign = at;
	}
	work->end = sign < end ? sign : end;
	if (sign < end) {
		work->day_from = sign + 1 + (plain->text[sign + 1] == ' ');
		work->day_to = end;
		while (work->day_to > work->day_from && plain->text[work->day_to - 1] == ' ')
			work->day_to--;
	}
	while (work->end > 0 && plain->text[work->end - 1] == ' ')
		work->end--;
	/* The day stays behind the NUL; the items end at it. */
	work->text = arena_text_n(work->arena, plain->text, work->end);
	work->low = arena_text_n(work->arena, plain->low, work->end);
}

/* The day behind '@'. */
static enum status read_day(struct line_work *work)
{
	if (work->day_from == 0)
		return STATUS_OK;
	const char *text = arena_text_n(
		work->arena, work->plain->text + work->day_from, work->day_to - work->day_from);
	enum status status = day_read_named(
		text, work->context, work->planned, &work->day, &work->season, work->why);
	work->failed_at = work->day_from;
	work->day_said = status == STATUS_OK;
	return status;
}

static enum status read_parts(struct line_work *work)
{
	split(work);
	if (work->end == 0 && work->day_from > 0) {
		work->out->is_day_line = true;
		enum status status = read_day(work);
		work->out->draft.day = work->day;
		work->out->day_given = true;
		char words[80];
		if (status == STATUS_OK)
			(void)snprintf(work->out->said, sizeof(work->out->said),
				"the lines below: %s",
				date_span_format_plain(&work->day, words, sizeof(words)));
		return status;
	}
	if (work->end == 0)
		return line_fail(work, STATUS_SYNTAX, 0,
			"nothing but a note: a line starts with a label and what was done, as A3 "
			"picked 6 lb");
	enum status status = line_read_subject(work);
	if (status == STATUS_OK)
		status = read_day(work);
	if (status == STATUS_OK)
		status = line_read_items(work);
	if (status == STATUS_OK)
		status = line_finish(work);
	if (status == STATUS_OK)
		line_say(work);
	return status;
}

static enum status check_size(struct line_work *work, const char *text)
{
	if (strlen(text) >= LINE_SIZE)
		return line_fail(work, STATUS_RANGE, 0, "the line has %zu bytes; at most %d",
			strlen(text), LINE_SIZE - 1);
	enum status status = plain_make(text, PLAIN_SIZE, work->plain, work->why);
	if (status != STATUS_OK)
		return status;
	if (work->plain->length == 0)
		return line_fail(work, STATUS_SYNTAX, 0, "the line is empty");
	const char *note = strchr(text, ';');
	if (note != NULL && strlen(note) > NOTE_SIZE_MAX)
		return line_fail(work, STATUS_RANGE, 0, "the note has %zu bytes; at most %d",
			strlen(note), NOTE_SIZE_MAX);
	return STATUS_OK;
}

enum status line_read(const char *text, const struct line_context *context, struct arena *arena,
	struct reading *out, size_t *column, struct fault *why)
{
	struct line_work *work = arena_alloc(arena, sizeof(*work));
	memset(out, 0, sizeof(*out));
	*work = (struct line_work){.context = context,
		.arena = arena,
		.out = out,
		.why = why,
		.raw = text,
		.note = "",
		.plain = arena_alloc(arena, sizeof(struct plain)),
		.planned = context->is_plan};
	work->remarks = text_builder_fixed(out->remarks, sizeof(out->remarks));
	work->asides = text_builder_in(arena);
	enum status status = check_size(work, text);
	if (status == STATUS_OK)
		status = read_parts(work);
	out->draft.words = arena_text(arena, text);
	if (status != STATUS_OK && column != NULL)
		*column = work->plain->length > 0 && work->failed_at <= work->plain->length
				  ? work->plain->at[work->failed_at]
				  : 0;
	return status;
}
