/* SPDX-License-Identifier: MIT */
/* hangs.h - which record hangs on which: an entry on its tree, a graft on its host, a spot on its
 * area. Undone in their order acts never part them; picked one by one they could. Only files of
 * src/store include this. */
#ifndef STORE_HANGS_H
#define STORE_HANGS_H

#include "sql.h"

/* STATUS_CONFLICT: among what the open act struck or brought back a row would stand that hangs on
 * one that is struck. `what`, being `done` ("undone"), is told with the act that is in its way. */
enum status hangs_check(
	struct store *store, const char *what, const char *done, struct fault *why) MUST_CHECK;

#endif
