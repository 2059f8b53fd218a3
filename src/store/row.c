/* SPDX-License-Identifier: MIT */
/* The doors through which rows of history are written. */
#include "sql.h"
#include "statements.h"

#include <assert.h>
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

enum { ROW_NEWEST_CHANGE, ROW_ADD_CHANGE };

const struct statement row_statements[] = {
	[ROW_NEWEST_CHANGE] = {"row.newest_change",
		"SELECT id FROM change WHERE row_id = ?1 AND field = ?2 AND table_name = ?3 "
		"ORDER BY row DESC LIMIT 1"},
	[ROW_ADD_CHANGE] = {"row.add_change",
		"INSERT INTO change (id, set_id, table_name, row_id, field, old, new, prev) "
		"VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)"},
	{NULL, NULL},
};

enum { ROW_SQL_SIZE = 256 };

void row_new(struct store *store, char id[ID_SIZE])
{
	assert(store->in_act);
	if (id[0] == '\0')
		clock_new_id(store->clock, id);
	row_wrote(store);
}

void row_wrote(struct store *store)
{
	assert(store->in_act);
	store->act_changed = true;
}

struct row_value value_text(const char *text)
{
	return (struct row_value){.type = ROW_VALUE_TEXT, .text = text == NULL ? "" : text};
}

struct row_value value_text_or_null(const char *text)
{
	if (text == NULL || text[0] == '\0')
		return (struct row_value){.type = ROW_VALUE_NULL};
	return value_text(text);
}

struct row_value value_integer(int64_t value)
{
	return (struct row_value){.type = ROW_VALUE_INTEGER, .integer = value};
}

struct row_value value_maybe_i32(struct maybe_i32 value)
{
	return value.known ? value_integer(value.value)
			   : (struct row_value){.type = ROW_VALUE_NULL};
}

struct row_value value_maybe_i64(struct maybe_i64 value)
{
	return value.known ? value_integer(value.value)
			   : (struct row_value){.type = ROW_VALUE_NULL};
}

struct row_value value_maybe_date(struct maybe_date value)
{
	struct row_value out = {.type = ROW_VALUE_NULL};
	if (value.known) {
		out.type = ROW_VALUE_TEXT;
		date_format(value.value, out.day);
	}
	return out;
}

/* The text of a value; NULL for NULL. A day made by value_maybe_date lies in the value itself,
 * which may have been copied since. */
static const char *text_of(const struct row_value *value, char number[24])
{
	switch (value->type) {
	case ROW_VALUE_NULL:
		return NULL;
	case ROW_VALUE_INTEGER:
		snprintf(number, 24, "%" PRId64, value->integer);
		return number;
	default:
		return value->day[0] != '\0' ? value->day : value->text;
	}
}

static bool is_same(const char *one, const char *other)
{
	if (one == NULL || other == NULL)
		return one == other;
	return strcmp(one, other) == 0;
}

static enum status add_change(struct store *store, const struct row_change *change,
	const char *old_text, const char *new_text, struct fault *why)
{
	char prev[ID_SIZE] = "";
	char id[ID_SIZE];
	sqlite3_stmt *newest = NULL;
	enum status status = sql_get(store, &row_statements[ROW_NEWEST_CHANGE], &newest, why);
	if (status != STATUS_OK)
		return status;
	bind_text(newest, 1, change->id);
	bind_text(newest, 2, change->field);
	bind_text(newest, 3, change->table);
	status = sql_step(store, newest, why);
	if (status == STATUS_OK)
		column_copy(newest, 0, prev, sizeof prev);
	sql_done(newest);
	if (status != STATUS_OK && status != STATUS_END)
		return status;
	sqlite3_stmt *insert = NULL;
	status = sql_get(store, &row_statements[ROW_ADD_CHANGE], &insert, why);
	if (status != STATUS_OK)
		return status;
	const char *const values[] = {clock_new_id(store->clock, id), store->act_id, change->table,
		change->id, change->field, old_text, new_text};
	for (int i = 0; i < 7; i++)
		bind_text(insert, i + 1, values[i]);
	bind_text_or_null(insert, 8, prev);
	return sql_run(store, insert, why);
}

static enum status write_field(struct store *store, const struct row_change *change,
	const struct row_value *value, struct fault *why)
{
	char sql[ROW_SQL_SIZE];
	sqlite3_stmt *update = NULL;
	snprintf(sql, sizeof sql, "UPDATE %s SET %s = ?1 WHERE id = ?2", change->table,
		change->field);
	enum status status = sql_prepare(store, sql, &update, why);
	if (status != STATUS_OK)
		return status;
	char number[24];
	if (value->type == ROW_VALUE_INTEGER)
		bind_i64(update, 1, value->integer);
	else
		bind_text(update, 1, text_of(value, number));
	bind_text(update, 2, change->id);
	status = sql_run(store, update, why);
	sqlite3_finalize(update);
	return status;
}

/* STATUS_OK: it differs and is to be written; STATUS_END: it stands so already. */
static enum status compare_field(struct store *store, const struct row_change *change,
	const struct row_value *value, sqlite3_stmt **reading, struct fault *why)
{
	char sql[ROW_SQL_SIZE];
	char number[24];
	snprintf(sql, sizeof sql, "SELECT %s FROM %s WHERE id = ?1", change->field, change->table);
	enum status status = sql_prepare(store, sql, reading, why);
	if (status != STATUS_OK)
		return status;
	bind_text(*reading, 1, change->id);
	status = sql_step(store, *reading, why);
	if (status == STATUS_END)
		return fault_set(why, STATUS_ABSENT, "the %s to be changed is not in the log",
			change->table);
	if (status != STATUS_OK)
		return status;
	return is_same((const char *)sqlite3_column_text(*reading, 0), text_of(value, number))
		       ? STATUS_END
		       : STATUS_OK;
}

enum status row_set(struct store *store, const char *table, const char *id, const char *field,
	struct row_value value, struct fault *why)
{
	assert(store->in_act);
	const struct row_change change = {.table = table, .id = id, .field = field};
	char number[24];
	sqlite3_stmt *reading = NULL;
	enum status status = compare_field(store, &change, &value, &reading, why);
	if (status == STATUS_OK)
		status = add_change(store, &change, (const char *)sqlite3_column_text(reading, 0),
			text_of(&value, number), why);
	sqlite3_finalize(reading);
	if (status == STATUS_OK)
		status = write_field(store, &change, &value, why);
	else if (status == STATUS_END)
		return STATUS_OK;
	if (status == STATUS_OK)
		row_wrote(store);
	return status;
}

enum status row_strike(
	struct store *store, const char *table, const char *id, bool struck, struct fault *why)
{
	return row_set(store, table, id, "struck", value_integer(struck), why);
}
