/* SPDX-License-Identifier: MIT */
#include "dossier/kind.h"

#include <limits.h>
#include <string.h>

#include "core/text.h"

/* A stretch of days, both ends in. */
struct stretch {
	int32_t from;
	int32_t to;
};

/* The opinion that holds so far: one row, or the candidates that share an opinion. */
struct holding {
	const struct identity *rows[CANDIDATES_MAX];
	int32_t count;
};

static struct maybe_date change_day(const struct identity *row)
{
	if (!row->is_change)
		return (struct maybe_date){.known = false};
	return date_span_first(&row->day);
}

/* The stretch between two changes among rows[0..count) that holds a day; a cultivar's ends at
 * changes of species too. */
static struct stretch stretch_around(
	const struct identity *rows, int32_t count, bool is_cultivar, struct maybe_date day)
{
	struct stretch stretch = {INT32_MIN, INT32_MAX};
	for (int32_t i = 0; i < count; i++) {
		struct maybe_date change = change_day(&rows[i]);
		if (!change.known || (rows[i].is_cultivar && !is_cultivar))
			continue;
		int32_t at = change.value.day;
		if ((!day.known || at <= day.value.day) && at > stretch.from)
			stretch.from = at;
		if (day.known && at > day.value.day && at - 1 < stretch.to)
			stretch.to = at - 1;
	}
	return stretch;
}

/* The days that the opinion in rows[index] speaks for. */
static struct stretch stretch_of(const struct identity *rows, int32_t index, bool is_cultivar)
{
	const struct identity *row = &rows[index];
	struct maybe_date day = date_span_first(&row->day);
	struct stretch stretch = stretch_around(rows, index, is_cultivar, day);
	if (row->is_change && day.known)
		stretch.from = day.value.day;
	return stretch;
}

static bool holds(struct stretch stretch, struct date day)
{
	return stretch.from <= day.day && day.day <= stretch.to;
}

static void holding_put(struct holding *holding, const struct identity *row)
{
	bool joins = holding->count > 0 && row->sure == SURE_CANDIDATE &&
		     strcmp(holding->rows[0]->opinion, row->opinion) == 0;
	if (!joins)
		holding->count = 0;
	if (holding->count < CANDIDATES_MAX)
		holding->rows[holding->count++] = row;
}

static bool same_species(const struct holding *holding, const struct identity *row)
{
	return holding->count > 0 && text_same(holding->rows[0]->name, row->name);
}

static void find_holding(const struct identity *rows, int32_t count, struct date day,
	struct holding *species, struct holding *cultivar)
{
	for (int32_t i = 0; i < count; i++) {
		if (rows[i].is_cultivar) {
			if (holds(stretch_of(rows, i, true), day))
				holding_put(cultivar, &rows[i]);
			continue;
		}
		if (!holds(stretch_of(rows, i, false), day))
			continue;
		if (rows[i].is_change || (species->count > 0 && !same_species(species, &rows[i])))
			cultivar->count = 0;
		holding_put(species, &rows[i]);
	}
}

/* The one species of the almanac that a kept name means; NULL when none or several. */
static const struct species *species_named(const struct almanac *almanac, const char *name)
{
	const struct species *species = almanac_species(almanac, name);
	if (species != NULL)
		return species;
	const struct species *fits[2];
	return almanac_find_species(almanac, name, fits, 2) == 1 ? fits[0] : NULL;
}

static const char *plain_name(const struct almanac *almanac, const char *name)
{
	const struct species *species = species_named(almanac, name);
	const char *outside = species == NULL ? almanac_outside_kind(almanac, name) : NULL;
	return species != NULL ? species->name : outside != NULL ? outside : name;
}

static void name_candidates(
	const struct almanac *almanac, const struct holding *holding, char *out, size_t size)
{
	struct text_builder text = text_builder_fixed(out, size);
	for (int32_t i = 0; i < holding->count; i++) {
		if (i > 0)
			text_add(&text, " or ");
		text_add(&text, plain_name(almanac, holding->rows[i]->name));
	}
	if (holding->count == 1)
		text_add(&text, "?");
}

static void fill_species(
	const struct almanac *almanac, const struct holding *holding, struct tree_kind *kind)
{
	if (holding->count == 0 || holding->rows[0]->sure == SURE_UNKNOWN) {
		text_copy(kind->name, sizeof kind->name, "unknown");
		return;
	}
	kind->sure = holding->rows[0]->sure;
	if (kind->sure == SURE_CANDIDATE) {
		for (int32_t i = 0; i < holding->count; i++) {
			const struct species *one = species_named(almanac, holding->rows[i]->name);
			if (one != NULL)
				kind->candidates[kind->candidate_count++] = one;
		}
		/* what one without dates here would say is not known: none speaks for all */
		if (kind->candidate_count < holding->count)
			kind->candidate_count = 0;
		name_candidates(almanac, holding, kind->name, sizeof kind->name);
		return;
	}
	const char *name = holding->rows[0]->name;
	kind->species = species_named(almanac, name);
	if (kind->species == NULL)
		kind->outside = almanac_outside_kind(almanac, name);
	struct text_builder text = text_builder_fixed(kind->name, sizeof kind->name);
	text_add(&text, kind->species != NULL   ? kind->species->name
			: kind->outside != NULL ? kind->outside
						: name);
	if (kind->sure == SURE_SUSPECTED)
		text_add(&text, "?");
}

static void fill_cultivar(const struct holding *holding, struct tree_kind *kind)
{
	if (holding->count == 0 || holding->rows[0]->sure == SURE_UNKNOWN)
		return;
	kind->cultivar_sure = holding->rows[0]->sure;
	struct text_builder text = text_builder_fixed(kind->cultivar, sizeof kind->cultivar);
	for (int32_t i = 0; i < holding->count; i++) {
		text_add(&text, i > 0 ? " or " : "");
		text_add(&text, holding->rows[i]->name);
	}
}

struct tree_kind kind_on(const struct almanac *almanac, const struct identity *identities,
	int32_t count, struct date day)
{
	struct tree_kind kind = {.species = NULL};
	struct holding species = {.count = 0};
	struct holding cultivar = {.count = 0};
	find_holding(identities, count, day, &species, &cultivar);
	fill_species(almanac, &species, &kind);
	fill_cultivar(&cultivar, &kind);
	return kind;
}

int32_t kind_changes(const struct identity *identities, int32_t count, struct date until,
	struct date out[ERAS_MAX])
{
	int32_t found = 0;
	struct date before = {INT32_MAX};
	while (found < ERAS_MAX) {
		struct maybe_date latest = {.known = false};
		for (int32_t i = 0; i < count; i++) {
			struct maybe_date day = change_day(&identities[i]);
			if (!day.known || day.value.day >= before.day || day.value.day > until.day)
				continue;
			if (!latest.known || day.value.day > latest.value.day)
				latest = day;
		}
		if (!latest.known)
			break;
		out[found++] = before = latest.value;
	}
	for (int32_t i = 0; i < found / 2; i++) {
		struct date swap = out[i];
		out[i] = out[found - 1 - i];
		out[found - 1 - i] = swap;
	}
	return found;
}
