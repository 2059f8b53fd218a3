/* SPDX-License-Identifier: MIT */
/* The strings of tests/data/entry-strings.tsv: what growers write, each read, asked back or refused
 * as its row says. */
#include <stdlib.h>
#include <string.h>

#include "core/name_guess.h"
#include "core/text.h"
#include "support/names.h"
#include "support/table.h"
#include "support/test.h"

enum { CELL_SIZE = 1200 };

/* What a row gave, whichever reader it went to. */
struct result {
	struct arena *arena;
	enum status status;
	struct fault why;
	struct reading *reading; /* NULL: not an entry line */
	struct date_span day;
	struct name_guess guess;
	char heard[1600]; /* all that the program says about it */
};

/* "\t" and "\n" stand for those bytes. */
static void unescape(const char *cell, char *out, size_t size)
{
	size_t at = 0;
	for (; *cell != '\0' && at < size - 1; cell++) {
		bool sign = cell[0] == '\\' && (cell[1] == 't' || cell[1] == 'n');
		out[at++] = sign ? (cell[1] == 't' ? '\t' : '\n') : *cell;
		cell += sign;
	}
	out[at] = '\0';
}

static bool set_one(struct line_context *context, const char *word)
{
	const struct {
		const char *word;
		int *field;
		int value;
	} settings[] = {
		{"units=us", (int *)&context->numbers.units, UNITS_US},
		{"gallon=us", (int *)&context->numbers.gallon, GALLON_US},
		{"gallon=imperial", (int *)&context->numbers.gallon, GALLON_IMPERIAL},
		{"numbers=point", (int *)&context->numbers.style, NUMBERS_POINT},
		{"numbers=comma", (int *)&context->numbers.style, NUMBERS_COMMA},
		{"dates=dmy", (int *)&context->dates, DATES_DMY},
		{"hemisphere=south", (int *)&context->hemisphere, HEMISPHERE_SOUTH},
		{"hemisphere=none", (int *)&context->hemisphere, HEMISPHERE_UNKNOWN},
	};
	if (strncmp(word, "today=", 6) == 0)
		return date_parse_iso(word + 6, &context->today, NULL) == STATUS_OK;
	if (strcmp(word, "file") == 0) {
		context->from_file = true;
		return true;
	}
	for (size_t i = 0; i < sizeof(settings) / sizeof(settings[0]); i++) {
		if (strcmp(word, settings[i].word) == 0) {
			*settings[i].field = settings[i].value;
			return true;
		}
	}
	return false;
}

/* Settings behind the '|' of a context, which ends there. */
static void take_settings(char *context_cell, struct line_context *context)
{
	char *bar = strstr(context_cell, " | ");
	if (bar == NULL)
		return;
	*bar = '\0';
	for (char *word = strtok(bar + 3, " "); word != NULL; word = strtok(NULL, " ")) {
		if (strncmp(word, "ask=", 4) == 0)
			break;
		if (!set_one(context, word))
			fail_msg("unknown setting '%s'", word);
	}
}

/* The template with the string in the place of {}; "{cut X}" leaves out what the string starts
 * with. */
static void fill(const char *template, const char *string, char *out, size_t size)
{
	const char *open = strchr(template, '{');
	const char *close = open == NULL ? NULL : strchr(open, '}');
	if (close == NULL) {
		fail_msg("context '%s' has no {}", template);
		return;
	}
	if (strncmp(open, "{cut ", 5) == 0) {
		size_t lead = (size_t)(close - open) - 5;
		assert_memory_equal(string, open + 5, lead);
		string += lead;
	}
	struct text_builder builder = text_builder_fixed(out, size);
	text_add_n(&builder, template, (size_t)(open - template));
	text_add(&builder, string);
	text_add(&builder, close + 1);
	assert_false(builder.cut);
}

static void read_row(const char *cell, const char *string, const struct line_context *context,
	struct result *result)
{
	char line[CELL_SIZE];
	fill(cell, string, line, sizeof(line));
	const char *rest = strchr(line, ' ') == NULL ? "" : strchr(line, ' ') + 1;
	if (strncmp(cell, "planting ", 9) == 0) {
		result->status = planting_read(rest, context, &result->day, &result->why);
	} else if (strncmp(cell, "name ", 5) == 0) {
		result->status =
			name_guess_read(rest, &context->names, &result->guess, &result->why);
	} else if (strncmp(cell, "label ", 6) == 0) {
		result->status = label_check(rest, &result->why);
	} else if (strncmp(cell, "place ", 6) == 0) {
		result->status = planting_read("spring 2019", context, &result->day, &result->why);
	} else {
		result->reading = arena_alloc(result->arena, sizeof(*result->reading));
		result->status = line_read(
			line, context, result->arena, result->reading, NULL, &result->why);
		result->day = result->reading->draft.day;
		check_text(result->reading->draft.words, line, "the words as typed");
	}
	(void)snprintf(result->heard, sizeof(result->heard), "%s | %s | %s",
		result->status == STATUS_OK ? "" : result->why.text,
		result->reading != NULL ? result->reading->said : "",
		result->reading != NULL ? result->reading->remarks : "");
}

static void check_outcome(const struct result *result, const char *outcome)
{
	const char *got = result->status == STATUS_OK      ? "parsed"
			  : result->status == STATUS_DOUBT ? "asked"
							   : "refused";
	if (strcmp(got, outcome) != 0)
		print_error("%s\n", result->heard);
	check_text(got, outcome, "outcome");
	if (result->status != STATUS_OK)
		check_int(result->why.text[0] != '\0', true, "says why");
}

/* "LOW..HIGH" in base units, '~' before it, no HIGH for no top. */
static void check_bounds(const struct amount *amount, const char *bounds, const char *label)
{
	assert_non_null(amount);
	bool about = bounds[0] == '~';
	char *end = NULL;
	int64_t low = strtoll(bounds + about, &end, 10);
	assert_memory_equal(end, "..", 2);
	check_int(amount->low.known, true, label);
	check_int(amount->low.value, low, label);
	check_int(amount->high.known, end[2] != '\0', label);
	if (end[2] != '\0')
		check_int(amount->high.value, strtoll(end + 2, NULL, 10), label);
	check_int(amount->about, about, label);
	check_int(amount->none, false, label);
}

static void check_day(const struct date_span *day, const char *bounds)
{
	char low[DATE_SIZE] = "";
	char high[DATE_SIZE] = "";
	char both[40];
	if (day->low.known)
		date_format(day->low.value, low);
	if (day->high.known)
		date_format(day->high.value, high);
	(void)snprintf(both, sizeof(both), "%s..%s", low, high);
	check_text(both, bounds, "day");
}

static bool offers(const struct reading *reading, const char *line)
{
	for (int32_t i = 0; i < reading->line_count; i++) {
		if (strcmp(reading->lines[i], line) == 0)
			return true;
	}
	return false;
}

static bool has_stem(const struct entry *draft, int64_t um)
{
	for (int32_t i = 0; i < draft->stem_count; i++) {
		if (draft->stems[i].low_um == um)
			return true;
	}
	return false;
}

static bool has_name(const struct name_guess *guess, const char *name)
{
	for (int32_t i = 0; i < guess->count; i++) {
		if (strcmp(guess->names[i], name) == 0)
			return true;
	}
	return false;
}

/* Checks of what an entry line gave; false: not one of these. */
static bool check_entry(const struct result *result, const char *key, const char *rest)
{
	if (result->reading == NULL)
		return false;
	const struct entry *draft = &result->reading->draft;
	const struct amount *weight = entry_amount(draft, FIELD_WEIGHT);
	if (strcmp(key, "absent") == 0) {
		assert_null(entry_amount(draft, field_of_key(rest)));
	} else if (strcmp(key, "unknown") == 0) {
		assert_non_null(weight);
		check_int(weight->low.known || weight->high.known, false, "no weight known");
	} else if (strcmp(key, "containers") == 0) {
		char both[NAME_SIZE + 30];
		const struct amount *amount = &draft->amounts[0];
		(void)snprintf(both, sizeof(both), "%lld %s",
			(long long)amount->containers_low.value, amount->container);
		check_text(both, rest, "containers");
	} else if (strcmp(key, "lines") == 0) {
		check_int(result->reading->line_count, strtoll(rest, NULL, 10), "lines offered");
	} else if (strcmp(key, "line") == 0) {
		check_int(offers(result->reading, rest), true, rest);
	} else if (strcmp(key, "no-line") == 0) {
		check_int(offers(result->reading, rest), false, rest);
	} else if (strcmp(key, "stems") == 0) {
		check_int(draft->stem_count, strtoll(rest, NULL, 10), "stems");
	} else if (strcmp(key, "stem") == 0) {
		check_int(has_stem(draft, strtoll(rest, NULL, 10)), true, rest);
	} else if (strcmp(key, "label") == 0) {
		check_text(draft->subject.label, rest, "label");
	} else if (strcmp(key, "id") == 0) {
		check_text(draft->subject.id, rest, "id");
	} else if (strcmp(key, "note") == 0) {
		check_text(draft->note, rest, "note");
	} else if (strcmp(key, "kind") == 0) {
		check_text(kind_row(draft->kind)->key, rest, "kind");
	} else if (strcmp(key, "season") == 0) {
		check_int(draft->season_year.value, strtoll(rest, NULL, 10), "season");
	} else if (strcmp(key, "planned") == 0) {
		check_int(draft->planned, true, "planned");
	} else {
		return false;
	}
	return true;
}

/* "weight 1..2", "weight none", "words=plenty". */
static bool check_field(const struct result *result, const char *key, const char *rest)
{
	const char *equals = strchr(key, '=');
	char name[40];
	(void)snprintf(name, sizeof(name), "%.*s",
		(int)(equals == NULL ? strlen(key) : (size_t)(equals - key)), key);
	enum field field = field_of_key(name);
	if (field == FIELD_TOTAL || result->reading == NULL)
		return false;
	const struct entry *draft = &result->reading->draft;
	const struct amount *amount = entry_amount(draft, field);
	if (equals != NULL) {
		check_text(entry_detail(draft, field), equals + 1, name);
	} else if (strcmp(rest, "none") == 0) {
		assert_non_null(amount);
		check_int(amount->none, true, name);
		check_int(amount->high.value, 0, name);
	} else {
		check_bounds(amount, rest, name);
	}
	return true;
}

static bool check_guess(const struct result *result, const char *key, const char *rest)
{
	const struct name_guess *guess = &result->guess;
	if (strcmp(key, "names") == 0)
		check_int(guess->count, strtoll(rest, NULL, 10), "names");
	else if (strcmp(key, "name") == 0)
		check_int(has_name(guess, rest), true, rest);
	else if (strcmp(key, "sure") == 0)
		check_int(guess->sure,
			strcmp(rest, "candidate") == 0 ? SURE_CANDIDATE : SURE_UNKNOWN, rest);
	else
		return false;
	return true;
}

static void check_one(const struct result *result, char *expected)
{
	char *rest = strchr(expected, ' ');
	const char *equals = strchr(expected, '=');
	bool is_word = equals != NULL && (rest == NULL || equals < rest);
	if (strncmp(expected, "edtf=", 5) == 0) {
		check_text(result->day.text, expected + 5, "day as text");
		return;
	}
	if (rest != NULL && !is_word)
		*rest++ = '\0';
	if (strcmp(expected, "says") == 0 && rest != NULL) {
		check_has(result->heard, rest, "says");
	} else if (strcmp(expected, "day") == 0) {
		check_day(&result->day, rest);
	} else if (!check_field(result, expected, rest) && !check_entry(result, expected, rest) &&
		   !check_guess(result, expected, rest)) {
		fail_msg("expectation '%s' is not understood", expected);
	}
}

static void string_becomes_what_its_row_says(const struct table_row *row)
{
	char string[CELL_SIZE];
	char cell[CELL_SIZE];
	char expected[CELL_SIZE];
	struct result result = {.arena = arena_new()};
	struct line_context context = fixture_context();
	assert_true(row_text(row, "source")[0] != '\0');
	unescape(row_text(row, "string"), string, sizeof(string));
	text_copy(cell, sizeof(cell), row_text(row, "context"));
	text_copy(expected, sizeof(expected), row_text(row, "expected"));
	take_settings(cell, &context);
	read_row(cell, string, &context, &result);
	check_outcome(&result, row_text(row, "outcome"));
	for (char *one = expected; one != NULL && *one != '\0';) {
		char *next = strstr(one, "; ");
		if (next != NULL)
			*next = '\0';
		check_one(&result, one);
		one = next == NULL ? NULL : next + 2;
	}
	arena_free(result.arena);
}

static struct table *strings;

static void every_number_from_1_to_123_has_its_row(void **state)
{
	(void)state;
	bool seen[124] = {false};
	for (int i = 0; i < strings->count; i++) {
		long long number = strtoll(strings->rows[i].cells[0], NULL, 10);
		assert_true(number >= 1 && number <= 123);
		seen[number] = true;
	}
	for (int number = 1; number <= 123; number++)
		check_int(seen[number], true, "row");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_number_from_1_to_123_has_its_row),
	};
	strings = table_open("tests/data/entry-strings.tsv");
	int failed = run_rows("strings", strings, string_becomes_what_its_row_says);
	failed += cmocka_run_group_tests_name("table", tests, NULL, NULL);
	table_free(strings);
	return failed != 0;
}
