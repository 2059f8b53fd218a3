/* SPDX-License-Identifier: MIT */
/* The doors through which rows of history are written. */
#include "clash_rows.h"
#include "statements.h"
#include "tables.h"

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

enum { ROW_SQL_SIZE = 256, LONG_IMPORT_ROWS = 100000 };

void row_new(struct store *store, char id[ID_SIZE])
{
	assert(store->in_act);
	if (id[0] == '\0')
		clock_new_id_of(store->clock, store->act_wide ? &store->stock : NULL, id);
	if (store->words_wait && ++store->act_rows == LONG_IMPORT_ROWS)
		(void)sqlite3_exec(store->database, SQL_CACHE_LONG_IMPORT, NULL, NULL, NULL);
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

bool value_same(const char *one, const char *other)
{
	return one == NULL || other == NULL ? one == other : strcmp(one, other) == 0;
}

bool field_is_plain(const struct row_change *field)
{
	const struct table_row_kind *table = store_table_named(field->table);
	return table != NULL && table->in_history && field->field[0] != '\0' &&
	       strspn(field->field, "abcdefghijklmnopqrstuvwxyz0123456789_") ==
		       strlen(field->field) &&
	       strcmp(field->field, "id") != 0 && strcmp(field->field, "row") != 0 &&
	       strcmp(field->field, "made") != 0;
}

enum status row_newest(
	struct store *store, const struct row_change *field, char out[ID_SIZE], struct fault *why)
{
	sqlite3_stmt *newest = NULL;
	out[0] = '\0';
	enum status status = sql_get(store, &row_statements[ROW_NEWEST_CHANGE], &newest, why);
	if (status != STATUS_OK)
		return status;
	bind_text(newest, 1, field->id);
	bind_text(newest, 2, field->field);
	bind_text(newest, 3, field->table);
	status = sql_step(store, newest, why);
	if (status == STATUS_OK)
		column_copy(newest, 0, out, ID_SIZE);
	sql_done(newest);
	return status == STATUS_END ? STATUS_OK : status;
}

enum status row_add_change(struct store *store, const struct row_change *field,
	const struct change_text *text, struct fault *why)
{
	char id[ID_SIZE];
	sqlite3_stmt *insert = NULL;
	enum status status = sql_get(store, &row_statements[ROW_ADD_CHANGE], &insert, why);
	if (status != STATUS_OK)
		return status;
	const char *const values[] = {clock_new_id(store->clock, id), text->set_id, field->table,
		field->id, field->field, text->old_text, text->new_text};
	for (int i = 0; i < 7; i++)
		bind_text(insert, i + 1, values[i]);
	bind_text_or_null(insert, 8, text->prev);
	return sql_run(store, insert, why);
}

enum status row_read(struct store *store, const struct row_change *field, struct arena *arena,
	const char **out, struct fault *why)
{
	char sql[ROW_SQL_SIZE];
	sqlite3_stmt *reading = NULL;
	snprintf(sql, sizeof sql, "SELECT %s FROM %s WHERE id = ?1", field->field, field->table);
	enum status status = sql_prepare(store, sql, &reading, why);
	if (status != STATUS_OK)
		return status;
	bind_text(reading, 1, field->id);
	status = sql_step(store, reading, why);
	const char *text =
		status == STATUS_OK ? (const char *)sqlite3_column_text(reading, 0) : NULL;
	*out = text == NULL ? NULL : arena_text(arena, text);
	sqlite3_finalize(reading);
	if (status == STATUS_END)
		return fault_set(
			why, STATUS_ABSENT, "the %s to be changed is not in the log", field->table);
	return status;
}

enum status row_write(
	struct store *store, const struct row_change *field, const char *text, struct fault *why)
{
	char sql[ROW_SQL_SIZE];
	sqlite3_stmt *update = NULL;
	snprintf(
		sql, sizeof sql, "UPDATE %s SET %s = ?1 WHERE id = ?2", field->table, field->field);
	enum status status = sql_prepare(store, sql, &update, why);
	if (status != STATUS_OK)
		return status;
	bind_text(update, 1, text);
	bind_text(update, 2, field->id);
	status = sql_run(store, update, why);
	sqlite3_finalize(update);
	return status;
}

/* One change for each head, so that it is the only one from now on. */
static enum status replace_heads(struct store *store, const struct row_change *field,
	const struct heads *heads, const struct change_text *text, struct fault *why)
{
	enum status status = STATUS_OK;
	if (heads->leaf_count == 0)
		return row_add_change(store, field, text, why);
	for (int32_t i = 0; status == STATUS_OK && i < heads->leaf_count; i++) {
		const struct change_text one = {.set_id = text->set_id,
			.old_text = heads->leaves[i].value,
			.new_text = text->new_text,
			.prev = heads->leaves[i].change_id};
		status = row_add_change(store, field, &one, why);
	}
	return status;
}

/* The columns that follow this one stay as they are shown, which from now on is what was chosen
 * for them too; what the act says of them comes after. */
static enum status settle_followers(
	struct sight *sight, const struct row_change *field, struct arena *arena, struct fault *why)
{
	enum status status = STATUS_OK;
	const char *name = NULL;
	for (int32_t i = 0; status == STATUS_OK &&
			    (name = field_follower(field->table, field->field, i)) != NULL;
		i++) {
		const struct row_change follower = {
			.table = field->table, .id = field->id, .field = name};
		struct heads heads;
		struct change_text text = {.set_id = sight->store->act_id};
		status = heads_read(sight, &follower, arena, &heads, why);
		if (status != STATUS_OK || heads.leaf_count == 0)
			continue;
		status = row_read(sight->store, &follower, arena, &text.new_text, why);
		if (status == STATUS_OK)
			status = replace_heads(sight->store, &follower, &heads, &text, why);
	}
	return status;
}

static enum status change_heads(struct store *store, const struct row_change *field,
	const struct change_text *text, struct arena *arena, struct fault *why)
{
	struct sight sight = {.store = store};
	struct heads heads;
	enum status status = heads_read(&sight, field, arena, &heads, why);
	if (status == STATUS_OK)
		status = replace_heads(store, field, &heads, text, why);
	if (status != STATUS_OK || (heads.leaf_count < 2 && heads.count < 2))
		return status;
	status = settle_followers(&sight, field, arena, why);
	return status == STATUS_OK ? clash_close(store, field, text->new_text, why) : status;
}

/* In a log that was merged the newest change in the file need not be what a new one replaces. What
 * concerns this file alone (clashes, a merge and its undoing) is one story in the order of rows. */
static enum status add_change(struct store *store, const struct row_change *change,
	const char *old_text, const char *new_text, struct fault *why)
{
	bool was_merged = false;
	char prev[ID_SIZE] = "";
	const struct change_text text = {
		.set_id = store->act_id, .old_text = old_text, .new_text = new_text, .prev = prev};
	enum status status = STATUS_OK;
	if (!store->act_is_local && strcmp(change->table, "clash") != 0)
		status = store_was_merged(store, &was_merged, why);
	if (status == STATUS_OK && was_merged) {
		struct arena *arena = arena_new();
		status = change_heads(store, change, &text, arena, why);
		arena_free(arena);
		return status;
	}
	if (status == STATUS_OK)
		status = row_newest(store, change, prev, why);
	return status == STATUS_OK ? row_add_change(store, change, &text, why) : status;
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
	return value_same((const char *)sqlite3_column_text(*reading, 0), text_of(value, number))
		       ? STATUS_END
		       : STATUS_OK;
}

static enum status set_field(struct store *store, const struct row_change *change,
	const struct row_value *value, bool always, struct fault *why)
{
	char number[24];
	sqlite3_stmt *reading = NULL;
	assert(store->in_act);
	enum status status = compare_field(store, change, value, &reading, why);
	bool is_same = status == STATUS_END;
	if (status == STATUS_OK || (is_same && always))
		status = add_change(store, change,
			is_same ? text_of(value, number)
				: (const char *)sqlite3_column_text(reading, 0),
			text_of(value, number), why);
	sqlite3_finalize(reading);
	if (status == STATUS_END)
		return STATUS_OK;
	if (status == STATUS_OK && !is_same)
		status = row_write(store, change, text_of(value, number), why);
	if (status == STATUS_OK)
		row_wrote(store);
	if (strcmp(change->field, "struck") == 0)
		stood_forget(store->stood);
	return status;
}

enum status row_set(struct store *store, const char *table, const char *id, const char *field,
	struct row_value value, struct fault *why)
{
	const struct row_change change = {.table = table, .id = id, .field = field};
	return set_field(store, &change, &value, false, why);
}

enum status row_put(struct store *store, const struct row_change *field, struct row_value value,
	struct fault *why)
{
	return set_field(store, field, &value, true, why);
}

enum status row_strike(
	struct store *store, const char *table, const char *id, bool struck, struct fault *why)
{
	return row_set(store, table, id, "struck", value_integer(struck), why);
}
