/* SPDX-License-Identifier: MIT */
/* Reading entries. The query's own way in (a subject, a batch, a span of days, a kind, all) picks
 * the statement, so that each runs along an index; the rest are filters. Parts are then read for
 * many entries at a time. */
#include "entry_parts.h"
#include "entry_row.h"
#include "statements.h"

#include <string.h>

enum way { WAY_SUBJECT, WAY_BATCH, WAY_DAYS, WAY_KIND, WAY_ALL, WAY_TOTAL };
enum { ENTRY_LOAD = 2 * WAY_TOTAL, ENTRY_FIRST_PICK };

#define FROM_STANDING " FROM entry e WHERE e.struck = 0"
#define START "SELECT " ENTRY_COLUMNS FROM_STANDING
#define FILTERS                                                                    \
	" AND (?1 IS NULL OR e.subject_id = ?1) AND (?2 IS NULL OR e.kind = ?2)"   \
	" AND (?3 IS NULL OR e.day_low >= ?3) AND (?4 IS NULL OR e.day_low <= ?4)" \
	" AND (?5 < 0 OR e.planned = ?5) AND (?6 IS NULL OR e.batch = ?6)"
#define BY_SUBJECT "SELECT " ENTRY_COLUMNS_OF("?1") FROM_STANDING " AND e.subject_id = ?1" FILTERS
#define BY_BATCH START " AND e.batch = ?6 AND e.batch <> ''" FILTERS
#define BY_DAYS                                                                     \
	START " AND e.day_low BETWEEN coalesce(?3, '0000-01-01') AND coalesce(?4, " \
	      "'9999-12-31')" FILTERS
#define BY_KIND START " AND e.kind = ?2" FILTERS
#define BY_NOTHING START FILTERS
/* A day that is not known at all stands before all others. */
#define OLDEST " ORDER BY e.day_low, e.id LIMIT ?7"
#define NEWEST " ORDER BY e.day_low DESC, e.id DESC LIMIT ?7"

const struct statement entry_read_statements[] = {
	[WAY_SUBJECT] = {"entry.subject_oldest", BY_SUBJECT OLDEST},
	[WAY_BATCH] = {"entry.batch_oldest", BY_BATCH OLDEST},
	[WAY_DAYS] = {"entry.days_oldest", BY_DAYS OLDEST},
	[WAY_KIND] = {"entry.kind_oldest", BY_KIND OLDEST},
	[WAY_ALL] = {"entry.all_oldest", BY_NOTHING OLDEST},
	[WAY_TOTAL + WAY_SUBJECT] = {"entry.subject_newest", BY_SUBJECT NEWEST},
	[WAY_TOTAL + WAY_BATCH] = {"entry.batch_newest", BY_BATCH NEWEST},
	[WAY_TOTAL + WAY_DAYS] = {"entry.days_newest", BY_DAYS NEWEST},
	[WAY_TOTAL + WAY_KIND] = {"entry.kind_newest", BY_KIND NEWEST},
	[WAY_TOTAL + WAY_ALL] = {"entry.all_newest", BY_NOTHING NEWEST},
	[ENTRY_LOAD] = {"entry.load", START " AND e.id = ?1"},
	/* along the days up to the first pick: soon there, in a yard that is picked at all */
	[ENTRY_FIRST_PICK] = {"entry.first_pick",
		"SELECT coalesce(day_low, day_high) FROM entry INDEXED BY entry_day "
		"WHERE +kind = 'pick' AND struck = 0 AND planned = 0 "
		"AND EXISTS (SELECT 1 FROM entry p WHERE p.kind = 'pick') ORDER BY day_low LIMIT "
		"1"},
	{NULL, NULL},
};

const char *const subject_words[4] = {
	[SUBJECT_PLACE] = "place",
	[SUBJECT_AREA] = "area",
	[SUBJECT_SPOT] = "spot",
	[SUBJECT_TREE] = "tree",
};

/* A kind that this program does not know is kept as it stands and shown as a note. */
enum entry_kind entry_kind_read(const char *key)
{
	enum entry_kind kind = kind_of_key(key);
	return kind == KIND_TOTAL ? KIND_NOTE : kind;
}

static void read_entry(sqlite3_stmt *statement, struct arena *arena, void *out)
{
	struct entry *entry = out;
	column_copy(statement, 0, entry->id, sizeof entry->id);
	entry->subject.kind = (enum subject_kind)ROW_WORD(subject_words, column_word(statement, 1));
	column_copy(statement, 2, entry->subject.id, sizeof entry->subject.id);
	entry->kind = entry_kind_read(column_word(statement, 3));
	column_date_span(statement, 4, &entry->day);
	column_copy(statement, 7, entry->typed_at, sizeof entry->typed_at);
	entry->words = column_arena(statement, 8, arena);
	entry->note = column_arena(statement, 9, arena);
	column_copy(statement, 10, entry->batch, sizeof entry->batch);
	entry->planned = column_flag(statement, 11);
	entry->season_year = column_maybe_i32(statement, 12);
	column_copy(statement, 13, entry->subject.label, sizeof entry->subject.label);
}

const struct row_reader entry_reader = {read_entry, sizeof(struct entry)};

/* Returns how many are left. */
static int32_t drop_private(struct entry *entries, int32_t count)
{
	int32_t kept = 0;
	for (int32_t i = 0; i < count; i++)
		if (!entry_is_private(&entries[i]))
			entries[kept++] = entries[i];
	return kept;
}

enum status entries_list(struct store *store, sqlite3_stmt *statement, struct arena *arena,
	struct entry **out, int32_t *count, struct fault *why)
{
	void *items = NULL;
	enum status status = rows_list(store, statement, &entry_reader, arena, &items, count, why);
	if (status != STATUS_OK)
		return status;
	*out = items;
	status = entry_parts_read(store, arena, *out, *count, why);
	if (status == STATUS_OK && store->leaves_out_private)
		*count = drop_private(*out, *count);
	return status;
}

enum status store_entry_load(struct store *store, const char *id, struct arena *arena,
	struct entry *out, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	enum status status =
		rows_for(store, &entry_read_statements[ENTRY_LOAD], id, &statement, why);
	if (status == STATUS_OK)
		status = rows_one(store, statement, &entry_reader, arena, out, why);
	if (status == STATUS_ABSENT)
		return fault_set(why, status, "there is no entry %s, or it was struck", id);
	return status == STATUS_OK ? entry_parts_read(store, arena, out, 1, why) : status;
}

enum status store_first_pick(
	struct store *store, bool *any, struct maybe_date *day, struct fault *why)
{
	sqlite3_stmt *statement = NULL;
	*any = false;
	*day = (struct maybe_date){0};
	enum status status =
		sql_get(store, &entry_read_statements[ENTRY_FIRST_PICK], &statement, why);
	if (status == STATUS_OK)
		status = sql_step(store, statement, why);
	if (status != STATUS_OK)
		return status == STATUS_END ? STATUS_OK : status;
	*any = true;
	*day = column_maybe_date(statement, 0);
	sql_done(statement);
	return STATUS_OK;
}

static enum way way_of(const struct entry_query *query)
{
	if (query->subject_id != NULL)
		return WAY_SUBJECT;
	if (query->batch != NULL && query->batch[0] != '\0')
		return WAY_BATCH;
	if (query->from.known || query->to.known)
		return WAY_DAYS;
	return query->kind_given ? WAY_KIND : WAY_ALL;
}

static void bind_query(sqlite3_stmt *statement, const struct entry_query *query)
{
	bind_text(statement, 1, query->subject_id);
	bind_text(statement, 2, query->kind_given ? kind_row(query->kind)->key : NULL);
	bind_maybe_date(statement, 3, query->from);
	bind_maybe_date(statement, 4, query->to);
	bind_i64(statement, 5, query->planned);
	bind_text(statement, 6, query->batch);
	bind_i64(statement, 7, query->most > 0 ? query->most : -1);
}

enum status store_entry_list(struct store *store, const struct entry_query *query,
	struct arena *arena, struct entry **out, int32_t *count, struct fault *why)
{
	int key = (int)way_of(query) + (query->newest_first ? WAY_TOTAL : 0);
	sqlite3_stmt *statement = NULL;
	enum status status = sql_get(store, &entry_read_statements[key], &statement, why);
	if (status != STATUS_OK)
		return status;
	bind_query(statement, query);
	return entries_list(store, statement, arena, out, count, why);
}

struct each {
	struct store *store;
	sqlite3_stmt *statement;
	struct arena *arena; /* of the entries at hand */
	enum status (*visit)(void *context, const struct entry *entry, struct fault *why);
	void *context;
};

/* The next some entries, each visited. STATUS_END: there was none left. */
static enum status visit_some(struct each *each, struct fault *why)
{
	enum { SOME = 256 };
	enum status status = STATUS_OK;
	int32_t count = 0;
	arena_reset(each->arena);
	struct entry *entries = arena_array(each->arena, SOME, sizeof *entries);
	while (count < SOME && status == STATUS_OK) {
		status = sql_step(each->store, each->statement, why);
		if (status == STATUS_OK)
			read_entry(each->statement, each->arena, &entries[count++]);
	}
	enum status ended = status;
	if (status == STATUS_OK || status == STATUS_END)
		status = entry_parts_read(each->store, each->arena, entries, count, why);
	if (status == STATUS_OK && each->store->leaves_out_private)
		count = drop_private(entries, count);
	for (int32_t i = 0; i < count && status == STATUS_OK; i++)
		status = each->visit(each->context, &entries[i], why);
	return status == STATUS_OK ? ended : status;
}

/* A statement of its own, since a visit may ask for other entries. By days, which an index has in
 * order: nothing is sorted whole. */
enum status store_entry_each(struct store *store, const struct entry_query *query,
	enum status (*visit)(void *context, const struct entry *entry, struct fault *why),
	void *context, struct fault *why)
{
	enum way way = query->kind_given && way_of(query) == WAY_KIND ? WAY_ALL : way_of(query);
	struct each each = {
		.store = store, .arena = arena_new(), .visit = visit, .context = context};
	enum status status =
		sql_prepare(store, entry_read_statements[way].sql, &each.statement, why);
	if (status == STATUS_OK)
		bind_query(each.statement, query);
	while (status == STATUS_OK)
		status = visit_some(&each, why);
	sqlite3_finalize(each.statement);
	arena_free(each.arena);
	return status == STATUS_END ? STATUS_OK : status;
}
