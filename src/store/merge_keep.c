/* SPDX-License-Identifier: MIT */
/* Edit beats strike. A record that one copy struck while the other changed it, or put something to
 * it, stands again. Which knew of the other is told by the files alone: a strike that the other
 * file has not, against a change that this one has not. The act that lets it stand has an id made
 * of the strike's, so that every copy makes the same one, whichever way round they are merged.
 * Where one says struck and another that it stands, that is a clash as of any field. */
#include "merging.h"
#include "rows.h"
#include "statements.h"
#include "title.h"

#include <stdio.h>
#include <string.h>

enum { KEEP_STRIKES, KEEP_EDITS, KEEP_TYPED_AT, KEEP_ADD_SET, KEEP_ADD_CHANGE };

const struct statement merge_keep_statements[] = {
	[KEEP_STRIKES] = {"keep.strikes",
		"SELECT c.id, c.set_id, c.table_name, c.row_id FROM change c "
		"WHERE c.field = 'struck' AND c.new = '1' AND c.table_name <> 'clash' "
		"AND c.row <= ?1 ORDER BY c.row"},
	[KEEP_EDITS] = {"keep.edits",
		"SELECT DISTINCT c.set_id, c.table_name, c.row_id, c.field FROM change c "
		"WHERE c.row_id = ?1 AND c.table_name = ?2 AND c.field <> 'struck'"},
	[KEEP_TYPED_AT] = {"keep.typed_at", "SELECT typed_at FROM change_set WHERE id = ?1"},
	[KEEP_ADD_SET] = {"keep.add_set",
		"INSERT OR IGNORE INTO change_set (id, typed_at, what, kind) VALUES (?1, ?2, "
		"'kept: struck in one copy, changed in the other', 'act')"},
	[KEEP_ADD_CHANGE] = {"keep.add_change",
		"INSERT OR IGNORE INTO change (id, set_id, table_name, row_id, field, old, new, "
		"prev) VALUES (?1, ?2, ?3, ?4, 'struck', '1', '0', ?5)"},
	{NULL, NULL},
};

enum side { SIDE_BOTH, SIDE_OURS, SIDE_THEIRS }; /* who alone had an act before this merge */

struct strike {
	char id[ID_SIZE];
	char set_id[ID_SIZE];
	const char *table;
	char row_id[ID_SIZE];
	enum side side;
};

static enum status side_of(
	struct merging *merging, const char *set_id, enum side *out, struct fault *why)
{
	bool is_brought = false;
	bool counts = false;
	bool other_has = false;
	*out = SIDE_BOTH;
	enum status status = merge_is_brought(merging, set_id, &is_brought, why);
	if (status == STATUS_OK && is_brought) {
		*out = SIDE_THEIRS;
		return STATUS_OK;
	}
	if (status == STATUS_OK)
		status = merge_other_has(merging, set_id, &other_has, why);
	if (status == STATUS_OK && !other_has)
		status = set_counts(&merging->sight, set_id, &counts, why);
	if (status == STATUS_OK && counts)
		*out = SIDE_OURS;
	return status;
}

/* Does what the act did to a field count? What hangs on something that does not, does not. */
static enum status change_counts(struct merging *merging, const char *set_id,
	const struct row_change *field, bool *out, struct fault *why)
{
	struct heads heads;
	struct arena *arena = arena_new();
	enum status status = heads_read(&merging->sight, field, arena, &heads, why);
	*out = status == STATUS_OK && heads_has(&heads, set_id);
	arena_free(arena);
	return status;
}

/* Is an act that one of the rows of a query names on the other side than the strike? Each is an act
 * with the table, row and field that it changed; without a field: with what it made. */
static enum status any_across(struct merging *merging, sqlite3_stmt *sets,
	const struct strike *strike, bool *out, struct fault *why)
{
	enum status status = STATUS_OK;
	while (!*out && (status = sql_step(merging->store, sets, why)) == STATUS_OK) {
		char set_id[ID_SIZE];
		enum side side = SIDE_BOTH;
		const struct row_change field = {.table = column_word(sets, 1),
			.id = column_word(sets, 2),
			.field = column_word(sets, 3)};
		column_copy(sets, 0, set_id, sizeof set_id);
		status = side_of(merging, set_id, &side, why);
		*out = side != SIDE_BOTH && side != strike->side;
		if (status == STATUS_OK && *out && field.field[0] != '\0')
			status = change_counts(merging, set_id, &field, out, why);
		if (status != STATUS_OK)
			break;
	}
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status was_changed(
	struct merging *merging, const struct strike *strike, bool *out, struct fault *why)
{
	sqlite3_stmt *sets = NULL;
	enum status status =
		sql_prepare(merging->store, merge_keep_statements[KEEP_EDITS].sql, &sets, why);
	if (status != STATUS_OK)
		return status;
	bind_text(sets, 1, strike->row_id);
	bind_text(sets, 2, strike->table);
	status = any_across(merging, sets, strike, out, why);
	sqlite3_finalize(sets);
	return status;
}

/* Rows that name the struck one: made on the other side, or changed there. */
static enum status was_used_by(struct merging *merging, const struct strike *strike,
	const struct reference *reference, bool *out, struct fault *why)
{
	char sql[640];
	sqlite3_stmt *sets = NULL;
	(void)snprintf(sql, sizeof sql,
		"SELECT r.made, '', '', '' FROM %s r WHERE r.%s = ?1 %s UNION "
		"SELECT c.set_id, c.table_name, c.row_id, c.field FROM %s r "
		"JOIN change c ON c.row_id = r.id AND c.table_name = '%s' "
		"AND c.field <> 'struck' WHERE r.%s = ?1 %s",
		reference->table, reference->column,
		reference->parent == NULL ? "AND r.subject_kind = ?2" : "", reference->table,
		reference->table, reference->column,
		reference->parent == NULL ? "AND r.subject_kind = ?2" : "");
	enum status status = sql_prepare(merging->store, sql, &sets, why);
	if (status != STATUS_OK)
		return status;
	bind_text(sets, 1, strike->row_id);
	if (reference->parent == NULL)
		bind_text(sets, 2, strike->table);
	status = any_across(merging, sets, strike, out, why);
	sqlite3_finalize(sets);
	return status;
}

static bool can_name(const struct reference *reference, const char *table)
{
	if (reference->parent != NULL)
		return strcmp(reference->parent, table) == 0;
	return strcmp(table, "tree") == 0 || strcmp(table, "spot") == 0 ||
	       strcmp(table, "area") == 0;
}

static enum status was_edited(
	struct merging *merging, const struct strike *strike, bool *out, struct fault *why)
{
	*out = false;
	enum status status = was_changed(merging, strike, out, why);
	for (const struct reference *r = merge_references();
		r->table != NULL && !*out && status == STATUS_OK; r++)
		if (can_name(r, strike->table))
			status = was_used_by(merging, strike, r, out, why);
	return status;
}

/* Is just this change one of those that the row lies struck by? */
static enum status still_strikes(
	struct merging *merging, const struct strike *strike, bool *out, struct fault *why)
{
	struct arena *arena = arena_new();
	const struct row_change field = {
		.table = strike->table, .id = strike->row_id, .field = "struck"};
	struct heads heads;
	*out = false;
	enum status status = heads_read(&merging->sight, &field, arena, &heads, why);
	for (int32_t i = 0; status == STATUS_OK && i < heads.all_count; i++)
		*out = *out || strcmp(heads.all[i].change_id, strike->id) == 0;
	arena_free(arena);
	return status;
}

/* --- letting it stand --- */

static enum status add_act(struct merging *merging, const struct strike *strike, struct fault *why)
{
	char text[64];
	char set_id[ID_SIZE];
	char id[ID_SIZE];
	char typed_at[STAMP_TEXT_SIZE];
	sqlite3_stmt *statement = NULL;
	struct store *store = merging->store;
	(void)snprintf(text, sizeof text, "kept act %s", strike->id);
	id_made_of(text, set_id);
	(void)snprintf(text, sizeof text, "kept change %s", strike->id);
	id_made_of(text, id);
	enum status status = rows_for(
		store, &merge_keep_statements[KEEP_TYPED_AT], strike->set_id, &statement, why);
	if (status == STATUS_OK)
		status = sql_step(store, statement, why);
	if (status != STATUS_OK)
		return status;
	column_copy(statement, 0, typed_at, sizeof typed_at);
	sql_done(statement);
	status = rows_for(store, &merge_keep_statements[KEEP_ADD_SET], set_id, &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_text(statement, 2, typed_at);
	status = sql_run(store, statement, why);
	if (status == STATUS_OK)
		status = merge_mark_set(merging, set_id, why);
	if (status == STATUS_OK)
		status = rows_for(
			store, &merge_keep_statements[KEEP_ADD_CHANGE], id, &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_text(statement, 2, set_id);
	bind_text(statement, 3, strike->table);
	bind_text(statement, 4, strike->row_id);
	bind_text(statement, 5, strike->id);
	return sql_run(store, statement, why);
}

static enum status let_stand(
	struct merging *merging, const struct strike *strike, bool tell, struct fault *why);

/* The row of another table that the same act, or the same side, struck. STATUS_ABSENT: it stands,
 * or lies struck by somebody else. */
static enum status strike_of(struct merging *merging, const struct strike *by, const char *table,
	const char *row_id, bool same_act, struct strike *out, struct fault *why)
{
	struct arena *arena = arena_new();
	const struct row_change field = {.table = table, .id = row_id, .field = "struck"};
	struct heads heads;
	bool found = false;
	enum status status = heads_read(&merging->sight, &field, arena, &heads, why);
	for (int32_t i = 0; status == STATUS_OK && i < heads.all_count && !found; i++) {
		const struct head *head = &heads.all[i];
		enum side side = SIDE_BOTH;
		if (head->value == NULL || strcmp(head->value, "1") != 0)
			continue;
		status = side_of(merging, head->set_id, &side, why);
		found = side == by->side && (!same_act || strcmp(head->set_id, by->set_id) == 0);
		if (!found)
			continue;
		*out = (struct strike){.table = table, .side = side};
		memcpy(out->id, head->change_id, sizeof out->id);
		memcpy(out->set_id, head->set_id, sizeof out->set_id);
		memcpy(out->row_id, row_id, strlen(row_id) + 1);
	}
	arena_free(arena);
	return status == STATUS_OK && !found ? STATUS_ABSENT : status;
}

static enum status let_one_stand(struct merging *merging, const struct strike *by,
	const char *table, const char *row_id, bool same_act, struct fault *why)
{
	struct strike strike;
	enum status status = strike_of(merging, by, table, row_id, same_act, &strike, why);
	if (status == STATUS_ABSENT)
		return STATUS_OK;
	return status == STATUS_OK ? let_stand(merging, &strike, !same_act, why) : status;
}

/* down: the parts that one act struck with the record; up: what the record itself is about. */
static enum status let_others_stand(struct merging *merging, const struct strike *strike,
	const struct reference *reference, bool down, struct fault *why)
{
	char sql[256];
	sqlite3_stmt *rows = NULL;
	if (down)
		(void)snprintf(sql, sizeof sql, "SELECT id, '%s' FROM %s WHERE %s = ?1",
			reference->table, reference->table, reference->column);
	else
		(void)snprintf(sql, sizeof sql, "SELECT %s, %s FROM %s WHERE id = ?1",
			reference->column, reference->parent == NULL ? "subject_kind" : "NULL",
			reference->table);
	enum status status = sql_prepare(merging->store, sql, &rows, why);
	if (status != STATUS_OK)
		return status;
	bind_text(rows, 1, strike->row_id);
	while ((status = sql_step(merging->store, rows, why)) == STATUS_OK) {
		char row_id[ID_SIZE];
		const char *table = down ? reference->table : reference->parent;
		column_copy(rows, 0, row_id, sizeof row_id);
		if (table == NULL) {
			const struct table_row_kind *kind = store_table_named(column_word(rows, 1));
			table = kind == NULL ? "" : kind->name;
		}
		if (row_id[0] == '\0' || table[0] == '\0')
			continue;
		status = let_one_stand(merging, strike, table, row_id, down, why);
		if (status != STATUS_OK)
			break;
	}
	sqlite3_finalize(rows);
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status let_stand(
	struct merging *merging, const struct strike *strike, bool tell, struct fault *why)
{
	const struct row_change field = {
		.table = strike->table, .id = strike->row_id, .field = "struck"};
	struct row_title title;
	enum status status = add_act(merging, strike, why);
	if (status == STATUS_OK)
		status = merge_settle_field(merging, &field, why);
	if (status == STATUS_OK && tell)
		status = row_title(merging->store, strike->table, strike->row_id, &title, why);
	if (status == STATUS_OK && tell)
		merge_note(merging, MERGE_NOTE_KEPT, "%s", title.text);
	for (const struct reference *r = merge_references();
		r->table != NULL && status == STATUS_OK; r++) {
		if (r->is_part && strcmp(r->parent, strike->table) == 0)
			status = let_others_stand(merging, strike, r, true, why);
		if (status == STATUS_OK && strcmp(r->table, strike->table) == 0)
			status = let_others_stand(merging, strike, r, false, why);
	}
	return status;
}

static enum status look_at_strike(
	struct merging *merging, const struct strike *strike, struct fault *why)
{
	bool strikes = false;
	bool was = false;
	enum status status = was_edited(merging, strike, &was, why);
	if (status == STATUS_OK && was)
		status = still_strikes(merging, strike, &strikes, why);
	return status == STATUS_OK && strikes ? let_stand(merging, strike, true, why) : status;
}

enum status merge_keep_edited(struct merging *merging, struct fault *why)
{
	sqlite3_stmt *rows = NULL;
	enum status status =
		sql_prepare(merging->store, merge_keep_statements[KEEP_STRIKES].sql, &rows, why);
	if (status == STATUS_OK)
		bind_i64(rows, 1, merging->changes_brought);
	while (status == STATUS_OK && (status = sql_step(merging->store, rows, why)) == STATUS_OK) {
		const struct table_row_kind *table = store_table_named(column_word(rows, 2));
		struct strike strike;
		if (table == NULL)
			continue;
		strike.table = table->name;
		column_copy(rows, 0, strike.id, sizeof strike.id);
		column_copy(rows, 1, strike.set_id, sizeof strike.set_id);
		column_copy(rows, 3, strike.row_id, sizeof strike.row_id);
		status = side_of(merging, strike.set_id, &strike.side, why);
		if (status == STATUS_OK && strike.side != SIDE_BOTH)
			status = look_at_strike(merging, &strike, why);
	}
	sqlite3_finalize(rows);
	return status == STATUS_END ? STATUS_OK : status;
}
