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

static enum status write_tree(struct exporting *exporting, const struct tree *tree,
	struct rows *rows, struct arena *arena, struct fault *why)
{
	const char *cells[TREE_CELLS];
	enum status status = tree_cells_read(exporting->session, tree, arena, cells, why);

	if (status != STATUS_OK)
		return status;
	if (names_private(exporting, tree))
		cells[CELL_PARENT] = "";
	if (exporting->without_private && text_is_private(tree->note))
		cells[CELL_NOTE] = "";
	for (int cell = 0; cell < TREE_CELLS; cell++)
		write_cell(rows, (enum tree_cell)cell, cells[cell]);
	return STATUS_OK;
}

enum status export_trees(struct exporting *exporting, struct fault *why)
{
	enum { A_PAGE = 256 };
	struct tree_query query = {.gone_too = true, .most = A_PAGE};
	struct store *store = exporting->session->store;
	struct arena *arena = arena_new(); /* of one tree */
	struct arena *page = arena_new();
	struct rows rows = rows_begin(&exporting->printer, tree_cell_names);
	enum status status = STATUS_OK;
	int32_t count = A_PAGE;

	while (status == STATUS_OK && count == A_PAGE) {
		struct tree *trees = NULL;

		arena_reset(page);
		status = store_tree_list(store, &query, page, &trees, &count, why);
		for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
			arena_reset(arena);
			if (!export_keeps_back(exporting, &trees[i]))
				status = write_tree(exporting, &trees[i], &rows, arena, why);
		}
		query.offset += A_PAGE;
	}
	arena_free(page);
	arena_free(arena);
	return status == STATUS_OK ? rows_end(&rows, why) : status;
}
