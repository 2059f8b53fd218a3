/* SPDX-License-Identifier: MIT */
/* fruit.h - what the rules about fruit share. */
#ifndef RULES_FRUIT_H
#define RULES_FRUIT_H

#include "look.h"
#include "rules/causes.h"

/* Has another rule, earlier in the table, spoken of this tree already? */
bool fruit_told(const struct flags *out, const struct dossier *dossier, const char *rule);
/* Seasons before `year` that hold an entry of the kind, by the crop its day belongs to. */
int32_t fruit_seasons_with(const struct dossier *dossier, enum entry_kind kind, int32_t year);
/* The newest entry of a kind of the crop of `year`, on or after the day; NULL none. */
const struct entry *fruit_entry_of(
	const struct dossier *dossier, enum entry_kind kind, int32_t year);
/* The newest entry of that crop that tells of a heavy set; NULL none. */
const struct entry *fruit_heavy_set(const struct dossier *dossier, int32_t year);

/* The widest span that the rows of a key give, and the surest of them (NULL: no figure). */
struct fact_span {
	const struct fact_row *row;
	int64_t low;
	int64_t high;
};
struct fact_span fruit_fact(const struct species *species, const char *key);
/* The surest row of a key with words; NULL none. */
const struct fact_row *fruit_words(const struct species *species, const char *key);
/* Old enough to bear by the widest figure of its kind; false where the age is not known. */
bool fruit_is_of_age(const struct dossier *dossier);
/* What the log holds that may explain the crop of `year`: the first three as one sentence for the
 * action, and a line of evidence each; "" nothing. */
const char *fruit_candidates(const struct dossier *dossier, int32_t year, struct flags *out,
	struct flag *flag, char *text, size_t size);

#endif
