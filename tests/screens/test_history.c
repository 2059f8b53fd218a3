/* SPDX-License-Identifier: MIT */
/* What was done, and what was answered: each can be taken back, it alone. */
#include "support/stage.h"
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

static void history_looks_as_it_was_kept(void **state)
{
	(void)state;
	struct stage stage;
	stage_open_at(&stage, 24, 80, NULL, "H");
	(void)stage_keys(&stage, "End");
	stage_golden(&stage, "tests/screens/golden/history.screen");
	stage_close(&stage);
}

static void one_act_of_the_middle_is_taken_back(void **state)
{
	(void)state;
	static const char sql[] = "SELECT count(*) FROM entry WHERE struck = 0 AND kind = 'saw'";
	struct stage stage;
	stage_open_at(&stage, 24, 80, NULL, "H");
	const int before = stage_count(&stage, sql);
	(void)stage_keys(&stage, "Down Down");
	stage_shows(&stage, "entry C2 saw gum");
	check_int(stage_keys(&stage, "x"), 1, "keys it took");
	stage_shows(&stage, "taken back: C2: saw gum");
	stage_shows(&stage, "(taken back) C2: saw gum");
	check_int(stage_count(&stage, sql), before - 1, "gone");
	/* the cursor stayed with its act, which goes only once */
	(void)stage_keys(&stage, "x");
	stage_shows(&stage, "it was already");
	check_int(stage_count(&stage, sql), before - 1, "and nothing else");
	(void)stage_keys(&stage, "U");
	check_int(stage_count(&stage, sql), before, "U brings it back");
	(void)stage_keys(&stage, "Home Down");
	stage_shows(&stage, "undone: C2: saw gum");
	stage_close(&stage);
}

static void a_taking_back_is_taken_back(void **state)
{
	(void)state;
	static const char sql[] = "SELECT count(*) FROM entry WHERE struck = 0 AND kind = 'saw'";
	struct stage stage;
	stage_open_at(&stage, 24, 80, NULL, "H");
	const int before = stage_count(&stage, sql);
	(void)stage_keys(&stage, "Down Down");
	(void)stage_keys(&stage, "x");
	(void)stage_keys(&stage, "Home");
	stage_shows(&stage, "undone: C2: saw gum");
	(void)stage_keys(&stage, "x");
	stage_shows(&stage, "done again: C2: saw gum");
	check_int(stage_count(&stage, sql), before, "back");
	(void)stage_keys(&stage, "u");
	check_int(stage_count(&stage, sql), before - 1, "u undoes it");
	stage_close(&stage);
}

static void answers_look_as_they_were_kept(void **state)
{
	(void)state;
	struct stage stage;
	stage_open_at(&stage, 24, 80, NULL, "r p");
	(void)stage_keys(&stage, "x");
	stage_type(&stage, "the tree is to go");
	(void)stage_keys(&stage, "Enter O");
	stage_shows(&stage, "Answered");
	stage_golden(&stage, "tests/screens/golden/answers.screen");
	(void)stage_keys(&stage, "Down");
	stage_shows(&stage, "because: the tree is to go");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "Tree");
	stage_shows(&stage, "A2");
	stage_close(&stage);
}

static void what_was_put_off_is_asked_about_again(void **state)
{
	(void)state;
	static const char sql[] = "SELECT count(*) FROM answer WHERE struck = 0";
	struct stage stage;
	stage_open_at(&stage, 24, 80, NULL, "O");
	stage_shows(&stage, "Nothing is put off");
	const int before = stage_count(&stage, sql);
	(void)stage_keys(&stage, "x");
	stage_lacks(&stage, "again");
	(void)stage_keys(&stage, "r p");
	(void)stage_keys(&stage, "O");
	stage_shows(&stage, "to 8 December 2026");
	check_int(stage_count(&stage, sql), before + 1, "answered");
	(void)stage_keys(&stage, "x");
	stage_shows(&stage, "the review speaks of it again");
	stage_shows(&stage, "Nothing is put off");
	check_int(stage_count(&stage, sql), before, "answers");
	(void)stage_keys(&stage, "u");
	stage_shows(&stage, "to 8 December 2026");
	stage_close(&stage);
}

static void a_rule_that_is_off_is_told_and_comes_back(void **state)
{
	(void)state;
	struct stage stage;
	stage_open_at(&stage, 24, 80, NULL, "");
	struct spawned off =
		program_run(NULL, "--log", stage.log, "rule", "off", "scout-due", NULL);
	check_int(off.status, 0, off.err);
	spawned_free(&off);
	(void)stage_keys(&stage, "O");
	stage_shows(&stage, "rule off");
	stage_shows(&stage, "all of the yard");
	(void)stage_keys(&stage, "x");
	stage_shows(&stage, "Nothing is put off");
	stage_close(&stage);
}

static void both_fit_60_by_15_in_ascii(void **state)
{
	(void)state;
	struct stage stage;
	stage_open_at(&stage, 15, 60, "C", "r p");
	(void)stage_keys(&stage, "O");
	stage_shows(&stage, "flower-wood: act");
	stage_check(&stage, "answers");
	stage_ascii(&stage);
	(void)stage_keys(&stage, "H End");
	stage_shows(&stage, "began the log");
	stage_check(&stage, "history");
	stage_ascii(&stage);
	stage_close(&stage);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(history_looks_as_it_was_kept),
		cmocka_unit_test(one_act_of_the_middle_is_taken_back),
		cmocka_unit_test(a_taking_back_is_taken_back),
		cmocka_unit_test(answers_look_as_they_were_kept),
		cmocka_unit_test(what_was_put_off_is_asked_about_again),
		cmocka_unit_test(a_rule_that_is_off_is_told_and_comes_back),
		cmocka_unit_test(both_fit_60_by_15_in_ascii),
	};
	return cmocka_run_group_tests_name("history", tests, NULL, NULL) != 0;
}
