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

/* --- the digest of a fresh log, so that most openings make none to compare with --- */

static const char *const fresh_digests[SCHEMA_VERSION + 1] = {
	[1] = "a04f2e6a007ba89057d62e95310bc940f7e088ea54432b0470463e6c2be32b08",
};

const char *schema_digest_expected(int32_t version)
{
	return version >= 0 && version <= SCHEMA_VERSION ? fresh_digests[version] : NULL;
}

enum status schema_digest(struct store *store, char out[SHA256_TEXT_SIZE], struct fault *why)
{
	sqlite3_stmt *rows = NULL;
	struct sha256 digest = sha256_start();
	enum status status = sql_prepare(store,
		"SELECT type, name, tbl_name, sql FROM sqlite_schema "
		"WHERE type IN ('table', 'index') AND sql IS NOT NULL ORDER BY rowid",
		&rows, why);
	while (status == STATUS_OK && (status = sql_step(store, rows, why)) == STATUS_OK) {
		bool by_name = is_compared_by_name((const char *)sqlite3_column_text(rows, 1));
		for (int column = 0; column < (by_name ? 3 : 4); column++) {
			const char *text = (const char *)sqlite3_column_text(rows, column);
			if (text != NULL)
				sha256_add(&digest, text, strlen(text) + 1);
		}
	}
	sqlite3_finalize(rows);
	sha256_end(&digest, out);
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status is_fresh(struct store *store, int32_t version, bool *same, struct fault *why)
{
	const char *expected = schema_digest_expected(version);
	char found[SHA256_TEXT_SIZE];
	*same = false;
	if (expected == NULL)
		return STATUS_OK;
	enum status status = schema_digest(store, found, why);
	*same = status == STATUS_OK && strcmp(found, expected) == 0;
	return status;
}

enum status schema_check(struct store *store, int32_t version, struct fault *why)
{
	struct store fresh = {0};
	bool same;
	enum status status = is_fresh(store, version, &same, why);
	if (status != STATUS_OK || same)
		return status;
	status = schema_fresh(&fresh, version, why);
	if (status == STATUS_OK)
		status = check_expected(store, &fresh, why);
	if (status == STATUS_OK)
		status = check_no_more_indexes(store, &fresh, why);
	sqlite3_close(fresh.database);
	return status;
}
