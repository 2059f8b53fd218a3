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
	yard->today = clock_today(store_clock(store));
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

static enum status put_eras(const struct yard *yard, enum subject_kind kind, const char *id,
	const struct era *eras, int32_t count, struct fault *why)
{
	struct season_turn turns[ERAS_MAX + 1];
	int32_t kept = 0;
	for (int32_t i = 0; i < count; i++) {
		struct season_turn turn = {
			.subject.kind = kind,
			.from = eras[i].from,
			.turn = eras[i].rule.turn,
			.years_add = eras[i].rule.years_add,
			.crosses = eras[i].rule.crosses,
		};
		text_copy(turn.subject.id, sizeof turn.subject.id, id);
		if (kept > 0 && same_turn(&turns[kept - 1], &turn))
			continue;
		if (kept > 0)
			turns[kept - 1].to = turn.from;
		turns[kept++] = turn;
	}
	return store_season_turn_put(yard->store, turns, kept, why);
}

static enum status put_tree(
	const struct yard *yard, struct arena *arena, const char *tree_id, struct fault *why)
{
	struct identity *identities;
	int32_t count;
	enum status status =
		store_identity_list(yard->store, tree_id, arena, &identities, &count, why);
	if (status != STATUS_OK)
		return status;
	struct era eras[ERAS_MAX + 1];
	count = eras_of_tree(yard, identities, count, tree_id, yard->today, eras);
	return put_eras(yard, SUBJECT_TREE, tree_id, eras, count, why);
}

static enum status put_spot(
	const struct yard *yard, struct arena *arena, const char *spot_id, struct fault *why)
{
	struct era eras[ERAS_MAX + 1];
	int32_t count;
	enum status status = eras_of_spot(yard, spot_id, arena, eras, &count, why);
	if (status != STATUS_OK)
		return status;
	return put_eras(yard, SUBJECT_SPOT, spot_id, eras, count, why);
}

/* Every spot the tree stands or stood in. */
static enum status put_spots_of(
	const struct yard *yard, struct arena *arena, const char *tree_id, struct fault *why)
{
	struct tree_place *places;
	int32_t count;
	enum status status =
		store_tree_place_list(yard->store, tree_id, NULL, arena, &places, &count, why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		if (places[i].spot_id[0] != '\0')
			status = put_spot(yard, arena, places[i].spot_id, why);
	return status;
}

enum status yard_put_turns(
	struct store *store, const struct almanac *almanac, const char *tree_id, struct fault *why)
{
	struct arena *arena = arena_new();
	struct yard yard;
	enum status status = open_settings(store, almanac, arena, &yard, why);
	if (status == STATUS_OK)
		status = put_tree(&yard, arena, tree_id, why);
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
		status = put_spot(&yard, arena, spot_id, why);
	arena_free(arena);
	return status;
}

static enum status put_every_tree(const struct yard *yard, struct fault *why)
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
			status = put_tree(yard, scratch, trees[i].id, why);
			arena_reset(scratch);
		}
		query.offset += PAGE_TREES;
		arena_reset(page);
	}
	arena_free(scratch);
	arena_free(page);
	return status;
}

static enum status put_every_spot(const struct yard *yard, struct arena *arena, struct fault *why)
{
	struct arena *scratch = arena_new();
	struct spot *spots;
	int32_t count;
	enum status status = store_spot_list(yard->store, arena, &spots, &count, why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		status = put_spot(yard, scratch, spots[i].id, why);
		arena_reset(scratch);
	}
	arena_free(scratch);
	return status;
}

enum status yard_put_all_turns(
	struct store *store, const struct almanac *almanac, struct fault *why)
{
	struct arena *arena = arena_new();
	struct yard yard;
	enum status status = open_settings(store, almanac, arena, &yard, why);
	if (status == STATUS_OK)
		status = put_every_tree(&yard, why);
	if (status == STATUS_OK)
		status = put_every_spot(&yard, arena, why);
	arena_free(arena);
	return status;
}
