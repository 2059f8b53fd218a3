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
	struct kept_room room;   /* for those that were kept */
	struct trees trees;      /* all of them, with which are done */
	int32_t notes;           /* open ones */
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

static bool is_note(enum flag_state state, const struct flag *flag)
{
	return state == FLAG_OPEN && flag->urgency == URGENCY_NOTE;
}

static bool is_only_counted(
	const struct reviewing *reviewing, enum flag_state state, const struct flag *flag)
{
	const int32_t enough = reviewing->options->notes_enough;
	return enough > 0 && reviewing->notes >= enough && is_note(state, flag);
}

static void put_item(struct reviewing *reviewing, struct review_item *item)
{
	const struct review_options *options = reviewing->options;
	change_on(reviewing, item->until);
	if ((item->state != FLAG_OPEN && !options->all) ||
		(options->wants != NULL && !options->wants(item)))
		return;
	if (!is_only_counted(reviewing, item->state, &item->flag))
		item_list_add(&reviewing->list, item);
	reviewing->notes += is_note(item->state, &item->flag);
}

static bool asks_for_work(const struct flag *flag)
{
	return flag->urgency == URGENCY_DUE || flag->urgency == URGENCY_SOON;
}

static bool is_of_yard(const struct reviewing *reviewing, const struct flag *flag)
{
	return flag->fact[0] != '\0' && reviewing->options->tree_id == NULL;
}

/* One that was answered by itself does not come back within a line of the yard. */
static bool folds_over_yard(const struct reviewing *reviewing, const struct flag *flag)
{
	return is_of_yard(reviewing, flag) && !answers_has_own(&reviewing->answers, flag);
}

static void put_flag(struct reviewing *reviewing, bool over_fence, const struct flag *flag)
{
	if (is_of_yard(reviewing, flag) && over_fence)
		return;
	if (folds_over_yard(reviewing, flag)) {
		folds_add(&reviewing->folds, flag);
		return;
	}
	struct judged judged = answers_judge(&reviewing->answers, flag);
	if (judged.state == FLAG_OPEN && over_fence && asks_for_work(flag)) {
		judged.state = FLAG_LEFT;
		judged.reason = "it stands over the fence";
	}
	if (is_only_counted(reviewing, judged.state, flag)) {
		reviewing->notes++;
		return;
	}
	struct review_item item = {.flag = *flag, .trees = 1};
	item_take(&item, &judged);
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

/* Most of what is kept is only counted: of that the rest need not be read. */
static bool wants_more(void *owner, const struct kept_tree *tree, const struct flag *head)
{
	const struct reviewing *reviewing = owner;
	const int32_t enough = reviewing->options->notes_enough;
	if (!is_asked_for(reviewing, tree->tree_id))
		return false;
	if (is_of_yard(reviewing, head) && tree->over_fence)
		return false;
	if (folds_over_yard(reviewing, head))
		return folds_want(&reviewing->folds, head);
	return head->urgency != URGENCY_NOTE || enough == 0 || reviewing->notes < enough ||
	       reviewing->options->all;
}

static void make_room(struct reviewing *reviewing)
{
	enum { FLAGS_USUAL = 256 };
	reviewing->room.flags = arena_array(reviewing->arena, FLAGS_USUAL, sizeof(struct flag));
	reviewing->room.capacity = FLAGS_USUAL;
}

/* Of a tree that is left alone `all` shows more than is kept. */
static bool take_kept(struct reviewing *reviewing, const struct kept_row *row)
{
	const struct kept_wish wish = {.owner = reviewing, .wants = wants_more};
	arena_reset(reviewing->scratch);
	reviewing->whole =
		(struct kept_whole){.arena = reviewing->scratch, .room = &reviewing->room};
	if (row->flags == NULL || !kept_read(row->flags, &wish, &reviewing->whole))
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
	if (take_kept(reviewing, row))
		return STATUS_OK;
	arena_reset(reviewing->scratch);
	return work_out(reviewing, row->tree_id, why);
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

/* --- all trees --- */

static void take_good(void *context, const struct kept_row *row)
{
	struct reviewing *reviewing = context;
	bool *is_done = trees_done(&reviewing->trees, row->tree_id);
	if (is_done != NULL && !*is_done)
		*is_done = take_kept(reviewing, row);
}

/* The next of those that are not done, as many as their entries are taken up together; they are one
 * look, so that a save of another window waits for no more than that. */
static enum status look_at_some(
	struct reviewing *reviewing, const struct shelf_wants *wants, struct fault *why)
{
	enum { TREES_MANY = 16 }; /* fewer are read one by one */
	struct store *store = yard_store(reviewing->yard);
	int32_t taken = 0;
	bool one_look = store_look_begin(store);
	enum status status = STATUS_OK;
	if (wants->count < TREES_MANY)
		taken = wants->count;
	else
		status = yard_take_up(reviewing->yard, wants, &taken, why);
	for (int32_t i = 0; status == STATUS_OK && i < taken; i++) {
		arena_reset(reviewing->scratch);
		status = work_out(reviewing, wants->subject_ids[i], why);
		*trees_done(&reviewing->trees, wants->subject_ids[i]) = true;
	}
	if (one_look)
		store_look_end(store);
	return status;
}

static enum status look_at_rest(struct reviewing *reviewing, struct fault *why)
{
	enum { TREES_A_LOOK = 1024 };
	const struct trees *trees = &reviewing->trees;
	const char *ids[TREES_A_LOOK];
	struct shelf_wants wants = {.subject_ids = ids};
	enum status status = STATUS_OK;
	int32_t from = 0;
	do {
		wants.count = 0;
		while (from < trees->count && trees->done[from])
			from++;
		for (int32_t i = from; i < trees->count && wants.count < TREES_A_LOOK; i++)
			if (!trees->done[i])
				ids[wants.count++] = trees->ids[i];
		if (wants.count > 0)
			status = look_at_some(reviewing, &wants, why);
	} while (status == STATUS_OK && wants.count > 0);
	yard_put_back(reviewing->yard);
	return status;
}

/* First what is kept, as it lies in the log; then the trees of which nothing good is. */
static enum status look_at_all(struct reviewing *reviewing, struct fault *why)
{
	struct store *store = yard_store(reviewing->yard);
	struct arena *arena = arena_new();
	make_room(reviewing);
	enum status status = trees_load(store, arena, &reviewing->trees, why);
	if (status == STATUS_OK)
		status = store_kept_each(store, &reviewing->kept, yard_today(reviewing->yard),
			take_good, reviewing, why);
	if (status == STATUS_OK)
		status = look_at_rest(reviewing, why);
	arena_free(arena);
	return status;
}

static void put_folds(struct reviewing *reviewing)
{
	int32_t count;
	struct review_item *lines = folds_lines(&reviewing->folds, &count);
	for (int32_t i = 0; i < count; i++) {
		const struct judged judged = answers_judge(&reviewing->answers, &lines[i].flag);
		item_take(&lines[i], &judged);
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
		.notes = reviewing->notes,
		.next_change = reviewing->next_change,
	};
	for (int32_t i = 0; i < out->count; i++) {
		const enum urgency urgency = out->items[i].flag.urgency;
		out->open += out->items[i].state == FLAG_OPEN && urgency != URGENCY_NOTE &&
			     urgency != URGENCY_LEAVE;
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
