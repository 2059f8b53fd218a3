/* SPDX-License-Identifier: MIT */
/* print_own.h - the grower's own windows and rates on the almanac's page of a kind. */
#ifndef REPORT_PRINT_OWN_H
#define REPORT_PRINT_OWN_H

#include "report/rows.h"

/* Lines for the windows and rates set here for the kind, then for trees that are of it today. */
enum status print_own_of_kind(const struct printer *printer, struct yard *yard,
	const struct species *species, struct fault *why) MUST_CHECK;

#endif
