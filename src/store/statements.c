/* SPDX-License-Identifier: MIT */
#include "statements.h"

static const struct statement *const tables[] = {
	act_statements,
	history_statements,
	place_row_statements,
	row_statements,
	undo_statements,
	words_statements,
	NULL,
};

const struct statement *const *store_statement_tables(void)
{
	return tables;
}
