/* SPDX-License-Identifier: MIT */
#include "text_page.h"

#include <stdio.h>

#include "core/memory.h"

enum status text_page_read(struct text_page *page, struct context *context, text_page_print print,
	const void *wanted, struct fault *why)
{
	char *text = NULL;
	size_t length = 0;
	struct fault refused = {.status = STATUS_OK};
	struct session *session = context->session;
	arena_reset(context->arena);
	const struct printer printer = {.stream = open_memstream(&text, &length),
		.ascii = context->ascii,
		.width = context->columns,
		.units = session->units,
		.numbers = yard_numbers(session->yard)};
	if (printer.stream == NULL)
		return fault_set(why, STATUS_IO, "there is no memory left to lay the page out");
	const enum status status = print(wanted, session, &printer, &refused);
	(void)fclose(printer.stream);
	page->text = text_lines_cut(context->arena, status == STATUS_OK ? text : refused.text);
	block_free(text);
	page->columns = context->columns;
	return STATUS_OK;
}

void text_page_clamp(struct text_page *page, int rows)
{
	const int last = page->text.count - rows;
	page->top = page->top > last ? last : page->top;
	page->top = page->top < 0 ? 0 : page->top;
}

void text_page_scroll(struct text_page *page, enum action action, int rows)
{
	const int most = rows > 2 ? rows - 1 : 1;
	if (action == ACTION_UP)
		page->top--;
	else if (action == ACTION_DOWN)
		page->top++;
	else if (action == ACTION_PAGE_UP)
		page->top -= most;
	else if (action == ACTION_PAGE_DOWN)
		page->top += most;
	else
		page->top = action == ACTION_FIRST ? 0 : page->text.count;
}

void text_page_draw(const struct text_page *page, struct paper *paper, int row, int head)
{
	const int rows = paper_rows(paper) - row;
	for (int i = 0; i < rows && page->top + i < page->text.count; i++)
		paper_put(paper, row + i, 0, 0,
			text_page_part(page, page->top + i) == page->top + i ? STYLE_TITLE
									     : STYLE_PLAIN,
			page->text.lines[page->top + i]);
	if (page->top + rows < page->text.count)
		paper_put_right(
			paper, head, paper_columns(paper) - 12, 12, STYLE_FAINT, "  Down: more");
}

static bool begins_part(const struct text_page *page, int line)
{
	return line > 0 && page->text.lines[line][0] != '\0' && page->text.lines[line][0] != ' ' &&
	       page->text.lines[line - 1][0] == '\0';
}

int text_page_part(const struct text_page *page, int line)
{
	while (line >= 0 && !begins_part(page, line))
		line--;
	return line;
}

int text_page_next_part(const struct text_page *page, int line)
{
	for (int at = line + 1; at < page->text.count; at++)
		if (begins_part(page, at))
			return at;
	return -1;
}
