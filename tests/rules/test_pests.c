/* SPDX-License-Identifier: MIT */
/* scout-due, sanitation-due, quarantine-check. */
#include "support/log_case.h"

#define APPLE "A1 apple 2010"
#define PEACH "A1 peach 2010"
#define SCAB "A1 saw apple scab light @ 2025-05-10|"

/* clang-format off */
static const struct log_case scout[] = {
	{ "what_was_seen_before_is_looked_for_again", AT_COOL, APPLE, SCAB, "2026-04-10", .rule = "scout-due", .want = "note", .says = {"Look for apple scab", "seen it here on 10 ", "olive velvety"} },
	{ "on_the_first_day_of_its_months", AT_COOL, APPLE, SCAB, "2026-03-01", .rule = "scout-due", .want = "note" },
	{ "the_day_before_silence", AT_COOL, APPLE, SCAB, "2026-02-28", .rule = "scout-due", .want = "", .once = true },
	{ "on_the_last_day_of_its_months", AT_COOL, APPLE, SCAB, "2026-06-30", .rule = "scout-due", .want = "note", .once = true },
	{ "the_day_after_silence", AT_COOL, APPLE, SCAB, "2026-07-01", .rule = "scout-due", .want = "" },
	{ "another_name_of_it_is_the_same_pest", AT_COOL, APPLE, "A1 saw black spot @ 2025-05-10", "2026-04-10", .rule = "scout-due", .want = "note", .says = {"apple scab"} },
	{ "a_pest_never_seen_here_is_not_asked_for", AT_COOL, APPLE, "", "2026-04-10", .rule = "scout-due", .want = "" },
	{ "words_that_name_no_pest_ask_for_nothing", AT_COOL, APPLE, "A1 saw odd dents @ 2025-05-10", "2026-04-10", .rule = "scout-due", .want = "" },
	{ "a_pest_said_not_to_be_there_was_not_seen", AT_COOL, APPLE, "A1 saw no scab @ 2025-05-10", "2026-04-10", .rule = "scout-due", .want = "" },
	{ "seeing_it_this_season_settles_it", AT_COOL, APPLE, SCAB "A1 saw scab heavy @ 2026-04-05", "2026-04-10", .rule = "scout-due", .want = "" },
	{ "looking_and_finding_none_settles_it", AT_COOL, APPLE, SCAB "A1 saw no scab @ 2026-04-05", "2026-04-10", .rule = "scout-due", .want = "" },
	{ "a_look_two_weeks_early_counts", AT_COOL, APPLE, SCAB "A1 saw no scab @ 2026-02-16", "2026-04-10", .rule = "scout-due", .want = "", .once = true },
	{ "seeing_another_pest_does_not_settle_it", AT_COOL, APPLE, SCAB "A1 saw rosy aphids @ 2026-04-05", "2026-04-10", .rule = "scout-due", .want = "note" },
	{ "three_years_back_is_still_known", AT_COOL, APPLE, "A1 saw scab @ 2023-05-10", "2026-04-10", .rule = "scout-due", .want = "note" },
	{ "four_years_back_is_not", AT_COOL, APPLE, "A1 saw scab @ 2022-02-10", "2026-04-10", .rule = "scout-due", .want = "" },
	{ "a_stage_of_its_span_opens_it", AT_COOL, APPLE, SCAB "A1 stage 54 @ 2026-02-20", "2026-02-25", .rule = "scout-due", .want = "note", .once = true },
	{ "a_stage_before_its_span_keeps_it_silent", AT_COOL, APPLE, SCAB "A1 stage 51 @ 2026-04-01", "2026-04-10", .rule = "scout-due", .want = "" },
	{ "a_stage_past_its_span_ends_it", AT_COOL, APPLE, SCAB "A1 stage 75 @ 2026-05-20", "2026-06-01", .rule = "scout-due", .want = "", .once = true },
	{ "an_old_stage_says_nothing", AT_COOL, APPLE, SCAB "A1 stage 51 @ 2026-03-01", "2026-04-10", .rule = "scout-due", .want = "note" },
	{ "blight_of_loquat_shows_in_winter", AT_WET_WINTER, "A1 loquat 2010", "A1 saw fire blight @ 2025-01-10", "2025-12-10", .rule = "scout-due", .want = "note", .says = {"fire blight"} },
	{ "blight_of_apple_does_not", AT_COOL, APPLE, "A1 saw fire blight @ 2025-05-10", "2025-12-10", .rule = "scout-due", .want = "" },
	{ "what_shows_all_year_has_no_season", AT_COOL, PEACH, "A1 saw gum @ 2025-05-10|A1 saw crown gall @ 2025-06-01", "2026-06-10", .rule = "scout-due", .want = "" },
	{ "drought_is_no_pest", AT_WET_WINTER, APPLE, "A1 saw drought @ 2025-07-10", "2026-07-10", .rule = "scout-due", .want = "" },
	{ "two_pests_two_notes", AT_COOL, APPLE, SCAB "A1 saw codling moth @ 2025-06-10", "2026-04-10", .rule = "scout-due", .want = "note note" },
	{ "doubt_which_fly_asks_for_none", AT_WET_WINTER, PEACH, "A1 saw fruit fly @ 2025-07-10", "2026-07-10", .rule = "scout-due", .want = "" },
	{ "a_grower_who_looks_each_season_is_told_what_begins", AT_CONTINENTAL, APPLE, "A1 saw odd dents @ 2024-09-10|A1 saw odd dents @ 2025-09-10", "2026-04-10", .rule = "scout-due", .want = "note", .says = {"each season", "codling moth"} },
	{ "one_season_is_no_habit", AT_CONTINENTAL, APPLE, "A1 saw odd dents @ 2025-09-10", "2026-04-10", .rule = "scout-due", .want = "" },
	{ "who_has_just_looked_is_not_asked", AT_CONTINENTAL, APPLE, "A1 saw odd dents @ 2024-09-10|A1 saw odd dents @ 2025-09-10|A1 saw all clean @ 2026-04-08", "2026-04-10", .rule = "scout-due", .want = "" },
	{ "three_weeks_after_the_first_day_silence", AT_CONTINENTAL, APPLE, "A1 saw odd dents @ 2024-09-10|A1 saw odd dents @ 2025-09-10", "2026-04-24", .rule = "scout-due", .want = "" },
	{ "an_unknown_kind_is_silent", AT_COOL, "A1 - 2010", SCAB, "2026-04-10", .rule = "scout-due", .want = "" },
	{ "no_hemisphere_no_season", AT_NOWHERE, APPLE, SCAB, "2026-04-10", .rule = "scout-due", .want = "", .once = true },
	{ "the_tropics_no_season", AT_TROPICS, APPLE, SCAB, "2026-04-10", .rule = "scout-due", .want = "", .once = true },
};

#define MUMMIES "A1 saw brown rot @ 2025-07-20|"
static const struct log_case clean[] = {
	{ "mummies_after_brown_rot", AT_COOL, PEACH, MUMMIES, "2026-01-15", .rule = "sanitation-due", .want = "due", .says = {"mummy off tree", "brown rot was seen here", "burn it only where that is allowed"} },
	{ "every_strike_is_listed_with_the_distance_of_winter", AT_CONTINENTAL, "A1 european_pear 2012", "A1 saw fire blight on the north limb @ 2025-05-20|A1 saw 2 fire blight strikes on limb 3 @ 2025-06-12", "2026-01-15", .rule = "sanitation-due", .want = "due", .says = {"seen here 2 times, last on", "Cut 6 to 8 in (United States) below the last sign"} },
	{ "a_kind_without_one_of_winter_has_that_of_the_year", AT_CONTINENTAL, "A1 quince 2012", "A1 saw fire blight @ 2025-05-20", "2026-01-15", .rule = "sanitation-due", .want = "due", .says = {"was seen here on", "Cut 8 to 12 in (California), 6 to 12 in (Illinois) below"} },
	{ "on_the_first_day", AT_COOL, PEACH, MUMMIES, "2026-01-01", .rule = "sanitation-due", .want = "due" },
	{ "the_day_before_silence", AT_COOL, PEACH, MUMMIES, "2025-12-31", .rule = "sanitation-due", .want = "", .once = true },
	{ "on_the_last_day", AT_COOL, PEACH, MUMMIES, "2026-02-28", .rule = "sanitation-due", .want = "due" },
	{ "the_day_after_silence", AT_COOL, PEACH, MUMMIES, "2026-03-01", .rule = "sanitation-due", .want = "" },
	{ "no_cause_no_word", AT_COOL, PEACH, "", "2026-01-15", .rule = "sanitation-due", .want = "" },
	{ "another_cause_no_word", AT_COOL, PEACH, "A1 saw leaf curl @ 2025-05-01", "2026-01-15", .rule = "sanitation-due", .want = "" },
	{ "two_years_back_is_no_cause", AT_COOL, PEACH, "A1 saw brown rot @ 2024-07-20", "2026-01-15", .rule = "sanitation-due", .want = "" },
	{ "a_crop_lost_to_it_is_a_cause", AT_COOL, PEACH, "A1 lost 3 kg brown rot @ 2025-07-20", "2026-01-15", .rule = "sanitation-due", .want = "due" },
	{ "mummies_seen_are_not_mummies_taken", AT_COOL, PEACH, "A1 saw mummies @ 2026-01-10", "2026-01-15", .rule = "sanitation-due", .want = "due" },
	{ "the_work_clears_it", AT_COOL, PEACH, MUMMIES "A1 cut sanitation @ 2026-01-10", "2026-01-15", .rule = "sanitation-due", .want = "" },
	{ "so_does_a_note_of_it", AT_COOL, PEACH, MUMMIES "A1 note mummies binned @ 2026-01-10", "2026-01-15", .rule = "sanitation-due", .want = "" },
	{ "work_two_weeks_early_counts", AT_COOL, PEACH, MUMMIES "A1 note mummies binned @ 2025-12-20", "2026-01-15", .rule = "sanitation-due", .want = "" },
	{ "work_of_last_year_does_not", AT_COOL, PEACH, MUMMIES "A1 note mummies binned @ 2025-01-20", "2026-01-15", .rule = "sanitation-due", .want = "due" },
	{ "another_cut_does_not", AT_COOL, PEACH, MUMMIES "A1 cut thinning 5% of crown @ 2026-01-10", "2026-01-15", .rule = "sanitation-due", .want = "due" },
	{ "a_habit_of_two_years", AT_COOL, PEACH, "A1 note mummies binned @ 2024-01-20|A1 note mummies binned @ 2025-02-03", "2026-01-15", .rule = "sanitation-due", .want = "due", .says = {"You did so in 2 of the last 6 years"} },
	{ "once_is_no_habit", AT_COOL, PEACH, "A1 note mummies binned @ 2025-02-03", "2026-01-15", .rule = "sanitation-due", .want = "" },
	{ "leaves_after_scab", AT_COOL, APPLE, "A1 saw scab @ 2026-05-10", "2026-11-10", .rule = "sanitation-due", .want = "due", .says = {"Rake leaves", "apple scab"} },
	{ "raked_leaves_clear_it", AT_COOL, APPLE, "A1 saw scab @ 2026-05-10|A1 note raked leaves @ 2026-11-08", "2026-11-10", .rule = "sanitation-due", .want = "" },
	{ "knots_before_bud_break", AT_CONTINENTAL, "A1 european_plum 2010", "A1 saw black knot @ 2025-06-10", "2026-02-10", .rule = "sanitation-due", .want = "due", .says = {"Cut black knots"}, },
	{ "what_is_from_memory_is_a_note", AT_HUMID, "A1 orange 2010", "A1 saw citrus gall wasp @ 2025-06-10", "2026-02-10", .rule = "sanitation-due", .want = "note" },
	{ "a_tree_left_alone_is_cleaned_all_the_same", AT_COOL, PEACH, MUMMIES "A1 leave until 2027-01 @ 2025-12-01", "2026-01-15", .rule = "sanitation-due", .want = "due" },
	{ "an_unknown_kind_is_silent", AT_COOL, "A1 - 2010", MUMMIES, "2026-01-15", .rule = "sanitation-due", .want = "" },
	{ "no_hemisphere_no_months", AT_NOWHERE, PEACH, MUMMIES, "2026-01-15", .rule = "sanitation-due", .want = "", .once = true },
	{ "the_tropics_no_months", AT_TROPICS, PEACH, MUMMIES, "2026-01-15", .rule = "sanitation-due", .want = "", .once = true },
};

static const struct log_case quarantine[] = {
	{ "greening_seen_is_asked_about", AT_HUMID, "A1 orange 2010", "A1 saw citrus greening @ 2026-01-10", "2026-01-15", .rule = "quarantine-check", .want = "note", .says = {"may be citrus greening", "Ask your plant health authority", "do not move or compost it"} },
	{ "for_400_days", AT_HUMID, "A1 orange 2010", "A1 saw HLB @ 2026-01-10", "2027-02-14", .rule = "quarantine-check", .want = "note", .once = true },
	{ "then_silence", AT_HUMID, "A1 orange 2010", "A1 saw HLB @ 2026-01-10", "2027-02-15", .rule = "quarantine-check", .want = "", .once = true },
	{ "fire_blight_alone_is_no_matter", AT_COOL, APPLE, "A1 saw fire blight @ 2026-05-10", "2026-05-15", .rule = "quarantine-check", .want = "" },
	{ "fire_blight_and_scions_given", AT_COOL, APPLE, "A1 saw fire blight @ 2025-05-10|A1 note gave scions to a neighbour @ 2026-02-10", "2026-02-15", .rule = "quarantine-check", .want = "note", .says = {"may be fire blight", "something was moved"} },
	{ "fire_blight_and_fruit_given", AT_COOL, APPLE, "A1 saw fire blight @ 2026-05-10|A1 picked 5 kg @ 2026-09-10 ; gave most to a neighbour", "2026-09-12", .rule = "quarantine-check", .want = "" },
	{ "maggots_and_fruit_given", AT_COOL, APPLE, "A1 saw apple maggot @ 2026-08-10|A1 picked 5 kg @ 2026-09-10 ; gave most to a neighbour", "2026-09-12", .rule = "quarantine-check", .want = "note", .says = {"may be apple maggot"} },
	{ "scions_given_of_a_kind_under_quarantine", AT_HUMID, "A1 orange 2010", "A1 note gave budwood to a friend @ 2026-02-10", "2026-02-15", .rule = "quarantine-check", .want = "note", .says = {"moved on", "Ask your plant health authority"} },
	{ "for_60_days", AT_HUMID, "A1 orange 2010", "A1 note gave budwood to a friend @ 2026-02-10", "2026-04-11", .rule = "quarantine-check", .want = "note", .once = true },
	{ "not_for_61", AT_HUMID, "A1 orange 2010", "A1 note gave budwood to a friend @ 2026-02-10", "2026-04-12", .rule = "quarantine-check", .want = "", .once = true },
	{ "fruit_given_away_is_no_matter", AT_HUMID, "A1 orange 2010", "A1 picked 5 kg @ 2026-02-10 ; gave most to a neighbour", "2026-02-15", .rule = "quarantine-check", .want = "" },
	{ "fruit_given_away_where_greening_was_seen", AT_HUMID, "A1 orange 2010", "A1 saw greening @ 2026-01-10|A1 picked 5 kg @ 2026-02-10 ; gave most to a neighbour", "2026-02-15", .rule = "quarantine-check", .want = "note note" },
	{ "scions_by_post_enter", AT_HUMID, "A1 orange 2010", "A1 note budwood came by post @ 2026-02-10", "2026-02-15", .rule = "quarantine-check", .want = "note" },
	{ "a_kind_with_no_quarantine_is_silent", AT_WET_WINTER, "A1 fig 2010", "A1 note gave cuttings to a friend @ 2026-02-10", "2026-02-15", .rule = "quarantine-check", .want = "" },
	{ "a_note_of_other_things_is_silent", AT_HUMID, "A1 orange 2010", "A1 note gave it a good soak @ 2026-02-10", "2026-02-15", .rule = "quarantine-check", .want = "" },
	{ "it_needs_no_hemisphere", AT_NOWHERE, "A1 orange 2010", "A1 saw citrus greening @ 2026-01-10", "2026-01-15", .rule = "quarantine-check", .want = "note", .once = true },
	{ "an_unknown_kind_is_silent", AT_HUMID, "A1 - 2010", "A1 saw citrus greening @ 2026-01-10", "2026-01-15", .rule = "quarantine-check", .want = "" },
};
/* clang-format on */

/* --- heat --- */

/* Every day from New Year to `last` at the same extremes. */
static void store_weather(
	struct garden *garden, const char *last, int32_t min, int32_t max, const char *but)
{
	struct fault why = {0};
	bool was_same = false;
	check_ok(store_act_begin(garden->store, ACT_WORK, "weather", &why), &why);
	for (struct date day = garden_day("2026-01-01"); date_compare(day, garden_day(last)) <= 0;
		day = date_add_days(day, 1)) {
		struct weather_day row = {.day = day,
			.station = "yard",
			.min_decic = known_i32(min),
			.max_decic = known_i32(max)};
		if (but == NULL || date_compare(day, garden_day(but)) != 0)
			check_ok(store_weather_day_put(garden->store, &row, &was_same, &why), &why);
	}
	check_ok(store_act_commit(garden->store, &why), &why);
	garden_look(garden);
}

static struct flags flags_of_moth(
	const char *last, int32_t max, const char *but, const char *today, struct garden *garden)
{
	const struct log_case told = {.place = AT_CONTINENTAL,
		.trees = APPLE,
		.lines = "A1 saw codling moth @ 2025-06-10",
		.today = today};
	log_case_make(garden, &told, false);
	store_weather(garden, last, 50, max, but);
	return log_case_flags(garden);
}

static bool has_evidence(const struct flag *flag, const char *text)
{
	for (int32_t i = 0; flag != NULL && i < flag->evidence_count; i++)
		if (strstr(flag->evidence[i], text) != NULL)
			return true;
	return false;
}

/* 5 to 25 C is 6.3 degree-days over 10 C by the sine: 96 of them by mid January, far too early. */
static void heat_that_was_reached_is_told(void **state)
{
	(void)state;
	struct garden garden;
	struct flags flags = flags_of_moth("2026-04-09", 170, NULL, "2026-04-10", &garden);
	const struct flag *flag = log_case_find(&flags, "scout-due");
	assert_non_null(flag);
	assert_true(has_evidence(flag, "degree-days since"));
	assert_true(has_evidence(flag, "Washington"));
	garden_free(&garden);
}

static void heat_opens_a_season_six_weeks_before_its_months(void **state)
{
	(void)state;
	struct garden garden;
	struct flags flags = flags_of_moth("2026-02-27", 200, NULL, "2026-02-28", &garden);
	assert_non_null(log_case_find(&flags, "scout-due"));
	garden_free(&garden);
	flags = flags_of_moth("2026-02-13", 300, NULL, "2026-02-14", &garden);
	assert_null(log_case_find(&flags, "scout-due"));
	garden_free(&garden);
}

static void heat_short_of_the_total_opens_nothing(void **state)
{
	(void)state;
	struct garden garden;
	struct flags flags = flags_of_moth("2026-02-27", 110, NULL, "2026-02-28", &garden);
	assert_null(log_case_find(&flags, "scout-due"));
	garden_free(&garden);
}

static void a_missing_day_tells_no_heat(void **state)
{
	(void)state;
	struct garden garden;
	struct flags flags = flags_of_moth("2026-04-09", 170, "2026-02-02", "2026-04-10", &garden);
	const struct flag *flag = log_case_find(&flags, "scout-due");
	assert_non_null(flag);
	assert_false(has_evidence(flag, "degree-days since"));
	garden_free(&garden);
}

static void weather_a_week_old_still_counts_and_no_longer(void **state)
{
	(void)state;
	struct garden garden;
	struct flags flags = flags_of_moth("2026-04-03", 170, NULL, "2026-04-10", &garden);
	assert_true(has_evidence(log_case_find(&flags, "scout-due"), "degree-days since"));
	garden_free(&garden);
	flags = flags_of_moth("2026-04-02", 170, NULL, "2026-04-10", &garden);
	assert_false(has_evidence(log_case_find(&flags, "scout-due"), "degree-days since"));
	garden_free(&garden);
}

/* --- what the flags carry --- */

static void a_note_to_look_carries_the_first_response_and_its_source(void **state)
{
	(void)state;
	struct garden garden;
	const struct log_case told = {
		.place = AT_COOL, .trees = APPLE, .lines = SCAB, .today = "2026-04-10"};
	log_case_make(&garden, &told, false);
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "scout-due");
	assert_non_null(flag);
	check_text(flag->source, "uc-vossen-calendar", "source");
	assert_true(has_evidence(flag, "apple scab, first: rake"));
	assert_true(has_evidence(flag, "sooty blotch (rubs off)"));
	check_text(flag->fills, "A1 saw ", "fills");
	check_int(flag->settles, KIND_SAW, "settles");
	check_has(flag->key, "apple-scab", "key");
	garden_free(&garden);
}

static void saved_lines_say_what_it_may_be(void **state)
{
	(void)state;
	struct garden garden;
	const struct log_case told = {
		.place = AT_COOL, .trees = APPLE, .lines = "", .today = "2026-04-10"};
	log_case_make(&garden, &told, false);
	garden_log(&garden, "A1 saw scab light @ 2026-04-09");
	check_has(garden.logged.said, "it may be apple scab", "named");
	garden_log(&garden, "A1 saw fire blight @ 2026-04-09");
	assert_null(strstr(garden.logged.said, "may be fire blight"));
	garden_log(&garden, "A1 saw odd dents @ 2026-04-09");
	assert_null(strstr(garden.logged.said, "may be"));
	garden_free(&garden);
}

int main(void)
{
	int failed = LOG_CASES("scout-due", scout);
	failed += LOG_CASES("sanitation-due", clean);
	failed += LOG_CASES("quarantine-check", quarantine);
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(heat_that_was_reached_is_told),
		cmocka_unit_test(heat_opens_a_season_six_weeks_before_its_months),
		cmocka_unit_test(heat_short_of_the_total_opens_nothing),
		cmocka_unit_test(a_missing_day_tells_no_heat),
		cmocka_unit_test(weather_a_week_old_still_counts_and_no_longer),
		cmocka_unit_test(a_note_to_look_carries_the_first_response_and_its_source),
		cmocka_unit_test(saved_lines_say_what_it_may_be),
	};
	failed += cmocka_run_group_tests_name("rules pests", tests, NULL, NULL);
	return failed != 0;
}
