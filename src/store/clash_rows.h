/* SPDX-License-Identifier: MIT */
/* clash_rows.h - the rows of the table `clash`: fields that two copies changed both. What is a
 * clash is worked out from the history (heads.h); the rows are this file's list of them. Only
 * files of src/store include this. */
#ifndef STORE_CLASH_ROWS_H
#define STORE_CLASH_ROWS_H

#include "heads.h"

/* Brings the rows of one field in line with its heads, inside an act. */
enum status clash_sync(struct store *store, const struct row_change *field,
	const struct heads *heads, struct fault *why) MUST_CHECK;
/* The field was given a value by the open act: no row of it stays open. */
enum status clash_close(struct store *store, const struct row_change *field, const char *value,
	struct fault *why) MUST_CHECK;
/* An id that the same text always gives, so that two copies make the same row. */
void id_made_of(const char *text, char out[ID_SIZE]);

#endif
