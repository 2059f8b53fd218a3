/* SPDX-License-Identifier: MIT */
#include "reckon/window.h"

#include <string.h>

#include "reckon/days.h"
#include "reckon/shift.h"

static struct window window_of_own(const struct own_window *own, enum window_kind kind)
{
	return (struct window){
		.known = true, .kind = kind, .from = own->from, .to = own->to, .basis = BASIS_OWN};
}

/* The grower's own windows of a kind: for the tree, or for its species here. */
static int32_t own_told(const struct window_facts *facts, bool of_tree, enum window_kind kind,
	struct window *out, int32_t max)
{
	const char *wanted = of_tree ? facts->tree_id : facts->species->key;
	int32_t found = 0;
	for (int32_t at = 0; at < facts->own_count && found < max; at++) {
		const struct own_window *own = &facts->own[at];
		bool is_of_tree = own->tree_id[0] != '\0';
		const char *whose = is_of_tree ? own->tree_id : own->species;
		if (is_of_tree == of_tree && strcmp(whose, wanted) == 0 &&
			strcmp(own->window, window_key(kind)) == 0)
			out[found++] = window_of_own(own, kind);
	}
	return found;
}

/* Where winters are hard, feed must not meet the weeks whose growth is frosted: a window that runs
 * into them ends the day before; one that opens so shortly before them is none there (fed in
 * August, a tree grows on into the frost). How long growth takes to harden is common practice. */
static bool clear_of_regrowth(const struct window_facts *facts, struct window *feed)
{
	enum { HARDEN_DAYS = 60 };
	const struct window_row *rows[WINDOWS_MAX];
	if (feed->all_year)
		return true;
	int32_t count =
		species_windows(facts->species, WINDOW_REGROWTH, facts->climate, rows, WINDOWS_MAX);
	for (int32_t at = 0; at < count && at < WINDOWS_MAX; at++) {
		const struct window late =
			window_of_row(rows[at], facts->place->hemisphere, facts->learning);
		const int32_t from = circle_of(late.from);
		if (!circle_within(circle_of(feed->to), from, circle_of(late.to)))
			continue;
		if (circle_within(circle_of(feed->from), from, circle_of(late.to)) ||
			circle_ahead(circle_of(feed->from), from) < HARDEN_DAYS)
			return false;
		feed->to = circle_month_day(from - 1);
	}
	return true;
}

int32_t windows_told(
	const struct window_facts *facts, enum window_kind kind, struct window *out, int32_t max)
{
	const struct species *species = facts->species;
	int32_t found = 0;
	if (facts->tree_id != NULL && facts->tree_id[0] != '\0')
		found = own_told(facts, true, kind, out, max);
	if (found == 0 && species != NULL)
		found = own_told(facts, false, kind, out, max);
	if (found != 0 || species == NULL || !window_place_has_dates(facts->place))
		return found;
	const struct window_row *rows[WINDOWS_MAX];
	int32_t count = species_windows(species, kind, facts->climate, rows, WINDOWS_MAX);
	const bool hard = facts->place->winter == WINTER_HARD && kind == WINDOW_FEED_CLEAR;
	for (int32_t at = 0; at < count && at < WINDOWS_MAX && found < max; at++) {
		out[found] = window_of_row(rows[at], facts->place->hemisphere, facts->learning);
		found += !hard || clear_of_regrowth(facts, &out[found]);
	}
	return found;
}

/* Purpose: the window of a kind of work or event for one tree.
 * Given: species NULL where it is not known (then only the grower's own for the tree); a place
 *   without hemisphere or within 12 degrees of the equator gets no almanac row; `day` chooses
 *   among several rows: the first that holds it, else the next to open.
 * Returned: known = false when nobody tells one. */
struct window window_resolve(
	const struct window_facts *facts, enum window_kind kind, struct date day)
{
	struct window windows[WINDOWS_MAX];
	int32_t count = windows_told(facts, kind, windows, WINDOWS_MAX);
	struct window best = {.kind = kind};
	for (int32_t at = 0; at < count; at++) {
		if (window_holds(&windows[at], day))
			return windows[at];
		if (!best.known || date_compare(window_span_at(&windows[at], day).from,
					   window_span_at(&best, day).from) < 0)
			best = windows[at];
	}
	return best;
}

/* --- cut rows --- */

/* What moves an end that hangs on an event; NULL: nothing does. */
static const struct learned *mover_of(enum anchor anchor, const struct tree_learning *learning)
{
	const struct learned *mover = NULL;
	switch (anchor) {
	case ANCHOR_CALENDAR:
		return NULL;
	case ANCHOR_BLOOM:
		mover = &learning->bloom;
		break;
	case ANCHOR_HARVEST:
		/* never by the first picks alone: the almanac's span is of many cultivars, and
		 * moved whole it would call for waiting months after this tree's last fruit */
		mover = &learning->harvest_end;
		break;
	}
	return mover != NULL && mover->applied ? mover : NULL;
}

/* Turns and moves one row. False: the tree's own days leave nothing of this clear or allowed
 * time. An avoid row that they would turn inside out keeps the almanac's days. */
static bool cut_window_of(const struct cut_row *row, enum hemisphere hemisphere,
	const struct tree_learning *learning, struct cut_window *out)
{
	*out = (struct cut_window){
		.row = row,
		.from = window_turn(row->from, hemisphere),
		.to = window_turn_last(row->to, hemisphere),
	};
	if (learning == NULL)
		return true;
	const struct learned *start = mover_of(row->from_anchor, learning);
	const struct learned *end = mover_of(row->to_anchor, learning);
	if (!shift_span(&out->from, &out->to, start != NULL ? start->shift_days : 0,
		    end != NULL ? end->shift_days : 0))
		return row->verdict == VERDICT_AVOID;
	out->moved = start != NULL || end != NULL;
	return true;
}

bool window_cut_rule(const char *rule)
{
	static const char *const rules[] = {"flower-wood", "cut-in-wet-season", "shape-cut-due"};
	for (size_t at = 0; at < sizeof rules / sizeof *rules; at++)
		if (strcmp(rules[at], rule) == 0)
			return true;
	return false;
}

/* How late a source was chosen among those that this place follows; 0: it was not. */
static int32_t chosen_when(const struct window_facts *facts, const char *source)
{
	for (int32_t at = facts->choice_count; at-- > 0;)
		if (window_cut_rule(facts->choices[at].rule) &&
			strcmp(facts->choices[at].source, source) == 0)
			return at + 1;
	return 0;
}

enum { ROWS_MAX = 48 };

static bool has_source(const struct cut_row *const *rows, int32_t count, const char *source)
{
	for (int32_t at = 0; at < count; at++)
		if (strcmp(rows[at]->source, source) == 0)
			return true;
	return false;
}

/* A source was chosen though it speaks of another climate: its rows come along, those of one
 * climate, and those that hold everywhere only where it has no others. */
static int32_t add_chosen(const struct window_facts *facts, const char *cultivar,
	enum cut_kind kind, const struct cut_row **rows, int32_t count)
{
	const int32_t here = count;
	static const enum climate order[] = {CLIMATE_DRY_SUMMER, CLIMATE_COOL_MARITIME,
		CLIMATE_CONTINENTAL, CLIMATE_HUMID_MILD, CLIMATE_ANY};
	for (size_t place = 0; place < sizeof order / sizeof *order; place++) {
		const struct cut_row *others[ROWS_MAX];
		const int32_t so_far = count;
		int32_t found = species_cuts(
			facts->species, cultivar, order[place], kind, others, ROWS_MAX);
		for (int32_t at = 0; at < found && count < ROWS_MAX; at++)
			if (others[at]->climate == order[place] &&
				chosen_when(facts, others[at]->source) > 0 &&
				!has_source(rows, here, others[at]->source) &&
				!has_source(rows + here, so_far - here, others[at]->source))
				rows[count++] = others[at];
	}
	return count;
}

/* A cut whose kind was not said is judged as a shape cut. */
int32_t window_cuts(const struct window_facts *facts, const char *cultivar, enum cut_kind kind,
	struct cut_window *out, int32_t max)
{
	if (facts->species == NULL || !window_place_has_dates(facts->place))
		return 0;
	const struct cut_row *rows[ROWS_MAX];
	if (kind == CUT_UNSAID)
		kind = CUT_SHAPE;
	int32_t count =
		species_cuts(facts->species, cultivar, facts->climate, kind, rows, ROWS_MAX);
	if (facts->choice_count > 0)
		count = add_chosen(facts, cultivar, kind, rows, count);
	enum hemisphere hemisphere = facts->place->hemisphere;
	int32_t found = 0;
	for (int32_t at = 0; at < count && found < max; at++) {
		if (!cut_window_of(rows[at], hemisphere, facts->learning, &out[found]))
			continue;
		out[found++].chosen = chosen_when(facts, rows[at]->source);
	}
	return found;
}

bool cut_window_holds(const struct cut_window *cut, struct date day)
{
	return circle_within(circle_of_date(day), circle_of(cut->from), circle_of(cut->to));
}

struct maybe_date window_next_clear(
	const struct cut_window *cuts, int32_t count, struct date day, const struct cut_row **row)
{
	struct maybe_date best = {.known = false};
	int32_t chosen = 0;
	for (int32_t at = 0; at < count; at++)
		if (cuts[at].row->verdict == VERDICT_CLEAR && cuts[at].chosen > chosen)
			chosen = cuts[at].chosen;
	for (int32_t at = 0; at < count; at++) {
		if (cuts[at].row->verdict != VERDICT_CLEAR || cuts[at].chosen != chosen)
			continue;
		struct date opens = span_at(day, cuts[at].from, cuts[at].to).from;
		if (date_compare(opens, day) < 0)
			opens = day;
		if (best.known && date_compare(opens, best.value) >= 0)
			continue;
		best = known_date(opens);
		if (row != NULL)
			*row = cuts[at].row;
	}
	return best;
}
