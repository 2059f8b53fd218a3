/* SPDX-License-Identifier: MIT */
/* Is the log sound? Each check adds its lines; a check that cannot be run (a page does not read)
 * is a line of its own and does not keep the others from running. */
#include "verify.h"

#include "schema.h"
#include "tables.h"

#include "store/clash.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

enum { EXAMPLES_MAX = 20 };

/* A query whose every row is one thing found: its columns fill the format's %s, in order. */
struct check {
	bool is_fault;
	const char *sql;
	const char *format; /* exactly two %s */
};

/* clang-format off */
static const struct check checks[] = {
	{true, "SELECT \"table\", parent FROM pragma_foreign_key_check",
		"a row of %s refers to a %s that is not there"},
	{true, "SELECT c.id, c.table_name FROM change c JOIN change p ON p.id = c.prev "
		"WHERE p.row >= c.row OR p.row_id <> c.row_id OR p.field <> c.field OR p.table_name <> c.table_name",
		"history: change %s of table %s replaces one that is not before it on the same field"},
	{true, "SELECT c.id, c.table_name FROM change c JOIN change p ON p.id = c.prev WHERE p.new IS NOT c.old",
		"history: change %s of table %s starts from another value than the one before it left"},
	{false, "SELECT min(label), count(*) FROM tree WHERE struck = 0 AND is_gone = 0 "
		"GROUP BY label_folded HAVING count(*) > 1",
		"label %s is on %s standing trees: rename all but one"},
	{true, "SELECT a.field, a.typed FROM amount a WHERE a.high < a.low OR abs(coalesce(a.low, 0)) > 1000000000000000 "
		"OR abs(coalesce(a.high, 0)) > 1000000000000000 OR (a.low IS NULL AND a.high IS NOT NULL)",
		"amount: %s \"%s\" has bounds that cannot be"},
	{true, "SELECT a.field, a.base_unit FROM amount a WHERE a.base_unit NOT IN "
		"('mg', 'um', 'ul', 'permille', 's', 'day', 'decic', 'ulh', 'mms', 'mm2', 'mpct', 'code', 'thousandth')",
		"amount: %s is counted in %s, which is no unit of the log"},
	{true, "SELECT e.id, e.subject_kind FROM entry e WHERE e.struck = 0 AND CASE e.subject_kind "
		"WHEN 'tree' THEN NOT EXISTS (SELECT 1 FROM tree t WHERE t.id = e.subject_id) "
		"WHEN 'spot' THEN NOT EXISTS (SELECT 1 FROM spot s WHERE s.id = e.subject_id) "
		"WHEN 'area' THEN NOT EXISTS (SELECT 1 FROM area a WHERE a.id = e.subject_id) "
		"ELSE e.subject_id <> '' END",
		"entry %s is about a %s that is not there"},
	{true, "SELECT 'the place', count(*) FROM place HAVING count(*) <> 1", "%s: %s rows, expected one"},
	{true, "SELECT a.subject_kind, a.subject_id FROM season_turn a JOIN season_turn b "
		"ON a.subject_id = b.subject_id AND a.subject_kind = b.subject_kind AND a.row < b.row "
		"AND coalesce(a.valid_from, '') < coalesce(b.valid_to, '9999-99') "
		"AND coalesce(b.valid_from, '') < coalesce(a.valid_to, '9999-99')",
		"season turns of %s %s overlap"},
	{true, "SELECT t.subject_kind, t.subject_id FROM season_turn t WHERE "
		"NOT EXISTS (SELECT 1 FROM tree x WHERE x.id = t.subject_id) "
		"AND NOT EXISTS (SELECT 1 FROM spot x WHERE x.id = t.subject_id)",
		"season turn of a %s that is not there (%s)"},
};

/* The same for each table in history; the table's name stands for T. */
static const struct check row_checks[] = {
	{true, "SELECT 'T', r.id FROM T r WHERE r.struck = 1 AND coalesce((SELECT c.new FROM change c "
		"WHERE c.row_id = r.id AND c.field = 'struck' AND c.table_name = 'T' ORDER BY c.row DESC LIMIT 1), '0') <> '1'",
		"%s %s is struck, but the history does not say so"},
	{true, "SELECT 'T', r.id FROM T r JOIN change_set s ON s.id = r.made WHERE s.kind IN ('undo', 'redo')",
		"%s %s was made by an undo, which makes nothing"},
	{true, "SELECT c.id, 'T' FROM change c WHERE c.table_name = 'T' "
		"AND NOT EXISTS (SELECT 1 FROM T r WHERE r.id = c.row_id)",
		"history: change %s is about a row of %s that is not there"},
};
/* clang-format on */

static void say_unread(struct lines *lines, const struct fault *why)
{
	lines_add(lines, true, "a check could not be made: %s", why->text);
}

static const char *text_at(sqlite3_stmt *statement, int column)
{
	const unsigned char *text = sqlite3_column_text(statement, column);
	return text == NULL ? "" : (const char *)text;
}

/* The two texts into a format with two %s, without handing a variable format to printf. */
static void add_filled(
	struct lines *lines, const struct check *check, const char *one, const char *other)
{
	const char *first = strstr(check->format, "%s");
	const char *second = first == NULL ? NULL : strstr(first + 2, "%s");
	assert(second != NULL);
	lines_add(lines, check->is_fault, "%.*s%.120s%.*s%.120s%s", (int)(first - check->format),
		check->format, one, (int)(second - first - 2), first + 2, other, second + 2);
}

static void run_check(
	struct store *store, const struct check *check, const char *sql, struct lines *lines)
{
	struct fault why = {0};
	sqlite3_stmt *statement = NULL;
	int32_t found = 0;
	enum status status = sql_prepare(store, sql, &statement, &why);
	while (status == STATUS_OK) {
		status = sql_step(store, statement, &why);
		if (status == STATUS_OK && found++ < EXAMPLES_MAX)
			add_filled(lines, check, text_at(statement, 0), text_at(statement, 1));
	}
	sqlite3_finalize(statement);
	if (status != STATUS_END)
		say_unread(lines, &why);
	if (found > EXAMPLES_MAX)
		lines_add(lines, check->is_fault, "... and %d more like that",
			(int)(found - EXAMPLES_MAX));
}

/* Puts the table's name for every T that stands alone or in quotes. */
static void name_table(const char *sql, const char *table, char *out, size_t size)
{
	size_t length = 0;
	for (const char *c = sql; *c != '\0' && length + 40 < size; c++) {
		bool starts = c == sql || c[-1] == ' ' || c[-1] == '\'';
		bool ends = c[1] == ' ' || c[1] == '\'' || c[1] == '\0';
		if (*c == 'T' && starts && ends)
			length += (size_t)snprintf(out + length, size - length, "%s", table);
		else
			out[length++] = *c;
	}
	out[length] = '\0';
}

static void check_rows(struct store *store, struct lines *lines)
{
	char sql[1024];
	for (const struct table_row_kind *table = store_tables(); table->name != NULL; table++) {
		for (size_t i = 0;
			i < sizeof row_checks / sizeof row_checks[0] && table->in_history; i++) {
			name_table(row_checks[i].sql, table->name, sql, sizeof sql);
			run_check(store, &row_checks[i], sql, lines);
		}
	}
}

static void check_structure(struct store *store, struct lines *lines)
{
	struct fault why = {0};
	sqlite3_stmt *statement = NULL;
	enum status status = sql_prepare(store, "PRAGMA integrity_check(50)", &statement, &why);
	while (status == STATUS_OK) {
		status = sql_step(store, statement, &why);
		if (status == STATUS_OK && strcmp(text_at(statement, 0), "ok") != 0)
			lines_add(lines, true, "structure: %.400s", text_at(statement, 0));
	}
	sqlite3_finalize(statement);
	if (status != STATUS_END)
		say_unread(lines, &why);
}

/* A field stands as its newest change left it, but for one that two copies changed both and that
 * nobody has settled. */
static void check_field_value(
	struct store *store, const char *table, const char *field, struct lines *lines)
{
	static const struct check check = {true, "", "%s %s: a field is not as its history says"};
	char sql[1024];
	const struct table_row_kind *kind = store_table_named(table);
	if (kind == NULL || !kind->in_history ||
		strspn(field, "abcdefghijklmnopqrstuvwxyz0123456789_") != strlen(field)) {
		lines_add(lines, true, "history: field %.40s of %.40s is not one of the log", field,
			table);
		return;
	}
	snprintf(sql, sizeof sql,
		"SELECT '%s.%s', r.id FROM %s r JOIN change c ON c.row_id = r.id AND c.field = "
		"'%s' "
		"AND c.table_name = '%s' AND c.row = (SELECT max(d.row) FROM change d "
		"WHERE d.row_id = r.id AND d.field = '%s' AND d.table_name = '%s') "
		"WHERE CAST(r.%s AS TEXT) IS NOT c.new AND NOT EXISTS (SELECT 1 FROM clash x "
		"WHERE x.row_id = r.id AND x.field = '%s' AND x.settled IS NULL)",
		table, field, table, field, table, field, table, field, field);
	run_check(store, &check, sql, lines);
}

static void check_field_values(struct store *store, struct lines *lines)
{
	struct fault why = {0};
	sqlite3_stmt *fields = NULL;
	enum status status = sql_prepare(store,
		"SELECT DISTINCT table_name, field FROM change ORDER BY table_name, field LIMIT "
		"1000",
		&fields, &why);
	while (status == STATUS_OK) {
		status = sql_step(store, fields, &why);
		if (status == STATUS_OK)
			check_field_value(store, text_at(fields, 0), text_at(fields, 1), lines);
	}
	sqlite3_finalize(fields);
	if (status != STATUS_END)
		say_unread(lines, &why);
}

/* The search holds the words of every row that stands, and nothing else. */
static void check_words(struct store *store, struct lines *lines)
{
	static const struct check missing = {
		true, "", "search: the words of %s %s are missing or old (they can be built anew)"};
	char sql[1024];
	struct fault why = {0};
	int64_t expected = 0;
	int64_t found = 0;
	for (const struct table_row_kind *table = store_tables(); table->name != NULL; table++) {
		int64_t rows = 0;
		if (table->number == 0)
			continue;
		snprintf(sql, sizeof sql,
			"SELECT '%s', r.id FROM %s r LEFT JOIN word_index w ON w.rowid = r.row * "
			"32 + %d "
			"WHERE r.struck = 0 AND w.body IS NOT (%s)",
			table->name, table->name, (int)table->number, table->words);
		run_check(store, &missing, sql, lines);
		snprintf(sql, sizeof sql, "SELECT count(*) FROM %s WHERE struck = 0", table->name);
		if (sql_one_integer(store, sql, &rows, &why) != STATUS_OK)
			say_unread(lines, &why);
		expected += rows;
	}
	if (sql_one_integer(store, "SELECT count(*) FROM word_index", &found, &why) != STATUS_OK)
		say_unread(lines, &why);
	else if (found > expected)
		lines_add(lines, true, "search: %lld rows of words belong to nothing that stands",
			(long long)(found - expected));
}

/* FTS5 checks its own inside by a command that looks like an insert; nothing is written. */
static void check_word_index(struct store *store, struct lines *lines)
{
	struct fault why = {0};
	if (store->read_only)
		return;
	if (sql_exec(store, "INSERT INTO word_index (word_index) VALUES ('integrity-check')",
		    &why) != STATUS_OK)
		lines_add(lines, true, "search: the index of words is damaged (%s)", why.text);
}

static const char *const ours_or_not =
	"SELECT type, name FROM sqlite_schema WHERE type IN ('trigger', 'view', 'table') "
	"AND name NOT LIKE 'sqlite_%' AND name NOT LIKE 'word_index%' ORDER BY type, name";

static void check_strangers(struct store *store, struct lines *lines)
{
	struct fault why = {0};
	struct store fresh = {0};
	sqlite3_stmt *found = NULL;
	sqlite3_stmt *known = NULL;
	enum status status = schema_fresh(&fresh, SCHEMA_VERSION, &why);
	if (status == STATUS_OK)
		status = sql_prepare(&fresh,
			"SELECT 1 FROM sqlite_schema WHERE type = ?1 AND name = ?2", &known, &why);
	if (status == STATUS_OK)
		status = sql_prepare(store, ours_or_not, &found, &why);
	while (status == STATUS_OK) {
		status = sql_step(store, found, &why);
		if (status != STATUS_OK)
			break;
		bind_text(known, 1, text_at(found, 0));
		bind_text(known, 2, text_at(found, 1));
		if (sql_step(&fresh, known, &why) == STATUS_END)
			lines_add(lines, false,
				"%.20s %.100s is not of this program; it is never run or read here",
				text_at(found, 0), text_at(found, 1));
		sqlite3_reset(known);
	}
	sqlite3_finalize(found);
	sqlite3_finalize(known);
	sqlite3_close(fresh.database);
	if (status != STATUS_END)
		say_unread(lines, &why);
}

/* No damage: the grower has yet to pick. */
static void say_clashes(struct store *store, struct lines *lines)
{
	struct fault why = {0};
	int32_t count = 0;
	if (store_clash_count(store, &count, &why) != STATUS_OK)
		say_unread(lines, &why);
	else if (count > 0)
		lines_add(lines, false,
			"%d thing%s changed in two copies of the log and not settled "
			"(boughbook merge --clashes lists %s)",
			(int)count, count == 1 ? " was" : "s were", count == 1 ? "it" : "them");
}

static void say_counts(struct store *store, struct lines *lines)
{
	static const char *const tables[] = {"tree", "entry", "change_set"};
	static const char *const names[] = {"trees", "entries", "acts"};
	char sql[96];
	char text[128] = "";
	for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++) {
		int64_t count = 0;
		size_t length = strlen(text);
		snprintf(sql, sizeof sql, "SELECT count(*) FROM %s", tables[i]);
		if (sql_one_integer(store, sql, &count, NULL) == STATUS_OK)
			snprintf(text + length, sizeof text - length, "%s%lld %s",
				length == 0 ? "" : ", ", (long long)count, names[i]);
	}
	int32_t faults = 0;
	for (int32_t i = 0; i < lines->count; i++)
		faults += lines->items[i].is_fault;
	if (faults == 0)
		lines_add(lines, false, "%s: sound", text);
	else
		lines_add(lines, false, "%s: %d fault%s found", text, (int)faults,
			faults == 1 ? "" : "s");
}

enum status store_verify(struct store *store, struct arena *arena, struct verify_line **out,
	int32_t *count, struct fault *why)
{
	struct lines lines = {.arena = arena};
	assert(!store->in_act);
	sql_done_all(store);
	/* one moment for all checks, whoever else is writing */
	enum status status = sql_exec(store, "BEGIN", why);
	if (status != STATUS_OK)
		return status;
	check_structure(store, &lines);
	for (size_t i = 0; i < sizeof checks / sizeof checks[0]; i++)
		run_check(store, &checks[i], checks[i].sql, &lines);
	check_rows(store, &lines);
	check_field_values(store, &lines);
	verify_days(store, &lines);
	verify_descent(store, &lines);
	check_words(store, &lines);
	say_clashes(store, &lines);
	check_strangers(store, &lines);
	if (sqlite3_get_autocommit(store->database) == 0)
		status = sql_exec(store, "ROLLBACK", why);
	check_word_index(store, &lines);
	say_counts(store, &lines);
	*out = lines.items;
	*count = lines.count;
	return status;
}
