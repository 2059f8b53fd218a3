/* SPDX-License-Identifier: MIT */
/* spawn.h - runs the built program, or another command, and keeps what it said. */
#ifndef SUPPORT_SPAWN_H
#define SUPPORT_SPAWN_H

#include <stddef.h>

struct spawned {
	int status; /* exit status; 128 + number when a signal ended it */
	char *out;  /* standard output, NUL-terminated */
	size_t out_length;
	char *err; /* standard error, NUL-terminated */
	size_t err_length;
};

/* The built program with these arguments, ended by NULL; input may be NULL for none. It is
 * killed after a minute. Free the answer with spawned_free. */
struct spawned program_run(const char *input, ...) __attribute__((sentinel));
/* The same with a list. */
struct spawned program_run_list(const char *input, const char *const *arguments);
/* Any command: arguments[0] is looked up in PATH. */
struct spawned command_run(const char *input, const char *const *arguments);
void spawned_free(struct spawned *spawned);

/* Where the built program is. */
const char *program_path(void);

#endif
