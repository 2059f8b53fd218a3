/* SPDX-License-Identifier: MIT */
/* What trees are thought to be. */
#include "support/test.h"

#include "support/yard.h"

#include <string.h>

struct opinion_yard {
	struct log yard;
	struct arena *arena;
	const char *a;
	const char *b;
};

static void make_yard(struct opinion_yard *made)
{
	log_make(&made->yard);
	made->arena = arena_new();
	yard_begin(&made->yard, "adds");
	made->a = yard_tree(&made->yard, made->arena, "A", "");
	made->b = yard_tree(&made->yard, made->arena, "B", "");
	yard_commit(&made->yard);
}

static void free_yard(struct opinion_yard *made)
{
	arena_free(made->arena);
	log_free(&made->yard);
}

static struct identity opinion_of(const char *tree_id, const char *name, enum sure sure)
{
	struct identity identity = {.sure = sure};
	(void)snprintf(identity.tree_id, sizeof identity.tree_id, "%s", tree_id);
	(void)snprintf(identity.name, sizeof identity.name, "%s", name);
	return identity;
}

static void add(struct opinion_yard *made, struct identity *identity)
{
	struct fault why;
	yard_begin(&made->yard, identity->name);
	check_ok(store_identity_add(made->yard.store, identity, &why), &why);
	yard_commit(&made->yard);
}

static struct identity *list(struct opinion_yard *made, const char *tree_id, int32_t *count)
{
	struct fault why;
	struct identity *out = NULL;
	check_ok(store_identity_list(made->yard.store, tree_id, made->arena, &out, count, &why),
		&why);
	return out;
}

static void opinion_is_read_as_it_was_given(void **state)
{
	(void)state;
	struct opinion_yard made;
	int32_t count = 0;
	make_yard(&made);
	struct identity identity =
		opinion_of(made.a, "White \"Genoa\" \xF0\x9F\xA4\x94", SURE_SUSPECTED);
	identity.is_cultivar = true;
	identity.is_change = true;
	identity.day = yard_span("2019-06?");
	(void)snprintf(identity.who, sizeof identity.who, "a neighbour");
	(void)snprintf(identity.reason, sizeof identity.reason, "regrafted; 'said so'");
	add(&made, &identity);
	const struct identity *got = list(&made, made.a, &count);
	check_int(count, 1, "opinions");
	check_text(got->id, identity.id, "id");
	check_text(got->opinion, identity.id, "an opinion is named after its first row");
	check_text(got->tree_id, made.a, "tree");
	assert_true(got->is_cultivar && got->is_change);
	check_text(got->name, identity.name, "name");
	check_int(got->sure, SURE_SUSPECTED, "sure");
	check_text(got->who, "a neighbour", "who");
	check_text(got->day.text, "2019-06?", "day");
	assert_true(got->day.doubt);
	check_int(got->day.low.value.day, yard_day("2019-06-01").day, "low");
	check_text(got->reason, identity.reason, "reason");
	free_yard(&made);
}

static void every_degree_of_sureness_is_kept(void **state)
{
	(void)state;
	struct opinion_yard made;
	int32_t count = 0;
	make_yard(&made);
	for (int sure = SURE_UNKNOWN; sure <= SURE_CERTAIN; sure++) {
		struct identity identity = opinion_of(made.a, "peach", (enum sure)sure);
		add(&made, &identity);
	}
	const struct identity *got = list(&made, made.a, &count);
	check_int(count, 4, "opinions");
	for (int sure = SURE_UNKNOWN; sure <= SURE_CERTAIN; sure++)
		check_int(got[sure].sure, sure, "sure");
	free_yard(&made);
}

static void candidates_share_one_opinion(void **state)
{
	(void)state;
	struct opinion_yard made;
	struct fault why;
	int32_t count = 0;
	make_yard(&made);
	struct identity first = opinion_of(made.a, "european_plum", SURE_CANDIDATE);
	add(&made, &first);
	struct identity second = opinion_of(made.a, "japanese_plum", SURE_CANDIDATE);
	(void)snprintf(second.opinion, sizeof second.opinion, "%s", first.opinion);
	add(&made, &second);
	const struct identity *got = list(&made, made.a, &count);
	check_int(count, 2, "candidates");
	check_text(got[0].opinion, got[1].opinion, "opinion");
	for (int i = 0; i < 2; i++) {
		struct tree *trees = NULL;
		const struct tree_query query = {.species = got[i].name};
		check_ok(store_tree_list(made.yard.store, &query, made.arena, &trees, &count, &why),
			&why);
		check_int(count, 1, got[i].name);
	}
	free_yard(&made);
}

static void opinions_come_oldest_first_and_by_tree(void **state)
{
	(void)state;
	struct opinion_yard made;
	int32_t count = 0;
	make_yard(&made);
	const char *const names[] = {"apple", "pear", "quince"};
	for (int i = 0; i < 3; i++) {
		struct identity of_b = opinion_of(made.b, names[i], SURE_SUSPECTED);
		struct identity of_a = opinion_of(made.a, names[2 - i], SURE_SUSPECTED);
		add(&made, &of_b);
		add(&made, &of_a);
	}
	const struct identity *got = list(&made, NULL, &count);
	check_int(count, 6, "opinions");
	for (int i = 0; i < 3; i++) {
		check_text(got[i].tree_id, made.a, "tree");
		check_text(got[i].name, names[2 - i], "name");
		check_text(got[3 + i].name, names[i], "name");
	}
	free_yard(&made);
}

static void opinion_taken_back_leaves_the_older_one(void **state)
{
	(void)state;
	struct opinion_yard made;
	struct fault why;
	int32_t count = 0;
	char what[TEXT_SIZE];
	make_yard(&made);
	struct identity old = opinion_of(made.a, "apple", SURE_SUSPECTED);
	struct identity new = opinion_of(made.a, "quince", SURE_CERTAIN);
	add(&made, &old);
	add(&made, &new);
	yard_begin(&made.yard, "takes back");
	check_ok(store_row_strike(made.yard.store, "identity", new.id, &why), &why);
	yard_commit(&made.yard);
	check_text(list(&made, made.a, &count)->name, "apple", "name");
	check_int(count, 1, "opinions");
	check_ok(store_undo(made.yard.store, what, &why), &why);
	list(&made, made.a, &count);
	check_int(count, 2, "opinions");
	free_yard(&made);
}

static void opinion_of_no_tree_is_refused(void **state)
{
	(void)state;
	struct opinion_yard made;
	struct fault why;
	make_yard(&made);
	struct identity identity = opinion_of("00000000000000000000000000", "apple", SURE_CERTAIN);
	yard_begin(&made.yard, "adds");
	check_refused(
		store_identity_add(made.yard.store, &identity, &why), STATUS_ABSENT, &why, "tree");
	check_text(identity.id, "", "id");
	store_act_rollback(made.yard.store);
	free_yard(&made);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(opinion_is_read_as_it_was_given),
		cmocka_unit_test(every_degree_of_sureness_is_kept),
		cmocka_unit_test(candidates_share_one_opinion),
		cmocka_unit_test(opinions_come_oldest_first_and_by_tree),
		cmocka_unit_test(opinion_taken_back_leaves_the_older_one),
		cmocka_unit_test(opinion_of_no_tree_is_refused),
	};
	return cmocka_run_group_tests_name("identity", tests, NULL, NULL) != 0;
}
