/* SPDX-License-Identifier: MIT */
/* act.h - the beginning of an act of any kind, for the store's own parts. */
#ifndef STORE_ACT_H
#define STORE_ACT_H

#include "sql.h"

struct act_start {
	const char *kind; /* act undo redo import merge */
	const char *what;
	const char *undoes; /* "" : none */
};

/* As store_act_begin, in two steps: takes the lock, then writes the change set. Between them the
 * log can be read as nobody else can change it any more. */
enum status act_lock(struct store *store, struct fault *why) MUST_CHECK;
enum status act_name(
	struct store *store, const struct act_start *start, struct fault *why) MUST_CHECK;

#endif
