/* SPDX-License-Identifier: MIT */
/* Every statement of the store prepares against the schema, and has a name of its own. */
#include "support/test.h"

#include "support/log.h"

#include "store/schema.h"
#include "store/statements.h"

#include <string.h>

static void every_statement_prepares(void **state)
{
	(void)state;
	struct log yard;
	log_make(&yard);
	struct fault why = {0};
	int32_t count = 0;
	const struct statement *const *tables = store_statement_tables();
	for (; *tables != NULL; tables++) {
		for (const struct statement *row = *tables; row->name != NULL; row++, count++) {
			sqlite3_stmt *prepared = NULL;
			check_ok(sql_get(yard.store, row, &prepared, &why), &why);
			assert_non_null(prepared);
		}
	}
	assert_true(count > 60 && count < STATEMENTS_MAX);
	log_free(&yard);
}

/* A hole in a designated table would end it early. */
static void every_statement_has_a_name_of_its_own(void **state)
{
	(void)state;
	const struct statement *const *tables = store_statement_tables();
	for (int32_t a = 0; tables[a] != NULL; a++) {
		for (const struct statement *row = tables[a]; row->name != NULL; row++) {
			assert_non_null(row->sql);
			int same = 0;
			for (int32_t b = 0; tables[b] != NULL; b++) {
				for (const struct statement *other = tables[b]; other->name != NULL;
					other++)
					same += strcmp(row->name, other->name) == 0;
			}
			check_int(same, 1, row->name);
		}
	}
}

/* The log's own tables must be told from others without one made to compare with. */
static void digests_of_fresh_logs_are_known(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	for (int32_t version = 1; version <= SCHEMA_VERSION; version++) {
		struct store fresh = {0};
		char found[SHA256_TEXT_SIZE];
		check_ok(schema_fresh(&fresh, version, &why), &why);
		check_ok(schema_digest(&fresh, found, &why), &why);
		sqlite3_close(fresh.database);
		if (schema_digest_expected(version) == NULL ||
			strcmp(found, schema_digest_expected(version)) != 0)
			fail_msg("src/store/schema.c: the digest of version %d is \"%s\"", version,
				found);
	}
	log_make(&yard);
	char found[SHA256_TEXT_SIZE];
	check_ok(schema_digest(yard.store, found, &why), &why);
	assert_string_equal(found, schema_digest_expected(SCHEMA_VERSION));
	log_free(&yard);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(digests_of_fresh_logs_are_known),
		cmocka_unit_test(every_statement_prepares),
		cmocka_unit_test(every_statement_has_a_name_of_its_own),
	};
	return cmocka_run_group_tests_name("statements", tests, NULL, NULL) != 0;
}
