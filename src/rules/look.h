/* SPDX-License-Identifier: MIT */
/* look.h - what the rules share: judging a day of a cut, seasons of work, words for days. */
#ifndef RULES_LOOK_H
#define RULES_LOOK_H

#include "proof.h"
#include "rules/rule.h"
#include "tells.h"

enum {
	ACT_DAYS = 21,  /* harm done this lately may still be lessened */
	SOON_DAYS = 14, /* a window that opens within these is soon; work as early counts */
	CUTS_MAX = 48,
	HARD_CUT_PERMILLE = 333, /* a third of the crown */
	ONE_YEAR_DAYS = 270, /* work further apart is of two years (ours): a season of work can be
	                        longer than one, where the fruit comes off late */
};

/* How long what was logged is held against the tree, in days. Whoever adds one here adds it to
 * the table in days.c, which says when an answer changes by itself. */
enum {
	FLOWER_CUT_DAYS = 550,
	WET_CUT_DAYS = 365,
	CUT_SHARE_DAYS = 365,
	HARD_CUT_DAYS = 365,    /* no feed is asked for after a hard cut */
	CUT_IN_REST_DAYS = 180, /* a cut on a tree that was to be left alone */
	REST_DAYS = 1100,       /* a hard cut that may still keep a tree resting */
	LATE_FEED_DAYS = 180,
	FROSTED_DAYS = 240,  /* no feed is asked for after frost damage */
	BLIGHTED_DAYS = 365, /* nor after fire blight */
	GROWTH_DAYS = 550,   /* a shoot length tells of this and last year */
	SPRAY_DAYS = 400,
	MANURE_DAYS = 365,      /* picks too near raw manure are told for a year */
	CROP_TOLD_DAYS = 183,   /* what a crop that is in says of the tree */
	LATE_CUT_DAYS = 1095,   /* work that may keep a tree from its first crop */
	YOUNG_STALE_DAYS = 365, /* a trunk measure of a tree under eight years */
	STALE_DAYS = 2 * 365,
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
/* Season year whose crop a cut on this day can cost, by the row that says avoid (NULL: the
 * grower's own span): of fruit that hangs, or of a main crop that stands on this year's shoots, the
 * season of the day; else the first whose harvest opens after it. Seasons are those of the species
 * where the tree's own is not known (a candidate). */
int32_t look_crop_year(const struct dossier *dossier, const struct species *species,
	struct date day, const struct cut_row *row);
/* Has the last fruit of the day's season been picked before the day: no pick comes after, and the
 * grower said it was the last, or it lies in the second half of the harvest and a week back. */
bool look_fruit_is_off(
	const struct dossier *dossier, const struct species *species, struct date day);
/* "2027" or "2026/27". */
const char *look_season_name(const struct dossier *dossier, int32_t year, char *out, int size);

/* What the almanac, or the grower's own window, says of a kind of cut on a day. */
struct verdict_here {
	bool known;
	enum verdict verdict;
	const struct cut_row *row; /* NULL: the grower's own window */
	bool moved;                /* by this tree's own days */
	bool freed;                /* a row spoke of fruit that is off, and was passed over */
	int32_t chosen;            /* of a source that this place follows */
};
enum { REASONS_ALL = -1 };
/* reasons: bits (1 << enum cut_reason) of the avoid rows asked for; an own window counts always. */
struct verdict_here look_verdict(const struct dossier *dossier, const struct species *species,
	enum cut_kind kind, struct date day, unsigned reasons);

/* act within ACT_DAYS of the day for rows that were read or are common practice here, note after
 * that; rows of memory or second-hand alone are always notes. */
enum urgency look_harm_urgency(struct date day, struct date today, enum known_by sure);
bool look_may_alarm(enum known_by sure);

/* The source of what rests on a window that the grower set. */
extern const char look_own_source[]; /* "your own window" */
extern const char look_own_days[];   /* "your own log" */
/* "almanac", "your picks, 4 seasons", "set by hand here". */
const char *look_basis(const struct window *window, char *out, int size);
/* The same inside a sentence: "by the almanac", "by your picks, 4 seasons", "as set by hand
 * here". */
const char *look_by(const struct window *window, char *out, int size);
/* Fills the flag's window and basis. */
void look_set_window(struct flag *flag, const struct window *window, struct window_span span);

/* How many earlier seasons (before season `year`) hold a done entry of the kind. */
int32_t look_seasons_with(const struct dossier *dossier, enum entry_kind kind, int32_t year);
/* Rain of 1 mm, frost, or wind, hail or storm logged on the day: the reason in words, else NULL. */
const char *look_bad_day(const struct dossier *dossier, struct date day);
/* True when this grower feeds this tree, or it is young and the almanac feeds then, or its
 * shoots fell short: see feed-due. *why_text says which. */
bool look_feeds(const struct dossier *dossier, struct date today, const char **why_text);

/* When the crop of a season stood in flower: three weeks from the bloom logged, else the middle
 * half of the window, whose ends are those of early and late cultivars. */
bool look_bloom_of(const struct dossier *dossier, int32_t year, struct window_span *span);
/* Did the cut cost the crop of that season: the flowers or fruit went with it, or the kind answers
 * a cut so hard with leaves. */
bool look_cut_fell_to(
	const struct dossier *dossier, const struct entry *cut, int32_t year, bool *flowers);

/* Does a feed planned for the day fall in weeks to keep nitrogen away? Then out says so, and when
 * it is good for feeding. */
bool look_feed_waits(const struct dossier *dossier, struct date day, char *out, size_t size);
/* Other published calendars of feeding, as evidence of a flag about the time of a feed. */
void look_tell_feed_calendars(const struct dossier *dossier, struct flags *out, struct flag *flag);
/* Does a source that this place follows give a tree of the kind no feed in its first year? */
bool look_first_year_waits(const struct dossier *dossier);

/* Text into a flag's says or action, cut at a character where it is full. */
void look_say(char (*out)[FLAG_SAYS_SIZE], const char *format, ...)
	__attribute__((format(printf, 2, 3)));
/* "12 May to 15 July 2027"; size >= 64. */
const char *look_span(struct date from, struct date to, char *out, int size);
/* Words as a sentence: a capital first, a full stop last. */
const char *look_sentence(const char *text, char *out, size_t size);
/* Words at the end of a sentence: a full stop last. */
const char *look_ended(const char *text, char *out, size_t size);
/* What keeps people safe at a cut, to stand first: why not today, then the tree's hazard, else
 * power lines. */
const char *look_cut_care(const struct dossier *dossier, struct date today, char *out, size_t size);

/* The same month and day so many years on; 28 February for the 29th. */
struct date look_years_after(struct date day, int32_t years);

/* Puts every later day on which the answers could differ because time goes by: a birthday, a
 * season that turns or is over, an entry that grows old, a day of bad weather that ends. */
void look_days(const struct dossier *dossier, struct date today, struct flags *out);

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
void rule_spray_in_bloom(const struct dossier *dossier, struct date today, struct flags *out);
void rule_spray_interval(const struct dossier *dossier, struct date today, struct flags *out);
/* cuts: how far, how fast, on what day */
/* see cut_say.h */
/* fruit: thinning, bearing, yields */
void rule_thin_due(const struct dossier *dossier, struct date today, struct flags *out);
void rule_alternate_on(const struct dossier *dossier, struct date today, struct flags *out);
void rule_alternate_off(const struct dossier *dossier, struct date today, struct flags *out);
void rule_overbearing(const struct dossier *dossier, struct date today, struct flags *out);
void rule_bloom_missing(const struct dossier *dossier, struct date today, struct flags *out);
void rule_late_to_bear(const struct dossier *dossier, struct date today, struct flags *out);
void rule_yield_low(const struct dossier *dossier, struct date today, struct flags *out);
void rule_manure_interval(const struct dossier *dossier, struct date today, struct flags *out);
/* weather and water */
void rule_frost_in_bloom(const struct dossier *dossier, struct date today, struct flags *out);
void rule_heat_scorch(const struct dossier *dossier, struct date today, struct flags *out);
void rule_chill_short(const struct dossier *dossier, struct date today, struct flags *out);
void rule_water_short(const struct dossier *dossier, struct date today, struct flags *out);
void rule_water_first_summer(const struct dossier *dossier, struct date today, struct flags *out);
void rule_water_daily(const struct dossier *dossier, struct date today, struct flags *out);
void rule_mulch_due(const struct dossier *dossier, struct date today, struct flags *out);
void rule_mulch_on_trunk(const struct dossier *dossier, struct date today, struct flags *out);
/* planting, pots, grafts, records */
void rule_graft_check(const struct dossier *dossier, struct date today, struct flags *out);
void rule_seed_drying(const struct dossier *dossier, struct date today, struct flags *out);
void rule_pot_small(const struct dossier *dossier, struct date today, struct flags *out);
void rule_pot_up_due(const struct dossier *dossier, struct date today, struct flags *out);
void rule_planted_deep(const struct dossier *dossier, struct date today, struct flags *out);
void rule_too_close(const struct dossier *dossier, struct date today, struct flags *out);
void rule_feed_young_hole(const struct dossier *dossier, struct date today, struct flags *out);
void rule_old_orchard_soil(const struct dossier *dossier, struct date today, struct flags *out);
void rule_feed_unknown_amount(const struct dossier *dossier, struct date today, struct flags *out);
void rule_label_lost(const struct dossier *dossier, struct date today, struct flags *out);
void rule_doubt_in_name(const struct dossier *dossier, struct date today, struct flags *out);
void rule_name_by_harvest(const struct dossier *dossier, struct date today, struct flags *out);
void rule_entry_odd(const struct dossier *dossier, struct date today, struct flags *out);
/* pests, diseases, what leaves the place */
void rule_scout_due(const struct dossier *dossier, struct date today, struct flags *out);
void rule_sanitation_due(const struct dossier *dossier, struct date today, struct flags *out);
void rule_quarantine_check(const struct dossier *dossier, struct date today, struct flags *out);
/* neighbours */
/* Are they told? Else who looks is asked to tell them, and the rule says nothing. */
bool look_has_neighbours(const struct dossier *dossier, struct flags *out);
void rule_no_partner(const struct dossier *dossier, struct date today, struct flags *out);

#endif
