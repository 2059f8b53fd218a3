/* SPDX-License-Identifier: MIT */
#include "support/test.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/time.h>
#include <unistd.h>

#include "core/file.h"
#include "core/folder.h"

enum { DAY_S = 86400 };

static struct scratch scratch;

static int set_up(void **state)
{
	(void)state;
	scratch = scratch_make();
	return 0;
}

static int tear_down(void **state)
{
	(void)state;
	scratch_remove(&scratch);
	return 0;
}

/* Last written so many seconds ago. */
static void make_old(const char *name, int64_t ago_s)
{
	char path[SCRATCH_PATH_SIZE];
	struct stat now;
	assert_int_equal(stat(scratch_path(&scratch, name, path), &now), 0);
	struct timeval times[2] = {
		{.tv_sec = now.st_mtime - ago_s}, {.tv_sec = now.st_mtime - ago_s}};
	assert_int_equal(utimes(path, times), 0);
}

static void put(const char *name, int64_t ago_s)
{
	char path[SCRATCH_PATH_SIZE];
	file_write(scratch_path(&scratch, name, path), "half", 4);
	make_old(name, ago_s);
}

static bool is_there(const char *name)
{
	char path[SCRATCH_PATH_SIZE];
	return access(scratch_path(&scratch, name, path), F_OK) == 0;
}

static void write_one(void)
{
	char path[SCRATCH_PATH_SIZE];
	struct fault why = {.status = STATUS_OK};
	check_ok(file_write_whole(scratch_path(&scratch, "picks.csv", path), "new", 3, &why), &why);
}

static void what_a_killed_run_left_goes_a_day_later(void **state)
{
	char path[SCRATCH_PATH_SIZE];
	(void)state;
	put(".boughbook-aB3xY9", DAY_S + 60);
	put(".boughbook-zzzzzz", DAY_S - 60); /* it may be written still */
	assert_int_equal(mkdir(scratch_path(&scratch, ".boughbook-folder", path), 0700), 0);
	put(".boughbook-folder/tree.csv", 2 * DAY_S);
	make_old(".boughbook-folder", 2 * DAY_S);
	write_one();
	assert_false(is_there(".boughbook-aB3xY9"));
	assert_false(is_there(".boughbook-folder"));
	assert_true(is_there(".boughbook-zzzzzz"));
	assert_true(is_there("picks.csv"));
}

static void a_folder_written_sweeps_too(void **state)
{
	char path[SCRATCH_PATH_SIZE];
	struct folder_writing writing;
	struct fault why = {.status = STATUS_OK};
	(void)state;
	put(".boughbook-aB3xY9", DAY_S + 60);
	check_ok(folder_look(scratch_path(&scratch, "all", path), &writing, &why), &why);
	check_ok(folder_begin(&writing, &why), &why);
	folder_abandon(&writing);
	assert_false(is_there(".boughbook-aB3xY9"));
}

/* Names that are near ours, a link, another's file, and what stepped aside, which may be all there
 * is of it. */
static void nothing_else_is_touched(void **state)
{
	static const char *const names[] = {"picks.csv~", ".boughbook-", ".boughbook-abc",
		".boughbook-abcdefg", ".boughbook-ab.def", ".boughbook-aB3xY9.old",
		"boughbook-aB3xY9", ".boughbookrc", ".boughbook-rules!"};
	char path[SCRATCH_PATH_SIZE];
	(void)state;
	for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
		put(names[i], 400 * DAY_S);
	put("elsewhere", 400 * DAY_S);
	assert_int_equal(
		symlink("elsewhere", scratch_path(&scratch, ".boughbook-aLinkx", path)), 0);
	put(".boughbook-others", 400 * DAY_S);
	const bool is_root = geteuid() == 0;
	if (is_root) {
		assert_int_equal(
			lchown(scratch_path(&scratch, ".boughbook-others", path), 65534, 65534), 0);
		make_old(".boughbook-others", 400 * DAY_S);
	}
	write_one();
	for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
		if (!is_there(names[i]))
			fail_msg("%s is gone", names[i]);
	assert_true(is_there("elsewhere") && is_there(".boughbook-aLinkx"));
	check_int(is_there(".boughbook-others"), is_root, "another's");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_setup_teardown(
			what_a_killed_run_left_goes_a_day_later, set_up, tear_down),
		cmocka_unit_test_setup_teardown(a_folder_written_sweeps_too, set_up, tear_down),
		cmocka_unit_test_setup_teardown(nothing_else_is_touched, set_up, tear_down),
	};
	return cmocka_run_group_tests_name("leftovers", tests, NULL, NULL) != 0;
}
