/* SPDX-License-Identifier: MIT */
/* tree_words.h - one tree's story in words, a row each: what `tree show` prints and its sheet. */
#ifndef REPORT_TREE_WORDS_H
#define REPORT_TREE_WORDS_H

#include "dossier/yard.h"

struct words_row {
	const char *head;
	const char *text;
};
/* The arena is given; the rows grow in it. */
struct words_rows {
	struct arena *arena;
	struct words_row *items;
	int32_t count;
	int32_t size;
};
void words_rows_add(struct words_rows *rows, const char *head, const char *text);

/* Its windows: "bloom", "3 to 12 March 2027 (your bloom, 4 seasons: ...)". The saw by the rows that
 * the rules read. */
void tree_words_windows(const struct dossier *dossier, struct date today, struct words_rows *out);
/* What it was taken for before, with the day, or, never taken for anything else, who says what it
 * is; the reason as the row's text. */
enum status tree_words_names(struct yard *yard, const struct dossier *dossier,
	struct words_rows *out, struct fault *why) MUST_CHECK;
/* What was noted to tell its cultivar, and the first of what it could be, each with a seedling
 * beside them; nothing where nothing is noted, or the cultivar is certain. */
enum status tree_words_likely(struct yard *yard, const struct dossier *dossier,
	struct words_rows *out, struct fault *why) MUST_CHECK;
/* "12 May 2026", "picked 6 lb; a note". */
void tree_words_entries(
	const struct dossier *dossier, const struct number_rules *numbers, struct words_rows *out);

#endif
