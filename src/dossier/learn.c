/* SPDX-License-Identifier: MIT */
/* Days of bloom and of picks that a tree's own windows are learned from: one a season. */
#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "dossier/inner.h"
#include "reckon/bloom.h"

enum { EVENTS_MAX = 80, EVENT_SPAN_DAYS = 10 };

/* Days by year, one a year: the earliest or the latest. */
struct events {
	int32_t years[EVENTS_MAX];
	struct date days[EVENTS_MAX];
	int32_t count;
	bool latest;
};

static void events_put(struct events *events, int32_t year, struct date day)
{
	for (int32_t i = 0; i < events->count; i++) {
		if (events->years[i] != year)
			continue;
		bool better = events->latest ? day.day > events->days[i].day
					     : day.day < events->days[i].day;
		if (better)
			events->days[i] = day;
		return;
	}
	if (events->count == EVENTS_MAX)
		return;
	events->years[events->count] = year;
	events->days[events->count++] = day;
}

/* A day known well enough to learn from, not after today. */
static bool event_day(const struct entry *entry, struct date today, struct date *out)
{
	const struct date_span *day = &entry->day;
	if (!day->low.known || !day->high.known || day->low.value.day > today.day)
		return false;
	*out = day->low.value;
	return day->high.value.day - day->low.value.day <= EVENT_SPAN_DAYS;
}

static bool is_real_pick(const struct entry *entry)
{
	if (entry->kind != KIND_PICK)
		return false;
	for (int32_t i = 0; i < entry->amount_count; i++)
		if (entry->amounts[i].none)
			return false;
	return true;
}

static bool in_era(const struct era *era, struct date day)
{
	return !era->from.known || era->from.value.day <= day.day;
}

/* The year of the almanac's bloom that this day lies nearest to. */
static int32_t bloom_year(struct date day, int32_t almanac_day)
{
	int32_t shift = circle_difference(almanac_day, circle_of_date(day));
	return date_parts(date_add_days(day, -shift)).year;
}

static struct learned learn_bloom(const struct telling *telling, const struct entry_list *entries,
	const struct species *species, const struct era *era, struct date turn)
{
	const struct yard *yard = telling->yard;
	const struct window_facts facts = {
		.species = species, .climate = yard->climate, .place = &yard->place};
	struct window window = window_resolve(&facts, WINDOW_BLOOM, turn);
	if (!window.known || window.all_year)
		return (struct learned){.seasons = 0};
	int32_t from = circle_of(window.from);
	struct events events = {.latest = false};
	for (int32_t i = 0; i < entries->count; i++) {
		struct date day;
		if (bloom_is_seen(entries->items[i]) &&
			event_day(entries->items[i], telling->today, &day) && in_era(era, day))
			events_put(&events, bloom_year(day, from), day);
	}
	return window_learn(events.days, events.count, from, from, circle_of(window.to));
}

static bool is_complete(const struct crop_story *crop, int32_t year)
{
	for (int32_t i = 0; i < crop->season_count; i++)
		if (crop->seasons[i].year == year)
			return crop->seasons[i].state == SEASON_COMPLETE;
	return false;
}

static void learn_picks(const struct telling *telling, const struct entry_list *entries,
	const struct crop_story *crop, const struct era *era, struct tree_learning *out,
	const struct season_rule *almanac_rule)
{
	struct events first = {.latest = false};
	struct events last = {.latest = true};
	for (int32_t i = 0; i < entries->count; i++) {
		const struct entry *entry = entries->items[i];
		struct date day;
		if (!is_real_pick(entry) || !event_day(entry, telling->today, &day) ||
			!in_era(era, day))
			continue;
		int32_t year = entry->season_year.known ? entry->season_year.value
							: season_year_of(&era->rule, day);
		events_put(&first, year, day);
		if (is_complete(crop, year))
			events_put(&last, year, day);
	}
	int32_t from = circle_of(almanac_rule->harvest_from);
	int32_t to = circle_of(almanac_rule->harvest_to);
	out->harvest = window_learn(first.days, first.count, from, from, to);
	out->harvest_end = window_learn(last.days, last.count, to, from, to);
}

struct tree_learning learn_from(const struct telling *telling, const struct entry_list *entries,
	const struct tree_kind *kind, const struct crop_story *crop, const struct era *era)
{
	struct tree_learning learning = {.bloom.seasons = 0};
	const struct yard *yard = telling->yard;
	if (kind->species == NULL || !window_place_has_dates(&yard->place))
		return learning;
	struct season_rule almanac_rule =
		season_rule_for(kind->species, yard->climate, &yard->place, NULL, 0, "");
	struct date turn =
		season_span(&almanac_rule, season_year_of(&almanac_rule, telling->today)).from;
	learning.bloom = learn_bloom(telling, entries, kind->species, era, turn);
	if (almanac_rule.harvest_from.month != 0 && !kind->species->harvest_all_year)
		learn_picks(telling, entries, crop, era, &learning, &almanac_rule);
	return learning;
}
