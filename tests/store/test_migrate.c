/* SPDX-License-Identifier: MIT */
/* Older logs brought up to date, with steps made up here: there is one schema so far. */
#include "support/test.h"

#include "support/log.h"

#include "store/copy.h"
#include "store/migrate.h"

#include <stdlib.h>
#include <string.h>

#define STEP(number, name, sql)                    \
	{                                          \
		number, name, sql, sizeof(sql) - 1 \
	}

static const struct schema_text two_steps[] = {
	STEP(1, "001_log", "this one ran long ago;"),
	STEP(2, "002_colour", "ALTER TABLE area ADD COLUMN colour TEXT;"),
	STEP(3, "003_rebuild",
		"CREATE TABLE new_walk (key TEXT PRIMARY KEY NOT NULL, value TEXT NOT NULL, at "
		"TEXT) "
		"STRICT; INSERT INTO new_walk (key, value) SELECT key, value FROM walk; "
		"DROP TABLE walk; ALTER TABLE new_walk RENAME TO walk;"),
	{0, NULL, NULL, 0},
};

struct bad_steps {
	const char *name;
	enum status status;
	const char *says;
	struct schema_text steps[3];
};

static const struct bad_steps bad[] = {
	{"step_that_does_not_read", STATUS_DAMAGED, "step 003_bad",
		{STEP(2, "002_colour", "ALTER TABLE area ADD COLUMN colour TEXT;"),
			STEP(3, "003_bad", "CREATE TABEL x;")}},
	{"step_that_loses_what_is_referred_to", STATUS_DAMAGED, "refers to a change_set",
		{STEP(2, "002_lose", "DELETE FROM change_set;")}},
	{"step_that_breaks_a_rule", STATUS_RANGE, "CHECK",
		{STEP(2, "002_check", "UPDATE place SET latitude_udeg = 91000000;")}},
	{"step_that_ends_the_transaction", STATUS_DAMAGED, "it ended the transaction",
		{STEP(2, "002_commit", "ROLLBACK;")}},
};

static void log_is_brought_up_and_a_copy_kept(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	char copy[SCRATCH_PATH_SIZE];
	log_make(&yard);
	log_area_act(&yard, "gate");
	log_exec(&yard, "INSERT INTO walk VALUES ('position', 'A3')");
	log_file_exec(yard.path,
		"CREATE TABLE mine (x); CREATE VIEW my_walk AS SELECT x, key "
		"FROM walk, mine; ALTER TABLE mine RENAME TO no_more; "
		"CREATE TRIGGER no BEFORE INSERT ON walk BEGIN SELECT raise(FAIL, 'no'); END;"
		"DROP TABLE no_more");
	check_ok(migrate_run(yard.store, two_steps, 1, copy, sizeof copy, &why), &why);
	check_int(log_one(&yard, "PRAGMA user_version"), 3, "schema");
	check_int(log_one(&yard, "SELECT count(*) FROM area WHERE colour IS NULL"), 1, "area");
	check_int(log_one(&yard, "SELECT count(*) FROM walk WHERE at IS NULL"), 1, "walk");
	check_int(log_one(&yard, "PRAGMA foreign_keys"), 1, "foreign keys");
	check_has(copy, "yard.bough.backups/schema-1-2026-05-20T", "copy");
	check_ok(copy_check(copy, NULL, &why), &why);
	check_int(log_file_one(copy, "PRAGMA user_version"), 1, "schema of the copy");
	log_close(&yard);
	const struct store_options options = {.clock = &yard.clock};
	check_refused(store_open(yard.path, &options, &yard.store, &why), STATUS_DAMAGED, &why,
		"newer version");
	log_free(&yard);
}

static void bad_step_leaves_the_log(const void *one)
{
	const struct bad_steps *steps = one;
	struct log yard;
	struct fault why = {0};
	char copy[SCRATCH_PATH_SIZE];
	size_t before_length = 0;
	size_t after_length = 0;
	log_make(&yard);
	log_area_act(&yard, "gate");
	log_close(&yard);
	char *before = file_read(yard.path, &before_length);
	log_reopen(&yard);
	check_refused(migrate_run(yard.store, steps->steps, 1, copy, sizeof copy, &why),
		steps->status, &why, steps->says);
	check_int(log_one(&yard, "PRAGMA foreign_keys"), 1, "foreign keys");
	check_ok(copy_check(copy, NULL, &why), &why);
	log_reopen(&yard);
	log_close(&yard);
	char *after = file_read(yard.path, &after_length);
	check_int((int64_t)after_length, (int64_t)before_length, "length");
	assert_memory_equal(after, before, before_length);
	free(before);
	free(after);
	log_free(&yard);
}

static void without_a_copy_nothing_is_done(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	char copy[SCRATCH_PATH_SIZE];
	char path[SCRATCH_PATH_SIZE];
	log_make(&yard);
	file_write(scratch_path(&yard.scratch, "yard.bough.backups", path), "in the way", 10);
	assert_int_not_equal(
		migrate_run(yard.store, two_steps, 1, copy, sizeof copy, &why), STATUS_OK);
	check_has(why.text, "no copy could be kept", "message");
	check_int(log_one(&yard, "PRAGMA user_version"), 1, "schema");
	log_free(&yard);
}

static void second_program_does_not_migrate_again(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	char copy[SCRATCH_PATH_SIZE];
	log_make(&yard);
	/* seen at 0 before the lock, found at 1 under it */
	check_refused(migrate_run(yard.store, two_steps, 0, copy, sizeof copy, &why),
		STATUS_CONFLICT, &why, "another program");
	log_free(&yard);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(log_is_brought_up_and_a_copy_kept),
		cmocka_unit_test(without_a_copy_nothing_is_done),
		cmocka_unit_test(second_program_does_not_migrate_again),
	};
	const int failed = cmocka_run_group_tests_name("migrate", tests, NULL, NULL) +
			   RUN_CASES("bad steps", bad, bad_step_leaves_the_log);
	return failed != 0;
}
