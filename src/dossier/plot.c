/* SPDX-License-Identifier: MIT */
#include "dossier/plot.h"

#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "dossier/inner.h"

/* What the plot is made from. */
struct drafting {
	struct yard *yard;
	struct plot *plot;
	struct plot_spot *spots;
	const struct plot_spot **by_id;
	struct plot_tree *trees;
	struct tree_sizes sizes;
	const struct area *areas;
	int32_t area_count;
};

/* --- spots --- */

static const char *area_of(const struct drafting *drafting, const struct spot *spot)
{
	for (int32_t i = 0; spot->area_id[0] != '\0' && i < drafting->area_count; i++)
		if (strcmp(drafting->areas[i].id, spot->area_id) == 0)
			return arena_text(drafting->yard->arena, drafting->areas[i].name);
	return "";
}

static bool is_near(struct maybe_i64 um)
{
	return um.known && um.value >= -PLOT_FAR_UM && um.value <= PLOT_FAR_UM;
}

static int compare_spot_ids(const void *left, const void *right)
{
	const struct plot_spot *const *a = left;
	const struct plot_spot *const *b = right;
	return strcmp((*a)->spot->id, (*b)->spot->id);
}

static int compare_spot_id(const void *id, const void *item)
{
	const struct plot_spot *const *spot = item;
	return strcmp(id, (*spot)->spot->id);
}

static void draft_spots(struct drafting *drafting, const struct spot *spots, struct arena *scratch)
{
	int32_t count = drafting->plot->spot_count;
	drafting->spots =
		arena_array(drafting->yard->arena, (size_t)count + 1, sizeof *drafting->spots);
	drafting->by_id = arena_array(scratch, (size_t)count + 1, sizeof(const struct plot_spot *));
	for (int32_t i = 0; i < count; i++) {
		struct plot_spot *drawn = &drafting->spots[i];
		drawn->spot = &spots[i];
		drawn->area = area_of(drafting, &spots[i]);
		drawn->placed = spots[i].kind != SPOT_OFF_PLACE && is_near(spots[i].east_um) &&
				is_near(spots[i].north_um);
		if (drawn->placed)
			drawn->at = (struct plot_point){
				spots[i].east_um.value, spots[i].north_um.value};
		drafting->by_id[i] = drawn;
	}
	qsort(drafting->by_id, (size_t)count, sizeof drafting->by_id[0], compare_spot_ids);
	drafting->plot->spots = drafting->spots;
}

/* --- trees --- */

static int32_t spot_of(const struct drafting *drafting, const struct neighbour *who)
{
	const struct plot_spot *const *found = bsearch(who->spot_id, drafting->by_id,
		(size_t)drafting->plot->spot_count, sizeof drafting->by_id[0], compare_spot_id);
	return found == NULL ? -1 : (int32_t)(*found - drafting->spots);
}

static void measure(const struct drafting *drafting, struct plot_tree *tree)
{
	const struct date today = drafting->yard->today;
	const struct tree_size *spread =
		sizes_latest(&drafting->sizes, tree->who->tree_id, true, today);
	const struct tree_size *height =
		sizes_latest(&drafting->sizes, tree->who->tree_id, false, today);
	if (spread != NULL) {
		tree->spread_um = known_i64(spread->um);
		tree->spread_on = spread->day;
	}
	if (height != NULL)
		tree->height_um = known_i64(height->um);
}

static int compare_places(const void *left, const void *right)
{
	const struct plot_tree *a = left;
	const struct plot_tree *b = right;
	if (a->spot != b->spot) /* those in none come last */
		return (uint32_t)a->spot < (uint32_t)b->spot ? -1 : 1;
	int labels = text_compare_natural(a->who->label, b->who->label);
	return labels != 0 ? labels : strcmp(a->who->tree_id, b->who->tree_id);
}

/* Grafts behind their hosts, within one stretch of trees; those on no tree of it come last. */
static void gather_grafts(struct plot_tree *trees, int32_t count, struct arena *scratch)
{
	struct plot_tree *sorted = arena_array(scratch, (size_t)count + 1, sizeof *sorted);
	bool *taken = arena_array(scratch, (size_t)count + 1, sizeof *taken);
	int32_t placed = 0;
	memcpy(sorted, trees, (size_t)count * sizeof *sorted);
	for (int32_t i = 0; i < count; i++) {
		if (sorted[i].who->host_id[0] != '\0')
			continue;
		taken[i] = true;
		trees[placed++] = sorted[i];
		for (int32_t j = 0; j < count; j++)
			if (strcmp(sorted[j].who->host_id, sorted[i].who->tree_id) == 0) {
				taken[j] = true;
				trees[placed++] = sorted[j];
			}
	}
	for (int32_t i = 0; i < count; i++)
		if (!taken[i])
			trees[placed++] = sorted[i];
}

static bool has_graft(const struct plot_tree *trees, int32_t count)
{
	for (int32_t i = 0; i < count; i++)
		if (trees[i].who->host_id[0] != '\0')
			return true;
	return false;
}

static void settle_in_spots(struct drafting *drafting, struct arena *scratch)
{
	int32_t count = drafting->plot->tree_count;
	for (int32_t first = 0, next; first < count; first = next) {
		struct plot_tree *trees = &drafting->trees[first];
		for (next = first; next < count; next++)
			if (drafting->trees[next].spot != trees->spot)
				break;
		if (trees->spot < 0)
			return;
		drafting->spots[trees->spot].first = first;
		drafting->spots[trees->spot].count = next - first;
		if (has_graft(trees, next - first))
			gather_grafts(trees, next - first, scratch);
	}
}

static void draft_trees(struct drafting *drafting, struct arena *scratch)
{
	struct yard *yard = drafting->yard;
	int32_t count = yard->neighbour_count;
	drafting->trees = arena_array(yard->arena, (size_t)count + 1, sizeof *drafting->trees);
	for (int32_t i = 0; i < count; i++) {
		struct plot_tree *tree = &drafting->trees[i];
		tree->who = &yard->neighbours[i];
		tree->spot = spot_of(drafting, tree->who);
		if (tree->who->host_id[0] == '\0')
			measure(drafting, tree);
	}
	qsort(drafting->trees, (size_t)count, sizeof *drafting->trees, compare_places);
	drafting->plot->trees = drafting->trees;
	drafting->plot->tree_count = count;
	settle_in_spots(drafting, scratch);
}

/* --- lines --- */

static bool are_near(const struct plot_point *points, int32_t count)
{
	for (int32_t i = 0; i < count; i++)
		if (!is_near(known_i64(points[i].east_um)) ||
			!is_near(known_i64(points[i].north_um)))
			return false;
	return count > 0;
}

static void draft_lines(
	struct drafting *drafting, const struct obstacle *obstacles, int32_t obstacle_count)
{
	static const char *const kinds[] = {"wall", "house", "gate", "line"};
	struct arena *arena = drafting->yard->arena;
	struct plot_line *lines = arena_array(arena, (size_t)obstacle_count + 1, sizeof *lines);
	for (int32_t i = 0; i < obstacle_count; i++) {
		struct plot_line *line = &lines[drafting->plot->line_count];
		line->points = points_read(obstacles[i].points, arena, &line->point_count);
		if (!are_near(line->points, line->point_count))
			continue;
		text_copy(line->name, sizeof line->name, obstacles[i].name);
		for (int kind = 0; kind <= PLOT_LINE; kind++)
			if (strcmp(obstacles[i].kind, kinds[kind]) == 0)
				line->kind = (enum plot_line_kind)kind;
		drafting->plot->line_count++;
	}
	drafting->plot->lines = lines;
}

/* --- all of it --- */

static enum status draft(struct drafting *drafting, struct arena *scratch, struct fault *why)
{
	struct yard *yard = drafting->yard;
	struct area *areas = NULL;
	struct obstacle *obstacles = NULL;
	struct tree_size *sizes = NULL;
	int32_t obstacle_count = 0;
	enum status status = around_load(yard, why);
	if (status == STATUS_OK)
		status = spots_load(yard, why);
	if (status == STATUS_OK)
		status = store_area_list(yard->store, scratch, &areas, &drafting->area_count, why);
	if (status == STATUS_OK)
		status =
			store_obstacle_list(yard->store, scratch, &obstacles, &obstacle_count, why);
	if (status == STATUS_OK)
		status = store_tree_size_list(
			yard->store, scratch, &sizes, &drafting->sizes.count, why);
	if (status != STATUS_OK)
		return status;
	drafting->areas = areas;
	drafting->sizes.items = sizes;
	drafting->plot->spot_count = yard->spot_count;
	draft_spots(drafting, yard->spots, scratch);
	draft_trees(drafting, scratch);
	draft_lines(drafting, obstacles, obstacle_count);
	return STATUS_OK;
}

enum status yard_plot(struct yard *yard, const struct plot **out, struct fault *why)
{
	enum status status = STATUS_OK;
	if (yard->plot == NULL) {
		struct arena *scratch = arena_new();
		struct plot *plot = arena_alloc(yard->arena, sizeof *plot);
		struct drafting drafting = {.yard = yard, .plot = plot};
		status = draft(&drafting, scratch, why);
		arena_free(scratch);
		if (status == STATUS_OK)
			yard->plot = plot;
	}
	*out = yard->plot;
	return status;
}

struct plot_point plot_line_middle(const struct plot_line *line)
{
	struct plot_point middle = {0, 0};
	for (int32_t i = 0; i < line->point_count; i++) {
		middle.east_um += line->points[i].east_um / line->point_count;
		middle.north_um += line->points[i].north_um / line->point_count;
	}
	return middle;
}

struct plot_point plot_gate(const struct plot *plot, bool *drawn)
{
	*drawn = false;
	for (int32_t i = 0; i < plot->line_count; i++)
		if (plot->lines[i].kind == PLOT_GATE) {
			*drawn = true;
			return plot_line_middle(&plot->lines[i]);
		}
	return (struct plot_point){0, 0};
}
