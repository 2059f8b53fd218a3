/* SPDX-License-Identifier: MIT */
/* chill_need.h - the winter chill that the almanac lists for a kind, or for its cultivar by name.
 * A need is held against the same unit alone: portions and hours are never turned into each
 * other. Pure. */
#ifndef RECKON_CHILL_NEED_H
#define RECKON_CHILL_NEED_H

#include "reckon/dossier.h"

enum { CHILL_NEEDS_MAX = 2 };

struct chill_need {
	const struct fact_row *row;
	bool portions;    /* of the Dynamic model; else hours of 0 to 7.2 C */
	bool of_cultivar; /* this tree's own figure, else the span of its kind */
	int64_t least;    /* 0: it needs none */
	int64_t most;
};

/* In portions, then in hours. A row that is of one other cultivar alone is passed over. Returns how
 * many; 0 where the kind is not known or nothing is listed. */
int32_t chill_needs(const struct tree_kind *kind, struct chill_need out[CHILL_NEEDS_MAX]);

#endif
