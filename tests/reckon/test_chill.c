/* SPDX-License-Identifier: MIT */
#include "reckon/make.h"

#include <math.h>

#include "reckon/chill.h"
#include "reckon/heat.h"

static const double pi = 3.14159265358979323846;

/* --- constant temperatures, 1000 hours from nothing: by the published constants --- */

struct constant {
	const char *name;
	double celsius, hours, utah, portions;
	int32_t first; /* hour of the first portion; 0 none */
	int32_t portion_hours;
	double heat;
};
static const struct constant constants[] = {
	{"below_freezing_portions_creep", -2, 0, 0, 0.242031, 36, 965, 0},
	{"at_zero", 0, 1000, 0, 4.857373, 34, 967, 0},
	{"at_two", 2, 1000, 500, 26.371169, 31, 679, 0},
	{"at_four", 4, 1000, 1000, 29.849351, 30, 59, 0},
	{"at_six", 6, 1000, 1000, 34.204222, 29, 35, 466.486},
	{"at_eight_no_chilling_hour_is_counted", 8, 0, 1000, 34.568443, 29, 34, 1824.493},
	{"at_ten", 10, 0, 500, 32.435526, 31, 32, 3953.357},
	{"at_twelve", 12, 0, 500, 25.001544, 39, 25, 6663.919},
	{"at_thirteen_no_portion_ever_comes", 13, 0, 0, 0, 0, 0, 8163.530},
};

static void check_constant(const void *item)
{
	const struct constant *one = item;
	struct chill chill = {0};
	double heat = 0;
	int32_t first = 0;
	int32_t portion_hours = 0;

	for (int32_t hour = 1; hour <= 1000; hour++) {
		double before = chill.portions;
		double warmth = 0;

		check_ok(chill_add_hour(&chill, one->celsius, NULL), NULL);
		check_ok(heat_hour(one->celsius, &warmth, NULL), NULL);
		heat += warmth;
		portion_hours += chill.portions > before;
		if (first == 0 && chill.portions > before)
			first = hour;
	}
	check_close(chill.chilling_hours, one->hours, 1e-9, "chilling hours");
	check_close(chill.utah, one->utah, 1e-9, "Utah");
	check_close(chill.portions, one->portions, 1e-5, "portions");
	check_int(first, one->first, "hour of the first portion");
	check_int(portion_hours, one->portion_hours, "hours with a portion");
	check_close(heat, one->heat, 1e-3, "growing degree hours");
}

/* The parts of the Dynamic model at one temperature, as the store lets them be read: the level it
 * makes for and the rate, from its first two hours; the share fixed, from the first portion. By
 * the published constants. */
struct part {
	const char *name;
	double celsius, level, rate, fixed;
};
static const struct part parts[] = {
	{"the_model_s_parts_at_zero", 0, 4.28014207, 0.00804703132, 0.00151054528},
	{"the_model_s_parts_at_four", 4, 2.69643186, 0.0159117997, 0.5},
	{"the_model_s_parts_at_six", 6, 2.15086331, 0.0222114758, 0.959961855},
	{"the_model_s_parts_at_twelve", 12, 1.11262907, 0.0587426011, 0.999996046},
};

static void check_part(const void *item)
{
	const struct part *one = item;
	struct chill chill = {0};

	check_ok(chill_add_hour(&chill, one->celsius, NULL), NULL);
	double first = chill.store;
	check_ok(chill_add_hour(&chill, one->celsius, NULL), NULL);
	double kept = (chill.store - first) / first;
	check_close(-log(kept), one->rate, 1e-9, "rate");
	check_close(first / (1 - kept), one->level, 1e-7, "level");
	while (chill.portions == 0 && chill.hours < 100)
		check_ok(chill_add_hour(&chill, one->celsius, NULL), NULL);
	check_close(chill.portions / (chill.portions + chill.store), one->fixed, 1e-9, "fixed");
}

/* --- days of two temperatures, 40 of them, the cold hours first --- */

struct cycle {
	const char *name;
	int32_t cold_hours;
	double cold_c, warm_c, hours, utah, portions;
};
static const struct cycle cycles[] = {
	{"half_a_day_at_5_half_at_15", 12, 5, 15, 480, 480, 21.768677},
	{"two_thirds_at_5_a_third_at_15", 16, 5, 15, 640, 640, 32.494181},
	{"warm_afternoons_undo_every_portion", 16, 6, 24, 640, 320, 0},
	{"four_warm_hours_cost_little", 20, 5, 20, 800, 640, 26.112715},
};

static void check_cycle(const void *item)
{
	const struct cycle *one = item;
	struct chill chill = {0};

	for (int32_t hour = 0; hour < 40 * 24; hour++)
		check_ok(chill_add_hour(&chill,
				 hour % 24 < one->cold_hours ? one->cold_c : one->warm_c, NULL),
			NULL);
	check_close(chill.chilling_hours, one->hours, 1e-9, "chilling hours");
	check_close(chill.utah, one->utah, 1e-9, "Utah");
	check_close(chill.portions, one->portions, 1e-5, "portions");
	assert_true(chill.utah_positive >= chill.utah);
}

static void a_winter_in_waves(void **state)
{
	struct chill chill = {0};
	double heat = 0;
	int32_t first = 0;

	(void)state;
	for (int32_t i = 0; i < 4320; i++) {
		double celsius =
			7 + 8 * cos(2 * pi * i / 4320) + 5 * sin(2 * pi * (i % 24 - 9) / 24);
		double warmth = 0;

		check_ok(chill_add_hour(&chill, celsius, NULL), NULL);
		check_ok(heat_hour(celsius, &warmth, NULL), NULL);
		heat += warmth;
		if (first == 0 && chill.portions > 0)
			first = i + 1;
	}
	check_close(chill.chilling_hours, 1446, 1e-9, "chilling hours");
	check_close(chill.utah, 1523.5, 1e-9, "Utah");
	check_close(chill.portions, 93.471373, 1e-5, "portions");
	check_int(first, 489, "hour of the first portion");
	check_close(heat, 17234.458, 1e-2, "growing degree hours");
}

static void positive_utah_never_falls(void **state)
{
	struct chill chill = {0};

	(void)state;
	check_ok(chill_add_hour(&chill, 5, NULL), NULL);
	check_ok(chill_add_hour(&chill, 25, NULL), NULL);
	check_close(chill.utah, 0, 1e-12, "Utah");
	check_close(chill.utah_positive, 1, 1e-12, "positive Utah");
}

static void a_portion_depends_on_what_came_before(void **state)
{
	struct chill whole = {0};
	struct chill fresh = {0};

	(void)state;
	for (int32_t hour = 0; hour < 40; hour++) {
		check_ok(chill_add_hour(&whole, 6, NULL), NULL);
		if (hour >= 20)
			check_ok(chill_add_hour(&fresh, 6, NULL), NULL);
	}
	assert_true(whole.portions > 0);
	check_close(fresh.portions, 0, 1e-12, "twenty hours make none from nothing");
}

static void missing_hours_lose_the_store_and_are_counted(void **state)
{
	struct chill chill = {0};

	(void)state;
	for (int32_t hour = 0; hour < 40; hour++) {
		if (hour == 20)
			chill_add_gap(&chill);
		check_ok(chill_add_hour(&chill, 6, NULL), NULL);
	}
	check_close(chill.portions, 0, 1e-12, "none");
	check_int(chill.gaps, 1, "gaps");
	check_close(chill.chilling_hours, 40, 1e-12, "hours still count");
}

static void bad_hours_are_refused_and_change_nothing(void **state)
{
	static const double bad[] = {NAN, INFINITY, -INFINITY, 61, -91};
	struct chill chill = {0};
	struct fault why = {0};

	(void)state;
	for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++)
		check_refused(chill_add_hour(&chill, bad[i], &why), STATUS_RANGE, &why,
			"outside -90..60 C");
	check_int(chill.hours, 0, "hours");
}

/* --- from days --- */

enum { DAYS = 60 };

static int32_t even_days(struct day_weather *days, int32_t min_decic, int32_t max_decic)
{
	for (int32_t i = 0; i < DAYS; i++)
		days[i] = (struct day_weather){.day = date_add_days(day_of("2026-01-01"), i),
			.min_decic = known_i32(min_decic),
			.max_decic = known_i32(max_decic),
			.station = ""};
	return DAYS;
}

static const struct day_span january = {{20454}, {20484}};

static struct chill_span chill_in(
	const struct day_weather *days, int32_t count, int32_t warmer_decic, struct day_span span)
{
	struct fault why = {0};
	struct chill_span got = {0};

	check_ok(chill_of_days(days, count, 40, warmer_decic, span, &got, &why), &why);
	return got;
}

static void the_spans_of_this_file_are_january(void **state)
{
	(void)state;
	check_int(january.from.day, day_of("2026-01-01").day, "from");
	check_int(january.to.day, day_of("2026-01-31").day, "to");
}

static void a_january_of_cold_nights_counts_half_its_hours(void **state)
{
	struct day_weather days[DAYS];
	struct chill_span got = chill_in(days, even_days(days, -20, 80), 0, january);

	(void)state;
	check_int(got.chill.hours, 31 * 24 - 8, "all but the hours before the first sunrise");
	check_int(got.chill.gaps, 0, "gaps");
	check_int(got.cover.known, 31, "days");
	/* some 12 of the 24 hours of such a day, all through the month */
	check_close(got.chill.chilling_hours, 31 * 12, 20, "chilling hours");
	assert_true(got.chill.portions > 15 && got.chill.portions < 30);
}

static void a_day_without_a_maximum_is_a_gap_not_a_nought(void **state)
{
	struct day_weather days[DAYS];
	int32_t count = even_days(days, -20, 80);
	struct chill_span whole = chill_in(days, count, 0, january);

	(void)state;
	days[10].max_decic.known = false;
	struct chill_span gap = chill_in(days, count, 0, january);
	check_int(gap.chill.gaps, 1, "gaps");
	check_int(gap.cover.known, 30, "days known");
	check_int(gap.cover.longest_gap, 1, "longest gap");
	assert_true(gap.chill.hours < whole.chill.hours - 24);
	assert_true(gap.chill.portions < whole.chill.portions);
	assert_true(gap.chill.portions > whole.chill.portions - 4);
}

static void two_halves_of_a_month_add_up_in_hours_and_units(void **state)
{
	struct day_weather days[DAYS];
	int32_t count = even_days(days, 10, 140);
	struct day_span whole = {date_add_days(january.from, 1), january.to};
	struct day_span first = {whole.from, date_add_days(whole.from, 14)};
	struct day_span second = {date_add_days(whole.from, 15), whole.to};
	struct chill_span all = chill_in(days, count, 0, whole);
	struct chill_span one = chill_in(days, count, 0, first);
	struct chill_span two = chill_in(days, count, 0, second);

	(void)state;
	check_int(one.chill.hours + two.chill.hours, all.chill.hours, "hours");
	check_close(one.chill.utah + two.chill.utah, all.chill.utah, 1e-9, "Utah");
	assert_true(one.chill.portions + two.chill.portions <= all.chill.portions + 1e-9);
}

static void a_colder_spot_is_reckoned_colder(void **state)
{
	struct day_weather days[DAYS];
	int32_t count = even_days(days, 70, 120);

	(void)state;
	assert_true(chill_in(days, count, -30, january).chill.chilling_hours >
		    chill_in(days, count, 0, january).chill.chilling_hours);
}

static void a_mirrored_latitude_gives_the_same_half_a_year_on(void **state)
{
	struct hours north, south;
	const struct extremes day = {2, 14};

	(void)state;
	check_ok(hourly_of_day(38, 15, &day, &day, &day, &north, NULL), NULL);
	check_ok(hourly_of_day(-38, 198, &day, &day, &day, &south, NULL), NULL);
	for (int32_t hour = 0; hour < HOURS_A_DAY; hour++)
		check_close(north.celsius[hour], south.celsius[hour], 0.2, "hour");
}

static void bad_days_are_refused_by_name(void **state)
{
	struct day_weather days[DAYS];
	int32_t count = even_days(days, 10, 120);
	struct chill_span got = {0};
	struct fault why = {0};

	(void)state;
	check_refused(chill_of_days(days, count, NAN, 0, january, &got, &why), STATUS_RANGE, &why,
		"latitude");
	check_refused(chill_of_days(days, count, 91, 0, january, &got, &why), STATUS_RANGE, &why,
		"-90..90");
	const struct day_span backward = {january.to, january.from};
	check_refused(chill_of_days(days, count, 40, 0, backward, &got, &why), STATUS_RANGE, &why,
		"outside 1..400");
	days[4].min_decic = known_i32(130);
	check_refused(chill_of_days(days, count, 40, 0, january, &got, &why), STATUS_RANGE, &why,
		"2026-01-05: minimum 13.0 C is above maximum 12.0 C");
	days[4].min_decic = known_i32(10);
	days[5].day = days[4].day;
	check_refused(chill_of_days(days, count, 40, 0, january, &got, &why), STATUS_RANGE, &why,
		"2026-01-05 stands twice");
	check_int(got.chill.hours, 0, "nothing was made of them");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_winter_in_waves),
		cmocka_unit_test(positive_utah_never_falls),
		cmocka_unit_test(a_portion_depends_on_what_came_before),
		cmocka_unit_test(missing_hours_lose_the_store_and_are_counted),
		cmocka_unit_test(bad_hours_are_refused_and_change_nothing),
		cmocka_unit_test(the_spans_of_this_file_are_january),
		cmocka_unit_test(a_january_of_cold_nights_counts_half_its_hours),
		cmocka_unit_test(a_day_without_a_maximum_is_a_gap_not_a_nought),
		cmocka_unit_test(two_halves_of_a_month_add_up_in_hours_and_units),
		cmocka_unit_test(a_colder_spot_is_reckoned_colder),
		cmocka_unit_test(a_mirrored_latitude_gives_the_same_half_a_year_on),
		cmocka_unit_test(bad_days_are_refused_by_name),
	};
	int failed = RUN_CASES("constant temperatures", constants, check_constant);

	failed += RUN_CASES("parts of the Dynamic model", parts, check_part);
	failed += RUN_CASES("days of two temperatures", cycles, check_cycle);
	return failed + cmocka_run_group_tests_name("chill", tests, NULL, NULL) != 0;
}
