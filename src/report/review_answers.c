/* SPDX-License-Identifier: MIT */
/* The grower's answers, found by the flag's key. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "review_inner.h"

/* answer.times holds the place in which it was listed while they are sorted. */
static int compare_answers(const void *left, const void *right)
{
	const struct answer *a = left;
	const struct answer *b = right;
	int keys = strcmp(a->flag_key, b->flag_key);
	if (keys != 0)
		return keys;
	return a->times < b->times ? -1 : a->times > b->times;
}

enum status answers_load(
	struct yard *yard, struct arena *arena, struct answers *out, struct fault *why)
{
	*out = (struct answers){.today = yard_today(yard)};
	enum status status =
		store_answer_list(yard_store(yard), arena, &out->items, &out->count, why);
	if (status != STATUS_OK)
		return status;
	for (int32_t i = 0; i < out->count; i++)
		out->items[i].times = i;
	if (out->count > 1)
		qsort(out->items, (size_t)out->count, sizeof *out->items, compare_answers);
	return STATUS_OK;
}

/* The first answer of a key; count when there is none. */
static int32_t find_first(const struct answers *answers, const char *key)
{
	int32_t low = 0;
	int32_t high = answers->count;
	while (low < high) {
		int32_t middle = low + (high - low) / 2;
		if (strcmp(answers->items[middle].flag_key, key) < 0)
			low = middle + 1;
		else
			high = middle;
	}
	if (low < answers->count && strcmp(answers->items[low].flag_key, key) == 0)
		return low;
	return answers->count;
}

static bool is_off(const struct answers *answers, const char *key)
{
	for (int32_t i = find_first(answers, key);
		i < answers->count && strcmp(answers->items[i].flag_key, key) == 0; i++)
		if (answers->items[i].kind == ANSWER_ALWAYS)
			return true;
	return false;
}

static void judge_key(const struct answers *answers, const char *key, struct judged *judged)
{
	const struct answer *last = NULL;
	for (int32_t i = find_first(answers, key);
		i < answers->count && strcmp(answers->items[i].flag_key, key) == 0; i++) {
		if (answers->items[i].kind == ANSWER_PUT_OFF)
			judged->times_put_off++;
		last = &answers->items[i];
	}
	if (last == NULL)
		return;
	if (last->kind == ANSWER_SET_ASIDE) {
		judged->state = FLAG_SET_ASIDE;
		judged->reason = last->reason;
	} else if (last->kind == ANSWER_PUT_OFF && last->until.known &&
		   date_compare(answers->today, last->until.value) < 0) {
		judged->state = FLAG_PUT_OFF;
		judged->until = last->until;
	}
}

bool answers_has_own(const struct answers *answers, const struct flag *flag)
{
	struct judged judged = {.state = FLAG_OPEN};
	judge_key(answers, flag->key, &judged);
	return judged.state != FLAG_OPEN;
}

struct judged answers_judge(const struct answers *answers, const struct flag *flag)
{
	struct judged judged = {.state = FLAG_OPEN, .reason = ""};
	char key[FLAG_KEY_SIZE];
	if (answers->count == 0)
		return judged;
	snprintf(key, sizeof key, "%s|%s", flag->rule, flag->tree_id);
	bool off_here = flag->tree_id[0] != '\0' && is_off(answers, key);
	if (off_here || is_off(answers, flag->rule)) {
		judged.state = FLAG_SET_ASIDE;
		judged.reason = off_here ? "this rule is off for this tree" : "this rule is off";
		return judged;
	}
	judge_key(answers, flag->key, &judged);
	if (judged.state != FLAG_OPEN || flag->fact[0] == '\0')
		return judged;
	folds_key(flag, key);
	if (strcmp(key, flag->key) != 0)
		judge_key(answers, key, &judged);
	return judged;
}

void item_take(struct review_item *item, const struct judged *judged)
{
	item->state = judged->state;
	item->until = judged->until;
	item->times_put_off = judged->times_put_off;
	item->reason = judged->reason;
}
