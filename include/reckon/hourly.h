/* SPDX-License-Identifier: MIT */
/* hourly.h - the hours of a day from its lowest and highest temperature, for the models that count
 * hours. Degrees Celsius as double; hours are local solar time, 0 at midnight. Pure. */
#ifndef RECKON_HOURLY_H
#define RECKON_HOURLY_H

#include "reckon/sun.h"

enum { HOURS_A_DAY = 24 };

/* Extremes outside this are no air temperature: refused. */
enum { HOURLY_LOWEST_C = -90, HOURLY_HIGHEST_C = 60 };

struct daylight {
	enum sun_course course;
	double rise_h; /* solar time; 0 and 24 where the sun stays up, 12 and 12 where down */
	double set_h;
	double length_h;
};
struct extremes {
	double min_c;
	double max_c;
};
/* The hours of one day that can be told: from <= hour < to. */
struct hours {
	double celsius[HOURS_A_DAY];
	int32_t from;
	int32_t to;
};

/* Purpose: sunrise and sunset of a day, the sun's centre at -0.8333 degrees.
 * Given: latitude in degrees, -90..90, north positive; day of the year 1..366.
 * STATUS_RANGE: outside those, or not a number. Polar day and night are answers, no failures.
 * Accuracy: some minutes below 60 degrees (declination of the day, no equation of time).
 * Reference: Spencer 1971 declination, as used by Linvill 1990 (HortScience 25: 14-16).
 * Example: 50.4 N, day 15: 7.7664 to 16.2336, 8.4671 h. */
enum status hourly_daylight(double latitude_deg, int32_t day_of_year, struct daylight *out,
	struct fault *why) MUST_CHECK;
/* Purpose: the temperature at each full hour: a sine by day that is highest two hours past noon,
 *   a logarithm by night that reaches the next minimum at sunrise.
 * Given: latitude, day of the year, the day's extremes and those of the day before and after;
 *   NULL where there is none: then the hours up to sunrise, or from sunset on, are left out.
 *   Where the sun does not rise or set every hour is the mean of the extremes.
 * STATUS_RANGE: a minimum above its maximum, not a number, outside -90..60 C.
 * Accuracy: about 1 to 2 C an hour on clear days; worse when fronts pass.
 * Reference: Linvill 1990, the form whose night ends exactly at the next minimum. A widely used
 *   program takes ln(n) for ln(n + 1) before dawn and differs by up to 0.1 C there.
 * Example: 50.4 N, day 1, 5.1 to 8.2 C, next minimum 5.0: 6.424 C at hour 19. */
enum status hourly_of_day(double latitude_deg, int32_t day_of_year, const struct extremes *before,
	const struct extremes *today, const struct extremes *after, struct hours *out,
	struct fault *why) MUST_CHECK;

#endif
