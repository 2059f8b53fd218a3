/* SPDX-License-Identifier: MIT */
#include "rows.h"
#include "shapes.h"

#include "core/memory.h"

#include <assert.h>
#include <string.h>

struct streams {
	struct store *store;
	struct arena *arena;
	struct table_shape *shapes;
	int32_t shape_count;
	bool without_private;
	char log_id[ID_SIZE];
	const struct table_shape *shape; /* the table begun */
	sqlite3_stmt *rows;
	sqlite3_stmt *find;
	struct table_value row[SHAPE_COLUMNS_MAX];
};

static enum status read_log_id(struct streams *streams, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = sql_prepare(
		streams->store, "SELECT value FROM meta WHERE key = 'log'", &statement, why);
	if (status == STATUS_OK)
		status = sql_step(streams->store, statement, why);
	if (status == STATUS_OK)
		column_copy(statement, 0, streams->log_id, sizeof streams->log_id);
	sqlite3_finalize(statement);
	return status == STATUS_END ? STATUS_OK : status;
}

enum status streams_open(
	struct store *store, bool without_private, struct streams **out, struct fault *why)
{
	struct streams *streams = block_new(sizeof *streams);
	assert(!store->in_act);
	streams->store = store;
	streams->arena = arena_new();
	streams->without_private = without_private;
	sql_done_all(store);
	enum status status = sql_exec(store, "BEGIN", why);
	if (status == STATUS_OK) /* the first read takes the lock: from now on nothing moves */
		status = read_log_id(streams, why);
	if (status == STATUS_OK)
		status = shapes_read(
			store, streams->arena, &streams->shapes, &streams->shape_count, why);
	if (status == STATUS_OK && without_private)
		status = private_find(store, why);
	*out = streams;
	if (status != STATUS_OK) {
		streams_close(streams);
		*out = NULL;
	}
	return status;
}

static void end_table(struct streams *streams)
{
	sqlite3_finalize(streams->rows);
	sqlite3_finalize(streams->find);
	streams->rows = NULL;
	streams->find = NULL;
}

void streams_close(struct streams *streams)
{
	if (streams == NULL)
		return;
	end_table(streams);
	if (sqlite3_get_autocommit(streams->store->database) == 0)
		(void)sqlite3_exec(streams->store->database, "ROLLBACK", NULL, NULL, NULL);
	arena_free(streams->arena);
	block_free(streams);
}

const struct table_shape *streams_shapes(const struct streams *streams, int32_t *count)
{
	*count = streams->shape_count;
	return streams->shapes;
}

const char *streams_log_id(const struct streams *streams)
{
	return streams->log_id;
}

/* What names an act of a merge that stays behind goes with it. */
static const char *rows_sql(const struct streams *streams, const struct table_shape *shape)
{
	struct arena *arena = streams->arena;
	if (!streams->without_private)
		return arena_format(arena, "SELECT %s FROM %s ORDER BY rowid",
			shape_columns(shape, arena), shape->name);
	if (strcmp(shape->name, "meta") == 0)
		return "SELECT key, value FROM meta WHERE value NOT IN (SELECT id FROM left_out) "
		       "AND (key NOT LIKE 'foreign:%' OR substr(key, 9) NOT IN "
		       "(SELECT id FROM left_out)) ORDER BY rowid";
	return arena_format(arena,
		"SELECT %s FROM %s WHERE id NOT IN (SELECT id FROM left_out) ORDER BY rowid",
		private_columns(shape, arena), shape->name);
}

enum status streams_table(
	struct streams *streams, const struct table_shape *shape, struct fault *why)
{
	end_table(streams);
	streams->shape = shape;
	return sql_prepare(streams->store, rows_sql(streams, shape), &streams->rows, why);
}

static void read_row(struct streams *streams, sqlite3_stmt *statement)
{
	for (int32_t i = 0; i < streams->shape->count; i++) {
		struct table_value *value = &streams->row[i];
		switch (sqlite3_column_type(statement, i)) {
		case SQLITE_NULL:
			*value = (struct table_value){.type = VALUE_NULL, .text = ""};
			break;
		case SQLITE_INTEGER:
			*value = (struct table_value){.type = VALUE_INTEGER,
				.integer = sqlite3_column_int64(statement, i),
				.text = ""};
			break;
		default:
			*value = (struct table_value){
				.type = VALUE_TEXT, .text = column_word(statement, i)};
			value->length = (size_t)sqlite3_column_bytes(statement, i);
		}
	}
}

enum status streams_next(struct streams *streams, const struct table_value **row, struct fault *why)
{
	enum status status = sql_step(streams->store, streams->rows, why);
	if (status == STATUS_OK)
		read_row(streams, streams->rows);
	*row = streams->row;
	return status;
}

enum status streams_find(struct streams *streams, const struct table_value *key,
	const struct table_value **row, struct fault *why)
{
	enum status status = STATUS_OK;
	*row = streams->row;
	if (streams->find == NULL)
		status = sql_prepare(streams->store,
			arena_format(streams->arena, "SELECT %s FROM %s WHERE %s = ?1",
				shape_columns(streams->shape, streams->arena), streams->shape->name,
				streams->shape->columns[0].name),
			&streams->find, why);
	if (status != STATUS_OK)
		return status;
	sqlite3_reset(streams->find);
	(void)sqlite3_bind_text64(
		streams->find, 1, key->text, key->length, SQLITE_TRANSIENT, SQLITE_UTF8);
	status = sql_step(streams->store, streams->find, why);
	if (status == STATUS_OK)
		read_row(streams, streams->find);
	return status == STATUS_END ? STATUS_ABSENT : status;
}

enum status streams_is_empty(struct streams *streams, bool *empty, struct fault *why)
{
	static const char *const beside[] = {"meta", "change_set", "change", "place"};
	enum status status = STATUS_OK;
	*empty = true;
	for (int32_t i = 0; i < streams->shape_count && status == STATUS_OK && *empty; i++) {
		int64_t found = 0;
		if (row_word(beside, sizeof beside / sizeof beside[0], streams->shapes[i].name) >
				0 ||
			strcmp(streams->shapes[i].name, beside[0]) == 0)
			continue;
		status = sql_one_integer(streams->store,
			arena_format(streams->arena, "SELECT EXISTS (SELECT 1 FROM %s)",
				streams->shapes[i].name),
			&found, why);
		*empty = found == 0;
	}
	return status;
}
