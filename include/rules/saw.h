/* SPDX-License-Identifier: MIT */
/* saw.h - the shape cut through a tree's year, read from the same rows as the flags: what the
 * ribbon, the yard list and the page of a tree show of the saw. */
#ifndef RULES_SAW_H
#define RULES_SAW_H

#include "rules/flag.h"

/* What a shape cut on a day would meet. */
struct saw_day {
	bool known; /* a row, or the grower's own window, holds the day */
	enum verdict verdict;
	enum basis
		basis; /* learned: this tree's own days moved the row, or its last fruit is off */
};
struct saw_day saw_on(const struct dossier *dossier, struct date day);

/* Days on end of one verdict. */
struct saw_span {
	bool known;
	bool all_year;
	struct date from;
	struct date to; /* both ends in */
	enum basis basis;
};
/* The span that holds the day, else the next to begin within a year. */
struct saw_span saw_span_at(const struct dossier *dossier, enum verdict verdict, struct date day);

/* What the almanac has to say of a cut that is only asked about:
 * each row that holds its day, when it is clear where that day is not, and of big cuts where
 * sources differ. */
struct saw_term {
	char text[FLAG_SAYS_SIZE];
	const char *source; /* key; "" where it stands with the term before */
};
enum { SAW_TERMS_MAX = 6 };
/* Fills at most SAW_TERMS_MAX, returns how many; none for what is no shaping cut, and for a kind
 * or place without dates. */
int32_t saw_terms(const struct dossier *dossier, const struct entry *cut, struct saw_term *out);

#endif
