/* SPDX-License-Identifier: MIT */
/* A crop as a bar: its width, its mark, its end. */
#include <string.h>

#include "core/text.h"
#include "screens/season_bar.h"
#include "support/test.h"

struct bar_case {
	const char *name;
	struct season_bar bar;
	const char *want;
};

/* clang-format off */
static const struct bar_case cases[] = {
	{"nothing", {0, 100, -1, 8, false, true}, "        "},
	{"all of it", {100, 100, -1, 8, false, true}, "########"},
	{"half", {50, 100, -1, 8, false, true}, "####    "},
	{"a trace still shows in ASCII", {1, 1000, -1, 8, false, true}, "#       "},
	{"a trace still shows", {1, 1000, -1, 8, false, false}, "▏       "},
	{"an eighth of a cell", {25, 200, -1, 8, false, false}, "█       "},
	{"a half cell", {100, 1600, -1, 8, false, false}, "▌       "},
	{"the mean is marked", {0, 200, 100, 9, false, true}, "    |    "},
	{"at its mean", {100, 200, 100, 9, false, true}, "####|    "},
	{"above its mean", {150, 200, 100, 9, false, true}, "####|##  "},
	{"twice its mean", {200, 200, 100, 9, false, true}, "####|####"},
	{"far above ends in an arrow", {900, 200, 100, 9, false, true}, "####|###>"},
	{"far above, UTF-8", {900, 200, 100, 9, false, false}, "████│███▶"},
	{"in progress", {150, 200, 100, 9, true, true}, "----|--  "},
	{"in progress, UTF-8", {150, 200, 100, 9, true, false}, "░░░░│░░  "},
	{"nothing to compare with", {50, 0, -1, 4, false, true}, "    "},
	{"a mark at the very end", {0, 100, 100, 5, false, true}, "    |"},
	{"a mark past the end stays inside", {0, 100, 900, 5, false, true}, "    |"},
	{"one cell", {100, 100, -1, 1, false, true}, "#"},
	{"weights of a whole orchard", {INT64_C(4000000000000), INT64_C(8000000000000), -1, 8, false, true}, "####    "},
};
/* clang-format on */

static void check_case(void **state)
{
	const struct bar_case *row = *state;
	char out[SEASON_BAR_SIZE];
	check_text(season_bar_draw(&row->bar, out), row->want, row->name);
}

static void every_width_is_kept(void **state)
{
	(void)state;
	struct dice dice = dice_start();
	for (int i = 0; i < 2000; i++) {
		char out[SEASON_BAR_SIZE];
		struct season_bar bar = {.value = dice_between(&dice, 0, 5000),
			.full = dice_between(&dice, 0, 2000),
			.mark = dice_between(&dice, -1, 3000),
			.cells = (int)dice_between(&dice, 1, 90),
			.open = dice_between(&dice, 0, 1) == 1,
			.ascii = dice_between(&dice, 0, 1) == 1};
		int want = bar.cells > SEASON_BAR_CELLS_MAX ? SEASON_BAR_CELLS_MAX : bar.cells;
		check_int(text_width(season_bar_draw(&bar, out)), want, dice_remark());
	}
}

static void a_larger_crop_is_never_shorter(void **state)
{
	(void)state;
	char before[SEASON_BAR_SIZE], after[SEASON_BAR_SIZE];
	struct season_bar bar = {.full = 1000, .mark = -1, .cells = 20, .ascii = true};
	season_bar_draw(&bar, before);
	for (bar.value = 1; bar.value <= 1000; bar.value++) {
		season_bar_draw(&bar, after);
		assert_true(strspn(after, "#") >= strspn(before, "#"));
		memcpy(before, after, sizeof before);
	}
}

int main(void)
{
	enum { CASES = sizeof cases / sizeof cases[0] };
	struct CMUnitTest tests[CASES + 2];
	for (size_t i = 0; i < CASES; i++)
		tests[i] = (struct CMUnitTest){.name = cases[i].name,
			.test_func = check_case,
			.initial_state = (void *)(uintptr_t)&cases[i]};
	tests[CASES] = (struct CMUnitTest)cmocka_unit_test(every_width_is_kept);
	tests[CASES + 1] = (struct CMUnitTest)cmocka_unit_test(a_larger_crop_is_never_shorter);
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
