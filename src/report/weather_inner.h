/* SPDX-License-Identifier: MIT */
/* weather_inner.h - what the parts of the weather report share. */
#ifndef REPORT_WEATHER_INNER_H
#define REPORT_WEATHER_INNER_H

#include "report/weather_report.h"

/* Who stands in the yard, by kind, then label; none: 0. Lives in arena. */
enum status weather_list_trees(struct yard *yard, struct arena *arena,
	const struct neighbour **out, int32_t *count, struct fault *why) MUST_CHECK;

#endif
