/* SPDX-License-Identifier: MIT */
/* entry-odd: a future day, a day outside the tree's life, ten times the usual, a trunk that shrank,
 * the same line twice. */
#include "support/log_case.h"

#define ODD .rule = "entry-odd"
#define APPLE "A1 apple 2012"
#define PICKS "A1 picked 2 kg @ 2025-09-01|A1 picked 3 kg @ 2025-09-08|A1 picked 4 kg @ 2025-09-15|"
#define FEEDS                                                                              \
	"A1 fed 1 lb 10-10-10 @ 2024-04-01|A1 fed 1 lb 10-10-10 @ 2025-04-01|A1 fed 2 lb " \
	"10-10-10 @ "                                                                      \
	"2025-05-01|"
#define WATER                                                                                \
	"A1 watered 10 gal @ 2026-05-01|A1 watered 10 gal @ 2026-05-08|A1 watered 12 gal @ " \
	"2026-05-15|"

/* clang-format off */
static const struct log_case days[] = {
	{ "a_pick_dated_after_today_is_asked", AT_WET_WINTER, APPLE, "A1 picked 2 kg @ 2026-10-01", "2026-09-30", ODD, .want = "note", .says = {"dated after today", "entry mend", "entry strike"} },
	{ "on_its_day_it_is_plain", AT_WET_WINTER, APPLE, "A1 picked 2 kg @ 2026-10-01", "2026-10-01", ODD, .want = "" },
	{ "a_plan_is_meant_for_later", AT_WET_WINTER, APPLE, "A1 plan cut shape 10% of crown @ 2026-12-10", "2026-09-30", ODD, .want = "" },
	{ "each_future_line_is_named", AT_NOWHERE, "A1 - -", "A1 picked 2 kg @ 2026-10-01|A1 fed 1 lb 10-10-10 @ 2026-10-02", "2026-09-30", ODD, .want = "note note", .once = true },
	{ "work_before_the_planting_is_one_question", AT_WET_WINTER, "A1 apple -", "A1 picked 2 kg @ 2010-09-01|A1 picked 2 kg @ 2011-09-01|A1 planted bare root @ 2012-02-01", "2026-09-30", ODD, .want = "note", .says = {"and 1 more lie before its planting", "tree set A1 --planted"} },
	{ "a_note_may_be_older_than_the_tree", AT_WET_WINTER, "A1 apple -", "A1 note ordered at the fair @ 2011-09-01|A1 planted bare root @ 2012-02-01", "2026-09-30", ODD, .want = "" },
	{ "the_day_before_the_planting", AT_WET_WINTER, "A1 apple -", "A1 fed 1 lb 10-10-10 @ 2012-01-31|A1 planted bare root @ 2012-02-01", "2026-09-30", ODD, .want = "note" },
	{ "the_day_of_the_planting", AT_WET_WINTER, "A1 apple -", "A1 watered 10 gal @ 2012-02-01|A1 planted bare root @ 2012-02-01", "2026-09-30", ODD, .want = "" },
	{ "in_the_year_of_planting_nothing_is_before", AT_WET_WINTER, APPLE, "A1 watered 10 gal @ 2012-01-02", "2026-09-30", ODD, .want = "", .once = true },
	{ "work_after_the_end_is_one_question", AT_WET_WINTER, APPLE, "A1 died fire blight @ 2024-05-01|A1 picked 3 kg @ 2025-09-01|A1 picked 3 kg @ 2025-09-09", "2026-09-30", ODD, .want = "note", .says = {"after the tree was gone", "another tree of that name"} },
	{ "on_its_last_day_all_is_well", AT_WET_WINTER, APPLE, "A1 died fire blight @ 2024-05-01|A1 picked 3 kg @ 2024-05-01", "2026-09-30", ODD, .want = "" },
	{ "words_after_the_end_are_welcome", AT_WET_WINTER, APPLE, "A1 died fire blight @ 2024-05-01|A1 note stump ground out @ 2025-05-01", "2026-09-30", ODD, .want = "" },
	{ "a_tree_that_is_gone_asks_for_nothing_else", AT_WET_WINTER, APPLE, "A1 cut shape 10% of crown @ 2025-02-10|A1 cut shape 10% of crown @ 2026-02-10|A1 died storm @ 2026-12-01", "2027-02-10", .rule = "shape-cut-due", .want = "" },
};

static const struct log_case amounts[] = {
	{ "ten_times_the_usual_pick", AT_WET_WINTER, APPLE, PICKS "A1 picked 30 kg @ 2026-09-15", "2026-09-30", ODD, .want = "note", .says = {"66.1 lb", "usual for this tree is 6 lb 10 oz"} },
	{ "just_under_ten_times", AT_WET_WINTER, APPLE, PICKS "A1 picked 29 kg @ 2026-09-15", "2026-09-30", ODD, .want = "" },
	{ "two_earlier_ones_are_no_usual", AT_WET_WINTER, APPLE, "A1 picked 2 kg @ 2025-09-01|A1 picked 3 kg @ 2025-09-08|A1 picked 90 kg @ 2026-09-15", "2026-09-30", ODD, .want = "" },
	{ "three_years_on_the_usual_is_forgotten", AT_WET_WINTER, APPLE, "A1 picked 2 kg @ 2020-09-01|A1 picked 3 kg @ 2020-09-08|A1 picked 4 kg @ 2020-09-15|A1 picked 40 kg @ 2026-09-15", "2026-09-30", ODD, .want = "" },
	{ "none_seen_is_no_small_amount", AT_WET_WINTER, APPLE, "A1 picked none @ 2023-09-01|A1 picked none @ 2024-09-01|A1 picked none @ 2025-09-01|A1 picked 40 kg @ 2026-09-15", "2026-09-30", ODD, .want = "" },
	{ "a_heavy_pick_after_one_of_its_size", AT_WET_WINTER, APPLE, PICKS "A1 picked 15 kg @ 2025-09-20|A1 picked 40 kg @ 2026-09-15", "2026-09-30", ODD, .want = "" },
	{ "ten_times_the_feed", AT_WET_WINTER, APPLE, FEEDS "A1 fed 10 lb 10-10-10 @ 2026-04-01", "2026-09-30", ODD, .want = "note", .says = {"The feed of", "10 lb", "1 lb"} },
	{ "another_product_is_no_comparison", AT_WET_WINTER, APPLE, FEEDS "A1 fed 40 lb compost @ 2026-04-01", "2026-09-30", ODD, .want = "" },
	{ "ten_times_the_water", AT_WET_WINTER, APPLE, WATER "A1 watered 120 gal @ 2026-05-22", "2026-09-30", ODD, .want = "note", .says = {"120 gal", "10 gal"} },
	{ "an_unknown_kind_is_asked_too", AT_NOWHERE, "A1 - -", PICKS "A1 picked 30 kg @ 2026-09-15", "2026-09-30", ODD, .want = "note", .once = true },
	{ "the_odd_one_does_not_make_the_next_ones_odd", AT_WET_WINTER, APPLE, PICKS "A1 picked 60 kg @ 2025-09-20|A1 picked 3 kg @ 2026-09-15", "2026-09-30", ODD, .want = "note" },
};

static const struct log_case trunks[] = {
	{ "a_girth_of_ten_times_the_last", AT_WET_WINTER, APPLE, "A1 girth 41 cm @ 2025-02-01|A1 girth 430 cm @ 2026-02-01", "2026-09-30", ODD, .want = "note", .says = {"makes the trunk far thicker"} },
	{ "inches_for_centimetres", AT_WET_WINTER, APPLE, "A1 girth 41 cm @ 2025-02-01|A1 girth 43 in @ 2026-02-01", "2026-09-30", ODD, .want = "note", .says = {"makes the trunk far thicker"} },
	{ "a_whip_that_thrives", AT_WET_WINTER, "A1 apple 2023", "A1 girth 3 cm @ 2023-02-01|A1 girth 12 cm @ 2024-02-01", "2024-09-30", ODD, .want = "" },
	{ "twice_as_thick_in_four_years", AT_WET_WINTER, "A1 apple 2018", "A1 girth 25 cm @ 2022-02-01|A1 girth 55 cm @ 2026-02-01", "2026-09-30", ODD, .want = "" },
	{ "a_girth_smaller_than_before", AT_WET_WINTER, APPLE, "A1 girth 50 cm @ 2025-02-01|A1 girth 44 cm @ 2026-02-01", "2026-09-30", ODD, .want = "note", .says = {"makes the trunk thinner"} },
	{ "within_a_twentieth_is_the_tape", AT_WET_WINTER, APPLE, "A1 girth 50 cm @ 2025-02-01|A1 girth 48 cm @ 2026-02-01", "2026-09-30", ODD, .want = "" },
	{ "a_thicker_trunk_is_growth", AT_WET_WINTER, APPLE, "A1 girth 44 cm @ 2025-02-01|A1 girth 50 cm @ 2026-02-01", "2026-09-30", ODD, .want = "" },
	{ "at_another_height_there_is_no_comparing", AT_WET_WINTER, APPLE, "A1 girth 50 cm at 1 ft @ 2025-02-01|A1 girth 44 cm at 3 ft @ 2026-02-01", "2026-09-30", ODD, .want = "" },
	{ "round_and_across_are_not_compared", AT_WET_WINTER, APPLE, "A1 girth 50 cm @ 2025-02-01|A1 diameter 12 cm @ 2026-02-01", "2026-09-30", ODD, .want = "" },
	{ "one_stem_of_three_is_not_the_one_trunk", AT_WET_WINTER, APPLE, "A1 girth 50 cm @ 2024-02-01|A1 stems 5 cm, 6 cm and 8 cm @ 2026-02-01", "2026-09-30", ODD, .want = "" },
	{ "a_figure_in_doubt_is_asked_by_its_own_rule", AT_WET_WINTER, "A1 apple 2020", "A1 trunk 50 cm @ 2025-02-01|A1 trunk 16 cm @ 2026-02-01", "2026-09-30", ODD, .want = "" },
	{ "asked_once_not_at_every_later_measure", AT_WET_WINTER, APPLE, "A1 girth 50 cm @ 2024-02-01|A1 girth 44 cm @ 2025-02-01|A1 girth 46 cm @ 2026-02-01", "2026-09-30", ODD, .want = "note" },
};

static const struct log_case twins[] = {
	{ "the_same_pick_twice_on_one_day", AT_WET_WINTER, APPLE, "A1 picked 6 lb 4 oz @ 2026-09-15|A1 picked 6 lb 4 oz @ 2026-09-15", "2026-09-30", ODD, .want = "note", .says = {"stands 2 times, all alike", "entry strike"} },
	{ "three_times_is_one_question", AT_WET_WINTER, APPLE, "A1 picked 6 lb @ 2026-09-15|A1 picked 6 lb @ 2026-09-15|A1 picked 6 lb @ 2026-09-15", "2026-09-30", ODD, .want = "note", .says = {"stands 3 times"} },
	{ "another_amount_is_another_pick", AT_WET_WINTER, APPLE, "A1 picked 6 lb @ 2026-09-15|A1 picked 5 lb @ 2026-09-15", "2026-09-30", ODD, .want = "" },
	{ "another_day_is_another_pick", AT_WET_WINTER, APPLE, "A1 picked 6 lb @ 2026-09-15|A1 picked 6 lb @ 2026-09-16", "2026-09-30", ODD, .want = "" },
	{ "a_note_that_tells_them_apart", AT_WET_WINTER, APPLE, "A1 picked 6 lb @ 2026-09-15 ; morning|A1 picked 6 lb @ 2026-09-15 ; evening", "2026-09-30", ODD, .want = "" },
	{ "two_picks_of_a_month_are_two", AT_WET_WINTER, APPLE, "A1 picked 6 lb @ 2026-09|A1 picked 6 lb @ 2026-09", "2026-09-30", ODD, .want = "" },
	{ "another_tree_is_another_tree", AT_WET_WINTER, "A1 apple 2012; A2 apple 2012", "A1 picked 6 lb @ 2026-09-15|A2 picked 6 lb @ 2026-09-15", "2026-09-30", ODD, .want = "" },
};
/* clang-format on */

/* --- a batch logged twice is one line for the yard --- */

static void a_batch_logged_twice_is_one_line(void **state)
{
	static const struct log_case told = {.place = AT_WET_WINTER,
		.trees = "A1 apple 2012; A2 apple 2012; A3 apple 2012",
		.lines = "all apples watered 10 gal @ 2026-05-01|all apples watered 10 gal @ "
			 "2026-05-01",
		.today = "2026-05-02"};
	const struct review_options options = {.all = true};
	struct review review = {.count = 0};
	struct garden garden;
	struct fault why = {0};
	int32_t odd = 0;

	(void)state;
	log_case_make(&garden, &told, false);
	check_ok(review_make(garden.yard, &options, garden.arena, &review, &why), &why);
	for (int32_t i = 0; i < review.count; i++) {
		if (strcmp(review.items[i].flag.rule, "entry-odd") != 0)
			continue;
		odd++;
		check_has(review.items[i].flag.says, "all alike: 3 trees", "the folded line");
	}
	check_int(odd, 1, "lines of the review");
	garden_free(&garden);
}

static void a_future_line_of_many_trees_is_one_line(void **state)
{
	static const struct log_case told = {.place = AT_WET_WINTER,
		.trees = "A1 apple 2012; A2 apple 2012; A3 apple 2012",
		.lines = "all apples watered 10 gal @ 2026-05-21",
		.today = "2026-05-02"};
	const struct review_options options = {.all = true};
	struct review review = {.count = 0};
	struct garden garden;
	struct fault why = {0};

	(void)state;
	log_case_make(&garden, &told, false);
	check_ok(review_make(garden.yard, &options, garden.arena, &review, &why), &why);
	check_int(review.count, 1, "lines of the review");
	check_text(review.items[0].flag.says,
		"The water of 21 May 2026 is dated after today: until then nothing is worked out "
		"from it: 3 trees",
		"the folded line");
	garden_free(&garden);
}

/* --- struck or mended, it is asked no more; the review reaches trees that are gone --- */

static int32_t odd_in_review(struct garden *garden)
{
	const struct review_options options = {.all = false};
	struct review review = {.count = 0};
	struct fault why = {0};
	int32_t odd = 0;

	garden_look(garden);
	check_ok(review_make(garden->yard, &options, garden->arena, &review, &why), &why);
	for (int32_t i = 0; i < review.count; i++)
		odd += strcmp(review.items[i].flag.rule, "entry-odd") == 0;
	return odd;
}

static void what_was_struck_is_asked_no_more(void **state)
{
	static const struct log_case told = {.place = AT_WET_WINTER,
		.trees = APPLE,
		.lines = "A1 died storm @ 2025-05-01|A1 picked 3 kg @ 2025-09-01",
		.today = "2026-05-02"};
	struct garden garden;
	struct work_logged logged;
	struct fault why = {0};

	(void)state;
	log_case_make(&garden, &told, false);
	check_int(odd_in_review(&garden), 1, "before");
	check_ok(work_strike(garden.yard, garden.logged.entry_id, &logged, &why), &why);
	check_int(odd_in_review(&garden), 0, "after");
	garden_free(&garden);
}

/* There is nothing to mend yet. */
static void what_is_only_asked_about_is_typed_anew(void **state)
{
	static const char *const lines[] = {
		"A1 cut sucker @ 2025-09-01", "A1 picked 3 kg @ 2025-04-20"};
	static const struct log_case told = {.place = AT_WET_WINTER,
		.trees = APPLE,
		.lines = "A1 died storm @ 2025-05-01|A1 picked 3 kg @ 2025-04-20",
		.today = "2026-05-02"};
	struct garden garden;

	(void)state;
	log_case_make(&garden, &told, false);
	for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
		struct flags flags = log_case_try(&garden, "A1", lines[i]);
		const struct flag *flag = log_case_find(&flags, "entry-odd");
		assert_non_null(flag);
		check_has(flag->action, "type it anew before it is saved", lines[i]);
		assert_null(strstr(flag->action, "entry mend"));
	}
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_batch_logged_twice_is_one_line),
		cmocka_unit_test(a_future_line_of_many_trees_is_one_line),
		cmocka_unit_test(what_was_struck_is_asked_no_more),
		cmocka_unit_test(what_is_only_asked_about_is_typed_anew),
	};
	int failed = LOG_CASES("entry-odd days", days);

	failed += LOG_CASES("entry-odd amounts", amounts);
	failed += LOG_CASES("entry-odd trunks", trunks);
	failed += LOG_CASES("entry-odd twice", twins);
	failed += cmocka_run_group_tests_name("entry-odd in the review", tests, NULL, NULL);
	return failed != 0;
}
