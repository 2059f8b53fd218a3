/* SPDX-License-Identifier: MIT */
/* A tree's page: what it is, its year, what was done, what it gave. */
#include "tree.h"
#include "tree_kin.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"

enum { LOOK_AT_ONCE = 256 };

/* --- reading --- */

/* What no dossier tells. */
static enum status read_words(struct tree_page *page, struct context *context, struct fault *why)
{
	const struct tree *tree = &page->dossier->tree;
	struct session *session = context->session;
	enum status status = tree_kin_origin(session, tree, context->arena, &page->origin, why);
	if (status == STATUS_OK)
		status = tree_kin_children(session, tree, context->arena, &page->children, why);
	page->stems = tree_kin_stems(page->dossier, session->units, context->arena);
	page->photo_count = tree_kin_photos(page->dossier, context->arena, &page->photos);
	return status;
}

static enum status read_story(struct tree_page *page, struct context *context, struct fault *why)
{
	struct identity *opinions = NULL;
	struct review_options options = {.tree_id = page->id};
	struct yard *yard = context->session->yard;
	enum status status = yard_dossier_in(yard, page->id, context->arena, &page->dossier, why);
	if (status == STATUS_OK)
		status = store_identity_list(context->session->store, page->id, context->arena,
			&opinions, &page->opinion_count, why);
	if (status == STATUS_OK)
		status = review_make(yard, &options, context->arena, &page->review, why);
	if (status == STATUS_OK)
		status = sun_words_of_tree(yard, page->dossier, context->arena, &page->sun, why);
	if (status == STATUS_OK)
		status = read_words(page, context, why);
	if (status != STATUS_OK)
		return status;
	page->opinions = opinions;
	page->numbers = context->session->numbers;
	page->today = yard_today(yard);
	ribbon_make(page->dossier, page->today, &page->ribbon);
	return STATUS_OK;
}

static enum status tree_reread(void *screen, struct context *context, struct fault *why)
{
	struct tree_page *page = screen;
	arena_reset(context->arena);
	page->place = -1;
	return read_story(page, context, why);
}

/* The tree at a place in the order of labels. STATUS_ABSENT: there is none. */
static enum status read_at(
	struct tree_page *page, struct context *context, int32_t place, struct fault *why)
{
	struct tree *trees = NULL;
	int32_t count = 0;
	struct tree_query query = {.offset = place, .most = 1};
	if (place < 0)
		return fault_set(why, STATUS_ABSENT, "this is the first tree");
	enum status status = store_tree_list(
		context->session->store, &query, context->arena, &trees, &count, why);
	if (status == STATUS_OK && count == 0)
		return fault_set(why, STATUS_ABSENT,
			place == 0 ? "there are no trees yet: a on the yard screen adds them"
				   : "this is the last tree");
	if (status != STATUS_OK)
		return status;
	text_copy(page->id, sizeof page->id, trees[0].id);
	status = tree_reread(page, context, why);
	page->place = place;
	page->top = 0;
	return status;
}

static enum status tree_open(
	void *screen, struct context *context, const char *argument, struct fault *why)
{
	struct tree_page *page = screen;
	page->place = -1;
	if (argument[0] == '\0')
		return read_at(page, context, 0, why);
	text_copy(page->id, sizeof page->id, argument);
	return read_story(page, context, why);
}

/* Where the tree stands among the others; a tree that is gone stands before the first. */
static enum status find_place(struct tree_page *page, struct context *context, struct fault *why)
{
	struct arena *arena = arena_new();
	struct tree_query query = {.most = LOOK_AT_ONCE};
	enum status status = STATUS_OK;
	int32_t count = LOOK_AT_ONCE;
	for (; status == STATUS_OK && page->place < 0 && count == LOOK_AT_ONCE;
		query.offset += LOOK_AT_ONCE) {
		struct tree *trees = NULL;
		arena_reset(arena);
		status = store_tree_list(
			context->session->store, &query, arena, &trees, &count, why);
		for (int32_t i = 0; status == STATUS_OK && i < count; i++)
			if (strcmp(trees[i].id, page->id) == 0)
				page->place = query.offset + i;
	}
	arena_free(arena);
	return status;
}

/* --- acting --- */

static void other_tree(
	struct tree_page *page, struct context *context, int32_t by, struct effect *out)
{
	struct fault why;
	enum status status = page->place < 0 ? find_place(page, context, &why) : STATUS_OK;
	if (status == STATUS_OK)
		status = read_at(page, context, page->place + by, &why);
	if (status != STATUS_OK)
		effect_say(out, "%s", why.text);
}

static void clamp(struct tree_page *page, int rows)
{
	int most = page->height - rows;
	if (page->top > most)
		page->top = most;
	if (page->top < 0)
		page->top = 0;
}

static void tree_settle(void *screen, struct context *context)
{
	struct tree_page *page = screen;
	page->height = tree_height(page, context->ascii, context->columns);
	clamp(page, context->rows);
}

static bool scroll(struct tree_page *page, enum action action, int rows)
{
	if (action == ACTION_UP)
		page->top--;
	else if (action == ACTION_DOWN)
		page->top++;
	else if (action == ACTION_PAGE_UP)
		page->top -= rows - 1;
	else if (action == ACTION_PAGE_DOWN)
		page->top += rows - 1;
	else if (action == ACTION_FIRST)
		page->top = 0;
	else if (action == ACTION_LAST)
		page->top = page->height;
	else
		return false;
	clamp(page, rows);
	return true;
}

static void push_export(const struct tree_page *page, struct effect *out)
{
	char argument[ID_SIZE + 16];
	(void)snprintf(argument, sizeof argument, "tree\t\t%s", page->id);
	effect_push(out, "export", argument);
}

static void tree_act(void *screen, struct context *context, enum action action, struct effect *out)
{
	struct tree_page *page = screen;
	if (scroll(page, action, context->rows))
		return;
	if (action == ACTION_LEFT || action == ACTION_RIGHT)
		other_tree(page, context, action == ACTION_RIGHT ? 1 : -1, out);
	else if (action == ACTION_LINE || action == ACTION_OPEN)
		effect_push(out, "walk", page->id);
	else if (action == ACTION_REVIEW)
		effect_push(out, "review", page->id);
	else if (action == ACTION_FACTS)
		effect_push(out, "facts", page->id);
	else if (action == ACTION_LIKELY)
		effect_push(out, "likely", page->id);
	else if (action == ACTION_FIGURES)
		effect_push(out, "figures", page->id);
	else if (action == ACTION_SEASON)
		effect_push(out, "season", page->id);
	else if (action == ACTION_ALMANAC)
		effect_push(out, "almanac", page->id);
	else if (action == ACTION_EXPORT)
		push_export(page, out);
	else if (action == ACTION_PLAN)
		effect_push(out, "plan", page->id);
	else if (action == ACTION_ALL)
		page->all = !page->all;
	else
		effect_usual(out);
}

static const struct key_row keys[] = {
	{'l', ACTION_LINE, false},
	{KEYS_ENTER, ACTION_OPEN, false},
	{'r', ACTION_REVIEW, false},
	{'s', ACTION_SEASON, false},
	{'f', ACTION_FIGURES, false},
	{'e', ACTION_FACTS, false},
	{'i', ACTION_LIKELY, false},
	{'X', ACTION_EXPORT, false},
	{'A', ACTION_ALMANAC, false},
	{'a', ACTION_ALL, false},
	{KEYS_LEFT, ACTION_LEFT, false},
	{KEYS_RIGHT, ACTION_RIGHT, false},
	{0, ACTION_NONE, false},
};

const struct screen screen_tree = {
	.name = "tree",
	.title = "Tree",
	.purpose = "one tree's whole story: what it is, its year, what was done and what it gave",
	.state_size = sizeof(struct tree_page),
	.least_rows = 15,
	.least_columns = 60,
	.open = tree_open,
	.reread = tree_reread,
	.draw = tree_draw,
	.act = tree_act,
	.keys = keys,
	.settle = tree_settle,
};
