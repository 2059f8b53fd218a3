/* SPDX-License-Identifier: MIT */
/* What goes out, from the screens that show it, to a file that is named before it is written. */
#include "support/stage.h"
#include "support/test.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "screens/going_out.h"

static void path_of(const struct stage *stage, const char *name, char out[SCRATCH_PATH_SIZE])
{
	(void)scratch_path(&stage->scratch, name, out);
}

static char *read_file(const struct stage *stage, const char *name)
{
	char path[SCRATCH_PATH_SIZE];
	path_of(stage, name, path);
	return file_read(path, NULL);
}

static void type_name(struct stage *stage, const char *name)
{
	char path[SCRATCH_PATH_SIZE];
	path_of(stage, name, path);
	(void)stage_keys(stage, "Ctrl-U");
	stage_type(stage, path);
}

static void put_file(const struct stage *stage, const char *name, const char *text)
{
	char path[SCRATCH_PATH_SIZE];
	path_of(stage, name, path);
	FILE *file = fopen(path, "w");
	assert_non_null(file);
	assert_true(fputs(text, file) >= 0);
	assert_int_equal(fclose(file), 0);
}

struct from {
	const char *name;
	const char *before; /* keys to the screen */
	const char *key;
	const char *shows; /* the line in hand */
	const char *file;  /* that is written beside the log */
	const char *holds;
};

/* clang-format off */
static const struct from froms[] = {
	{"season", "s", "X", "> the season report of 2026", "yard-report-2026.html", "<svg"},
	{"review", "r", "X", "> what the review says", "yard-flags.csv", "flower-wood"},
	{"plan", "P", "X", "> the plan", "yard-plan.geojson", "FeatureCollection"},
	{"tree", "Enter", "X", "> A1: its sheet", "yard-sheet-A1.html", "Champagne"},
	{"walk", "w", "Ctrl-X", "> the walk list", "yard-walk.html", "Champagne"},
	{"yard", "", "X", "> the season report", "yard-report.html", "<svg"},
};
/* clang-format on */

static void one_key_and_enter_write_what_is_shown(const void *one)
{
	const struct from *from = one;
	const struct stage_options options = {.rows = 15, .columns = 60};
	struct stage stage;
	stage_open(&stage, &options);
	(void)stage_keys(&stage, from->before);
	check_int(stage_keys(&stage, from->key), 1, "keys it took");
	stage_shows(&stage, from->shows);
	stage_check(&stage, from->name);
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "written: ");
	char *text = read_file(&stage, from->file);
	check_has(text, from->holds, from->file);
	free(text);
	stage_close(&stage);
}

static void nothing_is_replaced_unasked(void **state)
{
	(void)state;
	const struct stage_options options = {.rows = 24};
	struct stage stage;
	stage_open(&stage, &options);
	put_file(&stage, "yard-report.html", "mine\n");
	put_file(&stage, "taken.txt", "mine too\n");
	(void)stage_keys(&stage, "X");
	stage_shows(&stage, "yard-report-2.html"); /* a name that is free */
	type_name(&stage, "taken.txt");
	stage_shows(&stage, "A file of this name is there.");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "Enter once more replaces it.");
	char *text = read_file(&stage, "taken.txt");
	check_text(text, "mine too\n", "as it was");
	free(text);
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "written: ");
	text = read_file(&stage, "taken.txt");
	check_has(text, "Tern Hollow", "plain text");
	assert_null(strstr(text, "<svg"));
	free(text);
	text = read_file(&stage, "yard-report.html");
	check_text(text, "mine\n", "never touched");
	free(text);
	stage_close(&stage);
}

static void what_cannot_be_written_is_said(void **state)
{
	(void)state;
	const struct stage_options options = {.rows = 24};
	struct stage stage;
	stage_open(&stage, &options);
	(void)stage_keys(&stage, "X");
	type_name(&stage, "no such folder/report.html");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "not written: ");
	(void)stage_keys(&stage, "Ctrl-U Enter");
	stage_shows(&stage, "a file wants a name");
	stage_close(&stage);
}

static void tab_leaves_private_trees_out(void **state)
{
	(void)state;
	const struct stage_options options = {.rows = 24};
	struct stage stage;
	stage_open(&stage, &options);
	struct spawned set =
		program_run(NULL, "--log", stage.log, "tree", "set", "B1", "--private", NULL);
	check_int(set.status, 0, set.err);
	spawned_free(&set);
	(void)stage_keys(&stage, "X Up Up Up Up");
	stage_shows(&stage, "> the trees, as a table");
	(void)stage_keys(&stage, "Tab");
	stage_shows(&stage, "are left out.");
	(void)stage_keys(&stage, "Enter");
	stage_shows(&stage, "written: ");
	char *text = read_file(&stage, "yard-trees.csv");
	check_has(text, "\nB2,", "another one");
	assert_null(strstr(text, "\nB1,"));
	free(text);
	stage_close(&stage);
}

static void it_looks_as_it_was_kept(void **state)
{
	(void)state;
	const struct stage_options options = {.rows = 24};
	struct stage stage;
	stage_open(&stage, &options);
	(void)stage_keys(&stage, "s");
	(void)stage_keys(&stage, "X Ctrl-U");
	stage_type(&stage, "report.txt");
	char *text = stage_text(&stage);
	check_golden(text, "tests/screens/golden/export.screen");
	free(text);
	stage_close(&stage);
}

static void each_word_finds_its_own(void **state)
{
	(void)state;
	for (int32_t i = 0; i < going_out_count(); i++)
		check_int(going_out_find(going_out_word(i), strlen(going_out_word(i))), i,
			going_out_word(i));
	check_int(going_out_find("repor", 5), -1, "a part of a word");
	check_int(going_out_find("", 0), -1, "nothing");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(nothing_is_replaced_unasked),
		cmocka_unit_test(what_cannot_be_written_is_said),
		cmocka_unit_test(tab_leaves_private_trees_out),
		cmocka_unit_test(it_looks_as_it_was_kept),
		cmocka_unit_test(each_word_finds_its_own),
	};
	const int failed = RUN_CASES("export", froms, one_key_and_enter_write_what_is_shown) +
			   cmocka_run_group_tests_name("export, more", tests, NULL, NULL);
	return failed != 0;
}
