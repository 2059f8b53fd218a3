/* SPDX-License-Identifier: MIT */
/* on_paper.h - what is printed to be carried, kept or handed on: the season report, the walk list,
 * and a sheet for each tree. Text of 80 columns or one HTML file, ready for a printer. The figures
 * are those of report/season_report.h, report/review.h and the dossiers: nothing is worked out
 * here. */
#ifndef REPORT_ON_PAPER_H
#define REPORT_ON_PAPER_H

#include "report/print.h"

struct on_paper {
	struct printer printer; /* stream, units, numbers, ascii; the width of text */
	struct yard *yard;      /* for its day */
	bool html;
	const char *tree_id;   /* NULL: all */
	struct maybe_i32 year; /* of the season report; unknown: the latest with picks */
	bool without_private;  /* trees marked private, and grafts on them, are left out */
};

/* Yields by tree and year, best and least, what changed, on and off years; of one tree: its
 * seasons. */
enum status on_paper_season(const struct on_paper *paper, struct fault *why) MUST_CHECK;
/* The trees as they are walked past, hazards first, with lines to fill by hand. */
enum status on_paper_walk(const struct on_paper *paper, struct fault *why) MUST_CHECK;
/* One page a tree; of all trees a page for the yard before them. STATUS_DENIED: the one asked for
 * is private and those are to be left out. */
enum status on_paper_sheets(const struct on_paper *paper, struct fault *why) MUST_CHECK;

#endif
