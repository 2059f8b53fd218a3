/* SPDX-License-Identifier: MIT */
/* What stands outside history: unsaved text, the broken-off walk, the turns that name seasons. */
#include "place.h"
#include "rows.h"
#include "statements.h"

#include <assert.h>
#include <string.h>

enum {
	DRAFT_PUT,
	DRAFT_REMOVE,
	DRAFT_LOAD,
	DRAFT_FIND,
	WALK_PUT,
	WALK_GET,
	WALK_LOGGED,
	TURN_REMOVE,
	TURN_ADD,
	TURN_LIST,
};

const struct statement beside_statements[] = {
	[DRAFT_PUT] = {"draft.put",
		"INSERT INTO draft (screen, body, saved_at) VALUES (?1, ?2, ?3) "
		"ON CONFLICT (screen) DO UPDATE SET body = ?2, saved_at = ?3"},
	[DRAFT_REMOVE] = {"draft.remove", "DELETE FROM draft WHERE screen = ?1"},
	[DRAFT_LOAD] = {"draft.load", "SELECT body FROM draft WHERE screen = ?1"},
	[DRAFT_FIND] = {"draft.find",
		"SELECT screen FROM draft WHERE screen >= ?1 AND screen < ?1 || char(1114111) "
		"ORDER BY saved_at DESC, screen LIMIT 1"},
	[WALK_PUT] = {"walk.put", "INSERT INTO walk (key, value) VALUES (?1, ?2) "
				  "ON CONFLICT (key) DO UPDATE SET value = ?2"},
	[WALK_GET] = {"walk.get", "SELECT value FROM walk WHERE key = ?1"},
	[WALK_LOGGED] = {"walk.logged",
		"SELECT count(*) FROM change_set AS late CROSS JOIN entry ON entry.made = late.id "
		"WHERE late.row > (SELECT max(row) - 2000 FROM change_set) "
		"AND late.typed_at >= ?1 AND late.kind = 'act' "
		"AND entry.struck = 0 AND entry.planned = 0"},
	[TURN_REMOVE] = {"season_turn.remove",
		"DELETE FROM season_turn WHERE subject_id = ?1 AND subject_kind = ?2"},
	[TURN_ADD] = {"season_turn.add",
		"INSERT INTO season_turn (subject_id, subject_kind, valid_from, valid_to, turn_md, "
		"years_add, crosses) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)"},
	[TURN_LIST] = {"season_turn.list",
		"SELECT valid_from, valid_to, turn_md, years_add, crosses FROM season_turn "
		"WHERE subject_id = ?1 AND subject_kind = ?2 ORDER BY valid_from, row"},
	{NULL, NULL},
};

/* Unsaved text is kept between keys: it waits a moment only. */
enum { DRAFT_WAIT_MS = 1000, USUAL_WAIT_MS = 3000 };

static enum status check_writable(const struct store *store, struct fault *why)
{
	if (!store->read_only)
		return STATUS_OK;
	return fault_set(
		why, STATUS_DENIED, "%s is open for viewing only; nothing was saved", store->path);
}

enum status store_draft_save(
	struct store *store, const char *screen, const char *body, struct fault *why)
{
	char stamp[STAMP_TEXT_SIZE];
	sqlite3_stmt *statement = NULL;
	bool is_empty = body == NULL || body[0] == '\0';
	enum status status = check_writable(store, why);
	if (status == STATUS_OK)
		status = rows_for(store, &beside_statements[is_empty ? DRAFT_REMOVE : DRAFT_PUT],
			screen, &statement, why);
	if (status != STATUS_OK)
		return status;
	if (!is_empty) {
		bind_text(statement, 2, body);
		bind_text(statement, 3, clock_stamp(store->clock, stamp));
	}
	sqlite3_busy_timeout(store->database, DRAFT_WAIT_MS);
	status = sql_run(store, statement, why);
	sqlite3_busy_timeout(store->database, USUAL_WAIT_MS);
	return status;
}

static enum status text_get(struct store *store, int key, const char *name, struct arena *arena,
	const char **out, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = rows_for(store, &beside_statements[key], name, &statement, why);
	if (status == STATUS_OK)
		status = sql_step(store, statement, why);
	if (status == STATUS_END)
		return fault_set(why, STATUS_ABSENT, "nothing is kept for %s", name);
	if (status != STATUS_OK)
		return status;
	*out = column_arena(statement, 0, arena);
	sql_done(statement);
	return STATUS_OK;
}

enum status store_draft_load(struct store *store, const char *screen, struct arena *arena,
	const char **body, struct fault *why)
{
	return text_get(store, DRAFT_LOAD, screen, arena, body, why);
}

enum status store_draft_find(struct store *store, const char *prefix, struct arena *arena,
	const char **screen, struct fault *why)
{
	return text_get(store, DRAFT_FIND, prefix, arena, screen, why);
}

enum status store_walk_put(
	struct store *store, const char *key, const char *value, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = check_writable(store, why);
	if (status == STATUS_OK)
		status = rows_for(store, &beside_statements[WALK_PUT], key, &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_text(statement, 2, value);
	return sql_run(store, statement, why);
}

enum status store_walk_get(struct store *store, const char *key, struct arena *arena,
	const char **value, struct fault *why)
{
	return text_get(store, WALK_GET, key, arena, value, why);
}

enum status store_walk_logged(
	struct store *store, const char *since, int32_t *count, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status =
		rows_for(store, &beside_statements[WALK_LOGGED], since, &statement, why);
	if (status == STATUS_OK)
		status = sql_step(store, statement, why);
	if (status != STATUS_OK)
		return status;
	*count = sqlite3_column_int(statement, 0);
	sql_done(statement);
	return STATUS_OK;
}

/* --- season turns --- */

static bool same_subject(const struct subject *a, const struct subject *b)
{
	return a->kind == b->kind && strcmp(a->id, b->id) == 0;
}

static const char *subject_word(const struct subject *subject)
{
	assert(subject->kind == SUBJECT_TREE || subject->kind == SUBJECT_SPOT);
	return subject->kind == SUBJECT_TREE ? "tree" : "spot";
}

static enum status turn_remove(
	struct store *store, const struct subject *subject, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status =
		rows_for(store, &beside_statements[TURN_REMOVE], subject->id, &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_text(statement, 2, subject_word(subject));
	return sql_run(store, statement, why);
}

static enum status turn_add(struct store *store, const struct season_turn *turn, struct fault *why)
{
	char turn_md[MONTH_DAY_SIZE];
	sqlite3_stmt *statement = NULL;
	enum status status =
		rows_for(store, &beside_statements[TURN_ADD], turn->subject.id, &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_text(statement, 2, subject_word(&turn->subject));
	bind_maybe_date(statement, 3, turn->from);
	bind_maybe_date(statement, 4, turn->to);
	bind_text(statement, 5, month_day_text(turn->turn, turn_md));
	bind_i64(statement, 6, turn->years_add);
	bind_i64(statement, 7, turn->crosses);
	return sql_run(store, statement, why);
}

static enum status turns_write(
	struct store *store, const struct season_turn *turns, int32_t count, struct fault *why)
{
	enum status status = STATUS_OK;
	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		if (i == 0 || !same_subject(&turns[i].subject, &turns[i - 1].subject))
			status = turn_remove(store, &turns[i].subject, why);
		if (status == STATUS_OK)
			status = turn_add(store, &turns[i], why);
	}
	return status;
}

enum status store_season_turn_put(
	struct store *store, const struct season_turn *turns, int32_t count, struct fault *why)
{
	enum status status = check_writable(store, why);
	if (status != STATUS_OK || store->in_act)
		return status == STATUS_OK ? turns_write(store, turns, count, why) : status;
	status = sql_exec(store, "BEGIN IMMEDIATE", why);
	if (status != STATUS_OK)
		return status;
	status = turns_write(store, turns, count, why);
	if (status == STATUS_OK)
		status = sql_exec(store, "COMMIT", why);
	if (status != STATUS_OK && sqlite3_get_autocommit(store->database) == 0)
		(void)sqlite3_exec(store->database, "ROLLBACK", NULL, NULL, NULL);
	return status;
}

static void read_turn(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	(void)arena;
	struct season_turn *turn = out;
	turn->from = column_maybe_date(statement, 0);
	turn->to = column_maybe_date(statement, 1);
	turn->turn = column_month_day(statement, 2);
	turn->years_add = column_flag(statement, 3);
	turn->crosses = column_flag(statement, 4);
}

static const struct row_reader turn_reader = {read_turn, sizeof(struct season_turn)};

enum status store_season_turn_list(struct store *store, const struct subject *subject,
	struct arena *arena, struct season_turn **out, int32_t *count, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	void *items = NULL;
	enum status status =
		rows_for(store, &beside_statements[TURN_LIST], subject->id, &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_text(statement, 2, subject_word(subject));
	status = rows_list(store, statement, &turn_reader, arena, &items, count, why);
	*out = items;
	for (int32_t i = 0; status == STATUS_OK && i < *count; i++)
		(*out)[i].subject = *subject;
	return status;
}
