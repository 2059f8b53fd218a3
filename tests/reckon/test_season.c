/* SPDX-License-Identifier: MIT */
#include "reckon/make.h"

#include "reckon/season.h"

struct year_case {
	const char *name;
	struct season_rule rule;
	const char *day;
	int32_t year;
	const char *says;
};

#define PEACH_NORTH                                                              \
	{                                                                        \
		.turn = {1, 14}, .harvest_from = {5, 1}, .harvest_to = { 9, 30 } \
	}
#define PEACH_SOUTH                                                                              \
	{                                                                                        \
		.turn = {7, 16}, .harvest_from = {11, 1}, .harvest_to = {3, 30}, .crosses = true \
	}
#define NAVEL                                                                                    \
	{                                                                                        \
		.turn = {8, 16}, .harvest_from = {11, 1}, .harvest_to = {5, 31}, .crosses = true \
	}
#define LOQUAT_NORTH                                                                               \
	{                                                                                          \
		.turn = {10, 16}, .harvest_from = {2, 1}, .harvest_to = {6, 30}, .years_add = true \
	}
#define LOQUAT_SOUTH                                                              \
	{                                                                         \
		.turn = {4, 16}, .harvest_from = {8, 1}, .harvest_to = { 12, 30 } \
	}
#define LEMON                                                                                  \
	{                                                                                      \
		.turn = {3, 1}, .harvest_from = {3, 1}, .harvest_to = {2, 28}, .crosses = true \
	}
#define CALENDAR                 \
	{                        \
		.turn = { 1, 1 } \
	}

static const struct year_case year_cases[] = {
	{"navel, north", NAVEL, "1916-01-15", 1915, "1915/16"},
	{"navel, first day", NAVEL, "1915-08-16", 1915, "1915/16"},
	{"navel, day before the turn", NAVEL, "1915-08-15", 1914, "1914/15"},
	{"peach, south", PEACH_SOUTH, "1935-01-20", 1934, "1934/35"},
	{"peach, south, day before the turn", PEACH_SOUTH, "1935-07-15", 1934, "1934/35"},
	{"peach, south, on the turn", PEACH_SOUTH, "1935-07-16", 1935, "1935/36"},
	{"peach, north, in summer", PEACH_NORTH, "2026-07-20", 2026, "2026"},
	{"peach, north, day before the turn", PEACH_NORTH, "2026-01-13", 2025, "2025"},
	{"loquat, south", LOQUAT_SOUTH, "2026-10-20", 2026, "2026"},
	{"loquat, north", LOQUAT_NORTH, "2026-05-01", 2026, "2026"},
	{"loquat, north, autumn bloom is of next year's crop", LOQUAT_NORTH, "2025-11-20", 2026,
		"2026"},
	{"loquat, north, day before the turn", LOQUAT_NORTH, "2026-10-15", 2026, "2026"},
	{"lemon, north", LEMON, "1916-09-30", 1916, "1916/17"},
	{"lemon, leap day", LEMON, "1916-02-29", 1915, "1915/16"},
	{"turn of the century", NAVEL, "1999-12-31", 1999, "1999/00"},
	{"no kind, north", CALENDAR, "2026-12-31", 2026, "2026"},
};

static void year_case_run(const void *one)
{
	const struct year_case *at = one;
	char name[12];
	struct date day = day_of(at->day);
	int32_t year = season_year_of(&at->rule, day);
	check_int(year, at->year, at->day);
	check_text(season_name(&at->rule, year, name, sizeof name), at->says, "name");
	struct window_span span = season_span(&at->rule, year);
	check_int(date_compare(span.from, day) <= 0 && date_compare(day, span.to) <= 0, 1, "span");
}

static void every_day_has_one_season_and_seasons_meet(void **state)
{
	(void)state;
	static const struct season_rule rules[] = {PEACH_NORTH, PEACH_SOUTH, NAVEL, LOQUAT_NORTH,
		LOQUAT_SOUTH, LEMON, CALENDAR, {.turn = {2, 28}}, {.turn = {2, 29}},
		{.turn = {3, 1}}, {.turn = {12, 31}}};
	for (size_t rule = 0; rule < sizeof rules / sizeof *rules; rule++) {
		struct date last = day_of("2029-01-01");
		int32_t before = season_year_of(&rules[rule], day_of("2018-12-31"));
		for (struct date day = day_of("2019-01-01"); day.day <= last.day; day.day++) {
			int32_t year = season_year_of(&rules[rule], day);
			struct window_span span = season_span(&rules[rule], year);
			assert_true(date_compare(span.from, day) <= 0);
			assert_true(date_compare(day, span.to) <= 0);
			assert_int_equal(date_compare(span.from, day) == 0, year != before);
			assert_int_equal(
				season_span(&rules[rule], year + 1).from.day, span.to.day + 1);
			before = year;
		}
	}
}

static void the_harvest_of_a_season_lies_in_it(void **state)
{
	(void)state;
	static const struct season_rule rules[] = {
		PEACH_NORTH, PEACH_SOUTH, NAVEL, LOQUAT_NORTH, LOQUAT_SOUTH, LEMON};
	for (size_t rule = 0; rule < sizeof rules / sizeof *rules; rule++) {
		for (int32_t year = 1896; year <= 2104; year++) {
			struct window_span harvest;
			struct window_span span = season_span(&rules[rule], year);
			assert_true(season_harvest(&rules[rule], year, &harvest));
			assert_int_equal(date_parts(harvest.from).year, year);
			assert_true(date_compare(span.from, harvest.from) <= 0);
			assert_true(date_compare(harvest.to, span.to) <= 0);
		}
	}
	struct window_span untouched = {.from = {7}, .to = {8}};
	const struct season_rule calendar = CALENDAR;
	assert_false(season_harvest(&calendar, 2026, &untouched));
	check_int(untouched.from.day, 7, "untouched");
}

struct parse_case {
	const char *text;
	enum status status;
	int32_t year;
	const char *says;
};

static const struct parse_case parse_cases[] = {
	{"2026", STATUS_OK, 2026, ""},
	{"1915/16", STATUS_OK, 1915, ""},
	{"1999/00", STATUS_OK, 1999, ""},
	{"1999/2000", STATUS_OK, 1999, ""},
	{"0999/00", STATUS_OK, 999, ""},
	{"", STATUS_SYNTAX, 0, "2026 or 2025/26"},
	{"26", STATUS_SYNTAX, 0, "2026 or 2025/26"},
	{"20266", STATUS_SYNTAX, 0, "2026 or 2025/26"},
	{"2026/", STATUS_SYNTAX, 0, "2026 or 2025/26"},
	{"/26", STATUS_SYNTAX, 0, "2026 or 2025/26"},
	{"2026/7", STATUS_SYNTAX, 0, "2026 or 2025/26"},
	{"2026-27", STATUS_SYNTAX, 0, "2026 or 2025/26"},
	{"2026 ", STATUS_SYNTAX, 0, "2026 or 2025/26"},
	{"+026", STATUS_SYNTAX, 0, "2026 or 2025/26"},
	{"-026", STATUS_SYNTAX, 0, "2026 or 2025/26"},
	{"2026/27/28", STATUS_SYNTAX, 0, "2026 or 2025/26"},
	{"2026/88888888882", STATUS_SYNTAX, 0, "2026 or 2025/26"}, /* no int32_t holds it */
	{"last", STATUS_SYNTAX, 0, "2026 or 2025/26"},
	{"1915/17", STATUS_RANGE, 0, "comes 16"},
	{"1915/15", STATUS_RANGE, 0, "comes 16"},
	{"1915/2016", STATUS_RANGE, 0, "comes 16"},
	{"0000", STATUS_RANGE, 0, "outside 1..9999"},
};

static void parse_case_run(const void *one)
{
	const struct parse_case *at = one;
	struct fault why = {0};
	int32_t year = -7;
	enum status status = season_parse(at->text, &year, &why);
	if (at->status == STATUS_OK) {
		check_ok(status, &why);
		check_int(year, at->year, at->text);
	} else {
		check_refused(status, at->status, &why, at->says);
		check_int(year, -7, "untouched");
	}
}

static void names_read_back_as_their_year(void **state)
{
	(void)state;
	const struct season_rule rules[] = {NAVEL, PEACH_NORTH};
	for (int32_t year = 1000; year < 9999; year += 7) {
		for (size_t rule = 0; rule < 2; rule++) {
			char name[12];
			int32_t again = 0;
			season_name(&rules[rule], year, name, sizeof name);
			assert_int_equal(season_parse(name, &again, NULL), STATUS_OK);
			assert_int_equal(again, year);
		}
	}
}

static void each_state_has_its_word(void **state)
{
	(void)state;
	check_text(season_state_key(SEASON_TO_COME), "to-come", "to come");
	check_text(season_state_key(SEASON_IN_PROGRESS), "in-progress", "in progress");
	check_text(season_state_key(SEASON_COMPLETE), "complete", "complete");
	check_text(season_state_key(SEASON_NONE_SEEN), "none-seen", "none seen");
	check_text(season_state_key(SEASON_NOT_RECORDED), "not-recorded", "not recorded");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_day_has_one_season_and_seasons_meet),
		cmocka_unit_test(the_harvest_of_a_season_lies_in_it),
		cmocka_unit_test(names_read_back_as_their_year),
		cmocka_unit_test(each_state_has_its_word),
	};
	int failed = cmocka_run_group_tests(tests, NULL, NULL);
	failed += RUN_CASES("season years", year_cases, year_case_run);
	failed += RUN_CASES("season names", parse_cases, parse_case_run);
	return failed != 0;
}
