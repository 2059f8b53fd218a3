/* SPDX-License-Identifier: MIT */
#include "rows.h"
#include "statements.h"

enum { DAY_ADD, DAY_FIND, DAY_LIST, HOUR_ADD, HOUR_FIND, HOUR_LIST };

const struct statement weather_statements[] = {
	[DAY_ADD] = {"weather_day.add", "INSERT INTO weather_day (id, made, day, station, kind, "
					"min_decic, max_decic, rain_um, "
					"wind_mms) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)"},
	[DAY_FIND] = {"weather_day.find",
		"SELECT min(id) FROM weather_day WHERE day = ?1 AND kind = ?2 AND station = ?3 "
		"AND struck = 0 HAVING count(*) > 0"}, /* ORDER BY id would sort each time */
	[DAY_LIST] = {"weather_day.list",
		"SELECT day, station, kind, min_decic, max_decic, rain_um, wind_mms FROM "
		"weather_day "
		"WHERE day BETWEEN coalesce(?1, '0000-01-01') AND coalesce(?2, '9999-12-31') "
		"AND struck = 0 ORDER BY day, kind, station, id"},
	[HOUR_ADD] = {"weather_hour.add", "INSERT INTO weather_hour (id, made, day, hour, station, "
					  "kind, temperature_decic, rain_um, wind_mms) "
					  "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)"},
	[HOUR_FIND] = {"weather_hour.find",
		"SELECT min(id) FROM weather_hour WHERE day = ?1 AND hour = ?2 AND kind = ?3 "
		"AND station = ?4 AND struck = 0 HAVING count(*) > 0"},
	[HOUR_LIST] = {"weather_hour.list",
		"SELECT day, hour, station, kind, temperature_decic, rain_um, wind_mms FROM "
		"weather_hour "
		"WHERE day BETWEEN coalesce(?1, '0000-01-01') AND coalesce(?2, '9999-12-31') "
		"AND struck = 0 ORDER BY day, hour, kind, station, id"},
	{NULL, NULL},
};

static const char *const kind_words[] = {"observed", "forecast"};

static enum status day_find(
	struct store *store, const struct weather_day *day, char id[ID_SIZE], struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = sql_get(store, &weather_statements[DAY_FIND], &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_maybe_date(statement, 1, known_date(day->day));
	bind_text(statement, 2, kind_words[day->forecast]);
	bind_text(statement, 3, day->station);
	status = sql_step(store, statement, why);
	if (status == STATUS_OK)
		column_copy(statement, 0, id, ID_SIZE);
	sql_done(statement);
	return status;
}

/* A new row, or the one that was found with what differs. */
static enum status put_found(struct store *store, const struct row_fields *fields,
	enum status found, char id[ID_SIZE], bool *was_same, struct fault *why)
{
	if (found == STATUS_END)
		return row_insert(store, fields, id, why);
	if (found != STATUS_OK)
		return found;
	sqlite3_int64 before = sqlite3_total_changes64(store->database);
	enum status status = row_save(store, fields, id, why);
	*was_same = status == STATUS_OK && sqlite3_total_changes64(store->database) == before;
	return status;
}

enum status store_weather_day_put(
	struct store *store, const struct weather_day *day, bool *was_same, struct fault *why)
{
	char id[ID_SIZE] = "";
	*was_same = false;
	struct row_fields fields = {.table = "weather_day", .insert = &weather_statements[DAY_ADD]};
	fields_add(&fields, "day", value_maybe_date(known_date(day->day)));
	fields_add(&fields, "station", value_text(day->station));
	fields_add(&fields, "kind", value_text(kind_words[day->forecast]));
	fields_add(&fields, "min_decic", value_maybe_i32(day->min_decic));
	fields_add(&fields, "max_decic", value_maybe_i32(day->max_decic));
	fields_add(&fields, "rain_um", value_maybe_i64(day->rain_um));
	fields_add(&fields, "wind_mms", value_maybe_i64(day->wind_mms));
	return put_found(store, &fields, day_find(store, day, id, why), id, was_same, why);
}

static void read_day(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	(void)arena;
	struct weather_day *day = out;
	day->day = column_maybe_date(statement, 0).value;
	column_copy(statement, 1, day->station, sizeof day->station);
	day->forecast = ROW_WORD(kind_words, column_word(statement, 2)) == 1;
	day->min_decic = column_maybe_i32(statement, 3);
	day->max_decic = column_maybe_i32(statement, 4);
	day->rain_um = column_maybe_i64(statement, 5);
	day->wind_mms = column_maybe_i64(statement, 6);
}

static const struct row_reader day_reader = {read_day, sizeof(struct weather_day)};

enum status store_weather_day_list(struct store *store, struct maybe_date from,
	struct maybe_date to, struct arena *arena, struct weather_day **out, int32_t *count,
	struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	void *items = NULL;
	enum status status = sql_get(store, &weather_statements[DAY_LIST], &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_maybe_date(statement, 1, from);
	bind_maybe_date(statement, 2, to);
	status = rows_list(store, statement, &day_reader, arena, &items, count, why);
	if (status == STATUS_OK)
		*out = items;
	return status;
}

static enum status hour_find(
	struct store *store, const struct weather_hour *hour, char id[ID_SIZE], struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = sql_get(store, &weather_statements[HOUR_FIND], &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_maybe_date(statement, 1, known_date(hour->day));
	bind_i64(statement, 2, hour->hour);
	bind_text(statement, 3, kind_words[hour->forecast]);
	bind_text(statement, 4, hour->station);
	status = sql_step(store, statement, why);
	if (status == STATUS_OK)
		column_copy(statement, 0, id, ID_SIZE);
	sql_done(statement);
	return status;
}

enum status store_weather_hour_put(
	struct store *store, const struct weather_hour *hour, bool *was_same, struct fault *why)
{
	char id[ID_SIZE] = "";
	*was_same = false;
	struct row_fields fields = {
		.table = "weather_hour", .insert = &weather_statements[HOUR_ADD]};
	fields_add(&fields, "day", value_maybe_date(known_date(hour->day)));
	fields_add(&fields, "hour", value_integer(hour->hour));
	fields_add(&fields, "station", value_text(hour->station));
	fields_add(&fields, "kind", value_text(kind_words[hour->forecast]));
	fields_add(&fields, "temperature_decic", value_maybe_i32(hour->temperature_decic));
	fields_add(&fields, "rain_um", value_maybe_i64(hour->rain_um));
	fields_add(&fields, "wind_mms", value_maybe_i64(hour->wind_mms));
	return put_found(store, &fields, hour_find(store, hour, id, why), id, was_same, why);
}

static void read_hour(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	(void)arena;
	struct weather_hour *hour = out;
	hour->day = column_maybe_date(statement, 0).value;
	hour->hour = column_maybe_i32(statement, 1).value;
	column_copy(statement, 2, hour->station, sizeof hour->station);
	hour->forecast = ROW_WORD(kind_words, column_word(statement, 3)) == 1;
	hour->temperature_decic = column_maybe_i32(statement, 4);
	hour->rain_um = column_maybe_i64(statement, 5);
	hour->wind_mms = column_maybe_i64(statement, 6);
}

static const struct row_reader hour_reader = {read_hour, sizeof(struct weather_hour)};

enum status store_weather_hour_list(struct store *store, struct maybe_date from,
	struct maybe_date to, struct arena *arena, struct weather_hour **out, int32_t *count,
	struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	void *items = NULL;
	enum status status = sql_get(store, &weather_statements[HOUR_LIST], &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_maybe_date(statement, 1, from);
	bind_maybe_date(statement, 2, to);
	status = rows_list(store, statement, &hour_reader, arena, &items, count, why);
	if (status == STATUS_OK)
		*out = items;
	return status;
}
