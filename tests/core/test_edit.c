/* SPDX-License-Identifier: MIT */
#include "support/test.h"

#include <string.h>

#include "core/edit.h"
#include "core/text.h"

#define E_ACUTE "\xC3\xA9"
#define ACUTE "\xCC\x81"
#define PEACH "\xE6\xA1\x83" /* two cells */
#define FARMER "\xF0\x9F\x91\xA9\xE2\x80\x8D\xF0\x9F\x8C\xBE"

/* "|" in want marks the cursor. */
static void check_edit(const struct edit *edit, const char *want, const char *label)
{
	char shown[EDIT_SIZE + 1];
	snprintf(shown, sizeof shown, "%.*s|%s", (int)edit->cursor, edit->text,
		edit->text + edit->cursor);
	check_text(shown, want, label);
	check_int((int64_t)edit->length, (int64_t)strlen(edit->text), "length");
}

static struct edit edit_of(const char *text)
{
	struct edit edit;
	assert_true(edit_load(&edit, text, 4000));
	return edit;
}

static void letters_go_in_at_the_cursor(void **state)
{
	(void)state;
	struct edit edit;
	edit_start(&edit, 100);
	check_edit(&edit, "|", "empty");
	assert_true(edit_insert(&edit, "f"));
	assert_true(edit_insert(&edit, "g"));
	assert_true(edit_do(&edit, EDIT_LEFT));
	assert_true(edit_insert(&edit, "i"));
	check_edit(&edit, "fi|g", "typed");
	assert_true(edit_insert(&edit, ""));
	check_edit(&edit, "fi|g", "nothing");
}

static void moves_go_by_clusters_and_words(void **state)
{
	(void)state;
	struct edit edit = edit_of("ne" ACUTE "fle " FARMER " 6 lb");
	edit_do(&edit, EDIT_HOME);
	edit_do(&edit, EDIT_RIGHT);
	edit_do(&edit, EDIT_RIGHT);
	check_edit(&edit, "ne" ACUTE "|fle " FARMER " 6 lb", "over a letter with its mark");
	edit_do(&edit, EDIT_WORD_RIGHT);
	edit_do(&edit, EDIT_RIGHT);
	check_edit(&edit, "ne" ACUTE "fle " FARMER "| 6 lb", "over a sequence");
	edit_do(&edit, EDIT_LEFT);
	check_edit(&edit, "ne" ACUTE "fle |" FARMER " 6 lb", "and back");
	edit_do(&edit, EDIT_END);
	assert_false(edit_do(&edit, EDIT_RIGHT));
	edit_do(&edit, EDIT_WORD_LEFT);
	edit_do(&edit, EDIT_WORD_LEFT);
	check_edit(&edit, "ne" ACUTE "fle " FARMER " |6 lb", "words back");
	edit_do(&edit, EDIT_HOME);
	assert_false(edit_do(&edit, EDIT_LEFT));
	assert_false(edit_do(&edit, EDIT_WORD_LEFT));
	check_edit(&edit, "|ne" ACUTE "fle " FARMER " 6 lb", "home");
}

static void deleting_takes_whole_clusters(void **state)
{
	(void)state;
	struct edit edit = edit_of("ae" ACUTE FARMER "z");
	edit_do(&edit, EDIT_LEFT);
	assert_true(edit_do(&edit, EDIT_DELETE_BACK));
	check_edit(&edit, "ae" ACUTE "|z", "sequence");
	assert_true(edit_do(&edit, EDIT_DELETE_BACK));
	check_edit(&edit, "a|z", "letter and mark");
	assert_true(edit_do(&edit, EDIT_DELETE));
	check_edit(&edit, "a|", "forward");
	assert_false(edit_do(&edit, EDIT_DELETE));
	assert_true(edit_do(&edit, EDIT_DELETE_BACK));
	assert_false(edit_do(&edit, EDIT_DELETE_BACK));
	check_edit(&edit, "|", "empty");
}

static void killing_takes_words_and_lines(void **state)
{
	(void)state;
	struct edit edit = edit_of("A3 picked  6 lb");
	edit_do(&edit, EDIT_KILL_WORD);
	check_edit(&edit, "A3 picked  6 |", "word");
	edit_do(&edit, EDIT_KILL_WORD);
	check_edit(&edit, "A3 picked  |", "word with its blank");
	edit_do(&edit, EDIT_WORD_LEFT);
	edit_do(&edit, EDIT_KILL_TO_END);
	check_edit(&edit, "A3 |", "to the end");
	assert_false(edit_do(&edit, EDIT_KILL_TO_END));
	edit_do(&edit, EDIT_KILL_LINE);
	check_edit(&edit, "|", "line");
	assert_false(edit_do(&edit, EDIT_KILL_LINE));
	assert_false(edit_do(&edit, EDIT_KILL_WORD));
}

static void undo_takes_back_a_word_or_a_deletion_at_a_time(void **state)
{
	(void)state;
	struct edit edit;
	edit_start(&edit, 100);
	for (const char *key = "A3 cut"; *key != '\0'; key++)
		edit_insert(&edit, (char[]){*key, '\0'});
	edit_do(&edit, EDIT_DELETE_BACK);
	edit_do(&edit, EDIT_HOME);
	edit_insert(&edit, "x");
	edit_do(&edit, EDIT_KILL_LINE);
	check_edit(&edit, "|", "all gone");
	assert_true(edit_do(&edit, EDIT_UNDO));
	check_edit(&edit, "x|A3 cu", "kill");
	assert_true(edit_do(&edit, EDIT_UNDO));
	check_edit(&edit, "|A3 cu", "letter");
	assert_true(edit_do(&edit, EDIT_UNDO));
	check_edit(&edit, "A3 cut|", "deletion");
	assert_true(edit_do(&edit, EDIT_UNDO));
	check_edit(&edit, "A3 |", "second word");
	assert_true(edit_do(&edit, EDIT_UNDO));
	check_edit(&edit, "|", "first word");
	assert_false(edit_do(&edit, EDIT_UNDO));
}

static void what_is_loaded_cannot_be_undone_but_a_replacement_can(void **state)
{
	(void)state;
	struct edit edit = edit_of("kept");
	assert_false(edit_do(&edit, EDIT_UNDO));
	assert_true(edit_replace(&edit, "A3 picked 2 lb"));
	check_edit(&edit, "A3 picked 2 lb|", "replaced");
	assert_true(edit_do(&edit, EDIT_UNDO));
	check_edit(&edit, "kept|", "back");
}

static void the_limit_counts_characters(void **state)
{
	(void)state;
	struct edit edit;
	assert_false(edit_load(&edit, E_ACUTE E_ACUTE E_ACUTE E_ACUTE, 3));
	check_edit(&edit, E_ACUTE E_ACUTE E_ACUTE "|", "cut");
	assert_false(edit_insert(&edit, "x"));
	edit_do(&edit, EDIT_DELETE_BACK);
	assert_true(edit_insert(&edit, "x"));
	check_edit(&edit, E_ACUTE E_ACUTE "x|", "room again");
	assert_false(edit_replace(&edit, "abcd"));
	check_edit(&edit, "abc|", "replacement cut");
}

static void the_longest_line_fits_and_no_more(void **state)
{
	(void)state;
	struct edit edit;
	edit_start(&edit, 1000000);
	for (int count = 0; count < 2 * EDIT_SIZE; count++)
		edit_insert(&edit, PEACH);
	check_int((int64_t)edit.length, (EDIT_SIZE - 1) / 3 * 3, "whole characters");
	for (int count = 0; count < 50; count++) {
		edit_do(&edit, EDIT_KILL_LINE);
		edit_do(&edit, EDIT_UNDO);
		edit_do(&edit, EDIT_DELETE_BACK);
	}
	check_int((int64_t)edit.length, ((EDIT_SIZE - 1) / 3 - 50) * 3, "after undos");
}

static void controls_do_not_get_in(void **state)
{
	(void)state;
	struct edit edit;
	edit_start(&edit, 100);
	assert_true(edit_insert(&edit, "a\tb\r\nc\x1B[31m\x7F\xC2\x9B\xFF"));
	check_edit(&edit, "a b  c[31m\xEF\xBF\xBD|", "cleaned");
}

static void the_cursor_never_stands_inside_a_cluster(void **state)
{
	(void)state;
	struct edit edit = edit_of(ACUTE "x");
	edit_do(&edit, EDIT_HOME);
	edit_insert(&edit, "e");
	check_edit(&edit, "e" ACUTE "|x", "joined with the mark after it");
	edit = edit_of("a"
		       "\xE2\x80\x8D"
		       "b");
	check_edit(&edit,
		"a\xE2\x80\x8D"
		"b|",
		"joiner stays");
}

static void check_view(struct edit *edit, int cells, int how, const char *want, int cursor)
{
	char out[TEXT_FIT_SIZE(40)];
	struct edit_view view = edit_show(edit, cells, how, out, sizeof out);
	check_text(out, want, "shown");
	check_int(view.cursor, cursor, want);
}

static void a_field_scrolls_no_more_than_it_must(void **state)
{
	(void)state;
	struct edit edit = edit_of("0123456789abcdef");
	check_view(&edit, 8, TEXT_PLAIN, "9abcdef ", 7);
	for (int count = 0; count < 7; count++)
		edit_do(&edit, EDIT_LEFT);
	check_view(&edit, 8, TEXT_PLAIN, "9abcdef ", 0);
	edit_do(&edit, EDIT_LEFT);
	check_view(&edit, 8, TEXT_PLAIN, "89abcdef", 0);
	edit_do(&edit, EDIT_HOME);
	check_view(&edit, 8, TEXT_PLAIN, "01234567", 0);
	edit_do(&edit, EDIT_END);
	check_view(&edit, 8, TEXT_PLAIN, "9abcdef ", 7);
	check_view(&edit, 17, TEXT_PLAIN, "0123456789abcdef ", 16);
	edit_do(&edit, EDIT_KILL_LINE);
	check_view(&edit, 8, TEXT_PLAIN, "        ", 0);
}

static void a_field_knows_what_lies_outside(void **state)
{
	(void)state;
	struct edit edit = edit_of("0123456789");
	struct edit_view view = edit_look(&edit, 5, TEXT_PLAIN);
	assert_true(view.before && !view.after);
	edit_do(&edit, EDIT_HOME);
	view = edit_look(&edit, 5, TEXT_PLAIN);
	assert_true(!view.before && view.after);
	view = edit_look(&edit, 11, TEXT_PLAIN);
	assert_true(!view.before && !view.after);
}

static void wide_characters_take_two_cells(void **state)
{
	(void)state;
	struct edit edit = edit_of(PEACH PEACH PEACH PEACH);
	check_view(&edit, 5, TEXT_PLAIN, PEACH PEACH " ", 4);
	check_view(&edit, 9, TEXT_PLAIN, PEACH PEACH PEACH PEACH " ", 8);
	edit_do(&edit, EDIT_HOME);
	check_view(&edit, 5, TEXT_PLAIN, PEACH PEACH " ", 0);
	check_view(&edit, 3, TEXT_ASCII, "???", 0);
	edit_do(&edit, EDIT_END);
	check_view(&edit, 3, TEXT_ASCII, "?? ", 2);
	check_view(&edit, 1, TEXT_PLAIN, " ", 0);
}

static void random_key(struct edit *edit, uint32_t random)
{
	static const char *const keys[] = {"a", "b", " ", "7", E_ACUTE, ACUTE, PEACH, FARMER,
		"\xF0\x9F\x87\xAA", "\xE2\x80\x8D", "\xEF\xB8\x8F", "\xFF", "\t", "\x1B",
		"A3 cut 20%"};
	if (random % 5 < 3) {
		edit_insert(edit, keys[random / 5 % (sizeof keys / sizeof *keys)]);
		return;
	}
	edit_do(edit, (enum edit_act)(random / 5 % (EDIT_UNDO + 1)));
}

static void check_whole(struct edit *edit, int cells, int how)
{
	assert_int_equal(edit->length, strlen(edit->text));
	assert_true(text_is_valid(edit->text, edit->length));
	assert_true(text_count_characters(edit->text) <= 60);
	size_t boundary = 0;
	while (boundary < edit->cursor)
		boundary = text_next(edit->text, edit->length, boundary);
	assert_int_equal(boundary, edit->cursor);
	char out[TEXT_FIT_SIZE(40)];
	struct edit_view view = edit_show(edit, cells, how, out, sizeof out);
	assert_true(view.cursor >= 0 && view.cursor < cells);
	assert_true(view.from <= edit->cursor && edit->cursor <= view.to + (cells == 1));
	assert_int_equal(text_width(out), cells);
}

static void no_keys_break_the_line(void **state)
{
	(void)state;
	struct edit edit;
	edit_start(&edit, 60);
	uint32_t random = 11;
	for (int round = 0; round < 60000; round++) {
		random = random * 1664525U + 1013904223U;
		random_key(&edit, random >> 12);
		check_whole(&edit, 1 + round / 7 % 38, round % 2 == 0 ? TEXT_PLAIN : TEXT_ASCII);
	}
}

static void undo_goes_back_through_every_state(void **state)
{
	(void)state;
	struct edit edit;
	edit_start(&edit, 60);
	enum { KEYS = EDIT_STEPS_MAX };
	char texts[KEYS + 1][EDIT_SIZE];
	uint32_t random = 23;
	int count = 0;
	strcpy(texts[0], "");
	while (count < KEYS) {
		random = random * 1664525U + 1013904223U;
		int32_t steps = edit.steps_count;
		if ((random >> 12) % 5 >= 3 && (random >> 12) / 5 % (EDIT_UNDO + 1) == EDIT_UNDO)
			continue;
		random_key(&edit, random >> 12);
		if (edit.steps_count == steps && count > 0)
			strcpy(texts[count], edit.text); /* the letter joined the step before */
		else if (edit.steps_count > steps)
			strcpy(texts[++count], edit.text);
	}
	while (count > 0) {
		check_text(edit.text, texts[count--], "state");
		assert_true(edit_do(&edit, EDIT_UNDO));
	}
	check_text(edit.text, "", "first");
	assert_false(edit_do(&edit, EDIT_UNDO));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(letters_go_in_at_the_cursor),
		cmocka_unit_test(moves_go_by_clusters_and_words),
		cmocka_unit_test(deleting_takes_whole_clusters),
		cmocka_unit_test(killing_takes_words_and_lines),
		cmocka_unit_test(undo_takes_back_a_word_or_a_deletion_at_a_time),
		cmocka_unit_test(what_is_loaded_cannot_be_undone_but_a_replacement_can),
		cmocka_unit_test(the_limit_counts_characters),
		cmocka_unit_test(the_longest_line_fits_and_no_more),
		cmocka_unit_test(controls_do_not_get_in),
		cmocka_unit_test(the_cursor_never_stands_inside_a_cluster),
		cmocka_unit_test(a_field_scrolls_no_more_than_it_must),
		cmocka_unit_test(a_field_knows_what_lies_outside),
		cmocka_unit_test(wide_characters_take_two_cells),
		cmocka_unit_test(no_keys_break_the_line),
		cmocka_unit_test(undo_goes_back_through_every_state),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
