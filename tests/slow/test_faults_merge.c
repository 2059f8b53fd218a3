/* SPDX-License-Identifier: MIT */
/* The disk fails at each operation of a merge in turn, and the program is killed in the midst of
 * one. Slow because each fault is tried at every operation. Whatever happens, the log is as before
 * or as after it, "merged" is only said when it is after, and the other file is as it was. */
#include "support/test.h"

#include "support/copies.h"
#include "support/vfs.h"

#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

enum {
	OPERATIONS_MAX = 2000,
	KILLS = SANITIZED ? 20 : 60,
	KILL_MS_MAX = 25,
	PICKS = 12,
	STEP = SANITIZED ? 5 : 1
};

struct bytes {
	char *bytes;
	size_t length;
};

struct stand {
	struct log one;
	struct log two;
	struct bytes first;  /* of the one, before */
	struct bytes second; /* of the other */
	char *before;        /* what is seen of the one */
	char *after;
};

static struct bytes bytes_of(const char *path)
{
	struct bytes bytes = {.length = 0};
	bytes.bytes = file_read(path, &bytes.length);
	return bytes;
}

static void set_note(struct log *yard, const char *id, const char *text)
{
	struct fault why = {0};
	const struct row_change field = {.table = "tree", .id = id, .field = "note"};
	check_ok(log_try_set(yard, &field, text, &why), &why);
}

/* Rows, a clash, a field that follows, an entry struck here and edited there. */
static void stand_make(struct stand *stand)
{
	struct fault why = {0};
	struct arena *arena = arena_new();
	*stand = (struct stand){.before = NULL};
	log_make(&stand->one);
	yard_begin(&stand->one, "A1");
	const char *tree = yard_tree(&stand->one, arena, "A1", "");
	const char *pick = yard_pick(&stand->one, arena, tree, "2025-06-01", 2000000);
	yard_commit(&stand->one);
	copies_fork(&stand->one, &stand->two, "2019-01-02", 99);
	set_note(&stand->one, tree, "one");
	set_note(&stand->two, tree, "two");
	yard_begin(&stand->one, "strike");
	check_ok(store_entry_strike(stand->one.store, pick, &why), &why);
	yard_commit(&stand->one);
	yard_begin(&stand->two, "picks");
	check_ok(
		row_set(stand->two.store, "entry", pick, "note", value_text("edited"), &why), &why);
	check_ok(words_rewrite(stand->two.store, "entry", pick, &why), &why);
	for (int i = 0; i < PICKS; i++)
		(void)yard_pick(&stand->two, arena, tree, "2019-01-02", 1000000 + i);
	yard_commit(&stand->two);
	log_close(&stand->one);
	log_close(&stand->two);
	stand->first = bytes_of(stand->one.path);
	stand->second = bytes_of(stand->two.path);
	log_reopen(&stand->one);
	stand->before = copies_seen(&stand->one);
	(void)copies_merge(&stand->one, &stand->two, NULL);
	stand->after = copies_seen(&stand->one);
	arena_free(arena);
}

static void stand_free(struct stand *stand)
{
	free(stand->first.bytes);
	free(stand->second.bytes);
	free(stand->before);
	free(stand->after);
	log_free(&stand->one);
	log_free(&stand->two);
}

static void begin_again(struct stand *stand)
{
	char journal[SCRATCH_PATH_SIZE];
	log_close(&stand->one);
	(void)unlink(scratch_path(&stand->one.scratch, "yard.bough-journal", journal));
	file_write(stand->one.path, stand->first.bytes, stand->first.length);
	log_reopen(&stand->one);
}

/* As before (false) or as after (true), and sound; ids that the merge makes differ from run to
 * run, so that what is compared leaves the clash rows' own ids out. */
static bool check_before_or_after(struct stand *stand)
{
	char *seen = copies_seen(&stand->one);
	struct bytes other = bytes_of(stand->two.path);
	const bool is_after = strcmp(seen, stand->after) == 0;
	if (!is_after)
		check_text(seen, stand->before, "as before");
	copies_verify(&stand->one, is_after ? "after" : "before");
	check_int((int64_t)other.length, (int64_t)stand->second.length, "size of the other");
	assert_memory_equal(other.bytes, stand->second.bytes, other.length);
	free(other.bytes);
	free(seen);
	return is_after;
}

struct trouble {
	const char *name;
	int code;
	bool for_good;
	bool half;
	const char *says;
};

static const struct trouble troubles[] = {
	{"disk_full_once", SQLITE_FULL, false, false, "disk is full"},
	{"write_fails_half_done", SQLITE_IOERR_WRITE, false, true, "disk error"},
	{"disk_is_gone", SQLITE_IOERR, true, false, "disk error"},
};

/* False when N is beyond the merge. */
static bool try_at(struct stand *stand, struct vfs *vfs, const struct trouble *trouble, int64_t n)
{
	struct fault why = {0};
	struct merge_account account = {.acts = 0};
	vfs_arm(vfs, n, trouble->code, trouble->for_good);
	vfs->half = trouble->half;
	const enum status status = copies_try(&stand->one, stand->two.path, &account, &why);
	const bool reached = vfs->operations >= n;
	vfs_arm(vfs, 0, SQLITE_OK, false);
	assert_false(store_in_act(stand->one.store));
	if (status != STATUS_OK)
		check_refused(status, STATUS_IO, &why, trouble->says);
	log_reopen(&stand->one);
	const bool is_after = check_before_or_after(stand);
	assert_true(status != STATUS_OK || is_after);
	if (!is_after) { /* and once the disk is sound again it goes */
		(void)copies_merge(&stand->one, &stand->two, NULL);
		assert_true(check_before_or_after(stand));
	}
	return reached;
}

static void merge_is_whole_whatever_fails(const void *one)
{
	const struct trouble *trouble = one;
	struct stand stand;
	struct vfs vfs;
	int64_t n = 1;
	stand_make(&stand);
	log_close(&stand.one);
	vfs_install(&vfs);
	log_reopen(&stand.one);
	do {
		begin_again(&stand);
	} while (try_at(&stand, &vfs, trouble, n) && (n += STEP) < OPERATIONS_MAX);
	assert_true(n > 10 && n < OPERATIONS_MAX);
	log_close(&stand.one);
	vfs_remove(&vfs);
	stand_free(&stand);
}

/* --- kill -9 --- */

static void merge_in_child(struct stand *stand)
{
	struct fault why = {0};
	struct merge_account account = {.acts = 0};
	const struct store_options options = {.clock = &stand->one.clock};
	if (store_open(stand->one.path, &options, &stand->one.store, &why) != STATUS_OK)
		_exit(1);
	_exit(copies_try(&stand->one, stand->two.path, &account, &why) == STATUS_OK ? 0 : 2);
}

static bool kill_once(struct stand *stand, struct dice *dice)
{
	int status = 0;
	begin_again(stand);
	log_close(&stand->one);
	const pid_t child = fork();
	assert_true(child >= 0);
	if (child == 0)
		merge_in_child(stand);
	(void)poll(NULL, 0, (int)dice_between(dice, 0, KILL_MS_MAX));
	(void)kill(child, SIGKILL);
	check_int(waitpid(child, &status, 0), child, "wait");
	const bool was_told = WIFEXITED(status) && WEXITSTATUS(status) == 0;
	assert_true(was_told || WIFSIGNALED(status));
	log_reopen(&stand->one);
	const bool is_after = check_before_or_after(stand);
	assert_true(is_after || !was_told);
	return is_after;
}

static void killed_merge_is_there_whole_or_not_at_all(void **state)
{
	(void)state;
	struct stand stand;
	struct dice dice = dice_start();
	const char *asked = getenv("KILL_ROUNDS");
	const int rounds = asked == NULL ? KILLS : (int)strtol(asked, NULL, 10);
	int after = 0;
	stand_make(&stand);
	for (int i = 0; i < rounds; i++)
		after += kill_once(&stand, &dice);
	print_message(
		"%d of %d merges were killed before they were saved\n", rounds - after, rounds);
	stand_free(&stand);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(killed_merge_is_there_whole_or_not_at_all),
	};
	const int failed = cmocka_run_group_tests_name("merge faults", tests, NULL, NULL) +
			   RUN_CASES("troubles", troubles, merge_is_whole_whatever_fails);
	return failed != 0;
}
