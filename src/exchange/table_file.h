/* SPDX-License-Identifier: MIT */
/* table_file.h - a table of the log as a file of CSV or JSON, row by row, exact both ways.
 *
 * CSV: a heading, then a row each. What is not there is an empty cell; an empty text in a column
 * that may be without one stands in quotes. JSON: an array of objects, one a line. In both, a text
 * that is not UTF-8, holds a NUL or begins with x' is written as x'HEX'. */
#ifndef EXCHANGE_TABLE_FILE_H
#define EXCHANGE_TABLE_FILE_H

#include <stdio.h>

#include "core/csv.h"
#include "report/print.h"
#include "store/json.h"
#include "store/stream.h"

/* --- out --- */
struct table_writer {
	enum format format;
	const struct table_shape *shape;
	FILE *out;
	struct csv_writer csv;
	struct arena *arena; /* reset with each row */
	int64_t rows;
};
struct table_writer table_writer_begin(
	enum format format, const struct table_shape *shape, FILE *out, struct arena *arena);
/* STATUS_RANGE: the row is too long for CSV. */
enum status table_writer_row(
	struct table_writer *writer, const struct table_value *row, struct fault *why) MUST_CHECK;
void table_writer_end(struct table_writer *writer);

/* --- in --- */
struct table_reader {
	enum format format;
	const struct table_shape *shape;
	FILE *in;
	struct csv_reader *csv;
	struct json_reader *json;
	struct arena *arena; /* reset with each row */
	char *line;          /* of JSON */
	size_t line_size;
	int32_t line_number; /* where the row read last begins, from 1 */
	bool ended;
	struct table_value row[SHAPE_COLUMNS_MAX];
};
/* Opens the file and reads its heading. Closed with table_reader_close, also after a failure. */
enum status table_reader_open(const char *path, enum format format, const struct table_shape *shape,
	struct table_reader *out, struct fault *why) MUST_CHECK;
void table_reader_close(struct table_reader *reader);
/* The next row, good until the next call; STATUS_END after the last. STATUS_SYNTAX: *column is the
 * one meant, -1 when it is none of them; reading can go on. STATUS_RANGE: it cannot. */
enum status table_reader_next(struct table_reader *reader, const struct table_value **row,
	int32_t *column, struct fault *why) MUST_CHECK;

#endif
