/* SPDX-License-Identifier: MIT */
/* proof.h - evidence that the rules share: the entries a flag stands on, the window and whose it
 * is, the crops. A flag names with its day every entry that it rests on. */
#ifndef RULES_PROOF_H
#define RULES_PROOF_H

#include "rules/flag.h"

/* "the cut as logged, 5 October 2026: A1 cut shape 20% of crown": the entry is one of the flag's.
 * what: "the cut"; "" none. */
void proof_entry(
	struct flags *flags, struct flag *flag, const char *what, const struct entry *entry);
/* The same of the dossier's entry of that id; nothing where it has none. */
void proof_entry_id(const struct dossier *dossier, const char *what, const char *id,
	struct flags *flags, struct flag *flag);
/* "bloom: 10 March to 24 April 2026, by your bloom, 2 seasons": where the sentence of the flag
 * does not say it. */
void proof_window(const struct window *window, struct window_span span, struct flags *flags,
	struct flag *flag);
/* "almanac, loquat, to avoid 15 August 2026 to 31 March 2027: why": the row that a cut on the
 * day was judged by. */
void proof_cut_row(const struct dossier *dossier, const struct species *species,
	const struct cut_row *row, struct date day, struct flags *flags, struct flag *flag);
/* "to avoid" */
const char *proof_verdict(enum verdict verdict);

/* Work that came back season by season: the newest of each of the last two seasons before `year`,
 * of the season of work the day falls in, or of the crop. */
enum proof_season { BY_WORK, BY_CROP };
void proof_habit(const struct dossier *dossier, enum entry_kind kind, enum proof_season by,
	int32_t year, struct flags *flags, struct flag *flag);
/* "crops: 2022 44 lb, 2023 53 lb": those with a figure up to the season, the last six. */
void proof_crops(
	const struct dossier *dossier, int32_t year, struct flags *flags, struct flag *flag);
/* "first picks: 20 June 2024, 20 June 2025": of seasons before the year, the last six. */
void proof_first_picks(
	const struct dossier *dossier, int32_t year, struct flags *flags, struct flag *flag);

#endif
