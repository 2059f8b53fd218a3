/* SPDX-License-Identifier: MIT */
#include "salvage.h"

#include "place.h"
#include "tables.h"

#include <stdio.h>
#include <string.h>

enum { DANGLING_MAX = 200 };

/* Acts that are lost, but named by rows that are not: their ids are enough to go on. */
static enum status add_lost_sets(struct salvage *salvage, struct fault *why)
{
	struct store *into = salvage->into;
	char sql[512];
	char stamp[STAMP_TEXT_SIZE];
	clock_stamp(into->clock, stamp);
	enum status status = STATUS_OK;
	for (const struct table_row_kind *table = store_tables();
		table->name != NULL && status == STATUS_OK; table++) {
		bool is_change = strcmp(table->name, "change") == 0;
		if (!table->in_history && !is_change)
			continue;
		snprintf(sql, sizeof sql,
			"INSERT INTO change_set (id, typed_at, what, kind) "
			"SELECT DISTINCT %s, '%s', 'lost to damage', 'act' FROM %s r "
			"WHERE NOT EXISTS (SELECT 1 FROM change_set s WHERE s.id = r.%s)",
			is_change ? "set_id" : "made", stamp, table->name,
			is_change ? "set_id" : "made");
		status = sql_exec(into, sql, why);
	}
	/* not the newest acts, whatever their rows say: undo has to leave them alone */
	if (status == STATUS_OK)
		status = sql_exec(into,
			"INSERT OR IGNORE INTO meta (key, value) SELECT 'foreign:' || id, '' "
			"FROM change_set WHERE what = 'lost to damage'",
			why);
	int64_t added = 0;
	if (status == STATUS_OK)
		status = sql_one_integer(into,
			"SELECT count(*) FROM change_set WHERE what = 'lost to damage'", &added,
			why);
	if (status == STATUS_OK && added > 0)
		lines_add(salvage->lines, true, "%lld acts are lost but for what they wrote",
			(long long)added);
	return status;
}

/* The column of a foreign key, by the number that foreign_key_check gives. */
static enum status find_column(
	struct store *into, const char *table, int64_t key, char out[64], struct fault *why)
{
	sqlite3_stmt *list = NULL;
	enum status status = sql_prepare(
		into, "SELECT \"from\" FROM pragma_foreign_key_list(?1) WHERE id = ?2", &list, why);
	if (status == STATUS_OK) {
		bind_text(list, 1, table);
		bind_i64(list, 2, key);
		status = sql_step(into, list, why);
	}
	if (status == STATUS_OK)
		column_copy(list, 0, out, 64);
	sqlite3_finalize(list);
	return status;
}

struct dangling {
	const char *table;
	int64_t row;
	int64_t key;
};

/* Lets go of a reference into the lost; where it may not be empty the row goes. */
static enum status let_go(
	struct salvage *salvage, const struct dangling *dangling, struct fault *why)
{
	char column[64];
	char sql[256];
	struct store *into = salvage->into;
	enum status status = find_column(into, dangling->table, dangling->key, column, why);
	if (status != STATUS_OK)
		return status;
	snprintf(sql, sizeof sql, "UPDATE OR IGNORE %s SET %s = NULL WHERE rowid = %lld",
		dangling->table, column, (long long)dangling->row);
	status = sql_exec(into, sql, why);
	if (status != STATUS_OK || sqlite3_changes64(into->database) > 0)
		return status;
	snprintf(sql, sizeof sql, "DELETE FROM %s WHERE rowid = %lld", dangling->table,
		(long long)dangling->row);
	status = sql_exec(into, sql, why);
	if (status == STATUS_OK && sqlite3_changes64(into->database) > 0)
		lines_add(salvage->lines, true,
			"%s: row %lld had to go, what it belongs to is lost", dangling->table,
			(long long)dangling->row);
	return status;
}

static enum status find_dangling(
	struct store *into, struct dangling found[DANGLING_MAX], int32_t *count, struct fault *why)
{
	sqlite3_stmt *check = NULL;
	*count = 0;
	enum status status = sql_prepare(into, "PRAGMA foreign_key_check", &check, why);
	while (status == STATUS_OK && *count < DANGLING_MAX) {
		status = sql_step(into, check, why);
		if (status != STATUS_OK)
			break;
		const struct table_row_kind *table =
			store_table_named((const char *)sqlite3_column_text(check, 0));
		if (table == NULL)
			continue;
		struct dangling *one = &found[(*count)++];
		one->table = table->name;
		one->row = sqlite3_column_int64(check, 1);
		one->key = sqlite3_column_int64(check, 3);
	}
	sqlite3_finalize(check);
	return status == STATUS_END ? STATUS_OK : status;
}

/* Each round takes some away, so that this ends. */
static enum status let_all_go(struct salvage *salvage, struct fault *why)
{
	struct dangling found[DANGLING_MAX];
	int32_t count = 0;
	enum status status;
	do {
		status = find_dangling(salvage->into, found, &count, why);
		for (int32_t i = 0; i < count && status == STATUS_OK; i++)
			status = let_go(salvage, &found[i], why);
	} while (status == STATUS_OK && count > 0);
	return status;
}

static enum status make_sure_of_place(struct salvage *salvage, struct fault *why)
{
	int64_t places = 0;
	struct store *into = salvage->into;
	const struct place place = {.name = "Salvaged yard"};
	enum status status = sql_one_integer(into, "SELECT count(*) FROM place", &places, why);
	if (status != STATUS_OK || places > 0)
		return status;
	lines_add(salvage->lines, true, "the place is lost: set its name and where it lies again");
	status = sql_exec(into,
		"INSERT INTO change_set (id, typed_at, what, kind) "
		"SELECT '0000000000SA1VAGED00000000', '1970-01-01T00:00:00Z', 'salvage', 'act'",
		why);
	if (status != STATUS_OK)
		return status;
	snprintf(into->act_id, sizeof into->act_id, "%s", "0000000000SA1VAGED00000000");
	into->in_act = true;
	status = place_insert(into, &place, why);
	into->in_act = false;
	into->act_id[0] = '\0';
	return status;
}

static enum status make_sure_of_id(struct salvage *salvage, struct fault *why)
{
	char id[ID_SIZE];
	sqlite3_stmt *insert = NULL;
	enum status status = sql_prepare(salvage->into,
		"INSERT OR IGNORE INTO meta (key, value) VALUES ('log', ?1)", &insert, why);
	if (status != STATUS_OK)
		return status;
	bind_text(insert, 1, clock_new_id(salvage->into->clock, id));
	status = sql_run(salvage->into, insert, why);
	sqlite3_finalize(insert);
	return status;
}

enum status salvage_mend(struct salvage *salvage, struct fault *why)
{
	enum status status = add_lost_sets(salvage, why);
	if (status == STATUS_OK)
		status = make_sure_of_place(salvage, why);
	if (status == STATUS_OK)
		status = let_all_go(salvage, why);
	if (status == STATUS_OK)
		status = make_sure_of_id(salvage, why);
	return status == STATUS_OK ? words_rebuild(salvage->into, why) : status;
}
