/* SPDX-License-Identifier: MIT */
/* table.h - tests whose cases are rows: of a text file, or of a C table. Each row runs as its own
 * named test.
 *
 * A file is tab-separated with one line of headings; blank lines and lines that start with '#' are
 * passed over. Tables of tests/outside/ need a column `source` with words in every row. A file
 * that breaks this, or has a row twice, ends the program with a message, so that no row goes
 * missing in silence. */
#ifndef SUPPORT_TABLE_H
#define SUPPORT_TABLE_H

#include <stddef.h>
#include <stdint.h>

enum { TABLE_COLUMNS_MAX = 24 };

struct table_row {
	const struct table *table;
	int line;                             /* in the file, from 1 */
	const char *cells[TABLE_COLUMNS_MAX]; /* "" where empty */
};

struct table {
	const char *path;
	char *text; /* what the cells point into */
	const char *headings[TABLE_COLUMNS_MAX];
	int columns;
	struct table_row *rows;
	int count;
};

/* A table of values from outside: path relative to the top of the source, sources demanded. */
struct table *outside_open(const char *path);
/* The same without the demand for sources. */
struct table *table_open(const char *path);
void table_free(struct table *table);

/* The cell under a heading; a heading that the table does not have fails the test. */
const char *row_text(const struct table_row *row, const char *heading);
/* The cell as a number; anything but one finite number fails the test. */
int64_t row_int(const struct table_row *row, const char *heading);
double row_number(const struct table_row *row, const char *heading);

/* Runs every row as a test named after its first cell; returns how many failed. */
int run_rows(
	const char *group, const struct table *table, void (*run)(const struct table_row *row));

/* The same for a C table: `count` cases of `size` bytes, each starting with a `const char *` that
 * names it. */
int run_cases(const char *group, const void *cases, size_t count, size_t size,
	void (*run)(const void *one));
#define RUN_CASES(group, cases, run) \
	run_cases((group), (cases), sizeof(cases) / sizeof((cases)[0]), sizeof((cases)[0]), (run))

#endif
