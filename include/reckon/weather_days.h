/* SPDX-License-Identifier: MIT */
/* weather_days.h - what is known of each day's weather, from stations and from the grower's lines.
 *
 * Stored days of stations and entries of the place ("frost -2 C last night", "rain 13 mm") become
 * one list, one row a day, by day. A day that nobody spoke of has no row; a figure that nobody gave
 * is unknown, never 0. Pure; the list lives in the arena. */
#ifndef RECKON_WEATHER_DAYS_H
#define RECKON_WEATHER_DAYS_H

#include "core/fault.h"
#include "core/memory.h"
#include "core/record.h"

enum { WEATHER_SPAN_MAX_DAYS = 400 };

struct day_weather {
	struct date day;
	struct maybe_i32 min_decic;
	struct maybe_i32 max_decic;
	struct maybe_i64 rain_um;
	struct maybe_i64 wind_mms;
	bool frost; /* said in words, with a figure or without; and so on */
	bool rain;
	bool hail;
	bool storm; /* or wind */
	bool heat;
	bool snow;
	bool crossed; /* the extremes were taken out: the minimum lay above the maximum */
	const struct entry
		*min_entry; /* the line the minimum is from; NULL: a station's, or none */
	const struct entry *max_entry;
	const char *station; /* the station the first figure is from; "" none */
};

struct weather_sources {
	const struct weather_day *stored; /* observed ones; forecasts are passed over */
	int32_t stored_count;
	const struct entry *const *entries; /* of any kind: those of weather count */
	int32_t entry_count;
};

/* Purpose: one row for each day that something is known of, by day.
 * A grower's own figure stands before a station's; of several stations the first by name that has
 *   the figure. Of several lines a day: the lowest minimum, the highest maximum, rains add up.
 *   A temperature is a minimum of frost, snow and ice and a maximum of heat; with other words it
 *   is not read. A range gives its colder end as minimum and its warmer end as maximum. Planned
 *   entries and entries whose day is not one day are passed over.
 * Returns the count of rows; *out is in the arena. */
int32_t weather_days_join(
	const struct weather_sources *sources, struct arena *arena, struct day_weather **out);
/* Takes out extremes that cross (a line of the grower against a station, two stations), so that a
 * long record can be added up without them. Returns how many days. */
int32_t weather_days_uncross(struct day_weather *days, int32_t count);
/* The row of a day; NULL none. */
const struct day_weather *weather_days_find(
	const struct day_weather *days, int32_t count, struct date day);
/* A span of days, both ends in. */
struct day_span {
	struct date from;
	struct date to;
};
/* STATUS_RANGE: rows that do not rise by day (a day twice), a span that ends before it begins or
 * is longer than 400 days, a minimum above its maximum inside it; the day is named. */
enum status weather_days_check(const struct day_weather *days, int32_t count, struct day_span span,
	struct fault *why) MUST_CHECK;
/* Purpose: how much of a span is covered by days with both extremes. */
struct weather_cover {
	int32_t days;        /* of the span, both ends in */
	int32_t known;       /* days with minimum and maximum */
	int32_t longest_gap; /* most days in a row without */
};
struct weather_cover weather_days_cover(
	const struct day_weather *days, int32_t count, struct day_span span);

#endif
