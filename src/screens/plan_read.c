/* SPDX-License-Identifier: MIT */
/* The plan's screen: what there is to draw and to stand on, read once. */
#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "plan.h"

enum { JUNE = 6, DECEMBER = 12, SOLSTICE = 21 };

const struct plan_item *plan_selected(const struct plan_screen *plan)
{
	return plan->selected >= 0 && plan->selected < plan->item_count
		       ? &plan->items[plan->selected]
		       : NULL;
}

const struct plot_tree *plan_tree(const struct plan_screen *plan, const struct plan_item *item)
{
	return item == NULL || item->tree < 0 ? NULL : &plan->plot->trees[item->tree];
}

const struct plot_spot *plan_spot_at(const struct plan_screen *plan, const struct plan_item *item)
{
	return item == NULL || item->spot < 0 ? NULL : &plan->plot->spots[item->spot];
}

void plan_keep_id(struct plan_screen *plan)
{
	const struct plot_tree *tree = plan_tree(plan, plan_selected(plan));
	(void)text_copy(
		plan->kept_id, sizeof plan->kept_id, tree == NULL ? "" : tree->who->tree_id);
}

int32_t plan_item_find(const struct plan_screen *plan, const char *tree_id)
{
	for (int32_t i = 0; i < plan->plot->tree_count; i++)
		if (strcmp(plan->plot->trees[i].who->tree_id, tree_id) == 0)
			return plan->item_of_tree[i];
	return -1;
}

/* --- items --- */

struct named {
	const struct plot_tree *tree;
	int32_t place;
};

static int compare_names(const void *left, const void *right)
{
	const struct named *a = left;
	const struct named *b = right;
	const int labels = text_compare_natural(a->tree->who->label, b->tree->who->label);
	return labels != 0 ? labels : (a->place > b->place) - (a->place < b->place);
}

static void list_items(struct plan_screen *plan, struct arena *arena)
{
	const struct plot *plot = plan->plot;
	const size_t trees = (size_t)plot->tree_count;
	const size_t spots = (size_t)plot->spot_count;
	struct named *named = arena_array(arena, trees + 1, sizeof *named);
	struct plan_item *items = arena_array(arena, trees + spots + 1, sizeof *items);
	int32_t *of_tree = arena_array(arena, trees + 1, sizeof *of_tree);
	int32_t *of_spot = arena_array(arena, spots + 1, sizeof *of_spot);
	for (int32_t i = 0; i < plot->tree_count; i++)
		named[i] = (struct named){&plot->trees[i], i};
	qsort(named, trees, sizeof *named, compare_names);
	for (int32_t i = 0; i < plot->tree_count; i++) {
		items[i] = (struct plan_item){named[i].place, named[i].tree->spot};
		of_tree[named[i].place] = i;
	}
	plan->item_count = plot->tree_count;
	for (int32_t i = 0; i < plot->spot_count; i++) {
		of_spot[i] =
			plot->spots[i].count > 0 ? of_tree[plot->spots[i].first] : plan->item_count;
		if (plot->spots[i].count == 0)
			items[plan->item_count++] = (struct plan_item){-1, i};
	}
	plan->items = items;
	plan->item_of_tree = of_tree;
	plan->item_of_spot = of_spot;
	plan->unplaced = 0;
	for (int32_t i = 0; i < plan->item_count; i++) {
		const struct plot_spot *spot = plan_spot_at(plan, &items[i]);
		plan->unplaced += spot == NULL || !spot->placed ? 1 : 0;
	}
}

/* --- where they are --- */

static void place_points(struct plan_screen *plan, struct arena *arena)
{
	const struct plot *plot = plan->plot;
	struct plot_point *points =
		arena_array(arena, (size_t)plot->spot_count + 1, sizeof *points);
	int32_t count = 0;
	plan->spot_of_point =
		arena_array(arena, (size_t)plot->spot_count + 1, sizeof plan->spot_of_point[0]);
	plan->widest_um = 0;
	for (int32_t i = 0; i < plot->spot_count; i++) {
		if (!plot->spots[i].placed)
			continue;
		plan->spot_of_point[count] = i;
		points[count++] = plot->spots[i].at;
	}
	for (int32_t i = 0; i < plot->tree_count; i++)
		if (plot->trees[i].spread_um.known &&
			plot->trees[i].spread_um.value / 2 > plan->widest_um)
			plan->widest_um = plot->trees[i].spread_um.value / 2;
	plan_near_make(points, count, arena, &plan->near);
}

static void bound_areas(struct plan_screen *plan, struct arena *arena)
{
	const struct plot *plot = plan->plot;
	struct plan_area *areas = arena_array(arena, (size_t)plot->spot_count + 1, sizeof *areas);
	plan->area_count = 0;
	for (int32_t i = 0; i < plot->spot_count; i++) {
		const struct plot_spot *spot = &plot->spots[i];
		int32_t at = 0;
		if (!spot->placed || spot->area[0] == '\0')
			continue;
		while (at < plan->area_count && strcmp(areas[at].name, spot->area) != 0)
			at++;
		if (at == plan->area_count)
			areas[plan->area_count++] =
				(struct plan_area){spot->area, plan_bounds_of(&spot->at)};
		plan_bounds_widen(&areas[at].bounds, &spot->at);
	}
	plan->areas = areas;
}

static void bound_all(struct plan_screen *plan)
{
	bool any = plan->near.count > 0;
	plan->all = plan->near.all;
	for (int32_t i = 0; i < plan->plot->line_count; i++) {
		const struct plot_line *line = &plan->plot->lines[i];
		for (int32_t p = 0; p < line->point_count; p++) {
			const struct plot_point *at = &line->points[p];
			if (!any)
				plan->all = plan_bounds_of(at);
			any = true;
			plan_bounds_widen(&plan->all, at);
		}
	}
}

static void choose_longest(struct plan_screen *plan, const struct yard *yard)
{
	const struct place *place = yard_place(yard);
	const bool south = place->latitude_udeg.known && place->latitude_udeg.value < 0;
	plan->has_sun = place->latitude_udeg.known;
	plan->longest = date_of_month_day(date_parts(yard_today(yard)).year,
		(struct month_day){(int8_t)(south ? DECEMBER : JUNE), SOLSTICE});
}

/* The yard of the session, or one of its own for a day that is past. */
static enum status yard_of_day(
	struct plan_screen *plan, struct context *context, struct yard **out, struct fault *why)
{
	const struct session *session = context->session;
	const struct date_parts today = date_parts(yard_today(session->yard));
	*out = session->yard;
	plan->day = yard_today(session->yard);
	if (plan->years_back == 0)
		return STATUS_OK;
	plan->day = date_of_month_day(today.year - plan->years_back,
		(struct month_day){.month = (int8_t)today.month, .day = (int8_t)today.day});
	enum status status =
		yard_open(session->store, session->almanac, plan->day, context->arena, out, why);
	if (status == STATUS_OK)
		yard_look_back(*out);
	return status;
}

enum status plan_read(
	struct plan_screen *plan, struct context *context, const char *tree_id, struct fault *why)
{
	struct yard *yard = NULL;
	enum status status = yard_of_day(plan, context, &yard, why);
	if (status == STATUS_OK)
		status = yard_plot(yard, &plan->plot, why);
	if (status != STATUS_OK)
		return status;
	plan->units = context->session->units;
	choose_longest(plan, context->session->yard);
	list_items(plan, context->arena);
	place_points(plan, context->arena);
	bound_areas(plan, context->arena);
	bound_all(plan);
	plan->sights = arena_array(
		context->arena, (size_t)plan->plot->tree_count + 1, sizeof plan->sights[0]);
	plan->partners_of = -1;
	plan->facts = (struct plan_facts){.known = false};
	const int32_t found = tree_id[0] == '\0' ? -1 : plan_item_find(plan, tree_id);
	if (found >= 0)
		plan->selected = found;
	if (plan->selected >= plan->item_count)
		plan->selected = plan->item_count > 0 ? plan->item_count - 1 : 0;
	plan_keep_id(plan);
	return STATUS_OK;
}
