/* SPDX-License-Identifier: MIT */
#include "dossier/ground.h"

#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "dossier/inner.h"

enum { HEAT_DECIC = 350 };

static const double um_in_m = 1e6;

/* What the ground is made from. */
struct survey {
	struct yard *yard;
	struct yard_ground *ground;
	struct ground_body *bodies;
	struct shade_body *shapes;
	struct ground_gap *gaps;
	struct tree_sizes sizes;
};

static void add_gap(
	struct survey *survey, const char *name, const char *spot_id, enum ground_lack lack)
{
	struct ground_gap *gap = &survey->gaps[survey->ground->gap_count++];
	text_copy(gap->name, sizeof gap->name, name);
	text_copy(gap->spot_id, sizeof gap->spot_id, spot_id);
	gap->lack = lack;
}

static struct ground_body *add_body(
	struct survey *survey, const char *name, const struct shade_body *shape)
{
	struct ground_body *body = &survey->bodies[survey->ground->body_count];
	survey->shapes[survey->ground->body_count++] = *shape;
	text_copy(body->name, sizeof body->name, name);
	return body;
}

/* --- walls and houses --- */

static struct shade_point *read_corners(const char *text, struct arena *arena, int32_t *count)
{
	const struct plot_point *points = points_read(text, arena, count);
	struct shade_point *corners = arena_array(arena, (size_t)*count + 1, sizeof *corners);
	for (int32_t i = 0; i < *count; i++)
		corners[i] = (struct shade_point){
			(double)points[i].east_um / um_in_m, (double)points[i].north_um / um_in_m};
	return corners;
}

static void survey_obstacle(struct survey *survey, const struct obstacle *obstacle)
{
	bool house = strcmp(obstacle->kind, "house") == 0;
	struct shade_body shape = {.kind = SHADE_BUILT, .closed = house};
	if (!house && strcmp(obstacle->kind, "wall") != 0)
		return;
	shape.points = read_corners(obstacle->points, survey->yard->arena, &shape.point_count);
	if (shape.point_count < 2) {
		add_gap(survey, obstacle->name, "", GAP_POINTS);
	} else if (!obstacle->height_um.known) {
		add_gap(survey, obstacle->name, "", GAP_HEIGHT);
	} else {
		shape.height_m = (double)obstacle->height_um.value / um_in_m;
		add_body(survey, obstacle->name, &shape);
	}
}

/* --- trees --- */

static void survey_tree(struct survey *survey, const struct neighbour *tree)
{
	const struct date today = survey->yard->today;
	const struct tree_size *height = sizes_latest(&survey->sizes, tree->tree_id, false, today);
	const struct tree_size *spread = sizes_latest(&survey->sizes, tree->tree_id, true, today);
	if (tree->off_place)
		return;
	if (!tree->east_um.known || !tree->north_um.known) {
		add_gap(survey, tree->label, tree->spot_id, GAP_POSITION);
		return;
	}
	if (height == NULL || spread == NULL) {
		add_gap(survey, tree->label, tree->spot_id,
			height == NULL ? GAP_HEIGHT : GAP_SPREAD);
		return;
	}
	struct shade_point *point = arena_alloc(survey->yard->arena, sizeof *point);
	*point = (struct shade_point){
		(double)tree->east_um.value / um_in_m, (double)tree->north_um.value / um_in_m};
	struct shade_body shape = {.kind = SHADE_TREE,
		.points = point,
		.point_count = 1,
		.radius_m = (double)spread->um / 2 / um_in_m,
		.height_m = (double)height->um / um_in_m};
	struct ground_body *body = add_body(survey, tree->label, &shape);
	text_copy(body->spot_id, sizeof body->spot_id, tree->spot_id);
	body->measured = height->day;
	body->bares = tree->kind.species == NULL || !tree->kind.species->evergreen;
}

/* --- the ground --- */

static uint32_t hot_months(const struct yard *yard)
{
	uint32_t months = 0;
	for (int32_t i = 0; i < yard->weather_count; i++) {
		const struct weather_day *day = &yard->weather[i];
		if (day->max_decic.known && day->max_decic.value >= HEAT_DECIC)
			months |= 1U << (date_parts(day->day).month - 1);
	}
	return months;
}

static void make_room(struct survey *survey, int32_t most)
{
	struct arena *arena = survey->yard->arena;
	size_t room = (size_t)most + 1;
	survey->bodies = arena_array(arena, room, sizeof *survey->bodies);
	survey->shapes = arena_array(arena, room, sizeof *survey->shapes);
	survey->gaps = arena_array(arena, room, sizeof *survey->gaps);
	survey->ground->bodies = survey->bodies;
	survey->ground->shapes = survey->shapes;
	survey->ground->gaps = survey->gaps;
}

static int compare_gaps(const void *left, const void *right)
{
	const struct ground_gap *a = left;
	const struct ground_gap *b = right;
	int names = text_compare_natural(a->name, b->name);
	return names != 0 ? names : strcmp(a->spot_id, b->spot_id);
}

static enum status survey_all(struct survey *survey, struct arena *scratch, struct fault *why)
{
	struct yard *yard = survey->yard;
	struct obstacle *obstacles = NULL;
	struct tree_size *sizes = NULL;
	int32_t obstacle_count = 0;
	enum status status = shared_load(yard, why);
	if (status == STATUS_OK)
		status = around_load(yard, why);
	if (status == STATUS_OK)
		status = spots_load(yard, why);
	if (status == STATUS_OK)
		status =
			store_obstacle_list(yard->store, scratch, &obstacles, &obstacle_count, why);
	if (status == STATUS_OK)
		status = store_tree_size_list(
			yard->store, scratch, &sizes, &survey->sizes.count, why);
	if (status != STATUS_OK)
		return status;
	survey->ground->spots = yard->spots;
	survey->ground->spot_count = yard->spot_count;
	survey->sizes.items = sizes;
	make_room(survey, obstacle_count + yard->neighbour_count);
	for (int32_t i = 0; i < obstacle_count; i++)
		survey_obstacle(survey, &obstacles[i]);
	for (int32_t i = 0; i < yard->neighbour_count; i++)
		if (yard->neighbours[i].host_id[0] == '\0')
			survey_tree(survey, &yard->neighbours[i]);
	qsort(survey->gaps, (size_t)survey->ground->gap_count, sizeof *survey->gaps, compare_gaps);
	return STATUS_OK;
}

enum status yard_ground(struct yard *yard, const struct yard_ground **out, struct fault *why)
{
	enum status status = STATUS_OK;
	if (yard->ground == NULL) {
		struct arena *scratch = arena_new();
		struct yard_ground *ground = arena_alloc(yard->arena, sizeof *ground);
		struct survey survey = {.yard = yard, .ground = ground};
		status = survey_all(&survey, scratch, why);
		ground->hot_months = hot_months(yard);
		arena_free(scratch);
		if (status == STATUS_OK)
			yard->ground = ground;
	}
	*out = yard->ground;
	return status;
}
