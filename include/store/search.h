/* SPDX-License-Identifier: MIT */
/* search.h - everything written, by its words: entries, trees with their names and notes, spots,
 * areas, products, containers, reasons. */
#ifndef STORE_SEARCH_H
#define STORE_SEARCH_H

#include "store/store.h"

struct search_hit {
	const char *table_name; /* where it is written: "entry", "tree", "identity" ... */
	const char *kind;       /* of an entry: its key; else "" */
	const char *day;        /* of an entry; else "" */
	const char *tree_id;    /* of the tree it is about; "" none */
	const char *label;      /* of that tree, or what else it is about; "" */
	const char *words;      /* all that is written there, line by line */
};

/* Words separated by blanks, each the beginning of a word, in any case and without accents; all
 * must occur. A word that is a verb stands for all verbs of its kind ("cut" finds pruned). Words at
 * the beginning that are the whole label of a tree ask for what is written about that tree. Entries
 * first, newest first; then the rest. At most `most`. */
enum status store_search(struct store *store, const char *text, int32_t most, struct arena *arena,
	struct search_hit **out, int32_t *count, struct fault *why) MUST_CHECK;

#endif
