/* SPDX-License-Identifier: MIT */
/* pick-soon, pick-unlogged, spray-interval. */
#include "support/log_case.h"

#define LOQUAT "A1 loquat 2010"
/* four seasons from 20 April to 10 May */
#define PICKS                                                                                   \
	"A1 picked 5 kg @ 2023-04-20|A1 picked 5 kg, last @ 2023-05-10|A1 picked 5 kg @ "       \
	"2024-04-20|"                                                                           \
	"A1 picked 5 kg, last @ 2024-05-10|A1 picked 5 kg @ 2025-04-20|A1 picked 5 kg, last @ " \
	"2025-05-10|"                                                                           \
	"A1 picked 5 kg @ 2026-04-20|A1 picked 5 kg, last @ 2026-05-10|"

/* 120 and 130 days */
#define BLOOMED                                                                            \
	"A1 bloom @ 2024-04-10|A1 picked 5 kg @ 2024-08-08|A1 bloom @ 2025-04-10|A1 full " \
	"bloom @ 2025-04-16|A1 picked 5 kg @ 2025-08-18|A1 bloom @ 2026-04-20"

/* clang-format off */
static const struct log_case soon[] = {
	{ "by_its_own_first_picks", AT_WET_WINTER, LOQUAT, PICKS, "2027-04-14", .rule = "pick-soon", .want = "soon", .says = {"by your picks, 4 seasons", "Start looking"} },
	{ "two_weeks_ahead", AT_WET_WINTER, LOQUAT, PICKS, "2027-04-06", .rule = "pick-soon", .want = "soon" },
	{ "fifteen_days_ahead_silence", AT_WET_WINTER, LOQUAT, PICKS, "2027-04-05", .rule = "pick-soon", .want = "" },
	{ "on_the_first_day", AT_WET_WINTER, LOQUAT, PICKS, "2027-04-20", .rule = "pick-soon", .want = "soon" },
	{ "the_day_after_silence", AT_WET_WINTER, LOQUAT, PICKS, "2027-04-21", .rule = "pick-soon", .want = "" },
	{ "once_picking_began_silence", AT_WET_WINTER, LOQUAT, PICKS "A1 picked 1 kg @ 2027-04-12", "2027-04-14", .rule = "pick-soon", .want = "" },
	{ "one_season_teaches_nothing", AT_WET_WINTER, LOQUAT, "A1 picked 5 kg @ 2026-04-20", "2027-01-25", .rule = "pick-soon", .want = "" },
	{ "by_this_season_s_bloom_and_the_days_of_its_kind", AT_WET_WINTER, "A1 sour_cherry 2012", "A1 picked 5 kg @ 2025-06-20|A1 full bloom @ 2026-04-10", "2026-06-01", .rule = "pick-soon", .want = "note", .says = {"by the days from its bloom of"} },
	{ "by_its_own_picks_before_its_bloom", AT_WET_WINTER, "A1 sour_cherry 2012", "A1 picked 5 kg @ 2024-06-20|A1 picked 5 kg @ 2025-06-20|A1 full bloom @ 2026-04-10", "2026-06-10", .rule = "pick-soon", .want = "soon", .says = {"by your picks, 2 seasons"} },
	{ "sixty_days_after_full_bloom_less_two_weeks", AT_WET_WINTER, "A1 sour_cherry 2012", "A1 picked 5 kg @ 2025-06-20|A1 full bloom @ 2026-04-10", "2026-05-26", .rule = "pick-soon", .want = "note", .says = {"9-24 June 2026"}, .once = true },
	{ "and_no_sooner", AT_WET_WINTER, "A1 sour_cherry 2012", "A1 picked 5 kg @ 2025-06-20|A1 full bloom @ 2026-04-10", "2026-05-25", .rule = "pick-soon", .want = "", .once = true },
	{ "by_the_days_its_own_seasons_took_from_bloom", AT_WET_WINTER, "A1 apple 2012", BLOOMED, "2026-08-17", .rule = "pick-soon", .want = "soon", .says = {"by the days from its bloom of 20 April 2026"}, .once = true },
	{ "two_weeks_before_the_sooner_of_them", AT_WET_WINTER, "A1 apple 2012", BLOOMED, "2026-08-04", .rule = "pick-soon", .want = "soon", .says = {"18-28 August 2026"}, .once = true },
	{ "and_not_a_day_before", AT_WET_WINTER, "A1 apple 2012", BLOOMED, "2026-08-03", .rule = "pick-soon", .want = "", .once = true },
	{ "one_season_with_both_is_no_past", AT_WET_WINTER, "A1 apple 2012", "A1 bloom @ 2025-04-10|A1 picked 5 kg @ 2025-08-08|A1 bloom @ 2026-04-20", "2026-08-10", .rule = "pick-soon", .want = "", .once = true },
	{ "seasons_that_agree_are_still_a_span", AT_WET_WINTER, "A1 apple 2012", "A1 bloom @ 2024-04-10|A1 picked 5 kg @ 2024-08-08|A1 bloom @ 2025-04-10|A1 picked 5 kg @ 2025-08-08|A1 bloom @ 2026-04-20", "2026-08-10", .rule = "pick-soon", .want = "soon", .says = {"15-21 August 2026"}, .once = true },
	{ "seasons_far_apart_say_nothing", AT_WET_WINTER, "A1 apple 2012", "A1 bloom @ 2024-04-10|A1 picked 5 kg @ 2024-07-20|A1 bloom @ 2025-04-10|A1 picked 5 kg @ 2025-10-08|A1 bloom @ 2026-04-20", "2026-08-10", .rule = "pick-soon", .want = "", .once = true },
	{ "an_apple_of_no_name_has_no_days", AT_WET_WINTER, "A1 apple 2012", "A1 picked 5 kg @ 2025-08-20|A1 full bloom @ 2026-04-10", "2026-07-28", .rule = "pick-soon", .want = "" },
	{ "a_tree_that_was_never_picked_is_not_told", AT_WET_WINTER, "A1 sour_cherry 2012", "A1 full bloom @ 2026-04-10", "2026-06-01", .rule = "pick-soon", .want = "" },
	{ "the_days_of_many_cultivars_say_nothing", AT_WET_WINTER, "A1 loquat 2012", "A1 picked 5 kg @ 2025-04-20|A1 bloom @ 2025-11-01", "2026-01-25", .rule = "pick-soon", .want = "" },
	{ "a_wide_span_of_the_almanac_says_no_day", AT_WET_WINTER, LOQUAT, "A1 picked 5 kg @ 2026-04-20", "2027-01-30", .rule = "pick-soon", .want = "" },
	{ "picks_far_apart_are_not_applied", AT_WET_WINTER, LOQUAT, "A1 picked 5 kg @ 2024-02-10|A1 picked 5 kg @ 2025-06-14|A1 picked 5 kg @ 2026-02-10", "2027-02-05", .rule = "pick-soon", .want = "" },
	{ "a_tree_never_picked_is_silent", AT_WET_WINTER, LOQUAT, "", "2027-04-14", .rule = "pick-soon", .want = "" },
	{ "an_unknown_kind_is_silent", AT_WET_WINTER, "A1 - 2010", PICKS, "2027-04-14", .rule = "pick-soon", .want = "" },
	{ "no_hemisphere_no_day", AT_NOWHERE, LOQUAT, PICKS, "2027-04-14", .rule = "pick-soon", .want = "", .once = true },
	{ "the_tropics_no_day", AT_TROPICS, LOQUAT, PICKS, "2027-04-14", .rule = "pick-soon", .want = "" },
	{ "a_tree_left_alone_is_picked_all_the_same", AT_WET_WINTER, LOQUAT, PICKS "A1 leave until 2028-01 @ 2026-12-01", "2027-04-14", .rule = "pick-soon", .want = "soon" },
};

static const struct log_case unlogged[] = {
	{ "a_harvest_without_a_word_is_asked", AT_WET_WINTER, LOQUAT, PICKS, "2027-05-20", .rule = "pick-unlogged", .want = "note", .says = {"2027 harvest ended about", "Was there none?", "picked none"} },
	{ "the_day_after_it_ends", AT_WET_WINTER, LOQUAT, PICKS, "2027-05-11", .rule = "pick-unlogged", .want = "note" },
	{ "not_on_its_last_day", AT_WET_WINTER, LOQUAT, PICKS, "2027-05-10", .rule = "pick-unlogged", .want = "" },
	{ "sixty_days_after_still", AT_WET_WINTER, LOQUAT, PICKS, "2027-07-09", .rule = "pick-unlogged", .want = "note", .once = true },
	{ "then_silence", AT_WET_WINTER, LOQUAT, PICKS, "2027-07-10", .rule = "pick-unlogged", .want = "", .once = true },
	{ "a_pick_settles_it", AT_WET_WINTER, LOQUAT, PICKS "A1 picked 2 kg @ 2027-05-01", "2027-05-20", .rule = "pick-unlogged", .want = "" },
	{ "none_seen_settles_it", AT_WET_WINTER, LOQUAT, PICKS "A1 picked none @ 2027-05-15", "2027-05-20", .rule = "pick-unlogged", .want = "" },
	{ "a_pick_in_words_settles_it", AT_WET_WINTER, LOQUAT, PICKS "A1 picked plenty @ 2027-05-01", "2027-05-20", .rule = "pick-unlogged", .want = "" },
	{ "a_loss_settles_it", AT_WET_WINTER, LOQUAT, PICKS "A1 lost birds @ 2027-05-01", "2027-05-20", .rule = "pick-unlogged", .want = "" },
	{ "one_season_is_no_habit", AT_WET_WINTER, LOQUAT, "A1 picked 5 kg @ 2026-04-20", "2027-06-20", .rule = "pick-unlogged", .want = "" },
	{ "two_seasons_are", AT_WET_WINTER, LOQUAT, "A1 picked 5 kg @ 2025-04-20|A1 picked 5 kg @ 2026-04-20", "2027-05-20", .rule = "pick-unlogged", .want = "note" },
	{ "an_unknown_kind_is_silent", AT_WET_WINTER, "A1 - 2010", PICKS, "2027-05-20", .rule = "pick-unlogged", .want = "" },
	{ "a_kind_picked_all_year_is_silent", AT_WET_WINTER, "A1 lemon 2010", PICKS, "2027-05-20", .rule = "pick-unlogged", .want = "" },
};

#define SPRAY "A1 spray oil, 21 days to harvest @ 2026-05-01|"
static const struct log_case sprayed[] = {
	{ "a_pick_inside_the_label_s_days_is_an_act", AT_WET_WINTER, LOQUAT, SPRAY "A1 picked 2 kg @ 2026-05-10", "2026-05-11", .rule = "spray-interval", .want = "act", .says = {"inside the label's days to harvest", "Do not eat"} },
	{ "on_the_day_of_the_spray", AT_WET_WINTER, LOQUAT, SPRAY "A1 picked 2 kg @ 2026-05-01", "2026-05-11", .rule = "spray-interval", .want = "act" },
	{ "on_the_last_day_inside", AT_WET_WINTER, LOQUAT, SPRAY "A1 picked 2 kg @ 2026-05-21", "2026-05-21", .rule = "spray-interval", .want = "act" },
	{ "when_the_days_are_over_it_is_fine", AT_WET_WINTER, LOQUAT, SPRAY "A1 picked 2 kg @ 2026-05-22", "2026-05-22", .rule = "spray-interval", .want = "" },
	{ "before_the_spray_it_is_fine", AT_WET_WINTER, LOQUAT, SPRAY "A1 picked 2 kg @ 2026-04-28", "2026-05-11", .rule = "spray-interval", .want = "" },
	{ "picked_none_is_no_pick", AT_WET_WINTER, LOQUAT, SPRAY "A1 picked none @ 2026-05-10", "2026-05-11", .rule = "spray-interval", .want = "" },
	{ "without_days_from_the_label_nothing_is_said", AT_WET_WINTER, LOQUAT, "A1 spray oil @ 2026-05-01|A1 picked 2 kg @ 2026-05-10", "2026-05-11", .rule = "spray-interval", .want = "" },
	{ "after_22_days_a_note", AT_WET_WINTER, LOQUAT, SPRAY "A1 picked 2 kg @ 2026-05-03", "2026-05-25", .rule = "spray-interval", .want = "note" },
	{ "an_unknown_kind_is_sprayed_too", AT_NOWHERE, "A1 - 2010", SPRAY "A1 picked 2 kg @ 2026-05-10", "2026-05-11", .rule = "spray-interval", .want = "act", .once = true },
	{ "a_spray_on_the_host_is_on_the_fruit_of_its_graft", AT_WET_WINTER, LOQUAT, "A1 grafted Champagne @ 2016-03-10|" SPRAY "A1/Champagne picked 2 kg @ 2026-05-10", "2026-05-11", .rule = "spray-interval", .want = "act" },
	{ "a_range_of_days_counts_to_its_end", AT_WET_WINTER, LOQUAT, "A1 spray oil, 14-21 days to harvest @ 2026-05-01|A1 picked 2 kg @ 2026-05-18", "2026-05-19", .rule = "spray-interval", .want = "act" },
	{ "a_tree_left_alone_is_warned_all_the_same", AT_WET_WINTER, LOQUAT, SPRAY "A1 leave until 2028-01 @ 2026-05-02|A1 picked 2 kg @ 2026-05-10", "2026-05-11", .rule = "spray-interval", .want = "act" },
};
/* clang-format on */

/* --- the warmth since bloom --- */

/* A loquat in flower on 1 November 2026 (1 May in the south), and every day since of 8 to 16 C
 * but those left out: 9 degree-days over 3 C a day. */
static struct flags warm_days(
	struct garden *garden, bool south, int32_t days, int32_t left_out, int32_t quiet_days)
{
	static const struct log_case told = {.place = AT_WET_WINTER,
		.trees = "A1 loquat 2010",
		.lines = "A1 picked 5 kg @ 2026-04-20|A1 bloom @ 2026-11-01",
		.today = "2026-11-01"};
	struct fault why = {0};
	char iso[DATE_SIZE];
	bool same;

	log_case_make(garden, &told, south);
	struct date bloom = yard_today(garden->yard);
	check_ok(store_act_begin(garden->store, ACT_WORK, "weather", &why), &why);
	for (int32_t i = left_out; i <= days; i++) {
		struct weather_day day = {.day = date_add_days(bloom, i),
			.station = "hill",
			.min_decic = known_i32(80),
			.max_decic = known_i32(160)};
		check_ok(store_weather_day_put(garden->store, &day, &same, &why), &why);
	}
	check_ok(store_act_commit(garden->store, &why), &why);
	garden_today(garden, date_format(date_add_days(bloom, days + quiet_days), iso));
	return log_case_flags(garden);
}

static void the_warmth_since_bloom_brings_the_loquat_near(void **state)
{
	struct garden garden;

	(void)state;
	for (int south = 0; south <= 1; south++) {
		/* 141 days of 9: 1,269 of 1,500; 1,350 nine days on, 1,650 forty-two days on */
		struct flags flags = warm_days(&garden, south == 1, 140, 0, 0);
		const struct flag *flag = log_case_find(&flags, "pick-soon");

		assert_non_null(flag);
		check_int(flag->urgency, URGENCY_SOON, "read in the source");
		check_has(flag->says, "by the warmth since its bloom of", "what it rests on");
		check_int(date_days_between(yard_today(garden.yard), flag->window_from.value), 9,
			"a tenth early");
		check_int(date_days_between(yard_today(garden.yard), flag->window_to.value), 42,
			"a tenth late");
		check_has(flag->evidence[1], "1269 of about 1500 degree-days over 3 C", "the sum");
		garden_free(&garden);
	}
}

static void without_warmth_enough_or_weather_enough_it_is_silent(void **state)
{
	static const struct {
		const char *name;
		int32_t days, left_out, quiet_days;
	} rows[] = {
		{"a month too early", 110, 0, 0},
		{"a fifth of the days not stored", 140, 30, 0},
		{"weather that ends eight days ago", 140, 0, 8},
	};

	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct garden garden;
		struct flags flags = warm_days(
			&garden, false, rows[i].days, rows[i].left_out, rows[i].quiet_days);

		check_int(log_case_count(&flags, "pick-soon"), 0, rows[i].name);
		garden_free(&garden);
	}
	struct garden garden;
	struct flags flags = warm_days(&garden, false, 140, 0, 7);
	check_int(log_case_count(&flags, "pick-soon"), 1, "seven days ago is still good");
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest warm[] = {
		cmocka_unit_test(the_warmth_since_bloom_brings_the_loquat_near),
		cmocka_unit_test(without_warmth_enough_or_weather_enough_it_is_silent),
	};
	int failed = LOG_CASES("pick-soon", soon);

	failed += LOG_CASES("pick-unlogged", unlogged);
	failed += LOG_CASES("spray-interval", sprayed);
	failed += cmocka_run_group_tests_name("warmth", warm, NULL, NULL);
	return failed != 0;
}
