/* SPDX-License-Identifier: MIT */
/* What holds wherever one is: signals do the log and the terminal no harm, and where nothing
 * happens nothing is sent. What comes in is test_every_input.c. */
#include "support/every.h"
#include "support/test.h"

#include <signal.h>
#include <string.h>

static void signals_leave_a_sane_terminal_and_log(const void *one)
{
	static const int signals[] = {SIGTERM, SIGINT, SIGHUP};
	const struct where *where = one;
	const size_t count = sizeof signals / sizeof signals[0];
	const size_t first = SANITIZED ? (size_t)(where - wheres) % count : 0;
	const size_t end = SANITIZED ? first + 1 : count;
	for (size_t i = first; i < end; i++) {
		struct stage stage;
		go_there(&stage, where);
		const int before = acts_of(&stage);
		assert_int_equal(kill(stage.pty->child, signals[i]), 0);
		check_int(pty_expect_end(stage.pty, 1000), 128 + signals[i], "status");
		stage_check_modes(&stage, where->name);
		check_sound(&stage);
		check_int(acts_of(&stage), before, "acts");
		if (where->kept) {
			(void)pty_close(stage.pty);
			stage_start(&stage);
			(void)stage_keys(&stage, where->keys);
			stage_shows(&stage, where->shows);
		}
		stage_close(&stage);
	}
}

/* All of them are open side by side and waited for once. */
static void nothing_is_sent_while_nothing_happens(void **state)
{
	(void)state;
	static struct stage stages[WHERES];
	size_t before[WHERES];
	for (size_t i = 0; i < WHERES; i++)
		go_there(&stages[i], &wheres[i]);
	(void)pty_read_quiet(stages[WHERES - 1].pty, 1500, STAGE_WAIT_MS); /* drafts are kept */
	for (size_t i = 0; i < WHERES; i++) {
		stage_quiet(&stages[i]);
		before[i] = stages[i].pty->received;
	}
	(void)pty_read_quiet(stages[0].pty, 3000, 3000);
	for (size_t i = 0; i < WHERES; i++) {
		stage_quiet(&stages[i]);
		check_int((int64_t)(stages[i].pty->received - before[i]), 0, wheres[i].name);
		stage_close(&stages[i]);
	}
}

int main(void)
{
	const struct CMUnitTest quiet[] = {cmocka_unit_test(nothing_is_sent_while_nothing_happens)};
	const int failed =
		RUN_CASES("signals everywhere", wheres, signals_leave_a_sane_terminal_and_log) +
		cmocka_run_group_tests_name("quiet everywhere", quiet, NULL, NULL);
	return failed != 0;
}
