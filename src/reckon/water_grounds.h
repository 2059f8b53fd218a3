/* SPDX-License-Identifier: MIT */
/* water_grounds.h - the span of crop coefficients of a tree whose ground is not wholly known. */
#ifndef RECKON_WATER_GROUNDS_H
#define RECKON_WATER_GROUNDS_H

#include "reckon/tree_water.h"

/* Least and most of each stage over the grounds that what is known allows; what widens them is put
 * into out->lacks, whose table it is into out->kc_row. False: the almanac has none for the kind. */
bool water_kcs_of(const struct dossier *dossier, struct tree_water *out, struct water_kc *least,
	struct water_kc *most);

#endif
