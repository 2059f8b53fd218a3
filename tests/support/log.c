/* SPDX-License-Identifier: MIT */
#include "support/test.h"

#include "support/log.h"

#include "store/tables.h"

#include <stdlib.h>
#include <string.h>

static void open_store(struct log *yard)
{
	struct fault why = {0};
	const struct store_options options = {.clock = &yard->clock};
	check_ok(store_open(yard->path, &options, &yard->store, &why), &why);
}

void log_make(struct log *yard)
{
	struct fault why = {0};
	struct date today = {0};
	struct place place = {.name = "Hill yard"};
	*yard = (struct log){.scratch = scratch_make()};
	check_ok(date_make(2026, 5, 20, &today, &why), &why);
	yard->clock = clock_seeded(today, 7);
	scratch_path(&yard->scratch, "yard.bough", yard->path);
	const struct store_options options = {.clock = &yard->clock};
	check_ok(store_create(yard->path, &options, &place, &yard->store, &why), &why);
}

void log_close(struct log *yard)
{
	store_close(yard->store);
	yard->store = NULL;
}

void log_free(struct log *yard)
{
	log_close(yard);
	scratch_remove(&yard->scratch);
}

void log_reopen(struct log *yard)
{
	log_close(yard);
	open_store(yard);
}

const char *log_area(struct log *yard, const char *name)
{
	struct fault why = {0};
	sqlite3_stmt *insert = NULL;
	yard->id[0] = '\0';
	row_new(yard->store, yard->id);
	check_ok(sql_prepare(yard->store,
			 "INSERT INTO area (id, made, name, name_folded) VALUES (?1, ?2, ?3, ?3)",
			 &insert, &why),
		&why);
	bind_text(insert, 1, yard->id);
	bind_text(insert, 2, yard->store->act_id);
	bind_text(insert, 3, name);
	check_ok(sql_run(yard->store, insert, &why), &why);
	sqlite3_finalize(insert);
	check_ok(words_rewrite(yard->store, "area", yard->id, &why), &why);
	return yard->id;
}

const char *log_area_act(struct log *yard, const char *name)
{
	struct fault why = {0};
	check_ok(store_act_begin(yard->store, ACT_WORK, name, &why), &why);
	log_area(yard, name);
	check_ok(store_act_commit(yard->store, &why), &why);
	return yard->id;
}

enum status log_try_set(
	struct log *yard, const struct row_change *row, const char *text, struct fault *why)
{
	enum status status = store_act_begin(yard->store, ACT_WORK, text, why);
	if (status != STATUS_OK)
		return status;
	status = row_set(yard->store, row->table, row->id, row->field, value_text(text), why);
	if (status == STATUS_OK)
		status = words_rewrite(yard->store, row->table, row->id, why);
	if (status == STATUS_OK)
		return store_act_commit(yard->store, why);
	store_act_rollback(yard->store);
	return status;
}

void log_rename_act(struct log *yard, const char *id, const char *name)
{
	struct fault why = {0};
	const struct row_change row = {.table = "area", .id = id, .field = "name"};
	check_ok(log_try_set(yard, &row, name, &why), &why);
}

static void exec_on(sqlite3 *database, const char *sql)
{
	char *message = NULL;
	if (sqlite3_exec(database, sql, NULL, NULL, &message) != SQLITE_OK)
		fail_msg("%s: %s", sql, message);
}

static int64_t one_on(sqlite3 *database, const char *sql)
{
	sqlite3_stmt *statement = NULL;
	if (sqlite3_prepare_v2(database, sql, -1, &statement, NULL) != SQLITE_OK)
		fail_msg("%s: %s", sql, sqlite3_errmsg(database));
	if (sqlite3_step(statement) != SQLITE_ROW)
		fail_msg("%s: no row (%s)", sql, sqlite3_errmsg(database));
	const int64_t value = sqlite3_column_int64(statement, 0);
	sqlite3_finalize(statement);
	return value;
}

void log_exec(struct log *yard, const char *sql)
{
	exec_on(yard->store->database, sql);
}

int64_t log_one(struct log *yard, const char *sql)
{
	return one_on(yard->store->database, sql);
}

int64_t log_count(struct log *yard, const char *table)
{
	char sql[128];
	(void)snprintf(sql, sizeof sql, "SELECT count(*) FROM %s", table);
	return log_one(yard, sql);
}

static sqlite3 *open_plainly(const char *path)
{
	sqlite3 *database = NULL;
	if (sqlite3_open_v2(path, &database, SQLITE_OPEN_READWRITE, NULL) != SQLITE_OK)
		fail_msg("%s: %s", path, sqlite3_errmsg(database));
	(void)sqlite3_busy_timeout(database, 3000); /* the program may be saving */
	return database;
}

void log_file_exec(const char *path, const char *sql)
{
	sqlite3 *database = open_plainly(path);
	exec_on(database, sql);
	sqlite3_close(database);
}

int64_t log_file_one(const char *path, const char *sql)
{
	sqlite3 *database = open_plainly(path);
	const int64_t value = one_on(database, sql);
	sqlite3_close(database);
	return value;
}

/* --- what is seen --- */

static void print_row(FILE *out, sqlite3_stmt *statement)
{
	for (int i = 0; i < sqlite3_column_count(statement); i++) {
		const char *name = sqlite3_column_name(statement, i);
		const char *text = (const char *)sqlite3_column_text(statement, i);
		if (strcmp(name, "row") != 0 && strcmp(name, "made") != 0)
			(void)fprintf(out, "%s=%s ", name, text == NULL ? "NULL" : text);
	}
	(void)fputc('\n', out);
}

void log_print_rows(FILE *out, struct log *yard, const char *sql)
{
	sqlite3 *database = yard->store->database;
	sqlite3_stmt *statement = NULL;
	if (sqlite3_prepare_v2(database, sql, -1, &statement, NULL) != SQLITE_OK)
		fail_msg("%s: %s", sql, sqlite3_errmsg(database));
	while (sqlite3_step(statement) == SQLITE_ROW)
		print_row(out, statement);
	sqlite3_finalize(statement);
}

char *log_dump(struct log *yard)
{
	char *text = NULL;
	size_t length = 0;
	FILE *out = open_memstream(&text, &length);
	assert_non_null(out);
	for (const struct table_row_kind *table = store_tables(); table->name != NULL; table++) {
		char sql[128];
		if (!table->in_history)
			continue;
		(void)fprintf(out, "[%s]\n", table->name);
		(void)snprintf(sql, sizeof sql, "SELECT * FROM %s WHERE struck = 0 ORDER BY id",
			table->name);
		log_print_rows(out, yard, sql);
	}
	(void)fputs("[words]\n", out);
	log_print_rows(out, yard, "SELECT body, table_name, row_id FROM word_index ORDER BY rowid");
	(void)fclose(out);
	return text;
}
