/* SPDX-License-Identifier: MIT */
/* The checks themselves: a check that cannot fail would make every other test worthless. Called
 * with the name of a case, this program runs that check as its only test. */
#include "support/test.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct red_check {
	const char *name;
	void (*run)(void **state);
	const char *says;
};

static const struct fault outside = {
	.status = STATUS_RANGE, .text = "girth 3 mm is outside 10..6000 mm"};

static void equal_values_pass(void **state)
{
	(void)state;
	check_int(-3, -3, "negative");
	check_close(0.1 + 0.2, 0.3, 1e-12, "sum");
	check_text("fig", "fig", "text");
	check_has("fig by gate", "by", "part");
	check_ok(STATUS_OK, &outside);
	check_refused(STATUS_RANGE, STATUS_RANGE, &outside, "10..6000");
}

static void int_differs(void **state)
{
	(void)state;
	check_int(-3, 3, "signed");
}

static void close_differs(void **state)
{
	(void)state;
	check_close(16777217.0, 16777216.0, 0.5, "beyond single precision");
}

static void close_is_nan(void **state)
{
	(void)state;
	check_close(nan(""), 0.0, 1e9, "not a number");
}

static void text_differs(void **state)
{
	(void)state;
	check_text("fig", "figs", "kind");
}

static void text_is_null(void **state)
{
	(void)state;
	check_text(NULL, "", "kind");
}

static void part_is_missing(void **state)
{
	(void)state;
	check_has("fig by gate", "plum", "label");
}

static void status_is_not_ok(void **state)
{
	(void)state;
	check_ok(STATUS_RANGE, &outside);
}

static void refused_for_another_reason(void **state)
{
	(void)state;
	check_refused(STATUS_RANGE, STATUS_RANGE, &outside, "height");
}

static void refused_by_another_status(void **state)
{
	(void)state;
	check_refused(STATUS_SYNTAX, STATUS_RANGE, &outside, "");
}

static void seed_is_told(void **state)
{
	(void)state;
	struct dice dice = dice_start();
	check_int((int64_t)dice_roll(&dice), 0, "roll");
}

static void golden_differs(void **state)
{
	(void)state;
	check_golden("one\ntwo\n", "tests/support/golden_sample.txt");
}

static void golden_is_missing(void **state)
{
	(void)state;
	check_golden("one\n", "tests/support/no_such_golden.txt");
}

static const struct red_check red_checks[] = {
	{"int_differs", int_differs, "signed: got -3, want 3"},
	{"close_differs", close_differs, "beyond single precision: got 16777217"},
	{"close_is_nan", close_is_nan, "not a number: got nan"},
	{"text_differs", text_differs, "want \"figs\""},
	{"text_is_null", text_is_null, "got  \"(null)\""},
	{"part_is_missing", part_is_missing, "want \"plum\" in it"},
	{"status_is_not_ok", status_is_not_ok, "status range: girth 3 mm"},
	{"refused_for_another_reason", refused_for_another_reason, "want \"height\""},
	{"refused_by_another_status", refused_by_another_status, "status syntax, want range"},
	{"seed_is_told", seed_is_told, "SEED=20260321 repeats this"},
	{"golden_differs", golden_differs, "golden_sample.txt:2: differs"},
	{"golden_is_missing", golden_is_missing, "is not there"},
};

static void fails_and_says_why(const void *one)
{
	const struct red_check *check = one;
	char self[SCRATCH_PATH_SIZE] = {0};
	assert_non_null(realpath("/proc/self/exe", self));
	const char *const words[] = {
		"env", "-u", "UPDATE_GOLDEN", "-u", "SEED", self, check->name, NULL};
	struct spawned spawned = command_run(NULL, words);
	check_int(spawned.status, 1, "exit status");
	check_has(spawned.err, check->says, "message");
	check_has(spawned.err, "test_test.c", "place");
	spawned_free(&spawned);
}

static int run_red(const char *name)
{
	for (size_t i = 0; i < sizeof red_checks / sizeof red_checks[0]; i++) {
		if (strcmp(red_checks[i].name, name) == 0) {
			const struct CMUnitTest tests[] = {
				{.name = name, .test_func = red_checks[i].run}};
			return cmocka_run_group_tests_name("red", tests, NULL, NULL);
		}
	}
	return 0;
}

int main(int count, char **words)
{
	if (count > 1) {
		return run_red(words[1]);
	}
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(equal_values_pass),
	};
	const int failed = cmocka_run_group_tests_name("test", tests, NULL, NULL) +
			   RUN_CASES("red checks", red_checks, fails_and_says_why);
	return failed != 0;
}
