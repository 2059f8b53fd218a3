/* SPDX-License-Identifier: MIT */
/* What stays behind with the trees and the notes that are private: gathered into temp tables of
 * this connection, which go with the transaction. The log itself is only read. */
#include "shapes.h"

#include "core/text.h"

#include <string.h>

/* clang-format off */
static const char *const trees_and_spots =
	"CREATE TEMP TABLE left_out (id TEXT PRIMARY KEY NOT NULL) WITHOUT ROWID; "
	"CREATE TEMP TABLE touched (id TEXT PRIMARY KEY NOT NULL) WITHOUT ROWID; "
	"INSERT INTO left_out WITH RECURSIVE hidden (id) AS (SELECT id FROM tree WHERE is_private = 1 "
	"UNION SELECT t.id FROM tree t JOIN hidden h ON t.host_id = h.id) SELECT id FROM hidden; "
	"INSERT OR IGNORE INTO left_out SELECT p.spot_id FROM tree_spot p "
	"WHERE p.tree_id IN (SELECT id FROM left_out) AND NOT EXISTS (SELECT 1 FROM tree_spot q "
	"WHERE q.spot_id = p.spot_id AND q.tree_id NOT IN (SELECT id FROM left_out))";
/* As text_is_private has it. */
#define IS_PRIVATE(column) \
	"(ltrim(" column ", ' (') LIKE 'private:%' OR trim(" column ", ' ()') LIKE 'private')"
/* Entries marked private, and those that once were: what was said then stays behind too. */
static const char *const entries =
	"INSERT OR IGNORE INTO left_out SELECT id FROM entry WHERE " IS_PRIVATE("note") "; "
	"INSERT OR IGNORE INTO left_out SELECT e.id FROM entry e JOIN detail d ON d.entry_id = e.id "
	"AND d.field = 'words' AND " IS_PRIVATE("d.value") " WHERE e.kind = 'note'";
static const char *const told_before =
	"INSERT OR IGNORE INTO left_out SELECT c.id FROM change c JOIN change n "
	"ON n.row_id = c.row_id AND n.field IN ('note', 'value') "
	"WHERE c.field IN ('note', 'value', 'words') AND (" IS_PRIVATE("n.old") " OR "
	IS_PRIVATE("n.new") ")";
/* The key of a flag is its rule, then what it is about. */
static const char *const answers =
	"INSERT OR IGNORE INTO left_out SELECT id FROM answer "
	"WHERE substr(flag_key, instr(flag_key, '|') + 1, 26) IN (SELECT id FROM left_out)";
/* Of a field that ever named what stays behind the whole story stays behind. */
static const char *const stories =
	"INSERT OR IGNORE INTO left_out SELECT c.id FROM change c JOIN change n "
	"ON n.row_id = c.row_id AND n.field = c.field "
	"WHERE n.old IN (SELECT id FROM left_out) OR n.new IN (SELECT id FROM left_out)";
static const char *const acts =
	"INSERT OR IGNORE INTO left_out SELECT id FROM touched "
	"WHERE id NOT IN (SELECT id FROM temp.kept); "
	"DELETE FROM touched WHERE id IN (SELECT id FROM left_out)";
/* clang-format on */

/* Rows that belong to one that stays behind. */
static enum status find_owned(struct store *store, const struct table_shape *shapes, int32_t count,
	struct arena *arena, struct fault *why)
{
	static const char *const owners[] = {
		"tree_id", "spot_id", "entry_id", "subject_id", "row_id"};
	enum status status = STATUS_OK;
	for (int32_t i = 0; i < count; i++)
		for (int32_t at = 0; at < shapes[i].count; at++)
			for (size_t k = 0; k < sizeof owners / sizeof owners[0]; k++)
				if (status == STATUS_OK &&
					strcmp(shapes[i].columns[at].name, owners[k]) == 0)
					status = sql_exec(store,
						arena_format(arena,
							"INSERT OR IGNORE INTO left_out "
							"SELECT id FROM %s WHERE %s IN "
							"(SELECT id FROM left_out)",
							shapes[i].name, owners[k]),
						why);
	return status;
}

/* "made" in records, "set_id" in changes; NULL: rows of that table belong to no act. */
static const char *act_column(const struct table_shape *shape)
{
	for (int32_t at = 0; at < shape->count; at++)
		if (strcmp(shape->columns[at].name, "made") == 0 ||
			strcmp(shape->columns[at].name, "set_id") == 0)
			return shape->columns[at].name;
	return NULL;
}

/* Acts that wrote a row that stays behind, and those of them that wrote another one too. */
static enum status find_acts(struct store *store, const struct table_shape *shapes, int32_t count,
	struct arena *arena, struct fault *why)
{
	enum status status = sql_exec(
		store, "CREATE TEMP TABLE kept (id TEXT PRIMARY KEY NOT NULL) WITHOUT ROWID", why);
	for (int step = 0; step < 2; step++)
		for (int32_t i = 0; i < count && status == STATUS_OK; i++) {
			const char *act = act_column(&shapes[i]);
			const char *table = shapes[i].name;
			if (act == NULL)
				continue;
			const char *sql =
				step == 0 ? arena_format(arena,
						    "INSERT OR IGNORE INTO touched SELECT %s FROM "
						    "%s WHERE id IN (SELECT id FROM left_out)",
						    act, table)
					  : arena_format(arena,
						    "INSERT OR IGNORE INTO temp.kept SELECT %s "
						    "FROM %s WHERE %s IN (SELECT id FROM touched) "
						    "AND id NOT IN (SELECT id FROM left_out)",
						    act, table, act);
			status = sql_exec(store, sql, why);
		}
	return status == STATUS_OK ? sql_exec(store, acts, why) : status;
}

enum status private_find(struct store *store, struct fault *why)
{
	struct arena *arena = arena_new();
	struct table_shape *shapes = NULL;
	int32_t count = 0;
	enum status status = shapes_read(store, arena, &shapes, &count, why);
	if (status == STATUS_OK)
		status = sql_exec(store, trees_and_spots, why);
	if (status == STATUS_OK)
		status = sql_exec(store, entries, why);
	if (status == STATUS_OK)
		status = find_owned(store, shapes, count, arena, why);
	if (status == STATUS_OK)
		status = sql_exec(store, answers, why);
	if (status == STATUS_OK) /* amounts of entries; changes of all of these */
		status = find_owned(store, shapes, count, arena, why);
	if (status == STATUS_OK)
		status = sql_exec(store, stories, why);
	if (status == STATUS_OK)
		status = sql_exec(store, told_before, why);
	if (status == STATUS_OK)
		status = find_acts(store, shapes, count, arena, why);
	arena_free(arena);
	return status;
}

const char *private_columns(const struct table_shape *shape, struct arena *arena)
{
	struct text_builder columns = text_builder_in(arena);
	bool is_act = strcmp(shape->name, "change_set") == 0;
	bool is_tree = strcmp(shape->name, "tree") == 0;
	for (int32_t i = 0; i < shape->count; i++) {
		const struct table_column *column = &shape->columns[i];
		text_add(&columns, i == 0 ? "" : ", ");
		if (is_act && strcmp(column->name, "what") == 0)
			text_add(&columns, "CASE WHEN id IN (SELECT id FROM touched) THEN "
					   "'something, part of it private' ELSE what END");
		else if (is_tree && strcmp(column->name, "note") == 0)
			text_add(
				&columns, "CASE WHEN " IS_PRIVATE("note") " THEN '' ELSE note END");
		else if (column->may_be_null && !column->is_integer)
			text_add_format(&columns,
				"CASE WHEN %s IN (SELECT id FROM left_out) THEN NULL ELSE %s END",
				column->name, column->name);
		else
			text_add(&columns, column->name);
	}
	return columns.text;
}
