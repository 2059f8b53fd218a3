/* SPDX-License-Identifier: MIT */
/* What two copies of a log changed both: shown, settled, travelling. */
#include "support/test.h"

#include "support/pair.h"

#include <stdlib.h>

static void clash_shows_the_common_ancestor(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	pair_set(&pair.one, "tree", pair.tree, "note", "agreed");
	(void)copies_merge(&pair.two, &pair.one, NULL);
	pair_set(&pair.one, "tree", pair.tree, "note", "one");
	pair_set(&pair.two, "tree", pair.tree, "note", "two");
	pair_set(&pair.two, "tree", pair.tree, "note", "two again");
	pair_cross(&pair);
	pair_check(&pair.one, "tree", pair.tree, "note", "agreed");
	check_int(pair_clash_count(&pair.one), 1, "clashes");
	(void)pair_side(&pair.one, "one");
	(void)pair_side(&pair.one, "two again");
	pair_free(&pair);
}

static void clash_settled_in_one_file_is_settled_in_the_other(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	pair_part(&pair);
	pair_cross(&pair);
	pair_keep(&pair.one, pair_side(&pair.one, "two"));
	pair_check(&pair.one, "tree", pair.tree, "note", "two");
	check_int(pair_clash_count(&pair.one), 0, "clashes");
	copies_verify(&pair.one, "settled");
	(void)copies_merge(&pair.two, &pair.one, NULL);
	pair_check(&pair.two, "tree", pair.tree, "note", "two");
	check_int(pair_clash_count(&pair.two), 0, "clashes there");
	copies_verify(&pair.two, "settled there");
	/* one head from now on: a later change on one side just follows */
	pair_set(&pair.two, "tree", pair.tree, "note", "later");
	(void)copies_merge(&pair.one, &pair.two, NULL);
	pair_check(&pair.one, "tree", pair.tree, "note", "later");
	check_int(pair_clash_count(&pair.one), 0, "clashes after it");
	pair_free(&pair);
}

static void value_from_before_can_be_kept(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	pair_part(&pair);
	(void)copies_merge(&pair.one, &pair.two, NULL);
	pair_keep(&pair.one, -1);
	check_int(pair_clash_count(&pair.one), 0, "clashes");
	(void)copies_merge(&pair.two, &pair.one, NULL);
	pair_check(&pair.two, "tree", pair.tree, "note", "");
	check_int(pair_clash_count(&pair.two), 0, "clashes there");
	pair_undo(&pair.one);
	check_int(pair_clash_count(&pair.one), 1, "open again");
	pair_check(&pair.one, "tree", pair.tree, "note", "");
	(void)copies_merge(&pair.two, &pair.one, NULL);
	check_int(pair_clash_count(&pair.two), 1, "open again there");
	pair_free(&pair);
}

static void settling_is_undone_and_done_again(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	pair_part(&pair);
	(void)copies_merge(&pair.one, &pair.two, NULL);
	char *open = copies_seen(&pair.one);
	pair_keep(&pair.one, pair_side(&pair.one, "one"));
	char *settled = copies_seen(&pair.one);
	pair_undo(&pair.one);
	char *again = copies_seen(&pair.one);
	check_text(again, open, "undone");
	copies_verify(&pair.one, "undone");
	free(again);
	(void)copies_merge(&pair.two, &pair.one, NULL);
	check_int(pair_clash_count(&pair.two), 1, "open there");
	pair_redo(&pair.one);
	again = copies_seen(&pair.one);
	check_text(again, settled, "done again");
	(void)copies_merge(&pair.two, &pair.one, NULL);
	check_int(pair_clash_count(&pair.two), 0, "settled there");
	pair_check(&pair.two, "tree", pair.tree, "note", "one");
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
	pair_part(&pair);
	pair_cross(&pair);
	pair_set(&pair.one, "tree", pair.tree, "note", "three");
	check_int(pair_clash_count(&pair.one), 0, "clashes");
	(void)copies_merge(&pair.two, &pair.one, NULL);
	pair_check(&pair.two, "tree", pair.tree, "note", "three");
	check_int(pair_clash_count(&pair.two), 0, "clashes there");
	/* an edit of another field does not */
	pair_set(&pair.one, "tree", pair.tree, "rootstock", "one");
	pair_set(&pair.two, "tree", pair.tree, "rootstock", "two");
	(void)copies_merge(&pair.one, &pair.two, NULL);
	pair_set(&pair.one, "tree", pair.tree, "hazard", "wire");
	check_int(pair_clash_count(&pair.one), 1, "clashes");
	pair_free(&pair);
}

static void both_settle_otherwise(void **state)
{
	(void)state;
	struct pair pair;
	pair_make(&pair);
	pair_part(&pair);
	pair_cross(&pair);
	pair_keep(&pair.one, pair_side(&pair.one, "one"));
	pair_keep(&pair.two, pair_side(&pair.two, "two"));
	pair_cross(&pair);
	check_int(pair_clash_count(&pair.one), 1, "clashes");
	pair_check(&pair.one, "tree", pair.tree, "note", "");
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
	pair_cross(&pair);
	pair_check(&pair.one, "tree", pair.tree, "planted", "2015");
	pair_check(&pair.two, "tree", pair.tree, "planted_low", "2015-01-01");
	check_int(pair_clash_count(&pair.one), 1, "one clash, not three");
	pair_keep(&pair.one, pair_side(&pair.one, "2017-03"));
	pair_check(&pair.one, "tree", pair.tree, "planted_low", "2017-03-01");
	pair_check(&pair.one, "tree", pair.tree, "planted_high", "2017-03-31");
	copies_verify(&pair.one, "settled");
	(void)copies_merge(&pair.two, &pair.one, NULL);
	char *one = copies_seen(&pair.one);
	char *two = copies_seen(&pair.two);
	check_text(two, one, "both");
	free(one);
	free(two);
	pair_free(&pair);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(clash_shows_the_common_ancestor),
		cmocka_unit_test(clash_settled_in_one_file_is_settled_in_the_other),
		cmocka_unit_test(value_from_before_can_be_kept),
		cmocka_unit_test(settling_is_undone_and_done_again),
		cmocka_unit_test(editing_a_clashed_field_settles_it),
		cmocka_unit_test(both_settle_otherwise),
		cmocka_unit_test(day_and_its_bounds_go_together),
	};
	return cmocka_run_group_tests_name("merge clash", tests, NULL, NULL);
}
