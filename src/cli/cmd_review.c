/* SPDX-License-Identifier: MIT */
/* review, put-off, set-aside, rules, rule */
#include <string.h>

#include "acts.h"
#include "core/text.h"

enum status cmd_review(struct call *call, int *exit_status, struct fault *why)
{
	struct review_options options = {.all = call_has(call, "all")};
	const char *label = call_option(call, "tree");
	struct review review = {0};
	struct tree tree;
	(void)exit_status;
	enum status status = call_want(call, 0, 0, why);

	if (status == STATUS_OK && label != NULL) {
		status = call_tree(call, label, &tree, why);
		options.tree_id = tree.id;
	}
	if (call->printer.format == FORMAT_TEXT && label == NULL && !options.all)
		options.notes_enough = REVIEW_NOTES_SHOWN + 1;
	if (status == STATUS_OK)
		status = review_make(call->session->yard, &options, call->arena, &review, why);
	if (status == STATUS_OK)
		status = print_review(&call->printer, &review, call->session->yard,
			options.all || label != NULL, why);
	return status;
}

/* The flag of this rule at this tree: the worst open one, else one that was answered already. */
static const struct flag *pick_flag(const struct review *review, const char *rule)
{
	const struct flag *answered = NULL;

	for (int32_t i = 0; i < review->count; i++) {
		const struct review_item *item = &review->items[i];

		if (strcmp(item->flag.rule, rule) != 0)
			continue;
		if (item->state == FLAG_OPEN)
			return &item->flag;
		if (answered == NULL && item->state != FLAG_LEFT)
			answered = &item->flag;
	}
	return answered;
}

static enum status find_flag(
	struct call *call, char key[FLAG_KEY_SIZE], struct flag *out, struct fault *why)
{
	struct review review = {0};
	struct tree tree;
	enum status status = call_tree(call, call->words[0], &tree, why);

	if (status != STATUS_OK)
		return status;
	if (rule_find(call->words[1]) == NULL)
		return fault_set(why, STATUS_ABSENT, "no rule '%s'; 'boughbook rules' lists them",
			call->words[1]);
	struct review_options options = {.tree_id = tree.id, .all = true};
	status = review_make(call->session->yard, &options, call->arena, &review, why);
	if (status != STATUS_OK)
		return status;
	const struct flag *flag = pick_flag(&review, call->words[1]);
	if (flag == NULL)
		return fault_set(why, STATUS_ABSENT, "%s has no open flag of %s", tree.label,
			call->words[1]);
	text_copy(key, FLAG_KEY_SIZE, flag->key);
	*out = *flag;
	return STATUS_OK;
}

enum status cmd_put_off(struct call *call, int *exit_status, struct fault *why)
{
	enum { DEFAULT_DAYS = 14 };
	char key[FLAG_KEY_SIZE], when[24], says[120] = "";
	struct flag flag;
	struct date today = yard_today(call->session->yard);
	struct date until = date_add_days(today, DEFAULT_DAYS);
	(void)exit_status;
	enum status status = call_want(call, 2, WORDS_MAX, why);

	if (status == STATUS_OK && call->word_count > 2) {
		struct line_context context = session_line_context(call->session);
		struct date_span span;

		status = day_read(call_line(call, 2), &context, true, &span, why);
		if (status == STATUS_OK)
			until = date_span_first(&span).value;
	}
	if (status == STATUS_OK)
		status = find_flag(call, key, &flag, why);
	if (status == STATUS_OK)
		status = work_put_off(call->session->yard, key, until, why);
	if (status != STATUS_OK)
		return status;
	call_say(call, "%s, %s: put off until %s", flag.label, flag.rule,
		date_format_plain(until, when, sizeof when));
	const char *closes =
		review_put_off_says(&(struct review_item){.flag = flag}, until, says, sizeof says);
	if (closes[0] != '\0')
		call_say(call, "  %s", closes);
	return STATUS_OK;
}

enum status cmd_set_aside(struct call *call, int *exit_status, struct fault *why)
{
	char key[FLAG_KEY_SIZE];
	struct flag flag;
	(void)exit_status;
	enum status status = call_want(call, 3, WORDS_MAX, why);

	if (status == STATUS_OK)
		status = find_flag(call, key, &flag, why);
	if (status == STATUS_OK)
		status = work_set_aside(call->session->yard, key, call_line(call, 2), why);
	if (status == STATUS_OK)
		call_say(call, "%s, %s: set aside for this season: %s", flag.label, flag.rule,
			call_line(call, 2));
	return status;
}

enum status cmd_rules(struct call *call, int *exit_status, struct fault *why)
{
	(void)exit_status;
	enum status status = call_want(call, 0, 0, why);

	return status == STATUS_OK ? print_rules(&call->printer, why) : status;
}

enum status cmd_rule(struct call *call, int *exit_status, struct fault *why)
{
	struct tree tree = {0};
	bool off = call_word_is(call, 0, "off");
	(void)exit_status;
	enum status status = call_want(call, 2, WORDS_MAX, why);

	if (status != STATUS_OK || (!off && !call_word_is(call, 0, "on")))
		return call_usage(call, why);
	if (rule_find(call->words[1]) == NULL)
		return fault_set(why, STATUS_ABSENT, "no rule '%s'; 'boughbook rules' lists them",
			call->words[1]);
	if (call->word_count > 2)
		status = call_tree(call, call_line(call, 2), &tree, why);
	if (status == STATUS_OK)
		status = off ? work_rule_off(call->session->yard, call->words[1], tree.id, why)
			     : work_rule_on(call->session->yard, call->words[1], tree.id, why);
	if (status == STATUS_OK)
		call_say(call, "rule %s is %s for %s", call->words[1], off ? "off" : "on",
			tree.label[0] != '\0' ? tree.label : "the whole yard");
	return status;
}
