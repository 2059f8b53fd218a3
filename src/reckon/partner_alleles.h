/* SPDX-License-Identifier: MIT */
/* partner_alleles.h - does pollen of one set of S alleles pass a pistil of another? Lists are as in
 * cultivars.csv: "S3 S4'". */
#ifndef RECKON_PARTNER_ALLELES_H
#define RECKON_PARTNER_ALLELES_H

#include "reckon/partner.h"

struct alleles_passing {
	enum partner_answer answer; /* all pass: yes; some: partly; none: no */
	char words[120];
};

/* One allele a grain (gametophytic): stopped where the pistil has it. A grain marked ' passes
 * everywhere; a pistil marked ~ or * stops nothing of that allele. */
struct alleles_passing alleles_pass(const char *giver, const char *taker);
/* Pollen shows its dominant alleles (sporophytic): stopped where the pistil has one of them.
 * shows "": not known which of `giver` it shows: answered only where all or none are in the way. */
struct alleles_passing alleles_shown_pass(const char *shows, const char *giver, const char *taker);

#endif
