/* SPDX-License-Identifier: MIT */
/* shift.h - spans of the year moved by what a tree did, shared by windows and cut rows. */
#ifndef RECKON_SHIFT_INSIDE_H
#define RECKON_SHIFT_INSIDE_H

#include "reckon/window.h"

/* Moves both ends. False, and nothing moved, when the end would come before the start or the
 * span would cover more than the year. */
bool shift_span(struct month_day *from, struct month_day *to, int32_t start_days, int32_t end_days);

/* All windows of a kind from the strongest teller: the grower's own for the tree, else for the
 * species here, else the almanac's rows for the climate. Fills at most max, returns how many. */
enum { WINDOWS_MAX = 12 };
int32_t windows_told(
	const struct window_facts *facts, enum window_kind kind, struct window *out, int32_t max);

#endif
