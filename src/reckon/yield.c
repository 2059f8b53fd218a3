/* SPDX-License-Identifier: MIT */
#include "reckon/yield.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { TREND_FROM = 3, MM2_PER_CM2 = 100, AROUND_YEARS = 2, AROUND_FROM = 3 };
static const double on_above = 1.2;
static const double off_below = 0.8;

static int compare_doubles(const void *a, const void *b)
{
	const double *x = a;
	const double *y = b;
	return (*x > *y) - (*x < *y);
}

/* Sorts the values in place; an even count: the mean of the middle two. */
static double median_of(double *values, size_t count)
{
	assert(count > 0);
	qsort(values, count, sizeof *values, compare_doubles);
	return (values[(count - 1) / 2] + values[count / 2]) / 2;
}

static double *copy_of(const double *values, size_t count, struct arena *arena)
{
	double *copy = arena_array(arena, count, sizeof *copy);
	memcpy(copy, values, count * sizeof *copy);
	return copy;
}

static bool all_numbers(const double *values, int32_t count)
{
	for (int32_t i = 0; i < count; i++)
		if (!isfinite(values[i]))
			return false;
	return true;
}

static bool is_yield(double value)
{
	return isfinite(value) && value >= 0;
}

/* Purpose: mean, median, sample standard deviation (n - 1), coefficient of variation in percent
 *   and median absolute deviation of a series.
 * Example: 4 9.5 6 14 8.5 19 3 22 12.5: mean 10.944, median 9.5, sd 6.545, CV 59.80, MAD 4.5. */
struct yield_figures yield_figures(const double *values, int32_t count, struct arena *arena)
{
	struct yield_figures figures = {.count = count};
	if (count <= 0 || !all_numbers(values, count))
		return (struct yield_figures){.count = 0};
	size_t n = (size_t)count;
	double *sorted = copy_of(values, n, arena);
	double sum = 0;
	for (size_t at = 0; at < n; at++)
		sum += values[at];
	figures.mean = sum / count;
	figures.median = median_of(sorted, n);
	double squares = 0;
	for (size_t at = 0; at < n; at++) {
		double off = values[at] - figures.mean;
		squares += off * off;
		sorted[at] = fabs(values[at] - figures.median);
	}
	figures.mad = median_of(sorted, n);
	figures.has_sd = count >= 2;
	if (figures.has_sd)
		figures.sd = sqrt(squares / (count - 1));
	figures.has_cv = figures.has_sd && figures.mean != 0;
	if (figures.has_cv)
		figures.cv_percent = 100 * figures.sd / figures.mean;
	return figures;
}

/* Purpose: a trend that one odd year does not move. Memory grows with the square of n.
 * Reference: Theil 1950, Sen 1968, as described by Helsel and Hirsch (Statistical Methods in
 *   Water Resources, chapter 10): an even number of slopes gives the mean of the middle two.
 * Example: x 1..7, y 1 2 3 4 5 16 7: slope 1, both intercepts 0. */
struct yield_trend yield_trend(const double *x, const double *y, int32_t count, struct arena *arena)
{
	struct yield_trend trend = {.known = false};
	if (count < TREND_FROM || !all_numbers(x, count) || !all_numbers(y, count))
		return trend;
	size_t n = (size_t)count;
	double *slopes = arena_array(arena, n * (n - 1) / 2, sizeof *slopes);
	size_t pairs = 0;
	for (size_t i = 0; i < n; i++)
		for (size_t j = i + 1; j < n; j++)
			if (x[i] != x[j])
				slopes[pairs++] = (y[j] - y[i]) / (x[j] - x[i]);
	if (pairs == 0)
		return trend;
	trend.known = true;
	trend.pairs = (int32_t)pairs;
	trend.slope = median_of(slopes, pairs);
	double *left = arena_array(arena, n, sizeof *left);
	for (size_t at = 0; at < n; at++)
		left[at] = y[at] - trend.slope * x[at];
	trend.intercept_joint = median_of(left, n);
	trend.intercept_separate = median_of(copy_of(y, n, arena), n) -
				   trend.slope * median_of(copy_of(x, n, arena), n);
	return trend;
}

/* --- alternation --- */

/* Does the value at this place follow the one before by a year, and is there fruit in the two. */
static bool is_pair(const int32_t *years, const double *values, int32_t at)
{
	return years[at] - years[at - 1] == 1 && is_yield(values[at]) && is_yield(values[at - 1]) &&
	       values[at] + values[at - 1] > 0;
}

/* Reference: the ratio of sums, as Hoblyn and others 1936 are quoted for (Journal of Pomology and
 * Horticultural Science 14: 39-76). Example: 40 10 35 12 38 give 0.5417 of 4 pairs. */
struct yield_alternation yield_alternation_sums(
	const int32_t *years, const double *values, int32_t count)
{
	struct yield_alternation result = {0};
	double differences = 0;
	double sums = 0;
	for (int32_t at = 1; at < count; at++) {
		if (!is_pair(years, values, at))
			continue;
		differences += fabs(values[at] - values[at - 1]);
		sums += values[at] + values[at - 1];
		result.pairs++;
	}
	if (result.pairs > 0)
		result.index = differences / sums;
	return result;
}

/* Reference: the mean of ratios, as Monselise and Goldschmidt 1982 are quoted for (Horticultural
 * Reviews 4: 128-173). Example: 40 10 35 12 38 give 0.5412 of 4 pairs. */
struct yield_alternation yield_alternation_ratios(
	const int32_t *years, const double *values, int32_t count)
{
	struct yield_alternation result = {0};
	double ratios = 0;
	for (int32_t at = 1; at < count; at++) {
		if (!is_pair(years, values, at))
			continue;
		ratios += fabs(values[at] - values[at - 1]) / (values[at] + values[at - 1]);
		result.pairs++;
	}
	if (result.pairs > 0)
		result.index = ratios / result.pairs;
	return result;
}

/* Reference: the "norm" form that is quoted from Durand and others 2013, second-hand.
 * Example: 40 10 35 12 38 give 0.9630 of 4 pairs. */
struct yield_alternation yield_alternation_by_mean(
	const int32_t *years, const double *values, int32_t count)
{
	struct yield_alternation result = {0};
	double differences = 0;
	double total = 0;
	for (int32_t at = 0; at < count; at++) {
		if (!is_yield(values[at]))
			return (struct yield_alternation){.pairs = 0};
		total += values[at];
		if (at == 0 || years[at] - years[at - 1] != 1)
			continue;
		differences += fabs(values[at] - values[at - 1]);
		result.pairs++;
	}
	if (!(total > 0))
		result.pairs = 0;
	if (result.pairs > 0)
		result.index = differences / result.pairs / (total / count);
	return result;
}

/* Reference: deviation from the running mean of five years, above 20 % on, below -20 % off: a
 * teaching text on alternate bearing, second-hand. Example: of 51 59 57 15 54 the fourth is off. */
enum yield_bearing yield_bearing(
	const int32_t *years, const double *values, int32_t count, int32_t at)
{
	double sum = 0;
	int32_t known = 0;
	for (int32_t i = 0; i < count; i++) {
		if (abs(years[i] - years[at]) > AROUND_YEARS)
			continue;
		if (!is_yield(values[i]))
			return BEARING_UNKNOWN;
		sum += values[i];
		known++;
	}
	if (known < AROUND_FROM || !(sum > 0))
		return BEARING_UNKNOWN;
	const double mean = sum / known;
	if (values[at] > mean * on_above)
		return BEARING_ON;
	return values[at] < mean * off_below ? BEARING_OFF : BEARING_USUAL;
}

/* --- crop by trunk --- */

/* Example: 10.0 kg of a trunk of 10.1 cm2 are 9,901 mg/mm2 (0.99 kg/cm2). */
bool yield_efficiency(int64_t yield_mg, double tcsa_mm2, double *mg_per_mm2)
{
	if (yield_mg < 0 || !(tcsa_mm2 > 0 && isfinite(tcsa_mm2)))
		return false;
	*mg_per_mm2 = (double)yield_mg / tcsa_mm2;
	return true;
}

/* Example: 60 fruit on a trunk of 1,000 mm2 are 6 a cm2. */
bool yield_crop_load(double fruit, double tcsa_mm2, double *fruit_per_cm2)
{
	if (!is_yield(fruit) || !(tcsa_mm2 > 0 && isfinite(tcsa_mm2)))
		return false;
	*fruit_per_cm2 = fruit / tcsa_mm2 * MM2_PER_CM2;
	return true;
}
