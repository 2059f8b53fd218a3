/* SPDX-License-Identifier: MIT */
/* manure-interval. */
#include "support/log_case.h"

#define APPLE "A1 apple 2012"
#define RAW "A1 fed 2 buckets fresh manure @ 2026-06-01|"

/* clang-format off */
static const struct log_case manure[] = {
	{ "a_pick_inside_ninety_days_is_an_act", AT_WET_WINTER, APPLE, RAW "A1 picked 4 kg @ 2026-08-20", "2026-08-22", .rule = "manure-interval", .want = "act", .says = {"80 days after raw manure", "90 days", "cook it"}, .once = true },
	{ "on_the_last_day_inside", AT_WET_WINTER, APPLE, RAW "A1 picked 4 kg @ 2026-08-29", "2026-08-30", .rule = "manure-interval", .want = "act", .once = true },
	{ "when_the_days_are_over_it_is_fine", AT_WET_WINTER, APPLE, RAW "A1 picked 4 kg @ 2026-08-30", "2026-08-31", .rule = "manure-interval", .want = "", .once = true },
	{ "windfalls_wait_a_hundred_and_twenty", AT_WET_WINTER, APPLE, RAW "A1 picked 4 kg windfalls @ 2026-09-10", "2026-09-12", .rule = "manure-interval", .want = "act", .says = {"120 days", "touched the ground"} },
	{ "and_not_longer", AT_WET_WINTER, APPLE, RAW "A1 picked 4 kg windfalls @ 2026-09-30", "2026-10-01", .rule = "manure-interval", .want = "", .once = true },
	{ "nuts_lie_on_the_ground", AT_WET_WINTER, "A1 walnut 2005", RAW "A1 picked 4 kg @ 2026-09-10", "2026-09-12", .rule = "manure-interval", .want = "act", .says = {"120 days"} },
	{ "composted_is_not_counted", AT_WET_WINTER, APPLE, "A1 fed 2 buckets composted manure @ 2026-06-01|A1 picked 4 kg @ 2026-08-20", "2026-08-22", .rule = "manure-interval", .want = "" },
	{ "fresh_compost_of_manure_is_not_either", AT_WET_WINTER, APPLE, "A1 fed 2 buckets fresh composted manure @ 2026-06-01|A1 picked 4 kg @ 2026-08-20", "2026-08-22", .rule = "manure-interval", .want = "" },
	{ "manure_alone_is_not_said_to_be_raw", AT_WET_WINTER, APPLE, "A1 fed 2 buckets cow manure @ 2026-06-01|A1 picked 4 kg @ 2026-08-20", "2026-08-22", .rule = "manure-interval", .want = "" },
	{ "chook_poo_said_fresh_is", AT_WET_WINTER, APPLE, "A1 fed bucket of fresh chook poo @ 2026-06-01|A1 picked 4 kg @ 2026-08-20", "2026-08-22", .rule = "manure-interval", .want = "act" },
	{ "as_a_mulch_it_is_the_same", AT_WET_WINTER, APPLE, "A1 mulched 2 in raw manure @ 2026-06-01|A1 picked 4 kg @ 2026-08-20", "2026-08-22", .rule = "manure-interval", .want = "act" },
	{ "after_three_weeks_a_note", AT_WET_WINTER, APPLE, RAW "A1 picked 4 kg @ 2026-08-10", "2026-09-10", .rule = "manure-interval", .want = "note" },
	{ "picked_none_is_no_pick", AT_WET_WINTER, APPLE, RAW "A1 picked none @ 2026-08-20", "2026-08-22", .rule = "manure-interval", .want = "" },
	{ "a_pick_before_the_manure_is_fine", AT_WET_WINTER, APPLE, "A1 picked 4 kg, last @ 2026-08-20|A1 fed 2 buckets fresh manure @ 2026-09-01", "2026-09-02", .rule = "manure-interval", .want = "" },
	{ "before_the_harvest_it_warns", AT_WET_WINTER, "A1 apricot 2012", "A1 picked 4 kg @ 2025-06-10|A1 fed 2 buckets fresh manure @ 2026-03-10", "2026-03-12", .rule = "manure-interval", .want = "note", .says = {"too near", "Pick none before"} },
	{ "two_weeks_before_it_opens_soon", AT_WET_WINTER, "A1 apricot 2012", "A1 picked 4 kg @ 2025-06-10|A1 fed 2 buckets fresh manure @ 2026-03-10", "2026-04-20", .rule = "manure-interval", .want = "soon" },
	{ "far_from_any_harvest_silence", AT_WET_WINTER, "A1 apricot 2012", "A1 picked 4 kg @ 2025-06-10|A1 fed 2 buckets fresh manure @ 2025-11-10", "2025-11-12", .rule = "manure-interval", .want = "" },
	{ "a_tree_too_young_to_bear_is_not_warned", AT_WET_WINTER, "A1 apricot 2025-02", "A1 fed 2 buckets fresh manure @ 2026-03-10", "2026-03-12", .rule = "manure-interval", .want = "" },
	{ "what_lies_under_the_host_lies_under_its_graft", AT_WET_WINTER, APPLE, "A1 grafted Fuji @ 2016-03-10|" RAW "A1/Fuji picked 2 kg @ 2026-08-20", "2026-08-22", .rule = "manure-interval", .want = "act soon" },
	{ "a_tree_in_doubt_counts_days_all_the_same", AT_WET_WINTER, "A1 apple_or_peach 2012", RAW "A1 picked 4 kg @ 2026-08-20", "2026-08-22", .rule = "manure-interval", .want = "act" },
	{ "without_a_hemisphere_the_pick_still_counts", AT_NOWHERE, APPLE, RAW "A1 picked 4 kg @ 2026-08-20", "2026-08-22", .rule = "manure-interval", .want = "act", .once = true },
	{ "a_year_on_it_is_said_no_more", AT_WET_WINTER, APPLE, RAW "A1 picked 4 kg, last @ 2026-08-20", "2027-06-10", .rule = "manure-interval", .want = "" },
};
/* clang-format on */

int main(void)
{
	return LOG_CASES("manure-interval", manure) != 0;
}
