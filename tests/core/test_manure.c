/* SPDX-License-Identifier: MIT */
#include "core/manure.h"

#include "support/test.h"

struct words {
	const char *name;
	const char *text;
	enum manure manure;
};

/* clang-format off */
static const struct words words[] = {
	{"nothing_is_no_manure", "", MANURE_NONE},
	{"bad_bytes_are_no_manure", "fresh \xff manure", MANURE_NONE},
	{"a_bag_is_no_manure", "10-10-10", MANURE_NONE},
	{"compost_alone_is_none", "garden compost", MANURE_NONE},
	{"green_manure_is_not_said_raw", "green manure", MANURE_UNSAID},
	{"manure_alone_is_unsaid", "cow manure", MANURE_UNSAID},
	{"fresh_is_raw", "bucket of fresh chook poo", MANURE_RAW},
	{"raw_is_raw", "RAW cow Manure", MANURE_RAW},
	{"slurry_is_raw", "slurry from the dairy", MANURE_RAW},
	{"composted_is_composted", "composted horse manure", MANURE_COMPOSTED},
	{"rotted_is_composted", "well-rotted manure", MANURE_COMPOSTED},
	{"pellets_are_composted", "chicken manure pellets", MANURE_COMPOSTED},
	{"fresh_composted_is_composted", "fresh composted manure", MANURE_COMPOSTED},
	{"not_composted_is_raw", "manure, not composted", MANURE_RAW},
	{"a_word_inside_a_word_does_not_count", "manuresque fresher", MANURE_NONE},
};
/* clang-format on */

static void words_say_what_manure_it_is(void **state)
{
	const struct words *row = *state;

	check_int(manure_of_words(row->text), row->manure, row->text);
}

static void only_feeds_and_mulches_are_looked_at(void **state)
{
	struct detail details[] = {{.field = FIELD_PRODUCT, .text = "fresh manure"}};
	struct entry entry = {.kind = KIND_FEED,
		.words = "A1 fed fresh manure",
		.note = "",
		.details = details,
		.detail_count = 1};

	(void)state;
	check_int(manure_of_entry(&entry), MANURE_RAW, "a feed");
	entry.kind = KIND_MULCH;
	check_int(manure_of_entry(&entry), MANURE_RAW, "a mulch");
	entry.kind = KIND_NOTE;
	check_int(manure_of_entry(&entry), MANURE_NONE, "a note");
	entry.kind = KIND_FEED;
	details[0].text[0] = '\0';
	entry.note = "raw manure";
	check_int(manure_of_entry(&entry), MANURE_RAW, "in the note");
	entry.note = NULL;
	entry.words = NULL;
	check_int(manure_of_entry(&entry), MANURE_NONE, "without words");
}

static void the_verb_manured_counts_and_a_label_does_not(void **state)
{
	struct detail details[] = {{.field = FIELD_PRODUCT, .text = "raw"}};
	struct entry entry = {.kind = KIND_FEED,
		.words = "A1 manured raw",
		.note = "",
		.details = details,
		.detail_count = 1};

	(void)state;
	check_int(manure_of_entry(&entry), MANURE_RAW, "manured raw");
	entry.words = "fresh manure heap fed raw";
	check_int(manure_of_entry(&entry), MANURE_NONE, "the label");
}

int main(void)
{
	enum { ROWS = sizeof words / sizeof words[0] };
	struct CMUnitTest tests[ROWS];
	const struct CMUnitTest more[] = {
		cmocka_unit_test(only_feeds_and_mulches_are_looked_at),
		cmocka_unit_test(the_verb_manured_counts_and_a_label_does_not),
	};

	for (int i = 0; i < ROWS; i++)
		tests[i] = (struct CMUnitTest){.name = words[i].name,
			.test_func = words_say_what_manure_it_is,
			.initial_state = (void *)(uintptr_t)&words[i]};
	int failed = cmocka_run_group_tests_name("manure", tests, NULL, NULL);
	failed += cmocka_run_group_tests_name("entries", more, NULL, NULL);
	return failed != 0;
}
