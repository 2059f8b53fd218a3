/* SPDX-License-Identifier: MIT */
#include "support/garden.h"

#include "report/sun_report.h"

enum { SHADE_WALL_EAST_M = 4 };

static struct place place_at(int32_t latitude_deg)
{
	return (struct place){.hemisphere = latitude_deg < 0 ? HEMISPHERE_SOUTH : HEMISPHERE_NORTH,
		.latitude_udeg = {latitude_deg * 1000000, true},
		.longitude_udeg = {15000000, true}};
}

static void add_spot(struct garden *garden, const char *name, int64_t east_m, int64_t north_m)
{
	struct fault why = {0};
	struct spot spot = {
		.east_um = known_i64(east_m * 1000000), .north_um = known_i64(north_m * 1000000)};

	snprintf(spot.name, sizeof spot.name, "%s", name);
	check_ok(store_act_begin(garden->store, ACT_WORK, "spot", &why), &why);
	check_ok(store_spot_add(garden->store, &spot, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
}

/* From south to north, 40 m long, that many metres east of zero. */
static void add_wall(struct garden *garden, const char *name, int east_m)
{
	struct fault why = {0};
	char points[64];
	struct obstacle wall = {.kind = "wall", .points = points, .height_um = known_i64(4000000)};

	snprintf(points, sizeof points, "%d000000,-20000000 %d000000,20000000", east_m, east_m);
	snprintf(wall.name, sizeof wall.name, "%s", name);
	check_ok(store_act_begin(garden->store, ACT_WORK, "wall", &why), &why);
	check_ok(store_obstacle_add(garden->store, &wall, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
}

/* A1 between a wall in the east and one in the west; A2 far from both. */
static void make_yard(struct garden *garden, int32_t latitude_deg)
{
	struct place place = place_at(latitude_deg);

	garden_make_at(garden, &place, "2026-06-01");
	add_spot(garden, "A1", 0, 0);
	add_spot(garden, "A2", 900, 0);
	add_wall(garden, "east wall", SHADE_WALL_EAST_M);
	add_wall(garden, "west wall", -3);
	garden_tree(garden, "A1", "loquat", "", "A1");
	garden_tree(garden, "A2", "loquat", "", "A2");
}

static struct sun_report report_of(struct garden *garden, const char *spot_name)
{
	struct fault why = {0};
	struct spot spot;
	struct sun_options options = {.level_um = SUN_LEVEL_UM};
	struct sun_report report;

	if (spot_name != NULL) {
		check_ok(store_spot_find(garden->store, spot_name, &spot, &why), &why);
		options.spot_id = spot.id;
	}
	check_ok(sun_report_make(garden->yard, &options, garden->arena, &report, &why), &why);
	return report;
}

static const char *words_of(struct garden *garden, const char *label)
{
	struct fault why = {0};
	const char *words = NULL;

	check_ok(sun_words_of_tree(
			 garden->yard, garden_story(garden, label), garden->arena, &words, &why),
		&why);
	return words;
}

static void months_are_said_as_one_says_them(void **state)
{
	(void)state;
	static const struct {
		uint32_t months;
		const char *words;
	} cases[] = {
		{1U << 6, "July"},
		{1U << 5 | 1U << 6, "June, July"},
		{1U << 5 | 1U << 6 | 1U << 7, "June to August"},
		{1U << 11 | 1U << 0 | 1U << 1, "December to February"},
		{1U << 0 | 1U << 1 | 1U << 11 | 1U << 10, "November to February"},
		{1U << 4 | 1U << 6 | 1U << 7, "May, July, August"},
		{0, ""},
	};
	char words[160];

	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
		check_text(sun_month_words(cases[i].months, words, sizeof words), cases[i].words,
			"months");
	sun_month_words((1U << 12) - 1, words, sizeof words);
	check_has(words, "January, February", "all of them");
	check_has(words, "December", "to the last");
}

static void takers_are_named_most_first(void **state)
{
	(void)state;
	struct garden garden;

	make_yard(&garden, 40);
	struct sun_report report = report_of(&garden, "A1");
	check_int(report.spot_count, 1, "one spot");
	const struct sun_spot *spot = &report.spots[0];
	assert_true(spot->placed);
	check_text(spot->takers[0].body->name, "west wall", "the nearer one");
	check_text(spot->takers[1].body->name, "east wall", "then the other");
	assert_null(spot->takers[2].body);
	assert_true(spot->takers[0].minutes > spot->takers[1].minutes);
	check_text(spot->afternoons[0].body->name, "west wall", "afternoon");
	assert_null(spot->afternoons[1].body);
	check_close(spot->afternoons[0].minutes, spot->afternoon_up_min - spot->afternoon_sun_min,
		1e-6, "all of the afternoon's shade");
	garden_free(&garden);
}

static void summer_is_that_of_the_place(void **state)
{
	(void)state;
	static const struct {
		int32_t latitude_deg;
		enum heat_basis heat;
		uint32_t months;
	} cases[] = {
		{40, HEAT_SUMMER, 1U << 5 | 1U << 6 | 1U << 7},
		{-40, HEAT_SUMMER, 1U << 11 | 1U << 0 | 1U << 1},
		{12, HEAT_SUMMER, 1U << 5 | 1U << 6 | 1U << 7},
		{11, HEAT_UNKNOWN, 0},
		{-11, HEAT_UNKNOWN, 0},
	};

	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct garden garden;
		make_yard(&garden, cases[i].latitude_deg);
		struct sun_report report = report_of(&garden, NULL);
		check_int(report.heat, cases[i].heat, "basis");
		check_int((int32_t)report.hot_months, (int32_t)cases[i].months, "months");
		check_int(report.spot_count, 2, "all spots");
		garden_free(&garden);
	}
}

static void heat_that_was_measured_comes_first(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {0};
	bool same = false;
	struct weather_day day = {.day = garden_day("2026-05-04"), .max_decic = {352, true}};

	make_yard(&garden, 8);
	check_ok(store_act_begin(garden.store, ACT_WORK, "weather", &why), &why);
	check_ok(store_weather_day_put(garden.store, &day, &same, &why), &why);
	check_ok(store_act_commit(garden.store, &why), &why);
	garden_look(&garden);
	struct sun_report report = report_of(&garden, "A1");
	check_int(report.heat, HEAT_LOGGED, "in the tropics too");
	check_int((int32_t)report.hot_months, 1 << 4, "May");
	check_has(words_of(&garden, "A1"), "afternoon shade in heat, May: ", "the tree's line");
	garden_free(&garden);
}

static void line_of_a_tree_tells_both_ends_of_the_year(void **state)
{
	(void)state;
	struct garden garden;

	make_yard(&garden, 40);
	const char *words = words_of(&garden, "A1");
	check_has(words, " h in June, ", "June first");
	check_has(words, " h in December; afternoon shade in summer, June to August: ", "December");
	check_has(words, ", from west wall", "by name");
	check_has(words, "; 1 not counted", "A2, not itself");
	check_has(words_of(&garden, "A2"), "14.8 of 14.8 h in June", "in the open");
	assert_null(strstr(words_of(&garden, "A2"), "afternoon"));
	garden_free(&garden);
	make_yard(&garden, -40);
	words = words_of(&garden, "A1");
	check_has(words, " h in December, ", "the longest day comes first");
	check_has(words, " h in June; afternoon shade in summer, December to February: ", "June");
	garden_free(&garden);
}

static void without_a_plan_there_is_no_line(void **state)
{
	(void)state;
	struct garden garden;
	struct place place = place_at(40);

	garden_make_at(&garden, &place, "2026-06-01");
	add_spot(&garden, "A1", 0, 0);
	garden_tree(&garden, "A1", "loquat", "", "A1");
	garden_tree(&garden, "A2", "loquat", "", "");
	garden_log(&garden, "A1 height 4 m");
	garden_log(&garden, "A1 spread 4 m");
	check_text(words_of(&garden, "A1"), "", "nothing but itself is drawn");
	add_wall(&garden, "east wall", SHADE_WALL_EAST_M);
	garden_look(&garden);
	assert_true(words_of(&garden, "A1")[0] != '\0');
	check_text(words_of(&garden, "A2"), "", "it stands in no spot");
	garden_free(&garden);
	place.latitude_udeg.known = false;
	garden_make_at(&garden, &place, "2026-06-01");
	add_spot(&garden, "A1", 0, 0);
	add_wall(&garden, "east wall", SHADE_WALL_EAST_M);
	garden_tree(&garden, "A1", "loquat", "", "A1");
	check_text(words_of(&garden, "A1"), "", "the place has no latitude");
	struct sun_report report = report_of(&garden, "A1");
	assert_false(report.latitude_known);
	check_int(report.spot_count, 0, "nothing is told");
	garden_free(&garden);
}

static void a_graft_has_the_sun_of_its_host(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {0};
	struct new_tree fresh = {.species = "loquat"};
	char id[ID_SIZE];

	make_yard(&garden, 40);
	snprintf(fresh.tree.label, sizeof fresh.tree.label, "A1 top");
	struct tree host = garden_find(&garden, "A1");
	snprintf(fresh.tree.host_id, sizeof fresh.tree.host_id, "%s", host.id);
	check_ok(work_tree_add(garden.yard, &fresh, garden.asked, id, &why), &why);
	garden_look(&garden);
	check_text(words_of(&garden, "A1 top"), words_of(&garden, "A1"), "one trunk, one place");
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(months_are_said_as_one_says_them),
		cmocka_unit_test(takers_are_named_most_first),
		cmocka_unit_test(summer_is_that_of_the_place),
		cmocka_unit_test(heat_that_was_measured_comes_first),
		cmocka_unit_test(line_of_a_tree_tells_both_ends_of_the_year),
		cmocka_unit_test(without_a_plan_there_is_no_line),
		cmocka_unit_test(a_graft_has_the_sun_of_its_host),
	};

	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
