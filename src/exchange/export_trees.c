/* SPDX-License-Identifier: MIT */
#include <stdlib.h>

#include "export_parts.h"
#include "tree_cells.h"

static void write_cell(struct rows *rows, enum tree_cell cell, const char *text)
{
	switch (cell) {
	case CELL_EAST:
	case CELL_NORTH:
	case CELL_TARGET_HEIGHT:
		rows_i64(rows, (struct maybe_i64){
				       .value = strtoll(text, NULL, 10), .known = text[0] != '\0'});
		return;
	case CELL_OVER_FENCE:
	case CELL_PRIVATE:
		rows_bool(rows, text[0] == '1');
		return;
	default:
		rows_text(rows, text);
	}
}

/* A parent that stays behind is not named either. */
static bool names_private(const struct exporting *exporting, const struct tree *tree)
{
	struct tree parent;

	return exporting->without_private && tree->parent_id[0] != '\0' &&
	       store_tree_load(exporting->session->store, tree->parent_id, &parent, NULL) ==
		       STATUS_OK &&
	       export_keeps_back(exporting, &parent);
}

enum status export_trees(struct exporting *exporting, struct fault *why)
{
	const struct tree_query query = {.gone_too = true};
	struct store *store = exporting->session->store;
	struct arena *arena = arena_new(); /* of one tree */
	struct tree *trees = NULL;
	const char *cells[TREE_CELLS];
	int32_t count = 0;
	struct rows rows = rows_begin(&exporting->printer, tree_cell_names);
	enum status status = store_tree_list(store, &query, exporting->arena, &trees, &count, why);

	for (int32_t i = 0; i < count && status == STATUS_OK; i++) {
		arena_reset(arena);
		if (export_keeps_back(exporting, &trees[i]))
			continue;
		status = tree_cells_read(exporting->session, &trees[i], arena, cells, why);
		if (names_private(exporting, &trees[i]))
			cells[CELL_PARENT] = "";
		if (exporting->without_private && text_is_private(trees[i].note))
			cells[CELL_NOTE] = "";
		for (int cell = 0; cell < TREE_CELLS && status == STATUS_OK; cell++)
			write_cell(&rows, (enum tree_cell)cell, cells[cell]);
	}
	arena_free(arena);
	return status == STATUS_OK ? rows_end(&rows, why) : status;
}
