/* SPDX-License-Identifier: MIT */
#include "report/walk_route.h"

#include <stdlib.h>
#include <string.h>

#include "core/text.h"

enum { ROUTE_PAGE = 1000, OFF_ROUTE = INT32_MAX };

/* What decides the place of a tree: its own, or its host's with the graft behind it. */
struct stop {
	char id[ID_SIZE];
	char host_id[ID_SIZE];
	char spot_id[ID_SIZE];
	int32_t along;   /* place of its spot on the route; OFF_ROUTE */
	int32_t natural; /* of the tree that stands in the ground */
	int32_t own;     /* in the order of labels */
};

struct stops {
	struct stop *items;
	int32_t count;
};

struct spot_place {
	char id[ID_SIZE];
	int32_t along;
};

static int compare_spots(const void *a, const void *b)
{
	return strcmp(((const struct spot_place *)a)->id, ((const struct spot_place *)b)->id);
}

static int compare_ids(const void *a, const void *b)
{
	return strcmp(((const struct stop *)a)->id, ((const struct stop *)b)->id);
}

static int compare_numbers(int32_t a, int32_t b)
{
	return a < b ? -1 : a > b;
}

static int compare_stops(const void *a, const void *b)
{
	const struct stop *one = a;
	const struct stop *other = b;
	int order = compare_numbers(one->along, other->along);
	if (order == 0)
		order = compare_numbers(one->natural, other->natural);
	if (order == 0) /* the host before its grafts */
		order = (one->host_id[0] != '\0') - (other->host_id[0] != '\0');
	return order != 0 ? order : compare_numbers(one->own, other->own);
}

/* --- reading --- */

static enum status read_stops(
	struct store *store, struct arena *arena, struct stops *out, struct fault *why)
{
	struct arena *page = arena_new();
	int32_t total;
	int32_t count = 1;
	const struct tree_query all = {.most = 0};
	enum status status = store_tree_count(store, &all, &total, why);
	if (status == STATUS_OK)
		out->items = arena_array(arena, (size_t)total + 1, sizeof out->items[0]);
	while (status == STATUS_OK && out->count < total && count > 0) {
		struct tree *trees;
		const struct tree_query query = {.offset = out->count, .most = ROUTE_PAGE};
		arena_reset(page);
		status = store_tree_list(store, &query, page, &trees, &count, why);
		for (int32_t i = 0; status == STATUS_OK && i < count && out->count < total; i++) {
			struct stop *stop = &out->items[out->count];
			(void)text_copy(stop->id, sizeof stop->id, trees[i].id);
			(void)text_copy(stop->host_id, sizeof stop->host_id, trees[i].host_id);
			(void)text_copy(stop->spot_id, sizeof stop->spot_id, trees[i].spot_id);
			stop->own = stop->natural = out->count++;
			stop->along = OFF_ROUTE;
		}
	}
	arena_free(page);
	return status;
}

/* FNV-1a. */
static uint64_t sum_of(char (*ids)[ID_SIZE], int32_t count)
{
	uint64_t sum = UINT64_C(14695981039346656037);
	for (int32_t i = 0; i < count; i++)
		for (const char *at = ids[i]; *at != '\0'; at++)
			sum = (sum ^ (unsigned char)*at) * UINT64_C(1099511628211);
	return sum;
}

enum status walk_route_sum(struct store *store, uint64_t *sum, struct fault *why)
{
	struct arena *arena = arena_new();
	char(*ids)[ID_SIZE];
	int32_t count = 0;
	const enum status status = store_route_list(store, arena, &ids, &count, why);
	if (status == STATUS_OK)
		*sum = sum_of(ids, count);
	arena_free(arena);
	return status;
}

static enum status read_route(struct store *store, struct arena *arena, struct spot_place **out,
	int32_t *count, uint64_t *sum, struct fault *why)
{
	char(*ids)[ID_SIZE];
	const enum status status = store_route_list(store, arena, &ids, count, why);
	if (status != STATUS_OK)
		return status;
	*sum = sum_of(ids, *count);
	*out = arena_array(arena, (size_t)*count + 1, sizeof **out);
	for (int32_t i = 0; i < *count; i++) {
		memcpy((*out)[i].id, ids[i], ID_SIZE);
		(*out)[i].along = i;
	}
	qsort(*out, (size_t)*count, sizeof **out, compare_spots);
	return STATUS_OK;
}

/* --- ordering --- */

static void place_along(struct stops *stops, const struct spot_place *spots, int32_t count)
{
	for (int32_t i = 0; i < stops->count; i++) {
		struct spot_place wanted;
		memcpy(wanted.id, stops->items[i].spot_id, ID_SIZE);
		const struct spot_place *found =
			bsearch(&wanted, spots, (size_t)count, sizeof *spots, compare_spots);
		if (found != NULL)
			stops->items[i].along = found->along;
	}
}

static void put_grafts_by_hosts(struct stops *stops, struct arena *arena)
{
	struct stop *sorted = arena_array(arena, (size_t)stops->count + 1, sizeof *sorted);
	memcpy(sorted, stops->items, (size_t)stops->count * sizeof *sorted);
	qsort(sorted, (size_t)stops->count, sizeof *sorted, compare_ids);
	for (int32_t i = 0; i < stops->count; i++) {
		struct stop wanted;
		memcpy(wanted.id, stops->items[i].host_id, ID_SIZE);
		const struct stop *host = wanted.id[0] == '\0'
						  ? NULL
						  : bsearch(&wanted, sorted, (size_t)stops->count,
							    sizeof *sorted, compare_ids);
		if (host == NULL)
			continue;
		stops->items[i].along = host->along;
		stops->items[i].natural = host->natural;
	}
}

enum status walk_route_read(
	struct store *store, struct arena *arena, struct walk_route *out, struct fault *why)
{
	struct arena *scratch = arena_new();
	struct stops stops = {.count = 0};
	struct spot_place *spots = NULL;
	int32_t count = 0;
	enum status status = read_stops(store, scratch, &stops, why);
	if (status == STATUS_OK)
		status = read_route(store, scratch, &spots, &count, &out->sum, why);
	if (status == STATUS_OK) {
		place_along(&stops, spots, count);
		put_grafts_by_hosts(&stops, scratch);
		qsort(stops.items, (size_t)stops.count, sizeof stops.items[0], compare_stops);
		out->count = stops.count;
		out->ids = arena_array(arena, (size_t)stops.count + 1, sizeof out->ids[0]);
		for (int32_t i = 0; i < stops.count; i++)
			memcpy(out->ids[i], stops.items[i].id, ID_SIZE);
	}
	arena_free(scratch);
	return status;
}

int32_t walk_route_place(const struct walk_route *route, const char *id)
{
	for (int32_t i = 0; i < route->count; i++) {
		if (strcmp(route->ids[i], id) == 0)
			return i;
	}
	return -1;
}
