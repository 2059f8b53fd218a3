/* SPDX-License-Identifier: MIT */
/* merge.h - another copy of the log taken in: the union of both by id. The other file is only
 * read, and nothing that it holds besides the tables of a log is looked at. */
#ifndef STORE_MERGE_H
#define STORE_MERGE_H

#include "store/store.h"

enum merge_note_kind {
	MERGE_NOTE_KEPT,   /* struck on one side, changed on the other: it stands */
	MERGE_NOTE_LABEL,  /* a label or name that two records bear now */
	MERGE_NOTE_DOUBLE, /* likely the same thing typed on both sides */
	MERGE_NOTE_APART,  /* said on both sides, both kept: what a tree is, where it stands */
	MERGE_NOTE_TOTAL
};

struct merge_note {
	enum merge_note_kind kind;
	const char *text; /* one line */
};

struct merge_account {
	int64_t acts;    /* of the other log, brought */
	int64_t trees;   /* new ones that stand */
	int64_t entries; /* new ones that stand */
	int64_t others;  /* other new rows, parts of entries and trees not counted */
	int64_t changed; /* fields of records that were there before */
	int32_t counts[MERGE_NOTE_TOTAL];
	const struct merge_note *notes; /* at most NOTES_EACH of a kind */
	int32_t note_count;
};
enum { NOTES_EACH = 200 };

/* Inside an act of ACT_MERGE: brings what the other log has and this one has not. Nothing brought:
 * the act has nothing in it. STATUS_CONFLICT: it is the log itself, or, unless `unrelated`, one
 * that never was a copy of it; STATUS_DAMAGED names a file that is damaged or no log.
 * After a failure the act is to be rolled back. */
enum status store_merge(struct store *store, const char *other, bool unrelated, struct arena *arena,
	struct merge_account *out, struct fault *why) MUST_CHECK;

/* A copy of the log to try things on, in the folder of its copies or, where that cannot be
 * written, that of temporary files. store_trial_close removes it. */
enum status store_trial_open(
	struct store *store, struct clock *clock, struct store **out, struct fault *why) MUST_CHECK;
void store_trial_close(struct store *trial); /* NULL is fine */

#endif
