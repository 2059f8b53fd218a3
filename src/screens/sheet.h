/* SPDX-License-Identifier: MIT */
/* sheet.h - the paper as the loop sees it: where it lies on the screen, and what was put on it
 * about the cursor. */
#ifndef SCREENS_SHEET_H
#define SCREENS_SHEET_H

#include "paper.h"

struct paper {
	int top; /* row of the screen where it begins */
	int rows;
	int columns;
	bool ascii;
	bool has_cursor;
	int cursor_row; /* of the paper */
	int cursor_column;
};

/* Moves the hardware cursor to where the paper wants it; without a wish to its last row's end. */
void sheet_set_cursor(const struct paper *paper);

#endif
