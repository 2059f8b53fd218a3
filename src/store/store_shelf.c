/* SPDX-License-Identifier: MIT */
#include "store/shelf.h"

#include "entry_pack.h"
#include "entry_parts.h"
#include "entry_row.h"
#include "statements.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"

enum { SHELF_LAST_ROW, SHELF_ROWS, SHELF_ENTRIES, SHELF_LABEL };

/* A sixteenth of the log at a time, within bounds: each page is fetched sixteen times at most, and
 * memory goes with the log only as far as it is needed. */
enum {
	ENTRIES_LEAST = 2048,
	ENTRIES_MOST = 49152,
	LOG_SHARE = 16,
	AT_ONCE = 256,
	ROWS_SIZE = AT_ONCE * 20 + 2
};

const struct statement shelf_statements[] = {
	[SHELF_LAST_ROW] = {"shelf.last_row", "SELECT coalesce(max(row), 0) FROM entry"},
	[SHELF_ROWS] = {"shelf.rows", "SELECT e.row, coalesce(e.day_low, ''), e.kind FROM entry e "
				      "WHERE e.subject_id = ?1 ORDER BY e.day_low"},
	/* whose they are is known: the label is looked up once for all */
	[SHELF_ENTRIES] = {"shelf.entries",
		"SELECT " ENTRY_OWN_COLUMNS "'', e.row FROM json_each(?1) j "
		"CROSS JOIN entry e ON e.row = j.value AND e.struck = 0"},
	[SHELF_LABEL] = {"shelf.label",
		"SELECT CASE t.is_gone WHEN 0 THEN t.label ELSE " TREE_TITLE(
			"t.label") " END "
				   "FROM tree t WHERE t.id = ?1"},
	{NULL, NULL},
};

struct shelved {
	int64_t row;
	int32_t subject;             /* which of the subjects */
	int32_t rank;                /* of its day among those of the subject */
	const unsigned char *packed; /* NULL: struck */
};

struct entry_shelf {
	struct arena *arena; /* of what is packed */
	struct arena *page;  /* of the entries at hand */
	struct pack_room room;
	struct shelved *items; /* by row while they are read, then by subject, day and id */
	int32_t count;
	int32_t size;
	char (*subjects)[ID_SIZE];
	int32_t *ends; /* of each subject's items */
	int32_t subject_count;
	int32_t next; /* the subject after the one that was asked for last */
};

struct entry_shelf *store_shelf_new(void)
{
	struct entry_shelf *shelf = block_new(sizeof *shelf);
	shelf->arena = arena_new();
	shelf->page = arena_new();
	return shelf;
}

void store_shelf_free(struct entry_shelf *shelf)
{
	if (shelf == NULL)
		return;
	arena_free(shelf->arena);
	arena_free(shelf->page);
	block_free(shelf->room.bytes);
	block_free(shelf->items);
	block_free(shelf);
}

/* --- filling --- */

static void put_row(struct entry_shelf *shelf, const struct shelved *item)
{
	if (shelf->count == shelf->size) {
		shelf->size = shelf->size == 0 ? ENTRIES_LEAST : shelf->size * 2;
		shelf->items =
			block_resize(shelf->items, (size_t)shelf->size * sizeof *shelf->items);
	}
	shelf->items[shelf->count++] = *item;
}

static bool is_wanted(const struct kind_set *kinds, const char *key)
{
	return kinds == NULL || (kinds->bits & KIND_BIT(entry_kind_read(key))) != 0;
}

/* Along the index alone. */
static enum status put_rows(struct store *store, struct entry_shelf *shelf,
	const struct shelf_wants *wants, int32_t subject, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	char before[DATE_SIZE] = "";
	struct shelved item = {.subject = subject};
	enum status status = rows_for(
		store, &shelf_statements[SHELF_ROWS], wants->subject_ids[subject], &statement, why);
	while (status == STATUS_OK && (status = sql_step(store, statement, why)) == STATUS_OK) {
		if (!is_wanted(wants->kinds, column_word(statement, 2)))
			continue;
		const char *day = column_word(statement, 1);
		if (strncmp(before, day, sizeof before - 1) != 0) {
			item.rank++;
			column_copy(statement, 1, before, sizeof before);
		}
		item.row = sqlite3_column_int64(statement, 0);
		put_row(shelf, &item);
	}
	return status == STATUS_END ? STATUS_OK : status;
}

static int compare_rows(const void *left, const void *right)
{
	int64_t a = ((const struct shelved *)left)->row;
	int64_t b = ((const struct shelved *)right)->row;
	return a < b ? -1 : a > b;
}

static int compare_told(const void *left, const void *right)
{
	const struct shelved *a = left;
	const struct shelved *b = right;
	if (a->subject != b->subject)
		return a->subject < b->subject ? -1 : 1;
	if (a->rank != b->rank)
		return a->rank < b->rank ? -1 : 1;
	return entry_pack_compare_ids(a->packed, b->packed);
}

/* [12,15,99] */
static char *write_rows(const struct shelved *items, int32_t count, char out[ROWS_SIZE])
{
	struct text_builder text = text_builder_fixed(out, ROWS_SIZE);
	for (int32_t i = 0; i < count; i++)
		text_add_format(&text, "%s%lld", i == 0 ? "[" : ",", (long long)items[i].row);
	text_add(&text, "]");
	return out;
}

/* Those of them that stand, in the order of their rows; stands: which item each is. */
static enum status read_some(struct store *store, struct entry_shelf *shelf, struct shelved *items,
	int32_t some, struct entry *entries, struct shelved **stands, int32_t *count,
	struct fault *why)
{
	enum { ROW_COLUMN = 14 };
	char rows[ROWS_SIZE];
	sqlite3_stmt *statement = NULL;
	struct shelved *item = items;
	enum status status = rows_for(store, &shelf_statements[SHELF_ENTRIES],
		write_rows(items, some, rows), &statement, why);
	while (status == STATUS_OK && (status = sql_step(store, statement, why)) == STATUS_OK) {
		int64_t row = sqlite3_column_int64(statement, ROW_COLUMN);
		while (item < items + some && item->row < row)
			item++;
		assert(item < items + some && item->row == row);
		entry_reader.read(statement, shelf->page, &entries[*count]);
		stands[(*count)++] = item++;
	}
	return status == STATUS_END ? STATUS_OK : status;
}

/* Some entries with their parts. */
static enum status pack_some(struct store *store, struct entry_shelf *shelf, struct shelved *items,
	int32_t some, struct fault *why)
{
	struct shelved *stands[AT_ONCE];
	int32_t count = 0;
	arena_reset(shelf->page);
	struct entry *entries = arena_array(shelf->page, (size_t)some, sizeof *entries);
	enum status status = read_some(store, shelf, items, some, entries, stands, &count, why);
	if (status == STATUS_OK)
		status = entry_parts_read(store, shelf->page, entries, count, why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		stands[i]->packed = entry_pack(&entries[i], &shelf->room, shelf->arena);
	return status;
}

static enum status pack_all(struct store *store, struct entry_shelf *shelf, struct fault *why)
{
	enum status status = STATUS_OK;
	for (int32_t at = 0; status == STATUS_OK && at < shelf->count; at += AT_ONCE) {
		int32_t some = shelf->count - at < AT_ONCE ? shelf->count - at : AT_ONCE;
		status = pack_some(store, shelf, shelf->items + at, some, why);
	}
	return status;
}

/* Struck ones go, the rest as they are told. */
static void put_in_order(struct entry_shelf *shelf)
{
	int32_t kept = 0;
	for (int32_t i = 0; i < shelf->count; i++)
		if (shelf->items[i].packed != NULL)
			shelf->items[kept++] = shelf->items[i];
	shelf->count = kept;
	if (kept > 0)
		qsort(shelf->items, (size_t)kept, sizeof *shelf->items, compare_told);
	for (int32_t i = 0, subject = 0; subject < shelf->subject_count; subject++) {
		while (i < kept && shelf->items[i].subject == subject)
			i++;
		shelf->ends[subject] = i;
	}
}

static enum status how_many(struct store *store, int32_t *out, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	int64_t rows = 0;
	enum status status = sql_get(store, &shelf_statements[SHELF_LAST_ROW], &statement, why);
	if (status == STATUS_OK)
		status = rows_number(store, statement, &rows, why);
	rows /= LOG_SHARE;
	*out = rows < ENTRIES_LEAST  ? ENTRIES_LEAST
	       : rows > ENTRIES_MOST ? ENTRIES_MOST
				     : (int32_t)rows;
	return status;
}

enum status store_shelf_fill(struct store *store, struct entry_shelf *shelf,
	const struct shelf_wants *wants, int32_t *taken, struct fault *why)
{
	const size_t room = (size_t)wants->count + 1;
	int32_t most = 0;
	int32_t at = 0;
	enum status status = how_many(store, &most, why);
	arena_reset(shelf->arena);
	shelf->count = 0;
	shelf->next = 0;
	shelf->subjects = arena_array(shelf->arena, room, sizeof *shelf->subjects);
	shelf->ends = arena_array(shelf->arena, room, sizeof *shelf->ends);
	for (; status == STATUS_OK && at < wants->count && shelf->count < most; at++) {
		text_copy(shelf->subjects[at], ID_SIZE, wants->subject_ids[at]);
		status = put_rows(store, shelf, wants, at, why);
	}
	shelf->subject_count = *taken = at;
	if (shelf->count > 0)
		qsort(shelf->items, (size_t)shelf->count, sizeof *shelf->items, compare_rows);
	if (status == STATUS_OK)
		status = pack_all(store, shelf, why);
	put_in_order(shelf);
	if (status != STATUS_OK)
		shelf->subject_count = 0;
	return status;
}

/* --- one subject --- */

/* The one after the last first: they are asked for in the order in which they were taken up. */
static bool find_subject(struct entry_shelf *shelf, const char *subject_id, int32_t *out)
{
	for (int32_t i = 0; i < shelf->subject_count; i++) {
		int32_t at = (shelf->next + i) % shelf->subject_count;
		if (strcmp(shelf->subjects[at], subject_id) != 0)
			continue;
		shelf->next = at + 1;
		*out = at;
		return true;
	}
	return false;
}

static enum status label_of(
	struct store *store, const char *subject_id, char out[LABEL_SIZE], struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status =
		rows_for(store, &shelf_statements[SHELF_LABEL], subject_id, &statement, why);
	if (status == STATUS_OK)
		status = sql_step(store, statement, why);
	if (status == STATUS_OK)
		column_copy(statement, 0, out, LABEL_SIZE);
	if (statement != NULL)
		sql_done(statement);
	return status == STATUS_END ? STATUS_OK : status;
}

enum status store_shelf_list(struct store *store, struct entry_shelf *shelf, const char *subject_id,
	struct arena *arena, struct entry **out, int32_t *count, struct fault *why)
{
	int32_t subject;
	char label[LABEL_SIZE] = "";
	if (!find_subject(shelf, subject_id, &subject))
		return STATUS_ABSENT;
	int32_t from = subject > 0 ? shelf->ends[subject - 1] : 0;
	int32_t all = shelf->ends[subject] - from;
	struct entry *entries = arena_array(arena, (size_t)all + 1, sizeof *entries);
	*out = entries;
	*count = 0;
	if (all == 0)
		return STATUS_OK;
	enum status status = label_of(store, subject_id, label, why);
	for (int32_t i = 0; status == STATUS_OK && i < all; i++) {
		struct entry *entry = &entries[*count];
		*entry = (struct entry){.planned = false};
		entry_unpack(shelf->items[from + i].packed, arena, entry);
		text_copy(entry->subject.id, sizeof entry->subject.id, subject_id);
		if (entry->subject.kind == SUBJECT_TREE)
			memcpy(entry->subject.label, label, sizeof label);
		if (!store->leaves_out_private || !entry_is_private(entry))
			(*count)++;
	}
	return status;
}
