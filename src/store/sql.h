/* SPDX-License-Identifier: MIT */
/* sql.h - the store's own tools: statements, binding, reading, and the two doors through which
 * rows are written with their history. Only files of src/store include this. */
#ifndef STORE_SQL_H
#define STORE_SQL_H

#include <sqlite3.h>

#include "store/store.h"

/* A statement of a module's const table, prepared on first use and kept in the handle. */
struct statement {
	const char *name; /* "tree.find": unique; test_statements prepares them all */
	const char *sql;
};

struct cached_statement {
	const struct statement *key;
	sqlite3_stmt *prepared;
};

enum { STATEMENTS_MAX = 256 };

struct store {
	sqlite3 *database;
	char *path;
	struct clock *clock;
	bool read_only;
	bool in_act;
	bool act_changed;         /* something was written in the open act */
	char act_id[ID_SIZE];     /* the open change set */
	int64_t seen_version;     /* of PRAGMA data_version */
	bool saved_since_backup;
	struct cached_statement statements[STATEMENTS_MAX];
	int32_t statement_count;
};

/* The prepared statement, reset and with bindings cleared. NULL is never returned: a statement
 * that does not prepare is a programming mistake (assert with SQLite's message) unless the
 * database is damaged, which *why tells and STATUS_DAMAGED answers. */
enum status sql_get(struct store *store, const struct statement *statement, sqlite3_stmt **out,
	struct fault *why) MUST_CHECK;
/* Turns an SQLite result code into a status and one clear sentence (disk full, busy, read-only,
 * damaged, i/o). */
enum status sql_fault(struct store *store, int code, struct fault *why);
/* STATUS_OK with a row, STATUS_END without one. */
enum status sql_step(struct store *store, sqlite3_stmt *statement, struct fault *why) MUST_CHECK;
/* For statements that give no rows: steps once and resets. */
enum status sql_run(struct store *store, sqlite3_stmt *statement, struct fault *why) MUST_CHECK;
/* Plain SQL without parameters (pragmas, begin). */
enum status sql_exec(struct store *store, const char *sql, struct fault *why) MUST_CHECK;

/* Binding, by 1-based place. Text "" binds '' ; NULL binds NULL. */
void bind_text(sqlite3_stmt *statement, int place, const char *text);
void bind_text_or_null(sqlite3_stmt *statement, int place, const char *text); /* "" is NULL */
void bind_i64(sqlite3_stmt *statement, int place, int64_t value);
void bind_maybe_i32(sqlite3_stmt *statement, int place, struct maybe_i32 value);
void bind_maybe_i64(sqlite3_stmt *statement, int place, struct maybe_i64 value);
void bind_maybe_date(sqlite3_stmt *statement, int place, struct maybe_date value);

/* Reading, by 0-based column. */
void column_copy(sqlite3_stmt *statement, int column, char *out, size_t size); /* NULL is "" */
const char *column_arena(sqlite3_stmt *statement, int column, struct arena *arena);
struct maybe_i32 column_maybe_i32(sqlite3_stmt *statement, int column);
struct maybe_i64 column_maybe_i64(sqlite3_stmt *statement, int column);
struct maybe_date column_maybe_date(sqlite3_stmt *statement, int column);
/* Three columns from `column`: text, low, high. */
void column_date_span(sqlite3_stmt *statement, int column, struct date_span *out);

/* --- the two doors for rows in history --- */
/* Gives the row an id when it is "", for an insert that binds id and made itself. Asserts an
 * open act. The made column is store->act_id. */
void row_new(struct store *store, char id[ID_SIZE]);
/* Marks that the open act wrote something; every insert calls it. */
void row_wrote(struct store *store);

enum { ROW_VALUE_TEXT, ROW_VALUE_INTEGER, ROW_VALUE_NULL };
struct row_value {
	int type; /* ROW_VALUE_... */
	const char *text;
	int64_t integer;
};
/* Sets one field of one row: reads the value that stands, and when it differs writes a change
 * row (prev = the newest change of that field) and the field. table and field come from code,
 * never from a person. Used by save and strike. */
enum status row_set(struct store *store, const char *table, const char *id, const char *field,
	struct row_value value, struct fault *why) MUST_CHECK;
struct row_value row_text(const char *text);
struct row_value row_text_or_null(const char *text);
struct row_value row_integer(int64_t value);
struct row_value row_maybe_i32(struct maybe_i32 value);
struct row_value row_maybe_i64(struct maybe_i64 value);
struct row_value row_maybe_date(struct maybe_date value);
/* Strikes (1) or brings back (0). */
enum status row_strike(struct store *store, const char *table, const char *id, bool struck,
	struct fault *why) MUST_CHECK;

#endif
