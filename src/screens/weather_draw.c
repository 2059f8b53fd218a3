/* SPDX-License-Identifier: MIT */
#include <stdio.h>

#include "core/text.h"
#include "weather.h"
#include "weather_chart.h"

enum { LABEL_CELLS = 7, WEEK = 7, WIDE_LEGEND = 78, BAR_CELLS = 16, BAR_FROM = 60 };
/* The head, marks, rain and dates beside the bars; a blank row under them where there is room. */
enum { FIXED_ROWS = 4, BARS_LEAST = 3, BARS_MOST = 9, ROOMY_ROWS = 18 };

static int bar_rows(int rows)
{
	int bars = rows / 4;

	return bars < BARS_LEAST ? BARS_LEAST : bars > BARS_MOST ? BARS_MOST : bars;
}

int weather_chart_rows(int rows)
{
	return bar_rows(rows) + FIXED_ROWS + (rows >= ROOMY_ROWS ? 1 : 0);
}

int weather_list_rows(int rows)
{
	int left = rows - weather_chart_rows(rows);

	return left > 0 ? left : 0;
}

static void draw_head(const struct weather_page *page, struct paper *paper)
{
	const struct weather_sum *sum = &page->report.stretches[0].sum;
	bool wide = paper_columns(paper) >= WIDE_LEGEND;
	char text[120], to[24];

	snprintf(text, sizeof text, "%s%s%s%s, %d days, %d gap%s", wide ? "Season " : "",
		page->report.season.name, wide ? " to " : "",
		wide ? date_format_plain(sum->span.to, to, sizeof to) : "", sum->days, sum->missing,
		sum->missing == 1 ? "" : "s");
	int column = paper_put(paper, 0, 0, 0, STYLE_TITLE, text);
	(void)paper_put(paper, 0, column + 2, 0, STYLE_FAINT, "F frost H heat h hail ? gap");
}

static void draw_bars(
	const struct weather_page *page, const struct weather_chart *chart, struct paper *paper)
{
	int rows = bar_rows(paper_rows(paper));
	int freezing = weather_chart_freezing_row(chart, rows);
	char cells[CHART_ROW_SIZE], label[24];

	if (!chart->has_temperature) {
		(void)paper_put(paper, 1, LABEL_CELLS, 0, STYLE_PLAIN,
			"no temperature is stored for these weeks");
		return;
	}
	for (int row = 0; row < rows; row++) {
		int32_t decic = row == freezing   ? 0
				: row == rows - 1 ? chart->low_decic
						  : weather_chart_top_decic(chart, row, rows);

		if (row == 0 || row == rows - 1 || row == freezing)
			paper_put_right(paper, 1 + row, 0, LABEL_CELLS - 1, STYLE_FAINT,
				temperature_format(decic, page->units, label, sizeof label));
		(void)paper_put(paper, 1 + row, LABEL_CELLS, chart->cells, STYLE_PLAIN,
			weather_chart_bars(chart, row, rows, cells));
	}
}

static void draw_under(
	const struct weather_page *page, const struct weather_chart *chart, struct paper *paper)
{
	int row = 1 + bar_rows(paper_rows(paper));
	char cells[CHART_ROW_SIZE], most[40], rain[24];
	int end = LABEL_CELLS + chart->cells + 1;

	(void)paper_put(paper, row, LABEL_CELLS, chart->cells, STYLE_STRONG,
		weather_chart_marks(chart, cells));
	paper_put_right(paper, row + 1, 0, LABEL_CELLS - 1, STYLE_FAINT, "rain");
	if (chart->rain_known == 0) {
		(void)paper_put(paper, row + 1, LABEL_CELLS, 0, STYLE_PLAIN, "not known");
	} else {
		(void)paper_put(paper, row + 1, LABEL_CELLS, chart->cells, STYLE_PLAIN,
			weather_chart_rain(chart, cells));
		snprintf(most, sizeof most, "most %s",
			weather_rain_words(chart->most_rain_um, page->units, rain, sizeof rain));
		if (end + text_width(most) <= paper_columns(paper))
			(void)paper_put(paper, row + 1, end, 0, STYLE_FAINT, most);
	}
	(void)paper_put(paper, row + 2, LABEL_CELLS, chart->cells, STYLE_FAINT,
		weather_chart_dates(chart, cells));
}

static void draw_line(const struct weather_line *line, struct paper *paper, int row)
{
	int width = paper_columns(paper);
	bool has_bar = line->full > 0 && width >= BAR_FROM + BAR_CELLS;
	char cells[SEASON_BAR_SIZE];

	(void)paper_put(
		paper, row, 1, has_bar ? width - BAR_CELLS - 2 : 0, line->style, line->text);
	if (!has_bar)
		return;
	const struct season_bar bar = {.value = line->value,
		.full = line->full,
		.mark = line->mark,
		.cells = BAR_CELLS,
		.ascii = paper_ascii(paper)};
	(void)paper_put(paper, row, width - BAR_CELLS, 0, STYLE_GOOD, season_bar_draw(&bar, cells));
}

void weather_draw(const void *screen, struct paper *paper)
{
	const struct weather_page *page = screen;
	const struct weather_report *report = &page->report;
	struct weather_chart chart = {.ascii = paper_ascii(paper)};
	int weeks = (paper_columns(paper) - LABEL_CELLS) / WEEK;
	int first = weather_chart_rows(paper_rows(paper));

	/* at 80 columns the wettest day's rain still stands beside eight weeks */
	if (weeks > 8 && weeks * WEEK + LABEL_CELLS + 13 > paper_columns(paper))
		weeks -= 2;
	weather_chart_make(&chart, report->days, report->day_count,
		report->stretches[0].sum.span.to, weeks * WEEK);
	draw_head(page, paper);
	draw_bars(page, &chart, paper);
	draw_under(page, &chart, paper);
	for (int row = first; row < paper_rows(paper); row++) {
		int at = page->top + row - first;

		if (at < page->line_count)
			draw_line(&page->lines[at], paper, row);
	}
	int below = page->line_count - page->top - weather_list_rows(paper_rows(paper));
	if (below > 0) /* beside the dates, where there is room at any width */
		(void)paper_put(paper, bar_rows(paper_rows(paper)) + FIXED_ROWS - 1, 0, 0,
			STYLE_FAINT, paper_ascii(paper) ? "more v" : "more ↓");
}
