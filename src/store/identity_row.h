/* SPDX-License-Identifier: MIT */
/* identity_row.h - an opinion as a row. Only files of src/store include this. */
#ifndef STORE_IDENTITY_ROW_H
#define STORE_IDENTITY_ROW_H

#include "rows.h"

#define IDENTITY_COLUMNS                                               \
	"i.id, "                                                       \
	"i.tree_id, i.opinion, i.what, i.name, i.sure, i.who, i.day, " \
	"i.day_low, i.day_high, i.reason, i.sense"
enum { IDENTITY_TREE_COLUMN = 1 };

/* Reads a row of IDENTITY_COLUMNS. */
extern const struct row_reader identity_reader;

#endif
