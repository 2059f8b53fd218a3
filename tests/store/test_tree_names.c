/* SPDX-License-Identifier: MIT */
/* Trees sought by letters in memory: the same ones as by a look into the log. */
#include "support/test.h"

#include "support/yard.h"

#include <string.h>

#include "store/tree_names.h"

static const char *const labels[] = {"A1", "a10", "A2 red", "A2", "B 'west'", "b%",
	"\xC3\x89picea 7", "_x", "A01", "apr", "ESPALIER \xC3\xA9", "Z\"9"};
static const char *const kinds[] = {"apricot", "asian_persimmon", "Red Delicious", "APRIUM",
	"Poire d'\xC3\x89t\xC3\xA9", "no%name", "Reine Claude", "quince"};
enum { LABELS = sizeof labels / sizeof labels[0], KINDS = sizeof kinds / sizeof kinds[0] };

struct sought {
	struct log yard;
	struct arena *arena;
	struct tree_names names;
	struct tree_names with_kinds;
};

static void call(struct sought *sought, const char *tree_id, const char *name, bool is_cultivar)
{
	struct fault why;
	struct identity identity = {.sure = SURE_CERTAIN, .is_cultivar = is_cultivar};
	(void)snprintf(identity.tree_id, sizeof identity.tree_id, "%s", tree_id);
	(void)snprintf(identity.name, sizeof identity.name, "%s", name);
	check_ok(store_identity_add(sought->yard.store, &identity, &why), &why);
}

static void make(struct sought *sought)
{
	struct fault why;
	const struct date_span gone = yard_span("2020-05-01");
	log_make(&sought->yard);
	sought->arena = arena_new();
	yard_begin(&sought->yard, "adds");
	for (int i = 0; i < LABELS; i++) {
		const char *id = yard_tree(&sought->yard, sought->arena, labels[i], "");
		for (int k = 0; k < i % 4; k++)
			call(sought, id, kinds[(i * 3 + k) % KINDS], k > 0);
	}
	const char *dead = yard_tree(&sought->yard, sought->arena, "A9 dead", "");
	call(sought, dead, "apricot", false);
	check_ok(store_tree_close(sought->yard.store, dead, &gone, "wind", &why), &why);
	yard_commit(&sought->yard);
	check_ok(
		store_tree_names(sought->yard.store, false, 0, sought->arena, &sought->names, &why),
		&why);
	check_ok(store_tree_names(
			 sought->yard.store, true, 0, sought->arena, &sought->with_kinds, &why),
		&why);
}

static void unmake(struct sought *sought)
{
	arena_free(sought->arena);
	log_free(&sought->yard);
}

static void check_found(struct sought *sought, const char *text)
{
	struct fault why;
	struct tree *trees = NULL;
	int32_t count = 0;
	int32_t at = 0;
	const struct tree_query query = {.text = text};
	const struct tree_letters letters = tree_letters_make(text);
	check_ok(store_tree_list(sought->yard.store, &query, sought->arena, &trees, &count, &why),
		&why);
	for (int32_t i = 0; i < sought->with_kinds.count; i++) {
		const struct tree_name *name = &sought->with_kinds.items[i];
		if (!tree_letters_fit(&letters, name))
			continue;
		assert_true(at < count);
		check_text(name->label, trees[at].label, text);
		check_text(name->id, trees[at++].id, text);
	}
	check_int(at, count, text);
}

static void letters_find_what_the_log_finds(void **state)
{
	(void)state;
	static const char *const texts[] = {"", "a", "A", "a1", "ric", "pr", "RED", "red ", "%",
		"_", "'", "asian p", "asian_p", "\xC3\xA9", "\xC3\x89", "\xC3\xA9t\xC3\xA9",
		"reine", "x x", "no%", "a0", "apr", "7", "quince", "quinces", "\"9"};
	struct sought sought;
	make(&sought);
	for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++)
		check_found(&sought, texts[i]);
	for (int i = 0; i < LABELS; i++)
		check_found(&sought, labels[i]);
	for (int i = 0; i < KINDS; i++)
		check_found(&sought, kinds[i]);
	unmake(&sought);
}

static void standing_trees_stand_in_the_order_of_lists(void **state)
{
	(void)state;
	struct sought sought;
	struct fault why;
	struct tree_names first;
	make(&sought);
	check_int(sought.names.count, LABELS, "trees");
	for (int32_t i = 0; i < sought.names.count; i++) {
		check_text(sought.names.items[i].id, sought.with_kinds.items[i].id, "order");
		assert_null(sought.names.items[i].kinds);
		assert_non_null(sought.with_kinds.items[i].kinds);
	}
	check_ok(store_tree_names(sought.yard.store, false, 3, sought.arena, &first, &why), &why);
	check_int(first.count, 3, "as many as asked for");
	check_text(first.items[2].id, sought.names.items[2].id, "the first of them");
	unmake(&sought);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(letters_find_what_the_log_finds),
		cmocka_unit_test(standing_trees_stand_in_the_order_of_lists),
	};
	return cmocka_run_group_tests_name("tree_names", tests, NULL, NULL) != 0;
}
