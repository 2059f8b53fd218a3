/* SPDX-License-Identifier: MIT */
/* amount_parts.h - what the scanners of numbers, quantities and entry lines share. */
#ifndef CORE_AMOUNT_PARTS_H
#define CORE_AMOUNT_PARTS_H

#include <stdbool.h>

#include "core/measure.h"

/* No amount of the log is larger, in its base unit: a thousand tonnes, a million litres. */
#define AMOUNT_BASE_MAX 1e15

bool unit_is_imperial(const struct unit *unit);
/* By its printed name; NULL when there is none. */
const struct unit *unit_named(const char *name);
/* Base units in value of this unit, rounded once; a Fahrenheit reading loses its 32 unless it is
 * a difference. */
int64_t unit_to_base(const struct unit *unit, double value, bool difference);

/* One number as people write it. */
struct number {
	double value;
	size_t used;     /* bytes of the text */
	bool about;      /* "a couple" */
	bool wants_unit; /* "a", "an": a number only before a unit */
	bool is_whole;   /* digits alone: a fraction may follow, "2 1/2" */
};

/* Reads the number that lower-case plain text starts with. STATUS_ABSENT: none there;
 * STATUS_DOUBT: a point or comma with two meanings; STATUS_RANGE: too large or too fine. */
enum status number_scan(const char *text, const struct number_rules *rules, struct number *out,
	struct fault *why) MUST_CHECK;

/* A plain figure and one word of unit, "12.5 lb", just as amount_scan reads it. false: it is not so
 * plain, or not an amount; amount_scan says. */
bool amount_quick(const char *text, const struct number_rules *rules, struct amount *out);

/* What a reader of lines wants to know beside the amount. */
struct amount_notes {
	const struct unit *unit; /* NULL: a bare number */
	bool gallon_assumed;     /* a gallon with nothing to say which */
	bool unit_assumed;       /* "2 st 4": pounds taken */
	double low;              /* the bare number, or the first figure in its own unit */
	double high;
};

/* amount_scan over text that plain_make has already made plain and lower-case. */
enum status amount_scan_plain(const char *text, const struct number_rules *rules,
	struct amount *out, struct amount_notes *notes, size_t *used, struct fault *why) MUST_CHECK;

/* Both within 2 % of the larger. */
bool amounts_agree(const struct amount *a, const struct amount *b);

#endif
