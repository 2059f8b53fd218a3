/* SPDX-License-Identifier: MIT */
/* descent.h - where a tree comes from and what came from it: its parents, the others of its
 * parent, all that was raised from it; its batch; and what does and does not carry over. A parent
 * that is gone keeps its place in the line; whatever was renamed, the line hangs on the trees. */
#ifndef REPORT_DESCENT_H
#define REPORT_DESCENT_H

#include "dossier/yard.h"

enum { DESCENT_LINES_MAX = 400, DESCENT_DEPTH_MAX = 40, DESCENT_SAYS_MAX = 8 };

struct descent_line {
	struct tree tree;
	struct tree_kind kind; /* as known today */
	int32_t depth;         /* 0: the oldest known */
	bool is_self;
	bool is_ancestor;
};

/* What was made in one go: by the entries that name the batch, and by its trees in the log. */
struct descent_batch {
	int64_t made; /* grafts set, seeds sown; 0: not told */
	int64_t took; /* as counted; -1: not told */
	struct maybe_date day;
	int32_t trees;
	int32_t standing;
};

/* One thing to know, with where it is from ("" the log's own). */
struct descent_say {
	const char *text;
	const char *source; /* key of sources.csv; "" none */
	bool from_memory;
};

struct descent {
	const struct dossier *dossier;
	const struct descent_line *lines; /* parents before what came from them */
	int32_t count;
	bool more;    /* some were left out: too many, or too far down */
	bool is_loop; /* merged copies made a tree its own ancestor; the line is cut there */
	struct descent_batch batch; /* of the tree's own, where it has a name */
	struct descent_say says[DESCENT_SAYS_MAX];
	int32_t says_count;
	int32_t carries_count; /* the first of them: what is and is not the parent's */
};
enum status descent_make(struct yard *yard, const char *tree_id, struct arena *arena,
	struct descent *out, struct fault *why) MUST_CHECK;

/* "from seed, March 2021, batch L-21; gone 2023: sold". Returns out. */
const char *descent_line_words(const struct descent_line *line, char *out, size_t size);
/* "25 made on 3 February 2026, 19 took (76 %); 19 trees of it in the log, 17 stand"; "" nothing.
 * Returns out. */
const char *descent_batch_words(const struct descent_batch *batch, char *out, size_t size);

#endif
