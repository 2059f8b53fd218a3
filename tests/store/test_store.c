/* SPDX-License-Identifier: MIT */
/* Making and opening a log, and what is refused. */
#include "support/test.h"

#include "support/log.h"

#include "store/logfile.h"
#include "store/tables.h"

#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static enum status open_at(struct log *yard, const char *path, bool read_only, struct fault *why)
{
	const struct store_options options = {.clock = &yard->clock, .read_only = read_only};
	struct store *store = NULL;
	const enum status status = store_open(path, &options, &store, why);
	assert_true((status == STATUS_OK) == (store != NULL));
	store_close(store);
	return status;
}

/* --- every file that is no log is told apart, and left as it was --- */

struct refusal {
	const char *name;
	enum status status;
	const char *says;
	const char *bytes; /* of the file; NULL: made by sql, or not there */
	int length;
	const char *sql; /* run on a sound log that was closed */
};

static const struct refusal refusals[] = {
	{"empty_file", STATUS_DAMAGED, "is empty (0 bytes)", "", 0, NULL},
	{"text_file", STATUS_DAMAGED, "is not a log", "A3 picked 6 lb\n", 15, NULL},
	{"one_byte", STATUS_DAMAGED, "is not a log", "S", 1, NULL},
	{"header_only", STATUS_DAMAGED, "database of another program", "SQLite format 3", 16, NULL},
	{"newer_schema", STATUS_DAMAGED, "newer version of the program", NULL, 0,
		"PRAGMA user_version = 2"},
	{"much_newer_schema", STATUS_DAMAGED, "its schema is 900", NULL, 0,
		"PRAGMA user_version = 900"},
	{"no_schema_number", STATUS_DAMAGED, "schema 0", NULL, 0, "PRAGMA user_version = 0"},
	{"negative_schema", STATUS_DAMAGED, "schema -1", NULL, 0, "PRAGMA user_version = -1"},
	{"foreign_application", STATUS_DAMAGED, "another program", NULL, 0,
		"PRAGMA application_id = 1"},
	{"table_is_gone", STATUS_DAMAGED, "lacks the table plan", NULL, 0, "DROP TABLE plan"},
	{"index_is_gone", STATUS_DAMAGED, "lacks the index tree_label", NULL, 0,
		"DROP INDEX tree_label"},
	{"column_was_added", STATUS_DAMAGED, "table area is not as it should be", NULL, 0,
		"ALTER TABLE area ADD COLUMN x TEXT"},
	{"view_stands_for_a_table", STATUS_DAMAGED, "lacks the table plan", NULL, 0,
		"DROP TABLE plan; CREATE VIEW plan AS SELECT 1 AS row"},
	{"name_with_terminal_commands", STATUS_DAMAGED, "has an index a", NULL, 0,
		"CREATE INDEX \"a\x1b]0;x\a\n\" ON entry (kind)"},
	{"foreign_index", STATUS_DAMAGED, "has an index mine", NULL, 0,
		"CREATE UNIQUE INDEX mine ON entry (kind)"},
};

static void refuses_and_leaves_the_file(const void *one)
{
	const struct refusal *refusal = one;
	struct log yard;
	struct fault why = {0};
	size_t before_length = 0;
	size_t after_length = 0;
	log_make(&yard);
	log_close(&yard);
	if (refusal->sql != NULL)
		log_file_exec(yard.path, refusal->sql);
	else
		file_write(yard.path, refusal->bytes, (size_t)refusal->length);
	char *before = file_read(yard.path, &before_length);
	for (int read_only = 0; read_only < 2; read_only++) {
		check_refused(open_at(&yard, yard.path, read_only == 1, &why), refusal->status,
			&why, refusal->says);
		check_has(why.text, "yard.bough", "the file is named");
		for (const char *c = why.text; *c != '\0'; c++)
			assert_true((unsigned char)*c >= ' ');
	}
	char *after = file_read(yard.path, &after_length);
	check_int((int64_t)after_length, (int64_t)before_length, "length");
	assert_memory_equal(after, before, before_length);
	free(before);
	free(after);
	log_free(&yard);
}

static void missing_log_is_never_made(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	char path[SCRATCH_PATH_SIZE];
	log_make(&yard);
	check_refused(open_at(&yard, scratch_path(&yard.scratch, "other.bough", path), false, &why),
		STATUS_ABSENT, &why, "no log at");
	assert_false(file_exists(path));
	check_refused(
		open_at(&yard, scratch_path(&yard.scratch, "no/other.bough", path), false, &why),
		STATUS_ABSENT, &why, "there is no folder");
	check_refused(open_at(&yard, "", false, &why), STATUS_ABSENT, &why, "");
	check_refused(open_at(&yard, ":memory:", false, &why), STATUS_ABSENT, &why, "no log at");
	log_free(&yard);
}

static void what_is_no_ordinary_file_is_refused_without_waiting(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	char path[SCRATCH_PATH_SIZE];
	log_make(&yard);
	check_int(mkfifo(scratch_path(&yard.scratch, "pipe", path), 0600), 0, "mkfifo");
	check_refused(
		open_at(&yard, path, false, &why), STATUS_DAMAGED, &why, "not an ordinary file");
	check_refused(open_at(&yard, yard.scratch.folder, false, &why), STATUS_DAMAGED, &why,
		"is a folder");
	check_refused(open_at(&yard, "/dev/null", false, &why), STATUS_DAMAGED, &why,
		"not an ordinary file");
	check_refused(open_at(&yard, "/dev/zero", true, &why), STATUS_DAMAGED, &why,
		"not an ordinary file");
	log_free(&yard);
}

static void new_log_is_private_and_marked(void **state)
{
	(void)state;
	struct log yard;
	struct stat about;
	const mode_t mask = umask(0);
	log_make(&yard);
	umask(mask);
	check_int(stat(yard.path, &about), 0, "stat");
	check_int(about.st_mode & 0777, 0600, "mode");
	log_area_act(&yard, "gate");
	check_int(log_one(&yard, "PRAGMA application_id"), STORE_APPLICATION_ID, "application");
	check_int(log_one(&yard, "PRAGMA user_version"), SCHEMA_VERSION, "schema");
	check_int(log_one(&yard,
			  "SELECT count(*) FROM meta WHERE key = 'log' AND length(value) = 26"),
		1, "log id");
	check_int(
		log_one(&yard, "SELECT count(*) FROM place WHERE name = 'Hill yard'"), 1, "place");
	log_free(&yard);
}

static void nothing_is_written_over(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	struct place place = {.name = "Other"};
	struct store *store = NULL;
	char path[SCRATCH_PATH_SIZE];
	log_make(&yard);
	const struct store_options options = {.clock = &yard.clock};
	check_refused(store_create(yard.path, &options, &place, &store, &why), STATUS_CONFLICT,
		&why, "is there already");
	assert_null(store);
	file_write(scratch_path(&yard.scratch, "new.bough-journal", path), "old", 3);
	check_refused(store_create(scratch_path(&yard.scratch, "new.bough", path), &options, &place,
			      &store, &why),
		STATUS_CONFLICT, &why, "new.bough-journal");
	check_int(
		symlink("nowhere", scratch_path(&yard.scratch, "link.bough", path)), 0, "symlink");
	check_refused(store_create(path, &options, &place, &store, &why), STATUS_CONFLICT, &why,
		"is there already");
	check_refused(store_create(scratch_path(&yard.scratch, "no/new.bough", path), &options,
			      &place, &store, &why),
		STATUS_ABSENT, &why, "no folder");
	log_free(&yard);
}

static void place_keeps_every_setting(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	char path[SCRATCH_PATH_SIZE];
	log_make(&yard);
	log_close(&yard);
	const struct place place = {.name = "South yard",
		.latitude_udeg = known_i32(-33123456),
		.longitude_udeg = known_i32(151000000),
		.hemisphere = HEMISPHERE_SOUTH,
		.wet = WET_ALL,
		.winter = WINTER_FROSTY,
		.last_frost = {.month = 10, .day = 5},
		.first_frost = {.month = 4, .day = 30},
		.units = UNITS_SI,
		.gallon = GALLON_IMPERIAL,
		.numbers = NUMBERS_COMMA,
		.dates = DATES_DMY};
	const struct store_options options = {.clock = &yard.clock};
	check_ok(store_create(scratch_path(&yard.scratch, "south.bough", path), &options, &place,
			 &yard.store, &why),
		&why);
	check_int(log_one(&yard,
			  "SELECT count(*) FROM place WHERE name = 'South yard' "
			  "AND latitude_udeg = -33123456 AND longitude_udeg = 151000000 "
			  "AND hemisphere = 'south' AND wet = 'all' AND winter = 'frosty' "
			  "AND last_frost = '10-05' AND first_frost = '04-30' AND units = 'si' "
			  "AND gallon = 'imperial' AND numbers = 'comma' AND dates = 'dmy'"),
		1, "place");
	log_free(&yard);
}

struct pragma {
	const char *name;
	int64_t value;
};

static const struct pragma pragmas[] = {
	{"PRAGMA foreign_keys", 1},
	{"PRAGMA trusted_schema", 0},
	{"PRAGMA cell_size_check", 1},
	{"PRAGMA synchronous", 3},
	{"PRAGMA mmap_size", 0},
	{"PRAGMA temp_store", 2},
	{"PRAGMA busy_timeout", 3000},
	{"SELECT count(*) FROM pragma_journal_mode WHERE journal_mode = 'delete'", 1},
};

static void connection_has_setting(const void *one)
{
	const struct pragma *pragma = one;
	struct log yard;
	log_make(&yard);
	log_reopen(&yard);
	check_int(log_one(&yard, pragma->name), pragma->value, pragma->name);
	log_free(&yard);
}

/* --- what another hand put into a log --- */

static void foreign_triggers_and_views_never_run(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	log_close(&yard);
	log_file_exec(yard.path,
		"CREATE TRIGGER empty_it AFTER INSERT ON area BEGIN DELETE FROM place; END;"
		"CREATE TABLE mine (x); INSERT INTO mine VALUES (1);"
		"CREATE VIEW endless AS WITH RECURSIVE n(x) AS "
		"(SELECT 1 UNION ALL SELECT x + 1 FROM n) SELECT x FROM n;");
	log_reopen(&yard);
	log_area_act(&yard, "gate");
	check_int(log_count(&yard, "place"), 1, "place");
	sqlite3_stmt *statement = NULL;
	struct fault why = {0};
	assert_int_not_equal(
		sql_prepare(yard.store, "SELECT * FROM endless", &statement, &why), STATUS_OK);
	sqlite3_finalize(statement);
	log_free(&yard);
}

static void schema_cannot_be_written_and_nothing_attached(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	log_make(&yard);
	const char *const tries[] = {"PRAGMA writable_schema = ON; DELETE FROM sqlite_schema",
		"ATTACH ':memory:' AS other", "SELECT load_extension('x')",
		"INSERT INTO word_index_data VALUES (1, x'00')",
		"INSERT INTO area (id, made, name, name_folded) VALUES "
		"('00000000000000000000000000', '00000000000000000000000000', 'x', 'x')",
		"INSERT INTO walk (key, value) VALUES (\"position\", 'x')"};
	for (size_t i = 0; i < sizeof tries / sizeof tries[0]; i++)
		assert_int_not_equal(sql_exec(yard.store, tries[i], &why), STATUS_OK);
	log_free(&yard);
}

static void log_in_write_ahead_mode_comes_back(void **state)
{
	(void)state;
	struct log yard;
	char path[SCRATCH_PATH_SIZE];
	log_make(&yard);
	log_close(&yard);
	log_file_exec(yard.path, "PRAGMA journal_mode = WAL; INSERT INTO walk VALUES ('a', 'b')");
	log_reopen(&yard);
	check_int(log_count(&yard, "walk"), 1, "walk");
	log_close(&yard);
	assert_false(file_exists(scratch_path(&yard.scratch, "yard.bough-wal", path)));
	log_free(&yard);
}

static void second_name_is_refused_for_writing(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	char path[SCRATCH_PATH_SIZE];
	log_make(&yard);
	log_close(&yard);
	check_int(link(yard.path, scratch_path(&yard.scratch, "other.bough", path)), 0, "link");
	check_refused(open_at(&yard, path, false, &why), STATUS_DENIED, &why, "hard links");
	check_ok(open_at(&yard, path, true, &why), &why);
	log_free(&yard);
}

static void symbolic_link_leads_to_the_one_log(void **state)
{
	(void)state;
	struct log yard;
	char path[SCRATCH_PATH_SIZE];
	char real[SCRATCH_PATH_SIZE];
	struct fault why = {0};
	struct store *store = NULL;
	log_make(&yard);
	memcpy(real, store_path(yard.store), strlen(store_path(yard.store)) + 1);
	log_close(&yard);
	check_int(
		symlink(yard.path, scratch_path(&yard.scratch, "link.bough", path)), 0, "symlink");
	const struct store_options options = {.clock = &yard.clock};
	check_ok(store_open(path, &options, &store, &why), &why);
	check_text(store_path(store), real, "path");
	store_close(store);
	log_free(&yard);
}

/* --- only looking --- */

static void looking_changes_neither_bytes_nor_time(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	struct stat before;
	struct stat after;
	log_make(&yard);
	log_area_act(&yard, "gate");
	log_close(&yard);
	const struct timespec times[2] = {{.tv_sec = 1000000}, {.tv_sec = 1000000}};
	check_int(utimensat(AT_FDCWD, yard.path, times, 0), 0, "utimensat");
	check_int(stat(yard.path, &before), 0, "stat");
	char *bytes = file_read(yard.path, NULL);
	const struct store_options options = {.clock = &yard.clock, .read_only = true};
	check_ok(store_open(yard.path, &options, &yard.store, &why), &why);
	assert_true(store_is_read_only(yard.store));
	check_int(log_count(&yard, "area"), 1, "areas");
	check_refused(
		store_act_begin(yard.store, ACT_WORK, "no", &why), STATUS_DENIED, &why, "viewing");
	check_refused(
		store_undo(yard.store, (char[TEXT_SIZE]){0}, &why), STATUS_DENIED, &why, "viewing");
	assert_int_not_equal(sql_exec(yard.store, "DELETE FROM walk", &why), STATUS_OK);
	char folder[SCRATCH_PATH_SIZE];
	assert_false(file_exists(scratch_path(&yard.scratch, "yard.bough-journal", folder)));
	log_close(&yard);
	check_int(stat(yard.path, &after), 0, "stat");
	char *again = file_read(yard.path, NULL);
	assert_memory_equal(again, bytes, (size_t)before.st_size);
	check_int(after.st_mtime, 1000000, "time");
	free(bytes);
	free(again);
	log_free(&yard);
}

static void path_of_any_letters_works(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	char path[SCRATCH_PATH_SIZE];
	struct place place = {.name = "x"};
	struct store *store = NULL;
	log_make(&yard);
	const struct store_options options = {.clock = &yard.clock};
	const char *const names[] = {"with blank.bough", "quo'te.bough", "100%?#&.bough",
		"\xC3\xBC\xE2\x82\xAC.bough", "file:x.bough", "-n.bough"};
	for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
		check_ok(store_create(scratch_path(&yard.scratch, names[i], path), &options, &place,
				 &store, &why),
			&why);
		store_close(store);
		check_ok(open_at(&yard, path, true, &why), &why);
		struct logfile file;
		check_ok(logfile_look(path, &file, &why), &why);
		struct store *plain = calloc(1, sizeof *plain);
		assert_non_null(plain);
		plain->path = file.path;
		check_ok(connect_open(plain, CONNECT_IMMUTABLE, &why), &why);
		connect_close(plain);
		free(plain);
	}
	log_free(&yard);
}

/* --- two windows on one log --- */

static void change_by_another_is_seen_once(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	assert_false(store_changed_elsewhere(yard.store));
	log_area_act(&yard, "own");
	assert_false(store_changed_elsewhere(yard.store));
	log_file_exec(yard.path, "INSERT INTO walk (key, value) VALUES ('a', 'b')");
	assert_true(store_changed_elsewhere(yard.store));
	assert_false(store_changed_elsewhere(yard.store));
	log_free(&yard);
}

static void log_in_use_is_waited_for_and_told(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	sqlite3 *other = NULL;
	log_make(&yard);
	check_int(sqlite3_open(yard.path, &other), SQLITE_OK, "open");
	check_int(sqlite3_exec(other, "BEGIN IMMEDIATE", NULL, NULL, NULL), SQLITE_OK, "begin");
	const double before = clock_monotonic_s();
	check_refused(store_act_begin(yard.store, ACT_WORK, "x", &why), STATUS_BUSY, &why,
		"in use by another program");
	const double waited = clock_monotonic_s() - before;
	assert_true(waited > 2.5 && waited < 6.0);
	assert_false(store_in_act(yard.store));
	sqlite3_close(other);
	log_area_act(&yard, "now it goes");
	log_free(&yard);
}

static void log_opens_while_another_is_about_to_save(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	sqlite3 *other = NULL;
	log_make(&yard);
	log_close(&yard);
	check_int(sqlite3_open(yard.path, &other), SQLITE_OK, "open");
	check_int(sqlite3_exec(other, "BEGIN IMMEDIATE", NULL, NULL, NULL), SQLITE_OK, "begin");
	const double before = clock_monotonic_s();
	check_ok(open_at(&yard, yard.path, false, &why), &why);
	check_ok(open_at(&yard, yard.path, true, &why), &why);
	assert_true(clock_monotonic_s() - before < 1.0);
	sqlite3_close(other);
	log_free(&yard);
}

static void reading_half_a_list_does_not_keep_others_out(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	sqlite3_stmt *statement = NULL;
	static const struct statement areas = {"test.areas", "SELECT id FROM area"};
	log_make(&yard);
	log_area_act(&yard, "one");
	log_area_act(&yard, "two");
	check_ok(sql_get(yard.store, &areas, &statement, &why), &why);
	check_ok(sql_step(yard.store, statement, &why), &why);
	assert_false(store_changed_elsewhere(yard.store));
	log_file_exec(yard.path, "INSERT INTO walk (key, value) VALUES ('a', 'b')");
	log_free(&yard);
}

static void moved_or_replaced_log_is_noticed(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	char path[SCRATCH_PATH_SIZE];
	log_make(&yard);
	assert_false(store_was_moved(yard.store));
	check_int(rename(yard.path, scratch_path(&yard.scratch, "moved.bough", path)), 0, "rename");
	assert_true(store_was_moved(yard.store));
	check_refused(store_act_begin(yard.store, ACT_WORK, "x", &why), STATUS_CONFLICT, &why,
		"moved or replaced");
	file_write(yard.path, "other", 5);
	assert_true(store_was_moved(yard.store));
	log_free(&yard);
}

static void gather(void *context, const char *sql)
{
	char *all = context;
	(void)snprintf(all + strlen(all), 8192 - strlen(all), "%s\n", sql);
}

static void trace_tells_statements_and_no_words(void **state)
{
	(void)state;
	struct log yard;
	static char told[8192];
	told[0] = '\0';
	log_make(&yard);
	store_set_trace(yard.store, gather, told);
	log_area_act(&yard, "secret place");
	check_has(told, "BEGIN IMMEDIATE", "trace");
	check_has(told, "INSERT INTO area", "trace");
	check_has(told, "COMMIT", "trace");
	assert_null(strstr(told, "secret"));
	store_set_trace(yard.store, NULL, NULL);
	const size_t length = strlen(told);
	log_area_act(&yard, "more");
	check_int((int64_t)strlen(told), (int64_t)length, "ended");
	log_free(&yard);
}

static void list_of_tables_is_that_of_the_schema(void **state)
{
	(void)state;
	struct log yard;
	char sql[256];
	int64_t listed = 0;
	log_make(&yard);
	for (const struct table_row_kind *table = store_tables(); table->name != NULL; table++) {
		(void)snprintf(sql, sizeof sql,
			"SELECT count(*) FROM pragma_table_info('%s') WHERE name IN ('made', "
			"'struck')",
			table->name);
		check_int(log_one(&yard, sql), table->in_history ? 2 : 0, table->name);
		listed++;
	}
	check_int(log_one(&yard, "SELECT count(*) FROM sqlite_schema WHERE type = 'table' "
				 "AND name NOT LIKE 'word_index%' AND name NOT LIKE 'sqlite_%'"),
		listed, "tables");
	log_free(&yard);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(missing_log_is_never_made),
		cmocka_unit_test(what_is_no_ordinary_file_is_refused_without_waiting),
		cmocka_unit_test(new_log_is_private_and_marked),
		cmocka_unit_test(nothing_is_written_over),
		cmocka_unit_test(place_keeps_every_setting),
		cmocka_unit_test(foreign_triggers_and_views_never_run),
		cmocka_unit_test(schema_cannot_be_written_and_nothing_attached),
		cmocka_unit_test(log_in_write_ahead_mode_comes_back),
		cmocka_unit_test(second_name_is_refused_for_writing),
		cmocka_unit_test(symbolic_link_leads_to_the_one_log),
		cmocka_unit_test(looking_changes_neither_bytes_nor_time),
		cmocka_unit_test(path_of_any_letters_works),
		cmocka_unit_test(change_by_another_is_seen_once),
		cmocka_unit_test(log_in_use_is_waited_for_and_told),
		cmocka_unit_test(log_opens_while_another_is_about_to_save),
		cmocka_unit_test(reading_half_a_list_does_not_keep_others_out),
		cmocka_unit_test(moved_or_replaced_log_is_noticed),
		cmocka_unit_test(trace_tells_statements_and_no_words),
		cmocka_unit_test(list_of_tables_is_that_of_the_schema),
	};
	const int failed = cmocka_run_group_tests_name("store", tests, NULL, NULL) +
			   RUN_CASES("refused files", refusals, refuses_and_leaves_the_file) +
			   RUN_CASES("settings", pragmas, connection_has_setting);
	return failed != 0;
}
