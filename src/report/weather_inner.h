/* SPDX-License-Identifier: MIT */
/* weather_inner.h - what the parts of the weather report share. */
#ifndef REPORT_WEATHER_INNER_H
#define REPORT_WEATHER_INNER_H

#include "report/weather_report.h"

/* Who stands in the yard, by kind, then label; none: 0. Lives in arena. */
enum status weather_list_trees(struct yard *yard, struct arena *arena, const struct neighbour **out,
	int32_t *count, struct fault *why) MUST_CHECK;

/* The chill of the winter for each kind: by cultivar, by spots of one offset, and alone for a tree
 * with temperatures logged at it. The report has its stretches and a winter. */
enum status weather_find_needs(struct yard *yard, struct weather_report *report,
	const struct weather_record *record, struct arena *arena, struct fault *why) MUST_CHECK;

#endif
