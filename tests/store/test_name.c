/* SPDX-License-Identifier: MIT */
/* Finding things by name, as the entry line asks for them. */
#include "support/test.h"

#include "support/yard.h"

#include <string.h>

enum { MATCHES_MAX = 4 };

/* Standing: A1, A12, A 3, fig by gate, Figtree, N\u00edspero, plum (formerly "old plum") with
 * grafts, one of them gone, 5/8; gone: B7 twice, C1 (gone) beside C10 (standing). */
static void make_named(struct log *yard, struct arena *arena)
{
	struct fault why;
	const struct date_span early = yard_span("2011-05-01");
	const struct date_span late = yard_span("2019-05-01");
	log_make(yard);
	yard_begin(yard, "adds");
	const char *const labels[] = {
		"A1", "A12", "A 3", "fig by gate", "Figtree", "N\xC3\xADspero", "C10", "50% shade"};
	for (size_t i = 0; i < sizeof labels / sizeof labels[0]; i++)
		yard_tree(yard, arena, labels[i], "");
	const char *plum = yard_tree(yard, arena, "old plum", "");
	check_ok(store_tree_rename(yard->store, plum, "plum", &why), &why);
	check_ok(store_tree_close(yard->store, yard_tree(yard, arena, "B7", ""), &late, "", &why),
		&why);
	check_ok(store_tree_close(yard->store, yard_tree(yard, arena, "B7", ""), &early, "", &why),
		&why);
	check_ok(store_tree_close(yard->store, yard_tree(yard, arena, "C1", ""), &early, "", &why),
		&why);
	yard_graft(yard, arena, "plum/Shiro", plum);
	yard_graft(yard, arena, "3/7/Ozark", plum);
	yard_graft(yard, arena, "C10/Ozark", plum);
	const char *gone = yard_graft(yard, arena, "C10/Elephant", plum);
	check_ok(store_tree_close(yard->store, gone, &late, "", &why), &why);
	yard_tree(yard, arena, "5/8", "");
	yard_spot(yard, arena, "South wall");
	yard_area(yard, arena, "Top");
	struct product product = {.name = "Blood Meal", .elements = ""};
	check_ok(store_product_add(yard->store, &product, &why), &why);
	struct container container = {.name = "Green bucket"};
	check_ok(store_container_add(yard->store, &container, &why), &why);
	yard_commit(yard);
}

static const struct name_case {
	const char *name;
	enum name_class class;
	const char *text;
	const char *want; /* labels found; '=' exact, '~' short, '+' gone */
	int32_t count;
} name_cases[] = {
	{"exact_label", NAME_TREE, "A12", "=A12 ", 1},
	{"exact_beats_short", NAME_TREE, "a1", "=A1 ", 1},
	{"label_in_any_case", NAME_TREE, "FIG BY GATE", "=fig by gate ", 1},
	{"blanks_around_do_not_count", NAME_TREE, "  A1 ", "=A1 ", 1},
	{"prefix_of_two_letters", NAME_TREE, "n\xC3\xAD", "~N\xC3\xADspero ", 1},
	{"accents_count", NAME_TREE, "ni", "", 0},
	{"prefix_that_fits_two_gives_both", NAME_TREE, "fig", "~fig by gate ~Figtree ", 2},
	{"one_letter_is_too_short", NAME_TREE, "f", "", 0},
	{"one_letter_that_is_a_whole_word", NAME_TREE, "a", "~A 3 ", 1},
	{"whole_first_word_is_a_prefix", NAME_TREE, "fig by", "~fig by gate ", 1},
	{"signs_are_letters_like_others", NAME_TREE, "50%", "~50% shade ", 1},
	{"percent_is_no_pattern", NAME_TREE, "%%", "", 0},
	{"old_label_is_found_exactly", NAME_TREE, "Old Plum", "=plum ", 1},
	{"old_label_is_not_shortened", NAME_TREE, "old p", "", 0},
	{"gone_tree_is_found_exactly", NAME_TREE, "b7", "=+B7 ", 1},
	{"gone_tree_is_not_shortened", NAME_TREE, "B", "", 0},
	{"exact_gone_beats_short_standing", NAME_TREE, "c1", "=+C1 ", 1},
	{"empty_text_finds_nothing", NAME_TREE, "", "", 0},
	{"blank_text_finds_nothing", NAME_TREE, "   ", "", 0},
	{"long_text_finds_nothing", NAME_TREE,
		"12345678901234567890123456789012345678901234567890123456789012345678901234567890"
		"12345678901234567890123456789012345678901234567890123456789012345678901234567890"
		"1234567890",
		"", 0},
	{"spot", NAME_SPOT, "south WALL", "=South wall ", 1},
	{"graft_by_what_was_put_on", NAME_GRAFT, "shiro", "=plum/Shiro ", 1},
	{"graft_of_two_hosts_gives_both", NAME_GRAFT, "Ozark", "=3/7/Ozark =C10/Ozark ", 2},
	{"graft_that_is_gone_is_not_found", NAME_GRAFT, "Elephant", "", 0},
	{"graft_names_are_whole", NAME_GRAFT, "zark", "", 0},
	{"tree_of_a_row_is_no_graft", NAME_GRAFT, "8", "", 0},
	{"spots_are_not_shortened", NAME_SPOT, "south", "", 0},
	{"area", NAME_AREA, "top", "=Top ", 1},
	{"product", NAME_PRODUCT, "blood meal", "=Blood Meal ", 1},
	{"container", NAME_CONTAINER, "green bucket", "=Green bucket ", 1},
	{"spot_is_no_tree", NAME_TREE, "south wall", "", 0},
	{"kinds_are_not_the_logs", NAME_KIND, "fig", "", 0},
};

static void name_is_found(const void *one)
{
	const struct name_case *test = one;
	struct log yard;
	struct arena *arena = arena_new();
	struct name_match matches[MATCHES_MAX];
	char got[256] = "";
	make_named(&yard, arena);
	const int32_t count = store_name_find(
		yard.store, test->class, test->text, strlen(test->text), matches, MATCHES_MAX);
	for (int32_t i = 0; i < count && i < MATCHES_MAX; i++)
		(void)snprintf(got + strlen(got), sizeof got - strlen(got), "%s%s%s ",
			matches[i].is_exact ? "=" : "~", matches[i].is_gone ? "+" : "",
			matches[i].label);
	check_text(got, test->want, "matches");
	check_int(count, test->count, "count");
	arena_free(arena);
	log_free(&yard);
}

static void only_the_given_length_is_read(void **state)
{
	(void)state;
	struct log yard;
	struct arena *arena = arena_new();
	struct name_match match;
	make_named(&yard, arena);
	check_int(store_name_find(yard.store, NAME_TREE, "A12 picked", 3, &match, 1), 1, "count");
	check_text(match.label, "A12", "label");
	arena_free(arena);
	log_free(&yard);
}

static void more_matches_than_room_are_counted(void **state)
{
	(void)state;
	struct log yard;
	struct arena *arena = arena_new();
	struct name_match match;
	make_named(&yard, arena);
	check_int(store_name_find(yard.store, NAME_TREE, "fig", 3, &match, 1), 2, "count");
	check_text(match.label, "fig by gate", "first");
	arena_free(arena);
	log_free(&yard);
}

static void match_tells_the_planting_day(void **state)
{
	(void)state;
	struct log yard;
	struct fault why;
	struct name_match match;
	log_make(&yard);
	struct tree tree = {.label = "A1"};
	tree.planted = yard_span("2015-04");
	yard_begin(&yard, "adds");
	check_ok(store_tree_add(yard.store, &tree, &why), &why);
	yard_commit(&yard);
	check_int(store_name_find(yard.store, NAME_TREE, "A1", 2, &match, 1), 1, "count");
	assert_true(match.planted.known);
	check_int(match.planted.value.day, yard_day("2015-04-01").day, "planted");
	check_text(match.id, tree.id, "id");
	log_free(&yard);
}

static void last_bearer_of_a_label_is_found(void **state)
{
	(void)state;
	struct log yard;
	struct arena *arena = arena_new();
	struct fault why;
	struct tree tree;
	make_named(&yard, arena);
	check_ok(store_tree_find(yard.store, "B7", &tree, &why), &why);
	check_text(tree.gone.text, "2019-05-01", "the later of two");
	/* renamed now, 2026: later than both went */
	yard_begin(&yard, "adds");
	const char *id = yard_tree(&yard, arena, "B7", "");
	check_ok(store_tree_rename(yard.store, id, "D1", &why), &why);
	yard_commit(&yard);
	check_ok(store_tree_find(yard.store, "B7", &tree, &why), &why);
	check_text(tree.label, "D1", "renamed after them");
	arena_free(arena);
	log_free(&yard);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(only_the_given_length_is_read),
		cmocka_unit_test(more_matches_than_room_are_counted),
		cmocka_unit_test(match_tells_the_planting_day),
		cmocka_unit_test(last_bearer_of_a_label_is_found),
	};
	const int failed = cmocka_run_group_tests_name("name", tests, NULL, NULL) +
			   RUN_CASES("names", name_cases, name_is_found);
	return failed != 0;
}
