/* SPDX-License-Identifier: MIT */
/* sql.h - the store's own tools: statements, binding, reading, and the two doors through which
 * rows are written with their history. Only files of src/store include this. */
#ifndef STORE_SQL_H
#define STORE_SQL_H

#include <sqlite3.h>

#include "stood.h"

#include "core/clock.h"
#include "store/store.h"

/* A statement of a module's const table, prepared on first use and kept in the handle. */
struct statement {
	const char *name; /* "tree.find": unique; test_statements prepares them all */
	const char *sql;
};

struct cached_statement {
	const struct statement *key; /* NULL: found by its own text */
	sqlite3_stmt *prepared;
};

enum { STATEMENTS_MAX = 256, WORDS_TABLES_MAX = 32 };

/* Pages held in memory, in kB: more of them than usual did not make a review, a season or an
 * export faster; an act that writes all over the file needs them, a long import most. */
#define SQL_CACHE_USUAL "PRAGMA cache_size = -1000"
#define SQL_CACHE_WIDE "PRAGMA cache_size = -8000"
#define SQL_CACHE_IMPORT "PRAGMA cache_size = -3000"
#define SQL_CACHE_LONG_IMPORT "PRAGMA cache_size = -28000"

struct store {
	sqlite3 *database;
	const char *path; /* absolute, links followed */
	struct clock *clock;
	bool read_only;
	bool leaves_out_private; /* from lists of entries */
	bool is_scratch;         /* a copy made to be thrown away */
	bool in_act;
	bool act_wide;     /* of an import: with more of the file in memory */
	bool act_changed;  /* something was written in the open act */
	bool act_is_local; /* a merge, or the undoing of one (sight.h) */
	/* In an import the words of new rows go into the search at its end: from which row on they
	 * wait, by the table's number; 0 none. */
	bool words_wait;
	int64_t words_from[WORDS_TABLES_MAX];
	int32_t act_rows;          /* made in an import */
	struct random_stock stock; /* of an import */
	struct stood *stood;       /* of an import: rows that were found to stand; NULL: none yet */
	char act_id[ID_SIZE];      /* the open change set */
	int64_t act_start;         /* sqlite3_total_changes64 once the change set was written */
	int64_t seen_version;      /* of PRAGMA data_version */
	bool saved_since_backup;
	enum status (*after_turn)(struct store *store, void *context, struct fault *why);
	void *after_turn_context;
	void (*trace)(void *context, const char *sql);
	void *trace_context;
	struct cached_statement statements[STATEMENTS_MAX];
	int32_t statement_count;
};

/* The prepared statement, reset and with bindings cleared; never NULL with STATUS_OK. What does
 * not prepare (a damaged log, a table that another program dropped) is told by name. */
enum status sql_get(struct store *store, const struct statement *statement, sqlite3_stmt **out,
	struct fault *why) MUST_CHECK;
/* Turns an SQLite result code into a status and one clear sentence (disk full, busy, read-only,
 * damaged, i/o). */
enum status sql_fault(struct store *store, int code, struct fault *why);
/* STATUS_OK with a row, STATUS_END without one (the statement is reset by then). Who stops before
 * the end calls sql_done, or the log stays locked against other programs. */
enum status sql_step(struct store *store, sqlite3_stmt *statement, struct fault *why) MUST_CHECK;
void sql_done(sqlite3_stmt *statement);
/* For statements that give no rows: steps once and resets. */
enum status sql_run(struct store *store, sqlite3_stmt *statement, struct fault *why) MUST_CHECK;
/* Plain SQL without parameters (pragmas, begin). */
enum status sql_exec(struct store *store, const char *sql, struct fault *why) MUST_CHECK;
/* A statement made up from names that stand in code; prepared for this once: sqlite3_finalize
 * it. */
enum status sql_prepare(
	struct store *store, const char *sql, sqlite3_stmt **out, struct fault *why) MUST_CHECK;
/* The same, kept like those of the tables: for what each row of an import needs. */
enum status sql_get_made(
	struct store *store, const char *sql, sqlite3_stmt **out, struct fault *why) MUST_CHECK;
/* The first column of the only row, for pragmas and counts. STATUS_END: no row. */
enum status sql_one_integer(
	struct store *store, const char *sql, int64_t *out, struct fault *why) MUST_CHECK;
/* Resets every statement that still stands on a row. */
void sql_done_all(struct store *store);

/* Binding, by 1-based place. Text "" binds '' ; NULL binds NULL. */
void bind_text(sqlite3_stmt *statement, int place, const char *text);
/* The same without a copy: the text stays as it is until the statement has run. */
void bind_standing(sqlite3_stmt *statement, int place, const char *text);
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
	char day[DATE_SIZE]; /* not "": the text, of a day */
};
/* Names one field of one row; all three from code or from the log itself. */
struct row_change {
	const char *table;
	const char *id;
	const char *field;
};
/* Names that come from the file go into SQL only when they are ours and plain. */
bool field_is_plain(const struct row_change *field);
/* Sets one field of one row: reads the value that stands, and when it differs writes a change
 * row (prev = the newest change of that field) and the field. table and field come from code,
 * never from a person. Used by save and strike. In a log that was merged the change replaces every
 * head of the field (heads.h), and so settles a clash. */
enum status row_set(struct store *store, const char *table, const char *id, const char *field,
	struct row_value value, struct fault *why) MUST_CHECK;
/* The same with a change also where the value is the one that stands: what settles a clash. */
enum status row_put(struct store *store, const struct row_change *field, struct row_value value,
	struct fault *why) MUST_CHECK;
/* The id of the newest change of a field in this file; "" when there is none. */
enum status row_newest(struct store *store, const struct row_change *field, char out[ID_SIZE],
	struct fault *why) MUST_CHECK;
/* Writes a change row and nothing else. */
struct change_text {
	const char *set_id;
	const char *old_text; /* NULL: NULL */
	const char *new_text;
	const char *prev; /* "" : none */
};
enum status row_add_change(struct store *store, const struct row_change *field,
	const struct change_text *text, struct fault *why) MUST_CHECK;
/* The value of a field as text, in the arena. STATUS_ABSENT: no such row. */
enum status row_read(struct store *store, const struct row_change *field, struct arena *arena,
	const char **out, struct fault *why) MUST_CHECK;
/* Two values as text; NULL is only like NULL. */
bool value_same(const char *one, const char *other);
/* Writes the field and nothing else; NULL: NULL. */
enum status row_write(struct store *store, const struct row_change *field, const char *text,
	struct fault *why) MUST_CHECK;
struct row_value value_text(const char *text);
struct row_value value_text_or_null(const char *text);
struct row_value value_integer(int64_t value);
struct row_value value_maybe_i32(struct maybe_i32 value);
struct row_value value_maybe_i64(struct maybe_i64 value);
struct row_value value_maybe_date(struct maybe_date value);
/* Strikes (1) or brings back (0). */
enum status row_strike(struct store *store, const char *table, const char *id, bool struck,
	struct fault *why) MUST_CHECK;

/* The words of the row that was inserted last, into the search index; in an import with
 * words_settle. Fine for tables without. */
enum status words_add(
	struct store *store, const char *table_name, const char *id, struct fault *why) MUST_CHECK;
/* Brings the search index in line with one row as it stands now: every add, save and strike of a
 * row that has words (tables.h) calls it in the same act. Fine for tables without words. */
enum status words_rewrite(
	struct store *store, const char *table_name, const char *id, struct fault *why) MUST_CHECK;
/* The words that wait, before the act ends and before anyone searches. */
enum status words_settle(struct store *store, struct fault *why) MUST_CHECK;
/* The whole index anew, inside a transaction. */
enum status words_rebuild(struct store *store, struct fault *why) MUST_CHECK;
/* Where the words of a row lie in word_index. */
int64_t words_rowid(int32_t table_number, int64_t row);
/* The same for SQL that has a row w of word_index: is it of an entry, and of which. To ask for its
 * table_name and row_id would read the words of every hit. */
#define WORDS_OF_ENTRY "(w.rowid % 32 = 7)"
#define WORDS_ENTRY_ROW "(w.rowid / 32)"

#endif
