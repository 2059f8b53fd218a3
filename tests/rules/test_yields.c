/* SPDX-License-Identifier: MIT */
/* yield-low. */
#include "support/log_case.h"

#define APPLE "A1 apple 2012"
#define PAST                                                                                      \
	"A1 picked 20 kg, last @ 2022-08-20|A1 picked 24 kg, last @ 2023-08-20|A1 picked 22 kg, " \
	"last @ 2024-08-20|"

/* clang-format off */
static const struct log_case low[] = {
	{ "under_half_of_its_own_past", AT_WET_WINTER, APPLE, PAST "A1 picked 10 kg, last @ 2025-08-20", "2025-09-01", .rule = "yield-low", .want = "note", .says = {"under half", "3 seasons", "holds nothing that speaks to it"} },
	{ "half_is_not_low", AT_WET_WINTER, APPLE, PAST "A1 picked 11 kg, last @ 2025-08-20", "2025-09-01", .rule = "yield-low", .want = "" },
	{ "picked_none_is_low", AT_WET_WINTER, APPLE, PAST "A1 picked none @ 2025-11-01", "2025-12-01", .rule = "yield-low", .want = "note", .says = {"crop, none,"} },
	{ "a_gap_in_the_records_is_no_zero", AT_WET_WINTER, APPLE, PAST, "2025-12-20", .rule = "yield-low", .want = "" },
	{ "two_seasons_are_no_past", AT_WET_WINTER, APPLE, "A1 picked 24 kg, last @ 2023-08-20|A1 picked 22 kg, last @ 2024-08-20|A1 picked 5 kg, last @ 2025-08-20", "2025-09-01", .rule = "yield-low", .want = "" },
	{ "a_season_in_progress_is_never_compared", AT_WET_WINTER, APPLE, PAST "A1 picked 5 kg @ 2025-08-20", "2025-09-01", .rule = "yield-low", .want = "" },
	{ "a_pick_not_weighed_makes_no_figure", AT_WET_WINTER, APPLE, PAST "A1 picked plenty @ 2025-08-10|A1 picked 5 kg, last @ 2025-08-20", "2025-09-01", .rule = "yield-low", .want = "" },
	{ "what_was_lost_was_borne", AT_WET_WINTER, APPLE, PAST "A1 picked 5 kg, last @ 2025-08-20|A1 lost 9 kg birds @ 2025-08-10", "2025-09-01", .rule = "yield-low", .want = "" },
	{ "frost_stands_among_the_candidates", AT_WET_WINTER, APPLE, PAST "frost -3 C @ 2025-03-20|A1 picked 5 kg, last @ 2025-08-20", "2025-09-01", .rule = "yield-low", .want = "note", .says = {"none of it proven", "1 frost logged"} },
	{ "what_was_seen_too", AT_WET_WINTER, APPLE, PAST "A1 saw codling moth heavy @ 2025-06-20|A1 picked 5 kg, last @ 2025-08-20", "2025-09-01", .rule = "yield-low", .want = "note", .says = {"saw codling moth, heavy"} },
	{ "what_was_seen_after_the_pick_is_not", AT_WET_WINTER, APPLE, PAST "A1 picked 5 kg, last @ 2025-08-20|A1 saw scale heavy @ 2025-08-25", "2025-09-01", .rule = "yield-low", .want = "note", .says = {"holds nothing that speaks to it"} },
	{ "a_feed_that_was_missed", AT_WET_WINTER, APPLE, PAST "A1 fed 1 lb 10-10-10 @ 2023-03-01|A1 fed 1 lb 10-10-10 @ 2024-03-01|A1 picked 5 kg, last @ 2025-08-20", "2025-09-01", .rule = "yield-low", .want = "note", .says = {"no feed logged; it was fed in 2 earlier seasons"} },
	{ "three_are_named_and_the_rest_counted", AT_WET_WINTER, APPLE, PAST "frost -3 C @ 2025-03-20|hail @ 2025-05-02|A1 lost 1 kg birds @ 2025-08-01|A1 saw scab heavy @ 2025-06-20|A1 saw aphids light @ 2025-06-21|A1 picked 4 kg, last @ 2025-08-20", "2025-09-01", .rule = "yield-low", .want = "note", .says = {"hail on", "and 2 more", "Log what else you know"} },
	{ "a_loquat_cut_in_autumn", AT_WET_WINTER, "A1 loquat 2010", "A1 picked 20 kg, last @ 2022-05-20|A1 picked 24 kg, last @ 2023-05-20|A1 picked 22 kg, last @ 2024-05-20|A1 cut shape 40% of crown @ 2024-11-10|A1 picked 5 kg, last @ 2025-05-20", "2025-06-01", .rule = "yield-low", .want = "note", .says = {"flower wood or fruit went with it"} },
	{ "half_a_year_on_it_is_said_no_more", AT_WET_WINTER, APPLE, PAST "A1 picked 5 kg, last @ 2025-08-20", "2026-03-05", .rule = "yield-low", .want = "" },
	{ "an_unknown_kind_is_silent", AT_WET_WINTER, "A1 - 2012", PAST "A1 picked 5 kg, last @ 2025-08-20", "2025-09-01", .rule = "yield-low", .want = "" },
	{ "three_seasons_and_a_light_one_after_a_heavy", AT_WET_WINTER, APPLE, "A1 picked 20 kg, last @ 2022-08-20|A1 picked 24 kg, last @ 2023-08-20|A1 picked 38 kg, last @ 2024-08-20|A1 picked 5 kg, last @ 2025-08-20", "2025-09-01", .rule = "yield-low", .want = "note", .says = {"the 2024 crop before it was heavy"}, .once = true },
};
/* clang-format on */

int main(void)
{
	return LOG_CASES("yield-low", low) != 0;
}
