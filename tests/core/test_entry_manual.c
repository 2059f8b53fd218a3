/* SPDX-License-Identifier: MIT */
/* The tables of man/boughbook-entry.5 are those of the program. UPDATE_GOLDEN=1 writes them. */
#include <stdlib.h>
#include <string.h>

#include "core/kind.h"
#include "core/text.h"
#include "support/scratch.h"
#include "support/test.h"

static const char page[] = "man/boughbook-entry.5";

/* Roff's own signs: a hyphen that is a minus, a backslash. */
static void add_roff(struct text_builder *out, const char *text)
{
	for (; *text != '\0'; text++) {
		if (*text == '-')
			text_add(out, "\\-");
		else
			text_add_n(out, text, 1);
	}
}

/* Blank-separated words as a list with commas, '_' as a blank. */
static void add_list(struct text_builder *out, const char *words)
{
	for (; *words != '\0'; words++) {
		if (*words == ' ')
			text_add(out, ", ");
		else if (*words == '_')
			text_add(out, " ");
		else if (*words == '-')
			text_add(out, "\\-");
		else
			text_add_n(out, words, 1);
	}
}

static void add_kind(struct text_builder *out, const struct kind_row *row)
{
	text_add_format(out, ".It Sy %s", row->key);
	if (row->letter != 0)
		text_add_format(out, " Pq Ic %c", row->letter);
	text_add(out, "\n");
	add_roff(out, row->help);
	text_add(out, ".\n.br\nVerbs: ");
	add_list(out, row->verbs);
	text_add(out, ".\n.br\nHolds: ");
	for (int i = 0; row->fields[i] != FIELD_NONE; i++) {
		text_add(out, i > 0 ? ", " : "");
		add_roff(out, field_row(row->fields[i])->label);
	}
	text_add(out, ".\n");
	if (row->default_unit != NULL)
		text_add_format(out, "A bare number is %s.\n", row->default_unit);
	text_add(out, ".Bd -literal -offset indent -compact\n");
	add_roff(out, row->example);
	text_add(out, "\n.Ed\n");
}

static void add_kinds(struct text_builder *out)
{
	text_add(out, ".Bl -tag -width Ds\n");
	for (int kind = 0; kind < KIND_TOTAL; kind++)
		add_kind(out, kind_row((enum entry_kind)kind));
	text_add(out, ".El\n");
}

static void add_cuts(struct text_builder *out)
{
	text_add(out, ".Bl -tag -width Ds\n");
	for (int kind = CUT_UNSAID + 1; kind < CUT_TOTAL; kind++) {
		const struct cut_kind_row *row = cut_kind_row((enum cut_kind)kind);
		text_add_format(out, ".It Sy %s\n", row->title);
		add_roff(out, row->help);
		text_add(out, ".\n.br\nWords: ");
		add_list(out, row->words);
		text_add(out, ".\n");
	}
	text_add(out, ".El\n");
}

/* The page's text from the line after `begin` to the line `end`. */
static void check_table(const char *begin, const char *end, void (*add)(struct text_builder *))
{
	struct arena *arena = arena_new();
	struct text_builder want = text_builder_in(arena);
	size_t length = 0;
	char *text = file_read(page, &length);
	char *from = strstr(text, begin);
	assert_non_null(from);
	from = strchr(from, '\n') + 1;
	char *to = strstr(from, end);
	assert_non_null(to);
	add(&want);
	if (getenv("UPDATE_GOLDEN") != NULL) {
		struct text_builder whole = text_builder_in(arena);
		text_add_n(&whole, text, (size_t)(from - text));
		text_add(&whole, want.text);
		text_add(&whole, to);
		file_write(page, whole.text, whole.length);
	} else {
		*to = '\0';
		check_text(from, want.text, "the table of the manual (make golden writes it)");
	}
	free(text);
	arena_free(arena);
}

static void kinds_of_the_manual_are_the_programs(void **state)
{
	(void)state;
	check_table(".\\\" kinds: made", ".\\\" kinds: end", add_kinds);
}

static void cuts_of_the_manual_are_the_programs(void **state)
{
	(void)state;
	check_table(".\\\" cuts: made", ".\\\" cuts: end", add_cuts);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(kinds_of_the_manual_are_the_programs),
		cmocka_unit_test(cuts_of_the_manual_are_the_programs),
	};
	return cmocka_run_group_tests_name("entry manual", tests, NULL, NULL) != 0;
}
