/* SPDX-License-Identifier: MIT */
/* weather_rows.h - the weather as flat rows for machines. */
#ifndef REPORT_WEATHER_ROWS_H
#define REPORT_WEATHER_ROWS_H

#include "report/rows.h"

enum status print_weather_rows(const struct printer *printer, const struct weather_report *report,
	enum weather_part part, const struct almanac *almanac, struct fault *why) MUST_CHECK;
/* "frost hail", ""; returns out. A size of 64 never cuts. */
const char *weather_day_words(const struct day_weather *day, char *out, size_t size);

#endif
