/* SPDX-License-Identifier: MIT */
/* cut-near-frost and frosted-wait: they fire, they just do not, on both sides of the equator. */
#include "support/log_case.h"

#define APPLE "A1 apple 2012"
#define ORANGE "A1 orange 2012"
#define CUT(day) "A1 cut shape 10% of crown @ " day
#define SAW(day) "A1 saw frost damage @ " day

/* clang-format off */
static const struct log_case near[] = {
	{ "an_autumn_cut_where_winters_are_hard_is_an_act", AT_CONTINENTAL, APPLE, CUT("2026-10-10"), "2026-10-12", .rule = "cut-near-frost", .want = "act", .says = {"The shape cut of", "hardens late", "Next clear for this cut"} },
	{ "the_first_day_of_the_row", AT_CONTINENTAL, APPLE, CUT("2026-09-01"), "2026-09-02", .rule = "cut-near-frost", .want = "act" },
	{ "the_day_before_the_row", AT_CONTINENTAL, APPLE, CUT("2026-08-28"), "2026-09-02", .rule = "cut-near-frost", .want = "" },
	{ "the_last_day_of_the_row", AT_CONTINENTAL, APPLE, CUT("2026-12-28"), "2026-12-28", .rule = "cut-near-frost", .want = "act" },
	{ "the_day_after_the_row", AT_CONTINENTAL, APPLE, CUT("2027-01-01"), "2027-01-02", .rule = "cut-near-frost", .want = "" },
	{ "after_21_days_still", AT_CONTINENTAL, APPLE, CUT("2026-10-10"), "2026-10-31", .rule = "cut-near-frost", .want = "act", .once = true },
	{ "after_22_days_a_note", AT_CONTINENTAL, APPLE, CUT("2026-10-10"), "2026-11-01", .rule = "cut-near-frost", .want = "note", .once = true },
	{ "after_half_a_year_silence", AT_CONTINENTAL, APPLE, CUT("2026-10-10"), "2027-04-09", .rule = "cut-near-frost", .want = "", .once = true },
	{ "the_day_before_that_a_note", AT_CONTINENTAL, APPLE, CUT("2026-10-10"), "2027-04-08", .rule = "cut-near-frost", .want = "note", .once = true },
	{ "where_frost_is_unsaid_it_is_a_note", AT_UNSAID, APPLE, CUT("2026-10-10"), "2026-10-12", .rule = "cut-near-frost", .want = "note", .says = {"not said"} },
	{ "a_mild_winter_is_no_alarm_for_an_orange", AT_WET_WINTER, ORANGE, CUT("2026-10-10"), "2026-10-12", .rule = "cut-near-frost", .want = "note" },
	{ "frost_logged_since_makes_it_one", AT_WET_WINTER, ORANGE, CUT("2026-10-10") "|frost -1 C @ 2026-10-20", "2026-10-21", .rule = "cut-near-frost", .want = "act", .says = {"Frost came here"} },
	{ "frost_without_a_figure_is_not_counted", AT_WET_WINTER, ORANGE, CUT("2026-10-10") "|frost @ 2026-10-20", "2026-10-21", .rule = "cut-near-frost", .want = "note" },
	{ "frost_a_season_ago_is_not_either", AT_WET_WINTER, ORANGE, "frost -1 C @ 2026-02-20|" CUT("2026-10-10"), "2026-10-12", .rule = "cut-near-frost", .want = "note" },
	{ "weeks_that_colder_places_keep_free_are_a_note_where_winters_are_hard", AT_WET_HARD, APPLE, CUT("2026-11-20"), "2026-11-21", .rule = "cut-near-frost", .want = "note", .says = {"winters are hard here", "Leave the rest for the clear weeks"} },
	{ "where_they_are_mild_silence", AT_WET_WINTER, APPLE, CUT("2026-11-20"), "2026-11-21", .rule = "cut-near-frost", .want = "" },
	{ "the_day_those_weeks_are_over", AT_WET_HARD, APPLE, CUT("2027-01-01"), "2027-01-02", .rule = "cut-near-frost", .want = "" },
	{ "for_21_days", AT_WET_HARD, APPLE, CUT("2026-11-20"), "2026-12-11", .rule = "cut-near-frost", .want = "note", .once = true },
	{ "and_no_longer", AT_WET_HARD, APPLE, CUT("2026-11-20"), "2026-12-12", .rule = "cut-near-frost", .want = "", .once = true },
	{ "dead_wood_may_go_in_them", AT_WET_HARD, APPLE, "A1 cut dead wood @ 2026-11-20", "2026-11-21", .rule = "cut-near-frost", .want = "" },
	{ "a_forecast_that_hurts_is_an_act", AT_WET_WINTER, ORANGE, CUT("2026-12-10") "|frost 24 F forecast @ 2026-12-12", "2026-12-11", .rule = "cut-near-frost", .want = "act", .says = {"24 F is forecast for", "just before it", "new growth shows what is alive"} },
	{ "on_the_day_of_its_night_still", AT_WET_WINTER, ORANGE, CUT("2026-12-10") "|frost 24 F forecast @ 2026-12-12", "2026-12-12", .rule = "cut-near-frost", .want = "act" },
	{ "the_day_after_its_night_silence", AT_WET_WINTER, ORANGE, CUT("2026-12-10") "|frost 24 F forecast @ 2026-12-12", "2026-12-13", .rule = "cut-near-frost", .want = "" },
	{ "a_forecast_as_cold_as_hurts", AT_WET_WINTER, ORANGE, CUT("2026-12-10") "|frost 24 F forecast @ 2026-12-12", "2026-12-11", .rule = "cut-near-frost", .want = "act" },
	{ "a_forecast_that_is_a_degree_too_warm", AT_WET_WINTER, ORANGE, CUT("2026-12-10") "|frost 25 F forecast @ 2026-12-12", "2026-12-11", .rule = "cut-near-frost", .want = "" },
	{ "a_forecast_two_weeks_after_the_cut", AT_WET_WINTER, ORANGE, CUT("2026-12-10") "|frost 20 F forecast @ 2026-12-24", "2026-12-20", .rule = "cut-near-frost", .want = "act", .once = true },
	{ "a_forecast_a_day_later_is_not_near", AT_WET_WINTER, ORANGE, CUT("2026-12-10") "|frost 20 F forecast @ 2026-12-25", "2026-12-20", .rule = "cut-near-frost", .want = "", .once = true },
	{ "a_forecast_without_a_figure_is_not_counted", AT_WET_WINTER, ORANGE, CUT("2026-12-10") "|frost forecast @ 2026-12-12", "2026-12-11", .rule = "cut-near-frost", .want = "" },
	{ "dead_wood_may_go_before_a_forecast", AT_WET_WINTER, ORANGE, "A1 cut dead wood @ 2026-12-10|frost 20 F forecast @ 2026-12-12", "2026-12-11", .rule = "cut-near-frost", .want = "" },
	{ "an_apple_at_rest_hears_nothing_of_it", AT_WET_WINTER, APPLE, CUT("2027-01-10") "|frost 25 F forecast @ 2027-01-12", "2027-01-11", .rule = "cut-near-frost", .want = "" },
	{ "a_forecast_is_no_frost_that_came", AT_WET_WINTER, ORANGE, CUT("2026-10-10") "|frost -1 C forecast @ 2026-10-20", "2026-10-21", .rule = "cut-near-frost", .want = "note" },
	{ "a_row_from_memory_is_a_note", AT_COOL, "A1 guava 2012", CUT("2026-12-10"), "2026-12-12", .rule = "cut-near-frost", .want = "note" },
	{ "dead_wood_may_go", AT_CONTINENTAL, APPLE, "A1 cut dead wood @ 2026-10-10", "2026-10-12", .rule = "cut-near-frost", .want = "" },
	{ "suckers_may_go", AT_CONTINENTAL, APPLE, "A1 cut suckers @ 2026-10-10", "2026-10-12", .rule = "cut-near-frost", .want = "" },
	{ "an_unknown_kind_is_not_judged", AT_CONTINENTAL, "A1 - 2012", CUT("2026-10-10"), "2026-10-12", .rule = "cut-near-frost", .want = "" },
	{ "candidates_are_not_judged", AT_CONTINENTAL, "A1 apple_or_orange 2012", CUT("2026-10-10"), "2026-10-12", .rule = "cut-near-frost", .want = "" },
	{ "no_hemisphere_no_verdict", AT_NOWHERE, APPLE, CUT("2026-10-10"), "2026-10-12", .rule = "cut-near-frost", .want = "", .once = true },
	{ "the_tropics_no_verdict", AT_TROPICS, APPLE, CUT("2026-10-10"), "2026-10-12", .rule = "cut-near-frost", .want = "" },
	{ "a_month_inside_the_row", AT_CONTINENTAL, APPLE, CUT("2026-10"), "2026-11-02", .rule = "cut-near-frost", .want = "note" },
	{ "a_month_half_inside", AT_CONTINENTAL, APPLE, "A1 cut shape 10% of crown @ 2026-08-20/2026-09-10", "2026-09-12", .rule = "cut-near-frost", .want = "" },
	{ "a_year_is_no_day", AT_CONTINENTAL, APPLE, "A1 cut shape 10% of crown @ 2026", "2026-10-12", .rule = "cut-near-frost", .want = "", .once = true },
	{ "a_cut_that_takes_fruit_is_told_as_that", AT_WET_WINTER, "A1 avocado 2012", CUT("2026-10-10"), "2026-10-12", .rule = "cut-near-frost", .want = "note" },
	{ "a_wet_cut_is_told_as_that", AT_COOL, "A1 apricot 2012", CUT("2026-10-10"), "2026-10-12", .rule = "cut-near-frost", .want = "" },
	{ "a_plan_is_no_cut", AT_CONTINENTAL, APPLE, "A1 plan cut shape @ 2026-10-20", "2026-10-12", .rule = "cut-near-frost", .want = "" },
	{ "one_cut_of_a_host_is_told_once", AT_CONTINENTAL, APPLE, "A1 grafted Fuji @ 2016-03-10|A1 grafted Jonathan @ 2016-03-10|" CUT("2026-10-10"), "2026-10-12", .rule = "cut-near-frost", .want = "act" },
	{ "hard_frost_on_fresh_wounds_is_a_note", AT_CONTINENTAL, APPLE, CUT("2027-02-10") "|frost -9 C @ 2027-02-11", "2027-02-12", .rule = "cut-near-frost", .want = "note", .says = {"fresh in hard frost", "16 F"} },
	{ "the_second_night_is_too_late_for_an_apple", AT_CONTINENTAL, APPLE, CUT("2027-02-10") "|frost -9 C @ 2027-02-12", "2027-02-12", .rule = "cut-near-frost", .want = "" },
	{ "a_peach_is_tender_for_two_weeks", AT_CONTINENTAL, "A1 peach 2012", CUT("2027-03-05") "|frost -9 C @ 2027-03-19", "2027-03-20", .rule = "cut-near-frost", .want = "note", .says = {"about two weeks"} },
	{ "and_not_longer", AT_CONTINENTAL, "A1 peach 2012", CUT("2027-03-05") "|frost -9 C @ 2027-03-20", "2027-03-20", .rule = "cut-near-frost", .want = "" },
	{ "light_frost_is_borne", AT_CONTINENTAL, APPLE, CUT("2027-02-10") "|frost -6 C @ 2027-02-11", "2027-02-12", .rule = "cut-near-frost", .want = "" },
	{ "two_months_later_the_night_is_history", AT_CONTINENTAL, APPLE, CUT("2027-02-10") "|frost -9 C @ 2027-02-11", "2027-04-12", .rule = "cut-near-frost", .want = "", .once = true },
};

static const struct log_case wait[] = {
	{ "a_frosted_orange_waits_as_a_state", AT_WET_WINTER, ORANGE, SAW("2027-01-10"), "2027-01-12", .rule = "frosted-wait", .want = "leave", .says = {"do not cut yet", "not before", "spring growth"} },
	{ "on_the_last_day_of_the_wait", AT_WET_WINTER, ORANGE, SAW("2027-01-10"), "2027-03-31", .rule = "frosted-wait", .want = "leave", .once = true },
	{ "not_on_its_day", AT_WET_WINTER, ORANGE, SAW("2027-01-10"), "2027-04-01", .rule = "frosted-wait", .want = "", .says = {NULL} },
	{ "a_late_frost_waits_a_month", AT_WET_WINTER, ORANGE, SAW("2027-03-20"), "2027-04-18", .rule = "frosted-wait", .want = "leave", .once = true },
	{ "and_no_longer", AT_WET_WINTER, ORANGE, SAW("2027-03-20"), "2027-04-19", .rule = "frosted-wait", .want = "", .once = true },
	{ "new_growth_ends_it", AT_WET_WINTER, ORANGE, SAW("2027-01-10") "|A1 saw new growth @ 2027-03-02", "2027-03-03", .rule = "frosted-wait", .want = "" },
	{ "a_stage_of_growth_ends_it", AT_WET_WINTER, ORANGE, SAW("2027-01-10") "|A1 bloom @ 2027-03-02", "2027-03-03", .rule = "frosted-wait", .want = "" },
	{ "a_cut_in_the_wait_is_an_act", AT_WET_WINTER, ORANGE, SAW("2027-01-10") "|A1 cut dead wood @ 2027-01-20", "2027-01-21", .rule = "frosted-wait", .want = "act leave", .says = {"before growth can show", "Cut no more before"} },
	{ "a_cut_on_the_day_of_growth_is_right", AT_WET_WINTER, ORANGE, SAW("2027-01-10") "|A1 saw new growth @ 2027-03-02|A1 cut dead wood @ 2027-03-02", "2027-03-03", .rule = "frosted-wait", .want = "" },
	{ "a_cut_the_day_before_was_not", AT_WET_WINTER, ORANGE, SAW("2027-01-10") "|A1 cut dead wood @ 2027-03-01|A1 saw new growth @ 2027-03-02", "2027-03-03", .rule = "frosted-wait", .want = "act" },
	{ "a_cut_before_the_damage_is_not_held_against_it", AT_WET_WINTER, ORANGE, "A1 cut dead wood @ 2027-01-08|" SAW("2027-01-10"), "2027-01-12", .rule = "frosted-wait", .want = "leave" },
	{ "suckers_may_go", AT_WET_WINTER, ORANGE, SAW("2027-01-10") "|A1 cut suckers @ 2027-01-20", "2027-01-21", .rule = "frosted-wait", .want = "leave" },
	{ "a_limb_broken_by_snow_goes_at_once", AT_WET_WINTER, ORANGE, SAW("2027-01-10") "|A1 cut broken wood for snow @ 2027-01-20", "2027-01-21", .rule = "frosted-wait", .want = "leave" },
	{ "after_22_days_the_cut_is_a_note", AT_WET_WINTER, ORANGE, SAW("2027-01-10") "|A1 cut dead wood @ 2027-01-20", "2027-02-11", .rule = "frosted-wait", .want = "note leave" },
	{ "a_night_cold_enough_is_a_note", AT_WET_WINTER, ORANGE, "frost -5 C @ 2027-01-10", "2027-01-12", .rule = "frosted-wait", .want = "note", .says = {"cold enough to hurt"} },
	{ "a_night_that_is_borne_is_not", AT_WET_WINTER, ORANGE, "frost -4 C @ 2027-01-10", "2027-01-12", .rule = "frosted-wait", .want = "" },
	{ "a_mandarin_stands_more", AT_WET_WINTER, "A1 mandarin 2012", "frost -5 C @ 2027-01-10", "2027-01-12", .rule = "frosted-wait", .want = "" },
	{ "a_lemon_less", AT_WET_WINTER, "A1 lemon 2012", "frost -3 C @ 2027-01-10", "2027-01-12", .rule = "frosted-wait", .want = "note" },
	{ "other_kinds_from_memory_are_notes", AT_WET_WINTER, "A1 avocado 2012", SAW("2027-01-10"), "2027-01-12", .rule = "frosted-wait", .want = "note", .says = {"scratch the bark"} },
	{ "deciduous_ones_too", AT_COOL, "A1 fig 2012", SAW("2027-01-10") "|A1 cut heading @ 2027-01-20", "2027-01-21", .rule = "frosted-wait", .want = "note note" },
	{ "aphids_are_no_frost", AT_WET_WINTER, ORANGE, "A1 saw aphids @ 2027-01-10", "2027-01-12", .rule = "frosted-wait", .want = "" },
	{ "an_unknown_kind_says_nothing", AT_WET_WINTER, "A1 - 2012", SAW("2027-01-10"), "2027-01-12", .rule = "frosted-wait", .want = "" },
	{ "no_hemisphere_no_spring", AT_NOWHERE, ORANGE, SAW("2027-01-10"), "2027-01-12", .rule = "frosted-wait", .want = "", .once = true },
	{ "the_cut_is_told_once", AT_WET_WINTER, ORANGE, SAW("2026-11-10") "|A1 cut shape @ 2026-11-20", "2026-11-21", .rule = "cut-near-frost", .want = "" },
};
/* clang-format on */

static void put_night(struct garden *garden, const char *day, int32_t min_decic)
{
	struct fault why = {0};
	struct weather_day night = {
		.day = garden_day(day), .station = "hill", .min_decic = known_i32(min_decic)};
	bool was_same;

	check_ok(store_act_begin(garden->store, ACT_WORK, "weather", &why), &why);
	check_ok(store_weather_day_put(garden->store, &night, &was_same, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
	garden_look(garden);
}

static void check_urgency(struct garden *garden, const char *today, const char *rule, int want)
{
	garden_today(garden, today);
	struct flags flags = log_case_flags(garden);
	const struct flag *flag = log_case_find(&flags, rule);

	check_int(flag != NULL ? (int)flag->urgency : -1, want, today);
}

/* --- the first frost of the place --- */

static void the_first_frost_of_the_place_decides(void **state)
{
	struct garden garden;
	struct place place;

	(void)state;
	log_case_place(AT_WET_WINTER, false, &place);
	place.first_frost = (struct month_day){12, 1};
	place.last_frost = (struct month_day){3, 1};
	garden_make_at(&garden, &place, "2026-09-20");
	garden_tree(&garden, "A1", "orange", "2012", "");
	garden_log(&garden, "A1 cut shape 10% of crown @ 2026-10-01"); /* 61 days before */
	check_urgency(&garden, "2026-10-01", "cut-near-frost", URGENCY_NOTE);
	garden_free(&garden);
}

static void two_months_before_it_is_near(void **state)
{
	struct garden garden;
	struct place place;

	(void)state;
	log_case_place(AT_WET_WINTER, false, &place);
	place.first_frost = (struct month_day){12, 1};
	garden_make_at(&garden, &place, "2026-10-02");
	garden_tree(&garden, "A1", "orange", "2012", "");
	garden_log(&garden, "A1 cut shape 10% of crown @ 2026-10-02");
	check_urgency(&garden, "2026-10-02", "cut-near-frost", URGENCY_ACT);
	struct flags flags = log_case_flags(&garden);
	check_has(log_case_find(&flags, "cut-near-frost")->says,
		"First frost here: about 1 December", "says");
	garden_free(&garden);
}

/* --- stored nights --- */

static void a_stored_night_counts_from_the_day_it_was(void **state)
{
	const struct log_case told = {.place = AT_WET_WINTER,
		.trees = ORANGE,
		.lines = CUT("2026-10-10"),
		.today = "2026-10-12"};
	struct garden garden;

	(void)state;
	log_case_make(&garden, &told, false);
	put_night(&garden, "2026-10-14", -5);
	check_urgency(&garden, "2026-10-12", "cut-near-frost", URGENCY_NOTE);
	check_urgency(&garden, "2026-10-14", "cut-near-frost", URGENCY_ACT);
	garden_free(&garden);
}

static void a_cold_spot_is_colder_than_the_station(void **state)
{
	const struct log_case told = {
		.place = AT_WET_WINTER, .trees = "", .lines = "", .today = "2027-01-12"};
	struct spot spot = {.name = "hollow", .offset_decic = -20};
	struct fault why = {0};
	struct garden garden;

	(void)state;
	log_case_make(&garden, &told, false);
	check_ok(store_act_begin(garden.store, ACT_WORK, "spot", &why), &why);
	check_ok(store_spot_add(garden.store, &spot, &why), &why);
	check_ok(store_act_commit(garden.store, &why), &why);
	garden_look(&garden);
	garden_tree(&garden, "A1", "orange", "2012", "hollow");
	garden_tree(&garden, "A2", "orange", "2012", "");
	put_night(&garden, "2027-01-10", -30); /* an orange is hurt at 24 F, -4.4 C */
	struct flags flags = log_case_flags(&garden);
	check_int(log_case_count(&flags, "frosted-wait"), 1, "the one in the hollow");
	check_text(log_case_find(&flags, "frosted-wait")->label, "A1", "label");
	garden_free(&garden);
}

/* --- forecasts that were imported --- */

struct forecast_case {
	const char *name;
	const char *day; /* of the forecast night */
	int32_t min_decic;
	const char *today;
	const char *line;     /* one more line; "" none */
	const char *observed; /* a night that came by then; "" none */
	int want;             /* urgency, -1 silence */
};

static void put_forecast(
	struct garden *garden, const char *day, const char *station, struct maybe_i32 min_decic)
{
	struct fault why = {0};
	struct weather_day night = {
		.day = garden_day(day), .forecast = true, .min_decic = min_decic};
	bool was_same;

	snprintf(night.station, sizeof night.station, "%s", station);
	check_ok(store_act_begin(garden->store, ACT_WORK, "forecast", &why), &why);
	check_ok(store_weather_day_put(garden->store, &night, &was_same, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
	garden_look(garden);
}

/* clang-format off */
static const struct forecast_case forecast_cases[] = {
	{ "a cold night after the cut", "2026-12-12", -50, "2026-12-11", "", "", URGENCY_ACT },
	{ "the night itself", "2026-12-12", -50, "2026-12-12", "", "", URGENCY_ACT },
	{ "the day after it is past", "2026-12-12", -50, "2026-12-13", "", "", -1 },
	{ "two weeks after the cut", "2026-12-24", -67, "2026-12-20", "", "", URGENCY_ACT },
	{ "a day later is not near", "2026-12-25", -67, "2026-12-20", "", "", -1 },
	{ "the warmest night that hurts", "2026-12-12", -44, "2026-12-11", "", "", URGENCY_ACT },
	{ "a tenth of a degree warmer", "2026-12-12", -43, "2026-12-11", "", "", -1 },
	{ "it came, and was mild", "2026-12-12", -50, "2026-12-12", "", "2026-12-12", -1 },
	{ "your own forecast stands before it", "2026-12-12", -50, "2026-12-11", "frost 31 F forecast @ 2026-12-12", "", -1 },
	{ "and is heard where it is the colder", "2026-12-12", 10, "2026-12-11", "frost 24 F forecast @ 2026-12-12", "", URGENCY_ACT },
};
/* clang-format on */

static void a_forecast_case(const struct forecast_case *one, bool south)
{
	const struct log_case told = {.place = AT_WET_WINTER,
		.trees = ORANGE,
		.lines = CUT("2026-12-10"),
		.today = "2026-12-11"};
	char day[32], today[32], line[80], observed[32];
	struct garden garden;

	log_case_make(&garden, &told, south);
	put_forecast(&garden, log_case_turn(one->day, south, day, sizeof day), "hill",
		known_i32(one->min_decic));
	if (one->line[0] != '\0')
		garden_log(&garden, log_case_turn(one->line, south, line, sizeof line));
	if (one->observed[0] != '\0')
		put_night(
			&garden, log_case_turn(one->observed, south, observed, sizeof observed), 5);
	garden_today(&garden, log_case_turn(one->today, south, today, sizeof today));
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "cut-near-frost");
	check_int(flag != NULL ? (int)flag->urgency : -1, one->want, one->name);
	if (flag != NULL) {
		log_case_check_words(flag);
		check_has(flag->says, "is forecast for", one->name);
	}
	garden_free(&garden);
}

static void an_imported_forecast_is_heard_until_its_night_is_past(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof forecast_cases / sizeof forecast_cases[0]; i++) {
		a_forecast_case(&forecast_cases[i], false);
		a_forecast_case(&forecast_cases[i], true);
	}
}

static void of_several_forecasts_the_first_by_name_that_has_a_figure(void **state)
{
	const struct log_case told = {.place = AT_WET_WINTER,
		.trees = ORANGE,
		.lines = CUT("2026-12-10"),
		.today = "2026-12-11"};
	struct garden garden;

	(void)state;
	log_case_make(&garden, &told, false);
	put_forecast(&garden, "2026-12-12", "airport", (struct maybe_i32){0});
	put_forecast(&garden, "2026-12-12", "hill", known_i32(-44));
	put_forecast(&garden, "2026-12-12", "valley", known_i32(-90));
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "cut-near-frost");
	assert_non_null(flag);
	check_has(flag->says, "24 F is forecast", "the hill's");
	check_text(flag->basis, "an imported forecast", "basis");
	check_int(log_case_proves(flag, "of the station \"hill\""), true, "whose");
	put_forecast(&garden, "2026-12-12", "airport", known_i32(20));
	check_urgency(&garden, "2026-12-11", "cut-near-frost", -1);
	garden_free(&garden);
}

static void a_forecast_is_said_before_the_cut(void **state)
{
	const struct log_case told = {
		.place = AT_WET_WINTER, .trees = ORANGE, .lines = "", .today = "2026-12-11"};
	struct garden garden;

	(void)state;
	log_case_make(&garden, &told, false);
	put_forecast(&garden, "2026-12-14", "hill", known_i32(-44));
	struct flags flags = log_case_try(&garden, "A1", "A1 cut shape 10% of crown");
	const struct flag *flag = log_case_find(&flags, "cut-near-frost");
	assert_non_null(flag);
	check_has(flag->says, "would come just before it", "asked");
	garden_free(&garden);
}

/* --- before the saw comes out --- */

static void it_is_said_before_the_cut(void **state)
{
	const struct log_case told = {.place = AT_CONTINENTAL,
		.trees = "A1 apple 2012;A2 orange 2012",
		.lines = "A2 saw frost damage @ 2026-10-01",
		.today = "2026-10-12"};
	struct garden garden;

	(void)state;
	log_case_make(&garden, &told, false);
	struct flags flags = log_case_try(&garden, "A1", "A1 cut shape 10% of crown");
	assert_non_null(log_case_find(&flags, "cut-near-frost"));
	check_int(log_case_find(&flags, "cut-near-frost")->urgency, URGENCY_ACT, "near frost");
	flags = log_case_try(&garden, "A2", "A2 cut dead wood");
	check_int(log_case_find(&flags, "frosted-wait")->urgency, URGENCY_ACT, "frosted");
	garden_free(&garden);
}

static void while_it_waits_no_feed_or_cut_is_asked_for(void **state)
{
	const struct log_case told = {.place = AT_WET_WINTER,
		.trees = ORANGE,
		.lines = "A1 fed 1 lb 10-10-10 @ 2025-02-10|A1 fed 1 lb 10-10-10 @ 2026-02-10|" SAW(
			"2027-01-10"),
		.today = "2027-02-12"};
	struct garden garden;

	(void)state;
	log_case_make(&garden, &told, false);
	struct flags flags = log_case_flags(&garden);
	assert_null(log_case_find(&flags, "feed-due"));
	assert_non_null(log_case_find(&flags, "frosted-wait"));
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_first_frost_of_the_place_decides),
		cmocka_unit_test(two_months_before_it_is_near),
		cmocka_unit_test(a_stored_night_counts_from_the_day_it_was),
		cmocka_unit_test(a_cold_spot_is_colder_than_the_station),
		cmocka_unit_test(an_imported_forecast_is_heard_until_its_night_is_past),
		cmocka_unit_test(of_several_forecasts_the_first_by_name_that_has_a_figure),
		cmocka_unit_test(a_forecast_is_said_before_the_cut),
		cmocka_unit_test(it_is_said_before_the_cut),
		cmocka_unit_test(while_it_waits_no_feed_or_cut_is_asked_for),
	};
	int failed = LOG_CASES("cut-near-frost", near) + LOG_CASES("frosted-wait", wait);

	failed += cmocka_run_group_tests_name("frost here", tests, NULL, NULL);
	return failed != 0;
}
