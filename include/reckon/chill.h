/* SPDX-License-Identifier: MIT */
/* chill.h - winter chill from hourly temperatures, by four models side by side.
 *
 * Each model counts in units of its own: a kind's need in hours is never compared with portions.
 * Degrees Celsius as double, one value an hour. Pure. */
#ifndef RECKON_CHILL_H
#define RECKON_CHILL_H

#include "reckon/weather_hours.h"

/* What a run of hours gave, and the state carried to the next hour. Starts as zeroes. */
struct chill {
	int64_t hours; /* hours counted */
	double chilling_hours;
	double utah;
	double utah_positive; /* hours below zero count 0 each (not: days below zero) */
	double portions;      /* Dynamic model */
	double store;         /* its intermediate product, lost where hours are missing */
	int32_t gaps;         /* times hours were missing: each may have cost up to a portion */
};

/* Purpose: counts one more hour in all four models.
 * Chilling hours: 1 for 0 to 7.2 C, both ends in. The older "all below 7.2 C" counts frost too;
 *   45 F is 7.222 C, so the two unit systems differ in between. Reference: Bennett 1949, Weinberger
 *   1950, with a lower end.
 * Utah: 0 to 1.4 C, 0.5 to 2.4, 1 to 9.1, 0.5 to 12.4, 0 to 15.9, -0.5 to 18, -1 above; upper ends
 *   in. Those printed in Fahrenheit (34, 36, 48, 54, 60, 65) are not their exact conversions.
 *   Reference: Richardson, Seeley and Walker 1974 (HortScience 9: 331-332).
 * Dynamic model: constants e0 4153.5, e1 12888.8, a0 139500, a1 2.567e18, slope 1.6, 277 K;
 *   absolute zero is -273 in it. A portion is credited in the hour whose temperature made it.
 * STATUS_RANGE: not a number, or outside -90..60 C; *chill is untouched.
 * Reference: Fishman, Erez and Couvillon 1987 (J. theor. Biol. 124: 473-483); Erez and others
 *   1990 (Acta Hort. 276: 165-174).
 * Example: 1,000 hours at 6 C: 1,000 chilling hours, 1,000 Utah, 34.204 portions. */
enum status chill_add_hour(struct chill *chill, double celsius, struct fault *why) MUST_CHECK;
/* Hours are missing here: the Dynamic model starts anew from nothing, and the gap is counted. */
void chill_add_gap(struct chill *chill);
/* The known hours of one more day. *told: the hour before was counted, and on return the day's last
 * one was; a gap is counted where hours begin again. STATUS_RANGE as chill_add_hour. */
enum status chill_add_hours(
	struct chill *chill, const struct hours *hours, bool *told, struct fault *why) MUST_CHECK;

/* What a span of days gave. */
struct chill_span {
	struct chill chill;
	struct weather_cover cover; /* say it: a day without both extremes gives nothing */
};
/* Purpose: chill from daily extremes by way of hourly_of_day; both ends in.
 * Given: rows by day (weather_days_join); latitude in degrees; warmer_decic: how much warmer than
 *   the station the spot runs (below 0: colder).
 * A day without both extremes is a gap; hours that cannot be told beside it are left out.
 * STATUS_RANGE: a latitude, a span (to before from, over 400 days) or extremes that cannot be, the
 *   day named; a day twice. */
enum status chill_of_days(const struct day_weather *days, int32_t count, double latitude_deg,
	int32_t warmer_decic, struct day_span span, struct chill_span *out,
	struct fault *why) MUST_CHECK;

#endif
