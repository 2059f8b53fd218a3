/* SPDX-License-Identifier: MIT */
/* The season on the real program. */
#include "support/stage.h"
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

static const char *row_of(const struct stage *stage, int row)
{
	static char text[VT_ROW_SIZE];
	return vt_row(stage->pty->screen, row, text);
}

static const char *row_with(const struct stage *stage, const char *text)
{
	int row = vt_find(stage->pty->screen, text);
	if (row < 0)
		fail_msg("'%s' is not on the screen", text);
	return row_of(stage, row);
}

static void open_season(struct stage *stage, int rows, int columns, const char *lang)
{
	const struct stage_options options = {.rows = rows, .columns = columns, .lang = lang};
	stage_open(stage, &options);
	(void)stage_keys(stage, "s");
	stage_shows(stage, "Season");
}

static void season_looks_as_it_was_kept(void **state)
{
	(void)state;
	struct stage stage;
	open_season(&stage, 24, 80, NULL);
	char *text = stage_text(&stage);
	check_golden(text, "tests/screens/golden/season.screen");
	free(text);
	stage_close(&stage);
}

static void one_tree_looks_as_it_was_kept(void **state)
{
	(void)state;
	struct stage stage;
	open_season(&stage, 24, 80, NULL);
	(void)stage_keys(&stage, "Down Down Down Down Enter");
	stage_shows(&stage, "season by season");
	char *text = stage_text(&stage);
	check_golden(text, "tests/screens/golden/season-one.screen");
	free(text);
	stage_close(&stage);
}

static void a_crop_stands_against_its_own_past(void **state)
{
	(void)state;
	struct stage stage;
	open_season(&stage, 24, 80, "C");
	check_has(row_with(&stage, "> A1"), "54 lb ######|", "a bar to its mean and past it");
	check_has(row_with(&stage, "> A1"), "112 % of 48.4 lb (n 6)", "n is shown");
	stage_close(&stage);
}

static void what_is_in_progress_is_not_compared(void **state)
{
	(void)state;
	struct stage stage;
	open_season(&stage, 24, 80, "C");
	const char *row = row_with(&stage, "B2  ");
	check_has(row, "176 lb", "weight so far");
	check_has(row, "in progress", "said");
	assert_null(strchr(row, '#'));
	assert_null(strchr(row, '%'));
	stage_close(&stage);
}

static void left_and_right_change_the_season(void **state)
{
	(void)state;
	struct stage stage;
	open_season(&stage, 24, 80, NULL);
	stage_shows(&stage, "Season 2026");
	(void)stage_keys(&stage, "Left");
	stage_shows(&stage, "Season 2025");
	(void)stage_keys(&stage, "Right Right");
	stage_shows(&stage, "Season 2027");
	(void)stage_keys(&stage, "Right");
	stage_shows(&stage, "still to come");
	stage_shows(&stage, "Season 2027");
	stage_close(&stage);
}

static void the_past_has_an_end(void **state)
{
	(void)state;
	struct stage stage;
	open_season(&stage, 24, 80, NULL);
	(void)stage_keys(&stage,
		"Left Left Left Left Left Left Left Left Left Left Left Left Left "
		"Left Left Left Left Left Left Left Left Left Left Left Left Left");
	for (int i = 0; i < 6 && vt_find(stage.pty->screen, "nothing is kept") < 0; i++)
		(void)stage_keys(
			&stage, "Left Left Left Left Left Left Left Left Left Left Left Left");
	stage_shows(&stage, "nothing was picked before that");
	stage_check(&stage, "before all seasons");
	stage_close(&stage);
}

static void on_and_off_years_only_of_a_tree_that_swings(void **state)
{
	(void)state;
	struct stage stage;
	open_season(&stage, 24, 80, NULL);
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "A1  loquat, season by season");
	stage_lacks(&stage, "off year");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "> A1");
	(void)stage_keys(&stage, "Down Down Down Down Enter");
	stage_shows(&stage, "B2  apple, season by season");
	check_has(row_with(&stage, "2024 "), "on year", "a heavy one");
	check_has(row_with(&stage, "2025 "), "off year", "a light one");
	check_has(row_with(&stage, "> 2026"), "in progress", "this one");
	stage_close(&stage);
}

static void what_the_log_holds_is_offered_as_candidates(void **state)
{
	(void)state;
	struct stage stage;
	open_season(&stage, 24, 80, NULL);
	(void)stage_keys(&stage, "Left Left Left");
	stage_shows(&stage, "Season 2023");
	stage_shows(&stage, "may bear on it:");
	stage_shows(&stage, "shape cut 35% on 8 October 2022");
	stage_close(&stage);
}

static void sums_by_kind_are_at_the_foot(void **state)
{
	(void)state;
	struct stage stage;
	open_season(&stage, 43, 132, NULL);
	check_has(row_with(&stage, "3 trees, 68 lb"), "mean 34 lb a tree (n 2)", "loquats");
	stage_shows(&stage, "picked as one, 19 lb");
	stage_close(&stage);
}

static void a_small_screen_has_them_behind_a_key(void **state)
{
	(void)state;
	struct stage stage;
	open_season(&stage, 15, 60, NULL);
	stage_lacks(&stage, "3 trees");
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "3 trees, 68 lb");
	stage_check(&stage, "sums");
	stage_close(&stage);
}

static void a_spot_picked_as_one_has_its_seasons_too(void **state)
{
	(void)state;
	struct stage stage;
	open_season(&stage, 24, 80, NULL);
	(void)stage_keys(&stage, "End");
	stage_shows(&stage, "> south hole");
	(void)stage_keys(&stage, "t");
	stage_shows(&stage, "no tree of it is meant");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "south hole  peach and apricot, season by season");
	stage_close(&stage);
}

static void last_season_of_a_tree_in_three_keys(void **state)
{
	(void)state;
	struct stage stage;
	const struct stage_options options = {.rows = 24, .columns = 80};
	stage_open(&stage, &options);
	int keys = stage_keys(&stage, "Enter");
	stage_shows(&stage, "Tree");
	keys += stage_keys(&stage, "s");
	stage_shows(&stage, "A1  loquat, season by season");
	assert_true(keys <= 3);
	stage_close(&stage);
}

static void cursor_stands_on_the_selected_row(void **state)
{
	(void)state;
	static const int sizes[][2] = {{15, 60}, {24, 80}, {43, 132}};
	static const char *const keys[] = {"Down", "PageDown", "End", "Up", "Enter", "Up", "Esc"};
	for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
		struct stage stage;
		open_season(&stage, sizes[i][0], sizes[i][1], i == 0 ? "C" : NULL);
		for (size_t key = 0; key < sizeof keys / sizeof keys[0]; key++) {
			(void)stage_keys(&stage, keys[key]);
			stage_check(&stage, keys[key]);
			check_int(row_of(&stage, stage.pty->screen->pen.row)[0], '>', keys[key]);
		}
		stage_close(&stage);
	}
}

static void a_log_without_picks_still_opens(void **state)
{
	(void)state;
	struct stage stage;
	const struct stage_options options = {.rows = 24, .columns = 80, .empty = true};
	struct spawned made;
	stage = (struct stage){.scratch = scratch_make(), .options = options, .terminal = -1};
	(void)scratch_path(&stage.scratch, "yard.bough", stage.log);
	made = program_run(NULL, "--log", stage.log, "new", "--name", "Hill yard", NULL);
	check_int(made.status, 0, made.err);
	spawned_free(&made);
	stage_start(&stage);
	(void)stage_keys(&stage, "s");
	stage_shows(&stage, "no tree has a record of that season");
	(void)stage_keys(&stage, "Enter");
	(void)stage_keys(&stage, "t");
	(void)stage_keys(&stage, "End");
	stage_check(&stage, "nothing there");
	stage_close(&stage);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(season_looks_as_it_was_kept),
		cmocka_unit_test(one_tree_looks_as_it_was_kept),
		cmocka_unit_test(a_crop_stands_against_its_own_past),
		cmocka_unit_test(what_is_in_progress_is_not_compared),
		cmocka_unit_test(left_and_right_change_the_season),
		cmocka_unit_test(the_past_has_an_end),
		cmocka_unit_test(on_and_off_years_only_of_a_tree_that_swings),
		cmocka_unit_test(what_the_log_holds_is_offered_as_candidates),
		cmocka_unit_test(sums_by_kind_are_at_the_foot),
		cmocka_unit_test(a_small_screen_has_them_behind_a_key),
		cmocka_unit_test(a_spot_picked_as_one_has_its_seasons_too),
		cmocka_unit_test(last_season_of_a_tree_in_three_keys),
		cmocka_unit_test(cursor_stands_on_the_selected_row),
		cmocka_unit_test(a_log_without_picks_still_opens),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
