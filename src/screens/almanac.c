/* SPDX-License-Identifier: MIT */
/* The almanac: the kinds, those of this yard first, and a kind's page by what growers ask. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "list.h"
#include "text_page.h"

enum { HEAD_ROWS = 3, HEAD_CELLS = 18 };

struct almanac_page {
	char key[KEY_SIZE]; /* of the kind whose page is open; "" : the list of kinds */
	struct list kinds;
	const char *title; /* the first line of the page, which stays in view */
	struct text_page text;
};

/* --- reading --- */

static enum status print_kind(const void *screen, struct session *session,
	const struct printer *printer, struct fault *why)
{
	const struct almanac_page *page = screen;
	const struct almanac_question question = {.kind = page->key, .on_screen = true};
	return print_almanac(printer, session->almanac, session->yard, &question, why);
}

static enum status count_of(
	struct context *context, const char *key, int32_t *count, struct fault *why)
{
	const struct tree_query query = {.species = key};
	return store_tree_count(context->session->store, &query, count, why);
}

static void add_kind(
	struct list *kinds, struct context *context, const struct species *species, int32_t trees)
{
	struct list_row *row = &kinds->rows[kinds->count++];
	*row = (struct list_row){.id = species->key, .head = species->name};
	row->style = trees > 0 ? STYLE_PLAIN : STYLE_FAINT;
	row->text = trees == 0 ? species->botanical
			       : arena_format(context->arena, "%s, %d %s here", species->botanical,
					 (int)trees, trees == 1 ? "tree" : "trees");
	row->more = species->flower_wood;
}

/* Those that stand here come first. */
static enum status read_kinds(struct almanac_page *page, struct context *context, struct fault *why)
{
	const struct almanac *almanac = context->session->almanac;
	const int32_t count = almanac_species_count(almanac);
	arena_reset(context->arena);
	int32_t *trees = arena_array(context->arena, (size_t)count + 1, sizeof *trees);
	page->kinds.rows =
		arena_array(context->arena, (size_t)count + 1, sizeof page->kinds.rows[0]);
	page->kinds.count = 0;
	for (int32_t i = 0; i < count; i++) {
		const struct species *species = almanac_species_at(almanac, i);
		enum status status = count_of(context, species->key, &trees[i], why);
		if (status != STATUS_OK)
			return status;
		if (trees[i] > 0)
			add_kind(&page->kinds, context, species, trees[i]);
	}
	for (int32_t i = 0; i < count; i++)
		if (trees[i] == 0)
			add_kind(&page->kinds, context, almanac_species_at(almanac, i), 0);
	return STATUS_OK;
}

static enum status read_page(struct almanac_page *page, struct context *context, struct fault *why)
{
	if (page->key[0] == '\0')
		return read_kinds(page, context, why);
	enum status status = text_page_read(&page->text, context, print_kind, page, why);
	page->title = page->key;
	if (status == STATUS_OK && page->text.text.count > 1) {
		page->title = page->text.text.lines[0];
		page->text.text.lines++;
		page->text.text.count--;
	}
	return status;
}

/* The kind of a tree, where it is known and one of the almanac's. */
static void kind_of_tree(struct almanac_page *page, struct context *context, const char *tree_id)
{
	const struct dossier *dossier = NULL;
	struct fault why;
	if (yard_dossier(context->session->yard, tree_id, &dossier, &why) == STATUS_OK &&
		dossier->kind.species != NULL)
		(void)text_copy(page->key, sizeof page->key, dossier->kind.species->key);
}

static enum status almanac_screen_open(
	void *screen, struct context *context, const char *argument, struct fault *why)
{
	struct almanac_page *page = screen;
	if (argument[0] != '\0')
		kind_of_tree(page, context, argument);
	return read_page(page, context, why);
}

static enum status almanac_screen_reread(void *screen, struct context *context, struct fault *why)
{
	return read_page(screen, context, why);
}

static void almanac_screen_settle(void *screen, struct context *context)
{
	struct almanac_page *page = screen;
	struct fault why;
	const int rows = context->rows - HEAD_ROWS;
	if (page->key[0] == '\0') {
		list_clamp(&page->kinds, HEAD_CELLS, rows, context->columns);
		return;
	}
	if (page->text.columns != context->columns)
		(void)!read_page(page, context, &why);
	text_page_clamp(&page->text, rows);
}

/* --- showing --- */

/* The kind stands in the page's first line; above it where in the page one is. */
static void draw_head(const struct almanac_page *page, struct paper *paper)
{
	const int part = text_page_part(&page->text, page->text.top);
	const int column = 2 + paper_put(paper, 0, 2, 0, STYLE_STRONG, page->title);
	if (part > 0)
		(void)paper_format(paper, 0, column, paper_columns(paper) - column - 13,
			STYLE_FAINT, "[%s]", page->text.text.lines[part]);
	(void)paper_put(paper, 1, 2, 0, STYLE_FAINT, "Tab: the next part; Left: all kinds");
}

static void almanac_screen_draw(const void *screen, struct paper *paper)
{
	const struct almanac_page *page = screen;
	if (page->key[0] == '\0') {
		(void)paper_put(paper, 0, 2, 0, STYLE_PLAIN,
			"What published sources say of a kind; those of this yard first");
		list_draw(&page->kinds, paper, HEAD_ROWS, paper_rows(paper), HEAD_CELLS);
		return;
	}
	draw_head(page, paper);
	text_page_draw(&page->text, paper, HEAD_ROWS, 0);
	paper_cursor(paper, 0, 0);
}

/* --- acting --- */

static void go_to_kind(
	struct almanac_page *page, struct context *context, const char *key, struct effect *out)
{
	struct fault why;
	(void)text_copy(page->key, sizeof page->key, key);
	page->text.top = 0;
	if (read_page(page, context, &why) != STATUS_OK)
		effect_say(out, "%s", why.text);
}

static void leave_kind(struct almanac_page *page, struct context *context, struct effect *out)
{
	char key[KEY_SIZE];
	(void)text_copy(key, sizeof key, page->key);
	go_to_kind(page, context, "", out);
	list_go(&page->kinds, key);
}

static void act_in_list(
	struct almanac_page *page, struct context *context, enum action action, struct effect *out)
{
	const struct list_row *row = list_selected(&page->kinds);
	if (action == ACTION_OPEN && row != NULL)
		go_to_kind(page, context, row->id, out);
	else if (!list_act(&page->kinds, action, context->rows - HEAD_ROWS) &&
		 action != ACTION_OPEN)
		effect_usual(out);
}

/* The next part of the page, and from the last one to the top. */
static void next_part(struct text_page *text, int rows)
{
	const int next = text_page_next_part(text, text->top);
	if (next < 0 || text->top + rows >= text->text.count)
		text->top = 0;
	else
		text->top = next;
}

static void almanac_screen_act(
	void *screen, struct context *context, enum action action, struct effect *out)
{
	struct almanac_page *page = screen;
	if (page->key[0] == '\0')
		act_in_list(page, context, action, out);
	else if (action == ACTION_NEXT_PART)
		next_part(&page->text, context->rows - HEAD_ROWS);
	else if (action == ACTION_OPEN || action == ACTION_LEFT)
		leave_kind(page, context, out);
	else if (action >= ACTION_UP && action <= ACTION_LAST)
		text_page_scroll(&page->text, action, context->rows - HEAD_ROWS);
	else
		effect_usual(out);
}

static const struct key_row keys[] = {
	{KEYS_ENTER, ACTION_OPEN, false},
	{KEYS_TAB, ACTION_NEXT_PART, false},
	{' ', ACTION_PAGE_DOWN, false},
	{KEYS_LEFT, ACTION_LEFT, false},
	{KEYS_ESCAPE, ACTION_BACK, false},
	{0, ACTION_NONE, false},
};

const struct screen screen_almanac = {
	.name = "almanac",
	.title = "Almanac",
	.purpose = "what is known of a kind: year, cuts, feed, crop, partners, pests, who says so",
	.state_size = sizeof(struct almanac_page),
	.least_rows = 12,
	.least_columns = 50,
	.open = almanac_screen_open,
	.reread = almanac_screen_reread,
	.draw = almanac_screen_draw,
	.act = almanac_screen_act,
	.keys = keys,
	.settle = almanac_screen_settle,
};
