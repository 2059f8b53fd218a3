/* SPDX-License-Identifier: MIT */
/* season_turn: by which day of the year SQL names the seasons of a tree or a spot. */
#include <string.h>

#include "core/text.h"
#include "dossier/inner.h"

enum { PAGE_TREES = 256 };

/* The facts that turns hang on, without the rest of a yard. */
static enum status open_settings(struct store *store, const struct almanac *almanac,
	struct arena *arena, struct yard *yard, struct fault *why)
{
	*yard = (struct yard){.store = store, .almanac = almanac, .arena = arena};
	/* a change that is dated ahead has its row too: SQL asks for no today */
	yard->today = date_add_days((struct date){0}, INT32_MAX / 2);
	enum status status = store_place_load(store, &yard->place, why);
	if (status == STATUS_OK)
		status = store_own_window_list(
			store, arena, &yard->own_windows, &yard->own_window_count, why);
	yard->climate = climate_of_place(&yard->place);
	return status;
}

/* Only what SQL sees: turns that differ in the harvest alone are one row. */
static bool same_turn(const struct season_turn *a, const struct season_turn *b)
{
	return a->turn.month == b->turn.month && a->turn.day == b->turn.day &&
	       a->years_add == b->years_add && a->crosses == b->crosses;
}

struct turns {
	struct season_turn items[ERAS_MAX + 1];
	int32_t count;
};

static void turns_of_eras(
	const struct subject *subject, const struct era *eras, int32_t count, struct turns *out)
{
	out->count = 0;
	for (int32_t i = 0; i < count; i++) {
		struct season_turn turn = {
			.subject = *subject,
			.from = eras[i].from,
			.turn = eras[i].rule.turn,
			.years_add = eras[i].rule.years_add,
			.crosses = eras[i].rule.crosses,
		};
		if (out->count > 0 && same_turn(&out->items[out->count - 1], &turn))
			continue;
		if (out->count > 0)
			out->items[out->count - 1].to = turn.from;
		out->items[out->count++] = turn;
	}
}

static enum status work_out(const struct yard *yard, struct arena *arena,
	const struct subject *subject, struct turns *out, struct fault *why)
{
	struct era eras[ERAS_MAX + 1];
	struct identity *identities;
	int32_t count = 0;
	enum status status;
	if (subject->kind == SUBJECT_SPOT) {
		status = eras_of_spot(yard, subject->id, arena, eras, &count, why);
	} else {
		status = store_identity_list(
			yard->store, subject->id, arena, &identities, &count, why);
		if (status == STATUS_OK)
			count = eras_of_tree(
				yard, identities, count, subject->id, yard->today, eras);
	}
	if (status == STATUS_OK)
		turns_of_eras(subject, eras, count, out);
	return status;
}

static struct subject subject_of(enum subject_kind kind, const char *id)
{
	struct subject subject = {.kind = kind};
	text_copy(subject.id, sizeof subject.id, id);
	return subject;
}

static enum status put_subject(const struct yard *yard, struct arena *arena, enum subject_kind kind,
	const char *id, struct fault *why)
{
	struct turns turns;
	struct subject subject = subject_of(kind, id);
	enum status status = work_out(yard, arena, &subject, &turns, why);
	return status == STATUS_OK
		       ? store_season_turn_put(yard->store, turns.items, turns.count, why)
		       : status;
}

/* Was anything ever picked or lost off the spot as one? Else SQL never asks for its seasons. */
static enum status is_picked_as_one(const struct yard *yard, struct arena *arena,
	const char *spot_id, bool *out, struct fault *why)
{
	static const enum entry_kind kinds[] = {KIND_PICK, KIND_LOSS};
	enum status status = STATUS_OK;
	*out = false;
	for (int i = 0; status == STATUS_OK && !*out && i < 2; i++) {
		struct entry_query query = {.subject_id = spot_id,
			.kind_given = true,
			.kind = kinds[i],
			.planned = 0,
			.most = 1};
		struct entry *entries;
		int32_t count = 0;
		status = store_entry_list(yard->store, &query, arena, &entries, &count, why);
		*out = count > 0;
	}
	return status;
}

/* Every spot the tree stands or stood in that was picked as one. */
static enum status put_spots_of(
	const struct yard *yard, struct arena *arena, const char *tree_id, struct fault *why)
{
	struct tree_place *places;
	int32_t count;
	enum status status =
		store_tree_place_list(yard->store, tree_id, NULL, arena, &places, &count, why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		bool picked = false;
		status = is_picked_as_one(yard, arena, places[i].spot_id, &picked, why);
		if (status == STATUS_OK && picked)
			status = put_subject(yard, arena, SUBJECT_SPOT, places[i].spot_id, why);
	}
	return status;
}

enum status yard_put_turns(
	struct store *store, const struct almanac *almanac, const char *tree_id, struct fault *why)
{
	struct arena *arena = arena_new();
	struct yard yard;
	enum status status = open_settings(store, almanac, arena, &yard, why);
	if (status == STATUS_OK)
		status = put_subject(&yard, arena, SUBJECT_TREE, tree_id, why);
	if (status == STATUS_OK)
		status = put_spots_of(&yard, arena, tree_id, why);
	arena_free(arena);
	return status;
}

enum status yard_put_spot_turns(
	struct store *store, const struct almanac *almanac, const char *spot_id, struct fault *why)
{
	struct arena *arena = arena_new();
	struct yard yard;
	enum status status = open_settings(store, almanac, arena, &yard, why);
	if (status == STATUS_OK)
		status = put_subject(&yard, arena, SUBJECT_SPOT, spot_id, why);
	arena_free(arena);
	return status;
}

/* What is done with each tree, then each spot. */
struct round {
	enum status (*visit)(const struct yard *yard, struct arena *scratch,
		const struct subject *subject, void *owner, struct fault *why);
	void *owner;
};

static enum status every_tree(const struct yard *yard, const struct round *round, struct fault *why)
{
	struct arena *page = arena_new();
	struct arena *scratch = arena_new();
	struct tree_query query = {.gone_too = true, .most = PAGE_TREES};
	enum status status = STATUS_OK;
	int32_t count = PAGE_TREES;
	while (status == STATUS_OK && count == PAGE_TREES) {
		struct tree *trees;
		status = store_tree_list(yard->store, &query, page, &trees, &count, why);
		for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
			struct subject subject = subject_of(SUBJECT_TREE, trees[i].id);
			text_copy(subject.label, sizeof subject.label, trees[i].label);
			status = round->visit(yard, scratch, &subject, round->owner, why);
			arena_reset(scratch);
		}
		query.offset += PAGE_TREES;
		arena_reset(page);
	}
	arena_free(scratch);
	arena_free(page);
	return status;
}

static enum status every_spot(
	const struct yard *yard, struct arena *arena, const struct round *round, struct fault *why)
{
	struct arena *scratch = arena_new();
	struct spot *spots;
	int32_t count;
	enum status status = store_spot_list(yard->store, arena, &spots, &count, why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		struct subject subject = subject_of(SUBJECT_SPOT, spots[i].id);
		text_copy(subject.label, sizeof subject.label, spots[i].name);
		status = round->visit(yard, scratch, &subject, round->owner, why);
		arena_reset(scratch);
	}
	arena_free(scratch);
	return status;
}

static enum status every_subject(struct store *store, const struct almanac *almanac,
	const struct round *round, struct fault *why)
{
	struct arena *arena = arena_new();
	struct yard yard;
	enum status status = open_settings(store, almanac, arena, &yard, why);
	if (status == STATUS_OK)
		status = every_tree(&yard, round, why);
	if (status == STATUS_OK)
		status = every_spot(&yard, arena, round, why);
	arena_free(arena);
	return status;
}

static enum status visit_put(const struct yard *yard, struct arena *scratch,
	const struct subject *subject, void *owner, struct fault *why)
{
	bool asked_for = true;
	enum status status = STATUS_OK;
	(void)owner;
	if (subject->kind == SUBJECT_SPOT)
		status = is_picked_as_one(yard, scratch, subject->id, &asked_for, why);
	if (status != STATUS_OK || !asked_for)
		return status;
	return put_subject(yard, scratch, subject->kind, subject->id, why);
}

enum status yard_put_all_turns(
	struct store *store, const struct almanac *almanac, struct fault *why)
{
	const struct round round = {.visit = visit_put};
	return every_subject(store, almanac, &round, why);
}

/* --- checking --- */

static bool same_day(struct maybe_date a, struct maybe_date b)
{
	return a.known == b.known && (!a.known || a.value.day == b.value.day);
}

static bool turns_agree(const struct turns *turns, const struct season_turn *kept, int32_t count)
{
	bool agree = turns->count == count;
	for (int32_t i = 0; agree && i < count; i++)
		agree = same_turn(&turns->items[i], &kept[i]) &&
			same_day(turns->items[i].from, kept[i].from) &&
			same_day(turns->items[i].to, kept[i].to);
	return agree;
}

static enum status visit_check(const struct yard *yard, struct arena *scratch,
	const struct subject *subject, void *owner, struct fault *why)
{
	struct turns_checked *checked = owner;
	struct turns turns;
	struct season_turn *kept;
	int32_t count;
	enum status status = work_out(yard, scratch, subject, &turns, why);
	if (status == STATUS_OK)
		status = store_season_turn_list(yard->store, subject, scratch, &kept, &count, why);
	if (status != STATUS_OK)
		return status;
	checked->subjects++;
	if (turns_agree(&turns, kept, count))
		return STATUS_OK;
	if (subject->kind == SUBJECT_SPOT) {
		bool picked = false;
		status = is_picked_as_one(yard, scratch, subject->id, &picked, why);
		if (status != STATUS_OK || !picked)
			return status;
	}
	if (checked->differ++ == 0)
		text_copy(checked->first, sizeof checked->first, subject->label);
	return STATUS_OK;
}

enum status yard_check_turns(struct store *store, const struct almanac *almanac,
	struct turns_checked *out, struct fault *why)
{
	const struct round round = {.visit = visit_check, .owner = out};
	*out = (struct turns_checked){.subjects = 0};
	return every_subject(store, almanac, &round, why);
}
