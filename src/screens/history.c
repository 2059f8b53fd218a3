/* SPDX-License-Identifier: MIT */
/* The history: every act, newest first, with what it did; any of them can be taken back. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "list.h"
#include "report/print.h"

enum { ACTS_MAX = 2000, DONE_MAX = 40, HEAD_CELLS = 18, HEAD_ROWS = 1 };

struct history_page {
	struct list acts;
	const struct change_row *rows; /* the same acts */
};

/* --- reading --- */

/* "2026-11-24 14:03". */
static const char *when_of(const struct change_row *act, struct arena *arena)
{
	const char *at = act->typed_at;
	return arena_format(arena, "%.10s %.5s", at, strlen(at) > 11 ? at + 11 : "");
}

static const char *said_of(const struct change_row *act, struct arena *arena)
{
	const char *lead = strcmp(act->kind, "undo") == 0   ? "undone: "
			   : strcmp(act->kind, "redo") == 0 ? "done again: "
							    : "";
	return arena_format(
		arena, "%s%s%s", act->taken_back ? "(taken back) " : "", lead, act->what);
}

static enum status read_acts(struct history_page *page, struct context *context, struct fault *why)
{
	struct change_row *acts = NULL;
	int32_t count = 0;
	arena_reset(context->arena);
	enum status status = store_history(
		context->session->store, NULL, ACTS_MAX, context->arena, &acts, &count, why);
	if (status != STATUS_OK)
		return status;
	page->acts.rows = arena_array(context->arena, (size_t)count + 1, sizeof page->acts.rows[0]);
	page->acts.count = count;
	page->rows = acts;
	for (int32_t i = 0; i < count; i++)
		page->acts.rows[i] = (struct list_row){.id = acts[i].set_id,
			.head = when_of(&acts[i], context->arena),
			.text = said_of(&acts[i], context->arena),
			.style = acts[i].taken_back ? STYLE_FAINT : STYLE_PLAIN};
	return STATUS_OK;
}

static enum status history_open(
	void *screen, struct context *context, const char *argument, struct fault *why)
{
	(void)argument;
	return read_acts(screen, context, why);
}

static enum status history_reread(void *screen, struct context *context, struct fault *why)
{
	struct history_page *page = screen;
	char id[LIST_ID_SIZE];
	list_keep(&page->acts, id);
	enum status status = read_acts(page, context, why);
	if (status == STATUS_OK)
		list_go(&page->acts, id);
	return status;
}

/* What the act in hand did is read when it is looked at. */
static void history_settle(void *screen, struct context *context)
{
	struct history_page *page = screen;
	struct fault why;
	list_clamp(&page->acts, HEAD_CELLS, context->rows - HEAD_ROWS, context->columns);
	struct list_row *row = list_selected(&page->acts);
	if (row == NULL || row->more != NULL)
		return;
	struct change_row *rows = NULL;
	int32_t count = 0;
	if (store_history_set(context->session->store, row->id, DONE_MAX, context->arena, &rows,
		    &count, &why) != STATUS_OK) {
		row->more = arena_text(context->arena, why.text);
		return;
	}
	row->more = history_words(rows, count, context->arena);
	list_clamp(&page->acts, HEAD_CELLS, context->rows - HEAD_ROWS, context->columns);
}

/* --- showing --- */

static void history_draw(const void *screen, struct paper *paper)
{
	const struct history_page *page = screen;
	(void)paper_format(paper, 0, 2, 0, STYLE_PLAIN, "%s, newest first; nothing is ever erased",
		page->acts.count == ACTS_MAX ? "The last 2,000 acts" : "All acts");
	list_draw(&page->acts, paper, HEAD_ROWS, paper_rows(paper), HEAD_CELLS);
}

/* --- acting --- */

static void take_back(struct history_page *page, struct context *context, struct effect *out)
{
	char what[TEXT_SIZE];
	struct fault why;
	if (page->acts.count == 0)
		return;
	const struct change_row *act = &page->rows[page->acts.selected];
	const bool was_undo = strcmp(act->kind, "undo") == 0;
	if (store_undo_set(context->session->store, act->set_id, what, &why) != STATUS_OK) {
		effect_say(out, "%s", why.text);
		return;
	}
	out->wrote = true;
	effect_say(out,
		was_undo ? "done again: %.120s (u undoes it)"
			 : "taken back: %.120s (U does it again)",
		what);
}

static void history_act(
	void *screen, struct context *context, enum action action, struct effect *out)
{
	struct history_page *page = screen;
	if (action == ACTION_TAKE_BACK)
		take_back(page, context, out);
	else if (!list_act(&page->acts, action, context->rows - HEAD_ROWS))
		effect_usual(out);
}

static const struct key_row keys[] = {
	{'x', ACTION_TAKE_BACK, false},
	{'u', ACTION_UNDO, false},
	{KEYS_ESCAPE, ACTION_BACK, false},
	{0, ACTION_NONE, false},
};

const struct screen screen_history = {
	.name = "history",
	.title = "History",
	.purpose = "every act, newest first, and what it did; any one can be taken back",
	.state_size = sizeof(struct history_page),
	.least_rows = 12,
	.least_columns = 50,
	.open = history_open,
	.reread = history_reread,
	.draw = history_draw,
	.act = history_act,
	.keys = keys,
	.settle = history_settle,
};
