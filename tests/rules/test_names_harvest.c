/* SPDX-License-Identifier: MIT */
/* name-by-harvest: a pick far from when a cultivar of that name ripens. */
#include "support/log_case.h"

#define RULE "name-by-harvest"

/* What the rule says of a tree with a cultivar, as lines tell it; "" silence. */
static void check_name(
	const char *cultivar, const char *lines, const char *today, bool south, const char *want)
{
	struct garden garden;
	const struct log_case told = {
		.place = AT_CONTINENTAL, .trees = "A1 apple 2010", .lines = lines, .today = today};

	log_case_make(&garden, &told, south);
	if (cultivar[0] != '\0')
		garden_identify(&garden, "A1", "", cultivar, "");
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, RULE);
	if (want[0] == '\0') {
		assert_null(flag);
	} else {
		assert_non_null(flag);
		check_int(flag->urgency, URGENCY_NOTE, "a note");
		check_has(flag->says, want, "what it says");
		log_case_check_words(flag);
	}
	garden_free(&garden);
}

/* Arkansas Black: 21 days after Golden Delicious, the last of the kind 35 days, its harvest until
 * 5 November: 22 October. */
static void a_late_apple_in_july_is_not_its_name(void **state)
{
	(void)state;
	for (int south = 0; south < 2; south++)
		check_name("Arkansas Black", "A1 picked 2 kg @ 2026-07-20", "2026-07-22",
			south == 1, "Arkansas Black ripens about 2");
}

static void in_its_months_it_is(void **state)
{
	(void)state;
	check_name("Arkansas Black", "A1 picked 2 kg @ 2026-10-20", "2026-10-22", false, "");
}

/* Two months either way are let pass: 23 August is 60 days before 22 October. */
static void on_the_sixtieth_day_it_keeps_quiet(void **state)
{
	(void)state;
	check_name("Arkansas Black", "A1 picked 2 kg @ 2026-08-23", "2026-08-25", false, "");
	check_name(
		"Arkansas Black", "A1 picked 2 kg @ 2026-08-22", "2026-08-25", false, "22 October");
}

static void an_early_name_in_late_october_is_told_too(void **state)
{
	(void)state;
	check_name("Anna", "A1 picked 2 kg @ 2026-10-20", "2026-10-22", false, "Anna ripens about");
}

static void what_fell_and_what_was_green_do_not_count(void **state)
{
	(void)state;
	check_name(
		"Arkansas Black", "A1 picked 2 kg windfalls @ 2026-07-20", "2026-07-22", false, "");
	check_name("Arkansas Black", "A1 picked none @ 2026-07-20", "2026-07-22", false, "");
	check_name("Arkansas Black", "A1 lost 2 kg dropped @ 2026-07-20", "2026-07-22", false, "");
}

static void without_a_name_days_or_a_day_it_is_silent(void **state)
{
	(void)state;
	check_name("", "A1 picked 2 kg @ 2026-07-20", "2026-07-22", false, "");
	check_name("Nobody's Own", "A1 picked 2 kg @ 2026-07-20", "2026-07-22", false, "");
	check_name("Arkansas Black", "A1 picked 2 kg @ 2026-07", "2026-08-02", false, "");
	check_name("Arkansas Black", "", "2026-08-02", false, "");
}

static void it_is_told_for_a_year(void **state)
{
	(void)state;
	check_name(
		"Arkansas Black", "A1 picked 2 kg @ 2026-07-20", "2027-08-24", false, "22 October");
	check_name("Arkansas Black", "A1 picked 2 kg @ 2026-07-20", "2027-08-25", false, "");
}

static void a_regraft_leaves_the_picks_before_it_out(void **state)
{
	struct garden garden;
	const struct log_case told = {.place = AT_CONTINENTAL,
		.trees = "A1 apple 2010",
		.lines = "A1 picked 2 kg @ 2025-07-20",
		.today = "2026-05-22"};

	(void)state;
	log_case_make(&garden, &told, false);
	garden_identify(&garden, "A1", "", "Arkansas Black", "2026-03-10");
	struct flags flags = log_case_flags(&garden);
	assert_null(log_case_find(&flags, RULE));
	garden_free(&garden);
}

static void where_nothing_is_known_of_the_place_it_is_silent(void **state)
{
	struct garden garden;
	const struct log_case told = {.place = AT_NOWHERE,
		.trees = "A1 apple 2010",
		.lines = "A1 picked 2 kg @ 2026-07-20",
		.today = "2026-07-22"};

	(void)state;
	log_case_make(&garden, &told, false);
	garden_identify(&garden, "A1", "", "Arkansas Black", "");
	struct flags flags = log_case_flags(&garden);
	assert_null(log_case_find(&flags, RULE));
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_late_apple_in_july_is_not_its_name),
		cmocka_unit_test(in_its_months_it_is),
		cmocka_unit_test(on_the_sixtieth_day_it_keeps_quiet),
		cmocka_unit_test(an_early_name_in_late_october_is_told_too),
		cmocka_unit_test(what_fell_and_what_was_green_do_not_count),
		cmocka_unit_test(without_a_name_days_or_a_day_it_is_silent),
		cmocka_unit_test(it_is_told_for_a_year),
		cmocka_unit_test(a_regraft_leaves_the_picks_before_it_out),
		cmocka_unit_test(where_nothing_is_known_of_the_place_it_is_silent),
	};
	return cmocka_run_group_tests_name(RULE, tests, NULL, NULL) != 0;
}
