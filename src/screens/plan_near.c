/* SPDX-License-Identifier: MIT */
#include "plan_near.h"

#include <math.h>

enum { SQUARES_MOST = 512 };

/* --- making --- */

struct plan_bounds plan_bounds_of(const struct plot_point *at)
{
	return (struct plan_bounds){at->east_um, at->east_um, at->north_um, at->north_um};
}

void plan_bounds_widen(struct plan_bounds *bounds, const struct plot_point *at)
{
	bounds->west_um = at->east_um < bounds->west_um ? at->east_um : bounds->west_um;
	bounds->east_um = at->east_um > bounds->east_um ? at->east_um : bounds->east_um;
	bounds->south_um = at->north_um < bounds->south_um ? at->north_um : bounds->south_um;
	bounds->north_um = at->north_um > bounds->north_um ? at->north_um : bounds->north_um;
}

static void bound(struct plan_near *near)
{
	if (near->count > 0)
		near->all = plan_bounds_of(&near->points[0]);
	for (int32_t i = 1; i < near->count; i++)
		plan_bounds_widen(&near->all, &near->points[i]);
}

static int32_t clamp(int64_t square, int32_t squares)
{
	return square < 0 ? 0 : square >= squares ? squares - 1 : (int32_t)square;
}

static int32_t square_across(const struct plan_near *near, int64_t east_um)
{
	return clamp((east_um - near->all.west_um) / near->side_um, near->across);
}

static int32_t square_up(const struct plan_near *near, int64_t north_um)
{
	return clamp((north_um - near->all.south_um) / near->side_um, near->up);
}

static int32_t square_of(const struct plan_near *near, const struct plot_point *at)
{
	return square_up(near, at->north_um) * near->across + square_across(near, at->east_um);
}

/* About one point a square, were they spread evenly; never more than so many each way. */
static void choose_squares(struct plan_near *near)
{
	const int64_t width_um = near->all.east_um - near->all.west_um + 1;
	const int64_t height_um = near->all.north_um - near->all.south_um + 1;
	const int64_t longer_um = width_um > height_um ? width_um : height_um;
	const double even_um =
		sqrt((double)width_um * (double)height_um / (near->count > 0 ? near->count : 1));
	near->side_um = longer_um / SQUARES_MOST + 1;
	if ((double)near->side_um < even_um)
		near->side_um = (int64_t)even_um + 1;
	near->across = (int32_t)(width_um / near->side_um) + 1;
	near->up = (int32_t)(height_um / near->side_um) + 1;
}

void plan_near_make(
	const struct plot_point *points, int32_t count, struct arena *arena, struct plan_near *out)
{
	*out = (struct plan_near){.points = points, .count = count};
	bound(out);
	choose_squares(out);
	const int32_t squares = out->across * out->up;
	out->starts = arena_array(arena, (size_t)squares + 1, sizeof out->starts[0]);
	out->places = arena_array(arena, (size_t)count + 1, sizeof out->places[0]);
	for (int32_t i = 0; i < count; i++)
		out->starts[square_of(out, &points[i])]++;
	for (int32_t square = 0, before = 0; square <= squares; square++) {
		before += out->starts[square];
		out->starts[square] = before; /* the end; moved to the start below */
	}
	for (int32_t i = count - 1; i >= 0; i--)
		out->places[--out->starts[square_of(out, &points[i])]] = i;
}

/* --- looking --- */

static bool holds(const struct plan_bounds *bounds, const struct plot_point *at)
{
	return at->east_um >= bounds->west_um && at->east_um <= bounds->east_um &&
	       at->north_um >= bounds->south_um && at->north_um <= bounds->north_um;
}

int32_t plan_near_within(
	const struct plan_near *near, const struct plan_bounds *bounds, int32_t *out, int32_t most)
{
	int32_t found = 0;
	if (near->count == 0)
		return 0;
	const int32_t from = square_across(near, bounds->west_um);
	const int32_t to = square_across(near, bounds->east_um);
	for (int32_t row = square_up(near, bounds->south_um);
		row <= square_up(near, bounds->north_um); row++)
		for (int32_t at = near->starts[row * near->across + from];
			at < near->starts[row * near->across + to + 1] && found < most; at++)
			if (holds(bounds, &near->points[near->places[at]]))
				out[found++] = near->places[at];
	return found;
}

/* What a point costs to go to from `from`; negative: it does not count. */
struct asking {
	struct plot_point from;
	int way;     /* enum plan_way; -1 any */
	bool narrow; /* within 45 degrees alone */
};

static double cost(const struct asking *asking, const struct plot_point *to)
{
	const double east = (double)(to->east_um - asking->from.east_um);
	const double north = (double)(to->north_um - asking->from.north_um);
	const bool upright = asking->way == PLAN_NORTH || asking->way == PLAN_SOUTH;
	const double sign = asking->way == PLAN_SOUTH || asking->way == PLAN_WEST ? -1 : 1;
	const double along = sign * (upright ? north : east);
	const double aside = fabs(upright ? east : north);
	if (asking->way < 0)
		return hypot(east, north);
	if (along <= 0 || (asking->narrow && aside > along))
		return -1;
	return asking->narrow ? hypot(east, north) : aside / along;
}

/* The best of a part of the yard; on a tie the first by its place. */
static int32_t best_within(const struct plan_near *near, const struct plan_bounds *part,
	const struct asking *asking, double *least)
{
	int32_t best = -1;
	const int32_t from = square_across(near, part->west_um);
	const int32_t to = square_across(near, part->east_um);
	for (int32_t row = square_up(near, part->south_um); row <= square_up(near, part->north_um);
		row++)
		for (int32_t at = near->starts[row * near->across + from];
			at < near->starts[row * near->across + to + 1]; at++) {
			const int32_t place = near->places[at];
			const double one = cost(asking, &near->points[place]);
			const bool better =
				best < 0 || one < *least || (!(one > *least) && place < best);
			if (one >= 0 && better) {
				best = place;
				*least = one;
			}
		}
	return best;
}

static bool covers(const struct plan_bounds *part, const struct plan_bounds *all)
{
	return part->west_um <= all->west_um && part->east_um >= all->east_um &&
	       part->south_um <= all->south_um && part->north_um >= all->north_um;
}

/* Looks in squares of twice the size each time, until what was found is nearer than all that was
 * not looked at. */
static int32_t nearest_of(const struct plan_near *near, const struct asking *asking)
{
	if (near->count == 0)
		return -1;
	for (int64_t reach_um = 2 * near->side_um;; reach_um *= 2) {
		const struct plan_bounds part = {asking->from.east_um - reach_um,
			asking->from.east_um + reach_um, asking->from.north_um - reach_um,
			asking->from.north_um + reach_um};
		double least = 0;
		const int32_t best = best_within(near, &part, asking, &least);
		if ((best >= 0 && least <= (double)reach_um) || covers(&part, &near->all))
			return best;
	}
}

int32_t plan_near_nearest(const struct plan_near *near, struct plot_point to)
{
	const struct asking asking = {.from = to, .way = -1};
	return nearest_of(near, &asking);
}

int32_t plan_near_toward(const struct plan_near *near, struct plot_point from, enum plan_way way)
{
	struct asking asking = {.from = from, .way = (int)way, .narrow = true};
	double least = 0;
	const int32_t best = nearest_of(near, &asking);
	if (best >= 0 || near->count == 0)
		return best;
	asking.narrow = false;
	return best_within(near, &near->all, &asking, &least);
}
