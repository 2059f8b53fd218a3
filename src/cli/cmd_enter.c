/* SPDX-License-Identifier: MIT */
/* enter, ask, plan, undo, redo, entry, history, find */
#include <stdio.h>
#include <string.h>

#include "command.h"
#include "core/file.h"
#include "core/text.h"

/* The lines that one line holding several would take. */
static void offer_lines(const struct call *call, const struct reading *reading)
{
	for (int32_t i = 0; i < reading->line_count; i++)
		call_say(call, "    %s", reading->lines[i]);
}

static enum status read_line(struct call *call, const char *line, struct line_context *context,
	struct reading *reading, struct fault *why)
{
	size_t column = 0;
	enum status status = line_read(line, context, call->arena, reading, &column, why);

	if (status != STATUS_OK && reading->line_count > 0) {
		call_say(call, "this line holds several things; one line each:");
		offer_lines(call, reading);
	}
	return status;
}

static void say_logged(
	const struct call *call, const struct work_logged *logged, const struct reading *reading)
{
	call_say(call, "%s", logged->said);
	if (reading->remarks[0] != '\0')
		call_say(call, "  %s", reading->remarks);
}

static enum status enter_one(struct call *call, const char *line, struct fault *why)
{
	struct line_context context = session_line_context(call->session);
	struct reading reading = {0};
	struct work_logged logged;

	context.short_labels = true;
	enum status status = read_line(call, line, &context, &reading, why);
	if (status == STATUS_OK)
		status = work_log(call->session->yard, &reading, &logged, why);
	if (status == STATUS_OK)
		say_logged(call, &logged, &reading);
	return status;
}

/* Two words and more, each with a blank in it: each is a line of its own. */
static bool are_lines(const struct call *call)
{
	for (int32_t i = 0; i < call->word_count; i++)
		if (strpbrk(call->words[i], " \t") == NULL)
			return false;
	return call->word_count > 1;
}

static enum status read_each(struct call *call, struct reading *readings, struct fault *why)
{
	struct line_context context = session_line_context(call->session);

	context.short_labels = true;
	for (int32_t i = 0; i < call->word_count; i++) {
		enum status status = read_line(call, call->words[i], &context, &readings[i], why);
		if (status != STATUS_OK) {
			fault_prefix(why, "line %d: ", i + 1);
			return status;
		}
		if (readings[i].is_day_line) { /* the lines after it are of that day */
			context.from_file = true;
			context.file_day = date_span_first(&readings[i].draft.day);
		}
	}
	return STATUS_OK;
}

/* All or none, in one act; nothing is said to be logged before all is kept. */
static enum status enter_each(struct call *call, struct fault *why)
{
	const int32_t count = call->word_count;
	struct store *store = call->session->store;
	struct reading *readings = arena_array(call->arena, (size_t)count, sizeof *readings);
	struct work_logged *logged = arena_array(call->arena, (size_t)count, sizeof *logged);
	enum status status = read_each(call, readings, why);

	if (status != STATUS_OK)
		return status;
	status = store_act_begin(store, ACT_WORK,
		arena_format(call->arena, "%d lines: %s", count, readings[0].said), why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		status = work_log_in_act(call->session->yard, &readings[i], &logged[i], why);
		if (status != STATUS_OK)
			fault_prefix(why, "line %d: ", i + 1);
	}
	if (status == STATUS_OK)
		status = store_act_commit(store, why);
	if (status != STATUS_OK) {
		store_act_rollback(store);
		return status;
	}
	for (int32_t i = 0; i < count; i++)
		say_logged(call, &logged[i], &readings[i]);
	return STATUS_OK;
}

enum { FILE_LINES_MAX = 200000 };

/* A file of lines read whole before anything is logged. */
struct line_file {
	struct reading *readings;
	char **lines;
	struct fault *faults;
	int32_t count;
	int32_t said; /* lines that say something */
	int32_t refused;
};

static void split_lines(struct call *call, char *text, struct line_file *file)
{
	int32_t count = 1;

	for (const char *at = text; *at != '\0'; at++)
		count += *at == '\n';
	file->lines = arena_array(call->arena, (size_t)count, sizeof file->lines[0]);
	for (char *line = text; line != NULL;) {
		char *end = strchr(line, '\n');

		if (end != NULL)
			*end = '\0';
		size_t length = strlen(line);
		if (length > 0 && line[length - 1] == '\r')
			line[length - 1] = '\0';
		file->lines[file->count++] = line;
		line = end == NULL ? NULL : end + 1;
	}
	file->readings = arena_array(call->arena, (size_t)count, sizeof file->readings[0]);
	file->faults = arena_array(call->arena, (size_t)count, sizeof file->faults[0]);
}

static bool is_blank_or_remark(const char *line)
{
	line += strspn(line, " \t");
	return *line == '\0' || *line == '#';
}

/* What give_back wrote above a line the last time. */
static const char DOUBT[] = "#? ", LOGGED[] = "#= ";

static void read_all(struct call *call, struct line_file *file)
{
	struct line_context context = session_line_context(call->session);

	context.from_file = true;
	context.short_labels = call_has(call, "short");
	for (int32_t i = 0; i < file->count; i++) {
		struct reading *reading = &file->readings[i];

		if (is_blank_or_remark(file->lines[i]))
			continue;
		enum status status = line_read_in_file(
			file->lines[i], &context, call->arena, reading, &file->faults[i]);
		file->faults[i].status =
			status; /* also STATUS_OK: ways that were tried are no fault */
		file->said++;
		if (status != STATUS_OK)
			file->refused++;
		else if (reading->is_day_line)
			context.file_day = date_span_first(&reading->draft.day);
	}
}

/* Gives the file back whole, each line in its place: the doubt above a line that is in doubt, and
 * what is logged turned into a remark, so that the file can be mended and entered again. */
static void give_back(const struct call *call, const struct line_file *file, bool logged)
{
	int32_t count = file->count;

	if (count > 0 && file->lines[count - 1][0] == '\0')
		count--; /* the file ended with its last line */
	for (int32_t i = 0; i < count; i++) {
		const char *line = file->lines[i];
		bool sound = file->faults[i].status == STATUS_OK && !is_blank_or_remark(line) &&
			     !file->readings[i].is_day_line;

		if (strncmp(line, DOUBT, sizeof DOUBT - 1) == 0)
			continue;
		if (file->faults[i].status != STATUS_OK)
			call_give(call,
				arena_format(call->arena, "%s%s", DOUBT, file->faults[i].text));
		call_give(call,
			logged && sound ? arena_format(call->arena, "%s%s", LOGGED, line) : line);
	}
}

static enum status log_all(
	struct call *call, const struct line_file *file, int32_t *logged_count, struct fault *why)
{
	struct work_logged logged;

	for (int32_t i = 0; i < file->count; i++) {
		const struct reading *reading = &file->readings[i];

		if (file->faults[i].status != STATUS_OK || reading->is_day_line ||
			is_blank_or_remark(file->lines[i]))
			continue;
		enum status status = work_log_in_act(call->session->yard, reading, &logged, why);
		if (status != STATUS_OK) {
			fault_prefix(why, "line %d: ", i + 1);
			return status;
		}
		*logged_count += logged.count;
	}
	return STATUS_OK;
}

/* All or none; with --keep-good the sound lines are logged and the rest given back. */
static enum status enter_file(struct call *call, int *exit_status, struct fault *why)
{
	struct line_file file = {0};
	struct file_bytes text = {0};
	int32_t logged = 0;
	struct store *store = call->session->store;
	enum status status = file_read_whole("-", FILE_SIZE_MAX, &text, why);

	if (status != STATUS_OK)
		return status;
	split_lines(call, arena_text_n(call->arena, text.bytes, text.length), &file);
	file_free(&text);
	if (file.count > FILE_LINES_MAX)
		return fault_set(why, STATUS_RANGE, "more than %d lines", FILE_LINES_MAX);
	read_all(call, &file);
	if (file.refused > 0 && !call_has(call, "keep-good")) {
		give_back(call, &file, false);
		return fault_set(why, STATUS_SYNTAX,
			"%d of %d lines in doubt, marked #? in the file given back; nothing was "
			"logged (--keep-good logs the rest)",
			file.refused, file.said);
	}
	status = store_act_begin(store, ACT_WORK, "lines of a file", why);
	if (status == STATUS_OK)
		status = log_all(call, &file, &logged, why);
	if (status == STATUS_OK)
		status = store_act_commit(store, why);
	if (status != STATUS_OK) {
		store_act_rollback(store);
		return status;
	}
	if (file.refused > 0) {
		give_back(call, &file, true);
		fprintf(stderr,
			"boughbook: %d entr%s logged, marked #= in the file given back; %d line%s "
			"in "
			"doubt, marked #?\n",
			logged, logged == 1 ? "y" : "ies", file.refused,
			file.refused == 1 ? "" : "s");
		*exit_status = EXIT_WORDS;
		return STATUS_OK;
	}
	call_say(call, "%d entr%s logged", logged, logged == 1 ? "y" : "ies");
	return STATUS_OK;
}

enum status cmd_enter(struct call *call, int *exit_status, struct fault *why)
{
	enum status status = call_want(call, 1, WORDS_MAX, why);

	if (status != STATUS_OK)
		return status;
	if (call->word_count == 1 && strcmp(call->words[0], "-") == 0)
		return enter_file(call, exit_status, why);
	if (are_lines(call))
		return enter_each(call, why);
	return enter_one(call, call_line(call, 0), why);
}

enum status cmd_ask(struct call *call, int *exit_status, struct fault *why)
{
	struct line_context context = session_line_context(call->session);
	struct reading reading = {0};
	struct ask_answer answer = {0};
	enum status status = call_want(call, 1, WORDS_MAX, why);

	context.short_labels = true;
	if (status == STATUS_OK)
		status = read_line(call, call_line(call, 0), &context, &reading, why);
	if (status == STATUS_OK)
		status = review_ask(call->session->yard, &reading, call->arena, &answer, why);
	if (status == STATUS_OK)
		status = print_ask(&call->printer, &answer, call->session->yard, why);
	*exit_status = answer.any_act ? EXIT_NO : EXIT_DONE;
	return status;
}

enum status cmd_plan(struct call *call, int *exit_status, struct fault *why)
{
	struct line_context context;
	struct reading reading = {0};
	struct work_logged logged;
	(void)exit_status;
	enum status status = call_want(call, 1, WORDS_MAX, why);

	if (status != STATUS_OK)
		return status;
	if (call->word_count == 1 && call_word_is(call, 0, "list"))
		return print_entries_of(&call->printer, call->session->yard,
			&(struct entry_query){.planned = 1}, why);
	context = session_line_context(call->session);
	context.short_labels = true;
	context.is_plan = true;
	status = read_line(call, call_line(call, 0), &context, &reading, why);
	if (status == STATUS_OK)
		status = work_log(call->session->yard, &reading, &logged, why);
	if (status == STATUS_OK)
		call_say(call, "%s", logged.said);
	return status;
}

enum status cmd_undo(struct call *call, int *exit_status, struct fault *why)
{
	char what[TEXT_SIZE];
	enum status status = call_want(call, 0, 0, why);

	if (status == STATUS_OK)
		status = store_undo(call->session->store, what, why);
	if (status == STATUS_END) {
		call_say(call, "nothing to undo");
		*exit_status = EXIT_NO;
		return STATUS_OK;
	}
	if (status == STATUS_OK)
		call_say(call, "undone: %s", what);
	return status;
}

enum status cmd_redo(struct call *call, int *exit_status, struct fault *why)
{
	char what[TEXT_SIZE];
	enum status status = call_want(call, 0, 0, why);

	if (status == STATUS_OK)
		status = store_redo(call->session->store, what, why);
	if (status == STATUS_END) {
		call_say(call, "nothing to redo");
		*exit_status = EXIT_NO;
		return STATUS_OK;
	}
	if (status == STATUS_OK)
		call_say(call, "redone: %s", what);
	return status;
}

static enum status strike(struct call *call, const char *id, struct fault *why)
{
	struct work_logged logged;
	enum status status = work_strike(call->session->yard, id, &logged, why);

	if (status == STATUS_OK)
		call_say(call, "%s; undo brings it back", logged.said);
	return status;
}

static enum status mend(struct call *call, struct fault *why)
{
	struct line_context context = session_line_context(call->session);
	struct work_logged logged;

	context.short_labels = true;
	enum status status = work_mend(
		call->session->yard, call->words[1], call_line(call, 2), &context, &logged, why);
	if (status == STATUS_OK)
		call_say(call, "%s", logged.said);
	return status;
}

enum status cmd_entry(struct call *call, int *exit_status, struct fault *why)
{
	struct tree tree;
	(void)exit_status;

	if (call_word_is(call, 0, "strike") && call->word_count == 2)
		return strike(call, call->words[1], why);
	if (call_word_is(call, 0, "mend") && call->word_count >= 3)
		return mend(call, why);
	if (!call_word_is(call, 0, "list"))
		return call_usage(call, why);
	struct entry_query query = {.planned = -1};
	if (call->word_count > 1) {
		enum status status = call_tree(call, call_line(call, 1), &tree, why);
		if (status != STATUS_OK)
			return status;
		query.subject_id = tree.id;
	}
	return print_entries_of(&call->printer, call->session->yard, &query, why);
}

enum status cmd_history(struct call *call, int *exit_status, struct fault *why)
{
	struct tree tree;
	(void)exit_status;

	if (call->word_count == 0)
		return print_history(&call->printer, call->session->yard, NULL, why);
	enum status status = call_tree(call, call_line(call, 0), &tree, why);
	if (status != STATUS_OK)
		return status;
	return print_history(&call->printer, call->session->yard, tree.id, why);
}

enum status cmd_find(struct call *call, int *exit_status, struct fault *why)
{
	struct entry *entries = NULL;
	int32_t count = 0;
	enum status status = call_want(call, 1, WORDS_MAX, why);

	if (status == STATUS_OK)
		status = store_find(call->session->store, call_line(call, 0), 200, call->arena,
			&entries, &count, why);
	if (status != STATUS_OK)
		return status;
	if (count == 0)
		*exit_status = EXIT_NO;
	return print_entries(&call->printer, call->session->yard, entries, count, why);
}
