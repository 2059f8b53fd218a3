/* SPDX-License-Identifier: MIT */
/* review.h - the rules run over the yard, with the grower's answers applied. */
#ifndef REPORT_REVIEW_H
#define REPORT_REVIEW_H

#include "dossier/yard.h"
#include "rules/rule.h"
#include "rules/saw.h"

enum flag_state { FLAG_OPEN, FLAG_PUT_OFF, FLAG_SET_ASIDE, FLAG_LEFT };
const char *flag_state_key(enum flag_state state); /* "put-off" */

struct review_item {
	struct flag flag;
	enum flag_state state;
	struct maybe_date until; /* put off until */
	int32_t times_put_off;
	const char *reason; /* of setting aside, or why it is left; "" else */
	int32_t group;      /* how many items from this one on read alike but for the tree, itself
	                       in; 1: it stands alone; 0: one of those before it counts it */
	int32_t trees;      /* of a folded line: how many trees ("girth not known: 41 trees") */
};

struct review {
	struct review_item *items; /* in the order of decided urgency; folded lines among notes */
	int32_t count;
	int32_t open;  /* items with state open and urgency act, due or soon */
	int32_t notes; /* open notes: folded to one line with this count where space is */
	struct maybe_date next_change;
};

enum { REVIEW_NOTES_SHOWN = 3 }; /* more than these are told by their number */

/* What to say when an item is put off beyond its window ("its window closes before that, on 12 May
 * 2026"); "" when there is nothing to say. Returns out. */
const char *review_put_off_says(
	const struct review_item *item, struct date until, char *out, size_t size);

/* "A1, A2, A3": the trees of an item and of those grouped behind it, as many as fit; then how many
 * more ("A1, A2 and 10 more"). Returns out. */
const char *review_labels(const struct review_item *item, char *out, size_t size);
/* A text of the item's flag; of several trees, LABEL stands in it for the label of the first.
 * Returns out. */
const char *review_words(const struct review_item *item, const char *text, char *out, size_t size);

struct keeper;

struct review_options {
	const char *tree_id; /* NULL: the whole yard */
	bool all;            /* put off and set aside too */
	/* Of all: those items alone for which it answers true; NULL: each. */
	bool (*wants)(const struct review_item *item);
	bool anew; /* works everything out, whatever the log has kept of it */
	/* So many open notes are listed, whichever, and the rest only counted; 0: all are listed.
	 * Not together with `wants`. */
	int32_t notes_enough;
	struct keeper *keeper; /* gets what was worked out; NULL: nobody may write it */
	/* Gets each dossier asked for that had to be told; NULL: nobody. */
	void (*told)(void *owner, const struct dossier *dossier);
	void *told_owner;
};
/* What the log has kept and is good on the yard's day is not worked out again (report/keeper.h). */
enum status review_make(struct yard *yard, const struct review_options *options,
	struct arena *arena, struct review *out, struct fault *why) MUST_CHECK;

/* What would be flagged if this were done: flags there with the entry and not without it, run for
 * the later of today and the entry's day; settles gets the rules it would settle, in words. */
struct ask_answer {
	struct review_item *items;
	int32_t count;
	bool any_act;
	char said[FAULT_TEXT_SIZE]; /* the reading, in words */
	char settles[TEXT_SIZE];
	struct saw_term terms[SAW_TERMS_MAX]; /* of a cut */
	int32_t term_count;
};
enum status review_ask(struct yard *yard, const struct reading *reading, struct arena *arena,
	struct ask_answer *out, struct fault *why) MUST_CHECK;

#endif
