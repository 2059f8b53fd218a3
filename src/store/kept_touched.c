/* SPDX-License-Identifier: MIT */
/* Which trees acts bear on, for flags that are kept. A dossier is told from the tree's own entries
 * and those of its spots, of its host and grafts; and from what all trees share: the place, areas,
 * products, weather, sowings, who else stands there. Whatever is not known to be a tree's own
 * counts as shared. */
#include "core/text.h"
#include "rows.h"
#include "statements.h"
#include "store/kept.h"
#include "store/records.h"

#include <string.h>

enum { TOUCHED_SETS, TOUCHED_SHARED, TOUCHED_ENTRIES, TOUCHED_SPOT, TOUCHED_HOST };

/* Beyond these it is not worth asking one by one. */
enum { SETS_MOST = 64, TREES_MOST = 1024, HOSTS_DEEP_MAX = 8 };

#define MADE(table) "EXISTS (SELECT 1 FROM " table " WHERE made = ?1)"
#define OF_ENTRY(table)                                                              \
	"UNION SELECT entry_id FROM " table " WHERE made = ?1 "                      \
	"UNION SELECT p.entry_id FROM change c JOIN " table " p ON p.id = c.row_id " \
	"WHERE c.set_id = ?1 AND c.table_name = '" table "' "

/* clang-format off */
const struct statement kept_touched_statements[] = {
	[TOUCHED_SETS] = {"kept.sets",
		"SELECT s.id, s.kind, coalesce(u.kind, '') FROM change_set s "
		"LEFT JOIN change_set u ON u.id = s.undoes "
		"WHERE s.row >= (SELECT row FROM change_set WHERE id = ?1) ORDER BY s.row LIMIT ?2"},
	/* rows of other tables than these bear on no flag: answer, clash, layout, obstacle, route */
	[TOUCHED_SHARED] = {"kept.shared",
		"SELECT " MADE("place") " OR " MADE("area") " OR " MADE("spot") " OR " MADE("tree") " OR "
		MADE("old_label") " OR " MADE("tree_spot") " OR " MADE("identity") " OR " MADE("trait") " OR "
		MADE("stem") " OR " MADE("product") " OR " MADE("container") " OR "
		MADE("container_weight") " OR " MADE("weather_day") " OR " MADE("weather_hour") " OR "
		MADE("own_window") " OR " MADE("own_rate") " OR " MADE("choice") " OR "
		MADE("lost_season") " OR EXISTS (SELECT 1 FROM change WHERE set_id = ?1 AND ("
		"table_name NOT IN ('entry', 'amount', 'detail', 'measure', 'plan', 'answer', 'clash', "
		"'layout', 'obstacle', 'route') OR (table_name = 'entry' AND field IN "
		"('subject_kind', 'subject_id', 'kind', 'planned'))))"},
	[TOUCHED_ENTRIES] = {"kept.entries",
		"WITH touched (id) AS (SELECT id FROM entry WHERE made = ?1 "
		"UNION SELECT row_id FROM change WHERE set_id = ?1 AND table_name = 'entry' "
		OF_ENTRY("amount") OF_ENTRY("detail") OF_ENTRY("measure") OF_ENTRY("plan")
		") SELECT e.subject_kind, e.subject_id, e.kind, e.day_low, "
		"EXISTS (SELECT 1 FROM change c WHERE c.row_id = e.id AND c.set_id = ?1 "
		"AND c.field IN ('day', 'day_low', 'day_high')) "
		"FROM touched CROSS JOIN entry e ON e.id = touched.id ORDER BY touched.id LIMIT ?2"},
	[TOUCHED_SPOT] = {"kept.spot",
		"SELECT DISTINCT tree_id FROM tree_spot WHERE spot_id = ?1 ORDER BY tree_id"},
	[TOUCHED_HOST] = {"kept.host", "SELECT host_id FROM tree WHERE id = ?1 AND host_id IS NOT NULL"},
	{NULL, NULL},
};
/* clang-format on */

struct touching {
	struct store *store;
	struct arena *arena;
	struct kept_touched *out;
	struct row_list trees; /* of ids: of entries as they are, before hosts are sought */
	struct row_list spots;
	bool knows_first;
	struct maybe_date first_pick;
};

bool kept_is_touched(const struct kept_touched *touched, const char *tree_id)
{
	for (int32_t i = 0; i < touched->count; i++)
		if (strcmp(touched->tree_ids[i], tree_id) == 0)
			return true;
	return touched->all;
}

/* --- one act --- */

static enum status load_first_pick(struct touching *touching, struct fault *why)
{
	bool any;
	if (touching->knows_first)
		return STATUS_OK;
	touching->knows_first = true;
	return store_first_pick(touching->store, &any, &touching->first_pick, why);
}

/* The first pick of the yard and sowings are told to all trees. */
static bool is_shared(
	const struct touching *touching, const char *kind, struct maybe_date day, bool moved)
{
	if (strcmp(kind, "sow") == 0)
		return true;
	if (strcmp(kind, "pick") != 0)
		return false;
	return moved || !day.known || !touching->first_pick.known ||
	       date_compare(day.value, touching->first_pick.value) <= 0;
}

static void add_id(struct row_list *list, const char *id)
{
	char(*ids)[ID_SIZE] = list->items;
	if (list->count > 0 && strcmp(ids[list->count - 1], id) == 0)
		return;
	(void)text_copy(row_list_add(list), ID_SIZE, id);
}

/* columns: subject_kind, subject_id, kind, day_low, moved */
static void take_entry(struct touching *touching, sqlite3_stmt *statement)
{
	char id[ID_SIZE];
	const char *subject = column_word(statement, 0);
	bool of_tree = strcmp(subject, "tree") == 0;
	column_copy(statement, 1, id, sizeof id);
	if (!of_tree && strcmp(subject, "spot") != 0)
		touching->out->all = true;
	else
		add_id(of_tree ? &touching->trees : &touching->spots, id);
	if (is_shared(touching, column_word(statement, 2), column_maybe_date(statement, 3),
		    column_flag(statement, 4)))
		touching->out->all = true;
}

static enum status touch_entries(struct touching *touching, const char *set_id, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	int32_t count = 0;
	enum status status = load_first_pick(touching, why);
	if (status == STATUS_OK)
		status = rows_for(touching->store, &kept_touched_statements[TOUCHED_ENTRIES],
			set_id, &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_i64(statement, 2, TREES_MOST);
	while (!touching->out->all &&
		(status = sql_step(touching->store, statement, why)) == STATUS_OK) {
		take_entry(touching, statement);
		touching->out->all = touching->out->all || ++count == TREES_MOST;
	}
	sql_done(statement);
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status touch_set(struct touching *touching, const char *set_id, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	int64_t shared = 0;
	enum status status = rows_for(
		touching->store, &kept_touched_statements[TOUCHED_SHARED], set_id, &statement, why);
	if (status == STATUS_OK)
		status = rows_number(touching->store, statement, &shared, why);
	touching->out->all = touching->out->all || shared != 0;
	return status == STATUS_OK && shared == 0 ? touch_entries(touching, set_id, why) : status;
}

static bool is_wide(const char *kind)
{
	return strcmp(kind, "import") == 0 || strcmp(kind, "merge") == 0;
}

/* --- all of them --- */

static enum status list_sets(
	struct touching *touching, const char *since, struct row_list *sets, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = rows_for(
		touching->store, &kept_touched_statements[TOUCHED_SETS], since, &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_i64(statement, 2, SETS_MOST + 1);
	status = sql_step(touching->store, statement, why); /* the act itself */
	touching->out->all = status == STATUS_END;
	while (status == STATUS_OK &&
		(status = sql_step(touching->store, statement, why)) == STATUS_OK) {
		column_copy(statement, 0, row_list_add(sets), ID_SIZE);
		if (is_wide(column_word(statement, 1)) || is_wide(column_word(statement, 2)))
			touching->out->all = true;
	}
	touching->out->all = touching->out->all || sets->count == SETS_MOST;
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status add_tenants(struct touching *touching, const char *spot_id, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = rows_for(
		touching->store, &kept_touched_statements[TOUCHED_SPOT], spot_id, &statement, why);
	while (status == STATUS_OK &&
		(status = sql_step(touching->store, statement, why)) == STATUS_OK)
		add_id(&touching->trees, column_word(statement, 0));
	return status == STATUS_END ? STATUS_OK : status;
}

/* The tree that a graft stands on, itself perhaps a graft; the id as it is where it is none. */
static enum status find_host(struct touching *touching, char id[ID_SIZE], struct fault *why)
{
	enum status status = STATUS_OK;
	for (int deep = 0; status == STATUS_OK && deep < HOSTS_DEEP_MAX; deep++) {
		sqlite3_stmt *statement = NULL;
		status = rows_for(touching->store, &kept_touched_statements[TOUCHED_HOST], id,
			&statement, why);
		if (status == STATUS_OK)
			status = sql_step(touching->store, statement, why);
		if (status == STATUS_OK) {
			column_copy(statement, 0, id, ID_SIZE);
			sql_done(statement);
		}
	}
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status tell_trees(struct touching *touching, struct fault *why)
{
	enum status status = STATUS_OK;
	char(*spots)[ID_SIZE] = touching->spots.items;
	for (int32_t i = 0; status == STATUS_OK && i < touching->spots.count; i++)
		status = add_tenants(touching, spots[i], why);
	char(*trees)[ID_SIZE] = touching->trees.items;
	touching->out->tree_ids =
		arena_array(touching->arena, (size_t)touching->trees.count + 1, ID_SIZE);
	for (int32_t i = 0; status == STATUS_OK && i < touching->trees.count; i++) {
		status = find_host(touching, trees[i], why);
		if (!kept_is_touched(touching->out, trees[i]))
			memcpy(touching->out->tree_ids[touching->out->count++], trees[i], ID_SIZE);
	}
	return status;
}

enum status store_kept_touched(struct store *store, const char *since, struct arena *arena,
	struct kept_touched *out, struct fault *why)
{
	*out = (struct kept_touched){.all = false};
	struct touching touching = {.store = store,
		.arena = arena,
		.out = out,
		.trees = {.arena = arena, .size = ID_SIZE},
		.spots = {.arena = arena, .size = ID_SIZE}};
	struct row_list sets = {.arena = arena, .size = ID_SIZE};
	enum status status = list_sets(&touching, since, &sets, why);
	char(*ids)[ID_SIZE] = sets.items;
	for (int32_t i = 0; status == STATUS_OK && !out->all && i < sets.count; i++)
		status = touch_set(&touching, ids[i], why);
	if (status == STATUS_OK && !out->all)
		status = tell_trees(&touching, why);
	return status;
}
