/* SPDX-License-Identifier: MIT */
#include "shapes.h"

#include "rows.h"
#include "tables.h"

#include "core/text.h"

#include <string.h>

static bool leaves(const struct table_row_kind *table)
{
	static const char *const beside[] = {"meta", "change_set", "change"};
	for (size_t i = 0; i < sizeof beside / sizeof beside[0]; i++)
		if (strcmp(table->name, beside[i]) == 0)
			return true;
	return table->in_history;
}

/* The number of a row is local to the file, and stays in it. */
static enum status read_columns(struct store *store, const char *table, struct arena *arena,
	struct table_shape *out, struct fault *why)
{
	struct table_column columns[SHAPE_COLUMNS_MAX];
	sqlite3_stmt *statement = NULL;
	*out = (struct table_shape){.name = table};
	enum status status = sql_prepare(store,
		"SELECT name, type, \"notnull\", pk FROM pragma_table_info(?1) ORDER BY cid",
		&statement, why);
	if (status == STATUS_OK)
		bind_text(statement, 1, table);
	while (status == STATUS_OK && out->count < SHAPE_COLUMNS_MAX) {
		status = sql_step(store, statement, why);
		if (status != STATUS_OK || strcmp(column_word(statement, 0), "row") == 0)
			continue;
		columns[out->count++] =
			(struct table_column){.name = column_arena(statement, 0, arena),
				.is_integer = strcmp(column_word(statement, 1), "INTEGER") == 0,
				.may_be_null = !column_flag(statement, 2)};
	}
	sqlite3_finalize(statement);
	size_t size = sizeof columns[0] * (size_t)out->count;
	out->columns = memcpy(
		arena_array(arena, (size_t)out->count + 1, sizeof columns[0]), columns, size);
	return status == STATUS_END ? STATUS_OK : status;
}

enum status shapes_read(struct store *store, struct arena *arena, struct table_shape **out,
	int32_t *count, struct fault *why)
{
	int32_t tables = 0;
	enum status status = STATUS_OK;
	while (store_tables()[tables].name != NULL)
		tables++;
	*out = arena_array(arena, (size_t)tables, sizeof **out);
	*count = 0;
	for (int32_t i = 0; i < tables && status == STATUS_OK; i++) {
		if (!leaves(&store_tables()[i]))
			continue;
		status = read_columns(store, store_tables()[i].name, arena, &(*out)[*count], why);
		if ((*out)[*count].count > 0) /* an older schema lacks some */
			++*count;
	}
	return status;
}

const char *shape_columns(const struct table_shape *shape, struct arena *arena)
{
	struct text_builder columns = text_builder_in(arena);
	for (int32_t i = 0; i < shape->count; i++)
		text_add_format(&columns, "%s%s", i == 0 ? "" : ", ", shape->columns[i].name);
	return columns.text;
}
