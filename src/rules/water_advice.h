/* SPDX-License-Identifier: MIT */
/* water_advice.h - what stands beside a watering that is told of: amounts published for the kind,
 * the time its emitters take for them, the mulch that lies there. */
#ifndef RULES_WATER_ADVICE_H
#define RULES_WATER_ADVICE_H

#include "look.h"

/* As evidence: what a watering of this kind is to give, how long the emitters logged run for it (of
 * no known flow: what flow an hour and half an hour take), where emitters stand. */
void water_tell_amount(const struct dossier *dossier, const struct entry *water, struct flags *out,
	struct flag *flag);
/* Wood chip in place of rock, behind what is to be done, where rock is the newest mulch told of. */
void water_say_mulch(const struct dossier *dossier, struct flags *out, struct flag *flag);

#endif
