/* SPDX-License-Identifier: MIT */
#include "rules/harvest.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "almanac/cultivar.h"
#include "core/text.h"
#include "fruit.h"
#include "reckon/bloom.h"
#include "reckon/heat.h"
#include "reckon/sky.h"

/* A bloom so old is of a crop that was picked; fruit takes so many days at least. */
enum { BLOOM_OLD_DAYS = 540, RIPE_LEAST_DAYS = 20 };

/* A wide span of the almanac is many cultivars: it says nothing about this tree's day. */
static bool harvest_is_told(const struct window *harvest, const struct species *species)
{
	return harvest->known && !harvest->all_year &&
	       (harvest->basis != BASIS_ALMANAC || !species->wide_harvest);
}

static bool days_of_fact(const struct species *species, const char *key, struct days_ahead *days)
{
	struct fact_span span = fruit_fact(species, key);

	if (span.row == NULL)
		return false;
	*days = (struct days_ahead){.low = span.low,
		.high = span.high,
		.source = span.row->source,
		.sure = span.row->sure,
		.text = span.row->text};
	return true;
}

/* The days that sources print for the cultivar by name ("days-gala"). */
static bool days_of_name(
	const struct species *species, const char *cultivar, struct days_ahead *days)
{
	char key[KEY_SIZE + NAME_SIZE], folded[NAME_SIZE];

	text_fold(cultivar, folded, sizeof folded);
	for (char *blank = strchr(folded, ' '); blank != NULL; blank = strchr(blank, ' '))
		*blank = '-';
	snprintf(key, sizeof key, "days-%s", folded);
	return days_of_fact(species, key, days);
}

/* Of the cultivar where its days from full bloom are known (to a week or two), else of the kind. */
static bool days_to_harvest(const struct dossier *dossier, struct days_ahead *days)
{
	enum { WEEKS_TWO = 14 };
	const struct species *species = dossier->kind.species;
	bool named =
		dossier->kind.cultivar[0] != '\0' && dossier->kind.cultivar_sure >= SURE_SUSPECTED;
	const struct cultivar *cultivar =
		named ? cultivar_find(species, dossier->kind.cultivar) : NULL;

	if (named && days_of_name(species,
			     cultivar != NULL ? cultivar->name : dossier->kind.cultivar, days))
		return true;
	if (cultivar == NULL || !cultivar->days.known ||
		strcmp(cultivar->against, "full bloom") != 0)
		return days_of_fact(species, "days-bloom-to-harvest", days);
	*days = (struct days_ahead){.low = cultivar->days.value - WEEKS_TWO,
		.high = cultivar->days.value + WEEKS_TWO,
		.text = "of the cultivar, good to a week or two"};
	days->source = cultivar_source(cultivar, "days", &days->sure);
	return true;
}

bool harvest_is_full_bloom(const struct entry *entry)
{
	const struct amount *stage = entry_amount(entry, FIELD_STAGE);

	return stage != NULL && stage->low.known &&
	       (stage->low.value == 65 || stage->low.value == 605) && stage->high.known &&
	       stage->high.value == stage->low.value;
}

const struct entry *harvest_last_bloom(const struct dossier *dossier, struct date today)
{
	enum { ONE_BLOOM_DAYS = 90 };
	const struct entry *found = NULL;
	struct date newest = {0}, day;

	for (int32_t i = dossier->entry_count; i-- > 0;) {
		const struct entry *entry = dossier->entries[i];

		if (!bloom_is_seen(entry) || !date_span_is_exact(&entry->day) ||
			!look_day(entry, &day))
			continue;
		if (found == NULL)
			newest = day;
		if (date_days_between(day, today) > BLOOM_OLD_DAYS ||
			date_days_between(day, newest) > ONE_BLOOM_DAYS)
			break;
		if (found == NULL || !harvest_is_full_bloom(found))
			found = entry;
	}
	return found;
}

/* Never one day, and nothing where the span is that of many cultivars. */
static bool ahead_by_bloom(
	const struct dossier *dossier, struct date today, struct harvest_ahead *ahead)
{
	enum { NARROW_DAYS = 45 };
	struct date day;

	ahead->bloom = harvest_last_bloom(dossier, today);
	if (ahead->bloom == NULL || !days_to_harvest(dossier, &ahead->days) ||
		!look_day(ahead->bloom, &day) || ahead->days.high - ahead->days.low > NARROW_DAYS ||
		ahead->days.high == ahead->days.low)
		return false;
	ahead->span.from = date_add_days(day, (int32_t)ahead->days.low);
	ahead->span.to = date_add_days(day, (int32_t)ahead->days.high);
	ahead->by_bloom = date_compare(ahead->span.to, today) >= 0;
	return ahead->by_bloom;
}

/* --- by the days of its own seasons --- */

/* The first flowers seen of the newest flowering from..to; false: none was logged. */
static bool flowering_between(const struct dossier *dossier, struct date from, struct date to,
	struct date *first, const struct entry **bloom)
{
	enum { ONE_BLOOM_DAYS = 90 };
	bool found = false;
	struct date day;

	for (int32_t i = dossier->entry_count; i-- > 0;) {
		const struct entry *entry = dossier->entries[i];

		if (!bloom_is_seen(entry) || !date_span_is_exact(&entry->day) ||
			!look_day(entry, &day) || date_compare(day, to) > 0)
			continue;
		if (date_compare(day, from) < 0 ||
			(found && date_days_between(day, *first) > ONE_BLOOM_DAYS))
			break;
		*first = day;
		*bloom = entry;
		found = true;
	}
	return found;
}

/* Days from the bloom to the first pick of one season: no pick of another crop lies between. */
static bool own_days(const struct dossier *dossier, int32_t at, int32_t *days)
{
	struct date pick = dossier->seasons[at].first_pick.value;
	struct date from = date_add_days(pick, -BLOOM_OLD_DAYS);
	const struct entry *bloom;
	struct date first;

	if (at > 0 && dossier->seasons[at - 1].first_pick.known &&
		date_compare(dossier->seasons[at - 1].first_pick.value, from) > 0)
		from = dossier->seasons[at - 1].first_pick.value;
	if (!flowering_between(
		    dossier, from, date_add_days(pick, -RIPE_LEAST_DAYS), &first, &bloom))
		return false;
	*days = date_days_between(first, pick);
	return true;
}

static bool ahead_by_own(
	const struct dossier *dossier, struct date today, struct harvest_ahead *ahead)
{
	enum { SEASONS_LEAST = 2, APART_MAX_DAYS = 60, AGREED_DAYS = 3 };
	int32_t days, low = 0, high = 0, seasons = 0;
	struct date first;

	if (!flowering_between(
		    dossier, date_add_days(today, -BLOOM_OLD_DAYS), today, &first, &ahead->bloom))
		return false;
	for (int32_t i = dossier->season_own; i < dossier->season_count; i++) {
		const struct season *season = &dossier->seasons[i];

		if (!season->first_pick.known ||
			date_compare(season->first_pick.value, first) >= 0 ||
			!own_days(dossier, i, &days))
			continue;
		low = seasons == 0 || days < low ? days : low;
		high = seasons == 0 || days > high ? days : high;
		seasons++;
	}
	if (seasons < SEASONS_LEAST || high - low > APART_MAX_DAYS)
		return false;
	if (low == high) {
		low -= AGREED_DAYS;
		high += AGREED_DAYS;
	}
	ahead->span = (struct window_span){date_add_days(first, low), date_add_days(first, high)};
	if (date_compare(ahead->span.to, today) < 0)
		return false;
	ahead->days = (struct days_ahead){.low = low,
		.high = high,
		.source = look_own_days,
		.sure = KNOWN_COMMON_PRACTICE,
		.text = ""};
	ahead->own_seasons = seasons;
	ahead->by_bloom = true;
	return true;
}

/* --- by the warmth since bloom --- */

bool harvest_heat_base(const struct fact_row *row, double *base)
{
	static const char unit[] = "degree-days C over ";

	if (strncmp(row->unit, unit, sizeof unit - 1) != 0)
		return false;
	*base = strtod(row->unit + sizeof unit - 1, NULL);
	return true;
}

/* Stored days from bloom to the last one with a figure, nearly without a gap. */
static bool heat_since(const struct dossier *dossier, const struct day_weather *days, int32_t count,
	struct day_span span, double base, double *sum)
{
	enum { GAP_DAYS_MAX = 4 };
	const struct heat_limits limits = {.lower = base};
	struct heat_span heat;

	if (heat_of_days(HEAT_AVERAGE, days, count, &limits, sky_offset_decic(dossier), span, &heat,
		    NULL) != STATUS_OK)
		return false;
	*sum = heat.degree_days;
	return heat.cover.known * 10 >= heat.cover.days * 9 &&
	       heat.cover.longest_gap <= GAP_DAYS_MAX;
}

/* The last day with both extremes. */
static bool last_weather(const struct day_weather *days, int32_t count, struct date *last)
{
	for (int32_t i = count; i-- > 0;)
		if (days[i].min_decic.known && days[i].max_decic.known) {
			*last = days[i].day;
			return true;
		}
	return false;
}

/* What is joined of the days up to today. */
static int32_t days_until(const struct dossier *dossier, struct date today, struct arena *arena,
	struct day_weather **out)
{
	const struct weather_sources sources = {.stored = dossier->weather,
		.stored_count = dossier->weather_count,
		.entries = dossier->place_entries,
		.entry_count = dossier->place_entry_count};
	int32_t count = weather_days_join(&sources, arena, out);

	while (count > 0 && date_compare((*out)[count - 1].day, today) > 0)
		count--;
	return count;
}

/* A tenth under and over what the source prints, at the pace of the last weeks; the days hang on
 * the last day stored, not on today. The tenth is ours: the source gives no spread. */
static bool ahead_by_heat(const struct dossier *dossier, struct date today, struct arena *arena,
	struct harvest_ahead *ahead)
{
	enum { LATELY_DAYS = 21, STALE_WEATHER_DAYS = 7, LEAST_DAYS = 60 };
	const struct fact_row *row = species_fact(dossier->kind.species, "heat-bloom-to-harvest");
	struct day_weather *days;
	struct date bloom, last;
	double lately;

	ahead->bloom = harvest_last_bloom(dossier, today);
	if (row == NULL || !row->low.known || !harvest_heat_base(row, &ahead->heat_base) ||
		ahead->bloom == NULL || !look_day(ahead->bloom, &bloom))
		return false;
	int32_t count = days_until(dossier, today, arena, &days);
	if (!last_weather(days, count, &last) ||
		date_days_between(last, today) > STALE_WEATHER_DAYS ||
		date_days_between(bloom, last) < LEAST_DAYS)
		return false;
	ahead->changes = known_date(date_add_days(last, STALE_WEATHER_DAYS + 1));
	struct day_span since = {.from = bloom, .to = last};
	struct day_span weeks = {.from = date_add_days(last, 1 - LATELY_DAYS), .to = last};
	if (!heat_since(dossier, days, count, since, ahead->heat_base, &ahead->heat) ||
		!heat_since(dossier, days, count, weeks, ahead->heat_base, &lately) ||
		lately < LATELY_DAYS) /* too cold to reckon a pace by */
		return false;
	double pace = lately / LATELY_DAYS;
	ahead->heat_needed = (double)row->low.value;
	double from = (ahead->heat_needed * 0.9 - ahead->heat) / pace;
	double to = (ahead->heat_needed * 1.1 - ahead->heat) / pace;
	if (to < 0 || from > SOON_DAYS + STALE_WEATHER_DAYS)
		return false;
	ahead->span.from = date_add_days(last, from < 0 ? (int32_t)from : (int32_t)(from + 0.5));
	ahead->span.to = date_add_days(last, (int32_t)(to + 0.5));
	ahead->days =
		(struct days_ahead){.source = row->source, .sure = row->sure, .text = row->text};
	ahead->by_heat = true;
	return true;
}

struct harvest_ahead harvest_ahead(
	const struct dossier *dossier, struct date today, struct arena *arena)
{
	struct harvest_ahead ahead = {.window = dossier_window(dossier, WINDOW_HARVEST, today)};
	const struct window *window = &ahead.window;
	bool own = window->known && !window->all_year && window->basis != BASIS_ALMANAC;
	bool by_hand = own && window->basis == BASIS_OWN;

	ahead.known = !by_hand && ahead_by_own(dossier, today, &ahead);
	if (ahead.known)
		return ahead;
	ahead.known = !own && (ahead_by_heat(dossier, today, arena, &ahead) ||
				      ahead_by_bloom(dossier, today, &ahead));
	if (ahead.known || !harvest_is_told(window, dossier->kind.species))
		return ahead;
	ahead.known = true;
	ahead.span = window_span_at(window, today);
	return ahead;
}
