/* SPDX-License-Identifier: MIT */
/* yard_worst.h - the worst flags of the yard: gathered tree by tree in quiet moments, so that a
 * yard of any size is on the screen at once. */
#ifndef SCREENS_YARD_WORST_H
#define SCREENS_YARD_WORST_H

#include "screen.h"

enum { WORST_MAX = 24 };

struct worst {
	struct flag flags[WORST_MAX]; /* worst first; pointers in them mean nothing here */
	int32_t count;
	int32_t open;   /* act, due and soon, of all trees looked at */
	int32_t looked; /* trees */
	int32_t total;
	bool done;
};

void worst_start(struct worst *worst);
/* Looks at more trees for about so long; when all were seen, done is set. */
enum status worst_look(
	struct worst *worst, struct session *session, double seconds, struct fault *why) MUST_CHECK;
/* Draws into at most `rows` rows and returns how many it took. */
int worst_draw(const struct worst *worst, struct paper *paper, int rows);
/* How many rows worst_draw takes of at most so many. */
int worst_rows(const struct worst *worst, int rows);

#endif
