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

/* A text and what in it is the tree's own: its label and the days of its window. */
struct own_words {
	const char *at;
	const char *label;
	const char *days; /* "29 September 2023 to 15 January 2024"; "": no window */
};

static const char *window_words(const struct flag *flag, char *out, int size)
{
	if (!flag->window_from.known || !flag->window_to.known)
		return "";
	struct date_span span = date_span_between(flag->window_from.value, flag->window_to.value);
	return date_span_format_plain(&span, out, size);
}

static struct own_words own_words(const struct flag *flag, const char *days, const char *text)
{
	return (struct own_words){.at = text, .label = flag->label, .days = days};
}

/* Where the text goes on behind `own`; NULL when something else stands there. */
static const char *behind(const char *at, const char *own)
{
	if (*at == '\0' || *at != *own)
		return NULL;
	size_t length = strlen(own);
	return strncmp(at, own, length) == 0 ? at + length : NULL;
}

static bool skip_own(struct own_words *a, const char *a_own, struct own_words *b, const char *b_own)
{
	const char *a_next = behind(a->at, a_own);
	const char *b_next = behind(b->at, b_own);
	if (a_next == NULL || b_next == NULL)
		return false;
	a->at = a_next;
	b->at = b_next;
	return true;
}

/* The same words, but that each names its own tree ("dose A1", "dose A2") and its own window. */
static bool same_words(struct own_words a, struct own_words b)
{
	while (*a.at != '\0' && *b.at != '\0') {
		if (skip_own(&a, a.label, &b, b.label) || skip_own(&a, a.days, &b, b.days))
			continue;
		if (*a.at++ != *b.at++)
			return false;
	}
	return *a.at == *b.at;
}

/* Items that read alike lie in one run of the sorted list. */
static bool same_run(const struct flag *a, const struct flag *b)
{
	return a->urgency == b->urgency && a->crop_at_risk_mg.known == b->crop_at_risk_mg.known &&
	       a->crop_at_risk_mg.value == b->crop_at_risk_mg.value &&
	       same_day(a->window_to, b->window_to);
}

/* An item, and the words of its window, written once for all comparisons. */
struct candidate {
	const struct review_item *item;
	const char *days;
	bool taken;
};

static bool same_texts(const struct candidate *a, const struct candidate *b)
{
	const struct flag *one = &a->item->flag;
	const struct flag *other = &b->item->flag;

	return same_words(own_words(one, a->days, one->says),
		       own_words(other, b->days, other->says)) &&
	       same_words(own_words(one, a->days, one->action),
		       own_words(other, b->days, other->action));
}

/* The tree alone differs, and the day from which its window is open: a tree may be clear for a cut
 * by its own last pick. */
static bool reads_alike(const struct candidate *one, const struct candidate *other)
{
	const struct review_item *a = one->item;
	const struct review_item *b = other->item;

	return a->state == FLAG_OPEN && b->state == FLAG_OPEN && a->flag.tree_id[0] != '\0' &&
	       b->flag.tree_id[0] != '\0' && strcmp(a->flag.rule, b->flag.rule) == 0 &&
	       same_run(&a->flag, &b->flag) && a->times_put_off == b->times_put_off &&
	       a->flag.window_from.known == b->flag.window_from.known &&
	       strcmp(a->flag.source, b->flag.source) == 0 && same_texts(one, other);
}

/* How many from this one on that are not taken read like it: of its run, up to the end. */
static int32_t count_alike(const struct candidate *first, const struct candidate *end)
{
	int32_t count = 0;
	for (const struct candidate *at = first;
		at < end && same_run(&first->item->flag, &at->item->flag); at++)
		count += !at->taken && reads_alike(first, at);
	return count;
}

static struct candidate *make_candidates(const struct item_list *list)
{
	char days[64];
	struct candidate *all =
		arena_array(list->arena, (size_t)list->count + 1, sizeof(struct candidate));
	for (int32_t i = 0; i < list->count; i++) {
		all[i].item = &list->items[i];
		all[i].days = arena_text(
			list->arena, window_words(&all[i].item->flag, days, sizeof days));
	}
	return all;
}

void item_list_group(struct item_list *list)
{
	struct review_item *items =
		arena_array(list->arena, (size_t)list->count + 1, sizeof *items);
	struct candidate *all = make_candidates(list);
	struct candidate *end = all + list->count;
	int32_t put = 0;
	for (struct candidate *at = all; at < end; at++) {
		if (at->taken)
			continue;
		int32_t alike = count_alike(at, end);
		struct review_item *first = &items[put];
		items[put++] = *at->item;
		first->group = 1;
		for (struct candidate *next = at + 1; alike >= GROUP_LEAST && first->group < alike;
			next++) {
			if (next->taken || !reads_alike(at, next))
				continue;
			next->taken = true;
			first->group++;
			items[put++] = *next->item;
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

/* The window of a group: of one day or more from which it is open. */
static const char *group_window(const struct review_item *item, char *out, size_t size)
{
	char first_day[24], last_day[24];
	struct maybe_date first = item->flag.window_from;
	bool differ = false;
	for (int32_t i = 1; i < item->group; i++) {
		struct maybe_date from = item[i].flag.window_from;
		differ = differ || !same_day(first, from);
		if (date_compare(from.value, first.value) < 0)
			first = from;
	}
	if (!differ)
		return window_words(&item->flag, out, (int)size);
	snprintf(out, size, "each from a day of its own, the first %s, until %s",
		date_format_plain(first.value, first_day, sizeof first_day),
		date_format_plain(item->flag.window_to.value, last_day, sizeof last_day));
	return out;
}

const char *review_words(const struct review_item *item, const char *text, char *out, size_t size)
{
	struct text_builder words = text_builder_fixed(out, size);
	const char *label = item->flag.label;
	size_t length = strlen(label);
	char days[64], window[128];
	const char *own = item->group > 1 ? window_words(&item->flag, days, sizeof days) : "";
	text_add(&words, "");
	for (const char *at = text; *at != '\0';) {
		const char *after = behind(at, own);
		bool whole = item->group > 1 && strncmp(at, label, length) == 0 &&
			     (at == text || !is_part_of_word(at[-1])) &&
			     !is_part_of_word(at[length]);
		if (after != NULL) {
			text_add(&words, group_window(item, window, sizeof window));
			at = after;
			continue;
		}
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
