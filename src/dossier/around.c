/* SPDX-License-Identifier: MIT */
/* Who stands around a tree, and who stood in its place before. */
#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "dossier/inner.h"

/* The list of neighbours while it is made. */
struct census {
	const struct yard *yard;
	struct neighbour *out;
	int32_t count;
	int32_t most;
};

static enum status count_tree(void *context, const struct standing_tree *tree, struct fault *why)
{
	struct census *census = context;
	(void)why;
	if (census->count == census->most)
		return STATUS_END;
	struct neighbour *out = &census->out[census->count++];
	memcpy(out->tree_id, tree->tree_id, sizeof out->tree_id);
	memcpy(out->host_id, tree->host_id, sizeof out->host_id);
	memcpy(out->spot_id, tree->spot_id, sizeof out->spot_id);
	memcpy(out->label, tree->label, sizeof out->label);
	out->over_fence = tree->over_fence;
	out->planted = tree->planted;
	out->east_um = tree->east_um;
	out->north_um = tree->north_um;
	out->off_place = tree->off_place;
	out->kind = kind_on(
		census->yard->almanac, tree->identities, tree->identity_count, census->yard->today);
	return STATUS_OK;
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
	const struct tree_query all = {.gone_too = yard->looks_back};
	struct census census = {.yard = yard};
	enum status status = store_tree_count(yard->store, &all, &census.most, why);
	if (status != STATUS_OK)
		return status;
	census.out = arena_array(yard->arena, (size_t)census.most + 1, sizeof *census.out);
	status = yard->looks_back ? stood_each(yard, count_tree, &census, why)
				  : store_standing_each(yard->store, count_tree, &census, why);
	if (status != STATUS_OK)
		return status;
	qsort(census.out, (size_t)census.count, sizeof *census.out, compare_kinds);
	yard->neighbours = census.out;
	yard->neighbour_count = census.count;
	return STATUS_OK;
}

enum status yard_standing(
	struct yard *yard, const struct neighbour **out, int32_t *count, struct fault *why)
{
	enum status status = around_load(yard, why);
	*out = yard->neighbours;
	*count = yard->neighbour_count;
	return status;
}

/* Lists grow in the scratch, which lets go of what was too small. */
enum status spots_load(struct yard *yard, struct fault *why)
{
	struct spot *spots = NULL;
	int32_t count = 0;
	if (yard->spots != NULL)
		return STATUS_OK;
	struct arena *scratch = arena_new();
	const enum status status = store_spot_list(yard->store, scratch, &spots, &count, why);
	if (status == STATUS_OK) {
		struct spot *kept = arena_array(yard->arena, (size_t)count + 1, sizeof *kept);
		if (count > 0)
			memcpy(kept, spots, (size_t)count * sizeof *kept);
		yard->spots = kept;
		yard->spot_count = count;
	}
	arena_free(scratch);
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
