/* SPDX-License-Identifier: MIT */
/* What is read at once is read as the scanners read it. A blank behind an amount is never part of
 * it, and sends the text to the scanners. */
#include "core/measure.h"

#include <stdio.h>
#include <string.h>

#include "support/test.h"

enum { TEXT_SIZE_HERE = 96 };

static const char *const figures[] = {"0", "00", "1", "7.5", "07.50", "12.25", "99999999",
	"100000000", "999999999", "12.345", "1.500", "0.125", "12.", ".5", "-3", "-0.5", "1,5",
	"1.2.3", "1 000", "1/2", "12e3", "0x10", ""};

static const struct number_rules all_rules[] = {{0}, {.style = NUMBERS_POINT},
	{.style = NUMBERS_COMMA, .units = UNITS_SI}, {.gallon = GALLON_IMPERIAL},
	{.gallon = GALLON_US, .units = UNITS_US}};

static void same_amount(const struct amount *got, const struct amount *want, const char *text)
{
	check_int(got->dimension, want->dimension, text);
	check_int(got->low.known, want->low.known, text);
	check_int(got->low.value, want->low.value, text);
	check_int(got->high.known, want->high.known, text);
	check_int(got->high.value, want->high.value, text);
	check_int(got->about, want->about, text);
	check_int(got->none, want->none, text);
	check_int(got->field, want->field, text);
	check_int(got->containers_low.known || got->containers_high.known, false, text);
	check_text(got->container, want->container, text);
	check_text(got->typed, want->typed, text);
}

static void read_both_ways(
	const char *text, enum dimension wanted, const struct number_rules *rules)
{
	char blank[TEXT_SIZE_HERE];
	struct amount at_once = {.field = 3}, scanned = {.field = 3};
	snprintf(blank, sizeof blank, "%s ", text);
	enum status one = amount_parse(text, wanted, NULL, rules, &at_once, NULL);
	enum status other = amount_parse(blank, wanted, NULL, rules, &scanned, NULL);
	check_int(one, other, text);
	if (one == STATUS_OK)
		same_amount(&at_once, &scanned, text);
}

static void figures_of(const char *word, enum dimension dimension)
{
	char text[TEXT_SIZE_HERE];
	for (size_t i = 0; i < sizeof figures / sizeof figures[0]; i++) {
		const struct number_rules *rules = &all_rules[i % 5];
		snprintf(text, sizeof text, "%s %s", figures[i], word);
		read_both_ways(text, dimension, rules);
		read_both_ways(text, DIMENSION_NONE, rules);
		snprintf(text, sizeof text, "%s%s", figures[i], word);
		read_both_ways(text, i % 2 == 0 ? dimension : DIMENSION_MASS, rules);
	}
}

/* Every spelling of every unit, with blanks for '_'. */
static void an_amount_is_read_as_the_scanners_read_it(void **state)
{
	(void)state;
	char word[TEXT_SIZE_HERE];
	int32_t words = 0;
	for (const struct unit *unit = unit_table(); unit->name != NULL; unit++) {
		for (const char *at = unit->spellings; *at != '\0';) {
			size_t length = strcspn(at, " ");
			memcpy(word, at, length);
			word[length] = '\0';
			for (char *blank = word; (blank = strchr(blank, '_')) != NULL;)
				*blank = ' ';
			figures_of(word, unit->dimension);
			words++;
			at += length + (at[length] == ' ');
		}
	}
	check_int(words > 200, true, "spellings were tried");
	figures_of("", DIMENSION_COUNT);
	figures_of("LB", DIMENSION_MASS);
	figures_of("nothing", DIMENSION_MASS);
	figures_of("or", DIMENSION_MASS);
}

/* Where a figure is read at once, it is what amount_parse gives for it with its unit. */
static void a_bare_figure_is_read_as_with_its_unit(void **state)
{
	(void)state;
	char text[TEXT_SIZE_HERE];
	int32_t read = 0;
	for (const struct unit *unit = unit_table(); unit->name != NULL; unit++) {
		if (strcmp(unit->name, "imp fl oz") == 0)
			continue; /* the scanners take two words at most */
		const struct number_rules rules = {.style = NUMBERS_POINT,
			.gallon = strncmp(unit->name, "imp", 3) == 0 ? GALLON_IMPERIAL : GALLON_US};
		for (size_t i = 0; i < sizeof figures / sizeof figures[0]; i++) {
			struct amount amount = {0};
			int64_t base = 0;
			if (!figure_quick(figures[i], unit, &base))
				continue;
			snprintf(text, sizeof text, "%s %s ", figures[i], unit->name);
			enum status status =
				amount_parse(text, DIMENSION_NONE, NULL, &rules, &amount, NULL);
			check_int(status, STATUS_OK, text);
			check_int(base, amount.low.value, text);
			check_int(base, amount.high.value, text);
			read++;
		}
	}
	check_int(read > 300, true, "figures were read");
}

static void a_figure_that_is_not_plain_is_left_to_amount_parse(void **state)
{
	(void)state;
	const char *const left[] = {"", "1,5", "1.500", "12.345", ".5", "5.", "1/2", "~5", "5 C",
		"--5", "-", "+5", "100000000", "nan", "1e3", "5 "};
	const struct unit *celsius = unit_find("C", 1, &all_rules[0], NULL);
	int64_t base = 0;
	for (size_t i = 0; i < sizeof left / sizeof left[0]; i++)
		check_int(figure_quick(left[i], celsius, &base), false, left[i]);
	check_int(figure_quick("-5", unit_find("mm", 2, &all_rules[0], NULL), &base), false,
		"only a temperature is below zero");
	check_int(figure_quick("-2.5", celsius, &base), true, "-2.5");
	check_int(base, -25, "-2.5 C");
	check_int(figure_quick("32", unit_find("F", 1, &all_rules[0], NULL), &base), true, "32");
	check_int(base, 0, "32 F");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(an_amount_is_read_as_the_scanners_read_it),
		cmocka_unit_test(a_bare_figure_is_read_as_with_its_unit),
		cmocka_unit_test(a_figure_that_is_not_plain_is_left_to_amount_parse),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
