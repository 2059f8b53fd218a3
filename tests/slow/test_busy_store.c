/* SPDX-License-Identifier: MIT */
/* Two programs on one log at once. Slow because both work for a while. */
#include "support/test.h"

#include "support/log.h"

#include <signal.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

enum { COPIES = 25, WRITERS = 2, ACTS_EACH = 120 };

static struct store *open_own(struct log *yard, uint64_t seed)
{
	struct store *store = NULL;
	const struct store_options options = {.clock = &yard->clock};
	yard->clock.seed = seed; /* ids of its own */
	if (store_open(yard->path, &options, &store, NULL) != STATUS_OK)
		_exit(10);
	return store;
}

/* One act: two areas of one name. */
static enum status save_pair(struct log *yard, const char *name)
{
	struct fault why = {0};
	const enum status status = store_act_begin(yard->store, ACT_WORK, name, &why);
	if (status != STATUS_OK)
		return status;
	log_area(yard, name);
	log_area(yard, name);
	return store_act_commit(yard->store, &why);
}

static void save_until_killed(struct log *yard)
{
	char name[32];
	yard->store = open_own(yard, 99);
	for (int i = 0;; i++) {
		(void)snprintf(name, sizeof name, "pair %d", i);
		if (save_pair(yard, name) == STATUS_DAMAGED)
			_exit(11);
	}
}

static void copy_taken_while_another_saves_is_of_one_moment(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	char made[SCRATCH_PATH_SIZE];
	int64_t last = 0;
	log_make(&yard);
	log_close(&yard);
	const pid_t child = fork();
	assert_true(child >= 0);
	if (child == 0)
		save_until_killed(&yard);
	log_reopen(&yard);
	for (int i = 0; i < COPIES; i++) {
		check_ok(store_backup_now(yard.store, made, (int)sizeof made, &why), &why);
		const int64_t areas = log_file_one(made, "SELECT count(*) FROM area");
		const int64_t acts = log_file_one(made, "SELECT count(*) FROM change_set");
		check_int(areas, (acts - 1) * 2, "each act is whole");
		assert_true(areas >= last);
		last = areas;
	}
	assert_true(last > 0);
	check_int(kill(child, SIGKILL), 0, "kill");
	check_int(waitpid(child, NULL, 0), child, "wait");
	log_free(&yard);
}

static void save_many(struct log *yard, uint64_t seed)
{
	char name[32];
	yard->store = open_own(yard, seed);
	for (int i = 0; i < ACTS_EACH; i++) {
		(void)snprintf(name, sizeof name, "%d of %d", i, (int)seed);
		enum status status = STATUS_BUSY;
		for (int tries = 0; status == STATUS_BUSY && tries < 20; tries++)
			status = save_pair(yard, name);
		if (status != STATUS_OK)
			_exit(12);
	}
	store_close(yard->store);
	_exit(0);
}

static void two_programs_save_into_one_log_and_nothing_is_lost(void **state)
{
	(void)state;
	struct log yard;
	pid_t children[WRITERS];
	log_make(&yard);
	log_close(&yard);
	for (int i = 0; i < WRITERS; i++) {
		children[i] = fork();
		assert_true(children[i] >= 0);
		if (children[i] == 0)
			save_many(&yard, 1000 + (uint64_t)i);
	}
	for (int i = 0; i < WRITERS; i++) {
		int status = 0;
		check_int(waitpid(children[i], &status, 0), children[i], "wait");
		assert_true(WIFEXITED(status));
		check_int(WEXITSTATUS(status), 0, "writer");
	}
	log_reopen(&yard);
	check_int(log_count(&yard, "area"), WRITERS * ACTS_EACH * 2, "areas");
	check_int(log_count(&yard, "change_set"), WRITERS * ACTS_EACH + 1, "acts");
	check_int(log_count(&yard, "word_index"), WRITERS * ACTS_EACH * 2, "words");
	log_free(&yard);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(copy_taken_while_another_saves_is_of_one_moment),
		cmocka_unit_test(two_programs_save_into_one_log_and_nothing_is_lost),
	};
	return cmocka_run_group_tests_name("busy", tests, NULL, NULL) != 0;
}
