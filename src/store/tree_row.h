/* SPDX-License-Identifier: MIT */
/* tree_row.h - a tree as a row: what the files about trees share. Only files of src/store include
 * this. */
#ifndef STORE_TREE_ROW_H
#define STORE_TREE_ROW_H

#include "rows.h"

/* Where a tree t stands now: a graft is where its host is. */
#define TREE_SPOT_NOW                                                                        \
	"(SELECT ts.spot_id FROM tree_spot ts WHERE ts.tree_id = coalesce(t.host_id, t.id) " \
	"AND ts.struck = 0 AND ts.to_day IS NULL ORDER BY ts.id DESC LIMIT 1)"
#define TREE_COLUMNS                                                                      \
	"t.id, t.label, t.host_id, t.parent_id, t.how, t.batch, t.rootstock, t.planted, " \
	"t.planted_low, t.planted_high, t.gone, t.gone_low, t.gone_high, t.gone_reason, " \
	"t.target_height_um, t.hazard, t.over_fence, t.is_private, t.note, " TREE_SPOT_NOW

/* Reads a row of TREE_COLUMNS. */
extern const struct row_reader tree_reader;

/* STATUS_CONFLICT when another standing tree than `id` has the label. */
enum status tree_label_is_free(
	struct store *store, const char *label, const char *id, struct fault *why) MUST_CHECK;
/* Begins a stay of a tree in a spot. */
enum status tree_place_begin(struct store *store, const char *tree_id, const char *spot_id,
	struct maybe_date from, struct fault *why) MUST_CHECK;
/* Ends the present stay; fine when there is none. */
enum status tree_place_end(struct store *store, const char *tree_id, struct maybe_date to,
	struct fault *why) MUST_CHECK;

#endif
