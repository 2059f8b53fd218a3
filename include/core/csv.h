/* SPDX-License-Identifier: MIT */
/* csv.h - tables as comma-separated text: any dialect in, RFC 4180 out.
 *
 * Read: comma, semicolon or tab; lines end with CRLF, LF or CR; quoted cells may hold all of these;
 * a byte order mark is passed over, UTF-16 is known by it. Empty lines are passed over.
 * Written: commas, CRLF, UTF-8 without a byte order mark.
 *
 * A cell that a spreadsheet would run, because it starts with = + - @ tab or CR and is no plain
 * number, is written with an apostrophe before it, and so is one that starts with apostrophes
 * before such a character. The reader takes one apostrophe away from a cell that starts with
 * apostrophes before such a character. So every cell comes back as it was. */
#ifndef CORE_CSV_H
#define CORE_CSV_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include "core/fault.h"
#include "core/memory.h"

enum csv_encoding { CSV_UTF8, CSV_UTF16, CSV_LATIN1 }; /* a byte order mark wins */

enum {
	CSV_ROW_SIZE_MAX = 1 << 20, /* bytes of one row */
	CSV_CELLS_MAX = 4096,       /* of one row */
};

struct csv_options {
	char separator; /* ',' ';' '\t', or 0: the one most frequent in the first line */
	enum csv_encoding encoding;
};

struct csv_cell {
	const char *text; /* UTF-8 */
	int32_t line;     /* where it starts, both from 1; column counts characters */
	int32_t column;
	bool quoted; /* in quotes: an empty text, where others are empty for want of one */
};

struct csv_row {
	const struct csv_cell *cells;
	int32_t count;
	int32_t line;
	const char *text; /* of all cells, one behind the other, each ended by NUL */
	size_t size;
};

struct csv_reader;

/* Where more bytes come from: at most `size` into `out`; *got 0 at the end. A failure of its own
 * is what csv_next answers. */
struct csv_source {
	void *context;
	enum status (*read)(void *context, char *out, size_t size, size_t *got, struct fault *why);
};

/* Reads bytes[0..length), which must stay as they are until csv_close. */
struct csv_reader *csv_open(const char *bytes, size_t length, const struct csv_options *options);
/* Reads a file of any length through a window of its own. */
struct csv_reader *csv_open_source(
	const struct csv_source *source, const struct csv_options *options);
void csv_close(struct csv_reader *reader); /* NULL is fine */
char csv_separator(const struct csv_reader *reader);
/* The next row, good until the next call. STATUS_END after the last. STATUS_SYNTAX: bytes that are
 * not of the encoding, a NUL, a quote never closed or followed by words; STATUS_RANGE: row too
 * long. The message begins with "line L, column C: "; after a failure every call fails. */
enum status csv_next(struct csv_reader *reader, struct csv_row *row, struct fault *why) MUST_CHECK;

/* A copy that lasts as long as the arena. */
struct csv_row csv_row_copy(struct arena *arena, const struct csv_row *row);
/* Which cell holds this name (case-folded, blanks around it passed over); -1 when none does. */
int32_t csv_find(const struct csv_row *heading, const char *name);
/* The text of a cell, "" beyond the row's end or for -1. */
const char *csv_text(const struct csv_row *row, int32_t column);

/* --- writing: to a stream, whose errors the caller asks for with ferror at the end --- */

struct csv_writer {
	FILE *out;
	int32_t cells; /* in the row so far */
	bool blank;    /* the row so far is one empty cell */
};

struct csv_writer csv_writer_to(FILE *out);
void csv_write(struct csv_writer *writer, const char *text); /* NULL: empty cell */
void csv_write_empty(struct csv_writer *writer);             /* an empty text, in quotes */
void csv_write_i64(struct csv_writer *writer, int64_t number);
void csv_end_row(struct csv_writer *writer);

#endif
