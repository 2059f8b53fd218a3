/* SPDX-License-Identifier: MIT */
/* The walk, on the real program: what a line costs, what it says before and after, and that
 * nothing typed is lost. */
#include "support/stage.h"
#include "support/test.h"

#include <signal.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>

static const char picks[] = "SELECT count(*) FROM entry WHERE kind = 'pick' AND struck = 0 AND "
			    "words LIKE 'p %'";

static void open_walk(struct stage *stage, int rows, int columns)
{
	const struct stage_options options = {.rows = rows, .columns = columns};
	stage_open(stage, &options);
	(void)stage_keys(stage, "w");
	stage_shows(stage, "of 22");
}

static void pick_at_the_next_tree_costs_few_keys(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	int keys = stage_keys(&stage, "Down"); /* the next tree */
	stage_shows(&stage, "2 of 22");
	keys += stage_keys(&stage, "p Space");
	stage_type(&stage, "6 lb 4 oz"); /* the amount is not counted */
	keys += stage_keys(&stage, "Enter");
	stage_shows(&stage, "saved");
	stage_shows(&stage, "A2: picked 6 lb 4 oz");
	assert_in_range(keys, 1, 12);
	check_int(stage_count(&stage, picks), 1, "entries");
	stage_close(&stage);
}

static void saved_is_said_only_of_what_lies_in_the_log(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	stage_type(&stage, "p 6 qqq\r");
	stage_shows(&stage, "not saved");
	stage_shows(&stage, "p 6 qqq"); /* and what was typed stands there still */
	check_int(stage_count(&stage, picks), 0, "entries");
	stage_close(&stage);
}

static void reading_is_shown_while_the_line_is_typed(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	stage_type(&stage, "p 6 lb 4 oz 85 fruit");
	stage_shows(&stage, "A1: picked 6 lb 4 oz, 85 fruit, today (24 November 2026)");
	stage_type(&stage, " 4 kg");
	stage_shows(&stage, "two amounts");
	stage_close(&stage);
}

static void several_things_show_the_lines_they_would_take(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	stage_type(&stage, "picked 6 lb and 4 kg");
	stage_shows(&stage, "which?");
	assert_true(vt_find(stage.pty->screen, "picked 4 kg") >= 0);
	stage_close(&stage);
}

static void cut_says_what_it_would_cost_before_it_is_logged(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	stage_type(&stage, "cut shape 20%");
	stage_shows(&stage, "The shape cut of 24 November 2026");
	check_int(stage_count(&stage, "SELECT count(*) FROM entry WHERE words = 'cut shape 20%'"),
		0, "logged");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "saved");
	check_int(
		stage_count(&stage, "SELECT count(*) FROM entry WHERE kind = 'cut' AND words LIKE "
				    "'%cut shape 20\\%' ESCAPE '\\' AND day_low = '2026-11-24'"),
		1, "logged");
	stage_close(&stage);
}

static void letters_type_and_signs_act_on_an_empty_line_alone(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	stage_type(&stage, "note q?/=w");
	stage_shows(&stage, "A1 note q?/=w");
	stage_shows(&stage, "1 of 22");
	(void)stage_keys(&stage, "Down"); /* moves on only from an empty line */
	stage_shows(&stage, "not saved");
	stage_shows(&stage, "1 of 22");
	(void)stage_keys(&stage, "Ctrl-U Enter");
	stage_shows(&stage, "2 of 22");
	(void)stage_keys(&stage, "Up");
	stage_shows(&stage, "1 of 22");
	stage_close(&stage);
}

static void same_again_logs_the_last_line_for_this_tree(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	stage_type(&stage, "w 5 gal\r");
	stage_shows(&stage, "saved");
	const int keys = stage_keys(&stage, "Enter =");
	check_int(keys, 2, "keys");
	stage_shows(&stage, "A2: watered 5 gal");
	check_int(stage_count(&stage, "SELECT count(*) FROM entry WHERE words LIKE '%w 5 gal'"), 2,
		"entries");
	stage_close(&stage);
}

static void same_again_never_logs_for_another_tree(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	stage_type(&stage, "B1 watered 7 gal\r");
	stage_shows(&stage, "saved");
	(void)stage_keys(&stage, "Enter =");
	stage_shows(&stage, "not for one tree alone");
	check_int(
		stage_count(&stage, "SELECT count(*) FROM entry WHERE words LIKE '%watered 7 gal'"),
		1, "entries");
	stage_close(&stage);
}

static void backspace_takes_back_but_a_held_one_does_not(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	stage_type(&stage, "p 3 lb\r");
	stage_shows(&stage, "saved");
	stage_type(&stage, "p 4"); /* typed wrong, and the key held too long */
	stage_type(&stage, "\x7f\x7f\x7f\x7f\x7f\x7f\x7f");
	check_int(stage_count(&stage, picks), 1, "after a held key");
	(void)pty_read_quiet(stage.pty, 400, STAGE_WAIT_MS);
	(void)stage_keys(&stage, "Backspace");
	stage_shows(&stage, "undone: A1: picked 3 lb");
	check_int(stage_count(&stage, picks), 0, "after one of its own");
	stage_close(&stage);
}

static void hazard_stands_first(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	(void)stage_keys(&stage, "Down");
	stage_shows(&stage, "HAZARD power line");
	check_int(vt_find(stage.pty->screen, "HAZARD"), 1, "row");
	assert_true(stage.pty->screen->cells[1][0].style.attributes & VT_REVERSE);
	stage_close(&stage);
}

static void find_goes_to_a_tree_by_its_letters(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	stage_type(&stage, "/c3 r\r");
	stage_shows(&stage, "C3 right");
	stage_type(&stage, "/zzz");
	stage_shows(&stage, "no tree has these letters");
	(void)stage_keys(&stage, "Esc");
	stage_lacks(&stage, "find:");
	stage_shows(&stage, "C3 right");
	stage_close(&stage);
}

static void walk_broken_off_goes_on_where_it_was(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	(void)stage_keys(&stage, "Down Down Down");
	stage_shows(&stage, "4 of 22");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "Yard");
	(void)stage_keys(&stage, "q");
	check_int(pty_expect_end(stage.pty, STAGE_WAIT_MS), 0, "status");
	(void)pty_close(stage.pty);
	stage_start(&stage);
	(void)stage_keys(&stage, "w");
	stage_shows(&stage, "4 of 22");
	stage_close(&stage);
}

static void progress_counts_what_was_logged_and_outlives_a_break(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	stage_shows(&stage, "0 passed, 1 logged today, 21 left"); /* one by the demo yard */
	(void)stage_keys(&stage, "Down");
	stage_type(&stage, "p 7 lb\r");
	stage_shows(&stage, "1 passed, 2 logged today, 20 left");
	stage_type(&stage, "w 5 gal\r");
	stage_shows(&stage, "1 passed, 3 logged today, 20 left");
	(void)pty_read_quiet(stage.pty, 400, STAGE_WAIT_MS); /* else it is a held key */
	(void)stage_keys(&stage, "Backspace");
	stage_shows(&stage, "1 passed, 2 logged today, 20 left");
	stage_type(&stage, "plan cut shape @ feb\r"); /* not done yet */
	stage_shows(&stage, "1 passed, 2 logged today, 20 left");
	stage_enter(stage.log, "G1 noted leaves curl @ yesterday");
	stage_shows(&stage, "1 passed, 3 logged today, 20 left"); /* typed today, elsewhere */
	assert_int_equal(kill(stage.pty->child, SIGHUP), 0);
	(void)pty_expect_end(stage.pty, STAGE_WAIT_MS);
	(void)pty_close(stage.pty);
	stage_start(&stage);
	(void)stage_keys(&stage, "w");
	stage_shows(&stage, "1 passed, 3 logged today, 20 left");
	stage_close(&stage);
}

static void a_small_terminal_counts_beside_the_place(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 12, 40);
	stage_shows(&stage, "1 of 22, 1 logged");
	stage_close(&stage);
}

static void yard_opens_the_walk_at_its_tree(void **state)
{
	(void)state;
	struct stage stage;
	const struct stage_options options = {.rows = 24};
	stage_open(&stage, &options);
	(void)stage_keys(&stage, "Down Down Down l");
	stage_shows(&stage, "4 of 22");
	stage_close(&stage);
}

/* --- drafts --- */

static void unsaved_line_is_offered_after(struct stage *stage)
{
	(void)pty_close(stage->pty);
	stage_start(stage);
	stage_shows(stage, "a line was left unsaved");
	(void)stage_keys(stage, "w");
	stage_shows(stage, "2 of 22");
	stage_shows(stage, "A2 p 6 lb of gold");
	check_int(stage_count(stage, picks), 0, "entries");
}

static void unsaved_line_survives_a_hang_up(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	(void)stage_keys(&stage, "Down");
	stage_type(&stage, "p 6 lb of gold");
	stage_shows(&stage, "A2 p 6 lb of gold");
	unsaved_line_is_offered_after(&stage); /* closing the terminal hangs up */
	stage_close(&stage);
}

static void unsaved_line_survives_each_signal(void **state)
{
	(void)state;
	static const int signals[] = {SIGTERM, SIGINT, SIGHUP, SIGQUIT};
	for (size_t i = 0; i < sizeof signals / sizeof signals[0]; i++) {
		struct stage stage;
		open_walk(&stage, 24, 80);
		(void)stage_keys(&stage, "Down");
		stage_type(&stage, "p 6 lb of gold");
		stage_shows(&stage, "A2 p 6 lb of gold");
		check_int(kill(stage.pty->child, signals[i]), 0, "kill");
		check_int(pty_expect_end(stage.pty, STAGE_WAIT_MS), 128 + signals[i], "status");
		stage_check_modes(&stage, "modes");
		unsaved_line_is_offered_after(&stage);
		stage_close(&stage);
	}
}

static void unsaved_line_survives_a_kill_a_second_later(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	(void)stage_keys(&stage, "Down");
	stage_type(&stage, "p 6 lb of gold");
	for (int i = 0; i < 100 && stage_count(&stage, "SELECT count(*) FROM draft") == 0; i++)
		(void)pty_read_quiet(stage.pty, 50, 100);
	(void)kill(stage.pty->child, SIGKILL);
	(void)pty_expect_end(stage.pty, STAGE_WAIT_MS);
	unsaved_line_is_offered_after(&stage);
	stage_close(&stage);
}

static void line_is_kept_while_another_saves(void **state)
{
	(void)state;
	struct stage stage;
	sqlite3 *other = NULL;
	open_walk(&stage, 24, 160); /* the name of the log comes first */
	check_int(sqlite3_open(stage.log, &other), SQLITE_OK, "open");
	check_int(sqlite3_exec(other, "BEGIN IMMEDIATE", NULL, NULL, NULL), SQLITE_OK, "lock");
	stage_type(&stage, "p 6 lb\r");
	stage_shows(&stage, "in use by another program");
	stage_shows(&stage, "A1 p 6 lb");
	check_int(stage_count(&stage, picks), 0, "entries");
	check_int(sqlite3_exec(other, "ROLLBACK", NULL, NULL, NULL), SQLITE_OK, "free");
	check_int(sqlite3_close(other), SQLITE_OK, "close");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "saved");
	check_int(stage_count(&stage, picks), 1, "entries");
	stage_close(&stage);
}

static void saved_line_leaves_no_draft(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	stage_type(&stage, "p 6 lb");
	for (int i = 0; i < 100 && stage_count(&stage, "SELECT count(*) FROM draft") == 0; i++)
		(void)pty_read_quiet(stage.pty, 50, 100);
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "saved");
	check_int(stage_count(&stage, "SELECT count(*) FROM draft"), 0, "drafts");
	stage_close(&stage);
}

/* --- pictures --- */

static void walk_looks_as_it_did(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	stage_type(&stage, "\x1b[B"); /* A2 has a hazard */
	stage_type(&stage, "cut shape 20%");
	stage_shows(&stage, "would take wood");
	stage_check(&stage, "walk");
	char *text = stage_text(&stage);
	check_golden(text, "tests/screens/golden/walk.screen");
	free(text);
	stage_close(&stage);
}

static void walk_fits_a_small_terminal(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 12, 40);
	stage_type(&stage, "cut shape 20%");
	stage_shows(&stage, "A1 cut shape 20%");
	stage_shows(&stage, "logs");
	stage_shows(&stage, "about 19 lb");
	stage_check(&stage, "40x12");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "saved");
	stage_close(&stage);
}

struct look {
	const char *name;
	int rows;
	int columns;
	const char *term;
	const char *lang;
	const char *variable;
};

/* clang-format off */
static const struct look looks[] = {
	{"walk_at_40x12_in_ascii", 12, 40, NULL, "C", NULL},
	{"walk_at_40x12_on_a_vt100", 12, 40, "vt100", NULL, NULL},
	{"walk_at_60x15", 15, 60, NULL, NULL, NULL},
	{"walk_at_60x15_without_colour", 15, 60, NULL, "C", "NO_COLOR=1"},
	{"walk_at_80x24_in_ascii", 24, 80, NULL, "C", NULL},
	{"walk_at_132x43", 43, 132, NULL, NULL, NULL},
	{"walk_at_132x43_on_a_vt100", 43, 132, "vt100", "C", NULL},
};
/* clang-format on */

/* Hazard, tree, line, reading and what the cut would cost: all in view, told by words. */
static void walk_fits(const void *one)
{
	const struct look *look = one;
	struct stage stage;
	static char row[VT_ROW_SIZE];
	const struct stage_options options = {.rows = look->rows,
		.columns = look->columns,
		.term = look->term,
		.lang = look->lang,
		.variable = look->variable};
	stage_open(&stage, &options);
	(void)stage_keys(&stage, "w");
	stage_shows(&stage, "1 of 22");
	(void)stage_keys(&stage, "Down");
	stage_shows(&stage, "HAZARD power line");
	stage_type(&stage, "cut shape 20%");
	stage_shows(&stage, "logs  A2: cut, shape, 20 %");
	const struct vt *vt = stage.pty->screen;
	const int line = vt_find(vt, "A2 cut shape 20%");
	check_int(vt->pen.row, line, "the cursor stands on the line");
	check_int(vt->pen.column, 16, "behind what was typed");
	check_has(vt_row(vt, line + 2, row), "ACT", "what it would cost");
	check_has(vt_row(vt, look->rows - 1, row), "Enter log", "foot");
	stage_check(&stage, look->name);
	for (int i = 0; look->lang != NULL && i < vt->rows; i++)
		for (const char *at = vt_row(vt, i, row); *at != '\0'; at++)
			assert_true((unsigned char)*at < 128);
	stage_close(&stage);
}

/* --- lines that come all at once --- */

static void lines_pasted_without_brackets_are_lines_typed(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	stage_type(&stage, "p 1 lb\rp 2 lb\rp 3 lb\r");
	stage_shows(&stage, "A1: picked 3 lb");
	check_int(stage_count(&stage, picks), 3, "entries");
	for (int i = 3; i > 0; i--) { /* each can be taken back */
		(void)pty_read_quiet(stage.pty, 400, STAGE_WAIT_MS);
		(void)stage_keys(&stage, "Backspace");
		stage_shows(&stage, "undone: A1: picked");
		check_int(stage_count(&stage, picks), i - 1, "entries");
	}
	stage_close(&stage);
}

static void batch_line_logs_for_each_tree(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	stage_type(&stage, "all figs watered 9 gal");
	stage_shows(&stage, "logs  all figs: watered 9 gal each");
	stage_shows(&stage, "18 gal in all; 2");
	stage_shows(&stage, "trees: D1, D2");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "saved");
	check_int(stage_count(&stage,
			  "SELECT count(*) FROM entry WHERE words LIKE 'all figs watered 9 gal'"),
		2, "entries");
	stage_close(&stage);
}

static void a_cut_for_many_warns_before_it_is_logged(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	stage_type(&stage, "all loquats cut shape 20%");
	stage_shows(&stage, "3 trees: A1,");
	stage_shows(&stage, "would take wood that carries the coming");
	(void)stage_keys(&stage, "Ctrl-U");
	stage_type(&stage, "all walnuts watered 9 gal");
	stage_shows(&stage, "not yet:");
	stage_close(&stage);
}

/* The walk stays at its tree; the ways before and after are both there. */
static void a_short_route_comes_by_one_key_and_goes_by_another(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	stage_shows(&stage, "1 of 22");
	check_int(stage_keys(&stage, "Ctrl-R"), 1, "keys it took");
	stage_shows(&stage, "route of 17 spots from the gate, 338 ft on foot");
	stage_shows(&stage, "2 of 22");
	(void)stage_keys(&stage, "Up");
	stage_shows(&stage, "D2  fig");
	(void)stage_keys(&stage, "Down Backspace");
	stage_shows(&stage, "undone: a short route");
	stage_shows(&stage, "1 of 22");
	check_int(stage_count(&stage, "SELECT count(*) FROM route WHERE struck = 0"), 0, "stops");
	stage_close(&stage);
}

/* Of what stands at the tree one key; of the line being typed one too, and the line is kept. */
static void a_flag_says_why_by_one_key(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	stage_shows(&stage, "!: why");
	stage_type(&stage, "!");
	stage_shows(&stage, "from the cut as logged, 12 November 2026");
	stage_shows(&stage, "at risk = share of the crown");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "1 of 22");
	stage_type(&stage, "cut shape 20%");
	stage_shows(&stage, "Shift-Tab: why");
	stage_lacks(&stage, "!: why");
	(void)stage_keys(&stage, "Backtab");
	stage_shows(&stage, "if logged: A1: cut, shape, 20 %, today");
	stage_shows(&stage, "from the cut as asked, 24 November 2026: cut shape 20%");
	stage_type(&stage, "d");
	stage_shows(&stage, "the line is not logged yet: Esc goes back to it");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "A1 cut shape 20%");
	(void)stage_keys(&stage, "Ctrl-U");
	stage_type(&stage, "cut suckers");
	(void)stage_keys(&stage, "Backtab");
	stage_shows(&stage, "no rule speaks against this line");
	stage_close(&stage);
}

static void a_tree_without_a_flag_has_no_why(void **state)
{
	(void)state;
	struct stage stage;
	open_walk(&stage, 24, 80);
	stage_type(&stage, "/C3 left\r");
	stage_shows(&stage, "C3 left  peach");
	stage_lacks(&stage, "!: why");
	stage_type(&stage, "!");
	stage_shows(&stage, "nothing is flagged at this tree");
	stage_close(&stage);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_flag_says_why_by_one_key),
		cmocka_unit_test(a_tree_without_a_flag_has_no_why),
		cmocka_unit_test(pick_at_the_next_tree_costs_few_keys),
		cmocka_unit_test(saved_is_said_only_of_what_lies_in_the_log),
		cmocka_unit_test(reading_is_shown_while_the_line_is_typed),
		cmocka_unit_test(several_things_show_the_lines_they_would_take),
		cmocka_unit_test(cut_says_what_it_would_cost_before_it_is_logged),
		cmocka_unit_test(letters_type_and_signs_act_on_an_empty_line_alone),
		cmocka_unit_test(same_again_logs_the_last_line_for_this_tree),
		cmocka_unit_test(same_again_never_logs_for_another_tree),
		cmocka_unit_test(backspace_takes_back_but_a_held_one_does_not),
		cmocka_unit_test(hazard_stands_first),
		cmocka_unit_test(find_goes_to_a_tree_by_its_letters),
		cmocka_unit_test(walk_broken_off_goes_on_where_it_was),
		cmocka_unit_test(progress_counts_what_was_logged_and_outlives_a_break),
		cmocka_unit_test(a_small_terminal_counts_beside_the_place),
		cmocka_unit_test(yard_opens_the_walk_at_its_tree),
		cmocka_unit_test(unsaved_line_survives_a_hang_up),
		cmocka_unit_test(unsaved_line_survives_each_signal),
		cmocka_unit_test(unsaved_line_survives_a_kill_a_second_later),
		cmocka_unit_test(line_is_kept_while_another_saves),
		cmocka_unit_test(saved_line_leaves_no_draft),
		cmocka_unit_test(walk_looks_as_it_did),
		cmocka_unit_test(walk_fits_a_small_terminal),
		cmocka_unit_test(lines_pasted_without_brackets_are_lines_typed),
		cmocka_unit_test(batch_line_logs_for_each_tree),
		cmocka_unit_test(a_cut_for_many_warns_before_it_is_logged),
		cmocka_unit_test(a_short_route_comes_by_one_key_and_goes_by_another),
	};
	const int failed = RUN_CASES("walk on many terminals", looks, walk_fits) +
			   cmocka_run_group_tests_name("walk", tests, NULL, NULL);
	return failed != 0;
}
