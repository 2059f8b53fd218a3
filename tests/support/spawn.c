/* SPDX-License-Identifier: MIT */
#include "support/spawn.h"

#include "support/test.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

enum { ARGUMENTS_MAX = 60, CHUNK = 65536, SECONDS_MAX = 60 };

struct flow {
	int descriptor;
	char *bytes;
	size_t length;
	size_t room;
};

static void must(int answer, const char *what)
{
	if (answer < 0) {
		print_error("%s: %s\n", what, strerror(errno));
		fail();
	}
}

const char *program_path(void)
{
	const char *path = getenv("BOUGHBOOK_BIN");
	return path != NULL ? path : "build/boughbook";
}

/* Reads what is there; closes at the end. */
static void flow_read(struct flow *flow)
{
	if (flow->room - flow->length < CHUNK + 1) {
		flow->room = flow->room * 2 + CHUNK + 1;
		flow->bytes = realloc(flow->bytes, flow->room);
		assert_non_null(flow->bytes);
	}
	const ssize_t got = read(flow->descriptor, flow->bytes + flow->length, CHUNK);
	if (got > 0) {
		flow->length += (size_t)got;
	} else if (got == 0 || errno != EINTR) {
		(void)close(flow->descriptor);
		flow->descriptor = -1;
	}
	flow->bytes[flow->length] = '\0';
}

/* Writes what still fits; closes when all is written or nobody reads. */
static void flow_write(struct flow *flow)
{
	const ssize_t put = write(flow->descriptor, flow->bytes, flow->length);
	if (put > 0) {
		flow->bytes += put;
		flow->length -= (size_t)put;
	}
	if (flow->length == 0 || (put < 0 && errno != EINTR && errno != EAGAIN)) {
		(void)close(flow->descriptor);
		flow->descriptor = -1;
	}
}

static void start_child(const char *const *arguments, int input[2], int output[2], int errors[2])
{
	(void)signal(SIGPIPE, SIG_DFL);
	(void)dup2(input[0], STDIN_FILENO);
	(void)dup2(output[1], STDOUT_FILENO);
	(void)dup2(errors[1], STDERR_FILENO);
	int *const pipes[3] = {input, output, errors};
	for (int i = 0; i < 3; i++) {
		(void)close(pipes[i][0]);
		(void)close(pipes[i][1]);
	}
	(void)alarm(SECONDS_MAX);
	char *copies[ARGUMENTS_MAX + 2] = {NULL};
	for (int i = 0; i <= ARGUMENTS_MAX && arguments[i] != NULL; i++) {
		copies[i] = strdup(arguments[i]);
	}
	(void)execvp(copies[0], copies);
	(void)fprintf(stderr, "cannot run %s: %s\n", copies[0], strerror(errno));
	_exit(127);
}

static void exchange(struct flow *in, struct flow *out, struct flow *err)
{
	while (in->descriptor >= 0 || out->descriptor >= 0 || err->descriptor >= 0) {
		struct pollfd waits[3] = {
			{.fd = in->descriptor, .events = POLLOUT},
			{.fd = out->descriptor, .events = POLLIN},
			{.fd = err->descriptor, .events = POLLIN},
		};
		if (poll(waits, 3, -1) < 0) {
			continue;
		}
		if (waits[0].revents != 0) {
			flow_write(in);
		}
		if (waits[1].revents != 0) {
			flow_read(out);
		}
		if (waits[2].revents != 0) {
			flow_read(err);
		}
	}
}

struct spawned command_run(const char *input, const char *const *arguments)
{
	int in[2];
	int out[2];
	int err[2];
	(void)signal(SIGPIPE, SIG_IGN);
	must(pipe(in), "pipe");
	must(pipe(out), "pipe");
	must(pipe(err), "pipe");
	(void)fflush(NULL);
	const pid_t child = fork();
	must(child, "fork");
	if (child == 0) {
		start_child(arguments, in, out, err);
	}
	(void)close(in[0]);
	(void)close(out[1]);
	(void)close(err[1]);
	must(fcntl(in[1], F_SETFL, O_NONBLOCK), "fcntl");
	char *copy = strdup(input != NULL ? input : "");
	assert_non_null(copy);
	struct flow feed = {.descriptor = in[1], .bytes = copy, .length = strlen(copy)};
	struct flow said = {.descriptor = out[0]};
	struct flow complained = {.descriptor = err[0]};
	exchange(&feed, &said, &complained);
	free(copy);
	int status = 0;
	while (waitpid(child, &status, 0) < 0 && errno == EINTR) {
	}
	return (struct spawned){
		.status = WIFSIGNALED(status) ? 128 + WTERMSIG(status) : WEXITSTATUS(status),
		.out = said.bytes,
		.out_length = said.length,
		.err = complained.bytes,
		.err_length = complained.length,
	};
}

struct spawned program_run_list(const char *input, const char *const *arguments)
{
	const char *all[ARGUMENTS_MAX + 2] = {program_path()};
	for (int i = 0; arguments[i] != NULL; i++) {
		assert_true(i < ARGUMENTS_MAX);
		all[i + 1] = arguments[i];
	}
	return command_run(input, all);
}

struct spawned program_run(const char *input, ...)
{
	const char *all[ARGUMENTS_MAX + 1] = {NULL};
	va_list rest;
	va_start(rest, input);
	for (int i = 0; (all[i] = va_arg(rest, const char *)) != NULL; i++) {
		assert_true(i < ARGUMENTS_MAX);
	}
	va_end(rest);
	return program_run_list(input, all);
}

void spawned_free(struct spawned *spawned)
{
	free(spawned->out);
	free(spawned->err);
	*spawned = (struct spawned){0};
}
