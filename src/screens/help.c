/* SPDX-License-Identifier: MIT */
/* Help: what can be done on the screen it was asked from, out of the same rows that the keys are
 * looked up in; then the entry line, out of the table of kinds. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "screen.h"

enum { KEY_CELLS = 11, NAME_CELLS = 13 }; /* the longest of either, and a blank */

struct help_page {
	const struct screen *about; /* NULL: of no screen */
	int top;
	int height; /* of the page, at the width it was drawn last */
};

/* A page is drawn and measured by one walk. */
struct pen {
	struct paper *paper; /* NULL: only measured */
	int start;           /* row of the page's first line; above the paper when scrolled */
	int row;
	int columns;
};

static void pen_text(struct pen *pen, int column, enum style style, const char *text)
{
	int rows = paper_wrap_rows(text, pen->columns - column);
	if (pen->paper != NULL)
		paper_wrap(pen->paper, pen->row, column, pen->columns - column, rows, style, text);
	pen->row += rows;
}

static void pen_heading(struct pen *pen, const char *text)
{
	if (pen->row > pen->start)
		pen->row++;
	pen_text(pen, 0, STYLE_TITLE, text);
}

/* --- keys --- */

static bool is_bound(const struct key_row *rows, uint32_t key)
{
	for (; rows->key != 0; rows++)
		if (rows->key == key)
			return true;
	return false;
}

static void pen_key(struct pen *pen, const struct key_row *row)
{
	char name[KEY_SIZE];
	const struct action_row *action = action_row(row->action);
	if (pen->paper != NULL) {
		paper_put(
			pen->paper, pen->row, 2, KEY_CELLS, STYLE_STRONG, key_word(row->key, name));
		paper_put(
			pen->paper, pen->row, 2 + KEY_CELLS, NAME_CELLS, STYLE_PLAIN, action->name);
	}
	pen_text(pen, 2 + KEY_CELLS + NAME_CELLS, STYLE_PLAIN, action->help);
}

/* One key of one group after the other; all of a group together. */
static void pen_keys(struct pen *pen, const struct key_row *rows, const struct key_row *hidden_by)
{
	static const char *const groups[] = {"work", "views", "signs", "moving", "program"};
	for (size_t group = 0; group < sizeof groups / sizeof groups[0]; group++)
		for (const struct key_row *row = rows; row->key != 0; row++) {
			bool hidden = hidden_by != NULL && is_bound(hidden_by, row->key);
			if (!hidden && strcmp(action_row(row->action)->group, groups[group]) == 0)
				pen_key(pen, row);
		}
}

static void pen_screen(struct pen *pen, const struct screen *screen)
{
	char heading[80];
	snprintf(heading, sizeof heading, "%s: its own keys", screen->title);
	pen_text(pen, 0, STYLE_PLAIN, screen->purpose);
	pen_heading(pen, heading);
	pen_keys(pen, screen->keys, NULL);
	pen_heading(pen, "On every screen");
	pen_keys(pen, keys_common(), screen->keys);
	if (screen->takes_text)
		pen_text(pen, 2, STYLE_FAINT,
			"While a line is open letters type into it; these keys act again when it "
			"is closed.");
}

/* --- the entry line --- */

static const char *const grammar[] = {
	"LABEL VERB [AMOUNT ...] [WORD ...] [@ DAY] [; free text]",
	"On the walk the tree is known: the line begins at the verb, and p c f w g s b t n stand "
	"for picked, cut, fed, watered, girth, saw, bloom, thinned, note.",
	"Amounts: 6 lb 4 oz, 1 1/2 kg, 40-50 lb, ~30 lb, at least 100 lb, none. A label may be "
	"shortened while it stays one tree's.",
	"Days: today, yesterday, last tuesday, 12 may, 2026-05-12, may 2024, 3 weeks ago. Without "
	"one it is today.",
	"For many at once: all figs watered 5 gal. For later: A3 plan cut shape @ feb. What could "
	"mean two things is asked; nothing typed is lost.",
	"Everything can be taken back: u undoes, U does it again.",
};

static void pen_line(struct pen *pen)
{
	pen_heading(pen, "The entry line");
	for (size_t i = 0; i < sizeof grammar / sizeof grammar[0]; i++)
		pen_text(pen, 2, i == 0 ? STYLE_STRONG : STYLE_PLAIN, grammar[i]);
	pen_heading(pen, "What it takes");
	for (int kind = 0; kind < KIND_TOTAL; kind++) {
		const struct kind_row *row = kind_row((enum entry_kind)kind);
		pen_text(pen, 2, STYLE_STRONG, row->example);
		pen_text(pen, 6, STYLE_PLAIN, row->help);
	}
}

static const char *const cautions[] = {
	"Its figures are guidance. The product label is the law for anything sprayed; local codes "
	"and licensed arborists come before what is said here.",
	"Look up before a ladder or a pole saw goes up: power lines. Ask the local service about "
	"buried lines before you dig.",
};

static void pen_page(struct pen *pen, const struct help_page *page)
{
	if (page->about != NULL)
		pen_screen(pen, page->about);
	pen_line(pen);
	pen_heading(pen, "Caution");
	for (size_t i = 0; i < sizeof cautions / sizeof cautions[0]; i++)
		pen_text(pen, 2, STYLE_PLAIN, cautions[i]);
}

/* --- the screen --- */

static enum status help_open(
	void *screen, struct context *context, const char *argument, struct fault *why)
{
	struct help_page *page = screen;
	(void)context;
	(void)why;
	page->about = screen_find(argument);
	return STATUS_OK;
}

static enum status help_reread(void *screen, struct context *context, struct fault *why)
{
	(void)screen;
	(void)context;
	(void)why;
	return STATUS_OK;
}

static void clamp(struct help_page *page, int rows)
{
	if (page->top > page->height - rows)
		page->top = page->height - rows;
	if (page->top < 0)
		page->top = 0;
}

static void help_settle(void *screen, struct context *context)
{
	struct help_page *page = screen;
	struct pen pen = {.columns = context->columns};
	pen_page(&pen, page);
	page->height = pen.row;
	clamp(page, context->rows);
}

static void help_draw(const void *screen, struct paper *paper)
{
	const struct help_page *page = screen;
	struct pen pen = {.paper = paper,
		.start = -page->top,
		.row = -page->top,
		.columns = paper_columns(paper)};
	int last = paper_rows(paper) - 1;
	pen_page(&pen, page);
	if (page->height > page->top + paper_rows(paper))
		paper_put_right(
			paper, last, paper_columns(paper) - 12, 12, STYLE_FAINT, "  Down: more");
	paper_cursor(paper, 0, 0);
}

static void help_act(void *screen, struct context *context, enum action action, struct effect *out)
{
	struct help_page *page = screen;
	if (action == ACTION_UP)
		page->top--;
	else if (action == ACTION_DOWN)
		page->top++;
	else if (action == ACTION_PAGE_UP)
		page->top -= context->rows - 1;
	else if (action == ACTION_PAGE_DOWN)
		page->top += context->rows - 1;
	else if (action == ACTION_FIRST)
		page->top = 0;
	else if (action == ACTION_LAST)
		page->top = page->height;
	else
		effect_usual(out);
	clamp(page, context->rows);
}

static const struct key_row keys[] = {
	{' ', ACTION_PAGE_DOWN, false},
	{KEYS_ENTER, ACTION_PAGE_DOWN, false},
	{'?', ACTION_BACK, false},
	{KEYS_F1, ACTION_BACK, false},
	{0, ACTION_NONE, false},
};

const struct screen screen_help = {
	.name = "help",
	.title = "Help",
	.purpose = "what can be done, and the keys for it",
	.state_size = sizeof(struct help_page),
	.least_rows = 12,
	.least_columns = 40,
	.open = help_open,
	.reread = help_reread,
	.draw = help_draw,
	.act = help_act,
	.keys = keys,
	.settle = help_settle,
};
