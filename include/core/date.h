/* SPDX-License-Identifier: MIT */
/* date.h - days, uncertain days, and the circle of the year.
 *
 * A day is a whole number of days since 1970-01-01 in the proleptic Gregorian calendar,
 * 0001-01-01 .. 9999-12-31. No clock, no time zone. */
#ifndef CORE_DATE_H
#define CORE_DATE_H

#include "core/fault.h"
#include "core/limits.h"
#include "core/maybe.h"

struct date {
	int32_t day;
};

struct maybe_date {
	struct date value;
	bool known;
};

struct date_parts {
	int32_t year;
	int32_t month; /* 1..12 */
	int32_t day;   /* 1..31 */
};

/* A day of any year. month 0: unknown. 02-29 is allowed and lands on 02-28 in common years. */
struct month_day {
	int8_t month;
	int8_t day;
};

enum hemisphere { HEMISPHERE_UNKNOWN, HEMISPHERE_NORTH, HEMISPHERE_SOUTH };

enum { DATE_SIZE = 11 }; /* "2026-11-24" and NUL */

static inline struct maybe_date known_date(struct date value)
{
	return (struct maybe_date){.value = value, .known = true};
}

/* STATUS_RANGE, naming why, for 31 April or 2023-02-29. */
enum status date_make(
	int32_t year, int32_t month, int32_t day, struct date *out, struct fault *why) MUST_CHECK;
struct date_parts date_parts(struct date date);
struct date date_add_days(struct date date, int32_t days);   /* stops at the first and last day */
int32_t date_days_between(struct date from, struct date to); /* to - from */
int32_t date_compare(struct date a, struct date b);          /* -1, 0, 1 */
int32_t date_weekday(struct date date);                      /* 0 Monday .. 6 Sunday */
int32_t date_days_in_month(int32_t year, int32_t month);
/* The 29 of a common year becomes the 28. Day is clamped to the month's end. */
struct date date_of_month_day(int32_t year, struct month_day month_day);

/* Strict "YYYY-MM-DD"; STATUS_SYNTAX or STATUS_RANGE else. */
enum status date_parse_iso(const char *text, struct date *out, struct fault *why) MUST_CHECK;
/* ISO text into out, which it returns. */
const char *date_format(struct date date, char out[DATE_SIZE]);
/* For people: "12 May 2026" (year is always printed). size >= 24. */
const char *date_format_plain(struct date date, char *out, int size);
const char *date_month_name(int32_t month); /* 1: "January" */

/* --- the circle of the year: 365 places, 1 January = 1; 29 February = 28 February = 59 ---
 * Used for windows and learned shifts. */
int32_t circle_of(struct month_day month_day); /* 1..365 */
int32_t circle_of_date(struct date date);
struct month_day circle_month_day(int32_t place); /* any integer, taken modulo 365 */
/* ((to - from + 182) mod 365) - 182: the shortest signed way, -182..182. */
int32_t circle_difference(int32_t from, int32_t to);
/* Is place inside from..to, both ends in, to may lie beyond New Year. */
bool circle_within(int32_t place, int32_t from, int32_t to);
/* Half a year: six months added to the month, the day clamped to the month's end. */
struct month_day month_day_mirror(struct month_day month_day);
/* "MM-DD"; STATUS_SYNTAX / STATUS_RANGE. */
enum status month_day_parse(const char *text, struct month_day *out, struct fault *why) MUST_CHECK;

/* --- a span of days, as an entry's day or a planting day: ISO 8601-2 (EDTF level 1) text with
 * its bounds. An exact day has low = high. Unknown end: known = false. Reference: Library of
 * Congress EDTF specification, 4 February 2019; seasons 21..24 need a hemisphere. --- */
struct date_span {
	char text[EDTF_SIZE]; /* "" : wholly unknown */
	struct maybe_date low;
	struct maybe_date high;
	bool about; /* ~ or % */
	bool doubt; /* ? or % */
};

/* "2015~", "199X", "2015-04", "2012/2013", "2019-21"; "" is unknown. STATUS_SYNTAX and
 * STATUS_RANGE name the reason; a season without hemisphere is STATUS_DOUBT. A season is three
 * calendar months and bears the year it begins in: winter 2019 ends in February 2020 (north). */
enum status date_span_parse(const char *text, enum hemisphere hemisphere, struct date_span *out,
	struct fault *why) MUST_CHECK;
struct date_span date_span_of(struct date date);
struct date_span date_span_between(struct date low, struct date high);
bool date_span_is_exact(const struct date_span *span);
/* The one day that stands for the span when sorting or asking "which season": its low end if
 * known, else its high end. known = false when both are unknown. */
struct maybe_date date_span_first(const struct date_span *span);
/* Plain words: "12 May 2026", "about 2015", "1990-1999", "spring 2019", "12-14 May 2026",
 * "May to July 2019", "from 2015", "day not known". A size of 80 never cuts. */
const char *date_span_format_plain(const struct date_span *span, char *out, int size);

#endif
