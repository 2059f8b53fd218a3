/* SPDX-License-Identifier: MIT */
/* import, export, verify, backup, help */
#include <stdio.h>
#include <string.h>

#include "acts.h"
#include "core/file.h"
#include "core/text.h"
#include "exchange/export.h"
#include "exchange/handout.h"
#include "exchange/import.h"
#include "progress.h"

enum status read_import(struct call *call, struct import_options *options, struct fault *why)
{
	options->path = call->words[1];
	options->columns = call_option(call, "columns");
	options->species = call_option(call, "species");
	options->unit = call_option(call, "unit");
	options->length_unit = call_option(call, "length-unit");
	options->season = call_option(call, "season");
	options->day = call_option(call, "day");
	options->layout = call_option(call, "layout");
	options->encoding = call_option(call, "encoding");
	options->numbers = call_option(call, "numbers");
	options->missing = call_option(call, "missing");
	options->years = call_option(call, "years");
	options->dry_run = call_has(call, "dry-run");
	options->dates = DATES_UNSET;
	const char *dates = call_option(call, "dates");
	if (dates == NULL)
		return STATUS_OK;
	if (strcmp(dates, "dmy") != 0 && strcmp(dates, "mdy") != 0)
		return fault_set(why, STATUS_SYNTAX, "--dates is dmy or mdy, not '%s'", dates);
	options->dates = strcmp(dates, "dmy") == 0 ? DATES_DMY : DATES_MDY;
	return STATUS_OK;
}

void say_account(struct call *call, const struct import_options *options,
	const struct import_account *account, enum status status)
{
	for (int32_t i = 0; i < account->line_count; i++)
		call_say(call, "%s", account->lines[i]);
	if (status == STATUS_OK)
		call_say(call, "%s%d new, %d the same, %d changed, %d refused",
			options->dry_run ? "would be: " : "", account->fresh, account->same,
			account->changed, account->refused);
}

enum status cmd_import(struct call *call, int *exit_status, struct fault *why)
{
	struct import_options options = {0};
	struct import_account account = {0};
	(void)exit_status;
	enum status status = call_want(call, 2, 2, why);

	if (status == STATUS_OK && call_is_whole(call))
		return cmd_import_all(call, why);
	if (status == STATUS_OK)
		status = read_import(call, &options, why);
	if (status != STATUS_OK)
		return status;
	struct progress progress = progress_start(call);
	options.progress = progress_tell;
	options.progress_context = &progress;
	if (call_word_is(call, 0, "trees"))
		status = import_trees(call->session, &options, call->arena, &account, why);
	else if (call_word_is(call, 0, "picks"))
		status = import_picks(call->session, &options, call->arena, &account, why);
	else if (call_word_is(call, 0, "entries"))
		status = import_entries(call->session, &options, call->arena, &account, why);
	else
		return call_usage(call, why);
	progress_end(&progress);
	say_account(call, &options, &account, status);
	return status;
}

enum status cmd_export(struct call *call, int *exit_status, struct fault *why)
{
	struct export_options options = {
		.format = call->format == FORMAT_TEXT ? FORMAT_CSV : call->format};
	(void)exit_status;
	enum status status = call_want(call, 2, 2, why);

	if (status != STATUS_OK)
		return status;
	if (call_is_whole(call))
		return cmd_export_all(call, why);
	options.what = call->words[0];
	options.path = call->words[1];
	if (handout_is(options.what))
		return cmd_handout(call, why);
	if (call->format == FORMAT_HTML)
		return fault_set(
			why, STATUS_SYNTAX, "export %s writes csv or json, not html", options.what);
	if (call_has(call, "tree") || call_has(call, "day") || call_has(call, "season"))
		return call_usage(call, why);
	options.without_private = call_has(call, "without-private");
	return export_table(call->session, &options, call->arena, why);
}

/* Seasons as an outside reader names them, against those of the almanac. */
static enum status say_turns(struct call *call, int32_t *faults, struct fault *why)
{
	struct turns_checked turns;
	bool other_almanac;
	enum status status = session_check_turns(call->session, &turns, &other_almanac, why);

	if (status != STATUS_OK || turns.differ == 0)
		return status;
	call_say(call,
		"%sseason names of %d of %d trees and spots (%s first) are not those of this "
		"almanac%s",
		other_almanac ? "" : "DAMAGE: ", turns.differ, turns.subjects, turns.first,
		other_almanac ? "; the next change to the log puts them right" : "");
	*faults += other_almanac ? 0 : 1;
	return STATUS_OK;
}

static void say_way_back(struct call *call)
{
	char newest[FILE_PATH_SIZE + 128];

	if (store_backup_newest(store_path(call->session->store), newest, sizeof newest))
		call_say(call,
			"the newest good copy comes back with: boughbook backup --restore %s",
			newest);
	else
		call_say(call, "no good copy lies beside the log");
}

enum status cmd_verify(struct call *call, int *exit_status, struct fault *why)
{
	struct verify_line *lines = NULL;
	int32_t count = 0;
	int32_t faults = 0;
	enum status status = call_want(call, 0, 0, why);

	if (status == STATUS_OK)
		status = store_verify(call->session->store, call->arena, &lines, &count, why);
	if (status != STATUS_OK)
		return status;
	for (int32_t i = 0; i < count; i++) {
		call_say(call, "%s%s", lines[i].is_fault ? "DAMAGE: " : "", lines[i].text);
		faults += lines[i].is_fault;
	}
	status = say_turns(call, &faults, why);
	if (status != STATUS_OK)
		return status;
	if (faults > 0)
		say_way_back(call);
	*exit_status = faults == 0 ? EXIT_DONE : EXIT_NO;
	return STATUS_OK;
}

static enum status backup_now(
	struct call *call, const char *path, struct clock *clock, struct fault *why)
{
	struct store *store = NULL;
	char made[FILE_PATH_SIZE];
	struct store_options options = {.clock = clock};
	enum status status = store_open(path, &options, &store, why);

	if (status == STATUS_OK)
		status = store_backup_now(store, made, sizeof made, why);
	if (status == STATUS_OK)
		call_say(call, "%s: checked copy written", made);
	store_close(store);
	return status;
}

enum status cmd_backup(struct call *call, int *exit_status, struct fault *why)
{
	char path[FILE_PATH_SIZE], kept[FILE_PATH_SIZE];
	const char *backup = call_option(call, "restore");
	struct clock clock = call->today.known ? clock_pinned(call->today.value) : clock_system();
	(void)exit_status;
	enum status status = call_want(call, 0, 0, why);

	if (status == STATUS_OK && call->log == NULL)
		status = file_default_log_path(path, why);
	else if (status == STATUS_OK && !text_copy(path, sizeof path, call->log))
		status = fault_set(why, STATUS_RANGE, "the path of the log is too long");
	if (status != STATUS_OK)
		return status;
	if (backup == NULL)
		return call_file_fault(backup_now(call, path, &clock, why), why);
	status = call_file_fault(
		store_backup_restore(path, backup, &clock, kept, sizeof kept, why), why);
	if (status == STATUS_OK && kept[0] == '\0')
		call_say(call, "%s is back from %s; nothing stood there", path, backup);
	else if (status == STATUS_OK)
		call_say(call, "%s is back from %s; what stood there is kept as %s", path, backup,
			kept);
	return status;
}

/* The almanac that would be read, by the digest of its tables. */
static const char *almanac_version(struct call *call)
{
	char folder[FILE_PATH_SIZE];
	struct almanac *almanac = NULL;
	struct fault why = {0};
	enum status status = almanac_find(call->almanac, folder, sizeof folder, &why);

	if (status == STATUS_OK)
		status = almanac_open(folder, &almanac, &why);
	if (status != STATUS_OK)
		return arena_format(call->arena, "not read (%s)", why.text);
	const char *digest = arena_text(call->arena, almanac_digest(almanac));
	almanac_close(almanac);
	return digest;
}

/* The options of a command as they are typed: "--product VALUE", "--all". */
static const char *option_words(struct call *call, const char *options)
{
	struct text_builder words = text_builder_in(call->arena);

	text_add(&words, "");
	for (const char *at = options; *at != '\0';) {
		size_t size = strcspn(at, " ");
		bool takes = at[size - 1] == '=';

		text_add(&words, words.length > 0 ? " --" : "--");
		text_add_n(&words, at, size - (takes ? 1 : 0));
		text_add(&words, takes ? " VALUE" : "");
		at += size;
		at += strspn(at, " ");
	}
	return words.text;
}

static void say_command(struct call *call, const struct command *command)
{
	const struct printer *printer = &call->printer;

	say_wrapped(printer, "boughbook ", "%s %s", command->name, command->usage);
	say_wrapped(printer, "    ", "%s", command->help);
	if (command->options[0] != '\0')
		say_wrapped(printer, "    ", "options: %s", option_words(call, command->options));
}

static void say_commands(const struct call *call)
{
	const struct printer *printer = &call->printer;

	say_wrapped(printer, "boughbook ",
		"[--log FILE] [--today DAY] [--units us|si] [--almanac DIR] [--plain] "
		"[COMMAND ...]");
	say_line(printer, "With no command the screens open. Reading commands take "
			  "--format text|csv|json.");
	for (const struct command *command = command_table(); command->name != NULL; command++)
		say_line(printer, "  %-10s %s", command->name, command->help);
	say_line(printer, "'boughbook help COMMAND' says how one is used; see also boughbook(1).");
}

enum status cmd_help(struct call *call, int *exit_status, struct fault *why)
{
	const struct command *one = call->command;
	(void)exit_status;

	if (call_has(call, "version")) {
		call_say(call, "boughbook %s, schema %d, almanac %s, SQLite %s", BOUGHBOOK_VERSION,
			SCHEMA_VERSION, almanac_version(call), store_sqlite_version());
		return STATUS_OK;
	}
	if (one != NULL && strcmp(one->name, "help") == 0 && call->word_count > 0) {
		one = command_find(call->words[0]);
		if (one == NULL)
			return fault_set(why, STATUS_ABSENT,
				"'%s' is not a command; 'boughbook help' lists them",
				call->words[0]);
	}
	if (one != NULL && (strcmp(one->name, "help") != 0 || call->word_count > 0))
		say_command(call, one);
	else
		say_commands(call);
	return STATUS_OK;
}
