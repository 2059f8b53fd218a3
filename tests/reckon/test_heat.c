/* SPDX-License-Identifier: MIT */
#include "reckon/make.h"

#include <math.h>

#include "reckon/heat.h"

/* Codling moth, 50 to 88 F: worked out from the formulas. */
struct moth {
	const char *name;
	double min, max, lifted, triangle, sine;
};
static const struct moth moths[] = {
	{"a_cool_day", 45, 70, 10, 8, 8.4693},
	{"a_hot_day", 60, 95, 24, 26.8, 26.1429},
	{"a_day_through_both_thresholds", 48, 100, 19, 22.6538, 21.6594},
	{"a_day_all_above", 90, 102, 38, 38, 38},
	{"a_day_all_below", 40, 45, 0, 0, 0},
};
static const struct heat_limits moth_limits = {50, 88, true};

static double days_of(enum heat_method method, double min, double max, struct heat_limits limits)
{
	struct fault why = {0};
	double out = NAN;

	check_ok(heat_degree_days(method, min, max, &limits, &out, &why), &why);
	return out;
}

static void check_moth(const void *item)
{
	const struct moth *one = item;

	check_close(days_of(HEAT_AVERAGE_LIFTED, one->min, one->max, moth_limits), one->lifted,
		5e-5, "average");
	check_close(days_of(HEAT_TRIANGLE, one->min, one->max, moth_limits), one->triangle, 5e-5,
		"triangle");
	check_close(days_of(HEAT_SINE, one->min, one->max, moth_limits), one->sine, 5e-5, "sine");
}

static void a_flat_day_is_a_day(void **state)
{
	(void)state;
	for (int method = HEAT_AVERAGE; method <= HEAT_SINE; method++)
		check_close(days_of((enum heat_method)method, 60, 60, moth_limits), 10, 1e-12,
			"all by one");
}

static void the_average_is_capped_too(void **state)
{
	(void)state;
	check_close(days_of(HEAT_AVERAGE, 90, 102, moth_limits), 38, 1e-12, "capped");
}

/* Celsius or Fahrenheit, a warmer day, a lower threshold: what must hold of any method. */
static void methods_agree_with_sense(void **state)
{
	const struct heat_limits celsius = {10, 31, true};
	const struct heat_limits fahrenheit = {50, 87.8, true};

	(void)state;
	for (int at = HEAT_AVERAGE; at <= HEAT_SINE; at++)
		for (int32_t low = -20; low <= 70; low += 3)
			for (int32_t wide = 0; wide <= 40; wide += 5) {
				enum heat_method method = (enum heat_method)at;
				double min = low / 2.0;
				double max = min + wide / 2.0;
				double got = days_of(method, min, max, celsius);

				assert_true(got >= -1e-9 && got <= 21 + 1e-9);
				check_close(
					days_of(method, min * 1.8 + 32, max * 1.8 + 32, fahrenheit),
					got * 1.8, 1e-9, "1 C-day is 1.8 F-days");
				assert_true(
					days_of(method, min + 1, max + 1, celsius) >= got - 1e-9);
			}
}

static void bad_days_are_refused(void **state)
{
	const struct heat_limits turned = {50, 50, true};
	const struct heat_limits none = {NAN, 0, false};
	struct fault why = {0};
	double out = -1;

	(void)state;
	check_refused(heat_degree_days(HEAT_SINE, 70, 60, &moth_limits, &out, &why), STATUS_RANGE,
		&why, "minimum 70 is above maximum 60");
	check_refused(heat_degree_days(HEAT_SINE, NAN, 60, &moth_limits, &out, &why), STATUS_RANGE,
		&why, "no day's range");
	check_refused(heat_degree_days(HEAT_SINE, 50, INFINITY, &moth_limits, &out, &why),
		STATUS_RANGE, &why, "no day's range");
	check_refused(heat_degree_days(HEAT_SINE, 50, 60, &turned, &out, &why), STATUS_RANGE, &why,
		"not above the lower");
	check_refused(heat_degree_days(HEAT_SINE, 50, 60, &none, &out, &why), STATUS_RANGE, &why,
		"no number");
	check_refused(heat_degree_days_double(HEAT_AVERAGE, 50, 60, 45, &moth_limits, &out, &why),
		STATUS_RANGE, &why, "cut in two at noon");
	check_refused(heat_degree_days_double(HEAT_SINE, 50, 60, 65, &moth_limits, &out, &why),
		STATUS_RANGE, &why, "above maximum");
	check_refused(heat_hour(NAN, &out, &why), STATUS_RANGE, &why, "outside");
	check_close(out, -1, 0, "untouched");
}

static void warm_hours_rise_to_25_and_end_at_36(void **state)
{
	static const struct {
		double celsius, want;
	} hours[] = {{3.9, 0}, {4, 0}, {25, 21}, {36, 0}, {36.1, 0}, {-20, 0}};
	double last = 0;

	(void)state;
	for (size_t i = 0; i < sizeof hours / sizeof hours[0]; i++) {
		double got = -1;
		check_ok(heat_hour(hours[i].celsius, &got, NULL), NULL);
		check_close(got, hours[i].want, 1e-9, "hour");
	}
	for (int32_t half = 8; half <= 50; half++) {
		double got = 0;
		check_ok(heat_hour(half / 2.0, &got, NULL), NULL);
		assert_true(got >= last);
		last = got;
	}
}

static void missing_days_are_told_not_filled(void **state)
{
	const struct heat_limits limits = {10, 0, false};
	struct day_weather days[3] = {
		{.day = day_of("2026-05-01"), .min_decic = {100, true}, .max_decic = {200, true}},
		{.day = day_of("2026-05-02"), .min_decic = {100, true}},
		{.day = day_of("2026-05-04"), .min_decic = {120, true}, .max_decic = {220, true}},
	};
	struct day_span span = {day_of("2026-05-01"), day_of("2026-05-05")};
	struct heat_span got = {0};
	struct fault why = {0};

	(void)state;
	check_ok(heat_of_days(HEAT_AVERAGE, days, 3, &limits, 0, span, &got, &why), &why);
	check_close(got.degree_days, 5 + 7, 1e-9, "sum of the two");
	check_int(got.cover.days, 5, "days");
	check_int(got.cover.known, 2, "known");
	check_int(got.cover.longest_gap, 2, "gap");
	check_ok(heat_of_days(HEAT_AVERAGE, days, 3, &limits, 15, span, &got, &why), &why);
	check_close(got.degree_days, 15, 1e-9, "a warmer spot");
	days[2].day = days[1].day;
	check_refused(heat_of_days(HEAT_AVERAGE, days, 3, &limits, 0, span, &got, &why),
		STATUS_RANGE, &why, "2026-05-02 stands twice");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_flat_day_is_a_day),
		cmocka_unit_test(the_average_is_capped_too),
		cmocka_unit_test(methods_agree_with_sense),
		cmocka_unit_test(bad_days_are_refused),
		cmocka_unit_test(warm_hours_rise_to_25_and_end_at_36),
		cmocka_unit_test(missing_days_are_told_not_filled),
	};
	int failed = RUN_CASES("codling moth", moths, check_moth);

	return failed + cmocka_run_group_tests_name("heat", tests, NULL, NULL) != 0;
}
