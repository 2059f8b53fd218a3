/* SPDX-License-Identifier: MIT */
/* merging.h - the steps of store_merge. Only files of src/store include this. */
#ifndef STORE_MERGING_H
#define STORE_MERGING_H

#include "clash_rows.h"
#include "tables.h"

#include "store/merge.h"

enum { MERGE_TABLES_MAX = 48 };

struct merging {
	struct store *store; /* ours */
	struct store *other;
	struct arena *arena;
	struct merge_account *account;
	struct merge_note *notes;
	int32_t note_room;
	struct sight sight;
	struct sight other_sight;
	bool was_merged; /* our log, before this */
	bool other_was_merged;
	bool other_has_declined; /* acts that its grower undid with a merge: they stay there */
	bool came_back;          /* an act that was undone with a merge here is brought again */
	bool holds;              /* of those that stay there some came along, see sight.h */
	int64_t rows_before[MERGE_TABLES_MAX]; /* the last row of each table, as store_tables has */
	int64_t changes_before;
	int64_t changes_brought; /* the last row of `change` after the union, before the settling */
	char last_set[ID_SIZE];  /* asked about last, with what brought it */
	char last_by[ID_SIZE];
};

/* Which tables name rows of which others. parent NULL: entry.subject_kind says it. */
struct reference {
	const char *table;
	const char *column;
	const char *parent;
	bool is_part; /* the row is part of what it names, and goes and comes with it */
};
const struct reference *merge_references(void); /* ended by a NULL table */

/* The other log, opened for reading only and found sound; in a copy where it is of an older schema
 * or a save into it was broken off. */
enum status merge_other_open(
	struct store *store, const char *path, struct store **out, struct fault *why) MUST_CHECK;
void merge_other_close(struct store *other); /* NULL is fine */

/* Acts, changes and rows that only the other has. */
enum status merge_bring(struct merging *merging, struct fault *why) MUST_CHECK;
/* Adds an act of the other log, of which row has id, typed_at, what, kind, undoes and device. by:
 * this merge, or SIGHT_HELD. */
enum status merge_take_set(
	struct merging *merging, sqlite3_stmt *row, const char *by, struct fault *why) MUST_CHECK;
/* Once the acts are here: those of the declined ones that they hang on. */
enum status merge_hold(struct merging *merging, struct fault *why) MUST_CHECK;
/* Did this merge bring the act? */
enum status merge_is_brought(
	struct merging *merging, const char *set_id, bool *out, struct fault *why) MUST_CHECK;
/* Is the act held, by this merge or one before? */
enum status merge_is_held(
	struct merging *merging, const char *set_id, bool *out, struct fault *why) MUST_CHECK;
/* Has the other log the act too, and does it count there? */
enum status merge_other_has(
	struct merging *merging, const char *set_id, bool *out, struct fault *why) MUST_CHECK;
/* Changes of the other log, each with its act, table, row and field. */
enum status merge_mark_set(
	struct merging *merging, const char *set_id, struct fault *why) MUST_CHECK;

/* Gives every field that the union touched the value that its history now says. */
enum status merge_settle(struct merging *merging, struct fault *why) MUST_CHECK;
enum status merge_settle_field(
	struct merging *merging, const struct row_change *field, struct fault *why) MUST_CHECK;
/* Gives a field the value, and tells it where the file's newest change says another. */
enum status merge_give_value(struct merging *merging, const struct row_change *field,
	const char *value, struct arena *arena, bool *changed, struct fault *why) MUST_CHECK;
/* A field of a row that does not count: it lies struck, each other field as the newest change in
 * the file left it, so that file and history agree. */
enum status merge_lie_low(
	struct merging *merging, const struct row_change *field, struct fault *why) MUST_CHECK;
/* The rows of acts that came along. */
enum status merge_settle_held(struct merging *merging, struct fault *why) MUST_CHECK;
/* What was struck on one side and changed on the other stands. */
enum status merge_keep_edited(struct merging *merging, struct fault *why) MUST_CHECK;

/* What the grower is to look at. */
enum status merge_tell(struct merging *merging, struct fault *why) MUST_CHECK;
void merge_note(struct merging *merging, enum merge_note_kind kind, const char *format, ...)
	__attribute__((format(printf, 3, 4)));

#endif
