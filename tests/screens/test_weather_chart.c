/* SPDX-License-Identifier: MIT */
/* Days of weather as cells: bars, marks, rain, dates. */
#include <string.h>

#include "core/text.h"
#include "screens/weather_chart.h"
#include "support/test.h"

enum { DAYS = 8 };

static struct date day_at(int at)
{
	struct date first = {0};
	struct fault why = {0};
	check_ok(date_parse_iso("2026-03-01", &first, &why), &why);
	return date_add_days(first, at);
}

/* One day of each sort, the last but one with nothing known. */
static struct weather_chart chart_of(bool ascii, int cells)
{
	struct weather_chart chart = {.ascii = ascii};
	struct day_weather days[DAYS] = {
		{.min_decic = known_i32(-100), .max_decic = known_i32(300)},
		{.min_decic = known_i32(100), .max_decic = known_i32(300)},
		{.min_decic = known_i32(0), .max_decic = known_i32(50)},
		{.min_decic = known_i32(1), .max_decic = known_i32(350)},
		{.min_decic = known_i32(50)},
		{.min_decic = known_i32(50), .max_decic = known_i32(50), .hail = true},
		{.rain = true},
		{.min_decic = known_i32(120), .max_decic = known_i32(130)},
	};
	days[0].rain_um = known_i64(8000);
	days[1].rain_um = known_i64(0);
	days[2].rain_um = known_i64(1);
	days[3].rain_um = known_i64(4000);
	for (int at = 0; at < DAYS; at++) {
		days[at].day = day_at(at);
		days[at].station = "hill";
	}
	weather_chart_make(&chart, days, DAYS, day_at(DAYS - 1), cells);
	return chart;
}

static void bars_reach_from_lowest_to_highest(void **state)
{
	(void)state;
	struct weather_chart chart = chart_of(true, DAYS);
	char out[CHART_ROW_SIZE];
	/* 35 to -10 C in three rows: halves of 7.5 C; 0 C lies in the third row */
	check_int(weather_chart_freezing_row(&chart, 3), 2, "row of 0 C");
	check_text(weather_chart_bars(&chart, 0, 3, out), "## #    ", "35 to 20 C");
	check_text(weather_chart_bars(&chart, 1, 3, out), "## #   #", "20 to 5 C");
	check_text(weather_chart_bars(&chart, 2, 3, out), "#-''''--", "5 to -10 C");
	check_int(weather_chart_top_decic(&chart, 1, 3), 200, "upper end of the second");
	chart = chart_of(false, DAYS);
	check_text(weather_chart_bars(&chart, 2, 3, out), "█┈▀▀▀▀┈┈", "UTF-8");
}

static void marks_say_frost_heat_hail_and_what_is_not_known(void **state)
{
	(void)state;
	struct weather_chart chart = chart_of(true, DAYS);
	char out[CHART_ROW_SIZE];
	check_text(weather_chart_marks(&chart, out), "F FH?h? ", "marks");
}

static void rain_is_never_zero_where_it_is_not_known(void **state)
{
	(void)state;
	struct weather_chart chart = chart_of(true, DAYS);
	char out[CHART_ROW_SIZE];
	check_text(weather_chart_rain(&chart, out), "# .:????", "wettest, dry, a trace, half");
	check_int(chart.rain_known, 4, "days with a figure");
	chart = chart_of(false, DAYS);
	check_text(weather_chart_rain(&chart, out), "█ ▁▄????", "UTF-8");
}

static void dates_stand_under_their_days(void **state)
{
	(void)state;
	struct weather_chart chart = chart_of(true, 28);
	char out[CHART_ROW_SIZE];
	check_text(weather_chart_dates(&chart, out), "       16 Feb        2 Mar  ", "dates");
	check_int(chart.days[7].day.day, day_at(-13).day, "16 February");
	check_int(chart.days[21].day.day, day_at(1).day, "2 March");
}

/* Each row is as wide as there are days, whatever they hold; a bar is never broken. */
static void rows_are_as_wide_as_the_days(void **state)
{
	(void)state;
	uint32_t seed = 7;
	char out[CHART_ROW_SIZE];
	for (int round = 0; round < 200; round++) {
		struct weather_chart chart = {.ascii = round % 2 == 0};
		struct day_weather days[60];
		for (int at = 0; at < 60; at++) {
			seed = seed * 1664525U + 1013904223U;
			int32_t low = (int32_t)(seed >> 8) % 400 - 200;
			int32_t high = low + (int32_t)(seed >> 12) % 200;
			days[at] = (struct day_weather){.day = day_at(at),
				.min_decic = {low, seed % 5 != 0},
				.max_decic = {high, seed % 7 != 0},
				.rain_um = {(int64_t)(seed >> 16), seed % 3 != 0},
				.station = ""};
		}
		int cells = 1 + round % CHART_DAYS_MAX, rows = 1 + round % CHART_ROWS_MAX;
		weather_chart_make(&chart, days, 60, day_at(59), cells);
		check_int(text_width(weather_chart_rain(&chart, out)), cells, "rain");
		check_int(text_width(weather_chart_marks(&chart, out)), cells, "marks");
		check_int(text_width(weather_chart_dates(&chart, out)), cells, "dates");
		for (int row = 0; row < rows; row++)
			check_int(text_width(weather_chart_bars(&chart, row, rows, out)), cells,
				"bars");
	}
}

static void nothing_known_is_no_bar(void **state)
{
	(void)state;
	struct weather_chart chart = {.ascii = true};
	char out[CHART_ROW_SIZE];
	weather_chart_make(&chart, NULL, 0, day_at(0), 4);
	check_int(chart.has_temperature, false, "no temperature");
	check_int(weather_chart_freezing_row(&chart, 3), -1, "no row of 0 C");
	check_text(weather_chart_marks(&chart, out), "????", "marks");
	check_text(weather_chart_rain(&chart, out), "????", "rain");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(bars_reach_from_lowest_to_highest),
		cmocka_unit_test(marks_say_frost_heat_hail_and_what_is_not_known),
		cmocka_unit_test(rain_is_never_zero_where_it_is_not_known),
		cmocka_unit_test(dates_stand_under_their_days),
		cmocka_unit_test(rows_are_as_wide_as_the_days),
		cmocka_unit_test(nothing_known_is_no_bar),
	};
	return cmocka_run_group_tests(tests, NULL, NULL) != 0;
}
