/* SPDX-License-Identifier: MIT */
/* partner_asked.h - what the neighbours of a tree answered, between asking them (partner.c) and
 * saying so (partner_say.c). */
#ifndef RULES_PARTNER_ASKED_H
#define RULES_PARTNER_ASKED_H

#include "look.h"
#include "reckon/partner.h"

enum { ANSWERS_KEPT = 12 };

/* What a cultivar of a kind answered. */
struct answered {
	const struct species *species;
	const char *cultivar;
	struct partner giver;
	struct partner_verdict verdict;
};

/* How the neighbours answer. */
struct asking {
	const struct dossier *dossier;
	struct partner taker;
	const struct pollination *kind; /* of the taker's kind */
	struct partner named;           /* the first of known cultivar, where the taker's is not */
	int64_t near_um;                /* 0: not stated */
	int32_t crops;                  /* the tree gave so far */
	int32_t serve;                  /* somebody does, as far as is known */
	int32_t doubtful;
	int32_t strangers;             /* trees whose kind nobody knows */
	const struct neighbour *doubt; /* the last doubtful one */
	const struct neighbour *far;   /* the nearest that serves, and stands too far */
	int64_t far_um;
	const struct neighbour *barren; /* of its kind, a triploid: takes pollen, gives none */
	const char *lines[FLAG_EVIDENCE_MAX];
	int32_t line_count;
	struct arena *arena;
	struct answered answers[ANSWERS_KEPT]; /* the newest over the oldest */
	int32_t answer_count;
};

/* The gap, what would fill it and on what that rests, into the flag. */
void partner_say(const struct asking *asking, struct flag *flag, struct flags *out);

#endif
