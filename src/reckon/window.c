/* SPDX-License-Identifier: MIT */
#include "reckon/window.h"

#include <assert.h>
#include <stdlib.h>

#include "reckon/days.h"
#include "reckon/shift.h"

enum { TROPICS_UDEG = 12000000, CIRCLE_DAYS = 365, STRANGE_DAYS = 60, LEARNED_MIN = 2 };

bool window_place_has_dates(const struct place *place)
{
	if (place->hemisphere == HEMISPHERE_UNKNOWN)
		return false;
	return !place->latitude_udeg.known || abs(place->latitude_udeg.value) >= TROPICS_UDEG;
}

struct month_day window_turn(struct month_day month_day, enum hemisphere hemisphere)
{
	return hemisphere == HEMISPHERE_SOUTH ? month_day_mirror(month_day) : month_day;
}

struct month_day window_turn_last(struct month_day last, enum hemisphere hemisphere)
{
	enum { COMMON_YEAR = 2026 };
	struct month_day turned = window_turn(last, hemisphere);

	if (last.day >= date_days_in_month(COMMON_YEAR, last.month))
		turned.day = (int8_t)date_days_in_month(COMMON_YEAR, turned.month);
	return turned;
}

/* --- what was learned --- */

/* How often each difference comes, from the smallest that there can be. */
struct differences {
	int32_t times[CIRCLE_DAYS];
};

static void differences_count(
	struct differences *out, const struct date *days, int32_t count, int32_t almanac_day)
{
	*out = (struct differences){{0}};
	for (int32_t i = 0; i < count; i++)
		out->times[circle_difference(almanac_day, circle_of_date(days[i])) +
			   CIRCLE_DAYS / 2]++;
}

/* The difference of rank `rank` (0 smallest). */
static int32_t difference_of_rank(const struct differences *differences, int32_t rank)
{
	int32_t at = 0;
	for (int32_t passed = differences->times[0]; passed <= rank;) {
		assert(at + 1 < CIRCLE_DAYS);
		passed += differences->times[++at];
	}
	return at - CIRCLE_DAYS / 2;
}

/* How many days a place of the circle lies outside from..to; 0 inside. */
static int32_t days_outside(int32_t place, int32_t from, int32_t to)
{
	if (circle_within(place, from, to))
		return 0;
	int32_t before = abs(circle_difference(place, from));
	int32_t after = abs(circle_difference(place, to));
	return before < after ? before : after;
}

/* Purpose: the shift of an event of one tree against the almanac.
 * Given: one day a season; the circle's place (1..365) of the almanac's own first or last day
 *   here; the almanac's own span here, as places of the circle.
 * Returned: n, the median D of d = ((c(day) - c(a) + 182) mod 365) - 182 in days (an even n: mean
 *   of the middle two, halves toward zero), min and max of d, and whether D may be used.
 * Example: days 3, 5 and 10 later than the almanac's give D = 5, n = 3. */
struct learned window_learn(const struct date *days, int32_t count, int32_t almanac_day,
	int32_t span_from, int32_t span_to)
{
	struct learned learned = {.seasons = count};
	if (count == 0)
		return learned;
	struct differences differences;
	differences_count(&differences, days, count, almanac_day);
	learned.shift_min = difference_of_rank(&differences, 0);
	learned.shift_max = difference_of_rank(&differences, count - 1);
	int32_t median = (difference_of_rank(&differences, (count - 1) / 2) +
				 difference_of_rank(&differences, count / 2)) /
			 2;
	if (count < LEARNED_MIN)
		return learned;
	int32_t place = circle_of(circle_month_day(almanac_day + median));
	learned.strange = learned.shift_max - median > STRANGE_DAYS ||
			  median - learned.shift_min > STRANGE_DAYS ||
			  days_outside(place, span_from, span_to) > STRANGE_DAYS;
	learned.applied = !learned.strange;
	learned.shift_days = learned.applied ? median : 0;
	return learned;
}

bool shift_span(struct month_day *from, struct month_day *to, int32_t start_days, int32_t end_days)
{
	int32_t first = circle_of(*from) + start_days;
	int32_t length = circle_ahead(circle_of(*from), circle_of(*to)) + end_days - start_days;
	if (length < 0 || length >= CIRCLE_DAYS)
		return false;
	*from = circle_month_day(first);
	*to = circle_month_day(first + length);
	return true;
}

/* --- the window of a row --- */

static enum anchor anchor_of(const struct window_row *row)
{
	if (row->kind == WINDOW_BLOOM)
		return ANCHOR_BLOOM;
	return row->kind == WINDOW_HARVEST ? ANCHOR_HARVEST : row->anchor;
}

/* What moves the first day of a row; NULL: nothing does. */
static const struct learned *mover_of(
	const struct window_row *row, const struct tree_learning *learning)
{
	switch (anchor_of(row)) {
	case ANCHOR_CALENDAR:
		return NULL;
	case ANCHOR_BLOOM:
		return &learning->bloom;
	case ANCHOR_HARVEST:
		/* a time for the saw opens, and fruit has hung, when the last is off */
		return row->kind == WINDOW_CUT_CLEAR || row->kind == WINDOW_FRUIT
			       ? &learning->harvest_end
			       : &learning->harvest;
	}
	return NULL;
}

static void window_move(struct window *window, const struct tree_learning *learning)
{
	const struct learned *mover = mover_of(window->row, learning);
	if (mover == NULL || !mover->applied)
		return;
	int32_t start = mover->shift_days;
	int32_t end = start;
	if (window->kind == WINDOW_HARVEST && learning->harvest_end.applied)
		end = learning->harvest_end.shift_days;
	if (window->kind == WINDOW_FRUIT) /* fruit begins with the bloom, not with the picking */
		start = learning->bloom.applied ? learning->bloom.shift_days : 0;
	/* an end that would come before the start: the almanac's length stands */
	if (!shift_span(&window->from, &window->to, start, end))
		(void)shift_span(&window->from, &window->to, start, start);
	window->basis = BASIS_LEARNED;
	window->learned = *mover;
}

/* Purpose: one row of the almanac as a span of the year here.
 * Given: the row (northern months), the hemisphere (unknown: no window), what was learned (NULL:
 *   nothing). Rows marked all-year run from 1 January to 31 December and never move.
 * Example: harvest 1 May - 30 September is 1 November - 30 March in the south. */
struct window window_of_row(const struct window_row *row, enum hemisphere hemisphere,
	const struct tree_learning *learning)
{
	struct window window = {
		.known = hemisphere != HEMISPHERE_UNKNOWN,
		.kind = row->kind,
		.from = window_turn(row->from, hemisphere),
		.to = row->anchor == ANCHOR_CALENDAR ? window_turn_last(row->to, hemisphere)
						     : window_turn(row->to, hemisphere),
		.all_year = row->all_year,
		.basis = BASIS_ALMANAC,
		.row = row,
	};
	if (row->all_year) {
		window.from = (struct month_day){1, 1};
		window.to = (struct month_day){12, 31};
	} else if (learning != NULL && window.known) {
		window_move(&window, learning);
	}
	return window;
}

/* --- occurrences --- */

/* Given: a known window. Both ends of the span are in it; 29 February counts with the 28th. */
struct window_span window_span_at(const struct window *window, struct date day)
{
	assert(window->known);
	return span_at(day, window->from, window->to);
}

struct window_span window_span_before(const struct window *window, struct date day)
{
	assert(window->known);
	int32_t year = date_parts(day).year;
	struct window_span span = span_of_year(year, window->from, window->to);
	if (date_compare(span.from, day) > 0)
		span = span_of_year(year - 1, window->from, window->to);
	return span;
}

bool window_holds(const struct window *window, struct date day)
{
	return window->known &&
	       circle_within(circle_of_date(day), circle_of(window->from), circle_of(window->to));
}
