/* SPDX-License-Identifier: MIT */
/* copies.h - copies of one log, edited apart and merged. */
#ifndef SUPPORT_COPIES_H
#define SUPPORT_COPIES_H

#include "store/merge.h"

#include "support/yard.h"

/* Another file with the same bytes, open for writing, whose clock stands at a day of its own. */
void copies_fork(struct log *from, struct log *to, const char *today, uint64_t seed);
/* Takes the other file in, as one act; answers what store_merge did. */
enum status copies_try(
	struct log *into, const char *other, struct merge_account *account, struct fault *why);
/* The same, which has to go; notes live in the arena of the test, which may be NULL. */
struct merge_account copies_merge(struct log *into, const struct log *other, struct arena *arena);

/* Everything that a grower sees: records that stand, with their values, and the clashes with the
 * values that wait. Without what is each file's own: row numbers, makers. free() it. */
char *copies_seen(struct log *yard);
/* No damage, by store_verify. */
void copies_verify(struct log *yard, const char *label);

#endif
