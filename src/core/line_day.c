/* SPDX-License-Identifier: MIT */
/* Days as growers say them: the forms of day_parts.h tried in turn, alone or two joined. */
#include "core/day_parts.h"
#include "core/plain.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum status day_take_edtf(struct day_work *work, const char *format, ...)
{
	char text[EDTF_SIZE];
	va_list arguments;
	va_start(arguments, format);
	(void)vsnprintf(text, sizeof(text), format, arguments);
	va_end(arguments);
	return date_span_parse(text, work->context->hemisphere, &work->span, work->why);
}

void day_mark(struct date_span *span, bool about, bool doubt)
{
	about = about || span->about;
	doubt = doubt || span->doubt;
	const char mark = about && doubt ? '%' : about ? '~' : '?';
	char text[EDTF_SIZE] = "";
	size_t at = 0;
	for (const char *from = span->text; (about || doubt) && at < sizeof(text) - 3; from++) {
		bool ends = *from == '/' || *from == '\0';
		bool open = at == 0 || text[at - 1] == '.' || text[at - 1] == '/';
		if (ends && !open)
			text[at++] = mark;
		if (*from == '\0')
			break;
		if (strchr("~?%", *from) == NULL)
			text[at++] = *from;
	}
	if (at > 0)
		memcpy(span->text, text, sizeof(text));
	span->about = about;
	span->doubt = doubt;
}

/* One end of EDTF text: before the slash, or behind it. */
static void end_text(const struct date_span *span, bool is_last, char *out, size_t size)
{
	const char *slash = strchr(span->text, '/');
	const char *from = is_last && slash != NULL ? slash + 1 : span->text;
	size_t length = is_last || slash == NULL ? strlen(from) : (size_t)(slash - from);
	length = length < size - 1 ? length : size - 1;
	memcpy(out, from, length);
	out[length] = '\0';
}

bool day_join(const struct date_span *from, const struct date_span *to, struct date_span *out)
{
	char low[EDTF_SIZE / 2];
	char high[EDTF_SIZE / 2];
	char text[EDTF_SIZE];
	end_text(from, false, low, sizeof(low));
	end_text(to, true, high, sizeof(high));
	(void)snprintf(text, sizeof(text), "%s/%s", low, high);
	struct date_span span;
	/* Seasons inside have been placed already; their months do not depend on this choice. */
	if (date_span_parse(text, HEMISPHERE_NORTH, &span, NULL) != STATUS_OK)
		return false;
	span.low = from->low;
	span.high = to->high;
	if (span.low.known && span.high.known && date_compare(span.low.value, span.high.value) > 0)
		return false;
	*out = span;
	return true;
}

static enum status read_one(struct day_work *work)
{
	enum status (*const forms[])(struct day_work *) = {day_read_words, day_read_season,
		day_read_numbers, day_read_months, day_read_decades};
	for (size_t i = 0; i < sizeof(forms) / sizeof(forms[0]); i++) {
		enum status status = forms[i](work);
		if (status != STATUS_ABSENT)
			return status;
	}
	return STATUS_ABSENT;
}

static enum status read_piece(
	const struct day_work *work, size_t from, size_t to, struct date_span *out)
{
	char text[DAY_TEXT_SIZE];
	char low[DAY_TEXT_SIZE];
	memcpy(text, work->text + from, to - from);
	memcpy(low, work->low + from, to - from);
	text[to - from] = '\0';
	low[to - from] = '\0';
	struct day_work piece = *work;
	piece.text = text;
	piece.low = low;
	enum status status = read_one(&piece);
	*out = piece.span;
	return status;
}

/* "12 may to 20 may 2026", "late spring or early summer": from the first to the second. */
static enum status read_joined(struct day_work *work)
{
	size_t length = strlen(work->low);
	for (size_t at = 1; at + 1 < length; at++) {
		size_t joiner = 0;
		if (work->low[at - 1] == ' ')
			joiner = plain_word_of(work->low + at, "to or until");
		if (work->low[at - 1] == ' ' && work->low[at] == '-')
			joiner = 1;
		if (joiner == 0 || work->low[at + joiner] != ' ')
			continue;
		struct date_span from;
		struct date_span to;
		enum status status = read_piece(work, 0, at - 1, &from);
		if (status == STATUS_OK)
			status = read_piece(work, at + joiner + 1, length, &to);
		if (status == STATUS_OK && day_join(&from, &to, &work->span))
			return STATUS_OK;
		if (status != STATUS_ABSENT && status != STATUS_OK)
			return status;
	}
	return STATUS_ABSENT;
}

enum status day_read_any(struct day_work *work)
{
	enum status status = read_one(work);
	if (status == STATUS_ABSENT)
		status = read_joined(work);
	if (status == STATUS_ABSENT)
		status = day_read_relative(work);
	return status;
}

enum status day_read_named(const char *text, const struct line_context *context, bool planning,
	struct date_span *out, struct maybe_i32 *season, struct fault *why)
{
	struct date iso;
	if (date_parse_iso(text, &iso, NULL) == STATUS_OK) { /* the commonest, in files */
		*out = date_span_of(iso);
		*season = (struct maybe_i32){.known = false};
		return STATUS_OK;
	}
	struct plain plain;
	enum status status = plain_make(text, DAY_TEXT_SIZE, &plain, why);
	if (status != STATUS_OK)
		return status;
	if (plain.length == 0)
		return fault_set(why, STATUS_SYNTAX,
			"no day given: write it as 12 may, 2026-05-12, yesterday or 3 days ago");
	struct day_work work = {.context = context,
		.planning = planning,
		.text = plain.text,
		.low = plain.low,
		.why = why};
	if (plain.length < DAY_TEXT_SIZE - 1) {
		size_t about =
			plain_word_of(plain.low, "about around circa") + (plain.low[0] == '~');
		about += about > 0 && plain.low[about] == ' ';
		work.text += about;
		work.low += about;
		status = day_read_any(&work);
		if (status == STATUS_OK && about > 0)
			day_mark(&work.span, true, false);
	} else {
		status = STATUS_ABSENT;
	}
	if (status == STATUS_ABSENT)
		return fault_set(why, STATUS_SYNTAX,
			"'%.60s' is not a day: write it as 12 may, 2026-05-12, yesterday, tues, "
			"3 days ago, mid feb, 9/2012 or season 2026",
			plain.text);
	if (status == STATUS_OK) {
		*out = work.span;
		*season = work.season;
	}
	return status;
}

enum status day_read(const char *text, const struct line_context *context, bool planning,
	struct date_span *out, struct fault *why)
{
	struct maybe_i32 season;
	return day_read_named(text, context, planning, out, &season, why);
}
