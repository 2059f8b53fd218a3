/* SPDX-License-Identifier: MIT */
/* The plan as GeoJSON: geometries, the right-hand rule, what is not placed, names of any kind. */
#include "exchange/geojson.h"

#include "core/text.h"

#include "support/garden.h"

static const struct place sonoma = {.hemisphere = HEMISPHERE_NORTH,
	.wet = WET_WINTER,
	.winter = WINTER_MILD,
	.latitude_udeg = {38430000, true},
	.longitude_udeg = {-122870000, true}};

static char *written(struct garden *garden, bool without_private)
{
	struct fault why = {0};
	char *text = NULL;
	size_t length = 0;
	FILE *stream = open_memstream(&text, &length);

	assert_non_null(stream);
	check_ok(geojson_write(stream, garden->yard, without_private, &why), &why);
	fclose(stream);
	return text;
}

static void spot(struct garden *garden, const char *name, int64_t east_um, int64_t north_um)
{
	struct fault why = {0};
	struct spot spot = {.east_um = known_i64(east_um), .north_um = known_i64(north_um)};

	text_copy(spot.name, sizeof spot.name, name);
	check_ok(store_act_begin(garden->store, ACT_WORK, "spot", &why), &why);
	check_ok(store_spot_add(garden->store, &spot, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
	garden_look(garden);
}

static void obstacle(struct garden *garden, const char *name, const char *kind, const char *points)
{
	struct fault why = {0};
	struct obstacle obstacle = {.points = points};

	text_copy(obstacle.name, sizeof obstacle.name, name);
	text_copy(obstacle.kind, sizeof obstacle.kind, kind);
	check_ok(store_act_begin(garden->store, ACT_WORK, "obstacle", &why), &why);
	check_ok(store_obstacle_add(garden->store, &obstacle, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
	garden_look(garden);
}

static void a_spot_is_a_point_with_who_stands_there(void **state)
{
	struct garden garden;
	(void)state;

	garden_make_at(&garden, &sonoma, "2026-11-24");
	spot(&garden, "A1", 0, 0);
	spot(&garden, "A2", 10000000, -20000000);
	garden_tree(&garden, "A1", "apple", "2014", "A1");
	garden_tree(&garden, "twin", "fig", "2015", "A1");
	char *text = written(&garden, false);
	check_has(text, "{\"type\": \"FeatureCollection\",\n \"name\": \"Hill yard\",", "head");
	/* 10 m east, 20 m south: checked against a library in tests/outside/lonlat.tsv */
	check_has(text, "\"bbox\": [-122.8700000, 38.4298198, -122.8698855, 38.4300000],", "box");
	check_has(text,
		"\"geometry\": {\"type\": \"Point\", \"coordinates\": [-122.8700000, 38.4300000]}",
		"the zero");
	check_has(text,
		"\"name\": \"A1\", \"kind\": \"hole\", \"area\": null, \"east_mm\": 0, "
		"\"north_mm\": 0, \"trees\": [\"A1 apple\", \"twin fig\"]",
		"two in one hole");
	check_has(text, "\"east_mm\": 10000, \"north_mm\": -20000, \"trees\": []", "nobody");
	free(text);
	garden_free(&garden);
}

static void what_is_not_placed_has_no_geometry(void **state)
{
	struct garden garden;
	(void)state;

	garden_make_at(&garden, &sonoma, "2026-11-24");
	garden_tree(&garden, "A1", "apple", "2014", "somewhere");
	char *text = written(&garden, false);
	check_has(text,
		"\"geometry\": null,\n   \"properties\": {\"what\": \"spot\", "
		"\"name\": \"somewhere\"",
		"kept all the same");
	assert_null(strstr(text, "bbox"));
	free(text);
	garden_free(&garden);
}

/* The area of the one ring in the text, by the shoelace of its printed positions. */
static double ring_area(const char *text)
{
	const char *at = strstr(text, "\"Polygon\", \"coordinates\": [[");
	double x[16], y[16], sum = 0;
	int count = 0;

	assert_non_null(at);
	at += strlen("\"Polygon\", \"coordinates\": [[");
	while (count < 16 && sscanf(at, "[%lf, %lf]", &x[count], &y[count]) == 2) {
		count++;
		at = strchr(at, ']') + 1;
		at += strspn(at, ", ");
	}
	assert_true(count >= 4);
	check_close(x[0], x[count - 1], 0, "closed");
	check_close(y[0], y[count - 1], 0, "closed");
	for (int i = 0; i + 1 < count; i++)
		sum += (x[i] - x[0]) * (y[i + 1] - y[0]) - (x[i + 1] - x[0]) * (y[i] - y[0]);
	return sum;
}

static void a_house_goes_counterclockwise_however_it_was_typed(void **state)
{
	static const char *const corners[] = {
		"0,0 12000000,0 12000000,8000000 0,8000000",
		"0,0 0,8000000 12000000,8000000 12000000,0",
		"0,0 0,8000000 12000000,8000000 12000000,0 0,0",
		"0,0 0,0 0,8000000 12000000,8000000 12000000,0",
	};
	(void)state;

	for (size_t i = 0; i < sizeof corners / sizeof corners[0]; i++) {
		struct garden garden;
		garden_make_at(&garden, &sonoma, "2026-11-24");
		obstacle(&garden, "house", "house", corners[i]);
		char *text = written(&garden, false);
		assert_true(ring_area(text) > 0);
		free(text);
		garden_free(&garden);
	}
}

struct shape_case {
	const char *kind;
	const char *points;
	const char *want;
};

static const struct shape_case shapes[] = {
	{"wall", "0,0 12000000,0",
		"{\"type\": \"LineString\", \"coordinates\": [[-122.8700000, 38.4300000], "
		"[-122.8698626, 38.4300000]]}"},
	{"wall", "0,0 5000000,0 0,0", "\"LineString\""},
	{"line", "0,0 0,5000000 5000000,5000000", "\"LineString\""},
	{"gate", "0,0", "{\"type\": \"Point\", \"coordinates\": [-122.8700000, 38.4300000]}"},
	{"gate", "0,0 0,0", "\"Point\""},
	{"house", "0,0 5000000,0", "\"LineString\""},
	{"house", "0,0 5000000,0 10000000,0", "\"LineString\""}, /* no area: no ring */
	{"house", "0,0", "\"Point\""},
};

static void each_shape_has_its_geometry(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof shapes / sizeof shapes[0]; i++) {
		struct garden garden;
		char kind[64];
		garden_make_at(&garden, &sonoma, "2026-11-24");
		obstacle(&garden, "it", shapes[i].kind, shapes[i].points);
		char *text = written(&garden, false);
		check_has(text, shapes[i].want, shapes[i].points);
		snprintf(kind, sizeof kind, "\"name\": \"it\", \"kind\": \"%s\"}", shapes[i].kind);
		check_has(text, kind, shapes[i].kind);
		free(text);
		garden_free(&garden);
	}
}

static void names_of_any_kind_stay_text(void **state)
{
	struct garden garden;
	(void)state;

	garden_make_at(&garden, &sonoma, "2026-11-24");
	spot(&garden, "a\"b\\c\x01\xff", 0, 0);
	obstacle(&garden, "</script>\n\xe2\x80\xae", "wall", "0,0 1000000,0");
	char *text = written(&garden, false);
	check_has(text, "\"name\": \"a\\\"b\\\\c\\u0001\xef\xbf\xbd\"", "spot");
	check_has(text, "\"name\": \"</script>\\u000a\xe2\x80\xae\"", "wall");
	free(text);
	garden_free(&garden);
}

static void private_trees_are_not_named(void **state)
{
	struct garden garden;
	struct fault why = {0};
	(void)state;

	garden_make_at(&garden, &sonoma, "2026-11-24");
	spot(&garden, "A1", 0, 0);
	struct tree tree = garden_tree(&garden, "secret", "quince", "2014", "A1");
	garden_tree(&garden, "open", "fig", "2014", "A1");
	garden_log(&garden, "secret grafted bud Hidden @ 2025-03-01");
	tree.is_private = true;
	check_ok(store_act_begin(garden.store, ACT_WORK, "mark", &why), &why);
	check_ok(store_tree_save(garden.store, &tree, &why), &why);
	check_ok(store_act_commit(garden.store, &why), &why);
	garden_look(&garden);
	char *all = written(&garden, false);
	char *some = written(&garden, true);
	check_has(all, "secret", "said");
	check_has(some, "\"trees\": [\"open fig\"]", "not said");
	assert_null(strstr(some, "secret"));
	assert_null(strstr(some, "quince"));
	free(all);
	free(some);
	garden_free(&garden);
}

static void without_a_latitude_there_is_no_plan(void **state)
{
	struct garden garden;
	struct fault why = {0};
	(void)state;

	garden_make(&garden, "2026-11-24");
	check_refused(geojson_write(stdout, garden.yard, false, &why), STATUS_ABSENT, &why,
		"place set --lat");
	garden_free(&garden);
}

static void what_lies_too_far_is_named(void **state)
{
	struct garden garden;
	struct fault why = {0};
	(void)state;

	garden_make_at(&garden, &sonoma, "2026-11-24");
	spot(&garden, "typo", INT64_C(40000000000), 0);
	check_refused(geojson_write(stdout, garden.yard, false, &why), STATUS_RANGE, &why,
		"typo: it lies over 10 km");
	garden_free(&garden);
}

static void an_empty_yard_is_an_empty_collection(void **state)
{
	struct garden garden;
	(void)state;

	garden_make_at(&garden, &sonoma, "2026-11-24");
	char *text = written(&garden, false);
	check_text(text,
		"{\"type\": \"FeatureCollection\",\n \"name\": \"Hill yard\",\n \"features\": "
		"[]}\n",
		"empty");
	free(text);
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_spot_is_a_point_with_who_stands_there),
		cmocka_unit_test(what_is_not_placed_has_no_geometry),
		cmocka_unit_test(a_house_goes_counterclockwise_however_it_was_typed),
		cmocka_unit_test(each_shape_has_its_geometry),
		cmocka_unit_test(names_of_any_kind_stay_text),
		cmocka_unit_test(private_trees_are_not_named),
		cmocka_unit_test(without_a_latitude_there_is_no_plan),
		cmocka_unit_test(what_lies_too_far_is_named),
		cmocka_unit_test(an_empty_yard_is_an_empty_collection),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
