/* SPDX-License-Identifier: MIT */
/* Stretches of a tree's or a spot's life in which its seasons are named one way. */
#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "dossier/inner.h"

struct season_rule rule_of_kind(
	const struct yard *yard, const struct tree_kind *kind, const char *tree_id)
{
	const struct species *species = kind == NULL ? NULL : kind->species;
	return season_rule_for(species, yard->climate, &yard->place, yard->own_windows,
		yard->own_window_count, tree_id);
}

static bool same_month_day(struct month_day a, struct month_day b)
{
	return a.month == b.month && a.day == b.day;
}

static bool same_era(const struct era *a, const struct era *b)
{
	const struct season_rule *one = &a->rule;
	const struct season_rule *other = &b->rule;
	return same_month_day(one->turn, other->turn) &&
	       same_month_day(one->harvest_from, other->harvest_from) &&
	       same_month_day(one->harvest_to, other->harvest_to) &&
	       one->years_add == other->years_add && one->crosses == other->crosses &&
	       strcmp(a->species, b->species) == 0;
}

static struct era make_era(const struct yard *yard, const struct species *species,
	const char *tree_id, struct maybe_date from)
{
	struct tree_kind kind = {.species = species};
	struct era era = {.from = from, .rule = rule_of_kind(yard, &kind, tree_id)};
	text_copy(era.species, sizeof era.species, species == NULL ? "" : species->key);
	return era;
}

int32_t eras_of_tree(const struct yard *yard, const struct identity *identities, int32_t count,
	const char *tree_id, struct date until, struct era *out)
{
	struct date changes[ERAS_MAX];
	int32_t change_count = kind_changes(identities, count, until, changes);
	struct date before = change_count > 0 ? date_add_days(changes[0], -1) : until;
	struct tree_kind kind = kind_on(yard->almanac, identities, count, before);
	out[0] = make_era(yard, kind.species, tree_id, (struct maybe_date){.known = false});
	for (int32_t i = 0; i < change_count; i++) {
		kind = kind_on(yard->almanac, identities, count, changes[i]);
		out[i + 1] = make_era(yard, kind.species, tree_id, known_date(changes[i]));
	}
	return change_count + 1;
}

/* --- spots --- */

/* One tree that stands or stood in the spot. */
struct stander {
	struct tree_place place;
	struct identity *identities;
	int32_t count;
};

static bool stands_on(const struct tree_place *place, struct date day)
{
	return (!place->from.known || place->from.value.day <= day.day) &&
	       (!place->to.known || day.day < place->to.value.day);
}

static enum status load_standers(const struct yard *yard, const char *spot_id, struct arena *arena,
	struct stander **out, int32_t *count, struct fault *why)
{
	struct tree_place *places;
	enum status status =
		store_tree_place_list(yard->store, NULL, spot_id, arena, &places, count, why);
	if (status != STATUS_OK)
		return status;
	*out = arena_array(arena, (size_t)*count + 1, sizeof **out);
	for (int32_t i = 0; status == STATUS_OK && i < *count; i++) {
		(*out)[i].place = places[i];
		status = store_identity_list(yard->store, places[i].tree_id, arena,
			&(*out)[i].identities, &(*out)[i].count, why);
	}
	return status;
}

/* The kind that all who stand there on the day share; *any is false when nobody does. */
static const struct species *shared_species(const struct yard *yard, const struct stander *standers,
	int32_t count, struct date day, bool *any)
{
	const struct species *shared = NULL;
	*any = false;
	for (int32_t i = 0; i < count; i++) {
		if (!stands_on(&standers[i].place, day))
			continue;
		struct tree_kind kind =
			kind_on(yard->almanac, standers[i].identities, standers[i].count, day);
		if (kind.species == NULL || (*any && kind.species != shared)) {
			*any = true;
			return NULL;
		}
		shared = kind.species;
		*any = true;
	}
	return shared;
}

static int compare_dates(const void *left, const void *right)
{
	return date_compare(*(const struct date *)left, *(const struct date *)right);
}

/* Every day on which somebody came, went or changed. */
static int32_t days_of_change(const struct yard *yard, const struct stander *standers,
	int32_t count, struct arena *arena, struct date **out)
{
	struct date *days = arena_array(arena, (size_t)count * (ERAS_MAX + 2) + 1, sizeof *days);
	int32_t found = 0;
	for (int32_t i = 0; i < count; i++) {
		if (standers[i].place.from.known)
			days[found++] = standers[i].place.from.value;
		if (standers[i].place.to.known)
			days[found++] = standers[i].place.to.value;
		found += kind_changes(
			standers[i].identities, standers[i].count, yard->today, &days[found]);
	}
	qsort(days, (size_t)found, sizeof *days, compare_dates);
	int32_t kept = 0;
	for (int32_t i = 0; i < found; i++)
		if (kept == 0 || days[i].day != days[kept - 1].day)
			days[kept++] = days[i];
	*out = days;
	return kept;
}

static struct date first_day(void)
{
	struct date day = {0};
	return date_add_days(day, INT32_MIN / 2); /* stops at the first day there is */
}

enum status eras_of_spot(const struct yard *yard, const char *spot_id, struct arena *arena,
	struct era *out, int32_t *count, struct fault *why)
{
	struct stander *standers;
	int32_t stander_count;
	enum status status = load_standers(yard, spot_id, arena, &standers, &stander_count, why);
	if (status != STATUS_OK)
		return status;
	struct date *days;
	int32_t day_count = days_of_change(yard, standers, stander_count, arena, &days);
	int32_t found = 0;
	for (int32_t i = -1; i < day_count && found <= ERAS_MAX; i++) {
		struct date day = i < 0 ? first_day() : days[i];
		bool any;
		const struct species *species =
			shared_species(yard, standers, stander_count, day, &any);
		if (!any)
			continue; /* an empty hole goes on as it was */
		struct maybe_date from = {.value = day, .known = found > 0};
		struct era era = make_era(yard, species, "", from);
		if (found == 0 || !same_era(&out[found - 1], &era))
			out[found++] = era;
	}
	if (found == 0)
		out[found++] = make_era(yard, NULL, "", (struct maybe_date){.known = false});
	*count = found;
	return STATUS_OK;
}

/* "fig", or "apple and pear" where kinds differ: each name once. */
static void name_kinds(const struct yard *yard, const struct stander *standers, int32_t count,
	struct spot_crop *crop)
{
	struct text_builder text = text_builder_fixed(crop->kind_name, sizeof crop->kind_name);
	for (int32_t i = 0; i < count; i++) {
		if (!stands_on(&standers[i].place, yard->today))
			continue;
		crop->trees++;
		struct tree_kind kind = kind_on(
			yard->almanac, standers[i].identities, standers[i].count, yard->today);
		if (strstr(text.text, kind.name) != NULL)
			continue;
		text_add(&text, text.length > 0 ? " and " : "");
		text_add(&text, kind.name);
	}
}

enum status spot_kind_tell(const struct yard *yard, const char *spot_id, struct arena *arena,
	struct spot_crop *crop, struct fault *why)
{
	struct stander *standers;
	int32_t count;
	enum status status = load_standers(yard, spot_id, arena, &standers, &count, why);
	if (status != STATUS_OK)
		return status;
	bool any;
	crop->species = shared_species(yard, standers, count, yard->today, &any);
	name_kinds(yard, standers, count, crop);
	return STATUS_OK;
}
