/* SPDX-License-Identifier: MIT */
#include "title.h"

#include "core/text.h"

#include <string.h>

/* The line as typed, behind its label where that was left out. */
#define SUBJECT "coalesce(t.label, s.name, a.name, 'the place')"
#define ENTRY_TITLE                                                    \
	"CASE WHEN substr(e.words, 1, length(" SUBJECT ")) = " SUBJECT \
	" THEN e.words ELSE " SUBJECT " || ' ' || e.words END || ' (' || e.day || ')'"
#define OF_ENTRY                                                               \
	"LEFT JOIN tree t ON e.subject_kind = 'tree' AND t.id = e.subject_id " \
	"LEFT JOIN spot s ON e.subject_kind = 'spot' AND s.id = e.subject_id " \
	"LEFT JOIN area a ON e.subject_kind = 'area' AND a.id = e.subject_id "
#define PART_OF_ENTRY(table, part)                           \
	"SELECT " ENTRY_TITLE ", e.id, " part " FROM " table \
	" r JOIN entry e ON e.id = r.entry_id " OF_ENTRY "WHERE r.id = ?1"
#define PART_OF_TREE(table)                                                                       \
	"SELECT t.label, t.id, '' FROM " table " r JOIN tree t ON t.id = r.tree_id WHERE r.id = " \
	"?1"
#define NAMED(table) "SELECT r.name, r.id, '' FROM " table " r WHERE r.id = ?1"

/* clang-format off */
static const struct titled {
	const char *table;
	const char *owner_table;
	const char *sql; /* title, owner's id, which part of it */
} titled[] = {
	{"place", "place", "SELECT 'the place', id, '' FROM place WHERE id = ?1"},
	{"tree", "tree", "SELECT label, id, '' FROM tree WHERE id = ?1"},
	{"entry", "entry", "SELECT " ENTRY_TITLE ", e.id, '' FROM entry e " OF_ENTRY "WHERE e.id = ?1"},
	{"amount", "entry", PART_OF_ENTRY("amount", "r.field")},
	{"detail", "entry", PART_OF_ENTRY("detail", "r.field")},
	{"measure", "entry", PART_OF_ENTRY("measure", "r.what")},
	{"plan", "entry", PART_OF_ENTRY("plan", "''")},
	{"old_label", "tree", PART_OF_TREE("old_label")},
	{"tree_spot", "tree", PART_OF_TREE("tree_spot")},
	{"identity", "tree", PART_OF_TREE("identity")},
	{"trait", "tree", PART_OF_TREE("trait")},
	{"stem", "tree", PART_OF_TREE("stem")},
	{"lost_season", "tree", PART_OF_TREE("lost_season")},
	{"own_window", "tree", PART_OF_TREE("own_window")},
	{"own_rate", "tree", PART_OF_TREE("own_rate")},
	{"area", "area", NAMED("area")},
	{"spot", "spot", NAMED("spot")},
	{"obstacle", "obstacle", NAMED("obstacle")},
	{"product", "product", NAMED("product")},
	{"container", "container", NAMED("container")},
	{"layout", "layout", NAMED("layout")},
	{"container_weight", "container", "SELECT c.name, c.id, '' FROM container_weight r "
		"JOIN container c ON c.id = r.container_id WHERE r.id = ?1"},
	{"route", "route", "SELECT s.name || ' in the walk', r.id, '' FROM route r "
		"JOIN spot s ON s.id = r.spot_id WHERE r.id = ?1"},
	{"weather_day", "weather_day", "SELECT r.station || ' ' || r.day, r.id, '' FROM weather_day r WHERE r.id = ?1"},
	{"weather_hour", "weather_hour", "SELECT r.station || ' ' || r.day || ' ' || r.hour || ' h', r.id, '' "
		"FROM weather_hour r WHERE r.id = ?1"},
	{"choice", "choice", "SELECT r.rule, r.id, '' FROM choice r WHERE r.id = ?1"},
};
/* clang-format on */

static void set_plain(const char *table, const char *id, struct row_title *out)
{
	*out = (struct row_title){.owner_table = table};
	(void)text_copy(out->text, sizeof out->text, table);
	(void)text_copy(out->owner, sizeof out->owner, id);
}

enum status row_title(struct store *store, const char *table, const char *id, struct row_title *out,
	struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	const struct titled *row = NULL;
	set_plain(table, id, out);
	for (size_t i = 0; i < sizeof titled / sizeof titled[0]; i++)
		if (strcmp(titled[i].table, table) == 0)
			row = &titled[i];
	if (row == NULL)
		return STATUS_OK;
	enum status status = sql_prepare(store, row->sql, &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_text(statement, 1, id);
	status = sql_step(store, statement, why);
	if (status == STATUS_OK) {
		(void)text_copy(out->text, sizeof out->text,
			(const char *)sqlite3_column_text(statement, 0));
		column_copy(statement, 1, out->owner, sizeof out->owner);
		column_copy(statement, 2, out->part, sizeof out->part);
		out->owner_table = row->owner_table;
	}
	sqlite3_finalize(statement);
	return status == STATUS_END ? STATUS_OK : status;
}
