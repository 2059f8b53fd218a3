/* SPDX-License-Identifier: MIT */
/* given.h - the nitrogen a tree has had in one season of work. */
#ifndef RULES_GIVEN_H
#define RULES_GIVEN_H

#include "reckon/dossier.h"

enum { GIVEN_ENTRIES_MAX = 8 };

struct feeds_given {
	int64_t nitrogen_mg; /* of the feeds with a figure */
	int32_t known;
	const struct entry *entries[GIVEN_ENTRIES_MAX]; /* the first of them */
	int32_t entry_count;
	int32_t unknown;          /* feeds without a figure */
	const struct entry *last; /* NULL: none */
	struct date day;          /* of the last */
};
/* In the season of work (the weeks after one harvest to the end of the next) that holds the day. */
struct feeds_given feeds_given(const struct dossier *dossier, struct date day);

#endif
