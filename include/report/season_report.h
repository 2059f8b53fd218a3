/* SPDX-License-Identifier: MIT */
/* season_report.h - what each tree gave in a season, against its own past and its size, and what
 * the log holds that may explain it (candidates, never one cause). */
#ifndef REPORT_SEASON_REPORT_H
#define REPORT_SEASON_REPORT_H

#include "dossier/yard.h"
#include "rules/causes.h"

/* What was weighed of one grade ("second grade"): part of what was picked, never on top of it. */
enum { GRADES_MAX = 4, GRADE_NAME_SIZE = 24 };
struct season_grade {
	char name[GRADE_NAME_SIZE];
	int64_t mass_mg;
};

struct season_line {
	struct subject subject; /* a tree, a graft, or a spot picked as one */
	char species_key[KEY_SIZE];
	char kind_name[NAME_SIZE];
	bool is_graft;
	char season_name[16];
	struct season season;
	int32_t seasons_known;         /* complete seasons with a figure before this one */
	struct maybe_i64 past_mean_mg; /* of those */
	struct maybe_i64 mean_fruit_mg;
	struct maybe_i64 tcsa_mm2;
	struct maybe_date trunk_day;                  /* when that trunk was measured */
	bool trunk_is_old;                            /* over two years before the season's end */
	struct maybe_i64 efficiency_mg_per_mm2_milli; /* thousandths of mg per mm2 */
	struct alternation alternation;
	struct season_grade grades[GRADES_MAX]; /* none where a graded pick has no weight */
	int32_t grade_count;
	const char *candidates[CAUSES_MAX]; /* "shape cut 20 % on 3 October 2025: flagged" */
	int32_t candidate_count;
	bool is_whole; /* what may bear on it was looked for */
};
struct season_kind_total {
	char kind_name[NAME_SIZE];
	int32_t trees;       /* plants: grafts and shared spots are not counted again */
	int32_t with_figure; /* of them, seasons that are over: those behind the mean */
	struct amount_sum picked;
	struct amount_sum pooled; /* of it: totals of several trees, in no line */
	struct amount_sum lost;
	struct amount_sum fruit;
	int32_t unweighed;
	struct maybe_i64 mean_mg; /* a tree with a figure */
};
struct season_report {
	int32_t year;
	struct season_line *lines;
	int32_t count;
	struct season_kind_total *totals;
	int32_t total_count;
};
/* How much is asked for: what is not is not read either. */
enum season_depth {
	SEASON_WHOLE,
	SEASON_FIGURES, /* without what may bear on a crop */
	SEASON_CROPS,   /* the crops and their sums alone: no size, grade, or past */
};
struct season_options {
	struct maybe_i32 year; /* unknown: the latest season that has picks */
	const char *tree_id;   /* NULL: all; a tree: all its seasons, one line each */
	bool without_private;  /* of all: trees marked private, and grafts on them, are left out */
	enum season_depth depth;
};
enum status season_report_make(struct yard *yard, const struct season_options *options,
	struct arena *arena, struct season_report *out, struct fault *why) MUST_CHECK;

/* The same of one tree whose dossier is in hand; options->tree_id is not heard. */
void season_report_of(struct yard *yard, const struct dossier *dossier,
	const struct season_options *options, struct arena *arena, struct season_report *out);

/* What may bear on one line of a report of all that was made without it; nothing where it was
 * looked for. The texts live in arena. */
enum status season_line_complete(struct yard *yard, struct season_line *line, struct arena *arena,
	struct fault *why) MUST_CHECK;

/* What was picked; a season in which none was seen gave nothing. */
struct maybe_i64 season_line_picked(const struct season_line *line);
/* A season that is not over, or without a figure, is never compared. */
bool season_line_is_compared(const struct season_line *line);
/* Of the mean of its own past, 1.0 as much; below 0: not to be compared. */
double season_line_share(const struct season_line *line);

/* --- in words; each returns out --- */

/* "52 lb", "100 lb or more", "~30 lb +2 not weighed"; "" when nothing is known. */
const char *season_sum_words(const struct amount_sum *sum, int32_t unweighed,
	enum unit_system units, char *out, size_t size);
/* What stands beside the weight: fruit, loss, days, size, alternation. A size of 400 never cuts. */
const char *season_line_words(
	const struct season_line *line, enum unit_system units, char *out, size_t size);
/* "not recorded"; complete, which has a weight to show, is "picked, no figure". */
const char *season_state_words(enum season_state state);
/* All seasons of one tree together, a sentence each: middle and spread with n, trend, the three
 * indices of alternation by their names, years of much and of little. lines: the seasons of one
 * subject, oldest first. Returns how many sentences; 0 under two seasons that are over. */
enum { SEASON_PAST_MAX = 4 };
int32_t season_past_words(const struct season_line *lines, int32_t count, enum unit_system units,
	struct arena *arena, const char *out[SEASON_PAST_MAX]);
/* Whole fruit counted. */
struct maybe_i64 season_fruit(const struct season *season);

#endif
