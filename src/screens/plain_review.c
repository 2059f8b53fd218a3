/* SPDX-License-Identifier: MIT */
/* Line mode: the review, item by item. */
#include <string.h>

#include "core/text.h"
#include "plain_inner.h"
#include "report/rows.h"
#include "review.h"

/* --- one item --- */

static void say_item(struct plain *plain, const struct review_item *item)
{
	const struct flag *flag = &item->flag;
	const char *title = source_title(plain->session->almanac, flag->source);
	plain_say(plain, "%s, %s: %s", urgency_key(flag->urgency),
		flag->label[0] != '\0' ? flag->label : "the yard", flag->says);
	if (flag->action[0] != '\0')
		plain_say(plain, "Do: %s", flag->action);
	if (item->times_put_off > 0)
		plain_say(plain, "Put off %d times before this.", item->times_put_off);
	plain_say(plain, "By: %s%s%s", flag->basis, flag->basis[0] != '\0' ? "; " : "", title);
}

void plain_say_why(struct plain *plain, const struct flag *flag)
{
	const struct rule *rule = rule_find(flag->rule);
	for (int32_t i = 0; i < flag->evidence_count; i++)
		plain_say(plain, "From: %s", flag->evidence[i]);
	if (rule != NULL)
		plain_say(plain, "Why: %s", rule->reason);
}

static bool put_off(struct plain *plain, const struct review_item *item)
{
	char until[24], closes[120], said[TEXT_SIZE];
	struct fault why = {.status = STATUS_OK};
	struct date day = date_add_days(yard_today(plain->session->yard), REVIEW_PUT_OFF_DAYS);
	enum status status = work_put_off(plain->session->yard, item->flag.key, day, &why);
	review_put_off_says(item, day, closes, sizeof closes);
	(void)snprintf(said, sizeof said, "Put off until %s.%s%s",
		date_format_plain(day, until, sizeof until), closes[0] != '\0' ? " " : "", closes);
	return plain_done(plain, status, said, &why);
}

static bool set_aside(struct plain *plain, const struct review_item *item)
{
	struct fault why = {.status = STATUS_OK};
	if (!plain_ask(plain, "Why? Blank: leave it open."))
		return false;
	if (plain->line[0] == '\0')
		return false;
	enum status status =
		work_set_aside(plain->session->yard, item->flag.key, plain->line, &why);
	return plain_done(plain, status, "Set aside.", &why);
}

/* The line begins as the flag says; what is typed goes on from there, and a blank line logs it as
 * it stands. */
static bool done(struct plain *plain, const struct flag *flag)
{
	char line[LINE_SIZE];
	struct text_builder text = text_builder_fixed(line, sizeof line);
	if (flag->tree_id[0] == '\0') {
		plain_say(plain, "This is about several trees: log it at each of them.");
		return false;
	}
	text_add(&text, flag->fills);
	if (flag->fills[0] == '\0')
		text_add_format(&text, "%s ", flag->label);
	plain_say(plain, "The line begins as follows; go on from there. stop leaves it.");
	if (!plain_ask(plain, line) || plain_is(plain, "stop"))
		return false;
	if (plain->line[0] != '\0' && line[0] != '\0' && line[strlen(line) - 1] != ' ')
		text_add(&text, " ");
	text_add(&text, plain->line);
	return plain_log(plain, NULL, line);
}

/* --- one by one --- */

enum answer_step { ANSWER_AGAIN, ANSWER_NEXT, ANSWER_STOP };

static enum answer_step answer(struct plain *plain, const struct review_item *item)
{
	static const char asks[] =
		"d done, p put off, x set aside, w why, s stop, blank for the next>";
	bool settled = false;
	if (!plain_ask(plain, asks) || plain_is(plain, "s") || plain_is(plain, "stop"))
		return ANSWER_STOP;
	if (plain->line[0] == '\0')
		return ANSWER_NEXT;
	if (plain_is(plain, "d") || plain_is(plain, "done"))
		settled = done(plain, &item->flag);
	else if (plain_is(plain, "p") || plain_is(plain, "put off"))
		settled = put_off(plain, item);
	else if (plain_is(plain, "x") || plain_is(plain, "set aside"))
		settled = set_aside(plain, item);
	else if (plain_is(plain, "w") || plain_is(plain, "why"))
		plain_say_why(plain, &item->flag);
	else if (plain_is(plain, "u") || plain_is(plain, "undo"))
		plain_undo(plain, false);
	else
		plain_say(plain, "Say one of the letters.");
	return settled ? ANSWER_NEXT : ANSWER_AGAIN;
}

static enum answer_step go_through(struct plain *plain, const struct review *review, bool notes)
{
	for (int32_t i = 0; i < review->count; i++) {
		const struct review_item *item = &review->items[i];
		if ((item->flag.urgency == URGENCY_NOTE) != notes ||
			item->flag.urgency == URGENCY_LEAVE)
			continue;
		say_item(plain, item);
		enum answer_step step = ANSWER_AGAIN;
		while (step == ANSWER_AGAIN && !plain->ended)
			step = answer(plain, item);
		if (step == ANSWER_STOP || plain->ended)
			return ANSWER_STOP;
	}
	return ANSWER_NEXT;
}

void plain_review(struct plain *plain)
{
	struct arena *arena = arena_new();
	struct review review;
	struct review_options options = {.tree_id = NULL};
	struct fault why = {.status = STATUS_OK};
	if (review_make(plain->session->yard, &options, arena, &review, &why) != STATUS_OK) {
		plain_say(plain, "%s", why.text);
	} else if (review.count == 0) {
		plain_say(plain, "Nothing asks for you today.");
	} else {
		plain_say(plain, "%d ask for work, %d notes.", review.open, review.notes);
		enum answer_step step = go_through(plain, &review, false);
		if (step == ANSWER_NEXT && review.notes > 0 &&
			plain_ask(plain, "The notes too? y or blank>") && plain_is(plain, "y"))
			(void)go_through(plain, &review, true);
		if (!plain->ended)
			plain_say(plain, "That was the review.");
	}
	review_keep_held(plain->session);
	arena_free(arena);
}
