/* SPDX-License-Identifier: MIT */
/* likely_report.h - which cultivar a tree could be: what was noted of it, what its own picks say
 * against trees that are known, and the almanac's rows in the order in which they fit. */
#ifndef REPORT_LIKELY_REPORT_H
#define REPORT_LIKELY_REPORT_H

#include "dossier/work.h"
#include "reckon/likely.h"

/* A trait as said now, beside those of the log: "flesh", "white"; "" takes the log's out. */
struct likely_said {
	const char *trait;
	const char *value;
};

/* Takes "old cherry skin=yellow flesh=dark red" apart: the label, and traits, whose values may hold
 * blanks. In the arena. STATUS_SYNTAX: no label, or a trait without a name. */
enum status likely_said_read(const char *line, struct arena *arena, const char **label,
	struct likely_said **out, int32_t *count, struct fault *why) MUST_CHECK;

struct likely_report {
	const struct dossier *dossier;
	bool south; /* months are shown as they fall here */
	struct likely_kind kinds[CANDIDATES_MAX];
	int32_t kind_count;
	struct likely_note notes[LIKELY_NOTES_MAX];
	int32_t note_count;
	const char
		*unread; /* traits in the log that the rows of these kinds do not have; "" none */
	struct likely likely;
};

/* STATUS_ABSENT: its kind is not known, or the almanac has no cultivars of it; STATUS_SYNTAX: a
 * trait as said is none, or no row is near it. */
enum status likely_report_make(struct yard *yard, const char *tree_id,
	const struct likely_said *said, int32_t said_count, struct arena *arena,
	struct likely_report *out, struct fault *why) MUST_CHECK;
/* The kinds that a tree may be, those of them with cultivars. Returns how many. */
int32_t likely_report_kinds(const struct almanac *almanac, const struct tree_kind *kind,
	struct likely_kind out[CANDIDATES_MAX]);

/* Keeps what was seen in the log, in one act, words as the almanac spells them; of a tree of no
 * known kind what any kind has. STATUS_SYNTAX: no trait, or no word of it. */
enum status likely_report_keep(struct yard *yard, const char *tree_id,
	const struct likely_said *said, int32_t count, const struct trait *by,
	struct fault *why) MUST_CHECK; /* by: its day and who */

/* What of a candidate has this fit, "flesh, shape (round)"; differing and near ones with what its
 * row says. "" none. Returns out. */
const char *likely_report_words(const struct likely_report *report,
	const struct likely_candidate *candidate, enum likely_fit fit, char *out, size_t size);
/* What the leading ones say of a trait: "1-2: Advance, Wolfe; 4-5: Premier". Returns out. */
const char *likely_report_split(
	const struct likely_report *report, const char *trait, char *out, size_t size);
/* What may be said of a trait, parted by ", ": the words of the rows, months as they fall here; of
 * an order before, with and after the named trees of its kind. Returns out. */
const char *likely_report_choices(
	const struct likely_report *report, const char *trait, char *out, size_t size);
/* All that was noted, "flesh white; skin yellow"; "" nothing. Returns out. */
const char *likely_report_noted(const struct likely_report *report, char *out, size_t size);

/* Said wherever a list of them stands. */
extern const char *const likely_seedling; /* "a seedling, or not on this list" */
extern const char *const likely_caution;

#endif
