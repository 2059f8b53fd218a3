/* SPDX-License-Identifier: MIT */
/* Export: what goes out, and to which file: both shown before anything is written. */
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "core/text.h"
#include "field.h"
#include "going_out.h"

enum { PATH_CHARACTERS = 1000 };

struct export_page {
	struct going_out out;
	struct edit path;
	char looked[EDIT_SIZE]; /* the path that `there` is of */
	bool there;             /* a file of that name stands there */
	bool asked;             /* whether it may be replaced, and it was not answered yet */
};

static void suggest(struct export_page *page, struct session *session)
{
	char path[FILE_PATH_SIZE];
	going_out_usual(&page->out, session, path);
	(void)edit_load(&page->path, path, PATH_CHARACTERS);
	page->asked = false;
}

/* argument: "WHAT", "WHAT TAB YEAR" or "WHAT TAB YEAR TAB TREE"; "" the report. */
static enum status export_open(
	void *state, struct context *context, const char *argument, struct fault *why)
{
	struct export_page *page = state;
	struct going_out *out = &page->out;
	struct tree tree;
	const size_t word = strcspn(argument, "\t");
	const int32_t what = going_out_find(argument, word);
	out->what = what < 0 ? 0 : what;
	const char *year = argument + word + (argument[word] == '\t');
	out->year.known = year[0] >= '0' && year[0] <= '9' &&
			  season_parse(year, &out->year.value, NULL) == STATUS_OK;
	const char *id = year + strcspn(year, "\t");
	if (*id == '\t') {
		enum status status = store_tree_load(context->session->store, id + 1, &tree, why);
		if (status != STATUS_OK)
			return status;
		(void)text_copy(out->tree_id, sizeof out->tree_id, tree.id);
		(void)text_copy(out->label, sizeof out->label, tree.label);
	}
	edit_start(&page->path, PATH_CHARACTERS);
	suggest(page, context->session);
	return STATUS_OK;
}

static enum status export_reread(void *state, struct context *context, struct fault *why)
{
	(void)state; /* nothing of the log is shown */
	(void)context;
	(void)why;
	return STATUS_OK;
}

static void export_settle(void *state, struct context *context)
{
	struct export_page *page = state;
	(void)context;
	if (strcmp(page->looked, page->path.text) == 0)
		return;
	(void)text_copy(page->looked, sizeof page->looked, page->path.text);
	page->there = page->path.length > 0 && access(page->path.text, F_OK) == 0;
}

/* --- drawing --- */

static int draw_choices(const struct export_page *page, struct paper *paper)
{
	char text[LABEL_SIZE + 64];
	for (int32_t i = 0; i < going_out_count(); i++) {
		struct going_out one = page->out;
		const bool here = i == page->out.what;
		one.what = i;
		(void)paper_put(paper, i, 0, 1, STYLE_STRONG, here ? ">" : " ");
		(void)paper_put(paper, i, 2, 0, here ? STYLE_TITLE : STYLE_PLAIN,
			going_out_title(&one, text, sizeof text));
	}
	return going_out_count();
}

/* One line: the smallest screen has no room for more. */
static const char *words_below(const struct export_page *page)
{
	if (page->asked)
		return "That file is there: Enter once more replaces it.";
	if (page->there)
		return "A file of this name is there.";
	if (going_out_is_paper(&page->out))
		return "To print; named .txt it is plain text.";
	return "";
}

static void export_draw(const void *state, struct paper *paper)
{
	const struct export_page *page = state;
	int row = draw_choices(page, paper);
	const int column = paper_put(paper, row, 0, 0, STYLE_TITLE, "to file") + 2;
	field_draw(paper, row++, column, 0, &page->path, true);
	(void)paper_put(
		paper, row++, column, 0, page->there ? STYLE_DUE : STYLE_FAINT, words_below(page));
	(void)paper_put(paper, row, 0, 0, STYLE_PLAIN,
		!going_out_leaves_out(&page->out) ? "Trees marked private are in it."
		: page->out.without_private       ? "Trees marked private are left out."
						  : "Trees marked private are in it; Tab leaves "
						    "them out.");
}

/* --- acting --- */

/* What is there already is replaced by a second Enter only. */
static void write_it(struct export_page *page, struct context *context, struct effect *out)
{
	struct fault why;
	const char *path = page->path.text;
	page->looked[0] = '\0';
	if (!page->asked && page->path.length > 0 && access(path, F_OK) == 0) {
		page->asked = true;
		return;
	}
	page->asked = false;
	if (going_out_write(&page->out, context->session, path, &why) == STATUS_OK)
		effect_say(out, "written: %s", path);
	else
		effect_say(out, "not written: %s", why.text);
}

static void choose(struct export_page *page, struct context *context, int32_t what)
{
	const int32_t count = going_out_count();
	page->out.what = (what + count) % count;
	suggest(page, context->session);
}

static void export_act(void *state, struct context *context, enum action action, struct effect *out)
{
	struct export_page *page = state;
	switch ((int)action) {
	case ACTION_WRITE:
		write_it(page, context, out);
		break;
	case ACTION_UP:
		choose(page, context, page->out.what - 1);
		break;
	case ACTION_DOWN:
		choose(page, context, page->out.what + 1);
		break;
	case ACTION_NEXT_PART:
		page->out.without_private = !page->out.without_private;
		break;
	case ACTION_BACK:
		out->kind = EFFECT_POP;
		break;
	default:
		effect_usual(out);
		break;
	}
}

static void export_type(
	void *state, struct context *context, const struct input *input, struct effect *out)
{
	struct export_page *page = state;
	(void)context;
	page->asked = false;
	(void)field_take(&page->path, input, out);
}

static const char *export_typed(const void *state)
{
	const struct export_page *page = state;
	return page->path.text;
}

/* clang-format off */
static const struct key_row keys[] = {
	{KEYS_ENTER, ACTION_WRITE, false},
	{KEYS_UP, ACTION_UP, false},
	{KEYS_DOWN, ACTION_DOWN, false},
	{KEYS_TAB, ACTION_NEXT_PART, false},
	{KEYS_ESCAPE, ACTION_BACK, false},
	{'?', ACTION_HELP, true},
	{0, ACTION_NONE, false},
};
/* clang-format on */

const struct screen screen_export = {
	.name = "export",
	.title = "Export",
	.purpose = "papers to print, tables, a calendar, the plan: what, and to which file",
	.state_size = sizeof(struct export_page),
	.takes_text = true,
	.least_rows = 15,
	.least_columns = 60,
	.open = export_open,
	.reread = export_reread,
	.draw = export_draw,
	.act = export_act,
	.type = export_type,
	.keys = keys,
	.typed = export_typed,
	.settle = export_settle,
};
