/* SPDX-License-Identifier: MIT */
/* weather_sum.h - what spans of days gave: chill, warmth, frost, heat, rain and gaps. Pure. */
#ifndef RECKON_WEATHER_SUM_H
#define RECKON_WEATHER_SUM_H

#include "reckon/chill.h"

/* A frost night's minimum is 0.0 C or lower, a heat day's maximum 35.0 C or higher. */
enum { FROST_NIGHT_DECIC = 0, HEAT_DAY_DECIC = 350, WARMTH_BASE_C = 10 };

struct weather_extreme {
	struct maybe_i32 decic;
	struct date day;
};

struct weather_sum {
	struct day_span span; /* given; the rest is returned */
	int32_t days;         /* of the span, both ends in */
	int32_t missing;      /* of them, days without both extremes: they give nothing below */
	int32_t longest_gap;  /* most of those in a row */
	int32_t crossed;      /* missing because the extremes crossed: see weather_days_uncross */
	int32_t by_hours;   /* days whose hours a station told; else they were made from extremes */
	struct chill chill; /* of the span alone, its store carried from the first day known */
	double growing_hours;         /* growing degree hours, see heat_hour */
	double degree_days;           /* C, daily mean over 10 C, no cutoff */
	double mean_sum_c;            /* of the daily means, for mean_sum_c / (days - missing) */
	int32_t min_known, max_known; /* days with that figure, the other one known or not */
	int32_t frost_nights;
	int32_t heat_days;
	struct weather_extreme lowest, highest;
	int32_t rain_known; /* days with a figure of rain */
	int64_t rain_um;    /* their sum; unknown, never 0, where rain_known is 0 */
};

/* Purpose: sums over spans of a record, which is walked once from its first day, so that the
 *   Dynamic model's store comes to each span as it stood.
 * Given: sums[i].span; spans may overlap, and may reach past the record.
 * Edge: a day without both extremes is a gap, and each gap may have cost up to a portion; without
 *   hours (no latitude and no station's) chill.hours is 0 and chill is not known.
 * STATUS_RANGE: a span that ends before it begins; rows that do not rise by day; a latitude or a
 *   temperature that cannot be. *sums is then unfinished. */
enum status weather_sum_spans(const struct weather_record *record, struct weather_sum *sums,
	int32_t count, struct fault *why) MUST_CHECK;

#endif
