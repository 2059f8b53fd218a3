/* SPDX-License-Identifier: MIT */
/* Flags kept in the log, in a transaction of their own. Which acts bear on whom is in
 * kept_touched.c. */
#include "rows.h"
#include "statements.h"
#include "store/kept.h"

#include <stdio.h>
#include <string.h>

enum { KEPT_STATE, KEPT_FIND, KEPT_GOOD, KEPT_TREES, KEPT_MISSING, KEPT_PUT, KEPT_DROP };

#define IS_GOOD                                     \
	"k.digest = ?1 AND k.worked_for <= ?2 AND " \
	"(k.next_change IS NULL OR k.next_change > ?2)"
#define KEPT_COLUMNS "k.flags, k.worked_for, k.next_change"

const struct statement kept_statements[] = {
	[KEPT_STATE] = {"kept.state", "SELECT digest, flags FROM kept_flag WHERE tree_id = ''"},
	[KEPT_FIND] = {"kept.find", "SELECT k.tree_id, " KEPT_COLUMNS " FROM kept_flag k "
				    "WHERE k.tree_id = ?3 AND " IS_GOOD},
	/* as they lie: a join in the order of labels would read each row by itself */
	[KEPT_GOOD] = {"kept.good", "SELECT k.tree_id, " KEPT_COLUMNS " FROM kept_flag k "
				    "WHERE " IS_GOOD " AND k.tree_id <> '' ORDER BY k.rowid"},
	[KEPT_TREES] = {"kept.trees", "SELECT t.id FROM tree t WHERE t.struck = 0 "
				      "AND (t.host_id IS NULL OR t.gone <> '') ORDER BY t.row"},
	[KEPT_MISSING] = {"kept.missing",
		"SELECT t.id, NULL FROM tree t LEFT JOIN kept_flag k ON k.tree_id = t.id "
		"AND " IS_GOOD
		" WHERE t.struck = 0 AND t.host_id IS NULL AND k.tree_id IS NULL ORDER BY t.row"},
	[KEPT_PUT] = {"kept.put",
		"INSERT INTO kept_flag (tree_id, worked_for, next_change, digest, flags) "
		"VALUES (?1, ?2, ?3, ?4, ?5) ON CONFLICT (tree_id) DO UPDATE SET "
		"worked_for = ?2, next_change = ?3, digest = ?4, flags = ?5"},
	[KEPT_DROP] = {"kept.drop", "DELETE FROM kept_flag WHERE tree_id = ?1"},
	{NULL, NULL},
};

/* --- reading --- */

static enum status read_state(struct store *store, struct kept_state *out, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	*out = (struct kept_state){.known = false};
	enum status status = sql_get(store, &kept_statements[KEPT_STATE], &statement, why);
	if (status == STATUS_OK)
		status = sql_step(store, statement, why);
	if (status != STATUS_OK)
		return status == STATUS_END ? STATUS_OK : status;
	column_copy(statement, 0, out->digest, sizeof out->digest);
	column_copy(statement, 1, out->through, sizeof out->through);
	sql_done(statement);
	out->known = true;
	return STATUS_OK;
}

/* A digest is the caller's, then the act since which rows are right: when all become wrong at once
 * another such act makes them so. */
static bool is_digest_of(const char *kept, const char *digest)
{
	size_t length = strlen(digest);
	return strncmp(kept, digest, length) == 0 && kept[length] == ':';
}

enum status store_kept_state(struct store *store, const char *digest, struct arena *arena,
	struct kept_state *out, struct fault *why)
{
	enum status status = read_state(store, out, why);
	out->known = out->known && is_digest_of(out->digest, digest);
	if (status == STATUS_OK && out->known)
		status = store_kept_touched(store, out->through, arena, &out->touched, why);
	out->known = out->known && !out->touched.all;
	return status;
}

static void read_kept(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	struct kept_row *row = out;
	column_copy(statement, 0, row->tree_id, sizeof row->tree_id);
	if (sqlite3_column_type(statement, 1) == SQLITE_NULL)
		return;
	row->flags = column_arena(statement, 1, arena);
	row->worked_for = column_maybe_date(statement, 2).value;
	row->next_change = column_maybe_date(statement, 3);
}

static const struct row_reader kept_reader = {read_kept, sizeof(struct kept_row)};

static enum status prepare(struct store *store, int key, const struct kept_state *state,
	struct date today, sqlite3_stmt **out, struct fault *why)
{
	enum status status = sql_get(store, &kept_statements[key], out, why);
	if (status != STATUS_OK)
		return status;
	bind_text(*out, 1, state->known ? state->digest : "");
	bind_maybe_date(*out, 2, known_date(today));
	return STATUS_OK;
}

enum status store_kept_find(struct store *store, const struct kept_state *state,
	const char *tree_id, struct date today, struct arena *arena, struct kept_row *out,
	struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	*out = (struct kept_row){.flags = NULL};
	if (!state->known || kept_is_touched(&state->touched, tree_id))
		return STATUS_OK;
	enum status status = prepare(store, KEPT_FIND, state, today, &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_text(statement, 3, tree_id);
	status = rows_one(store, statement, &kept_reader, arena, out, why);
	return status == STATUS_ABSENT ? STATUS_OK : status;
}

/* The text stays where SQLite has it. */
static void read_in_place(sqlite3_stmt *statement, struct kept_row *row)
{
	*row = (struct kept_row){.flags = NULL};
	column_copy(statement, 0, row->tree_id, sizeof row->tree_id);
	row->flags = column_word(statement, 1);
	row->next_change = column_maybe_date(statement, 3);
}

enum status store_kept_each(struct store *store, const struct kept_state *state, struct date today,
	void (*visit)(void *context, const struct kept_row *row), void *context, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	struct kept_row row;
	if (!state->known)
		return STATUS_OK;
	enum status status = prepare(store, KEPT_GOOD, state, today, &statement, why);
	if (status != STATUS_OK)
		return status;
	while ((status = sql_step(store, statement, why)) == STATUS_OK) {
		read_in_place(statement, &row);
		if (!kept_is_touched(&state->touched, row.tree_id))
			visit(context, &row);
	}
	sql_done(statement);
	return status == STATUS_END ? STATUS_OK : status;
}

static void read_id(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	(void)arena;
	column_copy(statement, 0, out, ID_SIZE);
}

enum status store_kept_trees(struct store *store, struct arena *arena, char (**out)[ID_SIZE],
	int32_t *count, struct fault *why)
{
	static const struct row_reader reader = {read_id, ID_SIZE};
	sqlite3_stmt *statement = NULL;
	void *items = NULL;
	enum status status = sql_get(store, &kept_statements[KEPT_TREES], &statement, why);
	if (status == STATUS_OK)
		status = rows_list(store, statement, &reader, arena, &items, count, why);
	*out = items;
	return status;
}

enum status store_kept_missing(struct store *store, const struct kept_state *state,
	struct date today, struct arena *arena, struct kept_row **out, int32_t *count,
	struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	void *items = NULL;
	enum status status = prepare(store, KEPT_MISSING, state, today, &statement, why);
	if (status == STATUS_OK)
		status = rows_list(store, statement, &kept_reader, arena, &items, count, why);
	*out = items;
	return status;
}

/* --- writing --- */

static enum status put(
	struct store *store, const struct kept_row *row, const char *digest, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status =
		rows_for(store, &kept_statements[KEPT_PUT], row->tree_id, &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_maybe_date(statement, 2, known_date(row->worked_for));
	bind_maybe_date(statement, 3, row->next_change);
	bind_text(statement, 4, digest);
	bind_text(statement, 5, row->flags);
	return sql_run(store, statement, why);
}

/* Rows that acts since bear on go; where that is all of them, they get an older digest than is
 * asked for from now on. */
static enum status drop_touched(struct store *store, const struct kept_batch *batch,
	const char *last, struct arena *arena, struct kept_state *state, struct fault *why)
{
	enum status status = store_kept_state(store, batch->digest, arena, state, why);
	if (status == STATUS_OK && !state->known)
		(void)snprintf(state->digest, sizeof state->digest, "%s:%s", batch->digest, last);
	for (int32_t i = 0; status == STATUS_OK && state->known && i < state->touched.count; i++) {
		sqlite3_stmt *statement = NULL;
		status = rows_for(store, &kept_statements[KEPT_DROP], state->touched.tree_ids[i],
			&statement, why);
		if (status == STATUS_OK)
			status = sql_run(store, statement, why);
	}
	return status;
}

static enum status write_rows(
	struct store *store, const struct kept_batch *batch, struct arena *arena, struct fault *why)
{
	struct kept_state state;
	struct kept_touched since = {.all = false};
	struct kept_row through = {.worked_for = batch->today};
	char last[ID_SIZE];
	enum status status = store_last_change(store, last, why);
	if (status == STATUS_OK)
		status = drop_touched(store, batch, last, arena, &state, why);
	if (status == STATUS_OK)
		status = store_kept_touched(store, batch->through, arena, &since, why);
	through.flags = last;
	if (status == STATUS_OK)
		status = put(store, &through, state.digest, why);
	for (int32_t i = 0; status == STATUS_OK && !since.all && i < batch->count; i++)
		if (!kept_is_touched(&since, batch->rows[i].tree_id))
			status = put(store, &batch->rows[i], state.digest, why);
	return status;
}

enum status store_kept_write(struct store *store, const struct kept_batch *batch, struct fault *why)
{
	if (store->read_only || store->in_act || store_was_moved(store))
		return fault_set(why, STATUS_DENIED, "%s takes no flags now", store->path);
	sql_done_all(store);
	enum status status = sql_exec(store, "BEGIN IMMEDIATE", why);
	if (status != STATUS_OK)
		return status;
	struct arena *arena = arena_new();
	status = write_rows(store, batch, arena, why);
	arena_free(arena);
	sql_done_all(store);
	if (status == STATUS_OK)
		status = sql_exec(store, "COMMIT", why);
	if (status != STATUS_OK && sqlite3_get_autocommit(store->database) == 0)
		(void)sqlite3_exec(store->database, "ROLLBACK", NULL, NULL, NULL);
	return status;
}
