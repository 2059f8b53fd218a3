/* SPDX-License-Identifier: MIT */
#include "reckon/season.h"

#include "reckon/days.h"
#include "reckon/shift.h"

enum { CIRCLE_DAYS = 365, GAP_MIN_DAYS = 60 };

struct told {
	struct window windows[WINDOWS_MAX];
	int32_t count;
};

/* The longest run of days that no window holds, as the places before and after it. False when
 * the windows leave no day free. */
static bool gap_between(const struct told *told, int32_t *harvest_to, int32_t *harvest_from)
{
	bool held[CIRCLE_DAYS + 1] = {false};
	int32_t some = 0;
	for (int32_t at = 0; at < told->count; at++) {
		int32_t from = circle_of(told->windows[at].from);
		int32_t days = circle_ahead(from, circle_of(told->windows[at].to));
		for (int32_t on = 0; on <= days; on++)
			held[(from + on - 1) % CIRCLE_DAYS + 1] = true;
		some = from;
	}
	int32_t longest = 0;
	int32_t run = 0;
	for (int32_t on = 1; on <= CIRCLE_DAYS; on++) { /* starts and ends on a held day */
		int32_t place = (some + on - 1) % CIRCLE_DAYS + 1;
		run = held[place] ? 0 : run + 1;
		if (run <= longest)
			continue;
		longest = run;
		*harvest_from = place % CIRCLE_DAYS + 1;
		*harvest_to = (place - run + CIRCLE_DAYS - 1) % CIRCLE_DAYS + 1;
	}
	return longest > 0;
}

/* No kind, or no dates here: the calendar year, which in the south begins in winter. */
static struct season_rule rule_without_kind(const struct place *place)
{
	bool south = place->hemisphere == HEMISPHERE_SOUTH;
	return (struct season_rule){.turn = {south ? 7 : 1, 1}, .crosses = south};
}

/* First day of main bloom: of the first bloom window that is not all the year round. */
static bool bloom_first(const struct told *bloom, struct month_day *first)
{
	for (int32_t at = 0; at < bloom->count; at++) {
		if (bloom->windows[at].all_year)
			continue;
		*first = bloom->windows[at].from;
		return true;
	}
	return false;
}

static bool is_all_year(const struct told *harvest, const struct species *species)
{
	bool all_year = species != NULL && species->harvest_all_year &&
			(harvest->count == 0 || harvest->windows[0].basis != BASIS_OWN);
	for (int32_t at = 0; at < harvest->count; at++)
		all_year = all_year || harvest->windows[at].all_year;
	return all_year;
}

/* Picked all the year round: a season is the year from one bloom to the next. */
static struct season_rule rule_of_bloom(struct month_day turn)
{
	int32_t place = circle_of(turn);
	return (struct season_rule){
		.turn = turn,
		.harvest_from = turn,
		.harvest_to = circle_month_day(place - 1),
		.crosses = place != 1,
	};
}

static struct season_rule rule_of_turn(int32_t turn, int32_t harvest_from, int32_t harvest_to)
{
	turn = circle_of(circle_month_day(turn));
	return (struct season_rule){
		.turn = circle_month_day(turn),
		.harvest_from = circle_month_day(harvest_from),
		.harvest_to = circle_month_day(harvest_to),
		.years_add = harvest_from < turn,
		.crosses = harvest_to < harvest_from,
	};
}

/* Purpose: how the seasons of one tree are cut and named.
 * Given: species NULL where it is not known; the grower's own windows for the tree go before
 *   those for the species, and these before the almanac. Learning never comes in: names must not
 *   drift. Several harvest rows (an early and a main crop) count as one window from the first
 *   day after the longest gap to the last day before it.
 * Returned: see season.h. Harvest picked all year without a known bloom: as without a kind. */
struct season_rule season_rule_for(const struct species *species, enum climate climate,
	const struct place *place, const struct own_window *own, int32_t own_count,
	const char *tree_id)
{
	struct told harvest;
	struct told bloom;
	const struct window_facts facts = {.species = species,
		.climate = climate,
		.place = place,
		.own = own,
		.own_count = own_count,
		.tree_id = tree_id};
	harvest.count = windows_told(&facts, WINDOW_HARVEST, harvest.windows, WINDOWS_MAX);
	bloom.count = windows_told(&facts, WINDOW_BLOOM, bloom.windows, WINDOWS_MAX);
	struct month_day bloom_day;
	bool has_bloom = bloom_first(&bloom, &bloom_day);
	if (is_all_year(&harvest, species))
		return has_bloom ? rule_of_bloom(bloom_day) : rule_without_kind(place);
	if (harvest.count == 0)
		return rule_without_kind(place);
	int32_t to = 0;
	int32_t from = 0;
	if (!gap_between(&harvest, &to, &from))
		return has_bloom ? rule_of_bloom(bloom_day) : rule_without_kind(place);
	int32_t gap = circle_ahead(to, from);
	if (gap < GAP_MIN_DAYS && has_bloom)
		return rule_of_turn(circle_of(bloom_day), from, to);
	return rule_of_turn(to + gap / 2, from, to);
}
