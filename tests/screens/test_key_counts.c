/* SPDX-License-Identifier: MIT */
/* How many keys the work of a day takes, counted on the real program. `make keys` prints the
 * table; what a grower types as amount, share or reason is counted apart, since it is theirs. */
#include "support/stage.h"
#include "support/test.h"

#include <string.h>

static const struct stage_options usual = {.rows = 24, .columns = 80};

static void counted(const char *what, int keys, int most)
{
	print_message("| %-48s | %4d | %4d |\n", what, keys, most);
	if (keys > most)
		fail_msg("%s: %d keys, at most %d", what, keys, most);
}

/* The keys of a text that is typed, each character one. */
static int typed(struct stage *stage, const char *text)
{
	stage_type(stage, text);
	return (int)strlen(text);
}

static void open_walk(struct stage *stage)
{
	stage_open(stage, &usual);
	(void)stage_keys(stage, "w");
	stage_shows(stage, "1 of 22");
}

static void pick_at_the_next_tree(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage);
	int keys = stage_keys(&stage, "Down");
	keys += typed(&stage, "p ");
	stage_type(&stage, "6 lb 4 oz");
	keys += stage_keys(&stage, "Enter");
	stage_shows(&stage, "A2: picked 6 lb 4 oz");
	stage_shows(&stage, "saved");
	counted("a pick at the next tree, and its amount", keys, 12);
	stage_close(&stage);
}

static void the_same_again_at_the_next(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage);
	stage_type(&stage, "w 5 gal\r");
	stage_shows(&stage, "saved");
	int keys = stage_keys(&stage, "Down =");
	stage_shows(&stage, "A2: watered 5 gal");
	stage_shows(&stage, "saved");
	counted("the same again at the next tree", keys, 2);
	stage_close(&stage);
}

static void a_cut_with_its_share(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage);
	int keys = typed(&stage, "c shape 20%");
	keys += stage_keys(&stage, "Enter");
	stage_shows(&stage, "A1: cut, shape, 20 %");
	stage_shows(&stage, "saved");
	counted("a cut with its kind and share", keys, 14);
	stage_close(&stage);
}

static void a_flag_done(void **state)
{
	(void)state;
	struct stage stage;
	const struct stage_options tall = {.rows = 43, .columns = 132};
	stage_open(&stage, &tall);
	(void)stage_keys(&stage, "r");
	(void)stage_keys(&stage, "Down Down Down Down Down");
	stage_shows(&stage, "> DUE   B3");
	int keys = stage_keys(&stage, "d");
	stage_shows(&stage, "B3 cut");
	keys += stage_keys(&stage, "Enter");
	stage_shows(&stage, "saved, u takes it back");
	counted("a flag done, its line logged", keys, 2);
	stage_close(&stage);
}

static void a_flag_put_off(void **state)
{
	(void)state;
	struct stage stage;
	stage_open(&stage, &usual);
	(void)stage_keys(&stage, "r");
	stage_shows(&stage, "> ACT   A1");
	int keys = stage_keys(&stage, "p");
	stage_shows(&stage, "8 December");
	check_int(stage_count(&stage, "SELECT count(*) FROM answer WHERE until = '2026-12-08' AND "
				      "struck = 0"),
		1, "put off");
	counted("a flag put off a fortnight", keys, 1);
	stage_close(&stage);
}

static void a_tree_by_three_letters(void **state)
{
	(void)state;
	struct stage stage;
	stage_open(&stage, &usual);
	int keys = stage_keys(&stage, "/");
	keys += typed(&stage, "fig");
	keys += stage_keys(&stage, "Enter");
	stage_shows(&stage, "D1  fig");
	counted("a tree found by three letters", keys, 5);
	stage_close(&stage);
}

static void the_last_season_of_a_tree(void **state)
{
	(void)state;
	struct stage stage;
	stage_open(&stage, &usual);
	(void)stage_keys(&stage, "Down Down"); /* any tree */
	stage_shows(&stage, "> A3");
	int keys = stage_keys(&stage, "Enter s");
	stage_shows(&stage, "A3  loquat, season by season");
	counted("the last season of a tree", keys, 3);
	stage_close(&stage);
}

static void undo_from_anywhere(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage);
	stage_type(&stage, "p 3 lb\r");
	stage_shows(&stage, "saved");
	(void)stage_keys(&stage, "Esc");
	int keys = stage_keys(&stage, "u");
	check_int(stage_count(&stage,
			  "SELECT count(*) FROM entry WHERE words LIKE '%p 3 lb' AND struck = 0"),
		0, "taken back");
	counted("undo", keys, 1);
	stage_close(&stage);
}

static void forty_trees_of_a_row(void **state)
{
	(void)state;
	struct stage stage;
	stage_open(&stage, &usual);
	(void)stage_keys(&stage, "a");
	int keys = typed(&stage, "R1..R40");
	keys += stage_keys(&stage, "Enter");
	stage_type(&stage, "apple");
	keys += stage_keys(&stage, "Enter Enter");
	stage_shows(&stage, "added R1 to R40, 40 trees");
	counted("forty trees of a row: one line, and the kind", keys, 2 * 40);
	stage_close(&stage);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(pick_at_the_next_tree),
		cmocka_unit_test(the_same_again_at_the_next),
		cmocka_unit_test(a_cut_with_its_share),
		cmocka_unit_test(a_flag_done),
		cmocka_unit_test(a_flag_put_off),
		cmocka_unit_test(a_tree_by_three_letters),
		cmocka_unit_test(the_last_season_of_a_tree),
		cmocka_unit_test(undo_from_anywhere),
		cmocka_unit_test(forty_trees_of_a_row),
	};
	return cmocka_run_group_tests_name("keys", tests, NULL, NULL) != 0;
}
