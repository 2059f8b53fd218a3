/* SPDX-License-Identifier: MIT */
/* season_inner.h - the parts of the season report. */
#ifndef REPORT_SEASON_INNER_H
#define REPORT_SEASON_INNER_H

#include "dossier/uses.h"
#include "report/season_report.h"

/* Fills line->candidates with what the log holds that season; the texts live in arena. */
void season_candidates(
	const struct dossier *dossier, struct season_line *line, struct arena *arena);
/* Fills line->grades from the picks of that season that name one. */
void season_grades(const struct dossier *dossier, struct date today, struct season_line *line);
/* Sums by kind; a graft's crop counts for its kind, plants are counted once. pooled: of any year;
 * those of the report's are added. */
void season_totals(struct season_report *report, const struct pooled_crop *pooled, int32_t count,
	struct arena *arena);

#endif
