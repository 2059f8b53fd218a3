/* SPDX-License-Identifier: MIT */
#include <errno.h>
#include <fcntl.h>
#include <langinfo.h>
#include <locale.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "command.h"
#include "core/text.h"
#include "screens/screens.h"
#include "store/network.h"

/* Exit status of a failure: the log, disk or output, or else the words. */
static int exit_of(enum status status)
{
	switch (status) {
	case STATUS_OK:
	case STATUS_END:
		return EXIT_DONE;
	case STATUS_ABSENT:
	case STATUS_SYNTAX:
	case STATUS_RANGE:
	case STATUS_DOUBT:
	case STATUS_CONFLICT:
		return EXIT_WORDS;
	case STATUS_BUSY:
	case STATUS_DENIED:
	case STATUS_DAMAGED:
	case STATUS_IO:
		return EXIT_FILE;
	}
	return EXIT_FILE;
}

static int complain(const struct call *call, enum status status, const struct fault *why)
{
	char line[FAULT_TEXT_SIZE * 2];

	text_clean(why->text, call->ascii ? TEXT_ASCII : 0, line, sizeof line);
	fflush(stdout);
	fprintf(stderr, "boughbook: %s\n", line);
	return exit_of(status);
}

static struct clock clock_of(const struct call *call)
{
	return call->today.known ? clock_pinned(call->today.value) : clock_system();
}

/* Opens the log that the command needs; a failure here is the file's, whatever its status. */
static enum status open_log(struct call *call, bool read_only, struct fault *why)
{
	struct session_options options = {.path = call->log,
		.almanac = call->almanac,
		.clock = clock_of(call),
		.units = call->units,
		.read_only = read_only};

	return session_open(&options, &call->session, why);
}

static void set_printer(struct call *call)
{
	call->printer = (struct printer){.stream = stdout,
		.format = call->format,
		.ascii = call->ascii,
		.width = 80,
		.units = call->units};
	if (call->session != NULL) {
		call->printer.units = call->session->units;
		call->printer.numbers = call->session->numbers;
	}
}

/* Output that was lost is a failure, however well the rest went. */
static int close_output(struct call *call, int exit_status, struct fault *why)
{
	if (fflush(stdout) == 0 && !ferror(stdout))
		return exit_status;
	fault_set(why, STATUS_IO, "the output could not be written");
	return complain(call, STATUS_IO, why);
}

/* Once, where something may have been saved there. */
static void caution(const struct call *call)
{
	char line[NETWORK_CAUTION_SIZE];
	const struct store *store = call->session == NULL ? NULL : call->session->store;

	if (store == NULL || store_is_read_only(store) || !network_caution(store_path(store), line))
		return;
	fflush(stdout);
	fprintf(stderr, "boughbook: %s\n", line);
}

static int run_command(struct call *call, struct fault *why)
{
	const struct command *command = call->command;
	enum command_need need = call_need(call);
	int exit_status = EXIT_DONE;
	enum status status;

	if (need == NEED_READ || need == NEED_WRITE) {
		status = open_log(call, need == NEED_READ, why);
		if (status != STATUS_OK) {
			complain(call, status, why);
			return EXIT_FILE;
		}
	}
	set_printer(call);
	status = command->run(call, &exit_status, why);
	caution(call);
	if (status == STATUS_DAMAGED && call->session != NULL)
		store_backup_hint(store_path(call->session->store), why);
	if (status != STATUS_OK && status != STATUS_END)
		return complain(call, status, why);
	return close_output(call, exit_status, why);
}

static int run_screens(struct call *call, struct fault *why)
{
	struct screens_options options = {.path = call->log,
		.almanac = call->almanac,
		.clock = clock_of(call),
		.units = call->units,
		.plain = call->plain,
		.ascii = call->ascii};
	enum status status = screens_run(&options, why);

	return status == STATUS_OK ? EXIT_DONE : complain(call, status, why);
}

static int run(struct call *call, int argc, char **argv)
{
	struct fault why = {0};
	int exit_status = EXIT_DONE;
	enum status status = call_parse(argc, argv, call, &why);

	if (status != STATUS_OK) {
		complain(call, status, &why);
		return EXIT_WORDS;
	}
	if (call_has(call, "version") || call_has(call, "help")) {
		set_printer(call);
		(void)cmd_help(call, &exit_status, &why);
		return close_output(call, exit_status, &why);
	}
	if (call->command != NULL)
		return run_command(call, &why);
	return run_screens(call, &why);
}

/* Standard files that whoever started us had closed are held by something that takes no bytes: else
 * the next file opened bears their number, and what is told goes into it. */
static void hold_standard_files(void)
{
	for (int number = STDIN_FILENO; number <= STDERR_FILENO; number++)
		if (fcntl(number, F_GETFD) == -1 && errno == EBADF)
			(void)open("/dev/null", O_RDONLY);
}

int main(int argc, char **argv)
{
	hold_standard_files();
	(void)signal(SIGXFSZ, SIG_IGN); /* a limit on file size is told as a full disk is */
	setlocale(LC_CTYPE, "");        /* not LC_NUMERIC: numbers are read and written our way */
	struct call *call = block_new(sizeof *call);
	call->arena = arena_new();
	call->ascii = strcmp(nl_langinfo(CODESET), "UTF-8") != 0;
	int exit_status = run(call, argc, argv);
	session_close(call->session);
	arena_free(call->arena);
	block_free(call);
	return exit_status;
}
