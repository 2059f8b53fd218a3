/* SPDX-License-Identifier: MIT */
/* The search over all that is written: by words, by the verbs of a kind, by a tree's label. */
#include "store/search.h"

#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "support/garden.h"

enum { MOST = 50 };

static void make_yard(struct garden *garden)
{
	garden_make(garden, "2026-11-24");
	(void)garden_tree(garden, "A1", "apple", "2015", "");
	(void)garden_tree(garden, "A1 old", "pear", "2001", "");
	(void)garden_tree(garden, "B2", "fig", "2018", "the north wall");
	(void)garden_log(garden, "A1 cut shape 20% ; opened the middle");
	(void)garden_log(garden, "A1 picked 3 lb");
	(void)garden_log(garden, "B2 pruned suckers");
	(void)garden_log(garden, "B2 saw Níspero moth ; 100% sure \"so\"");
	garden_identify(garden, "B2", "", "Brown Turkey", "");
}

struct search {
	const char *name;
	const char *text;
	const char *hits; /* what is found, in order: "LABEL TABLE", each with a comma after it */
};

/* clang-format off */
static const struct search searches[] = {
	{"word_of_a_note", "middle", "A1 entry,"},
	{"beginning_of_a_word", "midd", "A1 entry,"},
	{"without_case_or_accent", "nispero", "B2 entry,"},
	{"two_words_both_needed", "saw moth", "B2 entry,"},
	{"two_words_of_which_one_is_nowhere", "saw beetle", ""},
	{"one_verb_finds_all_of_its_kind", "pruned", "B2 entry,A1 entry,"},
	{"the_same_by_the_other_verb", "cut", "B2 entry,A1 entry,"},
	{"label_first_keeps_to_that_tree", "B2 cut", "B2 entry,"},
	{"label_alone_lists_its_entries", "A1", "A1 entry,A1 entry,"},
	{"longer_label_wins", "A1 old", ""},
	{"cultivar_by_name", "turkey", "B2 identity,"},
	{"place_by_name", "north", " spot,"},
	{"signs_mean_nothing", "100% \"so\"", "B2 entry,"},
	{"query_words_are_words", "middle OR moth", ""},
	{"nothing", "", ""},
	{"blanks", "   ", ""},
	{"bytes_that_are_no_text", "\xff\xfe\x01", ""},
};
/* clang-format on */

static void finds(const void *one)
{
	const struct search *search = one;
	struct garden garden;
	struct fault why = {.status = STATUS_OK};
	struct arena *arena = arena_new();
	struct search_hit *hits = NULL;
	int32_t count = 0;
	char found[1000] = "";
	struct text_builder text = text_builder_fixed(found, sizeof found);
	make_yard(&garden);
	check_ok(store_search(garden.store, search->text, MOST, arena, &hits, &count, &why), &why);
	for (int32_t i = 0; i < count; i++)
		text_add_format(&text, "%s %s,", hits[i].label, hits[i].table_name);
	check_text(found, search->hits, search->name);
	arena_free(arena);
	garden_free(&garden);
}

static void no_more_than_asked_for(void **state)
{
	(void)state;
	struct garden garden;
	struct fault why = {.status = STATUS_OK};
	struct arena *arena = arena_new();
	struct search_hit *hits = NULL;
	int32_t count = 0;
	make_yard(&garden);
	check_ok(store_search(garden.store, "A1", 1, arena, &hits, &count, &why), &why);
	check_int(count, 1, "hits");
	arena_free(arena);
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(no_more_than_asked_for)};
	const int failed = RUN_CASES("search", searches, finds) +
			   cmocka_run_group_tests_name("search, more", tests, NULL, NULL);
	return failed != 0;
}
