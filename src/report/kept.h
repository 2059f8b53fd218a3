/* SPDX-License-Identifier: MIT */
/* kept.h - flags of a tree and its grafts as one text, for the log to keep, and back. */
#ifndef REPORT_KEPT_H
#define REPORT_KEPT_H

#include "report/keeper.h"
#include "rules/flag.h"
#include "store/kept.h"

/* What the rules said of one tree. */
struct kept_tree {
	char tree_id[ID_SIZE];
	bool over_fence;
	struct flags found;
};
/* Flags that serve for one row after another, as reading them does not clear them. */
struct kept_room {
	struct flag *flags;
	int32_t capacity;
};
/* Of a tree and its standing grafts, in the order in which they are looked at. */
struct kept_whole {
	struct arena *arena;
	struct kept_room *room; /* NULL: flags are in the arena */
	struct kept_tree *trees;
	int32_t count;
	int32_t capacity;
};
/* Room for another, zeroed but for the arena of its flags. */
struct kept_tree *kept_add(struct kept_whole *whole);
const char *kept_write(const struct kept_whole *whole, struct arena *arena);
/* Of which flags more is wanted than rule, tree, label, urgency, key and fact. */
struct kept_wish {
	void *owner;
	bool (*wants)(void *owner, const struct kept_tree *tree, const struct flag *head);
};
/* wish NULL: all of all. False: it is not what kept_write writes; nothing of it is to be used. */
bool kept_read(const char *text, const struct kept_wish *wish, struct kept_whole *out);

/* Rules and almanac, for the store to tell good rows by. */
const char *kept_digest(const struct yard *yard, char out[KEPT_DIGEST_SIZE]);
/* One more to be written; the text is copied. */
void keeper_add(struct keeper *keeper, struct yard *yard, const struct kept_row *row);

#endif
