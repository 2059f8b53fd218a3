/* SPDX-License-Identifier: MIT */
/* statements.h - every module's table of statements, so that a test can prepare them all. Each
 * table is const, indexed by an enum of its module, and ended by a row with a NULL name. */
#ifndef STORE_STATEMENTS_H
#define STORE_STATEMENTS_H

#include "sql.h"

extern const struct statement act_statements[];
extern const struct statement answer_statements[];
extern const struct statement area_statements[];
extern const struct statement beside_statements[];
extern const struct statement claim_statements[];
extern const struct statement clash_statements[];
extern const struct statement container_statements[];
extern const struct statement entry_statements[];
extern const struct statement entry_part_statements[];
extern const struct statement entry_read_statements[];
extern const struct statement find_statements[];
extern const struct statement heads_statements[];
extern const struct statement history_statements[];
extern const struct statement history_set_statements[];
extern const struct statement identity_statements[];
extern const struct statement kept_statements[];
extern const struct statement kept_touched_statements[];
extern const struct statement layout_statements[];
extern const struct statement merge_bring_statements[];
extern const struct statement merge_held_statements[];
extern const struct statement merge_keep_statements[];
extern const struct statement merge_settle_statements[];
extern const struct statement merge_tell_statements[];
extern const struct statement name_statements[];
extern const struct statement own_statements[];
extern const struct statement place_statements[];
extern const struct statement place_row_statements[];
extern const struct statement plan_statements[];
extern const struct statement product_statements[];
extern const struct statement row_statements[];
extern const struct statement row_beside_statements[];
extern const struct statement sight_statements[];
extern const struct statement search_statements[];
extern const struct statement shelf_statements[];
extern const struct statement spot_statements[];
extern const struct statement standing_statements[];
extern const struct statement store_clash_statements[];
extern const struct statement tree_statements[];
extern const struct statement tree_list_statements[];
extern const struct statement tree_names_statements[];
extern const struct statement tree_place_statements[];
extern const struct statement tree_size_statements[];
extern const struct statement touched_statements[];
extern const struct statement trait_statements[];
extern const struct statement undo_statements[];
extern const struct statement weather_statements[];
extern const struct statement words_statements[];

/* All of them, ended by NULL. */
const struct statement *const *store_statement_tables(void);

#endif
