/* SPDX-License-Identifier: MIT */
/* harvest.h - when the harvest to come should open, always as a span, and what that rests on. */
#ifndef RULES_HARVEST_H
#define RULES_HARVEST_H

#include "reckon/dossier.h"

/* Days from bloom to the first pick. */
struct days_ahead {
	int64_t low;
	int64_t high;
	const char *source;
	enum known_by sure;
	const char *text;
};

/* Of two grounds at most one is set; neither: `window` says it. */
struct harvest_ahead {
	bool known;
	struct window_span span;
	struct window window; /* by picks, by hand or by the almanac; not by_bloom */
	bool by_bloom;        /* this season's own bloom and the days from it */
	int32_t own_seasons;  /* of by_bloom: the days are those of so many own seasons; 0 not */
	bool by_heat;         /* the warmth stored since that bloom, of what the kind needs */
	double heat, heat_needed; /* degree-days C */
	double heat_base;
	struct maybe_date changes; /* the day on which this is another answer by itself */
	const struct entry *bloom;
	struct days_ahead days;
};

/* By the grower's hand; else by this season's bloom and the days its own seasons took from bloom to
 * first pick (two or more that lie within 60 days of each other; where they agree, three days
 * either way, which is ours); else by its own picks; else by the warmth stored since its bloom, or
 * the days its cultivar or kind takes; else by the almanac's months. Not known where the span is
 * that of many cultivars. */
struct harvest_ahead harvest_ahead(
	const struct dossier *dossier, struct date today, struct arena *arena);
/* The bloom of the last flowering: full bloom where it was logged, else the first day seen; NULL
 * none in a year and a half. */
const struct entry *harvest_last_bloom(const struct dossier *dossier, struct date today);
/* The threshold of a total, from its unit: "degree-days C over 3". False: it is in another. */
bool harvest_heat_base(const struct fact_row *row, double *base);
bool harvest_is_full_bloom(const struct entry *entry);

#endif
