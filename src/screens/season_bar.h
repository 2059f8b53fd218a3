/* SPDX-License-Identifier: MIT */
/* season_bar.h - a crop as a bar of a few cells. Pure. */
#ifndef SCREENS_SEASON_BAR_H
#define SCREENS_SEASON_BAR_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { SEASON_BAR_CELLS_MAX = 60, SEASON_BAR_SIZE = SEASON_BAR_CELLS_MAX * 3 + 1 };

struct season_bar {
	int64_t value;
	int64_t full; /* what fills all cells; more ends in an arrow */
	int64_t mark; /* a line across at this value, in a cell of its own; < 0 none */
	int cells;
	bool open; /* not over: drawn lighter, in whole cells */
	bool ascii;
};

/* To an eighth of a cell; in ASCII in whole cells, one for anything above nothing. Always `cells`
 * wide; returns out. */
const char *season_bar_draw(const struct season_bar *bar, char out[SEASON_BAR_SIZE]);

#endif
