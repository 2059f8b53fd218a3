/* SPDX-License-Identifier: MIT */
/* Answers to flags. They hang on the flag's key; undo takes them back like any act. */
#include <string.h>

#include "dossier/work_inner.h"

enum { PUT_OFF_DAYS_MAX = 365 };

static enum status add_answer(
	struct yard *yard, struct answer *answer, const char *what, struct fault *why)
{
	enum status status = work_begin(yard, what, why);
	if (status != STATUS_OK)
		return status;
	return work_end(yard, store_answer_add(yard_store(yard), answer, why), why);
}

static enum status check_key(const char *flag_key, struct fault *why)
{
	if (flag_key[0] == '\0' || strlen(flag_key) >= FLAG_KEY_SIZE)
		return fault_set(why, STATUS_RANGE, "there is no flag to answer");
	return STATUS_OK;
}

/* "flower-wood at A3" for the key "flower-wood|ID|2026|...": what undo and history show. */
static void say_key(struct yard *yard, const char *flag_key, struct text_builder *out)
{
	char id[ID_SIZE];
	struct tree tree;
	size_t length = strcspn(flag_key, "|");
	text_add_n(out, flag_key, length);
	const char *subject = flag_key[length] == '|' ? flag_key + length + 1 : "";
	if (text_copy_n(id, sizeof id, subject, strcspn(subject, "|")) && id[0] != '\0' &&
		store_tree_load(yard_store(yard), id, &tree, NULL) == STATUS_OK)
		text_add_format(out, " at %s", tree.label);
}

static void say_keys(
	struct yard *yard, const char *const *flag_keys, int32_t count, struct text_builder *out)
{
	say_key(yard, flag_keys[0], out);
	if (count > 1)
		text_add_format(out, " and at %d more", count - 1);
}

/* The same answer to each key, in one act. */
static enum status answer_all(struct yard *yard, const char *const *flag_keys, int32_t count,
	const struct answer *answer, const char *what, struct fault *why)
{
	enum status status = STATUS_OK;
	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		status = check_key(flag_keys[i], why);
	if (status == STATUS_OK)
		status = work_begin(yard, what, why);
	if (status != STATUS_OK)
		return status;
	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		struct answer one = *answer;
		text_copy(one.flag_key, sizeof one.flag_key, flag_keys[i]);
		status = store_answer_add(yard_store(yard), &one, why);
	}
	return work_end(yard, status, why);
}

enum status work_put_off_all(struct yard *yard, const char *const *flag_keys, int32_t count,
	struct date until, struct fault *why)
{
	struct answer answer = {.kind = ANSWER_PUT_OFF, .until = known_date(until)};
	char day[DATE_SIZE];
	char what[TEXT_SIZE];
	int32_t days = date_days_between(yard_today(yard), until);
	if (days < 1 || days > PUT_OFF_DAYS_MAX)
		return fault_set(why, STATUS_RANGE,
			"%s is no day to put it off to: from tomorrow up to a year from today",
			date_format(until, day));
	struct text_builder text = text_builder_fixed(what, sizeof what);
	text_add_format(&text, "put off until %s: ", date_format(until, day));
	say_keys(yard, flag_keys, count, &text);
	return answer_all(yard, flag_keys, count, &answer, what, why);
}

enum status work_put_off(
	struct yard *yard, const char *flag_key, struct date until, struct fault *why)
{
	return work_put_off_all(yard, &flag_key, 1, until, why);
}

enum status work_set_aside_all(struct yard *yard, const char *const *flag_keys, int32_t count,
	const char *reason, struct fault *why)
{
	struct answer answer = {.kind = ANSWER_SET_ASIDE};
	char what[TEXT_SIZE];
	size_t length;
	const char *trimmed = text_trim(reason, &length);
	if (length == 0)
		return fault_set(why, STATUS_SYNTAX,
			"setting a flag aside wants a reason: it stands beside the flag later");
	if (!text_copy_n(answer.reason, sizeof answer.reason, trimmed, length))
		return fault_set(
			why, STATUS_RANGE, "the reason is longer than %d bytes", TEXT_SIZE - 1);
	struct text_builder text = text_builder_fixed(what, sizeof what);
	text_add(&text, "set aside: ");
	say_keys(yard, flag_keys, count, &text);
	return answer_all(yard, flag_keys, count, &answer, what, why);
}

enum status work_set_aside(
	struct yard *yard, const char *flag_key, const char *reason, struct fault *why)
{
	return work_set_aside_all(yard, &flag_key, 1, reason, why);
}

/* "rule", or "rule|tree id". */
static enum status always_key(
	const char *rule, const char *tree_id, char out[FLAG_KEY_SIZE], struct fault *why)
{
	struct text_builder key = text_builder_fixed(out, FLAG_KEY_SIZE);
	text_add(&key, rule);
	if (tree_id[0] != '\0')
		text_add_format(&key, "|%s", tree_id);
	return check_key(key.cut ? "" : out, why);
}

/* The standing `always` answer of that key; STATUS_ABSENT when there is none. */
static enum status find_always(
	struct yard *yard, const char *key, char id[ID_SIZE], struct fault *why)
{
	struct arena *arena = arena_new();
	struct answer *answers;
	int32_t count;
	enum status status = store_answer_list(yard_store(yard), arena, &answers, &count, why);
	bool found = false;
	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		if (answers[i].kind != ANSWER_ALWAYS || strcmp(answers[i].flag_key, key) != 0)
			continue;
		memcpy(id, answers[i].id, ID_SIZE);
		found = true;
	}
	arena_free(arena);
	return status == STATUS_OK && !found ? STATUS_ABSENT : status;
}

static enum status strike_answers(
	struct yard *yard, const char *flag_key, struct arena *arena, struct fault *why)
{
	struct answer *answers = NULL;
	int32_t count = 0;
	bool any = false;
	enum status status = store_answer_list(yard_store(yard), arena, &answers, &count, why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		if (strcmp(answers[i].flag_key, flag_key) != 0)
			continue;
		any = true;
		status = store_row_strike(yard_store(yard), "answer", answers[i].id, why);
	}
	if (status == STATUS_OK && !any)
		return fault_set(why, STATUS_ABSENT, "that flag has no answer");
	return status;
}

enum status work_ask_again(struct yard *yard, const char *flag_key, struct fault *why)
{
	char what[TEXT_SIZE];
	struct text_builder text = text_builder_fixed(what, sizeof what);
	text_add(&text, "asked again: ");
	say_key(yard, flag_key, &text);
	enum status status = work_begin(yard, what, why);
	if (status != STATUS_OK)
		return status;
	struct arena *arena = arena_new();
	status = strike_answers(yard, flag_key, arena, why);
	arena_free(arena);
	return work_end(yard, status, why);
}

enum status work_rule_off(
	struct yard *yard, const char *rule, const char *tree_id, struct fault *why)
{
	struct answer answer = {.kind = ANSWER_ALWAYS};
	char id[ID_SIZE];
	char what[TEXT_SIZE];
	enum status status = always_key(rule, tree_id, answer.flag_key, why);
	if (status == STATUS_OK)
		status = find_always(yard, answer.flag_key, id, why);
	if (status != STATUS_ABSENT)
		return status; /* off already: nothing to do */
	struct text_builder text = text_builder_fixed(what, sizeof what);
	text_add_format(&text, "rule %s off", rule);
	return add_answer(yard, &answer, what, why);
}

enum status work_rule_on(
	struct yard *yard, const char *rule, const char *tree_id, struct fault *why)
{
	char key[FLAG_KEY_SIZE];
	char id[ID_SIZE];
	char what[TEXT_SIZE];
	enum status status = always_key(rule, tree_id, key, why);
	if (status == STATUS_OK)
		status = find_always(yard, key, id, why);
	if (status == STATUS_ABSENT)
		return fault_set(why, status, "the rule %s is not off there", rule);
	if (status != STATUS_OK)
		return status;
	struct text_builder text = text_builder_fixed(what, sizeof what);
	text_add_format(&text, "rule %s on", rule);
	status = work_begin(yard, what, why);
	if (status != STATUS_OK)
		return status;
	return work_end(yard, store_row_strike(yard_store(yard), "answer", id, why), why);
}
