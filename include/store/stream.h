/* SPDX-License-Identifier: MIT */
/* stream.h - whole tables out of a log and into a new one, row by row, as they lie in the file:
 * for exports that bring back the same log. Only one row is held at a time.
 *
 * The tables are those of records and history; caches, drafts and the search are left out, and so
 * are row numbers. Rows come in the order of those numbers and are put in the same order. */
#ifndef STORE_STREAM_H
#define STORE_STREAM_H

#include "store/store.h"

struct table_column {
	const char *name;
	bool is_integer; /* else text */
	bool may_be_null;
};
struct table_shape {
	const char *name;
	const struct table_column *columns; /* the first is what a row is found by */
	int32_t count;
};
enum { SHAPE_COLUMNS_MAX = 64 };

enum value_type { VALUE_NULL, VALUE_INTEGER, VALUE_TEXT };
struct table_value {
	enum value_type type;
	int64_t integer;
	const char *text; /* NUL after it; a log of another hand may hold any bytes */
	size_t length;
};

/* --- out --- */
struct streams;
/* All tables as they stand at this moment, whoever writes meanwhile. without_private: trees kept
 * private, their grafts, all that is told of them, and spots where no other tree ever stood, stay
 * behind, as do acts of nothing else; acts that also did something else lose their words. */
enum status streams_open(struct store *store, bool without_private, struct streams **out,
	struct fault *why) MUST_CHECK;
void streams_close(struct streams *streams); /* NULL is fine; before the store */
/* In the order to write them: what is referred to comes first. */
const struct table_shape *streams_shapes(const struct streams *streams, int32_t *count);
/* Begins at the first row of a table. */
enum status streams_table(
	struct streams *streams, const struct table_shape *shape, struct fault *why) MUST_CHECK;
/* A value for each column, good until the next call; STATUS_END after the last row. */
enum status streams_next(
	struct streams *streams, const struct table_value **row, struct fault *why) MUST_CHECK;
/* The row of the table begun with that first value; STATUS_ABSENT. */
enum status streams_find(struct streams *streams, const struct table_value *key,
	const struct table_value **row, struct fault *why) MUST_CHECK;
/* The id of the log. */
const char *streams_log_id(const struct streams *streams);
/* Nothing was ever recorded in it but its place. */
enum status streams_is_empty(struct streams *streams, bool *empty, struct fault *why) MUST_CHECK;

/* --- in --- */
struct filler;
struct filling_from {
	/* Puts all rows; what it answers decides. */
	enum status (*fill)(struct filler *filler, void *context, struct fault *why);
	/* Hears of each row (its number in the table, from 1) that refers to a row that is not
	 * there: then nothing is made. */
	void (*dangling)(void *context, const char *table, int64_t number, const char *column);
	void *context;
	bool try_only; /* look at all of it, and make nothing: STATUS_END */
};
/* Makes a new log, of that schema or brought up from it, whole or not at all: STATUS_CONFLICT when
 * something is at path. STATUS_RANGE: a row refers to what is not there, or there is no place. */
enum status store_create_from(const char *path, struct clock *clock, int32_t schema,
	const struct filling_from *from, struct fault *why) MUST_CHECK;
/* Tables of the schema that is filled. */
const struct table_shape *filler_shapes(const struct filler *filler, int32_t *count);
enum status filler_table(
	struct filler *filler, const struct table_shape *shape, struct fault *why) MUST_CHECK;
/* STATUS_RANGE: the log does not take it; *column is then the one meant, where that is known, else
 * -1. */
enum status filler_row(struct filler *filler, const struct table_value *row, int32_t *column,
	struct fault *why) MUST_CHECK;

#endif
