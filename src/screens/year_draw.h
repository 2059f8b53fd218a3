/* SPDX-License-Identifier: MIT */
/* year_draw.h - the year of every tree put on paper: months above, a row for each tree, and the
 * key of its signs below. */
#ifndef SCREENS_YEAR_DRAW_H
#define SCREENS_YEAR_DRAW_H

#include "yard_rows.h"

/* Cells of a tree's line at this width: whole months of as many cells as there is room for. */
int year_columns(int width);
/* Trees that are seen of a body of so many rows. */
int32_t year_rows(int rows, bool finding);
void year_draw(const struct yard_rows *rows, struct paper *paper, int32_t selected, bool finding);

#endif
