/* SPDX-License-Identifier: MIT */
/* plans.h - planned work that is still to do. */
#ifndef RULES_PLANS_H
#define RULES_PLANS_H

#include "reckon/dossier.h"

/* The day planned work is due, by its own day, or, where it comes again, so many days after the
 * last time; and the last day it was planned for. False: it was done, its day is not known, or it
 * is so long past that nothing speaks of it any more. */
bool rule_plan_open(const struct dossier *dossier, const struct entry *plan, struct date today,
	struct date *due, struct date *last);

#endif
