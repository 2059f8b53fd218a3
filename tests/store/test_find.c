/* SPDX-License-Identifier: MIT */
/* The search takes any text as letters: it finds what holds them, or nothing, and never fails. */
#include "store/records.h"

#include <stdlib.h>
#include <string.h>

#include "support/garden.h"

enum { ROUNDS = 10000, LONG = 60000 };

static int32_t hits(struct garden *garden, const char *text)
{
	struct arena *arena = arena_new();
	struct fault why = {.status = STATUS_OK};
	struct entry *entries = NULL;
	int32_t count = 0;
	check_ok(store_find(garden->store, text, 0, arena, &entries, &count, &why), &why);
	arena_free(arena);
	return count;
}

static void make_yard(struct garden *garden)
{
	garden_make(garden, "2026-11-24");
	(void)garden_tree(garden, "A1", "apple", "2015", "");
	(void)garden_log(garden, "A1 note from cox's old one, M-26, 100% sound ; a:b (c) AND *");
	(void)garden_log(garden, "A1 picked 3 lb");
}

struct search {
	const char *name;
	const char *text;
	int32_t hits;
};

/* clang-format off */
static const struct search searches[] = {
	{"name_with_an_apostrophe", "cox's", 1},
	{"rootstock_with_a_dash", "M-26", 1},
	{"word_of_the_query_language", "AND", 1},
	{"column_of_the_query_language", "a:b", 1},
	{"bracket", "(", 0},
	{"star", "*", 0},
	{"caret", "^cox", 1},
	{"quote", "\"", 0},
	{"per_cent", "%", 0},
	{"underscore", "_", 0},
	{"or_with_nothing_after_it", "cox OR", 0},
	{"nothing", "", 0},
	{"blanks", "  \t ", 0},
	{"bytes_that_are_no_text", "\xff\xfe\x01", 0},
};
/* clang-format on */

static void is_taken_as_letters(const void *one)
{
	const struct search *search = one;
	struct garden garden;
	make_yard(&garden);
	check_int(hits(&garden, search->text), search->hits, search->name);
	garden_free(&garden);
}

static void no_text_of_random_signs_fails(void **state)
{
	(void)state;
	static const char *const parts[] = {"\"", "'", "(", ")", "*", ":", "^", "-", "+", "AND ",
		"OR ", "NOT ", "NEAR(", "NEAR/3 ", "{", "}", ",", " ", "a", "cox", "%", "_", "\\",
		";", "\xc3\xa9", "\xff", "\x01", "--", "/*", "?1", "$x", "[", "]", "=", "<", ">",
		"|", "0", "9"};
	struct garden garden;
	struct dice dice = dice_start();
	make_yard(&garden);
	for (int i = 0; i < ROUNDS; i++) {
		char text[128] = "";
		for (int64_t n = dice_between(&dice, 1, 10); n > 0; n--)
			strcat(text, parts[dice_between(&dice, 0,
					     (int64_t)(sizeof parts / sizeof parts[0]) - 1)]);
		assert_in_range(hits(&garden, text), 0, 2);
	}
	garden_free(&garden);
}

static void longest_text_ends_too(void **state)
{
	(void)state;
	static char text[LONG + 1];
	static const char fillers[] = "a\"*( ";
	struct garden garden;
	make_yard(&garden);
	for (const char *filler = fillers; *filler != '\0'; filler++) {
		for (int i = 0; i < LONG; i++)
			text[i] = i % 2 == 0 ? *filler : ' ';
		assert_in_range(hits(&garden, text), 0, 2);
		memset(text, *filler, LONG);
		check_int(hits(&garden, text), 0, "one word");
	}
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(no_text_of_random_signs_fails),
		cmocka_unit_test(longest_text_ends_too),
	};
	const int failed = RUN_CASES("searches", searches, is_taken_as_letters) +
			   cmocka_run_group_tests_name("find", tests, NULL, NULL);
	return failed != 0;
}
