/* SPDX-License-Identifier: MIT */
/* A tree's page on the real program. */
#include "support/spawn.h"
#include "support/stage.h"
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

static const char *row_of(const struct stage *stage, int row)
{
	static char text[VT_ROW_SIZE];
	return vt_row(stage->pty->screen, row, text);
}

/* The page of the n-th tree of the yard. */
static void open_tree(struct stage *stage, int rows, int columns, const char *lang, int n)
{
	const struct stage_options options = {.rows = rows, .columns = columns, .lang = lang};
	stage_open(stage, &options);
	char keys[200] = "";
	for (int i = 0; i < n; i++)
		strcat(keys, "Down ");
	(void)stage_keys(stage, strcat(keys, "Enter"));
	stage_shows(stage, "Tree");
}

static void tree_looks_as_it_was_kept(void **state)
{
	(void)state;
	struct stage stage;
	open_tree(&stage, 24, 80, NULL, 0);
	char *text = stage_text(&stage);
	check_golden(text, "tests/screens/golden/tree.screen");
	free(text);
	stage_close(&stage);
}

static void tree_in_ascii_looks_as_it_was_kept(void **state)
{
	(void)state;
	struct stage stage;
	open_tree(&stage, 24, 80, "C", 0);
	char *text = stage_text(&stage);
	check_golden(text, "tests/screens/golden/tree-ascii.screen");
	for (const char *at = text; *at != '\0'; at++)
		assert_true((unsigned char)*at < 0x80);
	free(text);
	stage_close(&stage);
}

static void hazard_stands_first(void **state)
{
	(void)state;
	struct stage stage;
	open_tree(&stage, 24, 80, NULL, 1);
	check_has(row_of(&stage, 1), "! power line over the north side", "first row");
	check_has(row_of(&stage, 2), "A2  loquat", "then its name");
	stage_close(&stage);
}

static void how_sure_it_is_stands_in_words(void **state)
{
	(void)state;
	struct stage stage;
	open_tree(&stage, 24, 80, NULL, 2);
	stage_shows(&stage, "A3  loquat (certain), Gold Nugget (suspected)");
	(void)stage_keys(
		&stage, "Right Right Right Right Right Right Right Right Right Right Right");
	stage_shows(&stage, "C4  peach or apricot (not decided)");
	stage_close(&stage);
}

static void grafts_and_host_know_each_other(void **state)
{
	(void)state;
	struct stage stage;
	open_tree(&stage, 43, 132, NULL, 5);
	stage_shows(&stage, "carries B3 east (apple, Fuji); B3 top");
	(void)stage_keys(&stage, "Right");
	stage_shows(&stage, "grafted on B3");
	stage_close(&stage);
}

static void left_and_right_go_through_the_yard(void **state)
{
	(void)state;
	struct stage stage;
	open_tree(&stage, 24, 80, NULL, 0);
	(void)stage_keys(&stage, "Left");
	stage_shows(&stage, "this is the first tree");
	(void)stage_keys(&stage, "Right");
	stage_shows(&stage, "A2  loquat");
	(void)stage_keys(&stage,
		"Right Right Right Right Right Right Right Right Right Right Right "
		"Right Right Right Right Right Right Right Right Right Right");
	stage_shows(&stage, "this is the last tree");
	stage_shows(&stage, "G1  unknown");
	stage_shows(&stage, "No dates");
	stage_close(&stage);
}

static void the_whole_story_is_reached_at_every_size(void **state)
{
	static const int sizes[][2] = {{15, 60}, {24, 80}, {43, 132}};
	(void)state;
	for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
		struct stage stage;
		open_tree(&stage, sizes[i][0], sizes[i][1], i == 0 ? "C" : NULL, 0);
		stage_check(&stage, "top");
		stage_shows(&stage, "today");
		(void)stage_keys(&stage, "End");
		stage_check(&stage, "end");
		stage_shows(&stage, "10 January 2020"); /* the first entry */
		stage_lacks(&stage, "Down: more");
		(void)stage_keys(&stage, "Home");
		stage_shows(&stage, "A1  loquat (certain)");
		(void)stage_keys(&stage, "a");
		stage_check(&stage, "all of it");
		for (int page = 0;
			page < 5 && vt_find(stage.pty->screen, "clear for the saw: ") < 0; page++)
			(void)stage_keys(&stage, "PageDown");
		stage_shows(&stage, "clear for the saw: ");
		(void)stage_keys(&stage, "End");
		stage_shows(&stage, "10 January 2020");
		stage_close(&stage);
	}
}

static void a_line_is_typed_from_here(void **state)
{
	(void)state;
	struct stage stage;
	open_tree(&stage, 24, 80, NULL, 3);
	(void)stage_keys(&stage, "l");
	stage_shows(&stage, "Walk");
	stage_type(&stage, "saw aphids light\r");
	stage_shows(&stage, "saw aphids, light");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "Tree");
	stage_shows(&stage, "s saw"); /* its letter is on the ribbon's key */
	(void)stage_keys(&stage, "End Up Up");
	stage_close(&stage);
}

static void its_flags_alone_are_a_key_away(void **state)
{
	(void)state;
	struct stage stage;
	open_tree(&stage, 24, 80, NULL, 1);
	(void)stage_keys(&stage, "r");
	stage_shows(&stage, "> ACT   A2");
	stage_lacks(&stage, "A1 ");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "A2  loquat");
	stage_close(&stage);
}

static void undo_from_here_is_seen_here(void **state)
{
	(void)state;
	struct stage stage;
	open_tree(&stage, 43, 132, NULL, 3);
	(void)stage_keys(&stage, "l");
	stage_type(&stage, "note seen from the path\r");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "Tree");
	stage_shows(&stage, "seen from the path");
	(void)stage_keys(&stage, "u");
	stage_shows(&stage, "undone: ");
	stage_lacks(&stage, "24 November 2026  noted");
	stage_close(&stage);
}

static void it_outlives_every_size_on_the_way(void **state)
{
	(void)state;
	struct stage stage;
	open_tree(&stage, 24, 80, NULL, 0);
	(void)stage_keys(&stage, "End");
	for (int rows = 60; rows >= 3; rows -= 9) {
		pty_resize(stage.pty, rows, rows * 3);
		stage_quiet(&stage);
	}
	pty_resize(stage.pty, 24, 80);
	stage_quiet(&stage);
	stage_check(&stage, "after many sizes");
	(void)stage_keys(&stage, "Home");
	stage_shows(&stage, "A1  loquat");
	stage_close(&stage);
}

static void the_months_stand_at_60_columns_and_at_132(void **state)
{
	static const int columns[] = {60, 80, 132};
	(void)state;
	for (size_t i = 0; i < 3; i++) {
		struct stage stage;
		open_tree(&stage, 24, columns[i], NULL, 0);
		int row = vt_find(stage.pty->screen, "Jun");
		assert_true(row > 0);
		static const char *const months[] = {"Jun", "Jul", "Aug", "Sep", "Oct", "Nov",
			"Dec", "Jan", "Feb", "Mar", "Apr", "May"};
		const char *at = row_of(&stage, row);
		for (size_t month = 0; month < 12; month++) {
			at = strstr(at, months[month]);
			if (at == NULL)
				fail_msg("%s is not in its place", months[month]);
		}
		stage_shows(&stage, "bloom▒");
		stage_shows(&stage, "▲ today");
		stage_close(&stage);
	}
}

static void photos_stand_with_day_and_words(void **state)
{
	(void)state;
	struct stage stage;
	open_tree(&stage, 43, 80, NULL, 0);
	stage_lacks(&stage, "photo  ");
	stage_enter(stage.log, "A1 photo pictures/a1-bloom.jpg @ 2026-11-01 ; first flowers");
	stage_shows(&stage, "photo  1 November 2026  pictures/a1-bloom.jpg; first flowers");
	stage_enter(stage.log, "A1 photo pictures/a1-cut.jpg @ 2026-11-12");
	stage_shows(&stage, "photo  12 November 2026  pictures/a1-cut.jpg (a: 1 more)");
	(void)stage_keys(&stage, "a");
	stage_shows(&stage, "photo  12 November 2026  pictures/a1-cut.jpg");
	stage_shows(&stage, "       1 November 2026  pictures/a1-bloom.jpg; first flowers");
	stage_close(&stage);
}

static void add_child(const struct stage *stage, const char *label, const char *how)
{
	const char *arguments[] = {"--log", stage->log, "--today", "2026-11-24", "tree", "add",
		label, "--species", "loquat", "--how", how, "--parent", "A1", NULL};
	struct spawned added = program_run_list(NULL, arguments);
	check_int(added.status, 0, added.err);
	spawned_free(&added);
}

static void parent_and_children_are_told(void **state)
{
	(void)state;
	struct stage stage;
	open_tree(&stage, 43, 132, NULL, 0);
	add_child(&stage, "A9", "seed");
	add_child(&stage, "A10", "graft");
	stage_shows(&stage, "A2 (seed), A9 (seed), A10");
	(void)stage_keys(&stage, "Right Right Right");
	stage_shows(&stage, "raised from seed of A1");
	(void)stage_keys(&stage, "Right");
	stage_shows(&stage, "grafted with wood of A1");
	stage_close(&stage);
}

static void each_stem_of_several_is_told(void **state)
{
	(void)state;
	struct stage stage;
	open_tree(&stage, 43, 132, NULL, 0);
	stage_enter(stage.log, "A1 stems 3 in, 4 in @ 2026-11-20");
	stage_shows(&stage, "its stems as one (3 in, 4 in)");
	stage_close(&stage);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(tree_looks_as_it_was_kept),
		cmocka_unit_test(tree_in_ascii_looks_as_it_was_kept),
		cmocka_unit_test(photos_stand_with_day_and_words),
		cmocka_unit_test(parent_and_children_are_told),
		cmocka_unit_test(each_stem_of_several_is_told),
		cmocka_unit_test(hazard_stands_first),
		cmocka_unit_test(how_sure_it_is_stands_in_words),
		cmocka_unit_test(grafts_and_host_know_each_other),
		cmocka_unit_test(left_and_right_go_through_the_yard),
		cmocka_unit_test(the_whole_story_is_reached_at_every_size),
		cmocka_unit_test(a_line_is_typed_from_here),
		cmocka_unit_test(its_flags_alone_are_a_key_away),
		cmocka_unit_test(undo_from_here_is_seen_here),
		cmocka_unit_test(it_outlives_every_size_on_the_way),
		cmocka_unit_test(the_months_stand_at_60_columns_and_at_132),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
