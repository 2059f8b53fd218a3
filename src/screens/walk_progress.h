/* SPDX-License-Identifier: MIT */
/* walk_progress.h - how far a walk has come: trees passed and left on the route, and what was
 * logged today, whoever logged it. Counted from the log, so that a walk broken off goes on with
 * its numbers. */
#ifndef SCREENS_WALK_PROGRESS_H
#define SCREENS_WALK_PROGRESS_H

#include "report/session.h"

enum { WALK_PROGRESS_SIZE = 64 };

struct walk_progress {
	int32_t passed;
	int32_t left;
	int32_t logged; /* entries */
};

/* What was logged stays 0 where it cannot be read. */
void walk_progress_read(
	struct walk_progress *out, struct session *session, int32_t at, int32_t trees);
/* " 6 passed, 5 logged today, 15 left ". Returns out. */
const char *walk_progress_words(const struct walk_progress *progress, char out[WALK_PROGRESS_SIZE]);
/* "7 of 22", where there is no row for the words ", 5 logged" with it. Returns out. */
const char *walk_progress_place(
	const struct walk_progress *progress, bool alone, char out[WALK_PROGRESS_SIZE]);

#endif
