/* SPDX-License-Identifier: MIT */
/* flower-wood: which cuts cost a crop, on which days, on both sides of the equator. */
#include "support/log_case.h"

#define LOQUAT "A1 loquat 2012"
#define RULE .rule = "flower-wood"
#define CUT(day) "A1 cut shape 20% of crown @ " day

/* clang-format off */
static const struct log_case timing[] = {
	{ "a_shape_cut_in_early_october_is_an_act", AT_WET_WINTER, LOQUAT, CUT("2026-10-03"),
	  "2026-10-10", RULE, .want = "act", .says = {"coming flowers", "2027 crop", "After such a cut: leave it now"} },
	{ "it_names_the_day_of_the_cut", AT_WET_WINTER, LOQUAT, CUT("2026-10-03"),
	  "2026-10-10", RULE, .want = "act", .says = {"The shape cut of 3 October 2026 takes wood", "Next clear for this cut: 16 June to 15 July 2027 ("}, .once = true },
	{ "on_the_day_itself_it_is_an_act", AT_WET_WINTER, LOQUAT, CUT("2026-10-03"),
	  "2026-10-03", RULE, .want = "act" },
	{ "after_21_days_it_still_is", AT_WET_WINTER, LOQUAT, CUT("2026-10-03"),
	  "2026-10-24", RULE, .want = "act" },
	{ "after_22_days_it_is_a_note", AT_WET_WINTER, LOQUAT, CUT("2026-10-03"),
	  "2026-10-25", RULE, .want = "note" },
	{ "it_stays_a_note_while_the_crop_is_to_come", AT_WET_WINTER, LOQUAT, CUT("2026-10-03"),
	  "2027-05-01", RULE, .want = "note" },
	{ "it_ends_when_the_crop_is_in", AT_WET_WINTER, LOQUAT,
	  CUT("2026-10-03") "|A1 picked 4 kg, last @ 2027-05-01", "2027-05-02", RULE, .want = "" },
	{ "it_ends_when_the_season_is_over_without_a_word", AT_WET_WINTER, LOQUAT, CUT("2026-10-03"),
	  "2027-07-20", RULE, .want = "" },
	{ "the_last_day_of_clear_is_quiet", AT_WET_WINTER, LOQUAT, CUT("2026-07-15"), "2026-07-16", RULE, .want = "" },
	{ "the_weeks_between_are_quiet", AT_WET_WINTER, LOQUAT, CUT("2026-08-14"), "2026-08-16", RULE, .want = "" },
	{ "mid_august_is_an_act", AT_WET_WINTER, LOQUAT, CUT("2026-08-15"), "2026-08-16", RULE, .want = "act" },
	{ "the_end_of_september_is_an_act", AT_WET_WINTER, LOQUAT, CUT("2026-09-28"), "2026-09-28", RULE, .want = "act" },
	{ "the_end_of_december_is_an_act", AT_WET_WINTER, LOQUAT, CUT("2026-12-28"), "2026-12-28", RULE, .want = "act", .says = {"coming flowers"} },
	{ "new_year_is_an_act_for_the_fruit", AT_WET_WINTER, LOQUAT, CUT("2027-01-01"), "2027-01-02", RULE, .want = "act", .says = {"with the fruit on it", "2027 crop"} },
	{ "the_last_day_of_harvest_is_an_act", AT_WET_WINTER, LOQUAT, CUT("2026-06-15"), "2026-06-16", RULE, .want = "act", .says = {"2026 crop"} },
	{ "the_day_after_harvest_is_clear", AT_WET_WINTER, LOQUAT, CUT("2026-06-16"), "2026-06-17", RULE, .want = "" },
	{ "in_humid_places_june_is_clear", AT_HUMID, LOQUAT, CUT("2026-06-01"), "2026-06-02", RULE, .want = "" },
	{ "in_humid_places_may_is_an_act", AT_HUMID, LOQUAT, CUT("2026-05-28"), "2026-05-28", RULE, .want = "act" },
	{ "where_the_seasons_are_unsaid_the_rows_for_all_hold", AT_UNSAID, LOQUAT, CUT("2026-10-03"), "2026-10-10", RULE, .want = "act" },
	{ "an_apple_in_late_winter_is_quiet", AT_WET_WINTER, "A1 apple 2012", CUT("2027-02-10"), "2027-02-11", RULE, .want = "" },
	{ "an_apple_in_late_winter_is_quiet_where_winters_are_hard", AT_CONTINENTAL, "A1 apple 2012", CUT("2027-03-10"), "2027-03-11", RULE, .want = "" },
	{ "an_apple_in_november_is_quiet", AT_WET_WINTER, "A1 apple 2012", CUT("2026-11-10"), "2026-11-11", RULE, .want = "" },
	{ "a_peach_in_winter_is_quiet", AT_WET_WINTER, "A1 peach 2012", CUT("2027-02-10"), "2027-02-11", RULE, .want = "" },
	{ "an_orange_in_spring_is_quiet", AT_WET_WINTER, "A1 orange 2012", CUT("2027-03-10"), "2027-03-11", RULE, .want = "" },
	{ "a_lemon_in_autumn_is_quiet", AT_WET_WINTER, "A1 lemon 2012", CUT("2026-10-10"), "2026-10-11", RULE, .want = "" },
	{ "a_fig_in_winter_is_quiet", AT_WET_WINTER, "A1 fig 2012", CUT("2027-02-10"), "2027-02-11", RULE, .want = "" },
	{ "a_fig_in_may_is_a_note_because_the_row_is_second_hand", AT_WET_WINTER, "A1 fig 2012", CUT("2026-05-10"), "2026-05-11", RULE, .want = "note" },
	{ "a_fig_in_june_costs_the_main_crop_of_this_year", AT_WET_WINTER, "A1 fig 2012", CUT("2026-06-20"), "2026-06-21", RULE, .want = "note", .says = {"2026 main crop"}, .once = true },
};

static const struct log_case kinds_of_cut[] = {
	{ "a_sucker_cut_never", AT_WET_WINTER, LOQUAT, "A1 cut suckers @ 2026-10-03", "2026-10-10", RULE, .want = "" },
	{ "water_shoots_never", AT_WET_WINTER, LOQUAT, "A1 cut water shoots 30% of crown @ 2026-10-03", "2026-10-10", RULE, .want = "" },
	{ "dead_wood_never", AT_WET_WINTER, LOQUAT, "A1 cut dead wood 30% of crown @ 2026-10-03", "2026-10-10", RULE, .want = "" },
	{ "diseased_wood_never", AT_WET_WINTER, LOQUAT, "A1 cut diseased 30% of crown @ 2027-03-03", "2027-03-10", RULE, .want = "" },
	{ "thinning_in_september_is_allowed", AT_WET_WINTER, LOQUAT, "A1 cut thinning 20% of crown @ 2026-09-10", "2026-09-11", RULE, .want = "" },
	{ "thinning_in_october_is_an_act", AT_WET_WINTER, LOQUAT, "A1 cut thinning 20% of crown @ 2026-10-05", "2026-10-06", RULE, .want = "act" },
	{ "heading_in_september_is_an_act", AT_WET_WINTER, LOQUAT, "A1 cut heading 20% of crown @ 2026-09-10", "2026-09-11", RULE, .want = "act" },
	{ "height_in_november_is_an_act", AT_WET_WINTER, LOQUAT, "A1 cut height 20% of crown @ 2026-11-10", "2026-11-11", RULE, .want = "act" },
	{ "renovation_in_march_is_an_act", AT_WET_WINTER, LOQUAT, "A1 cut renovation 40% of crown @ 2027-03-10", "2027-03-11", RULE, .want = "act" },
	{ "a_cut_of_no_kind_is_judged_as_shape_and_said", AT_WET_WINTER, LOQUAT, "A1 cut 20% of crown @ 2026-10-03", "2026-10-10", RULE, .want = "act", .says = {"judged as a shape cut"} },
	{ "a_planned_cut_took_nothing", AT_WET_WINTER, LOQUAT, "A1 plan cut shape 20% of crown @ 2026-10-20", "2026-10-22", RULE, .want = "" },
	{ "a_cut_dated_ahead_has_not_happened", AT_WET_WINTER, LOQUAT, CUT("2026-10-20"), "2026-10-10", RULE, .want = "" },
	{ "a_cut_dated_ahead_speaks_on_its_day", AT_WET_WINTER, LOQUAT, CUT("2026-10-20"), "2026-10-20", RULE, .want = "act" },
	{ "two_cuts_are_two_flags", AT_WET_WINTER, LOQUAT, CUT("2026-10-03") "|" CUT("2026-10-20"), "2026-10-22", RULE, .want = "act act" },
	{ "a_back_dated_cut_is_judged_by_its_day", AT_WET_WINTER, LOQUAT, CUT("2026-06-20"), "2026-10-10", RULE, .want = "" },
};

static const struct log_case last_fruit[] = {
	{ "the_day_of_the_last_pick_is_quiet", AT_WET_WINTER, LOQUAT, "A1 picked 5 kg, last @ 2026-05-01|" CUT("2026-05-01"), "2026-05-02", RULE, .want = "" },
	{ "after_the_last_pick_it_is_quiet", AT_WET_WINTER, LOQUAT, "A1 picked 5 kg, last @ 2026-05-01|" CUT("2026-05-02"), "2026-05-03", RULE, .want = "" },
	{ "an_early_tree_picked_last_is_quiet", AT_WET_WINTER, LOQUAT, "A1 picked 5 kg, last @ 2026-03-01|" CUT("2026-03-02"), "2026-03-03", RULE, .want = "" },
	{ "before_the_last_pick_it_is_an_act", AT_WET_WINTER, LOQUAT, CUT("2026-04-30") "|A1 picked 5 kg @ 2026-05-01", "2026-05-02", RULE, .want = "act" },
	{ "six_days_after_an_unsaid_last_pick_it_is_an_act", AT_WET_WINTER, LOQUAT, "A1 picked 5 kg @ 2026-05-10|" CUT("2026-05-16"), "2026-05-17", RULE, .want = "act" },
	{ "a_week_after_a_late_pick_it_is_quiet", AT_WET_WINTER, LOQUAT, "A1 picked 5 kg @ 2026-05-10|" CUT("2026-05-17"), "2026-05-18", RULE, .want = "" },
	{ "in_the_first_half_of_the_harvest_more_fruit_hangs", AT_WET_WINTER, LOQUAT, "A1 picked 5 kg @ 2026-03-05|" CUT("2026-03-20"), "2026-03-21", RULE, .want = "act" },
	{ "a_pick_after_the_cut_tells_that_fruit_hung", AT_WET_WINTER, LOQUAT, "A1 picked 5 kg @ 2026-05-01|" CUT("2026-05-12") "|A1 picked 2 kg @ 2026-05-14", "2026-05-15", RULE, .want = "act" },
	{ "without_any_pick_fruit_may_hang", AT_WET_WINTER, LOQUAT, CUT("2026-05-20"), "2026-05-21", RULE, .want = "act" },
	{ "last_year_s_last_pick_says_nothing_of_this_year", AT_WET_WINTER, LOQUAT, "A1 picked 5 kg, last @ 2025-05-10|" CUT("2026-05-12"), "2026-05-13", RULE, .want = "act" },
	{ "the_flowers_of_october_are_not_freed_by_a_pick", AT_WET_WINTER, LOQUAT, "A1 picked 5 kg, last @ 2026-05-10|" CUT("2026-10-05"), "2026-10-06", RULE, .want = "act" },
	{ "four_seasons_of_early_picks_move_the_clear_window", AT_WET_WINTER, LOQUAT,
	  "A1 picked 5 kg, last @ 2022-05-10|A1 picked 5 kg, last @ 2023-05-10|A1 picked 5 kg, last @ 2024-05-10|"
	  "A1 picked 5 kg, last @ 2025-05-10|" CUT("2026-05-14"), "2026-05-15", RULE, .want = "" },
	{ "and_the_day_before_it_is_still_an_act", AT_WET_WINTER, LOQUAT,
	  "A1 picked 5 kg, last @ 2022-05-10|A1 picked 5 kg, last @ 2023-05-10|A1 picked 5 kg, last @ 2024-05-10|"
	  "A1 picked 5 kg, last @ 2025-05-10|" CUT("2026-05-08"), "2026-05-09", RULE, .want = "act", .says = {"with the fruit on it"} },
};

static const struct log_case unknowns[] = {
	{ "an_unknown_kind_gets_a_question_no_date", AT_WET_WINTER, "A1 - 2012", CUT("2026-10-03"), "2026-10-10", RULE, .want = "note", .says = {"not known"} },
	{ "and_only_while_the_cut_is_fresh", AT_WET_WINTER, "A1 - 2012", CUT("2026-10-03"), "2026-10-25", RULE, .want = "" },
	{ "an_unknown_kind_is_asked_for", AT_WET_WINTER, "A1 - 2012", CUT("2026-10-03"), "2026-10-10", .rule = "facts-missing", .want = "note", .says = {"kind not known"} },
	{ "without_a_hemisphere_a_question_no_date", AT_NOWHERE, LOQUAT, CUT("2026-10-03"), "2026-10-10", RULE, .want = "note", .says = {"north or south"}, .once = true },
	{ "without_a_hemisphere_it_is_asked_for", AT_NOWHERE, LOQUAT, CUT("2026-10-03"), "2026-10-10", .rule = "facts-missing", .want = "note", .says = {"hemisphere not known"}, .once = true },
	{ "in_the_tropics_own_windows_are_asked_for", AT_TROPICS, LOQUAT, CUT("2026-10-03"), "2026-10-10", RULE, .want = "note", .says = {"your own windows"} },
	{ "in_the_tropics_a_note_says_why", AT_TROPICS, LOQUAT, CUT("2026-10-03"), "2026-10-10", .rule = "facts-missing", .want = "note", .says = {"no dates this near the equator"} },
	{ "a_guess_fires_and_says_so", AT_WET_WINTER, "A1 loquat? 2012", CUT("2026-10-03"), "2026-10-10", RULE, .want = "act", .says = {"This rests on a guess"} },
	{ "candidates_that_differ_are_a_question", AT_WET_WINTER, "A1 loquat_or_apple 2012", CUT("2026-10-03"), "2026-10-10", RULE, .want = "note", .says = {"depends on which kind the tree is"} },
	{ "candidates_that_agree_fire_and_are_named", AT_WET_WINTER, "A1 loquat_or_fig 2012", "A1 cut heading 20% of crown @ 2026-05-10", "2026-05-11", RULE, .want = "note", .says = {"one of several kinds", "loquat", "fig"} },
	{ "candidates_all_quiet_are_quiet", AT_WET_WINTER, "A1 apple_or_peach 2012", CUT("2027-02-10"), "2027-02-11", RULE, .want = "" },
	{ "a_month_wholly_ill_timed_is_an_act", AT_WET_WINTER, LOQUAT, CUT("2026-10"), "2026-10-20", RULE, .want = "act", .says = {"October 2026"}, .once = true },
	{ "a_month_in_part_ill_timed_is_a_question", AT_WET_WINTER, LOQUAT, CUT("2026-08"), "2026-08-31", RULE, .want = "note", .says = {"part of that span is clear"} },
	{ "a_whole_year_is_a_question", AT_WET_WINTER, LOQUAT, CUT("2026"), "2026-12-01", RULE, .want = "note", .says = {"depends on the day"}, .once = true },
	{ "a_cut_of_no_day_is_not_judged", AT_WET_WINTER, "A1 loquat -", CUT("199X"), "2026-12-01", RULE, .want = "" },
	{ "a_kind_outside_the_almanac_gets_no_date", AT_WET_WINTER, "A1 mango 2012", CUT("2026-10-03"), "2026-10-10", RULE, .want = "note", .says = {"no dates for this kind"} },
	{ "a_kind_outside_the_almanac_is_not_called_unknown", AT_WET_WINTER, "A1 mango 2012", CUT("2026-10-03"), "2026-10-10", .rule = "facts-missing", .want = "" },
};
/* clang-format on */

int main(void)
{
	int failed = LOG_CASES("the days", timing);

	failed += LOG_CASES("the kinds of cut", kinds_of_cut);
	failed += LOG_CASES("the last fruit", last_fruit);
	failed += LOG_CASES("what is not known", unknowns);
	return failed != 0;
}
