/* SPDX-License-Identifier: MIT */
/* flag.h - what the rules found. */
#ifndef RULES_FLAG_H
#define RULES_FLAG_H

#include "core/memory.h"
#include "reckon/dossier.h"

enum urgency { URGENCY_ACT, URGENCY_DUE, URGENCY_SOON, URGENCY_NOTE, URGENCY_LEAVE };
const char *urgency_key(enum urgency urgency); /* "act" */

enum { FLAG_ENTRIES_MAX = 8, FLAG_SAYS_SIZE = 480, FLAG_EVIDENCE_MAX = 16 };

struct flag {
	const char *rule;
	char tree_id[ID_SIZE];
	char label[LABEL_SIZE];
	enum urgency urgency;
	struct maybe_date began;
	struct maybe_date window_from;
	struct maybe_date window_to;
	char says[FLAG_SAYS_SIZE];   /* one plain sentence */
	char action[FLAG_SAYS_SIZE]; /* what to do */
	const char *source;          /* published, or "common practice" */
	char basis[120];             /* "almanac", "your bloom, 4 seasons", "set by hand" */
	struct maybe_i64 crop_at_risk_mg;
	struct maybe_i64 crop_at_risk_low_mg;
	struct maybe_i64 crop_at_risk_high_mg;
	int32_t seasons; /* n behind the figure; 0 none */
	char entries[FLAG_ENTRIES_MAX][ID_SIZE];
	int32_t entry_count;
	char key[FLAG_KEY_SIZE];   /* rule|subject|season|cause */
	char fact[KEY_SIZE];       /* facts-missing: which fact; folds over the yard */
	char fills[LINE_SIZE / 8]; /* the entry line that would settle it: "A3 cut shape " */
	const char *
		evidence[FLAG_EVIDENCE_MAX]; /* the arithmetic, the window, the entries, in words */
	int32_t evidence_count;
	enum entry_kind settles; /* kind of entry that settles it; KIND_TOTAL none */
};

struct flags {
	struct arena *arena;
	struct flag *items;
	int32_t count;
	int32_t capacity;
	struct maybe_date next_change; /* the first later day on which an answer could differ */
	bool wants_neighbours; /* a rule asked for them and they were not told: nothing counts */
};

/* A new flag with rule, tree, label and urgency filled in, in the list; valid until the next. */
struct flag *flags_add(
	struct flags *flags, const char *rule, const struct dossier *dossier, enum urgency urgency);
/* Completes flag->key: season year and cause (entry id, window's first day, or fact). */
void flag_key_set(struct flag *flag, int32_t season_year, const char *cause);
/* One of the entries the flag stands on, once. */
void flag_entry_add(struct flag *flag, const struct entry *entry);
void flag_evidence(struct flags *flags, struct flag *flag, const char *format, ...)
	__attribute__((format(printf, 3, 4)));
/* The answer could change on this later day (earlier days than known win; past days ignored). */
void flags_change_on(struct flags *flags, struct date today, struct date day);
/* Urgency; crop at risk, largest first, unknown last; window's end, soonest first; day begun;
 * label in natural order; rule id. */
int flag_compare(const struct flag *a, const struct flag *b);
void flags_sort(struct flags *flags);

#endif
