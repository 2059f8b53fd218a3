/* SPDX-License-Identifier: MIT */
#include "list.h"

#include <string.h>

#include "core/text.h"

enum { MARGIN = 2, OPEN_ROWS_MAX = 12 };

struct list_row *list_selected(const struct list *list)
{
	return list->count > 0 ? &list->rows[list->selected] : NULL;
}

static void hold_within(struct list *list)
{
	if (list->selected >= list->count)
		list->selected = list->count - 1;
	if (list->selected < 0)
		list->selected = 0;
}

bool list_act(struct list *list, enum action action, int rows)
{
	const int32_t page = rows > 2 ? rows - 1 : 1;
	if (action == ACTION_UP)
		list->selected--;
	else if (action == ACTION_DOWN)
		list->selected++;
	else if (action == ACTION_PAGE_UP)
		list->selected -= page;
	else if (action == ACTION_PAGE_DOWN)
		list->selected += page;
	else if (action == ACTION_FIRST)
		list->selected = 0;
	else if (action == ACTION_LAST)
		list->selected = list->count;
	else
		return false;
	hold_within(list); /* more keys may come before anything is drawn */
	return true;
}

/* Wraps line by line; measures where paper is NULL. */
static int put_lines(
	struct paper *paper, int row, int column, int cells, int rows, const char *text)
{
	int used = 0;
	char line[1024];
	while (*text != '\0' && used < rows) {
		size_t length = strcspn(text, "\n");
		size_t kept = length < sizeof line - 1 ? length : sizeof line - 1;
		while (kept < length && ((unsigned char)text[kept] & 0xC0) == 0x80)
			kept--;
		memcpy(line, text, kept);
		line[kept] = '\0';
		int wanted = paper_wrap_rows(line, cells);
		wanted = wanted > rows - used ? rows - used : wanted;
		if (paper != NULL)
			(void)paper_wrap(
				paper, row + used, column, cells, wanted, STYLE_FAINT, line);
		used += wanted < 1 ? 1 : wanted;
		text += length + (text[length] == '\n');
	}
	return used;
}

static int open_rows(const struct list_row *row, int head_cells, int columns)
{
	const int cells = columns - MARGIN - head_cells;
	int rows = paper_wrap_rows(row->text, cells);
	if (row->more != NULL)
		rows += put_lines(NULL, 0, 0, cells, OPEN_ROWS_MAX, row->more);
	return rows < 1 ? 1 : rows;
}

void list_clamp(struct list *list, int head_cells, int rows, int columns)
{
	hold_within(list);
	if (list->top > list->selected)
		list->top = list->selected;
	if (list->count == 0)
		return;
	const int open = open_rows(&list->rows[list->selected], head_cells, columns);
	const int32_t room = open < rows ? rows - open : 0;
	if (list->top < list->selected - room)
		list->top = list->selected - room;
	if (list->top > 0 && list->top + rows - open + 1 > list->count)
		list->top = list->count > rows - open + 1 ? list->count - (rows - open + 1) : 0;
	if (list->top > list->selected)
		list->top = list->selected;
}

void list_keep(const struct list *list, char id[LIST_ID_SIZE])
{
	const struct list_row *row = list_selected(list);
	(void)text_copy(id, LIST_ID_SIZE, row != NULL ? row->id : "");
}

void list_go(struct list *list, const char *id)
{
	for (int32_t i = 0; i < list->count; i++)
		if (strcmp(list->rows[i].id, id) == 0)
			list->selected = i;
}

static int draw_open(
	const struct list_row *row, struct paper *paper, int at, int end, int head_cells)
{
	const int column = MARGIN + head_cells;
	const int cells = paper_columns(paper) - column;
	int used = paper_wrap(paper, at, column, cells, end - at, STYLE_STRONG, row->text);
	used = used < 1 ? 1 : used;
	paper_select(paper, at, 0, 0);
	if (row->more == NULL || at + used >= end)
		return used;
	const int room = end - at - used < OPEN_ROWS_MAX ? end - at - used : OPEN_ROWS_MAX;
	const bool fits = put_lines(NULL, 0, 0, cells, room + 1, row->more) <= room;
	used += put_lines(paper, at + used, column, cells, fits ? room : room - 1, row->more);
	if (!fits)
		(void)paper_put(paper, at + used++, column, cells, STYLE_FAINT, "and more");
	return used;
}

void list_draw(const struct list *list, struct paper *paper, int row, int end, int head_cells)
{
	for (int32_t i = list->top; i < list->count && row < end; i++) {
		const struct list_row *one = &list->rows[i];
		const bool open = i == list->selected;
		(void)paper_put(paper, row, MARGIN, head_cells - 1,
			open ? STYLE_STRONG : STYLE_FAINT, one->head);
		if (open) {
			row += draw_open(one, paper, row, end, head_cells);
			continue;
		}
		(void)paper_put(paper, row++, MARGIN + head_cells, 0, one->style, one->text);
	}
}
