/* SPDX-License-Identifier: MIT */
/* Who stands around a tree, and who stood in its place before. */
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "dossier/inner.h"

enum { TREES_A_PAGE = 256 };

/* What the list of neighbours is made from. */
struct census {
	const struct yard *yard;
	const struct spot **spots; /* by id */
	int32_t spot_count;
	const struct identity *identities; /* by tree */
	int32_t identity_count;
};

static int compare_spots(const void *left, const void *right)
{
	const struct spot *const *a = left;
	const struct spot *const *b = right;
	return strcmp((*a)->id, (*b)->id);
}

static int compare_spot_id(const void *id, const void *item)
{
	const struct spot *const *spot = item;
	return strcmp(id, (*spot)->id);
}

static enum status take_census(
	struct yard *yard, struct arena *arena, struct census *census, struct fault *why)
{
	struct spot *spots;
	struct identity *identities;
	enum status status = store_spot_list(yard->store, arena, &spots, &census->spot_count, why);
	if (status == STATUS_OK)
		status = store_identity_list(
			yard->store, NULL, arena, &identities, &census->identity_count, why);
	if (status != STATUS_OK)
		return status;
	census->spots =
		arena_array(arena, (size_t)census->spot_count + 1, sizeof(const struct spot *));
	for (int32_t i = 0; i < census->spot_count; i++)
		census->spots[i] = &spots[i];
	qsort(census->spots, (size_t)census->spot_count, sizeof census->spots[0], compare_spots);
	census->identities = identities;
	return STATUS_OK;
}

static struct tree_kind kind_in(const struct census *census, const char *tree_id)
{
	int32_t first = first_of_tree(census->identities, sizeof census->identities[0],
		offsetof(struct identity, tree_id), census->identity_count, tree_id);
	int32_t last = first;
	while (last < census->identity_count &&
		strcmp(census->identities[last].tree_id, tree_id) == 0)
		last++;
	return kind_on(census->yard->almanac, census->identities + first, last - first,
		census->yard->today);
}

static void place_in_spot(const struct census *census, struct neighbour *neighbour)
{
	const struct spot *const *found = bsearch(neighbour->spot_id, census->spots,
		(size_t)census->spot_count, sizeof census->spots[0], compare_spot_id);
	if (found == NULL)
		return;
	neighbour->east_um = (*found)->east_um;
	neighbour->north_um = (*found)->north_um;
	neighbour->off_place = (*found)->kind == SPOT_OFF_PLACE;
}

static void count_tree(const struct census *census, const struct tree *tree, struct neighbour *out)
{
	memcpy(out->tree_id, tree->id, sizeof out->tree_id);
	memcpy(out->host_id, tree->host_id, sizeof out->host_id);
	memcpy(out->spot_id, tree->spot_id, sizeof out->spot_id);
	memcpy(out->label, tree->label, sizeof out->label);
	out->over_fence = tree->over_fence;
	out->planted = tree->planted;
	out->kind = kind_in(census, tree->id);
	place_in_spot(census, out);
}

static enum status count_trees(const struct census *census, struct arena *page,
	struct neighbour *out, int32_t most, int32_t *counted, struct fault *why)
{
	struct tree_query query = {.most = TREES_A_PAGE};
	enum status status = STATUS_OK;
	int32_t count = TREES_A_PAGE;
	*counted = 0;
	while (status == STATUS_OK && count == TREES_A_PAGE) {
		struct tree *trees;
		arena_reset(page);
		status = store_tree_list(census->yard->store, &query, page, &trees, &count, why);
		for (int32_t i = 0; status == STATUS_OK && i < count && *counted < most; i++)
			count_tree(census, &trees[i], &out[(*counted)++]);
		query.offset += TREES_A_PAGE;
	}
	return status;
}

static const char *species_key(const struct neighbour *neighbour)
{
	return neighbour->kind.species == NULL ? "" : neighbour->kind.species->key;
}

/* By kind, then in the natural order of labels: what lists them needs no sorting of its own. */
static int compare_kinds(const void *left, const void *right)
{
	const struct neighbour *a = left;
	const struct neighbour *b = right;
	int kinds = strcmp(species_key(a), species_key(b));
	if (kinds != 0)
		return kinds;
	int labels = text_compare_natural(a->label, b->label);
	return labels != 0 ? labels : strcmp(a->tree_id, b->tree_id);
}

enum status around_load(struct yard *yard, struct fault *why)
{
	if (yard->neighbours != NULL)
		return STATUS_OK;
	struct arena *arena = arena_new();
	struct arena *page = arena_new();
	struct census census = {.yard = yard};
	struct tree_query all = {0};
	int32_t count = 0;
	enum status status = take_census(yard, arena, &census, why);
	if (status == STATUS_OK)
		status = store_tree_count(yard->store, &all, &count, why);
	struct neighbour *neighbours =
		arena_array(yard->arena, (size_t)count + 1, sizeof *neighbours);
	if (status == STATUS_OK)
		status = count_trees(&census, page, neighbours, count, &yard->neighbour_count, why);
	if (status == STATUS_OK) {
		qsort(neighbours, (size_t)yard->neighbour_count, sizeof *neighbours, compare_kinds);
		yard->neighbours = neighbours;
	}
	arena_free(page);
	arena_free(arena);
	return status;
}

/* --- who stood here before --- */

static enum status tell_tenant(const struct telling *telling, const struct tree_place *place,
	struct tenant *tenant, struct fault *why)
{
	struct yard *yard = telling->yard;
	struct identity *identities;
	int32_t count;
	enum status status = store_tree_load(yard->store, place->tree_id, &tenant->tree, why);
	if (status == STATUS_OK)
		status = store_identity_list(
			yard->store, place->tree_id, telling->arena, &identities, &count, why);
	if (status != STATUS_OK)
		return status;
	tenant->from = place->from;
	tenant->to = place->to;
	struct date end = place->to.known ? place->to.value : telling->today;
	tenant->kind = kind_on(yard->almanac, identities, count, end);
	return STATUS_OK;
}

enum status around_tell_tenants(const struct telling *telling, const char *spot_id,
	struct dossier *dossier, struct fault *why)
{
	struct tree_place *places;
	int32_t count;
	enum status status = store_tree_place_list(
		telling->yard->store, NULL, spot_id, telling->arena, &places, &count, why);
	if (status != STATUS_OK || count <= 1)
		return status;
	struct tenant *tenants = arena_array(telling->arena, (size_t)count, sizeof *tenants);
	int32_t told = 0;
	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		if (strcmp(places[i].tree_id, dossier->tree.id) == 0)
			continue;
		status = tell_tenant(telling, &places[i], &tenants[told], why);
		if (status == STATUS_OK)
			told++;
	}
	dossier->tenants = tenants;
	dossier->tenant_count = told;
	return status;
}
