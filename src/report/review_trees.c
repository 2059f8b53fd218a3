/* SPDX-License-Identifier: MIT */
/* Which trees of a review are done. */
#include <string.h>

#include "review_inner.h"
#include "store/kept.h"

static int32_t *place_of(const struct trees *trees, const char *tree_id)
{
	uint64_t mix = 1469598103934665603U; /* FNV-1a */
	for (const char *at = tree_id; *at != '\0'; at++)
		mix = (mix ^ (unsigned char)*at) * 1099511628211U;
	size_t place = mix % trees->room;
	while (trees->table[place] != 0 &&
		strcmp(trees->ids[trees->table[place] - 1], tree_id) != 0)
		place = (place + 1) % trees->room;
	return &trees->table[place];
}

enum status trees_load(
	struct store *store, struct arena *arena, struct trees *out, struct fault *why)
{
	*out = (struct trees){.count = 0};
	enum status status = store_kept_trees(store, arena, &out->ids, &out->count, why);
	if (status != STATUS_OK)
		return status;
	out->done = arena_array(arena, (size_t)out->count + 1, sizeof *out->done);
	out->room = 2 * (size_t)out->count + 1;
	out->table = arena_array(arena, out->room, sizeof *out->table);
	for (int32_t i = 0; i < out->count; i++)
		*place_of(out, out->ids[i]) = i + 1;
	return STATUS_OK;
}

bool *trees_done(const struct trees *trees, const char *tree_id)
{
	const int32_t place = *place_of(trees, tree_id);
	return place == 0 ? NULL : &trees->done[place - 1];
}
