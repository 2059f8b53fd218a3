/* SPDX-License-Identifier: MIT */
/* rows.h - what every record's file shares: a record as a list of fields with values, lists of
 * records in an arena, words for enums. Only files of src/store include this.
 *
 * A record's list of fields serves both its insert (whose columns stand in the same order, after
 * id and made) and its save, so that no field can be written by one and forgotten by the other. */
#ifndef STORE_ROWS_H
#define STORE_ROWS_H

#include "sql.h"

#include "store/records.h"

/* A folded label of 40 characters in which every other one is a digit still fits a sort key. */
enum { FIELDS_MAX = 24, FOLDED_SIZE = 4 * LABEL_SIZE, SORT_SIZE = 1024 };

struct row_fields {
	const char *table;
	const struct statement *insert; /* its parameters are id, made, then the values in order */
	int32_t count;
	struct field_value {
		const char *name;
		struct row_value value;
	} items[FIELDS_MAX];
};
void fields_add(struct row_fields *fields, const char *name, struct row_value value);

/* Makes a row, and its words for the search. */
enum status row_insert(struct store *store, const struct row_fields *fields, char id[ID_SIZE],
	struct fault *why) MUST_CHECK;
/* Sets the fields that differ from the row as it stands. */
enum status row_save(struct store *store, const struct row_fields *fields, const char *id,
	struct fault *why) MUST_CHECK;
/* Takes a row back, and its words out of the search. */
enum status row_take_back(
	struct store *store, const char *table, const char *id, struct fault *why) MUST_CHECK;
bool row_value_same(const struct row_value *a, const struct row_value *b);
bool fields_same(const struct row_fields *a, const struct row_fields *b);

/* A growing list of records of one size. */
struct row_list {
	struct arena *arena;
	size_t size; /* of one */
	void *items;
	int32_t count;
	int32_t room;
};
/* A new zeroed place at the end. */
void *row_list_add(struct row_list *list);
/* Takes the last one off again and zeroes its place. */
void row_list_drop(struct row_list *list);

/* Fills one record from the present row; texts of open length go to the arena. */
struct row_reader {
	void (*read)(sqlite3_stmt *statement, struct arena *arena, void *out);
	size_t size;
};
/* All rows of a bound statement into the arena. */
enum status rows_list(struct store *store, sqlite3_stmt *statement, const struct row_reader *reader,
	struct arena *arena, void **out, int32_t *count, struct fault *why) MUST_CHECK;
/* The same for a statement without parameters. */
enum status rows_list_all(struct store *store, const struct statement *key,
	const struct row_reader *reader, struct arena *arena, void **out, int32_t *count,
	struct fault *why) MUST_CHECK;
/* The first row of a bound statement; STATUS_ABSENT (without words in *why) when there is none. */
enum status rows_one(struct store *store, sqlite3_stmt *statement, const struct row_reader *reader,
	struct arena *arena, void *out, struct fault *why) MUST_CHECK;
/* The one number that a bound statement gives; 0 without a row. */
enum status rows_number(
	struct store *store, sqlite3_stmt *statement, int64_t *out, struct fault *why) MUST_CHECK;
/* The statement with its first parameter bound to a text. */
enum status rows_for(struct store *store, const struct statement *key, const char *text,
	sqlite3_stmt **out, struct fault *why) MUST_CHECK;

/* The place of a word in a table of words, 0 when it is not there. Rows may be NULL. */
int row_word(const char *const *words, int count, const char *word);
#define ROW_WORD(words, word) row_word((words), (int)(sizeof(words) / sizeof((words)[0])), (word))
/* The text of a column, "" for NULL; valid until the next step. */
const char *column_word(sqlite3_stmt *statement, int column);
bool column_flag(sqlite3_stmt *statement, int column);
struct month_day column_month_day(sqlite3_stmt *statement, int column);

/* STATUS_RANGE when text holds more than max characters, or none and must_hold. */
enum status text_within(const char *text, int32_t max, bool must_hold, const char *what,
	struct fault *why) MUST_CHECK;
/* STATUS_CONFLICT when another standing row of the table (one with name_folded) has the name;
 * id: the own row, "" for a new one. */
enum status name_is_free(struct store *store, const char *table, const char *name, const char *id,
	struct fault *why) MUST_CHECK;
/* Case-folded for look-ups. */
const char *name_fold(const char *name, char out[FOLDED_SIZE]);
/* Of a folded label: runs of digits padded with zeros, so that A2 stands before A10. */
const char *name_sort_key(const char *folded, char out[SORT_SIZE]);

/* STATUS_ABSENT when there is no such row, or it was struck. table comes from code. */
enum status row_must_stand(
	struct store *store, const char *table, const char *id, struct fault *why) MUST_CHECK;

#endif
