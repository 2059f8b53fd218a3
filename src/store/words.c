/* SPDX-License-Identifier: MIT */
/* The search index. Each row with words has one row there, whose rowid is worked out from the
 * table's number and the row's own, so that it is found again without looking through the index. */
#include "statements.h"
#include "tables.h"

#include <assert.h>
#include <inttypes.h>
#include <stdio.h>

enum { WORDS_REMOVE, WORDS_ADD };

const struct statement words_statements[] = {
	[WORDS_REMOVE] = {"words.remove", "DELETE FROM word_index WHERE rowid = ?1"},
	[WORDS_ADD] = {"words.add",
		"INSERT INTO word_index (rowid, body, table_name, row_id) VALUES (?1, ?2, ?3, ?4)"},
	{NULL, NULL},
};

enum { WORDS_SQL_SIZE = 512 };

int64_t words_rowid(int32_t table_number, int64_t row)
{
	assert(table_number > 0 && table_number < WORDS_TABLES_MAX);
	return row * WORDS_TABLES_MAX + table_number;
}

static enum status remove_words(struct store *store, int64_t rowid, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = sql_get(store, &words_statements[WORDS_REMOVE], &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_i64(statement, 1, rowid);
	return sql_run(store, statement, why);
}

static enum status add_words(struct store *store, int64_t rowid, const char *body,
	const struct row_change *row, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = sql_get(store, &words_statements[WORDS_ADD], &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_i64(statement, 1, rowid);
	bind_text(statement, 2, body);
	bind_text(statement, 3, row->table);
	bind_text(statement, 4, row->id);
	return sql_run(store, statement, why);
}

static enum status rewrite_row(struct store *store, const struct table_row_kind *table,
	const char *id, sqlite3_stmt *reading, struct fault *why)
{
	bind_text(reading, 1, id);
	enum status status = sql_step(store, reading, why);
	if (status != STATUS_OK)
		return status == STATUS_END ? STATUS_OK : status;
	const struct row_change row = {.table = table->name, .id = id};
	int64_t from = store->words_from[table->number];
	if (from > 0 && sqlite3_column_int64(reading, 0) >= from)
		return STATUS_OK; /* words_settle takes it as it stands then */
	int64_t rowid = words_rowid(table->number, sqlite3_column_int64(reading, 0));
	const char *body = (const char *)sqlite3_column_text(reading, 2);
	status = remove_words(store, rowid, why);
	if (status == STATUS_OK && sqlite3_column_int(reading, 1) == 0 && body != NULL)
		status = add_words(store, rowid, body, &row, why);
	return status;
}

enum status words_rewrite(
	struct store *store, const char *table_name, const char *id, struct fault *why)
{
	const struct table_row_kind *table = store_table_named(table_name);
	if (table == NULL || table->number == 0)
		return STATUS_OK;
	char sql[WORDS_SQL_SIZE];
	sqlite3_stmt *reading = NULL;
	snprintf(sql, sizeof sql, "SELECT row, struck, %s FROM %s WHERE id = ?1", table->words,
		table->name);
	enum status status = sql_get_made(store, sql, &reading, why);
	if (status == STATUS_OK)
		status = rewrite_row(store, table, id, reading, why);
	if (reading != NULL)
		sql_done(reading);
	return status;
}

/* One row by its values: a statement that selects would open a savepoint, at which the index writes
 * out what it has gathered, one small segment a row. */
enum status words_add(
	struct store *store, const char *table_name, const char *id, struct fault *why)
{
	const struct table_row_kind *table = store_table_named(table_name);
	if (table == NULL || table->number == 0)
		return STATUS_OK;
	char sql[WORDS_SQL_SIZE];
	sqlite3_stmt *reading = NULL;
	int64_t row = sqlite3_last_insert_rowid(store->database);
	if (store->words_wait) {
		if (store->words_from[table->number] == 0)
			store->words_from[table->number] = row;
		return STATUS_OK;
	}
	snprintf(sql, sizeof sql, "SELECT %s FROM %s WHERE row = ?1", table->words, table->name);
	enum status status = sql_get_made(store, sql, &reading, why);
	if (status != STATUS_OK)
		return status;
	bind_i64(reading, 1, row);
	status = sql_step(store, reading, why);
	const struct row_change change = {.table = table->name, .id = id};
	if (status == STATUS_OK)
		status = add_words(store, words_rowid(table->number, row),
			(const char *)sqlite3_column_text(reading, 0), &change, why);
	sql_done(reading);
	return status == STATUS_END ? STATUS_OK : status;
}

/* All standing rows of a table from one on. */
static enum status words_of_table(
	struct store *store, const struct table_row_kind *table, int64_t from, struct fault *why)
{
	char sql[1024];
	snprintf(sql, sizeof sql,
		"INSERT INTO word_index (rowid, body, table_name, row_id) "
		"SELECT row * %d + %d, %s, '%s', id FROM %s WHERE struck = 0 AND row >= %" PRId64,
		WORDS_TABLES_MAX, (int)table->number, table->words, table->name, table->name, from);
	return sql_exec(store, sql, why);
}

enum status words_settle(struct store *store, struct fault *why)
{
	enum status status = STATUS_OK;
	for (const struct table_row_kind *table = store_tables();
		store->words_wait && table->name != NULL && status == STATUS_OK; table++) {
		int64_t *from = &store->words_from[table->number];
		if (table->number > 0 && *from > 0)
			status = words_of_table(store, table, *from, why);
		*from = 0;
	}
	return status;
}

enum status words_rebuild(struct store *store, struct fault *why)
{
	enum status status = sql_exec(store, "DELETE FROM word_index", why);
	for (const struct table_row_kind *table = store_tables();
		table->name != NULL && status == STATUS_OK; table++)
		if (table->number > 0)
			status = words_of_table(store, table, 1, why);
	return status;
}
