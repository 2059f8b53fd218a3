/* SPDX-License-Identifier: MIT */
/* The limits that core/limits.h states are those that the schema checks. */
#include "support/test.h"

#include "store/schema_text.h"
#include "store/sql.h"

#include <string.h>

static const struct limit_case {
	const char *name;
	const char *table;
	const char *column;
	int stated; /* characters; of a figure in bytes without its NUL */
} limit_cases[] = {
	{"label_of_a_tree", "tree", "label", LABEL_CHARACTERS_MAX},
	{"name_of_a_spot", "spot", "name", LABEL_CHARACTERS_MAX},
	{"name_of_an_area", "area", "name", LABEL_CHARACTERS_MAX},
	{"name_of_an_obstacle", "obstacle", "name", LABEL_CHARACTERS_MAX},
	{"name_of_the_place", "place", "name", NAME_SIZE - 1},
	{"name_of_a_product", "product", "name", NAME_SIZE - 1},
	{"name_of_a_container", "container", "name", NAME_SIZE - 1},
	{"name_of_a_layout", "layout", "name", NAME_SIZE - 1},
	{"name_of_a_kind", "identity", "name", NAME_SIZE - 1},
	{"reason_of_an_opinion", "identity", "reason", TEXT_SIZE - 1},
	{"hazard_of_a_tree", "tree", "hazard", TEXT_SIZE - 1},
	{"note_of_a_tree", "tree", "note", TEXT_SIZE - 1},
	{"reason_why_a_tree_went", "tree", "gone_reason", TEXT_SIZE - 1},
	{"reason_of_an_answer", "answer", "reason", TEXT_SIZE - 1},
	{"name_of_an_act", "change_set", "what", TEXT_SIZE - 1},
	{"words_with_a_meaning", "detail", "value", TEXT_SIZE - 1},
	{"line_of_an_entry", "entry", "words", LINE_SIZE - 1},
	{"note_of_an_entry", "entry", "note", WORDS_SIZE - 1},
	{"amount_as_typed", "amount", "typed", TYPED_SIZE - 1},
	{"key_of_a_flag", "answer", "flag_key", FLAG_KEY_SIZE - 1},
	{"id", "tree", "id", ID_SIZE - 1},
};

/* The column's check of its length, as the schema writes it, without the closing bracket. */
static void read_check(sqlite3 *database, const struct limit_case *test, char *out, size_t size)
{
	char sql[256];
	sqlite3_stmt *reading = NULL;
	(void)snprintf(sql, sizeof sql,
		"SELECT substr(sql, instr(sql, 'length(%s)')) FROM sqlite_schema WHERE name = '%s'",
		test->column, test->table);
	check_int(sqlite3_prepare_v2(database, sql, -1, &reading, NULL), SQLITE_OK, test->table);
	check_int(sqlite3_step(reading), SQLITE_ROW, test->table);
	const char *text = (const char *)sqlite3_column_text(reading, 0);
	(void)snprintf(out, size, "%.*s", (int)strcspn(text, "\n"), text);
	sqlite3_finalize(reading);
	char *last = strrchr(out, ')');
	if (strncmp(out, "length(", 7) != 0 || last == NULL)
		fail_msg("%s.%s has no check of its length", test->table, test->column);
	else
		*last = '\0';
}

static bool takes(sqlite3 *database, const char *column, const char *check, int length)
{
	char sql[512];
	sqlite3_stmt *trying = NULL;
	(void)snprintf(sql, sizeof sql,
		"WITH c (%s) AS (SELECT printf('%%.*c', %d, 'x')) SELECT %s FROM c", column, length,
		check);
	check_int(sqlite3_prepare_v2(database, sql, -1, &trying, NULL), SQLITE_OK, sql);
	check_int(sqlite3_step(trying), SQLITE_ROW, sql);
	const bool taken = sqlite3_column_int(trying, 0) != 0;
	sqlite3_finalize(trying);
	return taken;
}

static void limit_is_the_schemas(const void *one)
{
	const struct limit_case *test = one;
	sqlite3 *database = NULL;
	check_int(sqlite3_open(":memory:", &database), SQLITE_OK, "open");
	for (const struct schema_text *step = schema_text_table(); step->number != 0; step++)
		check_int(sqlite3_exec(database, step->bytes, NULL, NULL, NULL), SQLITE_OK,
			step->name);
	char check[128];
	read_check(database, test, check, sizeof check);
	assert_true(takes(database, test->column, check, test->stated));
	assert_false(takes(database, test->column, check, test->stated + 1));
	sqlite3_close(database);
}

int main(void)
{
	return RUN_CASES("limits", limit_cases, limit_is_the_schemas) != 0;
}
