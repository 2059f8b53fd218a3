/* SPDX-License-Identifier: MIT */
/* Products, containers, answers, own windows and rates, choices, weather, layouts, and what stands
 * outside history. */
#include "support/test.h"

#include "support/yard.h"

#include <string.h>

struct small_yard {
	struct log yard;
	struct arena *arena;
	const char *tree;
};

static int make_yard(void **state)
{
	static struct small_yard made;
	log_make(&made.yard);
	made.arena = arena_new();
	yard_begin(&made.yard, "adds");
	made.tree = yard_tree(&made.yard, made.arena, "A", "");
	*state = &made;
	return 0;
}

static int free_yard(void **state)
{
	struct small_yard *made = *state;
	arena_free(made->arena);
	log_free(&made->yard);
	return 0;
}

/* --- products and containers --- */

static void product_is_read_as_it_was_written(void **state)
{
	struct small_yard *made = *state;
	struct fault why;
	struct product *got = NULL;
	int32_t count = 0;
	struct product product = {.name = "Citrus food 'slow'",
		.n_mpct = known_i32(10500),
		.p2o5_mpct = known_i32(0),
		.elements = "Mg 2 %, Fe 0.1 %",
		.bag_mg = known_i64(20000000),
		.cup_mg = known_i64(226796)};
	struct product bare = {.name = "blood meal", .elements = ""};
	check_ok(store_product_add(made->yard.store, &product, &why), &why);
	check_ok(store_product_add(made->yard.store, &bare, &why), &why);
	check_ok(store_product_list(made->yard.store, made->arena, &got, &count, &why), &why);
	check_int(count, 2, "products");
	check_text(got[0].name, "blood meal", "order");
	assert_false(got[0].n_mpct.known || got[0].bag_mg.known || got[0].cup_mg.known);
	check_text(got[1].name, product.name, "name");
	check_int(got[1].n_mpct.value, 10500, "n");
	assert_true(got[1].p2o5_mpct.known && !got[1].k2o_mpct.known);
	check_int(got[1].p2o5_mpct.value, 0, "none is not unknown");
	check_text(got[1].elements, product.elements, "elements");
	check_int(got[1].bag_mg.value, 20000000, "bag");
	check_int(got[1].cup_mg.value, 226796, "cup");
}

static void product_is_saved_and_its_name_guarded(void **state)
{
	struct small_yard *made = *state;
	struct fault why;
	struct product *got = NULL;
	int32_t count = 0;
	struct product one = {.name = "One", .elements = ""};
	struct product two = {.name = "Two", .elements = ""};
	check_ok(store_product_add(made->yard.store, &one, &why), &why);
	check_ok(store_product_add(made->yard.store, &two, &why), &why);
	one.k2o_mpct = known_i32(100000);
	check_ok(store_product_save(made->yard.store, &one, &why), &why);
	(void)snprintf(two.name, sizeof two.name, "ONE");
	check_refused(store_product_save(made->yard.store, &two, &why), STATUS_CONFLICT, &why,
		"another product called ONE");
	one.n_mpct = known_i32(100001);
	check_refused(store_product_save(made->yard.store, &one, &why), STATUS_RANGE, &why, "");
	check_ok(store_row_strike(made->yard.store, "product", one.id, &why), &why);
	check_ok(store_product_save(made->yard.store, &two, &why), &why);
	check_ok(store_product_list(made->yard.store, made->arena, &got, &count, &why), &why);
	check_int(count, 1, "products");
}

static void containers_come_with_their_weights(void **state)
{
	struct small_yard *made = *state;
	struct fault why;
	struct container *containers = NULL;
	struct container_weight *weights = NULL;
	int32_t count = 0;
	int32_t weight_count = 0;
	struct container bucket = {.name = "green bucket", .volume_ul = known_i64(18927059)};
	struct container tray = {.name = "tray"};
	check_ok(store_container_add(made->yard.store, &bucket, &why), &why);
	check_ok(store_container_add(made->yard.store, &tray, &why), &why);
	struct container_weight any = {.weight_mg = 9000000};
	struct container_weight fig = {
		.species = "fig", .weight_mg = 8000000, .from = known_date(yard_day("2024-01-01"))};
	(void)snprintf(any.container_id, sizeof any.container_id, "%s", bucket.id);
	(void)snprintf(fig.container_id, sizeof fig.container_id, "%s", bucket.id);
	check_ok(store_container_weight_add(made->yard.store, &fig, &why), &why);
	check_ok(store_container_weight_add(made->yard.store, &any, &why), &why);
	check_ok(store_container_list(made->yard.store, made->arena, &containers, &count, &weights,
			 &weight_count, &why),
		&why);
	check_int(count, 2, "containers");
	check_int(containers[0].volume_ul.value, 18927059, "volume");
	assert_false(containers[1].volume_ul.known);
	check_int(weight_count, 2, "weights");
	check_text(weights[0].species, "", "any kind first");
	assert_false(weights[0].from.known);
	check_int(weights[1].weight_mg, 8000000, "weight");
	check_int(weights[1].from.value.day, yard_day("2024-01-01").day, "from");
	check_ok(store_row_strike(made->yard.store, "container", bucket.id, &why), &why);
	check_refused(store_container_weight_add(made->yard.store, &any, &why), STATUS_ABSENT, &why,
		"container");
	check_ok(store_container_list(made->yard.store, made->arena, &containers, &count, &weights,
			 &weight_count, &why),
		&why);
	check_int(count, 1, "containers");
	check_int(weight_count, 0, "weights of a removed one");
}

static void container_that_weighs_nothing_is_refused(void **state)
{
	struct small_yard *made = *state;
	struct fault why;
	struct container bucket = {.name = "bucket"};
	check_ok(store_container_add(made->yard.store, &bucket, &why), &why);
	struct container twice = {.name = "BUCKET"};
	check_refused(store_container_add(made->yard.store, &twice, &why), STATUS_CONFLICT, &why,
		"BUCKET");
	struct container_weight none = {.weight_mg = 0};
	(void)snprintf(none.container_id, sizeof none.container_id, "%s", bucket.id);
	check_refused(
		store_container_weight_add(made->yard.store, &none, &why), STATUS_RANGE, &why, "");
}

/* --- answers --- */

static void answers_come_oldest_first_with_their_times(void **state)
{
	struct small_yard *made = *state;
	struct fault why;
	struct answer *got = NULL;
	int32_t count = 0;
	struct answer answers[] = {
		{.flag_key = "thin-due|X|2026|w",
			.kind = ANSWER_PUT_OFF,
			.until = known_date(yard_day("2026-06-03"))},
		{.flag_key = "feed-due|X|2026|w",
			.kind = ANSWER_PUT_OFF,
			.until = known_date(yard_day("2026-06-04"))},
		{.flag_key = "thin-due|X|2026|w",
			.kind = ANSWER_PUT_OFF,
			.until = known_date(yard_day("2026-06-17"))},
		{.flag_key = "thin-due|X|2026|w",
			.kind = ANSWER_SET_ASIDE,
			.reason = "hail took it"},
		{.flag_key = "thin-due", .kind = ANSWER_ALWAYS, .reason = ""},
	};
	for (size_t i = 0; i < sizeof answers / sizeof answers[0]; i++)
		check_ok(store_answer_add(made->yard.store, &answers[i], &why), &why);
	check_ok(store_answer_list(made->yard.store, made->arena, &got, &count, &why), &why);
	check_int(count, 5, "answers");
	const int32_t times[] = {1, 1, 2, 2, 0};
	for (int32_t i = 0; i < count; i++) {
		check_text(got[i].flag_key, answers[i].flag_key, "key");
		check_int(got[i].kind, answers[i].kind, "kind");
		check_int(got[i].until.known, answers[i].until.known, "until");
		check_int(got[i].until.value.day, answers[i].until.value.day, "until");
		check_text(got[i].reason, answers[i].reason, "reason");
		check_int(got[i].times, times[i], "times");
	}
	check_ok(store_row_strike(made->yard.store, "answer", answers[0].id, &why), &why);
	check_ok(store_answer_list(made->yard.store, made->arena, &got, &count, &why), &why);
	check_int(got[1].times, 1, "times after one was taken back");
	struct answer empty = {.kind = ANSWER_PUT_OFF};
	check_refused(
		store_answer_add(made->yard.store, &empty, &why), STATUS_RANGE, &why, "empty");
}

/* --- windows, rates, choices --- */

static void own_windows_are_kept(void **state)
{
	struct small_yard *made = *state;
	struct fault why;
	struct own_window *got = NULL;
	int32_t count = 0;
	struct own_window of_kind = {
		.species = "fig", .window = "harvest", .from = {12, 20}, .to = {2, 29}};
	struct own_window of_tree = {.window = "bloom", .from = {3, 1}, .to = {3, 20}};
	(void)snprintf(of_tree.tree_id, sizeof of_tree.tree_id, "%s", made->tree);
	check_ok(store_own_window_add(made->yard.store, &of_kind, &why), &why);
	check_ok(store_own_window_add(made->yard.store, &of_tree, &why), &why);
	check_ok(store_own_window_list(made->yard.store, made->arena, &got, &count, &why), &why);
	check_int(count, 2, "windows");
	check_text(got[0].species, "fig", "species");
	check_text(got[0].tree_id, "", "tree");
	check_text(got[0].window, "harvest", "window");
	check_int(got[0].from.month * 100 + got[0].from.day, 1220, "from");
	check_int(got[0].to.month * 100 + got[0].to.day, 229, "to");
	check_text(got[1].tree_id, made->tree, "tree");
	struct own_window of_neither = {.window = "bloom", .from = {3, 1}, .to = {3, 20}};
	check_refused(store_own_window_add(made->yard.store, &of_neither, &why), STATUS_RANGE, &why,
		"one tree or for one kind");
	of_kind.to.month = 0;
	check_refused(store_own_window_add(made->yard.store, &of_kind, &why), STATUS_RANGE, &why,
		"last day");
	check_ok(store_row_strike(made->yard.store, "own_window", of_tree.id, &why), &why);
	check_ok(store_own_window_list(made->yard.store, made->arena, &got, &count, &why), &why);
	check_int(count, 1, "windows");
}

static void own_rates_are_kept(void **state)
{
	struct small_yard *made = *state;
	struct fault why;
	struct own_rate *got = NULL;
	int32_t count = 0;
	struct own_rate rate = {.species = "peach", .nitrogen_mg = 45359, .per = "inch"};
	check_ok(store_own_rate_add(made->yard.store, &rate, &why), &why);
	check_ok(store_own_rate_list(made->yard.store, made->arena, &got, &count, &why), &why);
	check_int(count, 1, "rates");
	check_text(got->species, "peach", "species");
	check_int(got->nitrogen_mg, 45359, "nitrogen");
	check_text(got->per, "inch", "per");
	struct own_rate wrong = {.species = "peach", .nitrogen_mg = 1, .per = "moon"};
	check_refused(store_own_rate_add(made->yard.store, &wrong, &why), STATUS_RANGE, &why, "");
	check_ok(store_row_strike(made->yard.store, "own_rate", rate.id, &why), &why);
	check_ok(store_own_rate_list(made->yard.store, made->arena, &got, &count, &why), &why);
	check_int(count, 0, "rates");
}

static void choices_are_kept(void **state)
{
	struct small_yard *made = *state;
	struct fault why;
	struct choice *got = NULL;
	int32_t count = 0;
	struct choice choice = {.rule = "cut-in-wet-season", .source = "UC IPM (2019)"};
	check_ok(store_choice_add(made->yard.store, &choice, &why), &why);
	check_ok(store_choice_list(made->yard.store, made->arena, &got, &count, &why), &why);
	check_int(count, 1, "choices");
	check_text(got->rule, choice.rule, "rule");
	check_text(got->source, choice.source, "source");
	check_ok(store_row_strike(made->yard.store, "choice", choice.id, &why), &why);
	check_ok(store_choice_list(made->yard.store, made->arena, &got, &count, &why), &why);
	check_int(count, 0, "choices");
}

/* --- weather --- */

static struct weather_day weather_of(const char *day, bool forecast, int32_t min_decic)
{
	return (struct weather_day){.day = yard_day(day),
		.forecast = forecast,
		.min_decic = known_i32(min_decic),
		.max_decic = known_i32(215),
		.rain_um = known_i64(1200)};
}

static void weather_put_again_is_the_same_or_changes(void **state)
{
	struct small_yard *made = *state;
	struct fault why;
	bool was_same = true;
	struct weather_day *got = NULL;
	int32_t count = 0;
	struct weather_day day = weather_of("2026-05-01", false, -35);
	check_ok(store_weather_day_put(made->yard.store, &day, &was_same, &why), &why);
	assert_false(was_same);
	check_ok(store_weather_day_put(made->yard.store, &day, &was_same, &why), &why);
	assert_true(was_same);
	day.min_decic = known_i32(-40);
	check_ok(store_weather_day_put(made->yard.store, &day, &was_same, &why), &why);
	assert_false(was_same);
	struct weather_day said = weather_of("2026-05-01", true, 10);
	check_ok(store_weather_day_put(made->yard.store, &said, &was_same, &why), &why);
	assert_false(was_same);
	(void)snprintf(said.station, sizeof said.station, "roof");
	check_ok(store_weather_day_put(made->yard.store, &said, &was_same, &why), &why);
	assert_false(was_same);
	const struct maybe_date open = {.known = false};
	check_ok(store_weather_day_list(
			 made->yard.store, open, open, made->arena, &got, &count, &why),
		&why);
	check_int(count, 3, "a forecast is not an observation, nor is another station");
	check_int(got[2].min_decic.value, -40, "changed in place");
	assert_false(got[2].forecast || got[2].wind_mms.known);
	check_int(got[2].rain_um.value, 1200, "rain");
	day.min_decic = known_i32(701);
	check_refused(store_weather_day_put(made->yard.store, &day, &was_same, &why), STATUS_RANGE,
		&why, "");
}

static void weather_is_listed_by_day(void **state)
{
	struct small_yard *made = *state;
	struct fault why;
	bool was_same;
	struct weather_day *got = NULL;
	int32_t count = 0;
	const char *const days[] = {"2026-05-03", "2026-05-01", "2026-05-02", "2026-05-04"};
	for (size_t i = 0; i < 4; i++) {
		const struct weather_day day = weather_of(days[i], false, (int32_t)i);
		check_ok(store_weather_day_put(made->yard.store, &day, &was_same, &why), &why);
	}
	check_ok(store_weather_day_list(made->yard.store, known_date(yard_day("2026-05-02")),
			 known_date(yard_day("2026-05-03")), made->arena, &got, &count, &why),
		&why);
	check_int(count, 2, "both ends in");
	check_int(got[0].day.day, yard_day("2026-05-02").day, "first");
	check_int(got[1].min_decic.value, 0, "second");
}

static void hours_are_kept_by_hour_station_and_kind(void **state)
{
	struct small_yard *made = *state;
	struct fault why;
	bool was_same = true;
	struct weather_hour *got = NULL;
	int32_t count = 0;
	struct weather_hour hour = {.day = yard_day("2026-05-01"),
		.hour = 13,
		.temperature_decic = known_i32(-12),
		.wind_mms = known_i64(2500)};
	check_ok(store_weather_hour_put(made->yard.store, &hour, &was_same, &why), &why);
	assert_false(was_same);
	check_ok(store_weather_hour_put(made->yard.store, &hour, &was_same, &why), &why);
	assert_true(was_same);
	hour.temperature_decic = known_i32(15);
	check_ok(store_weather_hour_put(made->yard.store, &hour, &was_same, &why), &why);
	assert_false(was_same);
	hour.hour = 2;
	check_ok(store_weather_hour_put(made->yard.store, &hour, &was_same, &why), &why);
	hour.forecast = true;
	(void)snprintf(hour.station, sizeof hour.station, "roof");
	check_ok(store_weather_hour_put(made->yard.store, &hour, &was_same, &why), &why);
	assert_false(was_same);
	const struct maybe_date open = {.known = false};
	check_ok(store_weather_hour_list(
			 made->yard.store, open, open, made->arena, &got, &count, &why),
		&why);
	check_int(count, 3, "one of its hour, station and kind");
	check_int(got[2].hour, 13, "by hour");
	check_int(got[2].temperature_decic.value, 15, "changed in place");
	assert_false(got[2].rain_um.known);
	check_int(got[2].wind_mms.value, 2500, "wind");
	hour.hour = 24;
	check_refused(store_weather_hour_put(made->yard.store, &hour, &was_same, &why),
		STATUS_RANGE, &why, "");
}

/* --- layouts --- */

static void layout_replaces_one_of_its_name(void **state)
{
	struct small_yard *made = *state;
	struct fault why;
	struct layout got;
	struct layout layout = {.name = "My sheet",
		.what = "picks",
		.columns = "tree=Baum,amount=kg",
		.units = "si",
		.dates = "dmy"};
	check_ok(store_layout_put(made->yard.store, &layout, &why), &why);
	struct layout again = {.name = "My sheet", .what = "picks", .columns = "tree=A"};
	check_ok(store_layout_put(made->yard.store, &again, &why), &why);
	check_text(again.id, layout.id, "the same row");
	struct layout other = {.name = "My sheet", .what = "weather", .columns = "day=A"};
	check_ok(store_layout_put(made->yard.store, &other, &why), &why);
	check_ok(store_layout_find(made->yard.store, "picks", "My sheet", made->arena, &got, &why),
		&why);
	check_text(got.columns, "tree=A", "columns");
	check_text(got.units, "", "units");
	check_refused(
		store_layout_find(made->yard.store, "trees", "My sheet", made->arena, &got, &why),
		STATUS_ABSENT, &why, "My sheet");
}

/* --- outside history --- */

static void draft_is_kept_outside_acts_and_history(void **state)
{
	struct small_yard *made = *state;
	struct fault why;
	const char *body = NULL;
	yard_commit(&made->yard);
	const int64_t sets = log_count(&made->yard, "change_set");
	check_refused(store_draft_load(made->yard.store, "walk", made->arena, &body, &why),
		STATUS_ABSENT, &why, "walk");
	check_ok(store_draft_save(made->yard.store, "walk", "A3 picked 6", &why), &why);
	check_ok(store_draft_save(made->yard.store, "walk", "A3 picked 6 lb \xC2\xBD", &why), &why);
	log_reopen(&made->yard);
	check_ok(store_draft_load(made->yard.store, "walk", made->arena, &body, &why), &why);
	check_text(body, "A3 picked 6 lb \xC2\xBD", "body");
	check_ok(store_draft_save(made->yard.store, "walk", "", &why), &why);
	check_refused(store_draft_load(made->yard.store, "walk", made->arena, &body, &why),
		STATUS_ABSENT, &why, "walk");
	check_int(log_count(&made->yard, "change_set"), sets, "sets");
}

static void walk_remembers_where_it_stopped(void **state)
{
	struct small_yard *made = *state;
	struct fault why;
	const char *value = NULL;
	yard_commit(&made->yard);
	check_refused(store_walk_get(made->yard.store, "position", made->arena, &value, &why),
		STATUS_ABSENT, &why, "position");
	check_ok(store_walk_put(made->yard.store, "position", "A3", &why), &why);
	check_ok(store_walk_put(made->yard.store, "position", "A4", &why), &why);
	check_ok(store_walk_get(made->yard.store, "position", made->arena, &value, &why), &why);
	check_text(value, "A4", "position");
}

static void nothing_is_kept_in_a_log_opened_for_viewing(void **state)
{
	struct small_yard *made = *state;
	struct fault why;
	yard_commit(&made->yard);
	log_close(&made->yard);
	const struct store_options options = {.clock = &made->yard.clock, .read_only = true};
	check_ok(store_open(made->yard.path, &options, &made->yard.store, &why), &why);
	const struct season_turn turn = {
		.subject = {.kind = SUBJECT_TREE, .id = "T"}, .turn = {1, 1}};
	check_refused(store_draft_save(made->yard.store, "walk", "x", &why), STATUS_DENIED, &why,
		"viewing");
	check_refused(store_walk_put(made->yard.store, "position", "x", &why), STATUS_DENIED, &why,
		"viewing");
	check_refused(store_season_turn_put(made->yard.store, &turn, 1, &why), STATUS_DENIED, &why,
		"viewing");
}

static void season_turns_replace_those_of_their_subject(void **state)
{
	struct small_yard *made = *state;
	struct fault why;
	struct season_turn turns[] = {
		{.subject = {.kind = SUBJECT_TREE, .id = "T1"},
			.turn = {9, 1},
			.crosses = true,
			.to = known_date(yard_day("2020-03-01"))},
		{.subject = {.kind = SUBJECT_TREE, .id = "T1"},
			.turn = {1, 1},
			.years_add = true,
			.from = known_date(yard_day("2020-03-01"))},
		{.subject = {.kind = SUBJECT_SPOT, .id = "T1"}, .turn = {7, 1}},
		{.subject = {.kind = SUBJECT_TREE, .id = "T2"}, .turn = {2, 28}},
	};
	check_ok(store_season_turn_put(made->yard.store, turns, 4, &why), &why);
	yard_commit(&made->yard);
	check_int(log_count(&made->yard, "season_turn"), 4, "rows");
	check_int(log_one(&made->yard, "SELECT count(*) FROM season_turn WHERE turn_md = '09-01' "
				       "AND crosses = 1 AND years_add = 0 AND valid_from IS NULL "
				       "AND valid_to = '2020-03-01' AND subject_kind = 'tree'"),
		1, "first");
	check_ok(store_season_turn_put(made->yard.store, turns + 1, 1, &why), &why);
	check_int(log_count(&made->yard, "season_turn"), 3, "rows");
	check_int(log_one(&made->yard,
			  "SELECT count(*) FROM season_turn WHERE subject_kind = 'spot'"),
		1, "the spot's stay");
	check_ok(store_season_turn_put(made->yard.store, NULL, 0, &why), &why);
	check_int(log_count(&made->yard, "season_turn"), 3, "rows");
	yard_begin(&made->yard, "moves a turn, then thinks again");
	check_ok(store_season_turn_put(made->yard.store, turns, 1, &why), &why);
	store_act_rollback(made->yard.store);
	check_int(log_one(&made->yard, "SELECT count(*) FROM season_turn WHERE turn_md = '09-01'"),
		0, "taken back with the act");
}

#define SMALL_TEST(name) cmocka_unit_test_setup_teardown(name, make_yard, free_yard)

int main(void)
{
	const struct CMUnitTest tests[] = {
		SMALL_TEST(product_is_read_as_it_was_written),
		SMALL_TEST(product_is_saved_and_its_name_guarded),
		SMALL_TEST(containers_come_with_their_weights),
		SMALL_TEST(container_that_weighs_nothing_is_refused),
		SMALL_TEST(answers_come_oldest_first_with_their_times),
		SMALL_TEST(own_windows_are_kept),
		SMALL_TEST(own_rates_are_kept),
		SMALL_TEST(choices_are_kept),
		SMALL_TEST(weather_put_again_is_the_same_or_changes),
		SMALL_TEST(weather_is_listed_by_day),
		SMALL_TEST(hours_are_kept_by_hour_station_and_kind),
		SMALL_TEST(layout_replaces_one_of_its_name),
		SMALL_TEST(draft_is_kept_outside_acts_and_history),
		SMALL_TEST(walk_remembers_where_it_stopped),
		SMALL_TEST(nothing_is_kept_in_a_log_opened_for_viewing),
		SMALL_TEST(season_turns_replace_those_of_their_subject),
	};
	return cmocka_run_group_tests_name("small records", tests, NULL, NULL) != 0;
}
