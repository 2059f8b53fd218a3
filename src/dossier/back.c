/* SPDX-License-Identifier: MIT */
/* Who stood in the yard on a day that is past. */
#include <assert.h>
#include <string.h>

#include "dossier/inner.h"

void yard_look_back(struct yard *yard)
{
	assert(yard->neighbours == NULL);
	yard->looks_back = true;
}

static bool stood(const struct tree *tree, struct date day)
{
	const struct maybe_date gone = date_span_first(&tree->gone);
	return (tree->gone.text[0] == '\0' || (gone.known && gone.value.day > day.day)) &&
	       (!tree->planted.low.known || tree->planted.low.value.day <= day.day);
}

/* The spot it was in on the day, a graft's its host's; "" none. */
static enum status find_spot(struct yard *yard, const struct tree *tree, struct arena *arena,
	struct standing_tree *out, struct fault *why)
{
	const char *id = tree->host_id[0] != '\0' ? tree->host_id : tree->id;
	const int32_t day = yard->today.day;
	struct tree_place *places;
	int32_t count;
	struct spot spot;
	enum status status =
		store_tree_place_list(yard->store, id, NULL, arena, &places, &count, why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		if ((!places[i].from.known || places[i].from.value.day <= day) &&
			(!places[i].to.known || day < places[i].to.value.day))
			memcpy(out->spot_id, places[i].spot_id, sizeof out->spot_id);
	if (status != STATUS_OK || out->spot_id[0] == '\0' ||
		store_spot_load(yard->store, out->spot_id, &spot, NULL) != STATUS_OK)
		return status;
	out->east_um = spot.east_um;
	out->north_um = spot.north_um;
	out->off_place = spot.kind == SPOT_OFF_PLACE;
	return STATUS_OK;
}

static enum status tell_one(struct yard *yard, const struct tree *tree, struct arena *arena,
	struct standing_tree *out, struct fault *why)
{
	struct identity *identities = NULL;
	memcpy(out->tree_id, tree->id, sizeof out->tree_id);
	memcpy(out->host_id, tree->host_id, sizeof out->host_id);
	memcpy(out->label, tree->label, sizeof out->label);
	out->over_fence = tree->over_fence;
	out->planted = tree->planted;
	enum status status = find_spot(yard, tree, arena, out, why);
	if (status == STATUS_OK)
		status = store_identity_list(
			yard->store, tree->id, arena, &identities, &out->identity_count, why);
	out->identities = identities;
	return status;
}

enum status stood_each(struct yard *yard,
	enum status (*visit)(void *context, const struct standing_tree *tree, struct fault *why),
	void *context, struct fault *why)
{
	enum { TREES_A_PAGE = 256 };
	struct tree_query query = {.gone_too = true, .most = TREES_A_PAGE};
	struct arena *page = arena_new();
	enum status status = STATUS_OK;
	int32_t count = TREES_A_PAGE;
	while (status == STATUS_OK && count == TREES_A_PAGE) {
		struct tree *trees;
		arena_reset(page);
		status = store_tree_list(yard->store, &query, page, &trees, &count, why);
		for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
			struct standing_tree one = {.spot_id = ""};
			if (!stood(&trees[i], yard->today))
				continue;
			status = tell_one(yard, &trees[i], page, &one, why);
			if (status == STATUS_OK)
				status = visit(context, &one, why);
		}
		query.offset += TREES_A_PAGE;
	}
	arena_free(page);
	return status == STATUS_END ? STATUS_OK : status;
}
