/* SPDX-License-Identifier: MIT */
/* walk_tree.h - what the walk shows of the tree it stands at. */
#ifndef SCREENS_WALK_TREE_H
#define SCREENS_WALK_TREE_H

#include "screen.h"

enum { WALK_ENTRIES_MAX = 60, WALK_FLAGS_MAX = 6 };

struct walk_entry {
	char day[40];
	char said[FAULT_TEXT_SIZE];
};
struct walk_flag {
	enum urgency urgency;
	char says[FLAG_SAYS_SIZE];
};
struct walk_tree {
	char id[ID_SIZE]; /* "" none */
	char label[LABEL_SIZE];
	char kind[NAME_SIZE * 2];
	char year[96];
	char planted[80];
	char hazard[TEXT_SIZE];
	struct walk_entry entries[WALK_ENTRIES_MAX]; /* newest first */
	int32_t entry_count;
	struct walk_flag flags[WALK_FLAGS_MAX]; /* worst first */
	int32_t flag_count;
	bool why_key; /* the key that says what they rest on is one now */
};

enum status walk_tree_read(struct walk_tree *out, struct session *session, const char *id,
	struct fault *why) MUST_CHECK;
/* Draws it into the rows above `rows`, entries from the `first`. */
void walk_tree_draw(const struct walk_tree *tree, struct paper *paper, int rows, int32_t first,
	const char *place);

#endif
