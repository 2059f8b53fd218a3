/* SPDX-License-Identifier: MIT */
/* Daily copies, copies made by hand, and putting one back. */
#include "support/test.h"

#include "support/log.h"

#include "store/copy.h"

#include <dirent.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/time.h>
#include <unistd.h>

static int32_t count_files(const char *folder_path)
{
	int32_t count = 0;
	DIR *folder = opendir(folder_path);
	for (const struct dirent *one = folder == NULL ? NULL : readdir(folder); one != NULL;
		one = readdir(folder))
		count += one->d_name[0] != '.';
	if (folder != NULL)
		(void)closedir(folder);
	return count;
}

static const char *in_copies(const struct log *yard, const char *name, char out[SCRATCH_PATH_SIZE])
{
	char inside[256];
	(void)snprintf(inside, sizeof inside, "yard.bough.backups/%s", name);
	return scratch_path(&yard->scratch, inside, out);
}

static int32_t count_copies(const struct log *yard)
{
	char folder[SCRATCH_PATH_SIZE];
	return count_files(in_copies(yard, "", folder));
}

static void set_today(struct log *yard, int32_t year, int32_t month, int32_t day)
{
	struct fault why = {0};
	struct date date = {0};
	check_ok(date_make(year, month, day, &date, &why), &why);
	clock_move(&yard->clock, date);
}

static void daily(struct log *yard)
{
	struct fault why = {0};
	char said[TEXT_SIZE];
	check_ok(store_backup_daily(yard->store, said, &why), &why);
	check_text(said, "", "said");
}

static void nothing_new_makes_no_copy(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	log_reopen(&yard);
	daily(&yard);
	check_int(count_copies(&yard), 0, "copies");
	log_free(&yard);
}

static void first_save_of_a_day_makes_one_private_copy(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	struct stat about;
	char path[SCRATCH_PATH_SIZE];
	const mode_t mask = umask(0);
	log_make(&yard);
	log_area_act(&yard, "one");
	daily(&yard);
	umask(mask);
	log_area_act(&yard, "two");
	daily(&yard);
	check_int(count_copies(&yard), 1, "copies");
	check_int(stat(in_copies(&yard, "2026-05-20.bough", path), &about), 0, "stat");
	check_int(about.st_mode & 0777, 0600, "mode");
	check_ok(copy_check(path, NULL, &why), &why);
	check_int(log_file_one(path, "SELECT count(*) FROM area"), 1, "areas");
	check_int(stat(in_copies(&yard, "", path), &about), 0, "stat");
	check_int(about.st_mode & 0777, 0700, "mode of the folder");
	log_free(&yard);
}

/* Names of the days on which copies were made, as far as they are kept. */
static void seven_days_and_twelve_months_are_kept(void **state)
{
	(void)state;
	struct log yard;
	char path[SCRATCH_PATH_SIZE];
	char name[32];
	log_make(&yard);
	for (int32_t month = 0; month < 16; month++) {
		for (int32_t day = 1; day <= 28; day += 3) {
			set_today(&yard, 2027 + month / 12, month % 12 + 1, day);
			(void)snprintf(name, sizeof name, "%d.%d", (int)month, (int)day);
			log_area_act(&yard, name);
			daily(&yard);
		}
	}
	/* the newest 7 are of April 2028 (10 copies); 11 more months have one each */
	check_int(count_copies(&yard), 7 + 11, "copies");
	assert_true(file_exists(in_copies(&yard, "2028-04-28.bough", path)));
	assert_true(file_exists(in_copies(&yard, "2028-04-10.bough", path)));
	assert_false(file_exists(in_copies(&yard, "2028-04-07.bough", path)));
	assert_true(file_exists(in_copies(&yard, "2028-03-28.bough", path)));
	assert_true(file_exists(in_copies(&yard, "2027-05-28.bough", path)));
	assert_false(file_exists(in_copies(&yard, "2027-04-28.bough", path)));
	log_free(&yard);
}

static void clock_set_back_does_not_lose_the_new_copy(void **state)
{
	(void)state;
	struct log yard;
	char path[SCRATCH_PATH_SIZE];
	log_make(&yard);
	for (int32_t day = 1; day <= 9; day++) {
		set_today(&yard, 2030, 1, day);
		log_area_act(&yard, "x");
		daily(&yard);
	}
	struct clock back = yard.clock;
	back.pinned.value.day -= 3650;
	yard.clock = back;
	log_area_act(&yard, "y");
	daily(&yard);
	assert_true(file_exists(in_copies(&yard, "2020-01-12.bough", path)));
	log_free(&yard);
}

static void other_files_in_the_folder_are_left_alone(void **state)
{
	(void)state;
	struct log yard;
	char path[SCRATCH_PATH_SIZE];
	log_make(&yard);
	log_area_act(&yard, "x");
	daily(&yard);
	const char *const names[] = {"notes.txt", "1999-13-01.bough", "1999-01-01.bough.old",
		"2001-01-01T120000Z.bough"};
	for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
		file_write(in_copies(&yard, names[i], path), "x", 1);
	for (int32_t day = 1; day <= 9; day++) {
		set_today(&yard, 2030, 1, day);
		log_area_act(&yard, "x");
		daily(&yard);
	}
	for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
		assert_true(file_exists(in_copies(&yard, names[i], path)));
	log_free(&yard);
}

/* Half a copy, half a new log, half a restored one: made by runs that were killed. */
static void what_killed_runs_left_goes_a_day_later(void **state)
{
	(void)state;
	static const struct {
		const char *name;
		bool goes;
	} cases[] = {
		{"yard.bough.backups/2026-01-02.bough.new-0123abcd", true},
		{"yard.bough.new-0123abcd", true},
		{"yard.bough.new-0123abcd-journal", true},
		{"yard.bough.restored-0123abcd", true},
		{"yard.bough.restored-0123abcd.new-89abcdef", true},
		{"yard.bough.replaced-2026-01-02", false},
		{"yard.bough.new-", false},
		{"yard.bough.new-0123abcd.csv", false},
		{"yard.bough.newest", false},
		{"other.bough.new-0123abcd", false},
	};
	enum { CASES = sizeof cases / sizeof cases[0] };
	struct log yard;
	char path[SCRATCH_PATH_SIZE];
	log_make(&yard);
	assert_int_equal(mkdir(in_copies(&yard, "", path), 0700), 0);
	for (size_t i = 0; i < CASES; i++) {
		const struct timeval long_ago[2] = {{.tv_sec = 86400}, {.tv_sec = 86400}};
		file_write(scratch_path(&yard.scratch, cases[i].name, path), "half", 4);
		assert_int_equal(utimes(path, long_ago), 0);
	}
	file_write(in_copies(&yard, "2026-01-03.bough.new-0123abcd", path), "now", 3);
	log_area_act(&yard, "one");
	daily(&yard);
	for (size_t i = 0; i < CASES; i++)
		check_int(access(scratch_path(&yard.scratch, cases[i].name, path), F_OK) != 0,
			cases[i].goes, cases[i].name);
	check_int(access(in_copies(&yard, "2026-01-03.bough.new-0123abcd", path), F_OK), 0,
		"it may be written still");
	log_free(&yard);
}

static void damaged_log_does_not_push_out_good_copies(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	char said[TEXT_SIZE];
	char path[SCRATCH_PATH_SIZE];
	log_make(&yard);
	for (int32_t day = 1; day <= 7; day++) {
		set_today(&yard, 2030, 1, day);
		log_area_act(&yard, "x");
		daily(&yard);
	}
	log_close(&yard);
	const int64_t page = log_file_one(
		yard.path, "SELECT rootpage FROM sqlite_schema WHERE name = 'area_made'");
	size_t length = 0;
	char *bytes = file_read(yard.path, &length);
	memset(bytes + (page - 1) * 4096, 0xA5, 4096);
	file_write(yard.path, bytes, length);
	free(bytes);
	log_reopen(&yard);
	set_today(&yard, 2030, 2, 1);
	yard.store->saved_since_backup = true;
	check_refused(store_backup_daily(yard.store, said, &why), STATUS_DAMAGED, &why, "damaged");
	check_int(count_copies(&yard), 7, "copies");
	assert_false(file_exists(in_copies(&yard, "2030-02-01.bough", path)));
	log_free(&yard);
}

static void copy_that_cannot_be_made_leaves_nothing(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	char said[TEXT_SIZE];
	char path[SCRATCH_PATH_SIZE];
	log_make(&yard);
	log_area_act(&yard, "x");
	file_write(scratch_path(&yard.scratch, "yard.bough.backups", path), "a file", 6);
	check_refused(store_backup_daily(yard.store, said, &why), STATUS_ABSENT, &why, "no folder");
	log_free(&yard);
}

static void copy_now_is_made_and_told(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	char made[SCRATCH_PATH_SIZE];
	log_make(&yard);
	log_area_act(&yard, "one");
	check_ok(store_backup_now(yard.store, made, (int)sizeof made, &why), &why);
	check_has(made, "yard.bough.backups/2026-05-20T", "path");
	check_int(log_file_one(made, "SELECT count(*) FROM area"), 1, "areas");
	log_free(&yard);
}

/* --- putting one back --- */

struct restored {
	struct log yard;
	char copy[SCRATCH_PATH_SIZE];
	char kept[SCRATCH_PATH_SIZE];
};

static void make_copy_then_go_on(struct restored *one)
{
	struct fault why = {0};
	log_make(&one->yard);
	log_area_act(&one->yard, "old");
	check_ok(store_backup_now(one->yard.store, one->copy, (int)sizeof one->copy, &why), &why);
	log_area_act(&one->yard, "new");
	log_close(&one->yard);
}

static void restore(struct restored *one)
{
	struct fault why = {0};
	check_ok(store_backup_restore(one->yard.path, one->copy, &one->yard.clock, one->kept,
			 (int)sizeof one->kept, &why),
		&why);
	log_reopen(&one->yard);
	check_int(log_count(&one->yard, "area"), 1, "areas");
	check_int(log_one(&one->yard, "SELECT count(*) FROM area WHERE name = 'old'"), 1, "old");
}

static void restored_log_is_the_copy_and_the_other_is_kept(void **state)
{
	(void)state;
	struct restored one;
	struct stat about;
	make_copy_then_go_on(&one);
	restore(&one);
	check_has(one.kept, "yard.bough.replaced-2026-05-20T", "kept");
	check_int(log_file_one(one.kept, "SELECT count(*) FROM area"), 2, "areas kept");
	check_int(stat(one.yard.path, &about), 0, "stat");
	check_int(about.st_mode & 0777, 0600, "mode");
	assert_true(file_exists(one.copy));
	log_free(&one.yard);
}

static void restores_where_nothing_stands(void **state)
{
	(void)state;
	struct restored one;
	make_copy_then_go_on(&one);
	check_int(unlink(one.yard.path), 0, "unlink");
	restore(&one);
	check_text(one.kept, "", "kept");
	log_free(&one.yard);
}

static void restores_over_what_is_no_log(void **state)
{
	(void)state;
	struct restored one;
	make_copy_then_go_on(&one);
	file_write(one.yard.path, "", 0);
	restore(&one);
	size_t length = 9;
	free(file_read(one.kept, &length));
	check_int((int64_t)length, 0, "the empty file is kept");
	log_free(&one.yard);
}

/* A journal that is left from a save broken off must not be played into the copy. */
static void restores_over_a_killed_save(void **state)
{
	(void)state;
	struct restored one;
	struct log *yard = &one.yard;
	size_t log_length = 0;
	size_t journal_length = 0;
	char path[SCRATCH_PATH_SIZE];
	struct fault why = {0};
	make_copy_then_go_on(&one);
	log_reopen(yard);
	log_exec(yard, "PRAGMA cache_size = 1");
	check_ok(store_act_begin(yard->store, ACT_WORK, "broken off", &why), &why);
	for (int i = 0; i < 2000; i++)
		log_area(yard, "many, so that pages reach the file");
	char *log_bytes = file_read(yard->path, &log_length);
	scratch_path(&yard->scratch, "yard.bough-journal", path);
	char *journal_bytes = file_read(path, &journal_length);
	store_act_rollback(yard->store);
	log_close(yard);
	file_write(yard->path, log_bytes, log_length);
	file_write(path, journal_bytes, journal_length);
	free(log_bytes);
	free(journal_bytes);
	restore(&one);
	assert_false(file_exists(path));
	check_int(log_file_one(one.kept, "SELECT count(*) FROM area"), 2,
		"the kept log has the broken-off save taken back");
	log_free(yard);
}

static void refuses_what_is_no_copy(void **state)
{
	(void)state;
	struct restored one;
	struct fault why = {0};
	char path[SCRATCH_PATH_SIZE];
	char kept[SCRATCH_PATH_SIZE];
	make_copy_then_go_on(&one);
	struct log *yard = &one.yard;
	const char *bad[] = {scratch_path(&yard->scratch, "bad", path), yard->path, "/nowhere/x"};
	const enum status statuses[] = {STATUS_DAMAGED, STATUS_CONFLICT, STATUS_ABSENT};
	const char *const says[] = {"not a log", "is the log itself", "there is no backup at"};
	file_write(path, "text", 4);
	for (size_t i = 0; i < 3; i++)
		check_refused(store_backup_restore(yard->path, bad[i], &yard->clock, kept,
				      (int)sizeof kept, &why),
			statuses[i], &why, says[i]);
	log_reopen(yard);
	check_int(log_count(yard, "area"), 2, "the log is as it was");
	check_int(count_files(yard->scratch.folder), 3, "nothing else is left in the folder");
	log_free(yard);
}

static void refuses_while_another_is_writing(void **state)
{
	(void)state;
	struct restored one;
	struct fault why = {0};
	char kept[SCRATCH_PATH_SIZE];
	sqlite3 *other = NULL;
	make_copy_then_go_on(&one);
	check_int(sqlite3_open(one.yard.path, &other), SQLITE_OK, "open");
	check_int(sqlite3_exec(other, "BEGIN IMMEDIATE", NULL, NULL, NULL), SQLITE_OK, "begin");
	check_refused(store_backup_restore(one.yard.path, one.copy, &one.yard.clock, kept,
			      (int)sizeof kept, &why),
		STATUS_BUSY, &why, "in use");
	sqlite3_close(other);
	log_free(&one.yard);
}

static void message_about_damage_names_the_newest_good_copy(void **state)
{
	(void)state;
	struct restored one;
	struct fault why = {0};
	char path[SCRATCH_PATH_SIZE];
	struct store *store = NULL;
	make_copy_then_go_on(&one);
	file_write(in_copies(&one.yard, "2030-01-01.bough", path), "a bad one", 9);
	file_write(one.yard.path, "ruined", 6);
	const struct store_options options = {.clock = &one.yard.clock};
	check_refused(store_open(one.yard.path, &options, &store, &why), STATUS_DAMAGED, &why,
		"backup --restore ");
	check_has(why.text, one.copy, "copy");
	check_int(unlink(one.yard.path), 0, "unlink");
	check_refused(
		store_open(one.yard.path, &options, &store, &why), STATUS_ABSENT, &why, one.copy);
	log_free(&one.yard);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(nothing_new_makes_no_copy),
		cmocka_unit_test(first_save_of_a_day_makes_one_private_copy),
		cmocka_unit_test(seven_days_and_twelve_months_are_kept),
		cmocka_unit_test(clock_set_back_does_not_lose_the_new_copy),
		cmocka_unit_test(other_files_in_the_folder_are_left_alone),
		cmocka_unit_test(what_killed_runs_left_goes_a_day_later),
		cmocka_unit_test(damaged_log_does_not_push_out_good_copies),
		cmocka_unit_test(copy_that_cannot_be_made_leaves_nothing),
		cmocka_unit_test(copy_now_is_made_and_told),
		cmocka_unit_test(restored_log_is_the_copy_and_the_other_is_kept),
		cmocka_unit_test(restores_where_nothing_stands),
		cmocka_unit_test(restores_over_what_is_no_log),
		cmocka_unit_test(restores_over_a_killed_save),
		cmocka_unit_test(refuses_what_is_no_copy),
		cmocka_unit_test(refuses_while_another_is_writing),
		cmocka_unit_test(message_about_damage_names_the_newest_good_copy),
	};
	return cmocka_run_group_tests_name("backup", tests, NULL, NULL) != 0;
}
