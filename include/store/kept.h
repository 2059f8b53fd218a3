/* SPDX-License-Identifier: MIT */
/* kept.h - flags kept in the log, so that a review need not work out anew what has not changed. A
 * cache: outside history, merge and export; deleting it changes nothing.
 *
 * A row holds what the rules said of a tree and of the grafts that stand on it, as one text that
 * only its writer reads. It is good while nothing that bears on the tree was saved since, up to
 * the day on which time alone could change it, and under the digest it was worked out with. The
 * row without a tree holds up to which act all rows are right, and the digest of good ones. */
#ifndef STORE_KEPT_H
#define STORE_KEPT_H

#include "store/store.h"

enum { KEPT_DIGEST_SIZE = 96 };

/* Which trees acts bear on. */
struct kept_touched {
	bool all;                  /* what all trees share, or more than is worth telling apart */
	char (*tree_ids)[ID_SIZE]; /* hosts, of grafts; each once */
	int32_t count;
};
bool kept_is_touched(const struct kept_touched *touched, const char *tree_id);

/* Of the acts after that one. An id that is not in the log: all. */
enum status store_kept_touched(struct store *store, const char *since, struct arena *arena,
	struct kept_touched *out, struct fault *why) MUST_CHECK;

/* What is good now, under the digest of the caller: rules and almanac. */
struct kept_state {
	bool known;                    /* false: no row is good */
	char digest[KEPT_DIGEST_SIZE]; /* of good rows */
	char through[ID_SIZE];
	struct kept_touched touched; /* since: whose rows are not */
};
enum status store_kept_state(struct store *store, const char *digest, struct arena *arena,
	struct kept_state *out, struct fault *why) MUST_CHECK;

struct kept_row {
	char tree_id[ID_SIZE];
	const char *flags; /* NULL: not kept, or not good on the day */
	struct date worked_for;
	struct maybe_date next_change;
};
/* One tree's; out->flags is NULL where there is none that is good. */
enum status store_kept_find(struct store *store, const struct kept_state *state,
	const char *tree_id, struct date today, struct arena *arena, struct kept_row *out,
	struct fault *why) MUST_CHECK;
/* Every good row, as they lie in the file, without the day it was worked for; its text lasts only
 * as long as the visit. */
enum status store_kept_each(struct store *store, const struct kept_state *state, struct date today,
	void (*visit)(void *context, const struct kept_row *row), void *context,
	struct fault *why) MUST_CHECK;
/* Every tree that has a row or may have: no standing graft, those gone among them. */
enum status store_kept_trees(struct store *store, struct arena *arena, char (**out)[ID_SIZE],
	int32_t *count, struct fault *why) MUST_CHECK;

/* The trees (no grafts) of which nothing is kept that is good on the day; those touched since count
 * only once they were dropped by a write. */
enum status store_kept_missing(struct store *store, const struct kept_state *state,
	struct date today, struct arena *arena, struct kept_row **out, int32_t *count,
	struct fault *why) MUST_CHECK;

/* Rows worked out from the log as it stood after the act `through`, in one transaction of their
 * own; those that acts since bear on are left out, and dropped. STATUS_BUSY: another program
 * saves. */
struct kept_batch {
	const char *digest;
	const char *through;
	struct date today;
	const struct kept_row *rows;
	int32_t count;
};
enum status store_kept_write(
	struct store *store, const struct kept_batch *batch, struct fault *why) MUST_CHECK;

#endif
