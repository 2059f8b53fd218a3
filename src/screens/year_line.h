/* SPDX-License-Identifier: MIT */
/* year_line.h - a tree's year in one row, for a list of many: the ribbon's marks of twelve months
 * woven into pairs of cells. The left cell of a pair says the crop, the right one the saw; where
 * one of them has nothing to say the other has both, and a letter of what was done stands on the
 * left. So both read as one texture, without colour:
 *
 *          Jun Jul Aug Sep Oct Nov Dec Jan Feb Mar Apr May
 *   A1     --####    .x.x.xcxxxxx====*x*x**------
 *
 * Of the saw, the feed or the deeds alone, and of the crop, each cell speaks for its own days.
 * Pure: a ribbon in, cells out. */
#ifndef SCREENS_YEAR_LINE_H
#define SCREENS_YEAR_LINE_H

#include "ribbon.h"

enum { YEAR_COLUMNS_MAX = 144 };

/* What the rows tell. */
enum year_thread { YEAR_ALL, YEAR_CROP, YEAR_SAW, YEAR_FEED, YEAR_DONE, YEAR_THREADS };

struct year_cell {
	uint8_t mark; /* enum ribbon_mark */
	char letter;  /* of RIBBON_DEED; '+' of three and more */
};
struct year_line {
	struct year_cell cells[YEAR_COLUMNS_MAX];
	uint32_t done; /* the kinds whose letters stand in it, as bits */
};

/* columns: even, 12 to YEAR_COLUMNS_MAX. Weather is the whole place's, and no deed here. */
void year_line_make(
	const struct ribbon *ribbon, enum year_thread thread, int columns, struct year_line *out);
const char *year_thread_name(enum year_thread thread);
/* The signs that rows of this thread may hold, in words, each within 60 cells: of the crop and the
 * day, then of the saw and the head. Both return out. */
const char *year_line_crop_key(enum year_thread thread, bool ascii, char out[RIBBON_KEY_SIZE]);
const char *year_line_saw_key(enum year_thread thread, bool ascii, char out[RIBBON_KEY_SIZE]);
/* The letters of these kinds, in words. Returns out. */
const char *year_line_letters(uint32_t kinds, char out[RIBBON_KEY_SIZE]);

#endif
