/* SPDX-License-Identifier: MIT */
/* paper_parts.h - what the printed papers share. */
#ifndef REPORT_PAPER_PARTS_H
#define REPORT_PAPER_PARTS_H

#include "core/text.h"
#include "document.h"
#include "report/on_paper.h"

/* The title, and the day the paper is of. */
void paper_begin(struct document *document, const struct on_paper *paper, const char *title);
/* Ends what was begun, whatever became of it; the status given, else that of the writing. */
enum status paper_finish(
	struct document *document, enum status status, struct fault *why) MUST_CHECK;
/* STATUS_DENIED: the tree asked for is private, and those are to be left out. */
enum status paper_allows(const struct on_paper *paper, struct fault *why) MUST_CHECK;
/* What was picked, else where the season stands. Returns out. */
const char *paper_sum_words(
	const struct season_line *line, enum unit_system units, char *out, size_t size);
/* All seasons of one tree: bars with its mean, and what they say together. */
void paper_seasons(struct document *document, const struct season_report *report,
	enum unit_system units, struct arena *arena);
/* What became of the fruit of a season; nothing where nothing was told. */
enum status paper_stock(struct document *document, const struct on_paper *paper, int32_t year,
	struct arena *arena, struct fault *why) MUST_CHECK;
/* "A3 apple, Gravenstein?". Returns out. */
const char *paper_tree_title(const struct dossier *dossier, char *out, size_t size);
bool paper_has_flags(const struct review *review, const char *tree_id);
/* Its flags that are open, worst first. */
void paper_flags(struct document *document, const struct review *review, const char *tree_id);
/* Where work can hurt someone. */
void paper_cautions(struct document *document);

#endif
