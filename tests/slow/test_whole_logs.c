/* SPDX-License-Identifier: MIT */
/* The whole log out and in again, for random logs with hostile text in every column: the same bytes
 * in the files, and the same values in the file of the log, through CSV and through JSON. Nothing
 * of a private tree leaves when it is to stay.
 *
 * Slow because several logs are made for each; LOGS= asks for more of them (1,000 and up before
 * anything is called done), SEED= for others. */
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "exchange/whole.h"
#include "store/shapes.h"

#include "support/any_rows.h"

enum { LOGS_USUAL = SANITIZED ? 50 : 200, ROWS_MOST = 3, TABLES_LEAST = 28, TABLES_MAX = 64 };

struct round {
	struct log yard;
	struct arena *arena;
	int64_t *rows; /* of each table, over all logs */
};

static int32_t logs_wanted(void)
{
	const char *asked = getenv("LOGS");

	return asked != NULL ? (int32_t)strtol(asked, NULL, 10) : LOGS_USUAL;
}

static const char *beside(struct round *round, const char *name)
{
	char path[SCRATCH_PATH_SIZE];

	return arena_text(round->arena, scratch_path(&round->yard.scratch, name, path));
}

static void write_out(
	struct round *round, const char *log, const char *folder, const struct whole_options *how)
{
	struct store *store = NULL;
	struct fault why = {0};
	struct whole_options options = *how;
	const struct store_options reading = {.clock = &round->yard.clock, .read_only = true};
	int64_t rows = 0;

	options.folder = beside(round, folder);
	check_ok(store_open(beside(round, log), &reading, &store, &why), &why);
	check_ok(export_all(store, &options, &rows, &why), &why);
	store_close(store);
}

static void read_in(struct round *round, const char *folder, const char *log)
{
	struct fault why = {0};
	struct whole_account account = {0};
	const struct whole_options options = {.folder = beside(round, folder)};
	enum status status = import_all(
		beside(round, log), &round->yard.clock, &options, round->arena, &account, &why);

	for (int32_t i = 0; i < account.line_count; i++)
		print_message("%s\n", account.lines[i]);
	if (status != STATUS_OK)
		print_message("%s\n", dice_remark());
	check_ok(status, &why);
	assert_true(account.made);
}

/* --- the same? --- */

static void same_files(struct round *round, const char *one, const char *other)
{
	const char *const words[] = {"diff", "-r", beside(round, one), beside(round, other), NULL};
	struct spawned done = command_run(NULL, words);

	check_text(done.out, "", dice_remark());
	check_int(done.status, 0, dice_remark());
	spawned_free(&done);
}

static void same_rows(
	struct streams *one, struct streams *other, const struct table_shape *shape, int64_t *rows)
{
	const struct table_value *row = NULL, *again = NULL;
	struct fault why = {0};
	enum status status = STATUS_OK;

	check_ok(streams_table(one, shape, &why), &why);
	check_ok(streams_table(other, shape, &why), &why);
	while (status == STATUS_OK) {
		status = streams_next(one, &row, &why);
		check_int(streams_next(other, &again, &why), status, dice_remark());
		*rows += status == STATUS_OK;
		for (int32_t i = 0; i < shape->count && status == STATUS_OK; i++) {
			const char *name = shape->columns[i].name;

			check_int(again[i].type, row[i].type, name);
			check_int(again[i].integer, row[i].integer, name);
			check_int((int64_t)again[i].length, (int64_t)row[i].length, name);
			assert_memory_equal(again[i].text, row[i].text, row[i].length);
		}
	}
	check_int(status, STATUS_END, why.text);
}

static void same_logs(struct round *round, const char *one, const char *other)
{
	const char *const names[] = {one, other};
	struct store *stores[2];
	struct streams *streams[2];
	struct fault why = {0};
	int32_t count;
	const struct store_options reading = {.clock = &round->yard.clock, .read_only = true};

	for (int i = 0; i < 2; i++) {
		check_ok(store_open(beside(round, names[i]), &reading, &stores[i], &why), &why);
		check_ok(streams_open(stores[i], false, &streams[i], &why), &why);
	}
	const struct table_shape *shapes = streams_shapes(streams[0], &count);
	assert_true(count >= TABLES_LEAST && count <= TABLES_MAX);
	for (int32_t i = 0; i < count; i++)
		same_rows(streams[0], streams[1], &shapes[i], &round->rows[i]);
	for (int i = 0; i < 2; i++) {
		streams_close(streams[i]);
		store_close(stores[i]);
	}
}

/* --- the rounds --- */

static void begin_round(struct round *round, struct dice *dice)
{
	round->arena = arena_new();
	log_make(&round->yard);
	round->yard.clock.seed = dice_roll(dice);
	any_rows_fill(&round->yard, dice, ROWS_MOST);
	log_close(&round->yard);
}

static void end_round(struct round *round)
{
	log_free(&round->yard);
	arena_free(round->arena);
}

static void the_log_comes_back_as_it_was(void **state)
{
	static const struct whole_options csv = {.format = FORMAT_CSV},
					  json = {.format = FORMAT_JSON};
	struct dice dice = dice_start();
	int64_t rows[TABLES_MAX] = {0};
	(void)state;

	for (int32_t i = 0; i < logs_wanted(); i++) {
		struct round round = {.rows = rows};

		begin_round(&round, &dice);
		write_out(&round, "yard.bough", "csv", &csv);
		read_in(&round, "csv", "second.bough");
		write_out(&round, "second.bough", "json", &json);
		read_in(&round, "json", "third.bough");
		write_out(&round, "third.bough", "again", &csv);
		same_files(&round, "csv", "again");
		same_logs(&round, "yard.bough", "third.bough");
		if (i % 8 == 0) {
			write_out(&round, "yard.bough", "csv", &json);
			same_files(&round, "json", "csv");
		}
		end_round(&round);
	}
	for (int32_t i = 0; i < TABLES_LEAST; i++)
		assert_true(rows[i] >= logs_wanted());
}

/* Ids of private trees and of what is told of them, a line each. */
static char *private_ids(struct round *round)
{
	const char *const words[] = {"sqlite3", beside(round, "yard.bough"),
		"SELECT id FROM tree WHERE is_private = 1 UNION SELECT e.id FROM entry e JOIN tree "
		"t ON t.id = e.subject_id AND t.is_private = 1 UNION SELECT i.id FROM identity i "
		"JOIN tree t ON t.id = i.tree_id AND t.is_private = 1",
		NULL};
	struct spawned done = command_run(NULL, words);
	char *ids = done.out;

	check_int(done.status, 0, done.err);
	done.out = NULL;
	spawned_free(&done);
	return ids;
}

static void nothing_private_leaves(void **state)
{
	static const struct whole_options open = {.format = FORMAT_CSV, .without_private = true};
	struct dice dice = dice_start();
	int32_t hidden = 0;
	(void)state;

	for (int32_t i = 0; i < logs_wanted() / 4 + 1; i++) {
		struct round round = {.rows = NULL};

		begin_round(&round, &dice);
		write_out(&round, "yard.bough", "open", &open);
		read_in(&round, "open", "second.bough");
		char *ids = private_ids(&round);
		const char *const words[] = {
			"grep", "-r", "-F", "-f", "-", beside(&round, "open"), NULL};
		struct spawned found = command_run(ids, words);
		check_text(found.out, "", dice_remark());
		hidden += ids[0] != '\0';
		free(ids);
		spawned_free(&found);
		end_round(&round);
	}
	assert_true(hidden * 5 >= logs_wanted() / 4);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_log_comes_back_as_it_was),
		cmocka_unit_test(nothing_private_leaves),
	};
	int failed = cmocka_run_group_tests_name("whole logs", tests, NULL, NULL);

	return failed != 0;
}
