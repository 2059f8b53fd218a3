/* SPDX-License-Identifier: MIT */
/* What became of fruit: sums by kind and season, what is in store, what ripens together. */
#include "report/stock_report.h"

#include "support/garden.h"

enum { POUND_MG = 453592 };

static struct stock_report stock_of(struct garden *garden, int32_t year)
{
	struct stock_report report;
	const struct stock_options options = {.year = known_i32(year)};
	struct fault why = {0};
	check_ok(stock_report_make(garden->yard, &options, garden->arena, &report, &why), &why);
	return report;
}

static const struct stock_line *kind_of(const struct stock_report *report, const char *kind)
{
	for (int32_t i = 0; i < report->count; i++)
		if (strcmp(report->lines[i].kind_name, kind) == 0)
			return &report->lines[i];
	fail_msg("nothing of %s", kind);
	return NULL;
}

static void check_pounds(struct maybe_i64 mass, int64_t pounds, const char *what)
{
	assert_true(mass.known);
	check_int((mass.value + POUND_MG / 2) / POUND_MG, pounds, what);
}

static void make_apricots(struct garden *garden)
{
	garden_make(garden, "2026-09-20");
	garden_tree(garden, "C1", "apricot", "2014", "C1");
	garden_tree(garden, "C2", "apricot", "2014", "C2");
	garden_log(garden, "C1 picked 30 lb @ 2026-06-20");
	garden_log(garden, "C2 picked 20 lb @ 2026-06-22");
}

static void a_crop_is_told_by_what_became_of_it_and_the_rest_is_not_told(void **state)
{
	(void)state;
	struct garden garden;
	char words[400];
	make_apricots(&garden);
	garden_log(&garden, "C1 used 10 lb dried @ 2026-06-21");
	garden_log(&garden, "C2 sold 5 lb @ 2026-06-23");
	garden_log(&garden, "all apricots used 15 lb given away total @ 2026-06-24");
	struct stock_report report = stock_of(&garden, 2026);
	const struct stock_line *line = kind_of(&report, "apricot");
	check_int(report.count, 1, "kinds");
	check_pounds(line->picked_mg, 50, "picked");
	check_pounds(line->became[USE_DRIED], 10, "dried");
	check_pounds(line->became[USE_SOLD], 5, "sold");
	check_pounds(line->became[USE_GIVEN], 15, "given, off all of them");
	check_pounds(line->untold_mg, 20, "not told");
	assert_false(line->became[USE_FROZEN].known);
	assert_string_equal(stock_line_words(line, UNITS_US, words, sizeof words),
		"dried 10 lb (20 %), given away 15 lb (30 %), sold 5 lb (10 %), not told 20 lb "
		"(40 %)");
	garden_free(&garden);
}

static void more_told_than_picked_is_said_and_makes_no_shares(void **state)
{
	(void)state;
	struct garden garden;
	char words[400];
	make_apricots(&garden);
	garden_log(&garden, "C1 used 60 lb sold @ 2026-06-21");
	struct stock_report report = stock_of(&garden, 2026);
	const struct stock_line *line = kind_of(&report, "apricot");
	check_int(line->untold_mg.value, 0, "nothing is left to tell");
	check_pounds(line->over_mg, 10, "more than was picked");
	assert_string_equal(stock_line_words(line, UNITS_US, words, sizeof words),
		"sold 60 lb; 10 lb more than was picked");
	garden_free(&garden);
}

static void a_whole_pick_may_say_itself_what_became_of_it(void **state)
{
	(void)state;
	struct garden garden;
	make_apricots(&garden);
	garden_log(&garden, "C1 picked 8 lb, all frozen @ 2026-06-25");
	struct stock_report report = stock_of(&garden, 2026);
	const struct stock_line *line = kind_of(&report, "apricot");
	check_pounds(line->picked_mg, 58, "the pick counts as one");
	check_pounds(line->became[USE_FROZEN], 8, "frozen");
	check_pounds(line->in_store[USE_FROZEN], 8, "in store");
	garden_free(&garden);
}

static void what_is_taken_from_a_store_is_no_second_use_of_the_crop(void **state)
{
	(void)state;
	struct garden garden;
	char words[160];
	make_apricots(&garden);
	garden_log(&garden, "C1 used 10 lb frozen @ 2026-06-21");
	garden_log(&garden, "C1 used 4 lb from the freezer @ 2026-08-01");
	struct stock_report report = stock_of(&garden, 2026);
	const struct stock_line *line = kind_of(&report, "apricot");
	check_pounds(line->became[USE_FROZEN], 10, "frozen");
	assert_false(line->became[USE_FRESH].known);
	check_pounds(line->untold_mg, 40, "not told");
	check_pounds(line->in_store[USE_FROZEN], 6, "left");
	garden_log(&garden, "C1 used 9 lb from the freezer, given away @ 2026-09-01");
	report = stock_of(&garden, 2026);
	line = kind_of(&report, "apricot");
	check_int(line->in_store[USE_FROZEN].value, 0, "a store never runs below nothing");
	assert_string_equal(
		stock_store_words(line, UNITS_US, words, sizeof words), "frozen none left");
	garden_free(&garden);
}

static void a_use_after_new_year_is_of_the_crop_it_came_from(void **state)
{
	(void)state;
	struct garden garden;
	garden_make(&garden, "2027-02-20");
	garden_tree(&garden, "A1", "apple", "2014", "A1");
	garden_log(&garden, "A1 picked 100 lb @ 2026-10-10");
	garden_log(&garden, "A1 sold 30 lb @ 2027-01-15");
	struct stock_report report = stock_of(&garden, 2026);
	check_pounds(kind_of(&report, "apple")->became[USE_SOLD], 30, "sold in winter");
	check_int(stock_of(&garden, 2027).count, 0, "nothing of the season to come");
	garden_free(&garden);
}

static void struck_planned_and_private_uses_do_not_count(void **state)
{
	(void)state;
	struct garden garden;
	struct work_logged said;
	struct fault why = {0};
	make_apricots(&garden);
	const char *id = garden_log(&garden, "C1 used 10 lb dried @ 2026-06-21");
	check_ok(work_strike(garden.yard, id, &said, &why), &why);
	garden_log(&garden, "C1 plan used 10 lb dried @ 2026-10-21");
	struct stock_report report = stock_of(&garden, 2026);
	assert_false(kind_of(&report, "apricot")->became[USE_DRIED].known);
	garden_log(&garden, "C2 used 10 lb dried @ 2026-06-23");
	struct tree tree = garden_find(&garden, "C2");
	struct tree_change change = {.tree = tree};
	change.tree.is_private = true;
	check_ok(work_tree_change(garden.yard, &change, garden.asked, &why), &why);
	garden_look(&garden);
	const struct stock_options options = {.year = known_i32(2026), .without_private = true};
	check_ok(stock_report_make(garden.yard, &options, garden.arena, &report, &why), &why);
	check_pounds(kind_of(&report, "apricot")->picked_mg, 30, "C1 alone");
	assert_false(kind_of(&report, "apricot")->became[USE_DRIED].known);
	garden_free(&garden);
}

static void what_was_not_weighed_is_counted_as_times(void **state)
{
	(void)state;
	struct garden garden;
	make_apricots(&garden);
	garden_log(&garden, "C1 used 3 trays dried @ 2026-06-21");
	struct stock_report report = stock_of(&garden, 2026);
	check_int(kind_of(&report, "apricot")->not_weighed[USE_DRIED], 1, "a tray of no weight");
	assert_false(kind_of(&report, "apricot")->became[USE_DRIED].known);
	garden_free(&garden);
}

static void first_picks_of_one_fortnight_stand_together(void **state)
{
	(void)state;
	struct garden garden;
	char words[400];
	garden_make(&garden, "2026-03-20");
	garden_tree(&garden, "C1", "apricot", "2010", "C1");
	garden_tree(&garden, "C2", "peach", "2010", "C2");
	garden_tree(&garden, "C3", "peach", "2010", "C3");
	garden_log(&garden, "C1 picked last 30 lb @ 2024-06-20");
	garden_log(&garden, "C1 picked last 34 lb @ 2025-06-22");
	garden_log(&garden, "C2 picked last 50 lb @ 2024-06-30");
	garden_log(&garden, "C2 picked last 60 lb @ 2025-06-28");
	garden_log(&garden, "C3 picked last 50 lb @ 2024-07-20");
	garden_log(&garden, "C3 picked last 60 lb @ 2025-07-22");
	struct stock_report report = stock_of(&garden, 2025);
	check_int(report.fortnight_count, 1, "fortnights with more than one tree");
	const struct stock_fortnight *together = &report.fortnights[0];
	check_int(together->count, 2, "C1 and C2, not C3 three weeks on");
	check_int(together->kinds, 2, "an apricot and a peach");
	check_int((together->expected_mg + POUND_MG / 2) / POUND_MG, 87, "32 and 55 lb");
	assert_string_equal(stock_ripe_words(&together->ripe[0], UNITS_US, words, sizeof words),
		"C1 apricot from 21 June 2026, about 32 lb (day: your picks; amount: 2 seasons)");
	garden_free(&garden);
}

/* --- the line --- */

static void a_line_that_does_not_say_enough_is_asked_back(void **state)
{
	(void)state;
	static const struct {
		const char *line;
		const char *told;
	} cases[] = {
		{"C1 kept 5 lb", "what became of it?"},
		{"C1 sold to a neighbour", "how much of the fruit?"},
		{"C1 used 8 lb dried and 5 lb given", "'C1 used 5 lb given'"},
		{"C1 picked 6 lb dried", "'C1 used 6 lb dried'"},
	};
	struct garden garden;
	make_apricots(&garden);
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		struct fault why = {0};
		assert_int_not_equal(garden_try(&garden, cases[i].line, &why), STATUS_OK);
		if (strstr(why.text, cases[i].told) == NULL)
			fail_msg("'%s' is told '%s'", cases[i].line, why.text);
	}
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_crop_is_told_by_what_became_of_it_and_the_rest_is_not_told),
		cmocka_unit_test(more_told_than_picked_is_said_and_makes_no_shares),
		cmocka_unit_test(a_whole_pick_may_say_itself_what_became_of_it),
		cmocka_unit_test(what_is_taken_from_a_store_is_no_second_use_of_the_crop),
		cmocka_unit_test(a_use_after_new_year_is_of_the_crop_it_came_from),
		cmocka_unit_test(struck_planned_and_private_uses_do_not_count),
		cmocka_unit_test(what_was_not_weighed_is_counted_as_times),
		cmocka_unit_test(first_picks_of_one_fortnight_stand_together),
		cmocka_unit_test(a_line_that_does_not_say_enough_is_asked_back),
	};
	int failed = cmocka_run_group_tests_name("stock", tests, NULL, NULL);
	return failed != 0;
}
