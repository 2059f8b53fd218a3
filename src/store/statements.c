/* SPDX-License-Identifier: MIT */
#include "statements.h"

static const struct statement *const tables[] = {
	act_statements,
	answer_statements,
	area_statements,
	beside_statements,
	claim_statements,
	clash_statements,
	container_statements,
	entry_statements,
	entry_part_statements,
	entry_read_statements,
	find_statements,
	heads_statements,
	history_statements,
	identity_statements,
	kept_statements,
	kept_touched_statements,
	layout_statements,
	merge_bring_statements,
	merge_held_statements,
	merge_keep_statements,
	merge_settle_statements,
	merge_tell_statements,
	name_statements,
	own_statements,
	place_statements,
	place_row_statements,
	plan_statements,
	product_statements,
	row_statements,
	row_beside_statements,
	sight_statements,
	spot_statements,
	standing_statements,
	store_clash_statements,
	tree_statements,
	tree_list_statements,
	tree_place_statements,
	tree_size_statements,
	touched_statements,
	trait_statements,
	undo_statements,
	weather_statements,
	words_statements,
	NULL,
};

const struct statement *const *store_statement_tables(void)
{
	return tables;
}
