/* SPDX-License-Identifier: MIT */
#include "support/test.h"

#include <string.h>

static void set_returns_the_status_and_formats(void **state)
{
	(void)state;
	struct fault why;
	check_int(fault_set(&why, STATUS_RANGE, "girth %d mm is outside 10..6000 mm", 7),
		STATUS_RANGE, "returned");
	check_int(why.status, STATUS_RANGE, "kept");
	check_text(why.text, "girth 7 mm is outside 10..6000 mm", "text");
}

static void nowhere_to_say_why_is_fine(void **state)
{
	(void)state;
	check_int(fault_set(NULL, STATUS_IO, "%s", "gone"), STATUS_IO, "returned");
	fault_prefix(NULL, "%s: ", "x");
}

static void the_old_text_may_be_an_argument(void **state)
{
	(void)state;
	struct fault why;
	(void)fault_set(&why, STATUS_SYNTAX, "no verb");
	(void)fault_set(&why, STATUS_RANGE, "line 3: %s", why.text);
	check_text(why.text, "line 3: no verb", "text");
}

static void long_text_is_cut_at_a_character(void **state)
{
	(void)state;
	struct fault why;
	/* 1 byte, then characters of 2, 3 and 4 bytes to the brim and beyond. */
	static const char *const fillers[] = {"\xC3\xA9", "\xE2\x80\xA6", "\xF0\x9F\x8C\xB3"};
	for (size_t kind = 0; kind < 3; kind++) {
		for (size_t lead = 0; lead < 4; lead++) {
			char text[1000];
			memset(text, 'a', lead);
			size_t unit = strlen(fillers[kind]);
			size_t at = lead;
			for (; at + unit < sizeof text; at += unit)
				memcpy(text + at, fillers[kind], unit);
			text[at] = '\0';
			(void)fault_set(&why, STATUS_SYNTAX, "%s", text);
			size_t want = lead + (FAULT_TEXT_SIZE - 1 - lead) / unit * unit;
			check_int((int64_t)strlen(why.text), (int64_t)want, fillers[kind]);
		}
	}
}

static void quoted_words_are_cut_at_a_character(void **state)
{
	(void)state;
	struct fault why;
	(void)fault_set(&why, STATUS_SYNTAX, "'%.3s' and '%.4s' is no \xC3\xA9 '%s'", "ab\xC3\xA9",
		"ab\xE2\x80\xA6", "\xF0\x9F\x8C\xB3");
	check_text(why.text, "'ab' and 'ab' is no \xC3\xA9 '\xF0\x9F\x8C\xB3'", "text");
}

static void prefix_goes_before_and_keeps_the_status(void **state)
{
	(void)state;
	struct fault why;
	(void)fault_set(&why, STATUS_SYNTAX, "not a length");
	fault_prefix(&why, "%s line %d: ", "trees.csv", 12);
	check_text(why.text, "trees.csv line 12: not a length", "text");
	check_int(why.status, STATUS_SYNTAX, "status");
}

static void prefix_of_a_full_text_is_cut_at_a_character(void **state)
{
	(void)state;
	struct fault why;
	char text[1000] = "";
	for (int at = 0; at < 300; at++)
		strcat(text, "\xC3\xA9");
	(void)fault_set(&why, STATUS_SYNTAX, "%s", text);
	for (int step = 0; step < 600; step++) {
		fault_prefix(&why, "a");
		size_t trail = 0;
		size_t length = strlen(why.text);
		assert_true(length < FAULT_TEXT_SIZE);
		for (size_t at = 0; at < length; at++)
			trail += (why.text[at] & 0x80) != 0;
		check_int((int64_t)(trail % 2), 0, "whole characters only");
	}
	check_int(why.text[0], 'a', "prefix");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(set_returns_the_status_and_formats),
		cmocka_unit_test(nowhere_to_say_why_is_fine),
		cmocka_unit_test(the_old_text_may_be_an_argument),
		cmocka_unit_test(long_text_is_cut_at_a_character),
		cmocka_unit_test(quoted_words_are_cut_at_a_character),
		cmocka_unit_test(prefix_goes_before_and_keeps_the_status),
		cmocka_unit_test(prefix_of_a_full_text_is_cut_at_a_character),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
