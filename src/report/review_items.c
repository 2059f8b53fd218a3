/* SPDX-License-Identifier: MIT */
/* Lists of review items, and questions of one kind folded into one line. */
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

struct review_item *item_list_add(struct item_list *list, const struct review_item *item)
{
	if (list->count == list->capacity) {
		int32_t capacity = list->capacity == 0 ? 16 : list->capacity * 2;
		size_t size = sizeof *list->items;
		list->items = arena_grow(list->arena, list->items, (size_t)list->count * size,
			(size_t)capacity * size);
		list->capacity = capacity;
	}
	struct review_item *added = &list->items[list->count++];
	*added = *item;
	added->reason = arena_text(list->arena, item->reason);
	added->flag.source = arena_text(list->arena, item->flag.source);
	for (int32_t i = 0; i < added->flag.evidence_count; i++)
		added->flag.evidence[i] = arena_text(list->arena, item->flag.evidence[i]);
	return added;
}

static int compare_items(const void *left, const void *right)
{
	const struct review_item *a = left;
	const struct review_item *b = right;
	return flag_compare(&a->flag, &b->flag);
}

void item_list_sort(struct item_list *list)
{
	if (list->count > 1)
		qsort(list->items, (size_t)list->count, sizeof *list->items, compare_items);
}

void folds_key(const struct flag *flag, char out[FLAG_KEY_SIZE])
{
	struct flag yard = {.rule = flag->rule};
	flag_key_set(&yard, 0, flag->fact);
	memcpy(out, yard.key, FLAG_KEY_SIZE);
}

void folds_add(struct folds *folds, const struct flag *flag)
{
	for (int32_t i = 0; i < folds->count; i++) {
		if (strcmp(folds->items[i].first.fact, flag->fact) != 0 ||
			strcmp(folds->items[i].first.rule, flag->rule) != 0)
			continue;
		folds->items[i].trees++;
		return;
	}
	if (folds->count == FOLDS_MAX)
		return;
	folds->items[folds->count].first = *flag;
	folds->items[folds->count].first.evidence_count = 0; /* of one tree; its arena goes */
	folds->items[folds->count++].trees = 1;
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

int32_t folds_lines(const struct folds *folds, struct review_item out[FOLDED_LINES_MAX])
{
	bool taken[FOLDS_MAX] = {false};
	int32_t lines = 0;
	while (lines < FOLDED_LINES_MAX) {
		int32_t fold = next_fold(folds, taken);
		if (fold < 0)
			break;
		taken[fold] = true;
		struct review_item *item = &out[lines++];
		*item = (struct review_item){
			.flag = folds->items[fold].first,
			.trees = folds->items[fold].trees,
		};
		folds_key(&folds->items[fold].first, item->flag.key);
		if (item->trees == 1)
			continue; /* still one tree's own line */
		item->flag.tree_id[0] = '\0';
		item->flag.label[0] = '\0';
		item->flag.fills[0] = '\0';
		struct text_builder says =
			text_builder_fixed(item->flag.says, sizeof item->flag.says);
		text_add_format(&says, "%s: %d trees", folds->items[fold].first.says, item->trees);
	}
	return lines;
}
