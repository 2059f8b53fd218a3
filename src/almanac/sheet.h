/* SPDX-License-Identifier: MIT */
/* sheet.h - one CSV table of the almanac, read row by row, each cell checked as it is taken.
 *
 * The first row must name the columns, in order. Every fault names file, line, column and what
 * was expected: "cuts.csv line 14 column 12 (loss_low): ...". Text lies in the arena. */
#ifndef ALMANAC_SHEET_H
#define ALMANAC_SHEET_H

#include <string.h>

#include "core/date.h"
#include "core/memory.h"

enum { SHEET_COLUMNS_MAX = 24 };

/* Are the words the same? Most differ in their first letter. */
static inline bool word_is(const char *word, const char *other)
{
	return word[0] == other[0] && strcmp(word, other) == 0;
}

struct sheet_row {
	const char *text; /* of its cells, each ended by NUL */
	int32_t count;
	int32_t line;
};

struct sheet {
	const char *name; /* "cuts.csv" */
	const char *const *columns;
	int32_t column_count;
	struct arena *arena;
	uint64_t digest;        /* of the tables before it, and its own name and bytes */
	struct sheet_row *rows; /* with the heading */
	int32_t row_count;
	int32_t at;   /* the row to take next */
	int32_t line; /* of the row taken */
	const char *cells[SHEET_COLUMNS_MAX];
	const char *beyond; /* the first cell past the columns; NULL none */
};

/* STATUS_ABSENT: no such file. columns end with NULL. */
enum status sheet_open(struct sheet *sheet, struct arena *arena, const char *directory,
	const char *name, const char *const *columns, uint64_t digest,
	struct fault *why) MUST_CHECK;
/* The next row into cells; STATUS_END after the last. */
enum status sheet_next(struct sheet *sheet, struct fault *why) MUST_CHECK;
/* Records the fault of a cell, with its place, and returns status. */
enum status sheet_fault(const struct sheet *sheet, int32_t column, enum status status,
	struct fault *why, const char *format, ...) __attribute__((format(printf, 5, 6)));

/* --- cells; each takes the column's number, from 0 --- */

/* Not blank. */
enum status sheet_text(
	const struct sheet *sheet, int32_t column, const char **out, struct fault *why) MUST_CHECK;
/* Lower-case letters, digits, dots, '-' and '_', shorter than KEY_SIZE; may not be blank. */
enum status sheet_key(
	const struct sheet *sheet, int32_t column, const char **out, struct fault *why) MUST_CHECK;
/* One of the words (ended by NULL); out is its place. */
enum status sheet_choice(const struct sheet *sheet, int32_t column, const char *const *words,
	int *out, struct fault *why) MUST_CHECK;
/* "yes" or "no". */
enum status sheet_flag(
	const struct sheet *sheet, int32_t column, bool *out, struct fault *why) MUST_CHECK;
/* "MM-DD". */
enum status sheet_month_day(const struct sheet *sheet, int32_t column, struct month_day *out,
	struct fault *why) MUST_CHECK;
/* A plain decimal ("0.125"), times scale, within low..high (scaled); blank is not known. */
enum status sheet_decimal(const struct sheet *sheet, int32_t column, int32_t scale, int32_t low,
	int32_t high, struct maybe_i32 *out, struct fault *why) MUST_CHECK;
/* A plain decimal in one column and its unit in another, in base units; blank is not known. *base
 * is what the answer counts: mg, um, ul, decic, permille. A unit that is none of ours ("years")
 * keeps its number, which must be whole. */
enum status sheet_quantity(const struct sheet *sheet, int32_t column, int32_t unit_column,
	struct maybe_i64 *out, const char **base, struct fault *why) MUST_CHECK;

#endif
