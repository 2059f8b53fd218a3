/* SPDX-License-Identifier: MIT */
/* pick_cell.h - what a cell of picks says, as an entry. */
#ifndef EXCHANGE_PICK_CELL_H
#define EXCHANGE_PICK_CELL_H

#include "intake.h"

struct pick_cell {
	struct amount amounts[2];
	int32_t amount_count;
	const char *said;  /* " 3 lb 20 fruit": the figures as words, each with its unit */
	const char *grade; /* "" or NULL none */
};

/* Figures as they stand in a cell; one that says nothing adds none. */
enum status pick_weight(struct intake *intake, const char *text, struct pick_cell *cell,
	struct fault *why) MUST_CHECK;
enum status pick_count(struct intake *intake, const char *text, struct pick_cell *cell,
	struct fault *why) MUST_CHECK;
/* "1915/16" as the span of its two years, "1921" as that year; both say the season outright. */
enum status pick_season(const char *text, struct date_span *day, struct maybe_i32 *season_year,
	struct fault *why) MUST_CHECK;
/* Words, amounts and grade into the entry, which the cell must outlive. */
void pick_entry(struct intake *intake, struct pick_cell *cell, struct entry *entry);
/* "A1: picked 3 lb, 2026-09-01", for a dry run; "" when none is asked for. */
const char *pick_said(struct intake *intake, const struct entry *entry);

#endif
