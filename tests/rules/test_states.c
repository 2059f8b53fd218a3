/* SPDX-License-Identifier: MIT */
/* leave-alone, plan-due, facts-missing. */
#include "support/log_case.h"

#define APPLE "A1 apple 2012"
#define FIG "A1 fig 2010"

/* clang-format off */
static const struct log_case leave[] = {
	{ "left_until_a_day", AT_WET_WINTER, APPLE, "A1 leave until 2027-10-05 @ 2026-05-01 ; let it fruit", "2026-06-01", .rule = "leave-alone", .want = "leave", .says = {"Leave this tree alone until", "let it fruit"} },
	{ "on_the_day_it_ends", AT_WET_WINTER, APPLE, "A1 leave until 2027-10-05 @ 2026-05-01", "2027-10-05", .rule = "leave-alone", .want = "" },
	{ "the_day_before_it_holds", AT_WET_WINTER, APPLE, "A1 leave until 2027-10-05 @ 2026-05-01", "2027-10-04", .rule = "leave-alone", .want = "leave" },
	{ "not_before_it_was_said", AT_WET_WINTER, APPLE, "A1 leave until 2027-10-05 @ 2026-05-10", "2026-05-09", .rule = "leave-alone", .want = "" },
	{ "the_newest_word_holds", AT_WET_WINTER, APPLE, "A1 leave until 2027-10-05 @ 2026-05-01|A1 leave until 2026-07-05 @ 2026-06-01", "2026-08-01", .rule = "leave-alone", .want = "" },
	{ "a_cut_meanwhile_is_a_note", AT_WET_WINTER, APPLE, "A1 leave until 2027-10-05 @ 2026-05-01|A1 cut shape 10% of crown @ 2026-06-01", "2026-06-02", .rule = "leave-alone", .want = "note leave", .says = {"came while the tree was to be left alone"} },
	{ "a_cut_of_the_same_day_is_not", AT_WET_WINTER, APPLE, "A1 leave until 2027-10-05 @ 2026-06-01|A1 cut shape 10% of crown @ 2026-06-01", "2026-06-02", .rule = "leave-alone", .want = "leave" },
	{ "dead_wood_meanwhile_is_fine", AT_WET_WINTER, APPLE, "A1 leave until 2027-10-05 @ 2026-05-01|A1 cut dead wood @ 2026-06-01", "2026-06-02", .rule = "leave-alone", .want = "leave" },
	{ "a_fig_cut_hard_is_left_by_rule", AT_WET_WINTER, FIG, "A1 cut renovation 60% of crown @ 2026-02-10", "2026-06-01", .rule = "leave-alone", .want = "leave", .says = {"a hard cut sends a fig back into leaf"} },
	{ "two_years_long", AT_WET_WINTER, FIG, "A1 cut renovation 60% of crown @ 2026-02-10", "2028-02-09", .rule = "leave-alone", .want = "leave", .once = true },
	{ "and_no_longer", AT_WET_WINTER, FIG, "A1 cut renovation 60% of crown @ 2026-02-10", "2028-02-10", .rule = "leave-alone", .want = "", .once = true },
	{ "a_third_of_the_crown_is_hard", AT_WET_WINTER, FIG, "A1 cut shape a third of crown @ 2026-02-10", "2026-06-01", .rule = "leave-alone", .want = "leave" },
	{ "a_fifth_is_not", AT_WET_WINTER, FIG, "A1 cut shape 20% of crown @ 2026-02-10", "2026-06-01", .rule = "leave-alone", .want = "" },
	{ "an_apple_cut_hard_is_not_left_by_rule", AT_WET_WINTER, APPLE, "A1 cut renovation 60% of crown @ 2026-02-10", "2026-06-01", .rule = "leave-alone", .want = "" },
	{ "a_second_hard_cut_is_told_and_makes_it_longer", AT_WET_WINTER, FIG, "A1 cut renovation 60% of crown @ 2026-02-10|A1 cut renovation 60% of crown @ 2027-02-10", "2027-02-12", .rule = "leave-alone", .want = "note leave", .says = {"The cut of "} },
	{ "and_holds_to_the_end_of_the_second", AT_WET_WINTER, FIG, "A1 cut renovation 60% of crown @ 2026-02-10|A1 cut renovation 60% of crown @ 2027-02-10", "2028-06-01", .rule = "leave-alone", .want = "leave" },
	{ "a_kind_not_known_is_left_by_the_grower_only", AT_NOWHERE, "A1 - 2012", "A1 leave until 2027-10-05 @ 2026-05-01|A1 cut renovation 60% @ 2026-05-02", "2026-06-01", .rule = "leave-alone", .want = "note leave", .once = true },
};

static const struct log_case plans[] = {
	{ "a_plan_is_due_on_its_day", AT_WET_WINTER, APPLE, "A1 plan fed 1 lb 10-10-10 @ 2026-06-10", "2026-06-10", .rule = "plan-due", .want = "due", .says = {"Planned for "} },
	{ "two_weeks_ahead_it_is_soon", AT_WET_WINTER, APPLE, "A1 plan fed 1 lb 10-10-10 @ 2026-06-20", "2026-06-06", .rule = "plan-due", .want = "soon" },
	{ "fifteen_days_ahead_silence", AT_WET_WINTER, APPLE, "A1 plan fed 1 lb 10-10-10 @ 2026-06-20", "2026-06-05", .rule = "plan-due", .want = "" },
	{ "two_weeks_late_it_is_still_due", AT_WET_WINTER, APPLE, "A1 plan fed 1 lb 10-10-10 @ 2026-06-05", "2026-06-19", .rule = "plan-due", .want = "due" },
	{ "then_it_is_a_note", AT_WET_WINTER, APPLE, "A1 plan fed 1 lb 10-10-10 @ 2026-06-05", "2026-06-20", .rule = "plan-due", .want = "note" },
	{ "after_sixty_days_silence", AT_WET_WINTER, APPLE, "A1 plan fed 1 lb 10-10-10 @ 2026-06-05", "2026-08-10", .rule = "plan-due", .want = "" },
	{ "the_work_settles_it", AT_WET_WINTER, APPLE, "A1 plan fed 1 lb 10-10-10 @ 2026-06-10|A1 fed 1 lb 10-10-10 @ 2026-06-09", "2026-06-12", .rule = "plan-due", .want = "" },
	{ "work_of_another_kind_does_not", AT_WET_WINTER, APPLE, "A1 plan fed 1 lb 10-10-10 @ 2026-06-10|A1 watered 5 gal @ 2026-06-09", "2026-06-12", .rule = "plan-due", .want = "due" },
	{ "work_long_before_does_not", AT_WET_WINTER, APPLE, "A1 plan fed 1 lb 10-10-10 @ 2026-06-25|A1 fed 1 lb 10-10-10 @ 2026-06-10", "2026-06-25", .rule = "plan-due", .want = "due" },
	{ "a_planned_cut_says_ask_first", AT_WET_WINTER, APPLE, "A1 plan cut limb 2 of 3 @ 2026-06-10", "2026-06-10", .rule = "plan-due", .want = "due", .says = {"Ask before the cut", "power lines"} },
	{ "a_planned_cut_waits_for_the_storm", AT_WET_WINTER, APPLE, "A1 plan cut limb 2 of 3 @ 2026-06-10|storm @ 2026-06-10", "2026-06-10", .rule = "plan-due", .want = "due", .says = {"Not today: storm."} },
	{ "a_month_is_due_from_its_first_day", AT_WET_WINTER, APPLE, "A1 plan fed 1 lb 10-10-10 @ 2026-06", "2026-06-25", .rule = "plan-due", .want = "due", .once = true },
	{ "every_three_weeks_it_comes_back", AT_WET_WINTER, APPLE, "A1 plan watered 5 gal every 3 weeks @ 2026-06-01|A1 watered 5 gal @ 2026-06-02", "2026-06-23", .rule = "plan-due", .want = "due" },
	{ "and_not_at_once", AT_WET_WINTER, APPLE, "A1 plan watered 5 gal every 6 weeks @ 2026-06-01|A1 watered 5 gal @ 2026-06-02", "2026-06-03", .rule = "plan-due", .want = "" },
	{ "a_kind_is_not_needed", AT_NOWHERE, "A1 - 2012", "A1 plan watered 5 gal @ 2026-06-10", "2026-06-10", .rule = "plan-due", .want = "due", .once = true },
	{ "a_tree_left_alone_keeps_its_plan_quiet", AT_WET_WINTER, APPLE, "A1 plan fed 1 lb 10-10-10 @ 2026-06-10|A1 leave until 2027-10 @ 2026-06-01", "2026-06-10", .rule = "plan-due", .want = "" },
};

static const struct log_case facts[] = {
	{ "a_kind_known_place_known_asks_nothing", AT_WET_WINTER, APPLE, "", "2026-06-10", .rule = "facts-missing", .want = "" },
	{ "an_unknown_kind_is_asked", AT_WET_WINTER, "A1 - 2012", "", "2026-06-10", .rule = "facts-missing", .want = "note", .says = {"kind not known"} },
	{ "candidates_are_an_answer", AT_WET_WINTER, "A1 apple_or_peach 2012", "", "2026-06-10", .rule = "facts-missing", .want = "" },
	{ "a_guess_is_an_answer", AT_WET_WINTER, "A1 apple? 2012", "", "2026-06-10", .rule = "facts-missing", .want = "" },
	{ "a_name_without_dates_here_is_an_answer", AT_WET_WINTER, "A1 mango 2012", "", "2026-06-10", .rule = "facts-missing", .want = "" },
	{ "no_hemisphere_is_asked", AT_NOWHERE, APPLE, "", "2026-06-10", .rule = "facts-missing", .want = "note", .says = {"hemisphere not known"}, .once = true },
	{ "no_seasons_are_asked_where_cutting_depends_on_them", AT_UNSAID, "A1 apricot 2012", "", "2026-06-10", .rule = "facts-missing", .want = "note", .says = {"wet season and winters"} },
	{ "no_seasons_are_needed_for_a_fig", AT_UNSAID, FIG, "", "2026-06-10", .rule = "facts-missing", .want = "" },
	{ "near_the_equator_a_note", AT_TROPICS, APPLE, "", "2026-06-10", .rule = "facts-missing", .want = "note", .says = {"12 N and 12 S"} },
	{ "a_trunk_nobody_feeds_by_is_not_asked", AT_WET_WINTER, APPLE, "", "2027-03-01", .rule = "facts-missing", .want = "" },
	{ "a_trunk_that_is_fed_by_is", AT_WET_WINTER, APPLE, "A1 fed 1 lb 10-10-10 @ 2025-03-01|A1 fed 1 lb 10-10-10 @ 2026-03-01", "2027-03-01", .rule = "facts-missing", .want = "note", .says = {"girth not known"} },
};
/* clang-format on */

int main(void)
{
	int failed = LOG_CASES("leave-alone", leave);

	failed += LOG_CASES("plan-due", plans);
	failed += LOG_CASES("facts-missing", facts);
	return failed != 0;
}
