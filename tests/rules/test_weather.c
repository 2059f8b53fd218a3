/* SPDX-License-Identifier: MIT */
/* heat-scorch, chill-short. */
#include "support/sky_case.h"

#define AVOCADO .kind = "avocado", .planted = "2015"
#define YOUNG .kind = "avocado", .planted = "2025-05"
#define LOQUAT .kind = "loquat", .planted = "2015"
#define HEAT .rule = "heat-scorch"
#define CHILL .rule = "chill-short"
#define CHERRY .kind = "sweet cherry", .planted = "2015"
/* 30 portions are the least any sweet cherry is listed with */
#define WARM "2025-11-01 105 140 240 0"
/* some 59 portions */
#define MILD "2025-11-01 121 80 180 0"
#define ORANGE .kind = "orange", .planted = "2012"
#define CUT "A1 cut shape 10% of crown @ 2026-10-10"
#define NEAR .rule = "cut-near-frost"
#define WAIT .rule = "frosted-wait"
#define COLD "2025-11-01 105 10 110 0"

/* clang-format off */
static const struct sky_case heats[] = {
	{ "a_young_tree_over_the_limit_is_work", AT_WET_WINTER, YOUNG, "", "2026-07-10 1 200 385 0", "", "2026-07-11", HEAT, .want = "due", .says = {"limit is about 100 F", "Shade it", "Mind the heat yourself"} },
	{ "a_grown_one_is_a_note", AT_WET_WINTER, AVOCADO, "", "2026-07-10 1 200 385 0", "", "2026-07-11", HEAT, .want = "note" },
	{ "three_days_of_it_are_work_for_any", AT_WET_WINTER, AVOCADO, "", "2026-07-10 3 200 385 0", "", "2026-07-13", HEAT, .want = "due", .says = {"(3 such days)"} },
	{ "a_potted_one_is_work", AT_WET_WINTER, AVOCADO, "pot", "2026-07-10 1 200 385 0", "", "2026-07-11", HEAT, .want = "due" },
	{ "at_the_limit", AT_WET_WINTER, YOUNG, "", "2026-07-10 1 200 378 0", "", "2026-07-11", HEAT, .want = "due" },
	{ "a_tenth_of_a_degree_below", AT_WET_WINTER, YOUNG, "", "2026-07-10 1 200 377 0", "", "2026-07-11", HEAT, .want = "" },
	{ "a_line_with_a_figure_counts", AT_WET_WINTER, YOUNG, "", "", "heat 104 F @ 2026-07-10", "2026-07-11", HEAT, .want = "due", .says = {"104 F", "as you logged it"} },
	{ "heat_without_a_figure_is_not_judged", AT_WET_WINTER, YOUNG, "", "", "heat @ 2026-07-10", "2026-07-11", HEAT, .want = "" },
	{ "second_hand_figures_are_notes", AT_WET_WINTER, .kind = "loquat", .planted = "2025-05", "", "2026-07-10 4 200 385 0", "", "2026-07-14", HEAT, .want = "note", .says = {"limit is about 95 F"} },
	{ "for_two_weeks", AT_WET_WINTER, YOUNG, "", "2026-07-10 1 200 385 0", "", "2026-07-24", HEAT, .want = "due" },
	{ "then_silence", AT_WET_WINTER, YOUNG, "", "2026-07-10 1 200 385 0", "", "2026-07-25", HEAT, .want = "" },
	{ "shaded_since_it_is_settled", AT_WET_WINTER, YOUNG, "", "2026-07-10 1 200 385 0", "A1 covered shade cloth @ 2026-07-11", "2026-07-12", HEAT, .want = "" },
	{ "a_scorch_seen_settles_it", AT_WET_WINTER, YOUNG, "", "2026-07-10 1 200 385 0", "A1 saw scorched leaves light @ 2026-07-11", "2026-07-12", HEAT, .want = "" },
	{ "nobody_is_sent_out_in_a_storm", AT_WET_WINTER, YOUNG, "", "2026-07-10 1 200 385 0", "storm @ 2026-07-11", "2026-07-11", HEAT, .want = "note" },
	{ "a_kind_without_a_limit_is_silent", AT_WET_WINTER, .kind = "apple", .planted = "2025-05", "", "2026-07-10 4 200 420 0", "", "2026-07-14", HEAT, .want = "" },
	{ "an_unknown_kind_is_silent", AT_NOWHERE, .kind = "-", .planted = "2025-05", "", "2026-07-10 4 200 420 0", "", "2026-07-14", HEAT, .want = "", .once = true },
	{ "no_weather_no_word", AT_WET_WINTER, YOUNG, "", "", "", "2026-07-11", HEAT, .want = "" },
};

static const struct sky_case chills[] = {
	{ "a_warm_winter_cannot_be_made_up", AT_WET_WINTER, CHERRY, "", WARM, "", "2026-02-12", CHILL, .want = "note", .says = {"chill portions", "listed from 30", "Nothing to do in the yard"} },
	{ "a_cold_one_is_enough", AT_WET_WINTER, CHERRY, "", COLD, "", "2026-02-12", CHILL, .want = "" },
	{ "not_before_the_last_month", AT_WET_WINTER, CHERRY, "", "2025-11-01 92 140 240 0", "", "2026-01-28", CHILL, .want = "" },
	{ "nor_after_it", AT_WET_WINTER, CHERRY, "", "2025-11-01 125 140 240 0", "", "2026-03-01", CHILL, .want = "" },
	{ "on_its_last_day", AT_WET_WINTER, CHERRY, "", "2025-11-01 121 140 240 0", "", "2026-02-28", CHILL, .want = "note" },
	{ "a_gap_of_a_week_is_too_large", AT_WET_WINTER, CHERRY, "", "2025-11-01 60 140 240 0;2026-01-07 38 140 240 0", "", "2026-02-12", CHILL, .want = "" },
	{ "a_gap_of_three_days_is_told", AT_WET_WINTER, CHERRY, "", "2025-11-01 60 140 240 0;2026-01-03 42 140 240 0", "", "2026-02-12", CHILL, .want = "note", .says = {"the longest gap is 3 days"}, .once = true },
	{ "nobody_knows_a_winter_from_one_month", AT_WET_WINTER, CHERRY, "", "2026-01-10 30 140 240 0", "", "2026-02-12", CHILL, .want = "" },
	{ "maxima_alone_are_no_chill", AT_WET_WINTER, CHERRY, "", "2025-11-01 105 9999 240 0", "", "2026-02-12", CHILL, .want = "" },
	{ "without_a_latitude_no_hours", AT_WET_WINTER, CHERRY, "", WARM, "", "2026-02-12", CHILL, .want = "", .no_latitude = true },
	{ "a_listed_cultivar_has_its_own_figure", AT_WET_WINTER, CHERRY, "", MILD, "", "2026-02-28", CHILL, .want = "note", .says = {"Sam is listed with 70"}, .cultivar = "Sam" },
	{ "and_another_is_content", AT_WET_WINTER, CHERRY, "", MILD, "", "2026-02-28", CHILL, .want = "", .cultivar = "Lapins" },
	{ "one_not_listed_is_held_to_the_least", AT_WET_WINTER, CHERRY, "", MILD, "", "2026-02-28", CHILL, .want = "", .cultivar = "Bing" },
	{ "a_figure_of_one_cultivar_is_not_the_kind_s", AT_WET_WINTER, .kind = "apple", .planted = "2015", "", WARM, "", "2026-02-12", CHILL, .want = "" },
	{ "it_is_of_that_one", AT_WET_WINTER, .kind = "apple", .planted = "2015", "", WARM, "", "2026-02-12", CHILL, .want = "note", .says = {"Golden Delicious"}, .cultivar = "Golden Delicious" },
	{ "a_kind_that_needs_none", AT_WET_WINTER, .kind = "orange", .planted = "2015", "", WARM, "", "2026-02-12", CHILL, .want = "" },
	{ "an_unknown_kind", AT_WET_WINTER, .kind = "-", .planted = "2015", "", WARM, "", "2026-02-12", CHILL, .want = "" },
	{ "by_hours_where_no_portions_are_printed", AT_WET_WINTER, .kind = "persimmon", .planted = "2015", "", "2025-11-01 121 180 280 0", "", "2026-02-28", CHILL, .want = "note", .says = {"chilling hours", "listed from 100"} },
	{ "no_weather_no_word", AT_WET_WINTER, CHERRY, "", "", "", "2026-02-12", CHILL, .want = "" },
};

/* The offset of a spot (here 2 C colder) in what is reckoned, and said in the evidence. */
static const struct sky_case spots[] = {
	{ "a_cold_spot_had_frost_where_the_station_had_none", AT_WET_WINTER, ORANGE, "cold", "2026-10-20 1 10 150 0", CUT, "2026-10-21", NEAR, .want = "act", .says = {"Frost came here: 30 F", "of the station \"hill\", with this spot 3.6 F colder"} },
	{ "the_same_night_without_an_offset_is_no_frost", AT_WET_WINTER, ORANGE, "", "2026-10-20 1 10 150 0", CUT, "2026-10-21", NEAR, .want = "note" },
	{ "a_tenth_warmer_and_it_is_none", AT_WET_WINTER, ORANGE, "cold", "2026-10-20 1 21 150 0", CUT, "2026-10-21", NEAR, .want = "note" },
	{ "a_line_of_the_place_takes_the_offset", AT_WET_WINTER, ORANGE, "cold", "", CUT "|frost 1 C @ 2026-10-20", "2026-10-21", NEAR, .want = "act", .says = {"as you logged it, with this spot 3.6 F colder"} },
	{ "what_was_read_at_the_tree_does_not", AT_WET_WINTER, ORANGE, "cold", "", CUT "|A1 frost 1 C @ 2026-10-20", "2026-10-21", NEAR, .want = "note" },
	{ "and_it_counts_without_one", AT_WET_WINTER, ORANGE, "", "", CUT "|A1 frost -1 C @ 2026-10-20", "2026-10-21", NEAR, .want = "act", .says = {"as you logged it at the tree"} },
	{ "a_forecast_frost_has_not_come", AT_WET_WINTER, ORANGE, "", "", CUT "|frost -1 C forecast @ 2026-10-20", "2026-10-21", NEAR, .want = "note" },
	{ "wood_frosts_in_a_cold_spot", AT_WET_WINTER, ORANGE, "cold", "2027-01-10 1 -30 110 0", "", "2027-01-12", WAIT, .want = "note", .says = {"with this spot 3.6 F colder"} },
	{ "and_not_beside_it", AT_WET_WINTER, ORANGE, "", "2027-01-10 1 -30 110 0", "", "2027-01-12", WAIT, .want = "" },
	{ "heat_is_told_with_the_offset", AT_WET_WINTER, YOUNG, "cold", "2026-07-10 1 200 405 0", "", "2026-07-11", HEAT, .want = "due", .says = {"101 F", "with this spot 3.6 F colder"} },
	{ "and_is_none_in_a_cold_spot", AT_WET_WINTER, YOUNG, "cold", "2026-07-10 1 200 395 0", "", "2026-07-11", HEAT, .want = "" },
	{ "chill_is_told_with_it", AT_WET_WINTER, CHERRY, "cold", "2025-11-01 105 160 260 0", "", "2026-02-12", CHILL, .want = "note", .says = {"with this spot 3.6 F colder"} },
};
/* clang-format on */

int main(void)
{
	int failed = RUN_CASES("heat-scorch", heats, sky_case_run);

	failed += RUN_CASES("chill-short", chills, sky_case_run);
	failed += RUN_CASES("spots", spots, sky_case_run);
	return failed != 0;
}
