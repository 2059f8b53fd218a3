/* SPDX-License-Identifier: MIT */
#include "tables.h"

#include <stddef.h>
#include <string.h>

/* clang-format off */
static const struct table_row_kind tables[] = {
	{"meta",             false, 0, NULL},
	{"change_set",       false, 0, NULL},
	{"change",           false, 0, NULL},
	{"clash",            true,  0, NULL},
	{"place",            true,  0, NULL},
	{"area",             true,  1, "name"},
	{"spot",             true,  2, "name"},
	{"obstacle",         true,  0, NULL},
	{"route",            true,  0, NULL},
	{"tree",             true,  3, "label || char(10) || rootstock || char(10) || hazard || char(10) || note "
		"|| char(10) || gone_reason"},
	{"old_label",        true,  4, "label"},
	{"tree_spot",        true,  0, NULL},
	{"identity",         true,  5, "name || char(10) || who || char(10) || reason"},
	{"trait",            true,  6, "trait || char(10) || value"},
	{"stem",             true,  0, NULL},
	{"entry",            true,  7, "words || char(10) || note"},
	{"amount",           true,  0, NULL},
	{"detail",           true,  0, NULL},
	{"measure",          true,  0, NULL},
	{"plan",             true,  0, NULL},
	{"product",          true,  8, "name || char(10) || elements"},
	{"container",        true,  9, "name"},
	{"container_weight", true,  0, NULL},
	{"weather_day",      true,  0, NULL},
	{"weather_hour",     true,  0, NULL},
	{"layout",           true,  0, NULL},
	{"answer",           true,  10, "reason"},
	{"own_window",       true,  0, NULL},
	{"own_rate",         true,  0, NULL},
	{"choice",           true,  0, NULL},
	{"lost_season",      true,  11, "cause"},
	{"season_turn",      false, 0, NULL},
	{"draft",            false, 0, NULL},
	{"walk",             false, 0, NULL},
	{"kept_flag",        false, 0, NULL},
	{NULL,               false, 0, NULL},
};
/* clang-format on */

const struct table_row_kind *store_tables(void)
{
	return tables;
}

const struct table_row_kind *store_table_named(const char *name)
{
	for (const struct table_row_kind *table = tables; table->name != NULL; table++) {
		if (table->name[0] == name[0] && strcmp(table->name, name) == 0)
			return table;
	}
	return NULL;
}
