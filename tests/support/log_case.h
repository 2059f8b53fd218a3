/* SPDX-License-Identifier: MIT */
/* log_case.h - what the rules say of a log told in a few lines: a place, trees, lines, a day.
 *
 * A case runs as it stands and once more half a year later on the other side of the equator: every
 * ISO day in it moves six months (days past the 28th are clamped), unless it says `once`. */
#ifndef SUPPORT_LOG_CASE_H
#define SUPPORT_LOG_CASE_H

#include "report/review.h"

#include "support/garden.h"

enum log_place {
	AT_WET_WINTER,  /* north, wet winters, mild: the dry-summer rows */
	AT_WET_HARD,    /* north, wet winters, hard: the dry-summer rows */
	AT_COOL,        /* wet all year, frosty winters */
	AT_CONTINENTAL, /* wet summers, hard winters */
	AT_HUMID,       /* wet summers, mild winters */
	AT_LITTLE,      /* little rain */
	AT_UNSAID,      /* hemisphere known, seasons not */
	AT_NOWHERE,     /* nothing known */
	AT_TROPICS,     /* 9 degrees from the equator */
};

struct log_case {
	const char *name;
	enum log_place place;
	const char
		*trees; /* "A1 loquat 2012; A2 - -": label, kind ("-" none, _ a blank), planted */
	const char *lines; /* entry lines parted by '|' */
	const char *today;
	const char *rule;
	const char *want;    /* urgencies of that rule's flags in order, "act note"; "" silence */
	const char *says[3]; /* each in says or action of the first flag */
	bool once;
	bool as_written; /* log_case_make turns no day: they are those of the south already */
};

/* Runs the cases as named tests, both sides of the equator; returns how many failed. */
int log_cases(const char *group, const struct log_case *cases, size_t count);
#define LOG_CASES(group, cases) log_cases((group), (cases), sizeof(cases) / sizeof((cases)[0]))

/* The pieces, for tests that need more. south: half a year on. */
void log_case_place(enum log_place place, bool south, struct place *out);
/* Every ISO day (and year-month) of the text moved six months on; returns out. */
const char *log_case_turn(const char *text, bool south, char *out, size_t size);
/* The log of a case, looked at on its day. */
void log_case_make(struct garden *garden, const struct log_case *one, bool south);
/* All flags of all trees of the garden, sorted; in the garden's arena. */
struct flags log_case_flags(struct garden *garden);
/* The first flag of a rule, NULL none. */
const struct flag *log_case_find(const struct flags *flags, const char *rule);
int32_t log_case_count(const struct flags *flags, const char *rule);
/* Whole sentences that are not cut, and no urgency above what the table of rules says. */
void log_case_check_words(const struct flag *flag);
/* Is it in a line of the evidence? */
bool log_case_proves(const struct flag *flag, const char *words);
/* A source; each entry it stands on by day and words; of a window its days and whose it is. */
void log_case_check_why(struct garden *garden, const struct flag *flag);
/* Flags of one tree with the line tried on it, as ask does. */
struct flags log_case_try(struct garden *garden, const char *label, const char *line);
#endif
