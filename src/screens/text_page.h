/* SPDX-License-Identifier: MIT */
/* text_page.h - what a report prints, as a page to scroll: laid out for the width there is. */
#ifndef SCREENS_TEXT_PAGE_H
#define SCREENS_TEXT_PAGE_H

#include "report/print.h"
#include "screen.h"
#include "text_lines.h"

struct text_page {
	struct text_lines text;
	int top;
	int columns; /* that it is laid out for */
};

/* Prints what is wanted; a refusal becomes the page. In the screen's arena, which it resets. */
typedef enum status (*text_page_print)(const void *wanted, struct session *session,
	const struct printer *printer, struct fault *why);
enum status text_page_read(struct text_page *page, struct context *context, text_page_print print,
	const void *wanted, struct fault *why) MUST_CHECK;
/* Keeps the last line on the last of `rows`. */
void text_page_clamp(struct text_page *page, int rows);
void text_page_scroll(struct text_page *page, enum action action, int rows);
/* From a row of the paper down; `head`: the row where "Down: more" stands at the right. */
void text_page_draw(const struct text_page *page, struct paper *paper, int row, int head);
/* Parts: a line at the margin under a blank one begins one. The last that begins at or above a
 * line, -1 none; the next after it, -1 none. */
int text_page_part(const struct text_page *page, int line);
int text_page_next_part(const struct text_page *page, int line);

#endif
