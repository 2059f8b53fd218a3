/* SPDX-License-Identifier: MIT */
/* Searching the words of entries. */
#include "entry_row.h"
#include "statements.h"

#include <string.h>

#include "core/text.h"

enum { FIND_ENTRIES };

const struct statement find_statements[] = {
	/* the hits are put in order by their keys alone before any of their words are read */
	[FIND_ENTRIES] = {"find.entries",
		"SELECT " ENTRY_COLUMNS " FROM (SELECT h.row AS hit FROM word_index w "
		"JOIN entry h ON h.row = " WORDS_ENTRY_ROW " AND h.struck = 0 "
		"WHERE word_index MATCH ?1 AND " WORDS_OF_ENTRY " "
		"ORDER BY h.day_low DESC, h.id DESC LIMIT ?2) "
		"JOIN entry e ON e.row = hit ORDER BY e.day_low DESC, e.id DESC"},
	{NULL, NULL},
};

/* Each word quoted, so that no sign in it means anything to the search, and taken as the
 * beginning of a word: "aphid" finds aphids. All must occur. */
static const char *match_of(struct arena *arena, const char *text)
{
	struct text_builder match = text_builder_in(arena);
	for (const char *at = text; *at != '\0';) {
		size_t blanks = strspn(at, " \t\r\n");
		at += blanks;
		size_t length = strcspn(at, " \t\r\n");
		if (length == 0)
			break;
		text_add(&match, "\"");
		for (size_t i = 0; i < length; i++)
			text_add_n(&match, at[i] == '"' ? "\"\"" : at + i, at[i] == '"' ? 2 : 1);
		text_add(&match, "\"* ");
		at += length;
	}
	return match.length == 0 ? "" : match.text;
}

enum status store_find(struct store *store, const char *text, int32_t most, struct arena *arena,
	struct entry **out, int32_t *count, struct fault *why)
{
	const char *match = match_of(arena, text);
	sqlite3_stmt *statement = NULL;
	*count = 0;
	*out = NULL;
	if (match[0] == '\0')
		return STATUS_OK;
	enum status status = words_settle(store, why);
	if (status == STATUS_OK)
		status = rows_for(store, &find_statements[FIND_ENTRIES], match, &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_i64(statement, 2, most > 0 ? most : -1);
	return entries_list(store, statement, arena, out, count, why);
}
