/* SPDX-License-Identifier: MIT */
/* mulch-due, mulch-on-trunk. */
#include "support/log_case.h"

#define APPLE "A1 apple 2012"
#define DUE .rule = "mulch-due"
#define TRUNK .rule = "mulch-on-trunk"
#define HABIT "A1 mulched 3 in wood chip @ 2024-05-10|A1 mulched 3 in wood chip @ 2025-05-16|"

/* clang-format off */
static const struct log_case due[] = {
	{ "the_time_it_was_done_in_two_seasons", AT_WET_WINTER, APPLE, HABIT, "2026-05-20", DUE, .want = "due", .says = {"2 earlier seasons", "Keep", "weed-killed"} },
	{ "on_the_first_day", AT_WET_WINTER, APPLE, HABIT, "2026-05-10", DUE, .want = "due", .once = true },
	{ "the_day_before", AT_WET_WINTER, APPLE, HABIT, "2026-05-09", DUE, .want = "", .once = true },
	{ "on_the_last_day", AT_WET_WINTER, APPLE, HABIT, "2026-06-24", DUE, .want = "due", .once = true },
	{ "the_day_after", AT_WET_WINTER, APPLE, HABIT, "2026-06-25", DUE, .want = "", .once = true },
	{ "one_season_is_no_habit", AT_WET_WINTER, APPLE, "A1 mulched 3 in @ 2025-05-10", "2026-05-20", DUE, .want = "" },
	{ "mulched_it_is_settled", AT_WET_WINTER, APPLE, HABIT "A1 mulched 3 in @ 2026-05-12", "2026-05-20", DUE, .want = "" },
	{ "mulched_early_too", AT_WET_WINTER, APPLE, HABIT "A1 mulched 3 in @ 2026-03-12", "2026-05-20", DUE, .want = "" },
	{ "a_plan_settles_nothing", AT_WET_WINTER, APPLE, HABIT "A1 plan mulch 3 in @ 2026-06-12", "2026-05-20", DUE, .want = "due" },
	{ "no_settled_time_no_word", AT_WET_WINTER, APPLE, "A1 mulched 3 in @ 2024-02-10|A1 mulched 3 in @ 2025-07-10", "2026-05-20", DUE, .want = "" },
	{ "across_new_year", AT_WET_WINTER, APPLE, "A1 mulched 3 in @ 2024-01-05|A1 mulched 3 in @ 2024-12-28", "2026-01-10", DUE, .want = "due", .once = true },
	{ "not_today_in_a_storm", AT_WET_WINTER, APPLE, HABIT "storm @ 2026-05-20", "2026-05-20", DUE, .want = "note", .says = {"Not today: storm."} },
	{ "an_unknown_kind_is_mulched_too", AT_NOWHERE, "A1 - 2012", HABIT, "2026-05-20", DUE, .want = "due", .once = true },
	{ "without_a_mulch_silence", AT_WET_WINTER, APPLE, "", "2026-05-20", DUE, .want = "" },
};

static const struct log_case trunk[] = {
	{ "mulch_laid_against_the_trunk", AT_WET_WINTER, APPLE, "A1 mulched 3 in wood chip against the trunk @ 2026-05-10", "2026-05-12", TRUNK, .want = "due", .says = {"lay against the trunk", "Rake it back", "6 in to 12 in"} },
	{ "said_in_the_note", AT_WET_WINTER, APPLE, "A1 mulched 3 in straw @ 2026-05-10 ; right up to the trunk", "2026-05-12", TRUNK, .want = "due" },
	{ "seen_so", AT_WET_WINTER, APPLE, "A1 saw mulch against the bark @ 2026-05-10", "2026-05-12", TRUNK, .want = "due" },
	{ "kept_off_the_trunk_is_right", AT_WET_WINTER, APPLE, "A1 mulched 3 in @ 2026-05-10 ; clear of the trunk", "2026-05-12", TRUNK, .want = "" },
	{ "not_against_the_trunk_is_right", AT_WET_WINTER, APPLE, "A1 mulched 3 in @ 2026-05-10 ; not against the trunk", "2026-05-12", TRUNK, .want = "" },
	{ "gum_on_the_trunk_is_no_mulch", AT_WET_WINTER, APPLE, "A1 saw gum on the trunk @ 2026-05-10", "2026-05-12", TRUNK, .want = "" },
	{ "raked_back_it_is_settled", AT_WET_WINTER, APPLE, "A1 mulched 3 in against the trunk @ 2026-05-10|A1 note mulch raked back from the trunk @ 2026-05-11", "2026-05-12", TRUNK, .want = "" },
	{ "two_months_on_still_work", AT_WET_WINTER, APPLE, "A1 saw mulch against the bark @ 2026-05-10", "2026-07-09", TRUNK, .want = "due", .once = true },
	{ "then_a_note", AT_WET_WINTER, APPLE, "A1 saw mulch against the bark @ 2026-05-10", "2026-07-10", TRUNK, .want = "note", .once = true },
	{ "for_a_year", AT_WET_WINTER, APPLE, "A1 saw mulch against the bark @ 2026-05-10", "2027-05-11", TRUNK, .want = "", .once = true },
	{ "in_a_storm_a_note", AT_WET_WINTER, APPLE, "A1 saw mulch against the bark @ 2026-05-10|storm @ 2026-05-12", "2026-05-12", TRUNK, .want = "note" },
	{ "eight_inches_are_too_deep", AT_WET_WINTER, APPLE, "A1 mulched 8 in straw @ 2026-05-10", "2026-05-12", TRUNK, .want = "note", .says = {"Mulched 8 in deep", "ends at 4 in"} },
	{ "four_inches_are_not", AT_WET_WINTER, APPLE, "A1 mulched 4 in straw @ 2026-05-10", "2026-05-12", TRUNK, .want = "" },
	{ "a_fig_bears_six", AT_WET_WINTER, "A1 fig 2012", "A1 mulched 6 in straw @ 2026-05-10", "2026-05-12", TRUNK, .want = "" },
	{ "a_fig_does_not_bear_seven", AT_WET_WINTER, "A1 fig 2012", "A1 mulched 7 in straw @ 2026-05-10", "2026-05-12", TRUNK, .want = "note" },
	{ "a_thinner_layer_since_settles_it", AT_WET_WINTER, APPLE, "A1 mulched 8 in straw @ 2026-05-10|A1 mulched 3 in straw @ 2026-05-11", "2026-05-12", TRUNK, .want = "" },
	{ "for_four_months", AT_WET_WINTER, APPLE, "A1 mulched 8 in straw @ 2026-05-10", "2026-09-08", TRUNK, .want = "", .once = true },
	{ "an_unknown_kind_has_a_trunk_too", AT_NOWHERE, "A1 - 2012", "A1 saw mulch against the bark @ 2026-05-10", "2026-05-12", TRUNK, .want = "due", .once = true },
	{ "a_depth_of_an_unknown_kind_is_not_judged", AT_NOWHERE, "A1 - 2012", "A1 mulched 8 in straw @ 2026-05-10", "2026-05-12", TRUNK, .want = "", .once = true },
};
/* clang-format on */

int main(void)
{
	int failed = LOG_CASES("mulch-due", due);

	return failed + LOG_CASES("mulch-on-trunk", trunk) != 0;
}
