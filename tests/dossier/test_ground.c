/* SPDX-License-Identifier: MIT */
#include "support/garden.h"

#include "dossier/ground.h"

static const struct place hill = {.hemisphere = HEMISPHERE_NORTH,
	.latitude_udeg = {38200000, true},
	.longitude_udeg = {-122100000, true}};

static void add_spot(struct garden *garden, const char *name, enum spot_kind kind, int64_t east_m,
	int64_t north_m, bool placed)
{
	struct fault why = {0};
	struct spot spot = {.kind = kind,
		.east_um = {east_m * 1000000, placed},
		.north_um = {north_m * 1000000, placed}};

	snprintf(spot.name, sizeof spot.name, "%s", name);
	check_ok(store_act_begin(garden->store, ACT_WORK, "spot", &why), &why);
	check_ok(store_spot_add(garden->store, &spot, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
}

static void add_obstacle(struct garden *garden, const char *name, const char *kind,
	const char *points, struct maybe_i64 height_um)
{
	struct fault why = {0};
	struct obstacle obstacle = {.points = points, .height_um = height_um};

	snprintf(obstacle.name, sizeof obstacle.name, "%s", name);
	snprintf(obstacle.kind, sizeof obstacle.kind, "%s", kind);
	check_ok(store_act_begin(garden->store, ACT_WORK, "obstacle", &why), &why);
	check_ok(store_obstacle_add(garden->store, &obstacle, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
}

static const struct yard_ground *ground_of(struct garden *garden)
{
	struct fault why = {0};
	const struct yard_ground *ground = NULL;

	garden_look(garden);
	check_ok(yard_ground(garden->yard, &ground, &why), &why);
	return ground;
}

static int32_t body_of(const struct yard_ground *ground, const char *name)
{
	for (int32_t i = 0; i < ground->body_count; i++)
		if (strcmp(ground->bodies[i].name, name) == 0)
			return i;
	return -1;
}

/* -1: it is no gap. */
static int lack_of(const struct yard_ground *ground, const char *name)
{
	for (int32_t i = 0; i < ground->gap_count; i++)
		if (strcmp(ground->gaps[i].name, name) == 0)
			return (int)ground->gaps[i].lack;
	return -1;
}

static void walls_and_houses_are_bodies(void **state)
{
	(void)state;
	struct garden garden;

	garden_make_at(&garden, &hill, "2026-06-01");
	add_obstacle(
		&garden, "south wall", "wall", "0,-1000000 2500000,-1000000", known_i64(2400000));
	add_obstacle(&garden, "house", "house", "0,0 1,0 1,1", known_i64(6000000));
	add_obstacle(&garden, "back gate", "gate", "0,0 1,1", known_i64(2000000));
	add_obstacle(&garden, "power line", "line", "0,0 1,1", known_i64(8000000));
	const struct yard_ground *ground = ground_of(&garden);
	check_int(ground->body_count, 2, "gates and lines hide nothing");
	check_int(ground->gap_count, 0, "and are not missed");
	int32_t wall = body_of(ground, "south wall"), house = body_of(ground, "house");
	assert_true(wall >= 0 && house >= 0);
	const struct shade_body *shape = &ground->shapes[wall];
	check_int(shape->kind, SHADE_BUILT, "kind");
	check_int(shape->point_count, 2, "points");
	assert_false(shape->closed);
	check_close(shape->points[1].east_m, 2.5, 1e-9, "east");
	check_close(shape->points[1].north_m, -1, 1e-9, "north");
	check_close(shape->height_m, 2.4, 1e-9, "height");
	assert_true(ground->shapes[house].closed);
	garden_free(&garden);
}

static void what_is_not_known_is_a_gap(void **state)
{
	(void)state;
	struct garden garden;

	garden_make_at(&garden, &hill, "2026-06-01");
	add_obstacle(&garden, "barn", "house", "0,0 1,0 1,1", (struct maybe_i64){0});
	add_obstacle(&garden, "post", "wall", "0,0", known_i64(2000000));
	add_spot(&garden, "A1", SPOT_HOLE, 3, 4, true);
	add_spot(&garden, "A2", SPOT_HOLE, 6, 4, true);
	add_spot(&garden, "A3", SPOT_HOLE, 0, 0, false);
	add_spot(&garden, "friend", SPOT_OFF_PLACE, 0, 0, false);
	add_spot(&garden, "cousin", SPOT_OFF_PLACE, 1, 1, true);
	garden_tree(&garden, "A1", "loquat", "", "A1");
	garden_tree(&garden, "A2", "loquat", "", "A2");
	garden_tree(&garden, "A3", "loquat", "", "A3");
	garden_tree(&garden, "A4", "loquat", "", "");
	garden_tree(&garden, "lent", "loquat", "", "friend");
	garden_tree(&garden, "lent too", "loquat", "", "cousin");
	garden_log(&garden, "A2 height 4 m @ 2025-06-01");
	garden_log(&garden, "A3 height 4 m @ 2025-06-01");
	const struct yard_ground *ground = ground_of(&garden);
	check_int(ground->body_count, 0, "none of known place and size");
	check_int(lack_of(ground, "barn"), GAP_HEIGHT, "barn");
	check_int(lack_of(ground, "post"), GAP_POINTS, "post");
	check_int(lack_of(ground, "A1"), GAP_HEIGHT, "A1");
	check_int(lack_of(ground, "A2"), GAP_SPREAD, "A2");
	check_int(lack_of(ground, "A3"), GAP_POSITION, "A3");
	check_int(lack_of(ground, "A4"), GAP_POSITION, "A4");
	check_int(lack_of(ground, "lent"), -1, "is not on this ground");
	check_int(lack_of(ground, "lent too"), -1, "nor where it has a position of its own");
	check_int(ground->gap_count, 6, "each once");
	check_text(ground->gaps[0].name, "A1", "in order of names");
	check_text(ground->gaps[5].name, "post", "last");
	garden_free(&garden);
}

static void tree_is_as_big_as_it_was_last_found(void **state)
{
	(void)state;
	struct garden garden;

	garden_make_at(&garden, &hill, "2026-06-01");
	add_spot(&garden, "A1", SPOT_HOLE, 3, 4, true);
	garden_tree(&garden, "A1", "loquat", "", "A1");
	garden_log(&garden, "A1 height 5 m @ 2024-06-01");
	garden_log(&garden, "A1 height 3 m @ 2021-06-01");
	garden_log(&garden, "A1 spread 2 m @ 2021-06-01");
	garden_log(&garden, "A1 spread 3-5 m @ 2023-06-01");
	const struct yard_ground *ground = ground_of(&garden);
	check_int(ground->body_count, 1, "one tree");
	const struct shade_body *shape = &ground->shapes[0];
	check_int(shape->kind, SHADE_TREE, "kind");
	check_close(shape->height_m, 5, 1e-9, "the latest height, logged first");
	check_close(shape->radius_m, 2, 1e-9, "middle of a range, halved");
	check_close(shape->points[0].east_m, 3, 1e-9, "east");
	check_close(shape->points[0].north_m, 4, 1e-9, "north");
	check_int(ground->bodies[0].measured.value.day, garden_day("2024-06-01").day, "when");
	assert_false(ground->bodies[0].bares);

	garden_log(&garden, "A1 cut shape 30% to 4 m @ 2025-02-01");
	ground = ground_of(&garden);
	check_close(ground->shapes[0].height_m, 4, 1e-9, "what a cut left");
	const char *struck = garden_log(&garden, "A1 height 9 m @ 2026-01-01");
	struct fault why = {0};
	check_ok(store_act_begin(garden.store, ACT_WORK, "strike", &why), &why);
	check_ok(store_entry_strike(garden.store, struck, &why), &why);
	check_ok(store_act_commit(garden.store, &why), &why);
	ground = ground_of(&garden);
	check_close(ground->shapes[0].height_m, 4, 1e-9, "what was struck is not counted");
	garden_today(&garden, "2024-01-01");
	ground = ground_of(&garden);
	check_close(ground->shapes[0].height_m, 3, 1e-9, "nor what was not yet found that day");
	garden_free(&garden);
}

static void trees_that_may_stand_bare_are_told(void **state)
{
	(void)state;
	struct garden garden;

	garden_make_at(&garden, &hill, "2026-06-01");
	static const char *const kinds[] = {"loquat", "apple", ""};
	for (int i = 0; i < 3; i++) {
		char label[8], line[40];
		snprintf(label, sizeof label, "A%d", i + 1);
		add_spot(&garden, label, SPOT_HOLE, 3 * i, 4, true);
		garden_tree(&garden, label, kinds[i], "", label);
		snprintf(line, sizeof line, "%s height 4 m", label);
		garden_log(&garden, line);
		snprintf(line, sizeof line, "%s spread 2 m", label);
		garden_log(&garden, line);
	}
	const struct yard_ground *ground = ground_of(&garden);
	check_int(ground->body_count, 3, "three trees");
	assert_false(ground->bodies[body_of(ground, "A1")].bares);
	assert_true(ground->bodies[body_of(ground, "A2")].bares);
	assert_true(ground->bodies[body_of(ground, "A3")].bares);
	garden_free(&garden);
}

static void months_with_heat_are_those_of_the_weather(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {0};
	static const struct {
		const char *day;
		int32_t max_decic;
		bool forecast;
	} days[] = {{"2025-07-10", 350, false}, {"2025-08-10", 349, false},
		{"2025-09-02", 381, false}, {"2026-05-30", 390, true}, {"2023-06-30", 400, false}};

	garden_make_at(&garden, &hill, "2026-06-01");
	check_int((int32_t)ground_of(&garden)->hot_months, 0, "no weather, no heat");
	check_ok(store_act_begin(garden.store, ACT_WORK, "weather", &why), &why);
	for (size_t i = 0; i < sizeof days / sizeof *days; i++) {
		bool same = false;
		struct weather_day day = {.day = garden_day(days[i].day),
			.forecast = days[i].forecast,
			.max_decic = {days[i].max_decic, true}};
		check_ok(store_weather_day_put(garden.store, &day, &same, &why), &why);
	}
	check_ok(store_act_commit(garden.store, &why), &why);
	check_int((int32_t)ground_of(&garden)->hot_months, 1 << 6 | 1 << 8,
		"observed days of 35.0 C and more within 400 days");
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(walls_and_houses_are_bodies),
		cmocka_unit_test(what_is_not_known_is_a_gap),
		cmocka_unit_test(tree_is_as_big_as_it_was_last_found),
		cmocka_unit_test(trees_that_may_stand_bare_are_told),
		cmocka_unit_test(months_with_heat_are_those_of_the_weather),
	};

	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
