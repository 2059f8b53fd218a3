/* SPDX-License-Identifier: MIT */
/* water-first-summer: set in leaf, until its first autumn, quiet for a week after water. */
#include "support/log_case.h"

#define RULE .rule = "water-first-summer"
#define LATE "A1 european_plum 2026-05-15"

/* clang-format off */
static const struct log_case cases[] = {
	{ "set_in_may", AT_HUMID, LATE, "", "2026-05-20", RULE, .want = "note", .says = {"in leaf: it goes through its first summer", "Local water rules come first"} },
	{ "on_the_day_itself", AT_HUMID, LATE, "", "2026-05-15", RULE, .want = "note" },
	{ "set_while_at_rest_it_says_nothing", AT_HUMID, "A1 european_plum 2026-02-10", "", "2026-05-20", RULE, .want = "" },
	{ "set_in_autumn_it_says_nothing", AT_HUMID, "A1 european_plum 2026-11-10", "", "2026-11-20", RULE, .want = "" },
	{ "the_last_day_before_autumn", AT_HUMID, LATE, "", "2026-08-31", RULE, .want = "note", .once = true },
	{ "then_silence", AT_HUMID, LATE, "", "2026-09-01", RULE, .want = "", .once = true },
	{ "nor_the_summer_after", AT_HUMID, LATE, "", "2027-06-20", RULE, .want = "" },
	{ "watered_it_is_quiet", AT_HUMID, LATE, "A1 watered 5 gal @ 2026-05-20", "2026-05-26", RULE, .want = "" },
	{ "for_a_week", AT_HUMID, LATE, "A1 watered 5 gal @ 2026-05-20", "2026-05-27", RULE, .want = "note" },
	{ "a_month_of_planting_is_no_day", AT_HUMID, "A1 european_plum 2026-05", "", "2026-06-20", RULE, .want = "" },
	{ "an_evergreen_is_set_in_spring", AT_HUMID, "A1 loquat 2026-05-15", "", "2026-05-20", RULE, .want = "" },
	{ "an_unknown_kind_is_silent", AT_HUMID, "A1 - 2026-05-15", "", "2026-05-20", RULE, .want = "" },
	{ "no_hemisphere_no_summer", AT_NOWHERE, LATE, "", "2026-05-20", RULE, .want = "", .once = true },
	{ "nor_in_the_tropics", AT_TROPICS, LATE, "", "2026-05-20", RULE, .want = "", .once = true },
};
/* clang-format on */

int main(void)
{
	return LOG_CASES("water-first-summer", cases) != 0;
}
