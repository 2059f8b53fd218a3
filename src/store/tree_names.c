/* SPDX-License-Identifier: MIT */
#include "store/tree_names.h"

#include "rows.h"
#include "statements.h"

#include <assert.h>
#include <string.h>

#include "core/text.h"

enum { TREE_NAMES, TREE_NAMES_KINDS };

static_assert((int)TREE_LETTERS_SIZE == (int)FOLDED_SIZE, "letters fold as labels do");

#define FROM_STANDING                                        \
	" FROM tree t WHERE t.struck = 0 AND t.is_gone = 0 " \
	"ORDER BY t.label_sort, t.id LIMIT ?1"

const struct statement tree_names_statements[] = {
	[TREE_NAMES] = {"tree_names.list", "SELECT t.id, t.label, t.label_folded" FROM_STANDING},
	[TREE_NAMES_KINDS] = {"tree_names.kinds",
		"SELECT t.id, t.label, t.label_folded, "
		"coalesce((SELECT group_concat(lower(replace(n.name, '_', ' ')), char(10)) "
		"FROM identity n WHERE n.tree_id = t.id AND n.struck = 0), '')" FROM_STANDING},
	{NULL, NULL},
};

static void read_names(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	struct tree_name *name = out;
	column_copy(statement, 0, name->id, sizeof name->id);
	name->label = name->folded = column_arena(statement, 1, arena);
	const char *folded = column_word(statement, 2);
	if (strcmp(folded, name->label) != 0)
		name->folded = arena_text(arena, folded);
}

static void read_names_and_kinds(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	struct tree_name *name = out;
	read_names(statement, arena, out);
	name->kinds = column_arena(statement, 3, arena);
}

enum status store_tree_names(struct store *store, bool kinds, int32_t most, struct arena *arena,
	struct tree_names *out, struct fault *why)
{
	static const struct row_reader readers[] = {
		[TREE_NAMES] = {read_names, sizeof(struct tree_name)},
		[TREE_NAMES_KINDS] = {read_names_and_kinds, sizeof(struct tree_name)},
	};
	const int key = kinds ? TREE_NAMES_KINDS : TREE_NAMES;
	sqlite3_stmt *statement = NULL;
	void *items = NULL;
	enum status status = sql_get(store, &tree_names_statements[key], &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_i64(statement, 1, most > 0 ? most : -1);
	status = rows_list(store, statement, &readers[key], arena, &items, &out->count, why);
	out->items = items;
	return status;
}

struct tree_letters tree_letters_make(const char *text)
{
	enum { KINDS_FROM = 3 };
	struct tree_letters letters;
	(void)name_fold(text, letters.folded);
	letters.of_kinds = text_count_characters(letters.folded) >= KINDS_FROM;
	return letters;
}

bool tree_letters_fit(const struct tree_letters *letters, const struct tree_name *tree)
{
	if (strstr(tree->folded, letters->folded) != NULL)
		return true;
	return letters->of_kinds && tree->kinds != NULL &&
	       strstr(tree->kinds, letters->folded) != NULL;
}
