/* SPDX-License-Identifier: MIT */
/* A merge taken back, and made again. */
#include "support/test.h"

#include "support/pair.h"

#include <stdlib.h>

static void undo_takes_the_whole_merge_back(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	pair_set(&pair.one, "tree", pair.tree, "note", "one");
	pair_strike(&pair.one, pair.pick);
	pair_set(&pair.two, "tree", pair.tree, "note", "two");
	pair_set(&pair.two, "tree", pair.tree, "rootstock", "M9");
	pair_set(&pair.two, "entry", pair.pick, "note", "edited");
	yard_begin(&pair.two, "B1");
	(void)yard_tree(&pair.two, pair.arena, "B1", "");
	yard_commit(&pair.two);
	char *before = copies_seen(&pair.one);
	(void)copies_merge(&pair.one, &pair.two, NULL);
	char *merged = copies_seen(&pair.one);
	pair_undo(&pair.one);
	char *after = copies_seen(&pair.one);
	check_text(after, before, "undone");
	copies_verify(&pair.one, "undone");
	free(after);
	pair_redo(&pair.one);
	after = copies_seen(&pair.one);
	check_text(after, merged, "done again");
	copies_verify(&pair.one, "done again");
	free(after);
	pair_undo(&pair.one);
	/* the next undo takes the grower's own last act, not one of the other copy's */
	pair_undo(&pair.one);
	pair_check(&pair.one, "entry", pair.pick, "struck", "0");
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
	pair_set(&pair.two, "tree", pair.tree, "note", "two");
	yard_begin(&pair.two, "B1");
	const char *b1 = yard_tree(&pair.two, pair.arena, "B1", "");
	yard_commit(&pair.two);
	(void)copies_merge(&pair.one, &pair.two, NULL);
	pair_undo(&pair.one);
	pair_set(&pair.one, "tree", pair.tree, "hazard", "wire");
	pair_set(&pair.two, "tree", b1, "note", "by the gate");
	char *before = copies_seen(&pair.one);
	struct merge_account account = copies_merge(&pair.one, &pair.two, NULL);
	check_int(account.acts, 3, "acts");
	pair_check(&pair.one, "tree", pair.tree, "note", "two");
	pair_check(&pair.one, "tree", b1, "struck", "0");
	pair_check(&pair.one, "tree", b1, "note", "by the gate");
	copies_verify(&pair.one, "merged again");
	pair_undo(&pair.one);
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
	pair_undo(&pair.one);
	pair_set(&pair.one, "tree", pair.tree, "note", "one");
	struct merge_account account = copies_merge(&pair.two, &pair.one, NULL);
	check_int(account.acts, 1, "acts");
	pair_check(&pair.two, "tree", b1, "struck", "0");
	pair_check(&pair.two, "tree", pair.tree, "note", "one");
	pair_free(&pair);
}

/* --- work upon a merge, undone with it --- */

struct trio { /* in the first the second was merged, its tree B1 changed, and both undone */
	struct pair pair;
	struct log three;
	const char *b1;
};

static void trio_make(struct trio *trio)
{
	struct pair *pair = &trio->pair;
	pair_make(pair);
	copies_fork(&pair->one, &trio->three, "2041-05-06", 7);
	yard_begin(&pair->two, "B1");
	trio->b1 = yard_tree(&pair->two, pair->arena, "B1", "");
	yard_commit(&pair->two);
	(void)copies_merge(&pair->one, &pair->two, NULL);
	pair_set(&pair->one, "tree", trio->b1, "note", "one");
}

static void trio_undo(struct trio *trio)
{
	pair_undo(&trio->pair.one);
	pair_undo(&trio->pair.one);
}

static void trio_free(struct trio *trio)
{
	log_free(&trio->three);
	pair_free(&trio->pair);
}

/* The third copy took the acts in while they hung on nothing; then all is done again. */
static void work_on_an_undone_merge_is_there_when_it_is_done_again(void **state)
{
	(void)state;
	struct trio trio;
	trio_make(&trio);
	trio_undo(&trio);
	char *before = copies_seen(&trio.three);
	check_int(copies_merge(&trio.three, &trio.pair.one, NULL).trees, 0, "trees");
	char *after = copies_seen(&trio.three);
	check_text(after, before, "nothing stands of it");
	copies_verify(&trio.three, "merged");
	check_int(copies_merge(&trio.three, &trio.pair.one, NULL).acts, 0, "acts, again");
	pair_redo(&trio.pair.one);
	pair_redo(&trio.pair.one);
	(void)copies_merge(&trio.three, &trio.pair.one, NULL);
	pair_check(&trio.three, "tree", trio.b1, "struck", "0");
	pair_check(&trio.three, "tree", trio.b1, "note", "one");
	copies_verify(&trio.three, "done again");
	pair_undo(&trio.three);
	free(after);
	after = copies_seen(&trio.three);
	check_text(after, before, "undone");
	copies_verify(&trio.three, "undone");
	free(before);
	free(after);
	trio_free(&trio);
}

/* The second copy had taken the note in, and went on from it. That the first took the note back is
 * known whichever of them the third meets first. */
static void what_was_taken_back_with_a_merge_is_known_in_any_order(void **state)
{
	(void)state;
	struct trio trio;
	struct log late;
	trio_make(&trio);
	struct pair *pair = &trio.pair;
	(void)copies_merge(&pair->two, &pair->one, NULL);
	pair_set(&pair->two, "tree", trio.b1, "note", "two");
	trio_undo(&trio);
	copies_fork(&trio.three, &late, "2042-01-01", 8);
	(void)copies_merge(&trio.three, &pair->one, NULL);
	(void)copies_merge(&trio.three, &pair->two, NULL);
	(void)copies_merge(&late, &pair->two, NULL);
	(void)copies_merge(&late, &pair->one, NULL);
	char *one = copies_seen(&trio.three);
	char *other = copies_seen(&late);
	check_text(one, other, "first the first, first the second");
	check_int(pair_clash_count(&late), 1, "clashes");
	copies_verify(&trio.three, "three");
	copies_verify(&late, "late");
	free(one);
	free(other);
	log_free(&late);
	trio_free(&trio);
}

/* A copy that holds a tree struck, because work hung on it, takes the tree itself in, and lets it
 * go again. */
static void what_came_along_stands_once_its_owner_brings_it(void **state)
{
	(void)state;
	struct trio trio;
	trio_make(&trio);
	trio_undo(&trio);
	(void)copies_merge(&trio.three, &trio.pair.one, NULL);
	pair_check(&trio.three, "tree", trio.b1, "struck", "1");
	char *before = copies_seen(&trio.three);
	pair_undo(&trio.three);
	pair_check(&trio.three, "tree", trio.b1, "struck", "1");
	copies_verify(&trio.three, "undone");
	pair_redo(&trio.three);
	pair_check(&trio.three, "tree", trio.b1, "struck", "1");
	check_int(copies_merge(&trio.three, &trio.pair.two, NULL).acts, 1, "acts");
	pair_check(&trio.three, "tree", trio.b1, "struck", "0");
	pair_check(&trio.three, "tree", trio.b1, "note", "");
	copies_verify(&trio.three, "brought");
	pair_undo(&trio.three);
	char *after = copies_seen(&trio.three);
	check_text(after, before, "gone again");
	copies_verify(&trio.three, "gone again");
	free(before);
	free(after);
	trio_free(&trio);
}

/* What nobody put a hand to stays where it was declined. */
static void undone_merge_goes_nowhere_by_itself(void **state)
{
	(void)state;
	struct trio trio;
	trio_make(&trio);
	trio_undo(&trio);
	yard_begin(&trio.pair.two, "C1");
	(void)yard_tree(&trio.pair.two, trio.pair.arena, "C1", "");
	yard_commit(&trio.pair.two);
	(void)copies_merge(&trio.pair.one, &trio.pair.two, NULL);
	pair_undo(&trio.pair.one);
	(void)copies_merge(&trio.three, &trio.pair.one, NULL);
	check_int(log_one(&trio.three, "SELECT count(*) FROM tree WHERE label = 'C1'"), 0, "C1");
	check_int(log_one(&trio.three, "SELECT count(*) FROM tree WHERE label = 'B1'"), 1, "B1");
	trio_free(&trio);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(undo_takes_the_whole_merge_back),
		cmocka_unit_test(undone_merge_can_be_made_again),
		cmocka_unit_test(undone_merge_strikes_nothing_elsewhere),
		cmocka_unit_test(work_on_an_undone_merge_is_there_when_it_is_done_again),
		cmocka_unit_test(what_was_taken_back_with_a_merge_is_known_in_any_order),
		cmocka_unit_test(what_came_along_stands_once_its_owner_brings_it),
		cmocka_unit_test(undone_merge_goes_nowhere_by_itself),
	};
	return cmocka_run_group_tests_name("merge undo", tests, NULL, NULL);
}
