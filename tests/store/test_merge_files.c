/* SPDX-License-Identifier: MIT */
/* Files that are not to be taken in, and what is left of those that are. */
#include "support/test.h"

#include "support/pair.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

struct wrong {
	const char *name;
	enum status status;
	const char *says;
	const char *bytes; /* NULL: made by the test */
	const char *sql;   /* on a copy */
};

static const struct wrong wrongs[] = {
	{"no_file", STATUS_ABSENT, "there is no log", NULL, NULL},
	{"no_database", STATUS_DAMAGED, "not a log", "label,species\nA1,fig\n", NULL},
	{"another_program", STATUS_DAMAGED, "another program", NULL, "PRAGMA application_id = 7"},
	{"newer_schema", STATUS_DAMAGED, "newer version", NULL, "PRAGMA user_version = 99"},
	{"lacks_a_table", STATUS_DAMAGED, "lacks the table", NULL, "DROP TABLE answer"},
	{"other_table", STATUS_DAMAGED, "not as it should be", NULL,
		"ALTER TABLE answer ADD COLUMN mine TEXT"},
	{"unknown_field", STATUS_DAMAGED, "names a field", NULL,
		"INSERT INTO change (id, set_id, table_name, row_id, field) SELECT "
		"'00000000000000000000000000', id, 'tree', 'x', 'name = 1, name' FROM change_set "
		"WHERE what = 'new there'"},
	{"dangling", STATUS_DAMAGED, "does not hold", NULL,
		"PRAGMA foreign_keys = OFF; UPDATE change_set SET undoes = 'nowhere' WHERE what = "
		"'new there'"},
};

static void file_is_named_and_left(const void *one)
{
	const struct wrong *wrong = one;
	struct pair pair;
	struct fault why = {0};
	struct merge_account account = {0};
	char path[SCRATCH_PATH_SIZE];
	size_t length = 0;
	pair_make(&pair);
	pair_set(&pair.two, "tree", pair.tree, "note", "new there");
	log_close(&pair.two);
	(void)scratch_path(&pair.two.scratch,
		wrong->bytes == NULL && wrong->sql == NULL ? "none.bough" : "yard.bough", path);
	if (wrong->bytes != NULL)
		file_write(path, wrong->bytes, strlen(wrong->bytes));
	if (wrong->sql != NULL)
		log_file_exec(path, wrong->sql);
	char *before = copies_seen(&pair.one);
	char *bytes = file_exists(path) ? file_read(path, &length) : NULL;
	check_refused(
		copies_try(&pair.one, path, &account, &why), wrong->status, &why, wrong->says);
	check_has(why.text, path, "which file");
	char *after = copies_seen(&pair.one);
	check_text(after, before, "nothing was merged");
	if (bytes != NULL) {
		size_t now = 0;
		char *again = file_read(path, &now);
		check_int((int64_t)now, (int64_t)length, "its size");
		assert_memory_equal(again, bytes, length);
		free(again);
	}
	copies_verify(&pair.one, "left alone");
	free(before);
	free(after);
	free(bytes);
	log_reopen(&pair.one);
	pair.two.store = NULL;
	pair_free(&pair);
}

static void log_itself_is_refused(void **state)
{
	(void)state;
	struct pair pair;
	struct fault why = {0};
	struct merge_account account = {0};
	pair_make(&pair);
	check_refused(copies_try(&pair.one, pair.one.path, &account, &why), STATUS_CONFLICT, &why,
		"is the log itself");
	pair_free(&pair);
}

static void what_is_not_of_a_log_is_never_read(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	pair_set(&pair.two, "tree", pair.tree, "note", "two");
	log_close(&pair.two);
	log_file_exec(pair.two.path,
		"CREATE TABLE mine (x); INSERT INTO mine VALUES (1); "
		"CREATE VIEW bad AS SELECT * FROM nowhere; "
		"CREATE TRIGGER evil AFTER INSERT ON tree BEGIN DELETE FROM entry; END");
	(void)copies_merge(&pair.one, &pair.two, NULL);
	pair_check(&pair.one, "tree", pair.tree, "note", "two");
	check_int(log_count(&pair.one, "entry"), 1, "entries");
	check_int(
		log_one(&pair.one,
			"SELECT count(*) FROM sqlite_schema WHERE name IN ('mine', 'bad', 'evil')"),
		0, "nothing came along");
	log_reopen(&pair.two);
	pair_free(&pair);
}

/* A save into the other file was broken off: its journal lies beside it. */
static void broken_off_save_is_taken_back_in_a_copy_only(void **state)
{
	(void)state;
	struct pair pair;
	char journal[SCRATCH_PATH_SIZE];
	size_t length = 0;
	size_t now = 0;
	pair_make(&pair);
	pair_set(&pair.two, "tree", pair.tree, "note", "saved");
	log_exec(&pair.two,
		"PRAGMA cache_size = 2; PRAGMA cache_spill = 1; BEGIN IMMEDIATE; "
		"WITH RECURSIVE n(x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM n WHERE x < 3000) "
		"INSERT INTO meta (key, value) SELECT 'fill' || x, printf('%0500d', x) FROM n");
	(void)scratch_path(&pair.two.scratch, "yard.bough-journal", journal);
	char *bytes = file_read(pair.two.path, &length);
	char *half = file_read(journal, &now);
	log_exec(&pair.two, "ROLLBACK");
	log_close(&pair.two);
	file_write(pair.two.path, bytes, length);
	file_write(journal, half, now);
	(void)copies_merge(&pair.one, &pair.two, NULL);
	pair_check(&pair.one, "tree", pair.tree, "note", "saved");
	char *after = file_read(pair.two.path, &now);
	check_int((int64_t)now, (int64_t)length, "its size");
	assert_memory_equal(after, bytes, length);
	assert_true(file_exists(journal));
	char folder[SCRATCH_PATH_SIZE];
	(void)scratch_path(&pair.one.scratch, "yard.bough.backups", folder);
	check_int(access(folder, F_OK), -1, "the copy is gone");
	free(bytes);
	free(half);
	free(after);
	log_reopen(&pair.two);
	pair_free(&pair);
}

static void trial_copy_leaves_the_log_alone(void **state)
{
	(void)state;
	struct pair pair;
	struct fault why = {0};
	struct store *trial = NULL;
	size_t before = 0;
	size_t after = 0;
	char folder[SCRATCH_PATH_SIZE];
	struct merge_account account = {0};
	pair_make(&pair);
	pair_set(&pair.two, "tree", pair.tree, "note", "two");
	char *was = file_read(pair.one.path, &before);
	check_ok(store_trial_open(pair.one.store, &pair.one.clock, &trial, &why), &why);
	check_ok(store_act_begin(trial, ACT_MERGE, "merge", &why), &why);
	check_ok(store_merge(trial, pair.two.path, false, pair.arena, &account, &why), &why);
	check_ok(store_act_commit(trial, &why), &why);
	store_trial_close(trial);
	char *now = file_read(pair.one.path, &after);
	check_int((int64_t)after, (int64_t)before, "size");
	assert_memory_equal(now, was, before);
	check_int(account.changed, 1, "told");
	(void)scratch_path(&pair.one.scratch, "yard.bough.backups", folder);
	check_int(access(folder, F_OK), -1, "the copy is gone");
	free(was);
	free(now);
	pair_free(&pair);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(log_itself_is_refused),
		cmocka_unit_test(what_is_not_of_a_log_is_never_read),
		cmocka_unit_test(broken_off_save_is_taken_back_in_a_copy_only),
		cmocka_unit_test(trial_copy_leaves_the_log_alone),
	};
	return cmocka_run_group_tests_name("merge files", tests, NULL, NULL) +
		       RUN_CASES("files", wrongs, file_is_named_and_left) !=
	       0;
}
