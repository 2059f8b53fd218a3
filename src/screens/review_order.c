/* SPDX-License-Identifier: MIT */
/* What the list of the review holds, and in which order. */
#include <stdlib.h>

#include "core/text.h"
#include "review.h"

/* An item and its place, to be sorted. */
struct placed {
	const struct review_item *item;
	int32_t at;
};

static bool is_note(const struct review_item *item)
{
	return item->flag.urgency == URGENCY_NOTE;
}

const char *review_order_words(enum review_order order)
{
	static const char *const words[ORDER_TOTAL] = {
		[ORDER_WORST] = "", [ORDER_TREE] = "by tree", [ORDER_WORK] = "by kind of work"};
	return words[order];
}

enum review_order review_order_after(enum review_order order)
{
	return (enum review_order)((order + 1) % ORDER_TOTAL);
}

/* Equal ones keep the order of the review, worst first. */
static int compare_trees(const void *left, const void *right)
{
	const struct placed *a = left;
	const struct placed *b = right;
	const int labels = text_compare_natural(a->item->flag.label, b->item->flag.label);
	return labels != 0 ? labels : a->at - b->at;
}

/* What nothing settles was done already: it stands first. */
static int work_rank(const struct review_item *item)
{
	return item->flag.settles == KIND_TOTAL ? -1 : (int)item->flag.settles;
}

static int compare_work(const void *left, const void *right)
{
	const struct placed *a = left;
	const struct placed *b = right;
	const int kinds = work_rank(a->item) - work_rank(b->item);
	return kinds != 0 ? kinds : a->at - b->at;
}

static void put_in_order(struct review_state *state, struct arena *arena)
{
	const int32_t count = state->shown_count;
	struct placed *placed = arena_array(arena, (size_t)count + 1, sizeof placed[0]);
	int32_t sorted = 0;
	for (int32_t i = 0; i < count; i++)
		if (state->shown[i] != REVIEW_FOLD)
			placed[sorted++] = (struct placed){
				&state->review.items[state->shown[i]], state->shown[i]};
	qsort(placed, (size_t)sorted, sizeof placed[0],
		state->order == ORDER_TREE ? compare_trees : compare_work);
	for (int32_t i = 0; i < sorted; i++)
		state->shown[i] = placed[i].at;
	if (sorted < count)
		state->shown[sorted] = REVIEW_FOLD;
}

/* Notes are folded to one line where the first of them would stand. */
void review_list(struct review_state *state, struct arena *arena)
{
	const struct review *review = &state->review;
	state->shown = arena_array(arena, (size_t)review->count + 1, sizeof state->shown[0]);
	state->shown_count = 0;
	state->notes = 0;
	for (int32_t i = 0; i < review->count; i++) {
		bool folds = is_note(&review->items[i]) && !state->notes_open;
		if (state->order == ORDER_TREE)
			review->items[i].group = 1;
		state->notes += is_note(&review->items[i]);
		if (!folds && review->items[i].group == 0)
			continue; /* in the group of one before it */
		if (!folds)
			state->shown[state->shown_count++] = i;
		else if (state->notes == 1)
			state->shown[state->shown_count++] = REVIEW_FOLD;
	}
	if (state->order != ORDER_WORST)
		put_in_order(state, arena);
}
