/* SPDX-License-Identifier: MIT */
#include "store/json.h"

#include "rows.h"

#include "core/memory.h"
#include "core/text.h"

#include <string.h>

struct json_reader {
	struct store store; /* in memory, and empty */
	sqlite3_stmt *each;
};

enum status json_open(struct json_reader **out, struct fault *why)
{
	struct json_reader *reader = block_new(sizeof *reader);
	reader->store.path = "the reader of JSON";
	int code =
		sqlite3_open_v2(":memory:", &reader->store.database, SQLITE_OPEN_READWRITE, NULL);
	enum status status = code == SQLITE_OK ? STATUS_OK : sql_fault(&reader->store, code, why);
	if (status == STATUS_OK)
		status = sql_prepare(&reader->store, "SELECT key, type, atom FROM json_each(?1)",
			&reader->each, why);
	*out = reader;
	if (status != STATUS_OK) {
		json_close(reader);
		*out = NULL;
	}
	return status;
}

void json_close(struct json_reader *reader)
{
	if (reader == NULL)
		return;
	sqlite3_finalize(reader->each);
	sqlite3_close(reader->store.database);
	block_free(reader);
}

enum status json_object(
	struct json_reader *reader, const char *text, size_t length, struct fault *why)
{
	if (!text_is_valid(text, length))
		return fault_set(why, STATUS_SYNTAX, "it is not UTF-8");
	if (text[strspn(text, " \t\r\n")] != '{')
		return fault_set(why, STATUS_SYNTAX, "it is no JSON object");
	sqlite3_reset(reader->each);
	(void)sqlite3_bind_text64(reader->each, 1, text, length, SQLITE_STATIC, SQLITE_UTF8);
	return STATUS_OK;
}

enum status json_next(
	struct json_reader *reader, const char **name, struct table_value *value, struct fault *why)
{
	sqlite3_stmt *each = reader->each;
	int code = sqlite3_step(each);
	*value = (struct table_value){.type = VALUE_NULL, .text = ""};
	if (code == SQLITE_DONE) {
		sqlite3_reset(each);
		return STATUS_END;
	}
	if (code != SQLITE_ROW) {
		sqlite3_reset(each);
		return fault_set(why, STATUS_SYNTAX, "it is no JSON");
	}
	*name = column_word(each, 0);
	const char *type = column_word(each, 1);
	bool is_integer = strcmp(type, "integer") == 0;
	if (is_integer && sqlite3_column_type(each, 2) == SQLITE_INTEGER) {
		value->type = VALUE_INTEGER;
		value->integer = sqlite3_column_int64(each, 2);
	} else if (strcmp(type, "text") == 0) {
		value->type = VALUE_TEXT;
		value->text = column_word(each, 2);
		value->length = (size_t)sqlite3_column_bytes(each, 2);
	} else if (strcmp(type, "null") != 0) {
		return fault_set(why, STATUS_SYNTAX, "it is %s",
			is_integer ? "a number too large" : "neither text, whole number nor null");
	}
	return STATUS_OK;
}
