/* SPDX-License-Identifier: MIT */
/* season.h - the state of the season screen, between what it does (season.c) and what it shows
 * (season_draw.c). */
#ifndef SCREENS_SEASON_H
#define SCREENS_SEASON_H

#include "screen.h"

/* One list of crops: the yard's trees in a season, or the seasons of one tree. */
struct season_list {
	const struct season_line *lines;
	int32_t count;
	int32_t selected;
	int32_t top;
};

struct season_page {
	enum unit_system units;
	struct season_report report; /* of the yard */
	struct season_list trees;
	struct season_list seasons;  /* of one tree or spot, oldest first */
	bool one;                    /* its seasons are shown */
	bool totals;                 /* sums by kind before the words about the selected one */
	struct maybe_i32 year;       /* unknown: the latest that has picks */
	struct maybe_i32 first_year; /* of any pick in the yard; looked for when it is wanted */
	struct subject subject;      /* whose seasons they are */
	struct subject marked;       /* to be compared with another; id "": none */
};

const struct season_list *season_shown(const struct season_page *page);
/* Rows of the body that the list has, and, under it, the foot. */
int season_list_rows(const struct season_page *page, int rows);
void season_draw(const void *screen, struct paper *paper);

#endif
