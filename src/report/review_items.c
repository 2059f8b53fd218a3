/* SPDX-License-Identifier: MIT */
/* Lists of review items, and questions of one kind folded into one line. What reads alike is
 * brought together in review_group.c. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "review_inner.h"

const char *flag_state_key(enum flag_state state)
{
	static const char *const keys[] = {
		[FLAG_OPEN] = "open",
		[FLAG_PUT_OFF] = "put-off",
		[FLAG_SET_ASIDE] = "set-aside",
		[FLAG_LEFT] = "left",
	};
	return keys[state];
}

void item_list_add(struct item_list *list, const struct review_item *item)
{
	if (list->count == list->capacity) {
		int32_t capacity = list->capacity + list->capacity / 2 + 16;
		size_t size = sizeof(struct review_item);
		list->items = arena_regrow(list->arena, list->items, (size_t)list->count * size,
			(size_t)capacity * size);
		list->capacity = capacity;
	}
	struct review_item *added = &list->items[list->count++];
	*added = *item;
	added->reason = arena_text(list->arena, item->reason);
	added->flag.source = arena_text(list->arena, item->flag.source);
	for (int32_t i = 0; i < added->flag.evidence_count; i++)
		added->flag.evidence[i] = arena_text(list->arena, item->flag.evidence[i]);
}

static int compare_items(const void *left, const void *right)
{
	const struct review_item *a = *(const struct review_item *const *)left;
	const struct review_item *b = *(const struct review_item *const *)right;
	return flag_compare(&a->flag, &b->flag);
}

/* Round by round: where one is lifted, the one that belongs there moves in, and so on. */
void item_list_order(struct item_list *list, int32_t *order)
{
	for (int32_t i = 0; i < list->count; i++) {
		if (order[i] == i)
			continue;
		struct review_item lifted = list->items[i];
		int32_t at = i;
		while (order[at] != i) {
			int32_t from = order[at];
			list->items[at] = list->items[from];
			order[at] = at;
			at = from;
		}
		list->items[at] = lifted;
		order[at] = at;
	}
}

void item_list_sort(struct item_list *list)
{
	struct arena *scratch = arena_new();
	size_t room = (size_t)list->count + 1;
	const struct review_item **sorted = arena_array(scratch, room, sizeof *sorted);
	int32_t *order = arena_array(scratch, room, sizeof *order);
	for (int32_t i = 0; i < list->count; i++)
		sorted[i] = &list->items[i];
	if (list->count > 1)
		qsort(sorted, (size_t)list->count, sizeof *sorted, compare_items);
	for (int32_t i = 0; i < list->count; i++)
		order[i] = (int32_t)(sorted[i] - list->items);
	item_list_order(list, order);
	arena_free(scratch);
}

/* --- questions of one kind --- */

void folds_key(const struct flag *flag, char out[FLAG_KEY_SIZE])
{
	struct flag yard = {.rule = flag->rule};
	flag_key_set(&yard, 0, flag->fact);
	memcpy(out, yard.key, FLAG_KEY_SIZE);
}

static void list_label(struct folds *folds, int32_t index, const char *label)
{
	char *labels = folds->items[index].labels;
	size_t length = strlen(labels);
	size_t wanted = length + strlen(label) + sizeof ", " + sizeof " and 50000 more";
	bool all_listed = folds->items[index].listed == folds->items[index].trees - 1;
	if (!all_listed || wanted >= FOLD_LABELS_SIZE)
		return;
	snprintf(labels + length, FOLD_LABELS_SIZE - length, "%s%s", length > 0 ? ", " : "", label);
	folds->items[index].listed++;
}

bool folds_add(struct folds *folds, const struct flag *flag)
{
	int32_t at = 0;
	while (at < folds->count && (strcmp(folds->items[at].first.fact, flag->fact) != 0 ||
					    strcmp(folds->items[at].first.rule, flag->rule) != 0))
		at++;
	if (at == FOLDS_MAX)
		return false;
	if (at == folds->count) {
		folds->count++;
		folds->items[at].first = *flag;
		folds->items[at].first.source = arena_text(folds->arena, flag->source);
		for (int32_t i = 0; i < flag->evidence_count; i++) /* the tree's own arena goes */
			folds->items[at].first.evidence[i] =
				arena_text(folds->arena, flag->evidence[i]);
	}
	folds->items[at].trees++;
	list_label(folds, at, flag->label);
	return true;
}

/* The fold with the most trees that is not taken yet; -1 when all are. */
static int32_t next_fold(const struct folds *folds, const bool *taken)
{
	int32_t best = -1;
	for (int32_t i = 0; i < folds->count; i++)
		if (!taken[i] && (best < 0 || folds->items[i].trees > folds->items[best].trees))
			best = i;
	return best;
}

/* "girth not known"; what is a sentence about one tree becomes what its rule is about. */
static const char *folded_words(const struct flag *flag)
{
	size_t length = strlen(flag->says);
	const struct rule *rule = rule_find(flag->rule);
	bool is_sentence = length > 0 && strchr(".!?", flag->says[length - 1]) != NULL;
	return is_sentence && rule != NULL ? rule->title : flag->says;
}

static void say_fold(struct folds *folds, int32_t index, struct review_item *item)
{
	const struct flag *first = &folds->items[index].first;
	char *labels = folds->items[index].labels;
	int32_t unlisted = folds->items[index].trees - folds->items[index].listed;
	size_t length = strlen(labels);
	item->flag.tree_id[0] = '\0';
	item->flag.label[0] = '\0';
	item->flag.fills[0] = '\0';
	struct text_builder says = text_builder_fixed(item->flag.says, sizeof item->flag.says);
	text_add_format(&says, "%s: %d trees", folded_words(first), item->trees);
	if (unlisted > 0)
		snprintf(labels + length, FOLD_LABELS_SIZE - length, " and %d more", unlisted);
	item->flag.evidence[0] = labels;
	item->flag.evidence_count = 1;
}

static bool is_missing_fact(const struct flag *flag)
{
	return strcmp(flag->rule, "facts-missing") == 0;
}

int32_t folds_lines(struct folds *folds, struct review_item out[FOLDS_MAX])
{
	bool taken[FOLDS_MAX] = {false};
	int32_t lines = 0;
	int32_t missing = 0;
	for (int32_t fold = next_fold(folds, taken); fold >= 0; fold = next_fold(folds, taken)) {
		const struct flag *first = &folds->items[fold].first;
		taken[fold] = true;
		if (is_missing_fact(first) && missing++ >= MISSING_LINES_MAX)
			continue;
		struct review_item *item = &out[lines++];
		*item = (struct review_item){.flag = *first, .trees = folds->items[fold].trees};
		folds_key(first, item->flag.key);
		if (item->trees > 1) /* else still one tree's own line */
			say_fold(folds, fold, item);
	}
	return lines;
}
