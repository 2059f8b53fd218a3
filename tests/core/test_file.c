/* SPDX-License-Identifier: MIT */
#include "support/test.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <signal.h>
#include <unistd.h>

#include "core/file.h"

static struct scratch scratch;
static char path[SCRATCH_PATH_SIZE];

static int setup(void **state)
{
	(void)state;
	scratch = scratch_make();
	scratch_path(&scratch, "trees.csv", path);
	return 0;
}

static int teardown(void **state)
{
	(void)state;
	scratch_remove(&scratch);
	return 0;
}

static int count_entries(const char *folder)
{
	DIR *list = opendir(folder);
	int count = 0;
	assert_non_null(list);
	while (readdir(list) != NULL)
		count++;
	closedir(list);
	return count - 2;
}

static void check_holds(const char *file, const char *want)
{
	size_t length;
	char *bytes = file_read(file, &length);
	check_text(bytes, want, file);
	free(bytes);
}

static unsigned mode_of(const char *file)
{
	struct stat facts;
	assert_int_equal(stat(file, &facts), 0);
	return facts.st_mode & 07777;
}

static void check_written(const char *file, const char *bytes)
{
	struct fault why = {0};
	check_ok(file_write_whole(file, bytes, strlen(bytes), &why), &why);
}

/* --- reading --- */

static void a_file_is_read_whole(void **state)
{
	(void)state;
	static const size_t sizes[] = {0, 1, 65535, 65536, 65537, 300000};
	for (size_t at = 0; at < sizeof sizes / sizeof *sizes; at++) {
		char *bytes = malloc(sizes[at] + 1);
		for (size_t byte = 0; byte < sizes[at]; byte++)
			bytes[byte] = (char)(byte * 31 % 256);
		file_write(path, bytes, sizes[at]);
		struct file_bytes file;
		struct fault why = {0};
		check_ok(file_read_whole(path, FILE_SIZE_MAX, &file, &why), &why);
		check_int((int64_t)file.length, (int64_t)sizes[at], "length");
		assert_memory_equal(file.bytes, bytes, sizes[at]);
		check_int(file.bytes[file.length], 0, "closed");
		file_free(&file);
		assert_null(file.bytes);
		free(bytes);
	}
}

static void what_cannot_be_read_is_named(void **state)
{
	(void)state;
	struct file_bytes file = {.length = 7};
	struct fault why = {0};
	check_refused(file_read_whole(path, 100, &file, &why), STATUS_ABSENT, &why,
		"trees.csv: No such file");
	assert_null(file.bytes);
	check_refused(
		file_read_whole(scratch.folder, 100, &file, &why), STATUS_IO, &why, "is a folder");
	file_write(path, "12345", 5);
	check_refused(
		file_read_whole(path, 4, &file, &why), STATUS_RANGE, &why, "larger than 4 bytes");
	check_ok(file_read_whole(path, 5, &file, &why), &why);
	file_free(&file);
	char below[SCRATCH_PATH_SIZE];
	scratch_path(&scratch, "trees.csv/below", below);
	check_refused(
		file_read_whole(below, 100, &file, &why), STATUS_ABSENT, &why, "Not a directory");
	/* An endless file stops at the limit. */
	check_refused(file_read_whole("/dev/zero", 1000000, &file, &why), STATUS_RANGE, &why,
		"larger than 1000000 bytes");
}

static void a_dash_is_standard_input(void **state)
{
	(void)state;
	file_write(path, "A3 picked 2 lb\n", 15);
	int kept = dup(STDIN_FILENO);
	int descriptor = open(path, O_RDONLY);
	assert_true(dup2(descriptor, STDIN_FILENO) >= 0);
	struct file_bytes file;
	struct fault why = {0};
	enum status status = file_read_whole("-", 100, &file, &why);
	dup2(kept, STDIN_FILENO);
	close(kept);
	close(descriptor);
	check_ok(status, &why);
	check_text(file.bytes, "A3 picked 2 lb\n", "words");
	file_free(&file);
}

/* --- writing --- */

static void a_new_file_is_for_its_owner_alone(void **state)
{
	(void)state;
	check_written(path, "a,b\r\n");
	check_holds(path, "a,b\r\n");
	check_int(mode_of(path), 0600, "mode");
	check_int(count_entries(scratch.folder), 1, "nothing else is left");
	check_written(path, "");
	check_holds(path, "");
}

static void an_old_file_keeps_its_mode(void **state)
{
	(void)state;
	file_write(path, "old", 3);
	assert_int_equal(chmod(path, 0664), 0);
	check_written(path, "new");
	check_holds(path, "new");
	check_int(mode_of(path), 0664, "mode");
	check_int(count_entries(scratch.folder), 1, "nothing else is left");
}

static void readers_of_the_old_file_keep_it_whole(void **state)
{
	(void)state;
	file_write(path, "the old words", 13);
	int descriptor = open(path, O_RDONLY);
	check_written(path, "new");
	char bytes[20] = "";
	check_int(read(descriptor, bytes, sizeof bytes), 13, "old length");
	check_text(bytes, "the old words", "old words");
	close(descriptor);
}

static void a_link_stays_a_link(void **state)
{
	(void)state;
	char folder[SCRATCH_PATH_SIZE];
	char target[SCRATCH_PATH_SIZE];
	char link[SCRATCH_PATH_SIZE];
	char second[SCRATCH_PATH_SIZE];
	scratch_path(&scratch, "below", folder);
	scratch_path(&scratch, "below/real.csv", target);
	scratch_path(&scratch, "link.csv", link);
	scratch_path(&scratch, "second.csv", second);
	assert_int_equal(mkdir(folder, 0700), 0);
	assert_int_equal(symlink("below/real.csv", link), 0);
	assert_int_equal(symlink(link, second), 0);
	check_written(link, "one"); /* the target is not there yet */
	check_holds(target, "one");
	check_written(second, "two");
	check_holds(target, "two");
	struct stat facts;
	assert_int_equal(lstat(link, &facts), 0);
	assert_true(S_ISLNK(facts.st_mode));
	check_int(count_entries(folder), 1, "written in the target's folder");
	check_int(count_entries(scratch.folder), 3, "nothing left beside the links");
	char loop[SCRATCH_PATH_SIZE];
	scratch_path(&scratch, "loop", loop);
	assert_int_equal(symlink("loop", loop), 0);
	struct fault why = {0};
	check_refused(file_write_whole(loop, "x", 1, &why), STATUS_IO, &why, "too many links");
}

static void what_cannot_be_written_leaves_all_as_it_was(void **state)
{
	(void)state;
	char absent[SCRATCH_PATH_SIZE];
	scratch_path(&scratch, "no/such/folder.csv", absent);
	struct fault why = {0};
	check_refused(file_write_whole(absent, "x", 1, &why), STATUS_ABSENT, &why, "No such file");
	check_refused(
		file_write_whole(scratch.folder, "x", 1, &why), STATUS_IO, &why, "is a folder");
	check_int(count_entries(scratch.folder), 0, "nothing is left");
	char long_path[5000];
	memset(long_path, 'a', sizeof long_path - 1);
	long_path[sizeof long_path - 1] = '\0';
	check_refused(file_write_whole(long_path, "x", 1, &why), STATUS_RANGE, &why, "longer than");
}

/* A limit on the size of files stands for the full disk: the write fails half way. */
static void a_full_disk_leaves_the_old_file_and_nothing_else(void **state)
{
	(void)state;
	file_write(path, "the old words", 13);
	static char bytes[100000];
	memset(bytes, 'x', sizeof bytes);
	pid_t child = fork();
	assert_true(child >= 0);
	if (child == 0) {
		struct rlimit limit = {50000, 50000};
		signal(SIGXFSZ, SIG_IGN);
		setrlimit(RLIMIT_FSIZE, &limit);
		struct fault why = {0};
		enum status status = file_write_whole(path, bytes, sizeof bytes, &why);
		_exit(status == STATUS_IO && strstr(why.text, "trees.csv") != NULL ? 0 : 1);
	}
	int status = 0;
	waitpid(child, &status, 0);
	assert_true(WIFEXITED(status));
	check_int(WEXITSTATUS(status), 0, "refused with the file's name");
	check_holds(path, "the old words");
	check_int(count_entries(scratch.folder), 1, "no part is left");
}

/* As a user without rights, because root may do everything. */
static void without_rights_the_file_is_refused(void **state)
{
	(void)state;
	if (geteuid() != 0)
		skip();
	assert_int_equal(chmod(scratch.folder, 0755), 0);
	file_write(path, "theirs", 6);
	assert_int_equal(chmod(path, 0600), 0);
	pid_t child = fork();
	assert_true(child >= 0);
	if (child == 0) {
		if (setgid(65534) != 0 || setuid(65534) != 0)
			_exit(9);
		struct file_bytes file;
		struct fault why = {0};
		bool read_denied = file_read_whole(path, 100, &file, &why) == STATUS_DENIED;
		bool write_denied = file_write_whole(path, "x", 1, &why) == STATUS_DENIED;
		char fresh[SCRATCH_PATH_SIZE];
		scratch_path(&scratch, "new.csv", fresh);
		bool new_denied = file_write_whole(fresh, "x", 1, &why) == STATUS_DENIED;
		_exit(read_denied && write_denied && new_denied ? 0 : 1);
	}
	int status = 0;
	waitpid(child, &status, 0);
	assert_true(WIFEXITED(status));
	check_int(WEXITSTATUS(status), 0, "all three denied");
	check_holds(path, "theirs");
	check_int(count_entries(scratch.folder), 1, "nothing is left");
}

static void a_device_is_written_straight(void **state)
{
	(void)state;
	check_written("/dev/null", "gone");
	struct stat facts;
	assert_int_equal(stat("/dev/null", &facts), 0);
	assert_true(S_ISCHR(facts.st_mode));
	struct fault why = {0};
	check_refused(
		file_write_whole("/dev/full", "x", 1, &why), STATUS_IO, &why, "No space left");
}

static void a_dash_is_standard_output(void **state)
{
	(void)state;
	fflush(stdout);
	int kept = dup(STDOUT_FILENO);
	int descriptor = open(path, O_WRONLY | O_CREAT, 0600);
	assert_true(dup2(descriptor, STDOUT_FILENO) >= 0);
	struct fault why = {0};
	printf("first ");
	enum status status = file_write_whole("-", "second", 6, &why);
	dup2(kept, STDOUT_FILENO);
	close(kept);
	close(descriptor);
	check_ok(status, &why);
	check_holds(path, "first second");
}

/* --- paths --- */

static void missing_folders_are_made(void **state)
{
	(void)state;
	char deep[SCRATCH_PATH_SIZE];
	char folder[SCRATCH_PATH_SIZE];
	struct fault why = {0};
	scratch_path(&scratch, "share/boughbook/yard.bough", deep);
	check_ok(file_make_folders(deep, &why), &why);
	check_ok(file_make_folders(deep, &why), &why);
	check_int(mode_of(scratch_path(&scratch, "share/boughbook", folder)), 0700, "mode");
	check_int(count_entries(folder), 0, "the file itself is not made");
	check_ok(file_make_folders("yard.bough", &why), &why);
	file_write(path, "x", 1);
	scratch_path(&scratch, "trees.csv/below/yard.bough", deep);
	check_refused(file_make_folders(deep, &why), STATUS_ABSENT, &why, "Not a directory");
}

static void check_log_path(
	const char *log, const char *data, const char *home, enum status status, const char *want)
{
	const char *const names[] = {"BOUGHBOOK_LOG", "XDG_DATA_HOME", "HOME"};
	const char *const values[] = {log, data, home};
	for (int at = 0; at < 3; at++) {
		if (values[at] == NULL)
			unsetenv(names[at]);
		else
			setenv(names[at], values[at], 1);
	}
	char out[FILE_PATH_SIZE];
	struct fault why = {0};
	check_int(file_default_log_path(out, &why), status, want);
	if (status == STATUS_OK)
		check_text(out, want, "path");
	else
		check_has(why.text, want, "message");
}

static void the_log_is_found_by_the_environment(void **state)
{
	(void)state;
	check_log_path("/a/b.bough", "/data", "/home/x", STATUS_OK, "/a/b.bough");
	check_log_path("b.bough", "/data", "/home/x", STATUS_OK, "b.bough");
	check_log_path("", "/data", "/home/x", STATUS_OK, "/data/boughbook/yard.bough");
	check_log_path(NULL, "", "/home/x", STATUS_OK, "/home/x/.local/share/boughbook/yard.bough");
	check_log_path(
		NULL, "data", "/home/x", STATUS_OK, "/home/x/.local/share/boughbook/yard.bough");
	check_log_path(NULL, NULL, "", STATUS_ABSENT, "--log FILE");
	check_log_path(NULL, NULL, NULL, STATUS_ABSENT, "BOUGHBOOK_LOG");
	char long_path[5000];
	memset(long_path, 'a', sizeof long_path - 1);
	long_path[sizeof long_path - 1] = '\0';
	check_log_path(long_path, NULL, NULL, STATUS_RANGE, "longer than");
}

int main(void)
{
#define IN_SCRATCH(test) cmocka_unit_test_setup_teardown(test, setup, teardown)
	const struct CMUnitTest tests[] = {
		IN_SCRATCH(a_file_is_read_whole),
		IN_SCRATCH(what_cannot_be_read_is_named),
		IN_SCRATCH(a_dash_is_standard_input),
		IN_SCRATCH(a_new_file_is_for_its_owner_alone),
		IN_SCRATCH(an_old_file_keeps_its_mode),
		IN_SCRATCH(readers_of_the_old_file_keep_it_whole),
		IN_SCRATCH(a_link_stays_a_link),
		IN_SCRATCH(what_cannot_be_written_leaves_all_as_it_was),
		IN_SCRATCH(a_full_disk_leaves_the_old_file_and_nothing_else),
		IN_SCRATCH(without_rights_the_file_is_refused),
		IN_SCRATCH(a_device_is_written_straight),
		IN_SCRATCH(a_dash_is_standard_output),
		IN_SCRATCH(missing_folders_are_made),
		cmocka_unit_test(the_log_is_found_by_the_environment),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
