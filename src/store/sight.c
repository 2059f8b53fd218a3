/* SPDX-License-Identifier: MIT */
#include "sight.h"

#include "statements.h"
#include "tables.h"

#include <stdio.h>
#include <string.h>

enum { SIGHT_MERGED, SIGHT_SET, SIGHT_TURNED, SIGHT_BROUGHT };

/* Turnings of turnings: far more than any grower makes, so that a ring in a log of another hand
 * comes to an end. */
enum { TURNINGS_MAX = 10000 };

const struct statement sight_statements[] = {
	[SIGHT_MERGED] = {"sight.merged",
		"SELECT 1 FROM meta WHERE key >= 'foreign:' AND key < 'foreign;' LIMIT 1"},
	[SIGHT_SET] = {"sight.set",
		"SELECT s.kind, coalesce(s.undoes, ''), coalesce(m.value, '') FROM change_set s "
		"LEFT JOIN meta m ON m.key = 'foreign:' || s.id WHERE s.id = ?1"},
	[SIGHT_TURNED] = {"sight.turned", "SELECT id FROM change_set WHERE undoes = ?1 LIMIT 1"},
	[SIGHT_BROUGHT] = {"sight.brought", "SELECT value FROM meta WHERE key = 'foreign:' || ?1"},
	{NULL, NULL},
};

static enum status ask(
	struct store *store, int which, const char *id, sqlite3_stmt **out, struct fault *why)
{
	enum status status = sql_get(store, &sight_statements[which], out, why);
	if (status == STATUS_OK && id != NULL)
		bind_text(*out, 1, id);
	return status;
}

enum status store_was_merged(struct store *store, bool *out, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = ask(store, SIGHT_MERGED, NULL, &statement, why);
	if (status == STATUS_OK)
		status = sql_step(store, statement, why);
	*out = status == STATUS_OK;
	if (statement != NULL)
		sql_done(statement);
	return status == STATUS_END ? STATUS_OK : status;
}

struct seen_set {
	char kind[KEY_SIZE];
	char undoes[ID_SIZE];
	char brought[ID_SIZE];
};

/* STATUS_END: there is no such act. */
static enum status look_at(
	struct store *store, const char *id, struct seen_set *out, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = ask(store, SIGHT_SET, id, &statement, why);
	if (status == STATUS_OK)
		status = sql_step(store, statement, why);
	if (status != STATUS_OK)
		return status;
	column_copy(statement, 0, out->kind, sizeof out->kind);
	column_copy(statement, 1, out->undoes, sizeof out->undoes);
	column_copy(statement, 2, out->brought, sizeof out->brought);
	sql_done(statement);
	return STATUS_OK;
}

static bool is_turning(const char *kind)
{
	return strcmp(kind, "undo") == 0 || strcmp(kind, "redo") == 0;
}

enum status set_is_local(
	struct store *store, const char *kind, const char *undoes, bool *out, struct fault *why)
{
	struct seen_set set = {.kind = ""};
	*out = strcmp(kind, "merge") == 0;
	if (!is_turning(kind))
		return STATUS_OK;
	memcpy(set.undoes, undoes, strlen(undoes) + 1);
	for (int i = 0; i < TURNINGS_MAX; i++) {
		enum status status = look_at(store, set.undoes, &set, why);
		if (status != STATUS_OK)
			return status == STATUS_END ? STATUS_OK : status;
		*out = strcmp(set.kind, "merge") == 0;
		if (!is_turning(set.kind))
			return STATUS_OK;
	}
	return fault_set(why, STATUS_DAMAGED, "%s: undoings run in a ring", store->path);
}

enum status merge_is_undone(struct sight *sight, const char *merge_id, bool *out, struct fault *why)
{
	char id[ID_SIZE];
	bool is_undone = false;
	if (strcmp(merge_id, SIGHT_HELD) == 0) {
		*out = true;
		return STATUS_OK;
	}
	if (strcmp(sight->merge_id, merge_id) != 0) {
		memcpy(id, merge_id, strlen(merge_id) + 1);
		for (int i = 0; i < TURNINGS_MAX; i++) {
			sqlite3_stmt *statement = NULL;
			enum status status = ask(sight->store, SIGHT_TURNED, id, &statement, why);
			if (status == STATUS_OK)
				status = sql_step(sight->store, statement, why);
			if (status == STATUS_END)
				break;
			if (status != STATUS_OK)
				return status;
			column_copy(statement, 0, id, sizeof id);
			sql_done(statement);
			is_undone = !is_undone;
		}
		memcpy(sight->merge_id, merge_id, strlen(merge_id) + 1);
		sight->is_undone = is_undone;
	}
	*out = sight->is_undone;
	return STATUS_OK;
}

enum status set_brought_by(
	struct store *store, const char *set_id, char out[ID_SIZE], struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	out[0] = '\0';
	enum status status = ask(store, SIGHT_BROUGHT, set_id, &statement, why);
	if (status == STATUS_OK)
		status = sql_step(store, statement, why);
	if (status == STATUS_OK) {
		column_copy(statement, 0, out, ID_SIZE);
		sql_done(statement);
	}
	return status == STATUS_END ? STATUS_OK : status;
}

enum status set_counts(struct sight *sight, const char *set_id, bool *out, struct fault *why)
{
	struct seen_set set;
	bool is_out = false;
	*out = false;
	enum status status = look_at(sight->store, set_id, &set, why);
	if (status == STATUS_END)
		return STATUS_OK;
	if (status == STATUS_OK)
		status = set_is_local(sight->store, set.kind, set.undoes, &is_out, why);
	if (status == STATUS_OK && !is_out && set.brought[0] != '\0')
		status = merge_is_undone(sight, set.brought, &is_out, why);
	*out = status == STATUS_OK && !is_out;
	return status;
}

enum status row_counts(
	struct sight *sight, const char *table, const char *id, bool *out, struct fault *why)
{
	char sql[96];
	char made[ID_SIZE] = "";
	sqlite3_stmt *maker = NULL;
	const struct table_row_kind *kind = store_table_named(table);
	*out = false;
	if (kind == NULL || !kind->in_history)
		return STATUS_OK;
	(void)snprintf(sql, sizeof sql, "SELECT made FROM %s WHERE id = ?1", kind->name);
	enum status status = sql_prepare(sight->store, sql, &maker, why);
	if (status == STATUS_OK) {
		bind_text(maker, 1, id);
		status = sql_step(sight->store, maker, why);
	}
	if (status == STATUS_OK)
		column_copy(maker, 0, made, sizeof made);
	sqlite3_finalize(maker);
	if (status != STATUS_OK)
		return status == STATUS_END ? STATUS_OK : status;
	return set_counts(sight, made, out, why);
}
