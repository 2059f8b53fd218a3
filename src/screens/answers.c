/* SPDX-License-Identifier: MIT */
/* What was answered: flags put off or set aside, trees left alone, rules switched off. Each can be
 * taken back, and is asked about again. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "list.h"
#include "rules/rule.h"

enum { HEAD_CELLS = 21, HEAD_ROWS = 1 };

struct answers_page {
	struct list list; /* ids: keys of flags; of a rule that is off "rule" or "rule|tree" */
	int32_t off;      /* how many of them, the last ones, are rules */
};

/* --- reading --- */

static const char *head_of(const struct review_item *item, struct arena *arena)
{
	char day[40];
	if (item->state == FLAG_PUT_OFF && item->until.known)
		return arena_format(
			arena, "to %s", date_format_plain(item->until.value, day, sizeof day));
	return item->state == FLAG_SET_ASIDE ? "set aside" : "left alone";
}

static const char *more_of(const struct review_item *item, struct arena *arena)
{
	struct text_builder more = text_builder_in(arena);
	text_add(&more, "");
	if (item->reason != NULL && item->reason[0] != '\0')
		text_add_format(&more, "because: %s\n", item->reason);
	if (item->times_put_off > 1)
		text_add_format(&more, "put off %d times\n", (int)item->times_put_off);
	text_add_format(&more, "%s: %s\n", item->flag.rule, urgency_key(item->flag.urgency));
	if (item->state == FLAG_LEFT)
		text_add(&more, "what leaves it stands in its log; strike that entry to end it\n");
	return more.text;
}

static void add_item(struct answers_page *page, const struct review_item *item, struct arena *arena)
{
	char text[TEXT_SIZE];
	const struct review_item one = {.flag = item->flag, .group = 1, .trees = item->trees};
	page->list.rows[page->list.count++] =
		(struct list_row){.id = arena_text(arena, item->flag.key),
			.head = head_of(item, arena),
			.text = arena_format(arena, "%s%s%s", item->flag.label,
				item->flag.label[0] != '\0' ? ": " : "",
				review_words(&one, item->flag.says, text, sizeof text)),
			.more = more_of(item, arena),
			.tree_id = item->flag.tree_id};
}

static void add_rule(
	struct answers_page *page, struct context *context, const struct answer *answer)
{
	struct arena *arena = context->arena;
	char id[KEY_SIZE];
	struct tree tree = {.id = ""};
	const size_t length = strcspn(answer->flag_key, "|");
	(void)text_copy_n(id, sizeof id, answer->flag_key, length);
	const struct rule *rule = rule_find(id);
	if (answer->flag_key[length] == '|' &&
		store_tree_load(context->session->store, answer->flag_key + length + 1, &tree,
			NULL) != STATUS_OK)
		return;
	page->list.rows[page->list.count++] = (struct list_row){.id = answer->flag_key,
		.head = "rule off",
		.text = arena_format(arena, "%s: %s, %s", id,
			rule != NULL ? rule->title : "a rule of another version",
			tree.label[0] != '\0' ? tree.label : "all of the yard"),
		.more = rule != NULL ? rule->reason : NULL,
		.tree_id = arena_text(arena, tree.id)};
	page->off++;
}

static enum status read_answers(
	struct answers_page *page, struct context *context, struct fault *why)
{
	const struct review_options options = {.all = true};
	struct session *session = context->session;
	struct review review;
	struct answer *answers = NULL;
	int32_t count = 0;
	arena_reset(context->arena);
	page->list.count = page->off = 0;
	enum status status = review_make(session->yard, &options, context->arena, &review, why);
	if (status == STATUS_OK)
		status = store_answer_list(session->store, context->arena, &answers, &count, why);
	if (status != STATUS_OK)
		return status;
	page->list.rows = arena_array(
		context->arena, (size_t)(review.count + count) + 1, sizeof page->list.rows[0]);
	for (int32_t i = 0; i < review.count; i++)
		if (review.items[i].state != FLAG_OPEN)
			add_item(page, &review.items[i], context->arena);
	for (int32_t i = 0; i < count; i++)
		if (answers[i].kind == ANSWER_ALWAYS)
			add_rule(page, context, &answers[i]);
	return STATUS_OK;
}

static enum status answers_open(
	void *screen, struct context *context, const char *argument, struct fault *why)
{
	(void)argument;
	return read_answers(screen, context, why);
}

static enum status answers_reread(void *screen, struct context *context, struct fault *why)
{
	struct answers_page *page = screen;
	char id[LIST_ID_SIZE];
	list_keep(&page->list, id);
	enum status status = read_answers(page, context, why);
	if (status == STATUS_OK)
		list_go(&page->list, id);
	return status;
}

static void answers_settle(void *screen, struct context *context)
{
	struct answers_page *page = screen;
	list_clamp(&page->list, HEAD_CELLS, context->rows - HEAD_ROWS, context->columns);
}

/* --- showing --- */

static void answers_draw(const void *screen, struct paper *paper)
{
	const struct answers_page *page = screen;
	if (page->list.count == 0) {
		(void)paper_wrap(paper, 0, 2, 0, 3, STYLE_PLAIN,
			"Nothing is put off, set aside or switched off: the review shows all that "
			"the rules say.");
		paper_cursor(paper, 0, 0);
		return;
	}
	(void)paper_put(paper, 0, 2, 0, STYLE_PLAIN,
		"What the review keeps quiet about, by your own answers");
	list_draw(&page->list, paper, HEAD_ROWS, paper_rows(paper), HEAD_CELLS);
}

/* --- acting --- */

static enum status ask_again(
	const struct answers_page *page, struct context *context, struct fault *why)
{
	const struct list_row *row = list_selected(&page->list);
	struct yard *yard = context->session->yard;
	char rule[KEY_SIZE];
	const size_t length = strcspn(row->id, "|");
	if (page->list.selected < page->list.count - page->off)
		return work_ask_again(yard, row->id, why);
	(void)text_copy_n(rule, sizeof rule, row->id, length);
	return work_rule_on(yard, rule, row->id[length] == '|' ? row->id + length + 1 : "", why);
}

static void answers_act(
	void *screen, struct context *context, enum action action, struct effect *out)
{
	struct answers_page *page = screen;
	const struct list_row *row = list_selected(&page->list);
	struct fault why;
	if (action == ACTION_OPEN && row != NULL && row->tree_id[0] != '\0') {
		effect_push(out, "tree", row->tree_id);
	} else if (action == ACTION_TAKE_BACK && row != NULL) {
		if (ask_again(page, context, &why) != STATUS_OK) {
			effect_say(out, "%s", why.text);
			return;
		}
		out->wrote = true;
		effect_say(out, "the review speaks of it again (u undoes that)");
	} else if (action != ACTION_TAKE_BACK &&
		   !list_act(&page->list, action, context->rows - HEAD_ROWS)) {
		effect_usual(out);
	}
}

static const struct key_row keys[] = {
	{'x', ACTION_TAKE_BACK, false},
	{KEYS_ENTER, ACTION_OPEN, false},
	{KEYS_ESCAPE, ACTION_BACK, false},
	{0, ACTION_NONE, false},
};

const struct screen screen_answers = {
	.name = "answers",
	.title = "Answered",
	.purpose = "what was put off, set aside or switched off, until when and why",
	.state_size = sizeof(struct answers_page),
	.least_rows = 12,
	.least_columns = 50,
	.open = answers_open,
	.reread = answers_reread,
	.draw = answers_draw,
	.act = answers_act,
	.keys = keys,
	.settle = answers_settle,
};
