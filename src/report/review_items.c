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
	int order = flag_compare(&a->flag, &b->flag);
	return order != 0 ? order : strcmp(a->flag.tree_id, b->flag.tree_id);
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

static int compare_labels(const struct flag *a, const struct flag *b)
{
	int labels = text_compare_natural(a->label, b->label);
	return labels != 0 ? labels : strcmp(a->tree_id, b->tree_id);
}

/* Trees come in any order: the first labels of all are kept, in order. */
static void list_label(struct fold *fold, struct arena *arena, const char *label)
{
	int32_t at = fold->listed;
	while (at > 0 && text_compare_natural(label, fold->labels[at - 1]) < 0)
		at--;
	if (at == FOLD_LABELS_MOST)
		return;
	if (fold->listed < FOLD_LABELS_MOST)
		fold->listed++;
	memmove(&fold->labels[at + 1], &fold->labels[at],
		(size_t)(fold->listed - at - 1) * sizeof fold->labels[0]);
	fold->labels[at] = arena_text(arena, label);
}

static size_t place_of(const struct folds *folds, const struct flag *flag)
{
	uint64_t mix = 1469598103934665603U; /* FNV-1a */
	for (const char *at = flag->rule; *at != '\0'; at++)
		mix = (mix ^ (unsigned char)*at) * 1099511628211U;
	for (const char *at = flag->fact; *at != '\0'; at++)
		mix = (mix ^ (unsigned char)*at) * 1099511628211U;
	size_t place = mix % folds->room;
	while (folds->table[place] != NULL &&
		(strcmp(folds->table[place]->first.fact, flag->fact) != 0 ||
			strcmp(folds->table[place]->first.rule, flag->rule) != 0))
		place = (place + 1) % folds->room;
	return place;
}

static struct fold *find_fold(const struct folds *folds, const struct flag *flag)
{
	return folds->room == 0 ? NULL : folds->table[place_of(folds, flag)];
}

/* Facts may be one to an entry: there is no end to their number. */
static void make_room(struct folds *folds)
{
	const struct folds before = *folds;
	if (2 * (folds->count + 1) <= folds->room)
		return;
	folds->room = 2 * before.room + 31;
	folds->table = arena_array(folds->arena, folds->room, sizeof(struct fold *));
	for (size_t i = 0; i < before.room; i++)
		if (before.table[i] != NULL)
			folds->table[place_of(folds, &before.table[i]->first)] = before.table[i];
}

bool folds_want(const struct folds *folds, const struct flag *head)
{
	const struct fold *fold = find_fold(folds, head);
	return fold == NULL || compare_labels(head, &fold->first) < 0;
}

/* The tree's own arena goes. */
static void take_first(struct folds *folds, struct fold *fold, const struct flag *flag)
{
	fold->first = *flag;
	fold->first.source = arena_text(folds->arena, flag->source);
	for (int32_t i = 0; i < flag->evidence_count; i++)
		fold->first.evidence[i] = arena_text(folds->arena, flag->evidence[i]);
}

void folds_add(struct folds *folds, const struct flag *flag)
{
	struct fold *fold = find_fold(folds, flag);
	if (fold == NULL) {
		make_room(folds);
		fold = arena_alloc(folds->arena, sizeof *fold);
		folds->table[place_of(folds, flag)] = fold;
		folds->count++;
	}
	if (fold->trees == 0 || compare_labels(flag, &fold->first) < 0)
		take_first(folds, fold, flag);
	fold->trees++;
	list_label(fold, folds->arena, flag->label);
}

/* Those of most trees first; of as many, that of the first label: in which order trees came is all
 * the same. */
static int compare_folds(const void *left, const void *right)
{
	const struct fold *a = *(const struct fold *const *)left;
	const struct fold *b = *(const struct fold *const *)right;
	if (a->trees != b->trees)
		return a->trees > b->trees ? -1 : 1;
	int order = compare_labels(&a->first, &b->first);
	if (order == 0)
		order = strcmp(a->first.rule, b->first.rule);
	return order != 0 ? order : strcmp(a->first.fact, b->first.fact);
}

/* "girth not known"; what is a sentence about one tree becomes what its rule is about. */
static const char *folded_words(const struct flag *flag)
{
	size_t length = strlen(flag->says);
	const struct rule *rule = rule_find(flag->rule);
	bool is_sentence = length > 0 && strchr(".!?", flag->says[length - 1]) != NULL;
	return is_sentence && rule != NULL ? rule->title : flag->says;
}

/* "A1, A2 and 14 more": those that fit. */
static const char *say_labels(struct arena *arena, const struct fold *fold)
{
	char labels[FOLD_LABELS_SIZE] = "";
	size_t length = 0;
	int32_t said = 0;
	for (; said < fold->listed; said++) {
		const char *label = fold->labels[said];
		size_t wanted = length + strlen(label) + sizeof ", " + sizeof " and 50000 more";
		if (wanted >= sizeof labels)
			break;
		snprintf(labels + length, sizeof labels - length, "%s%s", said > 0 ? ", " : "",
			label);
		length = strlen(labels);
	}
	if (fold->trees > said)
		snprintf(labels + length, sizeof labels - length, " and %d more",
			fold->trees - said);
	return arena_text(arena, labels);
}

static void say_fold(const struct folds *folds, const struct fold *fold, struct review_item *item)
{
	item->flag.tree_id[0] = '\0';
	item->flag.label[0] = '\0';
	item->flag.fills[0] = '\0';
	struct text_builder says = text_builder_fixed(item->flag.says, sizeof item->flag.says);
	text_add_format(&says, "%s: %d trees", folded_words(&fold->first), item->trees);
	item->flag.evidence[0] = say_labels(folds->arena, fold);
	item->flag.evidence_count = 1;
}

static bool is_missing_fact(const struct flag *flag)
{
	return strcmp(flag->rule, "facts-missing") == 0;
}

static struct fold **sort_folds(const struct folds *folds)
{
	struct fold **sorted = arena_array(folds->arena, folds->count + 1, sizeof(struct fold *));
	size_t put = 0;
	for (size_t i = 0; i < folds->room; i++)
		if (folds->table[i] != NULL)
			sorted[put++] = folds->table[i];
	if (put > 1)
		qsort(sorted, put, sizeof(struct fold *), compare_folds);
	return sorted;
}

struct review_item *folds_lines(const struct folds *folds, int32_t *count)
{
	struct fold **sorted = sort_folds(folds);
	struct review_item *out =
		arena_array(folds->arena, folds->count + 1, sizeof(struct review_item));
	int32_t missing = 0;
	*count = 0;
	for (size_t i = 0; i < folds->count; i++) {
		const struct fold *fold = sorted[i];
		if (is_missing_fact(&fold->first) && missing++ >= MISSING_LINES_MAX)
			continue;
		struct review_item *item = &out[(*count)++];
		*item = (struct review_item){.flag = fold->first, .trees = fold->trees};
		folds_key(&fold->first, item->flag.key);
		if (item->trees > 1) /* else still one tree's own line */
			say_fold(folds, fold, item);
	}
	return out;
}
