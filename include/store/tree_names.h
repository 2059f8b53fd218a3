/* SPDX-License-Identifier: MIT */
/* tree_names.h - the standing trees by name alone: what lists are paged and sought by, so that a
 * letter typed costs no look into the log. */
#ifndef STORE_TREE_NAMES_H
#define STORE_TREE_NAMES_H

#include "store/store.h"

struct tree_name {
	char id[ID_SIZE];
	const char *label;
	const char *folded; /* the label */
	const char *kinds;  /* names of kinds and cultivars it has been taken for, folded, a line
	                       each; NULL: not read */
};
struct tree_names {
	const struct tree_name *items; /* in the natural order of labels */
	int32_t count;
};
/* kinds: those too, which takes longer. most 0: all. */
enum status store_tree_names(struct store *store, bool kinds, int32_t most, struct arena *arena,
	struct tree_names *out, struct fault *why) MUST_CHECK;

/* Letters as typed: a part of the label; of three on, of its kinds, too. */
enum { TREE_LETTERS_SIZE = 4 * LABEL_SIZE };
struct tree_letters {
	char folded[TREE_LETTERS_SIZE];
	bool of_kinds;
};
struct tree_letters tree_letters_make(const char *text);
bool tree_letters_fit(const struct tree_letters *letters, const struct tree_name *tree);

#endif
