/* SPDX-License-Identifier: MIT */
/* Logs that may not be written, and folders. Run by root, each case becomes an ordinary user
 * first, to whom permissions mean something; its premise is checked before it says anything. */
#include "support/test.h"

#include "support/log.h"

#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

enum { NOBODY = 65534, PREMISE_FAILS = 77, TEST_FAILS = 1 };

struct world {
	struct log yard;
	char folder[SCRATCH_PATH_SIZE];
	struct fault why;
};

struct permission {
	const char *name;
	mode_t file;
	mode_t folder;
	bool read_only;
	bool hot_journal;
	enum status status;
	const char *says;
};

/* clang-format off */
static const struct permission permissions[] = {
	{"log_that_may_be_written",            0600, 0700, false, false, STATUS_OK, ""},
	{"read_only_log_refuses_writing",      0400, 0700, false, false, STATUS_DENIED, "is read-only"},
	{"read_only_log_can_be_looked_at",     0400, 0700, true,  false, STATUS_OK, ""},
	{"read_only_folder_refuses_writing",   0600, 0500, false, false, STATUS_DENIED, "the folder of"},
	{"read_only_folder_can_be_looked_at",  0600, 0500, true,  false, STATUS_OK, ""},
	{"read_only_both_can_be_looked_at",    0400, 0500, true,  false, STATUS_OK, ""},
	{"unreadable_log",                     0000, 0700, true,  false, STATUS_DENIED, "no permission to read"},
	{"unreadable_log_for_writing",         0200, 0700, false, false, STATUS_DENIED, "no permission to read"},
	{"closed_folder",                      0600, 0000, true,  false, STATUS_DENIED, "no permission to read"},
	{"broken_save_mended_when_writable",   0600, 0700, true,  true,  STATUS_OK, ""},
	{"broken_save_told_in_closed_folder",  0600, 0500, true,  true,  STATUS_DENIED, "was broken off"},
	{"broken_save_told_on_read_only_log",  0400, 0700, true,  true,  STATUS_DENIED, "was broken off"},
};
/* clang-format on */

/* A log with two areas; with a hot journal, a third act half in the file. */
static void make_world(struct world *world, bool hot_journal)
{
	struct log *yard = &world->yard;
	size_t log_length = 0;
	size_t journal_length = 0;
	char journal[SCRATCH_PATH_SIZE];
	log_make(yard);
	log_area_act(yard, "one");
	log_area_act(yard, "two");
	log_exec(yard, "PRAGMA cache_size = 1");
	check_ok(store_act_begin(yard->store, ACT_WORK, "broken off", &world->why), &world->why);
	for (int i = 0; i < 1500; i++)
		log_area(yard, "so many that pages reach the file");
	char *log_bytes = file_read(yard->path, &log_length);
	scratch_path(&yard->scratch, "yard.bough-journal", journal);
	char *journal_bytes = file_read(journal, &journal_length);
	store_act_rollback(yard->store);
	log_close(yard);
	if (hot_journal) {
		file_write(yard->path, log_bytes, log_length);
		file_write(journal, journal_bytes, journal_length);
		check_int(
			chown(journal, geteuid() == 0 ? NOBODY : geteuid(), (gid_t)-1), 0, "chown");
	}
	free(log_bytes);
	free(journal_bytes);
}

static void become_nobody(void)
{
	if (geteuid() == 0 && (setgid(NOBODY) != 0 || setuid(NOBODY) != 0))
		_exit(PREMISE_FAILS);
}

static void check_premise(const struct permission *permission, const struct world *world)
{
	const bool may_write = access(world->yard.path, W_OK) == 0;
	const bool may_make = access(world->yard.scratch.folder, W_OK | X_OK) == 0;
	const bool wanted_write =
		(permission->file & 0200) != 0 && (permission->folder & 0100) != 0;
	const bool wanted_make = (permission->folder & 0300) == 0300;
	if (may_write != wanted_write || may_make != wanted_make)
		_exit(PREMISE_FAILS);
}

static int look(const struct permission *permission, struct world *world)
{
	const struct store_options options = {
		.clock = &world->yard.clock, .read_only = permission->read_only};
	check_premise(permission, world);
	const enum status status =
		store_open(world->yard.path, &options, &world->yard.store, &world->why);
	bool is_right = status == permission->status &&
			(status == STATUS_OK || strstr(world->why.text, permission->says) != NULL);
	if (status == STATUS_OK)
		is_right = is_right && log_count(&world->yard, "area") == 2 &&
			   (store_act_begin(world->yard.store, ACT_WORK, "x", NULL) == STATUS_OK) ==
				   !permission->read_only;
	if (!is_right)
		(void)fprintf(stderr, "status %d, \"%s\"\n", (int)status, world->why.text);
	store_close(world->yard.store);
	return is_right ? 0 : TEST_FAILS;
}

static void give_away(const struct log *yard, mode_t file, mode_t folder)
{
	const uid_t owner = geteuid() == 0 ? NOBODY : geteuid();
	check_int(chown(yard->path, owner, (gid_t)-1), 0, "chown");
	check_int(chmod(yard->path, file), 0, "chmod");
	check_int(chown(yard->scratch.folder, owner, (gid_t)-1), 0, "chown");
	check_int(chmod(yard->scratch.folder, folder), 0, "chmod");
}

static int in_child(int (*run)(const struct permission *, struct world *),
	const struct permission *permission, struct world *world)
{
	int status = 0;
	const pid_t child = fork();
	assert_true(child >= 0);
	if (child == 0) {
		(void)alarm(60);
		become_nobody();
		_exit(run(permission, world));
	}
	check_int(waitpid(child, &status, 0), child, "wait");
	assert_true(WIFEXITED(status));
	return WEXITSTATUS(status);
}

static void permission_is_told(const void *one)
{
	const struct permission *permission = one;
	struct world world = {0};
	struct stat before;
	struct stat after;
	make_world(&world, permission->hot_journal);
	char *bytes = file_read(world.yard.path, NULL);
	check_int(stat(world.yard.path, &before), 0, "stat");
	give_away(&world.yard, permission->file, permission->folder);
	const int answer = in_child(look, permission, &world);
	check_int(chmod(world.yard.scratch.folder, 0700), 0, "chmod");
	check_int(chmod(world.yard.path, 0600), 0, "chmod");
	check_int(stat(world.yard.path, &after), 0, "stat");
	if (permission->status != STATUS_OK ||
		(permission->read_only && !permission->hot_journal)) {
		char *again = file_read(world.yard.path, NULL);
		check_int(after.st_mtim.tv_sec, before.st_mtim.tv_sec, "time");
		check_int(after.st_mtim.tv_nsec, before.st_mtim.tv_nsec, "time");
		assert_memory_equal(again, bytes, (size_t)before.st_size);
		free(again);
	}
	free(bytes);
	log_free(&world.yard);
	if (answer == PREMISE_FAILS)
		skip();
	check_int(answer, 0, permission->name);
}

static int make_new(const struct permission *permission, struct world *world)
{
	char path[SCRATCH_PATH_SIZE];
	const struct place place = {.name = "Hill yard"};
	const struct store_options options = {.clock = &world->yard.clock};
	struct store *store = NULL;
	(void)permission;
	if (access(world->yard.scratch.folder, W_OK) == 0)
		_exit(PREMISE_FAILS);
	const enum status status =
		store_create(scratch_path(&world->yard.scratch, "new.bough", path), &options,
			&place, &store, &world->why);
	store_close(store);
	return status == STATUS_DENIED && strstr(world->why.text, "cannot be written") != NULL
		       ? 0
		       : TEST_FAILS;
}

static void nothing_is_made_in_a_read_only_folder(void **state)
{
	(void)state;
	struct world world = {0};
	make_world(&world, false);
	give_away(&world.yard, 0600, 0500);
	const int answer = in_child(make_new, &permissions[0], &world);
	check_int(chmod(world.yard.scratch.folder, 0700), 0, "chmod");
	log_free(&world.yard);
	if (answer == PREMISE_FAILS)
		skip();
	check_int(answer, 0, "refused");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(nothing_is_made_in_a_read_only_folder),
	};
	const int failed = cmocka_run_group_tests_name("new logs", tests, NULL, NULL) +
			   RUN_CASES("permissions", permissions, permission_is_told);
	return failed != 0;
}
