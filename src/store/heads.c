/* SPDX-License-Identifier: MIT */
#include "heads.h"

#include "statements.h"

#include <stdlib.h>
#include <string.h>

enum { HEADS_CHANGES };

const struct statement heads_statements[] = {
	[HEADS_CHANGES] = {"heads.changes",
		"SELECT c.id, c.set_id, coalesce(c.prev, ''), c.old, c.new, s.kind, "
		"coalesce(s.undoes, ''), coalesce(m.value, '') FROM change c "
		"JOIN change_set s ON s.id = c.set_id "
		"LEFT JOIN meta m ON m.key = 'foreign:' || c.set_id "
		"WHERE c.row_id = ?1 AND c.field = ?2 AND c.table_name = ?3 ORDER BY c.row"},
	{NULL, NULL},
};

struct item { /* a change */
	char id[ID_SIZE];
	char set_id[ID_SIZE];
	char prev[ID_SIZE];
	char undoes[ID_SIZE];
	const char *old_value;
	const char *new_value;
	bool counts;
	int32_t prev_item; /* -1: none */
	int32_t knot;
};

struct edge {
	int32_t parent;
	int32_t next; /* -1: none */
};

struct knot {
	int32_t first_item;
	int32_t last_item;
	int32_t edges; /* the first; -1: none */
	bool covered;
	int32_t *stands_for; /* heads that an undoing opened again; NULL: itself */
	int32_t stands_for_count;
};

struct knots {
	struct arena *arena;
	struct item *items;
	int32_t item_count;
	struct knot *knots;
	int32_t count;
	struct edge *edges;
	int32_t edge_count;
	const char *root; /* the value that the row was made with, where a change tells it */
};

/* --- reading --- */

static const char *text_or_null(sqlite3_stmt *statement, int column, struct arena *arena)
{
	const unsigned char *text = sqlite3_column_text(statement, column);
	return text == NULL ? NULL : arena_text(arena, (const char *)text);
}

static enum status counts_of(
	struct sight *sight, sqlite3_stmt *statement, bool *out, struct fault *why)
{
	char kind[KEY_SIZE];
	char undoes[ID_SIZE];
	char brought[ID_SIZE];
	bool is_out = false;
	column_copy(statement, 5, kind, sizeof kind);
	column_copy(statement, 6, undoes, sizeof undoes);
	column_copy(statement, 7, brought, sizeof brought);
	enum status status = set_is_local(sight->store, kind, undoes, &is_out, why);
	if (status == STATUS_OK && !is_out && brought[0] != '\0')
		status = merge_is_undone(sight, brought, &is_out, why);
	*out = !is_out;
	return status;
}

static struct item *add_item(struct knots *knots, int32_t *room)
{
	if (knots->item_count == *room) {
		size_t size = sizeof *knots->items;
		*room = *room == 0 ? 8 : 2 * *room;
		knots->items = arena_grow(knots->arena, knots->items,
			(size_t)knots->item_count * size, (size_t)*room * size);
	}
	return &knots->items[knots->item_count++];
}

static enum status read_items(
	struct sight *sight, const struct row_change *field, struct knots *knots, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	int32_t room = 0;
	bool is_row = false;
	enum status status = row_counts(sight, field->table, field->id, &is_row, why);
	if (status == STATUS_OK)
		status = sql_get(sight->store, &heads_statements[HEADS_CHANGES], &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_text(statement, 1, field->id);
	bind_text(statement, 2, field->field);
	bind_text(statement, 3, field->table);
	while ((status = sql_step(sight->store, statement, why)) == STATUS_OK) {
		struct item *item = add_item(knots, &room);
		column_copy(statement, 0, item->id, sizeof item->id);
		column_copy(statement, 1, item->set_id, sizeof item->set_id);
		column_copy(statement, 2, item->prev, sizeof item->prev);
		column_copy(statement, 6, item->undoes, sizeof item->undoes);
		item->old_value = text_or_null(statement, 3, knots->arena);
		item->new_value = text_or_null(statement, 4, knots->arena);
		status = counts_of(sight, statement, &item->counts, why);
		if (status != STATUS_OK)
			break;
		item->counts = item->counts && is_row;
	}
	sql_done(statement);
	return status == STATUS_END ? STATUS_OK : status;
}

/* --- knots --- */

static int32_t find_item(const struct knots *knots, const char *id, int32_t below)
{
	for (int32_t i = below - 1; i >= 0; i--)
		if (strcmp(knots->items[i].id, id) == 0)
			return i;
	return -1;
}

static int32_t find_knot(const struct knots *knots, const char *set_id)
{
	for (int32_t i = knots->count - 1; i >= 0; i--)
		if (strcmp(knots->items[knots->knots[i].first_item].set_id, set_id) == 0)
			return i;
	return -1;
}

/* What hangs on a change or a row that does not count does not count either, and an act that
 * replaced several changes counts whole or not at all. Its changes stand together in the file. */
static void settle_counts(struct knots *knots)
{
	for (int32_t i = 0; i < knots->item_count; i++) {
		struct item *item = &knots->items[i];
		item->prev_item = item->prev[0] == '\0' ? -1 : find_item(knots, item->prev, i);
		if (item->prev_item < 0 || knots->items[item->prev_item].counts)
			continue;
		for (int32_t k = 0; k < knots->item_count; k++)
			if (strcmp(knots->items[k].set_id, item->set_id) == 0)
				knots->items[k].counts = false;
	}
}

static void settle_item(struct knots *knots, int32_t i)
{
	struct item *item = &knots->items[i];
	item->knot = -1;
	if (!item->counts)
		return;
	item->knot = find_knot(knots, item->set_id);
	if (item->knot < 0) {
		item->knot = knots->count++;
		knots->knots[item->knot] = (struct knot){.first_item = i, .edges = -1};
	}
	knots->knots[item->knot].last_item = i;
}

static void add_edge(struct knots *knots, int32_t child, int32_t parent)
{
	struct knot *knot = &knots->knots[child];
	if (parent >= child) /* its own, or a history that runs backwards */
		return;
	knots->knots[parent].covered = true;
	for (int32_t e = knot->edges; e >= 0; e = knots->edges[e].next)
		if (knots->edges[e].parent == parent)
			return;
	knots->edges[knots->edge_count] = (struct edge){.parent = parent, .next = knot->edges};
	knot->edges = knots->edge_count++;
}

static const char *value_of(const struct knots *knots, int32_t knot)
{
	return knot < 0 ? knots->root : knots->items[knots->knots[knot].last_item].new_value;
}

static bool values_differ(const struct knots *knots, const int32_t *list, int32_t count)
{
	for (int32_t i = 1; i < count; i++)
		if (!value_same(value_of(knots, list[0]), value_of(knots, list[i])))
			return true;
	return false;
}

/* Marks what lies above the knots that are marked already with `from`. Parents have lower numbers,
 * so one way down is enough. */
static void mark_above(const struct knots *knots, const bool *from, bool *above)
{
	for (int32_t i = knots->count - 1; i >= 0; i--) {
		if (!from[i] && !above[i])
			continue;
		for (int32_t e = knots->knots[i].edges; e >= 0; e = knots->edges[e].next)
			above[knots->edges[e].parent] = true;
	}
}

/* What a list of knots comes to: undoings that opened heads again stand for these, and a knot
 * above another one of the list is none of it. */
static int32_t frontier(const struct knots *knots, const bool *list, int32_t *out)
{
	bool *wide = arena_array(knots->arena, (size_t)knots->count + 1, sizeof *wide);
	bool *above = arena_array(knots->arena, (size_t)knots->count + 1, sizeof *above);
	int32_t count = 0;
	for (int32_t i = 0; i < knots->count; i++) {
		const struct knot *knot = &knots->knots[i];
		if (list[i] && knot->stands_for == NULL)
			wide[i] = true;
		for (int32_t k = 0;
			knot->stands_for != NULL && list[i] && k < knot->stands_for_count; k++)
			wide[knot->stands_for[k]] = true;
	}
	mark_above(knots, wide, above);
	for (int32_t i = 0; i < knots->count; i++)
		if (wide[i] && !above[i])
			out[count++] = i;
	return count;
}

/* An undoing of an act that had settled a clash opens it again. */
static void open_again(struct knots *knots, int32_t i)
{
	struct knot *knot = &knots->knots[i];
	const char *undoes = knots->items[knot->first_item].undoes;
	int32_t turned = undoes[0] == '\0' ? -1 : find_knot(knots, undoes);
	if (turned < 0 || turned >= i)
		return;
	bool *parents = arena_array(knots->arena, (size_t)knots->count, sizeof *parents);
	int32_t *list = arena_array(knots->arena, (size_t)knots->count, sizeof *list);
	for (int32_t e = knots->knots[turned].edges; e >= 0; e = knots->edges[e].next)
		parents[knots->edges[e].parent] = true;
	int32_t count = frontier(knots, parents, list);
	if (!values_differ(knots, list, count))
		return;
	knot->stands_for = list;
	knot->stands_for_count = count;
}

static void tie_knots(struct knots *knots)
{
	knots->knots =
		arena_array(knots->arena, (size_t)knots->item_count + 1, sizeof(struct knot));
	knots->edges =
		arena_array(knots->arena, (size_t)knots->item_count + 1, sizeof(struct edge));
	settle_counts(knots);
	for (int32_t i = 0; i < knots->item_count; i++) {
		settle_item(knots, i);
		if (knots->items[i].prev_item < 0 && knots->items[i].counts && knots->root == NULL)
			knots->root = knots->items[i].old_value;
	}
	/* a log whose every change came from a merge that was undone */
	if (knots->count == 0 && knots->item_count > 0)
		knots->root = knots->items[0].old_value;
	for (int32_t i = 0; i < knots->item_count; i++) {
		const struct item *item = &knots->items[i];
		if (item->counts && item->prev_item >= 0)
			add_edge(knots, item->knot, knots->items[item->prev_item].knot);
	}
	for (int32_t i = 0; i < knots->count; i++)
		open_again(knots, i);
}

/* --- answers --- */

static int compare_heads(const void *a, const void *b)
{
	const struct head *one = a;
	const struct head *other = b;
	return strcmp(one->change_id, other->change_id);
}

static int32_t list_heads(
	const struct knots *knots, const int32_t *list, int32_t count, struct head *out)
{
	for (int32_t i = 0; i < count; i++) {
		const struct item *item = &knots->items[knots->knots[list[i]].last_item];
		out[i] = (struct head){.knot = list[i], .value = item->new_value};
		memcpy(out[i].change_id, item->id, sizeof item->id);
		memcpy(out[i].set_id, item->set_id, sizeof item->set_id);
	}
	if (count > 1)
		qsort(out, (size_t)count, sizeof *out, compare_heads);
	return count;
}

/* Of heads with the same value the first is kept. */
static int32_t drop_same(struct head *heads, int32_t count)
{
	int32_t kept = 0;
	for (int32_t i = 0; i < count; i++) {
		bool is_new = true;
		for (int32_t k = 0; k < kept && is_new; k++)
			is_new = !value_same(heads[k].value, heads[i].value);
		if (is_new)
			heads[kept++] = heads[i];
	}
	return kept;
}

/* The nearest knot above all of the list; where several are, and differ, that above these. */
static int32_t common_ancestor(const struct knots *knots, int32_t *list, int32_t count)
{
	while (count > 1 && values_differ(knots, list, count)) {
		bool *common = arena_array(knots->arena, (size_t)knots->count, sizeof *common);
		bool *higher = arena_array(knots->arena, (size_t)knots->count, sizeof *higher);
		for (int32_t i = 0; i < count; i++) {
			bool *from = arena_array(knots->arena, (size_t)knots->count, sizeof *from);
			bool *above =
				arena_array(knots->arena, (size_t)knots->count, sizeof *above);
			from[list[i]] = true;
			mark_above(knots, from, above);
			for (int32_t k = 0; k < knots->count; k++)
				common[k] = above[k] && (i == 0 || common[k]);
		}
		mark_above(knots, common, higher);
		count = 0;
		for (int32_t k = 0; k < knots->count; k++)
			if (common[k] && !higher[k])
				list[count++] = k;
	}
	return count == 0 ? -1 : list[0];
}

static void answer(struct knots *knots, struct heads *out)
{
	bool *open = arena_array(knots->arena, (size_t)knots->count + 1, sizeof *open);
	int32_t *list = arena_array(knots->arena, (size_t)knots->count + 1, sizeof *list);
	int32_t count = 0;
	for (int32_t i = 0; i < knots->count; i++) {
		open[i] = !knots->knots[i].covered;
		if (open[i])
			list[count++] = i;
	}
	out->leaves = arena_array(knots->arena, (size_t)count + 1, sizeof *out->leaves);
	out->leaf_count = list_heads(knots, list, count, out->leaves);
	count = frontier(knots, open, list);
	out->all = arena_array(knots->arena, (size_t)count + 1, sizeof *out->all);
	out->items = arena_array(knots->arena, (size_t)count + 1, sizeof *out->items);
	out->all_count = list_heads(knots, list, count, out->all);
	out->count = drop_same(out->items, list_heads(knots, list, count, out->items));
	out->shown_knot = out->count == 0   ? -1
			  : out->count == 1 ? out->items[0].knot
					    : common_ancestor(knots, list, count);
	out->shown = value_of(knots, out->shown_knot);
}

enum status heads_read(struct sight *sight, const struct row_change *field, struct arena *arena,
	struct heads *out, struct fault *why)
{
	struct knots *knots = arena_alloc(arena, sizeof *knots);
	knots->arena = arena;
	*out = (struct heads){.arena = arena, .knots = knots, .shown_knot = -1};
	enum status status = read_items(sight, field, knots, why);
	if (status != STATUS_OK)
		return status;
	tie_knots(knots);
	answer(knots, out);
	return STATUS_OK;
}

bool heads_has(const struct heads *heads, const char *set_id)
{
	return find_knot(heads->knots, set_id) >= 0;
}

/* --- columns that follow another --- */

/* clang-format off */
static const struct follower {
	const char *table;
	const char *field;
	const char *leader;
} followers[] = {
	{"area", "name_folded", "name"},
	{"spot", "name_folded", "name"},
	{"product", "name_folded", "name"},
	{"container", "name_folded", "name"},
	{"tree", "label_folded", "label"},
	{"tree", "label_sort", "label"},
	{"tree", "planted_low", "planted"},
	{"tree", "planted_high", "planted"},
	{"tree", "gone_low", "gone"},
	{"tree", "gone_high", "gone"},
	{"tree", "is_gone", "gone"},
	{"identity", "day_low", "day"},
	{"identity", "day_high", "day"},
	{"entry", "day_low", "day"},
	{"entry", "day_high", "day"},
	{"amount", "low", "typed"},
	{"amount", "high", "typed"},
	{"amount", "base_unit", "typed"},
	{"measure", "high_um", "low_um"},
};
/* clang-format on */

const char *field_leader(const char *table, const char *field)
{
	for (size_t i = 0; i < sizeof followers / sizeof followers[0]; i++)
		if (strcmp(followers[i].table, table) == 0 &&
			strcmp(followers[i].field, field) == 0)
			return followers[i].leader;
	return NULL;
}

const char *field_follower(const char *table, const char *leader, int32_t at)
{
	for (size_t i = 0; i < sizeof followers / sizeof followers[0]; i++)
		if (strcmp(followers[i].table, table) == 0 &&
			strcmp(followers[i].leader, leader) == 0 && at-- == 0)
			return followers[i].field;
	return NULL;
}

/* From the knot upwards to the nearest act that changed the follower too. An act that replaced
 * several heads changed every follower (row.c), so that ways never part before one is found. */
static const struct item *find_above(
	const struct knots *leader, const struct knots *follower, int32_t knot)
{
	bool *from = arena_array(leader->arena, (size_t)leader->count + 1, sizeof *from);
	bool *above = arena_array(leader->arena, (size_t)leader->count + 1, sizeof *above);
	if (knot < 0)
		return NULL;
	from[knot] = true;
	mark_above(leader, from, above);
	above[knot] = true;
	for (int32_t i = knot; i >= 0; i--) {
		if (!above[i])
			continue;
		int32_t found =
			find_knot(follower, leader->items[leader->knots[i].first_item].set_id);
		if (found >= 0)
			return &follower->items[follower->knots[found].last_item];
	}
	return NULL;
}

static bool changed_alone(const struct knots *leader, const struct knots *follower)
{
	for (int32_t i = 0; i < follower->count; i++)
		if (find_knot(leader, follower->items[follower->knots[i].first_item].set_id) < 0)
			return true;
	return false;
}

enum status heads_companion(struct sight *sight, const struct heads *leader, int32_t knot,
	const struct row_change *follower, const char **value, bool *is_own, struct fault *why)
{
	struct heads own;
	enum status status = heads_read(sight, follower, leader->arena, &own, why);
	if (status != STATUS_OK)
		return status;
	*is_own = changed_alone(leader->knots, own.knots);
	if (*is_own)
		return STATUS_OK;
	if (own.knots->item_count == 0)
		return row_read(sight->store, follower, leader->arena, value, why);
	const struct item *found = find_above(leader->knots, own.knots, knot);
	*value = found != NULL ? found->new_value : own.knots->root;
	return STATUS_OK;
}
