/* SPDX-License-Identifier: MIT */
/* One tree's week of water, from logs with stored weather, on both sides of the equator. */
#include "reckon/tree_water.h"

#include "support/sky_case.h"

#define DRY "2026-05-01 80 150 330 0"
#define LATER "2026-07-10"

static struct tree_water water_of(struct garden *garden)
{
	struct tree_water water;

	tree_water_make(garden_story(garden, "A1"), yard_today(garden->yard), &water);
	return water;
}

static const struct water_way *way_of(const struct tree_water *water, enum water_way_kind kind)
{
	for (int32_t i = 0; i < water->way_count; i++)
		if (water->ways[i].kind == kind)
			return &water->ways[i];
	return NULL;
}

static struct sky_case apple(const char *spot, const char *weather, const char *lines)
{
	return (struct sky_case){.place = AT_WET_WINTER,
		.kind = "apple",
		.planted = "2015",
		.spot = spot,
		.weather = weather,
		.lines = lines,
		.today = LATER};
}

/* Everything known but the cover of the ground: 0.95 bare to 1.20 under grass. */
static void a_known_tree_has_its_week(void **state)
{
	struct garden garden;
	struct sky_case one = apple("loam metre drip", DRY, "A1 spread 4 m @ 2026-05-01");

	(void)state;
	sky_case_make(&garden, &one, false);
	struct tree_water water = water_of(&garden);
	const struct water_way *way = way_of(&water, WAY_WEATHER);
	assert_non_null(way);
	check_int(water.stand, STAND_BEARING, "eleven years");
	check_int(water.phase, LEAF_MID, "July");
	check_int(water.days_known, 7, "days");
	check_close(water.reference_mm.low, 47, 5, "near 7 mm a day in a hot July");
	check_close(way->full_mm.low, water.reference_mm.low * 0.95, 1e-6, "bare");
	check_close(way->full_mm.high, water.reference_mm.low * 1.20, 1e-6, "grass");
	check_close(way->need_l.low, way->depth_mm.low * 12.566370614, 1e-5, "of 12.57 m2");
	assert_false(way->give_l.known); /* the method's losses are not known */
	check_close(way->run_s.low, way->need_l.low / 32 * 3600, 1, "by 4 x 8 l/h, at least");
	check_int((int64_t)water.lacks, LACK_COVER | LACK_EFFICIENCY, "what is asked");
	check_close(water.root_m.low, 1, 1e-9, "own roots");
	assert_true(water.full_days.known && water.full_days.low > 5 && water.full_days.high < 12);
	garden_free(&garden);
}

static void a_hemisphere_on_it_is_much_the_same(void **state)
{
	struct sky_case one = apple("loam metre drip", DRY, "A1 spread 4 m @ 2026-05-01");
	double need_l[2];

	(void)state;
	for (int south = 0; south < 2; south++) {
		struct garden garden;
		sky_case_make(&garden, &one, south == 1);
		struct tree_water water = water_of(&garden);
		check_int(water.phase, LEAF_MID, "summer");
		need_l[south] = way_of(&water, WAY_WEATHER)->need_l.low;
		garden_free(&garden);
	}
	/* the sun stands up to 7 % nearer in January */
	check_close(need_l[1] / need_l[0], 1, 0.09, "mirror");
}

static void what_is_not_known_gives_no_figure_and_is_asked(void **state)
{
	static const struct {
		const char *name;
		struct sky_case one;
		unsigned lack;
	} cases[] = {
		{"no kind", {.kind = "-", .weather = DRY}, LACK_KIND},
		{"no coefficient", {.kind = "persimmon", .weather = DRY}, LACK_KC},
		{"no latitude", {.kind = "apple", .weather = DRY, .no_latitude = true},
			LACK_LATITUDE},
		{"no weather", {.kind = "apple", .weather = ""}, LACK_WEATHER},
		{"weather that ended", {.kind = "apple", .weather = "2026-06-01 37 150 330 0"},
			LACK_WEATHER},
		{"three days of it", {.kind = "apple", .weather = "2026-07-08 3 150 330 0"},
			LACK_WEATHER},
	};

	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		struct garden garden;
		struct sky_case one = cases[i].one;
		one.place = AT_WET_WINTER;
		one.planted = "2015";
		one.spot = "";
		one.lines = "A1 spread 4 m @ 2026-05-01";
		one.today = LATER;
		sky_case_make(&garden, &one, false);
		struct tree_water water = water_of(&garden);
		check_int(water.lacks & cases[i].lack, cases[i].lack, cases[i].name);
		assert_null(way_of(&water, WAY_WEATHER));
		assert_false(water.dry_days.known);
		garden_free(&garden);
	}
}

static void four_days_stand_for_seven(void **state)
{
	struct garden garden;
	struct sky_case whole = apple("loam metre", DRY, "");
	struct sky_case part = apple("loam metre", "2026-07-07 4 150 330 0", "");

	(void)state;
	sky_case_make(&garden, &whole, false);
	double whole_mm = water_of(&garden).reference_mm.low;
	garden_free(&garden);
	sky_case_make(&garden, &part, false);
	struct tree_water water = water_of(&garden);
	check_int(water.days_known, 4, "known");
	check_close(water.reference_mm.low, whole_mm, whole_mm / 100, "by their mean");
	assert_true((water.lacks & LACK_RAIN) != 0 && (water.lacks & LACK_WEATHER) == 0);
	garden_free(&garden);
}

static void a_crown_not_measured_has_a_depth_and_no_volume(void **state)
{
	struct garden garden;
	struct sky_case one = apple("loam metre drip", DRY, "");

	(void)state;
	sky_case_make(&garden, &one, false);
	struct tree_water water = water_of(&garden);
	const struct water_way *way = way_of(&water, WAY_WEATHER);
	assert_non_null(way);
	assert_true(way->depth_mm.known && (water.lacks & LACK_SPREAD) != 0);
	assert_false(way->need_l.known || way->give_l.known || way->run_s.known);
	garden_free(&garden);
}

static void minutes_alone_give_no_volume(void **state)
{
	struct garden garden;
	struct sky_case one = apple(
		"loam metre", DRY, "A1 spread 4 m @ 2026-05-01|A1 watered 35 min @ 2026-07-09");

	(void)state;
	sky_case_make(&garden, &one, false);
	struct tree_water water = water_of(&garden);
	check_int(water.given_count, 1, "one watering");
	check_int(water.given_unknown, 1, "of which nobody knows how much");
	check_close(water.given_l, 0, 0, "nothing counted");
	assert_true((water.lacks & LACK_GIVEN) != 0);
	assert_false(way_of(&water, WAY_WEATHER)->give_l.known);
	assert_false(way_of(&water, WAY_WEATHER)->run_s.known);
	garden_free(&garden);
}

static struct spot plot_of(struct garden *garden)
{
	struct fault why = {0};
	struct spot spot;

	check_ok(store_spot_find(garden->store, "plot", &spot, &why), &why);
	return spot;
}

static void plot_save(struct garden *garden, const struct spot *spot)
{
	struct fault why = {0};

	check_ok(store_act_begin(garden->store, ACT_WORK, "spot", &why), &why);
	check_ok(store_spot_save(garden->store, spot, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
	garden_look(garden);
}

static void a_method_s_losses_are_added_and_what_was_given_is_taken_off(void **state)
{
	struct garden garden;
	struct sky_case one = apple(
		"loam metre drip", DRY, "A1 spread 4 m @ 2026-05-01|A1 watered 100 l @ 2026-07-08");

	(void)state;
	sky_case_make(&garden, &one, false);
	struct spot spot = plot_of(&garden);
	spot.efficiency_permille = known_i32(800);
	spot.cover = COVER_BARE;
	plot_save(&garden, &spot);
	struct tree_water water = water_of(&garden);
	const struct water_way *way = way_of(&water, WAY_WEATHER);
	check_int((int64_t)water.lacks, 0, "all is known");
	check_close(way->need_l.low, way->need_l.high, 1e-9, "one figure");
	check_close(way->give_l.low, way->need_l.low / 0.8 - 100, 1e-6, "eight tenths, less 100 l");
	check_close(way->run_s.low, way->give_l.low / 32 * 3600, 1, "seconds");
	spot.efficiency_permille = known_i32(900);
	plot_save(&garden, &spot);
	water = water_of(&garden);
	assert_true(way_of(&water, WAY_WEATHER)->give_l.low <
		    way_of(&water, WAY_WEATHER)->need_l.low / 0.8 - 100);
	garden_free(&garden);
}

static void rain_is_taken_off_and_never_below_nothing(void **state)
{
	struct garden garden;
	struct sky_case some = apple("loam metre", DRY ";2026-07-06 1 150 330 20", "");
	struct sky_case much = apple("loam metre", DRY ";2026-07-04 7 150 330 40", "");

	(void)state;
	sky_case_make(&garden, &some, false);
	struct tree_water water = water_of(&garden);
	const struct water_way *way = way_of(&water, WAY_WEATHER);
	check_close(water.rain_mm, 20, 1e-9, "fell");
	check_close(water.rain_counts_mm, 17.46, 1e-9, "counts");
	check_close(way->depth_mm.low, way->full_mm.low - 17.46, 1e-9, "left");
	garden_free(&garden);
	sky_case_make(&garden, &much, false);
	water = water_of(&garden);
	check_close(way_of(&water, WAY_WEATHER)->depth_mm.high, 0, 0, "nothing to give");
	garden_free(&garden);
}

static void stands_of_trees(void **state)
{
	static const struct {
		const char *planted, *spot, *lines;
		enum water_stand stand;
	} cases[] = {
		{"2026-02-10", "", "", STAND_NEW},
		{"2025-02-10", "", "", STAND_YOUNG},
		{"2025-02-10", "", "A1 picked 2 lb @ 2026-07-01", STAND_BEARING},
		{"2010", "", "", STAND_BEARING},
		{"2010", "pot", "", STAND_POT},
		{"", "", "", STAND_UNKNOWN},
	};

	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		struct garden garden;
		struct sky_case one = apple(cases[i].spot, DRY, cases[i].lines);
		one.planted = cases[i].planted;
		sky_case_make(&garden, &one, false);
		check_int(water_of(&garden).stand, cases[i].stand, cases[i].planted);
		garden_free(&garden);
	}
}

static void a_new_tree_has_the_roots_of_its_ball_and_a_pot_no_soil(void **state)
{
	struct garden garden;
	struct sky_case one = apple("loam", DRY, "A1 spread 1 m @ 2026-05-01");

	(void)state;
	one.planted = "2026-02-10";
	sky_case_make(&garden, &one, false);
	struct tree_water water = water_of(&garden);
	check_close(water.root_m.high, 16 * 0.0254, 1e-6, "16 in");
	assert_true(water.full_days.high < 6);
	assert_null(way_of(&water, WAY_RULE)); /* soakings are for grown trees */
	garden_free(&garden);
	one = apple("pot", DRY, "A1 spread 1 m @ 2026-05-01");
	sky_case_make(&garden, &one, false);
	water = water_of(&garden);
	assert_false(water.full_days.known || water.mm_per_m.known);
	assert_true(way_of(&water, WAY_WEATHER)->need_l.known);
	garden_free(&garden);
}

static void a_bare_tree_asks_for_none(void **state)
{
	struct garden garden;
	struct sky_case one =
		apple("loam metre", "2025-11-10 70 50 200 0", "A1 spread 4 m @ 2025-05-01");

	(void)state;
	one.today = "2026-01-15";
	sky_case_make(&garden, &one, false);
	struct tree_water water = water_of(&garden);
	check_int(water.phase, LEAF_REST, "at rest");
	check_close(way_of(&water, WAY_WEATHER)->depth_mm.high, 0, 0, "none");
	assert_null(way_of(&water, WAY_RULE));
	assert_false(water.dry_days.known);
	garden_free(&garden);
}

static void hot_days_are_counted_at_the_spot(void **state)
{
	struct garden garden;
	const char *weather = DRY ";2026-07-07 1 200 350 0;2026-07-08 1 200 349 0";
	struct sky_case one = apple("", weather, "");

	(void)state;
	sky_case_make(&garden, &one, false);
	check_int(water_of(&garden).heat_days, 1, "35.0 C is one, 34.9 none");
	garden_free(&garden);
	one.spot = "cold";
	sky_case_make(&garden, &one, false);
	check_int(water_of(&garden).heat_days, 0, "2 C colder there");
	garden_free(&garden);
}

static void polar_night_is_said(void **state)
{
	struct garden garden;
	struct place place;
	struct fault why = {0};
	log_case_place(AT_COOL, false, &place);
	place.latitude_udeg = known_i32(70000000);
	place.longitude_udeg = known_i32(20000000);

	(void)state;
	garden_make_at(&garden, &place, "2026-12-20");
	garden_tree(&garden, "A1", "lemon", "2015", "");
	check_ok(store_act_begin(garden.store, ACT_WORK, "weather", &why), &why);
	sky_case_days(&garden, "2026-12-10 10 -200 -100 0");
	check_ok(store_act_commit(garden.store, &why), &why);
	garden_look(&garden);
	struct tree_water water = water_of(&garden);
	check_int(water.lacks & (LACK_POLAR | LACK_WEATHER), LACK_POLAR, "the night, not the days");
	assert_null(way_of(&water, WAY_WEATHER));
	assert_false(water.reference_mm.known);
	garden_free(&garden);
}

static void a_citrus_spans_the_shares_of_its_ground(void **state)
{
	struct garden garden;
	struct sky_case one = apple("loam metre", DRY, "");
	one.kind = "orange";

	(void)state;
	sky_case_make(&garden, &one, false);
	struct tree_water water = water_of(&garden);
	assert_true((water.lacks & LACK_SHARE) != 0 && (water.lacks & LACK_COVER) != 0);
	assert_true((water.lacks & LACK_WINTER) == 0);
	check_close(water.kc.low, 0.45, 1e-9, "a fifth, bare");
	check_close(water.kc.high, 0.85, 1e-9, "a fifth, with cover");
	garden_free(&garden);
}

/* Lengths of stages are printed for citrus and olive; of others the span of all stages is told. */
static void an_evergreen_goes_by_its_stages_where_they_are_known(void **state)
{
	static const struct {
		const char *kind;
		bool known;
		double low, high;
	} kinds[] = {
		{"orange", true, 0.45, 0.85},
		{"lemon", true, 0.45, 0.85},
		{"mandarin", true, 0.45, 0.85},
		{"olive", true, 0.70, 0.70}, /* 10 July: day 132 of 30, 90 and 60 */
		{"avocado", false, 0.60, 0.85},
		{"loquat", false, 0.60, 0.65},
	};

	(void)state;
	for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++)
		for (int south = 0; south < 2; south++) {
			struct garden garden;
			struct sky_case one = apple("loam metre", DRY, "");

			one.kind = kinds[i].kind;
			sky_case_make(&garden, &one, south == 1);
			struct tree_water water = water_of(&garden);
			check_int(water.stages.known, kinds[i].known, kinds[i].kind);
			check_int(water.phase, kinds[i].known ? LEAF_MID : LEAF_ANY, kinds[i].kind);
			check_close(water.kc.low, kinds[i].low, 1e-9, kinds[i].kind);
			check_close(water.kc.high, kinds[i].high, 1e-9, kinds[i].kind);
			garden_free(&garden);
		}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_known_tree_has_its_week),
		cmocka_unit_test(a_hemisphere_on_it_is_much_the_same),
		cmocka_unit_test(what_is_not_known_gives_no_figure_and_is_asked),
		cmocka_unit_test(four_days_stand_for_seven),
		cmocka_unit_test(a_crown_not_measured_has_a_depth_and_no_volume),
		cmocka_unit_test(minutes_alone_give_no_volume),
		cmocka_unit_test(a_method_s_losses_are_added_and_what_was_given_is_taken_off),
		cmocka_unit_test(rain_is_taken_off_and_never_below_nothing),
		cmocka_unit_test(stands_of_trees),
		cmocka_unit_test(a_new_tree_has_the_roots_of_its_ball_and_a_pot_no_soil),
		cmocka_unit_test(a_bare_tree_asks_for_none),
		cmocka_unit_test(hot_days_are_counted_at_the_spot),
		cmocka_unit_test(polar_night_is_said),
		cmocka_unit_test(a_citrus_spans_the_shares_of_its_ground),
		cmocka_unit_test(an_evergreen_goes_by_its_stages_where_they_are_known),
	};

	return cmocka_run_group_tests_name("a tree's water", tests, NULL, NULL) != 0;
}
