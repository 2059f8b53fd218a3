/* SPDX-License-Identifier: MIT */
/* stage.h - the built program on a pseudo-terminal, with a copy of the demo yard of
 * 24 November 2026, or with no log at all. */
#ifndef SUPPORT_STAGE_H
#define SUPPORT_STAGE_H

#include "support/pty.h"
#include "support/scratch.h"

enum { STAGE_WAIT_MS = 8000 };

struct stage_options {
	int rows; /* 0: 24 */
	int columns;
	const char *term;
	const char *lang;
	const char *variable; /* one more "NAME=VALUE"; NULL none */
	bool empty;           /* no log is there */
};

struct stage {
	struct scratch scratch;
	char log[SCRATCH_PATH_SIZE];
	struct stage_options options;
	struct pty *pty;
	int terminal; /* the program's side, held open so that its modes can be looked at after */
};

/* The demo yard, written to a file that is not there. */
void stage_make_demo(const char *path);
/* A line entered by the command line, as another window does. */
void stage_enter(const char *log, const char *line);

/* Starts the program and waits until it has drawn. */
void stage_open(struct stage *stage, const struct stage_options *options);
/* Another start on the same log. */
void stage_start(struct stage *stage);
/* Types keys (as pty_send_keys) and waits until nothing more is drawn. Returns how many keys. */
int stage_keys(struct stage *stage, const char *names);
/* Types characters, blanks among them, and waits. */
void stage_type(struct stage *stage, const char *text);
void stage_quiet(struct stage *stage);
/* The text shows, now or soon. */
void stage_shows(struct stage *stage, const char *text);
/* It does not show once all is drawn. */
void stage_lacks(struct stage *stage, const char *text);
/* The whole screen; free() it. */
char *stage_text(const struct stage *stage);
/* What the sqlite3 shell answers about the log; free() it. */
char *stage_sql(const struct stage *stage, const char *sql);
int stage_count(const struct stage *stage, const char *sql);
/* What holds of every picture: the head and foot stand where they belong, no row is wider than the
 * terminal, nothing was sent that no terminal knows, and the cursor stands on the body. */
void stage_check(const struct stage *stage, const char *label);
/* Echo, lines and signals are back. */
void stage_check_modes(const struct stage *stage, const char *label);
void stage_close(struct stage *stage);

/* Opens it at that size and presses the keys. */
void stage_open_at(struct stage *stage, int rows, int columns, const char *lang, const char *keys);
/* What is shown is what is kept in that file. */
void stage_golden(const struct stage *stage, const char *path);
void stage_ascii(const struct stage *stage);

#endif
