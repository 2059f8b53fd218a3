/* SPDX-License-Identifier: MIT */
/* What the grower answered to flags. */
#include "rows.h"
#include "statements.h"

enum { ANSWER_ADD, ANSWER_LIST };

const struct statement answer_statements[] = {
	[ANSWER_ADD] = {"answer.add",
		"INSERT INTO answer (id, made, flag_key, kind, until, reason) "
		"VALUES (?1, ?2, ?3, ?4, ?5, ?6)"},
	/* times: which putting off of its flag this one is */
	[ANSWER_LIST] = {"answer.list",
		"SELECT a.id, a.flag_key, a.kind, a.until, a.reason, "
		"(SELECT count(*) FROM answer b WHERE b.flag_key = a.flag_key AND b.struck = 0 "
		"AND b.kind = 'put-off' AND b.id <= a.id) "
		"FROM answer a WHERE a.struck = 0 ORDER BY a.id"},
	{NULL, NULL},
};

static const char *const answer_words[] = {
	[ANSWER_PUT_OFF] = "put-off", [ANSWER_SET_ASIDE] = "set-aside", [ANSWER_ALWAYS] = "always"};

enum status store_answer_add(struct store *store, struct answer *answer, struct fault *why)
{
	enum status status =
		text_within(answer->flag_key, FLAG_KEY_SIZE - 1, true, "key of the flag", why);
	if (status != STATUS_OK)
		return status;
	struct row_fields fields = {.table = "answer", .insert = &answer_statements[ANSWER_ADD]};
	fields_add(&fields, "flag_key", value_text(answer->flag_key));
	fields_add(&fields, "kind", value_text(answer_words[answer->kind]));
	fields_add(&fields, "until", value_maybe_date(answer->until));
	fields_add(&fields, "reason", value_text(answer->reason));
	return row_insert(store, &fields, answer->id, why);
}

static void read_answer(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	(void)arena;
	struct answer *answer = out;
	column_copy(statement, 0, answer->id, sizeof answer->id);
	column_copy(statement, 1, answer->flag_key, sizeof answer->flag_key);
	answer->kind = (enum answer_kind)ROW_WORD(answer_words, column_word(statement, 2));
	answer->until = column_maybe_date(statement, 3);
	column_copy(statement, 4, answer->reason, sizeof answer->reason);
	answer->times = sqlite3_column_int(statement, 5);
}

static const struct row_reader answer_reader = {read_answer, sizeof(struct answer)};

enum status store_answer_list(struct store *store, struct arena *arena, struct answer **out,
	int32_t *count, struct fault *why)
{
	void *items = NULL;
	enum status status = rows_list_all(
		store, &answer_statements[ANSWER_LIST], &answer_reader, arena, &items, count, why);
	if (status == STATUS_OK)
		*out = items;
	return status;
}
