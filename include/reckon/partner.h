/* SPDX-License-Identifier: MIT */
/* partner.h - whose pollen serves whom, by the almanac's cultivars, pairs and ways of pollination.
 *
 * Pure. Serving is one-way: a triploid takes and does not give. A pair that was tested or listed
 * stands before what is worked out from alleles; kinds of many sets of chromosomes are never
 * worked out. What is not on record is "not known", never "no". Bloom is told apart from fit,
 * and distance is no part of it: it shades an answer, it never turns it. */
#ifndef RECKON_PARTNER_H
#define RECKON_PARTNER_H

#include "almanac/cultivar.h"
#include "reckon/window.h"

/* A tree as giver or taker of pollen. */
struct partner {
	const struct species *species;   /* NULL: not known, or a kind known by name only */
	const char *outside;             /* plain name of the latter ("crabapple"); NULL else */
	const struct cultivar *cultivar; /* NULL: not known, or not in the almanac */
	const char *name;                /* of the cultivar, as typed; "" not known */
};
/* cultivar: as typed, "" not known; found in the almanac by name or alias. */
struct partner partner_of(const struct species *species, const char *cultivar);

/* One clone: the same row of the almanac, under whatever name, else the same name typed. Two of no
 * known cultivar are not. */
bool partner_is_same(const struct partner *a, const struct partner *b);

enum partner_answer { PARTNER_NOT_KNOWN, PARTNER_NO, PARTNER_PARTLY, PARTNER_YES };
const char *partner_word(enum partner_answer answer); /* "serves half" */
/* Do two bloom together? One class off in one yard still meets. */
enum partner_bloom { BLOOMS_NOT_KNOWN, BLOOMS_APART, BLOOMS_MEET };

enum { PARTNER_REASON_SIZE = 240 };

struct partner_verdict {
	enum partner_answer answer;
	bool same;     /* one clone: the answer is what it does alone */
	bool harm;     /* it serves, and spoils: browned nuts, seeds where none are wanted */
	bool unstated; /* alleles or groups are not on record: by the kind's rule for any other */
	bool by_days;  /* all of the kind are fit: only the days must meet */
	enum partner_bloom bloom;
	char reason[PARTNER_REASON_SIZE]; /* plain words: "S3 is stopped, S1 passes" */
	const char *source;               /* key of sources.csv; "" none */
	enum known_by sure;               /* the weakest that was used */
};
/* Does the giver's pollen serve the taker? */
struct partner_verdict partner_serves(const struct partner *giver, const struct partner *taker);

/* What a tree sets with its own pollen: the cultivar's word, else the kind's. Which of the two:
 * *of_kind. Unknown: neither says. */
enum self_fruitful partner_alone(
	const struct partner *tree, bool *of_kind, const char **source, enum known_by *sure);
/* By the almanac's classes, of one kind only. */
enum partner_bloom partner_bloom(const struct partner *a, const struct partner *b);
/* Days on which both bloom, by two spans of the same year; 0: none. */
int32_t partner_overlap_days(struct window_span a, struct window_span b);
/* Cultivars of the kind that serve the taker in full, by alleles, groups or lists, and bloom with
 * it; the surest first. Fills at most max, returns how many it filled. */
int32_t partner_suggest(const struct partner *taker, const struct cultivar **out, int32_t max);

#endif
