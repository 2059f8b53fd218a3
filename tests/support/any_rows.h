/* SPDX-License-Identifier: MIT */
/* any_rows.h - rows of any kind that a log may hold, hostile to whatever reads them: every table
 * and column of the schema, with values that its own checks allow. */
#ifndef SUPPORT_ANY_ROWS_H
#define SUPPORT_ANY_ROWS_H

#include "support/log.h"

/* Up to `most` rows into every table that leaves a log; history and references hold. The log is
 * written past the store: its search is not. */
void any_rows_fill(struct log *yard, struct dice *dice, int32_t most);
/* Hostile text of at most so many characters. */
const char *any_rows_text(struct dice *dice, size_t characters, struct arena *arena);

#endif
