/* SPDX-License-Identifier: MIT */
/* pick_sheet.h - picks as growers keep them in a sheet: a row a tree and a column a year, or a row
 * a day and a column a tree. */
#ifndef EXCHANGE_PICK_SHEET_H
#define EXCHANGE_PICK_SHEET_H

#include "pick_cell.h"

/* A column of figures: of one season, or of one tree. */
struct sheet_column {
	int32_t column; /* of the file */
	struct date_span day;
	struct maybe_i32 season_year;
	struct subject subject;
};

struct pick_sheet {
	struct intake *intake;
	int32_t tree, day, note; /* names of the import */
	bool by_tree;
	struct sheet_column *columns;
	int32_t count;
};

/* Finds the columns of the years "2019..2024" by their headings: "2019", "2019/20", "Yield 2019".
 */
enum status pick_sheet_years(struct pick_sheet *sheet, struct fault *why) MUST_CHECK;
/* Finds the trees by their headings. What is no tree, no name of the import and not to be skipped
 * is refused. */
enum status pick_sheet_trees(struct pick_sheet *sheet, struct fault *why) MUST_CHECK;
/* Finds the columns, begins the act and takes every row. */
enum status pick_sheet_take(struct pick_sheet *sheet,
	enum status (*find)(struct pick_sheet *sheet, struct fault *why),
	struct fault *why) MUST_CHECK;
/* The trees of a sheet whose cells are not picks. */
enum status sheet_find_trees(struct intake *intake, struct sheet_column **out, int32_t *count,
	struct fault *why) MUST_CHECK;

#endif
