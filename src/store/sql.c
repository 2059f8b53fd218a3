/* SPDX-License-Identifier: MIT */
#include "sql.h"

#include <assert.h>
#include <string.h>

enum status sql_prepare(struct store *store, const char *sql, sqlite3_stmt **out, struct fault *why)
{
	int code = sqlite3_prepare_v2(store->database, sql, -1, out, NULL);
	if (code == SQLITE_OK)
		return STATUS_OK;
	*out = NULL;
	return sql_fault(store, code, why);
}

static enum status prepare_kept(struct store *store, const struct statement *statement,
	sqlite3_stmt **out, struct fault *why)
{
	assert(store->statement_count < STATEMENTS_MAX);
	int code = sqlite3_prepare_v3(
		store->database, statement->sql, -1, SQLITE_PREPARE_PERSISTENT, out, NULL);
	if (code != SQLITE_OK) {
		*out = NULL;
		enum status status = sql_fault(store, code, why);
		fault_prefix(why, "%s: ", statement->name);
		return status;
	}
	store->statements[store->statement_count++] =
		(struct cached_statement){.key = statement, .prepared = *out};
	return STATUS_OK;
}

static void make_ready(sqlite3_stmt *prepared)
{
	sqlite3_reset(prepared);
	sqlite3_clear_bindings(prepared);
}

/* One place nearer to the front, where what is used most comes to stand. */
static void move_forward(struct store *store, int32_t at)
{
	if (at == 0)
		return;
	struct cached_statement one = store->statements[at];
	store->statements[at] = store->statements[at - 1];
	store->statements[at - 1] = one;
}

enum status sql_get_made(
	struct store *store, const char *sql, sqlite3_stmt **out, struct fault *why)
{
	for (int32_t i = 0; i < store->statement_count; i++) {
		const struct cached_statement *kept = &store->statements[i];
		if (kept->key == NULL && strcmp(sqlite3_sql(kept->prepared), sql) == 0) {
			*out = kept->prepared;
			make_ready(*out);
			return STATUS_OK;
		}
	}
	const struct statement statement = {.name = "made up", .sql = sql};
	enum status status = prepare_kept(store, &statement, out, why);
	if (status == STATUS_OK)
		store->statements[store->statement_count - 1].key = NULL;
	return status;
}

enum status sql_get(struct store *store, const struct statement *statement, sqlite3_stmt **out,
	struct fault *why)
{
	for (int32_t i = 0; i < store->statement_count; i++) {
		if (store->statements[i].key == statement) {
			*out = store->statements[i].prepared;
			move_forward(store, i);
			make_ready(*out);
			return STATUS_OK;
		}
	}
	return prepare_kept(store, statement, out, why);
}

enum status sql_step(struct store *store, sqlite3_stmt *statement, struct fault *why)
{
	int code = sqlite3_step(statement);
	if (code == SQLITE_ROW)
		return STATUS_OK;
	if (code != SQLITE_DONE) {
		enum status status = sql_fault(store, code, why);
		sqlite3_reset(statement);
		return status;
	}
	sqlite3_reset(statement);
	return STATUS_END;
}

void sql_done(sqlite3_stmt *statement)
{
	sqlite3_reset(statement);
}

void sql_done_all(struct store *store)
{
	for (int32_t i = 0; i < store->statement_count; i++) {
		if (sqlite3_stmt_busy(store->statements[i].prepared))
			sqlite3_reset(store->statements[i].prepared);
	}
}

enum status sql_run(struct store *store, sqlite3_stmt *statement, struct fault *why)
{
	enum status status;
	do {
		status = sql_step(store, statement, why);
	} while (status == STATUS_OK);
	return status == STATUS_END ? STATUS_OK : status;
}

enum status sql_exec(struct store *store, const char *sql, struct fault *why)
{
	int code = sqlite3_exec(store->database, sql, NULL, NULL, NULL);
	return code == SQLITE_OK ? STATUS_OK : sql_fault(store, code, why);
}

enum status sql_one_integer(struct store *store, const char *sql, int64_t *out, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = sql_prepare(store, sql, &statement, why);
	if (status != STATUS_OK)
		return status;
	status = sql_step(store, statement, why);
	if (status == STATUS_OK)
		*out = sqlite3_column_int64(statement, 0);
	sqlite3_finalize(statement);
	return status;
}

/* A place that the statement does not have is a mistake in our own table of statements. */
static void require(int code)
{
	assert(code != SQLITE_RANGE && code != SQLITE_MISUSE);
	(void)code;
}

void bind_text(sqlite3_stmt *statement, int place, const char *text)
{
	require(text == NULL ? sqlite3_bind_null(statement, place)
			     : sqlite3_bind_text(statement, place, text, -1, SQLITE_TRANSIENT));
}

void bind_standing(sqlite3_stmt *statement, int place, const char *text)
{
	require(text == NULL ? sqlite3_bind_null(statement, place)
			     : sqlite3_bind_text(statement, place, text, -1, SQLITE_STATIC));
}

void bind_text_or_null(sqlite3_stmt *statement, int place, const char *text)
{
	bind_text(statement, place, text == NULL || text[0] == '\0' ? NULL : text);
}

void bind_i64(sqlite3_stmt *statement, int place, int64_t value)
{
	require(sqlite3_bind_int64(statement, place, value));
}

void bind_maybe_i32(sqlite3_stmt *statement, int place, struct maybe_i32 value)
{
	require(value.known ? sqlite3_bind_int64(statement, place, value.value)
			    : sqlite3_bind_null(statement, place));
}

void bind_maybe_i64(sqlite3_stmt *statement, int place, struct maybe_i64 value)
{
	require(value.known ? sqlite3_bind_int64(statement, place, value.value)
			    : sqlite3_bind_null(statement, place));
}

void bind_maybe_date(sqlite3_stmt *statement, int place, struct maybe_date value)
{
	char text[DATE_SIZE];
	bind_text(statement, place, value.known ? date_format(value.value, text) : NULL);
}

/* Never cuts inside a character: a log that another hand wrote may hold more than we allow. */
void column_copy(sqlite3_stmt *statement, int column, char *out, size_t size)
{
	const unsigned char *text = sqlite3_column_text(statement, column);
	size_t length = text == NULL ? 0 : strlen((const char *)text);
	if (length >= size) {
		length = size - 1;
		while (length > 0 && (text[length] & 0xC0) == 0x80)
			length--;
	}
	if (length > 0)
		memcpy(out, text, length);
	out[length] = '\0';
}

const char *column_arena(sqlite3_stmt *statement, int column, struct arena *arena)
{
	return arena_text(arena, (const char *)sqlite3_column_text(statement, column));
}

struct maybe_i32 column_maybe_i32(sqlite3_stmt *statement, int column)
{
	struct maybe_i64 wide = column_maybe_i64(statement, column);
	if (!wide.known || wide.value < INT32_MIN || wide.value > INT32_MAX)
		return (struct maybe_i32){.known = false};
	return known_i32((int32_t)wide.value);
}

struct maybe_i64 column_maybe_i64(sqlite3_stmt *statement, int column)
{
	if (sqlite3_column_type(statement, column) == SQLITE_NULL)
		return (struct maybe_i64){.known = false};
	return known_i64(sqlite3_column_int64(statement, column));
}

struct maybe_date column_maybe_date(sqlite3_stmt *statement, int column)
{
	const char *text = (const char *)sqlite3_column_text(statement, column);
	struct date date = {0};
	if (text == NULL || date_parse_iso(text, &date, NULL) != STATUS_OK)
		return (struct maybe_date){.known = false};
	return known_date(date);
}

/* The bounds are as kept; about and doubt are marks at the end of the text or of its halves. */
void column_date_span(sqlite3_stmt *statement, int column, struct date_span *out)
{
	*out = (struct date_span){0};
	column_copy(statement, column, out->text, sizeof out->text);
	out->low = column_maybe_date(statement, column + 1);
	out->high = column_maybe_date(statement, column + 2);
	out->about = strpbrk(out->text, "~%") != NULL;
	out->doubt = strpbrk(out->text, "?%") != NULL;
}
