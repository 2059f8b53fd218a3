/* SPDX-License-Identifier: MIT */
/* causes.h - what the log holds that may explain a crop: candidates, never one cause. The rules and
 * the season's summary read the same. */
#ifndef RULES_CAUSES_H
#define RULES_CAUSES_H

#include "reckon/dossier.h"

enum { CAUSES_MAX = 6 };
struct causes {
	const char *texts[CAUSES_MAX]; /* "frost on 6 March 2025"; they live in the arena */
	int32_t count;
};
/* Of the crop of season `year`: ill-timed or hard cuts that fell to it, weather of the place,
 * losses with a cause, what was seen, thinning, feeds, a heavy crop before it, crops that swing. */
void causes_of_crop(
	const struct dossier *dossier, int32_t year, struct arena *arena, struct causes *out);

/* --- what the crops of a tree say, for rules and summaries alike --- */

/* What it gave in earlier complete seasons (the last six) of what it is now. */
struct expected_crop causes_past(const struct dossier *dossier, int32_t year);
/* Picked and lost of a complete season, counted fruit at a mean weight; unknown where some of it
 * has no figure, or the season is not over. */
struct maybe_i64 causes_total_mg(const struct dossier *dossier, int32_t year);

/* Crops that swing: at least four complete seasons in a row, the last four up and down in turn,
 * no light one with a cause of its own (frost, hail, a cut that took the flowers). */
struct swing {
	bool known;
	int32_t year;    /* the season to come */
	bool heavy;      /* it should be a heavy one */
	int64_t last_mg; /* what the season before it gave */
	int32_t seasons; /* in a row */
	int32_t pairs;
	double index; /* mean of |a - b| / (a + b) */
};
struct swing causes_swing(const struct dossier *dossier);

#endif
