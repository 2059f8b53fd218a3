/* SPDX-License-Identifier: MIT */
/* suckers-standing and feed-after-hard-cut: they fire, they just do not, on both sides of the
 * equator. */
#include "support/log_case.h"

#define APPLE "A1 apple 2012"
#define SAW(day) "A1 saw suckers @ " day
#define HARD(day) "A1 cut renovation 40% of crown @ " day
#define FED(day) "A1 fed 1 lb 10-10-10 @ " day
#define YEARLY "A1 cut suckers @ 2025-05-10|A1 cut suckers @ 2026-05-20|"

/* clang-format off */
static const struct log_case suckers[] = {
	{ "suckers_seen_are_due", AT_WET_WINTER, APPLE, SAW("2027-05-10"), "2027-05-12", .rule = "suckers-standing", .want = "due", .says = {"Suckers seen on 10", "no cut logged since", "leave no stub"} },
	{ "water_shoots_are_a_note", AT_WET_WINTER, APPLE, "A1 saw water shoots @ 2027-05-10", "2027-05-12", .rule = "suckers-standing", .want = "note", .says = {"by hand in early summer"} },
	{ "cut_since_they_are_gone", AT_WET_WINTER, APPLE, SAW("2027-05-10") "|A1 cut suckers @ 2027-05-11", "2027-05-12", .rule = "suckers-standing", .want = "" },
	{ "cut_that_day_too", AT_WET_WINTER, APPLE, SAW("2027-05-10") "|A1 cut suckers @ 2027-05-10", "2027-05-12", .rule = "suckers-standing", .want = "" },
	{ "cut_before_they_were_seen_they_stand", AT_WET_WINTER, APPLE, "A1 cut suckers @ 2027-05-08|" SAW("2027-05-10"), "2027-05-12", .rule = "suckers-standing", .want = "due" },
	{ "a_shape_cut_leaves_them", AT_WET_WINTER, APPLE, SAW("2027-01-10") "|A1 cut shape 10% of crown @ 2027-02-10", "2027-02-12", .rule = "suckers-standing", .want = "due" },
	{ "after_90_days_still_due", AT_WET_WINTER, APPLE, SAW("2027-05-10"), "2027-08-08", .rule = "suckers-standing", .want = "due", .once = true },
	{ "then_a_note", AT_WET_WINTER, APPLE, SAW("2027-05-10"), "2027-08-09", .rule = "suckers-standing", .want = "note", .once = true },
	{ "after_a_year_silence", AT_WET_WINTER, APPLE, SAW("2027-05-10"), "2028-05-10", .rule = "suckers-standing", .want = "", .once = true },
	{ "the_newest_sight_speaks", AT_WET_WINTER, APPLE, SAW("2027-01-10") "|" SAW("2027-05-10"), "2027-05-12", .rule = "suckers-standing", .want = "due", .says = {"10"} },
	{ "aphids_are_no_suckers", AT_WET_WINTER, APPLE, "A1 saw aphids @ 2027-05-10", "2027-05-12", .rule = "suckers-standing", .want = "" },
	{ "a_hazelnut_is_cut_while_soft", AT_WET_WINTER, "A1 hazelnut 2012", SAW("2027-05-10"), "2027-05-12", .rule = "suckers-standing", .want = "due", .says = {"several times a season while soft"} },
	{ "of_an_orange_they_always_go", AT_WET_WINTER, "A1 orange 2012", SAW("2027-05-10"), "2027-05-12", .rule = "suckers-standing", .want = "due", .says = {"always go"} },
	{ "of_an_unknown_kind_it_is_a_note", AT_WET_WINTER, "A1 - 2012", SAW("2027-05-10"), "2027-05-12", .rule = "suckers-standing", .want = "note" },
	{ "no_hemisphere_is_needed_to_see_them", AT_NOWHERE, APPLE, SAW("2027-05-10"), "2027-05-12", .rule = "suckers-standing", .want = "due", .once = true },
	{ "a_tree_left_alone_is_left_alone", AT_WET_WINTER, APPLE, SAW("2027-05-10") "|A1 leave until 2028-01 @ 2027-05-11", "2027-05-12", .rule = "suckers-standing", .want = "" },
	{ "cut_in_two_earlier_years_they_are_due_again", AT_WET_WINTER, APPLE, YEARLY, "2027-05-12", .rule = "suckers-standing", .want = "due", .says = {"You cut suckers here in earlier years"} },
	{ "on_the_first_day", AT_WET_WINTER, APPLE, YEARLY, "2027-05-10", .rule = "suckers-standing", .want = "due" },
	{ "not_the_day_before", AT_WET_WINTER, APPLE, YEARLY, "2027-05-08", .rule = "suckers-standing", .want = "" },
	{ "on_the_last_day", AT_WET_WINTER, APPLE, YEARLY, "2027-06-09", .rule = "suckers-standing", .want = "due", .once = true },
	{ "not_the_day_after", AT_WET_WINTER, APPLE, YEARLY, "2027-06-10", .rule = "suckers-standing", .want = "", .once = true },
	{ "cut_this_year_they_are_not", AT_WET_WINTER, APPLE, YEARLY "A1 cut suckers @ 2027-05-01", "2027-05-12", .rule = "suckers-standing", .want = "" },
	{ "one_year_is_no_habit", AT_WET_WINTER, APPLE, "A1 cut suckers @ 2026-05-10", "2027-05-12", .rule = "suckers-standing", .want = "" },
	{ "twice_in_one_year_is_no_habit", AT_WET_WINTER, APPLE, "A1 cut suckers @ 2026-05-10|A1 cut suckers @ 2026-06-10", "2027-05-12", .rule = "suckers-standing", .want = "" },
};

static const struct log_case feeds[] = {
	{ "a_feed_after_a_hard_cut_is_due_a_word", AT_WET_WINTER, APPLE, HARD("2027-02-10") "|" FED("2027-03-10"), "2027-03-12", .rule = "feed-after-hard-cut", .want = "due", .says = {"follows the renovation cut", "cut hard", "Feed no more"} },
	{ "after_22_days_a_note", AT_WET_WINTER, APPLE, HARD("2027-02-10") "|" FED("2027-03-10"), "2027-04-01", .rule = "feed-after-hard-cut", .want = "note", .once = true },
	{ "after_half_a_year_silence", AT_WET_WINTER, APPLE, HARD("2027-02-10") "|" FED("2027-03-10"), "2027-09-12", .rule = "feed-after-hard-cut", .want = "" },
	{ "a_third_of_the_crown_is_hard", AT_WET_WINTER, APPLE, "A1 cut shape 34% of crown @ 2027-02-10|" FED("2027-03-10"), "2027-03-12", .rule = "feed-after-hard-cut", .want = "due" },
	{ "less_is_not", AT_WET_WINTER, APPLE, "A1 cut shape 33% of crown @ 2027-02-10|" FED("2027-03-10"), "2027-03-12", .rule = "feed-after-hard-cut", .want = "" },
	{ "just_before_the_cut_too", AT_WET_WINTER, APPLE, FED("2027-02-01") "|" HARD("2027-02-10"), "2027-02-12", .rule = "feed-after-hard-cut", .want = "due", .says = {"comes just before the renovation cut"} },
	{ "two_months_before_is_another_matter", AT_WET_WINTER, APPLE, FED("2026-12-01") "|" HARD("2027-02-10"), "2027-02-12", .rule = "feed-after-hard-cut", .want = "" },
	{ "before_a_planned_one_too", AT_WET_WINTER, APPLE, FED("2027-02-01") "|A1 plan cut renovation 40% of crown @ 2027-03-01", "2027-02-12", .rule = "feed-after-hard-cut", .want = "due" },
	{ "a_plan_that_went_by_is_no_cut", AT_WET_WINTER, APPLE, "A1 plan cut renovation 40% of crown @ 2027-02-01|" FED("2027-03-10"), "2027-03-12", .rule = "feed-after-hard-cut", .want = "" },
	{ "half_a_year_after_the_cut_is_another_season", AT_WET_WINTER, APPLE, HARD("2026-07-10") "|" FED("2027-03-10"), "2027-03-12", .rule = "feed-after-hard-cut", .want = "" },
	{ "potash_alone_drives_nothing", AT_WET_WINTER, APPLE, HARD("2027-02-10") "|A1 fed 1 lb 0-0-50 @ 2027-03-10", "2027-03-12", .rule = "feed-after-hard-cut", .want = "" },
	{ "a_feed_of_unknown_make_may", AT_WET_WINTER, APPLE, HARD("2027-02-10") "|A1 fed compost @ 2027-03-10", "2027-03-12", .rule = "feed-after-hard-cut", .want = "due" },
	{ "dead_wood_is_no_hard_cut", AT_WET_WINTER, APPLE, "A1 cut dead wood 40% of crown @ 2027-02-10|" FED("2027-03-10"), "2027-03-12", .rule = "feed-after-hard-cut", .want = "" },
	{ "a_late_feed_is_told_as_that", AT_COOL, "A1 peach 2012", HARD("2027-05-10") "|" FED("2027-09-10"), "2027-09-12", .rule = "feed-after-hard-cut", .want = "" },
	{ "an_unknown_kind_is_not_judged", AT_WET_WINTER, "A1 - 2012", HARD("2027-02-10") "|" FED("2027-03-10"), "2027-03-12", .rule = "feed-after-hard-cut", .want = "" },
};
/* clang-format on */

/* --- whose shoot it is --- */

static void check_shoot(const char *rootstock, enum origin how, const char *want)
{
	struct garden garden;
	struct fault why = {0};
	struct new_tree tree = {.tree.label = "A1", .tree.how = how, .species = "apple"};
	char asked[TEXT_SIZE], id[ID_SIZE];

	garden_make(&garden, "2027-05-12");
	snprintf(tree.tree.rootstock, sizeof tree.tree.rootstock, "%s", rootstock);
	check_ok(work_tree_add(garden.yard, &tree, asked, id, &why), &why);
	garden_look(&garden);
	garden_log(&garden, SAW("2027-05-10"));
	struct flags flags = log_case_flags(&garden);
	const struct flag *flag = log_case_find(&flags, "suckers-standing");
	assert_non_null(flag);
	log_case_check_words(flag);
	check_has(flag->action, want, rootstock);
	garden_free(&garden);
}

static void below_a_graft_a_shoot_is_the_rootstock(void **state)
{
	(void)state;
	check_shoot("MM106", ORIGIN_BOUGHT, "below the graft is the rootstock");
	check_shoot("", ORIGIN_GRAFT, "below the graft is the rootstock");
	check_shoot("", ORIGIN_SEED, "the same tree");
	check_shoot("", ORIGIN_CUTTING, "the same tree");
	check_shoot("", ORIGIN_BOUGHT, "below a graft it is the rootstock");
}

static void one_line_settles_them(void **state)
{
	const struct log_case told = {.place = AT_WET_WINTER,
		.trees = APPLE,
		.lines = SAW("2027-05-10"),
		.today = "2027-05-12"};
	struct garden garden;

	(void)state;
	log_case_make(&garden, &told, false);
	struct flags flags = log_case_flags(&garden);
	garden_log(&garden, log_case_find(&flags, "suckers-standing")->fills);
	flags = log_case_flags(&garden);
	assert_null(log_case_find(&flags, "suckers-standing"));
	garden_free(&garden);
}

static void a_feed_is_told_of_before_it_is_given(void **state)
{
	const struct log_case told = {.place = AT_WET_WINTER,
		.trees = APPLE,
		.lines = HARD("2027-02-10"),
		.today = "2027-03-12"};
	struct garden garden;

	(void)state;
	log_case_make(&garden, &told, false);
	struct flags flags = log_case_try(&garden, "A1", "A1 fed 1 lb 10-10-10");
	assert_non_null(log_case_find(&flags, "feed-after-hard-cut"));
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(below_a_graft_a_shoot_is_the_rootstock),
		cmocka_unit_test(one_line_settles_them),
		cmocka_unit_test(a_feed_is_told_of_before_it_is_given),
	};
	int failed =
		LOG_CASES("suckers-standing", suckers) + LOG_CASES("feed-after-hard-cut", feeds);

	failed += cmocka_run_group_tests_name("what follows", tests, NULL, NULL);
	return failed != 0;
}
