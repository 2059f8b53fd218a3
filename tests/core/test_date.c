/* SPDX-License-Identifier: MIT */
#include "support/test.h"

#include <string.h>

#include "core/date.h"

enum { FIRST = -719162, LAST = 2932896 };

static struct date day_of(const char *iso)
{
	struct date day = {0};
	struct fault why = {0};
	check_ok(date_parse_iso(iso, &day, &why), &why);
	return day;
}

static struct month_day month_day_of(const char *text)
{
	struct month_day day = {0};
	struct fault why = {0};
	check_ok(month_day_parse(text, &day, &why), &why);
	return day;
}

static void known_days_have_their_numbers(void **state)
{
	(void)state;
	static const struct {
		const char *iso;
		int32_t day;
	} rows[] = {{"1970-01-01", 0}, {"1970-01-02", 1}, {"1969-12-31", -1}, {"2000-03-01", 11017},
		{"2000-02-29", 11016}, {"0001-01-01", FIRST}, {"9999-12-31", LAST},
		{"2038-01-19", 24855}, {"1900-03-01", -25508}};
	for (size_t at = 0; at < sizeof rows / sizeof *rows; at++)
		check_int(day_of(rows[at].iso).day, rows[at].day, rows[at].iso);
}

static void every_day_of_all_years_follows_the_day_before(void **state)
{
	(void)state;
	struct date_parts before = date_parts((struct date){FIRST});
	check_int(before.year * 10000 + before.month * 100 + before.day, 10101, "first day");
	for (int32_t day = FIRST + 1; day <= LAST; day++) {
		struct date_parts parts = date_parts((struct date){day});
		bool same_month = parts.year == before.year && parts.month == before.month;
		if (same_month)
			assert_int_equal(parts.day, before.day + 1);
		else
			assert_true(parts.day == 1 &&
				    before.day == date_days_in_month(before.year, before.month));
		struct date again;
		assert_int_equal(date_make(parts.year, parts.month, parts.day, &again, NULL), 0);
		assert_int_equal(again.day, day);
		before = parts;
	}
	check_int(before.year * 10000 + before.month * 100 + before.day, 99991231, "last day");
}

static void format_and_parse_agree_for_200_years(void **state)
{
	(void)state;
	struct date last = day_of("2100-12-31");
	for (struct date day = day_of("1901-01-01"); day.day <= last.day; day.day++) {
		char text[DATE_SIZE];
		struct date again = {0};
		assert_int_equal(date_parse_iso(date_format(day, text), &again, NULL), STATUS_OK);
		assert_int_equal(again.day, day.day);
	}
}

static void what_is_not_iso_is_refused(void **state)
{
	(void)state;
	static const char *const rows[] = {"", "2026", "2026-05", "2026-5-12", "2026-05-1",
		"26-05-12", "2026/05/12", "2026-05-12 ", " 2026-05-12", "2026-05-12T10:00",
		"+026-05-12", "-026-05-12", "2026-0x-12", "20 6-05-12", "12 May 2026",
		"2026-05-1\xC2",
		"\xEF\xBC\x92"
		"026-05-1",
		"2026-05-12\n", "0x7e-05-12", "2026--5-12"};
	for (size_t at = 0; at < sizeof rows / sizeof *rows; at++) {
		struct date day = {77};
		struct fault why = {0};
		check_refused(
			date_parse_iso(rows[at], &day, &why), STATUS_SYNTAX, &why, "YYYY-MM-DD");
		check_int(day.day, 77, rows[at]);
	}
}

static void days_that_no_calendar_has_are_refused(void **state)
{
	(void)state;
	static const struct {
		const char *iso;
		const char *says;
	} rows[] = {{"2026-04-31", "April 2026 has days 1 to 30, not 31"},
		{"2023-02-29", "February 2023 has days 1 to 28, not 29"}, {"1900-02-29", "1 to 28"},
		{"2026-13-01", "month 13 is outside 1..12"}, {"2026-00-10", "month 0 "},
		{"2026-01-00", "not 0"}, {"2026-01-32", "1 to 31"},
		{"0000-01-01", "year 0 is outside 1..9999"}, {"2100-02-29", "1 to 28"}};
	for (size_t at = 0; at < sizeof rows / sizeof *rows; at++) {
		struct date day = {77};
		struct fault why = {0};
		check_refused(date_parse_iso(rows[at].iso, &day, &why), STATUS_RANGE, &why,
			rows[at].says);
		check_int(day.day, 77, rows[at].iso);
	}
	struct fault why = {0};
	struct date day;
	check_refused(date_make(10000, 1, 1, &day, &why), STATUS_RANGE, &why, "year 10000");
	check_refused(date_make(-5, 1, 1, &day, &why), STATUS_RANGE, &why, "year -5");
	check_refused(date_make(2026, INT32_MIN, 1, &day, &why), STATUS_RANGE, &why, "month");
	check_refused(
		date_make(2026, 5, INT32_MAX, &day, &why), STATUS_RANGE, &why, "not 2147483647");
}

static void weekdays_are_right(void **state)
{
	(void)state;
	check_int(date_weekday(day_of("1970-01-01")), 3, "Thursday");
	check_int(date_weekday(day_of("2026-11-24")), 1, "Tuesday");
	check_int(date_weekday(day_of("2000-01-01")), 5, "Saturday");
	check_int(date_weekday(day_of("1900-01-01")), 0, "Monday");
	check_int(date_weekday((struct date){FIRST}), 0, "0001-01-01, proleptic");
	check_int(date_weekday((struct date){LAST}), 4, "9999-12-31");
}

/* Day of the year and ISO week, worked out from what the module offers: the week belongs to the
 * year that holds its Thursday. */
static void published(const struct table_row *row)
{
	struct date day = day_of(row_text(row, "case"));
	struct month_day new_year = {1, 1};
	struct date first = date_of_month_day(date_parts(day).year, new_year);
	check_int(day.day, row_int(row, "epoch_day"), "day since 1970");
	check_int(date_days_between(first, day) + 1, row_int(row, "day_of_year"), "day of year");
	check_int(date_weekday(day) + 1, row_int(row, "weekday"), "weekday");
	struct date thursday = date_add_days(day, 3 - date_weekday(day));
	int32_t year = date_parts(thursday).year;
	int32_t days = date_days_between(date_of_month_day(year, new_year), thursday);
	check_int(year, row_int(row, "iso_year"), "year of the week");
	check_int(days / 7 + 1, row_int(row, "iso_week"), "week");
}

static void adding_stops_at_the_ends(void **state)
{
	(void)state;
	check_int(date_add_days(day_of("2024-02-28"), 2).day, day_of("2024-03-01").day, "leap");
	check_int(date_add_days(day_of("2024-01-01"), -1).day, day_of("2023-12-31").day, "back");
	check_int(date_add_days(day_of("2024-01-01"), INT32_MAX).day, LAST, "last");
	check_int(date_add_days(day_of("0001-01-05"), INT32_MIN).day, FIRST, "first");
	check_int(
		date_days_between((struct date){FIRST}, (struct date){LAST}), LAST - FIRST, "all");
	check_int(date_compare(day_of("2024-01-01"), day_of("2024-01-02")), -1, "before");
	check_int(date_compare(day_of("2024-01-02"), day_of("2024-01-01")), 1, "after");
	check_int(date_compare(day_of("2024-01-02"), day_of("2024-01-02")), 0, "same");
}

static void plain_days_read_as_people_write_them(void **state)
{
	(void)state;
	char text[24];
	check_text(
		date_format_plain(day_of("2026-05-12"), text, sizeof text), "12 May 2026", "May");
	check_text(date_format_plain(day_of("1899-09-01"), text, sizeof text), "1 September 1899",
		"September");
	char small[8];
	check_text(date_format_plain(day_of("2026-05-12"), small, sizeof small), "12 May ", "cut");
}

static void days_of_any_year_are_read_strictly(void **state)
{
	(void)state;
	struct month_day day = month_day_of("02-29");
	check_int(day.month * 100 + day.day, 229, "leap day");
	static const char *const syntax[] = {
		"", "5-12", "05-1", "0512", "05/12", "05-12 ", "5-012"};
	static const char *const range[] = {"02-30", "00-10", "13-01", "05-00", "04-31", "99-99"};
	struct fault why = {0};
	for (size_t at = 0; at < sizeof syntax / sizeof *syntax; at++)
		check_refused(
			month_day_parse(syntax[at], &day, &why), STATUS_SYNTAX, &why, "MM-DD");
	for (size_t at = 0; at < sizeof range / sizeof *range; at++)
		check_refused(
			month_day_parse(range[at], &day, &why), STATUS_RANGE, &why, range[at]);
	check_int(day.month * 100 + day.day, 229, "untouched");
}

static void a_leap_day_lands_on_the_28th_of_common_years(void **state)
{
	(void)state;
	struct month_day leap = {2, 29};
	check_int(date_of_month_day(2024, leap).day, day_of("2024-02-29").day, "leap");
	check_int(date_of_month_day(2025, leap).day, day_of("2025-02-28").day, "common");
	check_int(date_of_month_day(2025, (struct month_day){4, 31}).day, day_of("2025-04-30").day,
		"clamped");
}

static void places_on_the_circle_are_1_to_365(void **state)
{
	(void)state;
	check_int(circle_of(month_day_of("01-01")), 1, "1 January");
	check_int(circle_of(month_day_of("02-28")), 59, "28 February");
	check_int(circle_of(month_day_of("02-29")), 59, "29 February");
	check_int(circle_of(month_day_of("03-01")), 60, "1 March");
	check_int(circle_of(month_day_of("12-31")), 365, "31 December");
	check_int(circle_of_date(day_of("2024-03-01")), 60, "in a leap year");
	check_int(circle_of_date(day_of("2024-12-31")), 365, "end of a leap year");
	for (int32_t place = 1; place <= 365; place++) {
		check_int(circle_of(circle_month_day(place)), place, "round trip");
		check_int(circle_of(circle_month_day(place + 365)), place, "a turn on");
		check_int(circle_of(circle_month_day(place - 3650)), place, "ten turns back");
	}
	check_int(circle_of(circle_month_day(0)), 365, "before 1 January");
}

static void differences_go_the_short_way_round(void **state)
{
	(void)state;
	check_int(circle_difference(360, 5), 10, "over New Year");
	check_int(circle_difference(5, 360), -10, "back over New Year");
	check_int(circle_difference(1, 183), 182, "longest on");
	check_int(circle_difference(1, 184), -182, "longest back");
	for (int32_t from = 1; from <= 365; from++) {
		for (int32_t to = 1; to <= 365; to++) {
			int32_t way = circle_difference(from, to);
			assert_true(way >= -182 && way <= 182);
			assert_int_equal((from + way - to) % 365, 0);
			assert_int_equal(way, -circle_difference(to, from));
		}
	}
}

static void spans_of_the_year_may_cross_new_year(void **state)
{
	(void)state;
	for (int32_t from = 1; from <= 365; from += 7) {
		for (int32_t to = 1; to <= 365; to += 5) {
			for (int32_t place = 1; place <= 365; place++) {
				bool want = from <= to ? place >= from && place <= to
						       : place >= from || place <= to;
				assert_int_equal(circle_within(place, from, to), want);
			}
		}
	}
}

static void half_a_year_on_and_on_again_is_the_same_day(void **state)
{
	(void)state;
	for (int8_t month = 1; month <= 12; month++) {
		for (int8_t day = 1; day <= 28; day++) {
			struct month_day there = month_day_mirror((struct month_day){month, day});
			struct month_day back = month_day_mirror(there);
			assert_int_equal(there.month, month <= 6 ? month + 6 : month - 6);
			assert_int_equal(back.month * 100 + back.day, month * 100 + day);
		}
	}
	struct month_day clamped = month_day_mirror((struct month_day){8, 31});
	check_int(clamped.month * 100 + clamped.day, 228, "31 August");
	clamped = month_day_mirror((struct month_day){12, 31});
	check_int(clamped.month * 100 + clamped.day, 630, "31 December");
	clamped = month_day_mirror((struct month_day){2, 29});
	check_int(clamped.month * 100 + clamped.day, 829, "29 February");
}

int main(void)
{
	struct table *table = outside_open("tests/outside/calendar.tsv");
	int failed = run_rows("published days", table, published);
	table_free(table);
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(known_days_have_their_numbers),
		cmocka_unit_test(every_day_of_all_years_follows_the_day_before),
		cmocka_unit_test(format_and_parse_agree_for_200_years),
		cmocka_unit_test(what_is_not_iso_is_refused),
		cmocka_unit_test(days_that_no_calendar_has_are_refused),
		cmocka_unit_test(weekdays_are_right),
		cmocka_unit_test(adding_stops_at_the_ends),
		cmocka_unit_test(plain_days_read_as_people_write_them),
		cmocka_unit_test(days_of_any_year_are_read_strictly),
		cmocka_unit_test(a_leap_day_lands_on_the_28th_of_common_years),
		cmocka_unit_test(places_on_the_circle_are_1_to_365),
		cmocka_unit_test(differences_go_the_short_way_round),
		cmocka_unit_test(spans_of_the_year_may_cross_new_year),
		cmocka_unit_test(half_a_year_on_and_on_again_is_the_same_day),
	};
	failed += cmocka_run_group_tests(tests, NULL, NULL);
	return failed != 0;
}
