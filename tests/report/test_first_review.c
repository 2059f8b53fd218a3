/* SPDX-License-Identifier: MIT */
/* The first review of a yard only just typed in: sixty trees with label, kind and planting year,
 * and nothing else. Whatever the month, the side of the equator and the units, it stays within ten
 * lines, and nothing in it asks for work that nobody logged. */
#include "support/first_yard.h"

enum { CLIMATES = 5, FIRST_PLANTED = 1990 };

struct yard_case {
	const char *name;
	bool south;
	enum unit_system units;
	bool in_doubt;
};
static const struct yard_case yards[] = {
	{"in_the_north_in_pounds_and_feet", false, UNITS_US, false},
	{"in_the_north_in_kilograms_and_metres", false, UNITS_SI, false},
	{"in_the_south_in_pounds_and_feet", true, UNITS_US, false},
	{"in_the_south_in_kilograms_and_metres", true, UNITS_SI, false},
	{"with_kinds_in_doubt_in_the_north", false, UNITS_US, true},
	{"with_kinds_in_doubt_in_the_south", true, UNITS_SI, true},
};

static void check_yard(void **state)
{
	static const enum log_place climates[CLIMATES] = {
		AT_WET_WINTER, AT_COOL, AT_CONTINENTAL, AT_HUMID, AT_UNSAID};
	const struct yard_case *asked = *state;
	struct dice dice = dice_start();
	struct first_yard one = {.south = asked->south,
		.units = asked->units,
		.in_doubt = asked->in_doubt,
		.first_year = FIRST_PLANTED};

	for (int i = 0; i < CLIMATES; i++) {
		struct garden garden;

		one.climate = climates[i];
		first_yard_type_in(&garden, &one, &dice);
		for (int8_t month = 1; month <= 12; month++)
			first_yard_check(
				&garden, date_of_month_day(2027, (struct month_day){month, 12}));
		garden_free(&garden);
	}
}

/* --- questions folded over a yard --- */

static void a_folded_line_lists_its_trees_for_who_asks_why(void **state)
{
	static const struct log_case told = {.place = AT_COOL,
		.trees = "A1 - 2012; A2 - 2012; A10 - 2012",
		.lines = "",
		.today = "2026-04-10"};
	const struct review_options options = {.all = false};
	struct review review = {.count = 0};
	struct garden garden;
	struct fault why = {0};

	(void)state;
	log_case_make(&garden, &told, false);
	check_ok(review_make(garden.yard, &options, garden.arena, &review, &why), &why);
	check_int(review.count, 1, "lines");
	check_text(review.items[0].flag.says, "kind not known: 3 trees", "says");
	check_int(review.items[0].flag.evidence_count, 1, "evidence");
	check_text(review.items[0].flag.evidence[0], "A1, A2, A10", "its trees");
	garden_free(&garden);
}

static void a_question_about_one_tree_keeps_what_it_rests_on(void **state)
{
	static const struct log_case told = {.place = AT_COOL,
		.trees = "A1 apple 2012; A2 apple 2012",
		.lines = "A2 saw label gone @ 2026-03-10",
		.today = "2026-04-10"};
	const struct review_options options = {.all = false};
	struct review review = {.count = 0};
	struct garden garden;
	struct fault why = {0};

	(void)state;
	log_case_make(&garden, &told, false);
	check_ok(review_make(garden.yard, &options, garden.arena, &review, &why), &why);
	check_int(review.count, 1, "lines");
	check_text(review.items[0].flag.label, "A2", "label");
	check_text(review.items[0].flag.says, "label gone or not to be read", "says");
	check_int(review.items[0].flag.evidence_count, 1, "evidence");
	check_text(review.items[0].flag.evidence[0], "as logged, 10 March 2026: A2 saw label gone",
		"what it rests on");
	garden_free(&garden);
}

static void of_many_trees_the_rest_is_counted(void **state)
{
	struct log_case told = {.place = AT_COOL, .trees = "", .lines = "", .today = "2026-04-10"};
	const struct review_options options = {.all = false};
	struct review review = {.count = 0};
	struct garden garden;
	struct fault why = {0};

	(void)state;
	log_case_make(&garden, &told, false);
	for (int i = 1; i <= 90; i++) {
		char label[8];

		snprintf(label, sizeof label, "T%d", i);
		garden_tree(&garden, label, "", "2012", "");
	}
	check_ok(review_make(garden.yard, &options, garden.arena, &review, &why), &why);
	check_int(review.items[0].trees, 90, "trees");
	check_has(review.items[0].flag.evidence[0], "T1, T2, T3", "the first");
	check_has(review.items[0].flag.evidence[0], " more", "the rest");
	garden_free(&garden);
}

int main(void)
{
	enum { YARDS = sizeof yards / sizeof yards[0] };
	const struct CMUnitTest folds[] = {
		cmocka_unit_test(a_folded_line_lists_its_trees_for_who_asks_why),
		cmocka_unit_test(a_question_about_one_tree_keeps_what_it_rests_on),
		cmocka_unit_test(of_many_trees_the_rest_is_counted),
	};
	struct CMUnitTest tests[YARDS];

	for (size_t i = 0; i < YARDS; i++)
		tests[i] = (struct CMUnitTest){.name = yards[i].name,
			.test_func = check_yard,
			.initial_state = (void *)(uintptr_t)&yards[i]};
	int failed = cmocka_run_group_tests_name("first review", tests, NULL, NULL);
	failed += cmocka_run_group_tests_name("folded lines", folds, NULL, NULL);
	return failed != 0;
}
