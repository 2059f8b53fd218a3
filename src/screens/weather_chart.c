/* SPDX-License-Identifier: MIT */
#include "weather_chart.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "reckon/weather_sum.h"

void weather_chart_make(struct weather_chart *chart, const struct day_weather *days, int32_t count,
	struct date last, int cells)
{
	bool ascii = chart->ascii;

	*chart = (struct weather_chart){.ascii = ascii,
		.cells = cells > CHART_DAYS_MAX ? CHART_DAYS_MAX
			 : cells > 0            ? cells
						: 0,
		.low_decic = INT32_MAX,
		.high_decic = INT32_MIN};
	for (int at = 0; at < chart->cells; at++) {
		struct day_weather *day = &chart->days[at];
		struct date on = date_add_days(last, at + 1 - chart->cells);
		const struct day_weather *row = weather_days_find(days, count, on);

		*day = row != NULL ? *row : (struct day_weather){.day = on, .station = ""};
		const struct maybe_i32 ends[] = {day->min_decic, day->max_decic};
		for (int end = 0; end < 2; end++) {
			if (!ends[end].known)
				continue;
			chart->has_temperature = true;
			if (ends[end].value < chart->low_decic)
				chart->low_decic = ends[end].value;
			if (ends[end].value > chart->high_decic)
				chart->high_decic = ends[end].value;
		}
		chart->rain_known += day->rain_um.known;
		if (day->rain_um.known && day->rain_um.value > chart->most_rain_um)
			chart->most_rain_um = day->rain_um.value;
	}
}

/* --- bars --- */

static double step_of(const struct weather_chart *chart, int halves)
{
	double span = chart->high_decic - chart->low_decic;

	return (span > 0 ? span : 1) / halves;
}

/* Which half, counted from the top, a temperature lies in. */
static int half_of(const struct weather_chart *chart, int32_t decic, int halves)
{
	int half = (int)((chart->high_decic - decic) / step_of(chart, halves));

	return half < 0 ? 0 : half >= halves ? halves - 1 : half;
}

int32_t weather_chart_top_decic(const struct weather_chart *chart, int row, int rows)
{
	return (int32_t)(chart->high_decic - row * step_of(chart, rows));
}

int weather_chart_freezing_row(const struct weather_chart *chart, int rows)
{
	if (!chart->has_temperature || chart->low_decic > 0 || chart->high_decic < 0)
		return -1;
	return half_of(chart, 0, 2 * rows) / 2;
}

static const char *cell_of(bool upper, bool lower, bool freezing, bool ascii)
{
	if (upper && lower)
		return ascii ? "#" : "█";
	if (upper)
		return ascii ? "'" : "▀";
	if (lower)
		return ascii ? "." : "▄";
	if (freezing)
		return ascii ? "-" : "┈";
	return " ";
}

const char *weather_chart_bars(
	const struct weather_chart *chart, int row, int rows, char out[CHART_ROW_SIZE])
{
	struct text_builder text = text_builder_fixed(out, CHART_ROW_SIZE);
	bool freezing = weather_chart_freezing_row(chart, rows) == row;
	int halves = 2 * rows;

	text_add(&text, "");
	for (int at = 0; at < chart->cells; at++) {
		const struct day_weather *day = &chart->days[at];
		struct maybe_i32 low = day->min_decic.known ? day->min_decic : day->max_decic;
		struct maybe_i32 high = day->max_decic.known ? day->max_decic : day->min_decic;
		int from = low.known ? half_of(chart, high.value, halves) : halves;
		int to = low.known ? half_of(chart, low.value, halves) : -1;

		text_add(&text,
			cell_of(from <= 2 * row && 2 * row <= to,
				from <= 2 * row + 1 && 2 * row + 1 <= to, freezing, chart->ascii));
	}
	return out;
}

/* --- marks, rain, dates --- */

static char mark_of(const struct day_weather *day)
{
	if (day->hail)
		return 'h';
	if (day->min_decic.known && day->min_decic.value <= FROST_NIGHT_DECIC)
		return 'F';
	if (day->max_decic.known && day->max_decic.value >= HEAT_DAY_DECIC)
		return 'H';
	return day->min_decic.known && day->max_decic.known ? ' ' : '?';
}

const char *weather_chart_marks(const struct weather_chart *chart, char out[CHART_ROW_SIZE])
{
	for (int at = 0; at < chart->cells; at++)
		out[at] = mark_of(&chart->days[at]);
	out[chart->cells] = '\0';
	return out;
}

const char *weather_chart_rain(const struct weather_chart *chart, char out[CHART_ROW_SIZE])
{
	static const char *const blocks[] = {"▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"};
	static const char *const plain[] = {".", ".", ":", ":", "|", "|", "#", "#"};
	enum { LEVELS = 8 };
	struct text_builder text = text_builder_fixed(out, CHART_ROW_SIZE);

	text_add(&text, "");
	for (int at = 0; at < chart->cells; at++) {
		struct maybe_i64 rain = chart->days[at].rain_um;

		if (!rain.known || rain.value <= 0) {
			text_add(&text, rain.known ? " " : "?");
			continue;
		}
		int64_t level = (rain.value * LEVELS - 1) / chart->most_rain_um;
		level = level < 0 ? 0 : level >= LEVELS ? LEVELS - 1 : level;
		text_add(&text, chart->ascii ? plain[level] : blocks[level]);
	}
	return out;
}

const char *weather_chart_dates(const struct weather_chart *chart, char out[CHART_ROW_SIZE])
{
	enum { FORTNIGHT = 14, ROOM = 7 };
	char date[24];

	memset(out, ' ', (size_t)chart->cells);
	out[chart->cells] = '\0';
	for (int at = chart->cells - ROOM; at >= 0; at -= FORTNIGHT) {
		struct date_parts parts = date_parts(chart->days[at].day);

		snprintf(date, sizeof date, "%d %.3s", parts.day, date_month_name(parts.month));
		memcpy(out + at, date, strlen(date));
	}
	return out;
}
