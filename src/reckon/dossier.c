/* SPDX-License-Identifier: MIT */
#include "reckon/dossier.h"

struct window_facts dossier_window_facts(const struct dossier *dossier)
{
	return (struct window_facts){.species = dossier->kind.species,
		.climate = dossier->climate,
		.place = dossier->place,
		.own = dossier->own_windows,
		.own_count = dossier->own_window_count,
		.tree_id = dossier->tree.id,
		.learning = &dossier->learning};
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
