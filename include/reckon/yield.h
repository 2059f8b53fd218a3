/* SPDX-License-Identifier: MIT */
/* yield.h - small series of yearly yields: middle, spread, trend, alternation; crop by trunk.
 *
 * Series are a few years long. A year in which nothing was picked is a 0 and belongs in them; a
 * year that was not recorded is left out, and years (not places in the list) carry the time.
 * Units of the values are the caller's; results are in the same. n is always given back. A value
 * that is no number leaves no figure, and one below nothing no alternation and no bearing: unknown,
 * never 0. */
#ifndef RECKON_YIELD_H
#define RECKON_YIELD_H

#include "core/maybe.h"
#include "core/memory.h"

struct yield_figures {
	int32_t count; /* 0: nothing below means anything; so with a value that is no number */
	double mean;
	double median;
	double mad;  /* median of |x - median|; x 1.4826 is a robust sd */
	bool has_sd; /* n >= 2 */
	double sd;   /* of a sample: n - 1 */
	bool has_cv; /* n >= 2 and mean not 0 */
	double cv_percent;
};
struct yield_figures yield_figures(const double *values, int32_t count, struct arena *arena);

/* Theil-Sen: the median of the slopes of all pairs with unequal x. Two intercepts go by that
 * name: `joint` is median(y - slope x), `separate` is median(y) - slope median(x). */
struct yield_trend {
	bool known; /* n >= 3, all numbers, and some pair of unequal x */
	int32_t pairs;
	double slope;
	double intercept_joint;
	double intercept_separate;
};
struct yield_trend yield_trend(
	const double *x, const double *y, int32_t count, struct arena *arena);

/* Alternation of successive years, 0 (steady) to 1 (a crop every other year). Three formulas go by
 * one name; say which is shown, and from how many pairs. years rise; only years that follow each
 * other make a pair; a pair of two empty years makes none, but in the form by the mean, which has
 * no ratio to fail. pairs 0: no index. */
struct yield_alternation {
	int32_t pairs;
	double index;
};
/* Sum |a - b| / sum (a + b). */
struct yield_alternation yield_alternation_sums(
	const int32_t *years, const double *values, int32_t count);
/* Mean of |a - b| / (a + b). */
struct yield_alternation yield_alternation_ratios(
	const int32_t *years, const double *values, int32_t count);

/* Mean of |a - b| over the mean yield: 0 to 2. */
struct yield_alternation yield_alternation_by_mean(
	const int32_t *years, const double *values, int32_t count);

/* Is the year at this place one of much or of little: more than 20 % over or under the mean of
 * the five years around it (itself and two on either side, as many as are known, three at least).
 * The source says five years and a fifth; that the year stands in their middle is ours. */
enum yield_bearing { BEARING_UNKNOWN, BEARING_OFF, BEARING_USUAL, BEARING_ON };
enum yield_bearing yield_bearing(
	const int32_t *years, const double *values, int32_t count, int32_t at);

/* Yield efficiency: yield by trunk cross-section. 1 kg/cm2 is 10,000 mg/mm2. False: no trunk, or
 * a figure that cannot be. */
bool yield_efficiency(int64_t yield_mg, double tcsa_mm2, double *mg_per_mm2);
/* Crop load (crop density): fruit by trunk cross-section. False: as yield_efficiency. */
bool yield_crop_load(double fruit, double tcsa_mm2, double *fruit_per_cm2);

#endif
