/* SPDX-License-Identifier: MIT */
/* colours.h - how each style looks, by scheme. Eight colours alone, none redefined; a style is told
 * from plain text by its words and, where it matters, by an attribute, in every scheme. */
#ifndef SCREENS_COLOURS_H
#define SCREENS_COLOURS_H

#include <curses.h>

#include "paper.h"

enum scheme {
	SCHEME_OWN,   /* the terminal's own ground */
	SCHEME_DAY,   /* black on white: for glare */
	SCHEME_NIGHT, /* white on black: for the dark */
	SCHEME_NONE,
	SCHEME_TOTAL
};

struct look {
	chtype attributes;
	short colour; /* -1: the terminal's own */
	short ground;
};

struct look colours_look(enum scheme scheme, enum style style);
const char *scheme_name(enum scheme scheme); /* "day" */
/* What the next key says of it: "black on white, for glare". */
const char *scheme_words(enum scheme scheme);
/* SCHEME_TOTAL: there is none of that name. */
enum scheme scheme_find(const char *name);

#endif
