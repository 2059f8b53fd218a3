/* SPDX-License-Identifier: MIT */
/* entry_rows.h - rows that say an entry as a line of words, and our own exports read back. */
#ifndef EXCHANGE_ENTRY_ROWS_H
#define EXCHANGE_ENTRY_ROWS_H

#include "intake.h"

/* What one row says before it is read. */
struct row_line {
	const char *label; /* "" : the line has its own */
	const char *text;
	struct date_span day;
	bool day_given;
};
enum status row_line_read(struct intake *intake, const struct row_line *said,
	struct reading *reading, struct fault *why) MUST_CHECK;
/* Logs it, unless it is in the log already. */
enum status row_line_log(struct intake *intake, const struct csv_row *row, struct reading *reading,
	struct fault *why) MUST_CHECK;

/* Is it a file that an export of entries or picks wrote, and were no columns said? */
bool own_file_is(const struct intake *intake);
/* Reads it, inside an act of that title. A row whose id is in the log is that entry: the same, or
 * refused where the file says otherwise. Else it is read by its words. */
enum status own_file_take(struct intake *intake, const char *title, struct fault *why) MUST_CHECK;

#endif
