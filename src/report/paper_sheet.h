/* SPDX-License-Identifier: MIT */
/* paper_sheet.h - the sheets of the trees and the page of the yard before them. */
#ifndef REPORT_PAPER_SHEET_H
#define REPORT_PAPER_SHEET_H

#include "paper_parts.h"

struct sheet {
	const struct on_paper *paper;
	struct document document;
};

/* The place, its trees, its spots, and the trees that are gone. */
enum status paper_yard_page(struct sheet *sheet, struct fault *why) MUST_CHECK;
/* Whose pollen a tree takes, and who takes its, by the almanac; nothing of a kind it has no word
 * of, or of a tree that is gone. */
void paper_partners(struct sheet *sheet, const struct dossier *dossier, struct arena *arena);

#endif
