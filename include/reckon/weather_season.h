/* SPDX-License-Identifier: MIT */
/* weather_season.h - the year of weather that leads to a crop: winter's chill, then the warmth.
 *
 * In the north season 2026 runs from 1 November 2025 to 31 October 2026, with the winter of
 * 1 November to the end of February; in the south six months later: season 2026/27 from 1 May 2026,
 * with the winter of 1 May to 28 August (common practice). Between 12 N and 12 S, and where the
 * hemisphere is not known, a season is the calendar year and has no winter. Pure. */
#ifndef RECKON_WEATHER_SEASON_H
#define RECKON_WEATHER_SEASON_H

#include "core/record.h"
#include "reckon/weather_days.h"

struct weather_season {
	int32_t year;  /* the one that names it */
	char name[16]; /* "2026", in the south "2026/27" */
	struct day_span span;
	bool has_winter;
	struct day_span winter; /* when chill is counted */
};
struct weather_season weather_season_of_year(const struct place *place, int32_t year);
/* The season that holds a day. */
struct weather_season weather_season_at(const struct place *place, struct date day);
/* The same days so many years before; 29 February becomes the 28th. */
struct day_span weather_span_before(struct day_span span, int32_t years);

#endif
