/* SPDX-License-Identifier: MIT */
/* Uncertain days. What the published specification says stands in tests/outside/edtf.tsv. */
#include "support/test.h"

#include <string.h>

#include "core/date.h"

static void check_bound(const struct maybe_date *got, const char *want, const char *label)
{
	char text[DATE_SIZE] = "";
	check_text(got->known ? date_format(got->value, text) : "", want, label);
}

static void seasons_are_three_months_of_their_hemisphere(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		enum hemisphere hemisphere;
		const char *low;
		const char *high;
	} rows[] = {{"2001-21", HEMISPHERE_NORTH, "2001-03-01", "2001-05-31"},
		{"2001-21", HEMISPHERE_SOUTH, "2001-09-01", "2001-11-30"},
		{"2001-22", HEMISPHERE_NORTH, "2001-06-01", "2001-08-31"},
		{"2001-22", HEMISPHERE_SOUTH, "2001-12-01", "2002-02-28"},
		{"2001-23", HEMISPHERE_NORTH, "2001-09-01", "2001-11-30"},
		{"2001-23", HEMISPHERE_SOUTH, "2001-03-01", "2001-05-31"},
		{"2003-24", HEMISPHERE_NORTH, "2003-12-01", "2004-02-29"},
		{"2001-24", HEMISPHERE_SOUTH, "2001-06-01", "2001-08-31"},
		{"9999-24", HEMISPHERE_NORTH, "9999-12-01", "9999-12-31"}};
	for (size_t at = 0; at < sizeof rows / sizeof *rows; at++) {
		struct date_span span;
		struct fault why = {0};
		check_ok(date_span_parse(rows[at].text, rows[at].hemisphere, &span, &why), &why);
		check_bound(&span.low, rows[at].low, rows[at].text);
		check_bound(&span.high, rows[at].high, rows[at].text);
	}
}

static void a_season_without_hemisphere_is_asked(void **state)
{
	(void)state;
	struct date_span span = {.text = "kept"};
	struct fault why = {0};
	check_refused(date_span_parse("2019-21", HEMISPHERE_UNKNOWN, &span, &why), STATUS_DOUBT,
		&why, "hemisphere");
	check_refused(date_span_parse("2018/2019-24~", HEMISPHERE_UNKNOWN, &span, &why),
		STATUS_DOUBT, &why, "hemisphere");
	check_text(span.text, "kept", "untouched");
}

static void what_level_1_does_not_know_is_refused(void **state)
{
	(void)state;
	static const char *const rows[] = {"abc", "1985-4-12", "1985-04-1", "19850412",
		"156X-12-25", "1984?-06", "2004-06-~11", "[..1984]", "{1960,1961-12}", "199u",
		"1984?~", "unknown", "open", "1985-", "1985-0", "-", "/", "..", "../..", "../",
		"/..", "1985/1986/1987", "~", "?", "1XXX", "XXXX", "X985", "1985-XX-12", "1985-1X",
		"1985-04-1X", "201X-XX", "2015 ", " 2015", "2015~ ", "2015~~", "2015?%",
		"1985-04-12T10:15:00Z", "12 May 2015", "..~", "../~", "2015-21-01x",
		"1985-04-12-13", "2015\n",
		"\xC2\xB9"
		"985",
		"20015", "1985-04-12?/1985-04-13?/", "-x", "Yx",
		"1985-04-12111111111111111111111111111111111111111111111111111111111111111111"};
	for (size_t at = 0; at < sizeof rows / sizeof *rows; at++) {
		struct date_span span = {.text = "kept"};
		struct fault why = {0};
		check_refused(date_span_parse(rows[at], HEMISPHERE_NORTH, &span, &why),
			STATUS_SYNTAX, &why, "is not a day; write");
		check_text(span.text, "kept", rows[at]);
	}
}

static void what_no_calendar_has_is_out_of_range(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		const char *says;
	} rows[] = {{"1985-13", "month 13"}, {"1985-13-01", "month 13"}, {"1985-02-30", "1 to 28"},
		{"2023-02-29", "1 to 28"}, {"1985-00", "month 0"}, {"1985-00-01", "month 0"},
		{"1985-04-00", "not 0"}, {"2001-25", "season 25"}, {"2001-99~", "season 99"},
		{"0000", "year 0"}, {"0000-05", "year 0"}, {"0000-21", "year 0"},
		{"2016/2012", "ends before it begins"}, {"2016-05-02/2016-05-01", "ends before"},
		{"2016/2016-13", "month 13"}, {"Y170000002", "outside the years 1..9999"},
		{"-1985", "outside the years"}, {"2001-21-04", "month 21"}};
	for (size_t at = 0; at < sizeof rows / sizeof *rows; at++) {
		struct date_span span = {.text = "kept"};
		struct fault why = {0};
		check_refused(date_span_parse(rows[at].text, HEMISPHERE_NORTH, &span, &why),
			STATUS_RANGE, &why, rows[at].says);
		check_text(span.text, "kept", rows[at].text);
	}
}

static void qualifiers_flag_and_do_not_widen(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		bool about;
		bool doubt;
	} rows[] = {{"1985", false, false}, {"1985~", true, false}, {"1985?", false, true},
		{"1985%", true, true}, {"1980~/1985?", true, true}, {"../1985~", true, false},
		{"198X?", false, true}, {"1985-XX~", true, false}};
	for (size_t at = 0; at < sizeof rows / sizeof *rows; at++) {
		struct date_span span;
		struct fault why = {0};
		check_ok(date_span_parse(rows[at].text, HEMISPHERE_UNKNOWN, &span, &why), &why);
		check_int(span.about, rows[at].about, rows[at].text);
		check_int(span.doubt, rows[at].doubt, rows[at].text);
		check_text(span.text, rows[at].text, "text kept");
		assert_false(date_span_is_exact(&span));
	}
}

static void nothing_written_is_wholly_unknown(void **state)
{
	(void)state;
	struct date_span span = {.about = true, .low = {.known = true}};
	struct fault why = {0};
	check_ok(date_span_parse("", HEMISPHERE_UNKNOWN, &span, &why), &why);
	assert_false(span.low.known || span.high.known || span.about || span.doubt);
	assert_false(date_span_first(&span).known);
	assert_false(date_span_is_exact(&span));
}

static void the_years_at_both_ends_keep_their_bounds(void **state)
{
	(void)state;
	struct date_span span;
	struct fault why = {0};
	check_ok(date_span_parse("000X", HEMISPHERE_UNKNOWN, &span, &why), &why);
	check_bound(&span.low, "0001-01-01", "000X");
	check_bound(&span.high, "0009-12-31", "000X");
	check_ok(date_span_parse("00XX", HEMISPHERE_UNKNOWN, &span, &why), &why);
	check_bound(&span.low, "0001-01-01", "00XX");
	check_bound(&span.high, "0099-12-31", "00XX");
	check_ok(date_span_parse("99XX", HEMISPHERE_UNKNOWN, &span, &why), &why);
	check_bound(&span.high, "9999-12-31", "99XX");
	check_ok(date_span_parse("9999-12", HEMISPHERE_UNKNOWN, &span, &why), &why);
	check_bound(&span.high, "9999-12-31", "9999-12");
}

static void spans_made_of_days_read_back_the_same(void **state)
{
	(void)state;
	struct date first = {16000};
	for (int32_t length = 0; length < 800; length++) {
		struct date_span made = date_span_between(first, date_add_days(first, length));
		struct date_span read;
		struct fault why = {0};
		check_ok(date_span_parse(made.text, HEMISPHERE_UNKNOWN, &read, &why), &why);
		check_text(read.text, made.text, "text");
		assert_int_equal(read.low.value.day, made.low.value.day);
		assert_int_equal(read.high.value.day, made.high.value.day);
		check_int(date_span_is_exact(&made), length == 0, "exact");
	}
	struct date_span day = date_span_of(first);
	check_text(day.text, "2013-10-22", "one day");
	assert_true(date_span_is_exact(&day));
}

static void the_day_that_stands_for_a_span_is_its_first_known(void **state)
{
	(void)state;
	struct date_span span;
	struct fault why = {0};
	check_ok(date_span_parse("2015/..", HEMISPHERE_UNKNOWN, &span, &why), &why);
	struct maybe_date first = date_span_first(&span);
	check_bound(&first, "2015-01-01", "open end");
	check_ok(date_span_parse("/2015", HEMISPHERE_UNKNOWN, &span, &why), &why);
	first = date_span_first(&span);
	check_bound(&first, "2015-12-31", "unknown beginning");
}

static void spans_read_as_people_write_them(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		const char *want;
	} rows[] = {{"", "day not known"}, {"2026-05-12", "12 May 2026"}, {"2015~", "about 2015"},
		{"199X", "1990-1999"}, {"20XX", "2000-2099"}, {"2019-21", "spring 2019"},
		{"2019-24?", "perhaps winter 2019"}, {"2015-04", "April 2015"},
		{"2015-04-XX", "April 2015"}, {"2015-XX", "2015"}, {"1985%", "perhaps about 1985"},
		{"2012/2013", "2012-2013"}, {"2012~/2013", "about 2012 to 2013"},
		{"2026-05-12/2026-05-14", "12-14 May 2026"},
		{"2026-04-30/2026-05-02", "30 April to 2 May 2026"},
		{"2026-08-28/2026-08-28", "28 August 2026"}, {"2026-08/2026-08", "August 2026"},
		{"2026/2026", "2026"},
		{"2025-08-28/2026-08-28", "28 August 2025 to 28 August 2026"},
		{"2025-12-30/2026-01-02", "30 December 2025 to 2 January 2026"},
		{"2019-05/2019-07", "May to July 2019"},
		{"2019-11/2020-02", "November 2019 to February 2020"}, {"2015/..", "from 2015"},
		{"2015-04/", "from April 2015"}, {"../2015", "until 2015"},
		{"/2015-06-11%", "until perhaps about 11 June 2015"},
		{"2004/2005-06", "2004 to June 2005"}, {"198X/1995", "1980-1989 to 1995"},
		{"2019-21/2019-23", "spring 2019 to autumn 2019"}};
	for (size_t at = 0; at < sizeof rows / sizeof *rows; at++) {
		struct date_span span;
		struct fault why = {0};
		char words[80];
		check_ok(date_span_parse(rows[at].text, HEMISPHERE_NORTH, &span, &why), &why);
		check_text(date_span_format_plain(&span, words, sizeof words), rows[at].want,
			rows[at].text);
	}
}

static void the_longest_words_fit_80_bytes(void **state)
{
	(void)state;
	struct date_span span;
	struct fault why = {0};
	char words[80];
	check_ok(date_span_parse("2004-09-11%/2005-09-12%", HEMISPHERE_UNKNOWN, &span, &why), &why);
	check_text(date_span_format_plain(&span, words, sizeof words),
		"perhaps about 11 September 2004 to perhaps about 12 September 2005", "longest");
}

/* Every text of three characters drawn from the alphabet of the notation, and random longer ones:
 * taken or refused, but never taken with its bounds the wrong way round. */
static void no_text_is_taken_with_turned_bounds(void **state)
{
	(void)state;
	static const char alphabet[] = "0129X-/.~?%";
	uint32_t random = 12345;
	int taken = 0;
	for (int round = 0; round < 200000; round++) {
		char text[EDTF_SIZE + 4];
		size_t length = 1 + (size_t)round % (sizeof text - 1);
		static const char *const starts[] = {
			"", "2015", "2015-0", "1999-12-3", "2015/", "20"};
		strcpy(text, starts[round % 6]);
		while (strlen(text) < length) {
			random = random * 1664525U + 1013904223U;
			size_t at = strlen(text);
			text[at] = alphabet[(random >> 16) % (sizeof alphabet - 1)];
			text[at + 1] = '\0';
			if ((random >> 8) % 8 == 0)
				break;
		}
		struct date_span span;
		if (date_span_parse(text, HEMISPHERE_SOUTH, &span, NULL) != STATUS_OK)
			continue;
		taken++;
		check_text(span.text, text, "text kept");
		assert_true(span.low.known || span.high.known);
		if (span.low.known && span.high.known)
			assert_true(date_compare(span.low.value, span.high.value) <= 0);
	}
	assert_true(taken > 1000);
}

static void check_row_bound(const struct table_row *row, const char *heading, struct maybe_date got)
{
	const char *want = row_text(row, heading);
	check_bound(&got, strcmp(want, "-") == 0 ? "" : want, heading);
}

static void published(const struct table_row *row)
{
	struct date_span span;
	struct fault why = {0};
	enum status status =
		date_span_parse(row_text(row, "text"), HEMISPHERE_UNKNOWN, &span, &why);
	if (strcmp(row_text(row, "verdict"), "refused") == 0) {
		assert_true(status == STATUS_SYNTAX || status == STATUS_RANGE);
		return;
	}
	check_text(row_text(row, "verdict"), "read", "verdict");
	check_ok(status, &why);
	check_row_bound(row, "low", span.low);
	check_row_bound(row, "high", span.high);
	check_int(span.about, row_int(row, "about"), "about");
	check_int(span.doubt, row_int(row, "doubt"), "doubt");
}

int main(void)
{
	struct table *table = outside_open("tests/outside/edtf.tsv");
	int failed = run_rows("published uncertain days", table, published);
	table_free(table);
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(seasons_are_three_months_of_their_hemisphere),
		cmocka_unit_test(a_season_without_hemisphere_is_asked),
		cmocka_unit_test(what_level_1_does_not_know_is_refused),
		cmocka_unit_test(what_no_calendar_has_is_out_of_range),
		cmocka_unit_test(qualifiers_flag_and_do_not_widen),
		cmocka_unit_test(nothing_written_is_wholly_unknown),
		cmocka_unit_test(the_years_at_both_ends_keep_their_bounds),
		cmocka_unit_test(spans_made_of_days_read_back_the_same),
		cmocka_unit_test(the_day_that_stands_for_a_span_is_its_first_known),
		cmocka_unit_test(spans_read_as_people_write_them),
		cmocka_unit_test(the_longest_words_fit_80_bytes),
		cmocka_unit_test(no_text_is_taken_with_turned_bounds),
	};
	failed += cmocka_run_group_tests(tests, NULL, NULL);
	return failed != 0;
}
