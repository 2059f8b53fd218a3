/* SPDX-License-Identifier: MIT */
/* look.h - what the rules share: judging a day of a cut, seasons of work, words for days. */
#ifndef RULES_LOOK_H
#define RULES_LOOK_H

#include "rules/rule.h"

enum {
	ACT_DAYS = 21,  /* harm done this lately may still be lessened */
	SOON_DAYS = 14, /* a window that opens within these is soon; work as early counts */
	CUTS_MAX = 48,
	HARD_CUT_PERMILLE = 333, /* a third of the crown */
};

/* The tree's entries that rules about doing look at: a day is known. */
bool look_day(const struct entry *entry, struct date *day);
/* A cut that takes flower wood when ill-timed: not sanitation, not suckers. */
bool look_is_shaping(const struct entry *entry);
/* The kind of cut it is judged as: unsaid is judged as shape. */
enum cut_kind look_cut_kind(const struct entry *entry);
/* Share of the crown an entry took; not known for shares of shoots, or when unsaid of what on a
 * kind whose limit counts shoots. */
struct share look_crown_share(const struct dossier *dossier, const struct entry *entry);

/* Season year whose work a day belongs to: the first season whose last pick (else harvest
 * window's end) is not before the day. */
int32_t look_work_year(const struct dossier *dossier, struct date day);
/* Season year whose crop a cut on this day can cost: of flowers, the first whose harvest opens
 * after the day; of fruit, the first whose harvest ends on or after it. */
int32_t look_crop_year(const struct dossier *dossier, struct date day, bool fruit_hangs);
/* "2027" or "2026/27". */
const char *look_season_name(const struct dossier *dossier, int32_t year, char *out, int size);

/* What the almanac, or the grower's own window, says of a kind of cut on a day. */
struct verdict_here {
	bool known;
	enum verdict verdict;
	const struct cut_row *row; /* NULL: the grower's own window */
	bool moved;                /* by this tree's own days */
};
/* reasons: bits (1 << enum cut_reason) of the avoid rows asked for; an own window counts always. */
struct verdict_here look_verdict(const struct dossier *dossier, const struct species *species,
	enum cut_kind kind, struct date day, unsigned reasons);

/* act within ACT_DAYS of the day for rows that were read or are common practice here, note after
 * that; rows of memory or second-hand alone are always notes. */
enum urgency look_harm_urgency(struct date day, struct date today, enum known_by sure);
bool look_may_alarm(enum known_by sure);

/* The title of a source for people; the key itself when the table has no such row. */
const char *look_basis(const struct window *window, char *out, int size);
/* Fills the flag's window and basis. */
void look_set_window(struct flag *flag, const struct window *window, struct window_span span);

/* How many earlier seasons (before season `year`) hold a done entry of the kind. */
int32_t look_seasons_with(const struct dossier *dossier, enum entry_kind kind, int32_t year);
/* Rain of 1 mm, frost, or wind, hail or storm logged on the day: the reason in words, else NULL. */
const char *look_bad_day(const struct dossier *dossier, struct date day);
/* True when this grower feeds this tree, or it is young and the almanac feeds then, or its
 * shoots fell short: see feed-due. *why_text says which. */
bool look_feeds(const struct dossier *dossier, struct date today, const char **why_text);

/* The rules, each in the file of its name. */
void rule_flower_wood(const struct dossier *dossier, struct date today, struct flags *out);
void rule_cut_in_wet_season(const struct dossier *dossier, struct date today, struct flags *out);
void rule_cut_too_much(const struct dossier *dossier, struct date today, struct flags *out);
void rule_shape_cut_due(const struct dossier *dossier, struct date today, struct flags *out);
void rule_feed_due(const struct dossier *dossier, struct date today, struct flags *out);
void rule_feed_over(const struct dossier *dossier, struct date today, struct flags *out);
void rule_feed_late(const struct dossier *dossier, struct date today, struct flags *out);
void rule_girth_stale(const struct dossier *dossier, struct date today, struct flags *out);
void rule_girth_or_diameter(const struct dossier *dossier, struct date today, struct flags *out);
void rule_pick_soon(const struct dossier *dossier, struct date today, struct flags *out);
void rule_pick_unlogged(const struct dossier *dossier, struct date today, struct flags *out);
void rule_leave_alone(const struct dossier *dossier, struct date today, struct flags *out);
void rule_facts_missing(const struct dossier *dossier, struct date today, struct flags *out);
void rule_plan_due(const struct dossier *dossier, struct date today, struct flags *out);
void rule_spray_interval(const struct dossier *dossier, struct date today, struct flags *out);

#endif
