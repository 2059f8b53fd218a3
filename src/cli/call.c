/* SPDX-License-Identifier: MIT */
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "command.h"
#include "core/text.h"
#include "report/rows.h"

static const char global_options[] = "log= today= units= almanac= plain format= help version";

/* Is `name` (of `length` bytes) in a blank-separated list; *takes_value when it stands there
 * with an equals sign. */
static bool list_has(const char *list, const char *name, size_t length, bool *takes_value)
{
	for (const char *at = list; *at != '\0';) {
		size_t size = strcspn(at, " ");
		bool takes = size > 0 && at[size - 1] == '=';

		if (size - (takes ? 1 : 0) == length && strncmp(at, name, length) == 0) {
			*takes_value = takes;
			return true;
		}
		at += size;
		at += strspn(at, " ");
	}
	return false;
}

/* A word that begins with a dash but is not an option: "-", "-12", "-2 C". */
static bool is_word(const char *text)
{
	return text[0] != '-' || text[1] == '\0' || (text[1] >= '0' && text[1] <= '9') ||
	       (text[1] != '-');
}

static enum status set_global(
	struct call *call, const char *name, const char *value, struct fault *why)
{
	if (strcmp(name, "log") == 0) {
		call->log = value;
	} else if (strcmp(name, "almanac") == 0) {
		call->almanac = value;
	} else if (strcmp(name, "plain") == 0) {
		call->plain = true;
	} else if (strcmp(name, "today") == 0) {
		enum status status = date_parse_iso(value, &call->today.value, why);

		call->today.known = status == STATUS_OK;
		if (status != STATUS_OK)
			fault_prefix(why, "--today: ");
		return status;
	} else if (strcmp(name, "units") == 0) {
		if (strcmp(value, "us") != 0 && strcmp(value, "si") != 0)
			return fault_set(
				why, STATUS_SYNTAX, "--units is us or si, not '%s'", value);
		call->units = strcmp(value, "us") == 0 ? UNITS_US : UNITS_SI;
	} else if (strcmp(name, "format") == 0) {
		static const char *const names[] = {"text", "csv", "json", "html"};

		for (int i = 0; i < 4; i++)
			if (strcmp(value, names[i]) == 0) {
				call->format = (enum format)i;
				return STATUS_OK;
			}
		return fault_set(
			why, STATUS_SYNTAX, "--format is text, csv, json or html, not '%s'", value);
	}
	return STATUS_OK;
}

/* "--log --today ..." of a list of options. */
static const char *shown(struct arena *arena, const char *list)
{
	struct text_builder out = text_builder_in(arena);

	for (const char *at = list; *at != '\0';) {
		size_t size = strcspn(at, " ");

		text_add(&out, out.length > 0 ? " --" : "--");
		text_add_n(&out, at, size - (at[size - 1] == '=' ? 1 : 0));
		at += size;
		at += strspn(at, " ");
	}
	return out.text;
}

static enum status add_option(
	struct call *call, const char *name, const char *value, struct fault *why)
{
	if (call->option_count == OPTIONS_MAX)
		return fault_set(why, STATUS_RANGE, "too many options, at most %d", OPTIONS_MAX);
	call->options[call->option_count++] = (struct given_option){name, value};
	return STATUS_OK;
}

/* One option of argv; *at is moved over its value. The command's options win over global ones of
 * the same name (units), which then hold for both. */
static enum status take_option(struct call *call, int argc, char **argv, int *at, struct fault *why)
{
	const char *text = argv[*at] + 2;
	size_t length = strcspn(text, "=");
	bool takes = false;
	bool ours = call->command != NULL && list_has(call->command->options, text, length, &takes);
	bool global = list_has(global_options, text, length, &takes);
	const char *value = "";

	if (!ours && !global) {
		if (call->command == NULL)
			return fault_set(why, STATUS_SYNTAX,
				"option '%s' is not known; before the command: %s", argv[*at],
				shown(call->arena, global_options));
		return fault_set(why, STATUS_SYNTAX, "option '%s' is not known to %s%s%s",
			argv[*at], call->command->name,
			call->command->options[0] != '\0' ? "; it takes " : "",
			call->command->options[0] != '\0'
				? shown(call->arena, call->command->options)
				: ", which takes none of its own");
	}
	if (takes && text[length] == '=') {
		value = text + length + 1;
	} else if (takes) {
		if (*at + 1 >= argc)
			return fault_set(why, STATUS_SYNTAX, "option '%s' wants a value after it",
				argv[*at]);
		value = argv[++*at];
	}
	const char *name = arena_text_n(call->arena, text, length);
	enum status status = add_option(call, name, value, why);
	if (status == STATUS_OK && global)
		status = set_global(call, name, value, why);
	return status;
}

enum status call_parse(int argc, char **argv, struct call *call, struct fault *why)
{
	bool only_words = false;

	for (int at = 1; at < argc; at++) {
		if (!only_words && strcmp(argv[at], "--") == 0) {
			only_words = true;
			continue;
		}
		if (!only_words && !is_word(argv[at])) {
			enum status status = take_option(call, argc, argv, &at, why);
			if (status != STATUS_OK)
				return status;
			continue;
		}
		if (call->command == NULL) {
			call->command = command_find(argv[at]);
			if (call->command == NULL)
				return fault_set(why, STATUS_SYNTAX,
					"'%s' is not a command; 'boughbook help' lists them",
					argv[at]);
			continue;
		}
		if (call->word_count == WORDS_MAX)
			return fault_set(
				why, STATUS_RANGE, "too many words, at most %d", WORDS_MAX);
		call->words[call->word_count++] = argv[at];
	}
	if (call->format == FORMAT_HTML && (call->command == NULL || !call->command->html))
		return fault_set(
			why, STATUS_SYNTAX, "--format is text, csv or json here, not html");
	return STATUS_OK;
}

const char *call_option(const struct call *call, const char *name)
{
	for (int32_t i = call->option_count - 1; i >= 0; i--)
		if (strcmp(call->options[i].name, name) == 0)
			return call->options[i].value;
	return NULL;
}

bool call_has(const struct call *call, const char *name)
{
	return call_option(call, name) != NULL;
}

bool call_has_own(const struct call *call)
{
	bool takes = false;

	for (int32_t i = 0; i < call->option_count; i++) {
		const char *name = call->options[i].name;

		if (list_has(call->command->options, name, strlen(name), &takes))
			return true;
	}
	return false;
}

const char *call_line(const struct call *call, int32_t first)
{
	struct text_builder line = text_builder_in(call->arena);

	for (int32_t i = first; i < call->word_count; i++) {
		if (i > first)
			text_add(&line, " ");
		text_add(&line, call->words[i]);
	}
	return line.text;
}

enum status call_usage(const struct call *call, struct fault *why)
{
	return fault_set(why, STATUS_SYNTAX, "usage: boughbook %s %s", call->command->name,
		call->command->usage);
}

enum status call_want(const struct call *call, int32_t least, int32_t most, struct fault *why)
{
	if (call->word_count < least || call->word_count > most)
		return call_usage(call, why);
	return STATUS_OK;
}

enum status call_file_fault(enum status status, struct fault *why)
{
	char text[FAULT_TEXT_SIZE];

	if (status == STATUS_OK || why == NULL)
		return status;
	text_copy(text, sizeof text, why->text);
	return fault_set(why, STATUS_IO, "%s", text);
}

bool call_is_whole(const struct call *call)
{
	const char *name = call->command->name;
	bool moves = strcmp(name, "export") == 0 || strcmp(name, "import") == 0;

	return moves && call_word_is(call, 0, "all");
}

enum command_need call_need(const struct call *call)
{
	const struct command *command = call->command;
	bool reads =
		command->lists && (call_word_is(call, 0, "list") || call_word_is(call, 0, "show"));
	bool takes = false;

	if (call_is_whole(call))
		return NEED_NOTHING;
	for (int32_t i = 0; i < call->option_count && command->reading != NULL; i++) {
		const char *name = call->options[i].name;

		reads = reads || list_has(command->reading, name, strlen(name), &takes);
	}
	return command->need == NEED_WRITE && reads ? NEED_READ : command->need;
}

bool call_word_is(const struct call *call, int32_t at, const char *word)
{
	return at < call->word_count && strcmp(call->words[at], word) == 0;
}

void call_say(const struct call *call, const char *format, ...)
{
	char line[LINE_SIZE];
	va_list arguments;

	va_start(arguments, format);
	vsnprintf(line, sizeof line, format, arguments);
	va_end(arguments);
	say_line(&call->printer, "%s", line);
}

void call_give(const struct call *call, const char *line)
{
	fputs(text_clean_whole(call->arena, line, call->ascii ? TEXT_ASCII : 0), stdout);
	fputc('\n', stdout);
}

enum status call_tree(struct call *call, const char *label, struct tree *out, struct fault *why)
{
	struct name_match found[4];
	int32_t count =
		store_name_find(call->session->store, NAME_TREE, label, strlen(label), found, 4);

	if (count == 0)
		return fault_set(why, STATUS_ABSENT,
			"no tree '%s'; 'boughbook tree list' shows the labels", label);
	if (count > 1 && !(found[0].is_exact && !found[1].is_exact))
		return fault_set(why, STATUS_DOUBT, "'%s' could be %s or %s", label, found[0].label,
			found[1].label);
	return store_tree_load(call->session->store, found[0].id, out, why);
}

enum status call_day(struct call *call, const char *text, struct date_span *out, struct fault *why)
{
	struct line_context context = session_line_context(call->session);

	return day_read(text, &context, false, out, why);
}
