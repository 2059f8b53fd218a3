/* SPDX-License-Identifier: MIT */
#include <math.h>

#include "reckon/make.h"
#include "reckon/shade.h"

static const double pi = 3.14159265358979323846;
static const struct sun_site istanbul = {41.01384, 28.94966};
static const struct sun_site hill = {38.4, -122.9};
static const struct shade_point middle = {0, 0};

static const struct shade_path *path_of(
	const struct sun_site *site, const char *from, const char *to, int32_t every_min)
{
	struct shade_days days = {day_of(from), day_of(to), 1, every_min};
	const struct shade_path *path = NULL;
	struct fault why = {0};

	check_ok(shade_path_make(site, &days, made(), &path, &why), &why);
	return path;
}

static const struct shade_path *year_of(double latitude_deg)
{
	struct sun_site site = {latitude_deg, 15};
	const struct shade_path *path = NULL;
	struct fault why = {0};

	check_ok(shade_path_of_year(&site, 2026, made(), &path, &why), &why);
	return path;
}

static struct shade_horizon seen(double level_m, const struct shade_body *bodies, int32_t count)
{
	struct shade_horizon horizon;

	shade_look(&middle, level_m, bodies, NULL, count, &horizon);
	return horizon;
}

/* The one month of a path of one day. */
static struct shade_month day_in(
	const struct shade_path *path, const struct shade_horizon *horizon, int32_t month)
{
	struct shade_month months[MONTHS];

	shade_months(path, horizon, months);
	return months[month - 1];
}

static struct shade_body wall(const struct shade_point *points, int32_t count, double height_m)
{
	return (struct shade_body){
		.kind = SHADE_BUILT, .points = points, .point_count = count, .height_m = height_m};
}

static struct shade_body tree(const struct shade_point *at, double radius_m, double height_m)
{
	return (struct shade_body){.kind = SHADE_TREE,
		.points = at,
		.point_count = 1,
		.radius_m = radius_m,
		.height_m = height_m};
}

/* The highest top towards an azimuth, degrees. */
static double top_at(const struct shade_horizon *horizon, enum shade_kind kind, double azimuth_deg)
{
	int32_t sector = (int32_t)(azimuth_deg * SHADE_SECTORS / 360);

	return atan((double)horizon->edges[kind][sector].tangent) * 180 / pi;
}

/* --- what is seen --- */

static void wall_is_as_high_as_it_looks(void **state)
{
	(void)state;
	const struct shade_point ends[] = {{-5, -5}, {5, -5}};
	struct shade_body body = wall(ends, 2, 3);
	struct shade_horizon horizon = seen(0, &body, 1);

	check_close(top_at(&horizon, SHADE_BUILT, 180), 30.9638, 0.01, "3 m at 5 m");
	check_close(top_at(&horizon, SHADE_BUILT, 136),
		atan(3 * cos(43.9 * pi / 180) / 5) * 180 / pi, 0.1,
		"towards its end it is farther");
	check_close(top_at(&horizon, SHADE_BUILT, 134), 0, 0, "beyond its end");
	check_close(top_at(&horizon, SHADE_BUILT, 0), 0, 0, "behind one's back");
	check_int(horizon.edges[SHADE_BUILT][SHADE_SECTORS / 2].body, 0, "which body");
	horizon = seen(1, &body, 1);
	check_close(
		top_at(&horizon, SHADE_BUILT, 180), atan(2.0 / 5) * 180 / pi, 0.01, "from 1 m up");
	horizon = seen(3, &body, 1);
	check_close(top_at(&horizon, SHADE_BUILT, 180), 0, 0, "from its top");
}

/* A wall to the north crosses the place where azimuths begin anew. */
static void wall_over_north_is_whole(void **state)
{
	(void)state;
	const struct shade_point ends[] = {{-5, 5}, {5, 5}};
	struct shade_body body = wall(ends, 2, 3);
	struct shade_horizon there = seen(0, &body, 1);
	const struct shade_point turned[] = {{5, 5}, {-5, 5}};
	body = wall(turned, 2, 3);
	struct shade_horizon back = seen(0, &body, 1);

	for (int32_t azimuth = 316; azimuth < 404; azimuth++)
		assert_true(top_at(&there, SHADE_BUILT, azimuth % 360) > 20);
	for (int32_t sector = 0; sector < SHADE_SECTORS; sector++)
		check_close((double)there.edges[SHADE_BUILT][sector].tangent,
			(double)back.edges[SHADE_BUILT][sector].tangent, 1e-6, "either way round");
}

static void house_is_seen_by_its_near_sides(void **state)
{
	(void)state;
	const struct shade_point corners[] = {{-4, -14}, {4, -14}, {4, -6}, {-4, -6}};
	struct shade_body body = wall(corners, 4, 5);
	struct shade_horizon open = seen(0, &body, 1);
	body.closed = true;
	struct shade_horizon closed = seen(0, &body, 1);

	check_close(top_at(&open, SHADE_BUILT, 180), atan(5.0 / 6) * 180 / pi, 0.01, "near side");
	check_close(top_at(&closed, SHADE_BUILT, 180), atan(5.0 / 6) * 180 / pi, 0.01, "closed");
	const struct shade_point round[] = {{-4, -6}, {-4, -14}, {4, -14}, {4, -6}};
	body = wall(round, 4, 5);
	open = seen(0, &body, 1);
	check_close(top_at(&open, SHADE_BUILT, 180), atan(5.0 / 14) * 180 / pi, 0.01, "far side");
	body.closed = true;
	closed = seen(0, &body, 1);
	check_close(top_at(&closed, SHADE_BUILT, 180), atan(5.0 / 6) * 180 / pi, 0.01,
		"the last corner is joined to the first");
}

static void tree_is_a_drum(void **state)
{
	(void)state;
	const struct shade_point west = {-10, 0};
	struct shade_body body = tree(&west, 2, 6);
	struct shade_horizon horizon = seen(0, &body, 1);
	double half = asin(0.2) * 180 / pi;

	check_close(top_at(&horizon, SHADE_TREE, 270), atan(6.0 / 8) * 180 / pi, 0.01, "near side");
	assert_true(top_at(&horizon, SHADE_TREE, 270 + half - 0.3) > 25);
	check_close(top_at(&horizon, SHADE_TREE, 270 + half + 0.3), 0, 0, "past its edge");
	check_close(top_at(&horizon, SHADE_BUILT, 270), 0, 0, "no wall");
	check_int(horizon.over, -1, "stands clear");
}

static void crown_over_the_spot_is_said(void **state)
{
	(void)state;
	const struct shade_point at = {1, 1};
	struct shade_body body = tree(&at, 2, 6);
	struct shade_horizon horizon = seen(1, &body, 1);
	const struct shade_path *path = path_of(&hill, "2026-06-21", "2026-06-21", 1);

	check_int(horizon.over, 0, "under its crown");
	struct shade_month june = day_in(path, &horizon, 6);
	check_close(june.sun_min, 0, 0, "no sun");
	check_close(june.hidden_min[SHADE_TREE], june.up_min, 0, "all by the tree");
	horizon = seen(7, &body, 1);
	check_int(horizon.over, -1, "above its crown");
}

static void own_tree_hides_nothing(void **state)
{
	(void)state;
	const struct shade_point at[] = {{0, 0}, {0, -3}};
	const struct shade_body bodies[] = {tree(&at[0], 2, 6), tree(&at[1], 2, 6)};
	const bool own[] = {true, false};
	struct shade_horizon horizon;

	shade_look(&middle, 1, bodies, own, 2, &horizon);
	check_int(horizon.over, -1, "its own crown is not over it");
	check_int(horizon.edges[SHADE_TREE][SHADE_SECTORS / 2].body, 1, "the other one is seen");
	check_close(top_at(&horizon, SHADE_TREE, 0), 0, 0, "nothing to the north");
}

/* --- hours --- */

/* A bank of 3 m all at 5 m, from azimuth 120 to 240; figures by hand and by another program. */
static void bank_hides_what_was_worked_out_elsewhere(void **state)
{
	(void)state;
	struct shade_point arc[121];
	static const struct {
		const char *day;
		int32_t month, up, hidden;
	} days[] = {{"2026-03-20", 3, 720, 13}, {"2026-06-21", 6, 898, 0},
		{"2026-12-21", 12, 543, 543}};

	for (int i = 0; i <= 120; i++)
		arc[i] = (struct shade_point){
			5 * sin((120 + i) * pi / 180), 5 * cos((120 + i) * pi / 180)};
	struct shade_body body = wall(arc, 121, 3);
	struct shade_horizon horizon = seen(0, &body, 1);
	for (int i = 0; i < 3; i++) {
		const struct shade_path *path = path_of(&istanbul, days[i].day, days[i].day, 1);
		struct shade_month day = day_in(path, &horizon, days[i].month);
		check_close(day.up_min, days[i].up, 2, "up");
		check_close(day.hidden_min[SHADE_BUILT], days[i].hidden, 2, "hidden");
		check_close(day.sun_min, days[i].up - days[i].hidden, 4, "sun");
	}
}

static void months_of_a_year_agree_with_every_minute_of_them(void **state)
{
	(void)state;
	const struct shade_point ends[] = {{-3, 8}, {-3, -8}};
	const struct shade_point at = {4, -3};
	const struct shade_body bodies[] = {wall(ends, 2, 3), tree(&at, 2, 6)};
	struct shade_horizon horizon = seen(1, bodies, 2);
	struct shade_month months[MONTHS], whole[MONTHS];
	struct sun_site site = {40, 15};

	shade_months(year_of(40), &horizon, months);
	shade_months(path_of(&site, "2026-01-01", "2026-12-31", 1), &horizon, whole);
	for (int i = 0; i < MONTHS; i++) {
		check_close(months[i].up_min, whole[i].up_min, 2, "up");
		check_close(months[i].sun_min, whole[i].sun_min, 3, "sun");
		check_close(
			months[i].afternoon_sun_min, whole[i].afternoon_sun_min, 3, "afternoon");
	}
}

/* Whatever stands there, the parts make up the day and nothing is negative. */
static void parts_add_up(void **state)
{
	(void)state;
	const struct shade_path *path = year_of(-33);
	unsigned seed = 7;

	for (int round = 0; round < 40; round++) {
		struct shade_point points[8];
		struct shade_body bodies[6];
		for (int i = 0; i < 8; i++) {
			seed = seed * 1103515245U + 12345U;
			points[i] = (struct shade_point){
				(double)(seed >> 16 & 31) - 15.3, (double)(seed >> 21 & 31) - 15.7};
		}
		for (int i = 0; i < 4; i++)
			bodies[i] = tree(&points[i], 0.5 + i, 2 + i);
		bodies[4] = wall(&points[4], 2, 3);
		bodies[5] = wall(&points[5], 3, 5);
		bodies[5].closed = true;
		struct shade_horizon horizon = seen(1, bodies, 6);
		struct shade_horizon fewer = seen(1, bodies, 5);
		struct shade_month months[MONTHS], before[MONTHS];
		double by_body[6], sum = 0, shaded = 0;
		shade_months(path, &horizon, months);
		shade_months(path, &fewer, before);
		shade_by_body(path, &horizon, (struct shade_when){1U << 0, true}, by_body, 6);
		for (int i = 0; i < MONTHS; i++) {
			check_close(months[i].sun_min + months[i].hidden_min[SHADE_BUILT] +
					    months[i].hidden_min[SHADE_TREE],
				months[i].up_min, 1e-6, "parts");
			assert_true(
				months[i].sun_min >= 0 && months[i].hidden_min[SHADE_TREE] >= 0);
			assert_true(months[i].sun_min <= before[i].sun_min + 1e-9);
			assert_true(months[i].afternoon_sun_min <= months[i].afternoon_up_min);
		}
		for (int i = 0; i < 6; i++)
			sum += by_body[i];
		shaded = months[0].afternoon_up_min - months[0].afternoon_sun_min;
		check_close(sum, shaded, 1e-6, "who shades the afternoons of January");
	}
}

static void higher_walls_hide_more(void **state)
{
	(void)state;
	const struct shade_point ends[] = {{-6, -4}, {6, -4}};
	const struct shade_path *path = year_of(45);
	double before = 1e9;

	for (int height = 1; height <= 12; height++) {
		struct shade_body body = wall(ends, 2, height);
		struct shade_horizon horizon = seen(1, &body, 1);
		struct shade_month months[MONTHS];
		shade_months(path, &horizon, months);
		assert_true(months[11].sun_min <= before);
		before = months[11].sun_min;
	}
	assert_true(before < 60);
}

/* A wall on the noon side, which is south here and north there. */
static void south_mirrors_the_north(void **state)
{
	(void)state;
	const struct shade_point south_side[] = {{-8, -4}, {8, -4}};
	const struct shade_point north_side[] = {{-8, 4}, {8, 4}};
	struct shade_body body = wall(south_side, 2, 5);
	struct shade_horizon towards_south = seen(1, &body, 1);
	body = wall(north_side, 2, 5);
	struct shade_horizon towards_north = seen(1, &body, 1);
	struct shade_month north[MONTHS], south[MONTHS];

	shade_months(year_of(42), &towards_south, north);
	shade_months(year_of(-42), &towards_north, south);
	double sun = 0, mirrored = 0;
	for (int i = 0; i < MONTHS; i++) {
		check_close(north[i].up_min, south[(i + 6) % MONTHS].up_min, 15, "day");
		sun += north[i].sun_min;
		mirrored += south[i].sun_min;
	}
	/* the northern summer is a week longer */
	check_close(north[5].sun_min, south[11].sun_min, 5, "June and December");
	check_close(north[11].sun_min, south[5].sun_min, 5, "December and June");
	check_close(mirrored, sun, sun * 0.03, "the whole year");
}

static void afternoon_shade_has_a_name(void **state)
{
	(void)state;
	const struct shade_point west[] = {{-3, -8}, {-3, 8}};
	const struct shade_point east[] = {{3, -8}, {3, 8}};
	const struct shade_body bodies[] = {wall(east, 2, 4), wall(west, 2, 4)};
	struct shade_horizon horizon = seen(1, bodies, 2);
	struct shade_month months[MONTHS];
	const struct shade_path *path = year_of(38);
	double by_body[2];

	shade_months(path, &horizon, months);
	shade_by_body(
		path, &horizon, (struct shade_when){1U << 5 | 1U << 6 | 1U << 7, true}, by_body, 2);
	check_close(by_body[0], 0, 1, "the wall in the east is at rest by then");
	assert_true(by_body[1] > 120);
	check_close(months[6].afternoon_up_min, months[6].up_min / 2, 3, "half the day");
	assert_true(months[6].afternoon_sun_min < months[6].afternoon_up_min - 120);
	shade_by_body(path, &horizon, (struct shade_when){0, true}, by_body, 2);
	check_close(by_body[1], 0, 0, "no months asked for");
	shade_by_body(path, &horizon, (struct shade_when){1U << 6, false}, by_body, 2);
	check_close(by_body[0] + by_body[1], months[6].hidden_min[SHADE_BUILT], 1e-6, "whole days");
}

static void open_ground_has_the_whole_day(void **state)
{
	(void)state;
	struct shade_horizon horizon = seen(1, NULL, 0);
	struct shade_month months[MONTHS];

	shade_months(year_of(50), &horizon, months);
	for (int i = 0; i < MONTHS; i++) {
		assert_true(months[i].days >= 14 && months[i].days <= 16);
		check_close(months[i].sun_min, months[i].up_min, 0, "all of it");
	}
	assert_true(months[5].up_min > 950 && months[11].up_min < 500);
}

static void polar_months_are_all_or_nothing(void **state)
{
	(void)state;
	struct shade_horizon horizon = seen(1, NULL, 0);
	struct shade_month months[MONTHS];

	shade_months(year_of(75), &horizon, months);
	check_close(months[5].sun_min, 1440, 0, "June");
	check_close(months[11].sun_min, 0, 0, "December");
}

static void odd_steps_are_refused(void **state)
{
	(void)state;
	const struct shade_path *path = NULL;
	struct fault why = {0};
	struct shade_days days = {day_of("2026-01-01"), day_of("2026-01-02"), 1, 7};

	check_int(shade_path_make(&hill, &days, made(), &path, &why), STATUS_RANGE, "7 minutes");
	check_has(why.text, "7 minutes do not fit", "why");
	days.every_min = 5;
	days.every_days = 0;
	check_int(shade_path_make(&hill, &days, made(), &path, &why), STATUS_RANGE, "no step");
	struct sun_site nowhere = {NAN, 0};
	check_int(shade_path_of_year(&nowhere, 2026, made(), &path, &why), STATUS_RANGE, "nowhere");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(wall_is_as_high_as_it_looks),
		cmocka_unit_test(wall_over_north_is_whole),
		cmocka_unit_test(house_is_seen_by_its_near_sides),
		cmocka_unit_test(tree_is_a_drum),
		cmocka_unit_test(crown_over_the_spot_is_said),
		cmocka_unit_test(own_tree_hides_nothing),
		cmocka_unit_test(bank_hides_what_was_worked_out_elsewhere),
		cmocka_unit_test(months_of_a_year_agree_with_every_minute_of_them),
		cmocka_unit_test(parts_add_up),
		cmocka_unit_test(higher_walls_hide_more),
		cmocka_unit_test(south_mirrors_the_north),
		cmocka_unit_test(afternoon_shade_has_a_name),
		cmocka_unit_test(open_ground_has_the_whole_day),
		cmocka_unit_test(polar_months_are_all_or_nothing),
		cmocka_unit_test(odd_steps_are_refused),
	};

	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
