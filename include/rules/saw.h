/* SPDX-License-Identifier: MIT */
/* saw.h - the shape cut through a tree's year, read from the same rows as the flags: what the
 * ribbon, the yard list and the page of a tree show of the saw. */
#ifndef RULES_SAW_H
#define RULES_SAW_H

#include "reckon/dossier.h"

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

#endif
