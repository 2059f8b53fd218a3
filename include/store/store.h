/* SPDX-License-Identifier: MIT */
/* store.h - the log file: opening, acts, undo and redo.
 *
 * The only layer that speaks SQL. One user act is one change set and one transaction: begin, any
 * number of records, commit. When commit has answered STATUS_OK the act is on the disk
 * (rollback journal, synchronous=EXTRA). */
#ifndef STORE_STORE_H
#define STORE_STORE_H

#include "core/clock.h"
#include "core/memory.h"
#include "core/record.h"

struct store;

struct store_options {
	struct clock *clock; /* not owned; outlives the store */
	/* Viewing: bytes and times stay as they are. But a save that was killed is taken back
	 * first, where that can be written; where it cannot, it is told (STATUS_DENIED). */
	bool read_only;
};

enum { SCHEMA_VERSION = 1 };
/* 'B' 'o' 'u' 'g' as a big-endian number. */
enum { STORE_APPLICATION_ID = 0x426f7567 };

/* Makes a new log; STATUS_CONFLICT when something is at path already. Mode 0600. */
enum status store_create(const char *path, const struct store_options *options,
	const struct place *place, struct store **out, struct fault *why) MUST_CHECK;
/* Opens a log that exists. STATUS_ABSENT: no such file (never creates); STATUS_DAMAGED: not a
 * log, damaged or of a newer schema, untouched, with the way to the newest good backup in *why;
 * STATUS_DENIED: no permission. An older schema: a checked copy is kept beside it, then it is
 * migrated in one transaction (a read-only store of an older schema is refused). A file or folder
 * that cannot be written opens read-only when options->read_only, else STATUS_DENIED. */
enum status store_open(const char *path, const struct store_options *options, struct store **out,
	struct fault *why) MUST_CHECK;
void store_close(struct store *store); /* NULL is fine; an open act is rolled back */
bool store_is_read_only(const struct store *store);
const char *store_path(const struct store *store);
/* The version of the SQLite library in use. */
const char *store_sqlite_version(void);
/* The clock given at opening. */
struct clock *store_clock(const struct store *store);

/* From now on no list of entries holds one that is marked private (entry_is_private), until told
 * otherwise: for what goes out of the house. */
void store_leave_out_private(struct store *store, bool leave_out);
bool store_leaves_out_private(const struct store *store);

/* For looking into what takes long: `told` hears each statement as it stands in the source, without
 * the values that go into it. NULL ends it. */
void store_set_trace(
	struct store *store, void (*told)(void *context, const char *sql), void *context);

/* --- acts --- */
enum act_kind { ACT_WORK, ACT_IMPORT, ACT_MERGE };
/* Starts a change set; `what` is what undo will name ("A3 picked 6 lb 4 oz"). STATUS_BUSY after
 * three seconds when another program holds the log; STATUS_DENIED when read-only. Begins nest
 * not at all. */
enum status store_act_begin(
	struct store *store, enum act_kind kind, const char *what, struct fault *why) MUST_CHECK;
/* An act that changed nothing leaves no change set. On failure everything of it is taken back. */
enum status store_act_commit(struct store *store, struct fault *why) MUST_CHECK;
void store_act_rollback(struct store *store);
bool store_in_act(const struct store *store);

/* Undo takes back the newest own act not yet undone; redo turns the newest undo. `what` names the
 * act turned (size TEXT_SIZE). STATUS_END: nothing to undo; STATUS_CONFLICT names the field that a
 * later change stands on. */
enum status store_undo(struct store *store, char what[TEXT_SIZE], struct fault *why) MUST_CHECK;
enum status store_redo(struct store *store, char what[TEXT_SIZE], struct fault *why) MUST_CHECK;

/* Takes back one act that the grower picks, whichever it is; of an undo, what it took is done
 * again. STATUS_END: it was taken back already. STATUS_CONFLICT names the field that a later change
 * stands on, or the act that rests on it. */
enum status store_undo_set(struct store *store, const char *set_id, char what[TEXT_SIZE],
	struct fault *why) MUST_CHECK;

/* What hangs on the records and has to be worked out anew with them (season turns): called inside
 * the act of every undo and redo, before its commit; what it answers decides. */
void store_set_after_turn(struct store *store,
	enum status (*after)(struct store *store, void *context, struct fault *why), void *context);

/* Much is to be read, and nothing written before the end: the file is locked for reading once and
 * not for every statement; others that save wait for the end. False, and nothing to end: inside an
 * act, or where the lock is not to be had. */
bool store_look_begin(struct store *store) MUST_CHECK;
void store_look_end(struct store *store);

struct change_row {
	char set_id[ID_SIZE];
	char typed_at[STAMP_TEXT_SIZE];
	const char *what;
	const char *kind; /* act undo redo import merge */
	const char *table_name;
	const char *field;     /* "" : the row was made */
	const char *old_value; /* NULL: NULL */
	const char *new_value;
	bool taken_back; /* of an act in the list of the whole log */
};
/* What one act made and changed, in that order, at most `most` of each: the row says of what (the
 * words of an entry, a label, a name) in `what`. A row made has field "". */
enum status store_history_set(struct store *store, const char *set_id, int32_t most,
	struct arena *arena, struct change_row **out, int32_t *count, struct fault *why) MUST_CHECK;
/* What happened to one record, a tree with everything logged at it, oldest first; row_id NULL: the
 * acts of the whole log, newest first, at most `most`. */
enum status store_history(struct store *store, const char *row_id, int32_t most,
	struct arena *arena, struct change_row **out, int32_t *count, struct fault *why) MUST_CHECK;

/* The id of the newest change set ("" in a log that has none): what kept flags depend on. */
enum status store_last_change(struct store *store, char out[ID_SIZE], struct fault *why) MUST_CHECK;
/* True when another connection has written since the last call (PRAGMA data_version). */
bool store_changed_elsewhere(struct store *store);
/* True when the file at the path is no longer the one that is open. */
bool store_was_moved(struct store *store);

/* --- keeping --- */
/* The daily copy: after the first save of the day, SQLite's own backup to
 * PATH.backups/YYYY-MM-DD.bough, checked after writing, 7 days and 12 months kept, mode 0600,
 * the last good one never pruned; nothing when nothing is new. `said` gets one line when there
 * is something to say (little space: only two kept). */
enum status store_backup_daily(
	struct store *store, char said[TEXT_SIZE], struct fault *why) MUST_CHECK;
/* A copy now, into the same folder; `made` gets its path. */
enum status store_backup_now(
	struct store *store, char *made, int size, struct fault *why) MUST_CHECK;
/* Puts a backup in the place of the log; what stood there is kept as PATH.replaced-STAMP. */
enum status store_backup_restore(const char *path, const char *backup, struct clock *clock,
	char *kept, int size, struct fault *why) MUST_CHECK;

/* The newest copy beside the log that passes its check; false when there is none. */
bool store_backup_newest(const char *path, char *out, size_t size);
/* Puts the way to that copy behind what is told of a damaged log; nothing when there is none. */
void store_backup_hint(const char *path, struct fault *why);

struct verify_line {
	bool is_fault;
	const char *text;
};
/* Structure, references, history, label doubles, season turns. STATUS_OK with lines that tell;
 * is_fault marks damage. */
enum status store_verify(struct store *store, struct arena *arena, struct verify_line **out,
	int32_t *count, struct fault *why) MUST_CHECK;
/* Reads what can be read of a damaged log into a new one and accounts for the rest. */
enum status store_salvage(const char *damaged, const char *fresh, struct clock *clock,
	struct arena *arena, struct verify_line **out, int32_t *count,
	struct fault *why) MUST_CHECK;

#endif
