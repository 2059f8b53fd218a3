/* SPDX-License-Identifier: MIT */
/* The union: acts, changes and rows of the other log that this one has not, in the order in which
 * they stand there, so that what is referred to comes first. Row by row: neither log is ever in
 * memory. */
#include "merging.h"
#include "rows.h"
#include "statements.h"

#include "core/text.h"

#include <stdio.h>
#include <string.h>

enum {
	BRING_HAS_SET,
	BRING_ADD_SET,
	BRING_MARK,
	BRING_HAS_CHANGE,
	BRING_ADD_CHANGE,
};

const struct statement merge_bring_statements[] = {
	[BRING_HAS_SET] = {"merge.has_set", "SELECT 1 FROM change_set WHERE id = ?1"},
	[BRING_ADD_SET] = {"merge.add_set",
		"INSERT INTO change_set (id, typed_at, what, kind, undoes, device) "
		"VALUES (?1, ?2, ?3, ?4, ?5, ?6)"},
	[BRING_MARK] = {"merge.mark", "INSERT INTO meta (key, value) VALUES ('foreign:' || ?1, ?2) "
				      "ON CONFLICT (key) DO UPDATE SET value = ?2"},
	[BRING_HAS_CHANGE] = {"merge.has_change", "SELECT 1 FROM change WHERE id = ?1"},
	[BRING_ADD_CHANGE] = {"merge.add_change",
		"INSERT INTO change (id, set_id, table_name, row_id, field, old, new, prev) "
		"VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)"},
	{NULL, NULL},
};

static enum status is_there(
	struct store *store, int which, const char *id, bool *out, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status = rows_for(store, &merge_bring_statements[which], id, &statement, why);
	if (status == STATUS_OK)
		status = sql_step(store, statement, why);
	*out = status == STATUS_OK;
	if (statement != NULL)
		sql_done(statement);
	return status == STATUS_END ? STATUS_OK : status;
}

enum status merge_other_has(
	struct merging *merging, const char *set_id, bool *out, struct fault *why)
{
	return set_counts(&merging->other_sight, set_id, out, why);
}

static enum status mark_set(
	struct merging *merging, const char *set_id, const char *by, struct fault *why)
{
	sqlite3_stmt *mark = NULL;
	enum status status =
		rows_for(merging->store, &merge_bring_statements[BRING_MARK], set_id, &mark, why);
	if (status != STATUS_OK)
		return status;
	bind_text(mark, 2, by);
	merging->last_set[0] = '\0';
	row_wrote(merging->store);
	return sql_run(merging->store, mark, why);
}

enum status merge_mark_set(struct merging *merging, const char *set_id, struct fault *why)
{
	return mark_set(merging, set_id, merging->store->act_id, why);
}

static enum status look_what_brought(struct merging *merging, const char *set_id, struct fault *why)
{
	if (strcmp(merging->last_set, set_id) == 0)
		return STATUS_OK;
	(void)text_copy(merging->last_set, sizeof merging->last_set, set_id);
	return set_brought_by(merging->store, set_id, merging->last_by, why);
}

enum status merge_is_brought(
	struct merging *merging, const char *set_id, bool *out, struct fault *why)
{
	enum status status = look_what_brought(merging, set_id, why);
	*out = status == STATUS_OK && strcmp(merging->last_by, merging->store->act_id) == 0;
	return status;
}

enum status merge_is_held(struct merging *merging, const char *set_id, bool *out, struct fault *why)
{
	enum status status = look_what_brought(merging, set_id, why);
	*out = status == STATUS_OK && strcmp(merging->last_by, SIGHT_HELD) == 0;
	return status;
}

/* Is what the act made or changed to be here, from this merge on? */
static enum status is_coming(
	struct merging *merging, const char *set_id, bool *out, struct fault *why)
{
	enum status status = merge_is_brought(merging, set_id, out, why);
	return status == STATUS_OK && !*out && merging->holds
		       ? merge_is_held(merging, set_id, out, why)
		       : status;
}

/* A value of the other log goes in as what it is there; the checks of our tables decide. */
static enum status put_row(struct merging *merging, sqlite3_stmt *insert, sqlite3_stmt *row,
	int columns, struct fault *why)
{
	int code = SQLITE_OK;
	for (int i = 0; i < columns && code == SQLITE_OK; i++)
		code = sqlite3_bind_value(insert, i + 1, sqlite3_column_value(row, i));
	if (code != SQLITE_OK)
		return sql_fault(merging->store, code, why);
	struct fault first = {0};
	enum status status = sql_run(merging->store, insert, &first);
	if (status == STATUS_RANGE)
		return fault_set(why, STATUS_DAMAGED,
			"%s holds what no log may hold (%s); nothing was merged",
			merging->other->path, first.text);
	return status == STATUS_OK ? status : fault_set(why, status, "%s", first.text);
}

/* --- acts --- */

/* Is the act the other file's own business, or one that its grower declined? */
static enum status stays_there(
	struct merging *merging, sqlite3_stmt *row, const char *id, bool *out, struct fault *why)
{
	char merge_id[ID_SIZE];
	enum status status =
		set_is_local(merging->other, column_word(row, 3), column_word(row, 4), out, why);
	if (status != STATUS_OK || *out || !merging->other_was_merged)
		return status;
	status = set_brought_by(merging->other, id, merge_id, why);
	if (status == STATUS_OK && merge_id[0] != '\0')
		status = merge_is_undone(&merging->other_sight, merge_id, out, why);
	merging->other_has_declined = merging->other_has_declined || *out;
	return status;
}

/* An act that is here already counts again where it had gone with an undone merge. */
static enum status bring_back_set(struct merging *merging, const char *id, struct fault *why)
{
	char merge_id[ID_SIZE] = "";
	bool is_undone = false;
	enum status status = STATUS_OK;
	if (merging->was_merged)
		status = set_brought_by(merging->store, id, merge_id, why);
	if (status == STATUS_OK && merge_id[0] != '\0')
		status = merge_is_undone(&merging->sight, merge_id, &is_undone, why);
	if (status != STATUS_OK || !is_undone)
		return status;
	merging->came_back = true;
	merging->account->acts++;
	return merge_mark_set(merging, id, why);
}

enum status merge_take_set(
	struct merging *merging, sqlite3_stmt *row, const char *by, struct fault *why)
{
	char id[ID_SIZE];
	sqlite3_stmt *insert = NULL;
	column_copy(row, 0, id, sizeof id);
	enum status status =
		sql_get(merging->store, &merge_bring_statements[BRING_ADD_SET], &insert, why);
	if (status == STATUS_OK)
		status = put_row(merging, insert, row, 6, why);
	return status == STATUS_OK ? mark_set(merging, id, by, why) : status;
}

static enum status bring_set(struct merging *merging, sqlite3_stmt *row, struct fault *why)
{
	char id[ID_SIZE];
	bool skip = false;
	bool is_here = false;
	column_copy(row, 0, id, sizeof id);
	enum status status = stays_there(merging, row, id, &skip, why);
	if (status == STATUS_OK && !skip)
		status = is_there(merging->store, BRING_HAS_SET, id, &is_here, why);
	if (status != STATUS_OK || skip)
		return status;
	if (is_here)
		return bring_back_set(merging, id, why);
	merging->account->acts++;
	return merge_take_set(merging, row, merging->store->act_id, why);
}

typedef enum status bring_one(struct merging *merging, sqlite3_stmt *row, struct fault *why);

static enum status bring_each(
	struct merging *merging, const char *sql, bring_one *bring, struct fault *why)
{
	sqlite3_stmt *rows = NULL;
	enum status status = sql_prepare(merging->other, sql, &rows, why);
	while (status == STATUS_OK && (status = sql_step(merging->other, rows, why)) == STATUS_OK)
		status = bring(merging, rows, why);
	sqlite3_finalize(rows);
	return status == STATUS_END ? STATUS_OK : status;
}

/* --- changes --- */

static enum status check_field_name(
	const struct merging *merging, sqlite3_stmt *row, struct fault *why)
{
	const struct row_change field = {.table = column_word(row, 2),
		.id = column_word(row, 3),
		.field = column_word(row, 4)};
	if (!field_is_plain(&field))
		return fault_set(why, STATUS_DAMAGED,
			"the history of %s names a field that no log has; nothing was merged",
			merging->other->path);
	return STATUS_OK;
}

static enum status is_wanted_change(
	struct merging *merging, sqlite3_stmt *row, bool *out, struct fault *why)
{
	char set_id[ID_SIZE];
	bool is_here = false;
	column_copy(row, 1, set_id, sizeof set_id);
	*out = false;
	if (strcmp(column_word(row, 2), "clash") == 0)
		return STATUS_OK;
	enum status status = is_coming(merging, set_id, out, why);
	if (status == STATUS_OK && *out && (merging->came_back || merging->holds)) {
		status = is_there(
			merging->store, BRING_HAS_CHANGE, column_word(row, 0), &is_here, why);
		*out = !is_here;
	}
	return status;
}

static enum status bring_change(struct merging *merging, sqlite3_stmt *row, struct fault *why)
{
	bool is_wanted = false;
	sqlite3_stmt *insert = NULL;
	enum status status = is_wanted_change(merging, row, &is_wanted, why);
	if (status != STATUS_OK || !is_wanted)
		return status;
	status = check_field_name(merging, row, why);
	if (status == STATUS_OK)
		status = sql_get(
			merging->store, &merge_bring_statements[BRING_ADD_CHANGE], &insert, why);
	return status == STATUS_OK ? put_row(merging, insert, row, 8, why) : status;
}

/* --- rows --- */

struct bringing { /* one table */
	struct merging *merging;
	const struct table_row_kind *table;
	char columns[1024]; /* "id, made, ..." without row */
	int column_count;
	sqlite3_stmt *insert;
	sqlite3_stmt *find; /* by id */
};

static enum status name_columns(struct bringing *one, struct fault *why)
{
	sqlite3_stmt *list = NULL;
	struct store *store = one->merging->store;
	struct text_builder text = text_builder_fixed(one->columns, sizeof one->columns);
	text_add(&text, "id, made");
	one->column_count = 2;
	enum status status = sql_prepare(store,
		"SELECT name FROM pragma_table_info(?1) WHERE name NOT IN ('row', 'id', 'made') "
		"ORDER BY cid",
		&list, why);
	if (status == STATUS_OK)
		bind_text(list, 1, one->table->name);
	while (status == STATUS_OK && (status = sql_step(store, list, why)) == STATUS_OK) {
		text_add_format(&text, ", %s", column_word(list, 0));
		one->column_count++;
	}
	sqlite3_finalize(list);
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status prepare_table(struct bringing *one, struct fault *why)
{
	char sql[2048];
	struct store *store = one->merging->store;
	enum status status = name_columns(one, why);
	struct text_builder text = text_builder_fixed(sql, sizeof sql);
	text_add_format(&text, "INSERT INTO %s (%s) VALUES (?", one->table->name, one->columns);
	for (int i = 1; i < one->column_count; i++)
		text_add(&text, ", ?");
	text_add(&text, ")");
	if (status == STATUS_OK)
		status = sql_prepare(store, sql, &one->insert, why);
	(void)snprintf(sql, sizeof sql, "SELECT 1 FROM %s WHERE id = ?1", one->table->name);
	if (status == STATUS_OK)
		status = sql_prepare(store, sql, &one->find, why);
	return status;
}

static void count_row(struct bringing *one, sqlite3_stmt *row)
{
	struct merge_account *account = one->merging->account;
	bool is_part = false;
	if (sqlite3_column_int(row, 2) != 0) /* struck */
		return;
	for (const struct reference *r = merge_references(); r->table != NULL; r++)
		is_part = is_part || (r->is_part && strcmp(r->table, one->table->name) == 0);
	if (strcmp(one->table->name, "tree") == 0)
		account->trees++;
	else if (strcmp(one->table->name, "entry") == 0)
		account->entries++;
	else if (!is_part)
		account->others++;
}

static enum status find_row(struct bringing *one, const char *id, bool *out, struct fault *why)
{
	sqlite3_reset(one->find);
	bind_text(one->find, 1, id);
	enum status status = sql_step(one->merging->store, one->find, why);
	*out = status == STATUS_OK;
	sql_done(one->find);
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status bring_row(struct bringing *one, sqlite3_stmt *row, struct fault *why)
{
	struct merging *merging = one->merging;
	char id[ID_SIZE];
	char made[ID_SIZE];
	bool is_coming_too = false;
	bool is_here = false;
	column_copy(row, 0, id, sizeof id);
	column_copy(row, 1, made, sizeof made);
	enum status status = is_coming(merging, made, &is_coming_too, why);
	if (status != STATUS_OK || !is_coming_too)
		return status;
	if (merging->came_back || merging->holds)
		status = find_row(one, id, &is_here, why);
	if (status != STATUS_OK || is_here)
		return status;
	sqlite3_reset(one->insert);
	status = put_row(merging, one->insert, row, one->column_count, why);
	count_row(one, row);
	bool stands = sqlite3_column_int(row, 2) == 0;
	return status == STATUS_OK && stands ? words_add(merging->store, one->table->name, id, why)
					     : status;
}

static enum status bring_table(
	struct merging *merging, const struct table_row_kind *table, struct fault *why)
{
	char sql[1280];
	sqlite3_stmt *rows = NULL;
	struct bringing one = {.merging = merging, .table = table};
	enum status status = prepare_table(&one, why);
	(void)snprintf(sql, sizeof sql, "SELECT %s FROM %s ORDER BY row", one.columns, table->name);
	if (status == STATUS_OK)
		status = sql_prepare(merging->other, sql, &rows, why);
	while (status == STATUS_OK && (status = sql_step(merging->other, rows, why)) == STATUS_OK)
		status = bring_row(&one, rows, why);
	sqlite3_finalize(rows);
	sqlite3_finalize(one.insert);
	sqlite3_finalize(one.find);
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status last_rows(struct merging *merging, struct fault *why)
{
	char sql[96];
	enum status status = sql_one_integer(merging->store,
		"SELECT coalesce(max(row), 0) FROM change", &merging->changes_before, why);
	const struct table_row_kind *tables = store_tables();
	for (int32_t i = 0; tables[i].name != NULL && status == STATUS_OK; i++) {
		(void)snprintf(
			sql, sizeof sql, "SELECT coalesce(max(rowid), 0) FROM %s", tables[i].name);
		status = sql_one_integer(merging->store, sql, &merging->rows_before[i], why);
	}
	return status;
}

enum status merge_bring(struct merging *merging, struct fault *why)
{
	enum status status = last_rows(merging, why);
	if (status == STATUS_OK)
		status = store_was_merged(merging->store, &merging->was_merged, why);
	if (status == STATUS_OK)
		status = store_was_merged(merging->other, &merging->other_was_merged, why);
	if (status == STATUS_OK)
		status = bring_each(merging,
			"SELECT id, typed_at, what, kind, undoes, device FROM change_set ORDER BY "
			"row",
			bring_set, why);
	if (status != STATUS_OK || merging->account->acts == 0)
		return status;
	if (merging->other_has_declined)
		status = merge_hold(merging, why);
	for (const struct table_row_kind *table = store_tables();
		table->name != NULL && status == STATUS_OK; table++) {
		/* there is one place; and clashes are worked out anew */
		if (table->in_history && strcmp(table->name, "clash") != 0 &&
			strcmp(table->name, "place") != 0)
			status = bring_table(merging, table, why);
	}
	if (status != STATUS_OK)
		return status;
	return bring_each(merging,
		"SELECT id, set_id, table_name, row_id, field, old, new, prev FROM change "
		"ORDER BY row",
		bring_change, why);
}
