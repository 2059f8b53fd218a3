/* SPDX-License-Identifier: MIT */
#include "support/test.h"

#include "support/any_rows.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "store/shapes.h"

enum { LONG_TEXT = 30000 };

/* What the schema says of a column, read from the words of its CHECKs. */
struct rule {
	bool has_low, has_high;
	int64_t low, high;
	size_t least, most; /* characters */
	const char *words;  /* "'a', 'b'" : one of them; NULL: any */
	bool is_month_day;
};

struct filling_up {
	struct log *yard;
	struct dice *dice;
	struct arena *arena;
	const char *sql; /* of the table */
	const struct table_shape *shape;
};

/* --- texts --- */

static const char *const pieces[] = {"", "\"", "\"\"", "'", "''", ",", ";", "\n", "\r", "\r\n",
	"\t", " ", "  ", "=", "+", "-", "@", "=1+1", "=HYPERLINK(\"x\")", "-5", "+1.5", "'=x", "\\",
	"\\n", "\\u0000", "{", "}", "[", "]", "null", "NULL", "x'", "x'00'", "x'zz", "%s", "%n",
	"--", "/*", "\x01", "\x1b[31m", "\x7f", "\xc2\x85", "\xef\xbb\xbf", "\xef\xbf\xbd",
	"e\xcc\x81", "\xcc\x81\xcc\x81\xcc\x81", "\xd7\xa9\xd7\x9c\xd7\x95\xd7\x9d",
	"\xe2\x80\xae"
	"abc\xe2\x80\xac",
	"\xe2\x80\x8b", "\xe2\x80\xa8", "\xf0\x9f\x8c\xb3",
	"\xf0\x9f\x91\xa9\xe2\x80\x8d\xf0\x9f\x8c\xbe", "N\xc3\xadspero",
	"\xe6\x9e\x87\xe6\x9d\xb7", "A3", "6 lb 4 oz", "2026-05-20", "0", "1e9", "\xff", "\xc3",
	"\xed\xa0\x80", "\xc0\x80"};
enum { PIECES = sizeof pieces / sizeof pieces[0] };

static bool is_start(char byte)
{
	return ((unsigned char)byte & 0xC0) != 0x80;
}

/* Characters as SQLite's length counts them. */
static size_t count_characters(const char *text)
{
	size_t count = 0;

	for (; *text != '\0'; text++)
		count += is_start(*text);
	return count;
}

const char *any_rows_text(struct dice *dice, size_t characters, struct arena *arena)
{
	struct text_builder out = text_builder_in(arena);
	int64_t roll = dice_between(dice, 0, 99);
	int64_t wanted = roll < 15 ? 0 : roll < 97 ? dice_between(dice, 1, 6) : 3000;
	size_t count = 0;

	text_add(&out, "");
	for (int64_t i = 0; i < wanted && out.length < LONG_TEXT; i++) {
		const char *piece = pieces[dice_between(dice, 0, PIECES - 1)];

		count += count_characters(piece);
		if (count > characters)
			break;
		text_add(&out, piece);
	}
	return out.text;
}

/* --- what the schema allows --- */

/* The place in the table's SQL after "(COLUMN WORD", where a CHECK says WORD of the column. */
static const char *find_check(
	const struct filling_up *filling, const char *column, const char *word)
{
	const char *found =
		strstr(filling->sql, arena_format(filling->arena, "(%s %s", column, word));

	return found == NULL ? NULL : found + strlen(column) + strlen(word) + 2;
}

static void read_range(const struct filling_up *filling, const char *column, struct rule *rule)
{
	char *end;
	const char *at = find_check(filling, column, "BETWEEN ");

	if (at != NULL) {
		rule->low = strtoll(at, &end, 10);
		rule->high = strtoll(end + strlen(" AND "), NULL, 10);
		rule->has_low = rule->has_high = true;
	}
	if ((at = find_check(filling, column, ">= ")) != NULL) {
		rule->has_low = true;
		rule->low = strtoll(at, NULL, 10);
	}
	if ((at = find_check(filling, column, "> ")) != NULL) {
		rule->has_low = true;
		rule->low = strtoll(at, NULL, 10) + 1;
	}
	if ((at = find_check(filling, column, "= ")) != NULL) {
		rule->has_low = rule->has_high = true;
		rule->low = rule->high = strtoll(at, NULL, 10);
	}
}

static struct rule read_rule(const struct filling_up *filling, const char *column)
{
	struct rule rule = {.most = LONG_TEXT};
	const char *length = arena_format(filling->arena, "length(%s)", column);
	const char *at = find_check(filling, column, "IN");
	char *end;

	read_range(filling, column, &rule);
	if (at != NULL)
		rule.words = at + strspn(at, " (\n\t");
	rule.is_month_day = find_check(filling, column, "GLOB '[0-1]") != NULL;
	if ((at = find_check(filling, length, "<= ")) != NULL)
		rule.most = strtoul(at, NULL, 10);
	if ((at = find_check(filling, length, "BETWEEN ")) != NULL) {
		rule.least = strtoul(at, &end, 10);
		rule.most = strtoul(end + strlen(" AND "), NULL, 10);
	}
	if ((at = find_check(filling, length, "= ")) != NULL)
		rule.least = rule.most = strtoul(at, NULL, 10);
	return rule;
}

/* One of "'a', 'b')" or "0, 1)". */
static const char *pick_word(const struct filling_up *filling, const char *words)
{
	size_t end = strcspn(words, ")");
	int64_t count = 1;

	for (size_t i = 0; i < end; i++)
		count += words[i] == ',';
	for (int64_t skip = dice_between(filling->dice, 0, count - 1); skip > 0; skip--)
		words = strchr(words, ',') + 1;
	words += strspn(words, " '\n\t");
	return arena_text_n(filling->arena, words, strcspn(words, "',)"));
}

/* --- values --- */

static void bind_integer(
	const struct filling_up *filling, sqlite3_stmt *insert, int place, const struct rule *rule)
{
	static const int64_t odd[] = {0, 1, -1, 42, 1000000000000000, -1000000000000000, INT64_MAX,
		INT64_MIN, INT32_MAX, INT32_MIN};
	int64_t low = rule->has_low ? rule->low : INT64_MIN;
	int64_t high = rule->has_high ? rule->high : INT64_MAX;
	int64_t value = odd[dice_between(filling->dice, 0, 9)];

	if (rule->words != NULL)
		value = strtoll(pick_word(filling, rule->words), NULL, 10);
	else if (value < low || value > high)
		value = dice_between(filling->dice, 0, 1) == 0 || !rule->has_high ? low : high;
	assert_int_equal(sqlite3_bind_int64(insert, place, value), SQLITE_OK);
}

static void bind_any_text(
	const struct filling_up *filling, sqlite3_stmt *insert, int place, const struct rule *rule)
{
	char id[ID_SIZE];
	const char *text = any_rows_text(filling->dice, rule->most, filling->arena);

	if (rule->words != NULL)
		text = pick_word(filling, rule->words);
	else if (rule->is_month_day)
		text = "02-29";
	else if (rule->least == ID_SIZE - 1)
		text = arena_text(filling->arena, clock_new_id(&filling->yard->clock, id));
	else if (count_characters(text) < rule->least)
		text = "x";
	assert_int_equal(sqlite3_bind_text(insert, place, text, -1, SQLITE_TRANSIENT), SQLITE_OK);
	bool is_free = rule->words == NULL && !rule->is_month_day && rule->most == LONG_TEXT;
	if (!is_free || dice_between(filling->dice, 0, 19) > 0)
		return;
	/* a NUL inside: SQLite takes it from another hand */
	assert_int_equal(sqlite3_bind_text(insert, place, "a\0=b", 4, SQLITE_STATIC), SQLITE_OK);
}

/* An id of some row of the table that the column refers to; false: it refers to none, or none is
 * there. */
static bool bind_reference(
	const struct filling_up *filling, sqlite3_stmt *insert, int place, const char *column)
{
	sqlite3_stmt *found = NULL;
	struct store *store = filling->yard->store;
	struct fault why = {0};
	bool is_one = false;

	check_ok(sql_prepare(store,
			 "SELECT \"table\" FROM pragma_foreign_key_list(?1) WHERE \"from\" = ?2",
			 &found, &why),
		&why);
	bind_text(found, 1, filling->shape->name);
	bind_text(found, 2, column);
	if (sql_step(store, found, &why) == STATUS_OK) {
		const char *table = column_arena(found, 0, filling->arena);

		sqlite3_finalize(found);
		found = NULL;
		check_ok(sql_prepare(store,
				 arena_format(filling->arena,
					 "SELECT id FROM %s ORDER BY rowid LIMIT 1 OFFSET "
					 "abs(?1) %% max(1, (SELECT count(*) FROM %s))",
					 table, table),
				 &found, &why),
			&why);
		bind_i64(found, 1, (int64_t)(dice_roll(filling->dice) >> 2));
		if (sql_step(store, found, &why) == STATUS_OK) {
			bind_text(insert, place, column_arena(found, 0, filling->arena));
			is_one = true;
		}
	}
	sqlite3_finalize(found);
	return is_one;
}

static bool is_reference(const char *name)
{
	return strcmp(name, "made") == 0 || strcmp(name, "prev") == 0 || strcmp(name, "one") == 0 ||
	       strcmp(name, "other") == 0 || strcmp(name, "undoes") == 0 ||
	       (strlen(name) > 3 && strcmp(name + strlen(name) - 3, "_id") == 0);
}

/* Rows of history and entries name others without a foreign key. */
static const char *loose_table(const struct filling_up *filling, const char *column)
{
	if (strcmp(column, "row_id") == 0)
		return dice_between(filling->dice, 0, 1) == 0 ? "tree" : "entry";
	return strcmp(column, "subject_id") == 0 ? "tree" : NULL;
}

static void bind_loose(
	const struct filling_up *filling, sqlite3_stmt *insert, int place, const char *table)
{
	sqlite3_stmt *found = NULL;
	struct fault why = {0};
	struct store *store = filling->yard->store;

	check_ok(sql_prepare(store,
			 arena_format(filling->arena,
				 "SELECT id FROM %s ORDER BY rowid DESC LIMIT 1", table),
			 &found, &why),
		&why);
	bind_text(insert, place,
		sql_step(store, found, &why) == STATUS_OK ? column_arena(found, 0, filling->arena)
							  : "");
	sqlite3_finalize(found);
}

static void bind_column(const struct filling_up *filling, sqlite3_stmt *insert, int place,
	const struct table_column *column)
{
	struct rule rule = read_rule(filling, column->name);
	const char *loose = loose_table(filling, column->name);

	if (column->may_be_null && dice_between(filling->dice, 0, 2) == 0)
		return;
	if (loose != NULL)
		bind_loose(filling, insert, place, loose);
	else if (is_reference(column->name) &&
		 (bind_reference(filling, insert, place, column->name) || column->may_be_null))
		return;
	else if (column->is_integer)
		bind_integer(filling, insert, place, &rule);
	else
		bind_any_text(filling, insert, place, &rule);
}

static void add_row(struct filling_up *filling)
{
	const struct table_shape *shape = filling->shape;
	struct text_builder sql = text_builder_in(filling->arena);
	sqlite3_stmt *insert = NULL;
	struct fault why = {0};

	text_add_format(&sql, "INSERT INTO %s (%s) VALUES (?", shape->name,
		shape_columns(shape, filling->arena));
	for (int32_t i = 1; i < shape->count; i++)
		text_add(&sql, ", ?");
	text_add(&sql, ")");
	check_ok(sql_prepare(filling->yard->store, sql.text, &insert, &why), &why);
	for (int32_t i = 0; i < shape->count; i++)
		bind_column(filling, insert, i + 1, &shape->columns[i]);
	enum status status = sql_run(filling->yard->store, insert, &why);
	/* a key that was there, bounds the wrong way round, an owner that there is none of yet */
	bool is_told = strcmp(shape->name, "meta") == 0 || strcmp(shape->name, "measure") == 0 ||
		       strstr(why.text, "FOREIGN KEY") != NULL;
	if (status != STATUS_OK && !is_told)
		check_ok(status, &why);
	sqlite3_finalize(insert);
}

static const char *table_sql(struct log *yard, const char *table, struct arena *arena)
{
	sqlite3_stmt *found = NULL;
	struct fault why = {0};

	check_ok(sql_prepare(yard->store, "SELECT sql FROM sqlite_schema WHERE name = ?1", &found,
			 &why),
		&why);
	bind_text(found, 1, table);
	check_ok(sql_step(yard->store, found, &why), &why);
	const char *sql = column_arena(found, 0, arena);
	sqlite3_finalize(found);
	return sql;
}

void any_rows_fill(struct log *yard, struct dice *dice, int32_t most)
{
	struct filling_up filling = {.yard = yard, .dice = dice, .arena = arena_new()};
	struct table_shape *shapes = NULL;
	struct fault why = {0};
	int32_t count;

	log_exec(yard, "BEGIN");
	check_ok(shapes_read(yard->store, filling.arena, &shapes, &count, &why), &why);
	for (int32_t round = 0; round < 2; round++) /* the second finds rows to refer to */
		for (int32_t i = 0; i < count; i++) {
			bool is_place = strcmp(shapes[i].name, "place") == 0;
			int64_t rows = dice_between(dice, 0, most);

			filling.shape = &shapes[i];
			filling.sql = table_sql(yard, shapes[i].name, filling.arena);
			if (is_place)
				log_exec(yard, "DELETE FROM place");
			for (int64_t row = 0; row < (is_place ? 1 : rows); row++)
				add_row(&filling);
		}
	log_exec(yard, "COMMIT");
	arena_free(filling.arena);
}
