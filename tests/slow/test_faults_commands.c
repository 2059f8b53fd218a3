/* SPDX-License-Identifier: MIT */
/* Each command on a disk whose Nth operation fails, or whose Nth reading does, and where SQLite's
 * Nth block of memory is refused: the log is as before or as after, an export leaves the old file
 * or the new one, a copy is whole or not there, and done is only said when it is. Slow because
 * every operation of every command is tried, or many; EVERY=1 tries forty times as many. */
#include "support/test.h"

#include "support/deeds.h"
#include "support/vfs.h"

#include <stdlib.h>
#include <string.h>

enum { TRIES = SANITIZED ? 3 : 11 }; /* of each deed and trouble; all where there are no more */

struct trouble {
	const char *name;
	int code;
	bool for_good;
	bool reads;  /* readings count as operations too */
	bool memory; /* not the disk: memory */
};

static const struct trouble troubles[] = {
	{"disk_full", SQLITE_FULL, true, false, false},
	{"write_fails_once", SQLITE_IOERR_WRITE, false, false, false},
	{"disk_is_gone", SQLITE_IOERR, true, true, false},
	{"no_memory_once", SQLITE_NOMEM, false, false, true},
	{"no_memory_for_good", SQLITE_NOMEM, true, false, true},
};
enum { TROUBLES = sizeof troubles / sizeof troubles[0], DEEDS_MAX = 32 };

/* --- memory --- */

static sqlite3_mem_methods usual_memory;
static int64_t blocks, fail_block;
static bool fail_on;

static bool is_refused(void)
{
	blocks++;
	return fail_block > 0 && (blocks == fail_block || (fail_on && blocks > fail_block));
}

static void *get_block(int size)
{
	return is_refused() ? NULL : usual_memory.xMalloc(size);
}

static void *get_larger(void *block, int size)
{
	return is_refused() ? NULL : usual_memory.xRealloc(block, size);
}

static void take_memory(void)
{
	sqlite3_mem_methods methods;
	check_int(sqlite3_config(SQLITE_CONFIG_GETMALLOC, &usual_memory), SQLITE_OK, "memory");
	methods = usual_memory;
	methods.xMalloc = get_block;
	methods.xRealloc = get_larger;
	check_int(sqlite3_config(SQLITE_CONFIG_MALLOC, &methods), SQLITE_OK, "memory");
	check_int(sqlite3_config(SQLITE_CONFIG_LOOKASIDE, 0, 0), SQLITE_OK, "memory");
}

/* --- one try --- */

struct trial {
	struct deed_place place;
	const struct deed *deed;
	const struct trouble *trouble;
	struct vfs vfs;
	char *before; /* pictures of the log */
	char *after;
	char *files_before; /* names beside it */
	char *files_after;
	char *old_file;
	char *new_file;
	int64_t total; /* operations of a deed that goes well */
};

static void arm(struct trial *trial, int64_t n)
{
	fail_block = 0;
	blocks = 0;
	vfs_arm(&trial->vfs, 0, SQLITE_OK, false);
	trial->vfs.reads = n > 0 && trial->trouble->reads;
	if (trial->trouble->memory) {
		fail_on = trial->trouble->for_good;
		fail_block = n;
	} else {
		vfs_arm(&trial->vfs, n, trial->trouble->code, trial->trouble->for_good);
	}
}

static int64_t done_so_far(const struct trial *trial)
{
	return trial->trouble->memory ? blocks : trial->vfs.operations;
}

static void check_left(struct trial *trial, enum status status)
{
	char *picture = deeds_picture(&trial->place);
	char *files = deeds_files(&trial->place);
	char *file = file_read(trial->place.out, NULL);
	const bool is_before = strcmp(picture, trial->before) == 0;
	const bool is_after = strcmp(picture, trial->after) == 0;
	assert_true(is_before || is_after);
	assert_true(status != STATUS_OK || is_after);
	if (status == STATUS_OK)
		check_text(files, trial->files_after, "files");
	else if (strcmp(files, trial->files_after) != 0)
		check_text(files, trial->files_before, "files");
	check_text(file, status == STATUS_OK ? trial->new_file : trial->old_file, "the export");
	free(file);
	free(files);
	free(picture);
}

static void try_at(struct trial *trial, int64_t n)
{
	struct fault why = {.status = STATUS_OK};
	deeds_lay_out(&trial->place);
	arm(trial, n);
	const enum status status = trial->deed->run(&trial->place, &why);
	arm(trial, 0);
	if (status != STATUS_OK)
		assert_true(why.text[0] != '\0' && strchr(why.text, '\n') == NULL);
	check_left(trial, status);
}

static void start(struct trial *trial)
{
	struct fault why = {.status = STATUS_OK};
	deeds_make(&trial->place);
	vfs_install(&trial->vfs);
	trial->before = deeds_picture(&trial->place);
	trial->files_before = deeds_files(&trial->place);
	trial->old_file = file_read(trial->place.out, NULL);
	deeds_lay_out(&trial->place);
	arm(trial, 0);
	trial->vfs.reads = trial->trouble->reads;
	check_ok(trial->deed->run(&trial->place, &why), &why);
	trial->total = done_so_far(trial);
	trial->after = deeds_picture(&trial->place);
	trial->files_after = deeds_files(&trial->place);
	trial->new_file = file_read(trial->place.out, NULL);
	check_int(strcmp(trial->before, trial->after) != 0, trial->deed->writes, "it writes");
}

static void end(struct trial *trial)
{
	vfs_remove(&trial->vfs);
	deeds_free(&trial->place);
	free(trial->before);
	free(trial->after);
	free(trial->files_before);
	free(trial->files_after);
	free(trial->old_file);
	free(trial->new_file);
}

static void whole_whatever_fails(void **state)
{
	struct trial *trial = *state;
	start(trial);
	const int64_t stride = deeds_stride(trial->total, TRIES);
	for (int64_t n = 1; n <= trial->total; n += stride)
		try_at(trial, n);
	end(trial);
}

int main(void)
{
	static struct trial trials[TROUBLES * DEEDS_MAX];
	static struct CMUnitTest tests[TROUBLES * DEEDS_MAX];
	static char names[TROUBLES * DEEDS_MAX][64];
	size_t count = 0;
	take_memory();
	for (const struct deed *deed = deeds; deed->name != NULL; deed++) {
		for (size_t i = 0; i < TROUBLES; i++) {
			trials[count] = (struct trial){.deed = deed, .trouble = &troubles[i]};
			(void)snprintf(names[count], sizeof names[0], "%s_%s", deed->name,
				troubles[i].name);
			tests[count] = (struct CMUnitTest){.name = names[count],
				.test_func = whole_whatever_fails,
				.initial_state = &trials[count]};
			count++;
		}
	}
	return _cmocka_run_group_tests("commands and faults", tests, count, NULL, NULL) != 0;
}
