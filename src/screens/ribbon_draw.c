/* SPDX-License-Identifier: MIT */
#include "ribbon_draw.h"

#include <stdio.h>

#include "core/text.h"

/* Names of rows stand in a margin. A page wider than this says no more by its width. */
enum { MARGIN = 7, CELLS_LEAST = 12, CELLS_MOST = 183 };

static int columns_of(int cells)
{
	int columns = cells - MARGIN;
	if (columns < CELLS_LEAST)
		return CELLS_LEAST;
	return columns > CELLS_MOST ? CELLS_MOST : columns;
}

enum style ribbon_style(enum ribbon_mark mark)
{
	switch (mark) {
	case RIBBON_WOOD:
	case RIBBON_HANGS:
	case RIBBON_BLANK:
		return STYLE_PLAIN;
	case RIBBON_BLOOM:
		return STYLE_SOON;
	case RIBBON_HARVEST:
	case RIBBON_CUT_CLEAR:
	case RIBBON_FEED_CLEAR:
		return STYLE_GOOD;
	case RIBBON_CUT_AVOID:
	case RIBBON_FEED_AVOID:
	case RIBBON_FROST:
	case RIBBON_HEAT:
		return STYLE_ACT;
	case RIBBON_NAME:
		return STYLE_FAINT;
	case RIBBON_DEED:
	case RIBBON_NOW:
		return STYLE_STRONG;
	}
	return STYLE_PLAIN;
}

/* Cells of one style at a time. */
void ribbon_draw_row(const struct ribbon *ribbon, enum ribbon_row which, struct paper *paper,
	int row, int column, int columns)
{
	struct ribbon_cell cells[CELLS_MOST];
	char text[CELLS_MOST * RIBBON_CELL_SIZE];
	ribbon_cells(ribbon, which, columns, paper_ascii(paper), cells);
	for (int at = 0; at < columns;) {
		struct text_builder run = text_builder_fixed(text, sizeof text);
		enum style style = ribbon_style(cells[at].mark);
		int from = at;
		for (; at < columns && ribbon_style(cells[at].mark) == style; at++)
			text_add(&run, cells[at].text);
		paper_put(paper, row, column + from, at - from, style, text);
	}
}

static const char *say_basis(const struct ribbon *ribbon, char *out, size_t size)
{
	out[0] = '\0';
	if (!ribbon->dated)
		snprintf(out, size, "No dates: what the kind and the place are is not known.");
	else if (ribbon->learned_seasons > 0)
		snprintf(out, size, "Moved by this tree's own days, %d seasons%s.",
			ribbon->learned_seasons, ribbon->by_hand ? "; some set by hand" : "");
	else
		snprintf(out, size, "By the almanac%s.",
			ribbon->by_hand ? " and what was set by hand" : "");
	return out;
}

/* The key, and where the dates come from, in one. */
static void say_key(const struct ribbon *ribbon, bool ascii, char *out, size_t size)
{
	char key[RIBBON_KEY_SIZE], basis[120];
	ribbon_key(ribbon, ascii, key);
	say_basis(ribbon, basis, sizeof basis);
	snprintf(out, size, "%s%s%s", key, key[0] != '\0' ? "  " : "", basis);
}

int ribbon_height(const struct ribbon *ribbon, bool ascii, int cells)
{
	char key[RIBBON_KEY_SIZE + 128];
	int columns = columns_of(cells);
	int rows = 0;
	for (int row = 0; row < RIBBON_ROW_TOTAL; row++)
		rows += ribbon_has_row(ribbon, (enum ribbon_row)row, columns);
	say_key(ribbon, ascii, key, sizeof key);
	return rows + paper_wrap_rows(key, cells);
}

int ribbon_draw(const struct ribbon *ribbon, struct paper *paper, int row, int column, int cells)
{
	char key[RIBBON_KEY_SIZE + 128];
	int columns = columns_of(cells);
	int at = row;
	for (int which = 0; which < RIBBON_ROW_TOTAL; which++) {
		enum ribbon_row part = (enum ribbon_row)which;
		if (!ribbon_has_row(ribbon, part, columns))
			continue;
		paper_put(paper, at, column, MARGIN, STYLE_FAINT, ribbon_row_name(part));
		ribbon_draw_row(ribbon, part, paper, at, column + MARGIN, columns);
		at++;
	}
	say_key(ribbon, paper_ascii(paper), key, sizeof key);
	int wrapped = paper_wrap_rows(key, cells);
	paper_wrap(paper, at, column, cells, wrapped, STYLE_FAINT, key);
	return at + wrapped - row;
}
