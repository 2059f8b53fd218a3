/* SPDX-License-Identifier: MIT */
/* pty.h - runs a program on a pseudo-terminal of a set size, types at it, and reads its screen.
 *
 * The screen is kept as cells by vt.h. Waiting is always for something to show, with a deadline:
 * no fixed sleeps. Anything that goes wrong fails the test that asked. */
#ifndef SUPPORT_PTY_H
#define SUPPORT_PTY_H

#include "support/vt.h"

#include <stdbool.h>
#include <stddef.h>
#include <sys/types.h>

struct pty_options {
	int rows;                       /* 0: 24 */
	int columns;                    /* 0: 80 */
	const char *term;               /* NULL: xterm-256color */
	const char *lang;               /* NULL: C.UTF-8; sets LANG and clears LC_ALL */
	const char *home;               /* NULL: as it is */
	const char *const *environment; /* more "NAME=VALUE", ended by NULL; may be NULL */
	const char *const *arguments;   /* the command, ended by NULL, looked up in PATH */
};

struct pty {
	pid_t child;
	int master;
	struct vt *screen;
	size_t received; /* bytes the program has written so far */
	bool ended;
	int status;    /* once ended: exit status, or 128 + the signal's number */
	char log[400]; /* the end of what was typed, for messages */
};

struct pty *pty_open(const struct pty_options *options);
/* The built program with these arguments (without argv[0], ended by NULL). */
struct pty *pty_open_program(const struct pty_options *options, const char *const *arguments);
/* Hangs up, waits two seconds for the program to leave, then kills it. Returns its status. */
int pty_close(struct pty *pty);

/* Types these bytes. */
void pty_send(struct pty *pty, const char *bytes);
void pty_send_bytes(struct pty *pty, const char *bytes, size_t length);
/* Types keys by name, blank-separated: Enter Esc Tab Backtab Up Down Left Right Home End PageUp
 * PageDown Backspace Delete Insert F1..F12 Space Ctrl-A..Ctrl-Z, or the characters themselves.
 * Returns how many keys that was. */
int pty_send_keys(struct pty *pty, const char *names);
/* Tells the program of a new size. */
void pty_resize(struct pty *pty, int rows, int columns);

/* Reads until nothing came for quiet_ms and the program slept all that time, at most deadline_ms;
 * false at the deadline. */
bool pty_read_quiet(struct pty *pty, int quiet_ms, int deadline_ms);
/* Reads until the text shows somewhere; fails the test, showing the screen, after deadline_ms. */
void pty_expect(struct pty *pty, const char *text, int deadline_ms);
/* The same until it no longer shows. */
void pty_expect_gone(struct pty *pty, const char *text, int deadline_ms);
/* Reads until the program has left; fails the test after deadline_ms. Returns its status. */
int pty_expect_end(struct pty *pty, int deadline_ms);

/* Seconds of processor time the program has used so far. */
double pty_processor_s(const struct pty *pty);

#endif
