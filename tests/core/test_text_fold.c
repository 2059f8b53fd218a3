/* SPDX-License-Identifier: MIT */
#include "support/test.h"

#include <stdlib.h>
#include <string.h>

#include "core/text.h"

static void normalising_composes_and_makes_plain(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		const char *want;
		const char *label;
	} rows[] = {
		{"", "", "empty"},
		{"A3 picked 6 lb", "A3 picked 6 lb", "ASCII stays"},
		{"Ni\xCC\x81spero", "N\xC3\xADspero", "i and acute"},
		{"n\xCC\x83", "\xC3\xB1", "n and tilde"},
		{"c\xCC\xA7", "\xC3\xA7", "c and cedilla"},
		{"e\xCC\xA3\xCC\x82", "\xE1\xBB\x87", "Vietnamese e: dot, then circumflex"},
		{"e\xCC\x82\xCC\xA3", "\xE1\xBB\x87", "Vietnamese e: circumflex, then dot"},
		{"\xC3\xAA\xCC\xA3", "\xE1\xBB\x87", "e circumflex composed, then dot"},
		{"\xE1\xBA\xB9\xCC\x82", "\xE1\xBB\x87", "e dot composed, then circumflex"},
		{"o\xCC\x9B\xCC\x81", "\xE1\xBB\x9B", "o horn acute"},
		{"\xCE\xB1\xCC\x81", "\xCE\xAC", "Greek alpha and acute"},
		{"\xD0\xB8\xCC\x86", "\xD0\xB9", "Cyrillic short i"},
		{"q\xCC\x81", "q\xCC\x81", "no such letter: kept apart"},
		{"a\xCC\x81\xCC\x81", "\xC3\xA1\xCC\x81", "a second acute stays"},
		{"\xCC\x81"
		 "a",
			"\xCC\x81"
			"a",
			"a mark with no letter"},
		{"\xEF\xBC\x91\xEF\xBC\x92\xE3\x80\x80\xEF\xBC\xA1", "12 A", "full-width"},
		{"1\xC2\xA0kg 2\xE2\x80\xAFkg\t3", "1 kg 2 kg 3", "blanks"},
		{"a\r\nb", "a  b", "line ends"},
		{"3\xE2\x80\x93"
		 "5",
			"3\xE2\x80\x93"
			"5",
			"en dash"},
		{"3\xE2\x80\x94"
		 "5",
			"3\xE2\x80\x93"
			"5",
			"em dash"},
		{"\xE2\x88\x92"
		 "3",
			"\xE2\x88\x92"
			"3",
			"minus stays a minus"},
		{"10\xE2\x80\x91"
		 "10\xE2\x80\x90"
		 "10",
			"10-10-10", "hyphens"},
		{"a\xE2\x80\x8B"
		 "b\xEF\xBB\xBF"
		 "c\xC2\xAD"
		 "d\xE2\x80\xAE"
		 "e",
			"abcde", "hidden ones go"},
		{"\xE2\x80\x9Cok\xE2\x80\x9D", "\xE2\x80\x9Cok\xE2\x80\x9D", "quotes stay"},
		{"\xFF"
		 "a\x1B",
			"\xEF\xBF\xBD"
			"a\xEF\xBF\xBD",
			"bad byte and control"},
		{"\xE2\x84\xAB\xE2\x84\xAA\xE2\x84\xA6", "\xC3\x85K\xCE\xA9", "letter-like signs"},
		{"\xC2\xBD \xC2\xB2", "\xC2\xBD \xC2\xB2", "fractions and powers stay"},
		{"\xE6\xA1\x83", "\xE6\xA1\x83", "others stay"},
	};
	for (size_t at = 0; at < sizeof rows / sizeof *rows; at++) {
		char out[100];
		assert_true(text_normalise(rows[at].text, out, sizeof out));
		check_text(out, rows[at].want, rows[at].label);
		char again[100];
		assert_true(text_normalise(out, again, sizeof again));
		check_text(again, out, "twice is the same");
	}
}

static void folding_makes_capitals_and_quotes_equal_but_not_accents(void **state)
{
	(void)state;
	static const char *const same[][2] = {{"A3", "a3"}, {"FIG BY GATE", "fig by gate"},
		{"N\xC3\x8DSPERO", "n\xC3\xADspero"}, {"NI\xCC\x81SPERO", "n\xC3\xADspero"},
		{"\xC5\xBDivot", "\xC5\xBEIVOT"},
		{"\xCE\xA3\xCE\xA5\xCE\x9A\xCE\x97", "\xCF\x83\xCF\x85\xCE\xBA\xCE\xB7"},
		{"\xCF\x82", "\xCF\x83"}, {"\xD0\xAF\xD0\xB1\xD0\xBB", "\xD1\x8F\xD0\x91\xD0\x9B"},
		{"\xE1\xBA\xBF", "\xE1\xBA\xBE"}, {"Gran\xE2\x80\x99s", "gran's"},
		{"\xE2\x80\x9C"
		 "a\xE2\x80\x9D",
			"\"A\""},
		{"\xC3\x9F", "\xE1\xBA\x9E"}, {"\xEF\xBC\xA1", "a"}};
	static const char *const other[][2] = {{"nispero", "n\xC3\xADspero"}, {"A3", "A"},
		{"", "a"}, {"A 3", "A3"}, {"\xC3\xB7", "\xC3\x97"}, {"o", "\xC3\xB8"}};
	for (size_t at = 0; at < sizeof same / sizeof *same; at++) {
		char left[64];
		char right[64];
		assert_true(text_fold(same[at][0], left, sizeof left));
		assert_true(text_fold(same[at][1], right, sizeof right));
		check_text(left, right, same[at][0]);
		assert_true(text_same(same[at][0], same[at][1]));
		assert_true(text_starts(same[at][0], same[at][1]));
	}
	for (size_t at = 0; at < sizeof other / sizeof *other; at++)
		assert_false(text_same(other[at][0], other[at][1]));
	assert_true(text_starts("Fig by gate", "FIG"));
	assert_true(text_starts("fig", ""));
	assert_false(text_starts("fi", "fig"));
}

static void what_does_not_fit_is_said(void **state)
{
	(void)state;
	char out[4];
	assert_true(text_normalise("abc", out, sizeof out));
	assert_false(text_normalise("abcd", out, sizeof out));
	check_text(out, "abc", "cut");
	assert_false(text_fold("ab\xC3\x89", out, sizeof out));
	check_text(out, "ab", "cut at a character");
}

static void labels_sort_as_a_person_counts(void **state)
{
	(void)state;
	static const char *const in_order[] = {"", " ", "-", "1", "2", "10", "100", "A", "a1", "A2",
		"a2b", "A9", "a10", "A10 a", "A10 B", "a10 c", "A100", "B", "fig", "Fig 2",
		"fig 10", "Figs", "z", "\xC3\xA9t\xC3\xA9", "\xFF"};
	int count = (int)(sizeof in_order / sizeof *in_order);
	for (int a = 0; a < count; a++)
		for (int b = 0; b < count; b++)
			check_int(text_compare_natural(in_order[a], in_order[b]), (a > b) - (a < b),
				in_order[b]);
}

static void equal_labels_are_told_apart_by_their_bytes(void **state)
{
	(void)state;
	check_int(text_compare_natural("A3", "a3"), -1, "capitals first");
	check_int(text_compare_natural("A03", "A3"), -1, "zeros first");
	check_int(text_compare_natural("A03 b", "A3 a"), 1, "but only when the rest is equal");
	check_int(text_compare_natural("a1", "A2"), -1, "number before capitals");
	check_int(text_compare_natural("fig", "fig"), 0, "same");
}

static void the_order_is_total(void **state)
{
	(void)state;
	static const char alphabet[] = "aAbB019 -\xC3\xA9\xCC\x81";
	enum { COUNT = 60 };
	char texts[COUNT][8];
	uint32_t random = 5;
	for (int at = 0; at < COUNT; at++) {
		size_t length = 0;
		for (; length < (size_t)at % 7; length++) {
			random = random * 1664525U + 1013904223U;
			texts[at][length] = alphabet[(random >> 16) % (sizeof alphabet - 1)];
		}
		texts[at][length] = '\0';
	}
	for (int a = 0; a < COUNT; a++) {
		for (int b = 0; b < COUNT; b++) {
			int order = text_compare_natural(texts[a], texts[b]);
			assert_int_equal(order, -text_compare_natural(texts[b], texts[a]));
			assert_int_equal(order == 0, strcmp(texts[a], texts[b]) == 0);
			for (int c = 0; order <= 0 && c < COUNT; c++)
				if (text_compare_natural(texts[b], texts[c]) <= 0)
					assert_true(text_compare_natural(texts[a], texts[c]) <= 0);
		}
	}
}

static void numbers_of_any_length_compare(void **state)
{
	(void)state;
	char nines[200];
	char longer[201];
	memset(nines, '9', sizeof nines - 1);
	nines[sizeof nines - 1] = '\0';
	memset(longer, '1', sizeof longer - 1);
	longer[sizeof longer - 1] = '\0';
	check_int(text_compare_natural(nines, longer), -1, "more digits");
	longer[199] = '\0';
	check_int(text_compare_natural(nines, longer), 1, "larger digits");
}

/* No text, broken or heaped with marks, breaks the reader; what comes out is plain. */
static void random_bytes_normalise_to_what_stays(void **state)
{
	(void)state;
	static const char *const parts[] = {"a", "E", "\xCC\x81", "\xCC\xA3", "\xCC\x82",
		"\xCC\x9B", "\xC3", "\xFF", "\xE1\xBB\x87", "\xC2\xA0", "\xE2\x80\x8B",
		"\xEF\xBC\x91", "\x1B", "\xCE\xB9", "\xCD\x85", "\xCC\x94", "o", "\xE1\xBE\x82",
		" "};
	uint32_t random = 9;
	for (int round = 0; round < 30000; round++) {
		char text[200] = "";
		for (int count = 0; count < 40; count++) {
			random = random * 1664525U + 1013904223U;
			strcat(text, parts[(random >> 16) % (sizeof parts / sizeof *parts)]);
		}
		char once[601];
		char twice[1803];
		assert_true(text_normalise(text, once, sizeof once));
		assert_true(text_is_valid(once, strlen(once)));
		assert_true(text_normalise(once, twice, sizeof twice));
		check_text(twice, once, "twice is the same");
		assert_true(text_same(text, once));
	}
}

/* "0069 0301" as UTF-8 text. */
static void text_of_codes(const char *codes, char *out, size_t size)
{
	struct text_builder builder = text_builder_fixed(out, size);
	char *rest;
	for (unsigned long code = strtoul(codes, &rest, 16); rest != codes;
		code = strtoul(codes, &rest, 16)) {
		text_add_character(&builder, (uint32_t)code);
		codes = rest;
	}
	assert_false(builder.cut);
}

static void published(const struct table_row *row)
{
	char text[64];
	char want[64];
	char got[64];
	const char *what = row_text(row, "what");
	text_of_codes(row_text(row, "codes"), text, sizeof text);
	text_of_codes(row_text(row, "expected"), want, sizeof want);
	if (strcmp(what, "width") == 0) {
		check_int(text_width(text), row_int(row, "expected"), "cells");
		return;
	}
	bool fold = strcmp(what, "fold") == 0;
	if (!fold)
		check_text(what, "nfc", "what");
	assert_true(
		fold ? text_fold(text, got, sizeof got) : text_normalise(text, got, sizeof got));
	check_text(got, want, what);
}

int main(void)
{
	struct table *table = outside_open("tests/outside/unicode.tsv");
	int failed = run_rows("published characters", table, published);
	table_free(table);
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(normalising_composes_and_makes_plain),
		cmocka_unit_test(folding_makes_capitals_and_quotes_equal_but_not_accents),
		cmocka_unit_test(what_does_not_fit_is_said),
		cmocka_unit_test(labels_sort_as_a_person_counts),
		cmocka_unit_test(equal_labels_are_told_apart_by_their_bytes),
		cmocka_unit_test(the_order_is_total),
		cmocka_unit_test(numbers_of_any_length_compare),
		cmocka_unit_test(random_bytes_normalise_to_what_stays),
	};
	failed += cmocka_run_group_tests(tests, NULL, NULL);
	return failed != 0;
}
