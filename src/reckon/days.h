/* SPDX-License-Identifier: MIT */
/* days.h - the first and last day of a span of the year, in one year.
 *
 * On the circle of the year 28 and 29 February are one place. So a span that opens on the 29th
 * opens on the 28th, one that closes on either closes with the month, and two spans that meet at
 * the end of February leave no hole in a leap year. Years outside 1..9999 give the nearest one. */
#ifndef RECKON_DAYS_INSIDE_H
#define RECKON_DAYS_INSIDE_H

#include "reckon/window.h"

struct date day_opens(int32_t year, struct month_day from);
struct date day_closes(int32_t year, struct month_day to);
/* The occurrence that opens in the year; it closes in the next where it crosses New Year. */
struct window_span span_of_year(int32_t year, struct month_day from, struct month_day to);
/* The occurrence that holds the day, else the next one after it. */
struct window_span span_at(struct date day, struct month_day from, struct month_day to);
/* Does the span lie over New Year. */
bool span_crosses(struct month_day from, struct month_day to);
/* How far on (0..364) the circle's place `to` lies from `from`. */
int32_t circle_ahead(int32_t from, int32_t to);

#endif
