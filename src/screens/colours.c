/* SPDX-License-Identifier: MIT */
#include "colours.h"

#include <assert.h>
#include <string.h>

enum { OWN = -1 };

/* clang-format off */
static const struct look looks[SCHEME_TOTAL][STYLE_TOTAL] = {
	[SCHEME_OWN] = {
		[STYLE_PLAIN] = {A_NORMAL, OWN, OWN},
		[STYLE_TITLE] = {A_BOLD, OWN, OWN},
		[STYLE_FAINT] = {A_NORMAL, COLOR_BLUE, OWN},
		[STYLE_STRONG] = {A_BOLD, OWN, OWN},
		[STYLE_SELECTED] = {A_REVERSE, OWN, OWN},
		[STYLE_ACT] = {A_BOLD, COLOR_RED, OWN},
		[STYLE_DUE] = {A_BOLD, COLOR_MAGENTA, OWN},
		[STYLE_SOON] = {A_NORMAL, COLOR_CYAN, OWN},
		[STYLE_NOTE] = {A_NORMAL, OWN, OWN},
		[STYLE_GOOD] = {A_NORMAL, COLOR_GREEN, OWN},
		[STYLE_HAZARD] = {A_REVERSE | A_BOLD, OWN, OWN},
	},
	/* Bold black is grey on many terminals: there a line under it instead. */
	[SCHEME_DAY] = {
		[STYLE_PLAIN] = {A_NORMAL, COLOR_BLACK, COLOR_WHITE},
		[STYLE_TITLE] = {A_UNDERLINE, COLOR_BLACK, COLOR_WHITE},
		[STYLE_FAINT] = {A_NORMAL, COLOR_BLACK, COLOR_WHITE},
		[STYLE_STRONG] = {A_UNDERLINE, COLOR_BLACK, COLOR_WHITE},
		[STYLE_SELECTED] = {A_NORMAL, COLOR_WHITE, COLOR_BLACK},
		[STYLE_ACT] = {A_NORMAL, COLOR_WHITE, COLOR_RED},
		[STYLE_DUE] = {A_NORMAL, COLOR_WHITE, COLOR_BLUE},
		[STYLE_SOON] = {A_NORMAL, COLOR_BLACK, COLOR_CYAN},
		[STYLE_NOTE] = {A_NORMAL, COLOR_BLACK, COLOR_WHITE},
		[STYLE_GOOD] = {A_NORMAL, COLOR_BLACK, COLOR_GREEN},
		[STYLE_HAZARD] = {A_NORMAL, COLOR_BLACK, COLOR_YELLOW},
	},
	[SCHEME_NIGHT] = {
		[STYLE_PLAIN] = {A_NORMAL, COLOR_WHITE, COLOR_BLACK},
		[STYLE_TITLE] = {A_BOLD, COLOR_YELLOW, COLOR_BLACK},
		[STYLE_FAINT] = {A_NORMAL, COLOR_WHITE, COLOR_BLACK},
		[STYLE_STRONG] = {A_BOLD, COLOR_WHITE, COLOR_BLACK},
		[STYLE_SELECTED] = {A_NORMAL, COLOR_BLACK, COLOR_WHITE},
		[STYLE_ACT] = {A_BOLD, COLOR_WHITE, COLOR_RED},
		[STYLE_DUE] = {A_NORMAL, COLOR_BLACK, COLOR_YELLOW},
		[STYLE_SOON] = {A_NORMAL, COLOR_BLACK, COLOR_CYAN},
		[STYLE_NOTE] = {A_NORMAL, COLOR_WHITE, COLOR_BLACK},
		[STYLE_GOOD] = {A_NORMAL, COLOR_BLACK, COLOR_GREEN},
		[STYLE_HAZARD] = {A_NORMAL, COLOR_BLACK, COLOR_YELLOW},
	},
	[SCHEME_NONE] = {
		[STYLE_PLAIN] = {A_NORMAL, OWN, OWN},
		[STYLE_TITLE] = {A_BOLD, OWN, OWN},
		[STYLE_FAINT] = {A_NORMAL, OWN, OWN},
		[STYLE_STRONG] = {A_BOLD, OWN, OWN},
		[STYLE_SELECTED] = {A_REVERSE, OWN, OWN},
		[STYLE_ACT] = {A_BOLD, OWN, OWN},
		[STYLE_DUE] = {A_BOLD, OWN, OWN},
		[STYLE_SOON] = {A_NORMAL, OWN, OWN},
		[STYLE_NOTE] = {A_NORMAL, OWN, OWN},
		[STYLE_GOOD] = {A_NORMAL, OWN, OWN},
		[STYLE_HAZARD] = {A_REVERSE | A_BOLD, OWN, OWN},
	},
};

static const struct { const char *name, *words; } schemes[SCHEME_TOTAL] = {
	[SCHEME_OWN] = {"own", "the terminal's own ground"},
	[SCHEME_DAY] = {"day", "black on white, for glare"},
	[SCHEME_NIGHT] = {"night", "white on black, for the dark"},
	[SCHEME_NONE] = {"none", "no colour at all"},
};
/* clang-format on */

struct look colours_look(enum scheme scheme, enum style style)
{
	assert(scheme < SCHEME_TOTAL && style < STYLE_TOTAL);
	return looks[scheme][style];
}

const char *scheme_name(enum scheme scheme)
{
	return schemes[scheme].name;
}

const char *scheme_words(enum scheme scheme)
{
	return schemes[scheme].words;
}

enum scheme scheme_find(const char *name)
{
	enum scheme scheme = SCHEME_OWN;
	while (scheme < SCHEME_TOTAL && strcmp(schemes[scheme].name, name) != 0)
		scheme++;
	return scheme;
}
