/* SPDX-License-Identifier: MIT */
#include "reckon/dossier.h"

#include <math.h>
#include <string.h>

struct window_facts dossier_window_facts(const struct dossier *dossier)
{
	return (struct window_facts){.species = dossier->kind.species,
		.climate = dossier->climate,
		.place = dossier->place,
		.own = dossier->own_windows,
		.own_count = dossier->own_window_count,
		.tree_id = dossier->tree.id,
		.learning = &dossier->learning,
		.choices = dossier->choices,
		.choice_count = dossier->choice_count};
}

struct window dossier_window(const struct dossier *dossier, enum window_kind kind, struct date day)
{
	const struct window_facts facts = dossier_window_facts(dossier);
	return window_resolve(&facts, kind, day);
}

/* An uncertain day counts by its first one. */
const struct entry *dossier_last(
	const struct dossier *dossier, enum entry_kind kind, struct date day)
{
	const struct entry *last = NULL;
	struct maybe_date last_day = {.known = false};
	for (int32_t at = 0; at < dossier->entry_count; at++) {
		const struct entry *entry = dossier->entries[at];
		struct maybe_date first = date_span_first(&entry->day);
		if (entry->kind != kind || !first.known || date_compare(first.value, day) > 0)
			continue;
		if (last != NULL && date_compare(first.value, last_day.value) < 0)
			continue;
		last = entry;
		last_day = first;
	}
	return last;
}

const struct stem_measure *dossier_spread(
	const struct dossier *dossier, struct date day, struct maybe_date *on)
{
	const struct stem_measure *spread = NULL;
	struct maybe_date last = {.known = false};
	for (int32_t at = 0; at < dossier->entry_count; at++) {
		const struct entry *entry = dossier->entries[at];
		struct maybe_date first = date_span_first(&entry->day);
		if (entry->kind != KIND_MEASURE || !first.known ||
			date_compare(first.value, day) > 0 ||
			(last.known && date_compare(first.value, last.value) < 0))
			continue;
		for (int32_t s = 0; s < entry->stem_count; s++)
			if (entry->stems[s].field == FIELD_SPREAD) {
				spread = &entry->stems[s];
				last = first;
			}
	}
	if (on != NULL)
		*on = last;
	return spread;
}

int32_t dossier_between(const struct dossier *dossier, enum entry_kind kind, struct date from,
	struct date to, const struct entry **out, int32_t max)
{
	int32_t found = 0;
	for (int32_t at = 0; at < dossier->entry_count && (out == NULL || found < max); at++) {
		const struct entry *entry = dossier->entries[at];
		struct maybe_date first = date_span_first(&entry->day);
		if (entry->kind != kind || !first.known || date_compare(first.value, from) < 0 ||
			date_compare(first.value, to) > 0)
			continue;
		if (out != NULL)
			out[found] = entry;
		found++;
	}
	return found;
}

const struct season *dossier_season(const struct dossier *dossier, int32_t year)
{
	for (int32_t at = 0; at < dossier->season_count; at++)
		if (dossier->seasons[at].year == year)
			return &dossier->seasons[at];
	return NULL;
}

struct maybe_date dossier_work_from(const struct dossier *dossier, int32_t year)
{
	const struct season *before = dossier_season(dossier, year - 1);
	struct window_span harvest;
	if (before != NULL && before->last_pick.known)
		return known_date(date_add_days(before->last_pick.value, 1));
	if (season_harvest(&dossier->season_rule, year - 1, &harvest))
		return known_date(date_add_days(harvest.to, 1));
	return (struct maybe_date){.known = false};
}

/* Below, within or above the stretch of the kind asked for. */
static int kind_order(const struct neighbour *neighbour, const struct species *species)
{
	const char *key = neighbour->kind.species == NULL ? "" : neighbour->kind.species->key;
	return strcmp(key, species == NULL ? "" : species->key);
}

/* The first neighbour whose order is at least `order` (0: the stretch's start, 1: its end). */
static int32_t stretch_edge(const struct dossier *dossier, const struct species *species, int order)
{
	int32_t low = 0;
	int32_t high = dossier->neighbour_count;
	while (low < high) {
		int32_t middle = low + (high - low) / 2;
		int at = kind_order(&dossier->neighbours[middle], species);
		if (order == 0 ? at < 0 : at <= 0)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

const struct neighbour *dossier_neighbours_of(
	const struct dossier *dossier, const struct species *species, int32_t *count)
{
	int32_t from = stretch_edge(dossier, species, 0);
	*count = stretch_edge(dossier, species, 1) - from;
	return *count == 0 ? NULL : &dossier->neighbours[from];
}

struct maybe_i64 dossier_distance(const struct dossier *dossier, const struct neighbour *neighbour)
{
	const struct spot *spot = dossier->spot;
	if (strcmp(dossier->tree.id, neighbour->tree_id) == 0 ||
		(spot != NULL && strcmp(spot->id, neighbour->spot_id) == 0))
		return known_i64(0);
	if (spot == NULL || !spot->east_um.known || !spot->north_um.known ||
		!neighbour->east_um.known || !neighbour->north_um.known)
		return (struct maybe_i64){0};
	double east = (double)(neighbour->east_um.value - spot->east_um.value);
	double north = (double)(neighbour->north_um.value - spot->north_um.value);
	return known_i64(llround(hypot(east, north)));
}

bool dossier_is_private(const struct dossier *dossier)
{
	return dossier->tree.is_private ||
	       (dossier->host != NULL && dossier->host->tree.is_private);
}
