/* SPDX-License-Identifier: MIT */
/* mapping.h - which column of a file is what: "label=Tree,east=East ft". */
#ifndef EXCHANGE_MAPPING_H
#define EXCHANGE_MAPPING_H

#include "core/csv.h"
#include "core/file.h"
#include "exchange/import.h"

enum { MAPPING_MAX = 16 };

/* A file open for import, its columns found by their names. */
struct mapping {
	struct file_bytes file;     /* of what is no plain file: whole */
	struct file_stream *stream; /* of a plain file */
	struct csv_reader *reader;
	struct csv_row heading;
	const char *const *names;     /* what an import of this kind knows, ended by NULL */
	int32_t columns[MAPPING_MAX]; /* of the file, by place in names; -1: not in it */
	bool *passed;                 /* by column of the file: "skip=" names it */
	const char *text;             /* the columns as said: what a layout keeps */
	const char *more;             /* and what an import keeps with them, "key=value" a line;
	                                 of the layout, and the import may set it */
	char units[KEY_SIZE];         /* of the layout; "" none; the import may set them */
	char dates[KEY_SIZE];
};

/* Opens the file and finds the columns named in the options, or in the layout remembered under
 * options->layout for `what`; the heading may have up to 19 rows above it, a title and the like.
 * STATUS_SYNTAX names a column that is not in the file, with those that are, or stands in it
 * twice. Closed with mapping_close, also after a failure. */
enum status mapping_open(struct session *session, const struct import_options *options,
	const char *what, const char *const *names, struct arena *arena, struct mapping *out,
	struct fault *why) MUST_CHECK;
void mapping_close(struct mapping *mapping);
/* What the layout keeps under a key; "" nothing. In arena. */
const char *mapping_kept(const struct mapping *mapping, const char *key, struct arena *arena);
/* What was said, else what the layout keeps; NULL when neither says. */
const char *mapping_said(
	const struct mapping *mapping, const char *said, const char *key, struct arena *arena);
/* The cell of a row by its name in the import; "" when it has none. */
const char *mapping_text(const struct mapping *mapping, const struct csv_row *row, int32_t name);
bool mapping_has(const struct mapping *mapping, int32_t name);
/* Does a cell say nothing? missing: words besides the usual ones, with commas between. */
bool mapping_is_blank(const char *text, const char *missing);
/* Is this column of the file one that the import knows by a name? */
bool mapping_names(const struct mapping *mapping, int32_t column);
/* STATUS_SYNTAX: more cells or fewer than the heading names columns; empty ones behind are none. A
 * row that was cut off, or holds a separator too many, has the rest in wrong columns. */
enum status mapping_check_cells(
	const struct mapping *mapping, const struct csv_row *row, struct fault *why) MUST_CHECK;
/* Puts "line 3, column 9 (day): " before *why; a column below 0: the line alone. */
void mapping_where(const struct mapping *mapping, const struct csv_row *row, int32_t column,
	struct fault *why);
/* Remembers the columns as a layout, inside the open act, when options->layout is given. */
enum status mapping_remember(struct session *session, const struct import_options *options,
	const struct mapping *mapping, const char *what, struct fault *why) MUST_CHECK;

/* A refused row, or a question, in the account. */
void account_say(struct import_account *account, struct arena *arena, const char *format, ...)
	__attribute__((format(printf, 3, 4)));

#endif
