/* SPDX-License-Identifier: MIT */
/* dose_remark.h - what is said beside a dose. */
#ifndef RECKON_DOSE_REMARK_INSIDE_H
#define RECKON_DOSE_REMARK_INSIDE_H

#include "reckon/dose.h"

/* Nitrogen a year of a dose; unknown where the rule does not say how often. */
struct maybe_i64 dose_year_mg(const struct dose *dose);
/* A rule for a pound of the product in hand, whatever it is. */
bool dose_is_of_hand(const struct feed_row *row);
/* Fills the remark of one of the doses, which are all there to be compared with. */
void dose_remark(struct dose *dose, const struct dose_inputs *inputs, const struct dose *doses,
	int32_t count);

#endif
