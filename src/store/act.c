/* SPDX-License-Identifier: MIT */
#include "act.h"

#include "sight.h"
#include "statements.h"

#include <assert.h>
#include <string.h>
#include <unistd.h>

enum { ACT_ADD_SET, ACT_REMOVE_SET };

const struct statement act_statements[] = {
	[ACT_ADD_SET] = {"act.add_set",
		"INSERT INTO change_set (id, typed_at, what, kind, undoes, device) "
		"VALUES (?1, ?2, ?3, ?4, ?5, ?6)"},
	[ACT_REMOVE_SET] = {"act.remove_set", "DELETE FROM change_set WHERE id = ?1"},
	{NULL, NULL},
};

/* For information only: nothing decides by it. A seeded log tells the same story anywhere. */
static void name_device(const struct store *store, char name[NAME_SIZE])
{
	name[0] = '\0';
	if (!store->clock->seeded && gethostname(name, NAME_SIZE - 1) != 0)
		name[0] = '\0';
	name[NAME_SIZE - 1] = '\0';
}

/* What an act was may be a long line; its name is the beginning, cut between characters. */
static void cut_text(const char *text, char out[TEXT_SIZE])
{
	size_t length = strlen(text);
	if (length >= TEXT_SIZE) {
		length = TEXT_SIZE - 1;
		while (length > 0 && ((unsigned char)text[length] & 0xC0) == 0x80)
			length--;
	}
	memcpy(out, text, length);
	out[length] = '\0';
}

static enum status add_set(struct store *store, const struct act_start *start, struct fault *why)
{
	char stamp[STAMP_TEXT_SIZE];
	char device[NAME_SIZE];
	char what[TEXT_SIZE];
	sqlite3_stmt *insert = NULL;
	enum status status = sql_get(store, &act_statements[ACT_ADD_SET], &insert, why);
	if (status != STATUS_OK)
		return status;
	name_device(store, device);
	cut_text(start->what, what);
	bind_text(insert, 2, clock_stamp(store->clock, stamp));
	bind_text(insert, 1, clock_new_id(store->clock, store->act_id));
	bind_text(insert, 3, what);
	bind_text(insert, 4, start->kind);
	bind_text_or_null(insert, 5, start->undoes);
	bind_text(insert, 6, device);
	return sql_run(store, insert, why);
}

enum status act_lock(struct store *store, struct fault *why)
{
	assert(!store->in_act);
	if (store->read_only)
		return fault_set(why, STATUS_DENIED,
			"%s is open for viewing only; nothing was saved", store->path);
	if (store_was_moved(store))
		return sql_fault(store, SQLITE_READONLY_DBMOVED, why);
	sql_done_all(store);
	enum status status = sql_exec(store, "BEGIN IMMEDIATE", why);
	store->in_act = status == STATUS_OK;
	store->act_changed = false;
	return status;
}

enum status act_name(struct store *store, const struct act_start *start, struct fault *why)
{
	enum status status =
		set_is_local(store, start->kind, start->undoes, &store->act_is_local, why);
	if (status == STATUS_OK)
		status = add_set(store, start, why);
	if (status != STATUS_OK)
		store_act_rollback(store);
	else
		store->act_start = sqlite3_total_changes64(store->database);
	return status;
}

enum status store_act_begin(
	struct store *store, enum act_kind kind, const char *what, struct fault *why)
{
	static const char *const kinds[] = {
		[ACT_WORK] = "act", [ACT_IMPORT] = "import", [ACT_MERGE] = "merge"};
	const struct act_start start = {.kind = kinds[kind], .what = what, .undoes = ""};
	store->act_wide = kind != ACT_WORK;
	store->words_wait = kind == ACT_IMPORT;
	store->act_rows = 0;
	if (store->act_wide) /* rows of many trees: their indexes are written all over */
		(void)sqlite3_exec(store->database,
			kind == ACT_IMPORT ? SQL_CACHE_IMPORT : SQL_CACHE_WIDE, NULL, NULL, NULL);
	enum status status = act_lock(store, why);
	return status == STATUS_OK ? act_name(store, &start, why) : status;
}

/* Season turns and the like stand outside history: they are kept, the empty set is not. */
static enum status remove_empty_set(struct store *store, struct fault *why)
{
	sqlite3_stmt *remove = NULL;
	enum status status = sql_get(store, &act_statements[ACT_REMOVE_SET], &remove, why);
	if (status != STATUS_OK)
		return status;
	bind_text(remove, 1, store->act_id);
	return sql_run(store, remove, why);
}

static void act_over(struct store *store)
{
	if (store->act_wide)
		(void)sqlite3_exec(store->database, SQL_CACHE_USUAL, NULL, NULL, NULL);
	store->act_wide = false;
	store->words_wait = false;
	memset(store->words_from, 0, sizeof store->words_from);
	store->stock.left = 0;
	stood_free(&store->stood);
	store->in_act = false;
	store->act_changed = false;
	store->act_is_local = false;
	store->act_id[0] = '\0';
}

enum status store_act_commit(struct store *store, struct fault *why)
{
	assert(store->in_act);
	sql_done_all(store);
	if (!store->act_changed && sqlite3_total_changes64(store->database) == store->act_start) {
		store_act_rollback(store);
		return STATUS_OK;
	}
	if (sqlite3_get_autocommit(store->database) != 0) {
		store_act_rollback(store);
		return fault_set(why, STATUS_IO,
			"the save into %s was broken off; nothing was saved", store->path);
	}
	enum status status =
		store->act_changed ? words_settle(store, why) : remove_empty_set(store, why);
	if (status == STATUS_OK)
		status = sql_exec(store, "COMMIT", why);
	if (status != STATUS_OK) {
		store_act_rollback(store);
		return status;
	}
	act_over(store);
	store->saved_since_backup = true;
	return STATUS_OK;
}

/* After a full disk SQLite has rolled back already; asking again would hide the first error. */
void store_act_rollback(struct store *store)
{
	sql_done_all(store);
	if (sqlite3_get_autocommit(store->database) == 0)
		(void)sqlite3_exec(store->database, "ROLLBACK", NULL, NULL, NULL);
	act_over(store);
}

bool store_in_act(const struct store *store)
{
	return store->in_act;
}

bool store_look_begin(struct store *store)
{
	if (store->in_act || sqlite3_get_autocommit(store->database) == 0)
		return false;
	return sqlite3_exec(store->database, "BEGIN", NULL, NULL, NULL) == SQLITE_OK;
}

void store_look_end(struct store *store)
{
	(void)sqlite3_exec(store->database, "COMMIT", NULL, NULL, NULL);
}
