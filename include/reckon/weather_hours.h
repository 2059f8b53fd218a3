/* SPDX-License-Identifier: MIT */
/* weather_hours.h - the hours of one day of a record: those that a station told, else those made
 * from the daily extremes. Pure. */
#ifndef RECKON_WEATHER_HOURS_H
#define RECKON_WEATHER_HOURS_H

#include "reckon/hourly.h"
#include "reckon/weather_days.h"

/* One hour as a station told it. */
struct told_hour {
	struct date day;
	int32_t hour; /* 0..23, of the local clock */
	int32_t decic;
	const char *station;
};

/* What is known of the weather, of any length. */
struct weather_record {
	const struct day_weather *days; /* by day, see weather_days_join */
	int32_t day_count;
	const struct told_hour *hours; /* by day, observed; may be NULL */
	int32_t hour_count;
	bool has_latitude; /* else no hours can be made from extremes */
	double latitude_deg;
	int32_t warmer_decic; /* how much warmer than the record the spot runs */
};

enum hours_from { HOURS_NONE, HOURS_OF_STATION, HOURS_OF_EXTREMES };

/* Purpose: the hours of a day at the spot.
 * A station's own hours stand where at least 23 of them have a temperature, the grower gave no
 *   extreme of that day by hand, and they are of the station that the day's extremes are from: a
 *   clock set forward drops one hour, and the hour before stands for it. Else hourly_of_day, for
 *   which a day needs both its extremes and the place its latitude.
 * Returned: *from says which; HOURS_NONE: no hours, from == to.
 * STATUS_RANGE: extremes that cannot be, the day named. */
enum status weather_hours_of_day(const struct weather_record *record, struct date day,
	struct hours *out, enum hours_from *from, struct fault *why) MUST_CHECK;

#endif
