/* SPDX-License-Identifier: MIT */
#include "migrate.h"

#include "copy.h"

#include <inttypes.h>
#include <stdio.h>

static enum status keep_copy(
	struct store *store, int32_t from, char *copy, size_t size, struct fault *why)
{
	char folder[LOG_PATH_SIZE + 16];
	char stamp[NAME_STAMP_SIZE];
	enum status status = copies_folder(store->path, folder, sizeof folder, why);
	if (status != STATUS_OK)
		return status;
	snprintf(copy, size, "%s/schema-%" PRId32 "-%s.bough", folder, from,
		name_stamp(store->clock, stamp));
	return copies_make(store, folder, copy, why);
}

/* Renaming a table makes SQLite read every view, also those of another hand, which would stop a
 * migration; the old way of renaming leaves them alone. A step that rebuilds a table makes the new
 * one under another name, drops the old one and renames, so that nothing else has to follow. */
static enum status set_renaming(struct store *store, bool old_way, struct fault *why)
{
	return sql_exec(store,
		old_way ? "PRAGMA legacy_alter_table = ON" : "PRAGMA legacy_alter_table = OFF",
		why);
}

/* Foreign keys cannot be switched inside a transaction, and off they have to be while a step
 * rebuilds a table. */
static enum status set_foreign_keys(struct store *store, bool on, struct fault *why)
{
	int64_t now = 0;
	enum status status =
		sql_exec(store, on ? "PRAGMA foreign_keys = ON" : "PRAGMA foreign_keys = OFF", why);
	if (status == STATUS_OK)
		status = sql_one_integer(store, "PRAGMA foreign_keys", &now, why);
	if (status == STATUS_OK && now != on)
		return fault_set(
			why, STATUS_IO, "%s: foreign keys stay %s", store->path, on ? "off" : "on");
	return status;
}

static enum status check_references(struct store *store, struct fault *why)
{
	sqlite3_stmt *check = NULL;
	enum status status = sql_prepare(store, "PRAGMA foreign_key_check", &check, why);
	if (status != STATUS_OK)
		return status;
	status = sql_step(store, check, why);
	if (status == STATUS_OK)
		status = fault_set(why, STATUS_DAMAGED,
			"a row of %s refers to a %s that is not there",
			(const char *)sqlite3_column_text(check, 0),
			(const char *)sqlite3_column_text(check, 2));
	sqlite3_finalize(check);
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status check_still(struct store *store, int32_t version, struct fault *why)
{
	int64_t now = 0;
	enum status status = sql_one_integer(store, "PRAGMA user_version", &now, why);
	if (status == STATUS_OK && now != version)
		return fault_set(why, STATUS_CONFLICT,
			"%s was migrated by another program at the same time; open it again",
			store->path);
	return status;
}

static enum status run_steps(struct store *store, const struct schema_text *steps, int32_t from,
	int32_t *reached, struct fault *why)
{
	char pragma[64];
	enum status status = check_still(store, from, why);
	*reached = from;
	for (const struct schema_text *step = steps; step->number != 0 && status == STATUS_OK;
		step++) {
		if (step->number <= from)
			continue;
		status = sql_exec(store, step->bytes, why);
		if (status == STATUS_OK && sqlite3_get_autocommit(store->database) != 0)
			status = fault_set(why, STATUS_DAMAGED, "it ended the transaction");
		if (status != STATUS_OK)
			fault_prefix(why, "step %s: ", step->name);
		*reached = step->number;
	}
	if (status == STATUS_OK)
		status = check_references(store, why);
	snprintf(pragma, sizeof pragma, "PRAGMA user_version = %" PRId32, *reached);
	return status == STATUS_OK ? sql_exec(store, pragma, why) : status;
}

static enum status run_in_one(struct store *store, const struct schema_text *steps, int32_t from,
	int32_t *reached, struct fault *why)
{
	enum status status = sql_exec(store, "BEGIN EXCLUSIVE", why);
	if (status != STATUS_OK)
		return status;
	status = run_steps(store, steps, from, reached, why);
	if (status == STATUS_OK)
		status = sql_exec(store, "COMMIT", why);
	if (status != STATUS_OK && sqlite3_get_autocommit(store->database) == 0)
		(void)sqlite3_exec(store->database, "ROLLBACK", NULL, NULL, NULL);
	return status;
}

enum status migrate_steps(
	struct store *store, const struct schema_text *steps, int32_t from, struct fault *why)
{
	int32_t reached = from;
	enum status status = set_foreign_keys(store, false, why);
	if (status == STATUS_OK)
		status = set_renaming(store, true, why);
	if (status == STATUS_OK)
		status = run_in_one(store, steps, from, &reached, why);
	enum status back = set_renaming(store, false, status == STATUS_OK ? why : NULL);
	if (back == STATUS_OK)
		back = set_foreign_keys(store, true, status == STATUS_OK ? why : NULL);
	if (status == STATUS_OK)
		status = back;
	if (status == STATUS_OK)
		status = check_still(store, reached, why);
	return status;
}

enum status migrate_run(struct store *store, const struct schema_text *steps, int32_t from,
	char *copy, size_t size, struct fault *why)
{
	enum status status = keep_copy(store, from, copy, size, why);
	if (status == STATUS_OK)
		return migrate_steps(store, steps, from, why);
	fault_prefix(why, "no copy could be kept, so the log was left at its old schema: ");
	return status;
}
