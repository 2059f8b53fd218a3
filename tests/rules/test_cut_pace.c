/* SPDX-License-Identifier: MIT */
/* renovation-pace and height-pace: they fire, they just do not, on both sides of the equator. */
#include "support/log_case.h"

#define APPLE "A1 apple 1990"
#define PART(part, day) "A1 cut renovation " part " of 3 @ " day
#define TALL "A1 height 24 ft @ 2027-01-05|"

/* clang-format off */
static const struct log_case renovation[] = {
	{ "two_parts_of_three_in_one_season", AT_WET_WINTER, APPLE, PART("1", "2027-02-01") "|" PART("2", "2027-02-20"), "2027-02-22", .rule = "renovation-pace", .want = "note", .says = {"2 of 3 parts of the renovation", "2 to 3 years", "no nitrogen"} },
	{ "one_part_a_season_is_the_pace", AT_WET_WINTER, APPLE, PART("1", "2026-02-01") "|" PART("2", "2027-02-01"), "2027-02-22", .rule = "renovation-pace", .want = "" },
	{ "one_part_logged_twice_is_one", AT_WET_WINTER, APPLE, PART("1", "2027-02-01") "|" PART("1", "2027-02-20"), "2027-02-22", .rule = "renovation-pace", .want = "" },
	{ "limbs_in_parts_need_no_other_word", AT_WET_WINTER, APPLE, "A1 cut limb 1 of 3 @ 2027-02-01|A1 cut limb 2 of 3 @ 2027-02-20", "2027-02-22", .rule = "renovation-pace", .want = "note" },
	{ "the_next_part_a_year_later_is_the_pace", AT_WET_WINTER, "A1 avocado 1990", "A1 cut renovation 1 of 3 @ 2026-04-16|A1 cut renovation 2 of 3 @ 2027-01-27", "2027-02-01", .rule = "renovation-pace", .want = "" },
	{ "within_the_year_it_is_too_soon", AT_WET_WINTER, "A1 avocado 1990", "A1 cut renovation 1 of 3 @ 2026-10-13|A1 cut renovation 2 of 3 @ 2027-03-16", "2027-03-20", .rule = "renovation-pace", .want = "act", .says = {"2 of 3 parts"} },
	{ "an_avocado_takes_several_years", AT_WET_WINTER, "A1 avocado 1990", "A1 cut limb 1 of 2 @ 2027-02-01", "2027-02-22", .rule = "renovation-pace", .want = "act", .says = {"planned in 2 parts", "one big limb at a time"} },
	{ "three_parts_are_several", AT_WET_WINTER, "A1 avocado 1990", "A1 cut limb 1 of 3 @ 2027-02-01", "2027-02-22", .rule = "renovation-pace", .want = "" },
	{ "after_22_days_a_note", AT_WET_WINTER, "A1 avocado 1990", "A1 cut limb 1 of 2 @ 2027-02-01", "2027-02-23", .rule = "renovation-pace", .want = "note" },
	{ "after_a_year_silence", AT_WET_WINTER, "A1 avocado 1990", "A1 cut limb 1 of 2 @ 2027-02-01", "2028-02-02", .rule = "renovation-pace", .want = "" },
	{ "too_large_a_share_is_told_as_that", AT_WET_WINTER, APPLE, "A1 cut renovation 60% of crown @ 2027-02-01", "2027-02-22", .rule = "renovation-pace", .want = "" },
	{ "and_is_told", AT_WET_WINTER, APPLE, "A1 cut renovation 60% of crown @ 2027-02-01", "2027-02-22", .rule = "cut-too-much", .want = "act" },
	{ "a_peach_has_no_limit_of_the_crown", AT_WET_WINTER, "A1 peach 1990", "A1 cut renovation 60% of crown @ 2027-02-10", "2027-02-22", .rule = "renovation-pace", .want = "note", .says = {"60 % of the crown"} },
	{ "half_a_peach_is_the_pace", AT_WET_WINTER, "A1 peach 1990", "A1 cut renovation 50% of crown @ 2027-02-10", "2027-02-22", .rule = "renovation-pace", .want = "" },
	{ "a_cut_that_costs_the_crop_is_told_as_that", AT_WET_WINTER, "A1 loquat 1990", "A1 cut renovation 1 of 3 @ 2026-10-01|A1 cut renovation 2 of 3 @ 2026-10-10", "2026-10-12", .rule = "renovation-pace", .want = "" },
	{ "a_part_planned_is_no_work", AT_WET_WINTER, APPLE, PART("1", "2027-02-01") "|A1 plan cut renovation 2 of 3 @ 2027-02-28", "2027-02-22", .rule = "renovation-pace", .want = "" },
	{ "an_unknown_kind_has_no_pace", AT_WET_WINTER, "A1 - 1990", PART("1", "2027-02-01") "|" PART("2", "2027-02-20"), "2027-02-22", .rule = "renovation-pace", .want = "" },
	{ "without_a_hemisphere_that_is_asked_first", AT_NOWHERE, APPLE, PART("1", "2027-02-01") "|" PART("2", "2027-02-20"), "2027-02-22", .rule = "renovation-pace", .want = "", .once = true },
};

static const struct log_case height[] = {
	{ "more_than_a_third_at_once_is_a_note", AT_WET_WINTER, APPLE, TALL "A1 cut height to 15 ft @ 2027-02-01", "2027-02-22", .rule = "height-pace", .want = "note", .says = {"Lowered from 24 ft to 15 ft in one season", "2 to 3 years"} },
	{ "a_third_is_not", AT_WET_WINTER, APPLE, TALL "A1 cut height to 16 ft @ 2027-02-01", "2027-02-22", .rule = "height-pace", .want = "" },
	{ "in_two_steps_of_one_season_it_adds_up", AT_WET_WINTER, APPLE, TALL "A1 cut height to 20 ft @ 2027-01-20|A1 cut height to 15 ft @ 2027-02-01", "2027-02-22", .rule = "height-pace", .want = "note" },
	{ "over_two_seasons_it_does_not", AT_WET_WINTER, APPLE, "A1 height 24 ft @ 2026-01-05|A1 cut height to 20 ft @ 2026-02-01|A1 cut height to 15 ft @ 2027-02-01", "2027-02-22", .rule = "height-pace", .want = "" },
	{ "measured_after_the_cut", AT_WET_WINTER, APPLE, TALL "A1 cut height @ 2027-02-01|A1 height 15 ft @ 2027-02-10", "2027-02-22", .rule = "height-pace", .want = "note" },
	{ "measured_too_long_after_it_tells_nothing", AT_WET_WINTER, APPLE, TALL "A1 cut height @ 2027-02-01|A1 height 15 ft @ 2027-04-20", "2027-04-22", .rule = "height-pace", .want = "" },
	{ "with_no_height_before_nothing_is_known", AT_WET_WINTER, APPLE, "A1 cut height to 15 ft @ 2027-02-01", "2027-02-22", .rule = "height-pace", .want = "" },
	{ "a_height_of_years_ago_is_none", AT_WET_WINTER, APPLE, "A1 height 24 ft @ 2023-01-05|A1 cut height to 15 ft @ 2027-02-01", "2027-02-22", .rule = "height-pace", .want = "" },
	{ "after_a_year_silence", AT_WET_WINTER, APPLE, TALL "A1 cut height to 15 ft @ 2027-02-01", "2028-02-02", .rule = "height-pace", .want = "" },
	{ "an_unknown_kind_has_no_pace", AT_WET_WINTER, "A1 - 1990", TALL "A1 cut height to 15 ft @ 2027-02-01", "2027-02-22", .rule = "height-pace", .want = "" },
	{ "too_large_a_share_is_told_as_that", AT_WET_WINTER, APPLE, TALL "A1 cut height 40% of crown to 15 ft @ 2027-02-01", "2027-02-22", .rule = "height-pace", .want = "" },
};
/* clang-format on */

/* A tree of 24 ft with a height set for it, cut down to `left`. */
static void check_target(const char *target, const char *left, const char *want)
{
	struct garden garden;
	struct fault why = {0};
	struct number_rules rules = {
		.units = UNITS_US, .gallon = GALLON_US, .style = NUMBERS_POINT};
	struct new_tree tree = {.tree.label = "A1", .species = "apple"};
	char asked[TEXT_SIZE], id[ID_SIZE], line[80];
	int64_t target_um = 0;

	garden_make(&garden, "2027-02-22");
	check_ok(length_parse(target, &rules, &target_um, &why), &why);
	tree.tree.target_height_um = known_i64(target_um);
	check_ok(work_tree_add(garden.yard, &tree, asked, id, &why), &why);
	garden_look(&garden);
	garden_log(&garden, "A1 height 24 ft @ 2027-01-05");
	snprintf(line, sizeof line, "A1 cut height to %s @ 2027-02-01", left);
	garden_log(&garden, line);
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "height-pace");
	check_int(flag != NULL, want[0] != '\0', left);
	if (flag != NULL) {
		log_case_check_words(flag);
		check_has(flag->says, want, left);
	}
	garden_free(&garden);
}

static void what_stands_above_the_height_set_comes_off_over_years(void **state)
{
	(void)state;
	check_target("12 ft", "17 ft", "Lowered from 24 ft to 17 ft"); /* 7 of 12 ft */
	check_target("12 ft", "18 ft", "");                            /* 6 of 12 ft: half */
	check_target("20 ft", "20 ft", "");                            /* a fifth: upkeep */
}

static void below_the_height_set_is_said(void **state)
{
	(void)state;
	check_target("12 ft", "10 ft", "10 ft is below the height you set, 12 ft.");
	check_target("12 ft", "11 ft", "Lowered from 24 ft to 11 ft"); /* within a tenth of it */
}

static void it_is_said_before_the_cut(void **state)
{
	const struct log_case told = {.place = AT_WET_WINTER,
		.trees = "A1 apple 1990",
		.lines = TALL PART("1", "2027-02-01"),
		.today = "2027-02-10"};
	struct garden garden;

	(void)state;
	log_case_make(&garden, &told, false);
	struct flags flags = log_case_try(&garden, "A1", "A1 cut height to 12 ft");
	assert_non_null(log_case_find(&flags, "height-pace"));
	flags = log_case_try(&garden, "A1", "A1 cut renovation 2 of 3");
	assert_non_null(log_case_find(&flags, "renovation-pace"));
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(what_stands_above_the_height_set_comes_off_over_years),
		cmocka_unit_test(below_the_height_set_is_said),
		cmocka_unit_test(it_is_said_before_the_cut),
	};
	int failed = LOG_CASES("renovation-pace", renovation) + LOG_CASES("height-pace", height);

	failed += cmocka_run_group_tests_name("heights that were set", tests, NULL, NULL);
	return failed != 0;
}
