/* SPDX-License-Identifier: MIT */
#include "rows.h"
#include "statements.h"

#include <string.h>

#include "core/text.h"
#include "store/search.h"

enum { SEARCH_WORDS, SEARCH_TREE };

/* What a row is about: the tree itself, or the tree that an entry, a name or a trait belongs to. */
#define HIT_COLUMNS                                                                           \
	"ifnull(e.kind, ''), ifnull(e.day, ''), ifnull(t.id, ''), coalesce(t.label, (SELECT " \
	"s.name "                                                                             \
	"FROM spot s WHERE s.id = e.subject_id), (SELECT a.name FROM area a WHERE a.id = "    \
	"e.subject_id), '')"
#define TREE_OF_HIT                                                                      \
	"CASE w.table_name WHEN 'tree' THEN w.row_id "                                   \
	"WHEN 'identity' THEN (SELECT i.tree_id FROM identity i WHERE i.id = w.row_id) " \
	"WHEN 'trait' THEN (SELECT r.tree_id FROM trait r WHERE r.id = w.row_id) "       \
	"WHEN 'old_label' THEN (SELECT o.tree_id FROM old_label o WHERE o.id = w.row_id) END"
#define ENTRY_OF_HIT "LEFT JOIN entry e ON " WORDS_OF_ENTRY " AND e.row = " WORDS_ENTRY_ROW " "
#define HIT_SUBJECT "CASE WHEN " WORDS_OF_ENTRY " THEN e.subject_id ELSE " TREE_OF_HIT " END"
/* Of an entry nothing is read but itself: hits can be half the log. */
#define HIT_ORDER                                                                    \
	"ORDER BY NOT " WORDS_OF_ENTRY ", e.day_low DESC, CASE WHEN " WORDS_OF_ENTRY \
	" THEN '' ELSE w.table_name END, "                                           \
	"CASE WHEN " WORDS_OF_ENTRY " THEN e.id ELSE w.row_id END DESC"

const struct statement search_statements[] = {
	[SEARCH_WORDS] = {"search.words",
		"SELECT w.table_name, " HIT_COLUMNS ", w.body FROM (SELECT w.rowid AS hit "
		"FROM word_index w " ENTRY_OF_HIT
		"WHERE word_index MATCH ?1 AND (?2 = '' OR ?2 = " HIT_SUBJECT ") " HIT_ORDER
		" LIMIT ?3) JOIN word_index w ON w.rowid = hit " ENTRY_OF_HIT
		"LEFT JOIN tree t ON t.id = " HIT_SUBJECT " " HIT_ORDER},
	[SEARCH_TREE] = {"search.tree",
		"SELECT 'entry', e.kind, e.day, t.id, t.label, e.words || char(10) || e.note "
		"FROM entry e JOIN tree t ON t.id = e.subject_id WHERE e.subject_id = ?1 "
		"AND e.struck = 0 ORDER BY e.day_low DESC, e.id DESC LIMIT ?2"},
	{NULL, NULL},
};

static void read_hit(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	struct search_hit *hit = out;
	hit->table_name = column_arena(statement, 0, arena);
	hit->kind = column_arena(statement, 1, arena);
	hit->day = column_arena(statement, 2, arena);
	hit->tree_id = column_arena(statement, 3, arena);
	hit->label = column_arena(statement, 4, arena);
	hit->words = column_arena(statement, 5, arena);
}

static const struct row_reader hit_reader = {read_hit, sizeof(struct search_hit)};

/* Quoted, so that no sign in it means anything to the search; as the beginning of a word. */
static void add_word(struct text_builder *match, const char *word, size_t length)
{
	text_add(match, "\"");
	for (size_t i = 0; i < length; i++)
		text_add_n(match, word[i] == '"' ? "\"\"" : word + i, word[i] == '"' ? 2 : 1);
	text_add(match, "\"* ");
}

static void add_verbs(struct text_builder *match, const char *verbs)
{
	for (const char *at = verbs; *at != '\0';) {
		const size_t length = strcspn(at, " ");
		text_add(match, "OR ");
		add_word(match, at, length);
		at += length;
		at += strspn(at, " ");
	}
}

static const char *match_of(struct arena *arena, const char *text)
{
	struct text_builder match = text_builder_in(arena);
	text_add(&match, "");
	for (const char *at = text + strspn(text, " \t"); *at != '\0';) {
		const size_t length = strcspn(at, " \t");
		char verb[KEY_SIZE] = "";
		char folded[KEY_SIZE * 3];
		(void)text_copy_n(verb, sizeof verb, at, length);
		text_fold(verb, folded, sizeof folded);
		const enum entry_kind kind = kind_of_verb(folded);
		text_add(&match, match.length > 0 ? "AND (" : "(");
		add_word(&match, at, length);
		if (kind != KIND_TOTAL && strlen(verb) == length)
			add_verbs(&match, kind_row(kind)->verbs);
		text_add(&match, ") ");
		at += length;
		at += strspn(at, " \t");
	}
	return match.text;
}

/* Whose label the text begins with; *rest is what follows it. The longest label wins. */
static enum status find_label(struct store *store, const char *text, char id[ID_SIZE],
	const char **rest, struct fault *why)
{
	id[0] = '\0';
	*rest = text;
	for (const char *at = text; *at != '\0';) {
		struct tree tree;
		char label[LABEL_SIZE];
		at += strcspn(at, " ");
		enum status status = STATUS_ABSENT;
		if (text_copy_n(label, sizeof label, text, (size_t)(at - text)))
			status = store_tree_find(store, label, &tree, why);
		if (status == STATUS_OK) {
			memcpy(id, tree.id, ID_SIZE);
			*rest = at + strspn(at, " ");
		} else if (status != STATUS_ABSENT) {
			return status;
		}
		at += strspn(at, " ");
	}
	return STATUS_OK;
}

static enum status list_hits(struct store *store, sqlite3_stmt *statement, struct arena *arena,
	struct search_hit **out, int32_t *count, struct fault *why)
{
	void *items = NULL;
	enum status status = rows_list(store, statement, &hit_reader, arena, &items, count, why);
	*out = items;
	return status;
}

enum status store_search(struct store *store, const char *text, int32_t most, struct arena *arena,
	struct search_hit **out, int32_t *count, struct fault *why)
{
	char tree_id[ID_SIZE];
	const char *rest;
	sqlite3_stmt *statement = NULL;
	*out = NULL;
	*count = 0;
	text += strspn(text, " \t");
	enum status status = find_label(store, text, tree_id, &rest, why);
	if (status != STATUS_OK || text[0] == '\0')
		return status;
	if (rest[0] == '\0' && tree_id[0] != '\0') {
		status = rows_for(store, &search_statements[SEARCH_TREE], tree_id, &statement, why);
		if (status == STATUS_OK)
			bind_i64(statement, 2, most);
		return status == STATUS_OK ? list_hits(store, statement, arena, out, count, why)
					   : status;
	}
	status = words_settle(store, why);
	if (status == STATUS_OK)
		status = rows_for(store, &search_statements[SEARCH_WORDS], match_of(arena, rest),
			&statement, why);
	if (status != STATUS_OK)
		return status;
	bind_text(statement, 2, tree_id);
	bind_i64(statement, 3, most);
	return list_hits(store, statement, arena, out, count, why);
}
