/* SPDX-License-Identifier: MIT */
/* blight-cut-short: the distance below the last sign, tools, rain; sources that differ. */
#include "support/log_case.h"

#define APPLE "A1 apple 2012"
#define PEAR "A1 european_pear 2012"
#define BLIGHT(far, day) "A1 cut fire blight " far " below the last sign @ " day

/* clang-format off */
static const struct log_case cases[] = {
	{ "below_what_any_source_says_is_an_act", AT_CONTINENTAL, APPLE, BLIGHT("4 in", "2027-06-10"), "2027-06-12", .rule = "blight-cut-short", .want = "act", .says = {"went 4 in below the last sign; sources say 8 to 12 in (California), 6 to 12 in (Illinois), 12 in (New York)", "Cut again, further down", "70 % alcohol"} },
	{ "where_sources_differ_it_is_a_note", AT_CONTINENTAL, APPLE, BLIGHT("6 in", "2027-06-10"), "2027-06-12", .rule = "blight-cut-short", .want = "note", .says = {"sources differ: 8 to 12 in (California)", "own choice blight-cut-short"} },
	{ "just_under_the_strictest_too", AT_CONTINENTAL, APPLE, BLIGHT("11.5 in", "2027-06-10"), "2027-06-12", .rule = "blight-cut-short", .want = "note" },
	{ "at_the_strictest_it_is_far_enough", AT_CONTINENTAL, APPLE, BLIGHT("12 in", "2027-06-10"), "2027-06-12", .rule = "blight-cut-short", .want = "" },
	{ "a_loquat_in_florida_wants_more", AT_HUMID, "A1 loquat 2012", BLIGHT("9 in", "2027-03-10"), "2027-03-12", .rule = "blight-cut-short", .want = "note", .says = {"12 to 18 in (Florida)"} },
	{ "a_loquat_under_six_inches", AT_HUMID, "A1 loquat 2012", BLIGHT("5 in", "2027-03-10"), "2027-03-12", .rule = "blight-cut-short", .want = "act" },
	{ "unsaid_it_is_asked", AT_CONTINENTAL, APPLE, "A1 cut fire blight @ 2027-06-10", "2027-06-12", .rule = "blight-cut-short", .want = "note", .says = {"is not said; cut 8 to 12 in"} },
	{ "asked_for_three_weeks", AT_CONTINENTAL, APPLE, "A1 cut fire blight @ 2027-06-10", "2027-06-28", .rule = "blight-cut-short", .want = "note" },
	{ "and_no_longer", AT_CONTINENTAL, APPLE, "A1 cut fire blight @ 2027-06-10", "2027-07-02", .rule = "blight-cut-short", .want = "" },
	{ "dead_wood_after_blight_was_seen_is_blight", AT_CONTINENTAL, APPLE, "A1 saw fire blight @ 2027-06-08|A1 cut dead wood 3 in below @ 2027-06-10", "2027-06-12", .rule = "blight-cut-short", .want = "act" },
	{ "dead_wood_with_nothing_seen_is_dead_wood", AT_CONTINENTAL, APPLE, "A1 cut dead wood 3 in below @ 2027-06-10", "2027-06-12", .rule = "blight-cut-short", .want = "" },
	{ "blight_seen_a_season_ago_is_not_it", AT_CONTINENTAL, APPLE, "A1 saw fire blight @ 2027-03-08|A1 cut dead wood 3 in below @ 2027-06-10", "2027-06-12", .rule = "blight-cut-short", .want = "" },
	{ "blighted_wood_in_one_word", AT_CONTINENTAL, APPLE, "A1 cut blighted 4 in below @ 2027-06-10", "2027-06-12", .rule = "blight-cut-short", .want = "act" },
	{ "a_shape_cut_is_not_blight", AT_CONTINENTAL, APPLE, "A1 saw fire blight @ 2027-06-08|A1 cut shape 10% of crown @ 2027-06-10", "2027-06-12", .rule = "blight-cut-short", .want = "" },
	{ "blight_in_the_note_is_no_word_of_the_cut", AT_CONTINENTAL, APPLE, "A1 cut shape 10% of crown @ 2027-03-10 ; no blight seen", "2027-03-12", .rule = "blight-cut-short", .want = "" },
	{ "uncleaned_tools_in_growth_are_an_act", AT_CONTINENTAL, APPLE, "A1 cut fire blight 14 in below, tools not cleaned @ 2027-06-10", "2027-06-12", .rule = "blight-cut-short", .want = "act", .says = {"tools were not cleaned", "70 % alcohol"} },
	{ "at_rest_tools_need_no_cleaning", AT_CONTINENTAL, APPLE, "A1 cut fire blight 14 in below, tools not cleaned @ 2027-02-10", "2027-02-12", .rule = "blight-cut-short", .want = "" },
	{ "tools_unsaid_are_not_held_against_it", AT_CONTINENTAL, APPLE, BLIGHT("14 in", "2027-06-10"), "2027-06-12", .rule = "blight-cut-short", .want = "" },
	{ "rain_in_growth_is_an_act", AT_CONTINENTAL, APPLE, "rain 3 mm @ 2027-06-10|" BLIGHT("14 in", "2027-06-10"), "2027-06-12", .rule = "blight-cut-short", .want = "act", .says = {"rain carries it"} },
	{ "rain_at_rest_is_not", AT_CONTINENTAL, APPLE, "rain 3 mm @ 2027-02-10|" BLIGHT("14 in", "2027-02-10"), "2027-02-12", .rule = "blight-cut-short", .want = "" },
	{ "after_22_days_a_note", AT_CONTINENTAL, APPLE, BLIGHT("4 in", "2027-06-10"), "2027-07-02", .rule = "blight-cut-short", .want = "note", .once = true },
	{ "after_a_year_silence", AT_CONTINENTAL, APPLE, BLIGHT("4 in", "2027-06-10"), "2028-06-11", .rule = "blight-cut-short", .want = "", .once = true },
	{ "cut_again_it_is_mended", AT_CONTINENTAL, APPLE, BLIGHT("4 in", "2027-06-10") "|" BLIGHT("14 in", "2027-06-12"), "2027-06-13", .rule = "blight-cut-short", .want = "" },
	{ "cut_again_too_short_is_two", AT_CONTINENTAL, APPLE, BLIGHT("4 in", "2027-06-10") "|" BLIGHT("5 in", "2027-06-12"), "2027-06-13", .rule = "blight-cut-short", .want = "act act" },
	{ "a_pear_at_rest_has_a_distance_of_its_own", AT_WET_WINTER, PEAR, BLIGHT("5 in", "2027-01-20"), "2027-01-21", .rule = "blight-cut-short", .want = "act", .says = {"the advice is 6 to 8 in (United States)", "none of it on the compost"} },
	{ "six_inches_at_rest_are_enough", AT_WET_WINTER, PEAR, BLIGHT("6 in", "2027-01-20"), "2027-01-21", .rule = "blight-cut-short", .want = "" },
	{ "in_growth_they_are_not", AT_WET_WINTER, PEAR, BLIGHT("6 in", "2027-06-20"), "2027-06-21", .rule = "blight-cut-short", .want = "note", .says = {"break soft shoots off by hand", "Give no nitrogen meanwhile"} },
	{ "with_no_hemisphere_no_rest_is_known", AT_NOWHERE, PEAR, BLIGHT("7 in", "2027-01-20"), "2027-01-21", .rule = "blight-cut-short", .want = "note", .once = true },
	{ "eutypa_of_an_apricot_is_a_foot", AT_WET_WINTER, "A1 apricot 2012", "A1 cut sanitation 8 in below for eutypa @ 2026-07-10", "2026-07-12", .rule = "blight-cut-short", .want = "act", .says = {"for Eutypa", "12 in (California)"} },
	{ "canker_of_a_sweet_cherry_is_five_inches", AT_COOL, "A1 sweet_cherry 2012", "A1 cut cankers 4 in below @ 2026-07-10", "2026-07-12", .rule = "blight-cut-short", .want = "act", .says = {"5 in (Washington)"} },
	{ "at_five_it_is_enough", AT_COOL, "A1 sweet_cherry 2012", "A1 cut cankers 5 in below @ 2026-07-10", "2026-07-12", .rule = "blight-cut-short", .want = "" },
	{ "filbert_blight_cankers_are_a_foot", AT_COOL, "A1 hazelnut 2012", "A1 cut cankers 10 in below @ 2027-01-10", "2027-01-12", .rule = "blight-cut-short", .want = "act", .says = {"12 to 36 in (Oregon)"} },
	{ "black_knot_from_memory_is_a_note", AT_CONTINENTAL, "A1 european_plum 2012", "A1 cut sanitation 1 in below for black knot @ 2027-02-10", "2027-02-12", .rule = "blight-cut-short", .want = "note", .says = {"from memory", "Burn or bag"} },
	{ "silver_leaf_from_memory_is_a_note", AT_COOL, "A1 european_plum 2012", "A1 cut sanitation 2 in below for silver leaf @ 2026-07-10", "2026-07-12", .rule = "blight-cut-short", .want = "note", .says = {"United Kingdom"} },
	{ "a_kind_with_no_distance_says_nothing", AT_WET_WINTER, "A1 fig 2012", "A1 cut cankers 1 in below @ 2026-07-10", "2026-07-12", .rule = "blight-cut-short", .want = "" },
	{ "an_apple_canker_is_not_fire_blight", AT_COOL, APPLE, "A1 cut cankers 1 in below @ 2026-07-10", "2026-07-12", .rule = "blight-cut-short", .want = "" },
	{ "an_unknown_kind_says_nothing", AT_COOL, "A1 - 2012", BLIGHT("4 in", "2027-06-10"), "2027-06-12", .rule = "blight-cut-short", .want = "" },
	{ "no_hemisphere_is_needed_for_a_distance", AT_NOWHERE, APPLE, BLIGHT("4 in", "2027-06-10"), "2027-06-12", .rule = "blight-cut-short", .want = "act", .once = true },
	{ "metres_are_read_too", AT_CONTINENTAL, APPLE, BLIGHT("10 cm", "2027-06-10"), "2027-06-12", .rule = "blight-cut-short", .want = "act" },
};
/* clang-format on */

static void choose(struct garden *garden, const char *source)
{
	struct choice choice = {.rule = "blight-cut-short"};
	struct fault why = {0};

	snprintf(choice.source, sizeof choice.source, "%s", source);
	check_ok(store_act_begin(garden->store, ACT_WORK, "choice", &why), &why);
	check_ok(store_choice_add(garden->store, &choice, &why), &why);
	check_ok(store_act_commit(garden->store, &why), &why);
	garden_look(garden);
}

static void check_chosen(const char *source, int want)
{
	const struct log_case told = {.place = AT_CONTINENTAL,
		.trees = APPLE,
		.lines = BLIGHT("7 in", "2027-06-10"),
		.today = "2027-06-12"};
	struct garden garden;

	log_case_make(&garden, &told, false);
	if (source[0] != '\0')
		choose(&garden, source);
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "blight-cut-short");
	check_int(flag != NULL ? (int)flag->urgency : -1, want, source);
	garden_free(&garden);
}

static void the_place_follows_the_source_it_chose(void **state)
{
	(void)state;
	check_chosen("", URGENCY_NOTE);              /* they differ */
	check_chosen("illinois-fire-blight", -1);    /* 6 to 12 in */
	check_chosen("cornell-blight", URGENCY_ACT); /* 12 in */
	check_chosen("uc-ipm-eutypa", URGENCY_NOTE); /* says nothing of this: all stand */
}

/* A source that names no winter distance counts in winter too, where the place follows it. */
static void in_winter_too_the_place_follows_its_source(void **state)
{
	const struct log_case told = {.place = AT_WET_WINTER,
		.trees = PEAR,
		.lines = BLIGHT("6 in", "2027-01-20"),
		.today = "2027-01-21"};
	struct garden garden;

	(void)state;
	log_case_make(&garden, &told, false);
	choose(&garden, "ucnfa-blight"); /* 8 to 12 in */
	struct flags flags = log_case_flags(&garden);
	check_int(log_case_find(&flags, "blight-cut-short")->urgency, URGENCY_ACT, "chosen");
	garden_free(&garden);
}

/* By each source how far it falls short, and the warning where the grower names the cleaner. */
static void what_falls_short_is_told_source_by_source(void **state)
{
	const struct log_case told = {.place = AT_WET_WINTER,
		.trees = PEAR,
		.lines = "A1 cut blighted shoots 3-5 in below @ 2026-06-20 ; Bleach after each cut",
		.today = "2026-06-20"};
	struct garden garden;
	char all[2000] = "";

	(void)state;
	log_case_make(&garden, &told, false);
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "blight-cut-short");
	for (int32_t i = 0; i < flag->evidence_count; i++)
		snprintf(all + strlen(all), sizeof all - strlen(all), "%s\n", flag->evidence[i]);
	check_has(all,
		"8 to 12 in (California): fire blight, more on limbs and trunk in May and "
		"June; short by 3 to 9 in",
		"by one");
	check_has(all, "back to a junction; short by 1 to 9 in", "by another");
	check_has(all, "research doubts that dips help", "of tools");
	check_has(flag->action, "never mix anything else in", "of what was named");
	garden_free(&garden);
}

static void it_is_said_before_the_cut(void **state)
{
	const struct log_case told = {.place = AT_CONTINENTAL,
		.trees = APPLE,
		.lines = "A1 saw fire blight @ 2027-06-08",
		.today = "2027-06-10"};
	struct garden garden;

	(void)state;
	log_case_make(&garden, &told, false);
	struct flags flags = log_case_try(&garden, "A1", "A1 cut fire blight 4 in below");
	check_int(log_case_find(&flags, "blight-cut-short")->urgency, URGENCY_ACT, "short");
	flags = log_case_try(&garden, "A1", "A1 cut fire blight 14 in below, tools cleaned");
	assert_null(log_case_find(&flags, "blight-cut-short"));
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_place_follows_the_source_it_chose),
		cmocka_unit_test(in_winter_too_the_place_follows_its_source),
		cmocka_unit_test(what_falls_short_is_told_source_by_source),
		cmocka_unit_test(it_is_said_before_the_cut),
	};
	int failed = LOG_CASES("blight-cut-short", cases);

	failed += cmocka_run_group_tests_name("distances", tests, NULL, NULL);
	return failed != 0;
}
