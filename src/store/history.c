/* SPDX-License-Identifier: MIT */
/* What happened to a record, its parts with it: the amounts of an entry, what a tree was taken for
 * and where it stood. */
#include "statements.h"
#include "tables.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { HISTORY_SETS, HISTORY_SET, HISTORY_CHANGES, HISTORY_LAST };

#define SET_COLUMNS "s.id, s.typed_at, s.what, s.kind"

const struct statement history_statements[] = {
	[HISTORY_SETS] = {"history.sets",
		"SELECT " SET_COLUMNS ", EXISTS (SELECT 1 FROM change_set t WHERE t.undoes = s.id) "
		"FROM change_set s ORDER BY s.row DESC LIMIT ?1"},
	[HISTORY_SET] = {"history.set",
		"SELECT " SET_COLUMNS ", s.row FROM change_set s WHERE s.id = ?1"},
	[HISTORY_CHANGES] = {"history.changes",
		"SELECT " SET_COLUMNS ", c.field, c.old, c.new, c.row, s.row FROM change c "
		"JOIN change_set s ON s.id = c.set_id WHERE c.row_id = ?1 AND c.table_name = ?2 "
		"ORDER BY c.row"},
	[HISTORY_LAST] = {"history.last", "SELECT id FROM change_set ORDER BY row DESC LIMIT 1"},
	{NULL, NULL},
};

struct part {
	const char *table;
	const char *owner; /* the column that names the record it belongs to */
};

static const struct part parts[] = {
	{"amount", "entry_id"},
	{"detail", "entry_id"},
	{"measure", "entry_id"},
	{"plan", "entry_id"},
	{"identity", "tree_id"},
	{"trait", "tree_id"},
	{"stem", "tree_id"},
	{"tree_spot", "tree_id"},
	{"old_label", "tree_id"},
	{"entry", "subject_id"},
};

/* A row of the answer with what it is ordered by. */
struct told {
	struct change_row row;
	int64_t set_row;
	int64_t change_row; /* 0: the making of the row */
	int32_t place;      /* in which it was found */
};

struct telling {
	struct store *store;
	struct arena *arena;
	struct told *told;
	int32_t count;
	int32_t room;
	char made[ID_SIZE]; /* the set that made the record itself */
};

static struct told *tell(struct telling *telling)
{
	if (telling->count == telling->room) {
		int32_t room = telling->room == 0 ? 16 : telling->room * 2;
		telling->told = arena_grow(telling->arena, telling->told,
			sizeof *telling->told * (size_t)telling->count,
			sizeof *telling->told * (size_t)room);
		telling->room = room;
	}
	struct told *told = &telling->told[telling->count];
	told->place = telling->count++;
	return told;
}

static void read_set(sqlite3_stmt *statement, struct arena *arena, struct change_row *out)
{
	column_copy(statement, 0, out->set_id, sizeof out->set_id);
	column_copy(statement, 1, out->typed_at, sizeof out->typed_at);
	out->what = column_arena(statement, 2, arena);
	out->kind = column_arena(statement, 3, arena);
	out->table_name = "";
	out->field = "";
}

static const char *text_or_null(sqlite3_stmt *statement, int column, struct arena *arena)
{
	const unsigned char *text = sqlite3_column_text(statement, column);
	return text == NULL ? NULL : arena_text(arena, (const char *)text);
}

static enum status tell_made(
	struct telling *telling, const char *table, const char *made, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status =
		sql_get(telling->store, &history_statements[HISTORY_SET], &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_text(statement, 1, made);
	status = sql_step(telling->store, statement, why);
	if (status == STATUS_OK) {
		struct told *told = tell(telling);
		read_set(statement, telling->arena, &told->row);
		told->row.table_name = table;
		told->set_row = sqlite3_column_int64(statement, 4);
		sql_done(statement);
	}
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status tell_changes(
	struct telling *telling, const char *table, const char *id, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status =
		sql_get(telling->store, &history_statements[HISTORY_CHANGES], &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_text(statement, 1, id);
	bind_text(statement, 2, table);
	while ((status = sql_step(telling->store, statement, why)) == STATUS_OK) {
		struct told *told = tell(telling);
		read_set(statement, telling->arena, &told->row);
		told->row.table_name = table;
		told->row.field = column_arena(statement, 4, telling->arena);
		told->row.old_value = text_or_null(statement, 5, telling->arena);
		told->row.new_value = text_or_null(statement, 6, telling->arena);
		told->change_row = sqlite3_column_int64(statement, 7);
		told->set_row = sqlite3_column_int64(statement, 8);
	}
	return status == STATUS_END ? STATUS_OK : status;
}

/* The rows of a table whose column is the id. The making of a part is told when it came later
 * than the record. */
static enum status tell_rows(
	struct telling *telling, const struct part *part, const char *id, struct fault *why)
{
	char sql[160];
	sqlite3_stmt *rows = NULL;
	bool is_record = strcmp(part->owner, "id") == 0;
	snprintf(sql, sizeof sql, "SELECT id, made FROM %s WHERE %s = ?1 ORDER BY row", part->table,
		part->owner);
	enum status status = sql_prepare(telling->store, sql, &rows, why);
	if (status != STATUS_OK)
		return status;
	bind_text(rows, 1, id);
	while ((status = sql_step(telling->store, rows, why)) == STATUS_OK) {
		char row_id[ID_SIZE];
		char made[ID_SIZE];
		column_copy(rows, 0, row_id, sizeof row_id);
		column_copy(rows, 1, made, sizeof made);
		if (is_record)
			memcpy(telling->made, made, sizeof made);
		if (is_record || strcmp(made, telling->made) != 0)
			status = tell_made(telling, part->table, made, why);
		if (status == STATUS_OK)
			status = tell_changes(telling, part->table, row_id, why);
		if (status != STATUS_OK)
			break;
	}
	sqlite3_finalize(rows);
	return status == STATUS_END ? STATUS_OK : status;
}

static int compare_told(const void *a, const void *b)
{
	const struct told *one = a;
	const struct told *other = b;
	if (one->set_row != other->set_row)
		return one->set_row < other->set_row ? -1 : 1;
	if (one->change_row != other->change_row)
		return one->change_row < other->change_row ? -1 : 1;
	return one->place < other->place ? -1 : one->place > other->place;
}

static enum status tell_record(struct telling *telling, const char *row_id, struct fault *why)
{
	enum status status = STATUS_OK;
	for (const struct table_row_kind *table = store_tables();
		table->name != NULL && status == STATUS_OK && telling->count == 0; table++) {
		const struct part record = {.table = table->name, .owner = "id"};
		if (table->in_history)
			status = tell_rows(telling, &record, row_id, why);
	}
	for (size_t i = 0; i < sizeof parts / sizeof parts[0] && status == STATUS_OK; i++)
		status = tell_rows(telling, &parts[i], row_id, why);
	if (status == STATUS_OK && telling->count > 1)
		qsort(telling->told, (size_t)telling->count, sizeof *telling->told, compare_told);
	return status;
}

static enum status tell_acts(struct telling *telling, int32_t most, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status =
		sql_get(telling->store, &history_statements[HISTORY_SETS], &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_i64(statement, 1, most > 0 ? most : -1);
	while ((status = sql_step(telling->store, statement, why)) == STATUS_OK) {
		struct change_row *row = &tell(telling)->row;
		read_set(statement, telling->arena, row);
		row->taken_back = sqlite3_column_int(statement, 4) != 0;
	}
	return status == STATUS_END ? STATUS_OK : status;
}

enum status store_history(struct store *store, const char *row_id, int32_t most,
	struct arena *arena, struct change_row **out, int32_t *count, struct fault *why)
{
	struct telling telling = {.store = store, .arena = arena};
	enum status status = row_id == NULL ? tell_acts(&telling, most, why)
					    : tell_record(&telling, row_id, why);
	*count = 0;
	if (status != STATUS_OK)
		return status;
	*out = arena_array(arena, (size_t)telling.count, sizeof **out);
	for (int32_t i = 0; i < telling.count; i++)
		(*out)[i] = telling.told[i].row;
	*count = telling.count;
	return STATUS_OK;
}

enum status store_last_change(struct store *store, char out[ID_SIZE], struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	out[0] = '\0';
	enum status status = sql_get(store, &history_statements[HISTORY_LAST], &statement, why);
	if (status != STATUS_OK)
		return status;
	status = sql_step(store, statement, why);
	if (status == STATUS_OK)
		column_copy(statement, 0, out, ID_SIZE);
	sql_done(statement);
	return status == STATUS_END ? STATUS_OK : status;
}
