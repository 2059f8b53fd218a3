/* SPDX-License-Identifier: MIT */
/* Characters, clusters, copying, building and showing. Folding is in test_text_fold.c. */
#include "support/test.h"

#include <locale.h>
#include <string.h>
#include <wchar.h>

#include "core/text.h"

#define E_ACUTE "\xC3\xA9"
#define ACUTE "\xCC\x81" /* combining */
#define ELLIPSIS "\xE2\x80\xA6"
#define BAD "\xEF\xBF\xBD"
#define CIRCLE "\xE2\x97\x8C"
#define TREE "\xF0\x9F\x8C\xB3"
#define JOINER "\xE2\x80\x8D"
#define PEACH "\xE6\xA1\x83" /* the Chinese character */

static uint32_t next_random(uint32_t *state)
{
	*state = *state * 1664525U + 1013904223U;
	return *state >> 8;
}

/* --- characters --- */

static void every_character_encodes_and_decodes(void **state)
{
	(void)state;
	for (uint32_t code = 0; code <= 0x10FFFF; code++) {
		if (code >= 0xD800 && code <= 0xDFFF)
			continue;
		char bytes[4];
		size_t used;
		size_t size = text_encode(code, bytes);
		assert_int_equal(text_decode(bytes, size, &used), code);
		assert_int_equal(used, size);
	}
	char bytes[4];
	check_int((int64_t)text_encode(0xD800, bytes), 3, "surrogate");
	check_int(memcmp(bytes, BAD, 3), 0, "surrogate");
	check_int((int64_t)text_encode(0x110000, bytes), 3, "beyond the last");
	check_int(memcmp(bytes, BAD, 3), 0, "beyond the last");
}

static void what_is_not_utf8_is_bad_byte_by_byte(void **state)
{
	(void)state;
	static const char *const rows[] = {"\x80", "\xBF", "\xC0\xAF", "\xC1\xBF", "\xE0\x80\xAF",
		"\xF0\x80\x80\xAF", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\xF5\x80\x80\x80", "\xFF",
		"\xFE", "\xC3", "\xE2\x80", "\xF0\x9F\x8C",
		"\xC3"
		"a",
		"\xE2\x80"
		"a",
		"\xC3\xC3"};
	for (size_t at = 0; at < sizeof rows / sizeof *rows; at++) {
		size_t used;
		check_int(text_decode(rows[at], strlen(rows[at]), &used), TEXT_BAD, rows[at]);
		check_int((int64_t)used, 1, "one byte");
		assert_false(text_is_valid(rows[at], strlen(rows[at])));
	}
	size_t used;
	check_int(text_decode("", 0, &used), 0, "nothing");
	check_int((int64_t)used, 0, "nothing");
	assert_true(text_is_valid("N\xC3\xADspero " BAD TREE, strlen("N\xC3\xADspero " BAD TREE)));
}

static void limits_count_characters(void **state)
{
	(void)state;
	check_int((int64_t)text_count_characters(""), 0, "none");
	check_int((int64_t)text_count_characters("N\xC3\xADspero"), 7, "accent");
	check_int((int64_t)text_count_characters(TREE "\xFF"
						      "a"),
		3, "bad bytes count");
}

/* --- clusters --- */

static void clusters_hold_what_a_person_takes_for_one(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		size_t first; /* bytes of the first cluster */
	} rows[] = {{"ab", 1}, {E_ACUTE "b", 2}, {"e" ACUTE "b", 3}, {"e" ACUTE ACUTE "b", 5},
		{TREE TREE, 4},
		{"\xF0\x9F\x91\xA9" JOINER "\xF0\x9F\x8C\xBE"
		 "x",
			11},                                                        /* a farmer */
		{"\xF0\x9F\x91\xA9\xF0\x9F\x8F\xBD" JOINER "\xF0\x9F\x8C\xBE", 15}, /* skin tone */
		{"\xE2\x9D\xA4\xEF\xB8\x8F"
		 "x",
			6}, /* selector */
		{"\xF0\x9F\x87\xAA\xF0\x9F\x87\xB8\xF0\x9F\x87\xAB\xF0\x9F\x87\xB7",
			8}, /* 2 flags */
		{"a" JOINER "b", 4}, {"\n" ACUTE, 1}, {ACUTE "a", 2},
		{"1\xEF\xB8\x8F\xE2\x83\xA3"
		 "2",
			7},
		{"\xE1\x84\x80\xE1\x85\xA1\xE1\x86\xA8"
		 "x",
			9}, /* Korean letters of one syllable */
		{"\xFF" ACUTE, 3}, {" " ACUTE "x", 3}};
	for (size_t at = 0; at < sizeof rows / sizeof *rows; at++)
		check_int((int64_t)text_next(rows[at].text, strlen(rows[at].text), 0),
			(int64_t)rows[at].first, rows[at].text);
}

/* Text drawn from everything that joins, breaks, hides or is broken. */
static void random_text(uint32_t *random, char *out, size_t size)
{
	static const char *const parts[] = {"a", "Z", " ", "7", E_ACUTE, ACUTE, "\xCC\xA3", JOINER,
		TREE, "\xF0\x9F\x91\xA9", "\xF0\x9F\x8F\xBD", "\xEF\xB8\x8F", "\xF0\x9F\x87\xAA",
		PEACH, "\x1B[31m", "\x07", "\t", "\n", "\xC2\x9B", "\xE2\x80\xAE", "\xE2\x81\xA6",
		"\xE2\x80\xA8", "\xFF", "\xC3", "\xE2\x80", "\x7F", "\xC2\xAD", "\xEF\xBB\xBF",
		"\xD7\xA9", "\xD8\xA8", "\xE1\x85\xA1", BAD, "\xEF\xBF\xBF", "\xF0\x9F", "\r",
		"\xE2\x80\x8B", "\xC2\xA0", "\xE3\x80\x80", "\xE2\x80\x93"};
	size_t length = 0;
	size_t count = next_random(random) % 24;
	while (count-- > 0) {
		const char *part = parts[next_random(random) % (sizeof parts / sizeof *parts)];
		if (length + strlen(part) + 1 > size)
			break;
		memcpy(out + length, part, strlen(part));
		length += strlen(part);
	}
	out[length] = '\0';
}

static void steps_forward_and_back_meet_the_same_places(void **state)
{
	(void)state;
	uint32_t random = 1;
	for (int round = 0; round < 20000; round++) {
		char text[200];
		random_text(&random, text, sizeof text);
		size_t length = strlen(text);
		size_t before = 0;
		for (size_t at = 0; at < length;) {
			size_t next = text_next(text, length, at);
			assert_true(next > at && next <= length);
			assert_int_equal(text_previous(text, length, next), at);
			before = at;
			at = next;
		}
		assert_int_equal(text_previous(text, length, length), before);
		assert_int_equal(text_next(text, length, length), length);
		assert_int_equal(text_previous(text, length, 0), 0);
	}
}

/* --- showing --- */

static void nothing_that_steers_a_terminal_is_shown(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		const char *clean;
		const char *ascii;
	} rows[] = {{"", "", ""}, {"fig by gate", "fig by gate", "fig by gate"},
		{"\x1B[2J", "\xE2\x90\x9B[2J", "?[2J"}, {"a\tb\nc\r", "a b c ", "a b c "},
		{"\xC2\x9B"
		 "31m",
			BAD "31m", "?31m"},
		{"\x7F", "\xE2\x90\xA1", "?"},
		{"a\xE2\x80\xAE"
		 "b",
			"a" BAD "b", "a?b"},
		{"\xE2\x81\xA6x", BAD "x", "?x"},
		{"a\xE2\x80\xA8"
		 "b",
			"a b", "a b"},
		{"a\xC2\x85"
		 "b",
			"a b", "a b"},
		{"N\xC3\xADspero", "N\xC3\xADspero", "N?spero"}, {"\xFF\xFE", BAD BAD, "??"},
		{ACUTE "a", CIRCLE ACUTE "a", "?a"}, {"e" ACUTE, "e" ACUTE, "e"},
		{"3\xE2\x80\x93"
		 "5 \xE2\x80\x9Cok\xE2\x80\x9D",
			"3\xE2\x80\x93"
			"5 \xE2\x80\x9Cok\xE2\x80\x9D",
			"3-5 \"ok\""},
		{"2 \xC3\x97 3\xC2\xA0m", "2 \xC3\x97 3 m", "2 x 3 m"},
		{"\xF0\x9F\x91\xA9" JOINER "\xF0\x9F\x8C\xBE", "\xF0\x9F\x91\xA9", "?"},
		{"\xEF\xBF\xBF", BAD, "?"},
		{"\xEF\xBB\xBF"
		 "a",
			BAD "a", "?a"},
		{"a" ACUTE ACUTE ACUTE ACUTE ACUTE ACUTE "b", "a" ACUTE ACUTE ACUTE ACUTE "b",
			"ab"}};
	for (size_t at = 0; at < sizeof rows / sizeof *rows; at++) {
		char out[200];
		check_text(text_clean(rows[at].text, TEXT_PLAIN, out, sizeof out), rows[at].clean,
			rows[at].text);
		check_text(text_clean(rows[at].text, TEXT_ASCII, out, sizeof out), rows[at].ascii,
			rows[at].text);
	}
}

static void check_is_safe(const char *text, bool ascii)
{
	size_t length = strlen(text);
	size_t used;
	assert_true(text_is_valid(text, length));
	for (size_t at = 0; at < length; at += used) {
		uint32_t code = text_decode(text + at, length - at, &used);
		assert_true(code >= 0x20 && (code < 0x7F || code >= 0xA0));
		assert_false(ascii && code >= 0x7F);
		assert_false(code >= 0x2028 && code <= 0x202E);
		assert_false(code >= 0x2060 && code <= 0x206F);
		assert_false(code == 0x200D || code == 0x200E || code == 0x200F || code == 0xFEFF);
	}
}

static void hostile_text_is_always_safe_and_fits(void **state)
{
	(void)state;
	uint32_t random = 2;
	for (int round = 0; round < 30000; round++) {
		char text[200];
		char clean[3000];
		char fitted[3000];
		random_text(&random, text, sizeof text);
		int how = (int)(next_random(&random) % 8);
		text_clean(text, how, clean, sizeof clean);
		check_is_safe(clean, how & TEXT_ASCII);
		if (!(how & TEXT_ASCII))
			assert_int_equal(text_width(clean), text_width(text));
		int cells = (int)(next_random(&random) % 30);
		text_fit(text, cells, how, fitted, sizeof fitted);
		check_is_safe(fitted, how & TEXT_ASCII);
		assert_true(strlen(fitted) < TEXT_FIT_SIZE(cells));
		if (how & (TEXT_PAD_LEFT | TEXT_PAD_RIGHT))
			assert_int_equal(text_width(fitted), cells);
		else
			assert_true(text_width(fitted) <= cells);
		char small[9];
		text_fit(text, cells, how, small, sizeof small);
		assert_true(text_is_valid(small, strlen(small)));
	}
}

static void cells_are_those_the_terminal_library_counts(void **state)
{
	(void)state;
	if (setlocale(LC_CTYPE, "C.UTF-8") == NULL)
		skip();
	int other = 0;
	for (uint32_t code = 0xA0; code <= 0x10FFFF; code++) {
		if (code >= 0xD800 && code <= 0xDFFF)
			continue;
		char bytes[5] = "";
		char shown[64];
		text_encode(code, bytes);
		text_clean(bytes, TEXT_PLAIN, shown, sizeof shown);
		if (strcmp(bytes, shown) != 0)
			continue;
		int cells = wcwidth((wchar_t)code);
		other += text_width(bytes) != (cells < 0 ? 1 : cells); /* unknown there: one */
	}
	setlocale(LC_CTYPE, "C");
	/* None on glibc 2.36; a newer Unicode has a few dozen new signs. */
	assert_true(other <= 64);
}

static void fitting_cuts_between_clusters_and_pads(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		int cells;
		int how;
		const char *want;
	} rows[] = {{"loquat", 6, TEXT_PLAIN, "loquat"}, {"loquat", 5, TEXT_PLAIN, "loqu" ELLIPSIS},
		{"loquat", 5, TEXT_ASCII, "loqu~"}, {"loquat", 1, TEXT_PLAIN, ELLIPSIS},
		{"loquat", 0, TEXT_PAD_RIGHT, ""}, {"loquat", -3, TEXT_PAD_RIGHT, ""},
		{"fig", 5, TEXT_PAD_RIGHT, "fig  "}, {"fig", 5, TEXT_PAD_LEFT, "  fig"},
		{"fig", 5, TEXT_PLAIN, "fig"}, {"", 3, TEXT_PAD_LEFT, "   "},
		{"Ni" ACUTE "spero", 4, TEXT_PLAIN, "Ni" ACUTE "s" ELLIPSIS},
		{"Ni" ACUTE "spero", 3, TEXT_PLAIN, "Ni" ACUTE ELLIPSIS},
		{PEACH PEACH PEACH, 6, TEXT_PLAIN, PEACH PEACH PEACH},
		{PEACH PEACH PEACH, 5, TEXT_PLAIN, PEACH PEACH ELLIPSIS},
		{PEACH PEACH PEACH, 4, TEXT_PAD_RIGHT, PEACH ELLIPSIS " "},
		{PEACH PEACH PEACH, 4, TEXT_PAD_LEFT, " " PEACH ELLIPSIS},
		{PEACH, 1, TEXT_PLAIN, ELLIPSIS}, {PEACH, 2, TEXT_ASCII | TEXT_PAD_RIGHT, "? "},
		{"a\x1Bz", 3, TEXT_PLAIN, "a\xE2\x90\x9Bz"}, {"A3\n", 4, TEXT_PAD_RIGHT, "A3  "}};
	for (size_t at = 0; at < sizeof rows / sizeof *rows; at++) {
		char out[TEXT_FIT_SIZE(6)];
		check_text(text_fit(rows[at].text, rows[at].cells, rows[at].how, out, sizeof out),
			rows[at].want, rows[at].text);
	}
}

static void a_long_text_is_cleaned_whole_in_an_arena(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	char text[5001];
	memset(text, '\x1B', sizeof text - 1);
	text[sizeof text - 1] = '\0';
	const char *clean = text_clean_whole(arena, text, TEXT_PLAIN);
	check_int((int64_t)strlen(clean), 15000, "three bytes each");
	check_is_safe(clean, false);
	arena_free(arena);
}

/* --- copying, trimming, building --- */

static void copies_are_cut_at_a_character(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		size_t size;
		const char *want;
		bool whole;
	} rows[] = {{"fig", 4, "fig", true}, {"fig", 3, "fi", false}, {"fig", 1, "", false},
		{"a" E_ACUTE, 4, "a" E_ACUTE, true}, {"a" E_ACUTE, 3, "a", false},
		{TREE, 5, TREE, true}, {TREE, 4, "", false}, {"a" TREE "b", 5, "a", false},
		{"a" TREE "b", 6, "a" TREE, false}, {NULL, 1, "", true},
		{"\x80\x80\x80\x80\x80", 5, "\x80\x80\x80\x80", false}};
	for (size_t at = 0; at < sizeof rows / sizeof *rows; at++) {
		char out[8] = "xxxxxxx";
		check_int(text_copy(out, rows[at].size, rows[at].text), rows[at].whole, "fit");
		check_text(out, rows[at].want, "copy");
	}
	char part[8];
	assert_true(text_copy_n(part, sizeof part, "fig by gate", 3));
	check_text(part, "fig", "part");
}

static void trimming_leaves_what_stands_between_blanks(void **state)
{
	(void)state;
	static const char *const rows[][2] = {{"", ""}, {"   ", ""}, {" a b ", "a b"},
		{"\t\n x\r\n", "x"}, {"x", "x"}, {" \xC3\xA9 ", E_ACUTE}};
	for (size_t at = 0; at < sizeof rows / sizeof *rows; at++) {
		size_t length;
		const char *start = text_trim(rows[at][0], &length);
		char out[16];
		text_copy_n(out, sizeof out, start, length);
		check_text(out, rows[at][1], "trim");
		text_copy(out, sizeof out, rows[at][0]);
		check_text(text_trim_in_place(out), rows[at][1], "in place");
	}
}

static void a_builder_grows_in_an_arena(void **state)
{
	(void)state;
	struct arena *arena = arena_new();
	struct text_builder builder = text_builder_in(arena);
	check_text(builder.text, "", "empty");
	for (int count = 0; count < 1000; count++) {
		text_add(&builder, "tree ");
		text_add_format(&builder, "%d", count % 10);
		text_add_character(&builder, 0xE9);
		text_add_n(&builder, ";xxx", 1);
	}
	check_int((int64_t)builder.length, 9000, "length");
	check_int((int64_t)strlen(builder.text), 9000, "closed");
	check_int(strncmp(builder.text, "tree 0" E_ACUTE ";tree 1", 15), 0, "start");
	assert_false(builder.cut);
	char long_text[700];
	memset(long_text, 'y', sizeof long_text - 1);
	long_text[sizeof long_text - 1] = '\0';
	for (int count = 0; count < 30; count++)
		text_add_format(&builder, "<%s>", long_text);
	check_int((int64_t)builder.length, 9000 + 30 * 701, "formats");
	check_int(builder.text[builder.length - 1], '>', "end");
	arena_free(arena);
}

static void a_builder_in_a_room_stops_at_its_end(void **state)
{
	(void)state;
	char room[8];
	struct text_builder builder = text_builder_fixed(room, sizeof room);
	text_add(&builder, "figs ");
	text_add(&builder, "e" TREE);
	check_text(room, "figs e", "no half character");
	assert_true(builder.cut);
	text_add(&builder, "x");
	text_add_format(&builder, "y");
	text_add_character(&builder, 'z');
	check_text(room, "figs e", "nothing after a cut");
	builder = text_builder_fixed(room, sizeof room);
	text_add_format(&builder, "abcdef%s", TREE);
	check_text(room, "abcdef", "format");
	check_int((int64_t)builder.length, 6, "length");
	assert_true(builder.cut);
	builder = text_builder_fixed(room, sizeof room);
	text_add_format(&builder, "%s", "1234567");
	assert_false(builder.cut);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_character_encodes_and_decodes),
		cmocka_unit_test(what_is_not_utf8_is_bad_byte_by_byte),
		cmocka_unit_test(limits_count_characters),
		cmocka_unit_test(clusters_hold_what_a_person_takes_for_one),
		cmocka_unit_test(steps_forward_and_back_meet_the_same_places),
		cmocka_unit_test(nothing_that_steers_a_terminal_is_shown),
		cmocka_unit_test(hostile_text_is_always_safe_and_fits),
		cmocka_unit_test(cells_are_those_the_terminal_library_counts),
		cmocka_unit_test(fitting_cuts_between_clusters_and_pads),
		cmocka_unit_test(a_long_text_is_cleaned_whole_in_an_arena),
		cmocka_unit_test(copies_are_cut_at_a_character),
		cmocka_unit_test(trimming_leaves_what_stands_between_blanks),
		cmocka_unit_test(a_builder_grows_in_an_arena),
		cmocka_unit_test(a_builder_in_a_room_stops_at_its_end),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
