/* SPDX-License-Identifier: MIT */
/* weather_chart.h - days of weather as rows of cells, one column a day: lowest to highest as a bar,
 * marks, rain. Pure. */
#ifndef SCREENS_WEATHER_CHART_H
#define SCREENS_WEATHER_CHART_H

#include "reckon/weather_days.h"

enum { CHART_DAYS_MAX = 112, CHART_ROWS_MAX = 12, CHART_ROW_SIZE = CHART_DAYS_MAX * 3 + 1 };

/* The days shown, oldest first, each with a row whether anything is known of it or not. */
struct weather_chart {
	struct day_weather days[CHART_DAYS_MAX];
	int cells;
	bool has_temperature;
	int32_t low_decic, high_decic; /* what the bars reach from and to */
	int32_t rain_known;            /* days with a figure */
	int64_t most_rain_um;
	bool ascii;
};

/* The last `cells` days up to the day. */
void weather_chart_make(struct weather_chart *chart, const struct day_weather *days, int32_t count,
	struct date last, int cells);
/* Row `row` (0 the warmest) of `rows`. Half a cell is the least; a day with one extreme has half a
 * cell at it. The row in which water freezes is drawn as a line where no bar stands. */
const char *weather_chart_bars(
	const struct weather_chart *chart, int row, int rows, char out[CHART_ROW_SIZE]);
/* The temperature at the upper end of a row. */
int32_t weather_chart_top_decic(const struct weather_chart *chart, int row, int rows);
/* The row that holds 0 C; -1 none. */
int weather_chart_freezing_row(const struct weather_chart *chart, int rows);
/* F frost night, H heat day, h hail, ? an extreme is not known. */
const char *weather_chart_marks(const struct weather_chart *chart, char out[CHART_ROW_SIZE]);
/* Rain against the wettest day; a dry day is blank, one without a figure "?". */
const char *weather_chart_rain(const struct weather_chart *chart, char out[CHART_ROW_SIZE]);
/* "27 Oct        10 Nov": each fortnight, counted back from the last day. */
const char *weather_chart_dates(const struct weather_chart *chart, char out[CHART_ROW_SIZE]);

#endif
