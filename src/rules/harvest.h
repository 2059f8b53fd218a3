/* SPDX-License-Identifier: MIT */
/* harvest.h - when the harvest to come should open, and what that rests on. */
#ifndef RULES_HARVEST_H
#define RULES_HARVEST_H

#include "fruit.h"

/* Days from bloom to the first pick. */
struct days_ahead {
	int64_t low;
	int64_t high;
	const char *source;
	enum known_by sure;
	const char *text;
};

/* The harvest to come, and what it rests on. */
struct harvest_ahead {
	bool known;
	struct window_span span;
	struct window window;     /* by picks, by hand or by the almanac; not by_bloom */
	bool by_bloom;            /* this season's own bloom and the almanac's days from it */
	bool by_heat;             /* the warmth stored since that bloom, of what the kind needs */
	double heat, heat_needed; /* degree-days C */
	double heat_base;
	struct maybe_date changes; /* the day on which this is another answer by itself */
	const struct entry *bloom;
	struct days_ahead days;
};

struct harvest_ahead harvest_ahead(
	const struct dossier *dossier, struct date today, struct arena *arena);
bool harvest_is_full_bloom(const struct entry *entry);

#endif
