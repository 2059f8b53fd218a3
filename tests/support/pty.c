/* SPDX-License-Identifier: MIT */
#include "support/pty.h"

#include "support/test.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum { ARGUMENTS_MAX = 60, CHUNK = 65536 };

struct key {
	const char *name;
	const char *bytes;
};

/* clang-format off */
static const struct key keys[] = {
	{"Enter", "\r"},       {"Esc", "\x1b"},         {"Tab", "\t"},
	{"Backtab", "\x1b[Z"}, {"Backspace", "\x7f"},   {"Space", " "},
	{"Up", "\x1bOA"},      {"Down", "\x1bOB"},      {"Right", "\x1bOC"},    {"Left", "\x1bOD"},
	{"Home", "\x1bOH"},    {"End", "\x1bOF"},       {"Insert", "\x1b[2~"},  {"Delete", "\x1b[3~"},
	{"PageUp", "\x1b[5~"}, {"PageDown", "\x1b[6~"},
	{"F1", "\x1bOP"},      {"F2", "\x1bOQ"},        {"F3", "\x1bOR"},       {"F4", "\x1bOS"},
	{"F5", "\x1b[15~"},    {"F6", "\x1b[17~"},      {"F7", "\x1b[18~"},     {"F8", "\x1b[19~"},
	{"F9", "\x1b[20~"},    {"F10", "\x1b[21~"},     {"F11", "\x1b[23~"},    {"F12", "\x1b[24~"},
};
/* clang-format on */

static void must(bool good, const char *what)
{
	if (!good) {
		print_error("%s: %s\n", what, strerror(errno));
		fail();
	}
}

static int64_t now_ms(void)
{
	struct timespec now;
	(void)clock_gettime(CLOCK_MONOTONIC, &now);
	return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

/* --- starting --- */

static void set_environment(const struct pty_options *options)
{
	(void)setenv("TERM", options->term != NULL ? options->term : "xterm-256color", 1);
	(void)setenv("LANG", options->lang != NULL ? options->lang : "C.UTF-8", 1);
	(void)unsetenv("LC_ALL");
	(void)unsetenv("LC_CTYPE");
	(void)unsetenv("LINES");
	(void)unsetenv("COLUMNS");
	if (options->home != NULL) {
		(void)setenv("HOME", options->home, 1);
	}
	for (int i = 0; options->environment != NULL && options->environment[i] != NULL; i++) {
		(void)putenv(strdup(options->environment[i]));
	}
}

__attribute__((noreturn)) static void become(const char *slave, const struct pty_options *options)
{
	(void)setsid();
	const int terminal = slave != NULL ? open(slave, O_RDWR) : -1;
	(void)ioctl(terminal, TIOCSCTTY, 0);
	(void)dup2(terminal, STDIN_FILENO);
	(void)dup2(terminal, STDOUT_FILENO);
	(void)dup2(terminal, STDERR_FILENO);
	if (terminal > STDERR_FILENO) {
		(void)close(terminal);
	}
	(void)signal(SIGPIPE, SIG_DFL);
	set_environment(options);
	char *copies[ARGUMENTS_MAX + 2] = {NULL};
	for (int i = 0; i <= ARGUMENTS_MAX && options->arguments[i] != NULL; i++) {
		copies[i] = strdup(options->arguments[i]);
	}
	if (copies[0] == NULL) {
		_exit(127);
	}
	(void)execvp(copies[0], copies);
	(void)printf("cannot run %s: %s\n", copies[0], strerror(errno));
	(void)fflush(stdout);
	_exit(127);
}

static void set_size(int terminal, int rows, int columns)
{
	const struct winsize size = {
		.ws_row = (unsigned short)rows, .ws_col = (unsigned short)columns};
	must(ioctl(terminal, TIOCSWINSZ, &size) == 0, "terminal size");
}

struct pty *pty_open(const struct pty_options *options)
{
	struct pty *pty = calloc(1, sizeof *pty);
	assert_non_null(pty);
	pty->screen = vt_new(options->rows != 0 ? options->rows : 24,
		options->columns != 0 ? options->columns : 80);
	pty->master = posix_openpt(O_RDWR | O_NOCTTY);
	must(pty->master >= 0 && grantpt(pty->master) == 0 && unlockpt(pty->master) == 0,
		"pseudo-terminal");
	(void)fcntl(pty->master, F_SETFD, FD_CLOEXEC);
	const char *slave = ptsname(pty->master);
	must(slave != NULL, "pseudo-terminal");
	set_size(pty->master, pty->screen->rows, pty->screen->columns);
	(void)fflush(NULL);
	pty->child = fork();
	must(pty->child >= 0, "fork");
	if (pty->child == 0) {
		become(slave, options);
	}
	return pty;
}

struct pty *pty_open_program(const struct pty_options *options, const char *const *arguments)
{
	const char *all[ARGUMENTS_MAX + 2] = {program_path()};
	for (int i = 0; arguments[i] != NULL; i++) {
		assert_true(i < ARGUMENTS_MAX);
		all[i + 1] = arguments[i];
	}
	struct pty_options chosen = *options;
	chosen.arguments = all;
	return pty_open(&chosen);
}

/* --- reading --- */

static void note_end(struct pty *pty, int options)
{
	int status = 0;
	if (!pty->ended && waitpid(pty->child, &status, options) == pty->child) {
		pty->ended = true;
		pty->status = WIFSIGNALED(status) ? 128 + WTERMSIG(status) : WEXITSTATUS(status);
	}
}

/* Takes in what comes within wait_ms; false when nothing did. */
static bool read_some(struct pty *pty, int wait_ms)
{
	static char bytes[CHUNK];
	struct pollfd wait = {.fd = pty->master, .events = POLLIN};
	if (poll(&wait, 1, wait_ms) <= 0) {
		return false;
	}
	const ssize_t got = read(pty->master, bytes, sizeof bytes);
	if (got <= 0) {
		/* Nobody holds the other end: the program is leaving or not there yet. */
		note_end(pty, WNOHANG);
		if (!pty->ended) {
			(void)poll(NULL, 0, 2);
		}
		return false;
	}
	vt_feed(pty->screen, bytes, (size_t)got);
	pty->received += (size_t)got;
	return true;
}

/* On a busy machine a program that has been given a key may wait for its turn a long while. */
static bool is_at_work(const struct pty *pty)
{
	char path[64];
	char line[512] = {0};
	(void)snprintf(path, sizeof path, "/proc/%d/stat", (int)pty->child);
	FILE *file = fopen(path, "r");
	if (file == NULL) {
		return false;
	}
	const char *state = fgets(line, sizeof line, file) != NULL ? strrchr(line, ')') : NULL;
	(void)fclose(file);
	return state != NULL && (state[2] == 'R' || state[2] == 'D');
}

bool pty_read_quiet(struct pty *pty, int quiet_ms, int deadline_ms)
{
	const int look_ms = quiet_ms < 20 ? quiet_ms : 20;
	const int64_t start = now_ms();
	int64_t last = start;
	while (now_ms() - last < quiet_ms) {
		if (now_ms() - start > deadline_ms) {
			return false;
		}
		if (read_some(pty, look_ms)) {
			last = now_ms();
		} else if (pty->ended) {
			return true;
		} else if (is_at_work(pty)) {
			last = now_ms();
		}
	}
	return true;
}

static void fail_showing(const struct pty *pty, const char *what, const char *text)
{
	char *screen = vt_text(pty->screen);
	print_error("%s \"%s\"; typed last: %s; %s\n%s", what, text, pty->log,
		pty->ended ? "the program has left" : "the program is running", screen);
	free(screen);
	fail();
}

static void expect(struct pty *pty, const char *text, bool shown, int deadline_ms)
{
	const int64_t start = now_ms();
	while ((vt_find(pty->screen, text) >= 0) != shown) {
		const bool more = read_some(pty, 20);
		if (!more && (pty->ended || now_ms() - start > deadline_ms)) {
			fail_showing(pty, shown ? "never showed" : "still shows", text);
			return;
		}
	}
}

void pty_expect(struct pty *pty, const char *text, int deadline_ms)
{
	expect(pty, text, true, deadline_ms);
}

void pty_expect_gone(struct pty *pty, const char *text, int deadline_ms)
{
	expect(pty, text, false, deadline_ms);
}

int pty_expect_end(struct pty *pty, int deadline_ms)
{
	const int64_t start = now_ms();
	while (!pty->ended) {
		if (!read_some(pty, 20)) {
			note_end(pty, WNOHANG);
		}
		if (!pty->ended && now_ms() - start > deadline_ms) {
			fail_showing(pty, "did not leave:", "");
			return -1;
		}
	}
	while (read_some(pty, 0)) {
	}
	return pty->status;
}

/* --- typing --- */

static void remember(struct pty *pty, const char *words)
{
	const size_t room = sizeof pty->log / 2;
	const size_t used = strlen(pty->log);
	if (used > room) {
		memmove(pty->log, pty->log + used - room / 2, room / 2 + 1);
	}
	const size_t left = strlen(pty->log);
	(void)snprintf(pty->log + left, sizeof pty->log - left, "%.*s ", (int)(room - 2), words);
}

static void send_raw(struct pty *pty, const char *bytes, size_t length)
{
	while (length > 0) {
		const ssize_t put = write(pty->master, bytes, length);
		if (put < 0 && errno == EINTR) {
			continue;
		}
		must(put > 0, "typing");
		bytes += put;
		length -= (size_t)put;
	}
}

void pty_send_bytes(struct pty *pty, const char *bytes, size_t length)
{
	remember(pty, "(bytes)");
	send_raw(pty, bytes, length);
}

void pty_send(struct pty *pty, const char *bytes)
{
	remember(pty, bytes);
	send_raw(pty, bytes, strlen(bytes));
}

static int count_characters(const char *text)
{
	int count = 0;
	for (; *text != '\0'; text++) {
		count += ((unsigned char)*text & 0xc0) != 0x80;
	}
	return count;
}

static int send_key(struct pty *pty, const char *name)
{
	for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
		if (strcmp(keys[i].name, name) == 0) {
			send_raw(pty, keys[i].bytes, strlen(keys[i].bytes));
			return 1;
		}
	}
	if (strncmp(name, "Ctrl-", 5) == 0 && name[5] != '\0' && name[6] == '\0') {
		const char byte = (char)(name[5] & 0x1f);
		send_raw(pty, &byte, 1);
		return 1;
	}
	send_raw(pty, name, strlen(name));
	return count_characters(name);
}

int pty_send_keys(struct pty *pty, const char *names)
{
	char *copy = strdup(names);
	assert_non_null(copy);
	char *rest = NULL;
	int count = 0;
	remember(pty, names);
	for (char *name = strtok_r(copy, " \n", &rest); name != NULL;
		name = strtok_r(NULL, " \n", &rest)) {
		count += send_key(pty, name);
	}
	free(copy);
	return count;
}

void pty_resize(struct pty *pty, int rows, int columns)
{
	vt_resize(pty->screen, rows, columns);
	set_size(pty->master, pty->screen->rows, pty->screen->columns);
}

/* --- ending --- */

double pty_processor_s(const struct pty *pty)
{
	char path[64];
	char line[80] = {0};
	(void)snprintf(path, sizeof path, "/proc/%d/schedstat", (int)pty->child);
	FILE *file = fopen(path, "r");
	must(file != NULL, path);
	must(fgets(line, sizeof line, file) != NULL, path);
	(void)fclose(file);
	return (double)strtoull(line, NULL, 10) / 1e9;
}

int pty_close(struct pty *pty)
{
	const int64_t start = now_ms();
	(void)close(pty->master);
	while (!pty->ended && now_ms() - start < 2000) {
		note_end(pty, WNOHANG);
		if (!pty->ended) {
			(void)poll(NULL, 0, 5);
		}
	}
	if (!pty->ended) {
		(void)kill(pty->child, SIGKILL);
		note_end(pty, 0);
	}
	const int status = pty->status;
	vt_free(pty->screen);
	free(pty);
	return status;
}
