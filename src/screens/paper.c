/* SPDX-License-Identifier: MIT */
#include "sheet.h"

#include <curses.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <wchar.h>

#include "core/text.h"
#include "term.h"

enum {
	CELLS_MAX = 500, /* no row is put wider than this */
	WIDE_MAX = 6,    /* characters of one cell: a letter and its marks */
	FORMATTED_SIZE = 2048,
};

int paper_rows(const struct paper *paper)
{
	return paper->rows;
}

int paper_columns(const struct paper *paper)
{
	return paper->columns;
}

bool paper_ascii(const struct paper *paper)
{
	return paper->ascii;
}

/* --- cells --- */

/* One cluster at its cell. Where the terminal's library counts other cells than we do, a question
 * mark stands instead, so that what comes after it keeps its column. */
static void put_cluster(int row, int column, attr_t attributes, const char *text, size_t length)
{
	wchar_t wide[WIDE_MAX] = {0};
	cchar_t cell;
	int count = 0;
	int cells = 0;
	for (size_t at = 0, used; at < length && count < WIDE_MAX - 1; at += used) {
		wide[count] = (wchar_t)text_decode(text + at, length - at, &used);
		cells += wcwidth(wide[count]);
		count++;
	}
	const int ours = text_width_n(text, length);
	if (count == 0 || wcwidth(wide[0]) < 1 || cells != ours) {
		(void)mvaddnstr(row, column, "??", ours > 2 ? 2 : ours);
		return;
	}
	if (setcchar(&cell, wide, attributes & ~A_COLOR, (short)PAIR_NUMBER(attributes), NULL) ==
		OK)
		(void)mvadd_wch(row, column, &cell);
}

static int put_cells(
	const struct paper *paper, int row, int column, enum style style, const char *text)
{
	const size_t length = strlen(text);
	const attr_t attributes = term_attributes(style);
	(void)attrset((int)attributes);
	for (size_t at = 0; at < length && column < paper->columns;) {
		const size_t next = text_next(text, length, at);
		if (next == at + 1)
			(void)mvaddch(paper->top + row, column, (chtype)(unsigned char)text[at]);
		else
			put_cluster(paper->top + row, column, attributes, text + at, next - at);
		column += text_width_n(text + at, next - at);
		at = next;
	}
	(void)attrset((int)A_NORMAL);
	return column;
}

static bool is_outside(const struct paper *paper, int row, int column)
{
	return row < 0 || row >= paper->rows || column < 0 || column >= paper->columns;
}

/* Cells that are there of the cells wanted. */
static int cells_there(const struct paper *paper, int column, int cells)
{
	int there = paper->columns - column;
	if (cells > 0 && cells < there)
		there = cells;
	return there > CELLS_MAX ? CELLS_MAX : there;
}

static int put_fitted(struct paper *paper, int row, int column, int cells, enum style style,
	const char *text, int how)
{
	char fitted[TEXT_FIT_SIZE(CELLS_MAX)];
	if (is_outside(paper, row, column))
		return column;
	cells = cells_there(paper, column, cells);
	text_fit(
		text, cells, how | (paper->ascii ? TEXT_ASCII : TEXT_PLAIN), fitted, sizeof fitted);
	return put_cells(paper, row, column, style, fitted);
}

int paper_put(
	struct paper *paper, int row, int column, int cells, enum style style, const char *text)
{
	return put_fitted(paper, row, column, cells, style, text, TEXT_PLAIN);
}

int paper_format(struct paper *paper, int row, int column, int cells, enum style style,
	const char *format, ...)
{
	char text[FORMATTED_SIZE];
	va_list arguments;
	va_start(arguments, format);
	(void)vsnprintf(text, sizeof text, format, arguments);
	va_end(arguments);
	return put_fitted(paper, row, column, cells, style, text, TEXT_PLAIN);
}

void paper_put_right(
	struct paper *paper, int row, int column, int cells, enum style style, const char *text)
{
	(void)put_fitted(paper, row, column, cells, style, text, TEXT_PAD_LEFT);
}

/* --- wrapping --- */

/* Where the row that starts at `from` ends, and in *next where the one after it starts. Breaks at
 * a blank; a word longer than the row is cut. */
static size_t row_end(const char *text, size_t length, size_t from, int cells, size_t *next)
{
	size_t at = from;
	size_t blank = 0;
	int width = 0;
	while (at < length) {
		const size_t after = text_next(text, length, at);
		width += text_width_n(text + at, after - at);
		if (width > cells)
			break;
		if (text[at] == ' ')
			blank = at;
		at = after;
	}
	*next = at;
	if (at >= length || text[at] == ' ' || blank <= from) {
		if (at == from) /* not even one fits */
			*next = at = text_next(text, length, at);
	} else {
		*next = at = blank;
	}
	while (*next < length && text[*next] == ' ')
		(*next)++;
	return at;
}

int paper_wrap(struct paper *paper, int row, int column, int cells, int rows, enum style style,
	const char *text)
{
	char cleaned[FORMATTED_SIZE * 2];
	char part[FORMATTED_SIZE * 2];
	int taken = 0;
	if (column < 0 || column >= paper->columns)
		return 0;
	cells = cells_there(paper, column, cells);
	text_clean(text, paper->ascii ? TEXT_ASCII : TEXT_PLAIN, cleaned, sizeof cleaned);
	const size_t length = strlen(cleaned);
	for (size_t from = 0; from < length && taken < rows; taken++) {
		size_t next;
		const size_t end = row_end(cleaned, length, from, cells, &next);
		if (taken + 1 == rows && next < length) /* the last one tells that it goes on */
			text_copy(part, sizeof part, cleaned + from);
		else
			text_copy_n(part, sizeof part, cleaned + from, end - from);
		(void)paper_put(paper, row + taken, column, cells, style, part);
		from = next;
	}
	return taken;
}

int paper_wrap_rows(const char *text, int cells)
{
	char cleaned[FORMATTED_SIZE * 2];
	int rows = 0;
	text_clean(text, TEXT_PLAIN, cleaned, sizeof cleaned);
	const size_t length = strlen(cleaned);
	for (size_t from = 0; from < length; rows++) {
		size_t next;
		(void)row_end(cleaned, length, from, cells < 1 ? 1 : cells, &next);
		from = next;
	}
	return rows;
}

/* --- rules, selection, cursor --- */

void paper_rule(struct paper *paper, int row, int column, int cells)
{
	if (is_outside(paper, row, column))
		return;
	cells = cells_there(paper, column, cells);
	for (int i = 0; i < cells; i++)
		(void)put_cells(
			paper, row, column + i, STYLE_FAINT, paper->ascii ? "-" : "\xe2\x94\x80");
}

void paper_select(struct paper *paper, int row, int column, int cells)
{
	if (is_outside(paper, row, column))
		return;
	cells = cells_there(paper, column, cells);
	if ((mvinch(paper->top + row, column) & A_CHARTEXT) == ' ')
		(void)mvaddch(paper->top + row, column, '>');
	const attr_t selected = term_attributes(STYLE_SELECTED);
	(void)mvchgat(paper->top + row, column, cells, selected & ~A_COLOR,
		(short)PAIR_NUMBER(selected), NULL);
	paper_cursor(paper, row, column);
}

void paper_cursor(struct paper *paper, int row, int column)
{
	if (is_outside(paper, row, column))
		return;
	paper->has_cursor = true;
	paper->cursor_row = row;
	paper->cursor_column = column;
}

void sheet_set_cursor(const struct paper *paper)
{
	if (paper->has_cursor)
		(void)move(paper->top + paper->cursor_row, paper->cursor_column);
	else
		(void)move(paper->top + paper->rows, 0); /* the line of messages */
}
