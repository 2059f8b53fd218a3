/* SPDX-License-Identifier: MIT */
/* pests.h - what the rules of pests share: what an entry says was seen, when it shows here. */
#ifndef RULES_PESTS_H
#define RULES_PESTS_H

#include "almanac/pest.h"
#include "look.h"

enum {
	SEEN_FITS_MAX = 8,
	STAGE_DAYS = 30,  /* a stage logged tells where the tree is for so long */
	EARLY_DAYS = 45,  /* heat may bring a pest so long before its months */
	STATION_DAYS = 7, /* stored weather may lag so far behind */
};

/* Words of what was seen, cut out or lost: "" none. */
const char *seen_words(const struct entry *entry);
/* The pests that the entry's words name on this tree's kind: several where it is not known which.
 * Fills at most SEEN_FITS_MAX, returns how many. */
int32_t seen_pests(const struct dossier *dossier, const struct entry *entry,
	const struct pest_row *fits[SEEN_FITS_MAX]);
/* The only one it names; NULL none or several. */
const struct pest_row *seen_pest(const struct dossier *dossier, const struct entry *entry);
/* Does the grower say that nothing was seen, or name the pest, as seen or not? */
bool seen_looked_for(const struct entry *entry, const struct pest_row *pest);

/* Months MM..MM of the northern hemisphere as a window of this place. */
struct window months_here(const struct dossier *dossier, int32_t from_month, int32_t to_month);

/* Why a pest is looked for today. */
struct pest_season {
	bool open;
	struct window_span span;       /* of its months, the coming ones where it is early */
	const struct entry *stage;     /* NULL: no stage decides */
	const struct degree_row *heat; /* the last event that stored weather reached; NULL none */
	double degree_days;            /* of its unit */
	struct date heat_from;
};
/* By the stage logged last, else by its months, else by heat where stored weather has no gap. Days
 * on which that differs are put into *out. */
struct pest_season pest_season_on(const struct dossier *dossier, const struct pest_row *pest,
	struct date today, struct flags *out);

/* "First: ... [source]" as evidence. */
void evidence_first(struct flags *flags, struct flag *flag, const struct pest_row *pest);

#endif
