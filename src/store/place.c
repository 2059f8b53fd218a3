/* SPDX-License-Identifier: MIT */
#include "place.h"

#include "statements.h"

#include <stdio.h>

const char *const place_hemispheres[3] = {
	[HEMISPHERE_NORTH] = "north", [HEMISPHERE_SOUTH] = "south"};
const char *const place_wets[5] = {[WET_WINTER] = "winter",
	[WET_SUMMER] = "summer",
	[WET_ALL] = "all",
	[WET_LITTLE] = "little"};
const char *const place_winters[4] = {
	[WINTER_HARD] = "hard", [WINTER_FROSTY] = "frosty", [WINTER_MILD] = "mild"};
const char *const place_units[3] = {[UNITS_US] = "us", [UNITS_SI] = "si"};
const char *const place_gallons[3] = {[GALLON_US] = "us", [GALLON_IMPERIAL] = "imperial"};
const char *const place_numbers[3] = {[NUMBERS_POINT] = "point", [NUMBERS_COMMA] = "comma"};
const char *const place_dates[3] = {[DATES_DMY] = "dmy", [DATES_MDY] = "mdy"};

enum { PLACE_INSERT };

const struct statement place_row_statements[] = {
	[PLACE_INSERT] = {"place.insert",
		"INSERT INTO place (row, id, made, name, latitude_udeg, longitude_udeg, "
		"hemisphere, wet, "
		"winter, last_frost, first_frost, units, gallon, numbers, dates) "
		"VALUES (1, ?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14)"},
	{NULL, NULL},
};

const char *month_day_text(struct month_day day, char out[MONTH_DAY_SIZE])
{
	if (day.month == 0)
		return NULL;
	snprintf(out, MONTH_DAY_SIZE, "%02u-%02u", (unsigned)day.month % 100U,
		(unsigned)day.day % 100U);
	return out;
}

enum status place_insert(struct store *store, const struct place *place, struct fault *why)
{
	char id[ID_SIZE] = "";
	char last[MONTH_DAY_SIZE];
	char first[MONTH_DAY_SIZE];
	sqlite3_stmt *insert = NULL;
	enum status status = sql_get(store, &place_row_statements[PLACE_INSERT], &insert, why);
	if (status != STATUS_OK)
		return status;
	row_new(store, id);
	const char *const texts[] = {place_hemispheres[place->hemisphere], place_wets[place->wet],
		place_winters[place->winter], month_day_text(place->last_frost, last),
		month_day_text(place->first_frost, first), place_units[place->units],
		place_gallons[place->gallon], place_numbers[place->numbers],
		place_dates[place->dates]};
	bind_text(insert, 1, id);
	bind_text(insert, 2, store->act_id);
	bind_text(insert, 3, place->name);
	bind_maybe_i32(insert, 4, place->latitude_udeg);
	bind_maybe_i32(insert, 5, place->longitude_udeg);
	for (int i = 0; i < 9; i++)
		bind_text(insert, 6 + i, texts[i]);
	return sql_run(store, insert, why);
}
