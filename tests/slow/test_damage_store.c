/* SPDX-License-Identifier: MIT */
/* Logs damaged at random, as a bad stick or a hostile hand leaves them: whatever is done with
 * them ends, with a message or with what can still be read, and never in a crash. Slow because
 * each round makes, ruins and reads a log in every way. */
#include "support/test.h"

#include "support/log.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { ROUNDS = SANITIZED ? 100 : 250, ROUND_S_MAX = 20 };

static void make_story(struct log *yard)
{
	struct fault why = {0};
	char what[TEXT_SIZE];
	log_make(yard);
	for (int i = 0; i < 60; i++) {
		char id[ID_SIZE];
		char name[40];
		(void)snprintf(name, sizeof name, "area number %d", i);
		memcpy(id, log_area_act(yard, name), sizeof id);
		if (i % 3 == 0)
			log_rename_act(yard, id, "another name");
		if (i % 7 == 0)
			check_ok(store_undo(yard->store, what, &why), &why);
	}
	log_close(yard);
}

/* One to nine harms: a bit, a byte, a run of zeros, a page, the end cut off. */
static size_t ruin(struct dice *dice, char *bytes, size_t length)
{
	for (int64_t i = dice_between(dice, 1, 9); i > 0; i--) {
		const size_t at = (size_t)dice_between(dice, 0, (int64_t)length - 1);
		const size_t room = length - at;
		switch (dice_between(dice, 0, 5)) {
		case 0:
		case 1:
			bytes[at] = (char)(bytes[at] ^ (1 << dice_between(dice, 0, 7)));
			break;
		case 2:
			bytes[at] = (char)dice_between(dice, -128, 127);
			break;
		case 3:
			memset(bytes + at, 0, room < 64 ? room : 64);
			break;
		case 4:
			memset(bytes + at / 4096 * 4096, (int)dice_between(dice, 0, 255), 8);
			break;
		default:
			if (dice_between(dice, 0, 9) == 0)
				length = at + 1;
			break;
		}
	}
	return length;
}

static void check_told(enum status status, const struct fault *why)
{
	if (status == STATUS_OK || status == STATUS_END)
		return;
	assert_true(why->text[0] != '\0');
	assert_null(strchr(why->text, '\n'));
}

/* Everything that reads and writes, whatever each answers. */
static void use(struct log *yard)
{
	struct fault why = {0};
	struct arena *arena = arena_new();
	struct verify_line *lines = NULL;
	struct change_row *rows = NULL;
	char text[SCRATCH_PATH_SIZE];
	int32_t count = 0;
	check_told(store_verify(yard->store, arena, &lines, &count, &why), &why);
	check_told(store_history(yard->store, NULL, 0, arena, &rows, &count, &why), &why);
	if (count > 0)
		check_told(
			store_history(yard->store, yard->id, 0, arena, &rows, &count, &why), &why);
	if (!store_is_read_only(yard->store)) {
		for (int i = 0; i < 3; i++)
			check_told(store_undo(yard->store, text, &why), &why);
		check_told(store_redo(yard->store, text, &why), &why);
		const struct row_change row = {"area", yard->id, "name"};
		check_told(log_try_set(yard, &row, "mended", &why), &why);
	}
	check_told(store_backup_now(yard->store, text, (int)sizeof text, &why), &why);
	assert_false(store_in_act(yard->store));
	arena_free(arena);
}

static void try_salvage(struct log *yard)
{
	struct fault why = {0};
	struct arena *arena = arena_new();
	struct verify_line *lines = NULL;
	char fresh[SCRATCH_PATH_SIZE];
	int32_t count = 0;
	scratch_path(&yard->scratch, "fresh.bough", fresh);
	const enum status status =
		store_salvage(yard->path, fresh, &yard->clock, arena, &lines, &count, &why);
	check_told(status, &why);
	if (status == STATUS_OK) {
		const struct store_options options = {.clock = &yard->clock};
		check_ok(store_open(fresh, &options, &yard->store, &why), &why);
		check_int(log_one(yard, "SELECT count(*) FROM pragma_integrity_check "
					"WHERE integrity_check <> 'ok'"),
			0, "the salvaged log is sound");
		check_int(log_one(yard, "SELECT count(*) FROM pragma_foreign_key_check"), 0,
			"nothing dangles");
		log_close(yard);
	}
	(void)unlink(fresh);
	arena_free(arena);
}

static void damaged_logs_are_refused_or_used_and_never_crash(void **state)
{
	(void)state;
	struct log yard;
	struct dice dice = dice_start();
	size_t length = 0;
	int opened = 0;
	int refused = 0;
	make_story(&yard);
	char *sound = file_read(yard.path, &length);
	char *bytes = malloc(length);
	assert_non_null(bytes);
	for (int i = 0; i < ROUNDS; i++) {
		struct fault why = {0};
		char journal[SCRATCH_PATH_SIZE];
		const struct store_options options = {
			.clock = &yard.clock, .read_only = i % 2 == 0};
		const double before = clock_monotonic_s();
		memcpy(bytes, sound, length);
		file_write(yard.path, bytes, ruin(&dice, bytes, length));
		const enum status status = store_open(yard.path, &options, &yard.store, &why);
		check_told(status, &why);
		if (status == STATUS_OK)
			use(&yard);
		opened += status == STATUS_OK;
		refused += status != STATUS_OK;
		log_close(&yard);
		try_salvage(&yard);
		(void)unlink(scratch_path(&yard.scratch, "yard.bough-journal", journal));
		assert_true(clock_monotonic_s() - before < ROUND_S_MAX);
	}
	assert_true(opened > ROUNDS / 20 && refused > ROUNDS / 20);
	free(bytes);
	free(sound);
	log_free(&yard);
}

/* A journal that was made up or damaged is played in or passed over, no more. */
static void damaged_journals_do_no_harm_to_the_program(void **state)
{
	(void)state;
	struct log yard;
	struct dice dice = dice_start();
	struct fault why = {0};
	size_t log_length = 0;
	size_t journal_length = 0;
	char path[SCRATCH_PATH_SIZE];
	log_make(&yard);
	log_area_act(&yard, "gate");
	log_exec(&yard, "PRAGMA cache_size = 1");
	check_ok(store_act_begin(yard.store, ACT_WORK, "broken off", &why), &why);
	for (int i = 0; i < 1500; i++)
		log_area(&yard, "so many that pages reach the file");
	char *log_bytes = file_read(yard.path, &log_length);
	scratch_path(&yard.scratch, "yard.bough-journal", path);
	char *journal = file_read(path, &journal_length);
	store_act_rollback(yard.store);
	log_close(&yard);
	char *bytes = malloc(journal_length);
	assert_non_null(bytes);
	for (int i = 0; i < ROUNDS / 5; i++) {
		memcpy(bytes, journal, journal_length);
		file_write(yard.path, log_bytes, log_length);
		file_write(
			path, bytes, i == 0 ? journal_length : ruin(&dice, bytes, journal_length));
		const struct store_options options = {
			.clock = &yard.clock, .read_only = i % 2 == 0};
		const enum status status = store_open(yard.path, &options, &yard.store, &why);
		check_told(status, &why);
		if (i == 0) { /* the journal as it was: the act is taken back, looking or not */
			check_ok(status, &why);
			check_int(log_count(&yard, "area"), 1, "areas");
		}
		if (status == STATUS_OK)
			use(&yard);
		log_close(&yard);
		(void)unlink(path);
	}
	free(bytes);
	free(journal);
	free(log_bytes);
	log_free(&yard);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(damaged_logs_are_refused_or_used_and_never_crash),
		cmocka_unit_test(damaged_journals_do_no_harm_to_the_program),
	};
	return cmocka_run_group_tests_name("damage", tests, NULL, NULL) != 0;
}
