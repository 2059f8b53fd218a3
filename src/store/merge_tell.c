/* SPDX-License-Identifier: MIT */
/* What the grower is to look at after a merge: nothing of it is decided here. */
#include "merging.h"
#include "rows.h"
#include "statements.h"
#include "title.h"

#include "core/text.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum { TELL_ENTRIES, TELL_LIKE, TELL_OPINIONS, TELL_STAYS, TELL_DAYS, TELL_HOURS };

/* Parts of e that o has not. */
#define LACKS(e, o, table, same)                                                           \
	"NOT EXISTS (SELECT 1 FROM " table " a WHERE a.entry_id = " e " AND a.struck = 0 " \
	"AND NOT EXISTS (SELECT 1 FROM " table " b WHERE b.entry_id = " o                  \
	" AND b.struck = 0 AND " same "))"
#define SAME_PARTS(table, same) \
	LACKS("?1", "o.id", table, same) " AND " LACKS("o.id", "?1", table, same)
#define SAME_AMOUNT                                                  \
	"a.field = b.field AND a.low IS b.low AND a.high IS b.high " \
	"AND a.containers_low IS b.containers_low AND a.container = b.container"
#define SAME_DETAIL "a.field = b.field AND a.value = b.value"
#define SAME_MEASURE                                                   \
	"a.what = b.what AND a.stem = b.stem AND a.low_um = b.low_um " \
	"AND a.high_um = b.high_um"

/* clang-format off */
const struct statement merge_tell_statements[] = {
	[TELL_ENTRIES] = {"tell.entries",
		"SELECT id, made FROM entry WHERE row > ?1 AND struck = 0 ORDER BY row"},
	[TELL_LIKE] = {"tell.like",
		"SELECT o.id, o.made FROM entry e JOIN entry o ON o.subject_id = e.subject_id "
		"AND o.day_low IS e.day_low AND o.kind = e.kind WHERE e.id = ?1 AND o.row <= ?2 "
		"AND o.struck = 0 AND o.subject_kind = e.subject_kind AND o.day_high IS e.day_high "
		"AND o.planned = e.planned AND o.season_year IS e.season_year AND "
		SAME_PARTS("amount", SAME_AMOUNT) " AND " SAME_PARTS("detail", SAME_DETAIL) " AND "
		SAME_PARTS("measure", SAME_MEASURE) " ORDER BY o.id"},
	[TELL_OPINIONS] = {"tell.opinions",
		"SELECT t.label, i.what, i.name, o.name, o.made FROM identity i JOIN identity o "
		"ON o.tree_id = i.tree_id AND o.what = i.what AND o.row <= ?1 AND o.struck = 0 "
		"JOIN tree t ON t.id = i.tree_id WHERE i.row > ?1 AND i.struck = 0 "
		"ORDER BY t.label_sort, i.id, o.id"},
	[TELL_STAYS] = {"tell.stays",
		"SELECT min(t.label), group_concat(s.name, ' and ') FROM tree_spot ts "
		"JOIN tree t ON t.id = ts.tree_id JOIN spot s ON s.id = ts.spot_id "
		"WHERE ts.struck = 0 AND ts.to_day IS NULL AND t.struck = 0 AND t.is_gone = 0 "
		"GROUP BY ts.tree_id HAVING count(DISTINCT ts.spot_id) > 1 ORDER BY min(t.label_sort)"},
	[TELL_DAYS] = {"tell.days",
		"SELECT r.station, count(*) FROM weather_day r WHERE r.row > ?1 AND r.struck = 0 "
		"AND EXISTS (SELECT 1 FROM weather_day o WHERE o.day = r.day AND o.kind = r.kind "
		"AND o.station = r.station AND o.struck = 0 AND o.row <= ?1) GROUP BY r.station"},
	[TELL_HOURS] = {"tell.hours",
		"SELECT r.station, count(*) FROM weather_hour r WHERE r.row > ?1 AND r.struck = 0 "
		"AND EXISTS (SELECT 1 FROM weather_hour o WHERE o.day = r.day AND o.hour = r.hour "
		"AND o.kind = r.kind AND o.station = r.station AND o.struck = 0 AND o.row <= ?1) "
		"GROUP BY r.station"},
	{NULL, NULL},
};
/* clang-format on */

void merge_note(struct merging *merging, enum merge_note_kind kind, const char *format, ...)
{
	char text[1200];
	va_list list;
	struct merge_account *account = merging->account;
	if (account->counts[kind]++ >= NOTES_EACH)
		return;
	if (account->note_count == merging->note_room) {
		size_t size = sizeof *merging->notes;
		int32_t room = merging->note_room == 0 ? 16 : 2 * merging->note_room;
		merging->notes = arena_grow(merging->arena, merging->notes,
			(size_t)account->note_count * size, (size_t)room * size);
		merging->note_room = room;
		account->notes = merging->notes;
	}
	va_start(list, format);
	(void)vsnprintf(text, sizeof text, format, list);
	va_end(list);
	merging->notes[account->note_count++] = (struct merge_note){
		.kind = kind, .text = text_clean_whole(merging->arena, text, TEXT_PLAIN)};
}

static int64_t before(const struct merging *merging, const char *table)
{
	const struct table_row_kind *tables = store_tables();
	for (int32_t i = 0; tables[i].name != NULL; i++)
		if (strcmp(tables[i].name, table) == 0)
			return merging->rows_before[i];
	return 0;
}

/* --- labels and names --- */

static enum status tell_names(struct merging *merging, const char *table, struct fault *why)
{
	char sql[320];
	sqlite3_stmt *rows = NULL;
	bool is_tree = strcmp(table, "tree") == 0;
	const char *name = is_tree ? "label" : "name";
	(void)snprintf(sql, sizeof sql,
		"SELECT min(%s), count(*) FROM %s WHERE struck = 0 %s GROUP BY %s_folded "
		"HAVING count(*) > 1 ORDER BY 1",
		name, table, is_tree ? "AND is_gone = 0" : "", name);
	enum status status = sql_prepare(merging->store, sql, &rows, why);
	while (status == STATUS_OK && (status = sql_step(merging->store, rows, why)) == STATUS_OK)
		merge_note(merging, MERGE_NOTE_LABEL, "%s: %lld %ss have it", column_word(rows, 0),
			(long long)sqlite3_column_int64(rows, 1), table);
	sqlite3_finalize(rows);
	return status == STATUS_END ? STATUS_OK : status;
}

/* --- doubles --- */

static enum status is_ours_alone(
	struct merging *merging, const char *set_id, bool *out, struct fault *why)
{
	bool other_has = false;
	*out = false;
	enum status status = merge_other_has(merging, set_id, &other_has, why);
	if (status == STATUS_OK && !other_has)
		status = set_counts(&merging->sight, set_id, out, why);
	return status;
}

/* The first entry typed here that says the same as one that was brought; "" none. */
static enum status find_like(
	struct merging *merging, const char *id, char like[ID_SIZE], struct fault *why)
{
	sqlite3_stmt *rows = NULL;
	bool is_like = false;
	enum status status =
		rows_for(merging->store, &merge_tell_statements[TELL_LIKE], id, &rows, why);
	if (status != STATUS_OK)
		return status;
	bind_i64(rows, 2, before(merging, "entry"));
	while (!is_like && (status = sql_step(merging->store, rows, why)) == STATUS_OK) {
		char made[ID_SIZE];
		column_copy(rows, 0, like, ID_SIZE);
		column_copy(rows, 1, made, sizeof made);
		status = is_ours_alone(merging, made, &is_like, why);
		if (status != STATUS_OK)
			break;
	}
	sql_done(rows);
	if (!is_like)
		like[0] = '\0';
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status tell_double(struct merging *merging, const char *id, struct fault *why)
{
	char like[ID_SIZE];
	struct row_title here = {.text = ""};
	struct row_title there = {.text = ""};
	enum status status = find_like(merging, id, like, why);
	if (status != STATUS_OK || like[0] == '\0')
		return status;
	status = row_title(merging->store, "entry", like, &here, why);
	if (status == STATUS_OK)
		status = row_title(merging->store, "entry", id, &there, why);
	if (status == STATUS_OK && strcmp(here.text, there.text) == 0)
		merge_note(merging, MERGE_NOTE_DOUBLE, "%s (%s and %s)", here.text, like, id);
	else if (status == STATUS_OK)
		merge_note(merging, MERGE_NOTE_DOUBLE, "%s (%s), and %s (%s)", here.text, like,
			there.text, id);
	return status;
}

static enum status tell_doubles(struct merging *merging, struct fault *why)
{
	sqlite3_stmt *rows = NULL;
	enum status status =
		sql_prepare(merging->store, merge_tell_statements[TELL_ENTRIES].sql, &rows, why);
	if (status == STATUS_OK)
		bind_i64(rows, 1, before(merging, "entry"));
	while (status == STATUS_OK && (status = sql_step(merging->store, rows, why)) == STATUS_OK) {
		char id[ID_SIZE];
		column_copy(rows, 0, id, sizeof id);
		status = tell_double(merging, id, why);
	}
	sqlite3_finalize(rows);
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status tell_weather(
	struct merging *merging, int which, const char *table, const char *what, struct fault *why)
{
	sqlite3_stmt *rows = NULL;
	enum status status =
		sql_prepare(merging->store, merge_tell_statements[which].sql, &rows, why);
	if (status == STATUS_OK)
		bind_i64(rows, 1, before(merging, table));
	while (status == STATUS_OK && (status = sql_step(merging->store, rows, why)) == STATUS_OK) {
		const char *station = column_word(rows, 0);
		merge_note(merging, MERGE_NOTE_DOUBLE, "weather%s%s: %lld %s are there twice",
			station[0] == '\0' ? "" : " of ", station,
			(long long)sqlite3_column_int64(rows, 1), what);
	}
	sqlite3_finalize(rows);
	return status == STATUS_END ? STATUS_OK : status;
}

/* --- said on both sides --- */

static enum status tell_opinions(struct merging *merging, struct fault *why)
{
	sqlite3_stmt *rows = NULL;
	enum status status =
		sql_prepare(merging->store, merge_tell_statements[TELL_OPINIONS].sql, &rows, why);
	if (status == STATUS_OK)
		bind_i64(rows, 1, before(merging, "identity"));
	while (status == STATUS_OK && (status = sql_step(merging->store, rows, why)) == STATUS_OK) {
		bool is_apart = false;
		char made[ID_SIZE];
		column_copy(rows, 4, made, sizeof made);
		status = is_ours_alone(merging, made, &is_apart, why);
		if (status == STATUS_OK && is_apart)
			merge_note(merging, MERGE_NOTE_APART, "%s, %s: \"%s\" here, \"%s\" there",
				column_word(rows, 0), column_word(rows, 1), column_word(rows, 3),
				column_word(rows, 2));
	}
	sqlite3_finalize(rows);
	return status == STATUS_END ? STATUS_OK : status;
}

static enum status tell_stays(struct merging *merging, struct fault *why)
{
	sqlite3_stmt *rows = NULL;
	enum status status =
		sql_prepare(merging->store, merge_tell_statements[TELL_STAYS].sql, &rows, why);
	while (status == STATUS_OK && (status = sql_step(merging->store, rows, why)) == STATUS_OK)
		merge_note(merging, MERGE_NOTE_APART, "%s stands in %s", column_word(rows, 0),
			column_word(rows, 1));
	sqlite3_finalize(rows);
	return status == STATUS_END ? STATUS_OK : status;
}

enum status merge_tell(struct merging *merging, struct fault *why)
{
	static const char *const named[] = {"tree", "area", "spot", "product", "container"};
	enum status status = STATUS_OK;
	for (size_t i = 0; i < sizeof named / sizeof named[0] && status == STATUS_OK; i++)
		status = tell_names(merging, named[i], why);
	if (status == STATUS_OK)
		status = tell_doubles(merging, why);
	if (status == STATUS_OK)
		status = tell_weather(merging, TELL_DAYS, "weather_day", "days", why);
	if (status == STATUS_OK)
		status = tell_weather(merging, TELL_HOURS, "weather_hour", "hours", why);
	if (status == STATUS_OK)
		status = tell_opinions(merging, why);
	return status == STATUS_OK ? tell_stays(merging, why) : status;
}
