/* SPDX-License-Identifier: MIT */
/* The tables of man/boughbook-entry.5 are those of the program. UPDATE_GOLDEN=1 writes them. */
#include "core/kind.h"
#include "support/manual.h"
#include "support/test.h"

static const char page[] = "man/boughbook-entry.5";

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
	manual_add(out, row->help);
	text_add(out, ".\n.br\nVerbs: ");
	add_list(out, row->verbs);
	text_add(out, ".\n.br\nHolds: ");
	for (int i = 0; row->fields[i] != FIELD_NONE; i++) {
		text_add(out, i > 0 ? ", " : "");
		manual_add(out, field_row(row->fields[i])->label);
	}
	text_add(out, ".\n");
	if (row->default_unit != NULL)
		text_add_format(out, "A bare number is %s.\n", row->default_unit);
	text_add(out, ".Bd -literal -offset indent -compact\n");
	manual_add(out, row->example);
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
		manual_add(out, row->help);
		text_add(out, ".\n.br\nWords: ");
		add_list(out, row->words);
		text_add(out, ".\n");
	}
	text_add(out, ".El\n");
}

static void kinds_of_the_manual_are_the_programs(void **state)
{
	(void)state;
	check_manual_table(page, ".\\\" kinds: made", ".\\\" kinds: end", add_kinds);
}

static void cuts_of_the_manual_are_the_programs(void **state)
{
	(void)state;
	check_manual_table(page, ".\\\" cuts: made", ".\\\" cuts: end", add_cuts);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(kinds_of_the_manual_are_the_programs),
		cmocka_unit_test(cuts_of_the_manual_are_the_programs),
	};
	return cmocka_run_group_tests_name("entry manual", tests, NULL, NULL) != 0;
}
