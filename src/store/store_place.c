/* SPDX-License-Identifier: MIT */
/* The place: one row, there from the making of the log. */
#include "place.h"
#include "rows.h"
#include "statements.h"

enum { PLACE_LOAD };

#define PLACE_COLUMNS                                                                    \
	"id, name, latitude_udeg, longitude_udeg, hemisphere, wet, winter, last_frost, " \
	"first_frost, "                                                                  \
	"units, gallon, numbers, dates"

const struct statement place_statements[] = {
	[PLACE_LOAD] = {"place.load", "SELECT " PLACE_COLUMNS " FROM place WHERE row = 1"},
	{NULL, NULL},
};

/* North or south as the latitude says, which wins over what was told; on the equator as told. */
static enum hemisphere hemisphere_of(struct maybe_i32 latitude_udeg, enum hemisphere told)
{
	if (!latitude_udeg.known || latitude_udeg.value == 0)
		return told;
	return latitude_udeg.value > 0 ? HEMISPHERE_NORTH : HEMISPHERE_SOUTH;
}

static void read_place(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	(void)arena;
	struct place *place = out;
	column_copy(statement, 0, place->id, sizeof place->id);
	column_copy(statement, 1, place->name, sizeof place->name);
	place->latitude_udeg = column_maybe_i32(statement, 2);
	place->longitude_udeg = column_maybe_i32(statement, 3);
	place->hemisphere = hemisphere_of(place->latitude_udeg,
		(enum hemisphere)ROW_WORD(place_hemispheres, column_word(statement, 4)));
	place->wet = (enum wet_season)ROW_WORD(place_wets, column_word(statement, 5));
	place->winter = (enum winter_kind)ROW_WORD(place_winters, column_word(statement, 6));
	place->last_frost = column_month_day(statement, 7);
	place->first_frost = column_month_day(statement, 8);
	place->units = (enum unit_system)ROW_WORD(place_units, column_word(statement, 9));
	place->gallon = (enum gallon)ROW_WORD(place_gallons, column_word(statement, 10));
	place->numbers = (enum number_style)ROW_WORD(place_numbers, column_word(statement, 11));
	place->dates = (enum date_order)ROW_WORD(place_dates, column_word(statement, 12));
}

static const struct row_reader place_reader = {read_place, sizeof(struct place)};

enum status store_place_load(struct store *store, struct place *out, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = sql_get(store, &place_statements[PLACE_LOAD], &statement, why);
	if (status == STATUS_OK)
		status = rows_one(store, statement, &place_reader, NULL, out, why);
	if (status == STATUS_ABSENT)
		return fault_set(why, STATUS_DAMAGED, "the log has no place");
	return status;
}

enum status store_place_save(struct store *store, const struct place *place, struct fault *why)
{
	struct place standing;
	char last[MONTH_DAY_SIZE];
	char first[MONTH_DAY_SIZE];
	enum status status = text_within(place->name, NAME_SIZE - 1, true, "place's name", why);
	if (status == STATUS_OK)
		status = store_place_load(store, &standing, why);
	if (status != STATUS_OK)
		return status;
	struct row_fields fields = {.table = "place"};
	fields_add(&fields, "name", value_text(place->name));
	fields_add(&fields, "latitude_udeg", value_maybe_i32(place->latitude_udeg));
	fields_add(&fields, "longitude_udeg", value_maybe_i32(place->longitude_udeg));
	if (hemisphere_of(place->latitude_udeg, HEMISPHERE_UNKNOWN) == HEMISPHERE_UNKNOWN)
		fields_add(&fields, "hemisphere",
			value_text_or_null(place_hemispheres[place->hemisphere]));
	fields_add(&fields, "wet", value_text_or_null(place_wets[place->wet]));
	fields_add(&fields, "winter", value_text_or_null(place_winters[place->winter]));
	fields_add(
		&fields, "last_frost", value_text_or_null(month_day_text(place->last_frost, last)));
	fields_add(&fields, "first_frost",
		value_text_or_null(month_day_text(place->first_frost, first)));
	fields_add(&fields, "units", value_text_or_null(place_units[place->units]));
	fields_add(&fields, "gallon", value_text_or_null(place_gallons[place->gallon]));
	fields_add(&fields, "numbers", value_text_or_null(place_numbers[place->numbers]));
	fields_add(&fields, "dates", value_text_or_null(place_dates[place->dates]));
	return row_save(store, &fields, standing.id, why);
}
