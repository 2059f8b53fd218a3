/* SPDX-License-Identifier: MIT */
/* The calendar file against RFC 5545: line breaks, folding, escaping, whole days. */
#include "exchange/icalendar.h"

#include <stdlib.h>
#include <string.h>

#include "core/text.h"

#include "support/test.h"

static const char stamp[] = "2026-11-24T10:15:00Z";

static struct date day(const char *iso)
{
	struct date date;
	struct fault why = {0};
	check_ok(date_parse_iso(iso, &date, &why), &why);
	return date;
}

/* The file of one event; free() it. */
static char *written(const struct calendar_event *event, const char *name)
{
	const struct calendar calendar = {.events = event, .count = 1};
	struct fault why = {0};
	char *bytes = NULL;
	size_t length = 0;
	FILE *stream = open_memstream(&bytes, &length);
	assert_non_null(stream);
	check_ok(icalendar_write(stream, &calendar, name, stamp, &why), &why);
	fclose(stream);
	check_int((int64_t)strlen(bytes), (int64_t)length, "no NUL");
	return bytes;
}

/* Lines joined again, as 3.1 says: a line break with a blank after it is nothing. */
static char *unfolded(const char *text)
{
	char *out = calloc(strlen(text) + 1, 1);
	size_t at = 0;
	for (; *text != '\0'; text++) {
		if (strncmp(text, "\r\n ", 3) == 0)
			text += 2;
		else
			out[at++] = *text;
	}
	return out;
}

static struct calendar_event plain(void)
{
	return (struct calendar_event){.kind = CALENDAR_WINDOW,
		.uid = "cut-clear-peach@P",
		.from = day("2027-01-15"),
		.to = day("2027-02-28"),
		.title = "clear for the saw: peach",
		.trees = "A1, A2",
		.words = ""};
}

static void a_window_is_whole_days(void **state)
{
	const struct calendar_event event = plain();
	(void)state;
	char *text = written(&event, "Hill yard");
	check_text(text,
		"BEGIN:VCALENDAR\r\nVERSION:2.0\r\n"
		"PRODID:-//Boughbook//Boughbook " BOUGHBOOK_VERSION "//EN\r\n"
		"CALSCALE:GREGORIAN\r\nNAME:Hill yard\r\n"
		"BEGIN:VEVENT\r\nUID:cut-clear-peach@P\r\nDTSTAMP:20261124T101500Z\r\n"
		"DTSTART;VALUE=DATE:20270115\r\nDTEND;VALUE=DATE:20270301\r\n"
		"SUMMARY:clear for the saw: peach: A1\\, A2\r\nCATEGORIES:window\r\n"
		"TRANSP:TRANSPARENT\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n",
		"the whole file");
	free(text);
}

static void a_plan_that_comes_again_has_a_rule(void **state)
{
	struct calendar_event event = plain();
	(void)state;
	event.every_days = 14;
	char *text = written(&event, "Hill yard");
	check_has(text, "\r\nRRULE:FREQ=DAILY;INTERVAL=14\r\n", "for ever");
	free(text);
	event.until = known_date(day("2027-06-30"));
	text = written(&event, "Hill yard");
	check_has(text, "\r\nRRULE:FREQ=DAILY;INTERVAL=14;UNTIL=20270630\r\n", "until");
	free(text);
}

static void hostile_words_stay_words(void **state)
{
	struct calendar_event event = plain();
	(void)state;
	event.title = "a;b,c\\d";
	event.trees = "x\r\nBEGIN:VALARM";
	event.words = "one\ntwo\033[31m\xe2\x80\xae\nEND:VEVENT";
	char *text = written(&event, "n\nATTACH:x");
	check_has(text, "\r\nSUMMARY:a\\;b\\,c\\\\d: x \\nBEGIN:VALARM\r\n", "title");
	check_has(text, "\r\nDESCRIPTION:one\\ntwo\xe2\x90\x9b[31m\xef\xbf\xbd\\nEND:VEVENT\r\n",
		"words");
	check_has(text, "\r\nNAME:n\\nATTACH:x\r\n", "name");
	free(text);
}

static void lines_fold_at_75_octets_between_characters(void **state)
{
	(void)state;
	for (size_t length = 50; length < 240; length++) {
		struct calendar_event event = plain();
		char title[600] = "";
		for (size_t i = 0; i < length; i++)
			strcat(title, i % 3 == 0 ? "\xc3\xad" : i % 7 == 0 ? "\xe6\xa1\x83" : "x");
		event.title = title;
		event.trees = "";
		char *text = written(&event, "Hill yard");
		for (const char *at = text; *at != '\0';) {
			const char *end = strstr(at, "\r\n");
			assert_non_null(end);
			assert_true(end - at <= 75);
			assert_true(text_is_valid(at, (size_t)(end - at)));
			at = end + 2;
		}
		char want[700];
		char *whole = unfolded(text);
		snprintf(want, sizeof want, "\r\nSUMMARY:%s\r\n", title);
		check_has(whole, want, "unfolded it is what it was");
		free(whole);
		free(text);
	}
}

static void no_event_no_file(void **state)
{
	const struct calendar empty = {0};
	struct fault why = {0};
	(void)state;
	check_refused(icalendar_write(stdout, &empty, "Hill yard", stamp, &why), STATUS_ABSENT,
		&why, "no plans");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_window_is_whole_days),
		cmocka_unit_test(a_plan_that_comes_again_has_a_rule),
		cmocka_unit_test(hostile_words_stay_words),
		cmocka_unit_test(lines_fold_at_75_octets_between_characters),
		cmocka_unit_test(no_event_no_file),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
