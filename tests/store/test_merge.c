/* SPDX-License-Identifier: MIT */
/* Two copies of a log edited apart and joined: each promise by itself. */
#include "support/test.h"

#include "support/pair.h"

#include <stdlib.h>
#include <string.h>

static void rows_of_both_are_there(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	yard_begin(&pair.one, "B1");
	(void)yard_tree(&pair.one, pair.arena, "B1", "");
	yard_commit(&pair.one);
	yard_begin(&pair.two, "C1");
	const char *c1 = yard_tree(&pair.two, pair.arena, "C1", "");
	(void)yard_pick(&pair.two, pair.arena, c1, "2019-01-01", 1000000);
	(void)yard_pick(&pair.two, pair.arena, pair.tree, "2019-01-01", 3000000);
	yard_commit(&pair.two);
	struct merge_account account = copies_merge(&pair.one, &pair.two, NULL);
	check_int(account.acts, 1, "acts");
	check_int(account.trees, 1, "trees");
	check_int(account.entries, 2, "entries");
	check_int(account.changed, 0, "changed");
	check_int(log_count(&pair.one, "tree"), 3, "trees there");
	check_int(log_count(&pair.one, "entry"), 3, "entries there");
	copies_verify(&pair.one, "merged");
	pair_free(&pair);
}

static void both_directions_show_the_same(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	yard_begin(&pair.one, "B1");
	(void)yard_tree(&pair.one, pair.arena, "B1", "");
	yard_commit(&pair.one);
	pair_set(&pair.one, "tree", pair.tree, "hazard", "low wire");
	pair_set(&pair.two, "tree", pair.tree, "rootstock", "M9");
	pair_set(&pair.two, "tree", pair.tree, "rootstock", "M26");
	pair_set(&pair.one, "tree", pair.tree, "note", "one");
	pair_set(&pair.two, "tree", pair.tree, "note", "two");
	pair_cross(&pair);
	pair_check(&pair.one, "tree", pair.tree, "hazard", "low wire");
	pair_check(&pair.one, "tree", pair.tree, "rootstock", "M26");
	pair_check(&pair.one, "tree", pair.tree, "note", "");
	check_int(pair_clash_count(&pair.two), 1, "clashes");
	pair_free(&pair);
}

static void twice_changes_nothing(void **state)
{
	(void)state;
	struct pair pair;
	size_t before = 0;
	size_t after = 0;
	pair_make(&pair);
	pair_set(&pair.one, "tree", pair.tree, "note", "one");
	pair_set(&pair.two, "tree", pair.tree, "note", "two");
	(void)copies_merge(&pair.one, &pair.two, NULL);
	char *first = file_read(pair.one.path, &before);
	struct merge_account account = copies_merge(&pair.one, &pair.two, NULL);
	char *second = file_read(pair.one.path, &after);
	check_int(account.acts, 0, "acts");
	check_int((int64_t)after, (int64_t)before, "size");
	assert_memory_equal(first, second, before);
	free(first);
	free(second);
	/* and the other takes from the merged one what it lacks, and no more */
	(void)copies_merge(&pair.two, &pair.one, NULL);
	account = copies_merge(&pair.one, &pair.two, NULL);
	check_int(account.acts, 0, "acts");
	pair_free(&pair);
}

static void newer_value_wins_whatever_the_clock(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	pair_set(&pair.two, "tree", pair.tree, "note", "typed by a clock of 2019");
	pair_set(&pair.two, "tree", pair.tree, "note", "typed after it");
	struct merge_account account = copies_merge(&pair.one, &pair.two, NULL);
	pair_check(&pair.one, "tree", pair.tree, "note", "typed after it");
	check_int(account.changed, 1, "changed");
	check_int(pair_clash_count(&pair.one), 0, "clashes");
	/* the one that is behind brings nothing back */
	(void)copies_merge(&pair.two, &pair.one, NULL);
	pair_check(&pair.two, "tree", pair.tree, "note", "typed after it");
	pair_free(&pair);
}

static void same_value_on_both_sides_is_no_clash(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	pair_set(&pair.one, "tree", pair.tree, "note", "wire");
	pair_set(&pair.two, "tree", pair.tree, "note", "wire");
	pair_cross(&pair);
	check_int(pair_clash_count(&pair.one), 0, "clashes");
	pair_check(&pair.one, "tree", pair.tree, "note", "wire");
	/* and what is typed after it replaces both */
	pair_set(&pair.one, "tree", pair.tree, "note", "wire gone");
	(void)copies_merge(&pair.two, &pair.one, NULL);
	pair_check(&pair.two, "tree", pair.tree, "note", "wire gone");
	check_int(pair_clash_count(&pair.two), 0, "clashes");
	pair_free(&pair);
}

static void edited_entry_stands_though_it_was_struck(void **state)
{
	(void)state;
	for (int which = 0; which < 2; which++) {
		struct pair pair;
		pair_make(&pair);
		pair_strike(which == 0 ? &pair.one : &pair.two, pair.pick);
		pair_set(which == 0 ? &pair.two : &pair.one, "entry", pair.pick, "note", "edited");
		struct log was;
		copies_fork(&pair.one, &was, "2026-01-01", 5);
		struct merge_account account = copies_merge(&pair.one, &pair.two, pair.arena);
		check_int(account.counts[MERGE_NOTE_KEPT], 1, "told");
		check_has(account.notes[0].text, "A1 picked a basket (2025-06-01)", "which");
		pair_check(&pair.one, "entry", pair.pick, "struck", "0");
		pair_check(&pair.one, "entry", pair.pick, "note", "edited");
		account = copies_merge(&pair.two, &was, pair.arena);
		check_int(account.counts[MERGE_NOTE_KEPT], 1, "told");
		char *one = copies_seen(&pair.one);
		char *two = copies_seen(&pair.two);
		check_text(two, one, "either direction");
		free(one);
		free(two);
		check_int(copies_merge(&pair.one, &pair.two, NULL).acts, 0, "nothing left");
		copies_verify(&pair.one, "one");
		/* struck by one who saw the edit it is struck */
		pair_strike(&pair.one, pair.pick);
		(void)copies_merge(&pair.two, &pair.one, NULL);
		pair_check(&pair.two, "entry", pair.pick, "struck", "1");
		log_free(&was);
		pair_free(&pair);
	}
}

static void struck_entry_that_nobody_edited_is_struck(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	pair_strike(&pair.one, pair.pick);
	pair_set(&pair.two, "tree", pair.tree, "note", "another matter");
	pair_cross(&pair);
	pair_check(&pair.two, "entry", pair.pick, "struck", "1");
	check_int(pair_clash_count(&pair.one), 0, "clashes");
	pair_free(&pair);
}

/* The tree's making was undone here, while there a pick was logged on it. */
static void tree_stands_that_the_other_logged_on(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	pair_undo(&pair.one);
	pair_check(&pair.one, "tree", pair.tree, "struck", "1");
	yard_begin(&pair.two, "pick");
	const char *pick = yard_pick(&pair.two, pair.arena, pair.tree, "2019-01-01", 1000000);
	yard_commit(&pair.two);
	pair_cross(&pair);
	pair_check(&pair.one, "tree", pair.tree, "struck", "0");
	pair_check(&pair.one, "entry", pick, "struck", "0");
	pair_check(&pair.two, "entry", pair.pick, "struck", "1");
	pair_free(&pair);
}

/* An undone entry takes its amounts with it, and they come back with it. */
static void parts_stand_with_their_entry(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	yard_begin(&pair.one, "pick");
	const char *pick = yard_pick(&pair.one, pair.arena, pair.tree, "2026-05-01", 4000000);
	yard_commit(&pair.one);
	(void)copies_merge(&pair.two, &pair.one, NULL);
	pair_undo(&pair.one);
	pair_set(&pair.two, "entry", pick, "note", "a good day");
	pair_cross(&pair);
	pair_check(&pair.one, "entry", pick, "struck", "0");
	check_int(log_one(&pair.one,
			  "SELECT count(*) FROM amount WHERE struck = 0 AND low = 4000000"),
		1, "weight");
	pair_free(&pair);
}

static void same_label_twice_is_kept_and_told(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	yard_begin(&pair.one, "B1");
	(void)yard_tree(&pair.one, pair.arena, "B1", "");
	yard_commit(&pair.one);
	yard_begin(&pair.two, "b1");
	(void)yard_tree(&pair.two, pair.arena, "b1", "");
	yard_commit(&pair.two);
	struct merge_account account = copies_merge(&pair.one, &pair.two, pair.arena);
	check_int(account.counts[MERGE_NOTE_LABEL], 1, "told");
	check_text(account.notes[0].text, "B1: 2 trees have it", "note");
	check_int(log_count(&pair.one, "tree"), 3, "trees");
	copies_verify(&pair.one, "merged");
	pair_free(&pair);
}

static void likely_doubles_are_told(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	for (int i = 0; i < 2; i++) {
		struct log *yard = i == 0 ? &pair.one : &pair.two;
		yard_begin(yard, "picks");
		(void)yard_pick(yard, pair.arena, pair.tree, "2026-05-01", 4000000);
		(void)yard_pick(yard, pair.arena, pair.tree, "2026-05-02", i == 0 ? 1 : 2);
		yard_commit(yard);
	}
	struct merge_account account = copies_merge(&pair.one, &pair.two, pair.arena);
	check_int(account.counts[MERGE_NOTE_DOUBLE], 1, "told");
	check_has(account.notes[0].text, "A1 picked a basket (2026-05-01)", "note");
	check_int(log_count(&pair.one, "entry"), 5, "both are kept");
	pair_free(&pair);
}

static void what_was_said_on_both_sides_is_told(void **state)
{
	(void)state;
	struct pair pair;
	struct fault why = {0};
	pair_make(&pair);
	for (int i = 0; i < 2; i++) {
		struct log *yard = i == 0 ? &pair.one : &pair.two;
		struct identity identity = {.sure = SURE_CERTAIN};
		(void)snprintf(identity.tree_id, sizeof identity.tree_id, "%s", pair.tree);
		(void)snprintf(identity.name, sizeof identity.name, i == 0 ? "fig" : "quince");
		yard_begin(yard, "what it is");
		check_ok(store_identity_add(yard->store, &identity, &why), &why);
		yard_commit(yard);
	}
	struct merge_account account = copies_merge(&pair.one, &pair.two, pair.arena);
	check_int(account.counts[MERGE_NOTE_APART], 1, "told");
	check_text(account.notes[0].text, "A1, species: \"fig\" here, \"quince\" there", "note");
	pair_free(&pair);
}

static void log_without_a_shared_start_is_added_when_asked(void **state)
{
	(void)state;
	struct pair pair;
	struct log stranger;
	struct fault why = {0};
	struct merge_account account = {0};
	pair_make(&pair);
	const struct place place = {.name = "Another yard"};
	stranger = (struct log){
		.scratch = scratch_make(), .clock = clock_seeded(yard_day("2020-01-01"), 4)};
	(void)scratch_path(&stranger.scratch, "yard.bough", stranger.path);
	const struct store_options options = {.clock = &stranger.clock};
	check_ok(store_create(stranger.path, &options, &place, &stranger.store, &why), &why);
	yard_begin(&stranger, "A1");
	(void)yard_tree(&stranger, pair.arena, "A1", "");
	yard_commit(&stranger);
	check_refused(copies_try(&pair.one, stranger.path, &account, &why), STATUS_CONFLICT, &why,
		"--unrelated");
	check_ok(store_act_begin(pair.one.store, ACT_MERGE, "merge", &why), &why);
	check_ok(
		store_merge(pair.one.store, stranger.path, true, pair.arena, &account, &why), &why);
	check_ok(store_act_commit(pair.one.store, &why), &why);
	check_int(account.trees, 1, "trees");
	check_int(account.counts[MERGE_NOTE_LABEL], 1, "labels twice");
	check_int(log_one(&pair.one, "SELECT count(*) FROM place WHERE name = 'Hill yard'"), 1,
		"the place stays");
	copies_verify(&pair.one, "added");
	/* from now on they share acts, and merge as any copies do */
	check_int(copies_merge(&pair.one, &stranger, NULL).acts, 0, "acts");
	log_free(&stranger);
	pair_free(&pair);
}

/* --- files that are not to be taken in --- */

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(rows_of_both_are_there),
		cmocka_unit_test(both_directions_show_the_same),
		cmocka_unit_test(twice_changes_nothing),
		cmocka_unit_test(newer_value_wins_whatever_the_clock),
		cmocka_unit_test(same_value_on_both_sides_is_no_clash),
		cmocka_unit_test(edited_entry_stands_though_it_was_struck),
		cmocka_unit_test(struck_entry_that_nobody_edited_is_struck),
		cmocka_unit_test(tree_stands_that_the_other_logged_on),
		cmocka_unit_test(parts_stand_with_their_entry),
		cmocka_unit_test(same_label_twice_is_kept_and_told),
		cmocka_unit_test(likely_doubles_are_told),
		cmocka_unit_test(what_was_said_on_both_sides_is_told),
		cmocka_unit_test(log_without_a_shared_start_is_added_when_asked),
	};
	return cmocka_run_group_tests_name("merge", tests, NULL, NULL);
}
