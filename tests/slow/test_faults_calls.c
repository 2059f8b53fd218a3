/* SPDX-License-Identifier: MIT */
/* The heap refuses the Nth block: each command ends there with one line and status 3, or goes
 * well, and the log is as before or as after. malloc, calloc and realloc of the program are wrapped
 * by the linker; the sanitizers look on in their build. Slow because every command is started for
 * every N, or many; EVERY=1 tries forty times as many. */
#include "support/test.h"

#include "support/deeds.h"

#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

enum { TRIES = SANITIZED ? 12 : 16, DEEDS_MAX = 32, REFUSED = 10, OUT_OF_MEMORY = 3 };

static int64_t blocks, fail_at;

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *block, size_t size);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *block, size_t size);

static bool is_refused(void)
{
	return ++blocks == fail_at;
}

void *__wrap_malloc(size_t size)
{
	return is_refused() ? NULL : __real_malloc(size);
}

void *__wrap_calloc(size_t count, size_t size)
{
	return is_refused() ? NULL : __real_calloc(count, size);
}

void *__wrap_realloc(void *block, size_t size)
{
	return is_refused() ? NULL : __real_realloc(block, size);
}

struct trial {
	struct deed_place place;
	const struct deed *deed;
	char *before;
	char *after;
	char said[SCRATCH_PATH_SIZE]; /* where a child's standard error goes */
	int64_t total;
	int64_t refused;
};

/* In a child, which ends: how many blocks it asked for goes into the file. */
static void do_it(struct trial *trial, int64_t n)
{
	struct fault why = {.status = STATUS_OK};
	if (freopen(trial->said, "w", stderr) == NULL)
		_exit(99);
	blocks = 0;
	fail_at = n;
	const enum status status = trial->deed->run(&trial->place, &why);
	fail_at = 0;
	(void)fprintf(stderr, "%lld\n", (long long)blocks);
	(void)fflush(stderr);
	_exit(status == STATUS_OK ? 0 : REFUSED);
}

static int status_at(struct trial *trial, int64_t n)
{
	int status = 0;
	deeds_lay_out(&trial->place);
	const pid_t child = fork();
	assert_true(child >= 0);
	if (child == 0)
		do_it(trial, n);
	assert_int_equal(waitpid(child, &status, 0), child);
	assert_true(WIFEXITED(status));
	return WEXITSTATUS(status);
}

static void try_at(struct trial *trial, int64_t n)
{
	const int status = status_at(trial, n);
	char *said = file_read(trial->said, NULL);
	char *picture = deeds_picture(&trial->place);
	if (status == OUT_OF_MEMORY)
		check_text(said, "boughbook: out of memory\n", "told");
	else
		check_int(status, 0, said);
	trial->refused += status == OUT_OF_MEMORY;
	const bool is_after = strcmp(picture, trial->after) == 0;
	assert_true(is_after || strcmp(picture, trial->before) == 0);
	assert_true(status != 0 || is_after);
	free(picture);
	free(said);
}

static void whole_whatever_is_refused(void **state)
{
	struct trial *trial = *state;
	deeds_make(&trial->place);
	(void)snprintf(trial->said, sizeof trial->said, "%s.said", trial->place.scratch.folder);
	trial->before = deeds_picture(&trial->place);
	check_int(status_at(trial, 0), 0, "it goes well");
	trial->after = deeds_picture(&trial->place);
	char *said = file_read(trial->said, NULL);
	trial->total = atoll(said);
	free(said);
	assert_true(trial->total > 0);
	const int64_t stride = deeds_stride(trial->total, TRIES);
	for (int64_t n = 1; n <= trial->total; n += stride)
		try_at(trial, n);
	assert_true(trial->refused > 0);
	(void)unlink(trial->said);
	free(trial->before);
	free(trial->after);
	deeds_free(&trial->place);
}

int main(void)
{
	static struct trial trials[DEEDS_MAX];
	static struct CMUnitTest tests[DEEDS_MAX];
	size_t count = 0;
	for (const struct deed *deed = deeds; deed->name != NULL; deed++) {
		trials[count].deed = deed;
		tests[count] = (struct CMUnitTest){.name = deed->name,
			.test_func = whole_whatever_is_refused,
			.initial_state = &trials[count]};
		count++;
	}
	return _cmocka_run_group_tests("commands without memory", tests, count, NULL, NULL) != 0;
}
