/* SPDX-License-Identifier: MIT */
/* Printed pages to read: of one tree what it is to be given, the sun it stands in, whom it needs
 * and where it comes from; of the yard what became of the fruit, and the bloom side by side. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "text_page.h"

enum { HEAD_ROWS = 2 };
/* Those of a tree, then those of the yard. */
enum part {
	PART_WATER,
	PART_FEED,
	PART_SUN,
	PART_PARTNERS,
	PART_DESCENT,
	PART_FRUIT,
	PART_BLOOM,
	PART_TOTAL
};
enum { PART_OF_YARD = PART_FRUIT };
static const char *const part_names[PART_TOTAL] = {
	"water", "feed", "sun", "partners", "descent", "fruit", "bloom"};

struct figures_page {
	char tree_id[ID_SIZE]; /* "": of the yard */
	char label[TREE_TITLE_SIZE];
	enum part part;
	struct text_page text;
};

/* --- reading --- */

/* What it was fed with last, where the shed has that; NULL else. */
static const struct product *last_product(const struct dossier *dossier)
{
	for (int32_t i = dossier->entry_count; i-- > 0;) {
		const struct entry *entry = dossier->entries[i];
		if (entry->kind != KIND_FEED)
			continue;
		for (int32_t p = 0; p < dossier->product_count; p++)
			if (strcmp(dossier->products[p].name, entry_detail(entry, FIELD_PRODUCT)) ==
				0)
				return &dossier->products[p];
	}
	return NULL;
}

/* A graft is where its host is. */
static const struct dossier *standing_of(const struct dossier *dossier)
{
	while (dossier->host != NULL)
		dossier = dossier->host;
	return dossier;
}

static enum status print_fruit(
	struct session *session, const struct printer *printer, struct fault *why)
{
	const struct stock_options options = {.without_private = false};
	struct arena *arena = arena_new();
	struct stock_report report;
	enum status status = stock_report_make(session->yard, &options, arena, &report, why);
	if (status == STATUS_OK)
		status = print_stock(printer, &report, session->yard, why);
	arena_free(arena);
	return status;
}

static enum status print_part(const void *screen, struct session *session,
	const struct printer *printer, struct fault *why)
{
	const struct figures_page *page = screen;
	const struct dossier *dossier = NULL;
	if (page->part == PART_FRUIT)
		return print_fruit(session, printer, why);
	if (page->part == PART_BLOOM)
		return print_bloom(printer, session->yard, why);
	const enum status status = yard_dossier(session->yard, page->tree_id, &dossier, why);
	if (status != STATUS_OK)
		return status;
	if (page->part == PART_WATER)
		return print_water(printer, session->yard, page->tree_id, why);
	if (page->part == PART_PARTNERS)
		return print_partners(printer, session->yard, page->tree_id, why);
	if (page->part == PART_DESCENT)
		return print_descent(printer, session->yard, page->tree_id, why);
	if (page->part == PART_FEED)
		return print_dose(
			printer, session->yard, page->tree_id, last_product(dossier), why);
	const char *spot_id = standing_of(dossier)->tree.spot_id;
	if (spot_id[0] == '\0')
		return fault_set(why, STATUS_ABSENT, "%s stands in no spot of the plan",
			dossier->tree.label);
	const struct sun_options options = {.spot_id = spot_id, .level_um = SUN_LEVEL_UM};
	return print_sun(printer, session->yard, &options, why);
}

/* A refusal ("a graft: ask the dose of its host") is what there is to read. */
static enum status read_page(struct figures_page *page, struct context *context, struct fault *why)
{
	return text_page_read(&page->text, context, print_part, page, why);
}

static enum status figures_open(
	void *screen, struct context *context, const char *argument, struct fault *why)
{
	struct figures_page *page = screen;
	struct tree tree;
	text_copy(page->tree_id, sizeof page->tree_id, argument);
	if (argument[0] == '\0') {
		text_copy(page->label, sizeof page->label, "the yard");
		page->part = (enum part)PART_OF_YARD;
		return read_page(page, context, why);
	}
	enum status status = store_tree_load(context->session->store, page->tree_id, &tree, why);
	if (status != STATUS_OK)
		return status;
	(void)store_tree_title(&tree, page->label);
	return read_page(page, context, why);
}

static enum status figures_reread(void *screen, struct context *context, struct fault *why)
{
	return read_page(screen, context, why);
}

static void figures_settle(void *screen, struct context *context)
{
	struct figures_page *page = screen;
	struct fault why;
	if (page->text.columns != context->columns)
		(void)!read_page(page, context, &why);
	text_page_clamp(&page->text, context->rows - HEAD_ROWS);
}

static int first_part(const struct figures_page *page)
{
	return page->tree_id[0] == '\0' ? PART_OF_YARD : 0;
}

static int end_of_parts(const struct figures_page *page)
{
	return page->tree_id[0] == '\0' ? PART_TOTAL : PART_OF_YARD;
}

/* --- showing --- */

static void figures_draw(const void *screen, struct paper *paper)
{
	const struct figures_page *page = screen;
	int column = 2 + paper_put(paper, 0, 2, 0, STYLE_STRONG, page->label);
	for (int i = first_part(page); i < end_of_parts(page); i++)
		column = paper_format(paper, 0, column + 2, 0,
			i == (int)page->part ? STYLE_STRONG : STYLE_FAINT,
			i == (int)page->part ? "[%s]" : " %s ", part_names[i]);
	text_page_draw(&page->text, paper, HEAD_ROWS, 0);
	paper_cursor(paper, 0, 0);
}

/* --- acting --- */

static void to_part(struct figures_page *page, struct context *context, struct effect *out)
{
	struct fault why;
	const int next = (int)page->part + 1;
	page->part = (enum part)(next < end_of_parts(page) ? next : first_part(page));
	page->text.top = 0;
	if (read_page(page, context, &why) != STATUS_OK)
		effect_say(out, "%s", why.text);
}

static void figures_act(
	void *screen, struct context *context, enum action action, struct effect *out)
{
	struct figures_page *page = screen;
	if (action == ACTION_NEXT_PART)
		to_part(page, context, out);
	else if (action == ACTION_TREE && page->tree_id[0] != '\0')
		effect_push(out, "tree", page->tree_id);
	else if (action == ACTION_LINE && page->tree_id[0] != '\0')
		effect_push(out, "walk", page->tree_id);
	else if (action >= ACTION_UP && action <= ACTION_LAST)
		text_page_scroll(&page->text, action, context->rows - HEAD_ROWS);
	else
		effect_usual(out);
}

static const struct key_row keys[] = {
	{KEYS_TAB, ACTION_NEXT_PART, false},
	{KEYS_ENTER, ACTION_NEXT_PART, false},
	{' ', ACTION_PAGE_DOWN, false},
	{'l', ACTION_LINE, false},
	{KEYS_ESCAPE, ACTION_BACK, false},
	{0, ACTION_NONE, false},
};

const struct screen screen_figures = {
	.name = "figures",
	.title = "Figures",
	.purpose = "water and feed by which rule, sun, partners, descent; fruit and bloom of the "
		   "yard",
	.state_size = sizeof(struct figures_page),
	.least_rows = 12,
	.least_columns = 50,
	.open = figures_open,
	.reread = figures_reread,
	.draw = figures_draw,
	.act = figures_act,
	.keys = keys,
	.settle = figures_settle,
};
