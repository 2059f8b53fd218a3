/* SPDX-License-Identifier: MIT */
#include "frame.h"

#include <curses.h>
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "sheet.h"

enum { FRAME_ROWS = 3, HINT_SIZE = 64, HINTS_MAX = 24 };

/* --- keys --- */

bool frame_types(const struct page *page, bool *empty)
{
	*empty = false;
	if (!page->screen->takes_text)
		return false;
	if (page->screen->typed == NULL)
		return true;
	const char *typed = page->screen->typed(page->state);
	if (typed == NULL)
		return false;
	*empty = typed[0] == '\0';
	return true;
}

static bool is_character(uint32_t key)
{
	return key >= ' ' && key < KEYS_FROM;
}

/* Keys that move in the line while one is open. */
static bool edits(uint32_t key)
{
	return key == KEYS_LEFT || key == KEYS_RIGHT || key == KEYS_HOME || key == KEYS_END;
}

static bool holds(const struct key_row *row, bool own, bool types, bool empty)
{
	if (!types)
		return true;
	if (row->on_empty)
		return empty;
	return !is_character(row->key) && (own || !edits(row->key));
}

enum action frame_action(const struct page *page, uint32_t key, bool *own)
{
	bool empty;
	const bool types = frame_types(page, &empty);
	for (int pass = 0; pass < 2; pass++) {
		*own = pass == 0;
		const struct key_row *row = *own ? page->screen->keys : keys_common();
		for (; row->key != 0; row++) {
			if (row->key == key && holds(row, *own, types, empty))
				return row->action;
		}
	}
	return ACTION_NONE;
}

/* --- sizes --- */

bool frame_too_small(const struct page *page)
{
	return LINES < page->screen->least_rows || COLS < page->screen->least_columns ||
	       LINES <= FRAME_ROWS;
}

void frame_measure(struct page *page)
{
	page->context.rows = LINES > FRAME_ROWS ? LINES - FRAME_ROWS : 0;
	page->context.columns = COLS;
}

static void draw_too_small(const struct page *page)
{
	struct paper paper = {.rows = LINES, .columns = COLS, .ascii = true};
	char text[80];
	(void)snprintf(text, sizeof text, "needs %dx%d, here %dx%d; w r q",
		page->screen->least_columns, page->screen->least_rows, COLS, LINES);
	(void)paper_put(&paper, 0, 0, 0, STYLE_PLAIN, text);
	if (page->screen->least_columns > 40)
		(void)paper_put(&paper, 1, 0, 0, STYLE_PLAIN, "walk and review fit 40x12");
}

/* --- head --- */

static void draw_head(const struct stack *stack, const struct page *page)
{
	static const char *const weekdays[] = {"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
	struct paper paper = {.rows = 1, .columns = COLS, .ascii = stack->options->ascii};
	char day[40] = "";
	char plain[32];
	if (stack->session != NULL) {
		const struct date today = yard_today(stack->session->yard);
		(void)snprintf(day, sizeof day, "%s %s", weekdays[date_weekday(today)],
			date_format_plain(today, plain, sizeof plain));
	}
	const int left = COLS - text_width(day) - 1;
	if (left < 1)
		return;
	const char *place = stack->session == NULL ? "" : yard_place(stack->session->yard)->name;
	const char *between = place[0] == '\0' ? "" : stack->options->ascii ? " - " : " · ";
	const int title = text_width(page->screen->title) + text_width(between);
	const int room = left - title;
	int column = 0;
	if (place[0] != '\0' && room > 3)
		column = paper_put(&paper, 0, 0, room, STYLE_PLAIN, place);
	(void)paper_format(&paper, 0, column, left - column, STYLE_TITLE, "%s%s",
		room > 3 ? between : "", page->screen->title);
	paper_put_right(&paper, 0, left, 0, STYLE_PLAIN, day);
}

/* --- foot --- */

struct hint {
	enum action action;
	char key[KEY_SIZE];
};

static bool is_shown(enum action action, int depth)
{
	if (action == ACTION_BACK)
		return depth > 1;
	if (action == ACTION_OPEN || action == ACTION_FIND || action == ACTION_NEXT_PART)
		return true;
	const char *group = action_row(action)->group;
	return strcmp(group, "moving") != 0 && strcmp(group, "signs") != 0;
}

/* Before there is a log only the screen's own keys make sense. */
static int add_hints(struct hint *hints, int count, const struct page *page, int depth, bool own)
{
	if (!own && page->context.session == NULL)
		return count;
	bool empty;
	const bool types = frame_types(page, &empty);
	const struct key_row *row = own ? page->screen->keys : keys_common();
	for (; row->key != 0 && count < HINTS_MAX; row++) {
		bool first; /* a key of the screen itself comes before the common one */
		bool known = !is_shown(row->action, depth) || !holds(row, own, types, empty) ||
			     frame_action(page, row->key, &first) != row->action ||
			     strcmp(action_row(row->action)->name, page->screen->name) == 0;
		for (int i = 0; i < count && !known; i++)
			known = hints[i].action == row->action;
		if (known || (!own && row->action == ACTION_FIND) ||
			(!own && row->action == ACTION_OPEN) ||
			(!own && row->action == ACTION_NEXT_PART) || row->action == ACTION_REDO ||
			row->action == ACTION_QUIT || row->action == ACTION_HELP)
			continue;
		hints[count].action = row->action;
		(void)key_word(row->key, hints[count].key);
		count++;
	}
	return count;
}

static int put_hint(struct paper *paper, int column, const char *key, const char *name)
{
	column = paper_put(paper, 0, column, 0, STYLE_STRONG, key);
	column = paper_put(paper, 0, column + 1, 0, STYLE_PLAIN, name);
	return column + 2;
}

/* Help and leaving are always there; of the others as many as fit whole. */
static void draw_foot(const struct stack *stack, const struct page *page)
{
	struct paper paper = {
		.top = LINES - 1, .rows = 1, .columns = COLS, .ascii = stack->options->ascii};
	struct hint hints[HINTS_MAX];
	bool own;
	const bool asks = frame_action(page, '?', &own) == ACTION_HELP;
	const bool has_help = asks || frame_action(page, KEYS_F1, &own) == ACTION_HELP;
	bool has_quit = frame_action(page, 'q', &own) == ACTION_QUIT;
	const int kept = (has_help ? (asks ? 8 : 9) : 0) + (has_quit ? 9 : 0);
	int count = add_hints(hints, 0, page, stack->depth, true);
	count = add_hints(hints, count, page, stack->depth, false);
	int column = 0;
	for (int i = 0; i < count; i++) {
		const char *name = action_row(hints[i].action)->name;
		const int width = text_width(hints[i].key) + 1 + text_width(name);
		if (column + width > COLS - kept - 1)
			continue;
		column = put_hint(&paper, column, hints[i].key, name);
	}
	if (has_help)
		column = put_hint(&paper, column, asks ? "?" : "F1", "help");
	if (has_quit)
		(void)put_hint(&paper, column, "q", "leave");
}

/* --- all of it --- */

void frame_draw(struct stack *stack)
{
	struct page *page = stack_top(stack);
	struct paper paper = {.top = 1, .columns = COLS, .ascii = stack->options->ascii};
	(void)erase();
	if (frame_too_small(page)) {
		draw_too_small(page);
	} else {
		paper.rows = page->context.rows;
		draw_head(stack, page);
		page->screen->draw(page->state, &paper);
		struct paper message = {.top = LINES - 2,
			.rows = 1,
			.columns = COLS,
			.ascii = stack->options->ascii};
		(void)paper_put(&message, 0, 0, 0, STYLE_STRONG, stack->said);
		draw_foot(stack, page);
		sheet_set_cursor(&paper);
	}
	(void)refresh();
}
