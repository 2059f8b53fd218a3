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

/* Those that stood on the yard's day. */
struct standing_visit {
	struct yard *yard;
	enum status (*visit)(void *context, const struct standing_tree *tree, struct fault *why);
	void *context;
};

static enum status visit_standing(
	void *context, const struct tree *tree, struct arena *arena, struct fault *why)
{
	const struct standing_visit *standing = context;
	struct standing_tree one = {.spot_id = ""};
	if (!stood(tree, standing->yard->today))
		return STATUS_OK;
	enum status status = tell_one(standing->yard, tree, arena, &one, why);
	return status == STATUS_OK ? standing->visit(standing->context, &one, why) : status;
}

enum status stood_each(struct yard *yard,
	enum status (*visit)(void *context, const struct standing_tree *tree, struct fault *why),
	void *context, struct fault *why)
{
	struct standing_visit standing = {yard, visit, context};
	enum status status = store_tree_each(yard->store, visit_standing, &standing, why);
	return status == STATUS_END ? STATUS_OK : status;
}
