/* SPDX-License-Identifier: MIT */
/* Acts: one change set and one transaction each. */
#include "support/test.h"

#include "support/log.h"

#include <string.h>

static void act_that_changed_nothing_leaves_no_set(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	const int64_t before = log_count(&yard, "change_set");
	struct fault why;
	check_ok(store_act_begin(yard.store, ACT_WORK, "nothing", &why), &why);
	assert_true(store_in_act(yard.store));
	check_ok(store_act_commit(yard.store, &why), &why);
	assert_false(store_in_act(yard.store));
	check_int(log_count(&yard, "change_set"), before, "sets");
	log_free(&yard);
}

static void act_that_only_moved_season_turns_leaves_no_set(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	const int64_t before = log_count(&yard, "change_set");
	struct fault why;
	check_ok(store_act_begin(yard.store, ACT_WORK, "turns", &why), &why);
	log_exec(&yard, "INSERT INTO walk (key, value) VALUES ('position', 'A3')");
	check_ok(store_act_commit(yard.store, &why), &why);
	check_int(log_count(&yard, "change_set"), before, "sets");
	check_int(log_count(&yard, "walk"), 1, "walk");
	log_free(&yard);
}

static void rolled_back_act_leaves_nothing(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct fault why;
	check_ok(store_act_begin(yard.store, ACT_WORK, "adds", &why), &why);
	log_area(&yard, "by the gate");
	store_act_rollback(yard.store);
	check_int(log_count(&yard, "area"), 0, "areas");
	check_int(log_count(&yard, "change_set"), 1, "sets");
	log_free(&yard);
}

static void closing_takes_an_open_act_back(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct fault why;
	check_ok(store_act_begin(yard.store, ACT_WORK, "adds", &why), &why);
	log_area(&yard, "by the gate");
	log_reopen(&yard);
	check_int(log_count(&yard, "area"), 0, "areas");
	log_free(&yard);
}

static void changed_field_names_the_change_it_replaced(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct fault why;
	const char *id = log_area_act(&yard, "north");
	const char *const names[] = {"south", "south", "west"};
	for (int i = 0; i < 3; i++)
		log_rename_act(&yard, id, names[i]);
	check_int(log_count(&yard, "change"), 2, "changes");
	check_int(
		log_one(&yard, "SELECT count(*) FROM change WHERE prev IS NULL AND old = 'north'"),
		1, "first");
	check_int(log_one(&yard, "SELECT count(*) FROM change c JOIN change p ON p.id = c.prev "
				 "WHERE c.old = 'south' AND c.new = 'west' AND p.new = 'south'"),
		1, "second");
	const struct row_change nobody = {"area", "00000000000000000000000000", "name"};
	check_refused(log_try_set(&yard, &nobody, "x", &why), STATUS_ABSENT, &why, "area");
	log_free(&yard);
}

static void long_name_of_an_act_is_cut_between_characters(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct fault why;
	char what[1001];
	for (int i = 0; i < 1000; i += 2)
		memcpy(what + i, "\xC3\xA9", 2);
	what[1000] = '\0';
	memcpy(what, "a", 1);
	memmove(what + 1, what + 2, 999);
	check_ok(store_act_begin(yard.store, ACT_WORK, what, &why), &why);
	log_area(&yard, "gate");
	check_ok(store_act_commit(yard.store, &why), &why);
	check_int(log_one(&yard, "SELECT length(CAST(what AS BLOB)) FROM change_set "
				 "ORDER BY row DESC LIMIT 1"),
		399, "bytes");
	log_free(&yard);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(act_that_changed_nothing_leaves_no_set),
		cmocka_unit_test(act_that_only_moved_season_turns_leaves_no_set),
		cmocka_unit_test(rolled_back_act_leaves_nothing),
		cmocka_unit_test(closing_takes_an_open_act_back),
		cmocka_unit_test(changed_field_names_the_change_it_replaced),
		cmocka_unit_test(long_name_of_an_act_is_cut_between_characters),
	};
	return cmocka_run_group_tests_name("act", tests, NULL, NULL) != 0;
}
