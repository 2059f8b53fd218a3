/* SPDX-License-Identifier: MIT */
/* season.h - which crop a pick belongs to, and where that crop stands.
 *
 * [H0, H1] is the kind's harvest window here by the almanac or set by hand, never learned, so
 * that names do not drift. G = days from H1 to the next H0. The turn T = H1 + floor(G / 2). Rows
 * marked all-year, or G < 60: T = first day of main bloom. Unknown kind: T = 1 January (north),
 * 1 July (south). No hemisphere: calendar years. */
#ifndef RECKON_SEASON_H
#define RECKON_SEASON_H

#include "core/memory.h"
#include "reckon/window.h"

struct season_rule {
	struct month_day turn;
	struct month_day harvest_from; /* month 0: not known */
	struct month_day harvest_to;
	bool years_add; /* the harvest that follows the turn opens in the next calendar year */
	bool crosses;   /* the window crosses New Year: named "1915/16" */
};

struct season_rule season_rule_for(const struct species *species, enum climate climate,
	const struct place *place, const struct own_window *own, int32_t own_count,
	const char *tree_id);
/* Season year Y of a day. */
int32_t season_year_of(const struct season_rule *rule, struct date day);
/* First day (the turn) and last day of season Y. */
struct window_span season_span(const struct season_rule *rule, int32_t year);
/* The harvest window of season Y; known = false when the kind is not known. */
bool season_harvest(const struct season_rule *rule, int32_t year, struct window_span *out);
/* "2026" or "1915/16"; size >= 12. */
const char *season_name(const struct season_rule *rule, int32_t year, char *out, int size);
/* "2026" and "1915/16" both give the year. */
enum status season_parse(const char *text, int32_t *year, struct fault *why) MUST_CHECK;

enum season_state {
	SEASON_TO_COME,
	SEASON_IN_PROGRESS,
	SEASON_COMPLETE,
	SEASON_NONE_SEEN,
	SEASON_NOT_RECORDED
};
const char *season_state_key(enum season_state state); /* "in-progress" */

/* One crop of one tree or graft (or of a spot picked as one). */
struct season {
	int32_t year;
	bool crosses; /* named "1915/16", by what the tree was then */
	enum season_state state;
	struct amount_sum picked; /* milligrams; estimates of containers are in, about is set */
	struct amount_sum lost;
	struct amount_sum fruit; /* thousandths of a fruit */
	/* of the picks that were weighed as well as counted */
	int64_t sized_mg;
	int64_t sized_fruit; /* thousandths of a fruit */
	int32_t picks;       /* entries */
	int32_t unweighed;   /* picks without a weight */
	bool said_last;      /* "picked last" */
	bool none_said;      /* "none seen" was logged; zero only when nothing was picked */
	struct maybe_date first_pick; /* of picks whose day is known to a fortnight */
	struct maybe_date last_pick;
};
/* Its name under the rule it was made by; size >= 12. */
const char *season_title(const struct season *season, char *out, int size);
/* Picked and lost together, by their points; unknown when no pick has a figure. */
struct maybe_i64 season_total_mg(const struct season *season);

/* Milligrams a fruit, over the picks that were weighed as well as counted; unknown without one. */
struct maybe_i64 season_fruit_mg(const struct season *seasons, int32_t count);
/* The season year an entry counts for. False: not a pick or loss, only planned, still to come, or
 * of a day too uncertain to say which crop. */
bool season_of_entry(const struct entry *entry, const struct season_rule *rule, struct date today,
	int32_t *year);

/* Groups pick and loss entries (of one subject, any order) into seasons up to the one that holds
 * `today` (or a later one that the grower named), oldest first, with a row for each year between
 * without a gap; entries whose season was given go there. weigh: turns an amount in containers
 * into milligrams (may be NULL). */
struct season_weigher {
	const void *owner;
	bool (*weigh)(const void *owner, const struct amount *amount, struct date day,
		struct amount *mass);
};
int32_t season_table(const struct entry *const *entries, int32_t count,
	const struct season_rule *rule, struct date today, const struct season_weigher *weigher,
	struct arena *arena, struct season **out);

/* What one entry weighed; missing 1 where it was not. */
struct amount_sum season_entry_mass(
	const struct entry *entry, struct date day, const struct season_weigher *weigher);

/* Alternation: mean of |a-b|/(a+b) over pairs of successive complete seasons with known amounts
 * up to `last_year` (0/0 skipped): weights, or pieces where they were only counted. Formula: mean
 * of ratios, after Monselise & Goldschmidt 1982. */
struct alternation {
	int32_t pairs;
	double index; /* 0..1; meaningless when pairs is 0 */
	int32_t seasons;
};
struct alternation season_alternation(
	const struct season *seasons, int32_t count, int32_t last_year);
/* Are its years to be called on and off: 0.3 or more, from four seasons and three pairs (ours). */
bool season_swings(const struct alternation *alternation);

#endif
