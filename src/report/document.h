/* SPDX-License-Identifier: MIT */
/* document.h - pages to print, told once: written as text of 80 columns, or as one HTML file with
 * drawn charts. The parts that follow one another (rows, cells) make a list or a table of their
 * own; any other part ends it. Reads without colour: filled and hollow bars, and words. */
#ifndef REPORT_DOCUMENT_H
#define REPORT_DOCUMENT_H

#include "core/text.h"
#include "report/html.h"
#include "report/print.h"

struct document_column {
	const char *head;
	int cells; /* of text; 0: the last column, which wraps */
	bool figures;
};

/* One bar of a chart, with what it says beside it. */
struct document_bar {
	const char *label;
	const char *words;     /* "52 lb, on year" */
	struct maybe_i64 size; /* unknown: no bar is drawn */
	bool open;             /* not over yet: drawn hollow */
};

enum document_part { PART_PROSE, PART_ROWS, PART_CELLS };

struct document {
	struct printer printer;
	bool is_html;
	struct html html;
	enum document_part part;
	int32_t pages;
	const struct document_column *columns;
	int32_t column_count;
	int32_t column; /* of the next cell */
	int head_cells; /* of rows, in text */
	bool in_heads;
	char head[TEXT_FIT_SIZE(80)]; /* of the row so far, in text */
};

/* The title stands on the first page. */
void document_begin(
	struct document *document, const struct printer *printer, bool is_html, const char *title);
enum status document_end(struct document *document, struct fault *why) MUST_CHECK;
/* A page of its own where it is printed. */
void document_page(struct document *document, const char *title);
void document_heading(struct document *document, const char *text);
/* A part that is kept together where it is printed, under its heading. */
void document_group_begin(struct document *document, const char *heading);
void document_group_end(struct document *document);
void document_say(struct document *document, const char *format, ...)
	__attribute__((format(printf, 2, 3)));
/* What can hurt someone. */
void document_warn(struct document *document, const char *text);
void document_row(struct document *document, const char *head, const char *format, ...)
	__attribute__((format(printf, 3, 4)));
enum { DOCUMENT_HEAD_CELLS = 18, DOCUMENT_HEAD_CELLS_MAX = 30 };
/* How wide the heads of the rows that follow are, in text. */
void document_heads(struct document *document, int cells);
/* A table: then a cell each, row by row. */
void document_table(
	struct document *document, const struct document_column *columns, int32_t count);
void document_cell(struct document *document, const char *text);
/* mark: of all bars, as a line across (a mean); unknown none. */
void document_bars(struct document *document, const char *title, const struct document_bar *bars,
	int32_t count, struct maybe_i64 mark);
/* Lines to fill by hand: the day, and what was done or seen. */
void document_blanks(struct document *document, int32_t lines);

#endif
