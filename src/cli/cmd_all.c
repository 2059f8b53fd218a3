/* SPDX-License-Identifier: MIT */
/* export all, import all: the log as a folder. They open the log themselves: an import may have to
 * make it, and neither needs the almanac. */
#include <stdio.h>
#include <string.h>

#include "acts.h"
#include "core/file.h"
#include "core/text.h"
#include "exchange/whole.h"

static struct clock clock_of(const struct call *call)
{
	return call->today.known ? clock_pinned(call->today.value) : clock_system();
}

static enum status log_path(const struct call *call, char path[FILE_PATH_SIZE], struct fault *why)
{
	if (call->log == NULL)
		return file_default_log_path(path, why);
	if (!text_copy(path, FILE_PATH_SIZE, call->log))
		return fault_set(why, STATUS_RANGE, "the path of the log is too long");
	return STATUS_OK;
}

enum status cmd_export_all(struct call *call, struct fault *why)
{
	char path[FILE_PATH_SIZE];
	struct clock clock = clock_of(call);
	struct store_options how = {.clock = &clock, .read_only = true};
	struct whole_options options = {.folder = call->words[1],
		.format = call->format == FORMAT_JSON ? FORMAT_JSON : FORMAT_CSV,
		.without_private = call_has(call, "without-private")};
	struct store *store = NULL;
	int64_t rows = 0;

	if (call_has(call, "tree") || call_has(call, "day") || call_has(call, "season"))
		return call_usage(call, why);
	if (call->format == FORMAT_HTML)
		return fault_set(why, STATUS_SYNTAX, "export all writes csv or json, not html");
	if (strcmp(options.folder, "-") == 0 || options.folder[0] == '\0')
		return fault_set(why, STATUS_SYNTAX, "export all writes a folder: name one");
	enum status status = log_path(call, path, why);
	if (status == STATUS_OK)
		status = call_file_fault(store_open(path, &how, &store, why), why);
	if (status == STATUS_OK)
		status = export_all(store, &options, &rows, why);
	if (status == STATUS_ABSENT)
		status = call_file_fault(status, why);
	store_close(store);
	if (status == STATUS_OK)
		call_say(call, "%s: %lld rows written", options.folder, (long long)rows);
	return status;
}

static void say_imported(const struct call *call, const struct whole_options *options,
	const struct whole_account *account, const char *path)
{
	if (!account->made && account->changed == 0)
		call_say(call, "nothing to add: all %lld rows of %s are in %s already",
			(long long)account->rows, options->folder, path);
	else if (!account->made)
		call_say(call,
			"nothing to add: all %lld rows of %s are in %s already, %lld of them "
			"changed there since",
			(long long)account->rows, options->folder, path,
			(long long)account->changed);
	else
		call_say(call, "%s%lld rows into a new log, %s",
			options->dry_run ? "would be: " : "", (long long)account->rows, path);
	if (account->kept[0] != '\0')
		call_say(call, "the empty log that stood there is kept as %s", account->kept);
}

/* Names the seasons for readers of the file; any later opening for writing would do it too. */
static void name_seasons(const struct call *call, const char *path)
{
	struct session *session = NULL;
	struct session_options options = {
		.path = path, .almanac = call->almanac, .clock = clock_of(call)};

	if (session_open(&options, &session, NULL) == STATUS_OK)
		session_close(session);
}

/* An import of the whole log takes no option but --dry-run. */
static bool has_other_option(const struct call *call)
{
	static const char *const others[] = {"columns", "species", "length-unit", "unit", "day",
		"season", "years", "layout", "encoding", "dates", "numbers", "missing"};

	for (size_t i = 0; i < sizeof others / sizeof others[0]; i++)
		if (call_has(call, others[i]))
			return true;
	return false;
}

enum status cmd_import_all(struct call *call, struct fault *why)
{
	char path[FILE_PATH_SIZE];
	struct clock clock = clock_of(call);
	struct whole_account account = {0};
	struct whole_options options = {
		.folder = call->words[1], .dry_run = call_has(call, "dry-run")};
	enum status status =
		has_other_option(call) ? call_usage(call, why) : log_path(call, path, why);

	if (status == STATUS_OK && call->log == NULL && !options.dry_run)
		status = file_make_folders(path, why);
	if (status == STATUS_OK)
		status = import_all(path, &clock, &options, call->arena, &account, why);
	for (int32_t i = 0; i < account.line_count; i++)
		call_say(call, "%s", account.lines[i]);
	if (status == STATUS_ABSENT)
		status = call_file_fault(status, why);
	if (status != STATUS_OK)
		return status;
	if (account.made && !options.dry_run)
		name_seasons(call, path);
	say_imported(call, &options, &account, path);
	return STATUS_OK;
}
