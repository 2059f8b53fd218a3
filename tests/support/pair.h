/* SPDX-License-Identifier: MIT */
/* pair.h - a log and a copy of it, to be edited apart and joined. */
#ifndef SUPPORT_PAIR_H
#define SUPPORT_PAIR_H

#include "support/copies.h"

/* A log with a tree A1 and a pick on it, and two copies of it. The second's clock is years behind,
 * so that what is typed there later seems older. */
struct pair {
	struct log one;
	struct log two;
	struct arena *arena;
	const char *tree;
	const char *pick;
};
void pair_make(struct pair *pair);
void pair_free(struct pair *pair);
/* The tree's note is "one" in the first, "two" in the second. */
void pair_part(struct pair *pair);

/* One act in one of the files, which has to go. */
void pair_set(
	struct log *yard, const char *table, const char *id, const char *field, const char *text);
void pair_strike(struct log *yard, const char *entry);
void pair_undo(struct log *yard);
void pair_redo(struct log *yard);
/* "NULL" for NULL. */
void pair_check(
	struct log *yard, const char *table, const char *id, const char *field, const char *want);

int32_t pair_clash_count(struct log *yard);
/* Settles the only clash: side -1 the value from before. */
void pair_keep(struct log *yard, int32_t side);
/* The side of the only clash that says this in its first field. */
int32_t pair_side(struct log *yard, const char *value);

/* Both files merged with what the other was before: the same is seen in both. */
void pair_cross(struct pair *pair);

#endif
