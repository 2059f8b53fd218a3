/* SPDX-License-Identifier: MIT */
#include "support/test.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "core/folder.h"

struct room {
	struct scratch scratch;
	char path[SCRATCH_PATH_SIZE]; /* of the folder to write */
};

static int set_up(void **state)
{
	struct room *room = calloc(1, sizeof *room);

	room->scratch = scratch_make();
	scratch_path(&room->scratch, "out", room->path);
	*state = room;
	return 0;
}

static int tear_down(void **state)
{
	struct room *room = *state;

	scratch_remove(&room->scratch);
	free(room);
	return 0;
}

static void put(const struct folder_writing *writing, const char *name, const char *text)
{
	struct fault why = {0};
	FILE *file;

	check_ok(folder_file_begin(writing, name, &file, &why), &why);
	fputs(text, file);
	check_ok(folder_file_end(writing, name, file, &why), &why);
}

static void write_folder(const char *path, const char *name, const char *text)
{
	struct folder_writing writing;
	struct fault why = {0};

	check_ok(folder_look(path, &writing, &why), &why);
	check_ok(folder_begin(&writing, &why), &why);
	put(&writing, name, text);
	check_ok(folder_end(&writing, &why), &why);
}

static void check_file(const struct room *room, const char *name, const char *want)
{
	char path[SCRATCH_PATH_SIZE];
	char *got = file_read(scratch_path(&room->scratch, name, path), NULL);

	check_text(got, want, name);
	free(got);
}

static int mode_of(const char *path)
{
	struct stat facts;

	assert_int_equal(stat(path, &facts), 0);
	return (int)(facts.st_mode & 0777);
}

static bool is_out(const char *name, const void *context)
{
	(void)context;
	return strcmp(name, "out") == 0;
}

/* Nothing lies beside the folder. */
static void check_alone(const struct room *room)
{
	char other[64];
	struct fault why = {0};

	check_ok(folder_find_other(room->scratch.folder, is_out, NULL, other, sizeof other, &why),
		&why);
	check_text(other, "", "beside it");
}

static void a_new_folder_is_for_its_owner_alone(void **state)
{
	const struct room *room = *state;
	char path[SCRATCH_PATH_SIZE];

	write_folder(room->path, "a", "one");
	check_file(room, "out/a", "one");
	check_int(mode_of(room->path), 0700, "folder");
	check_int(mode_of(scratch_path(&room->scratch, "out/a", path)), 0600, "file");
	check_alone(room);
}

static void a_folder_is_replaced_whole_and_keeps_its_modes(void **state)
{
	const struct room *room = *state;
	char a[SCRATCH_PATH_SIZE], b[SCRATCH_PATH_SIZE];

	scratch_path(&room->scratch, "out/a", a);
	scratch_path(&room->scratch, "out/b", b);
	write_folder(room->path, "a", "one");
	assert_int_equal(chmod(room->path, 0755), 0);
	assert_int_equal(chmod(a, 0644), 0);
	file_write(b, "old", 3);
	write_folder(room->path, "a", "two");
	check_file(room, "out/a", "two");
	assert_false(file_exists(b));
	check_int(mode_of(room->path), 0755, "folder");
	check_int(mode_of(a), 0644, "file");
	check_alone(room);
}

static void a_link_stays_and_its_folder_is_replaced(void **state)
{
	const struct room *room = *state;
	char link_path[SCRATCH_PATH_SIZE];
	struct stat facts;

	write_folder(room->path, "a", "one");
	assert_int_equal(symlink("out", scratch_path(&room->scratch, "link", link_path)), 0);
	strcat(link_path, "/");
	write_folder(link_path, "a", "two");
	check_file(room, "out/a", "two");
	link_path[strlen(link_path) - 1] = '\0';
	assert_int_equal(lstat(link_path, &facts), 0);
	assert_true(S_ISLNK(facts.st_mode));
	assert_int_equal(unlink(link_path), 0);
	check_alone(room);
}

static void what_is_given_up_leaves_nothing(void **state)
{
	const struct room *room = *state;
	struct folder_writing writing;
	struct fault why = {0};

	write_folder(room->path, "a", "one");
	check_ok(folder_look(room->path, &writing, &why), &why);
	check_ok(folder_begin(&writing, &why), &why);
	put(&writing, "a", "two");
	folder_abandon(&writing);
	folder_abandon(&writing);
	check_file(room, "out/a", "one");
	check_alone(room);
}

static void a_file_and_a_folder_that_is_not_there_are_refused(void **state)
{
	const struct room *room = *state;
	char path[SCRATCH_PATH_SIZE];
	struct folder_writing writing;
	struct fault why = {0};

	file_write(room->path, "x", 1);
	check_refused(folder_look(room->path, &writing, &why), STATUS_CONFLICT, &why,
		"is a file, not a folder");
	scratch_path(&room->scratch, "no/such", path);
	check_refused(folder_look(path, &writing, &why), STATUS_ABSENT, &why, "no: No such");
}

static void one_name_in_a_folder_of_here(void **state)
{
	const struct room *room = *state;
	struct folder_writing writing;
	struct fault why = {0};
	char here[SCRATCH_PATH_SIZE];

	assert_non_null(getcwd(here, sizeof here));
	assert_int_equal(chdir(room->scratch.folder), 0);
	write_folder("out", "a", "one");
	check_ok(folder_look("./out///", &writing, &why), &why);
	check_text(writing.target, room->path, "absolute");
	assert_true(writing.replaces);
	assert_int_equal(chdir(here), 0);
	check_file(room, "out/a", "one");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_setup_teardown(
			a_new_folder_is_for_its_owner_alone, set_up, tear_down),
		cmocka_unit_test_setup_teardown(
			a_folder_is_replaced_whole_and_keeps_its_modes, set_up, tear_down),
		cmocka_unit_test_setup_teardown(
			a_link_stays_and_its_folder_is_replaced, set_up, tear_down),
		cmocka_unit_test_setup_teardown(what_is_given_up_leaves_nothing, set_up, tear_down),
		cmocka_unit_test_setup_teardown(
			a_file_and_a_folder_that_is_not_there_are_refused, set_up, tear_down),
		cmocka_unit_test_setup_teardown(one_name_in_a_folder_of_here, set_up, tear_down),
	};
	int failed = cmocka_run_group_tests_name("folder", tests, NULL, NULL);

	return failed != 0;
}
