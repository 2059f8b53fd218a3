/* SPDX-License-Identifier: MIT */
/* All labels; and all standing trees, one after another, with where they are and what they were
 * taken for: two statements side by side in the order of ids, so that nothing is held but the tree
 * in hand. */
#include "identity_row.h"
#include "statements.h"
#include "tree_row.h"

#include <string.h>

enum { STANDING_TREES, STANDING_IDENTITIES, STANDING_LABELS };

const struct statement standing_statements[] = {
	[STANDING_TREES] = {"standing.trees",
		"SELECT t.id, t.host_id, t.label, t.over_fence, t.planted, t.planted_low, "
		"t.planted_high, " TREE_SPOT_NOW ", s.east_um, s.north_um, s.kind = 'off-place' "
		"FROM tree t LEFT JOIN spot s ON s.id = " TREE_SPOT_NOW " AND s.struck = 0 "
		"WHERE t.struck = 0 AND t.is_gone = 0 ORDER BY t.id"},
	[STANDING_IDENTITIES] = {"standing.identities",
		"SELECT " IDENTITY_COLUMNS " FROM identity i WHERE i.struck = 0 "
		"ORDER BY i.tree_id, i.id"},
	[STANDING_LABELS] = {"standing.labels",
		"SELECT t.label_folded FROM tree t ORDER BY t.label_folded"},
	{NULL, NULL},
};

struct standing_walk {
	struct store *store;
	struct arena *arena; /* of the tree in hand */
	sqlite3_stmt *trees;
	sqlite3_stmt *identities;
	bool more; /* identities stands on a row */
};

static void read_standing(sqlite3_stmt *statement, struct standing_tree *out)
{
	*out = (struct standing_tree){.identity_count = 0};
	column_copy(statement, 0, out->tree_id, sizeof out->tree_id);
	column_copy(statement, 1, out->host_id, sizeof out->host_id);
	column_copy(statement, 2, out->label, sizeof out->label);
	out->over_fence = column_flag(statement, 3);
	column_date_span(statement, 4, &out->planted);
	column_copy(statement, 7, out->spot_id, sizeof out->spot_id);
	out->east_um = column_maybe_i64(statement, 8);
	out->north_um = column_maybe_i64(statement, 9);
	out->off_place = column_flag(statement, 10);
}

static enum status step_identities(struct standing_walk *walk, struct fault *why)
{
	enum status status = sql_step(walk->store, walk->identities, why);
	walk->more = status == STATUS_OK;
	return status == STATUS_END ? STATUS_OK : status;
}

/* Those of the tree in hand; what trees that are gone were taken for is passed by. */
static enum status take_identities(
	struct standing_walk *walk, struct standing_tree *out, struct fault *why)
{
	struct row_list list = {.arena = walk->arena, .size = sizeof(struct identity)};
	enum status status = STATUS_OK;
	while (status == STATUS_OK && walk->more) {
		int order =
			strcmp(column_word(walk->identities, IDENTITY_TREE_COLUMN), out->tree_id);
		if (order > 0)
			break;
		if (order == 0)
			identity_reader.read(walk->identities, walk->arena, row_list_add(&list));
		status = step_identities(walk, why);
	}
	out->identities = list.items;
	out->identity_count = list.count;
	return status;
}

static enum status begin(struct standing_walk *walk, struct fault *why)
{
	enum status status =
		sql_get(walk->store, &standing_statements[STANDING_TREES], &walk->trees, why);
	if (status == STATUS_OK)
		status = sql_get(walk->store, &standing_statements[STANDING_IDENTITIES],
			&walk->identities, why);
	return status == STATUS_OK ? step_identities(walk, why) : status;
}

enum status store_standing_each(struct store *store,
	enum status (*visit)(void *context, const struct standing_tree *tree, struct fault *why),
	void *context, struct fault *why)
{
	struct standing_walk walk = {.store = store, .arena = arena_new()};
	struct standing_tree tree;
	enum status status = begin(&walk, why);
	while (status == STATUS_OK && (status = sql_step(store, walk.trees, why)) == STATUS_OK) {
		arena_reset(walk.arena);
		read_standing(walk.trees, &tree);
		status = take_identities(&walk, &tree, why);
		if (status == STATUS_OK)
			status = visit(context, &tree, why);
	}
	if (walk.trees != NULL)
		sql_done(walk.trees);
	if (walk.identities != NULL)
		sql_done(walk.identities);
	arena_free(walk.arena);
	return status == STATUS_END ? STATUS_OK : status;
}

enum status store_label_each(struct store *store, void (*visit)(void *context, const char *folded),
	void *context, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = sql_get(store, &standing_statements[STANDING_LABELS], &statement, why);
	if (status != STATUS_OK)
		return status;
	while ((status = sql_step(store, statement, why)) == STATUS_OK)
		visit(context, column_word(statement, 0));
	sql_done(statement);
	return status == STATUS_END ? STATUS_OK : status;
}
