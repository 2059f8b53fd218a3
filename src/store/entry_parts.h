/* SPDX-License-Identifier: MIT */
/* entry_parts.h - the parts of an entry (amounts, details, stem measures) as rows: written with
 * it, mended with it, and read for a whole list of entries at a time. Only files of src/store
 * include this. */
#ifndef STORE_ENTRY_PARTS_H
#define STORE_ENTRY_PARTS_H

#include "rows.h"

/* STATUS_RANGE when there are more parts than an entry may have. */
enum status entry_parts_check(const struct entry *entry, struct fault *why) MUST_CHECK;
enum status entry_parts_add(
	struct store *store, const struct entry *entry, struct fault *why) MUST_CHECK;
/* Parts that are the same stay, of the same field are changed, others are made or struck. */
enum status entry_parts_save(
	struct store *store, const struct entry *entry, struct fault *why) MUST_CHECK;
/* Fills the parts of each entry, in the order in which they were made. */
enum status entry_parts_read(struct store *store, struct arena *arena, struct entry *entries,
	int32_t count, struct fault *why) MUST_CHECK;
/* The figures of two amounts agree, whatever was typed. */
bool entry_amount_same(const struct amount *a, const struct amount *b);

#endif
