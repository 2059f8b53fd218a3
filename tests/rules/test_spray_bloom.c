/* SPDX-License-Identifier: MIT */
/* spray-in-bloom: which sprays, which blooms, for how long; pick-soon while a label's days run. */
#include "support/log_case.h"

#define APPLE "A1 apple 2012"
#define OPEN "A1 full bloom @ 2026-04-25|"
#define RULE .rule = "spray-in-bloom"

/* clang-format off */
static const struct log_case cases[] = {
	{ "an_insecticide_on_open_bloom", AT_CONTINENTAL, APPLE, OPEN "A1 sprayed insecticide @ 2026-04-26", "2026-04-27", RULE, .want = "act", .says = {"was sprayed on 26", "kills the bees", "Spray no more until the petals are down"} },
	{ "by_the_name_of_what_is_in_it", AT_CONTINENTAL, APPLE, OPEN "A1 sprayed malathion @ 2026-04-26", "2026-04-27", RULE, .want = "act" },
	{ "or_for_an_insect", AT_CONTINENTAL, APPLE, OPEN "A1 sprayed for codling moth @ 2026-04-26", "2026-04-27", RULE, .want = "act" },
	{ "for_a_disease_it_says_nothing", AT_CONTINENTAL, APPLE, OPEN "A1 sprayed sulfur for apple scab @ 2026-04-26", "2026-04-27", RULE, .want = "" },
	{ "of_an_unknown_spray_it_says_nothing", AT_CONTINENTAL, APPLE, OPEN "A1 sprayed something from the shed @ 2026-04-26", "2026-04-27", RULE, .want = "" },
	{ "no_bloom_logged_no_word", AT_CONTINENTAL, APPLE, "A1 sprayed insecticide @ 2026-04-26", "2026-04-27", RULE, .want = "" },
	{ "petals_down_no_word", AT_CONTINENTAL, APPLE, OPEN "A1 stage 69 @ 2026-05-02|A1 sprayed insecticide @ 2026-05-03", "2026-05-04", RULE, .want = "" },
	{ "before_the_first_flower_no_word", AT_CONTINENTAL, APPLE, "A1 stage 57 @ 2026-04-15|A1 sprayed insecticide @ 2026-04-16", "2026-04-17", RULE, .want = "" },
	{ "sprayed_before_the_bloom_opened_no_word", AT_CONTINENTAL, APPLE, "A1 sprayed insecticide @ 2026-04-20|" OPEN, "2026-04-27", RULE, .want = "" },
	{ "a_bloom_three_weeks_old_may_still_be_open", AT_CONTINENTAL, APPLE, OPEN "A1 sprayed insecticide @ 2026-05-16", "2026-05-17", RULE, .want = "act", .once = true },
	{ "after_that_it_is_over", AT_CONTINENTAL, APPLE, OPEN "A1 sprayed insecticide @ 2026-05-17", "2026-05-18", RULE, .want = "" },
	{ "after_three_weeks_a_note", AT_CONTINENTAL, APPLE, OPEN "A1 sprayed insecticide @ 2026-04-26", "2026-05-18", RULE, .want = "note", .once = true },
	{ "after_two_months_silence", AT_CONTINENTAL, APPLE, OPEN "A1 sprayed insecticide @ 2026-04-26", "2026-06-26", RULE, .want = "", .once = true },
	{ "a_loquat_by_its_own_scale", AT_WET_WINTER, "A1 loquat 2012", "A1 stage 605 @ 2026-11-10|A1 sprayed insecticide @ 2026-11-12", "2026-11-13", RULE, .want = "act" },
	{ "no_hemisphere_is_needed", AT_NOWHERE, APPLE, OPEN "A1 sprayed insecticide @ 2026-04-26", "2026-04-27", RULE, .want = "act", .once = true },
	{ "an_unknown_kind_is_silent", AT_COOL, "A1 - 2012", OPEN "A1 sprayed insecticide @ 2026-04-26", "2026-04-27", RULE, .want = "" },
};
/* clang-format on */

/* A harvest that nears while the label's days run is told with their end. */
static void a_harvest_that_nears_waits_for_the_label(void **state)
{
	const struct log_case told = {.place = AT_HUMID,
		.trees = "A1 loquat 2012",
		.lines = "A1 picked 5 kg @ 2024-04-20|A1 picked 6 kg @ 2025-04-22|"
			 "A1 sprayed sulfur, 14 days to harvest @ 2026-04-12",
		.today = "2026-04-14"};
	struct garden garden;

	(void)state;
	log_case_make(&garden, &told, false);
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "pick-soon");
	assert_non_null(flag);
	check_has(flag->action, "No fruit before 26 April 2026", "until when");
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_harvest_that_nears_waits_for_the_label),
	};
	int failed = LOG_CASES("spray-in-bloom", cases);

	failed += cmocka_run_group_tests_name("label", tests, NULL, NULL);
	return failed != 0;
}
