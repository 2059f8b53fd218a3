/* SPDX-License-Identifier: MIT */
/* Another copy of the log taken in on the real program over the demo yard, and what both copies
 * changed settled by keys. */
#include "support/stage.h"
#include "support/test.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static void run_well(const char *const *arguments)
{
	struct spawned answer = program_run_list(NULL, arguments);
	check_int(answer.status, 0, answer.err);
	spawned_free(&answer);
}

static void set_tree(const char *log, const char *label, const char *option, const char *value)
{
	const char *arguments[] = {
		"--log", log, "--today", "2026-11-24", "tree", "set", label, option, value, NULL};
	run_well(arguments);
}

/* The demo yard, and beside it "usb.bough", a copy that was written in by itself. */
static void open_pair(struct stage *stage, int rows, int columns, const char *lang)
{
	char other[SCRATCH_PATH_SIZE];
	const struct stage_options options = {
		.rows = rows, .columns = columns, .lang = lang, .variable = "NO_COLOR=1"};
	stage_open(stage, &options);
	(void)stage_keys(stage, "q");
	pty_close(stage->pty);
	(void)scratch_path(&stage->scratch, "usb.bough", other);
	stage_make_demo(other);
	set_tree(stage->log, "A3", "--planted", "2015");
	set_tree(other, "A3", "--planted", "2017-03");
	set_tree(stage->log, "A2", "--rootstock", "seedling");
	set_tree(other, "A2", "--rootstock", "quince");
	set_tree(other, "B2", "--hazard", "low wire");
	stage_enter(other, "A2 cut shape 20% @ 2026-11-02 ; from a ladder");
	/* where it was typed is the name of the machine */
	const char *nowhere[] = {"sqlite3", other, "UPDATE change_set SET device = ''", NULL};
	struct spawned answer = command_run(NULL, nowhere);
	check_int(answer.status, 0, answer.err);
	spawned_free(&answer);
	stage_start(stage);
}

static void type_path(struct stage *stage, const char *name)
{
	char path[SCRATCH_PATH_SIZE];
	(void)stage_keys(stage, "M");
	stage_shows(stage, "the other copy of this log");
	stage_type(stage, scratch_path(&stage->scratch, name, path));
	(void)stage_keys(stage, "Enter");
}

/* What both changed, the other copy taken in. */
static void open_clashes(struct stage *stage, int rows, int columns, const char *lang)
{
	open_pair(stage, rows, columns, lang);
	type_path(stage, "usb.bough");
	stage_shows(stage, "tried on a copy: Enter merges");
	stage_check(stage, "account");
	(void)stage_keys(stage, "Enter");
	stage_shows(stage, "1 of 2 changed in two copies");
}

static void pages_look_as_they_were_kept(void **state)
{
	(void)state;
	struct stage stage;
	open_pair(&stage, 24, 80, NULL);
	type_path(&stage, "usb.bough");
	stage_shows(&stage, "tried on a copy: Enter merges");
	stage_golden(&stage, "tests/screens/golden/merge.screen");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "1 of 2 changed in two copies");
	stage_golden(&stage, "tests/screens/golden/merge-clash.screen");
	stage_close(&stage);
}

static void copy_is_tried_first_and_taken_in_by_enter(void **state)
{
	(void)state;
	struct stage stage;
	open_pair(&stage, 24, 80, NULL);
	type_path(&stage, "usb.bough");
	stage_shows(&stage, "from usb.bough: 4 acts; 1 new entry, 1 field changed");
	check_int(stage_count(&stage, "SELECT count(*) FROM change_set WHERE kind = 'merge'"), 0,
		"only tried");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "the other copy of this log");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "tried on a copy");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "1 of 2 changed in two copies");
	check_int(stage_count(&stage, "SELECT count(*) FROM tree WHERE hazard = 'low wire'"), 1,
		"taken in");
	stage_close(&stage);
}

static void clashes_are_settled_by_their_letters(void **state)
{
	(void)state;
	struct stage stage;
	open_clashes(&stage, 24, 80, NULL);
	(void)stage_keys(&stage, "Down");
	stage_shows(&stage, "2 of 2");
	(void)stage_keys(&stage, "c");
	stage_shows(&stage, "this has the sides a to b");
	(void)stage_keys(&stage, "Up");
	stage_shows(&stage, "1 of 2");
	(void)stage_keys(&stage, "a");
	stage_shows(&stage, "1 of 1");
	(void)stage_keys(&stage, "0");
	stage_shows(&stage, "nothing waits");
	(void)stage_keys(&stage, "u");
	stage_shows(&stage, "1 of 1");
	(void)stage_keys(&stage, "u");
	stage_shows(&stage, "of 2 changed in two copies");
	(void)stage_keys(&stage, "u");
	stage_shows(&stage, "nothing waits");
	check_int(stage_count(&stage, "SELECT count(*) FROM tree WHERE hazard = 'low wire'"), 0,
		"the merge is undone");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "Yard");
	stage_close(&stage);
}

static void value_of_ones_own_is_typed(void **state)
{
	(void)state;
	struct stage stage;
	open_clashes(&stage, 24, 80, NULL);
	(void)stage_keys(&stage, "e");
	stage_shows(&stage, "rootstock: ");
	stage_type(&stage, "quince aa");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "1 of 2 changed");
	(void)stage_keys(&stage, "e");
	stage_type(&stage, "quince A");
	stage_check(&stage, "a value being typed");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "kept for A2: quince A; u takes it back");
	check_int(stage_count(&stage, "SELECT count(*) FROM tree WHERE rootstock = 'quince A'"), 1,
		"kept");
	stage_shows(&stage, "1 of 1");
	(void)stage_keys(&stage, "e");
	stage_type(&stage, "someday");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "not kept: ");
	stage_type(&stage, "\x15");
	stage_type(&stage, "about 2016");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "nothing waits");
	check_int(stage_count(&stage, "SELECT count(*) FROM tree WHERE planted = '2016~'"), 1,
		"read as the form reads it");
	stage_close(&stage);
}

static void what_waits_from_before_is_a_key_away(void **state)
{
	(void)state;
	struct stage stage;
	open_clashes(&stage, 24, 80, NULL);
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "Yard");
	(void)stage_keys(&stage, "M");
	stage_shows(&stage, "2 things were changed in two copies and not settled: Tab");
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "1 of 2");
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "the other copy of this log");
	stage_close(&stage);
}

static void file_that_is_no_log_is_told(void **state)
{
	(void)state;
	struct stage stage;
	open_pair(&stage, 24, 80, NULL);
	type_path(&stage, "nowhere.bough");
	stage_shows(&stage, "not merged: there is no log at");
	stage_type(&stage, "\x15");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "type the path of the other copy");
	stage_close(&stage);
}

/* Everything is reached where few rows stand, without a letter beyond ASCII. */
static void small_and_in_ascii(void **state)
{
	(void)state;
	struct stage stage;
	open_pair(&stage, 15, 60, "C");
	type_path(&stage, "usb.bough");
	stage_shows(&stage, "tried on a copy");
	stage_check(&stage, "account");
	(void)stage_keys(&stage, "PageDown PageDown");
	stage_check(&stage, "its end");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "1 of 2");
	stage_shows(&stage, "as it was before both");
	stage_check(&stage, "clash");
	char *text = stage_text(&stage);
	for (const char *at = text; *at != '\0'; at++)
		assert_true((unsigned char)*at < 0x80);
	free(text);
	stage_close(&stage);
}

static void wide_screen_holds_it_too(void **state)
{
	(void)state;
	struct stage stage;
	open_clashes(&stage, 43, 132, NULL);
	stage_check(&stage, "clash");
	stage_close(&stage);
}

/* It is laid out anew, not tried anew: the other file may be gone by then. */
static void account_keeps_to_the_width(void **state)
{
	(void)state;
	struct stage stage;
	char other[SCRATCH_PATH_SIZE];
	open_pair(&stage, 24, 80, NULL);
	type_path(&stage, "usb.bough");
	stage_shows(&stage, "tried on a copy");
	assert_int_equal(unlink(scratch_path(&stage.scratch, "usb.bough", other)), 0);
	pty_resize(stage.pty, 24, 60);
	stage_quiet(&stage);
	stage_check(&stage, "narrower");
	stage_shows(&stage, "from usb.bough: 4 acts;");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "not merged: there is no log at");
	stage_close(&stage);
}

static void plain_mode_does_the_same(void **state)
{
	(void)state;
	struct stage stage;
	char other[SCRATCH_PATH_SIZE];
	char input[SCRATCH_PATH_SIZE + 64];
	open_pair(&stage, 24, 80, NULL);
	(void)snprintf(input, sizeof input,
		"merge %s\nyes\nz\na\nown about 2016\nundo\nundo\nundo\nquit\n",
		scratch_path(&stage.scratch, "usb.bough", other));
	const char *arguments[] = {"--log", stage.log, "--today", "2026-11-24", "--plain", NULL};
	struct spawned answer = program_run_list(input, arguments);
	check_int(answer.status, 0, answer.err);
	check_has(answer.out, "from usb.bough: 4 acts", "account");
	check_has(answer.out, "Merged; undo takes all of it back.", "merged");
	check_has(answer.out, "'z' is not a side of it", "refused");
	check_has(answer.out, "kept for ", "kept");
	check_has(answer.out, "kept for A3: about 2016", "kept what was said");
	check_has(answer.out, "Undone: kept for A2", "undone");
	check_has(answer.out, "Undone: merge usb.bough", "merge undone");
	spawned_free(&answer);
	stage_close(&stage);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(pages_look_as_they_were_kept),
		cmocka_unit_test(copy_is_tried_first_and_taken_in_by_enter),
		cmocka_unit_test(clashes_are_settled_by_their_letters),
		cmocka_unit_test(value_of_ones_own_is_typed),
		cmocka_unit_test(what_waits_from_before_is_a_key_away),
		cmocka_unit_test(file_that_is_no_log_is_told),
		cmocka_unit_test(small_and_in_ascii),
		cmocka_unit_test(wide_screen_holds_it_too),
		cmocka_unit_test(account_keeps_to_the_width),
		cmocka_unit_test(plain_mode_does_the_same),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
