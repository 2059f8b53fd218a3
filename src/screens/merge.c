/* SPDX-License-Identifier: MIT */
/* Another copy of the log: which file, what would come of it, then what both copies changed, one
 * thing after the other, each side by its letter. */
#include <stdio.h>
#include <string.h>

#include "core/memory.h"
#include "core/text.h"
#include "exchange/merge.h"
#include "field.h"
#include "text_lines.h"

enum { PATH_CHARACTERS = 1000, HEAD_ROWS = 2, KEY_CELLS = 4 };
enum { LETTERS = ACTION_KEEP_D - ACTION_KEEP_A + 1 }; /* sides that have a key */

enum part {
	PART_FILE,    /* a line for its path */
	PART_ACCOUNT, /* what would come, tried on a copy */
	PART_CLASHES
};

struct shown_side { /* of the clash in hand */
	const char *words;
	const char *whence; /* "" : what was before */
};

struct merge_page {
	enum part part;
	struct edit path;
	struct merge_told told; /* what was tried */
	struct text_lines account;
	int top;
	int columns; /* that the account is laid out for */
	struct clash *clashes;
	int32_t clash_count;
	int32_t at;
	struct shown_side sides[LETTERS + 1]; /* the last: before */
	bool is_own;                          /* a value of the grower's own is being typed */
	struct edit own;
	const char *asked; /* what is to be typed: "rootstock", "its line" */
};

/* --- reading --- */

static enum status show_clash(struct merge_page *page, struct context *context, struct fault *why)
{
	const struct clash *clash = &page->clashes[page->at];
	for (int32_t i = -1; i < clash->side_count && i < LETTERS; i++) {
		struct shown_side *side = &page->sides[i < 0 ? LETTERS : i];
		side->words = clash_words(context->session, clash, i, context->arena, why);
		side->whence = i < 0 ? "" : clash_whence(&clash->sides[i], context->arena);
		if (side->words == NULL)
			return why->status;
	}
	return STATUS_OK;
}

static enum status read_clashes(struct merge_page *page, struct context *context, struct fault *why)
{
	arena_reset(context->arena);
	page->account = (struct text_lines){.count = 0};
	page->clashes = NULL;
	enum status status = store_clash_list(
		context->session->store, context->arena, &page->clashes, &page->clash_count, why);
	if (page->at >= page->clash_count)
		page->at = page->clash_count > 0 ? page->clash_count - 1 : 0;
	if (status == STATUS_OK && page->clash_count > 0)
		status = show_clash(page, context, why);
	return status;
}

static enum status merge_open(
	void *state, struct context *context, const char *argument, struct fault *why)
{
	struct merge_page *page = state;
	(void)edit_load(&page->path, argument, PATH_CHARACTERS);
	return read_clashes(page, context, why);
}

/* An account of a log that has changed since is no longer true. */
static enum status merge_reread(void *state, struct context *context, struct fault *why)
{
	struct merge_page *page = state;
	if (page->part == PART_ACCOUNT)
		page->part = PART_FILE;
	return read_clashes(page, context, why);
}

static struct printer printer_on(const struct context *context, FILE *stream)
{
	return (struct printer){.stream = stream,
		.ascii = context->ascii,
		.width = context->columns,
		.units = context->session->units,
		.numbers = context->session->numbers};
}

/* The account as lines of the page's width. */
static enum status lay_out(struct merge_page *page, struct context *context, struct fault *why)
{
	char *text = NULL;
	size_t length = 0;
	const struct printer printer = printer_on(context, open_memstream(&text, &length));
	if (printer.stream == NULL)
		return fault_set(why, STATUS_IO, "there is no memory left to lay the page out");
	merge_say_told(&printer, &page->told, context->arena);
	(void)fclose(printer.stream);
	page->account = text_lines_cut(context->arena, text);
	page->columns = context->columns;
	block_free(text);
	return STATUS_OK;
}

static bool has_new(const struct merge_page *page)
{
	return page->told.account.acts > 0;
}

static const char *path_of(const struct merge_page *page, char out[EDIT_SIZE])
{
	(void)text_copy(out, EDIT_SIZE, page->path.text);
	return text_trim_in_place(out);
}

/* Tried on a copy. */
static void look(struct merge_page *page, struct context *context, struct effect *out)
{
	char path[EDIT_SIZE];
	struct fault why = {.status = STATUS_OK};
	const struct merge_options options = {.path = path_of(page, path), .dry_run = true};
	if (path[0] == '\0') {
		effect_say(out, "type the path of the other copy, or Esc goes back");
		return;
	}
	enum status status = read_clashes(page, context, &why);
	if (status == STATUS_OK)
		status = merge_log(context->session, &options, context->arena, &page->told, &why);
	if (status == STATUS_OK)
		status = lay_out(page, context, &why);
	if (status != STATUS_OK) {
		effect_say(out, "not merged: %s", why.text);
		return;
	}
	page->part = PART_ACCOUNT;
	page->top = 0;
}

static void take_in(struct merge_page *page, struct context *context, struct effect *out)
{
	char path[EDIT_SIZE];
	struct merge_told told;
	struct fault why = {.status = STATUS_OK};
	struct arena *arena = arena_new();
	const struct merge_options options = {.path = path_of(page, path)};
	if (!has_new(page)) {
		page->part = PART_FILE;
	} else if (merge_log(context->session, &options, arena, &told, &why) == STATUS_OK) {
		out->wrote = true;
		page->part = told.clash_count > 0 ? PART_CLASHES : PART_FILE;
		page->at = 0;
		edit_start(&page->path, PATH_CHARACTERS);
		effect_say(out, "merged: %s; u takes all of it back", told.lines[0]);
	} else {
		effect_say(out, "not merged: %s", why.text);
	}
	arena_free(arena);
}

/* --- showing --- */

static void draw_file(const struct merge_page *page, struct paper *paper)
{
	(void)paper_put(paper, 0, 2, 0, STYLE_STRONG, "the other copy of this log");
	const int column = paper_put(paper, 1, 2, 0, STYLE_PLAIN, "file: ");
	field_draw(paper, 1, column, 0, &page->path, true);
	int row = 3 + paper_wrap(paper, 3, 2, 0, 4, STYLE_PLAIN,
			      "Enter tries it on a copy and shows what would come; the file "
			      "itself is only read. Nothing typed in either copy is lost, and "
			      "undo takes a merge back whole.");
	if (page->clash_count > 0)
		(void)paper_format(paper, row + 1, 2, 0, STYLE_DUE,
			"%d thing%s changed in two copies and not settled: Tab",
			(int)page->clash_count, page->clash_count == 1 ? " was" : "s were");
}

static void draw_account(const struct merge_page *page, struct paper *paper)
{
	const int rows = paper_rows(paper) - HEAD_ROWS;
	(void)paper_put(paper, 0, 2, 0, STYLE_STRONG,
		has_new(page) ? "tried on a copy: Enter merges, Esc leaves it"
			      : "nothing to merge: Enter or Esc goes back");
	for (int i = 0; i < rows && page->top + i < page->account.count; i++)
		(void)paper_put(paper, HEAD_ROWS + i, 0, 0, STYLE_PLAIN,
			page->account.lines[page->top + i]);
	if (page->top + rows < page->account.count)
		paper_put_right(
			paper, 1, paper_columns(paper) - 12, 12, STYLE_FAINT, "  Down: more");
	paper_cursor(paper, 0, 0);
}

static int draw_side(struct paper *paper, int row, const char *key, const struct shown_side *side)
{
	(void)paper_put(paper, row, 2, KEY_CELLS, STYLE_STRONG, key);
	int used = paper_wrap(paper, row, 2 + KEY_CELLS, 0, 4, STYLE_PLAIN, side->words);
	if (side->whence[0] != '\0')
		(void)paper_put(paper, row + used, 2 + KEY_CELLS, 0, STYLE_FAINT, side->whence);
	return used + (side->whence[0] != '\0');
}

static void draw_head(const struct merge_page *page, struct paper *paper)
{
	if (!page->is_own) {
		(void)paper_format(paper, 0, 2, 0, STYLE_FAINT,
			"%d of %d changed in two copies; its letter keeps a side",
			(int)page->at + 1, (int)page->clash_count);
		return;
	}
	const int column = paper_format(paper, 0, 2, 0, STYLE_PLAIN, "%s: ", page->asked);
	field_draw(paper, 0, column, 0, &page->own, true);
}

static void draw_clashes(const struct merge_page *page, struct paper *paper)
{
	paper_cursor(paper, 0, 0);
	if (page->clash_count == 0) {
		(void)paper_put(paper, 0, 2, 0, STYLE_GOOD,
			"nothing waits: all that two copies changed is settled");
		return;
	}
	const struct clash *clash = &page->clashes[page->at];
	draw_head(page, paper);
	int row = 1 + paper_wrap(paper, 1, 2, 0, 2, STYLE_STRONG, clash->title);
	for (int32_t i = 0; i < clash->side_count && i < LETTERS; i++) {
		const char key[2] = {(char)('a' + i), '\0'};
		row += draw_side(paper, row, key, &page->sides[i]);
	}
	row += draw_side(paper, row, "0", &page->sides[LETTERS]);
	(void)paper_put(paper, row, 2 + KEY_CELLS, 0, STYLE_FAINT,
		"as it was before both, and as it is shown now");
	(void)paper_put(paper, row + 1, 2, KEY_CELLS, STYLE_STRONG, "e");
	(void)paper_put(paper, row + 1, 2 + KEY_CELLS, 0, STYLE_PLAIN, "something else");
	if (clash->side_count > LETTERS)
		(void)paper_put(paper, row + 2, 2, 0, STYLE_PLAIN,
			"more sides than letters here: boughbook merge --keep takes them");
}

static void merge_draw(const void *state, struct paper *paper)
{
	const struct merge_page *page = state;
	switch (page->part) {
	case PART_FILE:
		draw_file(page, paper);
		break;
	case PART_ACCOUNT:
		draw_account(page, paper);
		break;
	case PART_CLASHES:
		draw_clashes(page, paper);
		break;
	}
}

/* The account was laid out for a width; in another one it stays as it was where there is no memory
 * to lay it out anew. */
static void merge_settle(void *state, struct context *context)
{
	struct merge_page *page = state;
	struct fault why;
	if (page->part == PART_ACCOUNT && page->columns != context->columns)
		(void)!lay_out(page, context, &why);
	const int last = page->account.count - (context->rows - HEAD_ROWS);
	page->top = page->top > last ? last : page->top;
	page->top = page->top < 0 ? 0 : page->top;
}

/* --- acting --- */

static void keep(struct merge_page *page, struct context *context, int32_t side, struct effect *out)
{
	char said[TEXT_SIZE] = "";
	struct fault why = {.status = STATUS_OK};
	if (page->part != PART_CLASHES || page->clash_count == 0)
		return;
	const struct clash *clash = &page->clashes[page->at];
	if (side >= clash->side_count) {
		effect_say(out, "this has the sides a to %c", (char)('a' + clash->side_count - 1));
		return;
	}
	if (merge_keep(context->session, clash, side, said, &why) != STATUS_OK) {
		effect_say(out, "not kept: %s", why.text);
		return;
	}
	out->wrote = true;
	effect_say(out, "%s; u takes it back", said);
}

/* Several fields stand there as they are shown, each behind its name, to be changed. */
static void ask_own(struct merge_page *page, struct context *context)
{
	if (page->part != PART_CLASHES || page->clash_count == 0)
		return;
	const struct clash *clash = &page->clashes[page->at];
	const bool is_line = strcmp(clash->owner_table, "entry") == 0;
	const bool is_one = clash->field_count == 1;
	page->is_own = true;
	page->asked = is_line  ? "its line"
		      : is_one ? clash_field_name(&clash->fields[0], context->arena)
			       : "it is";
	(void)edit_load(
		&page->own, is_line || is_one ? "" : page->sides[LETTERS].words, PATH_CHARACTERS);
}

static void keep_own(struct merge_page *page, struct context *context, struct effect *out)
{
	char said[TEXT_SIZE] = "";
	struct fault why = {.status = STATUS_OK};
	const struct clash *clash = &page->clashes[page->at];
	if (merge_keep_own(context->session, clash, page->own.text, said, &why) != STATUS_OK) {
		effect_say(out, "not kept: %s", why.text);
		return;
	}
	page->is_own = false;
	out->wrote = true;
	effect_say(out, "%s; u takes it back", said);
}

static void move(
	struct merge_page *page, struct context *context, enum action action, struct effect *out)
{
	struct fault why = {.status = STATUS_OK};
	const int page_rows = context->rows - HEAD_ROWS > 1 ? context->rows - HEAD_ROWS - 1 : 1;
	const int steps = action == ACTION_PAGE_UP || action == ACTION_PAGE_DOWN ? page_rows : 1;
	const bool up = action == ACTION_UP || action == ACTION_PAGE_UP;
	if (page->part == PART_ACCOUNT) {
		page->top += up ? -steps : steps;
	} else if (page->part == PART_CLASHES && page->clash_count > 0) {
		page->at += up ? -1 : 1;
		if (page->at < 0 || page->at >= page->clash_count)
			page->at = up ? 0 : page->clash_count - 1;
		if (show_clash(page, context, &why) != STATUS_OK)
			effect_say(out, "%s", why.text);
	}
}

static void merge_act(void *state, struct context *context, enum action action, struct effect *out)
{
	struct merge_page *page = state;
	const bool was_own = page->is_own;
	if (was_own && action == ACTION_NEXT_FIELD) {
		keep_own(page, context, out);
		return;
	}
	page->is_own = false; /* any other key leaves the line */
	if (was_own && action == ACTION_BACK)
		return;
	if (action == ACTION_KEEP_OWN)
		ask_own(page, context);
	else if (action >= ACTION_KEEP_A && action <= ACTION_KEEP_D)
		keep(page, context, (int32_t)(action - ACTION_KEEP_A), out);
	else if (action == ACTION_KEEP_BEFORE)
		keep(page, context, -1, out);
	else if (action >= ACTION_UP && action <= ACTION_PAGE_DOWN)
		move(page, context, action, out);
	else if (action == ACTION_NEXT_PART)
		page->part = page->part == PART_CLASHES ? PART_FILE : PART_CLASHES;
	else if (action == ACTION_NEXT_FIELD && page->part == PART_FILE)
		look(page, context, out);
	else if (action == ACTION_NEXT_FIELD && page->part == PART_ACCOUNT)
		take_in(page, context, out);
	else if (action == ACTION_NEXT_FIELD)
		move(page, context, ACTION_DOWN, out);
	else if (action == ACTION_BACK && page->part == PART_ACCOUNT)
		page->part = PART_FILE;
	else if (action == ACTION_BACK)
		out->kind = EFFECT_POP;
	else
		effect_usual(out);
}

static void merge_type(
	void *state, struct context *context, const struct input *input, struct effect *out)
{
	struct merge_page *page = state;
	(void)context;
	if (page->is_own)
		(void)field_take(&page->own, input, out);
	else if (page->part == PART_FILE)
		(void)field_take(&page->path, input, out);
}

static const char *merge_typed(const void *state)
{
	const struct merge_page *page = state;
	return page->is_own ? page->own.text : page->part == PART_FILE ? page->path.text : NULL;
}

/* clang-format off */
static const struct key_row merge_keys[] = {
	{KEYS_ENTER, ACTION_NEXT_FIELD, false},
	{KEYS_TAB, ACTION_NEXT_PART, false},
	{KEYS_ESCAPE, ACTION_BACK, false},
	{'a', ACTION_KEEP_A, false},
	{'b', ACTION_KEEP_B, false},
	{'e', ACTION_KEEP_OWN, false},
	{'0', ACTION_KEEP_BEFORE, false},
	{'c', ACTION_KEEP_C, false},
	{'d', ACTION_KEEP_D, false},
	{'?', ACTION_HELP, true},
	{0, ACTION_NONE, false},
};
/* clang-format on */

const struct screen screen_merge = {
	.name = "merge",
	.title = "Merge",
	.purpose = "takes in another copy of the log, and settles what both changed",
	.state_size = sizeof(struct merge_page),
	.takes_text = true,
	.least_rows = 12,
	.least_columns = 50,
	.open = merge_open,
	.reread = merge_reread,
	.draw = merge_draw,
	.act = merge_act,
	.type = merge_type,
	.typed = merge_typed,
	.keys = merge_keys,
	.settle = merge_settle,
};
