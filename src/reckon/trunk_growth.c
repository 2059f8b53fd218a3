/* SPDX-License-Identifier: MIT */
#include "reckon/trunk.h"
#include "reckon/yield.h"

enum { DAYS_FROM = 3, SPAN_DAYS = 365, APART_DAYS = 90, AHEAD_DAYS = 1827 };
static const double year_days = 365.2425;

static bool same_height(struct maybe_i64 a, struct maybe_i64 b)
{
	return a.known == b.known && (!a.known || a.value == b.value);
}

/* Readings up to the day at one height; they stay in day order. */
static int32_t readings_at(const struct trunk_reading *readings, int32_t count, struct date day,
	struct maybe_i64 height_um, struct trunk_reading *out)
{
	int32_t kept = 0;
	for (int32_t i = 0; i < count; i++)
		if (date_compare(readings[i].day, day) <= 0 &&
			same_height(readings[i].at_height_um, height_um))
			out[kept++] = readings[i];
	return kept;
}

struct sizes {
	double *years; /* since the first */
	double *um;
	struct date first;
	struct date last;
	int32_t count;
};

/* One size for each time it was measured: a day of which all stems are known, at least 90 days
 * after the one before; of nearer ones the first stands. */
static struct sizes sizes_of(
	const struct trunk_reading *readings, int32_t count, int32_t stems, struct arena *arena)
{
	struct sizes sizes = {.years = arena_array(arena, (size_t)count + 1, sizeof *sizes.years),
		.um = arena_array(arena, (size_t)count + 1, sizeof *sizes.um)};
	for (int32_t i = 0; i < count; i++) {
		const struct trunk trunk = trunk_at(readings, i + 1, stems, readings[i].day);
		if (!trunk.known)
			continue;
		if (sizes.count == 0)
			sizes.first = trunk.day;
		else if (date_days_between(sizes.last, trunk.day) < APART_DAYS)
			continue;
		sizes.last = trunk.day;
		sizes.years[sizes.count] = date_days_between(sizes.first, trunk.day) / year_days;
		sizes.um[sizes.count++] = (double)trunk.diameter_um;
	}
	return sizes;
}

static double growing(double um_a_year)
{
	return um_a_year > 0 ? um_a_year : 0;
}

/* Purpose: growth of a trunk from its own measurements; see trunk.h.
 * Reference: Theil 1950, Sen 1968; that a trunk does not shrink is ours.
 * Example: 100, 112, 120 mm on three days a year apart: 10 mm a year (8 to 12). */
struct trunk_growth trunk_growth(const struct trunk_reading *readings, int32_t count,
	int32_t stem_count, struct date day, struct arena *arena)
{
	struct trunk_growth growth = {.known = false};
	const struct trunk trunk = trunk_at(readings, count, stem_count, day);
	if (!trunk.known)
		return growth;
	struct trunk_reading *kept = arena_array(arena, (size_t)count + 1, sizeof *kept);
	const int32_t some = readings_at(readings, count, day, trunk.at_height_um, kept);
	const struct sizes sizes = sizes_of(kept, some, trunk.stems, arena);
	if (sizes.count < DAYS_FROM || date_days_between(sizes.first, sizes.last) < SPAN_DAYS)
		return growth;
	growth.known = true;
	growth.days = sizes.count;
	growth.first = sizes.first;
	growth.um_a_year = growing(yield_trend(sizes.years, sizes.um, sizes.count, arena).slope);
	growth.least_um_a_year = growth.um_a_year;
	growth.most_um_a_year = growth.um_a_year;
	for (int32_t i = 1; i < sizes.count; i++) {
		const double slope = growing(
			(sizes.um[i] - sizes.um[i - 1]) / (sizes.years[i] - sizes.years[i - 1]));
		if (slope < growth.least_um_a_year)
			growth.least_um_a_year = slope;
		if (slope > growth.most_um_a_year)
			growth.most_um_a_year = slope;
	}
	return growth;
}

/* Purpose: a trunk not measured of late, carried forward by its own growth.
 * Given: the newest measurement, its growth, a later day up to five years on.
 * Returned: micrometres, with the ends that the least and the most of its growth would give.
 * Example: 120 mm grown 10 mm a year (8 to 12), two years on: 140 mm (136 to 144). */
bool trunk_carry(const struct trunk *trunk, const struct trunk_growth *growth, struct date day,
	struct trunk_carried *out)
{
	if (!trunk->known || !growth->known)
		return false;
	const int32_t days = date_days_between(trunk->day, day);
	if (days <= 0 || days > AHEAD_DAYS)
		return false;
	const double years = days / year_days;
	out->diameter_um = trunk->diameter_um + round_i64(growth->um_a_year * years);
	out->least_um = trunk->diameter_um + round_i64(growth->least_um_a_year * years);
	out->most_um = trunk->diameter_um + round_i64(growth->most_um_a_year * years);
	return true;
}
