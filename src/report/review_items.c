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

/* --- items that read alike --- */

enum { GROUP_LEAST = 3 };

static bool same_day(struct maybe_date a, struct maybe_date b)
{
	return a.known == b.known && (!a.known || date_compare(a.value, b.value) == 0);
}

/* The same words, but that each names its own tree ("dose A1", "dose A2"). */
static bool same_words(const char *a, const char *a_label, const char *b, const char *b_label)
{
	size_t a_length = strlen(a_label);
	size_t b_length = strlen(b_label);
	while (*a != '\0' && *b != '\0') {
		if (strncmp(a, a_label, a_length) == 0 && strncmp(b, b_label, b_length) == 0) {
			a += a_length;
			b += b_length;
		} else if (*a++ != *b++) {
			return false;
		}
	}
	return *a == *b;
}

/* Items that read alike lie in one run of the sorted list. */
static bool same_run(const struct flag *a, const struct flag *b)
{
	return a->urgency == b->urgency && a->crop_at_risk_mg.known == b->crop_at_risk_mg.known &&
	       a->crop_at_risk_mg.value == b->crop_at_risk_mg.value &&
	       same_day(a->window_to, b->window_to);
}

/* The tree alone differs. */
static bool reads_alike(const struct review_item *a, const struct review_item *b)
{
	return a->state == FLAG_OPEN && b->state == FLAG_OPEN && a->flag.tree_id[0] != '\0' &&
	       b->flag.tree_id[0] != '\0' && strcmp(a->flag.rule, b->flag.rule) == 0 &&
	       same_run(&a->flag, &b->flag) && a->times_put_off == b->times_put_off &&
	       same_day(a->flag.window_from, b->flag.window_from) &&
	       strcmp(a->flag.source, b->flag.source) == 0 &&
	       same_words(a->flag.says, a->flag.label, b->flag.says, b->flag.label) &&
	       same_words(a->flag.action, a->flag.label, b->flag.action, b->flag.label);
}

/* How many of the list from `at` on that are not taken read like it. */
static int32_t count_alike(const struct item_list *list, const bool *taken, int32_t at)
{
	int32_t count = 0;
	for (int32_t i = at;
		i < list->count && same_run(&list->items[at].flag, &list->items[i].flag); i++)
		count += !taken[i] && reads_alike(&list->items[at], &list->items[i]);
	return count;
}

void item_list_group(struct item_list *list)
{
	size_t count = (size_t)list->count + 1;
	struct review_item *items = arena_array(list->arena, count, sizeof *items);
	bool *taken = arena_array(list->arena, count, sizeof *taken);
	int32_t put = 0;
	for (int32_t at = 0; at < list->count; at++) {
		if (taken[at])
			continue;
		int32_t alike = count_alike(list, taken, at);
		struct review_item *first = &items[put];
		items[put++] = list->items[at];
		first->group = 1;
		for (int32_t i = at + 1; alike >= GROUP_LEAST && first->group < alike; i++) {
			if (taken[i] || !reads_alike(&list->items[at], &list->items[i]))
				continue;
			taken[i] = true;
			first->group++;
			items[put++] = list->items[i];
		}
	}
	list->items = items;
}

const char *review_labels(const struct review_item *item, char *out, size_t size)
{
	enum { MORE_SIZE = 24 }; /* " and 2000000000 more" */
	struct text_builder labels = text_builder_fixed(out, size);
	text_add(&labels, item->flag.label);
	for (int32_t i = 1; i < item->group; i++) {
		const char *label = item[i].flag.label;
		size_t needed = strlen(label) + (i + 1 < item->group ? MORE_SIZE : 2);
		if (labels.length + needed >= size) {
			text_add_format(&labels, " and %d more", item->group - i);
			break;
		}
		text_add_format(&labels, ", %s", label);
	}
	return out;
}

static bool is_part_of_word(char byte)
{
	return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') ||
	       (byte >= '0' && byte <= '9') || (byte & 0x80) != 0;
}

const char *review_words(const struct review_item *item, const char *text, char *out, size_t size)
{
	struct text_builder words = text_builder_fixed(out, size);
	const char *label = item->flag.label;
	size_t length = strlen(label);
	text_add(&words, "");
	for (const char *at = text; *at != '\0';) {
		bool whole = item->group > 1 && strncmp(at, label, length) == 0 &&
			     (at == text || !is_part_of_word(at[-1])) &&
			     !is_part_of_word(at[length]);
		text_add_n(&words, whole ? "LABEL" : at, whole ? 5 : 1);
		at += whole ? length : 1;
	}
	return out;
}

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
