/* SPDX-License-Identifier: MIT */
/* A short way: every point once, never longer than by nearest neighbour, in bounded time. */
#include "core/clock.h"
#include "reckon/route.h"
#include "support/test.h"

#include <math.h>

enum { MANY = 10000 };

struct way {
	struct arena *arena;
	struct route_point start;
	struct route_point *points;
	int32_t count;
	int32_t *nearest, *shorter;
};

static void find(struct way *way)
{
	way->nearest = arena_array(way->arena, (size_t)way->count + 1, sizeof way->nearest[0]);
	way->shorter = arena_array(way->arena, (size_t)way->count + 1, sizeof way->shorter[0]);
	route_nearest(&way->start, way->points, way->count, way->arena, way->nearest);
	for (int32_t i = 0; i < way->count; i++)
		way->shorter[i] = way->nearest[i];
	route_exchange(&way->start, way->points, way->count, way->arena, way->shorter);
}

static double length(const struct way *way, const int32_t *order)
{
	return route_length_m(&way->start, way->points, order, way->count);
}

static void check_each_once(const struct way *way, const int32_t *order)
{
	bool *seen = arena_array(way->arena, (size_t)way->count + 1, sizeof *seen);
	for (int32_t i = 0; i < way->count; i++) {
		assert_in_range(order[i], 0, way->count - 1);
		assert_false(seen[order[i]]);
		seen[order[i]] = true;
	}
}

static double any(uint32_t *random, double below)
{
	*random = *random * 1664525U + 1013904223U;
	return (double)(*random >> 8) / (1 << 24) * below;
}

static void a_way_by_hand(void **state)
{
	(void)state;
	/* 1 east, 1 more, 3.5 back past the gate, 1.5 more: and no exchange is shorter */
	struct route_point points[] = {{2, 0}, {1, 0}, {-3, 0}, {-1.5, 0}};
	struct way way = {.arena = arena_new(), .points = points, .count = 4};
	static const int32_t nearest[] = {1, 0, 3, 2};
	find(&way);
	for (int i = 0; i < 4; i++)
		check_int(way.nearest[i], nearest[i], "nearest neighbour");
	check_close(length(&way, way.nearest), 7, 1e-12, "its length");
	check_close(length(&way, way.shorter), 7, 1e-12, "nothing to gain");
	arena_free(way.arena);
}

static void a_long_way_back_is_undone(void **state)
{
	(void)state;
	/* the nearest first leaves 7.2 m for the end; turned round, the first three lead there */
	struct route_point points[] = {{1, 4}, {0, 4}, {3, 2}, {6, 0}};
	static const int32_t nearest[] = {2, 0, 1, 3};
	static const int32_t shorter[] = {1, 0, 2, 3};
	struct way way = {.arena = arena_new(), .points = points, .count = 4};
	find(&way);
	for (int i = 0; i < 4; i++) {
		check_int(way.nearest[i], nearest[i], "nearest neighbour");
		check_int(way.shorter[i], shorter[i], "after the exchange");
	}
	check_close(length(&way, way.nearest), hypot(3, 2) + hypot(2, 2) + 1 + hypot(6, 4), 1e-12,
		"before");
	check_close(length(&way, way.shorter), 4 + 1 + hypot(2, 2) + hypot(3, 2), 1e-12, "after");
	arena_free(way.arena);
}

static void never_longer_and_every_point_once(void **state)
{
	(void)state;
	enum { ROUNDS = 300, POINTS = 120 };
	uint32_t random = 5;
	for (int round = 0; round < ROUNDS; round++) {
		struct route_point points[POINTS];
		struct way way = {.arena = arena_new(),
			.points = points,
			.count = (int32_t)any(&random, POINTS + 1)};
		way.start = (struct route_point){any(&random, 500) - 250, any(&random, 9)};
		for (int i = 0; i < POINTS; i++) {
			const double step = round % 3 == 0 ? 5 : 0.001;
			points[i].east_m = floor(any(&random, 90) / step) * step;
			points[i].north_m = round % 4 == 1 ? 7 : any(&random, 40);
		}
		find(&way);
		check_each_once(&way, way.nearest);
		check_each_once(&way, way.shorter);
		assert_true(length(&way, way.shorter) <= length(&way, way.nearest) + 1e-9);
		arena_free(way.arena);
	}
}

/* As by looking at all that are left, each time. */
static void the_nearest_is_the_nearest(void **state)
{
	(void)state;
	enum { POINTS = 400 };
	uint32_t random = 9;
	struct route_point points[POINTS];
	bool taken[POINTS] = {false};
	struct way way = {.arena = arena_new(), .points = points, .count = POINTS};
	for (int i = 0; i < POINTS; i++)
		points[i] = (struct route_point){any(&random, 300), any(&random, 5)};
	find(&way);
	struct route_point at = way.start;
	for (int i = 0; i < POINTS; i++) {
		int best = -1;
		double least = INFINITY;
		for (int p = 0; p < POINTS; p++) {
			const double gap =
				hypot(points[p].east_m - at.east_m, points[p].north_m - at.north_m);
			if (!taken[p] && gap < least) {
				least = gap;
				best = p;
			}
		}
		check_int(way.nearest[i], best, "the nearest of those left");
		taken[best] = true;
		at = points[best];
	}
	arena_free(way.arena);
}

static void points_in_one_place_and_one_alone_have_a_way(void **state)
{
	(void)state;
	struct route_point points[5] = {{3, 3}, {3, 3}, {3, 3}, {3, 3}, {3, 3}};
	for (int32_t count = 0; count <= 5; count++) {
		struct way way = {.arena = arena_new(), .points = points, .count = count};
		find(&way);
		for (int32_t i = 0; i < count; i++)
			check_int(way.shorter[i], i, "in the order given");
		check_close(length(&way, way.shorter), count > 0 ? hypot(3, 3) : 0, 1e-12, "way");
		arena_free(way.arena);
	}
}

/* A hundred rows of a hundred, 5 m apart. */
static struct route_point row_point(int place)
{
	const int row = place / 100;
	return (struct route_point){place % 100 * 5.0, row * 5.0};
}

static void ten_thousand_take_little_time(void **state)
{
	(void)state;
	uint32_t random = 3;
	for (int shape = 0; shape < 3; shape++) {
		struct way way = {.arena = arena_new(), .count = MANY};
		way.points = arena_array(way.arena, MANY, sizeof way.points[0]);
		for (int i = 0; i < MANY; i++)
			way.points[i] = shape == 0   ? (struct route_point){any(&random, 1000),
							       any(&random, 700)}
					: shape == 1 ? row_point(i)
						     : (struct route_point){
							       i == 0 ? 1e6 : any(&random, 9), 0};
		const double began_s = clock_monotonic_s();
		find(&way);
		const double took_s = clock_monotonic_s() - began_s;
		check_each_once(&way, way.shorter);
		assert_true(length(&way, way.shorter) <= length(&way, way.nearest));
		if (took_s > 20) /* a loaded machine is slow; a square of 10,000 would be minutes */
			fail_msg("it took %.1f s", took_s);
		print_message("shape %d: %.2f s, %.0f m, by nearest neighbour %.0f m\n", shape,
			took_s, length(&way, way.shorter), length(&way, way.nearest));
		arena_free(way.arena);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_way_by_hand),
		cmocka_unit_test(a_long_way_back_is_undone),
		cmocka_unit_test(never_longer_and_every_point_once),
		cmocka_unit_test(the_nearest_is_the_nearest),
		cmocka_unit_test(points_in_one_place_and_one_alone_have_a_way),
		cmocka_unit_test(ten_thousand_take_little_time),
	};
	return cmocka_run_group_tests_name("route", tests, NULL, NULL) != 0;
}
