/* SPDX-License-Identifier: MIT */
/* The disk fails, is full, loses its power, and the program is killed while it saves. Slow because
 * each fault is tried at every operation of a save. Whatever happens, the log is as before the act
 * or as after it, and "saved" is only said when it is after. */
#include "support/test.h"

#include "support/log.h"
#include "support/vfs.h"

#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

enum {
	OPERATIONS_MAX = 400,
	KILLS = SANITIZED ? 40 : 100,
	KILL_MS_MAX = 12,
	STEP = SANITIZED ? 3 : 1
};

/* An act of many parts: rows, a change, words. Needs a log with an area in yard->id. */
static enum status one_act(struct log *yard, struct fault *why)
{
	char id[ID_SIZE];
	memcpy(id, yard->id, sizeof id);
	struct store *store = yard->store;
	enum status status = store_act_begin(store, ACT_WORK, "one act", why);
	if (status != STATUS_OK)
		return status;
	for (int i = 0; i < 3 && status == STATUS_OK; i++) {
		char made[ID_SIZE] = "";
		sqlite3_stmt *insert = NULL;
		row_new(store, made);
		status = sql_prepare(store,
			"INSERT INTO area (id, made, name, name_folded) VALUES (?1, ?2, 'new', "
			"'new')",
			&insert, why);
		bind_text(insert, 1, made);
		bind_text(insert, 2, store->act_id);
		if (status == STATUS_OK)
			status = sql_run(store, insert, why);
		sqlite3_finalize(insert);
		if (status == STATUS_OK)
			status = words_rewrite(store, "area", made, why);
	}
	if (status == STATUS_OK)
		status = row_set(store, "area", id, "name", value_text("changed"), why);
	if (status == STATUS_OK)
		status = words_rewrite(store, "area", id, why);
	if (status == STATUS_OK)
		return store_act_commit(store, why);
	store_act_rollback(store);
	return status;
}

struct bytes {
	char *bytes;
	size_t length;
};

/* Before: one area "gate". After: it is "changed", and three more are "new". */
static bool check_before_or_after(struct log *yard)
{
	check_int(log_one(yard, "SELECT count(*) FROM pragma_quick_check WHERE quick_check = 'ok'"),
		1, "sound");
	const bool is_after = log_count(yard, "area") == 4;
	check_int(log_count(yard, "area"), is_after ? 4 : 1, "areas");
	check_int(log_one(yard, "SELECT count(*) FROM area WHERE name = 'changed'"), is_after,
		"name");
	check_int(log_count(yard, "change"), is_after, "changes");
	check_int(log_count(yard, "change_set"), is_after ? 3 : 2, "sets");
	check_int(log_count(yard, "word_index"), is_after ? 4 : 1, "words");
	return is_after;
}

static void start(struct log *yard, struct bytes *log)
{
	log_make(yard);
	log_area_act(yard, "gate");
	log_close(yard);
	log->bytes = file_read(yard->path, &log->length);
}

static void begin_again(struct log *yard, const struct bytes *log)
{
	char journal[SCRATCH_PATH_SIZE];
	log_close(yard);
	(void)unlink(scratch_path(&yard->scratch, "yard.bough-journal", journal));
	file_write(yard->path, log->bytes, log->length);
	log_reopen(yard);
}

struct trouble {
	const char *name;
	int code;
	bool for_good;
	bool half;
	enum status status;
	const char *says;
};

static const struct trouble troubles[] = {
	{"disk_full_once", SQLITE_FULL, false, false, STATUS_IO, "disk is full"},
	{"disk_full_for_good", SQLITE_FULL, true, true, STATUS_IO, "disk is full"},
	{"write_fails_once", SQLITE_IOERR_WRITE, false, false, STATUS_IO, "disk error"},
	{"write_fails_half_done", SQLITE_IOERR_WRITE, false, true, STATUS_IO, "disk error"},
	{"disk_is_gone", SQLITE_IOERR, true, false, STATUS_IO, "disk error"},
};

/* The act on a disk whose Nth operation fails. False when N is beyond the act. */
static bool try_at(struct log *yard, struct vfs *vfs, const struct trouble *trouble, int64_t n)
{
	struct fault why = {0};
	vfs_arm(vfs, n, trouble->code, trouble->for_good);
	vfs->half = trouble->half;
	const enum status status = one_act(yard, &why);
	const bool reached = vfs->operations >= n;
	vfs_arm(vfs, 0, SQLITE_OK, false);
	assert_false(store_in_act(yard->store));
	if (status != STATUS_OK)
		check_refused(status, trouble->status, &why, trouble->says);
	log_reopen(yard);
	const bool is_after = check_before_or_after(yard);
	assert_true(status != STATUS_OK || is_after);
	if (!is_after) { /* and once there is room again it goes */
		check_ok(one_act(yard, &why), &why);
		assert_true(check_before_or_after(yard));
	}
	return reached;
}

static void act_is_whole_whatever_fails(const void *one)
{
	const struct trouble *trouble = one;
	struct log yard;
	struct bytes log;
	struct vfs vfs;
	int64_t n = 1;
	start(&yard, &log);
	vfs_install(&vfs);
	do {
		begin_again(&yard, &log);
	} while (try_at(&yard, &vfs, trouble, n) && (n += STEP) < OPERATIONS_MAX);
	assert_true(n > 10 && n < OPERATIONS_MAX);
	log_close(&yard);
	vfs_remove(&vfs);
	free(log.bytes);
	log_free(&yard);
}

/* The same store goes on after the failure, without being opened again. */
static void store_goes_on_once_there_is_room(void **state)
{
	(void)state;
	struct log yard;
	struct bytes log;
	struct vfs vfs;
	struct fault why = {0};
	start(&yard, &log);
	vfs_install(&vfs);
	for (int64_t n = 1; n <= 12; n++) {
		begin_again(&yard, &log);
		vfs_arm(&vfs, n, SQLITE_FULL, true);
		check_refused(one_act(&yard, &why), STATUS_IO, &why,
			"the disk is full; nothing was saved");
		vfs_arm(&vfs, 0, SQLITE_OK, false);
		check_ok(one_act(&yard, &why), &why);
		assert_true(check_before_or_after(&yard));
	}
	log_close(&yard);
	vfs_remove(&vfs);
	free(log.bytes);
	log_free(&yard);
}

static void saved_act_survives_a_cut_of_power(void **state)
{
	(void)state;
	struct log yard;
	struct bytes log;
	struct vfs vfs;
	struct fault why = {0};
	int64_t n = 1;
	bool reached = true;
	int saved = 0;
	start(&yard, &log);
	vfs_install(&vfs);
	for (; reached && n < OPERATIONS_MAX; n += STEP) {
		begin_again(&yard, &log);
		vfs_keep(&vfs, yard.path);
		vfs_arm(&vfs, n, SQLITE_IOERR, true);
		const enum status status = one_act(&yard, &why);
		reached = vfs.operations >= n;
		log_close(&yard);
		vfs_arm(&vfs, 0, SQLITE_OK, false);
		vfs_cut(&vfs);
		log_reopen(&yard);
		const bool is_after = check_before_or_after(&yard);
		assert_true(status != STATUS_OK || is_after);
		saved += status == STATUS_OK;
	}
	assert_true(n > 10 && n < OPERATIONS_MAX);
	assert_true(saved > 0);
	log_close(&yard);
	vfs_remove(&vfs);
	free(log.bytes);
	log_free(&yard);
}

static void failed_copy_leaves_no_half_copy(void **state)
{
	(void)state;
	struct log yard;
	struct vfs vfs;
	struct fault why = {0};
	char made[SCRATCH_PATH_SIZE];
	char path[SCRATCH_PATH_SIZE];
	log_make(&yard);
	log_area_act(&yard, "gate");
	log_close(&yard);
	vfs_install(&vfs);
	log_reopen(&yard);
	for (int64_t n = 1; n < 40; n += 3) {
		vfs_arm(&vfs, n, SQLITE_FULL, true);
		check_refused(store_backup_now(yard.store, made, (int)sizeof made, &why), STATUS_IO,
			&why, "disk is full");
	}
	vfs_arm(&vfs, 0, SQLITE_OK, false);
	scratch_path(&yard.scratch, "yard.bough.backups", path);
	check_int(access(path, F_OK), -1, "a folder made for no copy is gone too");
	check_ok(store_backup_now(yard.store, made, (int)sizeof made, &why), &why);
	log_close(&yard);
	vfs_remove(&vfs);
	log_free(&yard);
}

/* --- kill -9 --- */

/* Saves pairs of areas for ever, telling the number of each once it is saved. */
static void save_for_ever(struct log *yard, int out)
{
	const struct store_options options = {.clock = &yard->clock};
	if (store_open(yard->path, &options, &yard->store, NULL) != STATUS_OK)
		_exit(1);
	for (int32_t i = 0;; i++) {
		char name[32];
		(void)snprintf(name, sizeof name, "pair %d", (int)i);
		if (store_act_begin(yard->store, ACT_WORK, name, NULL) != STATUS_OK)
			_exit(2);
		log_area(yard, name);
		log_area(yard, name);
		if (store_act_commit(yard->store, NULL) != STATUS_OK)
			_exit(3);
		if (write(out, &i, sizeof i) != (ssize_t)sizeof i)
			_exit(4);
	}
}

static int32_t last_told(int in)
{
	int32_t number = 0;
	int32_t last = -1;
	while (read(in, &number, sizeof number) == (ssize_t)sizeof number)
		last = number;
	return last;
}

static void kill_once(struct log *yard, struct dice *dice)
{
	int ends[2];
	check_int(pipe(ends), 0, "pipe");
	log_exec(yard, "DELETE FROM area; DELETE FROM change_set WHERE row > 1");
	log_close(yard);
	const pid_t child = fork();
	assert_true(child >= 0);
	if (child == 0) {
		(void)close(ends[0]);
		save_for_ever(yard, ends[1]);
	}
	(void)close(ends[1]);
	int32_t first = -1;
	check_int(read(ends[0], &first, sizeof first), sizeof first, "the first is told");
	(void)poll(NULL, 0, (int)dice_between(dice, 0, KILL_MS_MAX));
	check_int(kill(child, SIGKILL), 0, "kill");
	int status = 0;
	check_int(waitpid(child, &status, 0), child, "wait");
	assert_true(WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL);
	int32_t told = last_told(ends[0]);
	told = told < 0 ? first : told;
	(void)close(ends[0]);
	log_reopen(yard);
	const int64_t acts = log_count(yard, "change_set") - 1;
	assert_true(acts == told + 1 || acts == told + 2);
	check_int(log_count(yard, "area"), acts * 2, "no act is half there");
	check_int(log_one(yard, "SELECT count(*) FROM pragma_quick_check WHERE quick_check = 'ok'"),
		1, "sound");
}

static void nothing_told_as_saved_is_lost_by_a_kill(void **state)
{
	(void)state;
	struct log yard;
	struct dice dice = dice_start();
	const char *asked = getenv("KILL_ROUNDS");
	const int rounds = asked != NULL ? atoi(asked) : KILLS;
	log_make(&yard);
	for (int i = 0; i < rounds; i++)
		kill_once(&yard, &dice);
	log_free(&yard);
}

/* --- a real full disk, and a limit on the size of files --- */

/* In a child: saves until it no longer goes; answers 0 when the refusal was as it should be and
 * nothing of the refused act is there. */
static int fill_up(const char *folder, const char *says)
{
	struct log yard = {0};
	struct fault why = {0};
	const struct place place = {.name = "Hill yard"};
	char padding[2000];
	memset(padding, 'x', sizeof padding);
	padding[sizeof padding - 1] = '\0';
	yard.clock = clock_seeded((struct date){.day = 20000}, 3);
	(void)snprintf(yard.path, sizeof yard.path, "%s/yard.bough", folder);
	const struct store_options options = {.clock = &yard.clock};
	if (store_create(yard.path, &options, &place, &yard.store, &why) != STATUS_OK)
		return 10;
	enum status status = STATUS_OK;
	int64_t acts = 0;
	for (; status == STATUS_OK && acts < 20000; acts++) {
		status = store_act_begin(yard.store, ACT_WORK, "fill", &why);
		if (status != STATUS_OK)
			break;
		sqlite3_stmt *insert = NULL;
		row_wrote(yard.store);
		status = sql_prepare(yard.store,
			"INSERT INTO layout (id, made, name, what, columns) VALUES (?1, ?2, 'x', "
			"'x', ?3)",
			&insert, &why);
		char id[ID_SIZE];
		bind_text(insert, 1, clock_new_id(&yard.clock, id));
		bind_text(insert, 2, yard.store->act_id);
		bind_text(insert, 3, padding);
		status = status == STATUS_OK ? sql_run(yard.store, insert, &why) : status;
		sqlite3_finalize(insert);
		if (status == STATUS_OK)
			status = store_act_commit(yard.store, &why);
		else
			store_act_rollback(yard.store);
	}
	const int64_t rows = log_count(&yard, "layout");
	const int64_t sets = log_count(&yard, "change_set");
	store_close(yard.store);
	if (status != STATUS_IO || strstr(why.text, says) == NULL) {
		(void)fprintf(stderr, "status %d, \"%s\"\n", (int)status, why.text);
		return 11;
	}
	return rows == sets - 1 && rows >= acts - 1 && rows <= acts && rows > 0 ? 0 : 12;
}

static void full_disk_is_told_and_loses_nothing(void **state)
{
	(void)state;
	const struct scratch scratch = scratch_make();
	char self[SCRATCH_PATH_SIZE] = {0};
	assert_non_null(realpath("/proc/self/exe", self));
	const char *const words[] = {"unshare", "-Urm", "sh", "-c",
		"mount -t tmpfs -o size=700k none \"$1\" || exit 77; \"$0\" fill \"$1\"", self,
		scratch.folder, NULL};
	struct spawned spawned = command_run(NULL, words);
	const bool no_mount = spawned.status == 77 || strstr(spawned.err, "unshare:") != NULL;
	if (!no_mount && spawned.status != 0)
		print_error("%s\n", spawned.err);
	const int status = spawned.status;
	spawned_free(&spawned);
	scratch_remove(&scratch);
	if (no_mount)
		skip(); /* this system lets nobody mount a small disk */
	check_int(status, 0, "the child that fills the disk");
}

static void limit_on_file_size_is_told_and_loses_nothing(void **state)
{
	(void)state;
	const struct scratch scratch = scratch_make();
	const pid_t child = fork();
	assert_true(child >= 0);
	if (child == 0) {
		const struct rlimit limit = {.rlim_cur = 700000, .rlim_max = 700000};
		(void)signal(SIGXFSZ, SIG_IGN);
		if (setrlimit(RLIMIT_FSIZE, &limit) != 0)
			_exit(20);
		_exit(fill_up(scratch.folder, "limit on file size"));
	}
	int status = 0;
	check_int(waitpid(child, &status, 0), child, "wait");
	assert_true(WIFEXITED(status));
	check_int(WEXITSTATUS(status), 0, "the child that fills the file");
	scratch_remove(&scratch);
}

int main(int count, char **words)
{
	if (count == 3 && strcmp(words[1], "fill") == 0)
		return fill_up(words[2], "the disk is full");
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(store_goes_on_once_there_is_room),
		cmocka_unit_test(saved_act_survives_a_cut_of_power),
		cmocka_unit_test(failed_copy_leaves_no_half_copy),
		cmocka_unit_test(nothing_told_as_saved_is_lost_by_a_kill),
		cmocka_unit_test(full_disk_is_told_and_loses_nothing),
		cmocka_unit_test(limit_on_file_size_is_told_and_loses_nothing),
	};
	const int failed = cmocka_run_group_tests_name("faults", tests, NULL, NULL) +
			   RUN_CASES("troubles", troubles, act_is_whole_whatever_fails);
	return failed != 0;
}
