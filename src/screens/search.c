/* SPDX-License-Identifier: MIT */
/* Searching all that is written, while it is typed: entries, trees and their names, and what the
 * review says. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "field.h"
#include "list.h"
#include "store/search.h"

enum { HITS_MAX = 300, TEXT_CHARACTERS = 80, HEAD_CELLS = 14, HEAD_ROWS = 2 };

struct search_page {
	struct edit text;
	char found[TEXT_CHARACTERS * 4 + 1]; /* what the list answers */
	bool is_read;
	struct list list; /* ids: of trees, "" none */
	struct arena *flags_arena;
	struct review review; /* read once, at the first search */
	bool review_read;
	bool flags; /* what the review says is looked through, not what is written */
};

/* --- reading --- */

static enum status search_open(
	void *screen, struct context *context, const char *argument, struct fault *why)
{
	struct search_page *page = screen;
	(void)context;
	(void)why;
	edit_start(&page->text, TEXT_CHARACTERS);
	(void)edit_load(&page->text, argument, TEXT_CHARACTERS);
	page->flags_arena = arena_new();
	return STATUS_OK;
}

static void search_close(void *screen)
{
	struct search_page *page = screen;
	arena_free(page->flags_arena);
}

static enum status search_reread(void *screen, struct context *context, struct fault *why)
{
	struct search_page *page = screen;
	(void)context;
	(void)why;
	page->is_read = page->review_read = false;
	return STATUS_OK;
}

/* Words and note of an entry stand on lines of their own. */
static const char *first_line(const char *words, struct arena *arena)
{
	return arena_text_n(arena, words, strcspn(words, "\n"));
}

static const char *rest_of(const char *words, const char *line)
{
	const char *rest = words + strlen(line);
	rest += strspn(rest, "\n");
	return rest[0] != '\0' && strstr(line, rest) == NULL ? rest : NULL;
}

static const char *what_is(const struct search_hit *hit)
{
	static const struct {
		const char *table;
		const char *word;
	} words[] = {{"identity", "name"}, {"old_label", "old label"}, {"answer", "answer"}};
	for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
		if (strcmp(words[i].table, hit->table_name) == 0)
			return words[i].word;
	return hit->table_name;
}

static void add_hit(struct search_page *page, const struct search_hit *hit, struct arena *arena)
{
	const bool is_entry = strcmp(hit->table_name, "entry") == 0;
	const char *line = first_line(hit->words, arena);
	const bool named =
		hit->label[0] != '\0' && strncmp(line, hit->label, strlen(hit->label)) != 0;
	page->list.rows[page->list.count++] = (struct list_row){.id = hit->tree_id,
		.head = is_entry ? hit->day : what_is(hit),
		.text = arena_format(
			arena, "%s%s%s", named ? hit->label : "", named ? ": " : "", line),
		.more = rest_of(hit->words, line)};
}

/* Do all words of the text occur in the flag's rule, label or sentence? */
static bool flag_has(const struct flag *flag, const char *text, struct arena *arena)
{
	char folded[TEXT_SIZE * 3], word[TEXT_SIZE];
	text_fold(arena_format(arena, "%s %s %s", flag->rule, flag->label, flag->says), folded,
		sizeof folded);
	for (const char *at = text; *at != '\0';) {
		const size_t length = strcspn(at, " ");
		char small[TEXT_SIZE * 3];
		(void)text_copy_n(word, sizeof word, at, length);
		text_fold(word, small, sizeof small);
		if (strstr(folded, small) == NULL)
			return false;
		at += length;
		at += strspn(at, " ");
	}
	return true;
}

static void add_flags(struct search_page *page, const char *text, struct arena *arena)
{
	for (int32_t i = 0; i < page->review.count; i++) {
		const struct flag *flag = &page->review.items[i].flag;
		if (page->list.count == HITS_MAX || !flag_has(flag, text, arena))
			continue;
		page->list.rows[page->list.count++] = (struct list_row){.id = flag->tree_id,
			.head = "flag",
			.text = arena_format(arena, "%s%s%s", flag->label,
				flag->label[0] != '\0' ? ": " : "", flag->says),
			.more = flag->rule};
	}
}

static enum status read_review(struct search_page *page, struct context *context, struct fault *why)
{
	const struct review_options options = {.all = true};
	if (page->review_read)
		return STATUS_OK;
	arena_reset(page->flags_arena);
	page->review_read = true;
	return review_make(context->session->yard, &options, page->flags_arena, &page->review, why);
}

static enum status find(struct search_page *page, struct context *context, struct fault *why)
{
	struct search_hit *hits = NULL;
	int32_t count = 0;
	const char *text = page->found + strspn(page->found, " ");
	arena_reset(context->arena);
	page->list = (struct list){
		.rows = arena_array(context->arena, HITS_MAX + 1, sizeof(struct list_row))};
	if (text[0] == '\0')
		return STATUS_OK;
	enum status status = STATUS_OK;
	if (page->flags) {
		status = read_review(page, context, why);
		if (status == STATUS_OK)
			add_flags(page, text, context->arena);
		return status;
	}
	status = store_search(
		context->session->store, text, HITS_MAX, context->arena, &hits, &count, why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		add_hit(page, &hits[i], context->arena);
	return status;
}

static void search_settle(void *screen, struct context *context)
{
	struct search_page *page = screen;
	struct fault why;
	if (!page->is_read || strcmp(page->found, page->text.text) != 0) {
		(void)text_copy(page->found, sizeof page->found, page->text.text);
		page->is_read = true;
		if (find(page, context, &why) != STATUS_OK)
			page->list.count = 0;
	}
	list_clamp(&page->list, HEAD_CELLS, context->rows - HEAD_ROWS, context->columns);
}

/* --- showing --- */

static void search_draw(const void *screen, struct paper *paper)
{
	const struct search_page *page = screen;
	int column = paper_put(paper, 0, 2, 0, STYLE_PLAIN, "look in");
	column = paper_put(paper, 0, column + 1, 0, page->flags ? STYLE_FAINT : STYLE_STRONG,
		page->flags ? " all written " : "[all written]");
	column = paper_put(paper, 0, column + 1, 0, page->flags ? STYLE_STRONG : STYLE_FAINT,
		page->flags ? "[flags]" : " flags ");
	column = 1 + paper_put(paper, 0, column + 1, 0, STYLE_PLAIN, "for:");
	if (page->found[0] == '\0')
		(void)paper_wrap(paper, HEAD_ROWS, 2, 0, 4, STYLE_FAINT,
			"Words of any entry, note, name or flag: aphid; cut A3 is found as A3 cut. "
			"A label first asks of that tree alone; a verb finds all verbs of its "
			"kind.");
	else if (page->list.count == 0)
		(void)paper_put(paper, HEAD_ROWS, 2, 0, STYLE_PLAIN,
			page->flags ? "no flag speaks of this" : "nothing written holds this");
	list_draw(&page->list, paper, HEAD_ROWS, paper_rows(paper), HEAD_CELLS);
	field_draw(paper, 0, column, 0, &page->text, true);
}

/* --- acting --- */

static const char *search_typed(const void *screen)
{
	const struct search_page *page = screen;
	return page->text.text;
}

static void search_type(
	void *screen, struct context *context, const struct input *input, struct effect *out)
{
	struct search_page *page = screen;
	(void)context;
	(void)field_take(&page->text, input, out);
}

static void search_act(
	void *screen, struct context *context, enum action action, struct effect *out)
{
	struct search_page *page = screen;
	const struct list_row *row = list_selected(&page->list);
	if (action == ACTION_NEXT_PART) {
		page->flags = !page->flags;
		page->is_read = false;
	} else if (action == ACTION_OPEN && row != NULL && row->id[0] != '\0')
		effect_push(out, "tree", row->id);
	else if (action == ACTION_OPEN)
		effect_say(out, row == NULL ? "type what to look for" : "it is about no one tree");
	else if (!list_act(&page->list, action, context->rows - HEAD_ROWS))
		effect_usual(out);
}

static const struct key_row keys[] = {
	{KEYS_ENTER, ACTION_OPEN, false},
	{KEYS_TAB, ACTION_NEXT_PART, false},
	{KEYS_ESCAPE, ACTION_BACK, false},
	{0, ACTION_NONE, false},
};

const struct screen screen_search = {
	.name = "search",
	.title = "Search",
	.purpose = "all that is written, while you type: entries, notes, names, flags",
	.state_size = sizeof(struct search_page),
	.takes_text = true,
	.least_rows = 12,
	.least_columns = 50,
	.open = search_open,
	.reread = search_reread,
	.draw = search_draw,
	.act = search_act,
	.type = search_type,
	.typed = search_typed,
	.close = search_close,
	.keys = keys,
	.settle = search_settle,
};
