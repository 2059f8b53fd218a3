/* SPDX-License-Identifier: MIT */
/* What one act did: the rows it made, then the fields it changed, each with a name that says which
 * row it is. */
#include "statements.h"
#include "rows.h"

#include <stdio.h>
#include <string.h>

enum { SET_CHANGES };

const struct statement history_set_statements[] = {
	[SET_CHANGES] = {"history.set_changes",
		"SELECT table_name, row_id, field, old, new FROM change WHERE set_id = ?1 "
		"ORDER BY row LIMIT ?2"},
	{NULL, NULL},
};

/* How a row is called, where its table gives it a name of its own. Parts of entries and trees have
 * none: the record they belong to is told. */
static const struct naming {
	const char *table;
	const char *sql; /* of its alias x */
} namings[] = {
	{"entry", "ifnull((SELECT t.label || ': ' FROM tree t WHERE t.id = x.subject_id AND "
		  "substr(x.words, 1, length(t.label)) <> t.label), '') || x.words"},
	{"tree", "x.label"},
	{"area", "x.name"},
	{"spot", "x.name"},
	{"obstacle", "x.name"},
	{"identity", "ifnull((SELECT t.label || ' is ' FROM tree t WHERE t.id = x.tree_id), '') "
		     "|| x.name"},
	{"product", "x.name"},
	{"container", "x.name"},
	{"layout", "x.name"},
	{"answer", "x.reason"},
	{"place", "x.name"},
	{"weather_day", "x.day"},
};

struct telling {
	struct store *store;
	struct arena *arena;
	struct row_list rows;
	int32_t most;
};

static const char *name_of(const char *table)
{
	for (size_t i = 0; i < sizeof namings / sizeof namings[0]; i++)
		if (strcmp(namings[i].table, table) == 0)
			return namings[i].sql;
	return NULL;
}

static enum status tell_made(
	struct telling *telling, const char *table, const char *set_id, struct fault *why)
{
	char sql[400];
	sqlite3_stmt *made = NULL;
	snprintf(sql, sizeof sql, "SELECT %s FROM %s x WHERE x.made = ?1 ORDER BY x.row LIMIT ?2",
		name_of(table), table);
	enum status status = sql_prepare(telling->store, sql, &made, why);
	if (status != STATUS_OK)
		return status;
	bind_text(made, 1, set_id);
	bind_i64(made, 2, telling->most);
	while ((status = sql_step(telling->store, made, why)) == STATUS_OK) {
		struct change_row *row = row_list_add(&telling->rows);
		row->what = column_arena(made, 0, telling->arena);
		row->table_name = table;
		row->kind = row->field = "";
	}
	sqlite3_finalize(made);
	return status == STATUS_END ? STATUS_OK : status;
}

/* The name of a row that was changed; its table alone where it has none. */
static enum status name_row(
	struct telling *telling, struct change_row *row, const char *id, struct fault *why)
{
	char sql[400];
	sqlite3_stmt *named = NULL;
	const char *naming = name_of(row->table_name);
	row->what = "";
	if (naming == NULL)
		return STATUS_OK;
	snprintf(sql, sizeof sql, "SELECT %s FROM %s x WHERE x.id = ?1", naming, row->table_name);
	enum status status = sql_prepare(telling->store, sql, &named, why);
	if (status != STATUS_OK)
		return status;
	bind_text(named, 1, id);
	status = sql_step(telling->store, named, why);
	if (status == STATUS_OK)
		row->what = column_arena(named, 0, telling->arena);
	sqlite3_finalize(named);
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status tell_changes(struct telling *telling, const char *set_id, struct fault *why)
{
	char id[ID_SIZE];
	sqlite3_stmt *changes = NULL;
	enum status status =
		sql_get(telling->store, &history_set_statements[SET_CHANGES], &changes, why);
	if (status != STATUS_OK)
		return status;
	bind_text(changes, 1, set_id);
	bind_i64(changes, 2, telling->most);
	while ((status = sql_step(telling->store, changes, why)) == STATUS_OK) {
		struct change_row *row = row_list_add(&telling->rows);
		row->table_name = column_arena(changes, 0, telling->arena);
		column_copy(changes, 1, id, sizeof id);
		row->kind = "";
		row->field = column_arena(changes, 2, telling->arena);
		row->old_value = sqlite3_column_type(changes, 3) == SQLITE_NULL
					 ? NULL
					 : column_arena(changes, 3, telling->arena);
		row->new_value = sqlite3_column_type(changes, 4) == SQLITE_NULL
					 ? NULL
					 : column_arena(changes, 4, telling->arena);
		status = name_row(telling, row, id, why);
		if (status != STATUS_OK)
			break;
	}
	sql_done(changes);
	return status == STATUS_END ? STATUS_OK : status;
}

enum status store_history_set(struct store *store, const char *set_id, int32_t most,
	struct arena *arena, struct change_row **out, int32_t *count, struct fault *why)
{
	struct telling telling = {.store = store,
		.arena = arena,
		.rows = {.arena = arena, .size = sizeof(struct change_row)},
		.most = most};
	enum status status = STATUS_OK;
	for (size_t i = 0; status == STATUS_OK && i < sizeof namings / sizeof namings[0]; i++)
		status = tell_made(&telling, namings[i].table, set_id, why);
	if (status == STATUS_OK)
		status = tell_changes(&telling, set_id, why);
	*out = telling.rows.items;
	*count = telling.rows.count;
	return status;
}
