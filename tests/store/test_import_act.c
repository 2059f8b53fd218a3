/* SPDX-License-Identifier: MIT */
/* An import's act: words go into the search at its end, what stood is looked for once. Neither may
 * be told from an act in which each row was seen to at once. */
#include "store/search.h"
#include "store/sql.h"

#include <stdlib.h>
#include <string.h>

#include "support/garden.h"

static struct entry pick_of(const struct tree *tree, const char *words)
{
	struct entry entry = {.kind = KIND_PICK, .words = words, .note = ""};
	entry.subject.kind = SUBJECT_TREE;
	memcpy(entry.subject.id, tree->id, ID_SIZE);
	entry.day = date_span_of(garden_day("2026-09-01"));
	return entry;
}

static void begin(struct garden *garden, enum act_kind kind)
{
	struct fault why = {0};
	garden_make(garden, "2026-11-24");
	(void)garden_tree(garden, "A1", "apple", "2015", "");
	(void)garden_log(garden, "A1 picked 3 lb ; rotten ladder");
	check_ok(store_act_begin(garden->store, kind, "import picks", &why), &why);
}

static struct tree tree_of(struct garden *garden)
{
	struct fault why = {0};
	struct tree tree = {0};
	check_ok(store_tree_find(garden->store, "A1", &tree, &why), &why);
	return tree;
}

static void add(struct garden *garden, struct entry *entry)
{
	struct fault why = {0};
	check_ok(store_entry_add(garden->store, entry, &why), &why);
}

static int32_t found(struct garden *garden, const char *text)
{
	struct fault why = {0};
	struct arena *arena = arena_new();
	struct search_hit *hits = NULL;
	struct entry *entries = NULL;
	int32_t count = 0, again = 0;
	check_ok(store_search(garden->store, text, 99, arena, &hits, &count, &why), &why);
	check_ok(store_find(garden->store, text, 0, arena, &entries, &again, &why), &why);
	check_int(again, count, text);
	arena_free(arena);
	return count;
}

static void index_is_whole(struct garden *garden)
{
	struct fault why = {0};
	struct arena *arena = arena_new();
	struct verify_line *lines = NULL;
	int32_t count = 0;
	check_ok(store_verify(garden->store, arena, &lines, &count, &why), &why);
	for (int32_t i = 0; i < count; i++)
		check_int(lines[i].is_fault, false, lines[i].text);
	arena_free(arena);
}

static void words_of_an_import_are_found_once_it_is_saved(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {0};
	begin(&garden, ACT_IMPORT);
	struct tree tree = tree_of(&garden);
	for (int i = 0; i < 5; i++) {
		struct entry entry = pick_of(&tree, i % 2 == 0 ? "picked quince" : "picked medlar");
		add(&garden, &entry);
	}
	check_ok(store_act_commit(garden.store, &why), &why);
	check_int(found(&garden, "quince"), 3, "quince");
	check_int(found(&garden, "medlar"), 2, "medlar");
	check_int(found(&garden, "ladder"), 1, "what was there");
	index_is_whole(&garden);
	garden_free(&garden);
}

static void who_searches_within_an_import_finds_its_words(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {0};
	begin(&garden, ACT_IMPORT);
	struct tree tree = tree_of(&garden);
	struct entry entry = pick_of(&tree, "picked quince");
	add(&garden, &entry);
	check_int(found(&garden, "quince"), 1, "before the end");
	struct entry later = pick_of(&tree, "picked quince again");
	add(&garden, &later);
	check_int(found(&garden, "quince"), 2, "and the one after");
	check_ok(store_act_commit(garden.store, &why), &why);
	check_int(found(&garden, "quince"), 2, "saved");
	index_is_whole(&garden);
	garden_free(&garden);
}

static void a_row_mended_or_struck_within_its_import_is_found_as_it_stands(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {0};
	begin(&garden, ACT_IMPORT);
	struct tree tree = tree_of(&garden);
	struct entry mended = pick_of(&tree, "picked quince");
	struct entry struck = pick_of(&tree, "picked medlar");
	add(&garden, &mended);
	add(&garden, &struck);
	mended.note = "windfall";
	check_ok(store_entry_save(garden.store, &mended, &why), &why);
	check_ok(store_entry_strike(garden.store, struck.id, &why), &why);
	check_ok(store_act_commit(garden.store, &why), &why);
	check_int(found(&garden, "windfall"), 1, "as mended");
	check_int(found(&garden, "quince"), 1, "once");
	check_int(found(&garden, "medlar"), 0, "struck");
	index_is_whole(&garden);
	garden_free(&garden);
}

static void an_old_row_mended_by_an_import_is_found_as_mended(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {0};
	struct arena *arena = arena_new();
	struct entry *old = NULL;
	int32_t count = 0;
	begin(&garden, ACT_IMPORT);
	struct tree tree = tree_of(&garden);
	struct entry fresh = pick_of(&tree, "picked quince");
	add(&garden, &fresh);
	check_ok(store_find(garden.store, "ladder", 0, arena, &old, &count, &why), &why);
	check_int(count, 1, "the old one");
	old[0].words = "picked 3 lb";
	old[0].note = "mended ladder";
	check_ok(store_entry_save(garden.store, &old[0], &why), &why);
	check_ok(store_act_commit(garden.store, &why), &why);
	check_int(found(&garden, "mended"), 1, "as mended");
	check_int(found(&garden, "rotten"), 0, "no longer as before");
	index_is_whole(&garden);
	arena_free(arena);
	garden_free(&garden);
}

static void words_of_an_import_given_up_are_forgotten(void **state)
{
	(void)state;
	struct garden garden;
	begin(&garden, ACT_IMPORT);
	struct tree tree = tree_of(&garden);
	struct entry entry = pick_of(&tree, "picked quince");
	add(&garden, &entry);
	store_act_rollback(garden.store);
	check_int(found(&garden, "quince"), 0, "given up");
	(void)garden_log(&garden, "A1 picked 4 lb ; medlar beside it");
	check_int(found(&garden, "medlar"), 1, "the next act writes its own");
	index_is_whole(&garden);
	garden_free(&garden);
}

static void a_tree_struck_within_an_import_takes_no_more_entries(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {0};
	begin(&garden, ACT_IMPORT);
	struct tree tree = tree_of(&garden);
	struct entry first = pick_of(&tree, "picked quince");
	struct entry second = pick_of(&tree, "picked medlar");
	add(&garden, &first);
	check_ok(row_strike(garden.store, "tree", tree.id, true, &why), &why);
	check_refused(
		store_entry_add(garden.store, &second, &why), STATUS_ABSENT, &why, "taken back");
	store_act_rollback(garden.store);
	garden_free(&garden);
}

static void what_stood_as_a_tree_does_not_stand_as_a_spot(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {0};
	begin(&garden, ACT_IMPORT);
	struct tree tree = tree_of(&garden);
	struct entry first = pick_of(&tree, "picked quince");
	struct entry second = pick_of(&tree, "picked medlar");
	add(&garden, &first);
	second.subject.kind = SUBJECT_SPOT;
	check_refused(store_entry_add(garden.store, &second, &why), STATUS_ABSENT, &why, "spot");
	store_act_rollback(garden.store);
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(words_of_an_import_are_found_once_it_is_saved),
		cmocka_unit_test(who_searches_within_an_import_finds_its_words),
		cmocka_unit_test(a_row_mended_or_struck_within_its_import_is_found_as_it_stands),
		cmocka_unit_test(an_old_row_mended_by_an_import_is_found_as_mended),
		cmocka_unit_test(words_of_an_import_given_up_are_forgotten),
		cmocka_unit_test(a_tree_struck_within_an_import_takes_no_more_entries),
		cmocka_unit_test(what_stood_as_a_tree_does_not_stand_as_a_spot),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
