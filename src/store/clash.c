/* SPDX-License-Identifier: MIT */
#include "clash_rows.h"

#include "statements.h"

#include <stdio.h>
#include <string.h>

enum { CLASH_OPEN, CLASH_OF_FIELD, CLASH_ADD, CLASH_FIND };

#define OF_FIELD "WHERE row_id = ?1 AND field = ?2 AND table_name = ?3 "
#define IS_OPEN "struck = 0 AND settled IS NULL "

const struct statement clash_statements[] = {
	[CLASH_OPEN] = {"clash.open", "SELECT id FROM clash " OF_FIELD "AND " IS_OPEN "LIMIT 1"},
	[CLASH_OF_FIELD] = {"clash.of_field",
		"SELECT id, coalesce(one, ''), coalesce(other, '') FROM clash " OF_FIELD
		"AND " IS_OPEN "ORDER BY id"},
	[CLASH_ADD] = {"clash.add",
		"INSERT INTO clash (id, made, row_id, field, table_name, one, other) "
		"VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)"},
	[CLASH_FIND] = {"clash.find", "SELECT 1 FROM clash WHERE id = ?1"},
	{NULL, NULL},
};

void id_made_of(const char *text, char out[ID_SIZE])
{
	static const char digits[] = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
	uint64_t halves[2] = {1469598103934665603U, 7809847782465536322U};
	for (; *text != '\0'; text++) { /* FNV-1a, and once more over what it gave */
		halves[0] = (halves[0] ^ (unsigned char)*text) * 1099511628211U;
		halves[1] = (halves[1] ^ (halves[0] >> 29) ^ (unsigned char)*text) *
			    14029467366897019727U;
	}
	for (int i = 0; i < ID_SIZE - 1; i++) {
		uint64_t *half = &halves[i < 13 ? 0 : 1];
		out[i] = digits[*half & 31];
		*half >>= 5;
	}
	out[ID_SIZE - 1] = '\0';
}

static enum status ask_field(struct store *store, int which, const struct row_change *field,
	sqlite3_stmt **out, struct fault *why)
{
	enum status status = sql_get(store, &clash_statements[which], out, why);
	if (status != STATUS_OK)
		return status;
	bind_text(*out, 1, field->id);
	bind_text(*out, 2, field->field);
	bind_text(*out, 3, field->table);
	return STATUS_OK;
}

enum status clash_close(
	struct store *store, const struct row_change *field, const char *value, struct fault *why)
{
	for (;;) {
		char id[ID_SIZE];
		sqlite3_stmt *open = NULL;
		enum status status = ask_field(store, CLASH_OPEN, field, &open, why);
		if (status == STATUS_OK)
			status = sql_step(store, open, why);
		if (status != STATUS_OK)
			return status == STATUS_END ? STATUS_OK : status;
		column_copy(open, 0, id, sizeof id);
		sql_done(open);
		status = row_set(store, "clash", id, "settled", value_text(value), why);
		if (status != STATUS_OK)
			return status;
	}
}

struct pair {
	char id[ID_SIZE];
	char one[ID_SIZE];
	char other[ID_SIZE];
};

static struct pair pair_of(
	const struct row_change *field, const struct head *one, const struct head *other)
{
	char text[256];
	struct pair pair;
	memcpy(pair.one, one->change_id, sizeof pair.one);
	memcpy(pair.other, other->change_id, sizeof pair.other);
	(void)snprintf(text, sizeof text, "clash %s %s %s %s %s", field->table, field->id,
		field->field, pair.one, pair.other);
	id_made_of(text, pair.id);
	return pair;
}

static bool is_wanted(
	const struct row_change *field, const struct heads *heads, const struct pair *pair)
{
	for (int32_t i = 1; i < heads->count; i++) {
		struct pair wanted = pair_of(field, &heads->items[0], &heads->items[i]);
		if (strcmp(wanted.id, pair->id) == 0)
			return true;
	}
	return false;
}

/* The open rows of a field that its heads no longer say; first all are read, then changed. */
static enum status list_unwanted(struct store *store, const struct row_change *field,
	const struct heads *heads, struct pair **out, int32_t *count, struct fault *why)
{
	sqlite3_stmt *open = NULL;
	int32_t room = 0;
	*count = 0;
	*out = NULL;
	enum status status = ask_field(store, CLASH_OF_FIELD, field, &open, why);
	while (status == STATUS_OK && (status = sql_step(store, open, why)) == STATUS_OK) {
		struct pair pair;
		column_copy(open, 0, pair.id, sizeof pair.id);
		column_copy(open, 1, pair.one, sizeof pair.one);
		column_copy(open, 2, pair.other, sizeof pair.other);
		if (is_wanted(field, heads, &pair))
			continue;
		if (*count == room) {
			room = room == 0 ? 4 : 2 * room;
			*out = arena_grow(heads->arena, *out, (size_t)*count * sizeof pair,
				(size_t)room * sizeof pair);
		}
		(*out)[(*count)++] = pair;
	}
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status add_pair(struct store *store, const struct row_change *field,
	const struct pair *pair, struct fault *why)
{
	sqlite3_stmt *insert = NULL;
	enum status status = sql_get(store, &clash_statements[CLASH_ADD], &insert, why);
	if (status != STATUS_OK)
		return status;
	bind_text(insert, 1, pair->id);
	bind_text(insert, 2, store->act_id);
	bind_text(insert, 3, field->id);
	bind_text(insert, 4, field->field);
	bind_text(insert, 5, field->table);
	bind_text(insert, 6, pair->one);
	bind_text(insert, 7, pair->other);
	row_wrote(store);
	return sql_run(store, insert, why);
}

/* A pair that was there before, and was settled or taken back, is open again. */
static enum status want_pair(struct store *store, const struct row_change *field,
	const struct pair *pair, struct fault *why)
{
	sqlite3_stmt *find = NULL;
	enum status status = sql_get(store, &clash_statements[CLASH_FIND], &find, why);
	if (status != STATUS_OK)
		return status;
	bind_text(find, 1, pair->id);
	status = sql_step(store, find, why);
	sql_done(find);
	if (status == STATUS_END)
		return add_pair(store, field, pair, why);
	if (status == STATUS_OK)
		status = row_strike(store, "clash", pair->id, false, why);
	if (status == STATUS_OK)
		status = row_set(store, "clash", pair->id, "settled",
			(struct row_value){.type = ROW_VALUE_NULL}, why);
	return status;
}

enum status clash_sync(struct store *store, const struct row_change *field,
	const struct heads *heads, struct fault *why)
{
	struct pair *unwanted = NULL;
	int32_t count = 0;
	enum status status = list_unwanted(store, field, heads, &unwanted, &count, why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		status = heads->count < 2 ? row_set(store, "clash", unwanted[i].id, "settled",
						    value_text(heads->shown), why)
					  : row_strike(store, "clash", unwanted[i].id, true, why);
	for (int32_t i = 1; status == STATUS_OK && i < heads->count; i++) {
		struct pair pair = pair_of(field, &heads->items[0], &heads->items[i]);
		status = want_pair(store, field, &pair, why);
	}
	return status;
}
