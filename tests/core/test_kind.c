/* SPDX-License-Identifier: MIT */
#include "core/kind.h"

#include <string.h>

#include "core/record.h"
#include "support/test.h"

static bool is_key(const char *key)
{
	return key != NULL && key[0] != '\0' && strlen(key) < KEY_SIZE &&
	       strspn(key, "abcdefghijklmnopqrstuvwxyz0123456789-") == strlen(key);
}

static void every_field_has_a_whole_row_and_its_own_key(void **state)
{
	(void)state;
	for (int field = FIELD_NONE + 1; field < FIELD_TOTAL; field++) {
		const struct field_row *row = field_row((enum field)field);
		assert_true(is_key(row->key));
		assert_true(row->label != NULL && row->label[0] != '\0');
		assert_true(row->help != NULL && row->help[0] != '\0');
		check_int(field_of_key(row->key), field, row->key);
		if (row->is_word)
			check_int(row->dimension, DIMENSION_NONE, row->key);
	}
	check_int(field_of_key("nonsense"), FIELD_TOTAL, "unknown key");
	check_int(field_of_key("none"), FIELD_TOTAL, "no field has no key");
}

static void every_kind_has_a_whole_row_and_its_own_key(void **state)
{
	(void)state;
	for (int kind = 0; kind < KIND_TOTAL; kind++) {
		const struct kind_row *row = kind_row((enum entry_kind)kind);
		assert_true(is_key(row->key));
		assert_true(row->title != NULL && row->title[0] != '\0');
		assert_true(row->past != NULL && row->past[0] != '\0');
		assert_true(row->example != NULL && row->example[0] != '\0');
		assert_true(row->help != NULL && row->help[0] != '\0');
		assert_true(row->fields[0] != FIELD_NONE);
		check_int(row->fields[KIND_FIELDS_MAX - 1], FIELD_NONE, row->key);
		check_int(kind_of_key(row->key), kind, row->key);
	}
	check_int(kind_of_key("nonsense"), KIND_TOTAL, "unknown key");
}

static void no_kind_names_a_field_twice_and_free_words_have_a_field(void **state)
{
	(void)state;
	for (int kind = 0; kind < KIND_TOTAL; kind++) {
		const struct kind_row *row = kind_row((enum entry_kind)kind);
		bool has_free = row->free_field == FIELD_NONE;
		for (int i = 0; row->fields[i] != FIELD_NONE; i++) {
			has_free = has_free || row->fields[i] == row->free_field;
			for (int j = 0; j < i; j++)
				assert_true(row->fields[i] != row->fields[j]);
		}
		check_int(has_free, true, row->key);
	}
}

static void no_verb_names_two_kinds(void **state)
{
	(void)state;
	for (int kind = 0; kind < KIND_TOTAL; kind++) {
		char verbs[400];
		const char *table = kind_row((enum entry_kind)kind)->verbs;
		assert_true(strlen(table) < sizeof(verbs));
		memcpy(verbs, table, strlen(table) + 1);
		for (char *verb = strtok(verbs, " "); verb != NULL; verb = strtok(NULL, " ")) {
			assert_true(strspn(verb, "abcdefghijklmnopqrstuvwxyz") == strlen(verb));
			check_int(kind_of_verb(verb), kind, verb);
		}
	}
	check_int(kind_of_verb("danced"), KIND_TOTAL, "unknown verb");
	check_int(kind_of_verb(""), KIND_TOTAL, "no verb");
}

static void letters_are_unique_and_those_promised(void **state)
{
	(void)state;
	char letters[KIND_TOTAL + 1] = "";
	size_t count = 0;
	for (int kind = 0; kind < KIND_TOTAL; kind++) {
		char letter = kind_row((enum entry_kind)kind)->letter;
		if (letter == 0)
			continue;
		assert_null(strchr(letters, letter));
		letters[count++] = letter;
	}
	check_int((int64_t)count, 9, "letters");
	check_int((int64_t)strspn(letters, "pcfwgsbtn"), 9, "p c f w g s b t n");
}

static void past_and_present_name_the_same_kind(void **state)
{
	(void)state;
	const struct {
		const char *verb;
		enum entry_kind kind;
	} cases[] = {{"cut", KIND_CUT}, {"pruned", KIND_CUT}, {"prune", KIND_CUT},
		{"picked", KIND_PICK}, {"harvested", KIND_PICK}, {"fed", KIND_FEED},
		{"fertilised", KIND_FEED}, {"fertilized", KIND_FEED}, {"watered", KIND_WATER},
		{"irrigated", KIND_WATER}, {"seen", KIND_SAW}, {"noticed", KIND_SAW},
		{"girth", KIND_MEASURE}, {"trunk", KIND_MEASURE}, {"shoots", KIND_MEASURE},
		{"blooming", KIND_STAGE}, {"flowering", KIND_STAGE}, {"died", KIND_DIED},
		{"removed", KIND_DIED}, {"frost", KIND_WEATHER}};
	for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++)
		check_int(kind_of_verb(cases[i].verb), cases[i].kind, cases[i].verb);
}

static void every_cut_kind_has_a_row_and_no_word_names_two(void **state)
{
	(void)state;
	char all[2000] = " ";
	for (int kind = CUT_UNSAID + 1; kind < CUT_TOTAL; kind++) {
		const struct cut_kind_row *row = cut_kind_row((enum cut_kind)kind);
		assert_true(is_key(row->key));
		assert_true(row->title[0] != '\0' && row->help[0] != '\0');
		check_int(cut_kind_of_key(row->key), kind, row->key);
		char words[400];
		memcpy(words, row->words, strlen(row->words) + 1);
		for (char *word = strtok(words, " "); word != NULL; word = strtok(NULL, " ")) {
			char fenced[64];
			(void)snprintf(fenced, sizeof(fenced), " %s ", word);
			assert_null(strstr(all, fenced));
			strncat(all, fenced + 1, sizeof(all) - strlen(all) - 1);
		}
	}
	check_int(cut_kind_of_key("nonsense"), CUT_UNSAID, "unknown key");
}

static void an_entry_gives_its_details_and_amounts_by_field(void **state)
{
	(void)state;
	const struct detail details[] = {{FIELD_REASON, "light"}, {FIELD_CUT_KIND, "shape"}};
	const struct amount amounts[] = {{.field = FIELD_COUNT, .low = known_i64(1)},
		{.field = FIELD_WEIGHT, .low = known_i64(2)}};
	struct entry entry = {.kind = KIND_CUT,
		.details = details,
		.detail_count = 2,
		.amounts = amounts,
		.amount_count = 2};
	check_text(entry_detail(&entry, FIELD_REASON), "light", "reason");
	check_text(entry_detail(&entry, FIELD_CAUSE), "", "absent");
	check_int(entry_cut_kind(&entry), CUT_SHAPE, "kind of cut");
	check_int(entry_amount(&entry, FIELD_WEIGHT)->low.value, 2, "weight");
	assert_null(entry_amount(&entry, FIELD_DEPTH));
	entry.detail_count = 1;
	check_int(entry_cut_kind(&entry), CUT_UNSAID, "no kind said");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_field_has_a_whole_row_and_its_own_key),
		cmocka_unit_test(every_kind_has_a_whole_row_and_its_own_key),
		cmocka_unit_test(no_kind_names_a_field_twice_and_free_words_have_a_field),
		cmocka_unit_test(no_verb_names_two_kinds),
		cmocka_unit_test(letters_are_unique_and_those_promised),
		cmocka_unit_test(past_and_present_name_the_same_kind),
		cmocka_unit_test(every_cut_kind_has_a_row_and_no_word_names_two),
		cmocka_unit_test(an_entry_gives_its_details_and_amounts_by_field),
	};
	return cmocka_run_group_tests_name("kind", tests, NULL, NULL) != 0;
}
