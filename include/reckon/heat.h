/* SPDX-License-Identifier: MIT */
/* heat.h - heat added up: degree-days from daily extremes, growing degree hours. Pure. */
#ifndef RECKON_HEAT_H
#define RECKON_HEAT_H

#include "reckon/weather_days.h"

/* Ways to turn a day's extremes into degree-days. They differ when an extreme lies outside the
 * thresholds: say which one a figure is by. */
enum heat_method {
	HEAT_AVERAGE,        /* (min + max) / 2, capped at the upper threshold, less the lower */
	HEAT_AVERAGE_LIFTED, /* both extremes are first brought inside the thresholds */
	HEAT_TRIANGLE,
	HEAT_SINE
};
/* One unit of temperature throughout, C or F: 1 C-day is 1.8 F-days. */
struct heat_limits {
	double lower;
	double upper; /* horizontal cutoff: all that is above counts as this */
	bool has_upper;
};

/* Purpose: degree-days of one day.
 * Given: extremes and thresholds in one unit. Returned: degree-days in that unit.
 * STATUS_RANGE: not a number, minimum above maximum, upper threshold not above the lower.
 * Edge: minimum = maximum is an ordinary day.
 * Accuracy: the sine and the triangle reproduce Zalom's table to the printed 0.01.
 * Reference: averages: McMaster and Wilhelm 1997, methods 1 and 2, doi
 *   10.1016/S0168-1923(97)00027-0; triangle: Lindsey and Newman 1956; sine: Baskerville and Emin
 *   1969; cutoff: Zalom and others 1983 (University of California leaflet 21373).
 * Example: 50 to 82 F over 55, cut off at 90: triangle 11.39, sine 11.85. */
enum status heat_degree_days(enum heat_method method, double min, double max,
	const struct heat_limits *limits, double *out, struct fault *why) MUST_CHECK;
/* Purpose: the double forms: half the day by its own minimum, half by the next one.
 * Only for HEAT_TRIANGLE and HEAT_SINE; others are STATUS_RANGE. Reference: Zalom and others 1983.
 * Example: 50 to 82 F, next minimum 45: triangle 10.62, sine 11.31. */
enum status heat_degree_days_double(enum heat_method method, double min, double max,
	double next_min, const struct heat_limits *limits, double *out,
	struct fault *why) MUST_CHECK;

/* Purpose: growing degree hours of one hour: base 4 C, best 25 C, none from 36 C.
 * STATUS_RANGE: not a number, outside -90..60 C.
 * Reference: Anderson, Richardson and Kesner 1986 (Acta Hort. 184: 71-78).
 * Example: 25 C: 21; 14.5 C: 10.5; 36 C: 0. */
enum status heat_hour(double celsius, double *out, struct fault *why) MUST_CHECK;

/* What a span of days gave; a day without both extremes gives nothing and is counted as missing. */
struct heat_span {
	double degree_days;
	struct weather_cover cover;
};
/* Purpose: degree-days in C over days, both ends in. warmer_decic: how much warmer the spot is.
 * STATUS_RANGE: see heat_degree_days and weather_days_check; the day is named. */
enum status heat_of_days(enum heat_method method, const struct day_weather *days, int32_t count,
	const struct heat_limits *limits_c, int32_t warmer_decic, struct day_span span,
	struct heat_span *out, struct fault *why) MUST_CHECK;

#endif
