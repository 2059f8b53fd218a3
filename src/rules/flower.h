/* SPDX-License-Identifier: MIT */
/* flower.h - one cut judged for the crop of one tree, and the words for it. */
#ifndef RULES_FLOWER_H
#define RULES_FLOWER_H

#include "look.h"

enum { FLOWER_REASONS = (1U << REASON_FLOWERS) | (1U << REASON_FRUIT) };

enum { JOINED_MAX = 3 };
/* One cut judged for one tree (the host, or a graft on it). */
struct judged {
	bool fires;
	bool in_doubt;                 /* the candidates, or the days of an uncertain day, differ */
	const struct species *species; /* NULL: no kind of the almanac; the grower's own span */
	struct verdict_here verdict;
	struct date day; /* the last ill-timed one it may have been made on */
	int32_t crop_year;
	struct share share; /* of this cut and of those joined with it */
	const struct entry *joined[JOINED_MAX];
	int32_t joined_count;
	int64_t picked_mg; /* of E, and no more at risk */
	struct crop_risk risk;
	struct expected_crop crop; /* E */
};

/* says, action, window, basis, source and evidence of a flag whose risk is filled in. */
void flower_tell(const struct dossier *dossier, const struct judged *judged,
	const struct entry *entry, struct date today, struct flags *out, struct flag *flag);
/* A cut in doubt: one question, no alarm. */
void flower_ask(const struct dossier *dossier, const struct judged *judged,
	const struct entry *entry, struct flags *out);
/* A cut that cannot be judged at all: asks for the fact that stands in the way, where there is
 * one (kind, hemisphere, own windows near the equator). */
void flower_ask_fact(const struct dossier *dossier, const struct entry *entry, struct flags *out);

#endif
