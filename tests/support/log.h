/* SPDX-License-Identifier: MIT */
/* log.h - a small log of an invented yard for the tests of the store, which look under its hood:
 * they may use the store's own doors and SQL. */
#ifndef SUPPORT_LOG_H
#define SUPPORT_LOG_H

#include <stdio.h>

#include "store/sql.h"

#include "support/scratch.h"

struct log {
	struct scratch scratch;
	char path[SCRATCH_PATH_SIZE];
	struct clock clock;
	struct store *store;
	char id[ID_SIZE]; /* of the row added last */
};

/* A new log "yard.bough" in a folder of its own, open for writing, today 2026-05-20. */
void log_make(struct log *yard);
void log_free(struct log *yard);
/* Closes and opens it again. */
void log_reopen(struct log *yard);
void log_close(struct log *yard);

/* Inside an act: adds an area; answers its id. */
const char *log_area(struct log *yard, const char *name);
/* The same as an act of its own, named after it. */
const char *log_area_act(struct log *yard, const char *name);
/* One act that gives an area another name. */
void log_rename_act(struct log *yard, const char *id, const char *name);
/* One act that sets one text field, or the reason why not. */
enum status log_try_set(
	struct log *yard, const struct row_change *row, const char *text, struct fault *why);

/* SQL past the store. */
void log_exec(struct log *yard, const char *sql);
int64_t log_one(struct log *yard, const char *sql);
int64_t log_count(struct log *yard, const char *table);
/* The same on a file that no store has open, by a connection of its own. */
void log_file_exec(const char *path, const char *sql);
int64_t log_file_one(const char *path, const char *sql);

/* Each row that a query answers, a line of "name=value" each, without row numbers and makers. */
void log_print_rows(FILE *out, struct log *yard, const char *sql);
/* All that is seen of the records (rows not struck, without row numbers and makers) and the words
 * of the search, as text: two logs that show the same answer the same. free() it. */
char *log_dump(struct log *yard);

#endif
