/* SPDX-License-Identifier: MIT */
/* likely_words.h - words of cultivar tables compared: equal, near, or another thing. */
#ifndef RECKON_LIKELY_WORDS_H
#define RECKON_LIKELY_WORDS_H

#include "reckon/likely.h"

/* The best that any word of `noted` is to any word of `cell`, both parted by '/'. *first: the best
 * was reached by the cell's first word. NOT_KNOWN: they cannot be compared ("few" and "2-4"). */
enum likely_fit likely_compare(const char *noted, const char *cell, bool *first);
/* Classes of ripening as a place on a line ("early" 2, "mid" 4); false: months, or no class. The
 * cell's words from the earliest to the latest. */
bool likely_season_span(const char *cell, int32_t *from, int32_t *to);

#endif
