/* SPDX-License-Identifier: MIT */
/* ribbon.h - a tree's year at a glance: the twelve months around today, one row for each part of
 * its life. Pure: a dossier and a day in, cells out; no paper and no clock.
 *
 *          Jun Jul Aug Sep Oct Nov Dec Jan Feb Mar Apr May
 *                          ^ today
 *   flower         wood......bloom***
 *   fruit                             ----------harvest##
 *   saw    clear=====  avoidxxxxxxxxx
 *   done    c          f     s
 *
 * A span says its word where it has room for it, and is filled with a sign of its own, so that it
 * reads without colour; the key names each sign that is there. */
#ifndef SCREENS_RIBBON_H
#define SCREENS_RIBBON_H

#include "reckon/dossier.h"

enum {
	RIBBON_DAYS_MAX = 366,
	RIBBON_CELL_SIZE = 5, /* one character and NUL */
	RIBBON_KEY_SIZE = 640,
};

/* In the order in which they are drawn. */
enum ribbon_row {
	RIBBON_MONTHS,
	RIBBON_TODAY,  /* and frost, heat, where the place's dates or its weather tell */
	RIBBON_FLOWER, /* wood grows, bloom */
	RIBBON_FRUIT,  /* hangs, harvest */
	RIBBON_SAW,    /* clear, avoid */
	RIBBON_FEED,   /* clear, avoid */
	RIBBON_DONE,   /* a letter on its day */
	RIBBON_MORE,   /* where two things were done in one cell's days; + for three and more */
	RIBBON_PLAN,
	RIBBON_ROW_TOTAL
};

struct ribbon {
	struct date from;                  /* the first of a month, five months back */
	int32_t days;                      /* twelve whole months */
	int32_t today;                     /* days from the first */
	bool dated;                        /* some window is known */
	uint16_t marks[RIBBON_DAYS_MAX];   /* enum ribbon_mark, as bits */
	uint32_t done[RIBBON_DAYS_MAX];    /* enum entry_kind, as bits */
	uint32_t planned[RIBBON_DAYS_MAX]; /* the same */
	int32_t learned_seasons;           /* most behind a window moved by its own days; 0 none */
	bool by_hand;                      /* some window was set by hand */
};

/* What a cell says: the parts that are drawn in styles of their own. */
enum ribbon_mark {
	RIBBON_WOOD,
	RIBBON_BLOOM,
	RIBBON_HANGS,
	RIBBON_HARVEST,
	RIBBON_CUT_CLEAR,
	RIBBON_CUT_AVOID,
	RIBBON_FEED_CLEAR,
	RIBBON_FEED_AVOID,
	RIBBON_FROST, /* from the place's first frost to its last */
	RIBBON_HEAT,  /* months in which the stored weather of the last 400 days has 35 C */
	RIBBON_MARK_TOTAL,
	RIBBON_BLANK = RIBBON_MARK_TOTAL,
	RIBBON_NAME, /* a month */
	RIBBON_DEED,
	RIBBON_NOW
};
struct ribbon_cell {
	char text[RIBBON_CELL_SIZE];
	enum ribbon_mark mark;
};

void ribbon_make(const struct dossier *dossier, struct date today, struct ribbon *out);
/* "flower"; "" where a row has no name. */
const char *ribbon_row_name(enum ribbon_row row);
/* Is there anything in this row at this width: the rows of deeds are drawn only then. */
bool ribbon_has_row(const struct ribbon *ribbon, enum ribbon_row row, int columns);
/* One row in so many cells, columns >= 12. */
void ribbon_cells(const struct ribbon *ribbon, enum ribbon_row row, int columns, bool ascii,
	struct ribbon_cell *out);
/* The signs and letters that are there, in words: "### harvest, c cut, ...". Returns out. */
const char *ribbon_key(const struct ribbon *ribbon, bool ascii, char out[RIBBON_KEY_SIZE]);
/* The letter a kind of entry is shown by: the entry line's own where it has one. */
char ribbon_letter(enum entry_kind kind);
/* First and last day (from the first, both ends in) that a cell stands for. */
void ribbon_cell_days(
	const struct ribbon *ribbon, int columns, int cell, int32_t *first, int32_t *last);

/* --- parts, for who puts them together otherwise: a row for each tree of a yard --- */

/* The mark on top in a cell of a row; RIBBON_BLANK when there is none. */
enum ribbon_mark ribbon_mark_of_cell(
	const struct ribbon *ribbon, enum ribbon_row row, int columns, int cell);
/* What was done in a cell's days: enum entry_kind, as bits. */
uint32_t ribbon_done_in_cell(const struct ribbon *ribbon, int columns, int cell);
/* The cell of today. */
int ribbon_cell_of_today(const struct ribbon *ribbon, int columns);
const char *ribbon_sign(enum ribbon_mark mark, bool ascii);

#endif
