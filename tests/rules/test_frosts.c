/* SPDX-License-Identifier: MIT */
/* frost-in-bloom. */
#include "support/sky_case.h"

#define PEACH .kind = "peach", .planted = "2015"
#define APPLE .kind = "apple", .planted = "2015"
#define FROST .rule = "frost-in-bloom"
#define BLOOM "A1 full bloom @ 2026-03-10|"

/* clang-format off */
static const struct sky_case frosts[] = {
	/* its own logged stage */
	{ "a_frost_at_the_logged_stage_is_work", AT_WET_WINTER, PEACH, "", "2026-03-01 20 40 150 0;2026-03-12 1 -35 110 0", BLOOM, "2026-03-14", FROST, .want = "due", .says = {"at full bloom, as you logged on", "between one and nine flowers in ten", "10 to 15 % of its buds"} },
	{ "a_line_counts_as_the_night_it_tells_of", AT_WET_WINTER, PEACH, "", "", BLOOM "frost -3.5 C @ 2026-03-12", "2026-03-14", FROST, .want = "due", .says = {"minimum 26 F, as you logged it"} },
	{ "without_weather_it_is_silent", AT_WET_WINTER, PEACH, "", "", BLOOM, "2026-03-14", FROST, .want = "" },
	{ "a_frost_without_a_figure_is_not_judged", AT_WET_WINTER, PEACH, "", "", BLOOM "frost @ 2026-03-12", "2026-03-14", FROST, .want = "" },
	{ "at_the_one_in_ten_temperature", AT_WET_WINTER, PEACH, "", "2026-03-12 1 -28 110 0", BLOOM, "2026-03-14", FROST, .want = "due", .says = {"about 10 %"} },
	{ "a_tenth_of_a_degree_warmer_is_nothing", AT_WET_WINTER, PEACH, "", "2026-03-12 1 -27 110 0", BLOOM, "2026-03-14", FROST, .want = "" },
	{ "at_the_nine_in_ten_temperature", AT_WET_WINTER, PEACH, "", "2026-03-12 1 -44 110 0", BLOOM, "2026-03-14", FROST, .want = "due", .says = {"nine flowers in ten or more"} },
	{ "a_colder_spot_is_colder", AT_WET_WINTER, PEACH, "cold", "2026-03-12 1 -10 110 0", BLOOM, "2026-03-14", FROST, .want = "due", .says = {"with this spot 3.6 F colder", "of the station \"hill\""} },
	{ "what_was_read_at_the_tree_has_no_offset", AT_WET_WINTER, PEACH, "cold", "", BLOOM "A1 frost -1 C @ 2026-03-12", "2026-03-14", FROST, .want = "" },
	{ "a_frost_before_buds_swell_is_nothing", AT_WET_WINTER, PEACH, "", "2026-01-12 1 -35 110 0", "", "2026-01-14", FROST, .want = "" },
	{ "tight_buds_bear_more", AT_WET_WINTER, PEACH, "", "2026-03-12 1 -35 110 0", "A1 bud swell @ 2026-03-10", "2026-03-14", FROST, .want = "" },
	{ "and_less_than_this", AT_WET_WINTER, PEACH, "", "2026-03-12 1 -80 60 0", "A1 bud swell @ 2026-03-10", "2026-03-14", FROST, .want = "due", .says = {"swollen bud", "buds in ten", "Cut across ten buds"} },
	{ "small_fruit_is_as_tender", AT_WET_WINTER, PEACH, "", "2026-04-02 1 -30 110 0", "A1 petal fall @ 2026-03-25", "2026-04-04", FROST, .want = "due", .says = {"fruitlets in ten"} },
	{ "the_worst_of_several_nights_is_told", AT_WET_WINTER, PEACH, "", "2026-03-12 3 -30 110 0;2026-03-13 1 -40 110 0", BLOOM, "2026-03-16", FROST, .want = "due", .says = {"25 F on 13 ", "3 nights were cold enough"}, .once = true },
	{ "a_stage_logged_a_day_late_tells_of_the_night", AT_WET_WINTER, PEACH, "", "2026-01-12 1 -35 110 0", "A1 full bloom @ 2026-01-13", "2026-01-14", FROST, .want = "due" },
	{ "buds_still_shut_later_say_it_was_no_bloom", AT_WET_WINTER, PEACH, "", "2026-03-12 1 -35 110 0", "A1 bud swell @ 2026-03-20", "2026-03-22", FROST, .want = "" },
	{ "a_bloom_long_over_says_so", AT_WET_WINTER, PEACH, "", "2026-04-12 1 -35 110 0", "A1 petal fall @ 2026-03-01", "2026-04-14", FROST, .want = "" },
	/* only the window */
	{ "by_the_almanac_it_is_a_note", AT_WET_WINTER, PEACH, "", "2026-04-02 1 -35 110 0", "", "2026-04-04", FROST, .want = "note", .says = {"If it stood at full bloom then (by the almanac it may have)", "log the stage to be sure"} },
	{ "outside_the_almanac_s_bloom_it_is_silent", AT_WET_WINTER, PEACH, "", "2026-05-02 1 -35 110 0", "", "2026-05-04", FROST, .want = "" },
	{ "the_last_day_of_the_bloom_window", AT_WET_WINTER, PEACH, "", "2026-04-28 1 -35 110 0", "", "2026-04-30", FROST, .want = "note" },
	{ "an_apple_where_winters_are_hard", AT_CONTINENTAL, APPLE, "", "2026-05-02 1 -35 110 0", "", "2026-05-04", FROST, .want = "note" },
	/* how long */
	{ "three_weeks_it_is_work", AT_WET_WINTER, PEACH, "", "2026-03-12 1 -35 110 0", BLOOM, "2026-04-02", FROST, .want = "due", .once = true },
	{ "then_a_note", AT_WET_WINTER, PEACH, "", "2026-03-12 1 -35 110 0", BLOOM, "2026-04-03", FROST, .want = "note", .once = true },
	{ "for_six_weeks", AT_WET_WINTER, PEACH, "", "2026-03-12 1 -35 110 0", BLOOM, "2026-04-23", FROST, .want = "note", .once = true },
	{ "then_silence", AT_WET_WINTER, PEACH, "", "2026-03-12 1 -35 110 0", BLOOM, "2026-04-24", FROST, .want = "", .once = true },
	{ "the_grower_looked", AT_WET_WINTER, PEACH, "", "2026-03-12 1 -35 110 0", BLOOM "A1 saw frost damage light @ 2026-03-13", "2026-03-14", FROST, .want = "" },
	{ "aphids_are_another_matter", AT_WET_WINTER, PEACH, "", "2026-03-12 1 -35 110 0", BLOOM "A1 saw aphids light @ 2026-03-13", "2026-03-14", FROST, .want = "due" },
	{ "nobody_is_sent_out_in_the_frost", AT_WET_WINTER, PEACH, "", "2026-03-12 1 -35 110 0", BLOOM, "2026-03-12", FROST, .want = "note", .says = {"Not today: frost."} },
	{ "nor_in_rain", AT_WET_WINTER, PEACH, "", "2026-03-12 1 -35 110 0", BLOOM "rain 13 mm @ 2026-03-14", "2026-03-14", FROST, .want = "note", .says = {"Not today: rain."} },
	{ "a_shower_of_half_a_millimetre_is_no_rain", AT_WET_WINTER, PEACH, "", "2026-03-12 1 -35 110 0", BLOOM "rain 0.5 mm @ 2026-03-14", "2026-03-14", FROST, .want = "due" },
	/* what is not known */
	{ "a_tree_that_came_after_the_frost_has_none_of_it", AT_WET_WINTER, .kind = "peach", .planted = "2026-03-13", "", "2026-03-12 1 -35 110 0", "A1 full bloom @ 2026-03-14", "2026-03-16", FROST, .want = "" },
	{ "a_kind_without_a_table_is_silent", AT_WET_WINTER, .kind = "quince", .planted = "2015", "", "2026-03-12 1 -60 110 0", BLOOM, "2026-03-14", FROST, .want = "" },
	{ "an_unknown_kind_is_silent", AT_WET_WINTER, .kind = "-", .planted = "2015", "", "2026-03-12 1 -60 110 0", BLOOM, "2026-03-14", FROST, .want = "" },
	{ "a_logged_stage_needs_no_hemisphere", AT_NOWHERE, PEACH, "", "2026-03-12 1 -35 110 0", BLOOM, "2026-03-14", FROST, .want = "due", .once = true },
	{ "a_window_does", AT_NOWHERE, PEACH, "", "2026-04-02 1 -35 110 0", "", "2026-04-04", FROST, .want = "", .once = true },
	{ "an_almond_is_told_by_the_half", AT_WET_WINTER, .kind = "almond", .planted = "2015", "", "2026-02-12 1 -30 110 0", "A1 full bloom @ 2026-02-10", "2026-02-14", FROST, .want = "due", .says = {"half of the crop or more"} },
	{ "an_apricot_bud_has_no_nine_in_ten", AT_WET_WINTER, .kind = "apricot", .planted = "2015", "", "2026-02-12 1 -100 50 0", "A1 bud swell @ 2026-02-10", "2026-02-14", FROST, .want = "due", .says = {"one bud in ten or more", "not printed"} },
	{ "cherries_need_over_half", AT_WET_WINTER, .kind = "sweet cherry", .planted = "2015", "", "2026-03-12 1 -35 110 0", BLOOM, "2026-03-14", FROST, .want = "due", .says = {"needs over 50 %"} },
};
/* clang-format on */

static void a_forecast_does_no_harm(void **state)
{
	static const struct sky_case told = {.place = AT_WET_WINTER,
		.kind = "peach",
		.planted = "2015",
		.spot = "",
		.weather = "",
		.lines = BLOOM,
		.today = "2026-03-14"};
	struct weather_day night = {.day = garden_day("2026-03-12"),
		.station = "hill",
		.forecast = true,
		.min_decic = known_i32(-35)};
	struct garden garden;
	struct fault why = {0};
	bool same;

	(void)state;
	sky_case_make(&garden, &told, false);
	check_ok(store_act_begin(garden.store, ACT_WORK, "weather", &why), &why);
	check_ok(store_weather_day_put(garden.store, &night, &same, &why), &why);
	check_ok(store_act_commit(garden.store, &why), &why);
	garden_look(&garden);
	struct flags flags = log_case_flags(&garden);
	assert_null(log_case_find(&flags, "frost-in-bloom"));
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(a_forecast_does_no_harm)};
	int failed = RUN_CASES("frost-in-bloom", frosts, sky_case_run);

	return failed + cmocka_run_group_tests_name("forecasts", tests, NULL, NULL) != 0;
}
