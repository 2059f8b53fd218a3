/* SPDX-License-Identifier: MIT */
/* water-short, water-daily. */
#include "support/sky_case.h"

#define PEACH .kind = "peach", .planted = "2015"
#define SHORT .rule = "water-short"
#define DAILY .rule = "water-daily"
#define HABIT "A1 watered 20 gal @ 2024-07-01|A1 watered 20 gal @ 2025-07-01|"
/* some 6 mm a day; a metre of loam gives some 60 mm before a peach is short */
#define DRY "2026-05-01 80 150 330 0"

/* clang-format off */
static const struct sky_case shorts[] = {
	{ "dry_since_the_last_watering_is_due", AT_WET_WINTER, PEACH, "loam metre", DRY, HABIT "A1 watered 20 gal @ 2026-06-20", "2026-07-10", SHORT, .want = "due", .says = {"Likely dry", "Feel the soil a hand deep first", "loam, roots to"} },
	{ "a_week_after_it_is_not", AT_WET_WINTER, PEACH, "loam metre", DRY, HABIT "A1 watered 20 gal @ 2026-07-03", "2026-07-10", SHORT, .want = "" },
	{ "watered_today_settles_it", AT_WET_WINTER, PEACH, "loam metre", DRY, HABIT "A1 watered 20 gal @ 2026-07-10", "2026-07-10", SHORT, .want = "" },
	{ "rain_counts", AT_WET_WINTER, PEACH, "loam metre", DRY ";2026-06-25 3 150 250 40", HABIT, "2026-06-30", SHORT, .want = "" },
	{ "a_logged_rain_counts_too", AT_WET_WINTER, PEACH, "loam metre", DRY, HABIT "A1 watered 20 gal @ 2026-06-20|rain 50 mm @ 2026-07-01|rain 50 mm @ 2026-07-02", "2026-07-07", SHORT, .want = "" },
	{ "without_the_habit_it_is_silent", AT_WET_WINTER, PEACH, "loam metre", DRY, "A1 watered 20 gal @ 2025-07-01", "2026-07-10", SHORT, .want = "" },
	{ "wilting_seen_is_reason_enough", AT_WET_WINTER, PEACH, "loam metre", DRY, "A1 saw wilting @ 2026-07-08", "2026-07-10", SHORT, .want = "due", .says = {"you saw it wilt"} },
	{ "wilting_before_a_watering_is_not", AT_WET_WINTER, PEACH, "loam metre", DRY, "A1 saw wilting @ 2026-06-10|A1 watered 20 gal @ 2026-06-12", "2026-07-10", SHORT, .want = "" },
	{ "no_weather_no_word", AT_WET_WINTER, PEACH, "loam metre", "", HABIT, "2026-07-10", SHORT, .want = "" },
	{ "weather_that_ends_a_week_ago", AT_WET_WINTER, PEACH, "loam metre", "2026-05-01 62 150 330 0", HABIT, "2026-07-10", SHORT, .want = "" },
	{ "rain_that_nobody_measured", AT_WET_WINTER, PEACH, "loam metre", "2026-05-01 80 150 330 9999", HABIT, "2026-07-10", SHORT, .want = "" },
	{ "a_gap_that_may_have_been_wet", AT_WET_WINTER, PEACH, "loam metre", "2026-05-01 60 150 330 0;2026-07-05 6 150 330 0", HABIT, "2026-07-10", SHORT, .want = "" },
	{ "an_unknown_soil_is_the_one_that_holds_most", AT_WET_WINTER, PEACH, "", DRY, HABIT "A1 watered 20 gal @ 2026-06-25", "2026-07-10", SHORT, .want = "" },
	{ "and_dry_by_that_is_dry", AT_WET_WINTER, PEACH, "", DRY, HABIT, "2026-07-10", SHORT, .want = "due", .says = {"soil not known", "the most printed"} },
	{ "a_crown_tells_the_gallons", AT_WET_WINTER, PEACH, "loam metre drip", DRY, HABIT "A1 spread 12 ft @ 2026-01-10|A1 watered 400 gal @ 2026-06-20", "2026-07-10", SHORT, .want = "due", .says = {"refills what is missing", "4 emitters give that in"} },
	{ "a_watering_too_small_is_counted_as_such", AT_WET_WINTER, PEACH, "loam metre", DRY, HABIT "A1 spread 12 ft @ 2026-01-10|A1 watered 400 gal @ 2026-06-20|A1 watered 5 gal @ 2026-07-08", "2026-07-10", SHORT, .want = "due" },
	{ "a_time_alone_is_taken_as_full", AT_WET_WINTER, PEACH, "loam metre", DRY, HABIT "A1 spread 12 ft @ 2026-01-10|A1 watered 35 min @ 2026-07-08", "2026-07-10", SHORT, .want = "" },
	{ "a_bare_tree_uses_nothing", AT_WET_WINTER, PEACH, "loam metre", "2025-11-10 70 50 200 0", HABIT, "2026-01-15", SHORT, .want = "" },
	{ "nobody_is_sent_out_in_a_storm", AT_WET_WINTER, PEACH, "loam metre", DRY, HABIT "storm @ 2026-07-10", "2026-07-10", SHORT, .want = "" },
	{ "without_a_latitude_it_is_silent", AT_WET_WINTER, PEACH, "loam metre", DRY, HABIT, "2026-07-10", SHORT, .want = "", .no_latitude = true },
	{ "a_kind_without_figures_is_silent", AT_WET_WINTER, .kind = "fig", .planted = "2015", "loam metre", DRY, HABIT, "2026-07-10", SHORT, .want = "" },
	{ "an_unknown_kind_is_silent", AT_WET_WINTER, .kind = "-", .planted = "2015", "loam metre", DRY, HABIT, "2026-07-10", SHORT, .want = "" },
	{ "an_evergreen_goes_by_the_least_of_its_year", AT_WET_WINTER, .kind = "avocado", .planted = "2015", "loam metre", DRY, HABIT "A1 watered 20 gal @ 2026-06-20", "2026-07-10", SHORT, .want = "" },
	{ "and_is_dry_by_that", AT_WET_WINTER, .kind = "avocado", .planted = "2015", "loam metre", DRY, HABIT "A1 watered 20 gal @ 2026-06-10", "2026-07-10", SHORT, .want = "due", .says = {"Kc 0.60 all year, the least of its stages"} },
	/* pots */
	{ "a_pot_in_heat_is_dry_in_two_days", AT_WET_WINTER, PEACH, "pot", DRY, HABIT "A1 watered 2 gal @ 2026-07-08", "2026-07-10", SHORT, .want = "due", .says = {"Its pot has had no water", "two fingers deep"} },
	{ "a_day_after_it_is_not", AT_WET_WINTER, PEACH, "pot", DRY, HABIT "A1 watered 2 gal @ 2026-07-09", "2026-07-10", SHORT, .want = "" },
	{ "in_mild_weather_it_takes_five", AT_WET_WINTER, PEACH, "pot", "2026-05-01 80 120 240 0", HABIT "A1 watered 2 gal @ 2026-07-06", "2026-07-10", SHORT, .want = "" },
	{ "and_then_it_is", AT_WET_WINTER, PEACH, "pot", "2026-05-01 80 120 240 0", HABIT "A1 watered 2 gal @ 2026-07-05", "2026-07-10", SHORT, .want = "due" },
	{ "rain_fills_a_pot", AT_WET_WINTER, PEACH, "pot", DRY ";2026-07-09 1 150 330 12", HABIT "A1 watered 2 gal @ 2026-07-05", "2026-07-10", SHORT, .want = "" },
	{ "a_pot_nobody_waters_is_let_be", AT_WET_WINTER, PEACH, "pot", DRY, "", "2026-07-10", SHORT, .want = "" },
};

static const struct sky_case dailies[] = {
	{ "watered_daily_as_logged_is_told", AT_WET_WINTER, PEACH, "", "", "A1 watered 35 min daily @ 2026-07-01", "2026-07-10", DAILY, .want = "due", .says = {"Watered every day, as you logged it.", "Fewer, deeper soakings", "A time is no amount"} },
	{ "for_a_month", AT_WET_WINTER, PEACH, "", "", "A1 watered 35 min daily @ 2026-07-01", "2026-07-31", DAILY, .want = "due", .once = true },
	{ "then_it_is_forgotten", AT_WET_WINTER, PEACH, "", "", "A1 watered 35 min daily @ 2026-07-01", "2026-08-01", DAILY, .want = "", .once = true },
	{ "a_watering_since_that_is_not_daily_settles_it", AT_WET_WINTER, PEACH, "", "", "A1 watered 35 min daily @ 2026-07-01|A1 watered 20 gal @ 2026-07-05", "2026-07-10", DAILY, .want = "" },
	{ "ten_days_of_a_fortnight_are_daily", AT_WET_WINTER, PEACH, "", "", "A1 watered 2 gal @ 2026-07-01|A1 watered 2 gal @ 2026-07-02|A1 watered 2 gal @ 2026-07-03|A1 watered 2 gal @ 2026-07-04|A1 watered 2 gal @ 2026-07-05|A1 watered 2 gal @ 2026-07-06|A1 watered 2 gal @ 2026-07-07|A1 watered 2 gal @ 2026-07-08|A1 watered 2 gal @ 2026-07-09|A1 watered 2 gal @ 2026-07-10", "2026-07-10", DAILY, .want = "due", .says = {"Watered on 10 of the last 14 days"} },
	{ "nine_are_not", AT_WET_WINTER, PEACH, "", "", "A1 watered 2 gal @ 2026-07-01|A1 watered 2 gal @ 2026-07-02|A1 watered 2 gal @ 2026-07-03|A1 watered 2 gal @ 2026-07-04|A1 watered 2 gal @ 2026-07-05|A1 watered 2 gal @ 2026-07-06|A1 watered 2 gal @ 2026-07-07|A1 watered 2 gal @ 2026-07-08|A1 watered 2 gal @ 2026-07-09|A1 watered 2 gal @ 2026-07-09", "2026-07-10", DAILY, .want = "" },
	{ "a_pot_wants_it", AT_WET_WINTER, PEACH, "pot", "", "A1 watered 2 gal daily @ 2026-07-01", "2026-07-10", DAILY, .want = "" },
	{ "a_tree_in_its_first_year_is_let_be", AT_WET_WINTER, .kind = "peach", .planted = "2026-02-10", "", "", "A1 watered 2 gal daily @ 2026-07-01", "2026-07-10", DAILY, .want = "" },
	{ "a_tree_of_a_year_is_not", AT_WET_WINTER, .kind = "peach", .planted = "2025-02-10", "", "", "A1 watered 2 gal daily @ 2026-07-01", "2026-07-10", DAILY, .want = "due" },
	{ "a_weekly_rate_is_fine", AT_WET_WINTER, PEACH, "", "", "A1 watered 35 min weekly @ 2026-07-01", "2026-07-10", DAILY, .want = "" },
	{ "the_kind_s_own_advice_is_told", AT_WET_WINTER, .kind = "mandarin", .planted = "2015", "", "", "A1 watered 10 gal daily @ 2026-07-01", "2026-07-10", DAILY, .want = "due", .says = {"once or twice a month"} },
	{ "rain_today_asks_nothing_of_anyone", AT_WET_WINTER, PEACH, "", "", "A1 watered 10 gal daily @ 2026-07-01|rain 13 mm @ 2026-07-10", "2026-07-10", DAILY, .want = "note" },
	{ "an_unknown_kind_is_silent", AT_NOWHERE, .kind = "-", .planted = "2015", "", "", "A1 watered 10 gal daily @ 2026-07-01", "2026-07-10", DAILY, .want = "", .once = true },
};
/* clang-format on */

int main(void)
{
	int failed = RUN_CASES("water-short", shorts, sky_case_run);

	failed += RUN_CASES("water-daily", dailies, sky_case_run);
	return failed != 0;
}
