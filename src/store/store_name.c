/* SPDX-License-Identifier: MIT */
/* Finding things by what they are called. */
#include "entry_row.h"
#include "statements.h"
#include "tree_row.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"

enum {
	NAME_STANDING,
	NAME_LAST_BORNE,
	NAME_GONE,
	NAME_SHORT,
	NAME_PUT_ON,
	NAME_OF_SPOT,
	NAME_OF_AREA,
	NAME_OF_CONTAINER,
	NAME_OF_PRODUCT,
};

#define NAMED(table)                                                                              \
	"SELECT id, name, NULL, 0 FROM " table " WHERE name_folded = ?1 AND struck = 0 ORDER BY " \
	"id"

/* The + keeps SQLite off the index by is_gone, which nearly every tree shares. */
const struct statement name_statements[] = {
	[NAME_STANDING] = {"name.standing",
		"SELECT t.id, t.label, t.planted_low, t.is_gone FROM tree t "
		"WHERE t.label_folded = ?1 AND t.struck = 0 AND +t.is_gone = 0 ORDER BY t.id"},
	/* who bore the label last: by the day it went, or by the moment of the renaming */
	[NAME_LAST_BORNE] = {"name.last_borne",
		"SELECT id, label, planted_low, is_gone FROM ("
		"SELECT t.id, t.label, t.planted_low, t.is_gone, t.gone_low AS until FROM tree t "
		"WHERE t.label_folded = ?1 AND t.struck = 0 AND +t.is_gone = 1 "
		"UNION ALL SELECT t.id, t.label, t.planted_low, t.is_gone, c.typed_at "
		"FROM old_label o JOIN tree t ON t.id = o.tree_id AND t.struck = 0 "
		"JOIN change_set c ON c.id = o.made WHERE o.label_folded = ?1 AND o.struck = 0) "
		"ORDER BY until DESC, id DESC LIMIT 1"},
	/* as store_tree_title writes it, so that an older bearer of a label can be named */
	[NAME_GONE] = {"name.gone", "SELECT t.id, t.label, t.planted_low, t.is_gone FROM tree t "
				    "WHERE t.is_gone = 1 AND t.struck = 0 AND " TREE_TITLE(
					    "t.label_folded") " = ?1 "
							      "ORDER BY t.id"},
	[NAME_SHORT] = {"name.short",
		"SELECT t.id, t.label, t.planted_low, t.is_gone FROM tree t "
		"WHERE t.label_folded >= ?1 AND t.label_folded < ?2 AND t.label_folded <> ?1 "
		"AND t.struck = 0 AND +t.is_gone = 0 ORDER BY t.label_sort, t.id"},
	/* a host's own label may hold a / */
	[NAME_PUT_ON] = {"name.put_on",
		"SELECT t.id, t.label, t.planted_low, t.is_gone FROM tree t "
		"WHERE t.host_id IS NOT NULL AND t.struck = 0 AND +t.is_gone = 0 "
		"AND substr(t.label_folded, -(length(?1) + 1)) = '/' || ?1 "
		"ORDER BY t.label_sort, t.id"},
	[NAME_OF_SPOT] = {"name.spot", NAMED("spot")},
	[NAME_OF_AREA] = {"name.area", NAMED("area")},
	[NAME_OF_CONTAINER] = {"name.container", NAMED("container")},
	[NAME_OF_PRODUCT] = {"name.product", NAMED("product")},
	{NULL, NULL},
};

enum { FOLDED_ROOM = FOLDED_SIZE + 8, SHORT_CHARACTERS_LEAST = 2 };
/* The highest character: what starts with x lies in x .. x followed by it. */
static const char last_character[] = "\xF4\x8F\xBF\xBF";

struct name_search {
	struct store *store;
	const char *folded;
	struct name_match *out;
	int32_t max;
	int32_t count;
};

static void take_match(struct name_search *search, sqlite3_stmt *statement, bool is_exact)
{
	if (search->count < search->max) {
		struct name_match *match = &search->out[search->count];
		*match = (struct name_match){.is_exact = is_exact};
		column_copy(statement, 0, match->id, sizeof match->id);
		column_copy(statement, 1, match->label, sizeof match->label);
		match->planted = column_maybe_date(statement, 2);
		match->is_gone = column_flag(statement, 3);
	}
	search->count++;
}

/* Trouble with the file answers "none": what is done with the name meets the same trouble. */
static void search_exact(struct name_search *search, int key)
{
	sqlite3_stmt *statement = NULL;
	enum status status =
		rows_for(search->store, &name_statements[key], search->folded, &statement, NULL);
	while (status == STATUS_OK) {
		status = sql_step(search->store, statement, NULL);
		if (status == STATUS_OK)
			take_match(search, statement, true);
	}
}

/* Labels that start with the text; a single letter must be the whole first word. */
static void search_short(struct name_search *search)
{
	char from[FOLDED_ROOM];
	char to[FOLDED_ROOM + sizeof last_character];
	bool is_prefix = text_count_characters(search->folded) >= SHORT_CHARACTERS_LEAST;
	snprintf(from, sizeof from, "%s%s", search->folded, is_prefix ? "" : " ");
	snprintf(to, sizeof to, "%s%s", from, last_character);
	sqlite3_stmt *statement = NULL;
	enum status status =
		rows_for(search->store, &name_statements[NAME_SHORT], from, &statement, NULL);
	if (status == STATUS_OK)
		bind_text(statement, 2, to);
	while (status == STATUS_OK) {
		status = sql_step(search->store, statement, NULL);
		if (status == STATUS_OK)
			take_match(search, statement, false);
	}
}

static void search_tree(struct name_search *search)
{
	search_exact(search, NAME_STANDING);
	if (search->count == 0)
		search_exact(search, NAME_LAST_BORNE);
	size_t length = strlen(search->folded);
	if (search->count == 0 && length > 0 && search->folded[length - 1] == ')')
		search_exact(search, NAME_GONE);
	if (search->count == 0)
		search_short(search);
}

static const char *year_of(struct maybe_date day, char out[8])
{
	if (!day.known)
		return "?";
	snprintf(out, 8, "%04d", date_parts(day.value).year % 10000);
	return out;
}

const char *store_tree_title(const struct tree *tree, char out[TREE_TITLE_SIZE])
{
	char from[8], to[8];
	struct text_builder title = text_builder_fixed(out, TREE_TITLE_SIZE);
	text_add(&title, tree->label);
	if (tree->gone.text[0] != '\0')
		text_add_format(&title, " (%s-%s)", year_of(tree->planted.low, from),
			year_of(tree->gone.low, to));
	return out;
}

int32_t store_name_find(struct store *store, enum name_class class, const char *text, size_t length,
	struct name_match *out, int32_t max)
{
	char name[LABEL_SIZE];
	char folded[FOLDED_SIZE];
	if (!text_copy_n(name, sizeof name, text, length))
		return 0; /* longer than any name */
	text_trim_in_place(name);
	if (name[0] == '\0')
		return 0;
	struct name_search search = {
		.store = store, .folded = name_fold(name, folded), .out = out, .max = max};
	switch (class) {
	case NAME_TREE:
		search_tree(&search);
		break;
	case NAME_GRAFT:
		search_exact(&search, NAME_PUT_ON);
		break;
	case NAME_SPOT:
		search_exact(&search, NAME_OF_SPOT);
		break;
	case NAME_AREA:
		search_exact(&search, NAME_OF_AREA);
		break;
	case NAME_CONTAINER:
		search_exact(&search, NAME_OF_CONTAINER);
		break;
	case NAME_PRODUCT:
		search_exact(&search, NAME_OF_PRODUCT);
		break;
	case NAME_KIND:
		break;
	}
	return search.count;
}

enum status store_tree_find(
	struct store *store, const char *label, struct tree *out, struct fault *why)
{
	char folded[FOLDED_SIZE];
	struct name_match match;
	struct name_search search = {
		.store = store, .folded = name_fold(label, folded), .out = &match, .max = 1};
	search_exact(&search, NAME_STANDING);
	if (search.count == 0)
		search_exact(&search, NAME_LAST_BORNE);
	if (search.count == 0)
		return fault_set(why, STATUS_ABSENT, "there is no tree called %s", label);
	return store_tree_load(store, match.id, out, why);
}
