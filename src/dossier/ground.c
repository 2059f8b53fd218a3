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
	const struct tree_size *sizes; /* by tree, then by day */
	int32_t size_count;
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

/* "east,north east,north" in micrometres; a piece that is no point ends the line. */
static struct shade_point *read_points(const char *text, struct arena *arena, int32_t *count)
{
	struct shade_point *points = arena_array(arena, strlen(text) / 3 + 1, sizeof *points);
	*count = 0;
	for (const char *at = text; *at != '\0'; at += strspn(at, " ")) {
		char *end = NULL;
		long long east_um = strtoll(at, &end, 10);
		if (end == at || *end != ',')
			break;
		at = end + 1;
		long long north_um = strtoll(at, &end, 10);
		if (end == at)
			break;
		points[(*count)++] =
			(struct shade_point){(double)east_um / um_in_m, (double)north_um / um_in_m};
		at = end;
	}
	return points;
}

static void survey_obstacle(struct survey *survey, const struct obstacle *obstacle)
{
	bool house = strcmp(obstacle->kind, "house") == 0;
	struct shade_body shape = {.kind = SHADE_BUILT, .closed = house};
	if (!house && strcmp(obstacle->kind, "wall") != 0)
		return;
	shape.points = read_points(obstacle->points, survey->yard->arena, &shape.point_count);
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

static int32_t first_size(const struct survey *survey, const char *tree_id)
{
	int32_t low = 0;
	int32_t high = survey->size_count;
	while (low < high) {
		int32_t middle = low + (high - low) / 2;
		if (strcmp(survey->sizes[middle].tree_id, tree_id) < 0)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

/* The latest up to today; NULL none. */
static const struct tree_size *latest_size(
	const struct survey *survey, const char *tree_id, bool is_spread)
{
	const struct tree_size *latest = NULL;
	for (int32_t i = first_size(survey, tree_id);
		i < survey->size_count && strcmp(survey->sizes[i].tree_id, tree_id) == 0; i++) {
		const struct tree_size *size = &survey->sizes[i];
		bool is_past =
			!size->day.known || date_compare(size->day.value, survey->yard->today) <= 0;
		if (size->is_spread == is_spread && is_past)
			latest = size;
	}
	return latest;
}

static void survey_tree(struct survey *survey, const struct neighbour *tree)
{
	const struct tree_size *height = latest_size(survey, tree->tree_id, false);
	const struct tree_size *spread = latest_size(survey, tree->tree_id, true);
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
	struct spot *spots = NULL;
	struct tree_size *sizes = NULL;
	int32_t obstacle_count = 0;
	enum status status = around_load(yard, why);
	if (status == STATUS_OK)
		status = store_spot_list(
			yard->store, yard->arena, &spots, &survey->ground->spot_count, why);
	if (status == STATUS_OK)
		status =
			store_obstacle_list(yard->store, scratch, &obstacles, &obstacle_count, why);
	if (status == STATUS_OK)
		status = store_tree_size_list(
			yard->store, scratch, &sizes, &survey->size_count, why);
	if (status != STATUS_OK)
		return status;
	survey->ground->spots = spots;
	survey->sizes = sizes;
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
		ground->hot_months = hot_months(yard);
		status = survey_all(&survey, scratch, why);
		arena_free(scratch);
		if (status == STATUS_OK)
			yard->ground = ground;
	}
	*out = yard->ground;
	return status;
}
