/* SPDX-License-Identifier: MIT */
/* How a file of some kind was read last time. */
#include "rows.h"
#include "statements.h"

#include <string.h>

enum { LAYOUT_ADD, LAYOUT_FIND, LAYOUT_NAMES };

const struct statement layout_statements[] = {
	[LAYOUT_ADD] = {"layout.add",
		"INSERT INTO layout (id, made, name, what, columns, units, dates) "
		"VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)"},
	[LAYOUT_FIND] = {"layout.find",
		"SELECT id, name, what, columns, units, dates FROM layout "
		"WHERE name = ?1 AND what = ?2 AND struck = 0 ORDER BY id LIMIT 1"},
	[LAYOUT_NAMES] = {"layout.names",
		"SELECT ifnull(group_concat(name, ', '), '') FROM "
		"(SELECT name FROM layout WHERE what = ?1 AND struck = 0 ORDER BY name)"},
	{NULL, NULL},
};

static void read_layout(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	struct layout *layout = out;
	column_copy(statement, 0, layout->id, sizeof layout->id);
	column_copy(statement, 1, layout->name, sizeof layout->name);
	column_copy(statement, 2, layout->what, sizeof layout->what);
	layout->columns = column_arena(statement, 3, arena);
	column_copy(statement, 4, layout->units, sizeof layout->units);
	column_copy(statement, 5, layout->dates, sizeof layout->dates);
}

static const struct row_reader layout_reader = {read_layout, sizeof(struct layout)};

static void read_names(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	*(const char **)out = column_arena(statement, 0, arena);
}

static const struct row_reader names_reader = {read_names, sizeof(const char *)};

/* Says which there are. */
static enum status fault_absent(struct store *store, const char *what, const char *name,
	struct arena *arena, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	const char *names = "";
	enum status status =
		rows_for(store, &layout_statements[LAYOUT_NAMES], what, &statement, why);

	if (status == STATUS_OK)
		status = rows_one(store, statement, &names_reader, arena, &names, why);
	if (status != STATUS_OK)
		return status;
	return fault_set(why, STATUS_ABSENT, "there is no layout called %s for %s%s%s", name, what,
		names[0] != '\0' ? "; there is: " : ", and none yet", names);
}

enum status store_layout_find(struct store *store, const char *what, const char *name,
	struct arena *arena, struct layout *out, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status =
		rows_for(store, &layout_statements[LAYOUT_FIND], name, &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_text(statement, 2, what);
	status = rows_one(store, statement, &layout_reader, arena, out, why);
	if (status == STATUS_ABSENT)
		return fault_absent(store, what, name, arena, why);
	return status;
}

enum status store_layout_put(struct store *store, struct layout *layout, struct fault *why)
{
	enum status status = text_within(layout->name, NAME_SIZE - 1, true, "layout's name", why);
	if (status != STATUS_OK)
		return status;
	struct row_fields fields = {.table = "layout", .insert = &layout_statements[LAYOUT_ADD]};
	fields_add(&fields, "name", value_text(layout->name));
	fields_add(&fields, "what", value_text(layout->what));
	fields_add(&fields, "columns", value_text(layout->columns));
	fields_add(&fields, "units", value_text(layout->units));
	fields_add(&fields, "dates", value_text(layout->dates));
	struct arena *arena = arena_new();
	struct layout standing;
	status = store_layout_find(store, layout->what, layout->name, arena, &standing, why);
	if (status == STATUS_OK) {
		memcpy(layout->id, standing.id, ID_SIZE);
		status = row_save(store, &fields, standing.id, why);
	} else if (status == STATUS_ABSENT) {
		status = row_insert(store, &fields, layout->id, why);
	}
	arena_free(arena);
	return status;
}
