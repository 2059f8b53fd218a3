/* SPDX-License-Identifier: MIT */
/* sight.h - which acts of a log count. In a log that was merged two sorts do not: a merge itself,
 * with its undoing and doing again, is the business of this file alone; and the acts that a merge
 * brought which was undone are kept, but do not count until a merge brings them again. Only files
 * of src/store include this.
 *
 * In meta, "foreign:ACT" names the merge that brought an act from another copy, and "merge:MERGE"
 * the last row of `change` before it.
 *
 * What was typed here upon what a merge had brought, and was undone before that merge, is the
 * log's own still and is handed on; what it hangs on goes along, so that wherever the two meet
 * again all is there. Such an act is held: it never counts before a merge brings it in its own
 * right. */
#ifndef STORE_SIGHT_H
#define STORE_SIGHT_H

#include "sql.h"

#define SIGHT_HELD "held" /* for the merge in "foreign:ACT": the act came along only */

/* Keeps the last merge asked about. One moment's view: begin anew after a merge is turned. */
struct sight {
	struct store *store;
	char merge_id[ID_SIZE];
	bool is_undone;
};

/* Has this log ever taken in another copy? */
enum status store_was_merged(struct store *store, bool *out, struct fault *why) MUST_CHECK;
/* A merge, or what undid or redid one. kind and undoes are the act's own columns. */
enum status set_is_local(struct store *store, const char *kind, const char *undoes, bool *out,
	struct fault *why) MUST_CHECK;
/* Was this merge undone, and not done again? SIGHT_HELD is as good as undone. */
enum status merge_is_undone(
	struct sight *sight, const char *merge_id, bool *out, struct fault *why) MUST_CHECK;
/* Which merge brought an act: "" when it is the log's own. */
enum status set_brought_by(
	struct store *store, const char *set_id, char out[ID_SIZE], struct fault *why) MUST_CHECK;
/* Does the act count here? False also for one that is not in the log. */
enum status set_counts(
	struct sight *sight, const char *set_id, bool *out, struct fault *why) MUST_CHECK;
/* Does the act that made the row count? False also for a row that is not in the log. */
enum status row_counts(struct sight *sight, const char *table, const char *id, bool *out,
	struct fault *why) MUST_CHECK;

#endif
