/* SPDX-License-Identifier: MIT */
/* The review on the real program: how many keys its answers take, what it shows, and that it is
 * whole on a screen of any size. */
#include "support/spawn.h"
#include "support/stage.h"
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

static const char put_off_sql[] =
	"SELECT count(*) FROM answer WHERE kind = 'put-off' AND struck = 0";
static const char set_aside_sql[] =
	"SELECT count(*) FROM answer WHERE kind = 'set-aside' AND struck = 0";
static const char entries_sql[] = "SELECT count(*) FROM entry WHERE struck = 0 AND planned = 0";

static void open_review(struct stage *stage, int rows, int columns)
{
	const struct stage_options options = {.rows = rows, .columns = columns};
	stage_open(stage, &options);
	(void)stage_keys(stage, "r");
	stage_shows(stage, "Review");
}

static const char *row_of(const struct stage *stage, int row)
{
	static char text[VT_ROW_SIZE];
	return vt_row(stage->pty->screen, row, text);
}

/* --- what stands there --- */

static void the_worst_is_open_without_a_key(void **state)
{
	(void)state;
	struct stage stage;
	open_review(&stage, 24, 80);
	check_has(row_of(&stage, 2), "> ACT   A1", "the first");
	stage_shows(&stage, "The shape cut of 12 November 2026");
	stage_shows(&stage, "do   Next clear for this cut");
	stage_shows(&stage, "UF/IFAS Gardening");
	check_int(stage.pty->screen->pen.row, 2, "the cursor is on it");
	stage_close(&stage);
}

static void review_looks_as_it_was_kept(void **state)
{
	(void)state;
	struct stage stage;
	open_review(&stage, 24, 80);
	char *text = stage_text(&stage);
	check_golden(text, "tests/screens/golden/review.screen");
	free(text);
	stage_close(&stage);
}

static void review_in_ascii_looks_as_it_was_kept(void **state)
{
	(void)state;
	struct stage stage;
	const struct stage_options options = {
		.rows = 24, .columns = 80, .lang = "C", .variable = "NO_COLOR=1"};
	stage_open(&stage, &options);
	(void)stage_keys(&stage, "r");
	char *text = stage_text(&stage);
	check_golden(text, "tests/screens/golden/review-ascii.screen");
	free(text);
	stage_close(&stage);
}

static void notes_are_folded_to_one_line(void **state)
{
	(void)state;
	struct stage stage;
	open_review(&stage, 43, 132);
	stage_shows(&stage, "notes, folded: n unfolds them");
	(void)stage_keys(&stage, "n End");
	stage_lacks(&stage, "folded");
	stage_shows(&stage, "note ");
	(void)stage_keys(&stage, "n");
	stage_shows(&stage, "folded: n unfolds them");
	stage_close(&stage);
}

static void enter_on_the_folded_notes_unfolds_them(void **state)
{
	(void)state;
	struct stage stage;
	open_review(&stage, 43, 132);
	(void)stage_keys(&stage, "End Up Enter");
	stage_lacks(&stage, "folded");
	stage_close(&stage);
}

static void why_tells_all_of_it(void **state)
{
	(void)state;
	struct stage stage;
	open_review(&stage, 43, 132);
	stage_shows(&stage, "from the cut as logged");
	stage_shows(&stage, "more: w)");
	stage_lacks(&stage, "at risk = share");
	(void)stage_keys(&stage, "w");
	stage_shows(&stage, "at risk = share");
	stage_shows(&stage, "why  Each kind carries its flowers");
	stage_lacks(&stage, "more: w)");
	stage_close(&stage);
}

/* --- answers --- */

static void put_off_is_one_key(void **state)
{
	(void)state;
	struct stage stage;
	open_review(&stage, 24, 80);
	int before = stage_count(&stage, put_off_sql);
	check_int(stage_keys(&stage, "p"), 1, "keys");
	stage_shows(&stage, "A1: put off until 8 December 2026");
	check_int(stage_count(&stage, put_off_sql), before + 1, "kept");
	stage_shows(&stage, "> ACT   A2");
	stage_shows(&stage, "now 1 put off");
	stage_close(&stage);
}

static void put_off_past_its_window_is_said(void **state)
{
	(void)state;
	struct stage stage;
	open_review(&stage, 43, 132);
	(void)stage_keys(&stage, "Down Down p");
	stage_shows(&stage, "its window closes before that, on 30 November 2026");
	stage_close(&stage);
}

static void set_aside_is_one_key_and_the_reason(void **state)
{
	(void)state;
	struct stage stage;
	open_review(&stage, 24, 80);
	int before = stage_count(&stage, set_aside_sql);
	check_int(stage_keys(&stage, "x"), 1, "keys before the reason");
	stage_shows(&stage, "why:");
	stage_type(&stage, "dpxwnaluqr? too shady");
	stage_shows(&stage, "why: dpxwnaluqr? too shady");
	check_int(stage_count(&stage, set_aside_sql), before, "nothing is kept yet");
	check_int(stage_keys(&stage, "Enter"), 1, "keys after it");
	stage_shows(&stage, "A1: set aside: dpxwnaluqr? too shady");
	check_int(stage_count(&stage, set_aside_sql), before + 1, "kept");
	char *reason = stage_sql(
		&stage, "SELECT reason FROM answer WHERE kind = 'set-aside' ORDER BY row DESC");
	check_has(reason, "dpxwnaluqr? too shady", "the reason");
	free(reason);
	stage_close(&stage);
}

static void set_aside_wants_a_reason(void **state)
{
	(void)state;
	struct stage stage;
	open_review(&stage, 24, 80);
	int before = stage_count(&stage, set_aside_sql);
	(void)stage_keys(&stage, "x");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "say in a few words why");
	stage_type(&stage, "   ");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "say in a few words why");
	(void)stage_keys(&stage, "Esc");
	stage_lacks(&stage, "why:");
	stage_shows(&stage, "> ACT   A1");
	check_int(stage_count(&stage, set_aside_sql), before, "left open");
	stage_close(&stage);
}

static void done_is_two_keys(void **state)
{
	(void)state;
	struct stage stage;
	open_review(&stage, 43, 132);
	(void)stage_keys(&stage, "Down Down Down Down Down");
	stage_shows(&stage, "> DUE   B3");
	int before = stage_count(&stage, entries_sql);
	int keys = stage_keys(&stage, "d");
	stage_shows(&stage, "B3 cut");
	keys += stage_keys(&stage, "Enter");
	check_int(keys, 2, "keys");
	check_int(stage_count(&stage, entries_sql), before + 1, "logged");
	stage_shows(&stage, "Review");
	stage_shows(&stage, "saved, u takes it back");
	stage_shows(&stage, "now 1 done");
	stage_lacks(&stage, "Planned for 22 November");
	stage_lacks(&stage, "> DUE   B3");
	(void)stage_keys(&stage, "u");
	stage_shows(&stage, "Planned for 22 November");
	check_int(stage_count(&stage, entries_sql), before, "taken back from there");
	stage_close(&stage);
}

static void a_line_that_settles_nothing_goes_on_to_the_next(void **state)
{
	(void)state;
	struct stage stage;
	open_review(&stage, 43, 132);
	stage_shows(&stage, "> ACT   A1");
	(void)stage_keys(&stage, "d");
	stage_type(&stage, "saw the cut, bark is sound");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "Review");
	stage_shows(&stage, "  ACT   A1");
	stage_shows(&stage, "> ACT   A2");
	stage_close(&stage);
}

static void leaving_the_line_comes_back_to_the_same(void **state)
{
	(void)state;
	struct stage stage;
	open_review(&stage, 43, 132);
	(void)stage_keys(&stage, "d");
	stage_shows(&stage, "Walk");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "> ACT   A1");
	(void)stage_keys(&stage, "p");
	stage_shows(&stage, "> ACT   A2");
	stage_close(&stage);
}

static void walking_on_from_the_line_stays_in_the_walk(void **state)
{
	(void)state;
	struct stage stage;
	open_review(&stage, 43, 132);
	(void)stage_keys(&stage, "d");
	(void)stage_keys(&stage, "Down");
	stage_type(&stage, "saw aphids");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "Walk");
	stage_shows(&stage, "saved, Backspace takes it back");
	stage_close(&stage);
}

static void with_a_walk_below_it_is_the_review_all_the_same(void **state)
{
	(void)state;
	struct stage stage;
	const struct stage_options options = {.rows = 43, .columns = 132};
	stage_open(&stage, &options);
	(void)stage_keys(&stage, "w"); /* not in one burst: that is refused as a paste */
	stage_shows(&stage, "Walk");
	(void)stage_keys(&stage, "Tab r");
	stage_shows(&stage, "A1 alone: 1 asks for work");
	(void)stage_keys(&stage, "d");
	stage_type(&stage, "saw the cut, bark is sound");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "Review");
	stage_close(&stage);
}

/* A plan that four trees share is answered for all of them with one key. */
static void a_group_is_answered_for_each_of_its_trees(void **state)
{
	static const char *const labels[] = {"A1", "A2", "A3", "C1"};
	(void)state;
	struct stage stage;
	const struct stage_options options = {.rows = 43, .columns = 132};
	stage_open(&stage, &options);
	for (int i = 0; i < 4; i++) {
		struct spawned run = program_run(NULL, "--log", stage.log, "--today", "2026-11-24",
			"plan", labels[i], "watered", "5", "gal", "@", "2026-11-23", NULL);
		check_int(run.status, 0, run.err);
		spawned_free(&run);
	}
	(void)stage_keys(&stage, "r");
	stage_shows(&stage, "DUE   A1 +3");
	(void)stage_keys(&stage, "Down Down Down Down Down Down");
	stage_shows(&stage, "> DUE   A1 +3");
	stage_shows(&stage, "at   A1, A2, A3, C1");
	int before = stage_count(&stage, put_off_sql);
	(void)stage_keys(&stage, "p");
	stage_shows(&stage, "A1, A2, A3, C1: put off until 8 December 2026");
	stage_shows(&stage, "now 4 put off");
	check_int(stage_count(&stage, put_off_sql), before + 4, "each");
	(void)stage_keys(&stage, "u");
	check_int(stage_count(&stage, put_off_sql), before, "taken back as one");
	stage_shows(&stage, "DUE   A1 +3");
	(void)stage_keys(&stage, "Home");
	(void)stage_keys(&stage, "Down Down Down Down Down Down");
	(void)stage_keys(&stage, "d");
	stage_shows(&stage, "A1, the first of 4: Enter saves it");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "> DUE   A2 +2");
	(void)stage_keys(&stage, "u");
	int aside = stage_count(&stage, set_aside_sql);
	(void)stage_keys(&stage, "Home");
	(void)stage_keys(&stage, "Down Down Down Down Down Down");
	(void)stage_keys(&stage, "x");
	stage_type(&stage, "it rained");
	(void)stage_keys(&stage, "Enter");
	check_int(stage_count(&stage, set_aside_sql), aside + 4, "each");
	stage_close(&stage);
}

static void done_without_one_line_opens_an_empty_one(void **state)
{
	(void)state;
	struct stage stage;
	open_review(&stage, 24, 80);
	(void)stage_keys(&stage, "d");
	stage_shows(&stage, "Walk");
	stage_shows(&stage, "no one line settles this");
	stage_close(&stage);
}

static void undo_brings_an_answered_one_back(void **state)
{
	(void)state;
	struct stage stage;
	open_review(&stage, 24, 80);
	(void)stage_keys(&stage, "p");
	stage_shows(&stage, "> ACT   A2");
	check_int(stage_keys(&stage, "u"), 1, "keys");
	stage_shows(&stage, "  ACT   A1");
	(void)stage_keys(&stage, "Home");
	stage_shows(&stage, "> ACT   A1");
	stage_close(&stage);
}

static void what_was_answered_is_shown_on_demand(void **state)
{
	(void)state;
	struct stage stage;
	open_review(&stage, 43, 132);
	(void)stage_keys(&stage, "p");
	(void)stage_keys(&stage, "x");
	stage_type(&stage, "it was storm damage");
	(void)stage_keys(&stage, "Enter");
	stage_lacks(&stage, "Put off until");
	(void)stage_keys(&stage, "a");
	stage_shows(&stage, "Put off until 8 December 2026.");
	stage_shows(&stage, "Set aside: it was storm damage");
	(void)stage_keys(&stage, "Home p");
	stage_shows(&stage, "this one is put-off already");
	stage_close(&stage);
}

static void keys_pasted_as_letters_answer_one_at_most(void **state)
{
	(void)state;
	struct stage stage;
	open_review(&stage, 24, 80);
	int before = stage_count(&stage, put_off_sql);
	stage_type(&stage, "pppppp");
	assert_in_range(stage_count(&stage, put_off_sql), before, before + 1);
	stage_close(&stage);
}

static void when_it_was_held_is_remembered(void **state)
{
	(void)state;
	struct stage stage;
	open_review(&stage, 24, 80);
	stage_lacks(&stage, "last held");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "Yard");
	(void)stage_keys(&stage, "r");
	stage_shows(&stage, "last held 24 November 2026");
	stage_close(&stage);
}

static void enter_opens_the_tree_and_comes_back(void **state)
{
	(void)state;
	struct stage stage;
	open_review(&stage, 24, 80);
	(void)stage_keys(&stage, "Down Enter");
	stage_shows(&stage, "Tree");
	stage_shows(&stage, "! power line over the north side");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "> ACT   A2");
	stage_close(&stage);
}

/* --- sizes --- */

/* Down reaches the end of the last item, and Up the head of the first, whatever the size. */
static void down_reaches_the_end_at_every_size(void **state)
{
	static const int sizes[][2] = {{12, 40}, {15, 60}, {24, 80}, {43, 132}};
	static const char down[] = "Down Down Down Down Down Down Down Down Down Down Down Down "
				   "Down Down Down Down Down Down Down Down Down Down Down Down";
	static const char up[] =
		"Up Up Up Up Up Up Up Up Up Up Up Up Up Up Up Up Up Up Up Up Up Up";
	(void)state;
	for (size_t size = 0; size < sizeof sizes / sizeof sizes[0]; size++) {
		struct stage stage;
		open_review(&stage, sizes[size][0], sizes[size][1]);
		for (int times = 0; times < 3; times++) {
			(void)stage_keys(&stage, down);
			stage_check(&stage, "going down");
		}
		stage_shows(&stage, "as you logged it");
		for (int times = 0; times < 3; times++)
			(void)stage_keys(&stage, up);
		stage_shows(&stage, "> ACT   A1");
		(void)stage_keys(&stage, "End");
		stage_shows(&stage, "> leave D1");
		stage_close(&stage);
	}
}

static void a_phone_sees_the_urgency_and_what_to_do(void **state)
{
	(void)state;
	struct stage stage;
	open_review(&stage, 12, 40);
	check_has(row_of(&stage, 2), "> ACT   A1", "the first");
	stage_shows(&stage, "do   Next clear");
	(void)stage_keys(&stage, "x");
	stage_type(&stage, "a reason that is a good deal longer than forty cells are");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "> ACT   A2");
	stage_close(&stage);
}

static void it_outlives_every_size_on_the_way(void **state)
{
	(void)state;
	struct stage stage;
	open_review(&stage, 24, 80);
	(void)stage_keys(&stage, "Down Down n w");
	for (int rows = 40; rows >= 3; rows -= 9) {
		pty_resize(stage.pty, rows, rows * 3);
		stage_quiet(&stage);
	}
	pty_resize(stage.pty, 24, 80);
	stage_quiet(&stage);
	stage_shows(&stage, "> ACT   E2");
	stage_check(&stage, "after many sizes");
	stage_close(&stage);
}

/* The row on which the text shows; fails when it does not. */
static int row_with(struct stage *stage, const char *text)
{
	int row = vt_find(stage->pty->screen, text);
	if (row < 0)
		fail_msg("'%s' does not show", text);
	return row;
}

static void tab_puts_them_by_tree_and_by_work(void **state)
{
	(void)state;
	struct stage stage;
	open_review(&stage, 43, 132);
	stage_shows(&stage, "> ACT   A1");
	assert_true(row_with(&stage, "ACT   E1") < row_with(&stage, "DUE   B3"));
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "by tree");
	stage_shows(&stage, "> ACT   A1");
	stage_check(&stage, "by tree");
	assert_true(row_with(&stage, "DUE   B3") < row_with(&stage, "ACT   E1"));
	assert_true(row_with(&stage, "DUE   B2") < row_with(&stage, "DUE   B3"));
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "by kind of work");
	stage_check(&stage, "by work");
	assert_true(row_with(&stage, "ACT   A2") < row_with(&stage, "DUE   E1"));
	(void)stage_keys(&stage, "Tab");
	stage_lacks(&stage, "by kind of work");
	assert_true(row_with(&stage, "ACT   E1") < row_with(&stage, "DUE   B3"));
	stage_close(&stage);
}

static void meaning_needs_no_colour(void **state)
{
	(void)state;
	struct stage stage;
	const struct stage_options options = {.rows = 24, .columns = 80, .variable = "NO_COLOR=1"};
	stage_open(&stage, &options);
	(void)stage_keys(&stage, "r");
	stage_shows(&stage, "> ACT   A1");
	const struct vt *vt = stage.pty->screen;
	for (int row = 0; row < vt->rows; row++)
		for (int column = 0; column < vt->columns; column++) {
			check_int(vt->cells[row][column].style.foreground, -1, "no colour");
			check_int(vt->cells[row][column].style.background, -1, "no colour");
		}
	stage_close(&stage);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_worst_is_open_without_a_key),
		cmocka_unit_test(review_looks_as_it_was_kept),
		cmocka_unit_test(review_in_ascii_looks_as_it_was_kept),
		cmocka_unit_test(notes_are_folded_to_one_line),
		cmocka_unit_test(enter_on_the_folded_notes_unfolds_them),
		cmocka_unit_test(why_tells_all_of_it),
		cmocka_unit_test(put_off_is_one_key),
		cmocka_unit_test(put_off_past_its_window_is_said),
		cmocka_unit_test(set_aside_is_one_key_and_the_reason),
		cmocka_unit_test(set_aside_wants_a_reason),
		cmocka_unit_test(done_is_two_keys),
		cmocka_unit_test(a_line_that_settles_nothing_goes_on_to_the_next),
		cmocka_unit_test(leaving_the_line_comes_back_to_the_same),
		cmocka_unit_test(walking_on_from_the_line_stays_in_the_walk),
		cmocka_unit_test(with_a_walk_below_it_is_the_review_all_the_same),
		cmocka_unit_test(done_without_one_line_opens_an_empty_one),
		cmocka_unit_test(a_group_is_answered_for_each_of_its_trees),
		cmocka_unit_test(undo_brings_an_answered_one_back),
		cmocka_unit_test(what_was_answered_is_shown_on_demand),
		cmocka_unit_test(keys_pasted_as_letters_answer_one_at_most),
		cmocka_unit_test(when_it_was_held_is_remembered),
		cmocka_unit_test(enter_opens_the_tree_and_comes_back),
		cmocka_unit_test(down_reaches_the_end_at_every_size),
		cmocka_unit_test(a_phone_sees_the_urgency_and_what_to_do),
		cmocka_unit_test(it_outlives_every_size_on_the_way),
		cmocka_unit_test(meaning_needs_no_colour),
		cmocka_unit_test(tab_puts_them_by_tree_and_by_work),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
