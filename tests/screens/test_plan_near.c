/* SPDX-License-Identifier: MIT */
/* Which points lie in a part of the yard, and which is next that way: as looking at all of them
 * says. */
#include "screens/plan_near.h"
#include "support/test.h"

#include <math.h>

#define METRE INT64_C(1000000)

enum { POINTS = 300, ROUNDS = 60 };

static int64_t any(uint32_t *random, int64_t below)
{
	*random = *random * 1664525U + 1013904223U;
	return (int64_t)(*random >> 8) % below;
}

static struct plot_point any_point(uint32_t *random, int shape)
{
	const int64_t east_um = (any(random, 200) - 100) * METRE / 4;
	const int64_t north_um = (any(random, 200) - 100) * METRE / 4;
	switch (shape % 4) {
	case 0: /* all over */
		return (struct plot_point){east_um, north_um};
	case 1: /* a line */
		return (struct plot_point){east_um, 7 * METRE};
	case 2: /* a heap, and one far away */
		return (struct plot_point){
			any(random, 50) == 0 ? 900000 * METRE : east_um / 20, north_um / 20};
	default: /* rows */
		return (struct plot_point){east_um / METRE / 5 * 5 * METRE, north_um};
	}
}

static bool is_better(const struct plot_point *from, const struct plot_point *to, enum plan_way way,
	double *least)
{
	const double east = (double)(to->east_um - from->east_um);
	const double north = (double)(to->north_um - from->north_um);
	const double along[] = {north, east, -north, -east};
	const double aside = fabs(way == PLAN_NORTH || way == PLAN_SOUTH ? east : north);
	const double away = hypot(east, north);
	if (along[way] <= 0 || aside > along[way] || away >= *least)
		return false;
	*least = away;
	return true;
}

static void the_next_that_way_is_the_nearest_within_45_degrees(void **state)
{
	(void)state;
	uint32_t random = 7;
	for (int round = 0; round < ROUNDS; round++) {
		struct arena *arena = arena_new();
		struct plot_point points[POINTS];
		struct plan_near near;
		const int32_t count = 1 + (int32_t)any(&random, POINTS);
		for (int32_t i = 0; i < count; i++)
			points[i] = any_point(&random, round);
		plan_near_make(points, count, arena, &near);
		for (int way = PLAN_NORTH; way <= PLAN_WEST; way++) {
			const struct plot_point *from = &points[any(&random, count)];
			double least = INFINITY;
			int32_t want = -1;
			for (int32_t i = 0; i < count; i++)
				if (is_better(from, &points[i], (enum plan_way)way, &least))
					want = i;
			const int32_t got = plan_near_toward(&near, *from, (enum plan_way)way);
			if (want >= 0)
				check_int(got, want, "the nearest that way");
		}
		arena_free(arena);
	}
}

static void all_of_a_part_and_nothing_else_is_found(void **state)
{
	(void)state;
	uint32_t random = 11;
	for (int round = 0; round < ROUNDS; round++) {
		struct arena *arena = arena_new();
		struct plot_point points[POINTS];
		int32_t found[POINTS];
		bool seen[POINTS] = {false};
		struct plan_near near;
		const int32_t count = (int32_t)any(&random, POINTS);
		for (int32_t i = 0; i < count; i++)
			points[i] = any_point(&random, round);
		plan_near_make(points, count, arena, &near);
		const struct plan_bounds part = {
			-9 * METRE, any(&random, 30) * METRE, -any(&random, 30) * METRE, 8 * METRE};
		const int32_t got = plan_near_within(&near, &part, found, POINTS);
		for (int32_t i = 0; i < got; i++) {
			assert_false(seen[found[i]]);
			seen[found[i]] = true;
		}
		for (int32_t i = 0; i < count; i++) {
			const struct plot_point *at = &points[i];
			const bool inside =
				at->east_um >= part.west_um && at->east_um <= part.east_um &&
				at->north_um >= part.south_um && at->north_um <= part.north_um;
			assert_true(seen[i] == inside);
		}
		arena_free(arena);
	}
}

static void at_the_edge_nothing_lies_further_that_way(void **state)
{
	(void)state;
	static const struct plot_point points[] = {{0, 0}, {5 * METRE, 0}, {9 * METRE, 2 * METRE}};
	struct arena *arena = arena_new();
	struct plan_near near;
	plan_near_make(points, 3, arena, &near);
	check_int(plan_near_toward(&near, points[0], PLAN_EAST), 1, "east of the first");
	check_int(plan_near_toward(&near, points[1], PLAN_EAST), 2, "east of the second");
	check_int(plan_near_toward(&near, points[2], PLAN_EAST), -1, "nothing further east");
	check_int(plan_near_toward(&near, points[0], PLAN_SOUTH), -1, "nothing south");
	/* none within 45 degrees of north: the one that turns off least */
	check_int(plan_near_toward(&near, points[0], PLAN_NORTH), 2, "north of the first");
	const struct plot_point far_away = {-4000 * METRE, 300 * METRE};
	check_int(plan_near_nearest(&near, far_away), 0, "from far outside");
	plan_near_make(points, 0, arena, &near);
	check_int(plan_near_nearest(&near, points[0]), -1, "none at all");
	check_int(plan_near_toward(&near, points[0], PLAN_EAST), -1, "none at all");
	arena_free(arena);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_next_that_way_is_the_nearest_within_45_degrees),
		cmocka_unit_test(all_of_a_part_and_nothing_else_is_found),
		cmocka_unit_test(at_the_edge_nothing_lies_further_that_way),
	};
	return cmocka_run_group_tests_name("plan_near", tests, NULL, NULL) != 0;
}
