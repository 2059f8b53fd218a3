/* SPDX-License-Identifier: MIT */
/* day_parts.h - what the readers of days share. A day is tried form by form: each form answers
 * STATUS_ABSENT when the words are not its own. */
#ifndef CORE_DAY_PARTS_H
#define CORE_DAY_PARTS_H

#include "core/line.h"

enum { DAY_TEXT_SIZE = 160 };

struct day_work {
	const struct line_context *context;
	bool planning;    /* a day without year is the earliest not before today */
	bool planting;    /* a year may be all that is known; ages are read */
	const char *text; /* plain, as typed */
	const char *low;  /* the same in lower case */
	struct date_span span;
	struct maybe_i32 season; /* "season 2014/15": 2014 */
	struct fault *why;
};

/* One form of a day; fills work->span. */
enum status day_read_words(struct day_work *work);    /* yesterday, Tues, 3 weeks ago, Christmas */
enum status day_read_numbers(struct day_work *work);  /* 2026-05-12, 12/5/2026, 9/2012, 2010 */
enum status day_read_season(struct day_work *work);   /* season 2014/15, 2014-2015 harvest */
enum status day_read_months(struct day_work *work);   /* 12 May, mid Feb 2026, spring 2019 */
enum status day_read_decades(struct day_work *work);  /* the 90s, early 1800s */
enum status day_read_relative(struct day_work *work); /* 10 days after bloom: always asked */
/* All of them in turn, then two of them joined by "to" or "or". */
enum status day_read_any(struct day_work *work);

/* The day words count from: a file's own day where it has one. STATUS_DOUBT in a file without. */
enum status day_base(const struct day_work *work, struct date *base);
/* From ISO 8601-2 text. */
enum status day_take_edtf(struct day_work *work, const char *format, ...)
	__attribute__((format(printf, 2, 3)));
void day_take(struct day_work *work, struct date day);
/* The nearest year for a month and day that has none. */
enum status day_take_yearless(struct day_work *work, int32_t month, int32_t day);
/* 1..12 for the name of a month at lower-case text, else 0. */
int32_t day_month_at(const char *text, size_t *used);
/* Puts '~' or '?' behind each end of the span's text. */
void day_mark(struct date_span *span, bool about, bool doubt);
/* The span from the beginning of one to the end of the other. */
bool day_join(const struct date_span *from, const struct date_span *to, struct date_span *out);

/* day_read with the season it names. */
enum status day_read_named(const char *text, const struct line_context *context, bool planning,
	struct date_span *out, struct maybe_i32 *season, struct fault *why) MUST_CHECK;

#endif
