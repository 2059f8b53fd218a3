/* SPDX-License-Identifier: MIT */
/* bloom-missing, late-to-bear, alternate-on, alternate-off. */
#include "support/sky_case.h"

#define APPLE "A1 apple 2012"
#define BLOOMS "A1 bloom @ 2024-03-05|A1 bloom @ 2025-03-05|"

/* clang-format off */
static const struct log_case blooms[] = {
	{ "asked_once_the_window_is_over", AT_WET_WINTER, APPLE, BLOOMS, "2026-04-25", .rule = "bloom-missing", .want = "note", .says = {"2 earlier seasons", "Was there none?", "an off year"} },
	{ "on_the_last_day_of_the_window_silence", AT_WET_WINTER, APPLE, BLOOMS, "2026-04-19", .rule = "bloom-missing", .want = "" },
	{ "the_day_after", AT_WET_WINTER, APPLE, BLOOMS, "2026-04-20", .rule = "bloom-missing", .want = "note" },
	{ "sixty_days_on_it_is_not_asked", AT_WET_WINTER, APPLE, BLOOMS, "2026-06-20", .rule = "bloom-missing", .want = "" },
	{ "one_season_is_no_habit", AT_WET_WINTER, APPLE, "A1 bloom @ 2025-03-05", "2026-04-25", .rule = "bloom-missing", .want = "" },
	{ "bloom_settles_it", AT_WET_WINTER, APPLE, BLOOMS "A1 bloom @ 2026-03-20", "2026-04-25", .rule = "bloom-missing", .want = "" },
	{ "fruit_set_settles_it", AT_WET_WINTER, APPLE, BLOOMS "A1 fruit set @ 2026-04-21", "2026-04-25", .rule = "bloom-missing", .want = "" },
	{ "bloom_none_is_a_fact_with_candidates", AT_WET_WINTER, APPLE, BLOOMS "A1 bloom none @ 2026-04-10", "2026-04-25", .rule = "bloom-missing", .want = "note", .says = {"as you logged"} },
	{ "frost_stands_among_the_candidates", AT_WET_WINTER, APPLE, BLOOMS "frost -4 C @ 2026-03-12", "2026-04-25", .rule = "bloom-missing", .want = "note", .says = {"none of it proven", "1 frost logged"} },
	{ "an_unknown_kind_is_silent", AT_WET_WINTER, "A1 - 2012", BLOOMS, "2026-04-25", .rule = "bloom-missing", .want = "" },
	{ "an_unknown_hemisphere_is_silent", AT_NOWHERE, APPLE, BLOOMS, "2026-04-25", .rule = "bloom-missing", .want = "", .once = true },
	{ "no_dates_in_the_tropics", AT_TROPICS, APPLE, BLOOMS, "2026-04-25", .rule = "bloom-missing", .want = "", .once = true },
};

static const struct sky_case cold[] = {
	{ "a_stored_night_that_kills_flowers_is_a_candidate", AT_WET_WINTER, "apple", "2012", "", "2026-03-20 2 -40 100 0", BLOOMS, "2026-04-25", .rule = "bloom-missing", .want = "note", .says = {"at bloom, the night of", "stored weather"} },
	{ "a_night_that_does_not_is_none", AT_WET_WINTER, "apple", "2012", "", "2026-03-20 2 -10 100 0", BLOOMS, "2026-04-25", .rule = "bloom-missing", .want = "note", .says = {"If it flowered, log it, even roughly. Think of"} },
	{ "a_night_before_the_bloom_is_none", AT_WET_WINTER, "apple", "2012", "", "2026-01-20 2 -60 100 0", BLOOMS, "2026-04-25", .rule = "bloom-missing", .want = "note", .says = {"If it flowered, log it, even roughly. Think of"} },
};

#define PICKS_ELSEWHERE "A2 picked 3 kg @ 2024-06-20|"
#define PICKS PICKS_ELSEWHERE "A1 watered 5 gal @ 2024-06-20|"
static const struct log_case late[] = {
	{ "older_than_its_kind_takes", AT_WET_WINTER, "A1 peach 2019; A2 peach 2010", PICKS, "2026-05-01", .rule = "late-to-bear", .want = "note", .says = {"no flower or fruit is logged", "within 5 years", "light"} },
	{ "of_a_tree_that_nobody_logs_nothing_is_said", AT_WET_WINTER, "A1 peach 2019; A2 peach 2010", PICKS_ELSEWHERE, "2026-05-01", .rule = "late-to-bear", .want = "" },
	{ "in_the_last_of_those_years_silence", AT_WET_WINTER, "A1 peach 2020-06; A2 peach 2010", PICKS, "2026-05-01", .rule = "late-to-bear", .want = "" },
	{ "where_no_picks_are_logged_silence", AT_WET_WINTER, "A1 peach 2019; A2 peach 2010", "A2 cut shape 40% of shoots @ 2026-02-01", "2026-05-01", .rule = "late-to-bear", .want = "" },
	{ "a_bloom_is_enough", AT_WET_WINTER, "A1 peach 2019; A2 peach 2010", PICKS "A1 bloom @ 2026-03-01", "2026-05-01", .rule = "late-to-bear", .want = "" },
	{ "bloom_none_is_not", AT_WET_WINTER, "A1 peach 2019; A2 peach 2010", PICKS "A1 bloom none @ 2026-03-01", "2026-05-01", .rule = "late-to-bear", .want = "note" },
	{ "a_pick_of_any_year_is_enough", AT_WET_WINTER, "A1 peach 2012; A2 peach 2010", PICKS "A1 picked 3 fruit @ 2018-07-01", "2026-05-01", .rule = "late-to-bear", .want = "" },
	{ "a_loss_is_enough", AT_WET_WINTER, "A1 peach 2012; A2 peach 2010", PICKS "A1 lost 3 fruit birds @ 2018-07-01", "2026-05-01", .rule = "late-to-bear", .want = "" },
	{ "ten_years_past_it_is_still_asked", AT_WET_WINTER, "A1 peach 2011; A2 peach 2010", PICKS, "2026-05-01", .rule = "late-to-bear", .want = "note" },
	{ "of_a_tree_long_past_it_the_gap_is_in_the_log", AT_WET_WINTER, "A1 peach 2009; A2 peach 2010", PICKS, "2026-05-01", .rule = "late-to-bear", .want = "" },
	{ "of_unknown_age_nothing_is_said", AT_WET_WINTER, "A1 peach -; A2 peach 2010", PICKS, "2026-05-01", .rule = "late-to-bear", .want = "" },
	{ "of_an_unknown_kind_nothing_is_said", AT_WET_WINTER, "A1 - 2001; A2 peach 2010", PICKS, "2026-05-01", .rule = "late-to-bear", .want = "" },
	{ "not_known_how_raised_the_longest_counts", AT_WET_WINTER, "A1 loquat 2018-06; A2 peach 2010", PICKS, "2026-05-01", .rule = "late-to-bear", .want = "" },
	{ "and_is_over_one_day", AT_WET_WINTER, "A1 loquat 2014; A2 peach 2010", PICKS, "2026-05-01", .rule = "late-to-bear", .want = "note", .says = {"within 10 years"} },
	{ "cuts_and_feeds_stand_beside_it", AT_WET_WINTER, "A1 peach 2019; A2 peach 2010", PICKS "A1 cut shape 40% of shoots @ 2026-02-01|A1 fed 1 lb 10-10-10 @ 2026-03-01", "2026-05-01", .rule = "late-to-bear", .want = "note", .says = {"1 cut and 1 feed"} },
};

/* weights of five seasons, the last first light then heavy */
#define SWING_OFF "A1 picked 60 kg, last @ 2021-08-20|A1 picked 12 kg, last @ 2022-08-20|A1 picked 66 kg, last @ 2023-08-20|A1 picked 10 kg, last @ 2024-08-20|A1 picked 63 kg, last @ 2025-08-20|"
#define SWING_ON "A1 picked 12 kg, last @ 2022-08-20|A1 picked 66 kg, last @ 2023-08-20|A1 picked 10 kg, last @ 2024-08-20|A1 picked 63 kg, last @ 2025-08-20|A1 picked 11 kg, last @ 2026-08-20|"
static const struct log_case off[] = {
	{ "after_a_heavy_year_a_light_one", AT_WET_WINTER, APPLE, SWING_OFF, "2026-01-10", .rule = "alternate-off", .want = "note", .says = {"light year", "5 seasons", "No hard cut and no extra nitrogen"} },
	{ "it_does_not_call_it_heavy", AT_WET_WINTER, APPLE, SWING_OFF, "2026-01-10", .rule = "alternate-on", .want = "" },
	{ "never_under_four_seasons", AT_WET_WINTER, APPLE, "A1 picked 66 kg, last @ 2023-08-20|A1 picked 10 kg, last @ 2024-08-20|A1 picked 63 kg, last @ 2025-08-20", "2026-01-10", .rule = "alternate-off", .want = "" },
	{ "four_are_enough", AT_WET_WINTER, APPLE, "A1 picked 8 kg, last @ 2022-08-20|A1 picked 66 kg, last @ 2023-08-20|A1 picked 10 kg, last @ 2024-08-20|A1 picked 63 kg, last @ 2025-08-20", "2026-01-10", .rule = "alternate-off", .want = "note", .says = {"4 seasons"} },
	{ "a_gap_breaks_the_row", AT_WET_WINTER, APPLE, "A1 picked 60 kg, last @ 2020-08-20|A1 picked 12 kg, last @ 2021-08-20|A1 picked 66 kg, last @ 2023-08-20|A1 picked 10 kg, last @ 2024-08-20|A1 picked 63 kg, last @ 2025-08-20", "2026-01-10", .rule = "alternate-off", .want = "" },
	{ "steady_crops_do_not_swing", AT_WET_WINTER, APPLE, "A1 picked 30 kg, last @ 2022-08-20|A1 picked 33 kg, last @ 2023-08-20|A1 picked 30 kg, last @ 2024-08-20|A1 picked 33 kg, last @ 2025-08-20", "2026-01-10", .rule = "alternate-off", .want = "" },
	{ "a_tree_that_grows_does_not_swing", AT_WET_WINTER, APPLE, "A1 picked 5 kg, last @ 2022-08-20|A1 picked 10 kg, last @ 2023-08-20|A1 picked 20 kg, last @ 2024-08-20|A1 picked 40 kg, last @ 2025-08-20", "2026-01-10", .rule = "alternate-off", .want = "" },
	{ "a_light_year_by_frost_is_no_swing", AT_WET_WINTER, APPLE, SWING_OFF "frost -3 C @ 2024-03-25", "2026-01-10", .rule = "alternate-off", .want = "" },
	{ "a_light_year_by_hail_is_none", AT_WET_WINTER, APPLE, SWING_OFF "A1 lost 20 kg hail @ 2024-07-01", "2026-01-10", .rule = "alternate-off", .want = "" },
	{ "a_pick_not_weighed_makes_no_figure", AT_WET_WINTER, APPLE, SWING_OFF "A1 picked plenty @ 2024-08-10", "2026-01-10", .rule = "alternate-off", .want = "" },
	{ "a_season_in_progress_is_not_compared", AT_WET_WINTER, APPLE, "A1 picked 60 kg, last @ 2022-08-20|A1 picked 12 kg, last @ 2023-08-20|A1 picked 66 kg, last @ 2024-08-20|A1 picked 10 kg @ 2025-08-20", "2025-08-25", .rule = "alternate-on", .want = "" },
	{ "once_the_light_harvest_opens_silence", AT_WET_WINTER, APPLE, SWING_OFF, "2026-07-02", .rule = "alternate-off", .want = "" },
	{ "counted_fruit_swing_too", AT_WET_WINTER, APPLE, "A1 picked 40 fruit, last @ 2022-08-20|A1 picked 400 fruit, last @ 2023-08-20|A1 picked 35 fruit, last @ 2024-08-20|A1 picked 380 fruit, last @ 2025-08-20", "2026-01-10", .rule = "alternate-off", .want = "note" },
	{ "an_unknown_kind_is_silent", AT_WET_WINTER, "A1 - 2012", SWING_OFF, "2026-01-10", .rule = "alternate-off", .want = "" },
	{ "no_bloom_in_a_light_year_is_one_cause", AT_WET_WINTER, APPLE, SWING_OFF BLOOMS, "2026-04-25", .rule = "bloom-missing", .want = "" },
};
static const struct log_case on[] = {
	{ "after_a_light_year_a_heavy_one", AT_WET_WINTER, APPLE, SWING_ON, "2027-01-10", .rule = "alternate-on", .want = "note", .says = {"heavy year", "Thin hard and early, by 31 May 2027"}, .once = true },
	{ "until_the_last_day_to_thin", AT_WET_WINTER, APPLE, SWING_ON, "2027-05-31", .rule = "alternate-on", .want = "note", .once = true },
	{ "the_day_after_silence", AT_WET_WINTER, APPLE, SWING_ON, "2027-06-01", .rule = "alternate-on", .want = "" },
	{ "thinned_settles_it", AT_WET_WINTER, APPLE, SWING_ON "A1 thinned 90 fruit @ 2027-04-20", "2027-04-25", .rule = "alternate-on", .want = "" },
	{ "where_thin_due_speaks_it_is_silent", AT_WET_WINTER, APPLE, SWING_ON "A1 thinned 9 fruit @ 2025-05-01|A1 thinned 9 fruit @ 2026-05-01", "2027-04-25", .rule = "alternate-on", .want = "" },
	{ "the_light_year_before_is_not_yield_low_as_well", AT_WET_WINTER, APPLE, SWING_ON, "2027-01-10", .rule = "yield-low", .want = "" },
	{ "a_kind_not_thinned_is_cut_before_bloom", AT_WET_WINTER, "A1 hazelnut 2005", "A1 picked 9 kg, last @ 2023-10-05|A1 picked 2 kg, last @ 2024-10-05|A1 picked 9 kg, last @ 2025-10-05|A1 picked 2 kg, last @ 2026-10-05", "2026-12-10", .rule = "alternate-on", .want = "note", .says = {"pick early and clean"} },
};
/* clang-format on */

int main(void)
{
	int failed = LOG_CASES("bloom-missing", blooms);

	failed += RUN_CASES("bloom-missing, stored weather", cold, sky_case_run);
	failed += LOG_CASES("late-to-bear", late);
	failed += LOG_CASES("alternate-off", off);
	failed += LOG_CASES("alternate-on", on);
	return failed != 0;
}
