/* SPDX-License-Identifier: MIT */
/* What was typed in the other log upon a merge, and was undone before that merge was, comes here as
 * all that was typed there; a third copy may know half of it and have gone on from there. What it
 * hangs on its grower declined: that comes along only as far as it is needed, lies struck, and does
 * not count. */
#include "merging.h"
#include "rows.h"
#include "statements.h"

#include <stdio.h>
#include <string.h>

enum { HELD_HAS_SET, HELD_SET };

const struct statement merge_held_statements[] = {
	[HELD_HAS_SET] = {"held.has_set", "SELECT 1 FROM change_set WHERE id = ?1"},
	[HELD_SET] = {"held.set", "SELECT id, typed_at, what, kind, undoes, device "
				  "FROM change_set WHERE id = ?1"},
	{NULL, NULL},
};

enum { HELD_SQL_SIZE = 320 };

struct holding {
	struct merging *merging;
	bool added; /* in this round */
};

static enum status has_set(struct store *store, const char *id, bool *out, struct fault *why)
{
	sqlite3_stmt *find = NULL;
	enum status status = rows_for(store, &merge_held_statements[HELD_HAS_SET], id, &find, why);
	if (status == STATUS_OK)
		status = sql_step(store, find, why);
	*out = status == STATUS_OK;
	if (find != NULL)
		sql_done(find);
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status hold_set(struct holding *holding, const char *id, struct fault *why)
{
	struct merging *merging = holding->merging;
	bool is_local = false;
	sqlite3_stmt *row = NULL;
	enum status status =
		rows_for(merging->other, &merge_held_statements[HELD_SET], id, &row, why);
	if (status == STATUS_OK)
		status = sql_step(merging->other, row, why);
	if (status == STATUS_OK)
		status = set_is_local(
			merging->other, column_word(row, 3), column_word(row, 4), &is_local, why);
	if (status == STATUS_OK && !is_local) {
		status = merge_take_set(merging, row, SIGHT_HELD, why);
		merging->holds = true;
		holding->added = true;
	}
	if (row != NULL)
		sql_done(row);
	return status == STATUS_END ? STATUS_OK : status;
}

/* An act that is here, and one that it needs. */
static enum status look_at_need(
	struct holding *holding, const char *user, const char *needed, struct fault *why)
{
	struct store *store = holding->merging->store;
	bool has_user = false;
	bool has_needed = true;
	enum status status = has_set(store, user, &has_user, why);
	if (status == STATUS_OK && has_user)
		status = has_set(store, needed, &has_needed, why);
	return status == STATUS_OK && !has_needed ? hold_set(holding, needed, why) : status;
}

/* An act that changed a row, and the one that made it. What is held of a row is held whole: the
 * other log has it as all these acts left it. */
static enum status look_at_row(
	struct holding *holding, const char *changer, const char *maker, struct fault *why)
{
	bool is_held = false;
	enum status status = look_at_need(holding, changer, maker, why);
	if (status == STATUS_OK)
		status = merge_is_held(holding->merging, maker, &is_held, why);
	return status == STATUS_OK && is_held ? look_at_need(holding, maker, changer, why) : status;
}

typedef enum status look_at_pair(
	struct holding *holding, const char *one, const char *other, struct fault *why);

static enum status look_at_each(
	struct holding *holding, const char *sql, look_at_pair *look, struct fault *why)
{
	struct store *other = holding->merging->other;
	sqlite3_stmt *pairs = NULL;
	enum status status = sql_prepare(other, sql, &pairs, why);
	while (status == STATUS_OK && (status = sql_step(other, pairs, why)) == STATUS_OK) {
		char one[ID_SIZE];
		char needed[ID_SIZE];
		column_copy(pairs, 0, one, sizeof one);
		column_copy(pairs, 1, needed, sizeof needed);
		status = look(holding, one, needed, why);
	}
	sqlite3_finalize(pairs);
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status look_at_tables(struct holding *holding, struct fault *why)
{
	char sql[HELD_SQL_SIZE];
	enum status status = STATUS_OK;
	for (const struct table_row_kind *table = store_tables();
		table->name != NULL && status == STATUS_OK; table++) {
		if (!table->in_history || strcmp(table->name, "clash") == 0 ||
			strcmp(table->name, "place") == 0)
			continue;
		(void)snprintf(sql, sizeof sql,
			"SELECT DISTINCT c.set_id, r.made FROM change c JOIN %s r "
			"ON r.id = c.row_id WHERE c.table_name = '%s' AND c.set_id <> r.made",
			table->name, table->name);
		status = look_at_each(holding, sql, look_at_row, why);
	}
	return status;
}

static enum status look_at_references(struct holding *holding, struct fault *why)
{
	char sql[HELD_SQL_SIZE];
	enum status status = STATUS_OK;
	for (const struct reference *r = merge_references();
		r->table != NULL && status == STATUS_OK; r++) {
		if (r->parent == NULL)
			continue;
		(void)snprintf(sql, sizeof sql,
			"SELECT DISTINCT r.made, p.made FROM %s r JOIN %s p ON p.id = r.%s "
			"WHERE r.made <> p.made",
			r->table, r->parent, r->column);
		status = look_at_each(holding, sql, look_at_need, why);
	}
	return status;
}

enum status merge_hold(struct merging *merging, struct fault *why)
{
	struct holding holding = {.merging = merging, .added = true};
	enum status status = STATUS_OK;
	while (status == STATUS_OK && holding.added) {
		holding.added = false;
		status = look_at_each(&holding,
			"SELECT DISTINCT c.set_id, p.set_id FROM change c JOIN change p "
			"ON p.id = c.prev WHERE c.set_id <> p.set_id AND c.table_name <> 'clash'",
			look_at_need, why);
		if (status == STATUS_OK)
			status = look_at_each(&holding,
				"SELECT id, undoes FROM change_set WHERE undoes IS NOT NULL",
				look_at_need, why);
		if (status == STATUS_OK)
			status = look_at_tables(&holding, why);
		if (status == STATUS_OK)
			status = look_at_references(&holding, why);
	}
	return status;
}

enum status merge_settle_held(struct merging *merging, struct fault *why)
{
	const struct table_row_kind *tables = store_tables();
	enum status status = STATUS_OK;
	for (int32_t i = 0; tables[i].name != NULL && status == STATUS_OK; i++) {
		char sql[HELD_SQL_SIZE];
		sqlite3_stmt *rows = NULL;
		if (!tables[i].in_history || strcmp(tables[i].name, "place") == 0)
			continue;
		(void)snprintf(sql, sizeof sql,
			"SELECT r.id FROM %s r JOIN meta m ON m.key = 'foreign:' || r.made "
			"WHERE r.row > ?1 AND m.value = '" SIGHT_HELD "'",
			tables[i].name);
		status = sql_prepare(merging->store, sql, &rows, why);
		if (status == STATUS_OK)
			bind_i64(rows, 1, merging->rows_before[i]);
		while (status == STATUS_OK &&
			(status = sql_step(merging->store, rows, why)) == STATUS_OK) {
			const struct row_change field = {.table = tables[i].name,
				.id = column_word(rows, 0),
				.field = "struck"};
			status = merge_lie_low(merging, &field, why);
		}
		sqlite3_finalize(rows);
		status = status == STATUS_END ? STATUS_OK : status;
	}
	return status;
}
