/* SPDX-License-Identifier: MIT */
/* stood.h - trees, spots and areas that were found to stand while one import is open, so that the
 * tree of a thousand picks is looked for once. Nobody else writes meanwhile; whoever strikes a row
 * forgets them all. `kind` tells the tables apart. */
#ifndef STORE_STOOD_H
#define STORE_STOOD_H

#include <stdbool.h>

struct stood;

bool stood_before(const struct stood *stood, char kind, const char *id); /* NULL is fine: false */
void stood_note(struct stood **stood, char kind, const char *id);
void stood_forget(struct stood *stood); /* NULL is fine */
void stood_free(struct stood **stood);

#endif
