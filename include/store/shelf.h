/* SPDX-License-Identifier: MIT */
/* shelf.h - the entries of many trees, read in one go in the order in which they lie in the file,
 * and kept packed until each tree is told. A log lies in the order of its days, so that reading it
 * tree by tree fetches a page for every entry and each of its parts, over and over. */
#ifndef STORE_SHELF_H
#define STORE_SHELF_H

#include "store/store.h"

struct entry_shelf;

struct entry_shelf *store_shelf_new(void);
void store_shelf_free(struct entry_shelf *shelf); /* NULL is fine */

struct shelf_wants {
	const char *const *subject_ids;
	int32_t count;
	const struct kind_set *kinds; /* NULL: all */
};
/* Takes up the entries of the first of these subjects: as many as are held in little room, at least
 * one; *taken says how many. What was on the shelf is gone. Good as long as nothing is saved. */
enum status store_shelf_fill(struct store *store, struct entry_shelf *shelf,
	const struct shelf_wants *wants, int32_t *taken, struct fault *why) MUST_CHECK;
/* As store_entry_list of that subject, planned ones too, but of the kinds that were wanted alone.
 * STATUS_ABSENT: it is not on the shelf. */
enum status store_shelf_list(struct store *store, struct entry_shelf *shelf, const char *subject_id,
	struct arena *arena, struct entry **out, int32_t *count, struct fault *why) MUST_CHECK;

#endif
