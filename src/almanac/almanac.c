/* SPDX-License-Identifier: MIT */
#include "almanac/almanac.h"

#include <stdio.h>
#include <string.h>

#include "almanac/load.h"

/* --- rows and the kind they belong to --- */

void list_add(struct arena *arena, struct list *list, const void *item, int32_t owner, int32_t line)
{
	if (list->count == list->room) {
		size_t old = (size_t)list->room;
		size_t room = old == 0 ? 64 : old * 2;
		list->items = arena_grow(
			arena, list->items, old * list->item_size, room * list->item_size);
		list->owners = arena_grow(arena, list->owners, old * sizeof list->owners[0],
			room * sizeof list->owners[0]);
		list->lines = arena_grow(arena, list->lines, old * sizeof list->lines[0],
			room * sizeof list->lines[0]);
		list->room = (int32_t)room;
	}
	memcpy(list->items + (size_t)list->count * list->item_size, item, list->item_size);
	list->owners[list->count] = owner;
	list->lines[list->count++] = line;
}

static int32_t copy_owned(const struct list *list, int32_t owner, char *out)
{
	int32_t count = 0;
	for (int32_t i = 0; i < list->count; i++) {
		if (list->owners[i] != owner)
			continue;
		if (out != NULL)
			memcpy(out + (size_t)count * list->item_size,
				list->items + (size_t)i * list->item_size, list->item_size);
		count++;
	}
	return count;
}

void *list_of(struct arena *arena, const struct list *list, int32_t owner, int32_t *count)
{
	int32_t own = copy_owned(list, owner, NULL);
	int32_t all = copy_owned(list, OWNER_ALL, NULL);
	*count = own + all;
	if (*count == 0)
		return NULL;
	char *out = arena_array(arena, (size_t)*count, list->item_size);
	copy_owned(list, owner, out);
	copy_owned(list, OWNER_ALL, out + (size_t)own * list->item_size);
	return out;
}

/* --- opening --- */

/* FNV-1a, 64 bits (Fowler, Noll, Vo; IETF draft-eastlake-fnv). */
static uint64_t fnv_add(uint64_t digest, const char *bytes, size_t size)
{
	for (size_t i = 0; i < size; i++)
		digest = (digest ^ (unsigned char)bytes[i]) * UINT64_C(1099511628211);
	return digest;
}

enum status load_sheet(struct almanac *almanac, const char *directory, const char *name,
	const char *const *columns, struct sheet *sheet, struct fault *why)
{
	enum status status = sheet_open(sheet, almanac->arena, directory, name, columns, why);
	if (status != STATUS_OK)
		return status;
	almanac->digest = fnv_add(almanac->digest, name, strlen(name) + 1);
	almanac->digest = fnv_add(almanac->digest, sheet->bytes, sheet->size);
	return STATUS_OK;
}

enum status almanac_open(const char *directory, struct almanac **out, struct fault *why)
{
	static enum status (*const tables[])(struct almanac *, const char *, struct fault *) = {
		load_sources, load_species, load_names, load_cuts, load_windows, load_feeds,
		load_facts, load_stages, load_cultivars, load_pollination, load_pollen, load_pests,
		load_degrees, load_work};
	struct arena *arena = arena_new();
	struct almanac *almanac = arena_alloc(arena, sizeof *almanac);
	almanac->arena = arena;
	almanac->digest = UINT64_C(14695981039346656037);
	for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++) {
		enum status status = tables[i](almanac, directory, why);
		if (status != STATUS_OK) {
			arena_free(arena);
			return status;
		}
	}
	snprintf(almanac->digest_text, sizeof almanac->digest_text, "%016llx",
		(unsigned long long)almanac->digest);
	*out = almanac;
	return STATUS_OK;
}

void almanac_close(struct almanac *almanac)
{
	if (almanac != NULL)
		arena_free(almanac->arena);
}

const char *almanac_digest(const struct almanac *almanac)
{
	return almanac->digest_text;
}

/* --- asking --- */

const struct feed_row *almanac_common_feeds(const struct almanac *almanac, int32_t *count)
{
	*count = almanac->common_feed_count;
	return almanac->common_feeds;
}

int32_t almanac_species_count(const struct almanac *almanac)
{
	return almanac->species_count;
}

const struct species *almanac_species_at(const struct almanac *almanac, int32_t index)
{
	return index >= 0 && index < almanac->species_count ? &almanac->species[index] : NULL;
}

const struct species *almanac_species(const struct almanac *almanac, const char *key)
{
	for (int32_t i = 0; i < almanac->species_count; i++) {
		if (strcmp(almanac->species[i].key, key) == 0)
			return &almanac->species[i];
	}
	return NULL;
}

int32_t source_place(const struct almanac *almanac, const char *key, bool *found)
{
	int32_t low = 0;
	int32_t high = almanac->source_count;
	*found = false;
	while (low < high && !*found) {
		int32_t middle = low + (high - low) / 2;
		const struct source_row *row = &almanac->sources[almanac->sources_by_key[middle]];
		int order = strcmp(key, row->key);
		*found = order == 0;
		if (order <= 0)
			high = middle;
		else
			low = middle + 1;
	}
	return high;
}

const struct source_row *almanac_source(const struct almanac *almanac, const char *key)
{
	bool found;
	int32_t place = source_place(almanac, key, &found);
	return found ? &almanac->sources[almanac->sources_by_key[place]] : NULL;
}
