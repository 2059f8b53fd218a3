/* SPDX-License-Identifier: MIT */
/* After the union: every field that it touched gets the value that its history now says, clashes
 * are put on the list, and what was struck on one side and changed on the other stands. */
#include "merging.h"
#include "rows.h"
#include "statements.h"

#include <stdio.h>
#include <string.h>

enum {
	SETTLE_FIELDS,
	SETTLE_NEWEST,
	SETTLE_FIELDS_OF_OTHER,
	SETTLE_FIELDS_OF_ROW,
};

/* The last change of a field is where the field is looked at, once. */
const struct statement merge_settle_statements[] = {
	[SETTLE_FIELDS] = {"settle.fields",
		"SELECT c.table_name, c.row_id, c.field FROM change c WHERE c.row > ?1 "
		"AND c.row <= ?2 AND NOT EXISTS (SELECT 1 FROM change e WHERE e.row_id = c.row_id "
		"AND e.field = c.field AND e.table_name = c.table_name AND e.row > c.row "
		"AND e.row <= ?2) ORDER BY c.row"},
	[SETTLE_NEWEST] = {"settle.newest",
		"SELECT id, new FROM change WHERE row_id = ?1 AND field = ?2 AND table_name = ?3 "
		"ORDER BY row DESC LIMIT 1"},
	[SETTLE_FIELDS_OF_OTHER] = {"settle.fields_of_other",
		"SELECT c.table_name, c.row_id, c.field, c.set_id FROM change c ORDER BY c.row"},
	[SETTLE_FIELDS_OF_ROW] = {"settle.fields_of_row",
		"SELECT DISTINCT field FROM change WHERE row_id = ?1 AND table_name = ?2"},
	{NULL, NULL},
};

/* clang-format off */
static const struct reference references[] = {
	{"spot", "area_id", "area", false},
	{"route", "spot_id", "spot", false},
	{"tree", "host_id", "tree", false},
	{"tree", "parent_id", "tree", false},
	{"old_label", "tree_id", "tree", true},
	{"tree_spot", "tree_id", "tree", true},
	{"tree_spot", "spot_id", "spot", false},
	{"identity", "tree_id", "tree", true},
	{"trait", "tree_id", "tree", true},
	{"stem", "tree_id", "tree", true},
	{"entry", "subject_id", NULL, false},
	{"amount", "entry_id", "entry", true},
	{"detail", "entry_id", "entry", true},
	{"measure", "entry_id", "entry", true},
	{"plan", "entry_id", "entry", true},
	{"container_weight", "container_id", "container", true},
	{"own_window", "tree_id", "tree", false},
	{"own_rate", "tree_id", "tree", false},
	{"lost_season", "tree_id", "tree", false},
	{NULL, NULL, NULL, false},
};
/* clang-format on */

const struct reference *merge_references(void)
{
	return references;
}

/* --- the value of one field --- */

/* The newest change of a field in the file. STATUS_END: there is none. */
static enum status read_newest(struct merging *merging, const struct row_change *field,
	struct arena *arena, char id[ID_SIZE], const char **value, struct fault *why)
{
	sqlite3_stmt *newest = NULL;
	enum status status = rows_for(
		merging->store, &merge_settle_statements[SETTLE_NEWEST], field->id, &newest, why);
	if (status != STATUS_OK)
		return status;
	bind_text(newest, 2, field->field);
	bind_text(newest, 3, field->table);
	status = sql_step(merging->store, newest, why);
	if (status != STATUS_OK)
		return status;
	column_copy(newest, 0, id, ID_SIZE);
	*value = sqlite3_column_type(newest, 1) == SQLITE_NULL ? NULL
							       : column_arena(newest, 1, arena);
	sql_done(newest);
	return STATUS_OK;
}

/* Where the file's newest change of the field says something else, one of this merge follows it,
 * so that history and field agree in the order of rows too. Nothing is made of it elsewhere. */
static enum status tell_value(struct merging *merging, const struct row_change *field,
	const char *value, struct arena *arena, struct fault *why)
{
	char prev[ID_SIZE];
	struct change_text text = {
		.set_id = merging->store->act_id, .new_text = value, .prev = prev};
	enum status status = read_newest(merging, field, arena, prev, &text.old_text, why);
	if (status != STATUS_OK)
		return status == STATUS_END ? STATUS_OK : status;
	if (value_same(text.old_text, value))
		return STATUS_OK;
	return row_add_change(merging->store, field, &text, why);
}

enum status merge_give_value(struct merging *merging, const struct row_change *field,
	const char *value, struct arena *arena, bool *changed, struct fault *why)
{
	const char *now = NULL;
	enum status status = row_read(merging->store, field, arena, &now, why);
	if (status == STATUS_ABSENT) /* a row that stayed in the other log */
		return STATUS_OK;
	if (status == STATUS_OK)
		status = tell_value(merging, field, value, arena, why);
	if (status != STATUS_OK || value_same(now, value))
		return status;
	*changed = true;
	status = row_write(merging->store, field, value, why);
	return status == STATUS_OK ? words_rewrite(merging->store, field->table, field->id, why)
				   : status;
}

/* A field with the columns that follow it. */
static enum status settle_unit(struct merging *merging, const struct row_change *field,
	struct arena *arena, struct fault *why)
{
	struct heads heads;
	const char *name = NULL;
	bool changed = false;
	bool follower_changed = false;
	enum status status = heads_read(&merging->sight, field, arena, &heads, why);
	if (status == STATUS_OK)
		status = merge_give_value(merging, field, heads.shown, arena, &changed, why);
	merging->account->changed += changed && heads.count < 2; /* clashes are told apart */
	if (status == STATUS_OK)
		status = clash_sync(merging->store, field, &heads, why);
	for (int32_t i = 0; status == STATUS_OK &&
			    (name = field_follower(field->table, field->field, i)) != NULL;
		i++) {
		const struct row_change follower = {
			.table = field->table, .id = field->id, .field = name};
		const char *value = NULL;
		bool is_own = false;
		status = heads_companion(
			&merging->sight, &heads, heads.shown_knot, &follower, &value, &is_own, why);
		if (status == STATUS_OK && !is_own)
			status = merge_give_value(
				merging, &follower, value, arena, &follower_changed, why);
	}
	return status;
}

/* A follower goes with its leader, unless it was changed without it. */
static enum status settle_follower(struct merging *merging, const struct row_change *field,
	const struct row_change *leader, struct arena *arena, struct fault *why)
{
	struct heads heads;
	const char *value = NULL;
	bool is_own = false;
	enum status status = heads_read(&merging->sight, leader, arena, &heads, why);
	if (status == STATUS_OK)
		status = heads_companion(
			&merging->sight, &heads, heads.shown_knot, field, &value, &is_own, why);
	if (status != STATUS_OK)
		return status;
	return settle_unit(merging, is_own ? field : leader, arena, why);
}

enum status merge_settle_field(
	struct merging *merging, const struct row_change *field, struct fault *why)
{
	bool counts = false;
	const char *leader = field_leader(field->table, field->field);
	const struct row_change led_by = {.table = field->table, .id = field->id, .field = leader};
	enum status status = row_counts(&merging->sight, field->table, field->id, &counts, why);
	if (status != STATUS_OK || !counts)
		return status == STATUS_OK ? merge_lie_low(merging, field, why) : status;
	struct arena *arena = arena_new();
	status = leader == NULL ? settle_unit(merging, field, arena, why)
				: settle_follower(merging, field, &led_by, arena, why);
	arena_free(arena);
	return status;
}

enum status merge_lie_low(
	struct merging *merging, const struct row_change *field, struct fault *why)
{
	char newest[ID_SIZE];
	bool changed = false;
	const char *value = NULL;
	const struct change_text first = {
		.set_id = merging->store->act_id, .old_text = "0", .new_text = "1", .prev = ""};
	bool is_struck = strcmp(field->field, "struck") == 0;
	struct arena *arena = arena_new();
	enum status status = read_newest(merging, field, arena, newest, &value, why);
	if (status == STATUS_END && is_struck)
		status = row_add_change(merging->store, field, &first, why);
	if (status == STATUS_OK)
		status = merge_give_value(
			merging, field, is_struck ? "1" : value, arena, &changed, why);
	arena_free(arena);
	return status == STATUS_END ? STATUS_OK : status;
}

/* --- every field that the union touched --- */

static struct row_change field_at(sqlite3_stmt *row)
{
	return (struct row_change){.table = (const char *)sqlite3_column_text(row, 0),
		.id = (const char *)sqlite3_column_text(row, 1),
		.field = (const char *)sqlite3_column_text(row, 2)};
}

static enum status settle_new_changes(struct merging *merging, struct fault *why)
{
	sqlite3_stmt *rows = NULL;
	enum status status =
		sql_prepare(merging->store, merge_settle_statements[SETTLE_FIELDS].sql, &rows, why);
	if (status != STATUS_OK)
		return status;
	bind_i64(rows, 1, merging->changes_before);
	bind_i64(rows, 2, merging->changes_brought);
	while ((status = sql_step(merging->store, rows, why)) == STATUS_OK) {
		const struct row_change field = field_at(rows);
		status = merge_settle_field(merging, &field, why);
		if (status != STATUS_OK)
			break;
	}
	sqlite3_finalize(rows);
	return status == STATUS_END ? STATUS_OK : status;
}

/* Acts that came back have their changes and rows here already. */
static enum status settle_old_changes(struct merging *merging, struct fault *why)
{
	sqlite3_stmt *rows = NULL;
	enum status status = sql_prepare(
		merging->other, merge_settle_statements[SETTLE_FIELDS_OF_OTHER].sql, &rows, why);
	while (status == STATUS_OK && (status = sql_step(merging->other, rows, why)) == STATUS_OK) {
		const struct row_change field = field_at(rows);
		bool is_brought = false;
		status = merge_is_brought(merging, column_word(rows, 3), &is_brought, why);
		if (status == STATUS_OK && is_brought && strcmp(field.table, "clash") != 0)
			status = merge_settle_field(merging, &field, why);
	}
	sqlite3_finalize(rows);
	return status == STATUS_END ? STATUS_OK : status;
}

/* Every field of a row that came back: what an act that stays away had made of them is over. */
static enum status settle_row(
	struct merging *merging, const char *table, const char *id, struct fault *why)
{
	sqlite3_stmt *fields = NULL;
	enum status status = sql_prepare(
		merging->store, merge_settle_statements[SETTLE_FIELDS_OF_ROW].sql, &fields, why);
	if (status != STATUS_OK)
		return status;
	bind_text(fields, 1, id);
	bind_text(fields, 2, table);
	while ((status = sql_step(merging->store, fields, why)) == STATUS_OK) {
		const struct row_change field = {.table = table,
			.id = id,
			.field = (const char *)sqlite3_column_text(fields, 0)};
		status = merge_settle_field(merging, &field, why);
		if (status != STATUS_OK)
			break;
	}
	sqlite3_finalize(fields);
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status settle_old_rows(
	struct merging *merging, const char *table, int64_t last, struct fault *why)
{
	char sql[128];
	sqlite3_stmt *rows = NULL;
	(void)snprintf(sql, sizeof sql, "SELECT id, made FROM %s WHERE row <= ?1", table);
	enum status status = sql_prepare(merging->store, sql, &rows, why);
	if (status == STATUS_OK)
		bind_i64(rows, 1, last);
	while (status == STATUS_OK && (status = sql_step(merging->store, rows, why)) == STATUS_OK) {
		bool is_brought = false;
		status = merge_is_brought(merging, column_word(rows, 1), &is_brought, why);
		if (status == STATUS_OK && is_brought)
			status = settle_row(merging, table, column_word(rows, 0), why);
	}
	sqlite3_finalize(rows);
	return status == STATUS_END ? STATUS_OK : status;
}

enum status merge_settle(struct merging *merging, struct fault *why)
{
	const struct table_row_kind *tables = store_tables();
	enum status status = sql_one_integer(merging->store,
		"SELECT coalesce(max(row), 0) FROM change", &merging->changes_brought, why);
	if (status == STATUS_OK)
		status = settle_new_changes(merging, why);
	if (status == STATUS_OK && merging->holds)
		status = merge_settle_held(merging, why);
	if (status != STATUS_OK || !merging->came_back)
		return status;
	status = settle_old_changes(merging, why);
	for (int32_t i = 0; tables[i].name != NULL && status == STATUS_OK; i++)
		if (tables[i].in_history && strcmp(tables[i].name, "clash") != 0)
			status = settle_old_rows(
				merging, tables[i].name, merging->rows_before[i], why);
	return status;
}
