/* SPDX-License-Identifier: MIT */
/* Undo and redo: a new change set that puts back what another one did. An undo turns an act (or a
 * redo), a redo turns an undo; a set that was turned is never turned again. Sets that a merge
 * brought from another copy are marked in meta ("foreign:SET" = the merge's set): they are not
 * ours to turn one by one, but go with the merge that brought them. */
#include "act.h"
#include "hangs.h"
#include "rows.h"
#include "sight.h"
#include "statements.h"
#include "tables.h"

#include <stdio.h>
#include <string.h>

#define IS_OWN "NOT EXISTS (SELECT 1 FROM meta WHERE key = 'foreign:' || s.id)"
#define IS_NOT_TURNED "NOT EXISTS (SELECT 1 FROM change_set t WHERE t.undoes = s.id)"
#define SAME_FIELD(one, other)                                                        \
	one ".row_id = " other ".row_id AND " one ".field = " other ".field AND " one \
	    ".table_name = " other ".table_name"
/* Is set x the one turned, or one that it brought? */
#define IS_TURNED(x)                                 \
	"(" x " = ?1 OR EXISTS (SELECT 1 FROM meta " \
	"WHERE key = 'foreign:' || " x " AND value = ?1))"
/* Rows of `change` up to this one were there before a merge. */
#define BEFORE_MERGE \
	"coalesce((SELECT CAST(value AS INTEGER) FROM meta WHERE key = 'merge:' || ?1), 0)"
/* A field as it stood before the first change of the turned sets, which all others follow. */
#define CHANGES_OF(which, earlier)                                                                \
	"SELECT c.table_name, c.row_id, c.field, CASE WHEN EXISTS (SELECT 1 FROM change d "       \
	"WHERE " SAME_FIELD("d",                                                                  \
		"c") " AND d.row < c.row) THEN (SELECT d.new FROM change d "                      \
		     "WHERE " SAME_FIELD("d",                                                     \
			     "c") " AND d.row < c.row ORDER BY d.row DESC LIMIT 1) "              \
				  "ELSE c.old END FROM change c WHERE " which                     \
				  " AND NOT EXISTS (SELECT 1 FROM change e "                      \
				  "WHERE " SAME_FIELD("e", "c") " AND e.row < c.row AND " earlier \
								") ORDER BY c.row DESC"

enum {
	UNDO_TARGET,
	REDO_TARGET,
	UNDO_CHANGES,
	UNDO_MERGE_CHANGES,
	UNDO_ROW_FIELDS,
	UNDO_MADE_IN,
	UNDO_HEAD,
	UNDO_CHANGE,
	UNDO_FIRST,
	UNDO_CHOSEN
};

const struct statement undo_statements[] = {
	[UNDO_TARGET] = {"undo.target",
		"SELECT s.id, s.what, s.kind FROM change_set s "
		"WHERE s.kind IN ('act', 'import', 'merge', 'redo') "
		"AND s.id NOT IN (SELECT made FROM place) AND " IS_NOT_TURNED " AND " IS_OWN
		" ORDER BY s.row DESC LIMIT 1"},
	[REDO_TARGET] = {"undo.redo_target",
		"SELECT s.id, s.what, s.kind FROM change_set s WHERE s.kind = 'undo' "
		"AND " IS_NOT_TURNED " AND " IS_OWN
		" AND s.row > coalesce((SELECT s.row FROM change_set s "
		"WHERE s.kind IN ('act', 'import', 'merge') AND " IS_OWN
		" ORDER BY s.row DESC LIMIT 1), 0) ORDER BY s.row DESC LIMIT 1"},
	[UNDO_CHANGES] = {"undo.changes", CHANGES_OF("c.set_id = ?1", "e.set_id = ?1")},
	[UNDO_MERGE_CHANGES] = {"undo.merge_changes",
		CHANGES_OF("c.row > " BEFORE_MERGE " AND " IS_TURNED("c.set_id"),
			"e.row > " BEFORE_MERGE)},
	[UNDO_ROW_FIELDS] = {"undo.row_fields", "SELECT DISTINCT field FROM change WHERE row_id = "
						"?1 AND table_name = ?2 ORDER BY field"},
	[UNDO_MADE_IN] = {"undo.is_in", "SELECT 1 WHERE " IS_TURNED("?2")},
	[UNDO_HEAD] = {"undo.head",
		"SELECT max(row) FROM change WHERE row_id = ?1 AND field = ?2 AND table_name = ?3"},
	[UNDO_CHANGE] = {"undo.change",
		"SELECT c.set_id, s.kind, coalesce(s.undoes, ''), s.what FROM change c "
		"JOIN change_set s ON s.id = c.set_id WHERE c.row = ?1"},
	[UNDO_FIRST] = {"undo.first",
		"SELECT coalesce((SELECT max(d.row) FROM change d WHERE d.row_id = ?2 "
		"AND d.field = ?3 AND d.table_name = ?4 AND d.row < first_change.first), 0) "
		"FROM (SELECT min(c.row) AS first FROM change c WHERE c.row_id = ?2 "
		"AND c.field = ?3 AND c.table_name = ?4 AND c.row > " BEFORE_MERGE
		" AND " IS_TURNED(
			"c.set_id") ") first_change WHERE first_change.first IS NOT NULL"},
	[UNDO_CHOSEN] = {"undo.chosen",
		"SELECT s.what, s.kind FROM change_set s WHERE s.id = ?1 "
		"AND s.id NOT IN (SELECT made FROM place) AND " IS_NOT_TURNED " AND " IS_OWN},
	{NULL, NULL},
};

struct turn {
	struct store *store;
	char target[ID_SIZE];
	char what[TEXT_SIZE];
	const char *done; /* "undone" or "done again" */
	bool is_merge;    /* the target brought others with it */
	bool was_merged;  /* the log: what is put back replaces every head */
};

struct link {        /* one change in the story of a field */
	int64_t row; /* 0: none, the value stands as the row was made */
	char set_id[ID_SIZE];
	char kind[KEY_SIZE];
	char undoes[ID_SIZE];
	char what[TEXT_SIZE];
};

static enum status read_link(struct store *store, int64_t row, struct link *out, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	*out = (struct link){.row = row};
	if (row == 0)
		return STATUS_OK;
	enum status status = sql_get(store, &undo_statements[UNDO_CHANGE], &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_i64(statement, 1, row);
	status = sql_step(store, statement, why);
	if (status == STATUS_END)
		return fault_set(why, STATUS_DAMAGED, "%s: a change belongs to no act; see verify",
			store->path);
	if (status != STATUS_OK)
		return status;
	column_copy(statement, 0, out->set_id, sizeof out->set_id);
	column_copy(statement, 1, out->kind, sizeof out->kind);
	column_copy(statement, 2, out->undoes, sizeof out->undoes);
	column_copy(statement, 3, out->what, sizeof out->what);
	sql_done(statement);
	return STATUS_OK;
}

/* The row number that a statement answers in its first column; 0 for NULL or no row. */
static enum status read_row(
	struct store *store, sqlite3_stmt *statement, int64_t *out, struct fault *why)
{
	enum status status = sql_step(store, statement, why);
	*out = status == STATUS_OK ? sqlite3_column_int64(statement, 0) : 0;
	sql_done(statement);
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status find_head(
	struct store *store, const struct row_change *field, int64_t *row, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = sql_get(store, &undo_statements[UNDO_HEAD], &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_text(statement, 1, field->id);
	bind_text(statement, 2, field->field);
	bind_text(statement, 3, field->table);
	return read_row(store, statement, row, why);
}

/* The change that stood before a set first touched the field: 0 when the value was as made, -1 when
 * the set never touched it. */
static enum status find_before(struct store *store, const char *set_id,
	const struct row_change *field, int64_t *row, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = sql_get(store, &undo_statements[UNDO_FIRST], &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_text(statement, 1, set_id);
	bind_text(statement, 2, field->id);
	bind_text(statement, 3, field->field);
	bind_text(statement, 4, field->table);
	status = sql_step(store, statement, why);
	*row = status == STATUS_OK ? sqlite3_column_int64(statement, 0) : -1;
	sql_done(statement);
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status is_in_turned(
	struct store *store, const char *target, const char *set_id, bool *is_in, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = sql_get(store, &undo_statements[UNDO_MADE_IN], &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_text(statement, 1, target);
	bind_text(statement, 2, set_id);
	status = sql_step(store, statement, why);
	sql_done(statement);
	*is_in = status == STATUS_OK;
	return status == STATUS_END ? STATUS_OK : status;
}

/* The change that a field's value really comes from: an undo or redo stands for what was there
 * before the set it turned. Stops at a change of the target. Each step goes back in the file, so
 * that no history, however twisted, makes it go on for ever. */
static enum status find_standing(const struct turn *turn, const struct row_change *field,
	struct link *out, bool *is_target, struct fault *why)
{
	int64_t row = 0;
	enum status status = find_head(turn->store, field, &row, why);
	for (;;) {
		if (status == STATUS_OK)
			status = read_link(turn->store, row, out, why);
		if (status != STATUS_OK || row == 0)
			return status;
		status = is_in_turned(turn->store, turn->target, out->set_id, is_target, why);
		if (status != STATUS_OK || *is_target || out->undoes[0] == '\0')
			return status;
		int64_t before = 0;
		status = find_before(turn->store, out->undoes, field, &before, why);
		/* the set turned made the row: the turning itself was the first to touch it */
		if (status == STATUS_OK && before < 0)
			status = find_before(turn->store, out->set_id, field, &before, why);
		if (status == STATUS_OK && before >= row)
			return fault_set(why, STATUS_DAMAGED,
				"%s: the history of %s %s runs in a ring", turn->store->path,
				field->table, field->field);
		row = before;
	}
}

/* An own row of the target may have no later change on it (whole: the value it was made with is
 * fine too); a changed field has to stand as the target left it. */
static enum status check_field(
	const struct turn *turn, const struct row_change *field, bool whole, struct fault *why)
{
	struct link standing;
	bool is_target = false;
	enum status status = find_standing(turn, field, &standing, &is_target, why);
	if (status != STATUS_OK || is_target || (whole && standing.row == 0))
		return status;
	return fault_set(why, STATUS_CONFLICT,
		"\"%s\" cannot be %s: %s of the %s was changed again%s%s%s", turn->what, turn->done,
		field->field, field->table, standing.row == 0 ? "" : " by \"",
		standing.row == 0 ? "" : standing.what, standing.row == 0 ? "" : "\"");
}

static enum status check_made_row(
	const struct turn *turn, const struct row_change *row, struct fault *why)
{
	sqlite3_stmt *fields = NULL;
	enum status status =
		sql_prepare(turn->store, undo_statements[UNDO_ROW_FIELDS].sql, &fields, why);
	if (status != STATUS_OK)
		return status;
	bind_text(fields, 1, row->id);
	bind_text(fields, 2, row->table);
	while ((status = sql_step(turn->store, fields, why)) == STATUS_OK) {
		const struct row_change field = {.table = row->table,
			.id = row->id,
			.field = (const char *)sqlite3_column_text(fields, 0)};
		status = check_field(turn, &field, true, why);
		if (status != STATUS_OK)
			break;
	}
	sqlite3_finalize(fields);
	return status == STATUS_END ? STATUS_OK : status;
}

/* --- the two passes: first everything is checked, then everything is written --- */

static enum status strike_made_row(
	const struct turn *turn, const struct row_change *row, struct fault *why)
{
	enum status status = row_strike(turn->store, row->table, row->id, true, why);
	return status == STATUS_OK ? words_rewrite(turn->store, row->table, row->id, why) : status;
}

static enum status put_back(
	const struct turn *turn, const struct row_change *field, const char *old, struct fault *why)
{
	const struct row_value value = {
		.type = old == NULL ? ROW_VALUE_NULL : ROW_VALUE_TEXT, .text = old};
	/* in a merged log also a value that stands so is told: what settled a clash is undone */
	enum status status =
		turn->was_merged && !turn->store->act_is_local
			? row_put(turn->store, field, value, why)
			: row_set(turn->store, field->table, field->id, field->field, value, why);
	return status == STATUS_OK ? words_rewrite(turn->store, field->table, field->id, why)
				   : status;
}

static enum status turn_made_rows(
	const struct turn *turn, const char *table, bool writing, struct fault *why)
{
	char sql[512];
	sqlite3_stmt *rows = NULL;
	snprintf(sql, sizeof sql,
		turn->is_merge ? "SELECT r.id FROM (SELECT ?1 AS id UNION ALL SELECT substr(key, "
				 "9) FROM meta WHERE key >= 'foreign:' AND key < 'foreign;' "
				 "AND value = ?1) s CROSS JOIN %s r ON r.made = s.id AND r.struck "
				 "= 0"
			       : "SELECT id FROM %s WHERE made = ?1 AND struck = 0 ORDER BY row "
				 "DESC",
		table);
	enum status status = sql_prepare(turn->store, sql, &rows, why);
	if (status != STATUS_OK)
		return status;
	bind_text(rows, 1, turn->target);
	while ((status = sql_step(turn->store, rows, why)) == STATUS_OK) {
		char id[ID_SIZE];
		column_copy(rows, 0, id, sizeof id);
		const struct row_change row = {.table = table, .id = id};
		status = writing ? strike_made_row(turn, &row, why)
				 : check_made_row(turn, &row, why);
		if (status != STATUS_OK)
			break;
	}
	sqlite3_finalize(rows);
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status is_row_of_target(
	const struct turn *turn, const struct row_change *field, bool *is_own, struct fault *why)
{
	char sql[128];
	char made[ID_SIZE] = "";
	sqlite3_stmt *reading = NULL;
	snprintf(sql, sizeof sql, "SELECT made FROM %s WHERE id = ?1", field->table);
	enum status status = sql_prepare(turn->store, sql, &reading, why);
	if (status != STATUS_OK)
		return status;
	bind_text(reading, 1, field->id);
	status = sql_step(turn->store, reading, why);
	if (status == STATUS_OK)
		column_copy(reading, 0, made, sizeof made);
	sqlite3_finalize(reading);
	if (status == STATUS_END)
		return fault_set(why, STATUS_DAMAGED,
			"%s: a change is about a %s that is not there", turn->store->path,
			field->table);
	return status == STATUS_OK ? is_in_turned(turn->store, turn->target, made, is_own, why)
				   : status;
}

/* What the target changed in rows that it made itself goes with the row. Nor is it put back what a
 * merge brought about a row that does not count, with it or without it. */
static enum status turn_change(
	const struct turn *turn, sqlite3_stmt *changes, bool writing, struct fault *why)
{
	const struct row_change field = {.table = (const char *)sqlite3_column_text(changes, 0),
		.id = (const char *)sqlite3_column_text(changes, 1),
		.field = (const char *)sqlite3_column_text(changes, 2)};
	struct sight sight = {.store = turn->store};
	bool is_own = false;
	bool counts = true;
	if (!field_is_plain(&field))
		return fault_set(why, STATUS_DAMAGED,
			"%s: the history names a field that the log does not have",
			turn->store->path);
	enum status status = is_row_of_target(turn, &field, &is_own, why);
	if (status == STATUS_OK && turn->is_merge && !is_own && strcmp(field.table, "clash") != 0)
		status = row_counts(&sight, field.table, field.id, &counts, why);
	if (status != STATUS_OK || is_own || !counts)
		return status;
	return writing ? put_back(turn, &field, (const char *)sqlite3_column_text(changes, 3), why)
		       : check_field(turn, &field, false, why);
}

static enum status turn_changes(const struct turn *turn, bool writing, struct fault *why)
{
	sqlite3_stmt *changes = NULL;
	int which = turn->is_merge ? UNDO_MERGE_CHANGES : UNDO_CHANGES;
	enum status status = sql_prepare(turn->store, undo_statements[which].sql, &changes, why);
	if (status != STATUS_OK)
		return status;
	bind_text(changes, 1, turn->target);
	while ((status = sql_step(turn->store, changes, why)) == STATUS_OK) {
		status = turn_change(turn, changes, writing, why);
		if (status != STATUS_OK)
			break;
	}
	sqlite3_finalize(changes);
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status turn_pass(const struct turn *turn, bool writing, struct fault *why)
{
	enum status status = turn_changes(turn, writing, why);
	for (const struct table_row_kind *table = store_tables();
		table->name != NULL && status == STATUS_OK; table++) {
		if (table->in_history)
			status = turn_made_rows(turn, table->name, writing, why);
	}
	return status;
}

static enum status find_target(struct turn *turn, int which, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = sql_get(turn->store, &undo_statements[which], &statement, why);
	if (status == STATUS_OK)
		status = sql_step(turn->store, statement, why);
	if (status == STATUS_OK) {
		column_copy(statement, 0, turn->target, sizeof turn->target);
		column_copy(statement, 1, turn->what, sizeof turn->what);
		turn->is_merge = strcmp(column_word(statement, 2), "merge") == 0;
		sql_done(statement);
	}
	if (status == STATUS_END)
		return fault_set(why, STATUS_END, "there is nothing to %s",
			which == UNDO_TARGET ? "undo" : "redo");
	return status;
}

/* The set that was chosen: one of our own, not turned yet, and not the beginning of the log. */
static enum status find_chosen(struct turn *turn, const char *set_id, int *which, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = sql_get(turn->store, &undo_statements[UNDO_CHOSEN], &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_text(statement, 1, set_id);
	status = sql_step(turn->store, statement, why);
	if (status == STATUS_OK) {
		column_copy(statement, 0, turn->what, sizeof turn->what);
		const char *kind = column_word(statement, 1);
		*which = strcmp(kind, "undo") == 0 ? REDO_TARGET : UNDO_TARGET;
		turn->is_merge = strcmp(kind, "merge") == 0;
		turn->done = *which == UNDO_TARGET ? "undone" : "done again";
		memcpy(turn->target, set_id, sizeof turn->target);
		sql_done(statement);
	}
	if (status == STATUS_END)
		return fault_set(why, STATUS_END,
			"it cannot be taken back: it was already, or came with a merge, or began "
			"the log");
	return status;
}

static enum status turn_locked(struct turn *turn, int which, struct fault *why)
{
	struct store *store = turn->store;
	enum status status = store_was_merged(store, &turn->was_merged, why);
	if (status == STATUS_OK)
		status = turn_pass(turn, false, why);
	if (status != STATUS_OK)
		return status;
	const struct act_start start = {.kind = which == UNDO_TARGET ? "undo" : "redo",
		.what = turn->what,
		.undoes = turn->target};
	status = act_name(store, &start, why);
	if (status != STATUS_OK)
		return status;
	row_wrote(store); /* also when there is nothing left to put back: the set is turned */
	status = turn_pass(turn, true, why);
	if (status == STATUS_OK && store->after_turn != NULL)
		status = store->after_turn(store, store->after_turn_context, why);
	return status;
}

/* set_id NULL: the newest there is. */
static enum status turn_one(
	struct store *store, int which, const char *set_id, char what[TEXT_SIZE], struct fault *why)
{
	struct turn turn = {.store = store, .done = which == UNDO_TARGET ? "undone" : "done again"};
	what[0] = '\0';
	enum status status = act_lock(store, why);
	if (status != STATUS_OK)
		return status;
	status = set_id != NULL ? find_chosen(&turn, set_id, &which, why)
				: find_target(&turn, which, why);
	if (status == STATUS_OK)
		status = turn_locked(&turn, which, why);
	if (status == STATUS_OK && set_id != NULL)
		status = hangs_check(store, turn.what, turn.done, why);
	memcpy(what, turn.what, sizeof turn.what);
	if (status == STATUS_OK)
		return store_act_commit(store, why);
	store_act_rollback(store);
	return status;
}

enum status store_undo(struct store *store, char what[TEXT_SIZE], struct fault *why)
{
	return turn_one(store, UNDO_TARGET, NULL, what, why);
}

enum status store_redo(struct store *store, char what[TEXT_SIZE], struct fault *why)
{
	return turn_one(store, REDO_TARGET, NULL, what, why);
}

enum status store_undo_set(
	struct store *store, const char *set_id, char what[TEXT_SIZE], struct fault *why)
{
	return turn_one(store, UNDO_TARGET, set_id, what, why);
}

void store_set_after_turn(struct store *store,
	enum status (*after)(struct store *store, void *context, struct fault *why), void *context)
{
	store->after_turn = after;
	store->after_turn_context = context;
}
