/* SPDX-License-Identifier: MIT */
/* thin-due, overbearing. */
#include "support/log_case.h"

#define APPLE "A1 apple 2012"
#define HABIT "A1 thinned 60 fruit @ 2024-05-02|A1 thinned 40 fruit @ 2025-05-03|"

/* clang-format off */
static const struct log_case thin[] = {
	{ "a_habit_of_two_seasons_inside_the_window", AT_WET_WINTER, APPLE, HABIT, "2026-04-20", .rule = "thin-due", .want = "due", .says = {"by the almanac", "2 earlier seasons", "6 in apart"} },
	{ "one_season_is_no_habit", AT_WET_WINTER, APPLE, "A1 thinned 60 fruit @ 2025-05-02", "2026-04-20", .rule = "thin-due", .want = "" },
	{ "twice_in_one_season_is_one_season", AT_WET_WINTER, APPLE, "A1 thinned 60 fruit @ 2025-05-02|A1 thinned 60 fruit @ 2025-05-20", "2026-04-20", .rule = "thin-due", .want = "" },
	{ "a_heavy_set_seen_speaks_without_a_habit", AT_WET_WINTER, APPLE, "A1 saw heavy set @ 2026-04-18", "2026-04-20", .rule = "thin-due", .want = "due", .says = {"you saw a heavy set"} },
	{ "a_stage_of_heavy_set_is_the_same", AT_WET_WINTER, APPLE, "A1 fruit set heavy @ 2026-04-18", "2026-04-20", .rule = "thin-due", .want = "due" },
	{ "a_light_set_is_not", AT_WET_WINTER, APPLE, "A1 saw set light @ 2026-04-18", "2026-04-20", .rule = "thin-due", .want = "" },
	{ "heavy_scab_is_no_heavy_set", AT_WET_WINTER, APPLE, "A1 saw scab heavy @ 2026-04-18", "2026-04-20", .rule = "thin-due", .want = "" },
	{ "a_heavy_set_of_last_year_is_over", AT_WET_WINTER, APPLE, "A1 saw heavy set @ 2025-04-18", "2026-04-20", .rule = "thin-due", .want = "" },
	{ "the_day_before_the_window_silence", AT_WET_WINTER, APPLE, HABIT, "2026-03-31", .rule = "thin-due", .want = "" },
	{ "on_its_first_day", AT_WET_WINTER, APPLE, HABIT, "2026-04-01", .rule = "thin-due", .want = "due" },
	{ "on_its_last_day", AT_WET_WINTER, APPLE, HABIT, "2026-05-31", .rule = "thin-due", .want = "due", .once = true },
	{ "the_day_after_silence", AT_WET_WINTER, APPLE, HABIT, "2026-06-01", .rule = "thin-due", .want = "" },
	{ "thinned_settles_it", AT_WET_WINTER, APPLE, HABIT "A1 thinned 50 fruit @ 2026-04-10", "2026-04-20", .rule = "thin-due", .want = "" },
	{ "two_weeks_early_settles_it", AT_WET_WINTER, APPLE, HABIT "A1 thinned 50 fruit @ 2026-03-20", "2026-04-20", .rule = "thin-due", .want = "" },
	{ "its_own_late_bloom_moves_the_window", AT_WET_WINTER, APPLE, HABIT "A1 bloom @ 2024-04-10|A1 bloom @ 2025-04-10", "2026-04-20", .rule = "thin-due", .want = "" },
	{ "and_it_opens_later", AT_WET_WINTER, APPLE, HABIT "A1 bloom @ 2024-04-10|A1 bloom @ 2025-04-10", "2026-05-12", .rule = "thin-due", .want = "due", .says = {"by your bloom, 2 seasons"} },
	{ "a_crop_said_to_be_none_needs_none", AT_WET_WINTER, APPLE, HABIT "A1 picked none @ 2026-04-15", "2026-04-20", .rule = "thin-due", .want = "" },
	{ "a_window_from_memory_is_a_note", AT_COOL, APPLE, "A1 thinned 60 fruit @ 2024-07-02|A1 thinned 40 fruit @ 2025-07-03", "2026-07-01", .rule = "thin-due", .want = "note" },
	{ "a_kind_that_is_not_thinned_is_silent", AT_WET_WINTER, "A1 lemon 2012", HABIT, "2026-04-20", .rule = "thin-due", .want = "" },
	{ "an_unknown_kind_is_silent", AT_WET_WINTER, "A1 - 2012", HABIT, "2026-04-20", .rule = "thin-due", .want = "" },
	{ "candidates_are_silent", AT_WET_WINTER, "A1 apple_or_peach 2012", HABIT, "2026-04-20", .rule = "thin-due", .want = "" },
	{ "an_unknown_hemisphere_is_silent", AT_NOWHERE, APPLE, HABIT, "2026-04-20", .rule = "thin-due", .want = "", .once = true },
	{ "in_the_tropics_it_is_silent", AT_TROPICS, APPLE, HABIT, "2026-04-20", .rule = "thin-due", .want = "", .once = true },
	{ "what_to_leave_is_never_that_it_is_not_thinned", AT_WET_WINTER, "A1 apricot 2012", HABIT, "2026-04-20", .rule = "thin-due", .want = "due", .says = {"2 to 4 in apart; at about", "before the stone hardens"} },
	{ "a_peach_in_inches_where_inches_are_used", AT_WET_WINTER, "A1 peach 2012", HABIT, "2026-04-20", .rule = "thin-due", .want = "due", .says = {"15 to 20 cm apart", "(6 to 8 in)"} },
	{ "fruit_to_leave_by_its_trunk", AT_WET_WINTER, APPLE, HABIT "A1 trunk 10 cm across @ 2025-11-20", "2026-04-20", .rule = "thin-due", .want = "due", .says = {"On its trunk, 3.9 in across", "about 315 to 550 fruit (4 to 7 a cm2)"} },
	{ "power_lines_before_the_ladder", AT_WET_WINTER, APPLE, HABIT, "2026-04-20", .rule = "thin-due", .want = "due", .says = {"power lines"} },
};

#define HEAVY "A1 saw heavy set @ 2026-05-20|"
static const struct log_case heavy[] = {
	{ "while_thin_due_speaks_it_is_silent", AT_WET_WINTER, APPLE, HEAVY, "2026-05-25", .rule = "overbearing", .want = "" },
	{ "past_the_window_it_asks_for_props", AT_WET_WINTER, APPLE, HEAVY, "2026-06-10", .rule = "overbearing", .want = "due", .says = {"heavy set was seen", "prop or tie up limbs", "few flowers next year"} },
	{ "before_the_window_it_waits_for_it", AT_WET_WINTER, APPLE, "A1 saw heavy set @ 2026-03-28", "2026-03-30", .rule = "overbearing", .want = "" },
	{ "thinned_settles_it", AT_WET_WINTER, APPLE, HEAVY "A1 thinned 80 fruit @ 2026-06-05", "2026-06-10", .rule = "overbearing", .want = "" },
	{ "props_settle_it", AT_WET_WINTER, APPLE, HEAVY "A1 protected props under limbs @ 2026-06-05", "2026-06-10", .rule = "overbearing", .want = "" },
	{ "frost_cloth_does_not", AT_WET_WINTER, APPLE, HEAVY "A1 protected frost cloth @ 2026-06-05", "2026-06-10", .rule = "overbearing", .want = "due" },
	{ "once_picking_begins_silence", AT_WET_WINTER, APPLE, HEAVY "A1 picked 20 kg @ 2026-08-05", "2026-08-06", .rule = "overbearing", .want = "" },
	{ "next_year_it_is_over", AT_WET_WINTER, APPLE, HEAVY, "2027-06-10", .rule = "overbearing", .want = "" },
	{ "a_kind_that_is_not_thinned_is_propped", AT_WET_WINTER, "A1 persimmon 2012", "A1 saw heavy crop @ 2026-09-01", "2026-09-10", .rule = "overbearing", .want = "due" },
	{ "a_tree_just_planted_carries_none", AT_WET_WINTER, "A1 peach 2025-01-20", "A1 fruit set @ 2026-04-20", "2026-04-25", .rule = "overbearing", .want = "due", .says = {"1 year after planting", "Take the fruit off"} },
	{ "in_its_third_year_it_may", AT_WET_WINTER, "A1 peach 2023-01-20", "A1 fruit set @ 2026-04-20", "2026-04-25", .rule = "overbearing", .want = "" },
	{ "of_unknown_age_nothing_is_said", AT_WET_WINTER, "A1 peach -", "A1 fruit set @ 2026-04-20", "2026-04-25", .rule = "overbearing", .want = "" },
	{ "of_an_unknown_kind_nothing_is_said", AT_WET_WINTER, "A1 - 2025", HEAVY, "2026-06-10", .rule = "overbearing", .want = "" },
};

#define CROPS "A1 picked 20 kg, last @ 2022-08-20|A1 picked 24 kg, last @ 2023-08-20|A1 picked 18 kg, last @ 2024-08-20|"
static const struct log_case crops[] = {
	{ "a_crop_far_above_its_own_past", AT_WET_WINTER, APPLE, CROPS "A1 picked 60 kg, last @ 2025-08-20", "2025-09-01", .rule = "overbearing", .want = "note", .says = {"far above its own past", "3 seasons", "thin early"} },
	{ "under_twice_the_middle_silence", AT_WET_WINTER, APPLE, CROPS "A1 picked 39 kg, last @ 2025-08-20", "2025-09-01", .rule = "overbearing", .want = "" },
	{ "two_seasons_are_no_past", AT_WET_WINTER, APPLE, "A1 picked 20 kg, last @ 2023-08-20|A1 picked 18 kg, last @ 2024-08-20|A1 picked 60 kg, last @ 2025-08-20", "2025-09-01", .rule = "overbearing", .want = "" },
	{ "a_season_in_progress_is_not_compared", AT_WET_WINTER, APPLE, CROPS "A1 picked 60 kg @ 2025-08-20", "2025-09-01", .rule = "overbearing", .want = "" },
	{ "a_tree_that_grows_is_not_overbearing", AT_WET_WINTER, APPLE, "A1 picked 5 kg, last @ 2022-08-20|A1 picked 10 kg, last @ 2023-08-20|A1 picked 20 kg, last @ 2024-08-20|A1 picked 40 kg, last @ 2025-08-20", "2025-09-01", .rule = "overbearing", .want = "" },
	{ "half_a_year_later_it_is_old_news", AT_WET_WINTER, APPLE, CROPS "A1 picked 60 kg, last @ 2025-08-20", "2026-03-05", .rule = "overbearing", .want = "" },
	{ "more_fruit_than_the_trunk_bears", AT_WET_WINTER, APPLE, "A1 girth 20 cm @ 2025-01-10|A1 picked 400 fruit, last @ 2025-08-20", "2025-09-01", .rule = "overbearing", .want = "note", .says = {"12.6 fruit for each square centimetre", "4 to 7"} },
	{ "what_the_trunk_bears_is_fine", AT_WET_WINTER, APPLE, "A1 girth 20 cm @ 2025-01-10|A1 picked 220 fruit, last @ 2025-08-20", "2025-09-01", .rule = "overbearing", .want = "" },
	{ "fruit_not_all_counted_make_no_load", AT_WET_WINTER, APPLE, "A1 girth 20 cm @ 2025-01-10|A1 picked 400 fruit @ 2025-08-20|A1 picked 3 kg, last @ 2025-08-21", "2025-09-01", .rule = "overbearing", .want = "" },
	{ "a_trunk_never_measured_gives_no_load", AT_WET_WINTER, APPLE, "A1 picked 400 fruit, last @ 2025-08-20", "2025-09-01", .rule = "overbearing", .want = "" },
};
/* clang-format on */

int main(void)
{
	int failed = LOG_CASES("thin-due", thin);

	failed += LOG_CASES("overbearing, a set", heavy);
	failed += LOG_CASES("overbearing, a crop", crops);
	return failed != 0;
}
