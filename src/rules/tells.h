/* SPDX-License-Identifier: MIT */
/* tells.h - what the grower's own words tell. A phrase that is not listed is silence, never a
 * guess. */
#ifndef RULES_TELLS_H
#define RULES_TELLS_H

#include "core/record.h"

/* Do the entry's own words (its details and note) tell one of the phrases, parted by '|'? Words are
 * folded, figures left out: "took 12 seeds" tells "took seeds". */
bool look_tells(const struct entry *entry, const char *phrases);
/* The same of any text: what is written about a tree. */
bool look_text_tells(const char *words, const char *phrases);
/* Do they hold this name (a label, a kind) in whole words? */
bool look_names(const struct entry *entry, const char *name);

#endif
