/* SPDX-License-Identifier: MIT */
/* The yard: what needs the grower most, then every tree. The year: the same list, each tree with
 * its twelve months in one row. */
#include <string.h>

#include "core/text.h"
#include "field.h"
#include "found.h"
#include "yard_rows.h"
#include "yard_worst.h"
#include "year_draw.h"

enum { FIND_CHARACTERS = 40 };

/* How long to look at trees in a quiet moment. */
static const double quiet_s = 0.04;

struct yard_state {
	bool is_year; /* no flags; rows are lines of the year */
	enum year_thread thread;
	struct worst worst;
	struct yard_list list; /* its ids are in the page's arena */
	struct yard_rows rows;
	struct edit find;
	bool finding; /* the line for finding is open */
	int32_t selected;
	int32_t top;
	int list_row; /* of the paper, where the list's heading stands */
	int columns;
	char keep_id[ID_SIZE]; /* the tree to come back to after reading anew */
	struct fault fault;    /* what could not be read; text "" nothing */
};

static enum status yard_screen_open(
	void *state, struct context *context, const char *argument, struct fault *why)
{
	struct yard_state *yard = state;
	(void)context;
	(void)why;
	edit_start(&yard->find, FIND_CHARACTERS);
	(void)text_copy(yard->keep_id, sizeof yard->keep_id, argument);
	yard->list.is_begun = argument[0] == '\0';
	worst_start(&yard->worst);
	return STATUS_OK;
}

static enum status year_open(
	void *state, struct context *context, const char *argument, struct fault *why)
{
	struct yard_state *year = state;
	(void)context;
	(void)why;
	year->is_year = true;
	edit_start(&year->find, FIND_CHARACTERS);
	(void)text_copy(year->keep_id, sizeof year->keep_id, argument);
	return STATUS_OK;
}

static const struct yard_row *selected_row(const struct yard_state *yard)
{
	const int32_t at = yard->selected - yard->rows.first;
	return at >= 0 && at < yard->rows.count ? &yard->rows.rows[at] : NULL;
}

static enum status yard_screen_reread(void *state, struct context *context, struct fault *why)
{
	struct yard_state *yard = state;
	const struct yard_row *row = selected_row(yard);
	if (row != NULL)
		(void)text_copy(yard->keep_id, sizeof yard->keep_id, row->id);
	yard_rows_doubt(&yard->rows);
	yard->list.known = yard->list.is_begun = false;
	if (yard->is_year)
		return STATUS_OK;
	worst_start(&yard->worst);
	return worst_look(&yard->worst, context->session, quiet_s, why);
}

/* --- what is in view --- */

static int rows_of_worst(const struct yard_state *yard, int rows)
{
	return worst_rows(&yard->worst, rows / 3 < 1 ? 1 : rows / 3);
}

/* Rows for trees: less the flags, a blank row where there is room, and the heading. */
static int32_t list_rows(struct yard_state *yard, int rows)
{
	if (yard->is_year)
		return year_rows(rows, yard->finding);
	const int worst = rows_of_worst(yard, rows);
	yard->list_row = worst + (rows >= 16 ? 1 : 0);
	const int32_t left = rows - yard->list_row - 1 - (yard->finding ? 1 : 0);
	return left < 1 ? 1 : left > YARD_ROWS_MAX ? YARD_ROWS_MAX : left;
}

static void clamp(struct yard_state *yard, int32_t rows)
{
	const int32_t last = yard->rows.total > 0 ? yard->rows.total - 1 : 0;
	if (yard->selected > last)
		yard->selected = last;
	if (yard->selected < 0)
		yard->selected = 0;
	if (yard->top > yard->selected)
		yard->top = yard->selected;
	if (yard->top < yard->selected - rows + 1)
		yard->top = yard->selected - rows + 1;
	if (yard->top > 0 && yard->top + rows > yard->rows.total)
		yard->top = yard->rows.total > rows ? yard->rows.total - rows : 0;
}

static void list_those(struct yard_state *yard, struct context *context,
	const struct tree_names *names, const struct tree_letters *letters)
{
	const size_t most = (size_t)names->count + 1;
	arena_reset(context->arena);
	yard->list.ids = arena_array(context->arena, most, sizeof yard->list.ids[0]);
	yard->list.count = 0;
	for (int32_t i = 0; i < names->count; i++)
		if (tree_letters_fit(letters, &names->items[i]))
			yard->list.ids[yard->list.count++] = names->items[i].id;
}

/* The first picture does not wait for the names of all trees. */
static enum status read_list(
	struct yard_state *yard, struct context *context, const char *text, struct fault *why)
{
	const struct tree_letters letters = tree_letters_make(text);
	struct session *session = context->session;
	struct tree_names names;
	if (yard->list.known && strcmp(yard->list.text, text) == 0)
		return STATUS_OK;
	const enum status status = yard->list.is_begun
					   ? store_tree_names(session->store, false, context->rows,
						     session->arena, &names, why)
					   : session_trees(session, letters.of_kinds, &names, why);
	if (status != STATUS_OK)
		return status;
	list_those(yard, context, &names, &letters);
	yard->list.known = text_copy(yard->list.text, sizeof yard->list.text, text);
	return STATUS_OK;
}

static void list_all(struct yard_state *yard)
{
	if (yard->list.is_begun)
		yard->list.known = yard->list.is_begun = false;
}

/* Stands again at the tree that was selected, should rows have come or gone. */
static void return_to(struct yard_state *yard)
{
	for (int32_t i = 0; i < yard->list.count; i++) {
		if (strcmp(yard->list.ids[i], yard->keep_id) == 0)
			yard->selected = i;
	}
	yard->keep_id[0] = '\0';
}

static enum status read_view(struct yard_state *yard, struct context *context, struct fault *why)
{
	const int32_t rows = list_rows(yard, context->rows);
	const char *text = yard->finding ? yard->find.text : "";
	enum status status = read_list(yard, context, text, why);
	if (status != STATUS_OK) {
		yard->list.known = false;
		return status;
	}
	if (yard->keep_id[0] != '\0' && text[0] == '\0')
		return_to(yard);
	yard->rows.total = yard->list.count;
	clamp(yard, rows);
	return yard_rows_read(&yard->rows, context->session, &yard->list, yard->top, rows, why);
}

static void yard_screen_settle(void *state, struct context *context)
{
	struct yard_state *yard = state;
	yard->columns = context->columns;
	yard_rows_weave(
		&yard->rows, yard->thread, yard->is_year ? year_columns(context->columns) : 0);
	yard->fault.text[0] = '\0';
	if (read_view(yard, context, &yard->fault) != STATUS_OK)
		yard->rows.count = 0;
	if (yard->is_year && !yard->rows.head_known) /* what stands above the lines is one's */
		(void)yard_rows_tell(&yard->rows, context->session, 0);
	if (yard->fault.text[0] == '\0')
		yard->fault = yard->rows.fault;
}

/* Rows in view first. */
static bool yard_screen_idle(void *state, struct context *context)
{
	struct yard_state *yard = state;
	if (yard->finding && found_prepare(context->session))
		return true;
	if (yard_rows_tell(&yard->rows, context->session, quiet_s))
		return true;
	if (yard->list.is_begun) {
		list_all(yard);
		return true;
	}
	if (yard->is_year || yard->worst.done)
		return false;
	if (worst_look(&yard->worst, context->session, quiet_s, &yard->fault) != STATUS_OK)
		yard->worst.done = true;
	return true;
}

/* --- drawing --- */

static void year_screen_draw(const void *state, struct paper *paper)
{
	const struct yard_state *year = state;
	const int rows = paper_rows(paper);
	if (year->fault.text[0] != '\0')
		(void)paper_wrap(paper, 1, 2, 0, 3, STYLE_STRONG, year->fault.text);
	else if (year->rows.total > 0)
		year_draw(&year->rows, paper, year->selected, year->finding);
	else
		(void)paper_put(paper, 1, 2, 0, STYLE_PLAIN,
			year->finding ? "no tree has these letters" : "no trees yet: a adds them");
	if (!year->finding)
		return;
	const int column = paper_put(paper, rows - 1, 0, 0, STYLE_PLAIN, "find: ");
	field_draw(paper, rows - 1, column, 0, &year->find, true);
}

static void yard_screen_draw(const void *state, struct paper *paper)
{
	const struct yard_state *yard = state;
	const int rows = paper_rows(paper);
	(void)worst_draw(&yard->worst, paper, rows_of_worst(yard, rows));
	if (yard->fault.text[0] != '\0') {
		(void)paper_wrap(
			paper, yard->list_row + 1, 2, 0, 3, STYLE_STRONG, yard->fault.text);
		return;
	}
	if (yard->rows.total > 0)
		yard_rows_draw(&yard->rows, paper, yard->list_row, yard->selected);
	if (!yard->finding)
		return;
	if (yard->rows.total == 0)
		(void)paper_put(
			paper, yard->list_row + 1, 2, 0, STYLE_PLAIN, "no tree has these letters");
	const int column = paper_put(paper, rows - 1, 0, 0, STYLE_PLAIN, "find: ");
	field_draw(paper, rows - 1, column, 0, &yard->find, true);
}

/* --- acting --- */

static const char *yard_screen_typed(const void *state)
{
	const struct yard_state *yard = state;
	return yard->finding ? yard->find.text : NULL;
}

static void end_find(struct yard_state *yard)
{
	const struct yard_row *row = selected_row(yard);
	if (row != NULL)
		(void)text_copy(yard->keep_id, sizeof yard->keep_id, row->id);
	yard->finding = false;
	edit_start(&yard->find, FIND_CHARACTERS);
}

static void yard_screen_type(
	void *state, struct context *context, const struct input *input, struct effect *out)
{
	struct yard_state *yard = state;
	(void)context;
	if (!yard->finding || !field_take(&yard->find, input, out))
		return;
	list_all(yard);
	yard->selected = 0;
	yard->top = 0;
}

/* Keys may have come faster than anything was drawn: the rows are those of what is typed now. */
static void go_to(
	struct yard_state *yard, struct context *context, const char *screen, struct effect *out)
{
	struct fault why = {.text = "no tree is chosen"};
	const enum status status = read_view(yard, context, &why);
	const struct yard_row *row = status == STATUS_OK ? selected_row(yard) : NULL;
	if (row == NULL) {
		effect_say(out, "%s", why.text);
		return;
	}
	effect_push(out, screen, row->id);
	if (yard->finding)
		end_find(yard);
}

static void move(struct yard_state *yard, int32_t by)
{
	yard->selected += by;
	if (yard->selected >= yard->rows.total)
		yard->selected = yard->rows.total - 1;
	if (yard->selected < 0)
		yard->selected = 0;
}

static void yard_screen_act(
	void *state, struct context *context, enum action action, struct effect *out)
{
	struct yard_state *yard = state;
	const int32_t page = list_rows(yard, context->rows);
	struct fault why;
	list_all(yard);
	if (!yard->list.known) /* how far the cursor can go */
		(void)!read_view(yard, context, &why);
	switch ((int)action) {
	case ACTION_UP:
		move(yard, -1);
		break;
	case ACTION_DOWN:
		move(yard, 1);
		break;
	case ACTION_PAGE_UP:
		move(yard, -page);
		break;
	case ACTION_PAGE_DOWN:
		move(yard, page);
		break;
	case ACTION_FIRST:
		yard->selected = 0;
		break;
	case ACTION_LAST:
		move(yard, yard->rows.total);
		break;
	case ACTION_FIND:
		yard->finding = true;
		break;
	case ACTION_OPEN:
		go_to(yard, context, "tree", out);
		break;
	case ACTION_LINE:
		go_to(yard, context, "walk", out);
		break;
	case ACTION_ALMANAC:
	case ACTION_PLAN:
		if (selected_row(yard) != NULL)
			go_to(yard, context, screen_of(action), out);
		else
			effect_usual(out);
		break;
	case ACTION_THREAD:
		yard->thread = (enum year_thread)((yard->thread + 1) % YEAR_THREADS);
		break;
	case ACTION_BACK:
		if (yard->finding)
			end_find(yard);
		else if (yard->is_year)
			out->kind = EFFECT_POP;
		else
			effect_say(out, "this is the first screen; q leaves");
		break;
	default:
		effect_usual(out);
		break;
	}
}

/* clang-format off */
static const struct key_row yard_keys[] = {
	{KEYS_ENTER, ACTION_OPEN, false},
	{'l', ACTION_LINE, false},
	{'w', ACTION_WALK, false},
	{'r', ACTION_REVIEW, false},
	{'s', ACTION_SEASON, false},
	{'/', ACTION_FIND, false},
	{KEYS_TAB, ACTION_PLAN, false},
	{'a', ACTION_ADD, false},
	{'A', ACTION_ALMANAC, false},
	{'u', ACTION_UNDO, false},
	{KEYS_ESCAPE, ACTION_BACK, false},
	{0, ACTION_NONE, false},
};
/* clang-format on */

const struct screen screen_yard = {
	.name = "yard",
	.title = "Yard",
	.purpose = "what needs you most, and every tree: where it is in its year, its last entry",
	.state_size = sizeof(struct yard_state),
	.takes_text = true,
	.least_rows = 15,
	.least_columns = 60,
	.open = yard_screen_open,
	.reread = yard_screen_reread,
	.draw = yard_screen_draw,
	.act = yard_screen_act,
	.type = yard_screen_type,
	.keys = yard_keys,
	.typed = yard_screen_typed,
	.settle = yard_screen_settle,
	.idle = yard_screen_idle,
};

/* clang-format off */
static const struct key_row year_keys[] = {
	{KEYS_ENTER, ACTION_OPEN, false},
	{KEYS_TAB, ACTION_THREAD, false},
	{'l', ACTION_LINE, false},
	{'/', ACTION_FIND, false},
	{KEYS_ESCAPE, ACTION_BACK, false},
	{0, ACTION_NONE, false},
};
/* clang-format on */

const struct screen screen_year = {
	.name = "year",
	.title = "Year",
	.purpose = "every tree's twelve months, a row each: bloom, fruit, the saw, what was done",
	.state_size = sizeof(struct yard_state),
	.takes_text = true,
	.least_rows = 15,
	.least_columns = 60,
	.open = year_open,
	.reread = yard_screen_reread,
	.draw = year_screen_draw,
	.act = yard_screen_act,
	.type = yard_screen_type,
	.keys = year_keys,
	.typed = yard_screen_typed,
	.settle = yard_screen_settle,
	.idle = yard_screen_idle,
};
