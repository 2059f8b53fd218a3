/* SPDX-License-Identifier: MIT */
/* The rules run over the yard, tree by tree; only what is to be shown is kept. */
#include "report/review.h"

#include <string.h>

#include "core/text.h"
#include "review_inner.h"

struct reviewing {
	struct yard *yard;
	const struct review_options *options;
	struct answers answers;
	struct item_list list;
	struct folds folds;
	struct arena *scratch; /* of one tree */
	struct maybe_date next_change;
};

static void change_on(struct reviewing *reviewing, struct maybe_date day)
{
	struct maybe_date *next = &reviewing->next_change;
	if (!day.known || date_compare(day.value, yard_today(reviewing->yard)) <= 0)
		return;
	if (!next->known || date_compare(day.value, next->value) < 0)
		*next = day;
}

static void put_item(struct reviewing *reviewing, struct review_item *item)
{
	change_on(reviewing, item->until);
	if (item->state == FLAG_OPEN || reviewing->options->all)
		item_list_add(&reviewing->list, item);
}

static bool asks_for_work(const struct flag *flag)
{
	return flag->urgency == URGENCY_DUE || flag->urgency == URGENCY_SOON;
}

static void put_flag(
	struct reviewing *reviewing, const struct dossier *dossier, const struct flag *flag)
{
	struct review_item item = {.flag = *flag, .trees = 1};
	bool folds = flag->fact[0] != '\0' && reviewing->options->tree_id == NULL;
	if (folds && (dossier->tree.over_fence || folds_add(&reviewing->folds, flag)))
		return;
	answers_judge(&reviewing->answers, &item);
	if (item.state == FLAG_OPEN && dossier->tree.over_fence && asks_for_work(flag)) {
		item.state = FLAG_LEFT;
		item.reason = "it stands over the fence";
	}
	put_item(reviewing, &item);
}

static bool is_left_alone(const struct flags *flags)
{
	for (int32_t i = 0; i < flags->count; i++)
		if (flags->items[i].urgency == URGENCY_LEAVE)
			return true;
	return false;
}

/* What the rules that rest would have asked, had the tree not been left alone. */
static void put_left(struct reviewing *reviewing, const struct dossier *dossier)
{
	struct flags rested = {.arena = reviewing->scratch};
	for (const struct rule *rule = rule_table(); rule->id != NULL; rule++)
		if (rule->rests)
			rule->look(dossier, yard_today(reviewing->yard), &rested);
	for (int32_t i = 0; i < rested.count; i++) {
		struct review_item item = {
			.flag = rested.items[i],
			.trees = 1,
			.state = FLAG_LEFT,
			.reason = "the tree is left alone",
		};
		if (asks_for_work(&item.flag))
			put_item(reviewing, &item);
	}
}

static enum status look_at(void *owner, const struct dossier *dossier, struct fault *why)
{
	(void)why;
	struct reviewing *reviewing = owner;
	struct flags found = {.arena = reviewing->scratch};
	rules_look(dossier, yard_today(reviewing->yard), &found);
	change_on(reviewing, found.next_change);
	for (int32_t i = 0; i < found.count; i++)
		put_flag(reviewing, dossier, &found.items[i]);
	if (reviewing->options->all && is_left_alone(&found))
		put_left(reviewing, dossier);
	arena_reset(reviewing->scratch);
	return STATUS_OK;
}

static enum status look_at_one(struct reviewing *reviewing, struct fault *why)
{
	struct arena *arena = arena_new();
	const struct dossier *dossier;
	enum status status =
		yard_dossier_in(reviewing->yard, reviewing->options->tree_id, arena, &dossier, why);
	if (status == STATUS_OK)
		status = look_at(reviewing, dossier, why);
	arena_free(arena);
	return status;
}

static void put_folds(struct reviewing *reviewing)
{
	struct review_item lines[FOLDS_MAX];
	int32_t count = folds_lines(&reviewing->folds, lines);
	for (int32_t i = 0; i < count; i++) {
		answers_judge(&reviewing->answers, &lines[i]);
		put_item(reviewing, &lines[i]);
	}
}

static void finish(struct reviewing *reviewing, struct review *out)
{
	put_folds(reviewing);
	item_list_sort(&reviewing->list);
	item_list_group(&reviewing->list);
	*out = (struct review){
		.items = reviewing->list.items,
		.count = reviewing->list.count,
		.next_change = reviewing->next_change,
	};
	for (int32_t i = 0; i < out->count; i++) {
		const struct review_item *item = &out->items[i];
		if (item->state != FLAG_OPEN)
			continue;
		if (item->flag.urgency == URGENCY_NOTE)
			out->notes++;
		else if (item->flag.urgency != URGENCY_LEAVE)
			out->open++;
	}
}

enum status review_make(struct yard *yard, const struct review_options *options,
	struct arena *arena, struct review *out, struct fault *why)
{
	struct reviewing *reviewing = arena_alloc(arena, sizeof *reviewing);
	reviewing->yard = yard;
	reviewing->options = options;
	reviewing->list.arena = arena;
	reviewing->folds.arena = arena;
	enum status status = answers_load(yard, arena, &reviewing->answers, why);
	if (status != STATUS_OK)
		return status;
	reviewing->scratch = arena_new();
	struct yard_visitor visitor = {.owner = reviewing, .visit = look_at};
	status = options->tree_id != NULL ? look_at_one(reviewing, why)
					  : yard_each(yard, true, &visitor, why);
	arena_free(reviewing->scratch);
	if (status == STATUS_OK)
		finish(reviewing, out);
	return status;
}

const char *review_put_off_says(
	const struct review_item *item, struct date until, char *out, size_t size)
{
	struct text_builder says = text_builder_fixed(out, size);
	char day[24];
	if (item->flag.window_to.known && date_compare(item->flag.window_to.value, until) < 0)
		text_add_format(&says, "its window closes before that, on %s",
			date_format_plain(item->flag.window_to.value, day, sizeof day));
	return out;
}
