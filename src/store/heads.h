/* SPDX-License-Identifier: MIT */
/* heads.h - what the history of one field says in a log that was merged. Acts that changed a field
 * are knots, each hanging on those it replaced; a knot that nothing hangs on is a head. One head:
 * that is the value. Two heads with other values: a clash, and the value of their common ancestor
 * is shown until somebody picks. Nothing here asks when, where or in which file an act was typed.
 *
 * An act may replace several heads at once: it then has one change for each. What undid such an
 * act stands for the heads that it had replaced. Only files of src/store include this. */
#ifndef STORE_HEADS_H
#define STORE_HEADS_H

#include "sight.h"

struct head {
	char change_id[ID_SIZE]; /* the last change of the act to the field */
	char set_id[ID_SIZE];
	const char *value; /* NULL: NULL */
	int32_t knot;      /* for heads_companion */
};

struct heads {
	struct arena *arena;
	const struct knots *knots;
	struct head *items; /* with other values each, by change id; none: as the row was made */
	int32_t count;
	struct head *all; /* the same, each of those with one value too */
	int32_t all_count;
	struct head *leaves; /* what a new change has to replace: usually one */
	int32_t leaf_count;
	const char *shown;
	int32_t shown_knot; /* -1: as the row was made */
};

/* The heads of a field, and what it is to show. Lives in the arena. */
enum status heads_read(struct sight *sight, const struct row_change *field, struct arena *arena,
	struct heads *out, struct fault *why) MUST_CHECK;

/* Does a change that the act made of the field count? */
bool heads_has(const struct heads *heads, const char *set_id);

/* Some columns only say again what another one says (planted_low what planted says): they take
 * the value they had where that one's value comes from. NULL: the column is its own. */
const char *field_leader(const char *table, const char *field);
/* The columns that follow one, from the `at`-th on: NULL when there is none left. */
const char *field_follower(const char *table, const char *leader, int32_t at);
/* What a follower's value was at a knot of its leader. *is_own: it was changed without its leader,
 * so that it is a field by itself; *value is not set then. */
enum status heads_companion(struct sight *sight, const struct heads *leader, int32_t knot,
	const struct row_change *follower, const char **value, bool *is_own,
	struct fault *why) MUST_CHECK;

#endif
