/* SPDX-License-Identifier: MIT */
/* Items that read alike but for the tree, brought together; and the words of one that stands for
 * many. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "review_inner.h"

enum { GROUP_LEAST = 3 };

static bool same_day(struct maybe_date a, struct maybe_date b)
{
	return a.known == b.known && (!a.known || date_compare(a.value, b.value) == 0);
}

/* --- a text, with what in it is the tree's own told apart --- */

enum { WORDS_END, WORDS_LABEL = 256, WORDS_WINDOW }; /* between them: a byte */

struct own_words {
	const char *text;
	const char *at;
	const char *label;
	size_t label_length;
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
	return (struct own_words){.text = text,
		.at = text,
		.label = flag->label,
		.label_length = strlen(flag->label),
		.days = days};
}

/* Where the text goes on behind `own`; NULL when something else stands there. */
static const char *behind(const char *at, const char *own)
{
	if (*at == '\0' || *at != *own)
		return NULL;
	size_t length = strlen(own);
	return strncmp(at, own, length) == 0 ? at + length : NULL;
}

static bool is_part_of_word(char byte)
{
	return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') ||
	       (byte >= '0' && byte <= '9') || (byte & 0x80) != 0;
}

static bool at_label(const struct own_words *words)
{
	return behind(words->at, words->label) != NULL &&
	       (words->at == words->text || !is_part_of_word(words->at[-1])) &&
	       !is_part_of_word(words->at[words->label_length]);
}

/* The next byte, or what stands for the tree's own words. */
static int next_word(struct own_words *words)
{
	const char byte = *words->at;
	if (byte != '\0' && byte != words->days[0] && byte != words->label[0]) {
		words->at++;
		return (unsigned char)byte;
	}
	const char *after = behind(words->at, words->days);
	if (after != NULL) {
		words->at = after;
		return WORDS_WINDOW;
	}
	if (at_label(words)) {
		words->at += words->label_length;
		return WORDS_LABEL;
	}
	return *words->at == '\0' ? WORDS_END : (unsigned char)*words->at++;
}

/* The same words, but that each names its own tree ("dose A1", "dose A2") and its own window. */
static bool same_words(struct own_words a, struct own_words b)
{
	for (;;) {
		int word = next_word(&a);
		if (word != next_word(&b))
			return false;
		if (word == WORDS_END)
			return true;
	}
}

/* --- what reads alike --- */

/* An item, and the words of its window, written once for all comparisons. Those that read alike
 * hang on the first of them, in the order of the list. */
struct candidate {
	const struct review_item *item;
	const char *days;
	uint64_t mix;           /* of what those that read alike have in common */
	struct candidate *next; /* that reads alike; NULL none */
	struct candidate *last; /* of the first: the end of its row */
	int32_t alike;          /* of the first: how many, itself among them; 0: another is */
};

static bool may_join(const struct review_item *item)
{
	return item->state == FLAG_OPEN && item->flag.tree_id[0] != '\0';
}

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

	return strcmp(a->flag.rule, b->flag.rule) == 0 && a->flag.urgency == b->flag.urgency &&
	       a->flag.crop_at_risk_mg.known == b->flag.crop_at_risk_mg.known &&
	       a->flag.crop_at_risk_mg.value == b->flag.crop_at_risk_mg.value &&
	       same_day(a->flag.window_to, b->flag.window_to) &&
	       a->times_put_off == b->times_put_off &&
	       a->flag.window_from.known == b->flag.window_from.known &&
	       strcmp(a->flag.source, b->flag.source) == 0 && same_texts(one, other);
}

static void mix_in(uint64_t *mix, uint64_t value)
{
	*mix = (*mix ^ value) * 1099511628211U; /* FNV-1a */
}

static void mix_words(uint64_t *mix, struct own_words words)
{
	for (int word = next_word(&words); word != WORDS_END; word = next_word(&words))
		mix_in(mix, (uint64_t)word);
	mix_in(mix, WORDS_END);
}

static uint64_t mix_of(const struct candidate *candidate)
{
	const struct flag *flag = &candidate->item->flag;
	uint64_t mix = 1469598103934665603U;
	for (const char *at = flag->rule; *at != '\0'; at++)
		mix_in(&mix, (unsigned char)*at);
	mix_in(&mix, (uint64_t)flag->crop_at_risk_mg.value);
	mix_in(&mix, flag->window_to.known ? (uint64_t)flag->window_to.value.day : 0);
	mix_words(&mix, own_words(flag, candidate->days, flag->says));
	mix_words(&mix, own_words(flag, candidate->days, flag->action));
	return mix;
}

static struct candidate *make_candidates(const struct item_list *list, struct arena *scratch)
{
	char days[64];
	struct candidate *all =
		arena_array(scratch, (size_t)list->count + 1, sizeof(struct candidate));
	for (int32_t i = 0; i < list->count; i++) {
		all[i].item = &list->items[i];
		all[i].days =
			arena_text(scratch, window_words(&all[i].item->flag, days, sizeof days));
		all[i].mix = mix_of(&all[i]);
		all[i].last = &all[i];
		all[i].alike = 1;
	}
	return all;
}

/* The place of those that read like it in a table with room to spare. */
static struct candidate **place_of(
	struct candidate **table, size_t size, const struct candidate *candidate)
{
	size_t at = candidate->mix % size;
	while (table[at] != NULL &&
		(table[at]->mix != candidate->mix || !reads_alike(table[at], candidate)))
		at = (at + 1) % size;
	return &table[at];
}

static void join_alike(struct candidate *all, int32_t count, struct arena *scratch)
{
	size_t size = 2 * (size_t)count + 1;
	struct candidate **table = arena_array(scratch, size, sizeof(struct candidate *));
	for (int32_t i = 0; i < count; i++) {
		if (!may_join(all[i].item))
			continue;
		struct candidate **first = place_of(table, size, &all[i]);
		if (*first == NULL) {
			*first = &all[i];
			continue;
		}
		(*first)->last->next = &all[i];
		(*first)->last = &all[i];
		(*first)->alike++;
		all[i].alike = 0;
	}
}

/* Fewer than a group stand where they stood. */
static void part_few(struct candidate *all, int32_t count)
{
	for (int32_t i = 0; i < count; i++) {
		if (all[i].alike == 0 || all[i].alike >= GROUP_LEAST)
			continue;
		for (struct candidate *at = &all[i]; at != NULL;) {
			struct candidate *next = at->next;
			at->next = NULL;
			at->alike = 1;
			at = next;
		}
	}
}

void item_list_group(struct item_list *list)
{
	struct arena *scratch = arena_new();
	int32_t *order = arena_array(scratch, (size_t)list->count + 1, sizeof *order);
	struct candidate *all = make_candidates(list, scratch);
	int32_t put = 0;
	join_alike(all, list->count, scratch);
	part_few(all, list->count);
	for (int32_t i = 0; i < list->count; i++) {
		if (all[i].alike == 0)
			continue;
		list->items[i].group = all[i].alike;
		for (const struct candidate *at = &all[i]; at != NULL; at = at->next)
			order[put++] = (int32_t)(at - all);
	}
	item_list_order(list, order);
	arena_free(scratch);
}

/* --- the words of a group --- */

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
	char days[64], window[128];
	if (item->group <= 1) {
		text_add(&words, text);
		return out;
	}
	struct own_words own =
		own_words(&item->flag, window_words(&item->flag, days, sizeof days), text);
	text_add(&words, "");
	for (int word = next_word(&own); word != WORDS_END; word = next_word(&own)) {
		const char byte = (char)word;
		if (word == WORDS_WINDOW)
			text_add(&words, group_window(item, window, sizeof window));
		else if (word == WORDS_LABEL)
			text_add(&words, "LABEL");
		else
			text_add_n(&words, &byte, 1);
	}
	return out;
}
