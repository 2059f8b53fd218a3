/* SPDX-License-Identifier: MIT */
#include "tree_cells.h"

#include <inttypes.h>
#include <string.h>

#include "core/text.h"

/* clang-format off */
const char *const tree_cell_names[TREE_CELLS + 1] = {
	[CELL_TREE] = "tree",
	[CELL_SPECIES] = "species",
	[CELL_SPECIES_SURE] = "species_sure",
	[CELL_CULTIVAR] = "cultivar",
	[CELL_CULTIVAR_SURE] = "cultivar_sure",
	[CELL_PLANTED] = "planted",
	[CELL_GONE] = "gone",
	[CELL_HOST] = "host",
	[CELL_SPOT] = "spot",
	[CELL_ID] = "id",
	[CELL_AREA] = "area",
	[CELL_EAST] = "east_um",
	[CELL_NORTH] = "north_um",
	[CELL_HOW] = "how",
	[CELL_PARENT] = "parent",
	[CELL_BATCH] = "batch",
	[CELL_ROOTSTOCK] = "rootstock",
	[CELL_TARGET_HEIGHT] = "target_height_um",
	[CELL_HAZARD] = "hazard",
	[CELL_OVER_FENCE] = "over_fence",
	[CELL_PRIVATE] = "private",
	[CELL_GONE_REASON] = "gone_reason",
	[CELL_NOTE] = "note",
};
/* clang-format on */

static const char *number_text(struct arena *arena, struct maybe_i64 number)
{
	return number.known ? arena_format(arena, "%" PRId64, number.value) : "";
}

/* How another tree is called; "" none. */
static const char *title_of(struct store *store, const char *id, struct arena *arena)
{
	struct tree tree;
	char title[TREE_TITLE_SIZE];

	if (id[0] == '\0' || store_tree_load(store, id, &tree, NULL) != STATUS_OK)
		return "";
	return arena_text(arena, store_tree_title(&tree, title));
}

/* By keys, which are never in doubt; with a kind among them that the almanac lacks, by names. */
static const char *kind_text(const struct tree_kind *kind, struct arena *arena)
{
	struct text_builder keys = text_builder_in(arena);
	int32_t names = 1;

	if (kind->species != NULL)
		return kind->species->key;
	for (const char *at = strstr(kind->name, " or "); at != NULL; at = strstr(at + 1, " or "))
		names++;
	if (names != kind->candidate_count)
		return arena_text(arena, kind->name);
	for (int32_t i = 0; i < names; i++)
		text_add_format(&keys, "%s%s", i > 0 ? " or " : "", kind->candidates[i]->key);
	return keys.text;
}

static enum status read_kind(struct session *session, const struct tree *tree, struct arena *arena,
	const char *out[TREE_CELLS], struct fault *why)
{
	struct tree_kind kind;
	enum status status =
		yard_kind(session->yard, tree->id, yard_today(session->yard), &kind, why);

	if (status != STATUS_OK)
		return status;
	out[CELL_SPECIES] = kind_text(&kind, arena);
	out[CELL_SPECIES_SURE] = sure_key(kind.sure);
	out[CELL_CULTIVAR] = arena_text(arena, kind.cultivar);
	if (kind.cultivar[0] != '\0')
		out[CELL_CULTIVAR_SURE] = sure_key(kind.cultivar_sure);
	return STATUS_OK;
}

static enum status read_area(struct store *store, const char *id, struct arena *arena,
	const char **out, struct fault *why)
{
	struct area *areas = NULL;
	int32_t count = 0;
	enum status status = store_area_list(store, arena, &areas, &count, why);

	for (int32_t i = 0; i < count && status == STATUS_OK; i++)
		if (strcmp(areas[i].id, id) == 0)
			*out = areas[i].name;
	return status;
}

static enum status read_spot(struct store *store, const char *id, struct arena *arena,
	const char *out[TREE_CELLS], struct fault *why)
{
	struct spot spot;

	if (id[0] == '\0')
		return STATUS_OK;
	enum status status = store_spot_load(store, id, &spot, why);
	if (status != STATUS_OK)
		return status;
	out[CELL_SPOT] = arena_text(arena, spot.name);
	out[CELL_EAST] = number_text(arena, spot.east_um);
	out[CELL_NORTH] = number_text(arena, spot.north_um);
	return spot.area_id[0] == '\0'
		       ? STATUS_OK
		       : read_area(store, spot.area_id, arena, &out[CELL_AREA], why);
}

enum status tree_cells_read(struct session *session, const struct tree *tree, struct arena *arena,
	const char *out[TREE_CELLS], struct fault *why)
{
	for (int i = 0; i < TREE_CELLS; i++)
		out[i] = "";
	out[CELL_TREE] = arena_text(arena, tree->label);
	out[CELL_PLANTED] = arena_text(arena, tree->planted.text);
	out[CELL_GONE] = arena_text(arena, tree->gone.text);
	out[CELL_HOST] = title_of(session->store, tree->host_id, arena);
	out[CELL_ID] = arena_text(arena, tree->id);
	out[CELL_HOW] = origin_key(tree->how);
	out[CELL_PARENT] = title_of(session->store, tree->parent_id, arena);
	out[CELL_BATCH] = arena_text(arena, tree->batch);
	out[CELL_ROOTSTOCK] = arena_text(arena, tree->rootstock);
	out[CELL_TARGET_HEIGHT] = number_text(arena, tree->target_height_um);
	out[CELL_HAZARD] = arena_text(arena, tree->hazard);
	out[CELL_OVER_FENCE] = tree->over_fence ? "1" : "0";
	out[CELL_PRIVATE] = tree->is_private ? "1" : "0";
	out[CELL_GONE_REASON] = arena_text(arena, tree->gone_reason);
	out[CELL_NOTE] = arena_text(arena, tree->note);
	enum status status = read_kind(session, tree, arena, out, why);
	return status == STATUS_OK ? read_spot(session->store, tree->spot_id, arena, out, why)
				   : status;
}
