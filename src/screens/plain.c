/* SPDX-License-Identifier: MIT */
#include "plain_inner.h"

#include <ctype.h>
#include <stdarg.h>
#include <string.h>
#include <unistd.h>

#include "core/file.h"
#include "core/text.h"
#include "report/rows.h"
#include "store/network.h"
#include "walk_line.h"

/* A reader speaks sentences: they are not broken at the width of a screen. */
enum { SENTENCE_CELLS = 2000 };

/* --- lines in and out --- */

void plain_say(struct plain *plain, const char *format, ...)
{
	char text[LINE_SIZE];
	va_list arguments;
	va_start(arguments, format);
	(void)vsnprintf(text, sizeof text, format, arguments);
	va_end(arguments);
	say_line(&plain->printer, "%s", text);
}

/* The rest of a line that did not fit. */
static void skip_line(struct plain *plain)
{
	int byte;
	do
		byte = getc(plain->in);
	while (byte != '\n' && byte != EOF);
}

bool plain_ask(struct plain *plain, const char *prompt)
{
	char text[LINE_SIZE];
	for (;;) {
		(void)fprintf(plain->printer.stream, "%s ",
			text_clean(prompt, plain->printer.ascii ? TEXT_ASCII : TEXT_PLAIN, text,
				sizeof text));
		(void)fflush(plain->printer.stream);
		if (plain->ended || fgets(plain->line, sizeof plain->line, plain->in) == NULL) {
			plain->ended = true;
			plain->line[0] = '\0';
			return false;
		}
		size_t length = strlen(plain->line);
		if (length < sizeof plain->line - 1 || plain->line[length - 1] == '\n')
			break;
		skip_line(plain);
		plain_say(plain, "That line is longer than %d letters; say it shorter.",
			WORDS_SIZE - 1);
	}
	(void)text_trim_in_place(plain->line);
	return true;
}

const char *plain_after(const struct plain *plain, const char *word)
{
	size_t length = strlen(word);
	for (size_t i = 0; i < length; i++)
		if (tolower((unsigned char)plain->line[i]) != word[i])
			return NULL;
	const char *rest = plain->line + length;
	if (*rest != '\0' && *rest != ' ')
		return NULL;
	return rest + strspn(rest, " ");
}

bool plain_is(const struct plain *plain, const char *word)
{
	const char *rest = plain_after(plain, word);
	return rest != NULL && *rest == '\0';
}

/* --- acts --- */

static void read_anew(struct plain *plain)
{
	struct fault why = {.status = STATUS_OK};
	if (session_refresh(plain->session, &why) == STATUS_OK)
		return;
	plain_say(plain, "%s", why.text);
	plain->ended = true;
}

bool plain_done(struct plain *plain, enum status status, const char *said, const struct fault *why)
{
	if (status != STATUS_OK) {
		plain_say(plain, "Not done: %s", why->text);
		return false;
	}
	plain->saved = true;
	plain_say(plain, "%s", said);
	read_anew(plain);
	return true;
}

void plain_undo(struct plain *plain, bool redo)
{
	char what[TEXT_SIZE] = "", said[TEXT_SIZE + 32];
	struct fault why = {.status = STATUS_OK};
	struct store *store = plain->session->store;
	enum status status = redo ? store_redo(store, what, &why) : store_undo(store, what, &why);
	(void)snprintf(said, sizeof said, "%s: %s", redo ? "Done again" : "Undone", what);
	(void)plain_done(plain, status, said, &why);
}

void plain_would(struct plain *plain, const char *label, const char *line)
{
	struct arena *arena = arena_new();
	struct reading *reading = arena_alloc(arena, sizeof *reading);
	struct fault why = {.status = STATUS_OK};
	struct ask_answer answer;
	struct line_context context = session_line_context(plain->session);
	context.label = label;
	context.short_labels = true;
	enum status status = line_read(line, &context, arena, reading, NULL, &why);
	if (status == STATUS_OK)
		status = review_ask(plain->session->yard, reading, arena, &answer, &why);
	if (status == STATUS_OK)
		status = print_ask(&plain->printer, &answer, plain->session->yard, &why);
	if (status != STATUS_OK)
		plain_say(plain, "Not understood: %s", why.text);
	arena_free(arena);
}

bool plain_log(struct plain *plain, const char *label, const char *line)
{
	struct work_logged logged;
	struct walk_reading *reading;
	struct fault why = {.status = STATUS_OK};
	if (walk_line_log(plain->session, label, line, "", &logged, &why) == STATUS_OK)
		return plain_done(plain, STATUS_OK, logged.said, &why);
	(void)plain_done(plain, why.status, "", &why);
	/* a line that holds several is answered with the lines it would take */
	reading = block_new(sizeof *reading);
	walk_line_read(reading, plain->session, label, line);
	for (int32_t i = 0; i < reading->line_count; i++)
		plain_say(plain, "  %s", reading->lines[i]);
	block_free(reading);
	return false;
}

/* --- beginning and end --- */

static enum status open_log(struct plain *plain, struct fault *why)
{
	struct session_options options = {.path = plain->path,
		.almanac = plain->options->almanac,
		.clock = plain->options->clock,
		.units = plain->options->units};
	struct fault denied = {.status = STATUS_OK};
	char caution[NETWORK_CAUTION_SIZE];
	enum status status = session_open(&options, &plain->session, &denied);
	if (status == STATUS_OK && network_caution(store_path(plain->session->store), caution))
		plain_say(plain, "Caution: %s.", caution);
	if (status == STATUS_DENIED) {
		options.read_only = true;
		status = session_open(&options, &plain->session, why);
		if (status == STATUS_OK)
			plain_say(plain,
				"This log can be read but not written: nothing will be saved.");
		return status;
	}
	return status == STATUS_OK ? STATUS_OK : fault_set(why, status, "%s", denied.text);
}

static enum status begin(struct plain *plain, struct fault *why)
{
	enum status status = STATUS_OK;
	if (plain->options->path == NULL)
		status = file_default_log_path(plain->path, why);
	else if (!text_copy(plain->path, sizeof plain->path, plain->options->path))
		status = fault_set(why, STATUS_RANGE, "the path of the log is too long");
	if (status == STATUS_OK && access(plain->path, F_OK) != 0)
		status = plain_first(plain, why);
	if (status != STATUS_OK || plain->ended)
		return status;
	status = open_log(plain, why);
	if (status != STATUS_OK)
		return status;
	plain->printer.units = plain->session->units;
	plain->printer.numbers = plain->session->numbers;
	return STATUS_OK;
}

static void greet(struct plain *plain)
{
	char today[24];
	struct arena *arena = arena_new();
	struct review review;
	struct fault why;
	struct review_options options = {.tree_id = NULL};
	struct yard *yard = plain->session->yard;
	plain_say(plain, "%s, %s.", yard_place(yard)->name,
		date_format_plain(yard_today(yard), today, sizeof today));
	if (review_make(yard, &options, arena, &review, &why) != STATUS_OK)
		plain_say(plain, "%s", why.text);
	else if (review.open > 0)
		plain_say(plain, "%d ask for work, %d notes. The first: %s: %s", review.open,
			review.notes, review.items[0].flag.label, review.items[0].flag.says);
	else
		plain_say(plain, "Nothing asks for you today; %d notes.", review.notes);
	plain_say(plain, "Say help for what can be said.");
	arena_free(arena);
}

static void back_up(struct plain *plain)
{
	char said[TEXT_SIZE] = "";
	struct fault why;
	if (!plain->saved || store_is_read_only(plain->session->store))
		return;
	if (store_backup_daily(plain->session->store, said, &why) != STATUS_OK)
		plain_say(plain, "%s", why.text);
	else if (said[0] != '\0')
		plain_say(plain, "%s", said);
}

enum status plain_run(const struct screens_options *options, struct fault *why)
{
	struct plain *plain = block_new(sizeof *plain);
	plain->options = options;
	plain->in = stdin;
	plain->printer = (struct printer){.stream = stdout,
		.format = FORMAT_TEXT,
		.ascii = options->ascii,
		.width = SENTENCE_CELLS,
		.units = options->units};
	enum status status = begin(plain, why);
	if (status == STATUS_OK && !plain->ended)
		greet(plain);
	while (status == STATUS_OK && !plain->ended) {
		if (store_changed_elsewhere(plain->session->store))
			read_anew(plain);
		if (plain_ask(plain, "yard>"))
			plain_obey(plain);
	}
	if (plain->session != NULL && status == STATUS_OK)
		back_up(plain);
	if (status == STATUS_OK)
		plain_say(plain, "%s", "");
	if (status == STATUS_OK)
		status = say_end(&plain->printer, why);
	session_close(plain->session);
	block_free(plain);
	return status;
}
