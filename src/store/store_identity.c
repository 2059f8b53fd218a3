/* SPDX-License-Identifier: MIT */
/* What a tree is thought to be, opinion by opinion. */
#include "identity_row.h"
#include "statements.h"

#include <string.h>

enum { IDENTITY_ADD, IDENTITY_OF_TREE, IDENTITY_ALL };

#define IDENTITY_FIELDS \
	"tree_id, opinion, what, name, sure, who, day, day_low, day_high, reason, sense"

const struct statement identity_statements[] = {
	[IDENTITY_ADD] = {"identity.add",
		"INSERT INTO identity (id, made, " IDENTITY_FIELDS ") "
		"VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13)"},
	[IDENTITY_OF_TREE] = {"identity.of_tree",
		"SELECT " IDENTITY_COLUMNS " FROM identity i WHERE i.tree_id = ?1 AND i.struck = 0 "
		"ORDER BY i.id"},
	[IDENTITY_ALL] = {"identity.all", "SELECT " IDENTITY_COLUMNS " FROM identity i "
					  "JOIN tree t ON t.id = i.tree_id AND t.struck = 0 "
					  "WHERE i.struck = 0 ORDER BY i.tree_id, i.id"},
	{NULL, NULL},
};

static const char *const what_words[] = {"species", "cultivar"};
static const char *const sense_words[] = {"correction", "change"};

enum status store_identity_add(struct store *store, struct identity *identity, struct fault *why)
{
	enum status status = row_must_stand(store, "tree", identity->tree_id, why);
	if (status != STATUS_OK)
		return status;
	/* the first row of an opinion names it */
	row_new(store, identity->id);
	if (identity->opinion[0] == '\0')
		memcpy(identity->opinion, identity->id, ID_SIZE);
	struct row_fields fields = {
		.table = "identity", .insert = &identity_statements[IDENTITY_ADD]};
	fields_add(&fields, "tree_id", value_text(identity->tree_id));
	fields_add(&fields, "opinion", value_text(identity->opinion));
	fields_add(&fields, "what", value_text(what_words[identity->is_cultivar]));
	fields_add(&fields, "name", value_text(identity->name));
	fields_add(&fields, "sure", value_text(sure_key(identity->sure)));
	fields_add(&fields, "who", value_text(identity->who));
	fields_add(&fields, "day", value_text(identity->day.text));
	fields_add(&fields, "day_low", value_maybe_date(identity->day.low));
	fields_add(&fields, "day_high", value_maybe_date(identity->day.high));
	fields_add(&fields, "reason", value_text(identity->reason));
	fields_add(&fields, "sense", value_text(sense_words[identity->is_change]));
	return row_insert(store, &fields, identity->id, why);
}

static void read_identity(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	(void)arena;
	struct identity *identity = out;
	column_copy(statement, 0, identity->id, sizeof identity->id);
	column_copy(statement, 1, identity->tree_id, sizeof identity->tree_id);
	column_copy(statement, 2, identity->opinion, sizeof identity->opinion);
	identity->is_cultivar = ROW_WORD(what_words, column_word(statement, 3)) == 1;
	column_copy(statement, 4, identity->name, sizeof identity->name);
	if (!sure_find(column_word(statement, 5), &identity->sure))
		identity->sure = SURE_UNKNOWN;
	column_copy(statement, 6, identity->who, sizeof identity->who);
	column_date_span(statement, 7, &identity->day);
	column_copy(statement, 10, identity->reason, sizeof identity->reason);
	identity->is_change = ROW_WORD(sense_words, column_word(statement, 11)) == 1;
}

const struct row_reader identity_reader = {read_identity, sizeof(struct identity)};

enum status store_identity_list(struct store *store, const char *tree_id, struct arena *arena,
	struct identity **out, int32_t *count, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	void *items = NULL;
	enum status status = sql_get(store,
		&identity_statements[tree_id == NULL ? IDENTITY_ALL : IDENTITY_OF_TREE], &statement,
		why);
	if (status != STATUS_OK)
		return status;
	if (tree_id != NULL)
		bind_text(statement, 1, tree_id);
	status = rows_list(store, statement, &identity_reader, arena, &items, count, why);
	if (status == STATUS_OK)
		*out = items;
	return status;
}
