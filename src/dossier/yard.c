/* SPDX-License-Identifier: MIT */
/* The yard: facts that all trees share, each read once, when it is first needed. */
#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "dossier/inner.h"

enum { WEATHER_DAYS = 400, SOWING_DAYS = 400, TREES_A_PAGE = 1024 };

void entry_list_add(struct entry_list *list, const struct entry *entry)
{
	if (list->count == list->capacity) {
		int32_t capacity = list->capacity == 0 ? 16 : list->capacity * 2;
		size_t size = sizeof list->items[0];
		list->items = arena_grow(list->arena, list->items, (size_t)list->count * size,
			(size_t)capacity * size);
		list->capacity = capacity;
	}
	list->items[list->count++] = entry;
}

static int32_t sort_day(const struct entry *entry)
{
	struct maybe_date day = date_span_first(&entry->day);
	return day.known ? day.value.day : INT32_MIN;
}

static int compare_days(const void *left, const void *right)
{
	const struct entry *a = *(const struct entry *const *)left;
	const struct entry *b = *(const struct entry *const *)right;
	int32_t day_a = sort_day(a);
	int32_t day_b = sort_day(b);
	if (day_a != day_b)
		return day_a < day_b ? -1 : 1;
	int typed = strcmp(a->typed_at, b->typed_at);
	return typed != 0 ? typed : strcmp(a->id, b->id);
}

void entry_list_sort(struct entry_list *list)
{
	for (int32_t i = 1; i < list->count; i++) {
		if (sort_day(list->items[i - 1]) <= sort_day(list->items[i]))
			continue;
		qsort(list->items, (size_t)list->count, sizeof list->items[0], compare_days);
		return;
	}
}

static enum status list_entries(
	struct yard *yard, const char *subject_id, struct entry_list *out, struct fault *why)
{
	struct entry_query query = {.subject_id = subject_id, .planned = 0};
	struct entry *entries;
	int32_t count;
	enum status status =
		store_entry_list(yard->store, &query, out->arena, &entries, &count, why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		entry_list_add(out, &entries[i]);
	return status;
}

/* All there ever were: by kind they are soon found, among the entries of a year they are not. */
static enum status load_sowings(struct yard *yard, struct fault *why)
{
	const struct entry_query query = {.kind_given = true, .kind = KIND_SOW};
	const struct date from = date_add_days(yard->today, -SOWING_DAYS);
	struct entry *entries;
	int32_t count;
	enum status status =
		store_entry_list(yard->store, &query, yard->arena, &entries, &count, why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		if (entries[i].day.low.known && date_compare(entries[i].day.low.value, from) >= 0)
			entry_list_add(&yard->sowings, &entries[i]);
	return status;
}

static enum status load_area_entries(struct yard *yard, struct fault *why)
{
	struct area *areas;
	int32_t count;
	enum status status = store_area_list(yard->store, yard->arena, &areas, &count, why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		status = list_entries(yard, areas[i].id, &yard->area_entries, why);
	return status;
}

/* Of the span those observed, or those forecast, by day. */
static enum status load_days(struct yard *yard, struct maybe_date from, struct maybe_date to,
	bool forecast, struct weather_day **out, int32_t *kept, struct fault *why)
{
	int32_t count;
	enum status status =
		store_weather_day_list(yard->store, from, to, yard->arena, out, &count, why);
	if (status != STATUS_OK)
		return status;
	*kept = 0;
	for (int32_t i = 0; i < count; i++)
		if ((*out)[i].forecast == forecast)
			(*out)[(*kept)++] = (*out)[i];
	return STATUS_OK;
}

static enum status load_weather(struct yard *yard, struct fault *why)
{
	struct maybe_date today = known_date(yard->today);
	enum status status = load_days(yard, known_date(date_add_days(yard->today, -WEATHER_DAYS)),
		today, false, &yard->weather, &yard->weather_count, why);
	if (status == STATUS_OK)
		status = load_days(yard, today, (struct maybe_date){0}, true, &yard->forecasts,
			&yard->forecast_count, why);
	return status;
}

/* Of a first pick without a day it is only known that it was. */
static enum status load_first_pick(struct yard *yard, struct fault *why)
{
	bool any;
	enum status status = store_first_pick(yard->store, &any, &yard->picks_since, why);
	yard->picks_since.known = any;
	return status;
}

static enum status load_settings(struct yard *yard, struct fault *why)
{
	struct store *store = yard->store;
	struct arena *arena = yard->arena;
	enum status status = store_place_load(store, &yard->place, why);
	if (status == STATUS_OK)
		status = store_own_window_list(
			store, arena, &yard->own_windows, &yard->own_window_count, why);
	if (status == STATUS_OK)
		status = store_own_rate_list(
			store, arena, &yard->own_rates, &yard->own_rate_count, why);
	if (status == STATUS_OK)
		status = store_choice_list(store, arena, &yard->choices, &yard->choice_count, why);
	if (status == STATUS_OK)
		status = store_product_list(
			store, arena, &yard->products, &yard->product_count, why);
	if (status == STATUS_OK)
		status = store_container_list(store, arena, &yard->containers,
			&yard->container_count, &yard->weights, &yard->weight_count, why);
	return status;
}

enum status shared_load(struct yard *yard, struct fault *why)
{
	if (yard->shared_known)
		return STATUS_OK;
	const struct entry_list none = {.arena = yard->arena};
	yard->place_entries = yard->area_entries = yard->sowings = none;
	enum status status = load_weather(yard, why);
	if (status == STATUS_OK)
		status = list_entries(yard, "", &yard->place_entries, why);
	if (status == STATUS_OK)
		status = load_area_entries(yard, why);
	if (status == STATUS_OK)
		status = load_sowings(yard, why);
	if (status == STATUS_OK)
		status = load_first_pick(yard, why);
	yard->shared_known = status == STATUS_OK;
	return status;
}

enum status yard_open(struct store *store, const struct almanac *almanac, struct date today,
	struct arena *arena, struct yard **out, struct fault *why)
{
	struct yard *yard = arena_alloc(arena, sizeof *yard);
	yard->store = store;
	yard->almanac = almanac;
	yard->arena = arena;
	yard->today = today;
	enum status status = store_last_change(store, yard->read_at, why);
	if (status == STATUS_OK)
		status = load_settings(yard, why);
	if (status != STATUS_OK)
		return status;
	yard->told = yard->place;
	yard->climate = climate_of_place(&yard->place);
	yard->numbers = (struct number_rules){
		.units = yard->place.units,
		.gallon = yard->place.gallon,
		.style = yard->place.numbers,
	};
	*out = yard;
	return STATUS_OK;
}

const struct place *yard_place(const struct yard *yard)
{
	return &yard->place;
}

void yard_tell_in(struct yard *yard, enum unit_system units)
{
	yard->told.units = units;
}

enum unit_system yard_told_in(const struct yard *yard)
{
	return yard->told.units;
}

enum climate yard_climate(const struct yard *yard)
{
	return yard->climate;
}

struct date yard_today(const struct yard *yard)
{
	return yard->today;
}

struct number_rules yard_numbers(const struct yard *yard)
{
	return yard->numbers;
}

const struct almanac *yard_almanac(const struct yard *yard)
{
	return yard->almanac;
}

struct store *yard_store(const struct yard *yard)
{
	return yard->store;
}

const char *yard_read_at(const struct yard *yard)
{
	return yard->read_at;
}

const struct product *yard_products(const struct yard *yard, int32_t *count)
{
	*count = yard->product_count;
	return yard->products;
}

enum status yard_kind(struct yard *yard, const char *tree_id, struct date day,
	struct tree_kind *out, struct fault *why)
{
	struct arena *arena = arena_new();
	struct identity *identities;
	int32_t count;
	enum status status =
		store_identity_list(yard->store, tree_id, arena, &identities, &count, why);
	if (status == STATUS_OK)
		*out = kind_on(yard->almanac, identities, count, day);
	arena_free(arena);
	return status;
}

enum status yard_dossier(
	struct yard *yard, const char *tree_id, const struct dossier **out, struct fault *why)
{
	return yard_dossier_in(yard, tree_id, yard->arena, out, why);
}

enum status yard_dossier_in(struct yard *yard, const char *tree_id, struct arena *arena,
	const struct dossier **out, struct fault *why)
{
	struct telling telling = {.yard = yard, .arena = arena, .today = yard->today};
	return story_tell(&telling, tree_id, out, why);
}

enum status yard_dossier_shown(struct yard *yard, const char *tree_id, struct arena *arena,
	const struct dossier **out, struct fault *why)
{
	struct telling telling = {
		.yard = yard, .arena = arena, .today = yard->today, .alone = true};
	return story_tell(&telling, tree_id, out, why);
}

enum status yard_dossier_with(struct yard *yard, const char *tree_id, const struct entry *extra,
	struct date today, const struct dossier **out, struct fault *why)
{
	return yard_dossier_with_in(yard, tree_id, extra, today, yard->arena, out, why);
}

enum status yard_dossier_with_in(struct yard *yard, const char *tree_id, const struct entry *extra,
	struct date today, struct arena *arena, const struct dossier **out, struct fault *why)
{
	struct telling telling = {.yard = yard, .arena = arena, .today = today, .extra = extra};
	return story_tell(&telling, tree_id, out, why);
}

static enum status visit_grafts(
	const struct dossier *host, const struct yard_visitor *visitor, struct fault *why)
{
	enum status status = STATUS_OK;
	for (int32_t i = 0; status == STATUS_OK && i < host->graft_count; i++) {
		status = visitor->visit(visitor->owner, host->grafts[i], why);
		if (status == STATUS_OK)
			status = visit_grafts(host->grafts[i], visitor, why);
	}
	return status;
}

/* One listed tree: a standing graft comes with its host, a gone one by itself. */
static enum status visit_tree(const struct telling *telling, const struct tree *tree,
	const struct yard_visitor *visitor, struct fault *why)
{
	bool is_graft = tree->host_id[0] != '\0';
	bool is_gone = tree->gone.text[0] != '\0';
	if (is_graft && !is_gone)
		return STATUS_OK;
	const struct dossier *dossier;
	enum status status = is_graft ? story_tell(telling, tree->id, &dossier, why)
				      : story_tell_whole(telling, tree, &dossier, why);
	if (status == STATUS_OK)
		status = visitor->visit(visitor->owner, dossier, why);
	if (status == STATUS_OK && !is_graft)
		status = visit_grafts(dossier, visitor, why);
	return status;
}

enum status yard_visit(struct yard *yard, const char *tree_id, const struct yard_visitor *visitor,
	struct fault *why)
{
	struct arena *scratch = arena_new();
	const struct telling telling = {
		.yard = yard, .arena = scratch, .today = yard->today, .later = true};
	struct tree tree;
	enum status status = store_tree_load(yard->store, tree_id, &tree, why);
	if (status == STATUS_OK)
		status = visit_tree(&telling, &tree, visitor, why);
	arena_free(scratch);
	return status;
}

/* --- one after another --- */

enum status yard_take_up(
	struct yard *yard, const struct shelf_wants *wants, int32_t *taken, struct fault *why)
{
	if (yard->shelf == NULL)
		yard->shelf = store_shelf_new();
	return store_shelf_fill(yard->store, yard->shelf, wants, taken, why);
}

void yard_put_back(struct yard *yard)
{
	store_shelf_free(yard->shelf);
	yard->shelf = NULL;
}

/* Those whose entries are taken up together are one look, so that a save of another window waits
 * for no more than that. Returns in *done how many were told. */
static enum status visit_some(const struct telling *telling, const struct tree *trees,
	int32_t count, const struct yard_visitor *visitor, int32_t *done, struct fault *why)
{
	const char *ids[TREES_A_PAGE];
	const struct shelf_wants wants = {
		.subject_ids = ids, .count = count, .kinds = visitor->kinds};
	struct store *store = telling->yard->store;
	for (int32_t i = 0; i < count; i++)
		ids[i] = trees[i].id;
	bool one_look = store_look_begin(store);
	enum status status = yard_take_up(telling->yard, &wants, done, why);
	for (int32_t i = 0; status == STATUS_OK && i < *done; i++) {
		status = visit_tree(telling, &trees[i], visitor, why);
		arena_reset(telling->arena);
	}
	if (one_look)
		store_look_end(store);
	return status;
}

enum status yard_each(
	struct yard *yard, bool gone_too, const struct yard_visitor *visitor, struct fault *why)
{
	struct arena *page = arena_new();
	struct telling telling = {
		.yard = yard, .arena = arena_new(), .today = yard->today, .alone = visitor->alone};
	struct tree_query query = {.gone_too = gone_too, .most = TREES_A_PAGE};
	enum status status = STATUS_OK;
	int32_t count = TREES_A_PAGE;
	while (status == STATUS_OK && count == TREES_A_PAGE) {
		struct tree *trees;
		arena_reset(page);
		status = store_tree_list(yard->store, &query, page, &trees, &count, why);
		for (int32_t i = 0, done = 0; status == STATUS_OK && i < count; i += done)
			status = visit_some(&telling, &trees[i], count - i, visitor, &done, why);
		query.offset += TREES_A_PAGE;
	}
	yard_put_back(yard);
	arena_free(telling.arena);
	arena_free(page);
	return status == STATUS_END ? STATUS_OK : status;
}
