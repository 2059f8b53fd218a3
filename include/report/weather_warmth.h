/* SPDX-License-Identifier: MIT */
/* weather_warmth.h - warmth against what the almanac prints: from a tree's bloom to its harvest,
 * and from a day of the year to what the pests of the kinds here do. Totals hold with their own
 * base and cutoff alone, and are those of other places and years. */
#ifndef REPORT_WEATHER_WARMTH_H
#define REPORT_WEATHER_WARMTH_H

#include "report/weather_report.h"

/* What has come together since a day. */
struct warmth_sum {
	bool counted; /* else there is no start, or no day with both extremes since */
	struct day_span span;
	double degree_days; /* C for trees; for pests as its row prints */
	struct weather_cover cover;
};

/* A tree of a kind that has a total from bloom to harvest. */
struct warmth_tree {
	char label[LABEL_SIZE];
	char kind_name[NAME_SIZE];
	const struct fact_row *row; /* its total, C */
	double base_c;
	int32_t warmer_decic;
	bool has_bloom; /* within a year before the last day; the sum counts from it */
	struct warmth_sum sum;
};

/* A total of a pest that counts from a day of the year. */
struct warmth_pest {
	const struct pest_row *pest;
	const struct degree_row *row;
	bool by_sine;          /* else by the mean of the extremes */
	struct warmth_sum sum; /* at the station */
};

struct weather_warmth {
	struct warmth_tree *trees; /* by kind, then label */
	int32_t tree_count;
	const char *kinds_without; /* "apple, fig"; "" every kind here has a total */
	struct warmth_pest *pests; /* in the almanac's order */
	int32_t pest_count;
};

/* Up to the last day of the span asked for, or today. A total whose cutoff is vertical, or that a
 * laboratory found, is passed over. STATUS_RANGE: extremes that cannot be. Lives in arena. */
enum status weather_warmth_make(struct yard *yard, const struct weather_report *report,
	struct arena *arena, struct weather_warmth *out, struct fault *why) MUST_CHECK;

#endif
