/* SPDX-License-Identifier: MIT */
#include "rows.h"

#include <assert.h>
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "core/text.h"

enum { ROOM_FIRST = 16, ROOM_MUCH = 1024, DIGITS_WIDTH = 12, ROW_SQL_SIZE = 200 };

/* The text of a value that is no number; NULL for NULL. */
static const char *value_standing(const struct row_value *value)
{
	if (value->type == ROW_VALUE_NULL)
		return NULL;
	return value->day[0] != '\0' ? value->day : value->text;
}

/* The value as text; NULL for NULL. */
static const char *value_words(const struct row_value *value, char number[24])
{
	if (value->type != ROW_VALUE_INTEGER)
		return value_standing(value);
	snprintf(number, 24, "%" PRId64, value->integer);
	return number;
}

static void bind_value(sqlite3_stmt *statement, int place, const struct row_value *value)
{
	if (value->type == ROW_VALUE_INTEGER)
		bind_i64(statement, place, value->integer);
	else
		bind_standing(statement, place, value_standing(value));
}

void fields_add(struct row_fields *fields, const char *name, struct row_value value)
{
	assert(fields->count < FIELDS_MAX);
	fields->items[fields->count++] = (struct field_value){.name = name, .value = value};
}

enum status row_insert(
	struct store *store, const struct row_fields *fields, char id[ID_SIZE], struct fault *why)
{
	char given[ID_SIZE];
	memcpy(given, id, ID_SIZE);
	sqlite3_stmt *statement = NULL;
	enum status status = sql_get(store, fields->insert, &statement, why);
	if (status != STATUS_OK)
		return status;
	assert(sqlite3_bind_parameter_count(statement) == fields->count + 2);
	row_new(store, id);
	bind_standing(statement, 1, id);
	bind_standing(statement, 2, store->act_id);
	for (int32_t i = 0; i < fields->count; i++)
		bind_value(statement, i + 3, &fields->items[i].value);
	status = sql_run(store, statement, why);
	if (status == STATUS_OK)
		status = words_add(store, fields->table, id, why);
	if (status != STATUS_OK)
		memcpy(id, given, ID_SIZE);
	return status;
}

enum status row_save(
	struct store *store, const struct row_fields *fields, const char *id, struct fault *why)
{
	enum status status = row_must_stand(store, fields->table, id, why);
	sqlite3_int64 before = sqlite3_total_changes64(store->database);
	for (int32_t i = 0; status == STATUS_OK && i < fields->count; i++) {
		const struct field_value *item = &fields->items[i];
		status = row_set(store, fields->table, id, item->name, item->value, why);
	}
	if (status == STATUS_OK && sqlite3_total_changes64(store->database) != before)
		status = words_rewrite(store, fields->table, id, why);
	return status;
}

enum status row_take_back(struct store *store, const char *table, const char *id, struct fault *why)
{
	enum status status = row_strike(store, table, id, true, why);
	return status == STATUS_OK ? words_rewrite(store, table, id, why) : status;
}

bool row_value_same(const struct row_value *a, const struct row_value *b)
{
	char number_a[24];
	char number_b[24];
	const char *text_a = value_words(a, number_a);
	const char *text_b = value_words(b, number_b);
	if (text_a == NULL || text_b == NULL)
		return text_a == text_b;
	return strcmp(text_a, text_b) == 0;
}

bool fields_same(const struct row_fields *a, const struct row_fields *b)
{
	bool same = a->count == b->count;
	for (int32_t i = 0; same && i < a->count; i++)
		same = row_value_same(&a->items[i].value, &b->items[i].value);
	return same;
}

void *row_list_add(struct row_list *list)
{
	if (list->count == list->room) {
		int32_t more = list->room < ROOM_MUCH ? list->room : list->room / 2;
		int32_t room = list->room + (more > ROOM_FIRST ? more : ROOM_FIRST);
		size_t used = (size_t)list->count * list->size;
		list->items = list->room == 0 ? arena_array(list->arena, (size_t)room, list->size)
					      : arena_regrow(list->arena, list->items, used,
							(size_t)room * list->size);
		list->room = room;
	}
	return (char *)list->items + (size_t)list->count++ * list->size;
}

void row_list_drop(struct row_list *list)
{
	assert(list->count > 0);
	list->count--;
	memset((char *)list->items + (size_t)list->count * list->size, 0, list->size);
}

/* Grows beside the arena, which would keep each room that became too small. */
enum status rows_list(struct store *store, sqlite3_stmt *statement, const struct row_reader *reader,
	struct arena *arena, void **out, int32_t *count, struct fault *why)
{
	const size_t size = reader->size;
	char *rows = NULL;
	size_t taken = 0;
	size_t room = 0;
	enum status status;
	while ((status = sql_step(store, statement, why)) == STATUS_OK) {
		if (taken == room) {
			room = room == 0 ? ROOM_FIRST : room * 2;
			rows = block_resize(rows, room * size);
		}
		reader->read(statement, arena, memset(rows + taken++ * size, 0, size));
	}
	if (status == STATUS_END) {
		*out = taken == 0 ? NULL
				  : memcpy(arena_array(arena, taken, size), rows, taken * size);
		*count = (int32_t)taken;
		status = STATUS_OK;
	}
	block_free(rows);
	return status;
}

enum status rows_list_all(struct store *store, const struct statement *key,
	const struct row_reader *reader, struct arena *arena, void **out, int32_t *count,
	struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = sql_get(store, key, &statement, why);
	if (status != STATUS_OK)
		return status;
	return rows_list(store, statement, reader, arena, out, count, why);
}

enum status rows_one(struct store *store, sqlite3_stmt *statement, const struct row_reader *reader,
	struct arena *arena, void *out, struct fault *why)
{
	enum status status = sql_step(store, statement, why);
	if (status == STATUS_END)
		return STATUS_ABSENT;
	if (status != STATUS_OK)
		return status;
	memset(out, 0, reader->size);
	reader->read(statement, arena, out);
	sql_done(statement);
	return STATUS_OK;
}

enum status rows_number(
	struct store *store, sqlite3_stmt *statement, int64_t *out, struct fault *why)
{
	*out = 0;
	enum status status = sql_step(store, statement, why);
	if (status == STATUS_END)
		return STATUS_OK;
	if (status != STATUS_OK)
		return status;
	*out = sqlite3_column_int64(statement, 0);
	sql_done(statement);
	return STATUS_OK;
}

enum status rows_for(struct store *store, const struct statement *key, const char *text,
	sqlite3_stmt **out, struct fault *why)
{
	enum status status = sql_get(store, key, out, why);
	if (status == STATUS_OK)
		bind_text(*out, 1, text);
	return status;
}

int row_word(const char *const *words, int count, const char *word)
{
	for (int i = 0; word != NULL && i < count; i++) {
		if (words[i] != NULL && strcmp(words[i], word) == 0)
			return i;
	}
	return 0;
}

const char *column_word(sqlite3_stmt *statement, int column)
{
	const char *text = (const char *)sqlite3_column_text(statement, column);
	return text == NULL ? "" : text;
}

bool column_flag(sqlite3_stmt *statement, int column)
{
	return sqlite3_column_int(statement, column) != 0;
}

struct month_day column_month_day(sqlite3_stmt *statement, int column)
{
	struct month_day month_day = {0};
	if (month_day_parse(column_word(statement, column), &month_day, NULL) != STATUS_OK)
		return (struct month_day){0};
	return month_day;
}

enum status text_within(
	const char *text, int32_t max, bool must_hold, const char *what, struct fault *why)
{
	if (text == NULL || text[0] == '\0')
		return must_hold ? fault_set(why, STATUS_RANGE, "the %s is empty", what)
				 : STATUS_OK;
	size_t length = text_count_characters(text);
	if (length > (size_t)max)
		return fault_set(why, STATUS_RANGE,
			"the %s has %zu characters, at most %d are kept", what, length, (int)max);
	return STATUS_OK;
}

/* Whether a statement made up from a table's name gives a row for one or two texts. */
static enum status table_has(
	struct store *store, const char *sql, const char *one, const char *other, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = sql_get_made(store, sql, &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_text(statement, 1, one);
	if (other != NULL)
		bind_text(statement, 2, other);
	status = sql_step(store, statement, why);
	sql_done(statement);
	return status;
}

enum status name_is_free(
	struct store *store, const char *table, const char *name, const char *id, struct fault *why)
{
	char folded[FOLDED_SIZE];
	char sql[ROW_SQL_SIZE];
	snprintf(sql, sizeof sql,
		"SELECT 1 FROM %s WHERE name_folded = ?1 AND struck = 0 AND id <> ?2 LIMIT 1",
		table);
	enum status status = table_has(store, sql, name_fold(name, folded), id, why);
	if (status == STATUS_OK)
		return fault_set(
			why, STATUS_CONFLICT, "there is another %s called %s", table, name);
	return status == STATUS_END ? STATUS_OK : status;
}

enum status row_must_stand(
	struct store *store, const char *table, const char *id, struct fault *why)
{
	char sql[ROW_SQL_SIZE];
	snprintf(sql, sizeof sql, "SELECT 1 FROM %s WHERE id = ?1 AND struck = 0", table);
	enum status status = table_has(store, sql, id, NULL, why);
	if (status == STATUS_END)
		return fault_set(
			why, STATUS_ABSENT, "the %s is not in the log, or was taken back", table);
	return status;
}

const char *name_fold(const char *name, char out[FOLDED_SIZE])
{
	text_fold(name, out, FOLDED_SIZE);
	return out;
}

const char *name_sort_key(const char *folded, char out[SORT_SIZE])
{
	struct text_builder builder = text_builder_fixed(out, SORT_SIZE);
	while (*folded != '\0') {
		size_t plain = strcspn(folded, "0123456789");
		text_add_n(&builder, folded, plain);
		folded += plain;
		size_t digits = strspn(folded, "0123456789");
		for (size_t i = digits; digits > 0 && i < DIGITS_WIDTH; i++)
			text_add(&builder, "0");
		text_add_n(&builder, folded, digits);
		folded += digits;
	}
	return out;
}
