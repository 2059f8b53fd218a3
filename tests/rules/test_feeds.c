/* SPDX-License-Identifier: MIT */
/* feed-due, feed-over, feed-late, girth-stale, girth-or-diameter. Rates are those of the almanac
 * (Colorado 0.1 lb N an inch for apple, California 1 lb N a mature citrus tree); the sums of each
 * case were made by hand. */
#include "support/log_case.h"

#define APPLE "A1 apple 2012"
#define ORANGE "A1 orange 2012"
#define LEMON "A1 lemon 2012"
#define FED "A1 fed 1 lb 10-10-10 @ 2025-03-01|A1 fed 1 lb 10-10-10 @ 2026-03-01|"

/* clang-format off */
static const struct log_case due[] = {
	{ "fed_in_two_seasons_it_is_due", AT_WET_WINTER, APPLE, FED, "2027-03-01", .rule = "feed-due", .want = "due", .says = {"you fed it in earlier seasons", "by the almanac", "product label comes first"} },
	{ "two_weeks_ahead_it_is_soon", AT_WET_WINTER, APPLE, FED, "2027-02-01", .rule = "feed-due", .want = "soon" },
	{ "fifteen_days_ahead_it_is_not", AT_WET_WINTER, APPLE, FED, "2027-01-28", .rule = "feed-due", .want = "" },
	{ "on_the_first_day_it_is_due", AT_WET_WINTER, APPLE, FED, "2027-02-15", .rule = "feed-due", .want = "due" },
	{ "the_day_before_it_is_soon", AT_WET_WINTER, APPLE, FED, "2027-02-14", .rule = "feed-due", .want = "soon" },
	{ "on_the_last_day_it_is_due", AT_WET_WINTER, APPLE, FED, "2027-04-15", .rule = "feed-due", .want = "due" },
	{ "the_day_after_it_ends", AT_WET_WINTER, APPLE, FED, "2027-04-16", .rule = "feed-due", .want = "" },
	{ "fed_in_the_window_it_is_settled", AT_WET_WINTER, APPLE, FED "A1 fed 1 lb 10-10-10 @ 2027-02-20", "2027-03-01", .rule = "feed-due", .want = "" },
	{ "fed_two_weeks_early_it_is_settled", AT_WET_WINTER, APPLE, FED "A1 fed 1 lb 10-10-10 @ 2027-02-01", "2027-03-01", .rule = "feed-due", .want = "" },
	{ "fed_three_weeks_early_it_is_not", AT_WET_WINTER, APPLE, FED "A1 fed 1 lb 10-10-10 @ 2027-01-20", "2027-03-01", .rule = "feed-due", .want = "due" },
	{ "a_plan_settles_nothing", AT_WET_WINTER, APPLE, FED "A1 plan fed 1 lb 10-10-10 @ 2027-03-20", "2027-03-01", .rule = "feed-due", .want = "due" },
	{ "one_season_is_no_habit", AT_WET_WINTER, APPLE, "A1 fed 1 lb 10-10-10 @ 2026-03-01", "2027-03-01", .rule = "feed-due", .want = "" },
	{ "two_feeds_of_one_season_are_no_habit", AT_WET_WINTER, APPLE, "A1 fed 1 lb 10-10-10 @ 2026-03-01|A1 fed 1 lb 10-10-10 @ 2026-04-01", "2027-03-01", .rule = "feed-due", .want = "" },
	{ "a_feed_of_unknown_amount_is_a_feed", AT_WET_WINTER, APPLE, "A1 fed a few handfuls of compost @ 2025-03-01|A1 fed compost @ 2026-03-01", "2027-03-01", .rule = "feed-due", .want = "due" },
	{ "a_young_tree_with_work_on_record", AT_WET_WINTER, "A1 apple 2025-03", "A1 watered 5 gal @ 2026-07-01", "2027-03-01", .rule = "feed-due", .want = "due", .says = {"first four years"} },
	{ "a_young_tree_only_just_typed_in_is_a_note", AT_WET_WINTER, "A1 apple 2025-03", "", "2027-03-01", .rule = "feed-due", .want = "note" },
	{ "a_tree_of_four_years_is_not_young", AT_WET_WINTER, "A1 apple 2023-02-01", "A1 watered 5 gal @ 2026-07-01", "2027-03-01", .rule = "feed-due", .want = "" },
	{ "a_tree_of_unknown_age_is_not_young", AT_WET_WINTER, "A1 apple -", "A1 watered 5 gal @ 2026-07-01", "2027-03-01", .rule = "feed-due", .want = "" },
	{ "shoots_that_fell_short_ask_for_feed", AT_WET_WINTER, APPLE, "A1 shoots 4 in @ 2026-11-01", "2027-03-01", .rule = "feed-due", .want = "due", .says = {"grew less than this kind should"} },
	{ "shoots_that_grew_well_silence_it", AT_WET_WINTER, APPLE, FED "A1 shoots 30 in @ 2026-11-01", "2027-03-01", .rule = "feed-due", .want = "" },
	{ "shoots_in_the_target_leave_the_habit", AT_WET_WINTER, APPLE, FED "A1 shoots 18 in @ 2026-11-01", "2027-03-01", .rule = "feed-due", .want = "due" },
	{ "old_shoots_say_nothing", AT_WET_WINTER, APPLE, FED "A1 shoots 30 in @ 2025-03-01", "2027-03-01", .rule = "feed-due", .want = "due" },
	{ "a_hard_cut_silences_it", AT_WET_WINTER, APPLE, FED "A1 cut shape 40% of crown @ 2026-07-25", "2027-03-01", .rule = "feed-due", .want = "" },
	{ "a_renovation_silences_it", AT_WET_WINTER, APPLE, FED "A1 cut renovation @ 2026-07-25", "2027-03-01", .rule = "feed-due", .want = "" },
	{ "a_light_cut_does_not", AT_WET_WINTER, APPLE, FED "A1 cut shape 15% of crown @ 2026-07-25", "2027-03-01", .rule = "feed-due", .want = "due" },
	{ "fire_blight_seen_silences_it", AT_WET_WINTER, APPLE, FED "A1 saw fire blight @ 2026-06-01", "2027-03-01", .rule = "feed-due", .want = "" },
	{ "fire_blight_cut_out_too", AT_WET_WINTER, APPLE, FED "A1 cut blighted 14 in below @ 2026-06-01", "2027-03-01", .rule = "feed-due", .want = "" },
	{ "a_year_on_no_more", AT_WET_WINTER, APPLE, FED "A1 saw fire blight @ 2026-02-27", "2027-03-01", .rule = "feed-due", .want = "due" },
	{ "no_blight_seen_is_no_blight", AT_WET_WINTER, APPLE, FED "A1 saw no fire blight @ 2026-06-01", "2027-03-01", .rule = "feed-due", .want = "due" },
	{ "frost_damage_silences_it", AT_WET_WINTER, APPLE, FED "A1 saw frost damage @ 2027-02-01", "2027-03-01", .rule = "feed-due", .want = "" },
	{ "a_tree_left_alone_is_not_fed", AT_WET_WINTER, APPLE, FED "A1 leave until 2028-03 @ 2026-12-01", "2027-03-01", .rule = "feed-due", .want = "" },
	{ "an_unknown_kind_has_no_window", AT_WET_WINTER, "A1 - 2012", FED, "2027-03-01", .rule = "feed-due", .want = "" },
	{ "candidates_have_no_window", AT_WET_WINTER, "A1 apple_or_peach 2012", FED, "2027-03-01", .rule = "feed-due", .want = "" },
	{ "no_hemisphere_no_window", AT_NOWHERE, APPLE, FED, "2027-03-01", .rule = "feed-due", .want = "", .once = true },
	{ "the_tropics_no_window", AT_TROPICS, APPLE, FED, "2027-03-01", .rule = "feed-due", .want = "" },
	{ "a_guessed_kind_is_fed_all_the_same", AT_WET_WINTER, "A1 apple? 2012", FED, "2027-03-01", .rule = "feed-due", .want = "due" },
	{ "in_hard_winters_spring_is_the_time", AT_WET_HARD, APPLE, FED, "2027-03-01", .rule = "feed-due", .want = "due" },
	{ "in_hard_winters_august_is_none", AT_WET_HARD, APPLE, FED "A1 fed 1 lb 10-10-10 @ 2027-03-01", "2027-08-10", .rule = "feed-due", .want = "" },
	{ "nor_is_it_soon_before_august", AT_WET_HARD, APPLE, FED "A1 fed 1 lb 10-10-10 @ 2027-03-01", "2027-07-25", .rule = "feed-due", .want = "" },
	{ "nor_in_september_when_growth_is_frosted", AT_WET_HARD, APPLE, FED "A1 fed 1 lb 10-10-10 @ 2027-03-01", "2027-09-10", .rule = "feed-due", .want = "" },
	{ "a_long_summer_s_feeding_stays", AT_WET_HARD, "A1 avocado 2012", FED, "2027-07-20", .rule = "feed-due", .want = "due" },
	{ "and_ends_before_the_weeks_of_frosted_growth", AT_WET_HARD, "A1 avocado 2012", FED, "2027-08-05", .rule = "feed-due", .want = "" },
	{ "which_in_mild_winters_it_does_not", AT_WET_WINTER, "A1 avocado 2012", FED, "2027-08-05", .rule = "feed-due", .want = "due" },
	{ "the_second_window_of_the_year", AT_WET_WINTER, APPLE, FED "A1 fed 1 lb 10-10-10 @ 2027-03-01", "2027-08-10", .rule = "feed-due", .want = "due" },
};

static const struct log_case over[] = {
	{ "above_every_rate_is_an_act", AT_WET_WINTER, LEMON, "A1 girth 60 cm @ 2026-01-10|A1 fed 6 lb 21-0-0 @ 2027-02-20", "2027-02-22", .rule = "feed-over", .want = "act", .says = {"highest published rate for this tree is 1 lb a year (California)"} },
	{ "a_pound_of_nitrogen_is_the_rate_itself", AT_WET_WINTER, LEMON, "A1 fed 1 lb N @ 2027-02-20", "2027-02-22", .rule = "feed-over", .want = "" },
	{ "a_little_less_is_fine", AT_WET_WINTER, LEMON, "A1 fed 4 lb 21-0-0 @ 2027-02-20", "2027-02-22", .rule = "feed-over", .want = "" },
	{ "two_feeds_of_a_season_add_up", AT_WET_WINTER, LEMON, "A1 fed 3 lb 21-0-0 @ 2027-04-20|A1 fed 3 lb 21-0-0 @ 2027-05-20", "2027-05-22", .rule = "feed-over", .want = "act", .says = {"1 lb 4 oz of actual N"} },
	{ "feeds_of_two_seasons_do_not", AT_WET_WINTER, LEMON, "A1 fed 3 lb 21-0-0 @ 2026-02-20|A1 fed 3 lb 21-0-0 @ 2027-02-20", "2027-02-22", .rule = "feed-over", .want = "" },
	{ "it_is_the_nitrogen_not_the_pounds", AT_WET_WINTER, LEMON, "A1 fed 16 lb 6-6-6 @ 2027-02-20", "2027-02-22", .rule = "feed-over", .want = "" },
	{ "after_22_days_a_note", AT_WET_WINTER, LEMON, "A1 fed 6 lb 21-0-0 @ 2027-03-03", "2027-03-25", .rule = "feed-over", .want = "note" },
	{ "words_have_no_figure", AT_WET_WINTER, LEMON, "A1 fed a few handfuls of compost @ 2027-02-20", "2027-02-22", .rule = "feed-over", .want = "" },
	{ "an_analysis_not_known_has_no_figure", AT_WET_WINTER, LEMON, "A1 fed 40 lb compost @ 2027-02-20", "2027-02-22", .rule = "feed-over", .want = "" },
	{ "an_unknown_kind_has_no_rate", AT_WET_WINTER, "A1 - 2012", "A1 fed 6 lb 21-0-0 @ 2027-02-20", "2027-02-22", .rule = "feed-over", .want = "" },
	{ "no_hemisphere_is_needed_for_nitrogen", AT_NOWHERE, LEMON, "A1 fed 6 lb 21-0-0 @ 2027-02-20", "2027-02-22", .rule = "feed-over", .want = "act", .once = true },
	{ "between_the_rates_of_two_regions_is_a_note", AT_WET_WINTER, "A1 peach 2012", "A1 girth 60 cm @ 2026-01-10|A1 fed 0.6 lb N @ 2027-02-20", "2027-02-22", .rule = "feed-over", .want = "note", .says = {"lies between published rates", "Regions differ"} },
	{ "a_grown_orange_is_not_held_to_a_young_one_s", AT_WET_WINTER, ORANGE, "A1 fed 0.8 lb N @ 2027-02-20", "2027-02-22", .rule = "feed-over", .want = "" },
	{ "inside_the_range_of_a_young_navel_is_fine", AT_WET_WINTER, "A1 orange 2024", "A1 fed 0.45 lb N @ 2027-02-20", "2027-02-22", .rule = "feed-over", .want = "" },
	{ "a_young_navel_s_rate_is_a_region_too", AT_WET_WINTER, "A1 orange 2024", "A1 fed 0.52 lb N @ 2027-02-20", "2027-02-22", .rule = "feed-over", .want = "note", .says = {"Arizona", "California"} },
	{ "the_upper_end_of_a_rate_is_a_rate", AT_WET_WINTER, "A1 persimmon 2012", "A1 fed 10 lb 10-10-10 @ 2027-02-20", "2027-02-22", .rule = "feed-over", .want = "" },
	{ "above_the_upper_end_is_an_act", AT_WET_WINTER, "A1 persimmon 2012", "A1 fed 11 lb 10-10-10 @ 2027-02-20", "2027-02-22", .rule = "feed-over", .want = "act", .says = {"highest published rate for this tree is 1 lb a year"} },
	{ "what_is_published_for_all_fruit_trees_is_no_harm", AT_WET_WINTER, "A1 olive 2012", "A1 fed 1 lb N @ 2027-03-20", "2027-03-22", .rule = "feed-over", .want = "note", .says = {"14.7 oz a year (California) and 1 lb (San Diego)"} },
	{ "above_that_too_it_is_harm", AT_WET_WINTER, "A1 olive 2012", "A1 fed 1.1 lb N @ 2027-03-20", "2027-03-22", .rule = "feed-over", .want = "act", .says = {"is 1 lb a year (San Diego)"} },
	{ "what_rises_with_age_for_all_kinds_is_no_measure_for_one_with_rules", AT_WET_WINTER, "A1 olive 1990", "A1 fed 2 lb N @ 2027-03-20", "2027-03-22", .rule = "feed-over", .want = "act" },
	{ "a_year_s_feed_after_each_harvest_is_not_two", AT_WET_WINTER, "A1 sweet_cherry 2012", "A1 girth 60 cm @ 2026-01-10|A1 picked 4 kg @ 2025-06-20|A1 fed 0.9 lb N @ 2025-07-05|A1 picked 4 kg @ 2026-06-15|A1 fed 0.9 lb N @ 2026-06-20", "2026-06-22", .rule = "feed-over", .want = "note" },
	{ "a_feed_in_spring_and_one_after_the_harvest_are", AT_WET_WINTER, "A1 sweet_cherry 2012", "A1 girth 60 cm @ 2026-01-10|A1 fed 0.9 lb N @ 2026-03-05|A1 picked 4 kg @ 2026-06-15|A1 fed 0.9 lb N @ 2026-06-20", "2026-06-22", .rule = "feed-over", .want = "act", .says = {"1 lb 13 oz of actual N"} },
	{ "a_plan_feeds_nothing", AT_WET_WINTER, LEMON, "A1 plan fed 6 lb 21-0-0 @ 2027-02-25", "2027-02-22", .rule = "feed-over", .want = "" },
};

static const struct log_case late[] = {
	{ "a_feed_in_autumn_is_an_act", AT_WET_WINTER, ORANGE, "A1 fed 1 lb 21-0-0 @ 2026-10-10", "2026-10-12", .rule = "feed-late", .want = "act", .says = {"The feed of ", "rough rind"} },
	{ "on_the_first_day", AT_WET_WINTER, ORANGE, "A1 fed 1 lb 21-0-0 @ 2026-09-01", "2026-09-02", .rule = "feed-late", .want = "act" },
	{ "not_the_day_before", AT_WET_WINTER, ORANGE, "A1 fed 1 lb 21-0-0 @ 2026-08-28", "2026-09-02", .rule = "feed-late", .want = "" },
	{ "on_the_last_day", AT_WET_WINTER, ORANGE, "A1 fed 1 lb 21-0-0 @ 2026-11-28", "2026-11-28", .rule = "feed-late", .want = "act" },
	{ "not_the_day_after", AT_WET_WINTER, ORANGE, "A1 fed 1 lb 21-0-0 @ 2026-12-01", "2026-12-02", .rule = "feed-late", .want = "" },
	{ "two_late_feeds_are_one_flag", AT_WET_WINTER, ORANGE, "A1 fed 1 lb 21-0-0 @ 2026-10-04|A1 fed 1 lb 21-0-0 @ 2026-10-10", "2026-10-12", .rule = "feed-late", .want = "act", .says = {"The feeds of 4 October 2026 and 10 October 2026 fall"}, .once = true },
	{ "three_are_one", AT_WET_WINTER, ORANGE, "A1 fed 1 lb 21-0-0 @ 2026-10-04|A1 fed 1 lb 21-0-0 @ 2026-10-10|A1 fed 1 lb 21-0-0 @ 2026-11-10", "2026-11-12", .rule = "feed-late", .want = "act" },
	{ "the_newest_says_how_urgent", AT_WET_WINTER, ORANGE, "A1 fed 1 lb 21-0-0 @ 2026-09-04|A1 fed 1 lb 21-0-0 @ 2026-11-10", "2026-11-28", .rule = "feed-late", .want = "act" },
	{ "after_22_days_a_note", AT_WET_WINTER, ORANGE, "A1 fed 1 lb 21-0-0 @ 2026-10-03", "2026-10-25", .rule = "feed-late", .want = "note" },
	{ "after_half_a_year_silence", AT_WET_WINTER, ORANGE, "A1 fed 1 lb 21-0-0 @ 2026-10-03", "2027-04-05", .rule = "feed-late", .want = "" },
	{ "a_second_hand_row_is_a_note", AT_WET_WINTER, "A1 fig 2012", "A1 fed 1 lb 10-10-10 @ 2026-10-03", "2026-10-05", .rule = "feed-late", .want = "note" },
	{ "compost_of_unknown_analysis_counts_too", AT_WET_WINTER, ORANGE, "A1 fed compost @ 2026-10-10", "2026-10-12", .rule = "feed-late", .want = "act" },
	{ "an_apple_where_winters_are_mild_has_no_such_row", AT_WET_WINTER, APPLE, "A1 fed 1 lb 10-10-10 @ 2026-10-10", "2026-10-12", .rule = "feed-late", .want = "" },
	{ "an_apple_where_winters_are_hard_has_one", AT_CONTINENTAL, APPLE, "A1 fed 1 lb 10-10-10 @ 2026-09-10", "2026-09-12", .rule = "feed-late", .want = "act" },
	{ "beyond_the_printed_month_it_is_a_note", AT_CONTINENTAL, APPLE, "A1 fed 1 lb 10-10-10 @ 2026-10-10", "2026-10-12", .rule = "feed-late", .want = "note" },
	{ "and_by_the_sea_it_is_a_note", AT_COOL, APPLE, "A1 fed 1 lb 10-10-10 @ 2026-09-10", "2026-09-12", .rule = "feed-late", .want = "note" },
	{ "a_loquat_fed_into_frost_is_a_note", AT_WET_WINTER, "A1 loquat 2012", "A1 fed 1 lb 6-6-6 @ 2026-11-10", "2026-11-12", .rule = "feed-late", .want = "note" },
	{ "an_unknown_kind_has_none", AT_WET_WINTER, "A1 - 2012", "A1 fed 1 lb 10-10-10 @ 2026-10-10", "2026-10-12", .rule = "feed-late", .want = "" },
	{ "no_hemisphere_none", AT_NOWHERE, ORANGE, "A1 fed 1 lb 10-10-10 @ 2026-10-10", "2026-10-12", .rule = "feed-late", .want = "", .once = true },
	{ "a_feed_of_a_month_half_outside_is_let_be", AT_WET_WINTER, ORANGE, "A1 fed 1 lb 10-10-10 @ 2026-08-20/2026-09-10", "2026-10-12", .rule = "feed-late", .want = "" },
};

static const struct log_case stale[] = {
	{ "over_two_years_old_before_the_window", AT_WET_WINTER, APPLE, FED "A1 girth 40 cm @ 2024-11-01", "2026-12-20", .rule = "girth-stale", .want = "note", .says = {"last measured on", "tape round the trunk"} },
	{ "two_weeks_before_it_is_soon", AT_WET_WINTER, APPLE, FED "A1 girth 40 cm @ 2024-11-01", "2027-02-05", .rule = "girth-stale", .want = "soon" },
	{ "61_days_before_it_is_silent", AT_WET_WINTER, APPLE, FED "A1 girth 40 cm @ 2024-11-01", "2026-12-12", .rule = "girth-stale", .want = "" },
	{ "inside_the_window_it_is_silent", AT_WET_WINTER, APPLE, FED "A1 girth 40 cm @ 2024-11-01", "2027-03-01", .rule = "girth-stale", .want = "" },
	{ "a_year_old_is_fresh_for_an_old_tree", AT_WET_WINTER, APPLE, FED "A1 girth 40 cm @ 2025-11-01", "2027-02-05", .rule = "girth-stale", .want = "" },
	{ "a_year_old_is_stale_for_a_young_tree", AT_WET_WINTER, "A1 apple 2021-01-01", FED "A1 girth 20 cm @ 2025-11-01", "2027-02-05", .rule = "girth-stale", .want = "soon" },
	{ "a_tree_of_eight_is_not_young", AT_WET_WINTER, "A1 apple 2018-01-01", FED "A1 girth 20 cm @ 2025-11-01", "2027-02-05", .rule = "girth-stale", .want = "" },
	{ "a_tree_nobody_feeds_is_not_measured", AT_WET_WINTER, APPLE, "A1 girth 40 cm @ 2020-11-01", "2027-02-05", .rule = "girth-stale", .want = "" },
	{ "no_measure_is_not_a_stale_one", AT_WET_WINTER, APPLE, FED, "2027-02-05", .rule = "girth-stale", .want = "" },
	{ "no_measure_is_a_missing_fact", AT_WET_WINTER, APPLE, FED, "2027-02-05", .rule = "facts-missing", .want = "note", .says = {"girth not known"} },
	{ "no_measure_of_a_tree_nobody_feeds_is_no_fact", AT_WET_WINTER, APPLE, "", "2027-02-05", .rule = "facts-missing", .want = "" },
	{ "an_unknown_kind_has_no_window", AT_WET_WINTER, "A1 - 2012", FED "A1 girth 40 cm @ 2024-11-01", "2027-02-05", .rule = "girth-stale", .want = "" },
};

static const struct log_case across[] = {
	{ "a_trunk_of_60_cm_on_a_young_tree_is_asked", AT_WET_WINTER, "A1 apple 2022-01-01", "A1 trunk 60 cm @ 2026-05-01", "2026-05-02", .rule = "girth-or-diameter", .want = "note", .says = {"round or across?", "7.5 in across", "\"girth "} },
	{ "the_word_girth_settles_it", AT_WET_WINTER, "A1 apple 2022-01-01", "A1 girth 60 cm @ 2026-05-01", "2026-05-02", .rule = "girth-or-diameter", .want = "" },
	{ "the_word_diameter_settles_it", AT_WET_WINTER, "A1 apple 2022-01-01", "A1 diameter 60 cm @ 2026-05-01", "2026-05-02", .rule = "girth-or-diameter", .want = "" },
	{ "four_years_may_make_14_cm", AT_WET_WINTER, "A1 apple 2022-01-01", "A1 trunk 14 cm @ 2026-05-01", "2026-05-02", .rule = "girth-or-diameter", .want = "" },
	{ "not_a_millimetre_more", AT_WET_WINTER, "A1 apple 2022-01-01", "A1 trunk 14.1 cm @ 2026-05-01", "2026-05-02", .rule = "girth-or-diameter", .want = "note" },
	{ "60_cm_on_a_tree_of_unknown_age_is_believed", AT_WET_WINTER, "A1 apple -", "A1 trunk 60 cm @ 2026-05-01", "2026-05-02", .rule = "girth-or-diameter", .want = "" },
	{ "61_cm_on_a_tree_of_unknown_age_is_asked", AT_WET_WINTER, "A1 apple -", "A1 trunk 61 cm @ 2026-05-01", "2026-05-02", .rule = "girth-or-diameter", .want = "note", .says = {"usually makes"} },
	{ "an_old_tree_may_be_60_cm", AT_WET_WINTER, "A1 apple 1980-01-01", "A1 trunk 60 cm @ 2026-05-01", "2026-05-02", .rule = "girth-or-diameter", .want = "" },
	{ "a_tape_later_settles_it", AT_WET_WINTER, "A1 apple 2022-01-01", "A1 trunk 60 cm @ 2026-05-01|A1 girth 30 cm @ 2026-06-01", "2026-06-02", .rule = "girth-or-diameter", .want = "" },
	{ "the_thickest_of_several_stems_is_asked", AT_WET_WINTER, "A1 apple 2022-01-01", "A1 stems 60 cm and 8 cm @ 2026-05-01", "2026-05-02", .rule = "girth-or-diameter", .want = "note" },
	{ "an_unknown_kind_has_a_trunk_too", AT_NOWHERE, "A1 - 2022-01-01", "A1 trunk 60 cm @ 2026-05-01", "2026-05-02", .rule = "girth-or-diameter", .want = "note", .once = true },
	{ "no_trunk_no_question", AT_WET_WINTER, "A1 apple 2022-01-01", "A1 height 3 m @ 2026-05-01", "2026-05-02", .rule = "girth-or-diameter", .want = "" },
};
/* clang-format on */

int main(void)
{
	int failed = LOG_CASES("feed-due", due);

	failed += LOG_CASES("feed-over", over);
	failed += LOG_CASES("feed-late", late);
	failed += LOG_CASES("girth-stale", stale);
	failed += LOG_CASES("girth-or-diameter", across);
	return failed != 0;
}
