/* SPDX-License-Identifier: MIT */
/* Folders, dice, tables and the running of commands. */
#include "support/test.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static void folder_goes_with_all_it_holds(void **state)
{
	(void)state;
	const struct scratch scratch = scratch_make();
	char path[SCRATCH_PATH_SIZE];
	check_int(mkdir(scratch_path(&scratch, "deep", path), 0700), 0, "mkdir");
	file_write(scratch_path(&scratch, "deep/leaf", path), "a\0b", 3);
	size_t length = 0;
	char *bytes = file_read(path, &length);
	check_int((int64_t)length, 3, "length");
	assert_memory_equal(bytes, "a\0b", 4);
	free(bytes);
	scratch_remove(&scratch);
	assert_false(file_exists(scratch.folder));
}

static void long_file_is_read_whole(void **state)
{
	(void)state;
	const struct scratch scratch = scratch_make();
	char path[SCRATCH_PATH_SIZE];
	static char bytes[70000];
	memset(bytes, 'x', sizeof bytes);
	file_write(scratch_path(&scratch, "long", path), bytes, sizeof bytes);
	size_t length = 0;
	char *got = file_read(path, &length);
	check_int((int64_t)length, (int64_t)sizeof bytes, "length");
	assert_memory_equal(got, bytes, sizeof bytes);
	free(got);
	scratch_remove(&scratch);
}

static void dice_repeat_and_stay_inside(void **state)
{
	(void)state;
	struct dice one = dice_start();
	struct dice two = dice_start();
	int64_t lowest = 9;
	int64_t highest = -9;
	for (int i = 0; i < 1000; i++) {
		const int64_t roll = dice_between(&one, -4, 4);
		check_int(dice_between(&two, -4, 4), roll, "second dice");
		lowest = roll < lowest ? roll : lowest;
		highest = roll > highest ? roll : highest;
	}
	check_int(lowest, -4, "lowest");
	check_int(highest, 4, "highest");
}

static void table_gives_cells_by_heading(void **state)
{
	(void)state;
	struct table *table = outside_open("tests/support/table_sample.tsv");
	check_int(table->count, 2, "rows");
	check_int(table->rows[1].line, 5, "line");
	check_text(row_text(&table->rows[0], "case"), "dozen", "case");
	check_int(row_int(&table->rows[0], "expected"), 12, "expected");
	check_close(row_number(&table->rows[1], "expected"), -0.5, 0.0, "expected");
	table_free(table);
}

static void command_is_fed_and_heard(void **state)
{
	(void)state;
	const char *const words[] = {"sh", "-c", "cat; echo no >&2; exit 3", NULL};
	struct spawned spawned = command_run("fig\n", words);
	check_int(spawned.status, 3, "status");
	check_text(spawned.out, "fig\n", "output");
	check_text(spawned.err, "no\n", "errors");
	spawned_free(&spawned);
}

static void much_output_does_not_block(void **state)
{
	(void)state;
	static char input[300001];
	memset(input, 'x', sizeof input - 1);
	const char *const words[] = {"sh", "-c", "tee /dev/stderr", NULL};
	struct spawned spawned = command_run(input, words);
	check_int((int64_t)spawned.out_length, (int64_t)sizeof input - 1, "output");
	check_int((int64_t)spawned.err_length, (int64_t)sizeof input - 1, "errors");
	spawned_free(&spawned);
}

static void command_that_reads_nothing_is_no_failure(void **state)
{
	(void)state;
	static char input[300001];
	memset(input, 'x', sizeof input - 1);
	const char *const words[] = {"true", NULL};
	struct spawned spawned = command_run(input, words);
	check_int(spawned.status, 0, "status");
	spawned_free(&spawned);
}

static void signal_is_told(void **state)
{
	(void)state;
	const char *const words[] = {"sh", "-c", "kill -9 $$", NULL};
	struct spawned spawned = command_run(NULL, words);
	check_int(spawned.status, 128 + 9, "status");
	spawned_free(&spawned);
}

struct bad_table {
	const char *name;
	const char *text;
	const char *says;
};

static const struct bad_table bad_tables[] = {
	{"refuses_no_source_column", "case\tvalue\na\t1\n", "no column named source"},
	{"refuses_blank_source", "case\tsource\na\t \n", ":2: the source is empty"},
	{"refuses_missing_cell", "case\tvalue\tsource\na\tB\n", ":2: not as many cells"},
	{"refuses_a_row_typed_twice", "case\tsource\na\tB\nc\tB\na\tB\n",
		":4: the same as a row before"},
	{"refuses_no_rows", "case\tsource\n", "no rows"},
};

static const char bad_table_path[] = "BAD_TABLE";

static void refuses_table(const void *one)
{
	const struct bad_table *bad = one;
	const struct scratch scratch = scratch_make();
	char path[SCRATCH_PATH_SIZE];
	char setting[SCRATCH_PATH_SIZE + 32];
	char top[SCRATCH_PATH_SIZE];
	char self[SCRATCH_PATH_SIZE] = {0};
	assert_non_null(realpath("/proc/self/exe", self));
	file_write(scratch_path(&scratch, "bad.tsv", path), bad->text, strlen(bad->text));
	(void)snprintf(setting, sizeof setting, "%s=bad.tsv", bad_table_path);
	(void)snprintf(top, sizeof top, "BOUGHBOOK_SOURCE=%.200s", scratch.folder);
	const char *const words[] = {"env", setting, top, self, NULL};
	struct spawned spawned = command_run(NULL, words);
	check_int(spawned.status, 1, "status");
	check_has(spawned.err, bad->says, "message");
	spawned_free(&spawned);
	scratch_remove(&scratch);
}

static void value_is_a_number(const struct table_row *row)
{
	check_close(row_number(row, "expected"), strtod(row_text(row, "value"), NULL), 1e-9,
		row_text(row, "case"));
}

int main(void)
{
	const char *bad = getenv(bad_table_path);
	if (bad != NULL) {
		table_free(outside_open(bad));
		return 0;
	}
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(folder_goes_with_all_it_holds),
		cmocka_unit_test(long_file_is_read_whole),
		cmocka_unit_test(dice_repeat_and_stay_inside),
		cmocka_unit_test(table_gives_cells_by_heading),
		cmocka_unit_test(command_is_fed_and_heard),
		cmocka_unit_test(much_output_does_not_block),
		cmocka_unit_test(command_that_reads_nothing_is_no_failure),
		cmocka_unit_test(signal_is_told),
	};
	struct table *table = outside_open("tests/support/table_sample.tsv");
	const int failed = cmocka_run_group_tests_name("support", tests, NULL, NULL) +
			   run_rows("rows", table, value_is_a_number) +
			   RUN_CASES("bad tables", bad_tables, refuses_table);
	table_free(table);
	return failed != 0;
}
