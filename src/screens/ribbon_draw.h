/* SPDX-License-Identifier: MIT */
/* ribbon_draw.h - a ribbon put on paper. */
#ifndef SCREENS_RIBBON_DRAW_H
#define SCREENS_RIBBON_DRAW_H

#include "paper.h"
#include "ribbon.h"

/* How many rows it takes in so many cells, its key included. */
int ribbon_height(const struct ribbon *ribbon, bool ascii, int cells);
/* Draws it; returns how many rows it took. */
int ribbon_draw(const struct ribbon *ribbon, struct paper *paper, int row, int column, int cells);

/* One row of it alone, without its name. */
void ribbon_draw_row(const struct ribbon *ribbon, enum ribbon_row which, struct paper *paper,
	int row, int column, int columns);
enum style ribbon_style(enum ribbon_mark mark);

#endif
