/* SPDX-License-Identifier: MIT */
/* How tall and wide trees were found. */
#include "rows.h"
#include "statements.h"

enum { SIZE_LIST };

/* A cut that says what height it left ("down to 12 ft") tells as much as a measure. */
const struct statement tree_size_statements[] = {
	[SIZE_LIST] = {"tree_size.list",
		"SELECT e.subject_id, m.what = 'spread', (m.low_um + m.high_um) / 2, e.day_low, "
		"e.id "
		"FROM measure m JOIN entry e ON e.id = m.entry_id "
		"WHERE e.kind = 'measure' AND m.what IN ('height', 'spread') AND m.struck = 0 "
		"AND e.struck = 0 AND e.planned = 0 AND e.subject_kind = 'tree' "
		"UNION ALL "
		"SELECT e.subject_id, 0, a.low, e.day_low, e.id "
		"FROM entry e JOIN amount a ON a.entry_id = e.id AND a.field = 'height' "
		"WHERE e.kind = 'cut' AND a.struck = 0 AND a.low IS NOT NULL AND e.struck = 0 "
		"AND e.planned = 0 AND e.subject_kind = 'tree' "
		"ORDER BY 1, 4, 5"},
	{NULL, NULL},
};

static void read_size(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	(void)arena;
	struct tree_size *size = out;
	column_copy(statement, 0, size->tree_id, sizeof size->tree_id);
	size->is_spread = column_flag(statement, 1);
	size->um = column_maybe_i64(statement, 2).value;
	size->day = column_maybe_date(statement, 3);
}

static const struct row_reader size_reader = {read_size, sizeof(struct tree_size)};

enum status store_tree_size_list(struct store *store, struct arena *arena, struct tree_size **out,
	int32_t *count, struct fault *why)
{
	void *items = NULL;
	enum status status = rows_list_all(
		store, &tree_size_statements[SIZE_LIST], &size_reader, arena, &items, count, why);
	if (status == STATUS_OK)
		*out = items;
	return status;
}
