/* SPDX-License-Identifier: MIT */
/* What would be flagged if something were done: the rules with it and without it. The log is only
 * read. */
#include <string.h>

#include "core/text.h"
#include "review_inner.h"

/* The id that the work not yet done bears among entries. */
static const char tried_id[] = "this";

struct asking {
	struct yard *yard;
	struct date day; /* the later of today and the day of the work */
	struct answers answers;
	struct item_list list;
	struct text_builder settles;
	struct ask_answer *out;
};

static struct entry tried_entry(const struct reading *reading, const struct subject *subject)
{
	struct entry entry = reading->draft;
	text_copy(entry.id, sizeof entry.id, tried_id);
	text_copy(entry.typed_at, sizeof entry.typed_at, "9999"); /* after all that is there */
	entry.subject = *subject;
	entry.asked = true;
	entry.planned = false; /* a plan is tried as the work it means */
	return entry;
}

static void look_whole(const struct dossier *dossier, struct date day, struct flags *out)
{
	rules_look(dossier, day, out);
	for (int32_t i = 0; i < dossier->graft_count; i++)
		look_whole(dossier->grafts[i], day, out);
}

static bool holds_key(const struct flags *flags, const char *key)
{
	for (int32_t i = 0; i < flags->count; i++)
		if (strcmp(flags->items[i].key, key) == 0)
			return true;
	return false;
}

static bool is_listed(const struct item_list *list, const char *key)
{
	for (int32_t i = 0; i < list->count; i++)
		if (strcmp(list->items[i].flag.key, key) == 0)
			return true;
	return false;
}

static void put_new(struct asking *asking, const struct flags *with, const struct flags *without)
{
	for (int32_t i = 0; i < with->count; i++) {
		struct review_item item = {.flag = with->items[i], .trees = 1};
		if (holds_key(without, item.flag.key) || is_listed(&asking->list, item.flag.key))
			continue;
		const struct judged judged = answers_judge(&asking->answers, &item.flag);
		item_take(&item, &judged);
		if (item.state == FLAG_OPEN)
			item_list_add(&asking->list, &item);
	}
}

static void put_settled(
	struct asking *asking, const struct flags *with, const struct flags *without)
{
	for (int32_t i = 0; i < without->count; i++) {
		const struct flag *flag = &without->items[i];
		const struct rule *rule = rule_find(flag->rule);
		if (holds_key(with, flag->key) || rule == NULL || flag->urgency == URGENCY_LEAVE)
			continue;
		text_add_format(&asking->settles, "%s%s: %s",
			asking->settles.length > 0 ? "; " : "", flag->label, rule->title);
	}
}

static enum status ask_of_tree(
	struct asking *asking, const char *tree_id, const struct entry *tried, struct fault *why)
{
	struct arena *scratch = arena_new();
	struct flags with = {.arena = scratch};
	struct flags without = {.arena = scratch};
	const struct dossier *before;
	const struct dossier *after;
	enum status status = yard_dossier_with_in(
		asking->yard, tree_id, NULL, asking->day, scratch, &before, why);
	if (status == STATUS_OK)
		status = yard_dossier_with_in(
			asking->yard, tree_id, tried, asking->day, scratch, &after, why);
	if (status == STATUS_OK) {
		look_whole(before, asking->day, &without);
		look_whole(after, asking->day, &with);
		put_new(asking, &with, &without);
		put_settled(asking, &with, &without);
		if (asking->out->term_count == 0)
			asking->out->term_count = saw_terms(after, tried, asking->out->terms);
	}
	arena_free(scratch);
	return status;
}

/* Every tree that work told of a spot, an area or the whole place bears on. */
static enum status ask_of_many(struct asking *asking, const struct subject *subject,
	const struct entry *tried, struct fault *why)
{
	struct arena *arena = arena_new();
	struct tree_query query = {
		.spot_id = subject->kind == SUBJECT_SPOT ? subject->id : NULL,
		.area_id = subject->kind == SUBJECT_AREA ? subject->id : NULL,
	};
	struct tree *trees;
	int32_t count;
	enum status status =
		store_tree_list(yard_store(asking->yard), &query, arena, &trees, &count, why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		if (trees[i].host_id[0] == '\0') /* grafts are asked with their host */
			status = ask_of_tree(asking, trees[i].id, tried, why);
	arena_free(arena);
	return status;
}

static enum status ask_of_subject(struct asking *asking, const struct reading *reading,
	const struct subject *subject, struct fault *why)
{
	struct entry tried = tried_entry(reading, subject);
	if (subject->kind == SUBJECT_TREE)
		return ask_of_tree(asking, subject->id, &tried, why);
	return ask_of_many(asking, subject, &tried, why);
}

static struct date later_of(struct date today, const struct entry *draft)
{
	struct maybe_date day = date_span_first(&draft->day);
	return day.known && date_compare(day.value, today) > 0 ? day.value : today;
}

static enum status ask_all(struct asking *asking, const struct reading *reading,
	struct arena *arena, struct fault *why)
{
	struct subject *subjects;
	int32_t count;
	enum status status = work_subjects(asking->yard, reading, arena, &subjects, &count, why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		status = ask_of_subject(asking, reading, &subjects[i], why);
	return status;
}

enum status review_ask(struct yard *yard, const struct reading *reading, struct arena *arena,
	struct ask_answer *out, struct fault *why)
{
	*out = (struct ask_answer){.count = 0};
	struct asking asking = {
		.yard = yard,
		.day = later_of(yard_today(yard), &reading->draft),
		.list.arena = arena,
		.settles = text_builder_fixed(out->settles, sizeof out->settles),
		.out = out,
	};
	text_copy(out->said, sizeof out->said, reading->said);
	enum status status = answers_load(yard, arena, &asking.answers, why);
	if (status == STATUS_OK && !reading->is_day_line)
		status = ask_all(&asking, reading, arena, why);
	if (status != STATUS_OK)
		return status;
	item_list_sort(&asking.list);
	out->items = asking.list.items;
	out->count = asking.list.count;
	for (int32_t i = 0; i < out->count; i++)
		out->any_act = out->any_act || out->items[i].flag.urgency == URGENCY_ACT;
	return STATUS_OK;
}
