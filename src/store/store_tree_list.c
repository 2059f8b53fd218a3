/* SPDX-License-Identifier: MIT */
/* Lists and counts of trees. The query's own way in (all, standing, of a host, of a parent, in a
 * spot) picks the statement, so that each runs along an index; the rest are filters. */
#include "statements.h"
#include "tree_row.h"

enum way { WAY_STANDING, WAY_ALL, WAY_HOST, WAY_PARENT, WAY_SPOT, WAY_TOTAL };

/* The newest opinion decides; each candidate of it counts. */
#define OF_SPECIES                                                                         \
	"(?2 IS NULL OR EXISTS (SELECT 1 FROM identity i WHERE i.tree_id = t.id "          \
	"AND i.what = 'species' AND i.struck = 0 AND i.name = ?2 AND i.opinion = "         \
	"(SELECT j.opinion FROM identity j WHERE j.tree_id = t.id AND j.what = 'species' " \
	"AND j.struck = 0 ORDER BY j.id DESC LIMIT 1)))"
#define IN_AREA                                                                   \
	"(?3 IS NULL OR EXISTS (SELECT 1 FROM spot s WHERE s.id = " TREE_SPOT_NOW \
	" AND s.area_id = ?3))"
/* Three letters and more are looked for in the names of kind and cultivar, too. */
#define WITH_TEXT                                                                      \
	"(?4 IS NULL OR instr(t.label_folded, ?4) > 0 OR (length(?4) >= 3 AND EXISTS " \
	"(SELECT 1 FROM identity n WHERE n.tree_id = t.id AND n.struck = 0 "           \
	"AND instr(lower(replace(n.name, '_', ' ')), ?4) > 0)))"
/* A tree that stands is where it is now; one that is gone, where it ever stood. */
#define IN_SPOT                                                               \
	"(?5 IS NULL OR EXISTS (SELECT 1 FROM tree_spot p WHERE p.tree_id = " \
	"coalesce(t.host_id, t.id) AND p.spot_id = ?5 AND p.struck = 0 "      \
	"AND (p.to_day IS NULL OR t.is_gone = 1)))"
#define STANDING_OR "(?1 OR t.is_gone = 0)"
#define FILTERS                                                              \
	" AND " OF_SPECIES " AND " IN_AREA " AND " WITH_TEXT " AND " IN_SPOT \
	" AND (?6 IS NULL OR t.host_id = ?6)"
#define FROM_STANDING " FROM tree t WHERE t.struck = 0 AND t.is_gone = 0 AND ?1 IS NOT NULL" FILTERS
#define FROM_ALL " FROM tree t WHERE t.struck = 0 AND ?1 IS NOT NULL" FILTERS
#define FROM_HOST " FROM tree t WHERE t.host_id = ?6 AND t.struck = 0 AND " STANDING_OR FILTERS
#define FROM_PARENT " FROM tree t WHERE t.parent_id = ?9 AND t.struck = 0 AND " STANDING_OR FILTERS
#define FROM_SPOT                                                                             \
	" FROM tree t WHERE t.id IN (SELECT q.tree_id FROM tree_spot q WHERE q.spot_id = ?5 " \
	"UNION SELECT g.id FROM tree_spot q JOIN tree g ON g.host_id = q.tree_id "            \
	"WHERE q.spot_id = ?5) AND t.struck = 0 AND " STANDING_OR FILTERS
#define IN_ORDER " ORDER BY t.label_sort, t.id LIMIT ?7 OFFSET ?8"

const struct statement tree_list_statements[] = {
	[WAY_STANDING] = {"tree.list_standing", "SELECT " TREE_COLUMNS FROM_STANDING IN_ORDER},
	[WAY_ALL] = {"tree.list_all", "SELECT " TREE_COLUMNS FROM_ALL IN_ORDER},
	[WAY_HOST] = {"tree.list_host", "SELECT " TREE_COLUMNS FROM_HOST IN_ORDER},
	[WAY_PARENT] = {"tree.list_parent", "SELECT " TREE_COLUMNS FROM_PARENT IN_ORDER},
	[WAY_SPOT] = {"tree.list_spot", "SELECT " TREE_COLUMNS FROM_SPOT IN_ORDER},
	[WAY_TOTAL + WAY_STANDING] = {"tree.count_standing", "SELECT count(*)" FROM_STANDING},
	[WAY_TOTAL + WAY_ALL] = {"tree.count_all", "SELECT count(*)" FROM_ALL},
	[WAY_TOTAL + WAY_HOST] = {"tree.count_host", "SELECT count(*)" FROM_HOST},
	[WAY_TOTAL + WAY_PARENT] = {"tree.count_parent", "SELECT count(*)" FROM_PARENT},
	[WAY_TOTAL + WAY_SPOT] = {"tree.count_spot", "SELECT count(*)" FROM_SPOT},
	{NULL, NULL},
};

static enum way way_of(const struct tree_query *query)
{
	if (query->host_id != NULL)
		return WAY_HOST;
	if (query->parent_id != NULL)
		return WAY_PARENT;
	if (query->spot_id != NULL)
		return WAY_SPOT;
	return query->gone_too ? WAY_ALL : WAY_STANDING;
}

static enum status prepare(struct store *store, const struct tree_query *query, int first,
	sqlite3_stmt **out, struct fault *why)
{
	char folded[FOLDED_SIZE];
	enum status status =
		sql_get(store, &tree_list_statements[first + (int)way_of(query)], out, why);
	if (status != STATUS_OK)
		return status;
	bind_i64(*out, 1, query->gone_too);
	bind_text(*out, 2, query->species);
	bind_text(*out, 3, query->area_id);
	bind_text(*out, 4, query->text == NULL ? NULL : name_fold(query->text, folded));
	bind_text(*out, 5, query->spot_id);
	bind_text(*out, 6, query->host_id);
	if (way_of(query) == WAY_PARENT)
		bind_text(*out, 9, query->parent_id);
	return STATUS_OK;
}

enum status store_tree_list(struct store *store, const struct tree_query *query,
	struct arena *arena, struct tree **out, int32_t *count, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	void *items = NULL;
	enum status status = prepare(store, query, 0, &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_i64(statement, 7, query->most > 0 ? query->most : -1);
	bind_i64(statement, 8, query->offset);
	status = rows_list(store, statement, &tree_reader, arena, &items, count, why);
	if (status == STATUS_OK)
		*out = items;
	return status;
}

enum status store_tree_each(struct store *store,
	enum status (*visit)(
		void *context, const struct tree *tree, struct arena *arena, struct fault *why),
	void *context, struct fault *why)
{
	enum { TREES_A_PAGE = 256 };
	struct tree_query query = {.gone_too = true, .most = TREES_A_PAGE};
	struct arena *page = arena_new();
	enum status status = STATUS_OK;
	int32_t count = TREES_A_PAGE;
	while (status == STATUS_OK && count == TREES_A_PAGE) {
		struct tree *trees = NULL;
		arena_reset(page);
		status = store_tree_list(store, &query, page, &trees, &count, why);
		for (int32_t i = 0; status == STATUS_OK && i < count; i++)
			status = visit(context, &trees[i], page, why);
		query.offset += TREES_A_PAGE;
	}
	arena_free(page);
	return status;
}

enum status store_tree_count(
	struct store *store, const struct tree_query *query, int32_t *count, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	int64_t number = 0;
	enum status status = prepare(store, query, WAY_TOTAL, &statement, why);
	if (status == STATUS_OK)
		status = rows_number(store, statement, &number, why);
	if (status == STATUS_OK)
		*count = (int32_t)number;
	return status;
}
