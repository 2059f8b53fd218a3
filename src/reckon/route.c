/* SPDX-License-Identifier: MIT */
#include "reckon/route.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

enum {
	NEAR = 8,        /* neighbours that an exchange is tried with */
	A_SQUARE = 2,    /* points that a square of the grid holds, were they spread evenly */
	SIDE_MOST = 256, /* squares each way */
};

/* A gain below this is none: it keeps rounding from turning the way back and forth. */
static const double least_gain_m = 1e-7;
/* Steps turned round in all: what bounds the time. */
static const int64_t turns_most = 200000000;

static double gap_m(const struct route_point *a, const struct route_point *b)
{
	return hypot(a->east_m - b->east_m, a->north_m - b->north_m);
}

/* --- the grid --- */

struct grid {
	const struct route_point *points;
	double west_m, south_m, side_m;
	int32_t across, up;
	int32_t *firsts; /* by square: the first point in it, -1 none */
	int32_t *nexts;  /* by point: the next in its square */
};

static int32_t clamp(double square, int32_t squares)
{
	return square < 0 ? 0 : square >= squares ? squares - 1 : (int32_t)square;
}

static int32_t across_of(const struct grid *grid, double east_m)
{
	return clamp((east_m - grid->west_m) / grid->side_m, grid->across);
}

static int32_t up_of(const struct grid *grid, double north_m)
{
	return clamp((north_m - grid->south_m) / grid->side_m, grid->up);
}

static int32_t *square_of(const struct grid *grid, int32_t point)
{
	const struct route_point *at = &grid->points[point];
	return &grid->firsts[up_of(grid, at->north_m) * grid->across + across_of(grid, at->east_m)];
}

static void measure_grid(struct grid *grid, int32_t count)
{
	double east_m = grid->points[0].east_m;
	double north_m = grid->points[0].north_m;
	grid->west_m = east_m;
	grid->south_m = north_m;
	for (int32_t i = 1; i < count; i++) {
		grid->west_m = fmin(grid->west_m, grid->points[i].east_m);
		grid->south_m = fmin(grid->south_m, grid->points[i].north_m);
		east_m = fmax(east_m, grid->points[i].east_m);
		north_m = fmax(north_m, grid->points[i].north_m);
	}
	const double width_m = east_m - grid->west_m;
	const double height_m = north_m - grid->south_m;
	grid->side_m = fmax(
		sqrt(width_m * height_m * A_SQUARE / count), fmax(width_m, height_m) / SIDE_MOST);
	if (!(grid->side_m > 0))
		grid->side_m = 1;
	grid->across = (int32_t)(width_m / grid->side_m) + 1;
	grid->up = (int32_t)(height_m / grid->side_m) + 1;
}

static void make_grid(
	struct grid *grid, const struct route_point *points, int32_t count, struct arena *arena)
{
	grid->points = points;
	measure_grid(grid, count);
	const size_t squares = (size_t)grid->across * (size_t)grid->up;
	grid->firsts = arena_array(arena, squares, sizeof grid->firsts[0]);
	grid->nexts = arena_array(arena, (size_t)count, sizeof grid->nexts[0]);
	for (size_t i = 0; i < squares; i++)
		grid->firsts[i] = -1;
	for (int32_t i = count; i-- > 0;) { /* so that the lower places come first */
		int32_t *first = square_of(grid, i);
		grid->nexts[i] = *first;
		*first = i;
	}
}

static void take_out(struct grid *grid, int32_t point)
{
	int32_t *link = square_of(grid, point);
	while (*link != point)
		link = &grid->nexts[*link];
	*link = grid->nexts[point];
}

/* The nearest points to one place, nearest first. */
struct nearest {
	int32_t places[NEAR];
	double gaps_m[NEAR];
	int32_t count, most;
};

static void offer(struct nearest *nearest, int32_t place, double away_m)
{
	int32_t at = nearest->count;
	while (at > 0 &&
		(nearest->gaps_m[at - 1] > away_m ||
			(!(nearest->gaps_m[at - 1] < away_m) && nearest->places[at - 1] > place)))
		at--;
	if (at >= nearest->most)
		return;
	if (nearest->count < nearest->most)
		nearest->count++;
	for (int32_t i = nearest->count - 1; i > at; i--) {
		nearest->places[i] = nearest->places[i - 1];
		nearest->gaps_m[i] = nearest->gaps_m[i - 1];
	}
	nearest->places[at] = place;
	nearest->gaps_m[at] = away_m;
}

static void offer_square(const struct grid *grid, int32_t across, int32_t up,
	const struct route_point *to, struct nearest *nearest)
{
	if (across < 0 || across >= grid->across || up < 0 || up >= grid->up)
		return;
	for (int32_t at = grid->firsts[up * grid->across + across]; at >= 0; at = grid->nexts[at])
		offer(nearest, at, gap_m(&grid->points[at], to));
}

/* Ring by ring, until what was found is nearer than any ring still to come. */
static void look_around(
	const struct grid *grid, const struct route_point *to, struct nearest *nearest)
{
	const int32_t across = across_of(grid, to->east_m);
	const int32_t up = up_of(grid, to->north_m);
	const int32_t rings = grid->across > grid->up ? grid->across : grid->up;
	for (int32_t ring = 0; ring <= rings; ring++) {
		for (int32_t i = -ring; i <= ring; i++) {
			offer_square(grid, across + i, up - ring, to, nearest);
			if (ring > 0)
				offer_square(grid, across + i, up + ring, to, nearest);
			if (i > -ring && i < ring) {
				offer_square(grid, across - ring, up + i, to, nearest);
				offer_square(grid, across + ring, up + i, to, nearest);
			}
		}
		if (nearest->count == nearest->most &&
			nearest->gaps_m[nearest->most - 1] < ring * grid->side_m)
			return;
	}
}

/* --- nearest neighbour --- */

void route_nearest(const struct route_point *start, const struct route_point *points, int32_t count,
	struct arena *arena, int32_t *order)
{
	struct grid grid;
	if (count == 0)
		return;
	make_grid(&grid, points, count, arena);
	for (int32_t i = 0; i < count; i++) {
		struct nearest nearest = {.most = 1};
		look_around(&grid, i == 0 ? start : &points[order[i - 1]], &nearest);
		order[i] = nearest.places[0];
		take_out(&grid, order[i]);
	}
}

/* --- exchange --- */

struct exchange {
	const struct route_point *start;
	const struct route_point *points;
	int32_t count;
	int32_t *order;
	int32_t *where; /* of a point in the order */
	int64_t turns;
};

static const struct route_point *stop_at(const struct exchange *way, int32_t at)
{
	return at < 0 ? way->start : &way->points[way->order[at]];
}

/* The step from the stop at `at` to the next; 0 where the way ends. */
static double step_m(const struct exchange *way, int32_t at)
{
	return at + 1 >= way->count ? 0 : gap_m(stop_at(way, at), stop_at(way, at + 1));
}

static void turn_round(struct exchange *way, int32_t from, int32_t to)
{
	way->turns += to - from + 1;
	for (; from < to; from++, to--) {
		const int32_t point = way->order[from];
		way->order[from] = way->order[to];
		way->order[to] = point;
		way->where[way->order[from]] = from;
		way->where[way->order[to]] = to;
	}
}

/* Turns the stops from..to round if that shortens the way: two steps are walked otherwise, or,
 * at the way's end, one. */
static bool try_turn(struct exchange *way, int32_t from, int32_t to)
{
	if (from < 0 || from >= to)
		return false;
	double gain_m = step_m(way, from - 1) + step_m(way, to) -
			gap_m(stop_at(way, from - 1), stop_at(way, to));
	if (to + 1 < way->count)
		gain_m -= gap_m(stop_at(way, from), stop_at(way, to + 1));
	if (gain_m < least_gain_m)
		return false;
	turn_round(way, from, to);
	return true;
}

/* Each way of joining the point to one of its neighbours. */
static bool improve(struct exchange *way, int32_t point, const struct nearest *nearest)
{
	for (int32_t i = 0; i < nearest->count; i++) {
		const int32_t here = way->where[point];
		const int32_t there = way->where[nearest->places[i]];
		const int32_t low = here < there ? here : there;
		const int32_t high = here < there ? there : here;
		if (try_turn(way, low + 1, high) || try_turn(way, low, high - 1))
			return true;
	}
	/* the way may end elsewhere, or begin with this point */
	return try_turn(way, way->where[point] + 1, way->count - 1) ||
	       try_turn(way, 0, way->where[point]);
}

void route_exchange(const struct route_point *start, const struct route_point *points,
	int32_t count, struct arena *arena, int32_t *order)
{
	struct grid grid;
	struct exchange way = {start, points, count, order, NULL, 0};
	if (count < 2)
		return;
	make_grid(&grid, points, count, arena);
	way.where = arena_array(arena, (size_t)count, sizeof way.where[0]);
	struct nearest *nearest = arena_array(arena, (size_t)count, sizeof *nearest);
	for (int32_t i = 0; i < count; i++) {
		way.where[order[i]] = i;
		nearest[i].most = NEAR;
		look_around(&grid, &points[i], &nearest[i]);
	}
	for (bool any = true; any && way.turns < turns_most;) {
		any = false;
		for (int32_t i = 0; i < count && way.turns < turns_most; i++)
			any = improve(&way, i, &nearest[i]) || any;
	}
}

double route_length_m(const struct route_point *start, const struct route_point *points,
	const int32_t *order, int32_t count)
{
	double length_m = 0;
	for (int32_t i = 0; i < count; i++)
		length_m += gap_m(i == 0 ? start : &points[order[i - 1]], &points[order[i]]);
	return length_m;
}
