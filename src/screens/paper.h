/* SPDX-License-Identifier: MIT */
/* paper.h - what a screen draws on: rows of cells, styles by meaning. The only door to curses for
 * drawing; everything put goes through core/text's text_clean and text_fit. */
#ifndef SCREENS_PAPER_H
#define SCREENS_PAPER_H

#include <stdbool.h>

/* A meaning, never a colour: each stands with a letter or a word, and reads without colour. */
enum style {
	STYLE_PLAIN,
	STYLE_TITLE,
	STYLE_FAINT,
	STYLE_STRONG,
	STYLE_SELECTED,
	STYLE_ACT,
	STYLE_DUE,
	STYLE_SOON,
	STYLE_NOTE,
	STYLE_GOOD,
	STYLE_HAZARD,
	STYLE_TOTAL
};

struct paper; /* a body of rows x columns; the loop owns head, messages and foot */

int paper_rows(const struct paper *paper);
int paper_columns(const struct paper *paper);
bool paper_ascii(const struct paper *paper);
/* Puts text at row, column, cut to `cells` with an ellipsis; cells 0: to the edge. Returns the
 * column after it. Rows outside are ignored. */
int paper_put(
	struct paper *paper, int row, int column, int cells, enum style style, const char *text);
int paper_format(struct paper *paper, int row, int column, int cells, enum style style,
	const char *format, ...) __attribute__((format(printf, 6, 7)));
/* The same, set against the right end of `cells`. */
void paper_put_right(
	struct paper *paper, int row, int column, int cells, enum style style, const char *text);
/* Wraps text into at most `rows` rows of `cells` cells; returns how many rows it took. */
int paper_wrap(struct paper *paper, int row, int column, int cells, int rows, enum style style,
	const char *text);
/* How many rows it would take. */
int paper_wrap_rows(const char *text, int cells);
/* A thin rule across. */
void paper_rule(struct paper *paper, int row, int column, int cells);
/* Gives the whole row a style (the selected item); the hardware cursor goes there. */
void paper_select(struct paper *paper, int row, int column, int cells);
void paper_cursor(struct paper *paper, int row, int column);

#endif
