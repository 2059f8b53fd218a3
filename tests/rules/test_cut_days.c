/* SPDX-License-Identifier: MIT */
/* cut-bares-or-bleeds and cut-on-bad-day: they fire, they just do not, on both sides of the
 * equator. */
#include "support/log_case.h"

#define LEMON "A1 lemon 2012"
#define APRICOT "A1 apricot 2012"
#define WALNUT "A1 walnut 2005"
#define HARD(day) "A1 cut renovation 40% of crown @ " day
#define CUT(day) "A1 cut shape 10% of crown @ " day

/* clang-format off */
static const struct log_case bark[] = {
	{ "limbs_bared_in_summer_want_paint", AT_WET_WINTER, LEMON, HARD("2026-07-10"), "2026-07-12", .rule = "cut-bares-or-bleeds", .want = "due", .says = {"sun on bark", "white interior water paint"} },
	{ "a_top_lowered_in_summer_too", AT_WET_WINTER, LEMON, "A1 cut height to 3 m @ 2026-07-10", "2026-07-12", .rule = "cut-bares-or-bleeds", .want = "due" },
	{ "a_small_cut_is_a_note", AT_WET_WINTER, LEMON, "A1 cut thinning 10% of crown @ 2026-07-10", "2026-07-12", .rule = "cut-bares-or-bleeds", .want = "note" },
	{ "the_first_day_of_summer", AT_WET_WINTER, LEMON, HARD("2026-06-01"), "2026-06-02", .rule = "cut-bares-or-bleeds", .want = "due" },
	{ "the_day_before", AT_WET_WINTER, LEMON, HARD("2026-05-28"), "2026-06-02", .rule = "cut-bares-or-bleeds", .want = "" },
	{ "the_last_day_of_summer", AT_WET_WINTER, LEMON, HARD("2026-08-28"), "2026-08-28", .rule = "cut-bares-or-bleeds", .want = "due" },
	{ "the_day_after", AT_WET_WINTER, LEMON, HARD("2026-09-01"), "2026-09-02", .rule = "cut-bares-or-bleeds", .want = "" },
	{ "after_21_days_still", AT_WET_WINTER, LEMON, HARD("2026-07-10"), "2026-07-28", .rule = "cut-bares-or-bleeds", .want = "due" },
	{ "after_22_days_silence", AT_WET_WINTER, LEMON, HARD("2026-07-10"), "2026-08-02", .rule = "cut-bares-or-bleeds", .want = "" },
	{ "paint_logged_settles_it", AT_WET_WINTER, LEMON, HARD("2026-07-10") "|A1 protected white paint @ 2026-07-11", "2026-07-12", .rule = "cut-bares-or-bleeds", .want = "" },
	{ "paint_in_the_note_settles_it", AT_WET_WINTER, LEMON, HARD("2026-07-10") " ; painted the limbs white", "2026-07-12", .rule = "cut-bares-or-bleeds", .want = "" },
	{ "paint_of_last_year_does_not", AT_WET_WINTER, LEMON, "A1 protected white paint @ 2025-07-11|" HARD("2026-07-10"), "2026-07-12", .rule = "cut-bares-or-bleeds", .want = "due" },
	{ "an_apricot_lowered_in_late_summer_wants_shade", AT_WET_WINTER, APRICOT, "A1 cut height to 3 m @ 2026-08-10", "2026-08-12", .rule = "cut-bares-or-bleeds", .want = "due", .says = {"leave shade over the limbs"} },
	{ "shaped_it_does_not", AT_WET_WINTER, APRICOT, "A1 cut shape 20% of crown @ 2026-08-10", "2026-08-12", .rule = "cut-bares-or-bleeds", .want = "" },
	{ "a_loquat_opened_wide_is_a_note_from_memory", AT_WET_WINTER, "A1 loquat 2012", "A1 cut renovation 20% of crown @ 2026-07-01", "2026-07-02", .rule = "cut-bares-or-bleeds", .want = "note", .says = {"summer heat"} },
	{ "a_walnut_bleeds_in_spring_from_memory", AT_WET_WINTER, WALNUT, CUT("2027-03-10"), "2027-03-12", .rule = "cut-bares-or-bleeds", .want = "note", .says = {"bleed", "Put nothing on the wounds", "Next clear"} },
	{ "a_walnut_thinned_in_deep_rest_does_not", AT_WET_WINTER, WALNUT, "A1 cut thinning 5% of crown @ 2027-01-10", "2027-01-12", .rule = "cut-bares-or-bleeds", .want = "" },
	{ "a_mulberry_in_leaf_too", AT_WET_WINTER, "A1 mulberry 2012", CUT("2027-06-10"), "2027-06-12", .rule = "cut-bares-or-bleeds", .want = "note" },
	{ "an_apple_does_not_bleed", AT_WET_WINTER, "A1 apple 2012", CUT("2027-02-10"), "2027-02-12", .rule = "cut-bares-or-bleeds", .want = "" },
	{ "a_month_is_no_day", AT_WET_WINTER, WALNUT, CUT("2027-03"), "2027-03-12", .rule = "cut-bares-or-bleeds", .want = "" },
	{ "an_unknown_kind_says_nothing", AT_WET_WINTER, "A1 - 2012", HARD("2026-07-10"), "2026-07-12", .rule = "cut-bares-or-bleeds", .want = "" },
	{ "no_hemisphere_no_summer", AT_NOWHERE, LEMON, HARD("2026-07-10"), "2026-07-12", .rule = "cut-bares-or-bleeds", .want = "", .once = true },
	{ "dead_wood_bares_nothing", AT_WET_WINTER, LEMON, "A1 cut dead wood 40% of crown @ 2026-07-10", "2026-07-12", .rule = "cut-bares-or-bleeds", .want = "" },
};

static const struct log_case wet[] = {
	{ "an_apricot_cut_in_summer_rain_is_an_act", AT_WET_WINTER, APRICOT, "rain 4 mm @ 2026-08-10|" CUT("2026-08-10"), "2026-08-12", .rule = "cut-on-bad-day", .want = "act", .says = {"made in rain", "sunken bark"} },
	{ "on_the_day_itself_it_says_not_today", AT_WET_WINTER, APRICOT, "rain 4 mm @ 2026-08-10|" CUT("2026-08-10"), "2026-08-10", .rule = "cut-on-bad-day", .want = "act", .says = {"Not today: rain."} },
	{ "a_millimetre_is_rain", AT_WET_WINTER, APRICOT, "rain 1 mm @ 2026-08-10|" CUT("2026-08-10"), "2026-08-12", .rule = "cut-on-bad-day", .want = "act" },
	{ "less_is_not", AT_WET_WINTER, APRICOT, "rain 0.9 mm @ 2026-08-10|" CUT("2026-08-10"), "2026-08-12", .rule = "cut-on-bad-day", .want = "" },
	{ "after_22_days_a_note", AT_WET_WINTER, APRICOT, "rain 4 mm @ 2026-08-10|" CUT("2026-08-10"), "2026-09-02", .rule = "cut-on-bad-day", .want = "note", .once = true },
	{ "after_a_year_silence", AT_WET_WINTER, APRICOT, "rain 4 mm @ 2026-08-10|" CUT("2026-08-10"), "2027-08-11", .rule = "cut-on-bad-day", .want = "", .once = true },
	{ "a_wet_season_cut_is_told_as_that", AT_WET_WINTER, APRICOT, "rain 4 mm @ 2026-12-10|" CUT("2026-12-10"), "2026-12-12", .rule = "cut-on-bad-day", .want = "" },
	{ "an_apple_in_wet_bloom_is_due", AT_WET_WINTER, "A1 apple 2012", "rain 4 mm @ 2027-04-10|A1 cut thinning 5% of crown @ 2027-04-10", "2027-04-12", .rule = "cut-on-bad-day", .want = "due", .says = {"fire blight"} },
	{ "an_apple_at_rest_in_rain_is_nothing_a_day_later", AT_WET_WINTER, "A1 apple 2012", "rain 4 mm @ 2027-02-10|" CUT("2027-02-10"), "2027-02-11", .rule = "cut-on-bad-day", .want = "" },
	{ "on_the_day_it_is_a_note_about_people", AT_WET_WINTER, "A1 apple 2012", "rain 4 mm @ 2027-02-10|" CUT("2027-02-10"), "2027-02-10", .rule = "cut-on-bad-day", .want = "note", .says = {"Today has rain", "power lines"} },
	{ "a_storm_too", AT_WET_WINTER, "A1 apple 2012", "storm @ 2027-02-10|" CUT("2027-02-10"), "2027-02-10", .rule = "cut-on-bad-day", .want = "note", .says = {"Not today: storm."} },
	{ "wind_of_yesterday_is_over", AT_WET_WINTER, "A1 apple 2012", "wind 60 km/h @ 2027-02-09|" CUT("2027-02-10"), "2027-02-10", .rule = "cut-on-bad-day", .want = "" },
	{ "an_unknown_kind_is_still_a_ladder", AT_WET_WINTER, "A1 - 2012", "storm @ 2027-02-10|" CUT("2027-02-10"), "2027-02-10", .rule = "cut-on-bad-day", .want = "" },
	{ "a_mango_is_too", AT_WET_WINTER, "A1 mango 2012", "storm @ 2027-02-10|" CUT("2027-02-10"), "2027-02-10", .rule = "cut-on-bad-day", .want = "" },
	{ "rain_weeks_after_an_apricot_cut_is_a_note", AT_WET_WINTER, APRICOT, CUT("2026-08-20") "|rain 8 mm @ 2026-09-20", "2026-09-21", .rule = "cut-on-bad-day", .want = "note", .says = {"31 days after", "6 weeks"}, .once = true },
	{ "the_last_day_of_six_weeks", AT_WET_WINTER, APRICOT, CUT("2026-08-10") "|rain 8 mm @ 2026-09-21", "2026-09-22", .rule = "cut-on-bad-day", .want = "note", .once = true },
	{ "the_day_after_six_weeks", AT_WET_WINTER, APRICOT, CUT("2026-08-10") "|rain 8 mm @ 2026-09-22", "2026-09-23", .rule = "cut-on-bad-day", .want = "", .once = true },
	{ "rain_before_the_cut_is_none_after_it", AT_WET_WINTER, APRICOT, "rain 8 mm @ 2026-08-08|" CUT("2026-08-10"), "2026-09-23", .rule = "cut-on-bad-day", .want = "" },
	{ "little_rain_is_no_wet_season", AT_LITTLE, APRICOT, CUT("2026-08-10") "|rain 8 mm @ 2026-08-20", "2026-09-10", .rule = "cut-on-bad-day", .want = "" },
	{ "a_peach_has_no_such_weeks", AT_WET_WINTER, "A1 peach 2012", "A1 cut shape 30% of shoots @ 2027-02-10|rain 8 mm @ 2027-02-20", "2027-02-21", .rule = "cut-on-bad-day", .want = "" },
	{ "dead_wood_is_not_held_to_it", AT_WET_WINTER, APRICOT, "rain 4 mm @ 2026-08-10|A1 cut dead wood @ 2026-08-10", "2026-08-12", .rule = "cut-on-bad-day", .want = "" },
};
/* clang-format on */

static void a_bad_day_is_said_before_the_cut(void **state)
{
	const struct log_case told = {.place = AT_WET_WINTER,
		.trees = APRICOT,
		.lines = "rain 4 mm @ 2026-08-10",
		.today = "2026-08-10"};
	struct garden garden;

	(void)state;
	log_case_make(&garden, &told, false);
	struct flags flags = log_case_try(&garden, "A1", "A1 cut shape 10% of crown");
	const struct flag *flag = log_case_find(&flags, "cut-on-bad-day");
	assert_non_null(flag);
	check_int(flag->urgency, URGENCY_ACT, "urgency");
	check_has(flag->action, "Not today: rain.", "action");
	flags = log_case_try(&garden, "A1", "A1 cut shape 10% of crown @ 2026-06-20");
	assert_null(log_case_find(&flags, "cut-on-bad-day"));
	garden_free(&garden);
}

static void stored_rain_counts_and_forecast_rain_does_not(void **state)
{
	const struct log_case told = {.place = AT_WET_WINTER,
		.trees = APRICOT,
		.lines = CUT("2026-08-10"),
		.today = "2026-08-12"};
	struct weather_day rain = {.day = garden_day("2026-08-10"),
		.station = "hill",
		.forecast = true,
		.rain_um = known_i64(4000)};
	struct fault why = {0};
	struct garden garden;

	(void)state;
	log_case_make(&garden, &told, false);
	for (int stored = 0; stored < 2; stored++) {
		bool was_same;

		rain.forecast = stored == 0;
		check_ok(store_act_begin(garden.store, ACT_WORK, "weather", &why), &why);
		check_ok(store_weather_day_put(garden.store, &rain, &was_same, &why), &why);
		check_ok(store_act_commit(garden.store, &why), &why);
		garden_look(&garden);
		struct flags flags = log_case_flags(&garden);
		check_int(log_case_count(&flags, "cut-on-bad-day"), stored, "observed only");
	}
	garden_free(&garden);
}

static void a_clear_span_set_by_hand_stands_before_the_sun(void **state)
{
	const struct log_case told = {.place = AT_WET_WINTER,
		.trees = LEMON,
		.lines = HARD("2026-07-10"),
		.today = "2026-07-12"};
	struct own_window own = {.window = "cut-clear",
		.from = (struct month_day){7, 1},
		.to = (struct month_day){7, 31}};
	struct fault why = {0};
	struct garden garden;

	(void)state;
	log_case_make(&garden, &told, false);
	struct tree tree = garden_find(&garden, "A1");
	snprintf(own.tree_id, sizeof own.tree_id, "%s", tree.id);
	check_ok(store_act_begin(garden.store, ACT_WORK, "window", &why), &why);
	check_ok(store_own_window_add(garden.store, &own, &why), &why);
	check_ok(store_act_commit(garden.store, &why), &why);
	garden_look(&garden);
	struct flags flags = log_case_flags(&garden);
	assert_null(log_case_find(&flags, "cut-bares-or-bleeds"));
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_bad_day_is_said_before_the_cut),
		cmocka_unit_test(stored_rain_counts_and_forecast_rain_does_not),
		cmocka_unit_test(a_clear_span_set_by_hand_stands_before_the_sun),
	};
	int failed = LOG_CASES("cut-bares-or-bleeds", bark) + LOG_CASES("cut-on-bad-day", wet);

	failed += cmocka_run_group_tests_name("the day of a cut", tests, NULL, NULL);
	return failed != 0;
}
