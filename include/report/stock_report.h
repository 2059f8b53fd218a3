/* SPDX-License-Identifier: MIT */
/* stock_report.h - after the pick: what became of a season's fruit, kind by kind, what is still in
 * store, and what is expected to come in the same fortnight. All weights are of the fruit as it
 * was picked. What was not told is said to be so, never shared out. */
#ifndef REPORT_STOCK_REPORT_H
#define REPORT_STOCK_REPORT_H

#include "report/season_report.h"

struct stock_line {
	char kind_name[NAME_SIZE];
	struct maybe_i64 picked_mg;           /* of the season; unknown: nothing was weighed */
	int32_t unweighed;                    /* picks without a weight */
	struct maybe_i64 hung_lost_mg;        /* lost before it was picked */
	struct maybe_i64 became[USE_TOTAL];   /* milligrams; unknown: nothing told */
	int32_t not_weighed[USE_TOTAL];       /* uses told without a weight */
	struct maybe_i64 untold_mg;           /* picked and not told of; never below 0 */
	struct maybe_i64 over_mg;             /* told beyond what was picked */
	struct maybe_i64 in_store[USE_TOTAL]; /* of the kept ones: put in since two years, less what
						 was taken out; unknown: never put in */
};

/* Trees whose first pick is expected within a fortnight of each other. */
struct stock_ripe {
	char label[LABEL_SIZE];
	char kind_name[NAME_SIZE];
	struct date from; /* expected first pick */
	struct maybe_i64 expected_mg;
	int32_t seasons;   /* of its own that the amount rests on */
	const char *basis; /* "your picks", "this season's bloom", "set by you", "almanac" */
};
struct stock_fortnight {
	const struct stock_ripe *ripe; /* by day, then by label */
	int32_t count;
	int32_t kinds;
	int64_t expected_mg; /* of those that have a figure */
	int32_t with_figure;
};

struct stock_report {
	int32_t year;
	struct stock_line *lines;
	int32_t count;
	const struct stock_fortnight *fortnights;
	int32_t fortnight_count;
};
struct stock_options {
	struct maybe_i32 year; /* unknown: the latest season that has picks */
	bool without_private;
	bool without_ahead; /* what will ripen together is not asked for */
};
enum status stock_report_make(struct yard *yard, const struct stock_options *options,
	struct arena *arena, struct stock_report *out, struct fault *why) MUST_CHECK;

/* The kind's fruit by what became of it: "dried 40 lb (33 %), not told 80 lb (67 %)"; "" nothing
 * was picked or told. Returns out. */
const char *stock_line_words(
	const struct stock_line *line, enum unit_system units, char *out, size_t size);
/* "dried 30 lb, frozen 5 lb"; "" nothing. */
const char *stock_store_words(
	const struct stock_line *line, enum unit_system units, char *out, size_t size);
/* "C1 peach from 3 June, about 55 lb (your picks, 4 seasons)". */
const char *stock_ripe_words(
	const struct stock_ripe *ripe, enum unit_system units, char *out, size_t size);
/* Said wherever fruit to keep is spoken of. */
extern const char stock_caution[];

#endif
