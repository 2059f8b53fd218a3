/* SPDX-License-Identifier: MIT */
/* Two trees side by side, on the real program. */
#include "support/golden.h"
#include "support/stage.h"
#include "support/test.h"

#include <stdlib.h>

static void open_two(struct stage *stage, int rows, int columns, const char *lang)
{
	const struct stage_options options = {.rows = rows, .columns = columns, .lang = lang};
	stage_open(stage, &options);
	(void)stage_keys(stage, "s");
	stage_shows(stage, "> A1");
	(void)stage_keys(stage, "c");
	stage_shows(stage, "A1 is marked");
	(void)stage_keys(stage, "Down");
	(void)stage_keys(stage, "c");
	stage_shows(stage, "Two trees");
}

static void what_both_gave_stands_on_one_scale(void **state)
{
	(void)state;
	struct stage stage;
	open_two(&stage, 24, 80, NULL);
	stage_check(&stage, "compare");
	stage_shows(&stage, "4 seasons weighed on both: A1 gave");
	stage_shows(&stage, "A1 more in");
	char *text = stage_text(&stage);
	check_golden(text, "tests/screens/golden/compare.screen");
	free(text);
	(void)stage_keys(&stage, "Home");
	stage_shows(&stage, "> 2020");
	stage_shows(&stage, "A1, 2020:");
	stage_lacks(&stage, "A2, 2020:");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "Season");
	stage_close(&stage);
}

static void it_is_whole_at_other_sizes(void **state)
{
	(void)state;
	static const int sizes[][2] = {{15, 60}, {43, 132}};
	for (int i = 0; i < 2; i++) {
		struct stage stage;
		open_two(&stage, sizes[i][0], sizes[i][1], i == 0 ? "C" : NULL);
		static const char *const keys[] = {"Up", "PageUp", "End", "Home", "PageDown"};
		for (size_t key = 0; key < sizeof keys / sizeof keys[0]; key++) {
			(void)stage_keys(&stage, keys[key]);
			stage_check(&stage, keys[key]);
			assert_true(vt_find(stage.pty->screen, "> 20") >= 0);
		}
		stage_close(&stage);
	}
}

static void one_is_no_pair_and_a_spot_is_no_tree(void **state)
{
	(void)state;
	struct stage stage;
	const struct stage_options options = {.rows = 24, .columns = 80};
	stage_open(&stage, &options);
	(void)stage_keys(&stage, "s");
	(void)stage_keys(&stage, "c");
	(void)stage_keys(&stage, "c");
	stage_shows(&stage, "A1 is marked");
	stage_lacks(&stage, "Two trees");
	(void)stage_keys(&stage, "End");
	stage_shows(&stage, "> south hole");
	(void)stage_keys(&stage, "c");
	stage_shows(&stage, "trees are compared");
	stage_close(&stage);
}

static void what_another_window_logs_shows(void **state)
{
	(void)state;
	struct stage stage;
	open_two(&stage, 24, 80, NULL);
	stage_lacks(&stage, "77 lb");
	stage_enter(stage.log, "A2 picked 77 lb @ 2026-06-02");
	stage_shows(&stage, "91 lb");
	stage_close(&stage);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(what_both_gave_stands_on_one_scale),
		cmocka_unit_test(it_is_whole_at_other_sizes),
		cmocka_unit_test(one_is_no_pair_and_a_spot_is_no_tree),
		cmocka_unit_test(what_another_window_logs_shows),
	};
	return cmocka_run_group_tests_name("compare", tests, NULL, NULL) != 0;
}
