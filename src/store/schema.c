/* SPDX-License-Identifier: MIT */
#include "schema.h"

#include "core/text.h"
#include "store/schema_text.h"

#include <string.h>

enum status schema_run(struct store *store, int32_t from, int32_t to, struct fault *why)
{
	enum status status = STATUS_OK;
	for (const struct schema_text *step = schema_text_table();
		step->number != 0 && status == STATUS_OK; step++) {
		if (step->number > from && step->number <= to)
			status = sql_exec(store, step->bytes, why);
	}
	return status;
}

enum status schema_fresh(struct store *out, int32_t version, struct fault *why)
{
	*out = (struct store){.path = "a fresh log in memory"};
	int code = sqlite3_open_v2(
		":memory:", &out->database, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL);
	if (code != SQLITE_OK)
		return sql_fault(out, code, why);
	return schema_run(out, 0, version, why);
}

/* The tables behind the search index belong to SQLite, whose versions may word them otherwise. */
static bool is_compared_by_name(const char *name)
{
	static const char prefix[] = "word_index_";
	return strncmp(name, prefix, sizeof prefix - 1) == 0;
}

static enum status check_one(
	struct store *store, sqlite3_stmt *expected, sqlite3_stmt *found, struct fault *why)
{
	const char *type = (const char *)sqlite3_column_text(expected, 0);
	const char *name = (const char *)sqlite3_column_text(expected, 1);
	sqlite3_reset(found);
	bind_text(found, 1, type);
	bind_text(found, 2, name);
	enum status status = sql_step(store, found, why);
	if (status == STATUS_END)
		return fault_set(why, STATUS_DAMAGED, "%s lacks the %s %s: it is no whole log",
			store->path, type, name);
	if (status != STATUS_OK)
		return status;
	const char *sql = (const char *)sqlite3_column_text(found, 0);
	bool is_same =
		is_compared_by_name(name) ||
		(sql != NULL && strcmp(sql, (const char *)sqlite3_column_text(expected, 2)) == 0);
	sqlite3_reset(found);
	if (!is_same)
		return fault_set(why, STATUS_DAMAGED,
			"%s was changed by another program: its %s %s is not as it should be",
			store->path, type, name);
	return STATUS_OK;
}

static enum status check_expected(struct store *store, struct store *fresh, struct fault *why)
{
	sqlite3_stmt *expected = NULL;
	sqlite3_stmt *found = NULL;
	enum status status = sql_prepare(fresh,
		"SELECT type, name, sql FROM sqlite_schema "
		"WHERE type IN ('table', 'index') AND sql IS NOT NULL",
		&expected, why);
	if (status == STATUS_OK)
		status = sql_prepare(store,
			"SELECT sql FROM sqlite_schema WHERE type = ?1 AND name = ?2", &found, why);
	while (status == STATUS_OK) {
		status = sql_step(fresh, expected, why);
		if (status == STATUS_OK)
			status = check_one(store, expected, found, why);
	}
	sqlite3_finalize(expected);
	sqlite3_finalize(found);
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status say_index(const struct store *store, const char *name, struct fault *why)
{
	char clean[120];
	return fault_set(why, STATUS_DAMAGED,
		"%s was changed by another program: it has an index %s, which has to go first",
		store->path, text_clean(name, TEXT_PLAIN, clean, sizeof clean));
}

static enum status check_index(struct store *store, struct store *fresh, sqlite3_stmt *found,
	sqlite3_stmt *expected, struct fault *why)
{
	sqlite3_reset(expected);
	bind_text(expected, 1, (const char *)sqlite3_column_text(found, 1));
	enum status status = sql_step(fresh, expected, why);
	if (status != STATUS_OK) /* not on a table of ours */
		return status == STATUS_END ? STATUS_OK : status;
	sqlite3_reset(expected);
	bind_text(expected, 1, (const char *)sqlite3_column_text(found, 0));
	status = sql_step(fresh, expected, why);
	if (status == STATUS_END)
		return say_index(store, (const char *)sqlite3_column_text(found, 0), why);
	return status;
}

static enum status check_no_more_indexes(
	struct store *store, struct store *fresh, struct fault *why)
{
	sqlite3_stmt *found = NULL;
	sqlite3_stmt *expected = NULL;
	enum status status = sql_prepare(store,
		"SELECT name, tbl_name FROM sqlite_schema WHERE type = 'index' AND sql IS NOT NULL",
		&found, why);
	if (status == STATUS_OK)
		status = sql_prepare(
			fresh, "SELECT 1 FROM sqlite_schema WHERE name = ?1", &expected, why);
	while (status == STATUS_OK) {
		status = sql_step(store, found, why);
		if (status == STATUS_OK)
			status = check_index(store, fresh, found, expected, why);
	}
	sqlite3_finalize(found);
	sqlite3_finalize(expected);
	return status == STATUS_END ? STATUS_OK : status;
}

enum status schema_check(struct store *store, int32_t version, struct fault *why)
{
	struct store fresh = {0};
	enum status status = schema_fresh(&fresh, version, why);
	if (status == STATUS_OK)
		status = check_expected(store, &fresh, why);
	if (status == STATUS_OK)
		status = check_no_more_indexes(store, &fresh, why);
	sqlite3_close(fresh.database);
	return status;
}
