/* SPDX-License-Identifier: MIT */
/* every.h - the places in the program, each screen and each line that is half filled, for what
 * holds wherever one is. */
#ifndef SUPPORT_EVERY_H
#define SUPPORT_EVERY_H

#include "support/stage.h"

struct where {
	const char *name;
	const char *keys;  /* from the first screen */
	const char *typed; /* then, letter by letter */
	const char *shows; /* once there */
	bool empty;        /* no log is there yet */
	bool kept;         /* what was typed is offered at the next start */
	bool types;        /* lines pasted without brackets are lines typed */
};

enum { WHERES = 25 };
extern const struct where wheres[WHERES];

void go_there(struct stage *stage, const struct where *where);
/* Change sets of the log; 0 where there is none yet. */
int acts_of(const struct stage *stage);
/* The log is whole, or is not there where there was none. */
void check_sound(const struct stage *stage);

#endif
