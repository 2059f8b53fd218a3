/* SPDX-License-Identifier: MIT */
/* What was seen of a tree that tells its cultivar. */
#include "rows.h"
#include "statements.h"

enum { TRAIT_ADD, TRAIT_LIST };

const struct statement trait_statements[] = {
	[TRAIT_ADD] = {"trait.add", "INSERT INTO trait (id, made, tree_id, trait, value, day, who) "
				    "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)"},
	[TRAIT_LIST] = {"trait.list", "SELECT id, tree_id, trait, value, day, who FROM trait "
				      "WHERE tree_id = ?1 AND struck = 0 ORDER BY id"},
	{NULL, NULL},
};

enum status store_trait_add(struct store *store, struct trait *trait, struct fault *why)
{
	char day[DATE_SIZE] = "";
	enum status status = row_must_stand(store, "tree", trait->tree_id, why);
	if (status != STATUS_OK)
		return status;
	if (trait->day.known)
		date_format(trait->day.value, day);
	struct row_fields fields = {.table = "trait", .insert = &trait_statements[TRAIT_ADD]};
	fields_add(&fields, "tree_id", value_text(trait->tree_id));
	fields_add(&fields, "trait", value_text(trait->name));
	fields_add(&fields, "value", value_text(trait->value));
	fields_add(&fields, "day", value_text(day));
	fields_add(&fields, "who", value_text(trait->who));
	return row_insert(store, &fields, trait->id, why);
}

static void read_trait(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	(void)arena;
	struct trait *trait = out;
	column_copy(statement, 0, trait->id, sizeof trait->id);
	column_copy(statement, 1, trait->tree_id, sizeof trait->tree_id);
	column_copy(statement, 2, trait->name, sizeof trait->name);
	column_copy(statement, 3, trait->value, sizeof trait->value);
	trait->day = column_maybe_date(statement, 4);
	column_copy(statement, 5, trait->who, sizeof trait->who);
}

static const struct row_reader trait_reader = {read_trait, sizeof(struct trait)};

enum status store_trait_list(struct store *store, const char *tree_id, struct arena *arena,
	struct trait **out, int32_t *count, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	void *items = NULL;
	enum status status = sql_get(store, &trait_statements[TRAIT_LIST], &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_text(statement, 1, tree_id);
	status = rows_list(store, statement, &trait_reader, arena, &items, count, why);
	if (status == STATUS_OK)
		*out = items;
	return status;
}
