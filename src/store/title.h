/* SPDX-License-Identifier: MIT */
/* title.h - what a row is called where its field stands beside it: "A3", "A3 picked 6 lb
 * (2026-05-20)". A part of an entry is called as the entry is. Only files of src/store include
 * this. */
#ifndef STORE_TITLE_H
#define STORE_TITLE_H

#include "sql.h"

struct row_title {
	char text[TEXT_SIZE]; /* the table's name when there is nothing better; cut when long */
	char owner[ID_SIZE];  /* the record that it is part of; its own id else */
	const char *owner_table;
	char part[KEY_SIZE]; /* which figure or word of an entry: "weight"; "" none */
};
enum status row_title(struct store *store, const char *table, const char *id, struct row_title *out,
	struct fault *why) MUST_CHECK;

#endif
