/* SPDX-License-Identifier: MIT */
/* printed.h - values as a page prints them ("0.45 ratio", "8 in", "mid June"), read for comparing
 * with what the almanac's loader makes of its own cells. */
#ifndef SUPPORT_PRINTED_H
#define SUPPORT_PRINTED_H

#include "core/date.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* "8 in" in the loader's own unit, whose word is put into base: "um", "mg", "decic", "permille
 * shoots"; words that are not units of measure stay. A text without a number fails the test. */
int64_t printed_base(const char *value, char *base, size_t size);

/* Whether a day is the one that the words say: "06-15", or a month with or without early, mid or
 * late. A bare month is its first day, or its last where `to` is set; early is up to the 10th, mid
 * the 10th to the 20th, late from the 20th. Anything else fails the test. */
bool printed_day_is(const char *words, bool to, struct month_day day);

#endif
