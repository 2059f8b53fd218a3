/* SPDX-License-Identifier: MIT */
/* Picks and losses put into seasons, where what the tree is may have changed on the way. */
#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "dossier/inner.h"

struct weighing {
	const struct yard *yard;
	const char *species;
};

/* The weight of one container that holds on a day: for this kind before any kind, the latest that
 * began by then. NULL when it was never weighed. */
static const struct container_weight *weight_on(
	const struct weighing *weighing, const struct container *container, struct date day)
{
	const struct yard *yard = weighing->yard;
	const struct container_weight *best = NULL;
	for (int32_t i = 0; i < yard->weight_count; i++) {
		const struct container_weight *weight = &yard->weights[i];
		bool own_kind = weight->species[0] != '\0';
		if (strcmp(weight->container_id, container->id) != 0 ||
			(own_kind && strcmp(weight->species, weighing->species) != 0) ||
			(weight->from.known && weight->from.value.day > day.day))
			continue;
		if (best != NULL && best->species[0] != '\0' && !own_kind)
			continue;
		bool better_kind = best == NULL || (own_kind && best->species[0] == '\0');
		bool later = best != NULL && weight->from.known &&
			     (!best->from.known || weight->from.value.day >= best->from.value.day);
		if (better_kind || later)
			best = weight;
	}
	return best;
}

static struct maybe_i64 times(struct maybe_i64 containers, int64_t weight_mg)
{
	if (!containers.known)
		return containers;
	/* thousandths of a container; whole milligrams */
	return known_i64(round_i64((double)containers.value * (double)weight_mg / 1000.0));
}

static bool weigh_containers(
	const void *owner, const struct amount *amount, struct date day, struct amount *mass)
{
	const struct weighing *weighing = owner;
	const struct yard *yard = weighing->yard;
	for (int32_t i = 0; i < yard->container_count; i++) {
		if (!text_same(yard->containers[i].name, amount->container))
			continue;
		const struct container_weight *weight =
			weight_on(weighing, &yard->containers[i], day);
		if (weight == NULL || !amount->containers_low.known)
			return false;
		*mass = *amount;
		mass->dimension = DIMENSION_MASS;
		mass->field = FIELD_WEIGHT;
		mass->about = true;
		mass->low = times(amount->containers_low, weight->weight_mg);
		mass->high = times(amount->containers_high, weight->weight_mg);
		return true;
	}
	return false;
}

/* The day that puts a crop entry into an era: its own, else the new year of its season. */
static bool belongs(const struct entry *entry, const struct era *era, const struct era *next)
{
	struct maybe_date day = date_span_first(&entry->day);
	if (!day.known && entry->season_year.known)
		day = known_date(date_of_month_day(
			entry->season_year.value, (struct month_day){.month = 7, .day = 1}));
	if (!day.known)
		return next == NULL;
	return (!era->from.known || era->from.value.day <= day.value.day) &&
	       (next == NULL || day.value.day < next->from.value.day);
}

struct season_list {
	struct arena *arena;
	struct season *items;
	int32_t count;
	int32_t capacity;
};

static void season_list_add(struct season_list *list, const struct season *season)
{
	if (list->count == list->capacity) {
		int32_t capacity = list->capacity == 0 ? 16 : list->capacity * 2;
		size_t size = sizeof *list->items;
		list->items = arena_grow(list->arena, list->items, (size_t)list->count * size,
			(size_t)capacity * size);
		list->capacity = capacity;
	}
	list->items[list->count++] = *season;
}

static bool is_bare(const struct season *season)
{
	return season->picks == 0 && season->picked.parts == 0 && season->lost.parts == 0 &&
	       season->fruit.parts == 0;
}

/* Adds one era's rows: no year twice unless both hold something, no year left out between. */
static void season_list_join(struct season_list *list, const struct season *rows, int32_t count)
{
	for (int32_t i = 0; i < count; i++) {
		if (list->count == 0) {
			season_list_add(list, &rows[i]);
			continue;
		}
		struct season *last = &list->items[list->count - 1];
		if (rows[i].year <= last->year) {
			if (is_bare(&rows[i]))
				continue;
			if (is_bare(last) && rows[i].year == last->year)
				list->count--;
		}
		while (list->count > 0 && rows[i].year > list->items[list->count - 1].year + 1) {
			struct season gap = {
				.year = list->items[list->count - 1].year + 1,
				.state = SEASON_NOT_RECORDED,
			};
			season_list_add(list, &gap);
		}
		season_list_add(list, &rows[i]);
	}
}

static void tell_era(const struct telling *telling, const struct entry_list *crops,
	const struct era *era, const struct era *next, struct season_list *list)
{
	struct weighing weighing = {.yard = telling->yard, .species = era->species};
	struct season_weigher weigher = {.owner = &weighing, .weigh = weigh_containers};
	struct entry_list own = {.arena = telling->arena};
	for (int32_t i = 0; i < crops->count; i++)
		if (belongs(crops->items[i], era, next))
			entry_list_add(&own, crops->items[i]);
	if (next != NULL && own.count == 0)
		return;
	struct season *rows;
	int32_t count = season_table(
		own.items, own.count, &era->rule, telling->today, &weigher, telling->arena, &rows);
	if (next != NULL) {
		struct date last_day = date_add_days(next->from.value, -1);
		int32_t last_year = season_year_of(&era->rule, last_day);
		while (count > 0 && rows[count - 1].year > last_year && is_bare(&rows[count - 1]))
			count--;
	}
	season_list_join(list, rows, count);
}

struct amount_sum entry_mass(
	const struct yard *yard, const struct entry *entry, const char *species)
{
	struct weighing weighing = {.yard = yard, .species = species};
	struct season_weigher weigher = {.owner = &weighing, .weigh = weigh_containers};
	struct maybe_date day = date_span_first(&entry->day);
	return season_entry_mass(entry, day.known ? day.value : yard->today, &weigher);
}

int32_t seasons_of_last_era(
	const struct season *seasons, int32_t count, const struct era *eras, int32_t era_count)
{
	const struct era *era = &eras[era_count - 1];
	int32_t own = 0;
	if (!era->from.known)
		return count;
	while (own < count) {
		struct window_span span = season_span(&era->rule, seasons[count - 1 - own].year);
		if (span.from.day < era->from.value.day)
			break;
		own++;
	}
	return own;
}

/* Eras in a row that differ in nothing that seasons hang on are told as one. */
static int32_t era_end(const struct era *eras, int32_t count, int32_t start)
{
	int32_t end = start + 1;
	while (end < count && strcmp(eras[end].species, eras[start].species) == 0)
		end++;
	return end;
}

/* --- kinds that bear twice a season --- */

struct splitting {
	const struct telling *telling;
	const struct era *era;
	struct month_day opens;
	struct entry_list own[CROP_MAIN + 1]; /* CROP_ALL: of either */
};

static int32_t split_table(
	const struct splitting *splitting, enum crop_part part, struct season **rows)
{
	struct weighing weighing = {
		.yard = splitting->telling->yard, .species = splitting->era->species};
	struct season_weigher weigher = {.owner = &weighing, .weigh = weigh_containers};
	const struct entry_list *own = &splitting->own[part];
	return season_table(own->items, own->count, &splitting->era->rule,
		splitting->telling->today, &weigher, splitting->telling->arena, rows);
}

/* A season with a pick that may be of either crop tells nothing of each. */
static void tell_part(const struct splitting *splitting, enum crop_part part,
	const struct season *either, int32_t either_count, struct part_crop *out)
{
	struct season *rows;
	int32_t count = split_table(splitting, part, &rows);
	for (int32_t i = 0; i < either_count; i++) {
		if (is_bare(&either[i]))
			continue;
		out->untold++;
		for (int32_t at = 0; at < count; at++)
			if (rows[at].year == either[i].year)
				rows[at].state = SEASON_NOT_RECORDED;
	}
	out->seasons = rows;
	out->season_count = count;
	out->expected = crop_expected(rows, count,
		crop_fruit_mg(almanac_species(
			splitting->telling->yard->almanac, splitting->era->species)));
}

static void tell_parts(const struct telling *telling, const struct entry_list *crops,
	const struct era *era, struct crop_story *story)
{
	struct splitting splitting = {.telling = telling, .era = era};
	const struct species *species = almanac_species(telling->yard->almanac, era->species);
	if (!crop_main_opens(species, &telling->yard->place, &splitting.opens))
		return;
	for (int part = CROP_ALL; part <= CROP_MAIN; part++)
		splitting.own[part].arena = telling->arena;
	for (int32_t i = 0; i < crops->count; i++)
		if (belongs(crops->items[i], era, NULL))
			entry_list_add(&splitting.own[crop_part_of(
					       crops->items[i], &era->rule, splitting.opens)],
				crops->items[i]);
	struct season *either;
	int32_t count = split_table(&splitting, CROP_ALL, &either);
	for (int part = CROP_BREBA; part <= CROP_MAIN; part++)
		tell_part(&splitting, (enum crop_part)part, either, count, &story->parts[part]);
}

struct crop_story crop_tell(const struct telling *telling, const struct entry_list *crops,
	const struct era *eras, int32_t era_count)
{
	struct season_list list = {.arena = telling->arena};
	int32_t last = 0;
	for (int32_t i = 0; i < era_count;) {
		int32_t end = era_end(eras, era_count, i);
		last = i;
		tell_era(telling, crops, &eras[i], end < era_count ? &eras[end] : NULL, &list);
		i = end;
	}
	struct crop_story story = {.seasons = list.items, .season_count = list.count};
	int32_t own = seasons_of_last_era(list.items, list.count, eras, era_count);
	story.season_own = list.count - own;
	story.expected = crop_expected(list.items + (list.count - own), own,
		crop_fruit_mg(
			almanac_species(telling->yard->almanac, eras[era_count - 1].species)));
	tell_parts(telling, crops, &eras[last], &story);
	return story;
}

enum status yard_spot_crop(struct yard *yard, const char *spot_id, struct arena *arena,
	const struct spot_crop **out, struct fault *why)
{
	struct spot_crop *crop = arena_alloc(arena, sizeof *crop);
	struct era eras[ERAS_MAX + 1];
	int32_t era_count;
	enum status status = store_spot_load(yard->store, spot_id, &crop->spot, why);
	if (status == STATUS_OK)
		status = eras_of_spot(yard, spot_id, arena, eras, &era_count, why);
	struct entry_query query = {.subject_id = spot_id, .planned = 0};
	struct entry *entries;
	int32_t count;
	if (status == STATUS_OK)
		status = store_entry_list(yard->store, &query, arena, &entries, &count, why);
	if (status == STATUS_OK)
		status = spot_kind_tell(yard, spot_id, arena, crop, why);
	if (status != STATUS_OK)
		return status;
	struct entry_list crops = {.arena = arena};
	for (int32_t i = 0; i < count; i++)
		if (entries[i].kind == KIND_PICK || entries[i].kind == KIND_LOSS)
			entry_list_add(&crops, &entries[i]);
	struct telling telling = {.yard = yard, .arena = arena, .today = yard->today};
	struct crop_story story = crop_tell(&telling, &crops, eras, era_count);
	crop->entries = crops.items;
	crop->entry_count = crops.count;
	crop->season_rule = eras[era_count - 1].rule;
	crop->seasons = story.seasons;
	crop->season_count = story.season_count;
	crop->season_year = season_year_of(&crop->season_rule, yard->today);
	*out = crop;
	return STATUS_OK;
}
