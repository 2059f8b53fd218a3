/* SPDX-License-Identifier: MIT */
#include "year_draw.h"

#include "ribbon_draw.h"

/* The key takes as many rows at any place of the list, so that nothing jumps. */
enum { HEAD_ROWS = 2, KEY_ROWS = 3, LABEL_COLUMN = 2 };

struct places {
	int kind; /* 0: no room for it */
	int line;
};

static struct places places_of(int width)
{
	if (width >= 108)
		return (struct places){.kind = 16, .line = 35};
	if (width >= 76)
		return (struct places){.kind = 13, .line = 27};
	return (struct places){.kind = 0, .line = 12};
}

int year_columns(int width)
{
	static const int each_month[] = {12, 8, 6, 4};
	const int room = width - places_of(width).line;
	for (size_t i = 0; i < sizeof each_month / sizeof each_month[0]; i++)
		if (12 * each_month[i] <= room)
			return 12 * each_month[i];
	return 12 * each_month[sizeof each_month / sizeof each_month[0] - 1];
}

int32_t year_rows(int rows, bool finding)
{
	const int left = rows - HEAD_ROWS - KEY_ROWS - (finding ? 1 : 0);
	return left < 1 ? 1 : left > YARD_ROWS_MAX ? YARD_ROWS_MAX : left;
}

static void draw_head(const struct yard_rows *rows, struct paper *paper)
{
	const int line = places_of(paper_columns(paper)).line;
	const int today = ribbon_cell_of_today(&rows->head, rows->line_columns);
	(void)paper_put(paper, 0, LABEL_COLUMN, 0, STYLE_FAINT, "tree");
	(void)paper_format(paper, 1, LABEL_COLUMN, line - LABEL_COLUMN - 1, STYLE_TITLE, "%s",
		year_thread_name(rows->thread));
	ribbon_draw_row(&rows->head, RIBBON_MONTHS, paper, 0, line, rows->line_columns);
	ribbon_draw_row(&rows->head, RIBBON_TODAY, paper, 1, line, rows->line_columns);
	(void)paper_put(paper, 1, line + today, 1, STYLE_STRONG, paper_ascii(paper) ? "v" : "▼");
}

static void draw_line(
	const struct yard_rows *rows, const struct year_line *line, struct paper *paper, int row)
{
	const int column = places_of(paper_columns(paper)).line;
	const int today = ribbon_cell_of_today(&rows->head, rows->line_columns);
	const bool ascii = paper_ascii(paper);
	for (int i = 0; i < rows->line_columns; i++) {
		const struct year_cell *cell = &line->cells[i];
		const enum ribbon_mark mark = (enum ribbon_mark)cell->mark;
		const char letter[] = {cell->letter, '\0'};
		if (mark == RIBBON_DEED)
			(void)paper_put(paper, row, column + i, 1, STYLE_STRONG, letter);
		else if (mark != RIBBON_BLANK)
			(void)paper_put(paper, row, column + i, 1, ribbon_style(mark),
				ribbon_sign(mark, ascii));
		else if (i == today)
			(void)paper_put(paper, row, column + i, 1, STYLE_FAINT, ascii ? ":" : "┊");
	}
}

static void draw_tree(
	const struct yard_rows *rows, const struct yard_row *tree, struct paper *paper, int row)
{
	const struct places places = places_of(paper_columns(paper));
	const int label_end = places.kind > 0 ? places.kind : places.line;
	(void)paper_format(paper, row, LABEL_COLUMN, label_end - LABEL_COLUMN - 1, STYLE_STRONG,
		"%s%s", tree->is_graft ? "+ " : "", tree->label);
	if (places.kind > 0)
		(void)paper_put(paper, row, places.kind, places.line - places.kind - 1, STYLE_PLAIN,
			places.line - places.kind > 16 ? tree->cultivar : tree->kind);
	if (tree->told)
		draw_line(rows, &tree->line, paper, row);
	else
		(void)paper_put(paper, row, places.line, 1, STYLE_FAINT, "~");
}

/* The signs, then the letters of the rows in view. */
static void draw_key(const struct yard_rows *rows, struct paper *paper, int row)
{
	char key[RIBBON_KEY_SIZE];
	uint32_t done = 0;
	for (int32_t i = 0; i < rows->count; i++)
		done |= rows->rows[i].line.done;
	(void)paper_put(paper, row, 0, 0, STYLE_FAINT,
		year_line_crop_key(rows->thread, paper_ascii(paper), key));
	(void)paper_put(paper, row + 1, 0, 0, STYLE_FAINT,
		year_line_saw_key(rows->thread, paper_ascii(paper), key));
	(void)paper_put(paper, row + 2, 0, 0, STYLE_FAINT, year_line_letters(done, key));
}

void year_draw(const struct yard_rows *rows, struct paper *paper, int32_t selected, bool finding)
{
	const int32_t most = year_rows(paper_rows(paper), finding);
	draw_head(rows, paper);
	for (int32_t i = 0; i < rows->count && i < most; i++) {
		const int row = HEAD_ROWS + (int)i;
		draw_tree(rows, &rows->rows[i], paper, row);
		if (rows->first + i == selected)
			paper_select(paper, row, 0, 0);
	}
	draw_key(rows, paper, paper_rows(paper) - KEY_ROWS - (finding ? 1 : 0));
}
