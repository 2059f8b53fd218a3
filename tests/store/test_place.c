/* SPDX-License-Identifier: MIT */
/* The place and its parts: areas, spots, what stands in the way, the walking order. */
#include "support/test.h"

#include "support/yard.h"

#include <string.h>

static void save_place(struct log *yard, const struct place *place)
{
	struct fault why;
	yard_begin(yard, "sets the place");
	check_ok(store_place_save(yard->store, place, &why), &why);
	yard_commit(yard);
}

static struct place load_place(struct log *yard)
{
	struct fault why;
	struct place place;
	check_ok(store_place_load(yard->store, &place, &why), &why);
	return place;
}

static void place_begins_with_a_name_only(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	const struct place place = load_place(&yard);
	check_text(place.name, "Hill yard", "name");
	check_int((int64_t)strlen(place.id), 26, "id");
	assert_false(place.latitude_udeg.known || place.longitude_udeg.known);
	check_int(place.hemisphere, HEMISPHERE_UNKNOWN, "hemisphere");
	check_int(place.wet, WET_UNKNOWN, "wet");
	check_int(place.winter, WINTER_UNKNOWN, "winter");
	check_int(place.last_frost.month, 0, "last frost");
	check_int(place.units, UNITS_UNSET, "units");
	check_int(place.dates, DATES_UNSET, "dates");
	log_free(&yard);
}

static void place_is_read_as_it_was_set(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct place place = load_place(&yard);
	(void)snprintf(
		place.name, sizeof place.name, "%s", "Yard \"on\" the hill \xF0\x9F\x8C\xB1");
	place.latitude_udeg = known_i32(-38200000);
	place.longitude_udeg = known_i32(145100000);
	place.wet = WET_LITTLE;
	place.winter = WINTER_FROSTY;
	place.last_frost = (struct month_day){10, 3};
	place.first_frost = (struct month_day){5, 29};
	place.units = UNITS_SI;
	place.gallon = GALLON_IMPERIAL;
	place.numbers = NUMBERS_COMMA;
	place.dates = DATES_DMY;
	save_place(&yard, &place);
	log_reopen(&yard);
	const struct place got = load_place(&yard);
	check_text(got.name, place.name, "name");
	check_int(got.latitude_udeg.value, -38200000, "latitude");
	check_int(got.longitude_udeg.value, 145100000, "longitude");
	check_int(got.hemisphere, HEMISPHERE_SOUTH, "the latitude tells the hemisphere");
	check_int(got.wet, WET_LITTLE, "wet");
	check_int(got.winter, WINTER_FROSTY, "winter");
	check_int(got.last_frost.month * 100 + got.last_frost.day, 1003, "last frost");
	check_int(got.first_frost.month * 100 + got.first_frost.day, 529, "first frost");
	check_int(got.units, UNITS_SI, "units");
	check_int(got.gallon, GALLON_IMPERIAL, "gallon");
	check_int(got.numbers, NUMBERS_COMMA, "numbers");
	check_int(got.dates, DATES_DMY, "dates");
	const int64_t changes = log_count(&yard, "change");
	save_place(&yard, &got);
	check_int(log_count(&yard, "change"), changes, "saving again changes nothing");
	log_free(&yard);
}

static void place_without_a_name_is_refused(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct fault why;
	struct place place = load_place(&yard);
	place.name[0] = '\0';
	yard_begin(&yard, "sets the place");
	check_refused(store_place_save(yard.store, &place, &why), STATUS_RANGE, &why, "empty");
	store_act_rollback(yard.store);
	log_free(&yard);
}

static const struct hemisphere_case {
	const char *name;
	struct maybe_i32 latitude_udeg;
	enum hemisphere told;
	enum hemisphere want;
} hemisphere_cases[] = {
	{"told_hemisphere_stands_without_latitude", {0, false}, HEMISPHERE_SOUTH, HEMISPHERE_SOUTH},
	{"latitude_wins_over_what_was_told", {1, true}, HEMISPHERE_SOUTH, HEMISPHERE_NORTH},
	{"southern_latitude", {-1, true}, HEMISPHERE_UNKNOWN, HEMISPHERE_SOUTH},
	{"equator_is_as_told", {0, true}, HEMISPHERE_SOUTH, HEMISPHERE_SOUTH},
	{"nothing_is_guessed", {0, false}, HEMISPHERE_UNKNOWN, HEMISPHERE_UNKNOWN},
};

static void hemisphere_is_known(const void *one)
{
	const struct hemisphere_case *test = one;
	struct log yard;
	log_make(&yard);
	struct place place = load_place(&yard);
	place.latitude_udeg = test->latitude_udeg;
	place.hemisphere = test->told;
	save_place(&yard, &place);
	check_int(load_place(&yard).hemisphere, test->want, "hemisphere");
	log_free(&yard);
}

static void setting_the_place_is_undone(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct fault why;
	char what[TEXT_SIZE];
	struct place place = load_place(&yard);
	place.wet = WET_WINTER;
	save_place(&yard, &place);
	check_ok(store_undo(yard.store, what, &why), &why);
	check_int(load_place(&yard).wet, WET_UNKNOWN, "wet");
	check_ok(store_redo(yard.store, what, &why), &why);
	check_int(load_place(&yard).wet, WET_WINTER, "wet");
	log_free(&yard);
}

/* --- areas --- */

static void areas_are_found_listed_and_named_again(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct arena *arena = arena_new();
	struct fault why;
	struct area found;
	struct area *areas = NULL;
	int32_t count = 0;
	yard_begin(&yard, "adds");
	yard_area(&yard, arena, "Row 10");
	yard_area(&yard, arena, "Row 2");
	struct area twice = {.name = "row 2"};
	check_refused(store_area_add(yard.store, &twice, &why), STATUS_CONFLICT, &why, "row 2");
	check_text(twice.id, "", "id of a refused one");
	check_ok(store_area_find(yard.store, "ROW 2", &found, &why), &why);
	check_text(found.name, "Row 2", "name");
	check_refused(store_area_find(yard.store, "Row", &found, &why), STATUS_ABSENT, &why, "Row");
	(void)snprintf(found.name, sizeof found.name, "ROW 2");
	check_ok(store_area_save(yard.store, &found, &why), &why);
	(void)snprintf(found.name, sizeof found.name, "row 10");
	check_refused(store_area_save(yard.store, &found, &why), STATUS_CONFLICT, &why, "row 10");
	yard_commit(&yard);
	check_ok(store_area_list(yard.store, arena, &areas, &count, &why), &why);
	check_int(count, 2, "areas");
	check_text(areas[0].name, "ROW 2", "natural order");
	arena_free(arena);
	log_free(&yard);
}

static void area_with_spots_is_not_removed(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct arena *arena = arena_new();
	struct fault why;
	struct area found;
	yard_begin(&yard, "adds");
	const char *area = yard_area(&yard, arena, "top");
	struct spot spot = {.name = "S1"};
	(void)snprintf(spot.area_id, sizeof spot.area_id, "%s", area);
	check_ok(store_spot_add(yard.store, &spot, &why), &why);
	check_refused(store_row_strike(yard.store, "area", area, &why), STATUS_CONFLICT, &why,
		"S1 is a spot of this area");
	check_ok(store_row_strike(yard.store, "spot", spot.id, &why), &why);
	check_ok(store_row_strike(yard.store, "area", area, &why), &why);
	check_refused(
		store_row_strike(yard.store, "area", area, &why), STATUS_ABSENT, &why, "area");
	yard_commit(&yard);
	check_refused(store_area_find(yard.store, "top", &found, &why), STATUS_ABSENT, &why, "top");
	arena_free(arena);
	log_free(&yard);
}

/* --- spots --- */

static struct spot full_spot(void)
{
	return (struct spot){.name = "Pot \xE2\x84\x96 3; 'big'",
		.kind = SPOT_CONTAINER,
		.east_um = known_i64(-3000000),
		.north_um = known_i64(4000000),
		.volume_ul = known_i64(60000000),
		.offset_decic = -12,
		.soil = SOIL_CLAY_LOAM,
		.root_depth_um = known_i64(600000),
		.cover = COVER_MULCH,
		.watering = "drip",
		.emitters = known_i32(4),
		.flow_ulh = known_i64(2000000),
		.efficiency_permille = known_i32(850)};
}

static void spot_is_read_as_it_was_written(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct arena *arena = arena_new();
	struct fault why;
	struct spot got;
	yard_begin(&yard, "adds");
	struct spot spot = full_spot();
	(void)snprintf(spot.area_id, sizeof spot.area_id, "%s", yard_area(&yard, arena, "top"));
	check_ok(store_spot_add(yard.store, &spot, &why), &why);
	yard_commit(&yard);
	check_ok(store_spot_load(yard.store, spot.id, &got, &why), &why);
	check_text(got.name, spot.name, "name");
	check_int(got.kind, SPOT_CONTAINER, "kind");
	check_text(got.area_id, spot.area_id, "area");
	check_int(got.east_um.value, -3000000, "east");
	check_int(got.north_um.value, 4000000, "north");
	check_int(got.volume_ul.value, 60000000, "volume");
	check_int(got.offset_decic, -12, "offset");
	check_int(got.soil, SOIL_CLAY_LOAM, "soil");
	check_int(got.root_depth_um.value, 600000, "root depth");
	check_int(got.cover, COVER_MULCH, "cover");
	check_text(got.watering, "drip", "watering");
	check_int(got.emitters.value, 4, "emitters");
	check_int(got.flow_ulh.value, 2000000, "flow");
	check_int(got.efficiency_permille.value, 850, "efficiency");
	check_ok(store_spot_find(yard.store, "pot \xE2\x84\x96 3; 'BIG'", &got, &why), &why);
	check_text(got.id, spot.id, "found");
	arena_free(arena);
	log_free(&yard);
}

static void every_soil_and_kind_of_spot_is_kept(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct fault why;
	struct spot got;
	yard_begin(&yard, "adds");
	for (int soil = SOIL_UNKNOWN; soil <= SOIL_CLAY; soil++) {
		struct spot spot = {.soil = (enum soil_texture)soil,
			.kind = (enum spot_kind)(soil % 3),
			.cover = (enum ground_cover)(soil % 4)};
		(void)snprintf(spot.name, sizeof spot.name, "S%d", soil);
		check_ok(store_spot_add(yard.store, &spot, &why), &why);
		check_ok(store_spot_load(yard.store, spot.id, &got, &why), &why);
		check_int(got.soil, soil, "soil");
		check_int(got.kind, soil % 3, "kind");
		check_int(got.cover, soil % 4, "cover");
		assert_false(got.east_um.known || got.volume_ul.known || got.emitters.known);
	}
	yard_commit(&yard);
	log_free(&yard);
}

static const struct spot_case {
	const char *name;
	const char *label;
	int32_t offset_decic;
	const char *area_id;
	enum status want;
	const char *says;
} spot_cases[] = {
	{"spot_of_the_same_name_is_refused", "s1", 0, "", STATUS_CONFLICT, "s1"},
	{"spot_without_a_name_is_refused", "", 0, "", STATUS_RANGE, "empty"},
	{"spot_with_a_long_name_is_refused", "12345678901234567890123456789012345678901", 0, "",
		STATUS_RANGE, "at most 40"},
	{"spot_in_no_area_of_the_log_is_refused", "S2", 0, "00000000000000000000000000",
		STATUS_ABSENT, "area"},
	{"offset_of_forty_degrees_is_refused", "S2", 400, "", STATUS_RANGE, "does not take"},
};

static void spot_is_refused(const void *one)
{
	const struct spot_case *test = one;
	struct log yard;
	log_make(&yard);
	struct arena *arena = arena_new();
	struct fault why;
	struct spot spot = {.offset_decic = test->offset_decic};
	(void)snprintf(spot.name, sizeof spot.name, "%s", test->label);
	(void)snprintf(spot.area_id, sizeof spot.area_id, "%s", test->area_id);
	yard_begin(&yard, "adds");
	yard_spot(&yard, arena, "S1");
	check_refused(store_spot_add(yard.store, &spot, &why), test->want, &why, test->says);
	check_text(spot.id, "", "id");
	store_act_rollback(yard.store);
	arena_free(arena);
	log_free(&yard);
}

static void spot_where_a_tree_stands_is_not_removed(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct arena *arena = arena_new();
	struct fault why;
	struct spot *spots = NULL;
	int32_t count = 0;
	yard_begin(&yard, "adds");
	const char *spot = yard_spot(&yard, arena, "S10");
	yard_spot(&yard, arena, "S2");
	const char *tree = yard_tree(&yard, arena, "A1", spot);
	check_refused(store_row_strike(yard.store, "spot", spot, &why), STATUS_CONFLICT, &why,
		"A1 still stands");
	check_ok(store_spot_list(yard.store, arena, &spots, &count, &why), &why);
	check_int(count, 2, "spots");
	check_text(spots[0].name, "S2", "natural order");
	check_ok(store_tree_move(yard.store, tree, "", yard_day("2024-01-01"), &why), &why);
	check_ok(store_row_strike(yard.store, "spot", spot, &why), &why);
	yard_commit(&yard);
	check_ok(store_spot_list(yard.store, arena, &spots, &count, &why), &why);
	check_int(count, 1, "spots");
	arena_free(arena);
	log_free(&yard);
}

static void saved_spot_changes_its_name_for_finding(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct arena *arena = arena_new();
	struct fault why;
	struct spot spot;
	yard_begin(&yard, "adds");
	yard_spot(&yard, arena, "S1");
	check_ok(store_spot_find(yard.store, "S1", &spot, &why), &why);
	(void)snprintf(spot.name, sizeof spot.name, "By The Wall");
	spot.north_um = known_i64(1);
	check_ok(store_spot_save(yard.store, &spot, &why), &why);
	yard_commit(&yard);
	check_ok(store_spot_find(yard.store, "by the wall", &spot, &why), &why);
	check_int(spot.north_um.value, 1, "north");
	check_refused(store_spot_find(yard.store, "S1", &spot, &why), STATUS_ABSENT, &why, "S1");
	arena_free(arena);
	log_free(&yard);
}

/* --- obstacles and the route --- */

static void obstacles_are_listed(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct arena *arena = arena_new();
	struct fault why;
	struct obstacle *obstacles = NULL;
	int32_t count = 0;
	struct obstacle wall = {.name = "wall",
		.kind = "wall",
		.points = "0,0 12000000,0",
		.height_um = known_i64(2000000)};
	struct obstacle gate = {.name = "gate", .kind = "gate", .points = "0,0"};
	struct obstacle tank = {.name = "tank", .kind = "tank", .points = "0,0"};
	yard_begin(&yard, "adds");
	check_ok(store_obstacle_add(yard.store, &wall, &why), &why);
	check_ok(store_obstacle_add(yard.store, &gate, &why), &why);
	check_refused(store_obstacle_add(yard.store, &tank, &why), STATUS_RANGE, &why, "kind");
	check_ok(store_obstacle_list(yard.store, arena, &obstacles, &count, &why), &why);
	check_int(count, 2, "obstacles");
	check_text(obstacles[0].name, "gate", "order");
	assert_false(obstacles[0].height_um.known);
	check_text(obstacles[1].points, "0,0 12000000,0", "points");
	check_int(obstacles[1].height_um.value, 2000000, "height");
	check_ok(store_row_strike(yard.store, "obstacle", gate.id, &why), &why);
	check_ok(store_obstacle_list(yard.store, arena, &obstacles, &count, &why), &why);
	check_int(count, 1, "obstacles");
	yard_commit(&yard);
	arena_free(arena);
	log_free(&yard);
}

static void check_route(struct log *yard, struct arena *arena, const char *const *want, int32_t n)
{
	struct fault why;
	char(*ids)[ID_SIZE] = NULL;
	int32_t count = 0;
	check_ok(store_route_list(yard->store, arena, &ids, &count, &why), &why);
	check_int(count, n, "spots of the route");
	for (int32_t i = 0; i < count; i++)
		check_text(ids[i], want[i], "spot of the route");
}

static void route_is_set_again_and_undone(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct arena *arena = arena_new();
	struct fault why;
	char what[TEXT_SIZE];
	yard_begin(&yard, "adds");
	const char *a = yard_spot(&yard, arena, "A");
	const char *b = yard_spot(&yard, arena, "B");
	const char *c = yard_spot(&yard, arena, "C");
	yard_commit(&yard);
	check_route(&yard, arena, NULL, 0);
	const char *const first[] = {c, a};
	const char *const second[] = {a, b, c};
	yard_begin(&yard, "sets the route");
	check_ok(store_route_set(yard.store, first, 2, &why), &why);
	yard_commit(&yard);
	check_route(&yard, arena, first, 2);
	yard_begin(&yard, "sets the route");
	check_ok(store_route_set(yard.store, second, 3, &why), &why);
	yard_commit(&yard);
	check_route(&yard, arena, second, 3);
	check_ok(store_undo(yard.store, what, &why), &why);
	check_route(&yard, arena, first, 2);
	check_ok(store_redo(yard.store, what, &why), &why);
	check_route(&yard, arena, second, 3);
	const int64_t sets = log_count(&yard, "change_set");
	yard_begin(&yard, "sets the same route");
	check_ok(store_route_set(yard.store, second, 3, &why), &why);
	yard_commit(&yard);
	check_int(log_count(&yard, "change_set"), sets, "sets");
	yard_begin(&yard, "sets no route");
	check_ok(store_route_set(yard.store, NULL, 0, &why), &why);
	yard_commit(&yard);
	check_route(&yard, arena, NULL, 0);
	arena_free(arena);
	log_free(&yard);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(place_begins_with_a_name_only),
		cmocka_unit_test(place_is_read_as_it_was_set),
		cmocka_unit_test(place_without_a_name_is_refused),
		cmocka_unit_test(setting_the_place_is_undone),
		cmocka_unit_test(areas_are_found_listed_and_named_again),
		cmocka_unit_test(area_with_spots_is_not_removed),
		cmocka_unit_test(spot_is_read_as_it_was_written),
		cmocka_unit_test(every_soil_and_kind_of_spot_is_kept),
		cmocka_unit_test(spot_where_a_tree_stands_is_not_removed),
		cmocka_unit_test(saved_spot_changes_its_name_for_finding),
		cmocka_unit_test(obstacles_are_listed),
		cmocka_unit_test(route_is_set_again_and_undone),
	};
	const int failed = cmocka_run_group_tests_name("place", tests, NULL, NULL) +
			   RUN_CASES("hemispheres", hemisphere_cases, hemisphere_is_known) +
			   RUN_CASES("spots", spot_cases, spot_is_refused);
	return failed != 0;
}
