/* SPDX-License-Identifier: MIT */
/* tree_cells.h - a tree as a row of a table: what export trees writes and import trees reads. */
#ifndef EXCHANGE_TREE_CELLS_H
#define EXCHANGE_TREE_CELLS_H

#include "intake.h"

enum tree_cell {
	CELL_TREE,
	CELL_SPECIES,
	CELL_SPECIES_SURE,
	CELL_CULTIVAR,
	CELL_CULTIVAR_SURE,
	CELL_PLANTED,
	CELL_GONE,
	CELL_HOST,
	CELL_SPOT,
	CELL_ID,
	CELL_AREA,
	CELL_EAST,
	CELL_NORTH,
	CELL_HOW,
	CELL_PARENT,
	CELL_BATCH,
	CELL_ROOTSTOCK,
	CELL_TARGET_HEIGHT,
	CELL_HAZARD,
	CELL_OVER_FENCE,
	CELL_PRIVATE,
	CELL_GONE_REASON,
	CELL_NOTE,
	TREE_CELLS
};
extern const char *const tree_cell_names[TREE_CELLS + 1]; /* ended by NULL */

/* The cells of a tree as it is in the log, "" unknown; in arena. */
enum status tree_cells_read(struct session *session, const struct tree *tree, struct arena *arena,
	const char *out[TREE_CELLS], struct fault *why) MUST_CHECK;

/* Is it a file that export trees wrote, and were no columns said? */
bool own_trees_is(const struct intake *intake);
/* Reads it. A row whose tree is in the log (by its id, else its label) is that tree: the same, or
 * refused where the file says otherwise; any other is made. */
enum status own_trees_take(struct intake *intake, struct fault *why) MUST_CHECK;

#endif
