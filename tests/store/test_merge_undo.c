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

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(undo_takes_the_whole_merge_back),
		cmocka_unit_test(undone_merge_can_be_made_again),
		cmocka_unit_test(undone_merge_strikes_nothing_elsewhere),
	};
	return cmocka_run_group_tests_name("merge undo", tests, NULL, NULL);
}
