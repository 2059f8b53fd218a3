/* SPDX-License-Identifier: MIT */
/* found.h - the tree that letters mean: its label, or one that begins so, or one that holds
 * them. */
#ifndef SCREENS_FOUND_H
#define SCREENS_FOUND_H

#include "screen.h"

struct found {
	char id[ID_SIZE]; /* "" none */
	char says[200];   /* the labels that hold the letters, that none does, or what failed */
};
/* Reads in a quiet moment what a third letter goes by; true: it was not read yet. */
bool found_prepare(struct session *session);
void found_look(struct found *found, struct session *session, const char *text);

#endif
