/* SPDX-License-Identifier: MIT */
/* window.h - the almanac's spans of the year turned for a place and a tree.
 *
 * Almanac rows speak for the northern hemisphere. In the south six months are added to the month
 * and the day is clamped to the month's end. Between 12 N and 12 S, and where the hemisphere is
 * not known, no almanac row gives a date. What a tree did moves its bloom and harvest, and the
 * rows anchored on them; calendar anchors never move. */
#ifndef RECKON_WINDOW_H
#define RECKON_WINDOW_H

#include "almanac/almanac.h"

enum basis { BASIS_ALMANAC, BASIS_OWN, BASIS_LEARNED };

/* What the days of an event (bloom, first pick, last pick) over the seasons say: the median
 * difference to the almanac's day on the circle of the year. Even n: the mean of the middle two,
 * halves toward zero. */
struct learned {
	int32_t seasons;    /* n of days logged */
	int32_t shift_days; /* D; 0 when not applied */
	int32_t shift_min;
	int32_t shift_max;
	bool applied; /* n >= 2 and nothing strange */
	bool strange; /* max|d - D| > 60, or the new day over 60 days outside the almanac's span:
	                      not applied, asked */
};
/* days: one per season; almanac_day: circle place of the row's first (or last) day here;
 * span_from..span_to: the almanac's own span here. */
struct learned window_learn(const struct date *days, int32_t count, int32_t almanac_day,
	int32_t span_from, int32_t span_to);

/* Events of a tree that move windows. */
struct tree_learning {
	struct learned bloom;       /* first day of bloom */
	struct learned harvest;     /* first pick */
	struct learned harvest_end; /* last pick of complete seasons */
};

/* A span of the year here. */
struct window {
	bool known;
	enum window_kind kind;
	struct month_day from;
	struct month_day to;
	bool all_year;
	enum basis basis;
	struct learned learned;       /* when basis is BASIS_LEARNED */
	const struct window_row *row; /* NULL for the grower's own */
};

/* One occurrence of it. */
struct window_span {
	struct date from;
	struct date to; /* both ends in */
};

bool window_place_has_dates(const struct place *place); /* hemisphere known, not in the tropics */
/* A month-day of the almanac turned for the place. */
struct month_day window_turn(struct month_day month_day, enum hemisphere hemisphere);
/* The last day of a span: a month's last day stays one, so that a span up to 30 September reaches
 * 31 March. */
struct month_day window_turn_last(struct month_day last, enum hemisphere hemisphere);

/* The window of one row at this place, moved by what was learned (NULL: not moved). */
struct window window_of_row(const struct window_row *row, enum hemisphere hemisphere,
	const struct tree_learning *learning);
/* What decides a tree's windows. */
struct window_facts {
	const struct species *species; /* NULL: not known; only the grower's own windows then */
	enum climate climate;
	const struct place *place;
	const struct own_window *own;
	int32_t own_count;
	const char *tree_id;                  /* "" or NULL: of no tree */
	const struct tree_learning *learning; /* NULL: nothing learned */
	const struct choice *choices;         /* sources this place follows, oldest first */
	int32_t choice_count;
};
/* The rules whose choices say whose cut rows count: "flower-wood", "cut-in-wet-season",
 * "shape-cut-due". One word stands for all of them. */
bool window_cut_rule(const char *rule);

/* The window of a kind for a tree of this species: the grower's own for the tree, else for the
 * species here, else the almanac's row for the climate moved by learning. With several rows of a
 * kind: the one that holds the day, else the next to open. Unknown when there is none. Where
 * winters are hard no feed-clear window of the almanac reaches into the regrowth window. */
struct window window_resolve(
	const struct window_facts *facts, enum window_kind kind, struct date day);

/* The occurrence that holds the day, else the next one after it. */
struct window_span window_span_at(const struct window *window, struct date day);
/* The last occurrence that began on or before the day. */
struct window_span window_span_before(const struct window *window, struct date day);
bool window_holds(const struct window *window, struct date day);

/* --- cut rows --- */
struct cut_window {
	const struct cut_row *row;
	struct month_day from;
	struct month_day to;
	bool moved;     /* by this tree's bloom or harvest */
	int32_t chosen; /* of a source that this place follows: the later chosen the more; 0 not */
};
/* Every cut row of this species, cultivar, climate and kind of cut, turned and moved; of a source
 * that this place follows and that has none for the climate here, those for another. Where the
 * grower set cut-clear or cut-avoid by hand these stand before (row NULL is never returned: own
 * windows are asked for by window_resolve). Fills at most max, returns how many. */
int32_t window_cuts(const struct window_facts *facts, const char *cultivar, enum cut_kind kind,
	struct cut_window *out, int32_t max);
bool cut_window_holds(const struct cut_window *cut, struct date day);
/* The next day on or after `day` on which a clear row for this kind of cut opens (the day itself
 * when inside one): of the source chosen last that has one, else of any; unknown when the almanac
 * has no clear row. */
struct maybe_date window_next_clear(
	const struct cut_window *cuts, int32_t count, struct date day, const struct cut_row **row);

#endif
