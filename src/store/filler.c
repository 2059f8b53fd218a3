/* SPDX-License-Identifier: MIT */
/* A new log out of rows from outside. The file's own checks decide on each row; what refers to
 * what is looked at once all are in. */
#include "logfile.h"
#include "rows.h"
#include "schema.h"
#include "shapes.h"

#include "core/memory.h"
#include "core/text.h"

#include <stdio.h>
#include <string.h>

struct filler {
	struct store *store;
	struct arena *arena;
	struct table_shape *shapes;
	int32_t shape_count;
	const struct table_shape *shape; /* the table begun */
	sqlite3_stmt *insert;
	int32_t schema;
	const struct filling_from *from;
};

const struct table_shape *filler_shapes(const struct filler *filler, int32_t *count)
{
	*count = filler->shape_count;
	return filler->shapes;
}

enum status filler_table(struct filler *filler, const struct table_shape *shape, struct fault *why)
{
	struct text_builder sql = text_builder_in(filler->arena);
	sqlite3_finalize(filler->insert);
	filler->insert = NULL;
	filler->shape = shape;
	text_add_format(&sql, "INSERT INTO %s (%s) VALUES (", shape->name,
		shape_columns(shape, filler->arena));
	for (int32_t i = 0; i < shape->count; i++)
		text_add(&sql, i == 0 ? "?" : ", ?");
	text_add(&sql, ")");
	return sql_prepare(filler->store, sql.text, &filler->insert, why);
}

static void bind_value(sqlite3_stmt *statement, int place, const struct table_value *value)
{
	switch (value->type) {
	case VALUE_NULL:
		(void)sqlite3_bind_null(statement, place);
		return;
	case VALUE_INTEGER:
		bind_i64(statement, place, value->integer);
		return;
	case VALUE_TEXT:
		/* stays as it is until the row is in */
		(void)sqlite3_bind_text64(
			statement, place, value->text, value->length, SQLITE_STATIC, SQLITE_UTF8);
	}
}

static bool is_letter(char letter)
{
	return letter == '_' || (letter >= 'a' && letter <= 'z') ||
	       (letter >= '0' && letter <= '9');
}

/* The first column of the table that SQLite's words about a row name. */
static int32_t column_named(const struct table_shape *shape, const char *words)
{
	int32_t found = -1;
	const char *first = NULL;
	words += strcspn(words, "("); /* its own words stand behind ours */
	for (int32_t i = 0; i < shape->count; i++) {
		const char *name = shape->columns[i].name;
		size_t length = strlen(name);
		const char *at = strstr(words, name);
		while (at != NULL && (is_letter(at[length]) || (at > words && is_letter(at[-1]))))
			at = strstr(at + 1, name);
		if (at != NULL && (first == NULL || at < first)) {
			first = at;
			found = i;
		}
	}
	return found;
}

enum status filler_row(
	struct filler *filler, const struct table_value *row, int32_t *column, struct fault *why)
{
	struct fault cause = {0};
	for (int32_t i = 0; i < filler->shape->count; i++)
		bind_value(filler->insert, i + 1, &row[i]);
	enum status status = sql_run(filler->store, filler->insert, &cause);
	(void)sqlite3_clear_bindings(filler->insert);
	*column = -1;
	if (status == STATUS_OK)
		return status;
	if (status == STATUS_RANGE)
		*column = column_named(filler->shape, cause.text);
	return fault_set(why, status, "%s", cause.text);
}

/* --- when all rows are in --- */

static enum status name_column(
	struct filler *filler, const char *table, int64_t key, const char **out, struct fault *why)
{
	sqlite3_stmt *list = NULL;
	*out = "";
	enum status status = sql_prepare(filler->store,
		"SELECT \"from\" FROM pragma_foreign_key_list(?1) WHERE id = ?2", &list, why);
	if (status == STATUS_OK) {
		bind_text(list, 1, table);
		bind_i64(list, 2, key);
		status = sql_step(filler->store, list, why);
	}
	if (status == STATUS_OK)
		*out = column_arena(list, 0, filler->arena);
	sqlite3_finalize(list);
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status check_references(struct filler *filler, struct fault *why)
{
	enum { TOLD_MAX = 200 };
	sqlite3_stmt *check = NULL;
	int32_t found = 0;
	enum status status = sql_prepare(filler->store, "PRAGMA foreign_key_check", &check, why);
	while (status == STATUS_OK) {
		const char *column = "";
		status = sql_step(filler->store, check, why);
		if (status != STATUS_OK || found++ >= TOLD_MAX)
			continue;
		const char *table = column_arena(check, 0, filler->arena);
		int64_t row = sqlite3_column_int64(check, 1);
		status = name_column(filler, table, sqlite3_column_int64(check, 3), &column, why);
		if (status == STATUS_OK)
			filler->from->dangling(filler->from->context, table, row, column);
	}
	sqlite3_finalize(check);
	if (status != STATUS_END)
		return status;
	if (found > 0)
		return fault_set(why, STATUS_RANGE, "%d rows refer to what is not there", found);
	return STATUS_OK;
}

static enum status check_place(struct filler *filler, struct fault *why)
{
	int64_t places = 0;
	enum status status =
		sql_one_integer(filler->store, "SELECT count(*) FROM place", &places, why);
	if (status == STATUS_OK && places == 0)
		status = fault_set(why, STATUS_RANGE, "there is no place among the rows");
	return status;
}

static enum status bring_up(struct filler *filler, struct fault *why)
{
	char pragmas[128];
	snprintf(pragmas, sizeof pragmas, "PRAGMA application_id = %d; PRAGMA user_version = %d",
		STORE_APPLICATION_ID, SCHEMA_VERSION);
	enum status status = schema_run(filler->store, filler->schema, SCHEMA_VERSION, why);
	return status == STATUS_OK ? sql_exec(filler->store, pragmas, why) : status;
}

static enum status fill_rows(struct filler *filler, struct fault *why)
{
	enum status status = schema_run(filler->store, 0, filler->schema, why);
	if (status == STATUS_OK)
		status = shapes_read(
			filler->store, filler->arena, &filler->shapes, &filler->shape_count, why);
	if (status == STATUS_OK)
		status = sql_exec(filler->store, "PRAGMA foreign_keys = OFF; BEGIN", why);
	if (status == STATUS_OK)
		status = filler->from->fill(filler, filler->from->context, why);
	sqlite3_finalize(filler->insert);
	filler->insert = NULL;
	if (status == STATUS_OK)
		status = check_references(filler, why);
	if (status == STATUS_OK)
		status = check_place(filler, why);
	if (status == STATUS_OK && filler->from->try_only)
		return STATUS_END;
	if (status == STATUS_OK)
		status = bring_up(filler, why);
	if (status == STATUS_OK)
		status = words_rebuild(filler->store, why);
	return status == STATUS_OK ? sql_exec(filler->store, "COMMIT", why) : status;
}

static enum status fill_new(struct store *store, void *context, struct fault *why)
{
	struct filler *filler = context;
	filler->store = store;
	filler->arena = arena_new();
	enum status status = fill_rows(filler, why);
	arena_free(filler->arena);
	return status;
}

enum status store_create_from(const char *path, struct clock *clock, int32_t schema,
	const struct filling_from *from, struct fault *why)
{
	struct filler filler = {.schema = schema, .from = from};
	const struct filling filling = {.fill = fill_new, .context = &filler};
	return logfile_make(path, clock, &filling, why);
}
