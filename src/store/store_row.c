/* SPDX-License-Identifier: MIT */
/* Taking rows of small tables back, and what changed a row last. */
#include "rows.h"
#include "statements.h"

#include <assert.h>
#include <string.h>

enum { SPOT_USED, AREA_USED, NEWEST_CHANGE };

const struct statement row_beside_statements[] = {
	[SPOT_USED] = {"spot.used",
		"SELECT t.label FROM tree_spot ts JOIN tree t ON t.id = ts.tree_id AND t.struck = "
		"0 "
		"AND t.is_gone = 0 WHERE ts.spot_id = ?1 AND ts.struck = 0 AND ts.to_day IS NULL "
		"ORDER BY t.label_sort, t.id LIMIT 1"},
	[AREA_USED] = {"area.used",
		"SELECT name FROM spot WHERE area_id = ?1 AND struck = 0 ORDER BY name_folded, id "
		"LIMIT 1"},
	[NEWEST_CHANGE] = {"change.newest",
		"SELECT id FROM change WHERE row_id = ?1 ORDER BY row DESC LIMIT 1"},
	{NULL, NULL},
};

static const char *const small_tables[] = {"area", "spot", "obstacle", "answer", "own_window",
	"own_rate", "choice", "product", "container", "container_weight", "identity", "lost_season",
	"layout"};

/* STATUS_CONFLICT naming the first row that still needs this one. */
static enum status check_unused(
	struct store *store, int key, const char *what, const char *id, struct fault *why)
{
	char user[LABEL_SIZE];
	sqlite3_stmt *statement = NULL;
	enum status status = rows_for(store, &row_beside_statements[key], id, &statement, why);
	if (status == STATUS_OK)
		status = sql_step(store, statement, why);
	if (status == STATUS_END)
		return STATUS_OK;
	if (status != STATUS_OK)
		return status;
	column_copy(statement, 0, user, sizeof user);
	sql_done(statement);
	return fault_set(why, STATUS_CONFLICT, "%s %s", user, what);
}

enum status store_row_strike(
	struct store *store, const char *table, const char *id, struct fault *why)
{
	bool is_small = false;
	for (size_t i = 0; i < sizeof small_tables / sizeof small_tables[0]; i++)
		is_small = is_small || strcmp(small_tables[i], table) == 0;
	assert(is_small);
	enum status status = row_must_stand(store, table, id, why);
	if (status == STATUS_OK && strcmp(table, "spot") == 0)
		status = check_unused(store, SPOT_USED, "still stands in this spot", id, why);
	if (status == STATUS_OK && strcmp(table, "area") == 0)
		status = check_unused(store, AREA_USED, "is a spot of this area", id, why);
	return status == STATUS_OK ? row_take_back(store, table, id, why) : status;
}

enum status store_row_newest_change(
	struct store *store, const char *id, char out[ID_SIZE], struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	out[0] = '\0';
	enum status status =
		rows_for(store, &row_beside_statements[NEWEST_CHANGE], id, &statement, why);
	if (status == STATUS_OK)
		status = sql_step(store, statement, why);
	if (status == STATUS_OK)
		column_copy(statement, 0, out, ID_SIZE);
	if (status == STATUS_OK)
		sql_done(statement);
	return status == STATUS_END ? STATUS_OK : status;
}
