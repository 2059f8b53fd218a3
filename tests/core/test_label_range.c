/* SPDX-License-Identifier: MIT */
/* Rows of labels written short. */
#include "core/label_range.h"
#include "support/test.h"

struct good {
	const char *name;
	const char *text;
	int32_t count;
	const char *first;
	const char *last;
};

/* clang-format off */
static const struct good goods[] = {
	{"one_label", "A3", 1, "A3", "A3"},
	{"a_label_of_words", "fig by gate", 1, "fig by gate", "fig by gate"},
	{"a_row", "A1..A12", 12, "A1", "A12"},
	{"a_row_of_one", "B7..B7", 1, "B7", "B7"},
	{"a_row_whose_stem_ends_in_a_blank", "row 8..row 11", 4, "row 8", "row 11"},
	{"numbers_alone", "98..101", 4, "98", "101"},
	{"dots_at_the_end_are_a_label", "A..", 1, "A..", "A.."},
	{"a_thousand", "T1..T1000", 1000, "T1", "T1000"},
};

static const struct bad {
	const char *name;
	const char *text;
	enum status status;
} bads[] = {
	{"no_number_refused", "A..B", STATUS_SYNTAX},
	{"two_stems_refused", "A1..B4", STATUS_SYNTAX},
	{"no_last_number_refused", "A1..A", STATUS_SYNTAX},
	{"words_after_the_row_refused", "A1..A4 apple", STATUS_SYNTAX},
	{"numbers_beyond_reason_refused", "A1..A99999999999999999999", STATUS_SYNTAX},
	{"backwards_refused", "A9..A2", STATUS_RANGE},
	{"more_than_a_thousand_refused", "A1..A1001", STATUS_RANGE},
};
/* clang-format on */

static void is_read(void **state)
{
	const struct good *good = *state;
	struct label_range range;
	struct fault why = {0};
	char label[LABEL_SIZE];
	check_ok(label_range_parse(good->text, &range, &why), &why);
	check_int(range.count, good->count, "count");
	check_text(label_range_at(&range, 0, label), good->first, "first");
	check_text(label_range_at(&range, range.count - 1, label), good->last, "last");
}

static void is_refused(void **state)
{
	const struct bad *bad = *state;
	struct label_range range;
	struct fault why = {0};
	check_refused(label_range_parse(bad->text, &range, &why), bad->status, &why, "");
}

/* clang-format off */
static const struct near_case {
	const char *a, *b;
	bool is_near;
} nears[] = {
	{ "A1", "A-1", true },
	{ "A1", "a 01", true },
	{ "fig by gate", "Fig, by gate", true },
	{ "B3 east", "B3east", true },
	{ "Níspero 1", "níspero-1", true },
	{ "A1", "A1", false }, /* the same */
	{ "A1", "a1", false },
	{ "A1", "A10", false },
	{ "A1", "B1", false },
	{ "A1 1", "A11", false },
	{ "A-1-1", "A1.1", true },
	{ "A10", "A1-0", false },
	{ "0", "00", true },
	{ "-", "!", false }, /* nothing is left to compare */
	{ "", "A1", false },
};
/* clang-format on */

static void labels_are_near_or_not(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof nears / sizeof nears[0]; i++) {
		check_int(label_is_near(nears[i].a, nears[i].b), nears[i].is_near, nears[i].a);
		check_int(label_is_near(nears[i].b, nears[i].a), nears[i].is_near, nears[i].b);
	}
}

int main(void)
{
	enum { GOODS = sizeof goods / sizeof goods[0], BADS = sizeof bads / sizeof bads[0] };
	struct CMUnitTest tests[GOODS + BADS + 1] = {cmocka_unit_test(labels_are_near_or_not)};
	for (size_t i = 0; i < GOODS; i++)
		tests[1 + i] = (struct CMUnitTest){.name = goods[i].name,
			.test_func = is_read,
			.initial_state = (void *)(uintptr_t)&goods[i]};
	for (size_t i = 0; i < BADS; i++)
		tests[1 + GOODS + i] = (struct CMUnitTest){.name = bads[i].name,
			.test_func = is_refused,
			.initial_state = (void *)(uintptr_t)&bads[i]};
	return cmocka_run_group_tests_name("rows of labels", tests, NULL, NULL) != 0;
}
