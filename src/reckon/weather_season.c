/* SPDX-License-Identifier: MIT */
#include "reckon/weather_season.h"

#include <stdio.h>

#include "reckon/days.h"

/* Of the north; turned by half a year in the south. */
static const struct month_day season_from = {11, 1};
static const struct month_day season_to = {10, 31};
static const struct month_day winter_to = {2, 28};

static struct day_span span_turned(const struct place *place, int32_t opens, struct month_day to)
{
	struct month_day from = window_turn(season_from, place->hemisphere);
	struct window_span span = span_of_year(opens, from, window_turn(to, place->hemisphere));

	return (struct day_span){span.from, span.to};
}

struct weather_season weather_season_of_year(const struct place *place, int32_t year)
{
	struct weather_season season = {.year = year};
	bool south = place->hemisphere == HEMISPHERE_SOUTH;

	if (!window_place_has_dates(place)) {
		season.span = (struct day_span){date_of_month_day(year, (struct month_day){1, 1}),
			date_of_month_day(year, (struct month_day){12, 31})};
		snprintf(season.name, sizeof season.name, "%d", year);
		return season;
	}
	int32_t opens = south ? year : year - 1;
	season.span = span_turned(place, opens, season_to);
	season.has_winter = true;
	season.winter = span_turned(place, opens, winter_to);
	if (south)
		snprintf(season.name, sizeof season.name, "%d/%02d", year, (year + 1) % 100);
	else
		snprintf(season.name, sizeof season.name, "%d", year);
	return season;
}

struct weather_season weather_season_at(const struct place *place, struct date day)
{
	int32_t year = date_parts(day).year;
	struct weather_season season = weather_season_of_year(place, year);

	if (date_compare(day, season.span.from) < 0)
		return weather_season_of_year(place, year - 1);
	if (date_compare(day, season.span.to) > 0)
		return weather_season_of_year(place, year + 1);
	return season;
}

static struct date years_before(struct date day, int32_t years)
{
	struct date_parts parts = date_parts(day);
	const struct month_day same = {(int8_t)parts.month, (int8_t)parts.day};

	return date_of_month_day(parts.year > years ? parts.year - years : 1, same);
}

struct day_span weather_span_before(struct day_span span, int32_t years)
{
	return (struct day_span){years_before(span.from, years), years_before(span.to, years)};
}
