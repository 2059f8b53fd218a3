/* SPDX-License-Identifier: MIT */
/* Two copies of a log edited apart and joined: each promise by itself. */
#include "support/test.h"

#include "support/copies.h"

#include "store/clash.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* A log with a tree A1 and a pick on it, and two copies of it. The second's clock is years behind,
 * so that what is typed there later seems older. */
struct pair {
	struct log one;
	struct log two;
	struct arena *arena;
	const char *tree;
	const char *pick;
};

static void pair_make(struct pair *pair)
{
	*pair = (struct pair){.arena = arena_new()};
	log_make(&pair->one);
	yard_begin(&pair->one, "A1");
	pair->tree = yard_tree(&pair->one, pair->arena, "A1", "");
	pair->pick = yard_pick(&pair->one, pair->arena, pair->tree, "2025-06-01", 2000000);
	yard_commit(&pair->one);
	copies_fork(&pair->one, &pair->two, "2019-01-02", 99);
}

static void pair_free(struct pair *pair)
{
	log_free(&pair->one);
	log_free(&pair->two);
	arena_free(pair->arena);
}

static void set_text(
	struct log *yard, const char *table, const char *id, const char *field, const char *text)
{
	struct fault why = {0};
	const struct row_change change = {.table = table, .id = id, .field = field};
	check_ok(log_try_set(yard, &change, text, &why), &why);
}

static char *text_of(struct log *yard, const char *table, const char *id, const char *field)
{
	struct fault why = {0};
	struct arena *arena = arena_new();
	const char *text = NULL;
	const struct row_change change = {.table = table, .id = id, .field = field};
	check_ok(row_read(yard->store, &change, arena, &text, &why), &why);
	char *copy = strdup(text == NULL ? "NULL" : text);
	arena_free(arena);
	return copy;
}

static void check_field(
	struct log *yard, const char *table, const char *id, const char *field, const char *want)
{
	char *now = text_of(yard, table, id, field);
	check_text(now, want, field);
	free(now);
}

static void strike(struct log *yard, const char *entry)
{
	struct fault why = {0};
	yard_begin(yard, "strike");
	check_ok(store_entry_strike(yard->store, entry, &why), &why);
	yard_commit(yard);
}

static void undo(struct log *yard)
{
	struct fault why = {0};
	char what[TEXT_SIZE];
	check_ok(store_undo(yard->store, what, &why), &why);
}

static void redo(struct log *yard)
{
	struct fault why = {0};
	char what[TEXT_SIZE];
	check_ok(store_redo(yard->store, what, &why), &why);
}

static int32_t clash_count(struct log *yard)
{
	struct fault why = {0};
	int32_t count = 0;
	check_ok(store_clash_count(yard->store, &count, &why), &why);
	return count;
}

/* Settles the only clash: side -1 the value from before. */
static void keep(struct log *yard, int32_t side)
{
	struct fault why = {0};
	struct arena *arena = arena_new();
	struct clash *list = NULL;
	int32_t count = 0;
	check_ok(store_clash_list(yard->store, arena, &list, &count, &why), &why);
	check_int(count, 1, "clashes");
	yard_begin(yard, "keep");
	check_ok(store_clash_keep(yard->store, &list[0], side, &why), &why);
	yard_commit(yard);
	arena_free(arena);
}

/* The side of the only clash that says this in its first field. */
static int32_t side_that_says(struct log *yard, const char *value)
{
	struct fault why = {0};
	struct arena *arena = arena_new();
	struct clash *list = NULL;
	int32_t count = 0;
	int32_t side = -1;
	check_ok(store_clash_list(yard->store, arena, &list, &count, &why), &why);
	for (int32_t i = 0; count == 1 && i < list[0].side_count; i++)
		if (strcmp(list[0].fields[0].values[i], value) == 0)
			side = i;
	arena_free(arena);
	assert_true(side >= 0);
	return side;
}

/* Both files merged with what the other was before: the same is seen in both. */
static void cross(struct pair *pair)
{
	struct log was;
	copies_fork(&pair->one, &was, "2026-01-01", 5);
	(void)copies_merge(&pair->one, &pair->two, NULL);
	(void)copies_merge(&pair->two, &was, NULL);
	char *one = copies_seen(&pair->one);
	char *two = copies_seen(&pair->two);
	check_text(two, one, "either direction");
	copies_verify(&pair->one, "one");
	copies_verify(&pair->two, "two");
	free(one);
	free(two);
	log_free(&was);
}

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
	set_text(&pair.one, "tree", pair.tree, "hazard", "low wire");
	set_text(&pair.two, "tree", pair.tree, "rootstock", "M9");
	set_text(&pair.two, "tree", pair.tree, "rootstock", "M26");
	set_text(&pair.one, "tree", pair.tree, "note", "one");
	set_text(&pair.two, "tree", pair.tree, "note", "two");
	cross(&pair);
	check_field(&pair.one, "tree", pair.tree, "hazard", "low wire");
	check_field(&pair.one, "tree", pair.tree, "rootstock", "M26");
	check_field(&pair.one, "tree", pair.tree, "note", "");
	check_int(clash_count(&pair.two), 1, "clashes");
	pair_free(&pair);
}

static void twice_changes_nothing(void **state)
{
	(void)state;
	struct pair pair;
	size_t before = 0;
	size_t after = 0;
	pair_make(&pair);
	set_text(&pair.one, "tree", pair.tree, "note", "one");
	set_text(&pair.two, "tree", pair.tree, "note", "two");
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
	set_text(&pair.two, "tree", pair.tree, "note", "typed by a clock of 2019");
	set_text(&pair.two, "tree", pair.tree, "note", "typed after it");
	struct merge_account account = copies_merge(&pair.one, &pair.two, NULL);
	check_field(&pair.one, "tree", pair.tree, "note", "typed after it");
	check_int(account.changed, 1, "changed");
	check_int(clash_count(&pair.one), 0, "clashes");
	/* the one that is behind brings nothing back */
	(void)copies_merge(&pair.two, &pair.one, NULL);
	check_field(&pair.two, "tree", pair.tree, "note", "typed after it");
	pair_free(&pair);
}

static void same_value_on_both_sides_is_no_clash(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	set_text(&pair.one, "tree", pair.tree, "note", "wire");
	set_text(&pair.two, "tree", pair.tree, "note", "wire");
	cross(&pair);
	check_int(clash_count(&pair.one), 0, "clashes");
	check_field(&pair.one, "tree", pair.tree, "note", "wire");
	/* and what is typed after it replaces both */
	set_text(&pair.one, "tree", pair.tree, "note", "wire gone");
	(void)copies_merge(&pair.two, &pair.one, NULL);
	check_field(&pair.two, "tree", pair.tree, "note", "wire gone");
	check_int(clash_count(&pair.two), 0, "clashes");
	pair_free(&pair);
}

static void clash_shows_the_common_ancestor(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	set_text(&pair.one, "tree", pair.tree, "note", "agreed");
	(void)copies_merge(&pair.two, &pair.one, NULL);
	set_text(&pair.one, "tree", pair.tree, "note", "one");
	set_text(&pair.two, "tree", pair.tree, "note", "two");
	set_text(&pair.two, "tree", pair.tree, "note", "two again");
	cross(&pair);
	check_field(&pair.one, "tree", pair.tree, "note", "agreed");
	check_int(clash_count(&pair.one), 1, "clashes");
	(void)side_that_says(&pair.one, "one");
	(void)side_that_says(&pair.one, "two again");
	pair_free(&pair);
}

static void clash_settled_in_one_file_is_settled_in_the_other(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	set_text(&pair.one, "tree", pair.tree, "note", "one");
	set_text(&pair.two, "tree", pair.tree, "note", "two");
	cross(&pair);
	keep(&pair.one, side_that_says(&pair.one, "two"));
	check_field(&pair.one, "tree", pair.tree, "note", "two");
	check_int(clash_count(&pair.one), 0, "clashes");
	copies_verify(&pair.one, "settled");
	(void)copies_merge(&pair.two, &pair.one, NULL);
	check_field(&pair.two, "tree", pair.tree, "note", "two");
	check_int(clash_count(&pair.two), 0, "clashes there");
	copies_verify(&pair.two, "settled there");
	/* one head from now on: a later change on one side just follows */
	set_text(&pair.two, "tree", pair.tree, "note", "later");
	(void)copies_merge(&pair.one, &pair.two, NULL);
	check_field(&pair.one, "tree", pair.tree, "note", "later");
	check_int(clash_count(&pair.one), 0, "clashes after it");
	pair_free(&pair);
}

static void value_from_before_can_be_kept(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	set_text(&pair.one, "tree", pair.tree, "note", "one");
	set_text(&pair.two, "tree", pair.tree, "note", "two");
	(void)copies_merge(&pair.one, &pair.two, NULL);
	keep(&pair.one, -1);
	check_int(clash_count(&pair.one), 0, "clashes");
	(void)copies_merge(&pair.two, &pair.one, NULL);
	check_field(&pair.two, "tree", pair.tree, "note", "");
	check_int(clash_count(&pair.two), 0, "clashes there");
	undo(&pair.one);
	check_int(clash_count(&pair.one), 1, "open again");
	check_field(&pair.one, "tree", pair.tree, "note", "");
	(void)copies_merge(&pair.two, &pair.one, NULL);
	check_int(clash_count(&pair.two), 1, "open again there");
	pair_free(&pair);
}

static void settling_is_undone_and_done_again(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	set_text(&pair.one, "tree", pair.tree, "note", "one");
	set_text(&pair.two, "tree", pair.tree, "note", "two");
	(void)copies_merge(&pair.one, &pair.two, NULL);
	char *open = copies_seen(&pair.one);
	keep(&pair.one, side_that_says(&pair.one, "one"));
	char *settled = copies_seen(&pair.one);
	undo(&pair.one);
	char *again = copies_seen(&pair.one);
	check_text(again, open, "undone");
	copies_verify(&pair.one, "undone");
	free(again);
	(void)copies_merge(&pair.two, &pair.one, NULL);
	check_int(clash_count(&pair.two), 1, "open there");
	redo(&pair.one);
	again = copies_seen(&pair.one);
	check_text(again, settled, "done again");
	(void)copies_merge(&pair.two, &pair.one, NULL);
	check_int(clash_count(&pair.two), 0, "settled there");
	check_field(&pair.two, "tree", pair.tree, "note", "one");
	copies_verify(&pair.two, "done again there");
	free(open);
	free(settled);
	free(again);
	pair_free(&pair);
}

static void editing_a_clashed_field_settles_it(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	set_text(&pair.one, "tree", pair.tree, "note", "one");
	set_text(&pair.two, "tree", pair.tree, "note", "two");
	cross(&pair);
	set_text(&pair.one, "tree", pair.tree, "note", "three");
	check_int(clash_count(&pair.one), 0, "clashes");
	(void)copies_merge(&pair.two, &pair.one, NULL);
	check_field(&pair.two, "tree", pair.tree, "note", "three");
	check_int(clash_count(&pair.two), 0, "clashes there");
	/* an edit of another field does not */
	set_text(&pair.one, "tree", pair.tree, "rootstock", "one");
	set_text(&pair.two, "tree", pair.tree, "rootstock", "two");
	(void)copies_merge(&pair.one, &pair.two, NULL);
	set_text(&pair.one, "tree", pair.tree, "hazard", "wire");
	check_int(clash_count(&pair.one), 1, "clashes");
	pair_free(&pair);
}

static void both_settle_otherwise(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	set_text(&pair.one, "tree", pair.tree, "note", "one");
	set_text(&pair.two, "tree", pair.tree, "note", "two");
	cross(&pair);
	keep(&pair.one, side_that_says(&pair.one, "one"));
	keep(&pair.two, side_that_says(&pair.two, "two"));
	cross(&pair);
	check_int(clash_count(&pair.one), 1, "clashes");
	check_field(&pair.one, "tree", pair.tree, "note", "");
	pair_free(&pair);
}

static void save_planted(struct log *yard, const char *id, const char *planted)
{
	struct fault why = {0};
	struct tree tree;
	check_ok(store_tree_load(yard->store, id, &tree, &why), &why);
	tree.planted = yard_span(planted);
	yard_begin(yard, planted);
	check_ok(store_tree_save(yard->store, &tree, &why), &why);
	yard_commit(yard);
}

/* planted_low and planted_high only say again what planted says. */
static void day_and_its_bounds_go_together(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	save_planted(&pair.one, pair.tree, "2015");
	(void)copies_merge(&pair.two, &pair.one, NULL);
	save_planted(&pair.one, pair.tree, "2015~");
	save_planted(&pair.two, pair.tree, "2017-03");
	cross(&pair);
	check_field(&pair.one, "tree", pair.tree, "planted", "2015");
	check_field(&pair.two, "tree", pair.tree, "planted_low", "2015-01-01");
	check_int(clash_count(&pair.one), 1, "one clash, not three");
	keep(&pair.one, side_that_says(&pair.one, "2017-03"));
	check_field(&pair.one, "tree", pair.tree, "planted_low", "2017-03-01");
	check_field(&pair.one, "tree", pair.tree, "planted_high", "2017-03-31");
	copies_verify(&pair.one, "settled");
	(void)copies_merge(&pair.two, &pair.one, NULL);
	char *one = copies_seen(&pair.one);
	char *two = copies_seen(&pair.two);
	check_text(two, one, "both");
	free(one);
	free(two);
	pair_free(&pair);
}

static void edited_entry_stands_though_it_was_struck(void **state)
{
	(void)state;
	for (int which = 0; which < 2; which++) {
		struct pair pair;
		pair_make(&pair);
		strike(which == 0 ? &pair.one : &pair.two, pair.pick);
		set_text(which == 0 ? &pair.two : &pair.one, "entry", pair.pick, "note", "edited");
		struct log was;
		copies_fork(&pair.one, &was, "2026-01-01", 5);
		struct merge_account account = copies_merge(&pair.one, &pair.two, pair.arena);
		check_int(account.counts[MERGE_NOTE_KEPT], 1, "told");
		check_has(account.notes[0].text, "A1 picked a basket (2025-06-01)", "which");
		check_field(&pair.one, "entry", pair.pick, "struck", "0");
		check_field(&pair.one, "entry", pair.pick, "note", "edited");
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
		strike(&pair.one, pair.pick);
		(void)copies_merge(&pair.two, &pair.one, NULL);
		check_field(&pair.two, "entry", pair.pick, "struck", "1");
		log_free(&was);
		pair_free(&pair);
	}
}

static void struck_entry_that_nobody_edited_is_struck(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	strike(&pair.one, pair.pick);
	set_text(&pair.two, "tree", pair.tree, "note", "another matter");
	cross(&pair);
	check_field(&pair.two, "entry", pair.pick, "struck", "1");
	check_int(clash_count(&pair.one), 0, "clashes");
	pair_free(&pair);
}

/* The tree's making was undone here, while there a pick was logged on it. */
static void tree_stands_that_the_other_logged_on(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	undo(&pair.one);
	check_field(&pair.one, "tree", pair.tree, "struck", "1");
	yard_begin(&pair.two, "pick");
	const char *pick = yard_pick(&pair.two, pair.arena, pair.tree, "2019-01-01", 1000000);
	yard_commit(&pair.two);
	cross(&pair);
	check_field(&pair.one, "tree", pair.tree, "struck", "0");
	check_field(&pair.one, "entry", pick, "struck", "0");
	check_field(&pair.two, "entry", pair.pick, "struck", "1");
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
	undo(&pair.one);
	set_text(&pair.two, "entry", pick, "note", "a good day");
	cross(&pair);
	check_field(&pair.one, "entry", pick, "struck", "0");
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

static void undo_takes_the_whole_merge_back(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	set_text(&pair.one, "tree", pair.tree, "note", "one");
	strike(&pair.one, pair.pick);
	set_text(&pair.two, "tree", pair.tree, "note", "two");
	set_text(&pair.two, "tree", pair.tree, "rootstock", "M9");
	set_text(&pair.two, "entry", pair.pick, "note", "edited");
	yard_begin(&pair.two, "B1");
	(void)yard_tree(&pair.two, pair.arena, "B1", "");
	yard_commit(&pair.two);
	char *before = copies_seen(&pair.one);
	(void)copies_merge(&pair.one, &pair.two, NULL);
	char *merged = copies_seen(&pair.one);
	undo(&pair.one);
	char *after = copies_seen(&pair.one);
	check_text(after, before, "undone");
	copies_verify(&pair.one, "undone");
	free(after);
	redo(&pair.one);
	after = copies_seen(&pair.one);
	check_text(after, merged, "done again");
	copies_verify(&pair.one, "done again");
	free(after);
	undo(&pair.one);
	/* the next undo takes the grower's own last act, not one of the other copy's */
	undo(&pair.one);
	check_field(&pair.one, "entry", pair.pick, "struck", "0");
	free(before);
	free(merged);
	pair_free(&pair);
}

/* Merged, found wrong, undone, put right, merged again: it comes again. */
static void undone_merge_can_be_made_again(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	set_text(&pair.two, "tree", pair.tree, "note", "two");
	yard_begin(&pair.two, "B1");
	const char *b1 = yard_tree(&pair.two, pair.arena, "B1", "");
	yard_commit(&pair.two);
	(void)copies_merge(&pair.one, &pair.two, NULL);
	undo(&pair.one);
	set_text(&pair.one, "tree", pair.tree, "hazard", "wire");
	set_text(&pair.two, "tree", b1, "note", "by the gate");
	char *before = copies_seen(&pair.one);
	struct merge_account account = copies_merge(&pair.one, &pair.two, NULL);
	check_int(account.acts, 3, "acts");
	check_field(&pair.one, "tree", pair.tree, "note", "two");
	check_field(&pair.one, "tree", b1, "struck", "0");
	check_field(&pair.one, "tree", b1, "note", "by the gate");
	copies_verify(&pair.one, "merged again");
	undo(&pair.one);
	char *after = copies_seen(&pair.one);
	check_text(after, before, "undone again");
	copies_verify(&pair.one, "undone again");
	free(before);
	free(after);
	pair_free(&pair);
}

/* That I took a merge back is nothing to the other copy: its own work stays. */
static void undone_merge_strikes_nothing_elsewhere(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	yard_begin(&pair.two, "B1");
	const char *b1 = yard_tree(&pair.two, pair.arena, "B1", "");
	yard_commit(&pair.two);
	(void)copies_merge(&pair.one, &pair.two, NULL);
	undo(&pair.one);
	set_text(&pair.one, "tree", pair.tree, "note", "one");
	struct merge_account account = copies_merge(&pair.two, &pair.one, NULL);
	check_int(account.acts, 1, "acts");
	check_field(&pair.two, "tree", b1, "struck", "0");
	check_field(&pair.two, "tree", pair.tree, "note", "one");
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
	set_text(&pair.two, "tree", pair.tree, "note", "new there");
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
	set_text(&pair.two, "tree", pair.tree, "note", "two");
	log_close(&pair.two);
	log_file_exec(pair.two.path,
		"CREATE TABLE mine (x); INSERT INTO mine VALUES (1); "
		"CREATE VIEW bad AS SELECT * FROM nowhere; "
		"CREATE TRIGGER evil AFTER INSERT ON tree BEGIN DELETE FROM entry; END");
	(void)copies_merge(&pair.one, &pair.two, NULL);
	check_field(&pair.one, "tree", pair.tree, "note", "two");
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
	set_text(&pair.two, "tree", pair.tree, "note", "saved");
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
	check_field(&pair.one, "tree", pair.tree, "note", "saved");
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
	set_text(&pair.two, "tree", pair.tree, "note", "two");
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
		cmocka_unit_test(rows_of_both_are_there),
		cmocka_unit_test(both_directions_show_the_same),
		cmocka_unit_test(twice_changes_nothing),
		cmocka_unit_test(newer_value_wins_whatever_the_clock),
		cmocka_unit_test(same_value_on_both_sides_is_no_clash),
		cmocka_unit_test(clash_shows_the_common_ancestor),
		cmocka_unit_test(clash_settled_in_one_file_is_settled_in_the_other),
		cmocka_unit_test(value_from_before_can_be_kept),
		cmocka_unit_test(settling_is_undone_and_done_again),
		cmocka_unit_test(editing_a_clashed_field_settles_it),
		cmocka_unit_test(both_settle_otherwise),
		cmocka_unit_test(day_and_its_bounds_go_together),
		cmocka_unit_test(edited_entry_stands_though_it_was_struck),
		cmocka_unit_test(struck_entry_that_nobody_edited_is_struck),
		cmocka_unit_test(tree_stands_that_the_other_logged_on),
		cmocka_unit_test(parts_stand_with_their_entry),
		cmocka_unit_test(same_label_twice_is_kept_and_told),
		cmocka_unit_test(likely_doubles_are_told),
		cmocka_unit_test(what_was_said_on_both_sides_is_told),
		cmocka_unit_test(undo_takes_the_whole_merge_back),
		cmocka_unit_test(undone_merge_can_be_made_again),
		cmocka_unit_test(undone_merge_strikes_nothing_elsewhere),
		cmocka_unit_test(log_without_a_shared_start_is_added_when_asked),
		cmocka_unit_test(log_itself_is_refused),
		cmocka_unit_test(what_is_not_of_a_log_is_never_read),
		cmocka_unit_test(broken_off_save_is_taken_back_in_a_copy_only),
		cmocka_unit_test(trial_copy_leaves_the_log_alone),
	};
	return cmocka_run_group_tests_name("merge", tests, NULL, NULL) +
		       RUN_CASES("files", wrongs, file_is_named_and_left) !=
	       0;
}
