/* SPDX-License-Identifier: MIT */
/* Undo and redo over the history in the file. */
#include "support/test.h"

#include "support/log.h"

#include <stdlib.h>
#include <string.h>

enum { ACTS = 40, ROWS_MAX = 200 };

static void check_undo(struct log *yard, const char *what)
{
	struct fault why = {0};
	char turned[TEXT_SIZE];
	check_ok(store_undo(yard->store, turned, &why), &why);
	check_text(turned, what, "undone");
}

static void check_redo(struct log *yard, const char *what)
{
	struct fault why = {0};
	char turned[TEXT_SIZE];
	check_ok(store_redo(yard->store, turned, &why), &why);
	check_text(turned, what, "done again");
}

static void check_nothing_to_redo(struct log *yard)
{
	struct fault why = {0};
	char turned[TEXT_SIZE];
	check_refused(store_redo(yard->store, turned, &why), STATUS_END, &why, "nothing to redo");
}

static int64_t standing(struct log *yard, const char *name)
{
	char sql[128];
	(void)snprintf(sql, sizeof sql,
		"SELECT count(*) FROM area WHERE name = '%s' AND struck = 0", name);
	return log_one(yard, sql);
}

static void fresh_log_has_nothing_to_undo(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	char what[TEXT_SIZE];
	log_make(&yard);
	check_refused(store_undo(yard.store, what, &why), STATUS_END, &why, "nothing to undo");
	check_nothing_to_redo(&yard);
	check_int(log_count(&yard, "change_set"), 1, "sets");
	assert_false(store_in_act(yard.store));
	log_free(&yard);
}

static void made_row_is_struck_and_comes_back(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	log_area_act(&yard, "gate");
	check_undo(&yard, "gate");
	check_int(standing(&yard, "gate"), 0, "after undo");
	check_int(log_count(&yard, "area"), 1, "row is kept");
	check_int(log_count(&yard, "word_index"), 0, "words after undo");
	check_redo(&yard, "gate");
	check_int(standing(&yard, "gate"), 1, "after redo");
	check_int(log_one(&yard, "SELECT count(*) FROM word_index WHERE word_index MATCH 'gate'"),
		1, "words after redo");
	check_nothing_to_redo(&yard);
	log_free(&yard);
}

static void changed_field_is_put_back(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	char id[ID_SIZE];
	memcpy(id, log_area_act(&yard, "north"), sizeof id);
	log_rename_act(&yard, id, "south");
	log_rename_act(&yard, id, "west");
	check_undo(&yard, "west");
	check_int(standing(&yard, "south"), 1, "one back");
	check_undo(&yard, "south");
	check_int(standing(&yard, "north"), 1, "two back");
	check_redo(&yard, "south");
	check_undo(&yard, "south");
	check_redo(&yard, "south");
	check_redo(&yard, "west");
	check_int(standing(&yard, "west"), 1, "forward");
	check_nothing_to_redo(&yard);
	log_free(&yard);
}

static void new_work_ends_redo(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	log_area_act(&yard, "one");
	log_area_act(&yard, "two");
	check_undo(&yard, "two");
	log_area_act(&yard, "three");
	check_nothing_to_redo(&yard);
	check_undo(&yard, "three");
	check_redo(&yard, "three");
	check_nothing_to_redo(&yard);
	check_undo(&yard, "three");
	check_undo(&yard, "one");
	check_redo(&yard, "one");
	check_redo(&yard, "three");
	check_nothing_to_redo(&yard);
	log_free(&yard);
}

static void undo_works_after_opening_again(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	log_area_act(&yard, "one");
	log_area_act(&yard, "two");
	log_reopen(&yard);
	check_undo(&yard, "two");
	log_reopen(&yard);
	check_undo(&yard, "one");
	log_reopen(&yard);
	check_redo(&yard, "one");
	log_reopen(&yard);
	check_redo(&yard, "two");
	check_int(standing(&yard, "two"), 1, "two");
	log_free(&yard);
}

static void act_that_made_and_struck_a_row_stays_struck(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	log_make(&yard);
	check_ok(store_act_begin(yard.store, ACT_WORK, "both", &why), &why);
	log_area(&yard, "gone");
	check_ok(row_strike(yard.store, "area", yard.id, true, &why), &why);
	log_area(&yard, "kept");
	check_ok(store_act_commit(yard.store, &why), &why);
	check_undo(&yard, "both");
	check_int(standing(&yard, "gone") + standing(&yard, "kept"), 0, "undone");
	check_redo(&yard, "both");
	check_int(standing(&yard, "gone"), 0, "gone");
	check_int(standing(&yard, "kept"), 1, "kept");
	log_free(&yard);
}

static void import_is_undone_whole(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	char name[32];
	log_make(&yard);
	check_ok(store_act_begin(yard.store, ACT_IMPORT, "import of trees", &why), &why);
	for (int i = 0; i < 300; i++) {
		(void)snprintf(name, sizeof name, "area %d", i);
		log_area(&yard, name);
	}
	check_ok(store_act_commit(yard.store, &why), &why);
	check_undo(&yard, "import of trees");
	check_int(log_one(&yard, "SELECT count(*) FROM area WHERE struck = 0"), 0, "standing");
	check_redo(&yard, "import of trees");
	check_int(log_one(&yard, "SELECT count(*) FROM area WHERE struck = 0"), 300, "standing");
	log_free(&yard);
}

/* A set of another copy, as a merge brings it. */
static void mark_newest_foreign(struct log *yard, const char *merge)
{
	char sql[256];
	(void)snprintf(sql, sizeof sql,
		"INSERT INTO meta (key, value) SELECT 'foreign:' || id, '%s' FROM change_set "
		"ORDER BY row DESC LIMIT 1",
		merge);
	log_exec(yard, sql);
}

static void set_of_another_copy_is_not_ours_to_undo(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	log_area_act(&yard, "ours");
	log_area_act(&yard, "theirs");
	mark_newest_foreign(&yard, "");
	check_undo(&yard, "ours");
	check_int(standing(&yard, "theirs"), 1, "theirs");
	log_free(&yard);
}

static void later_change_of_another_copy_refuses_and_names_the_field(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	char what[TEXT_SIZE];
	char id[ID_SIZE];
	log_make(&yard);
	memcpy(id, log_area_act(&yard, "ours"), sizeof id);
	log_rename_act(&yard, id, "theirs");
	mark_newest_foreign(&yard, "");
	char *before = log_dump(&yard);
	check_refused(store_undo(yard.store, what, &why), STATUS_CONFLICT, &why,
		"\"ours\" cannot be undone: name of the area was changed again by \"theirs\"");
	char *after = log_dump(&yard);
	check_text(after, before, "what is seen");
	assert_false(store_in_act(yard.store));
	check_int(log_count(&yard, "change_set"), 3, "sets");
	free(before);
	free(after);
	log_free(&yard);
}

static void merge_takes_back_what_it_brought(void **state)
{
	(void)state;
	struct log yard;
	char id[ID_SIZE];
	char merge[ID_SIZE];
	log_make(&yard);
	struct fault why = {0};
	memcpy(id, log_area_act(&yard, "ours"), sizeof id);
	char *before = log_dump(&yard);
	check_ok(store_act_begin(yard.store, ACT_MERGE, "merge", &why), &why);
	memcpy(merge, yard.store->act_id, sizeof merge);
	row_wrote(yard.store);
	check_ok(store_act_commit(yard.store, &why), &why);
	log_rename_act(&yard, id, "theirs");
	mark_newest_foreign(&yard, merge);
	log_area_act(&yard, "new of theirs");
	mark_newest_foreign(&yard, merge);
	char *merged = log_dump(&yard);
	check_undo(&yard, "merge");
	char *after = log_dump(&yard);
	check_text(after, before, "undone");
	check_redo(&yard, "merge");
	char *again = log_dump(&yard);
	check_text(again, merged, "done again");
	free(before);
	free(merged);
	free(after);
	free(again);
	log_free(&yard);
}

static enum status count_turns(struct store *store, void *context, struct fault *why)
{
	int *count = context;
	assert_true(store_in_act(store));
	return ++*count < 3 ? STATUS_OK : fault_set(why, STATUS_RANGE, "enough");
}

static void what_hangs_on_records_is_worked_out_in_the_same_act(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	char what[TEXT_SIZE];
	int count = 0;
	log_make(&yard);
	log_area_act(&yard, "gate");
	store_set_after_turn(yard.store, count_turns, &count);
	check_undo(&yard, "gate");
	check_redo(&yard, "gate");
	check_refused(store_undo(yard.store, what, &why), STATUS_RANGE, &why, "enough");
	check_int(standing(&yard, "gate"), 1, "nothing of the refused undo is left");
	log_free(&yard);
}

/* --- any acts at all: undo N times then redo N times shows the same --- */

struct chance {
	struct log *yard;
	struct dice *dice;
	char ids[ROWS_MAX][ID_SIZE];
	int rows;
};

static void random_step(struct chance *chance)
{
	struct fault why = {0};
	char name[32];
	const int64_t roll = dice_between(chance->dice, 0, 9);
	(void)snprintf(name, sizeof name, "name %d", (int)dice_between(chance->dice, 0, 20));
	if (roll < 4 || chance->rows == 0) {
		if (chance->rows < ROWS_MAX)
			memcpy(chance->ids[chance->rows++], log_area(chance->yard, name), ID_SIZE);
		return;
	}
	const char *id = chance->ids[dice_between(chance->dice, 0, chance->rows - 1)];
	struct store *store = chance->yard->store;
	check_ok(roll < 8 ? row_set(store, "area", id, "name", value_text(name), &why)
			  : row_strike(store, "area", id, roll == 8, &why),
		&why);
	check_ok(words_rewrite(store, "area", id, &why), &why);
}

static void random_act(struct chance *chance, int number)
{
	struct fault why = {0};
	char what[32];
	(void)snprintf(what, sizeof what, "act %d", number);
	check_ok(store_act_begin(chance->yard->store, ACT_WORK, what, &why), &why);
	const int64_t steps = dice_between(chance->dice, 1, 5);
	for (int64_t i = 0; i < steps; i++)
		random_step(chance);
	row_wrote(chance->yard->store);
	check_ok(store_act_commit(chance->yard->store, &why), &why);
}

static void any_acts_come_back_the_same(void **state)
{
	(void)state;
	struct log yard;
	struct dice dice = dice_start();
	char *seen[ACTS + 1];
	char what[TEXT_SIZE];
	struct fault why = {0};
	log_make(&yard);
	struct chance *chance = calloc(1, sizeof *chance);
	assert_non_null(chance);
	chance->yard = &yard;
	chance->dice = &dice;
	seen[0] = log_dump(&yard);
	for (int i = 1; i <= ACTS; i++) {
		random_act(chance, i);
		seen[i] = log_dump(&yard);
	}
	int at = ACTS;
	for (int move = 0; move < 150; move++) {
		const bool back = at == ACTS || (at > 0 && dice_between(&dice, 0, 1) == 0);
		check_ok(back ? store_undo(yard.store, what, &why)
			      : store_redo(yard.store, what, &why),
			&why);
		at += back ? -1 : 1;
		char *now = log_dump(&yard);
		check_text(now, seen[at], "what is seen");
		free(now);
	}
	for (int i = 0; i <= ACTS; i++)
		free(seen[i]);
	free(chance);
	log_free(&yard);
}

static void twisted_history_ends_with_a_message(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	char what[TEXT_SIZE];
	log_make(&yard);
	char id[ID_SIZE];
	memcpy(id, log_area_act(&yard, "ours"), sizeof id);
	log_rename_act(&yard, id, "next");
	log_rename_act(&yard, id, "last");
	check_undo(&yard, "last");
	check_undo(&yard, "next");
	/* the first undo undoes itself, and the second undoes that */
	log_exec(&yard, "UPDATE change_set SET undoes = id WHERE what = 'last' AND kind = 'undo'");
	log_exec(&yard,
		"UPDATE change_set SET undoes = (SELECT id FROM change_set WHERE what = 'last' "
		"AND kind = 'undo') WHERE what = 'next' AND kind = 'undo'");
	check_refused(store_redo(yard.store, what, &why), STATUS_DAMAGED, &why, "ring");
	assert_false(store_in_act(yard.store));
	log_exec(&yard, "UPDATE change SET field = 'name = 1, name'");
	check_refused(store_redo(yard.store, what, &why), STATUS_DAMAGED, &why, "field");
	log_free(&yard);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(fresh_log_has_nothing_to_undo),
		cmocka_unit_test(made_row_is_struck_and_comes_back),
		cmocka_unit_test(changed_field_is_put_back),
		cmocka_unit_test(new_work_ends_redo),
		cmocka_unit_test(undo_works_after_opening_again),
		cmocka_unit_test(act_that_made_and_struck_a_row_stays_struck),
		cmocka_unit_test(import_is_undone_whole),
		cmocka_unit_test(set_of_another_copy_is_not_ours_to_undo),
		cmocka_unit_test(later_change_of_another_copy_refuses_and_names_the_field),
		cmocka_unit_test(merge_takes_back_what_it_brought),
		cmocka_unit_test(what_hangs_on_records_is_worked_out_in_the_same_act),
		cmocka_unit_test(any_acts_come_back_the_same),
		cmocka_unit_test(twisted_history_ends_with_a_message),
	};
	return cmocka_run_group_tests_name("undo", tests, NULL, NULL) != 0;
}
