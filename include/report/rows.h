/* SPDX-License-Identifier: MIT */
/* rows.h - flat rows out as CSV or JSON, and plain text wrapped to a width. */
#ifndef REPORT_ROWS_H
#define REPORT_ROWS_H

#include "core/csv.h"
#include "report/print.h"

/* Rows with the same keys. JSON: an array of objects, unknown as null. CSV: a heading, then a row
 * each, unknown empty. */
struct rows {
	const struct printer *printer;
	const char *const *keys; /* ended by NULL */
	int32_t at;              /* which key is next */
	int32_t count;
	struct csv_writer csv;
};

struct rows rows_begin(const struct printer *printer, const char *const *keys);
void rows_text(struct rows *rows, const char *text); /* NULL or "": unknown */
void rows_i64(struct rows *rows, struct maybe_i64 value);
void rows_i32(struct rows *rows, int32_t value);
void rows_date(struct rows *rows, struct maybe_date date);
/* A ratio or the like, with so many decimals; unknown when not known. */
void rows_decimal(struct rows *rows, bool known, double value, int decimals);
/* Milligrams as whole grams. */
void rows_grams(struct rows *rows, struct maybe_i64 mass_mg);
void rows_bool(struct rows *rows, bool value);
/* Closes the file. STATUS_IO when it could not be written. */
enum status rows_end(struct rows *rows, struct fault *why) MUST_CHECK;

/* JSON text of RFC 8259, in quotes: quotes, backslashes and controls escaped; bytes that are not
 * UTF-8 become U+FFFD. */
void json_write_text(FILE *stream, const char *text);

/* A line of text, cleaned; one too long goes on below, a little further in. */
void say_line(const struct printer *printer, const char *format, ...)
	__attribute__((format(printf, 2, 3)));
/* Text wrapped to the printer's width: the first line behind `first`, the others behind as many
 * blanks. */
void say_wrapped(const struct printer *printer, const char *first, const char *format, ...)
	__attribute__((format(printf, 3, 4)));
/* STATUS_IO when the stream has failed. */
enum status say_end(const struct printer *printer, struct fault *why) MUST_CHECK;

/* The title of a source for people, else the text itself. */
const char *source_title(const struct almanac *almanac, const char *source);

/* What an entry is about, for people: a tree's title, a spot, "the place". Returns out. */
const char *subject_title(struct yard *yard, const struct subject *subject, char *out, size_t size);

/* One tree as the row that print_trees gives it. */
enum status print_tree_row(
	const struct printer *printer, const struct dossier *dossier, struct fault *why) MUST_CHECK;

#endif
