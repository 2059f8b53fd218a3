/* SPDX-License-Identifier: MIT */
/* The story of a record, and the acts of a log. */
#include "support/test.h"

#include "support/yard.h"

#include <stdlib.h>
#include <string.h>

struct told {
	struct change_row *rows;
	int32_t count;
};

static struct told tell(struct log *yard, struct arena *arena, const char *id, int32_t most)
{
	struct fault why = {0};
	struct told told = {0};
	check_ok(store_history(yard->store, id, most, arena, &told.rows, &told.count, &why), &why);
	return told;
}

static void check_row(const struct change_row *row, const char *const want[6])
{
	check_text(row->kind, want[0], "kind");
	check_text(row->what, want[1], "what");
	check_text(row->table_name, want[2], "table");
	check_text(row->field, want[3], "field");
	check_text(row->old_value, want[4], "old");
	check_text(row->new_value, want[5], "new");
	check_int((int64_t)strlen(row->set_id), 26, "set");
	check_has(row->typed_at, "T", "typed at");
}

static void record_tells_its_making_changes_and_undos(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	char what[TEXT_SIZE];
	char id[ID_SIZE];
	struct arena *arena = arena_new();
	log_make(&yard);
	memcpy(id, log_area_act(&yard, "north"), sizeof id);
	log_rename_act(&yard, id, "south");
	check_ok(store_undo(yard.store, what, &why), &why);
	check_ok(store_redo(yard.store, what, &why), &why);
	const char *const want[][6] = {
		{"act", "north", "area", "", NULL, NULL},
		{"act", "south", "area", "name", "north", "south"},
		{"undo", "south", "area", "name", "south", "north"},
		{"redo", "south", "area", "name", "north", "south"},
	};
	const struct told told = tell(&yard, arena, id, 0);
	check_int(told.count, 4, "rows");
	for (int32_t i = 0; i < 4; i++)
		check_row(&told.rows[i], want[i]);
	arena_free(arena);
	log_free(&yard);
}

static void tree_tells_what_hangs_on_it(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	struct arena *arena = arena_new();
	log_make(&yard);
	yard_begin(&yard, "planted");
	const char *tree = yard_tree(&yard, arena, "A1", yard_spot(&yard, arena, "H1"));
	yard_commit(&yard);
	yard_begin(&yard, "identified");
	struct identity identity = {.name = "malus", .sure = SURE_SUSPECTED};
	memcpy(identity.tree_id, tree, ID_SIZE);
	check_ok(store_identity_add(yard.store, &identity, &why), &why);
	yard_commit(&yard);
	const struct told told = tell(&yard, arena, tree, 0);
	check_int(told.count, 2, "rows"); /* the spot it was planted in comes with the making */
	check_text(told.rows[0].table_name, "tree", "made");
	check_text(told.rows[1].table_name, "identity", "later");
	check_text(told.rows[1].what, "identified", "later");
	arena_free(arena);
	log_free(&yard);
}

static void acts_of_the_log_come_newest_first(void **state)
{
	(void)state;
	struct log yard;
	struct arena *arena = arena_new();
	log_make(&yard);
	for (int i = 0; i < 5; i++)
		log_area_act(&yard, (const char[]){(char)('a' + i), '\0'});
	struct told told = tell(&yard, arena, NULL, 0);
	check_int(told.count, 6, "all");
	check_text(told.rows[0].what, "e", "newest");
	check_text(told.rows[5].what, "began the log", "oldest");
	told = tell(&yard, arena, NULL, 2);
	check_int(told.count, 2, "at most two");
	check_text(told.rows[1].what, "d", "second");
	told = tell(&yard, arena, "00000000000000000000000000", 0);
	check_int(told.count, 0, "of nobody");
	arena_free(arena);
	log_free(&yard);
}

static void last_change_is_the_newest_set(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	char first[ID_SIZE];
	char second[ID_SIZE];
	log_make(&yard);
	check_ok(store_last_change(yard.store, first, &why), &why);
	check_int((int64_t)strlen(first), 26, "of a new log");
	check_ok(store_act_begin(yard.store, ACT_WORK, "nothing", &why), &why);
	check_ok(store_act_commit(yard.store, &why), &why);
	check_ok(store_last_change(yard.store, second, &why), &why);
	check_text(second, first, "after an act that changed nothing");
	log_area_act(&yard, "gate");
	check_ok(store_last_change(yard.store, second, &why), &why);
	assert_string_not_equal(second, first);
	log_free(&yard);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(record_tells_its_making_changes_and_undos),
		cmocka_unit_test(tree_tells_what_hangs_on_it),
		cmocka_unit_test(acts_of_the_log_come_newest_first),
		cmocka_unit_test(last_change_is_the_newest_set),
	};
	return cmocka_run_group_tests_name("history", tests, NULL, NULL) != 0;
}
