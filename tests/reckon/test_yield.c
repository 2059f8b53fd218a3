/* SPDX-License-Identifier: MIT */
#include "reckon/make.h"

#include "reckon/yield.h"

#include <math.h>

static const double nine_years[] = {4, 9.5, 6, 14, 8.5, 19, 3, 22, 12.5};
static const double nine_x[] = {2015, 2016, 2017, 2018, 2019, 2020, 2021, 2022, 2023};

static void a_series_has_its_middle_and_spread(void **state)
{
	(void)state;
	struct yield_figures figures = yield_figures(nine_years, 9, made());
	check_int(figures.count, 9, "n");
	check_close(figures.mean, 10.944444, 1e-6, "mean");
	check_close(figures.median, 9.5, 0, "median");
	check_close(figures.sd, 6.545248, 1e-6, "sd");
	check_close(figures.cv_percent, 59.8043, 1e-4, "CV");
	check_close(figures.mad, 4.5, 0, "MAD");
}

static void short_series_have_no_spread(void **state)
{
	(void)state;
	const double one[] = {7};
	struct yield_figures figures = yield_figures(one, 1, made());
	check_close(figures.mean, 7, 0, "mean");
	check_close(figures.median, 7, 0, "median");
	assert_false(figures.has_sd);
	assert_false(figures.has_cv);
	check_int(yield_figures(one, 0, made()).count, 0, "none");
	const double zeros[] = {0, 0, 0};
	figures = yield_figures(zeros, 3, made());
	assert_true(figures.has_sd);
	check_close(figures.sd, 0, 0, "sd");
	assert_false(figures.has_cv);
}

static void figures_do_not_depend_on_the_order(void **state)
{
	(void)state;
	double turned[9];
	struct yield_figures want = yield_figures(nine_years, 9, made());
	for (int32_t turn = 0; turn < 9; turn++) {
		for (int32_t at = 0; at < 9; at++)
			turned[(at + turn) % 9] = nine_years[at];
		struct yield_figures got = yield_figures(turned, 9, made());
		check_close(got.median, want.median, 0, "median");
		check_close(got.sd, want.sd, 1e-12, "sd");
		check_close(got.mad, want.mad, 0, "MAD");
	}
	check_close(turned[0], nine_years[1], 0, "the values given are left as they were");
}

struct trend_case {
	const char *name;
	int32_t count;
	double x[9], y[9];
	double slope, joint, separate;
	int32_t pairs;
};

static const struct trend_case trend_cases[] = {
	{"an outlier does not move it", 7, {1, 2, 3, 4, 5, 6, 7}, {1, 2, 3, 4, 5, 16, 7}, 1, 0, 0,
		21},
	{"falling", 5, {1, 2, 3, 4, 5}, {1.26, 1.27, 1.12, 1.16, 1.03}, -0.05625, 1.31625, 1.32875,
		10},
	{"rising faster", 5, {1, 2, 3, 4, 5}, {1, 2, 3, 5, 9}, 1.75, -1.5, -2.25, 10},
	{"nine years", 9, {2015, 2016, 2017, 2018, 2019, 2020, 2021, 2022, 2023},
		{4, 9.5, 6, 14, 8.5, 19, 3, 22, 12.5}, 1.1875, -2388.8125, -2388.0625, 36},
	{"a year missing needs no filling", 8, {2015, 2016, 2017, 2019, 2020, 2021, 2022, 2023},
		{4, 9.5, 6, 8.5, 19, 3, 22, 12.5}, 1.104167, -2220.854167, -2220.864583, 28},
	{"ties in x make no pair", 4, {1, 1, 2, 2}, {0, 2, 4, 6}, 4, -3, -3, 4},
	{"flat", 3, {1, 2, 3}, {5, 5, 5}, 0, 5, 5, 3},
};

static void trend_case_run(const void *one)
{
	const struct trend_case *at = one;
	struct yield_trend trend = yield_trend(at->x, at->y, at->count, made());
	assert_true(trend.known);
	check_int(trend.pairs, at->pairs, "pairs");
	check_close(trend.slope, at->slope, 1e-6, "slope");
	check_close(trend.intercept_joint, at->joint, 1e-3, "joint intercept");
	check_close(trend.intercept_separate, at->separate, 1e-3, "separate intercept");
}

static void too_little_makes_no_trend(void **state)
{
	(void)state;
	const double x[] = {3, 3, 3}, y[] = {1, 2, 3};
	assert_false(yield_trend(nine_x, nine_years, 2, made()).known);
	assert_false(yield_trend(x, y, 3, made()).known);
	assert_false(yield_trend(x, y, 0, made()).known);
}

static void a_trend_moves_with_scale_and_place(void **state)
{
	(void)state;
	double moved[9], shifted[9];
	struct yield_trend want = yield_trend(nine_x, nine_years, 9, made());
	for (int32_t at = 0; at < 9; at++) {
		moved[at] = 3 * nine_years[at] + 100;
		shifted[at] = nine_x[at] - 2015;
	}
	check_close(yield_trend(nine_x, moved, 9, made()).slope, 3 * want.slope, 1e-9, "scale");
	check_close(yield_trend(shifted, nine_years, 9, made()).slope, want.slope, 1e-9, "place");
}

/* --- alternation: values worked out by the formulas --- */

struct index_case {
	const char *name;
	int32_t count;
	double values[9];
	double sums, ratios;
	int32_t pairs;
	int32_t gap_after; /* years from this place on are one later; 0 none */
};

static const struct index_case index_cases[] = {
	{"five years", 5, {40, 10, 35, 12, 38}, 0.541667, 0.541229, 4, 0},
	{"steady", 4, {20, 20, 20, 20}, 0, 0, 3, 0},
	{"on and off", 4, {30, 0, 30, 0}, 1, 1, 3, 0},
	{"two years", 2, {10, 30}, 0.5, 0.5, 1, 0},
	{"two empty years", 4, {0, 0, 12, 4}, 0.714286, 0.75, 2, 0},
	{"nine years", 9, {4, 9.5, 6, 14, 8.5, 19, 3, 22, 12.5}, 0.429363, 0.427764, 8, 0},
	{"one year", 1, {10}, 0, 0, 0, 0},
	{"no year", 0, {0}, 0, 0, 0, 0},
	{"nothing but empty years", 3, {0, 0, 0}, 0, 0, 0, 0},
	{"40 and 10", 2, {40, 10}, 0.6, 0.6, 1, 0},
	{"20 40 20 40", 4, {20, 40, 20, 40}, 0.333333, 0.333333, 3, 0},
	{"60 20 50 10", 4, {60, 20, 50, 10}, 0.523810, 0.531746, 3, 0},
	{"growth alone looks like it", 4, {5, 10, 20, 40}, 0.333333, 0.333333, 3, 0},
	{"a year that was not recorded breaks the chain", 4, {10, 30, 10, 30}, 0.5, 0.5, 2, 2},
};

static void index_case_run(const void *one)
{
	const struct index_case *at = one;
	int32_t years[9];
	for (int32_t year = 0; year < 9; year++)
		years[year] = 2010 + year + (at->gap_after > 0 && year >= at->gap_after);
	struct yield_alternation sums = yield_alternation_sums(years, at->values, at->count);
	struct yield_alternation ratios = yield_alternation_ratios(years, at->values, at->count);
	check_int(sums.pairs, at->pairs, "pairs");
	check_int(ratios.pairs, at->pairs, "pairs");
	check_close(sums.index, at->sums, 1e-6, "ratio of sums");
	check_close(ratios.index, at->ratios, 1e-6, "mean of ratios");
}

/* The third form is also worked out by hand: mean difference over mean yield. */
struct mean_case {
	const char *name;
	int32_t count;
	double values[9];
	double index;
	int32_t pairs;
	int32_t gap_after;
};

static const struct mean_case mean_cases[] = {
	{"five years", 5, {40, 10, 35, 12, 38}, 0.962963, 4, 0},
	{"steady", 4, {20, 20, 20, 20}, 0, 3, 0},
	{"on and off", 4, {30, 0, 30, 0}, 2, 3, 0},
	{"two years", 2, {10, 30}, 1, 1, 0},
	{"two empty years make a pair", 4, {0, 0, 12, 4}, 1.666667, 3, 0},
	{"nine years", 9, {4, 9.5, 6, 14, 8.5, 19, 3, 22, 12.5}, 0.885152, 8, 0},
	{"nothing but empty years", 3, {0, 0, 0}, 0, 0, 0},
	{"one year", 1, {10}, 0, 0, 0},
	{"a gap", 4, {10, 30, 10, 30}, 1, 2, 2},
};

static void mean_case_run(const void *one)
{
	const struct mean_case *at = one;
	int32_t years[9];
	for (int32_t year = 0; year < 9; year++)
		years[year] = 2010 + year + (at->gap_after > 0 && year >= at->gap_after);
	struct yield_alternation got = yield_alternation_by_mean(years, at->values, at->count);
	check_int(got.pairs, at->pairs, "pairs");
	check_close(got.index, at->index, 1e-6, "by the mean");
}

static void years_of_much_and_of_little(void **state)
{
	static const int32_t years[] = {2020, 2021, 2022, 2023, 2024, 2025, 2028};
	static const double values[] = {51, 59.5, 57, 15, 54, 54, 90};
	static const double edge[] = {120, 100, 80, 80, 120};
	static const int32_t five[] = {1, 2, 3, 4, 5};
	(void)state;
	check_int(yield_bearing(years, values, 7, 0), BEARING_USUAL, "51 of 56");
	check_int(yield_bearing(years, values, 7, 1), BEARING_ON, "59.5 of 45.6");
	check_int(yield_bearing(years, values, 7, 3), BEARING_OFF, "15 of 47.9");
	check_int(yield_bearing(years, values, 7, 6), BEARING_UNKNOWN, "nothing around");
	check_int(yield_bearing(five, edge, 5, 2), BEARING_USUAL, "a fifth under is not off");
	check_int(yield_bearing(five, (const double[]){100, 0, 120, 100, 180}, 5, 2), BEARING_USUAL,
		"a fifth over is not on");
	check_int(yield_bearing(five, (const double[]){0, 0, 0, 0, 0}, 5, 2), BEARING_UNKNOWN,
		"no fruit at all");
}

static void an_index_lies_between_0_and_1_and_knows_no_unit(void **state)
{
	(void)state;
	int32_t years[12];
	double values[12], pounds[12];
	uint32_t random = 20240229;
	for (int32_t round = 0; round < 400; round++) {
		for (int32_t at = 0; at < 12; at++) {
			random = random * 1664525u + 1013904223u;
			years[at] = 2000 + at;
			values[at] = (double)(random >> 24) * (random % 3 != 0);
			pounds[at] = values[at] * 2.20462;
		}
		struct yield_alternation a = yield_alternation_sums(years, values, 12);
		struct yield_alternation b = yield_alternation_ratios(years, values, 12);
		assert_true(a.index >= 0 && a.index <= 1 && b.index >= 0 && b.index <= 1);
		check_close(
			yield_alternation_sums(years, pounds, 12).index, a.index, 1e-12, "unit");
		check_close(
			yield_alternation_ratios(years, pounds, 12).index, b.index, 1e-12, "unit");
	}
}

/* No figure, and never a nought. */
static void a_value_that_cannot_be_leaves_no_figure(void **state)
{
	static const double bad[] = {NAN, INFINITY, -INFINITY, -1};
	static const int32_t years[] = {2019, 2020, 2021, 2022, 2023};
	static const double x[] = {1, 2, 3, 4, 5};

	(void)state;
	for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
		const double values[] = {40, 10, bad[i], 12, 38};
		bool number = isfinite(bad[i]); /* a sum may be below nothing, a yield may not */

		check_int(yield_figures(values, 5, made()).count, number ? 5 : 0, "figures");
		check_int(yield_trend(x, values, 5, made()).known, number, "trend of such values");
		check_int(yield_alternation_sums(years, values, 5).pairs, 2, "pairs beside it");
		check_close(yield_alternation_ratios(years, values, 5).index,
			(30.0 / 50 + 26.0 / 50) / 2, 1e-12, "of those pairs alone");
		check_int(yield_alternation_by_mean(years, values, 5).pairs, 0, "no mean");
		check_int(yield_bearing(years, values, 5, 2), BEARING_UNKNOWN, "that year");
		check_int(yield_bearing(years, values, 5, 3), BEARING_UNKNOWN, "the one after");
	}
	const double odd[] = {1, NAN, 3, 4, 5};
	check_int(yield_trend(odd, x, 5, made()).known, false, "no such day");
	static const int32_t twice[] = {2020, 2020, 2021};
	static const double three[] = {4, 9, 1};
	check_int(yield_alternation_sums(twice, three, 3).pairs, 1, "a year twice makes no pair");
}

static void no_trunk_has_no_efficiency(void **state)
{
	(void)state;
	double got = -7;
	assert_false(yield_efficiency(1000000, 0, &got));
	assert_false(yield_efficiency(1000000, -1, &got));
	assert_false(yield_crop_load(60, 0, &got));
	assert_false(yield_efficiency(1000000, NAN, &got));
	assert_false(yield_efficiency(1000000, INFINITY, &got));
	assert_false(yield_efficiency(-1, 1000, &got));
	assert_false(yield_crop_load(NAN, 1000, &got));
	assert_false(yield_crop_load(-1, 1000, &got));
	assert_false(yield_crop_load(60, NAN, &got));
	check_close(got, -7, 0, "untouched");
	assert_true(yield_efficiency(0, 1000, &got));
	check_close(got, 0, 0, "no fruit is a figure");
	assert_true(yield_crop_load(60, 1000, &got));
	check_close(got, 6, 1e-12, "six a cm2");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_series_has_its_middle_and_spread),
		cmocka_unit_test(short_series_have_no_spread),
		cmocka_unit_test(figures_do_not_depend_on_the_order),
		cmocka_unit_test(too_little_makes_no_trend),
		cmocka_unit_test(a_trend_moves_with_scale_and_place),
		cmocka_unit_test(years_of_much_and_of_little),
		cmocka_unit_test(an_index_lies_between_0_and_1_and_knows_no_unit),
		cmocka_unit_test(a_value_that_cannot_be_leaves_no_figure),
		cmocka_unit_test(no_trunk_has_no_efficiency),
	};
	int failed = cmocka_run_group_tests(tests, NULL, NULL);
	failed += RUN_CASES("trends", trend_cases, trend_case_run);
	failed += RUN_CASES("alternation", index_cases, index_case_run);
	failed += RUN_CASES("alternation by the mean", mean_cases, mean_case_run);
	return failed != 0;
}
