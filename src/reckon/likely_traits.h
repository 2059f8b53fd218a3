/* SPDX-License-Identifier: MIT */
/* likely_traits.h - the traits of the key to cultivars: their names, weights and cells. */
#ifndef RECKON_LIKELY_TRAITS_H
#define RECKON_LIKELY_TRAITS_H

#include "reckon/likely.h"

/* How much a trait counts, 1..4 (ours; see reckon/likely.h). */
int32_t likely_weight(const char *trait);
/* Is it told by the eye, and not by the calendar or by a class within the kind? */
bool likely_is_look(const char *trait);
/* What a cell says of a trait, as it stands in the table ("white/cream"); false: nothing. */
bool likely_cell(
	const struct cultivar *row, const char *trait, char *out, size_t size, enum known_by *sure);

#endif
