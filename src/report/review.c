/* SPDX-License-Identifier: MIT */
/* The rules run over the yard, tree by tree; only what is to be shown is kept. */
#include "report/review.h"

#include <string.h>

#include "core/text.h"
#include "kept.h"
#include "review_inner.h"

struct reviewing {
	struct yard *yard;
	const struct review_options *options;
	struct arena *arena;
	struct answers answers;
	struct item_list list;
	struct folds folds;
	struct arena *scratch;   /* of one tree with its grafts */
	struct kept_state kept;  /* what is good of it */
	struct kept_whole whole; /* the tree in hand and its grafts, in scratch */
	bool alone;              /* it is a graft told by itself, which nothing is kept of */
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
	const struct review_options *options = reviewing->options;
	change_on(reviewing, item->until);
	if ((item->state == FLAG_OPEN || options->all) &&
		(options->wants == NULL || options->wants(item)))
		item_list_add(&reviewing->list, item);
}

static bool asks_for_work(const struct flag *flag)
{
	return flag->urgency == URGENCY_DUE || flag->urgency == URGENCY_SOON;
}

static void put_flag(struct reviewing *reviewing, bool over_fence, const struct flag *flag)
{
	struct review_item item = {.flag = *flag, .trees = 1};
	bool folds = flag->fact[0] != '\0' && reviewing->options->tree_id == NULL;
	if (folds && over_fence)
		return;
	/* one that was answered by itself does not come back within a line of the yard */
	if (folds && !answers_has_own(&reviewing->answers, flag) &&
		folds_add(&reviewing->folds, flag))
		return;
	answers_judge(&reviewing->answers, &item);
	if (item.state == FLAG_OPEN && over_fence && asks_for_work(flag)) {
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

/* --- one tree with its grafts --- */

static bool is_asked_for(const struct reviewing *reviewing, const char *tree_id)
{
	const char *only = reviewing->options->tree_id;
	return only == NULL || strcmp(only, tree_id) == 0;
}

static enum status look_at(void *owner, const struct dossier *dossier, struct fault *why)
{
	(void)why;
	struct reviewing *reviewing = owner;
	if (reviewing->whole.count == 0)
		reviewing->alone = dossier->host != NULL;
	struct kept_tree *tree = kept_add(&reviewing->whole);
	text_copy(tree->tree_id, sizeof tree->tree_id, dossier->tree.id);
	tree->over_fence = dossier->tree.over_fence;
	rules_look(dossier, yard_today(reviewing->yard), &tree->found);
	if (tree->found.wants_neighbours)
		return STATUS_END;
	if (reviewing->options->told != NULL && is_asked_for(reviewing, tree->tree_id))
		reviewing->options->told(reviewing->options->told_owner, dossier);
	if (reviewing->options->all && is_asked_for(reviewing, tree->tree_id) &&
		is_left_alone(&tree->found))
		put_left(reviewing, dossier);
	return STATUS_OK;
}

/* The earliest of all its grafts' and its own. */
static struct maybe_date next_of(const struct kept_whole *whole)
{
	struct flags next = {.count = 0};
	for (int32_t i = 0; i < whole->count; i++)
		if (whole->trees[i].found.next_change.known)
			flags_change_on(&next, (struct date){INT32_MIN},
				whole->trees[i].found.next_change.value);
	return next.next_change;
}

static void put_whole(struct reviewing *reviewing)
{
	for (int32_t i = 0; i < reviewing->whole.count; i++) {
		const struct kept_tree *tree = &reviewing->whole.trees[i];
		for (int32_t k = 0; is_asked_for(reviewing, tree->tree_id) && k < tree->found.count;
			k++)
			put_flag(reviewing, tree->over_fence, &tree->found.items[k]);
	}
}

/* Few rules of few trees ask who stands around: only then is the whole yard read for them, once. */
static enum status look_anew(struct reviewing *reviewing, const char *tree_id, struct fault *why)
{
	const struct yard_visitor visitor = {.owner = reviewing, .visit = look_at};
	const struct neighbour *standing;
	int32_t count;
	reviewing->whole = (struct kept_whole){.arena = reviewing->scratch};
	enum status status = yard_visit(reviewing->yard, tree_id, &visitor, why);
	if (status != STATUS_END)
		return status;
	reviewing->whole = (struct kept_whole){.arena = reviewing->scratch};
	status = yard_standing(reviewing->yard, &standing, &count, why);
	return status == STATUS_OK ? yard_visit(reviewing->yard, tree_id, &visitor, why) : status;
}

static enum status work_out(struct reviewing *reviewing, const char *tree_id, struct fault *why)
{
	enum status status = look_anew(reviewing, tree_id, why);
	if (status != STATUS_OK)
		return status;
	struct maybe_date next = next_of(&reviewing->whole);
	change_on(reviewing, next);
	put_whole(reviewing);
	if (reviewing->options->keeper == NULL || reviewing->alone)
		return STATUS_OK;
	struct kept_row row = {.flags = kept_write(&reviewing->whole, reviewing->scratch),
		.worked_for = yard_today(reviewing->yard),
		.next_change = next};
	text_copy(row.tree_id, sizeof row.tree_id, tree_id);
	keeper_add(reviewing->options->keeper, reviewing->yard, &row);
	return STATUS_OK;
}

/* Of a tree that is left alone `all` shows more than is kept. */
static bool take_kept(struct reviewing *reviewing, const struct kept_row *row)
{
	if (row->flags == NULL || !kept_read(row->flags, &reviewing->whole))
		return false;
	for (int32_t i = 0; reviewing->options->all && i < reviewing->whole.count; i++)
		if (is_left_alone(&reviewing->whole.trees[i].found))
			return false;
	change_on(reviewing, row->next_change);
	put_whole(reviewing);
	return true;
}

static enum status look_at_row(
	struct reviewing *reviewing, const struct kept_row *row, struct fault *why)
{
	enum status status = STATUS_OK;
	arena_reset(reviewing->scratch);
	reviewing->whole = (struct kept_whole){.arena = reviewing->scratch};
	if (!take_kept(reviewing, row))
		status = work_out(reviewing, row->tree_id, why);
	return status;
}

/* A graft that is gone is told by itself, on its host as it is. */
static enum status look_at_gone(struct reviewing *reviewing, struct fault *why)
{
	const struct dossier *dossier;
	reviewing->whole = (struct kept_whole){.arena = reviewing->scratch};
	enum status status = yard_dossier_in(
		reviewing->yard, reviewing->options->tree_id, reviewing->scratch, &dossier, why);
	if (status == STATUS_OK)
		status = look_at(reviewing, dossier, why);
	if (status != STATUS_OK)
		return status;
	change_on(reviewing, next_of(&reviewing->whole));
	put_whole(reviewing);
	return STATUS_OK;
}

static enum status look_at_one(struct reviewing *reviewing, struct fault *why)
{
	enum { GRAFTS_DEEP_MAX = 8 };
	struct store *store = yard_store(reviewing->yard);
	struct tree tree;
	struct kept_row row;
	enum status status = store_tree_load(store, reviewing->options->tree_id, &tree, why);
	if (status == STATUS_OK && tree.host_id[0] != '\0' && tree.gone.text[0] != '\0')
		return look_at_gone(reviewing, why);
	for (int deep = 0; status == STATUS_OK && tree.host_id[0] != '\0' && deep < GRAFTS_DEEP_MAX;
		deep++) {
		char host_id[ID_SIZE];
		memcpy(host_id, tree.host_id, sizeof host_id);
		status = store_tree_load(store, host_id, &tree, why);
	}
	if (status == STATUS_OK)
		status = store_kept_find(store, &reviewing->kept, tree.id,
			yard_today(reviewing->yard), reviewing->arena, &row, why);
	memcpy(row.tree_id, tree.id, sizeof row.tree_id);
	return status == STATUS_OK ? look_at_row(reviewing, &row, why) : status;
}

/* All trees, some in a row at a time. */
struct look_round {
	struct kept_row *rows;
	int32_t count;
	int32_t until; /* rows before it need no new look */
	bool one_look;
};

enum { TREES_A_LOOK = 1024 };

static void look_end(struct reviewing *reviewing, struct look_round *round)
{
	if (round->one_look)
		store_look_end(yard_store(reviewing->yard));
	round->one_look = false;
}

/* The next trees are one look, so that a save of another window waits for no more than that; of
 * those that have to be told the entries are taken up together. */
static enum status look_begin(
	struct reviewing *reviewing, struct look_round *round, int32_t from, struct fault *why)
{
	const char *ids[TREES_A_LOOK];
	int32_t places[TREES_A_LOOK];
	struct shelf_wants wants = {.subject_ids = ids};
	int32_t taken = 0;
	int32_t at = from;
	look_end(reviewing, round);
	for (; at < round->count && at < from + TREES_A_LOOK; at++) {
		if (round->rows[at].flags != NULL)
			continue;
		places[wants.count] = at;
		ids[wants.count++] = round->rows[at].tree_id;
	}
	round->until = at;
	round->one_look = store_look_begin(yard_store(reviewing->yard));
	if (wants.count == 0)
		return STATUS_OK;
	enum status status = yard_take_up(reviewing->yard, &wants, &taken, why);
	if (status == STATUS_OK && taken < wants.count)
		round->until = places[taken];
	return status;
}

static enum status look_at_all(struct reviewing *reviewing, struct fault *why)
{
	struct arena *arena = arena_new();
	struct look_round round = {.until = 0};
	enum status status = store_kept_list(yard_store(reviewing->yard), &reviewing->kept,
		yard_today(reviewing->yard), arena, &round.rows, &round.count, why);
	for (int32_t i = 0; status == STATUS_OK && i < round.count; i++) {
		if (i == round.until)
			status = look_begin(reviewing, &round, i, why);
		if (status == STATUS_OK)
			status = look_at_row(reviewing, &round.rows[i], why);
	}
	look_end(reviewing, &round);
	yard_put_back(reviewing->yard);
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

static enum status load_kept(struct reviewing *reviewing, struct fault *why)
{
	char digest[KEPT_DIGEST_SIZE];
	if (reviewing->options->anew)
		return STATUS_OK;
	return store_kept_state(yard_store(reviewing->yard), kept_digest(reviewing->yard, digest),
		reviewing->arena, &reviewing->kept, why);
}

enum status review_make(struct yard *yard, const struct review_options *options,
	struct arena *arena, struct review *out, struct fault *why)
{
	struct reviewing *reviewing = arena_alloc(arena, sizeof *reviewing);
	reviewing->yard = yard;
	reviewing->options = options;
	reviewing->arena = arena;
	reviewing->list.arena = arena;
	reviewing->folds.arena = arena;
	enum status status = answers_load(yard, arena, &reviewing->answers, why);
	if (status == STATUS_OK)
		status = load_kept(reviewing, why);
	if (status != STATUS_OK)
		return status;
	reviewing->scratch = arena_new();
	status = options->tree_id != NULL ? look_at_one(reviewing, why)
					  : look_at_all(reviewing, why);
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
