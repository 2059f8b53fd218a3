/* SPDX-License-Identifier: MIT */
/* first_yard.h - a yard only just typed in: sixty trees with label, kind and planting year, and
 * nothing else; and what its review may say. */
#ifndef SUPPORT_FIRST_YARD_H
#define SUPPORT_FIRST_YARD_H

#include "support/log_case.h"

enum { FIRST_YARD_TREES = 60, FIRST_YARD_LINES = 10 };

struct first_yard {
	enum log_place climate;
	bool south;
	enum unit_system units;
	bool in_doubt;      /* some kinds are names that fit two, some trees have none */
	int32_t kinds;      /* so many different ones at most; 0: as the dice fall */
	int32_t first_year; /* of planting, to 2026 */
	bool years_unknown; /* of some */
};

/* The yard as it is on 24 November 2026. */
void first_yard_type_in(struct garden *garden, const struct first_yard *one, struct dice *dice);
/* Fails where the review of the day asks for work, or is longer than ten lines, by itself or as
 * printed. Returns the lines printed. */
int32_t first_yard_check(struct garden *garden, struct date today);

#endif
