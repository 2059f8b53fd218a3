/* SPDX-License-Identifier: MIT */
/* Where trees stand and stood. */
#include "statements.h"
#include "tree_row.h"

#include <string.h>

enum { STAY_ADD, STAY_NOW, STAY_OF_TREE, STAY_OF_SPOT };

const struct statement tree_place_statements[] = {
	[STAY_ADD] = {"tree_spot.add",
		"INSERT INTO tree_spot (id, made, tree_id, spot_id, from_day) "
		"VALUES (?1, ?2, ?3, ?4, ?5)"},
	[STAY_NOW] = {"tree_spot.now",
		"SELECT id, spot_id FROM tree_spot WHERE tree_id = ?1 AND struck = 0 "
		"AND to_day IS NULL ORDER BY id DESC LIMIT 1"},
	[STAY_OF_TREE] = {"tree_spot.of_tree",
		"SELECT tree_id, spot_id, from_day, to_day FROM tree_spot "
		"WHERE tree_id = ?1 AND struck = 0 ORDER BY from_day, id"},
	[STAY_OF_SPOT] = {"tree_spot.of_spot",
		"SELECT ts.tree_id, ts.spot_id, ts.from_day, ts.to_day FROM tree_spot ts "
		"JOIN tree t ON t.id = ts.tree_id AND t.struck = 0 "
		"WHERE ts.spot_id = ?1 AND ts.struck = 0 ORDER BY ts.from_day, ts.id"},
	{NULL, NULL},
};

enum status tree_place_begin(struct store *store, const char *tree_id, const char *spot_id,
	struct maybe_date from, struct fault *why)
{
	char id[ID_SIZE] = "";
	enum status status = row_must_stand(store, "spot", spot_id, why);
	if (status != STATUS_OK)
		return status;
	struct row_fields fields = {
		.table = "tree_spot", .insert = &tree_place_statements[STAY_ADD]};
	fields_add(&fields, "tree_id", value_text(tree_id));
	fields_add(&fields, "spot_id", value_text(spot_id));
	fields_add(&fields, "from_day", value_maybe_date(from));
	return row_insert(store, &fields, id, why);
}

/* The present stay's id and spot; "" when there is none. */
static enum status stay_now(struct store *store, const char *tree_id, char id[ID_SIZE],
	char spot_id[ID_SIZE], struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	id[0] = '\0';
	spot_id[0] = '\0';
	enum status status =
		rows_for(store, &tree_place_statements[STAY_NOW], tree_id, &statement, why);
	if (status == STATUS_OK)
		status = sql_step(store, statement, why);
	if (status == STATUS_END)
		return STATUS_OK;
	if (status != STATUS_OK)
		return status;
	column_copy(statement, 0, id, ID_SIZE);
	column_copy(statement, 1, spot_id, ID_SIZE);
	sql_done(statement);
	return STATUS_OK;
}

enum status tree_place_end(
	struct store *store, const char *tree_id, struct maybe_date to, struct fault *why)
{
	char id[ID_SIZE];
	char spot_id[ID_SIZE];
	enum status status = stay_now(store, tree_id, id, spot_id, why);
	/* a merge may have left a second one open */
	while (status == STATUS_OK && id[0] != '\0') {
		if (!to.known)
			return fault_set(why, STATUS_RANGE,
				"the day on which the tree left its spot is needed");
		status = row_set(store, "tree_spot", id, "to_day", value_maybe_date(to), why);
		if (status == STATUS_OK)
			status = stay_now(store, tree_id, id, spot_id, why);
	}
	return status;
}

enum status store_tree_move(struct store *store, const char *id, const char *spot_id,
	struct date day, struct fault *why)
{
	struct tree tree;
	char stay_id[ID_SIZE];
	char present_id[ID_SIZE];
	enum status status = store_tree_load(store, id, &tree, why);
	if (status != STATUS_OK)
		return status;
	if (tree.host_id[0] != '\0')
		return fault_set(why, STATUS_RANGE,
			"%s is a graft: it stands where its host stands", tree.label);
	if (tree.gone.text[0] != '\0')
		return fault_set(
			why, STATUS_RANGE, "%s is gone since %s", tree.label, tree.gone.text);
	status = stay_now(store, id, stay_id, present_id, why);
	if (status != STATUS_OK || strcmp(present_id, spot_id) == 0)
		return status;
	status = tree_place_end(store, id, known_date(day), why);
	if (status == STATUS_OK && spot_id[0] != '\0')
		status = tree_place_begin(store, id, spot_id, known_date(day), why);
	return status;
}

static void read_tree_place(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	(void)arena;
	struct tree_place *place = out;
	column_copy(statement, 0, place->tree_id, sizeof place->tree_id);
	column_copy(statement, 1, place->spot_id, sizeof place->spot_id);
	place->from = column_maybe_date(statement, 2);
	place->to = column_maybe_date(statement, 3);
}

static const struct row_reader tree_place_reader = {read_tree_place, sizeof(struct tree_place)};

enum status store_tree_place_list(struct store *store, const char *tree_id, const char *spot_id,
	struct arena *arena, struct tree_place **out, int32_t *count, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	void *items = NULL;
	enum status status = rows_for(store,
		&tree_place_statements[tree_id != NULL ? STAY_OF_TREE : STAY_OF_SPOT],
		tree_id != NULL ? tree_id : spot_id, &statement, why);
	if (status == STATUS_OK)
		status = rows_list(store, statement, &tree_place_reader, arena, &items, count, why);
	if (status == STATUS_OK)
		*out = items;
	return status;
}
