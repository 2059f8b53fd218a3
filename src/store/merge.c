/* SPDX-License-Identifier: MIT */
#include "merging.h"
#include "rows.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

/* An act that both have: were they ever one file? */
static enum status find_shared(struct merging *merging, bool *out, struct fault *why)
{
	sqlite3_stmt *ours = NULL;
	*out = false;
	enum status status =
		sql_prepare(merging->store, "SELECT id FROM change_set ORDER BY row", &ours, why);
	while (!*out && status == STATUS_OK &&
		(status = sql_step(merging->store, ours, why)) == STATUS_OK)
		status = merge_other_has(merging, column_word(ours, 0), out, why);
	sqlite3_finalize(ours);
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status check_related(struct merging *merging, bool unrelated, struct fault *why)
{
	bool is_shared = false;
	if (unrelated)
		return STATUS_OK;
	enum status status = find_shared(merging, &is_shared, why);
	if (status == STATUS_OK && !is_shared)
		return fault_set(why, STATUS_CONFLICT,
			"%s never was a copy of this log, nor this of it: --unrelated adds all "
			"that it "
			"holds",
			merging->other->path);
	return status;
}

/* Where the act begins in `change`, for its undoing; and its own place behind what it brought, so
 * that it is the newest. */
static enum status write_down(struct merging *merging, struct fault *why)
{
	struct store *store = merging->store;
	sqlite3_stmt *statement = NULL;
	char number[24];
	enum status status = sql_prepare(store,
		"INSERT INTO meta (key, value) VALUES ('merge:' || ?1, ?2)", &statement, why);
	if (status != STATUS_OK)
		return status;
	(void)snprintf(number, sizeof number, "%lld", (long long)merging->changes_before);
	bind_text(statement, 1, store->act_id);
	bind_text(statement, 2, number);
	status = sql_run(store, statement, why);
	sqlite3_finalize(statement);
	if (status == STATUS_OK)
		status = sql_prepare(store,
			"UPDATE change_set SET row = (SELECT max(row) + 1 FROM change_set) "
			"WHERE id = ?1",
			&statement, why);
	if (status != STATUS_OK)
		return status;
	bind_text(statement, 1, store->act_id);
	status = sql_run(store, statement, why);
	sqlite3_finalize(statement);
	return status;
}

/* References are checked when the act is saved; here it can still be said whose they are. */
static enum status check_references(const struct merging *merging, struct fault *why)
{
	int now = 0;
	int high = 0;
	if (sqlite3_db_status(merging->store->database, SQLITE_DBSTATUS_DEFERRED_FKS, &now, &high,
		    0) == SQLITE_OK &&
		now != 0)
		return fault_set(why, STATUS_DAMAGED,
			"%s refers to what it does not hold (boughbook verify tells where); "
			"nothing was merged",
			merging->other->path);
	return STATUS_OK;
}

static enum status merge_all(struct merging *merging, bool unrelated, struct fault *why)
{
	enum status status = check_related(merging, unrelated, why);
	if (status == STATUS_OK)
		status = sql_exec(merging->store, "PRAGMA defer_foreign_keys = ON", why);
	if (status == STATUS_OK)
		status = merge_bring(merging, why);
	if (status != STATUS_OK || merging->account->acts == 0)
		return status;
	status = check_references(merging, why);
	if (status == STATUS_OK)
		status = merge_settle(merging, why);
	if (status == STATUS_OK)
		status = merge_keep_edited(merging, why);
	if (status == STATUS_OK)
		status = merge_tell(merging, why);
	return status == STATUS_OK ? write_down(merging, why) : status;
}

enum status store_merge(struct store *store, const char *other, bool unrelated, struct arena *arena,
	struct merge_account *out, struct fault *why)
{
	struct merging *merging = arena_alloc(arena, sizeof *merging);
	assert(store->in_act && store->act_is_local);
	*out = (struct merge_account){.acts = 0};
	enum status status = merge_other_open(store, other, &merging->other, why);
	if (status != STATUS_OK)
		return status;
	merging->store = store;
	merging->arena = arena;
	merging->account = out;
	merging->sight.store = store;
	merging->other_sight.store = merging->other;
	status = merge_all(merging, unrelated, why);
	merge_other_close(merging->other);
	return status;
}
