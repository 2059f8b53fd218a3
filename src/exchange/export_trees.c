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
		status = tree_cells_read(exporting->session, &trees[i], arena, cells, why);
		for (int cell = 0; cell < TREE_CELLS && status == STATUS_OK; cell++)
			write_cell(&rows, (enum tree_cell)cell, cells[cell]);
	}
	arena_free(arena);
	return status == STATUS_OK ? rows_end(&rows, why) : status;
}
