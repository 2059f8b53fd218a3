/* SPDX-License-Identifier: MIT */
/* The year ahead, day by day. */
#include <stdio.h>

#include "core/text.h"
#include "report/calendar.h"
#include "report/rows.h"

static const char *const calendar_keys[] = {
	"from", "to", "what", "title", "trees", "words", "every_days", "until", "uid", NULL};

static void say_short(struct date date, char out[16])
{
	const struct date_parts parts = date_parts(date);

	snprintf(out, 16, "%2d %.3s %04d", (int)parts.day % 100, date_month_name(parts.month),
		(int)parts.year % 10000);
}

static void say_event(const struct printer *printer, const struct calendar_event *event)
{
	char from[16], to[16], head[48], again[64] = "";
	bool one_day = event->from.day == event->to.day;

	say_short(event->from, from);
	say_short(event->to, to);
	snprintf(head, sizeof head, "%s %s %-11s  ", from, one_day ? " " : "-", one_day ? "" : to);
	if (event->every_days > 0)
		snprintf(again, sizeof again, ", then every %d days", (int)event->every_days);
	say_wrapped(printer, head, "%s%s%s%s", event->title, event->trees[0] != '\0' ? ": " : "",
		event->trees, again);
	if (event->words[0] == '\0')
		return;
	snprintf(head, sizeof head, "%29s", "");
	for (const char *at = event->words; *at != '\0';) {
		const char *end = at;
		while (*end != '\0' && *end != '\n')
			end++;
		say_wrapped(printer, head, "%.*s", (int)(end - at), at);
		at = *end == '\n' ? end + 1 : end;
	}
}

static void event_row(struct rows *rows, const struct calendar_event *event)
{
	rows_date(rows, known_date(event->from));
	rows_date(rows, known_date(event->to));
	rows_text(rows, calendar_kind_key(event->kind));
	rows_text(rows, event->title);
	rows_text(rows, event->trees);
	rows_text(rows, event->words);
	rows_i64(rows, (struct maybe_i64){event->every_days, event->every_days > 0});
	rows_date(rows, event->until);
	rows_text(rows, event->uid);
}

enum status print_calendar(
	const struct printer *printer, const struct calendar *calendar, struct fault *why)
{
	if (printer->format != FORMAT_TEXT) {
		struct rows rows = rows_begin(printer, calendar_keys);

		for (int32_t i = 0; i < calendar->count; i++)
			event_row(&rows, &calendar->events[i]);
		return rows_end(&rows, why);
	}
	for (int32_t i = 0; i < calendar->count; i++)
		say_event(printer, &calendar->events[i]);
	if (calendar->count == 0)
		say_line(printer,
			"nothing with a day of its own: no windows, no plans, no put-offs");
	return say_end(printer, why);
}
