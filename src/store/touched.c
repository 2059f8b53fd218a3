/* SPDX-License-Identifier: MIT */
/* Which trees and spots a change set bears on, for what is worked out from them (season turns). */
#include "statements.h"

#include <string.h>

#include "store/touched.h"

enum { TOUCHED_SUBJECTS, TOUCHED_ALL };

/* Rows that the set changed: an undo or a redo changes `struck` of what the set it turns made. */
#define CHANGED(table)                                                      \
	"change c JOIN " table " t ON t.id = c.row_id WHERE c.set_id = ?1 " \
	"AND c.table_name = '" table "' "

/* clang-format off */
const struct statement touched_statements[] = {
	[TOUCHED_SUBJECTS] = {"touched.subjects",
		"SELECT 1 AS is_tree, t.tree_id AS id FROM " CHANGED("identity")
		"UNION SELECT 1, t.tree_id FROM " CHANGED("tree_spot")
		"UNION SELECT 0, t.spot_id FROM " CHANGED("tree_spot")
		"UNION SELECT 1, t.id FROM " CHANGED("tree")
		"UNION SELECT 1, t.tree_id FROM " CHANGED("own_window") "AND t.tree_id IS NOT NULL "
		"ORDER BY is_tree, id"},
	[TOUCHED_ALL] = {"touched.all",
		"SELECT 1 FROM change WHERE set_id = ?1 AND table_name = 'place' "
		"UNION SELECT 1 FROM " CHANGED("own_window") "AND t.tree_id IS NULL LIMIT 1"},
	{NULL, NULL},
};
/* clang-format on */

enum { TOUCHED_FIRST_ROOM = 16 };

static enum status ask(
	struct store *store, int which, const char *set_id, sqlite3_stmt **out, struct fault *why)
{
	enum status status = sql_get(store, &touched_statements[which], out, why);
	if (status == STATUS_OK)
		bind_text(*out, 1, set_id);
	return status;
}

static enum status all_are_touched(
	struct store *store, const char *set_id, bool *all, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = ask(store, TOUCHED_ALL, set_id, &statement, why);
	if (status != STATUS_OK)
		return status;
	status = sql_step(store, statement, why);
	*all = status == STATUS_OK;
	sql_done(statement);
	return status == STATUS_END ? STATUS_OK : status;
}

enum status store_touched(struct store *store, const char *set_id, struct arena *arena,
	struct touched *out, struct fault *why)
{
	*out = (struct touched){.all = false};
	enum status status = all_are_touched(store, set_id, &out->all, why);
	if (status != STATUS_OK || out->all)
		return status;
	sqlite3_stmt *statement = NULL;
	int32_t room = 0;
	status = ask(store, TOUCHED_SUBJECTS, set_id, &statement, why);
	while (status == STATUS_OK && (status = sql_step(store, statement, why)) == STATUS_OK) {
		if (out->count == room) {
			size_t size = sizeof *out->subjects;
			room = room == 0 ? TOUCHED_FIRST_ROOM : 2 * room;
			out->subjects = arena_grow(arena, out->subjects, (size_t)out->count * size,
				(size_t)room * size);
		}
		struct subject *subject = &out->subjects[out->count++];
		subject->kind = sqlite3_column_int(statement, 0) == 1 ? SUBJECT_TREE : SUBJECT_SPOT;
		column_copy(statement, 1, subject->id, sizeof subject->id);
	}
	if (statement != NULL)
		sql_done(statement);
	return status == STATUS_END ? STATUS_OK : status;
}
