/* SPDX-License-Identifier: MIT */
/* What is known of a tree as a form, on the real program: what is typed otherwise is kept by one
 * key, and what is not touched stays as it was. */
#include "core/limits.h"
#include "support/golden.h"
#include "support/stage.h"
#include "support/test.h"

#include <signal.h>
#include <stdlib.h>
#include <string.h>

static const char clear_line[] = "\025"; /* Ctrl-U */

static void open_facts(struct stage *stage, int rows, int columns, const char *lang)
{
	const struct stage_options options = {.rows = rows, .columns = columns, .lang = lang};
	stage_open(stage, &options);
	(void)stage_keys(stage, "Down Down");
	(void)stage_keys(stage, "Enter");
	stage_shows(stage, "A3  loquat");
	(void)stage_keys(stage, "e");
	stage_shows(stage, "Facts");
	stage_shows(stage, "label      A3");
}

static void it_shows_what_is_known(void **state)
{
	(void)state;
	struct stage stage;
	open_facts(&stage, 24, 80, NULL);
	stage_check(&stage, "facts");
	char *text = stage_text(&stage);
	check_golden(text, "tests/screens/golden/facts.screen");
	free(text);
	stage_close(&stage);
}

static void every_field_stands_on_the_smallest_screen(void **state)
{
	(void)state;
	struct stage stage;
	open_facts(&stage, 15, 60, "C");
	for (int i = 0; i < 11; i++) {
		stage_check(&stage, "a field");
		assert_true(vt_find(stage.pty->screen, "label") >= 0);
		assert_true(vt_find(stage.pty->screen, "marks") >= 0);
		(void)stage_keys(&stage, "Down");
	}
	stage_shows(&stage, "> marks");
	stage_close(&stage);
}

static void several_facts_are_one_act(void **state)
{
	(void)state;
	struct stage stage;
	open_facts(&stage, 24, 80, NULL);
	int before = stage_count(&stage, "SELECT count(*) FROM change_set");
	stage_type(&stage, clear_line);
	stage_type(&stage, "A9");
	(void)stage_keys(&stage, "Down");
	stage_type(&stage, clear_line);
	stage_type(&stage, "loquat, Big Jim");
	(void)stage_keys(&stage, "Down Down Down Down");
	stage_type(&stage, "seed of A1");
	(void)stage_keys(&stage, "Down Down");
	stage_type(&stage, "12 ft");
	(void)stage_keys(&stage, "Down");
	stage_type(&stage, "wasps in the wall");
	(void)stage_keys(&stage, "Down Down");
	stage_type(&stage, "private");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "saved");
	stage_shows(&stage, "A9  loquat (certain), Big Jim (suspected)");
	stage_shows(&stage, "wasps in the wall");
	check_int(stage_count(&stage, "SELECT count(*) FROM change_set"), before + 1, "acts");
	check_int(stage_count(&stage,
			  "SELECT count(*) FROM tree t JOIN tree p ON p.id = t.parent_id WHERE "
			  "t.label = 'A9' AND p.label = 'A1' AND t.how = 'seed' AND "
			  "t.target_height_um = 3657600 AND t.is_private = 1 AND "
			  "t.planted = '2023-11-20'"),
		1, "the tree");
	check_int(stage_count(&stage, "SELECT count(*) FROM identity i JOIN tree t ON t.id = "
				      "i.tree_id WHERE t.label = 'A9' AND i.what = 'species'"),
		1, "the kind was not said again");
	(void)stage_keys(&stage, "u");
	stage_shows(&stage, "A3  loquat (certain), Gold Nugget (suspected)");
	stage_lacks(&stage, "wasps");
	stage_close(&stage);
}

static void nothing_typed_is_nothing_written(void **state)
{
	(void)state;
	struct stage stage;
	open_facts(&stage, 24, 80, NULL);
	int before = stage_count(&stage, "SELECT count(*) FROM change_set");
	(void)stage_keys(&stage, "Down Enter");
	stage_shows(&stage, "nothing was changed");
	check_int(stage_count(&stage, "SELECT count(*) FROM change_set"), before, "acts");
	stage_close(&stage);
}

static void what_cannot_be_is_said_and_stays_in_the_field(void **state)
{
	(void)state;
	static const struct {
		const char *down, *typed, *says;
	} odd[] = {
		{"", "B1", "not saved"}, /* another tree has it */
		{"", "", "a tree needs a label"},
		{"Down Down", "quite", "certain, suspected"},
		{"Down Down Down", "purple", "not saved"},
		{"Down Down Down Down Down", "by post", "came as"},
		{"Down Down Down Down Down", "seed of A3", "does not come from itself"},
		{"Down Down Down Down Down", "seed of Z9", "not saved"},
		{"Down Down Down Down Down Down Down", "tall", "not saved"},
		{"Down Down Down Down Down Down Down Down Down Down", "secret", "marks:"},
	};
	for (size_t i = 0; i < sizeof odd / sizeof odd[0]; i++) {
		struct stage stage;
		open_facts(&stage, 24, 80, NULL);
		int before = stage_count(&stage, "SELECT count(*) FROM change_set");
		(void)stage_keys(&stage, odd[i].down);
		stage_type(&stage, clear_line);
		stage_type(&stage, odd[i].typed);
		(void)stage_keys(&stage, "Enter");
		stage_shows(&stage, odd[i].says);
		stage_shows(&stage, odd[i].typed);
		check_int(stage_count(&stage, "SELECT count(*) FROM change_set"), before, "acts");
		stage_close(&stage);
	}
}

static void what_was_left_unsaved_waits(void **state)
{
	(void)state;
	struct stage stage;
	open_facts(&stage, 24, 80, NULL);
	(void)stage_keys(&stage, "End");
	stage_type(&stage, "x");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "not saved; it waits here");
	(void)stage_keys(&stage, "e");
	stage_shows(&stage, "label      A3x");
	(void)pty_close(stage.pty); /* the terminal is gone */
	stage_start(&stage);
	stage_shows(&stage, "a line was left unsaved; it waits in the Facts");
	(void)stage_keys(&stage, "Down Down");
	(void)stage_keys(&stage, "Enter");
	(void)stage_keys(&stage, "e");
	stage_shows(&stage, "label      A3x");
	stage_close(&stage);
}

static void an_emptied_field_waits_empty(void **state)
{
	(void)state;
	struct stage stage;
	open_facts(&stage, 24, 80, NULL);
	(void)stage_keys(&stage, "Down Down Down Down Down Down Down Down Down Down");
	stage_type(&stage, "private");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "saved");
	(void)stage_keys(&stage, "e");
	stage_shows(&stage, "marks      private");
	(void)stage_keys(&stage, "Down Down Down Down Down Down Down Down Down Down");
	stage_type(&stage, clear_line);
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "not saved; it waits here");
	(void)stage_keys(&stage, "e");
	stage_shows(&stage, "> label      A3");
	stage_lacks(&stage, "marks      private");
	stage_close(&stage);
}

/* The tail of a long field too, and what another window tells while the form is open. */
static void what_is_not_typed_otherwise_stays_whole(void **state)
{
	(void)state;
	struct stage stage;
	char hazard[TEXT_SIZE];
	const struct stage_options options = {.rows = 24, .columns = 80};
	stage_open(&stage, &options);
	memset(hazard, 'w', sizeof hazard - 1);
	hazard[sizeof hazard - 1] = '\0';
	struct spawned told = program_run(NULL, "--log", stage.log, "tree", "set", "A3", "--hazard",
		hazard, "--rootstock",
		"a seedling of the old loquat by the well, grown from a stone in a pot", NULL);
	check_int(told.status, 0, told.err);
	spawned_free(&told);
	(void)stage_keys(&stage, "Down Down");
	(void)stage_keys(&stage, "Enter");
	(void)stage_keys(&stage, "e");
	stage_shows(&stage, "label      A3");
	(void)stage_keys(&stage, "Down Down Down Down Down Down Down");
	stage_type(&stage, "12 ft");
	/* another window tells of it meanwhile */
	told = program_run(
		NULL, "--log", stage.log, "tree", "set", "A3", "--note", "by the well", NULL);
	check_int(told.status, 0, told.err);
	spawned_free(&told);
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "saved");
	check_int(stage_count(&stage,
			  "SELECT count(*) FROM tree WHERE label = 'A3' AND target_height_um = "
			  "3657600 AND length(hazard) = 400 AND rootstock LIKE '%in a pot' AND "
			  "note = 'by the well'"),
		1, "the tree");
	stage_close(&stage);
}

static void a_field_that_is_too_long_is_refused(void **state)
{
	(void)state;
	struct stage stage;
	open_facts(&stage, 24, 80, NULL);
	int before = stage_count(&stage, "SELECT count(*) FROM change_set");
	(void)stage_keys(&stage, "Down Down Down Down Down Down");
	for (int i = 0; i < 100; i++)
		stage_type(&stage, "\xc3\xa4");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "not saved: rootstock: too long");
	check_int(stage_count(&stage, "SELECT count(*) FROM change_set"), before, "acts");
	stage_close(&stage);
}

static void what_waits_of_one_tree_outlasts_a_look_at_another(void **state)
{
	(void)state;
	struct stage stage;
	open_facts(&stage, 24, 80, NULL);
	(void)stage_keys(&stage, "End");
	stage_type(&stage, "x");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "not saved; it waits here");
	(void)stage_keys(&stage, "Esc");
	(void)stage_keys(&stage, "Down Enter");
	(void)stage_keys(&stage, "e");
	stage_shows(&stage, "Facts");
	stage_lacks(&stage, "A3x");
	(void)stage_keys(&stage, "Esc");
	(void)stage_keys(&stage, "Esc");
	(void)stage_keys(&stage, "Up Enter");
	(void)stage_keys(&stage, "e");
	stage_shows(&stage, "label      A3x");
	stage_close(&stage);
}

static void each_tree_keeps_what_was_left_unsaved_of_it(void **state)
{
	(void)state;
	struct stage stage;
	open_facts(&stage, 24, 80, NULL);
	(void)stage_keys(&stage, "End");
	stage_type(&stage, "x");
	(void)stage_keys(&stage, "Esc");
	stage_shows(&stage, "not saved; it waits here");
	(void)stage_keys(&stage, "Right");
	stage_shows(&stage, "B1  apple");
	(void)stage_keys(&stage, "e");
	stage_shows(&stage, "label      B1");
	(void)stage_keys(&stage, "End");
	stage_type(&stage, "y");
	assert_int_equal(kill(stage.pty->child, SIGTERM), 0);
	(void)pty_expect_end(stage.pty, STAGE_WAIT_MS);
	check_int(stage_count(&stage, "SELECT count(*) FROM draft WHERE screen LIKE 'facts %'"), 2,
		"drafts");
	(void)pty_close(stage.pty);
	stage_start(&stage);
	stage_shows(&stage, "a line was left unsaved; it waits in the Facts of ");
	stage_type(&stage, "/A3\r");
	(void)stage_keys(&stage, "e");
	stage_shows(&stage, "label      A3x");
	(void)stage_keys(&stage, "Enter"); /* kept, and no draft any more */
	stage_shows(&stage, "saved");
	check_int(stage_count(&stage, "SELECT count(*) FROM draft WHERE screen LIKE 'facts %'"), 1,
		"drafts");
	stage_type(&stage, "e");
	stage_shows(&stage, "label      A3x");
	stage_close(&stage);
}

static void help_is_a_key_while_a_field_is_full(void **state)
{
	(void)state;
	static const char *const keys[] = {"\x1bOP", "\x1b[11~", "\x1b[[A"};
	struct stage stage;
	open_facts(&stage, 24, 80, NULL);
	stage_type(&stage, "x");
	for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
		stage_shows(&stage, "F1 help");
		stage_type(&stage, keys[i]);
		stage_shows(&stage, "Facts: its own keys");
		stage_type(&stage, keys[i]);
		stage_shows(&stage, "label      A3x");
	}
	stage_close(&stage);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(it_shows_what_is_known),
		cmocka_unit_test(every_field_stands_on_the_smallest_screen),
		cmocka_unit_test(several_facts_are_one_act),
		cmocka_unit_test(nothing_typed_is_nothing_written),
		cmocka_unit_test(what_cannot_be_is_said_and_stays_in_the_field),
		cmocka_unit_test(what_was_left_unsaved_waits),
		cmocka_unit_test(each_tree_keeps_what_was_left_unsaved_of_it),
		cmocka_unit_test(help_is_a_key_while_a_field_is_full),
		cmocka_unit_test(what_waits_of_one_tree_outlasts_a_look_at_another),
		cmocka_unit_test(an_emptied_field_waits_empty),
		cmocka_unit_test(what_is_not_typed_otherwise_stays_whole),
		cmocka_unit_test(a_field_that_is_too_long_is_refused),
	};
	return cmocka_run_group_tests_name("facts", tests, NULL, NULL) != 0;
}
