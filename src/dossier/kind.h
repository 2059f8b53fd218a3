/* SPDX-License-Identifier: MIT */
/* kind.h - what a tree is on a day, from the opinions written down about it.
 *
 * Opinions are laid on the line of time in the order they were made, the later over the earlier.
 * A change (regrafted) covers the days from its own to the next change known when it was made. A
 * correction (we were wrong all along) covers the whole stretch between two changes that holds its
 * day; without a day, the stretch since the last change. A new species takes the cultivar along. */
#ifndef DOSSIER_KIND_H
#define DOSSIER_KIND_H

#include "reckon/dossier.h"

enum { ERAS_MAX = 16 };

/* identities: of one tree, oldest opinion first. */
struct tree_kind kind_on(const struct almanac *almanac, const struct identity *identities,
	int32_t count, struct date day);
/* The days of change up to `until`, sorted, each once. Returns how many; at most ERAS_MAX, the
 * latest kept. */
int32_t kind_changes(const struct identity *identities, int32_t count, struct date until,
	struct date out[ERAS_MAX]);

#endif
