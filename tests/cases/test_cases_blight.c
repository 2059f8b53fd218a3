/* SPDX-License-Identifier: MIT */
/* Disease cut out, as a grower told it: what a good answer says and what it must not. The yard is
 * invented; distances are those of the published sources the almanac names. */
#include "support/told.h"

/* --- a pear with fire blight in northern California, June: for a month cut 3 to 5 in below the
 * damage, shears dipped in bleach after each cut, and it keeps spreading --- */

static void blighted_pear(struct garden *garden, const char *today)
{
	told(garden, AT_WET_WINTER, "P1 european_pear 2012",
		"P1 saw fire blight moderate @ 2026-05-20|"
		"P1 cut blighted shoots 3-5 in below @ 2026-06-20 ; dipped in bleach",
		today);
}

static void blight_cut_three_to_five_inches_below_is_too_close(void **state)
{
	struct garden garden;
	blighted_pear(&garden, "2026-06-20");
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "blight-cut-short");

	(void)state;
	assert_non_null(flag);
	check_int(flag->urgency, URGENCY_ACT, "it still spreads");
	check_has(flag->says, "3-5 in below", "as cut");
	check_has(flag->says, "8 to 12 in", "the distance");
	check_has(flag->says, "California", "whose");
	check_has(flag->action, "dry day", "in dry weather");
	check_has(flag->action, "alcohol before each cut, or break soft shoots off by hand",
		"a dip, or no tool at all");
	check_has(flag->action, "Bag, bin", "out of the garden");
	check_has(flag->action, "none of it on the compost", "not composted");
	check_has(flag->action, "Give no nitrogen", "no push");
	check_has(flag->action, "never mix anything else in", "of the bleach");
	const char *review = told_review(&garden, true);
	check_has(review, "short by 3 to 9 in", "by how much");
	check_has(review, "research doubts that dips help", "whether dips do anything");
	check_has(review, "ATTRA (NCAT)", "who says so");
	garden_free(&garden);
}

static void the_bleach_is_warned_of_as_it_is_typed(void **state)
{
	struct garden garden;
	told(&garden, AT_WET_WINTER, "P1 european_pear 2012", "", "2026-06-20");
	const char *answer = told_answer(
		&garden, "P1 cut blighted shoots 3-5 in below ; dipped in bleach after each");

	(void)state;
	check_has(answer, "never mix anything else in", "the gas");
	check_has(answer, "alcohol is kinder", "what to take instead");
	garden_free(&garden);
}

/* Whittled away, it is not to be driven on: no feed is asked for until the blight is a year back,
 * in the spring after it least of all. */
static void a_pear_with_blight_hears_of_no_feed(void **state)
{
	struct garden garden;
	blighted_pear(&garden, "2026-06-20");
	garden_log(&garden, "P1 fed 1 lb 10-10-10 @ 2024-03-10");
	garden_log(&garden, "P1 fed 1 lb 10-10-10 @ 2025-03-10");

	(void)state;
	for (int month = 6; month <= 16; month++) {
		char day[16];

		snprintf(day, sizeof day, "%d-%02d-20", 2026 + (month - 1) / 12,
			(month - 1) % 12 + 1);
		garden_today(&garden, day);
		struct flags flags = log_case_flags(&garden);
		check_silent(&flags, "feed-due");
	}
	garden_free(&garden);
}

/* Cutting out disease is no shaping: June, or any month, is no reason to wait. */
static void a_sanitation_cut_in_june_is_not_told_to_wait(void **state)
{
	struct garden garden;
	blighted_pear(&garden, "2026-06-20");
	struct flags flags = log_case_flags(&garden);

	(void)state;
	check_silent(&flags, "flower-wood");
	check_silent(&flags, "cut-in-wet-season");
	check_silent(&flags, "cut-too-much");
	struct flags far = log_case_try(&garden, "P1", "P1 cut blighted shoots 12 in below");
	check_silent(&far, "blight-cut-short");
	check_silent(&far, "cut-in-wet-season");
	garden_free(&garden);
}

/* Every strike that was seen and every cut, limb by limb, for the pass in winter, with how far
 * below the last sign that cut goes. */
static void the_strikes_are_found_again_in_winter(void **state)
{
	struct garden garden;
	blighted_pear(&garden, "2026-06-21");
	garden_log(&garden, "P1 saw 2 fire blight strikes on the north limb @ 2026-06-12");
	garden_log(&garden, "P1 saw fire blight strike on limb 3 @ 2026-06-21");
	garden_today(&garden, "2027-01-20");
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "sanitation-due");

	(void)state;
	assert_non_null(flag);
	check_has(flag->says, "fire blight was seen here 3 times, last on 21 June 2026", "when");
	check_has(flag->action, "Cut 6 to 8 in (United States) below the last sign", "how far");
	const char *review = told_review(&garden, true);
	check_has(review, "as logged, 20 May 2026: P1 saw fire blight moderate", "a strike");
	check_has(review, "as logged, 12 June 2026: P1 saw 2 fire blight strikes on the north limb",
		"a limb");
	check_has(
		review, "as logged, 21 June 2026: P1 saw fire blight strike on limb 3", "another");
	check_has(review, "as logged, 20 June 2026: P1 cut blighted shoots 3-5 in below",
		"what was cut");
	check_has(told_tree(&garden, "P1"), "3-5 in below the last sign", "on its page");
	garden_free(&garden);
}

/* In winter the cut is judged by the distance of winter, asked or logged. */
static void the_winter_cut_goes_six_to_eight_inches_below(void **state)
{
	struct garden garden;
	told(&garden, AT_WET_WINTER, "P1 european_pear 2012", "P1 saw fire blight @ 2026-06-12",
		"2027-01-20");
	const char *near = told_ask(&garden, "P1 cut blighted shoots 4 in below");
	const char *far = told_ask(&garden, "P1 cut blighted shoots 7 in below");

	(void)state;
	check_has(near, "the advice is 6 to 8 in (United States)", "too near");
	check_lacks(far, "blight-cut-short", "far enough");
	check_has(far, "It would settle", "and the clean-up with it");
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(blight_cut_three_to_five_inches_below_is_too_close),
		cmocka_unit_test(the_bleach_is_warned_of_as_it_is_typed),
		cmocka_unit_test(a_pear_with_blight_hears_of_no_feed),
		cmocka_unit_test(a_sanitation_cut_in_june_is_not_told_to_wait),
		cmocka_unit_test(the_strikes_are_found_again_in_winter),
		cmocka_unit_test(the_winter_cut_goes_six_to_eight_inches_below),
	};
	return cmocka_run_group_tests_name("disease cut out, as told", tests, NULL, NULL) != 0;
}
