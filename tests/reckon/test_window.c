/* SPDX-License-Identifier: MIT */
#include "support/test.h"

#include <string.h>

#include "reckon/window.h"

static struct date day_of(const char *iso)
{
	struct date day = {0};
	struct fault why = {0};
	check_ok(date_parse_iso(iso, &day, &why), &why);
	return day;
}

static void check_span(struct window_span span, const char *from, const char *to)
{
	char text[DATE_SIZE];
	check_text(date_format(span.from, text), from, "from");
	check_text(date_format(span.to, text), to, "to");
}

static void check_month_day(struct month_day got, int32_t month, int32_t day, const char *label)
{
	check_int(got.month * 100 + got.day, month * 100 + day, label);
}

static struct window_row row_of(enum window_kind kind, int8_t from_month, int8_t from_day,
	int8_t to_month, int8_t to_day, enum anchor anchor)
{
	return (struct window_row){.kind = kind,
		.from = {from_month, from_day},
		.to = {to_month, to_day},
		.anchor = anchor};
}

/* --- the place --- */

struct place_case {
	const char *name;
	enum hemisphere hemisphere;
	bool latitude_known;
	int32_t latitude_udeg;
	bool has_dates;
};

static const struct place_case place_cases[] = {
	{"nothing known", HEMISPHERE_UNKNOWN, false, 0, false},
	{"told north, no latitude", HEMISPHERE_NORTH, false, 0, true},
	{"told south, no latitude", HEMISPHERE_SOUTH, false, 0, true},
	{"38 north", HEMISPHERE_NORTH, true, 38200000, true},
	{"38 south", HEMISPHERE_SOUTH, true, -38200000, true},
	{"12 north has dates", HEMISPHERE_NORTH, true, 12000000, true},
	{"just under 12 north has none", HEMISPHERE_NORTH, true, 11999999, false},
	{"12 south has dates", HEMISPHERE_SOUTH, true, -12000000, true},
	{"just under 12 south has none", HEMISPHERE_SOUTH, true, -11999999, false},
	{"the equator has none", HEMISPHERE_NORTH, true, 0, false},
};

static void place_case_run(const void *one)
{
	const struct place_case *at = one;
	struct place place = {.hemisphere = at->hemisphere,
		.latitude_udeg = {.value = at->latitude_udeg, .known = at->latitude_known}};
	check_int(window_place_has_dates(&place), at->has_dates, at->name);
}

static void months_turn_in_the_south_only(void **state)
{
	(void)state;
	check_month_day(window_turn((struct month_day){5, 3}, HEMISPHERE_NORTH), 5, 3, "north");
	check_month_day(window_turn((struct month_day){5, 3}, HEMISPHERE_SOUTH), 11, 3, "south");
	check_month_day(window_turn((struct month_day){8, 31}, HEMISPHERE_SOUTH), 2, 28, "31 Aug");
	check_month_day(window_turn((struct month_day){10, 31}, HEMISPHERE_SOUTH), 4, 30, "31 Oct");
	check_month_day(window_turn((struct month_day){2, 29}, HEMISPHERE_SOUTH), 8, 29, "29 Feb");
}

/* --- learning --- */

struct learn_case {
	const char *name;
	const char *days[6];
	int32_t almanac_day, from, to; /* places of the circle */
	int32_t seasons, shift, low, high;
	bool applied, strange;
};

static const struct learn_case learn_cases[] = {
	{"no season", {NULL}, 100, 100, 160, 0, 0, 0, 0, false, false},
	{"one season moves nothing", {"2024-04-20"}, 100, 100, 160, 1, 0, 10, 10, false, false},
	{"two seasons", {"2023-04-20", "2024-04-22"}, 100, 100, 160, 2, 11, 10, 12, true, false},
	{"two seasons, half toward zero", {"2023-04-20", "2024-04-23"}, 100, 100, 160, 2, 11, 10,
		13, true, false},
	{"half toward zero when early", {"2023-04-05", "2024-04-02"}, 100, 100, 160, 2, -6, -8, -5,
		true, false},
	{"three seasons take the middle", {"2022-04-30", "2023-04-10", "2024-04-12"}, 100, 100, 160,
		3, 2, 0, 20, true, false},
	{"equal days", {"2022-04-12", "2023-04-12", "2024-04-12"}, 100, 100, 160, 3, 2, 2, 2, true,
		false},
	{"29 February is the 28th", {"2020-02-29", "2024-02-29"}, 59, 59, 120, 2, 0, 0, 0, true,
		false},
	{"1 March after 29 February", {"2020-03-01", "2024-03-01"}, 59, 59, 120, 2, 1, 1, 1, true,
		false},
	{"late, over New Year", {"2023-01-05", "2024-01-07"}, 360, 360, 40, 2, 11, 10, 12, true,
		false},
	{"early, back over New Year", {"2022-12-27", "2023-12-30"}, 5, 5, 60, 2, -7, -9, -6, true,
		false},
	{"60 days off the median is taken", {"2022-04-10", "2023-04-10", "2024-06-09"}, 100, 100,
		200, 3, 0, 0, 60, true, false},
	{"61 days off the median is strange", {"2022-04-10", "2023-04-10", "2024-06-10"}, 100, 100,
		200, 3, 0, 0, 61, false, true},
	{"61 days before the median is strange", {"2022-04-10", "2023-04-10", "2024-02-08"}, 100,
		100, 200, 3, 0, -61, 0, false, true},
	{"60 days before the span is taken", {"2022-02-09", "2023-02-09"}, 100, 100, 160, 2, -60,
		-60, -60, true, false},
	{"61 days before the span is strange", {"2022-02-08", "2023-02-08"}, 100, 100, 160, 2, 0,
		-61, -61, false, true},
	{"far on but inside a wide span", {"2022-08-08", "2023-08-08"}, 100, 100, 250, 2, 120, 120,
		120, true, false},
	{"half a year off is another hemisphere", {"2022-10-10", "2023-10-10"}, 100, 100, 130, 2, 0,
		-182, -182, false, true},
	{"days that pull both ways round", {"2022-10-08", "2023-10-12"}, 100, 100, 130, 2, 0, -180,
		181, false, true},
};

static void learn_case_run(const void *one)
{
	const struct learn_case *at = one;
	struct date days[6];
	int32_t count = 0;
	for (; count < 6 && at->days[count] != NULL; count++)
		days[count] = day_of(at->days[count]);
	struct learned got = window_learn(days, count, at->almanac_day, at->from, at->to);
	check_int(got.seasons, at->seasons, "seasons");
	check_int(got.shift_days, at->shift, "shift");
	check_int(got.shift_min, at->low, "min");
	check_int(got.shift_max, at->high, "max");
	check_int(got.applied, at->applied, "applied");
	check_int(got.strange, at->strange, "strange");
}

static void the_order_of_seasons_does_not_change_what_is_learned(void **state)
{
	(void)state;
	struct date days[5];
	static const int32_t shifts[5] = {3, -20, 14, 3, 40};
	for (int32_t turn = 0; turn < 5; turn++) {
		for (int32_t at = 0; at < 5; at++)
			days[(at + turn) % 5] = date_add_days(day_of("2023-01-02"), shifts[at]);
		struct learned got = window_learn(days, 5, 2, 2, 60);
		check_int(got.shift_days, 3, "median");
		check_int(got.shift_min, -20, "min");
		check_int(got.shift_max, 40, "max");
	}
}

static void later_days_never_learn_an_earlier_shift(void **state)
{
	(void)state;
	int32_t before = -1000;
	for (int32_t late = -59; late <= 59; late++) {
		struct date days[3] = {date_add_days(day_of("2021-06-01"), late),
			date_add_days(day_of("2022-06-01"), late),
			date_add_days(day_of("2023-06-01"), late / 2)};
		struct learned got = window_learn(days, 3, 152, 152, 200);
		assert_true(got.applied);
		assert_true(got.shift_days >= before);
		before = got.shift_days;
	}
}

/* --- the window of a row --- */

static struct learned shifted(int32_t days, int32_t seasons)
{
	return (struct learned){.seasons = seasons,
		.shift_days = days,
		.shift_min = days,
		.shift_max = days,
		.applied = true};
}

static void a_row_is_turned_for_the_south(void **state)
{
	(void)state;
	struct window_row row = row_of(WINDOW_HARVEST, 5, 1, 9, 30, ANCHOR_HARVEST);
	struct window north = window_of_row(&row, HEMISPHERE_NORTH, NULL);
	check_month_day(north.from, 5, 1, "north from");
	check_month_day(north.to, 9, 30, "north to");
	struct window south = window_of_row(&row, HEMISPHERE_SOUTH, NULL);
	check_month_day(south.from, 11, 1, "south from");
	check_month_day(south.to, 3, 30, "south to");
	check_int(south.basis, BASIS_ALMANAC, "basis");
	assert_ptr_equal(south.row, &row);
	assert_false(window_of_row(&row, HEMISPHERE_UNKNOWN, NULL).known);
}

/* Harvest and bloom are clamped: seasons are named by them. */
static void a_month_s_last_day_stays_one_in_the_south(void **state)
{
	(void)state;
	struct window_row row = row_of(WINDOW_FEED_AVOID, 7, 1, 9, 30, ANCHOR_CALENDAR);
	check_month_day(window_of_row(&row, HEMISPHERE_SOUTH, NULL).to, 3, 31, "to");
	check_month_day(window_of_row(&row, HEMISPHERE_NORTH, NULL).to, 9, 30, "north");
	struct month_day february = {2, 28};
	check_month_day(window_turn_last(february, HEMISPHERE_SOUTH), 8, 31, "february");
	struct month_day inside = {9, 29};
	check_month_day(window_turn_last(inside, HEMISPHERE_SOUTH), 3, 29, "inside a month");
	struct month_day longer = {8, 31};
	check_month_day(window_turn_last(longer, HEMISPHERE_SOUTH), 2, 28, "a longer month");
}

static void bloom_moves_both_ends_of_what_hangs_on_it(void **state)
{
	(void)state;
	struct tree_learning learning = {.bloom = shifted(10, 4)};
	struct window_row bloom = row_of(WINDOW_BLOOM, 3, 1, 3, 20, ANCHOR_CALENDAR);
	struct window moved = window_of_row(&bloom, HEMISPHERE_NORTH, &learning);
	check_month_day(moved.from, 3, 11, "bloom from");
	check_month_day(moved.to, 3, 30, "bloom to");
	check_int(moved.basis, BASIS_LEARNED, "basis");
	check_int(moved.learned.seasons, 4, "n is shown");
	struct window_row thin = row_of(WINDOW_THINNING, 4, 10, 5, 10, ANCHOR_BLOOM);
	check_month_day(window_of_row(&thin, HEMISPHERE_NORTH, &learning).from, 4, 20, "thinning");
	struct window_row feed = row_of(WINDOW_FEED_CLEAR, 4, 10, 5, 10, ANCHOR_CALENDAR);
	struct window still = window_of_row(&feed, HEMISPHERE_NORTH, &learning);
	check_month_day(still.from, 4, 10, "calendar stays");
	check_int(still.basis, BASIS_ALMANAC, "calendar basis");
}

static void harvest_learns_its_two_ends_apart(void **state)
{
	(void)state;
	struct window_row row = row_of(WINDOW_HARVEST, 7, 1, 8, 15, ANCHOR_HARVEST);
	struct tree_learning learning = {.harvest = shifted(-10, 3)};
	struct window window = window_of_row(&row, HEMISPHERE_NORTH, &learning);
	check_month_day(window.from, 6, 21, "start");
	check_month_day(window.to, 8, 5, "end goes with the start");
	learning.harvest_end = shifted(5, 2);
	window = window_of_row(&row, HEMISPHERE_NORTH, &learning);
	check_month_day(window.from, 6, 21, "start");
	check_month_day(window.to, 8, 20, "own end");
	learning.harvest = shifted(50, 3);
	learning.harvest_end = shifted(-20, 2);
	window = window_of_row(&row, HEMISPHERE_NORTH, &learning);
	check_month_day(window.from, 8, 20, "late start");
	check_month_day(window.to, 10, 4, "an end before the start gives way to the length");
	struct window_row clear = row_of(WINDOW_CUT_CLEAR, 8, 16, 9, 30, ANCHOR_HARVEST);
	learning.harvest = shifted(-10, 3);
	check_month_day(window_of_row(&clear, HEMISPHERE_NORTH, &learning).from, 7, 27,
		"the saw waits for the last pick");
}

static void fruit_hangs_from_the_bloom_to_the_last_pick(void **state)
{
	(void)state;
	struct window_row row = row_of(WINDOW_FRUIT, 5, 15, 11, 5, ANCHOR_HARVEST);
	struct tree_learning learning = {.harvest = shifted(42, 6), .harvest_end = shifted(-85, 6)};
	struct window window = window_of_row(&row, HEMISPHERE_NORTH, &learning);
	check_month_day(window.from, 5, 15, "set does not move with the picking");
	check_month_day(window.to, 8, 12, "off with the last pick");
	learning.bloom = shifted(-10, 3);
	window = window_of_row(&row, HEMISPHERE_NORTH, &learning);
	check_month_day(window.from, 5, 5, "set moves with the bloom");
}

static void what_is_strange_or_single_moves_nothing(void **state)
{
	(void)state;
	struct window_row row = row_of(WINDOW_HARVEST, 7, 1, 8, 15, ANCHOR_HARVEST);
	struct tree_learning learning = {
		.harvest = {.seasons = 3, .shift_min = 90, .shift_max = 160, .strange = true},
		.harvest_end = shifted(12, 3)};
	struct window window = window_of_row(&row, HEMISPHERE_NORTH, &learning);
	check_month_day(window.from, 7, 1, "from");
	check_month_day(window.to, 8, 15, "to");
	check_int(window.basis, BASIS_ALMANAC, "basis");
}

static void all_year_is_the_calendar_year_and_never_moves(void **state)
{
	(void)state;
	struct window_row row = row_of(WINDOW_HARVEST, 4, 1, 3, 31, ANCHOR_HARVEST);
	row.all_year = true;
	struct tree_learning learning = {.harvest = shifted(20, 3)};
	struct window window = window_of_row(&row, HEMISPHERE_SOUTH, &learning);
	check_month_day(window.from, 1, 1, "from");
	check_month_day(window.to, 12, 31, "to");
	assert_true(window_holds(&window, day_of("2024-02-29")));
	assert_true(window_holds(&window, day_of("2024-12-31")));
}

/* The mirrored row holds the mirrored day, for all days 1 to 28. */
static void the_south_mirrors_the_north(void **state)
{
	(void)state;
	static const int8_t days[] = {1, 2, 14, 27, 28};
	for (int8_t from = 1; from <= 12; from++) {
		for (int8_t to = 1; to <= 12; to++) {
			struct window_row row = row_of(
				WINDOW_BLOOM, from, days[to % 5], to, days[from % 5], ANCHOR_BLOOM);
			struct window north = window_of_row(&row, HEMISPHERE_NORTH, NULL);
			struct window south = window_of_row(&row, HEMISPHERE_SOUTH, NULL);
			for (int8_t month = 1; month <= 12; month++) {
				for (int8_t day = 1; day <= 28; day++) {
					struct month_day here = {month, day};
					assert_int_equal(
						window_holds(&north, date_of_month_day(2023, here)),
						window_holds(
							&south, date_of_month_day(2024,
									month_day_mirror(here))));
				}
			}
		}
	}
}

/* --- occurrences --- */

struct span_case {
	const char *name;
	struct month_day from, to;
	const char *day;
	bool holds;
	const char *at_from, *at_to;
	const char *before_from, *before_to;
};

static const struct span_case span_cases[] = {
	{"before it opens", {5, 1}, {9, 30}, "2026-04-30", false, "2026-05-01", "2026-09-30",
		"2025-05-01", "2025-09-30"},
	{"first day", {5, 1}, {9, 30}, "2026-05-01", true, "2026-05-01", "2026-09-30", "2026-05-01",
		"2026-09-30"},
	{"last day", {5, 1}, {9, 30}, "2026-09-30", true, "2026-05-01", "2026-09-30", "2026-05-01",
		"2026-09-30"},
	{"day after", {5, 1}, {9, 30}, "2026-10-01", false, "2027-05-01", "2027-09-30",
		"2026-05-01", "2026-09-30"},
	{"over New Year, in December", {11, 1}, {3, 30}, "2026-12-31", true, "2026-11-01",
		"2027-03-30", "2026-11-01", "2027-03-30"},
	{"over New Year, in January", {11, 1}, {3, 30}, "2027-01-01", true, "2026-11-01",
		"2027-03-30", "2026-11-01", "2027-03-30"},
	{"over New Year, in the gap", {11, 1}, {3, 30}, "2027-07-01", false, "2027-11-01",
		"2028-03-30", "2026-11-01", "2027-03-30"},
	{"one day long", {6, 10}, {6, 10}, "2026-06-10", true, "2026-06-10", "2026-06-10",
		"2026-06-10", "2026-06-10"},
	{"one day long, missed", {6, 10}, {6, 10}, "2026-06-11", false, "2027-06-10", "2027-06-10",
		"2026-06-10", "2026-06-10"},
	{"ends 28 February, on the leap day", {1, 1}, {2, 28}, "2024-02-29", true, "2024-01-01",
		"2024-02-29", "2024-01-01", "2024-02-29"},
	{"ends 29 February, in a common year", {1, 1}, {2, 29}, "2023-02-28", true, "2023-01-01",
		"2023-02-28", "2023-01-01", "2023-02-28"},
	{"opens 29 February, in a leap year", {2, 29}, {4, 1}, "2024-02-28", true, "2024-02-28",
		"2024-04-01", "2024-02-28", "2024-04-01"},
	{"opens 29 February, in a common year", {2, 29}, {4, 1}, "2023-02-28", true, "2023-02-28",
		"2023-04-01", "2023-02-28", "2023-04-01"},
	{"opens 1 March, on the leap day", {3, 1}, {4, 1}, "2024-02-29", false, "2024-03-01",
		"2024-04-01", "2023-03-01", "2023-04-01"},
	{"over New Year to 28 February", {12, 1}, {2, 28}, "2024-02-29", true, "2023-12-01",
		"2024-02-29", "2023-12-01", "2024-02-29"},
	{"the first year there is", {5, 1}, {9, 30}, "0001-01-01", false, "0001-05-01",
		"0001-09-30", "0001-05-01", "0001-09-30"},
};

static void span_case_run(const void *one)
{
	const struct span_case *at = one;
	struct window window = {.known = true, .from = at->from, .to = at->to};
	struct date day = day_of(at->day);
	check_int(window_holds(&window, day), at->holds, "holds");
	check_span(window_span_at(&window, day), at->at_from, at->at_to);
	check_span(window_span_before(&window, day), at->before_from, at->before_to);
}

/* For every day of two leap cycles: an occurrence holds its days, they do not overlap, and what
 * the circle says is what the days say. */
static void occurrences_and_circle_agree(void **state)
{
	(void)state;
	static const struct month_day ends[] = {
		{1, 1}, {2, 27}, {2, 28}, {2, 29}, {3, 1}, {6, 30}, {12, 31}};
	enum { ENDS = sizeof ends / sizeof *ends };
	for (size_t pair = 0; pair < ENDS * ENDS; pair++) {
		struct window window = {
			.known = true, .from = ends[pair / ENDS], .to = ends[pair % ENDS]};
		struct date last = day_of("2028-12-31");
		for (struct date day = day_of("2020-01-01"); day.day <= last.day; day.day++) {
			struct window_span span = window_span_at(&window, day);
			bool inside = date_compare(span.from, day) <= 0;
			assert_true(date_compare(span.to, day) >= 0);
			assert_int_equal(inside, window_holds(&window, day));
			struct window_span before = window_span_before(&window, day);
			assert_true(date_compare(before.from, day) <= 0);
			if (inside)
				assert_int_equal(before.from.day, span.from.day);
			else
				assert_true(date_compare(before.to, day) < 0);
		}
	}
}

static void an_unknown_window_holds_no_day(void **state)
{
	(void)state;
	struct window window = {.from = {1, 1}, .to = {12, 31}};
	assert_false(window_holds(&window, day_of("2026-06-01")));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(months_turn_in_the_south_only),
		cmocka_unit_test(the_order_of_seasons_does_not_change_what_is_learned),
		cmocka_unit_test(later_days_never_learn_an_earlier_shift),
		cmocka_unit_test(a_row_is_turned_for_the_south),
		cmocka_unit_test(a_month_s_last_day_stays_one_in_the_south),
		cmocka_unit_test(bloom_moves_both_ends_of_what_hangs_on_it),
		cmocka_unit_test(harvest_learns_its_two_ends_apart),
		cmocka_unit_test(fruit_hangs_from_the_bloom_to_the_last_pick),
		cmocka_unit_test(what_is_strange_or_single_moves_nothing),
		cmocka_unit_test(all_year_is_the_calendar_year_and_never_moves),
		cmocka_unit_test(the_south_mirrors_the_north),
		cmocka_unit_test(occurrences_and_circle_agree),
		cmocka_unit_test(an_unknown_window_holds_no_day),
	};
	int failed = cmocka_run_group_tests(tests, NULL, NULL);
	failed += RUN_CASES("places with dates", place_cases, place_case_run);
	failed += RUN_CASES("learned shifts", learn_cases, learn_case_run);
	failed += RUN_CASES("occurrences", span_cases, span_case_run);
	return failed != 0;
}
