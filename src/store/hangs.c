/* SPDX-License-Identifier: MIT */
#include "hangs.h"

#include <stdio.h>

/* Parts of an entry go with it and are not told; a spot of the past may be gone. */
/* clang-format off */
static const struct link {
	const char *table, *column, *on;
	const char *holds; /* of its alias r: only then */
} links[] = {
	{"spot", "area_id", "area", "1"},
	{"tree", "host_id", "tree", "1"},
	{"tree", "parent_id", "tree", "1"},
	{"tree_spot", "spot_id", "spot", "r.to_day IS NULL AND NOT EXISTS (SELECT 1 FROM tree t "
		"WHERE t.id = r.tree_id AND t.is_gone = 1)"},
	{"tree_spot", "tree_id", "tree", "1"},
	{"old_label", "tree_id", "tree", "1"},
	{"identity", "tree_id", "tree", "1"},
	{"trait", "tree_id", "tree", "1"},
	{"stem", "tree_id", "tree", "1"},
	{"entry", "subject_id", "tree", "1"},
	{"own_window", "tree_id", "tree", "1"},
	{"own_rate", "tree_id", "tree", "1"},
	{"lost_season", "tree_id", "tree", "1"},
};
/* clang-format on */

/* The act by which the first row came that statement finds; STATUS_END: none. */
static enum status find_one(
	struct store *store, const char *sql, char what[TEXT_SIZE], struct fault *why)
{
	sqlite3_stmt *finding = NULL;
	enum status status = sql_prepare(store, sql, &finding, why);
	if (status != STATUS_OK)
		return status;
	bind_text(finding, 1, store->act_id);
	status = sql_step(store, finding, why);
	if (status == STATUS_OK)
		column_copy(finding, 0, what, TEXT_SIZE);
	sqlite3_finalize(finding);
	return status;
}

/* Rows that stand on what the act struck. */
static enum status find_left(
	struct store *store, const struct link *link, char what[TEXT_SIZE], struct fault *why)
{
	char sql[700];
	(void)snprintf(sql, sizeof sql,
		"SELECT s.what FROM change c JOIN %s r ON r.%s = c.row_id AND r.struck = 0 AND %s "
		"JOIN change_set s ON s.id = r.made WHERE c.set_id = ?1 AND c.table_name = '%s' "
		"AND c.field = 'struck' AND c.new = '1' LIMIT 1",
		link->table, link->column, link->holds, link->on);
	return find_one(store, sql, what, why);
}

/* Rows that the act brought back, on what is struck. */
static enum status find_hanging(
	struct store *store, const struct link *link, char what[TEXT_SIZE], struct fault *why)
{
	char sql[700];
	(void)snprintf(sql, sizeof sql,
		"SELECT s.what FROM change c JOIN %s r ON r.id = c.row_id AND r.struck = 0 AND %s "
		"JOIN %s o ON o.id = r.%s AND o.struck = 1 JOIN change_set s ON s.id = o.made "
		"WHERE c.set_id = ?1 AND c.table_name = '%s' AND c.field = 'struck' "
		"AND c.new = '0' LIMIT 1",
		link->table, link->holds, link->on, link->column, link->table);
	return find_one(store, sql, what, why);
}

enum status hangs_check(struct store *store, const char *what, const char *done, struct fault *why)
{
	char other[TEXT_SIZE];
	for (size_t i = 0; i < sizeof links / sizeof links[0]; i++) {
		enum status status = find_left(store, &links[i], other, why);
		if (status == STATUS_OK)
			return fault_set(why, STATUS_CONFLICT,
				"\"%.70s\" cannot be %s: \"%.70s\" rests on it", what, done, other);
		if (status == STATUS_END)
			status = find_hanging(store, &links[i], other, why);
		if (status == STATUS_OK)
			return fault_set(why, STATUS_CONFLICT,
				"\"%.70s\" cannot be %s: \"%.70s\", which it rests on, was undone",
				what, done, other);
		if (status != STATUS_END)
			return status;
	}
	return STATUS_OK;
}
