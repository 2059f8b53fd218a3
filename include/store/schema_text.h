/* SPDX-License-Identifier: MIT */
/* schema_text.h - the SQL files of schema/, carried inside the program.
 *
 * The file behind this header is made by schema/embed.sh at build time, so that schema/ is the
 * only place where a table is written down. */
#ifndef STORE_SCHEMA_TEXT_H
#define STORE_SCHEMA_TEXT_H

#include <stdint.h>

struct schema_text {
	int32_t number;    /* 1 for 001_NAME.sql; the user_version after it has run */
	const char *name;  /* "001_NAME" */
	const char *bytes; /* the file as it stands, and a NUL that length does not count */
	int32_t length;
};

/* Every step in order of number, without a hole, ended by a row with number 0. */
const struct schema_text *schema_text_table(void);

#endif
