/* SPDX-License-Identifier: MIT */
/* tables.h - the tables of the log, as the store's general parts (undo, search, verify, salvage)
 * walk over them. A test holds this list against the schema. */
#ifndef STORE_TABLES_H
#define STORE_TABLES_H

#include <stdbool.h>
#include <stdint.h>

struct table_row_kind {
	const char *name;
	bool in_history;   /* rows have id, made and struck, and are undone and merged */
	int32_t number;    /* of its words in the search index; 0: it has none. Never renumbered */
	const char *words; /* SQL for the text that the search finds it by */
};

/* In an order in which rows may be written: what is referred to comes first. Ended by a NULL
 * name. */
const struct table_row_kind *store_tables(void);
/* NULL when the log has no such table. */
const struct table_row_kind *store_table_named(const char *name);

#endif
