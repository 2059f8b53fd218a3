/* SPDX-License-Identifier: MIT */
/* cut-in-wet-season, cut-too-much, shape-cut-due: they fire, they just do not, on both sides of the
 * equator. */
#include "support/log_case.h"

#define APRICOT "A1 apricot 2012"
#define APPLE "A1 apple 2012"
#define CUT(day) "A1 cut shape 20% of crown @ " day
#define YEARLY "A1 cut shape 10% of crown @ 2025-02-10|A1 cut shape 10% of crown @ 2026-02-10|"

/* clang-format off */
static const struct log_case wet[] = {
	{ "an_apricot_cut_in_a_wet_winter_is_an_act", AT_WET_WINTER, APRICOT, CUT("2026-12-10"), "2026-12-12", .rule = "cut-in-wet-season", .want = "act", .says = {"Eutypa", "wet-weather disease"} },
	{ "the_first_wet_day", AT_WET_WINTER, APRICOT, CUT("2026-10-01"), "2026-10-02", .rule = "cut-in-wet-season", .want = "act" },
	{ "the_day_before_it_may_be_too_late", AT_WET_WINTER, APRICOT, CUT("2026-09-30"), "2026-10-02", .rule = "cut-in-wet-season", .want = "note", .says = {"less than six weeks off"} },
	{ "the_last_day_of_the_latest_list", AT_WET_WINTER, APRICOT, CUT("2026-09-15"), "2026-09-17", .rule = "cut-in-wet-season", .want = "" },
	{ "the_last_wet_days", AT_WET_WINTER, APRICOT, CUT("2027-03-28"), "2027-03-28", .rule = "cut-in-wet-season", .want = "act" },
	{ "april_is_over", AT_WET_WINTER, APRICOT, CUT("2027-04-01"), "2027-04-02", .rule = "cut-in-wet-season", .want = "" },
	{ "august_is_clear", AT_WET_WINTER, APRICOT, CUT("2026-08-10"), "2026-08-12", .rule = "cut-in-wet-season", .want = "" },
	{ "after_21_days_still", AT_WET_WINTER, APRICOT, CUT("2026-12-03"), "2026-12-24", .rule = "cut-in-wet-season", .want = "act" },
	{ "after_22_days_a_note", AT_WET_WINTER, APRICOT, CUT("2026-12-03"), "2026-12-25", .rule = "cut-in-wet-season", .want = "note" },
	{ "after_a_year_still_a_note", AT_WET_WINTER, APRICOT, CUT("2025-12-03"), "2026-12-03", .rule = "cut-in-wet-season", .want = "note" },
	{ "after_a_year_and_a_day_silence", AT_WET_WINTER, APRICOT, CUT("2025-12-03"), "2026-12-04", .rule = "cut-in-wet-season", .want = "" },
	{ "where_winters_are_hard_the_row_is_another", AT_CONTINENTAL, APRICOT, CUT("2026-12-10"), "2026-12-12", .rule = "cut-in-wet-season", .want = "" },
	{ "with_little_rain_there_is_no_disease_verdict", AT_LITTLE, APRICOT, CUT("2026-12-10"), "2026-12-12", .rule = "cut-in-wet-season", .want = "" },
	{ "where_the_seasons_are_unsaid_nothing_is_held", AT_UNSAID, APRICOT, CUT("2026-12-10"), "2026-12-12", .rule = "cut-in-wet-season", .want = "" },
	{ "where_the_seasons_are_unsaid_they_are_asked_for", AT_UNSAID, APRICOT, CUT("2026-12-10"), "2026-12-12", .rule = "facts-missing", .want = "note", .says = {"wet season and winters not known"} },
	{ "a_cool_wet_place_too", AT_COOL, APRICOT, CUT("2026-12-10"), "2026-12-12", .rule = "cut-in-wet-season", .want = "act" },
	{ "a_peach_row_from_memory_is_a_note", AT_WET_WINTER, "A1 peach 2012", CUT("2026-11-10"), "2026-11-12", .rule = "cut-in-wet-season", .want = "note" },
	{ "a_row_of_memory_beside_one_that_was_read_is_an_act", AT_COOL, "A1 sour_cherry 2012", CUT("2026-12-10"), "2026-12-12", .rule = "cut-in-wet-season", .want = "act", .says = {"silver-leaf spores"} },
	{ "on_the_first_day_of_the_read_row", AT_COOL, "A1 sour_cherry 2012", CUT("2026-11-01"), "2026-11-02", .rule = "cut-in-wet-season", .want = "act" },
	{ "the_day_before_it_memory_stands_alone", AT_COOL, "A1 sour_cherry 2012", CUT("2026-09-30"), "2026-10-02", .rule = "cut-in-wet-season", .want = "note" },
	{ "a_span_that_the_read_row_holds_in_part_is_a_note", AT_COOL, "A1 sour_cherry 2012", "A1 cut shape 20% of crown @ 2027-03-20/2027-04-05", "2027-04-06", .rule = "cut-in-wet-season", .want = "note" },
	{ "a_tree_between_two_cherries_goes_by_the_less_sure", AT_COOL, "A1 cherry 2012", CUT("2027-04-10"), "2027-04-12", .rule = "cut-in-wet-season", .want = "note", .says = {"all say the same"} },
	{ "in_winter_both_are_read", AT_COOL, "A1 cherry 2012", CUT("2026-12-10"), "2026-12-12", .rule = "cut-in-wet-season", .want = "act" },
	{ "dead_wood_may_go_in_the_rain", AT_WET_WINTER, APRICOT, "A1 cut dead wood 20% of crown @ 2026-12-10", "2026-12-12", .rule = "cut-in-wet-season", .want = "" },
	{ "suckers_too", AT_WET_WINTER, APRICOT, "A1 cut suckers @ 2026-12-10", "2026-12-12", .rule = "cut-in-wet-season", .want = "" },
	{ "an_unknown_kind_is_not_judged", AT_WET_WINTER, "A1 - 2012", CUT("2026-12-10"), "2026-12-12", .rule = "cut-in-wet-season", .want = "" },
	{ "candidates_are_not_judged", AT_WET_WINTER, "A1 apricot_or_apple 2012", CUT("2026-12-10"), "2026-12-12", .rule = "cut-in-wet-season", .want = "" },
	{ "no_hemisphere_no_verdict", AT_NOWHERE, APRICOT, CUT("2026-12-10"), "2026-12-12", .rule = "cut-in-wet-season", .want = "", .once = true },
	{ "the_tropics_no_verdict", AT_TROPICS, APRICOT, CUT("2026-12-10"), "2026-12-12", .rule = "cut-in-wet-season", .want = "" },
	{ "a_month_inside_the_rains", AT_WET_WINTER, APRICOT, CUT("2026-11"), "2026-12-12", .rule = "cut-in-wet-season", .want = "note" },
	{ "a_month_half_inside", AT_WET_WINTER, APRICOT, "A1 cut shape 20% of crown @ 2026-09-20/2026-10-10", "2026-10-12", .rule = "cut-in-wet-season", .want = "" },
	{ "no_crop_is_at_risk_by_it", AT_WET_WINTER, APRICOT, CUT("2026-12-10"), "2026-12-12", .rule = "flower-wood", .want = "" },
	{ "one_cut_of_a_host_is_told_once", AT_WET_WINTER, APRICOT, "A1 grafted Royal @ 2016-03-10|A1 grafted Blenheim @ 2016-03-10|" CUT("2026-12-10"), "2026-12-12", .rule = "cut-in-wet-season", .want = "act" },
};

static const struct log_case too_much[] = {
	{ "more_than_a_quarter_is_an_act", AT_WET_WINTER, APPLE, "A1 cut shape 26% of crown @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "act", .says = {"26 % of the crown", "no more than 25 %"} },
	{ "a_quarter_is_not", AT_WET_WINTER, APPLE, "A1 cut shape 25% of crown @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "" },
	{ "a_bare_share_is_of_the_crown", AT_WET_WINTER, APPLE, "A1 cut shape 40% @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "act" },
	{ "a_third_of_an_old_lemon_is_a_note_with_both_limits", AT_HUMID, "A1 lemon 1990", "A1 cut renovation 33% of crown @ 2027-03-10", "2027-03-12", .rule = "cut-too-much", .want = "note", .says = {"no more than 25 %", "Others take about 33 % of the crown", "a large old tree"} },
	{ "a_quarter_of_it_is_neither", AT_HUMID, "A1 lemon 1990", "A1 cut renovation 25% of crown @ 2027-03-10", "2027-03-12", .rule = "cut-too-much", .want = "" },
	{ "more_than_a_third_of_it_is_an_act", AT_HUMID, "A1 lemon 1990", "A1 cut height 34% of crown @ 2027-03-10", "2027-03-12", .rule = "cut-too-much", .want = "act", .says = {"Others take about 33 %"} },
	{ "a_shape_cut_of_a_third_is_no_renovation", AT_HUMID, "A1 lemon 1990", "A1 cut height 20% of crown @ 2027-03-10|A1 cut shape 16% of crown @ 2027-03-11", "2027-03-12", .rule = "cut-too-much", .want = "act", .says = {"no more than 25 %"} },
	{ "an_orange_has_one_limit", AT_HUMID, "A1 orange 1990", "A1 cut renovation 33% of crown @ 2027-03-10", "2027-03-12", .rule = "cut-too-much", .want = "act" },
	{ "two_cuts_of_a_season_are_joined", AT_WET_WINTER, APPLE, "A1 cut shape 15% of crown @ 2027-02-01|A1 cut thinning 15% of crown @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "act", .says = {"28 % of the crown"} },
	{ "two_small_cuts_are_not_too_much", AT_WET_WINTER, APPLE, "A1 cut shape 12% of crown @ 2027-02-01|A1 cut thinning 12% of crown @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "" },
	{ "a_quarter_and_a_crumb_by_two_cuts_is_a_quarter", AT_WET_WINTER, APPLE, "A1 cut shape 14% of crown @ 2027-02-01|A1 cut thinning 13% of crown @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "" },
	{ "what_is_said_as_26_is_more", AT_WET_WINTER, APPLE, "A1 cut shape 14% of crown @ 2027-02-01|A1 cut thinning 14% of crown @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "act", .says = {"26 % of the crown"} },
	{ "cuts_of_two_seasons_are_not_joined", AT_WET_WINTER, APPLE, "A1 cut shape 20% of crown @ 2026-02-10|A1 cut shape 20% of crown @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "" },
	{ "a_year_s_cut_after_each_harvest_is_not_two", AT_WET_WINTER, "A1 sweet_cherry 2012", "A1 picked 4 kg @ 2025-06-20|A1 cut shape 15% of crown @ 2025-07-20|A1 picked 4 kg @ 2026-06-15|A1 cut shape 15% of crown @ 2026-06-20", "2026-06-22", .rule = "cut-too-much", .want = "" },
	{ "a_cut_in_winter_and_one_after_the_harvest_are", AT_WET_WINTER, "A1 sweet_cherry 2012", "A1 cut shape 15% of crown @ 2026-02-20|A1 picked 4 kg @ 2026-06-15|A1 cut shape 15% of crown @ 2026-06-20", "2026-06-22", .rule = "cut-too-much", .want = "act", .says = {"28 % of the crown"} },
	{ "dead_wood_does_not_count", AT_WET_WINTER, APPLE, "A1 cut dead wood 30% of crown @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "" },
	{ "suckers_do_not_count", AT_WET_WINTER, APPLE, "A1 cut suckers 30% of crown @ 2027-02-01|A1 cut shape 20% of crown @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "" },
	{ "a_range_counts_by_its_low_end", AT_WET_WINTER, APPLE, "A1 cut shape 20-40% of crown @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "" },
	{ "after_22_days_a_note", AT_WET_WINTER, APPLE, "A1 cut shape 40% of crown @ 2027-02-03", "2027-02-25", .rule = "cut-too-much", .want = "note" },
	{ "not_in_the_first_three_years", AT_WET_WINTER, "A1 apple 2024-03-01", "A1 cut shape 40% of crown @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "" },
	{ "in_the_fourth_year_it_counts", AT_WET_WINTER, "A1 apple 2024-01-01", "A1 cut shape 40% of crown @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "act" },
	{ "a_tree_that_may_be_that_young_is_let_be", AT_WET_WINTER, "A1 apple 2019/2026", "A1 cut shape 40% of crown @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "", .once = true },
	{ "figs_at_planting_are_cut_hard", AT_WET_WINTER, "A1 fig 2027-02-01", "A1 cut heading 50% of crown @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "" },
	{ "a_tree_of_unknown_age_is_held_to_it", AT_WET_WINTER, "A1 apple -", "A1 cut shape 40% of crown @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "act" },
	{ "a_peach_counts_shoots_from_memory", AT_WET_WINTER, "A1 peach 2012", "A1 cut shape 70% of shoots @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "note", .says = {"last year's shoots"} },
	{ "a_peach_half_its_shoots_is_usual", AT_WET_WINTER, "A1 peach 2012", "A1 cut shape 50% of shoots @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "" },
	{ "a_peach_s_crown_is_not_its_shoots", AT_WET_WINTER, "A1 peach 2012", "A1 cut shape 70% of crown @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "" },
	{ "a_bare_share_of_a_peach_is_asked", AT_WET_WINTER, "A1 peach 2012", "A1 cut shape 40% @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "note", .says = {"40% of what?", "40% of shoots"} },
	{ "a_small_bare_share_of_a_peach_is_not", AT_WET_WINTER, "A1 peach 2012", "A1 cut shape 25% @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "" },
	{ "an_unknown_kind_has_no_limit", AT_WET_WINTER, "A1 - 2012", "A1 cut shape 60% of crown @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "" },
	{ "no_hemisphere_is_needed_for_a_share", AT_NOWHERE, APPLE, "A1 cut shape 40% of crown @ 2027-02-10", "2027-02-12", .rule = "cut-too-much", .want = "act", .once = true },
	{ "a_plan_takes_nothing", AT_WET_WINTER, APPLE, "A1 plan cut shape 40% of crown @ 2027-02-20", "2027-02-12", .rule = "cut-too-much", .want = "" },
};

static const struct log_case due[] = {
	{ "a_yearly_cut_is_due_in_its_window", AT_WET_WINTER, APPLE, YEARLY, "2027-02-10", .rule = "shape-cut-due", .want = "due", .says = {"Clear for the yearly cut", "power lines"} },
	{ "on_the_first_day", AT_WET_WINTER, APPLE, YEARLY, "2027-01-01", .rule = "shape-cut-due", .want = "due" },
	{ "not_the_day_before", AT_WET_WINTER, APPLE, YEARLY, "2026-12-28", .rule = "shape-cut-due", .want = "" },
	{ "on_the_last_day", AT_WET_WINTER, APPLE, YEARLY, "2027-02-28", .rule = "shape-cut-due", .want = "due" },
	{ "not_the_day_after", AT_WET_WINTER, APPLE, YEARLY, "2027-03-01", .rule = "shape-cut-due", .want = "" },
	{ "done_in_the_window_it_is_settled", AT_WET_WINTER, APPLE, YEARLY CUT("2027-01-20"), "2027-02-10", .rule = "shape-cut-due", .want = "" },
	{ "done_two_weeks_early_it_is_settled", AT_WET_WINTER, APPLE, YEARLY CUT("2026-12-20"), "2027-02-10", .rule = "shape-cut-due", .want = "" },
	{ "a_sucker_cut_settles_nothing", AT_WET_WINTER, APPLE, YEARLY "A1 cut suckers @ 2027-01-20", "2027-02-10", .rule = "shape-cut-due", .want = "due" },
	{ "a_planned_cut_settles_nothing", AT_WET_WINTER, APPLE, YEARLY "A1 plan cut shape @ 2027-02-20", "2027-02-10", .rule = "shape-cut-due", .want = "due" },
	{ "one_earlier_season_is_no_habit", AT_WET_WINTER, APPLE, "A1 cut shape 10% of crown @ 2026-02-10", "2027-02-10", .rule = "shape-cut-due", .want = "" },
	{ "two_cuts_of_one_season_are_no_habit", AT_WET_WINTER, APPLE, "A1 cut shape 10% of crown @ 2026-02-01|A1 cut shape 10% of crown @ 2026-02-10", "2027-02-10", .rule = "shape-cut-due", .want = "" },
	{ "never_for_a_tree_with_no_cut", AT_WET_WINTER, APPLE, "", "2027-02-10", .rule = "shape-cut-due", .want = "" },
	{ "suckers_are_no_habit", AT_WET_WINTER, APPLE, "A1 cut suckers @ 2025-02-10|A1 cut suckers @ 2026-02-10", "2027-02-10", .rule = "shape-cut-due", .want = "" },
	{ "a_kind_that_is_not_cut_yearly", AT_WET_WINTER, "A1 orange 2012", "A1 cut shape 10% of crown @ 2025-03-10|A1 cut shape 10% of crown @ 2026-03-10", "2027-03-10", .rule = "shape-cut-due", .want = "" },
	{ "an_unknown_kind", AT_WET_WINTER, "A1 - 2012", YEARLY, "2027-02-10", .rule = "shape-cut-due", .want = "" },
	{ "no_hemisphere_no_window", AT_NOWHERE, APPLE, YEARLY, "2027-02-10", .rule = "shape-cut-due", .want = "", .once = true },
	{ "a_tree_left_alone_is_left_alone", AT_WET_WINTER, APPLE, YEARLY "A1 leave until 2028-01 @ 2026-12-01", "2027-02-10", .rule = "shape-cut-due", .want = "" },
	{ "frost_in_the_night_reads_not_today", AT_WET_WINTER, APPLE, YEARLY "frost -2 C @ 2027-02-10", "2027-02-10", .rule = "shape-cut-due", .want = "due", .says = {"Not today: frost."} },
	{ "a_storm_reads_not_today", AT_WET_WINTER, APPLE, YEARLY "storm @ 2027-02-10", "2027-02-10", .rule = "shape-cut-due", .want = "due", .says = {"Not today: storm."} },
	{ "yesterday_s_storm_is_over", AT_WET_WINTER, APPLE, YEARLY "storm @ 2027-02-09", "2027-02-10", .rule = "shape-cut-due", .want = "due", .says = {"Look for power lines"}, .once = true },
	{ "a_loquat_cut_right_after_its_last_fruit_is_settled", AT_WET_WINTER, "A1 loquat 2012",
	  "A1 cut shape 10% of crown @ 2024-06-20|A1 cut shape 10% of crown @ 2025-06-20|A1 picked 5 kg, last @ 2026-05-01|" CUT("2026-05-03"), "2026-06-20", .rule = "shape-cut-due", .want = "" },
	{ "a_loquat_not_cut_since_its_last_fruit_is_due", AT_WET_WINTER, "A1 loquat 2012",
	  "A1 cut shape 10% of crown @ 2024-06-20|A1 cut shape 10% of crown @ 2025-06-20|A1 picked 5 kg, last @ 2026-05-01", "2026-06-20", .rule = "shape-cut-due", .want = "due" },
};
/* clang-format on */

/* A target height alone, once the tree was cut at all. */
static void a_target_height_makes_one_cut_enough(void **state)
{
	(void)state;
	const struct log_case told = {.place = AT_WET_WINTER,
		.trees = APPLE,
		.lines = "A1 cut shape 10% of crown @ 2026-02-10",
		.today = "2027-02-10"};
	struct garden garden;
	struct fault why = {0};

	log_case_make(&garden, &told, false);
	struct tree tree = garden_find(&garden, "A1");
	tree.target_height_um = known_i64(3000000);
	snprintf(tree.hazard, sizeof tree.hazard, "power line over the north side");
	check_ok(store_act_begin(garden.store, ACT_WORK, "target", &why), &why);
	check_ok(store_tree_save(garden.store, &tree, &why), &why);
	check_ok(store_act_commit(garden.store, &why), &why);
	garden_look(&garden);
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "shape-cut-due");
	assert_non_null(flag);
	check_int(flag->urgency, URGENCY_DUE, "urgency");
	check_int(strncmp(flag->action, "Power line over the north side.", 31), 0,
		"the hazard stands first");
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest more[] = {
		cmocka_unit_test(a_target_height_makes_one_cut_enough),
	};
	int failed = LOG_CASES("cut-in-wet-season", wet);

	failed += LOG_CASES("cut-too-much", too_much);
	failed += LOG_CASES("shape-cut-due", due);
	failed += cmocka_run_group_tests_name("more", more, NULL, NULL);
	return failed != 0;
}
