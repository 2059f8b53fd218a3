/* SPDX-License-Identifier: MIT */
/* sun.h - where the sun stands, and when it rises and sets at a place.
 *
 * Degrees and minutes as double; azimuth from north through east; north and east positive. Times
 * are minutes of UTC counted from 0h of the day named, and may lie before 0 or beyond 1440. Pure:
 * the day is given, no clock is read.
 *
 * Reference: Meeus 1998, Astronomical Algorithms, 2nd edition: the sun's place in low accuracy
 * (chapter 25), the equation of time by Smart (chapter 28), refraction by Saemundsson (chapter 16);
 * the set that the solar sheets of NOAA use.
 * Accuracy, 1950 to 2049, against 2,000 places and days of another theory (VSOP87): position 0.016
 * degrees, rise and set 6 s below 60 degrees of latitude; 0.01 against JPL Horizons in 2026. What
 * hills and weather do near the horizon is not in it: real air moves a sunrise by a minute or two.
 */
#ifndef RECKON_SUN_H
#define RECKON_SUN_H

#include "core/date.h"

/* Years the formulas hold for. */
enum { SUN_FIRST_YEAR = 1600, SUN_LAST_YEAR = 2400 };

struct sun_site {
	double latitude_deg;  /* -90..90 */
	double longitude_deg; /* -180..180 */
};

struct sun_position {
	double azimuth_deg;    /* 0..360 */
	double altitude_deg;   /* of the centre, as geometry has it */
	double apparent_deg;   /* as seen through air of 1010 mbar and 10 C */
	double hour_angle_deg; /* -180..180; 0 at its highest, positive after noon */
	double declination_deg;
	double ascension_deg; /* right ascension, 0..360 */
};

/* Purpose: where the sun stands at one moment.
 * Given: minute, of UTC from 0h of the day; any finite number within ten days.
 * STATUS_RANGE: a site outside its limits or not a number, a year outside 1600..2400.
 * Edge: at the poles the azimuth goes by the longitude given; below -1 degree nothing is lifted.
 * Example: 41.01384 N, 28.94966 E, 20 March 2026, 6h UTC: azimuth 108.65, apparent 20.03. */
enum status sun_position(const struct sun_site *site, struct date day, double minute,
	struct sun_position *out, struct fault *why) MUST_CHECK;

enum sun_course { SUN_RISES, SUN_STAYS_UP, SUN_STAYS_DOWN };
struct sun_day {
	enum sun_course course; /* SUN_RISES: it rises, sets, or both */
	bool rises;
	bool sets;
	double rise_min; /* only where it rises */
	double noon_min; /* the sun at its highest */
	double set_min;
	double length_min;        /* 0 and 1440 where it stays down and up */
	double noon_altitude_deg; /* geometry */
};

/* Purpose: rise, noon and set of one day of the place, from its midnight by the sun to the next.
 *   The day is the one that holds where the place lies: set may fall on the next day of UTC.
 * Horizon: flat; rise and set are the centre at -0.833 degrees (refraction 34', radius 16').
 * STATUS_RANGE: as sun_position. Polar day and night are answers, no failures; on the days
 *   between it may rise and not set, or set without having risen.
 * Example: Istanbul as above: 04:08, 10:12, 16:16 UTC. */
enum status sun_of_day(const struct sun_site *site, struct date day, struct sun_day *out,
	struct fault *why) MUST_CHECK;

#endif
