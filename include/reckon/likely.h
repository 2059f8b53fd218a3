/* SPDX-License-Identifier: MIT */
/* likely.h - which cultivar an unnamed tree could be: the almanac's rows ranked by what was noted.
 *
 * Pure, allocates in the caller's arena. Nothing noted, or nothing on record, widens: every row
 * stays a candidate, whatever speaks against it, and a seedling is always one more. What a row has
 * from memory or at second hand may speak for it in full and against it by half. Weight of fruit
 * is no trait. The weights of traits are ours, in the order in which growers trust them: what
 * genes fix and the eye sees, then the order of ripening, shape and ground colour, then colour over
 * it, taste and size; the order of ripening weighs most, as looks leave many alike. */
#ifndef RECKON_LIKELY_H
#define RECKON_LIKELY_H

#include "almanac/cultivar.h"
#include "core/limits.h"
#include "core/memory.h"

enum { LIKELY_NOTES_MAX = 24, LIKELY_VALUE_SIZE = 120, LIKELY_TRAITS_MAX = 32 };

/* The trait that compares ripening with a cultivar that is known. */
#define LIKELY_ORDER "order"

/* A kind with its rows; of those known by name only too. */
struct likely_kind {
	const char *key;
	const char *name;
	const struct cultivar *rows;
	int32_t count;
};

/* One thing noted of the tree. */
struct likely_note {
	char trait[KEY_SIZE];
	char value[LIKELY_VALUE_SIZE]; /* words parted by '/', each may be right; of an order, for
	                                  showing */
	const struct cultivar
		*against;      /* of an order: the row compared with; NULL: only `reference` */
	const char *reference; /* of an order: what the rows count their days from; NULL */
	int32_t side;          /* of an order: -1 before it, 0 with it, 1 after it */
	struct maybe_i32 days; /* of an order: after it, below zero before it */
	bool by_picks;         /* worked out from first picks, not noted */
};

/* Reads "flesh" and "light yellow", "order" and "12 days before Bing". Takes a trait by another
 * name ("colour", "ripe"). STATUS_SYNTAX: no trait of these kinds, or a word that no row is
 * anywhere near; the message lists what is known. */
enum status likely_read(const struct likely_kind *kinds, int32_t count, const char *trait,
	const char *value, struct likely_note *out, struct fault *why) MUST_CHECK;

/* How a row answers to a note. */
enum likely_fit { LIKELY_NOT_KNOWN, LIKELY_DIFFERS, LIKELY_NEAR, LIKELY_FITS };
enum likely_fit likely_fits(const struct cultivar *row, const struct likely_note *note);

struct likely_candidate {
	const struct likely_kind *kind;
	const struct cultivar *row;
	enum likely_fit fits[LIKELY_NOTES_MAX]; /* by note */
	int32_t score;
	int32_t rank;         /* from 1; shared by equal scores */
	enum known_by surest; /* of what was compared; nothing: of the row */
};

/* What to look at next: the trait that parts the leading candidates best. */
struct likely_next {
	const char *trait;
	int32_t parted; /* pairs of leading ones that it tells apart */
	int32_t pairs;  /* of so many */
};

enum { LIKELY_NEXT = 3 };

struct likely {
	const struct likely_candidate *candidates; /* all rows, the best first */
	int32_t count;
	int32_t leading;                      /* the first so many are to be told apart */
	struct likely_next next[LIKELY_NEXT]; /* the best first */
	int32_t next_count;
};
void likely_rank(const struct likely_kind *kinds, int32_t kind_count,
	const struct likely_note *notes, int32_t note_count, struct arena *arena,
	struct likely *out);

/* --- traits by name --- */

/* What a row says of a trait; false and "" nothing. Of an order: "12 days before Bing". */
bool likely_says(
	const struct cultivar *row, const char *trait, char *out, size_t size, enum known_by *sure);
/* Names of the traits that rows of these kinds have, in the order of a form. Returns how many. */
int32_t likely_traits(
	const struct likely_kind *kinds, int32_t count, const char *out[LIKELY_TRAITS_MAX]);
/* The words that rows use for a trait, "white, cream"; "" for an order. Returns out. */
const char *likely_words(
	const struct likely_kind *kinds, int32_t count, const char *trait, char *out, size_t size);
/* How to look at it, in a few words ("cut a ripe fruit through"); "" where the name says it. */
const char *likely_how(const char *trait);
/* Months of a season cell turned by half a year ("feb-apr" is "aug-oct"), classes as they are:
 * the almanac's are those of the northern hemisphere. Returns out. */
const char *likely_turn_season(const char *cell, char *out, size_t size);
/* Do two rows overlap in every trait the eye sees but season, bloom and size? */
bool likely_alike(const struct cultivar *a, const struct cultivar *b);
/* Days from the ripening of one to that of the other, by the almanac; unknown: not comparable. */
struct maybe_i32 likely_days_between(const struct cultivar *from, const struct cultivar *to);

#endif
