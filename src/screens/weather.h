/* SPDX-License-Identifier: MIT */
/* weather.h - the state of the weather screen, between what it does (weather.c), the lines under
 * its charts (weather_lines.c) and what it shows (weather_draw.c). */
#ifndef SCREENS_WEATHER_H
#define SCREENS_WEATHER_H

#include "report/weather_warmth.h"
#include "screen.h"
#include "season_bar.h"

/* A line under the charts. */
struct weather_line {
	enum style style;
	const char *text;
	bool is_head;  /* Tab goes from one to the next */
	int64_t value; /* a bar at the right end: how much of full there is, its mark the least that
	                  is listed; full 0: none */
	int64_t full;
	int64_t mark;
};

struct weather_page {
	enum unit_system units;
	struct maybe_i32 year; /* of the season; unknown: today's */
	struct weather_report report;
	struct weather_warmth warmth;
	const struct weather_line *lines;
	int line_count;
	int top; /* the line that is seen first */
};

/* The same days of other years, chill against the kinds, gaps and sources; in arena. */
void weather_lines_make(struct weather_page *page, struct arena *arena);
/* Rows of the body that the charts take, and those under them. */
int weather_chart_rows(int rows);
int weather_list_rows(int rows);
void weather_draw(const void *screen, struct paper *paper);

#endif
