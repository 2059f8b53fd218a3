/* SPDX-License-Identifier: MIT */
/* Reads what still reads of a damaged log, row by row, into a new one, and says what is lost. The
 * damaged file is only read. Where a table breaks off it is read from its other end, and the gap
 * between is tried number by number. */
#include "copy.h"
#include "lines.h"
#include "salvage.h"
#include "schema.h"
#include "tables.h"

#include "core/memory.h"

#include <stdio.h>
#include <string.h>

enum { COLUMNS_TEXT_SIZE = 1024, GAP_TRIES_MAX = 200000 };

struct table_salvage {
	struct store *from;
	struct store *into;
	const struct table_row_kind *table;
	char columns[COLUMNS_TEXT_SIZE]; /* that both have, "row, id, ..." */
	int32_t column_count;
	sqlite3_stmt *insert;
	int64_t read;
	int64_t refused; /* read, but no row that a log may hold */
	int64_t first;   /* the gap that did not read: numbers between, both ends out */
	int64_t last;
	bool has_gap;
};

/* Columns that both files have, in our order. */
static enum status find_columns(struct table_salvage *one, struct fault *why)
{
	sqlite3_stmt *ours = NULL;
	sqlite3_stmt *theirs = NULL;
	size_t length = 0;
	enum status status = sql_prepare(
		one->into, "SELECT name FROM pragma_table_info(?1) ORDER BY cid", &ours, why);
	if (status == STATUS_OK)
		status = sql_prepare(one->from,
			"SELECT 1 FROM pragma_table_info(?1) WHERE name = ?2", &theirs, why);
	if (status == STATUS_OK)
		bind_text(ours, 1, one->table->name);
	while (status == STATUS_OK) {
		status = sql_step(one->into, ours, why);
		if (status != STATUS_OK)
			break;
		bind_text(theirs, 1, one->table->name);
		bind_text(theirs, 2, (const char *)sqlite3_column_text(ours, 0));
		enum status has = sql_step(one->from, theirs, why);
		sqlite3_reset(theirs);
		if (has == STATUS_OK) {
			length += (size_t)snprintf(one->columns + length,
				sizeof one->columns - length, "%s%s", length == 0 ? "" : ", ",
				(const char *)sqlite3_column_text(ours, 0));
			one->column_count++;
		} else if (has != STATUS_END) {
			status = has;
		}
	}
	sqlite3_finalize(ours);
	sqlite3_finalize(theirs);
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status prepare_insert(struct table_salvage *one, struct fault *why)
{
	char sql[COLUMNS_TEXT_SIZE + 512];
	size_t length = (size_t)snprintf(sql, sizeof sql, "INSERT OR IGNORE INTO %s (%s) VALUES (",
		one->table->name, one->columns);
	for (int32_t i = 0; i < one->column_count; i++)
		length += (size_t)snprintf(sql + length, sizeof sql - length, i == 0 ? "?" : ", ?");
	snprintf(sql + length, sizeof sql - length, ")");
	return sql_prepare(one->into, sql, &one->insert, why);
}

/* A value of the damaged file goes in as what it is there; the new log's own checks decide. */
static void put_row(struct table_salvage *one, sqlite3_stmt *row)
{
	int64_t before = sqlite3_total_changes64(one->into->database);
	for (int32_t i = 0; i < one->column_count; i++)
		(void)sqlite3_bind_value(one->insert, i + 1, sqlite3_column_value(row, i + 1));
	bool is_in = sql_run(one->into, one->insert, NULL) == STATUS_OK &&
		     sqlite3_total_changes64(one->into->database) > before;
	one->read += is_in;
	one->refused += !is_in;
}

/* Reads on in one direction until the end (true) or until a page does not read (false); *at is
 * the last number that was read. */
static bool read_on(struct table_salvage *one, const char *condition, int64_t from, int64_t *at)
{
	char sql[COLUMNS_TEXT_SIZE + 256];
	sqlite3_stmt *rows = NULL;
	struct fault why = {0};
	snprintf(sql, sizeof sql, "SELECT rowid, %s FROM %s %s", one->columns, one->table->name,
		condition);
	enum status status = sql_prepare(one->from, sql, &rows, &why);
	if (status == STATUS_OK && sqlite3_bind_parameter_count(rows) > 0)
		bind_i64(rows, 1, from);
	while (status == STATUS_OK) {
		status = sql_step(one->from, rows, &why);
		if (status != STATUS_OK)
			break;
		*at = sqlite3_column_int64(rows, 0);
		put_row(one, rows);
	}
	sqlite3_finalize(rows);
	return status == STATUS_END;
}

static void read_gap(struct table_salvage *one)
{
	int64_t tried = 0;
	for (int64_t row = one->first + 1; row < one->last && tried < GAP_TRIES_MAX;
		row++, tried++) {
		int64_t at = 0;
		(void)read_on(one, "WHERE rowid = ?1", row, &at);
	}
}

static void read_table(struct table_salvage *one)
{
	one->first = 0;
	if (read_on(one, "ORDER BY rowid", 0, &one->first))
		return;
	one->has_gap = true;
	one->last = one->first;
	int64_t at = INT64_MAX;
	(void)read_on(one, "WHERE rowid > ?1 ORDER BY rowid DESC", one->first, &at);
	one->last = at;
	if (at != INT64_MAX)
		read_gap(one);
}

static void say_table(const struct table_salvage *one, int64_t tried, struct lines *lines)
{
	const char *name = one->table->name;
	if (one->read > 0 || one->has_gap || one->refused > 0)
		lines_add(lines, false, "%s: %lld rows read", name, (long long)one->read);
	if (one->refused > 0)
		lines_add(lines, true, "%s: %lld rows read, but they hold what no log may hold",
			name, (long long)one->refused);
	if (one->has_gap && one->last == INT64_MAX)
		lines_add(lines, true, "%s: everything after row %lld is lost", name,
			(long long)one->first);
	else if (one->has_gap && tried > 0)
		lines_add(lines, true, "%s: up to %lld rows between row %lld and row %lld are lost",
			name, (long long)tried, (long long)one->first, (long long)one->last);
}

static void salvage_table(
	struct salvage *salvage, const struct table_row_kind *table, struct lines *lines)
{
	struct table_salvage one = {.from = salvage->from, .into = salvage->into, .table = table};
	struct fault why = {0};
	enum status status = find_columns(&one, &why);
	if (status == STATUS_OK && one.column_count == 0)
		status = fault_set(&why, STATUS_DAMAGED, "it is not in the damaged file");
	if (status == STATUS_OK)
		status = prepare_insert(&one, &why);
	if (status != STATUS_OK) {
		lines_add(lines, true, "%s: nothing could be read: %s", table->name, why.text);
		sqlite3_finalize(one.insert);
		return;
	}
	read_table(&one);
	sqlite3_finalize(one.insert);
	int64_t inside = 0;
	if (one.has_gap && one.last != INT64_MAX) {
		char sql[160];
		snprintf(sql, sizeof sql,
			"SELECT count(*) FROM %s WHERE rowid > %lld AND rowid < %lld", table->name,
			(long long)one.first, (long long)one.last);
		if (sql_one_integer(salvage->into, sql, &inside, NULL) != STATUS_OK)
			inside = 0;
		inside = one.last - one.first - 1 - inside;
	}
	salvage->rows += one.read;
	say_table(&one, inside, lines);
}

static enum status fill_salvaged(struct store *into, void *context, struct fault *why)
{
	struct salvage *salvage = context;
	salvage->into = into;
	enum status status = logfile_write_schema(into, why);
	if (status == STATUS_OK)
		status = sql_exec(into, "PRAGMA foreign_keys = OFF; BEGIN", why);
	if (status != STATUS_OK)
		return status;
	for (const struct table_row_kind *table = store_tables(); table->name != NULL; table++) {
		if (strcmp(table->name, "kept_flag") != 0) /* only a cache */
			salvage_table(salvage, table, salvage->lines);
	}
	if (salvage->rows == 0)
		return fault_set(
			why, STATUS_DAMAGED, "nothing could be read of %s", salvage->from->path);
	status = salvage_mend(salvage, why);
	return status == STATUS_OK ? sql_exec(into, "COMMIT; PRAGMA foreign_keys = ON", why)
				   : status;
}

/* Without the header's own checks: a salvage is for files that fail them. */
static enum status open_damaged(struct store *from, const char *path, struct fault *why)
{
	from->path = path;
	enum status status = connect_open(from, CONNECT_READ, why);
	if (status == STATUS_DENIED || status == STATUS_IO)
		status = connect_open(from, CONNECT_IMMUTABLE, why);
	return status;
}

enum status store_salvage(const char *damaged, const char *fresh, struct clock *clock,
	struct arena *arena, struct verify_line **out, int32_t *count, struct fault *why)
{
	struct lines lines = {.arena = arena};
	struct store *from = block_new(sizeof *from);
	struct salvage salvage = {.from = from, .lines = &lines};
	const struct filling filling = {.fill = fill_salvaged, .context = &salvage};
	char path[LOG_PATH_SIZE];
	snprintf(path, sizeof path, "%s%.4000s", damaged[0] == '/' ? "" : "./", damaged);
	*count = 0;
	enum status status = open_damaged(from, path, why);
	if (status == STATUS_OK)
		status = logfile_make(fresh, clock, &filling, why);
	connect_close(from);
	block_free(from);
	*out = lines.items;
	*count = lines.count;
	return status;
}
