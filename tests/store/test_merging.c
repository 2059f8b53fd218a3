/* SPDX-License-Identifier: MIT */
/* What a merge knows of the tables, against the schema. */
#include "support/test.h"

#include "support/log.h"

#include "store/merging.h"
#include "store/rows.h"

#include <string.h>

/* What the schema refers to is in the list that a merge goes by, but for acts and changes. */
static void every_reference_of_the_schema_is_known(void **state)
{
	(void)state;
	struct log yard;
	struct fault why = {0};
	sqlite3_stmt *keys = NULL;
	int found = 0;
	log_make(&yard);
	check_ok(sql_prepare(yard.store,
			 "SELECT m.name, k.\"from\", k.\"table\" FROM sqlite_schema m JOIN "
			 "pragma_foreign_key_list(m.name) k WHERE m.type = 'table' AND k.\"table\" "
			 "NOT IN ('change_set', 'change')",
			 &keys, &why),
		&why);
	while (sqlite3_step(keys) == SQLITE_ROW) {
		bool is_known = false;
		for (const struct reference *r = merge_references(); r->table != NULL; r++)
			is_known =
				is_known || (strcmp(r->table, column_word(keys, 0)) == 0 &&
						    strcmp(r->column, column_word(keys, 1)) == 0 &&
						    r->parent != NULL &&
						    strcmp(r->parent, column_word(keys, 2)) == 0);
		check_int(is_known, true, column_word(keys, 1));
		found++;
	}
	sqlite3_finalize(keys);
	assert_true(found > 12);
	log_free(&yard);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_reference_of_the_schema_is_known),
	};
	return cmocka_run_group_tests_name("merging", tests, NULL, NULL);
}
