/* SPDX-License-Identifier: MIT */
#include "almanac/almanac.h"

#include <stdio.h>
#include <string.h>

#include "almanac/load.h"

/* --- rows and the kind they belong to --- */

static int32_t newest_of_chain(const struct list *list, int32_t owner)
{
	return list->newest[(uint32_t)owner % LIST_CHAINS] - 1;
}

const void *list_older(const struct list *list, int32_t owner, int32_t *at)
{
	int32_t i = *at == LIST_START ? newest_of_chain(list, owner) : list->before[*at];

	while (i >= 0 && list->owners[i] != owner) /* another of its chain */
		i = list->before[i];
	*at = i;
	return i >= 0 ? list->items + (size_t)i * list->item_size : NULL;
}

int32_t list_line(const struct list *list, int32_t at)
{
	return list->lines[at];
}

void list_add(
	struct almanac *almanac, struct list *list, const void *item, int32_t owner, int32_t line)
{
	if (list->count == list->room) {
		size_t old = (size_t)list->room;
		size_t room = old > 0 ? old * 2 : list->wanted > 0 ? (size_t)list->wanted : 64;
		list->items = arena_grow(list->stays ? almanac->arena : almanac->scratch,
			list->items, old * list->item_size, room * list->item_size);
		list->owners = arena_grow(almanac->scratch, list->owners,
			old * sizeof list->owners[0], room * sizeof list->owners[0]);
		list->lines = arena_grow(almanac->scratch, list->lines, old * sizeof list->lines[0],
			room * sizeof list->lines[0]);
		list->before = arena_grow(almanac->scratch, list->before,
			old * sizeof list->before[0], room * sizeof list->before[0]);
		list->room = (int32_t)room;
	}
	memcpy(list->items + (size_t)list->count * list->item_size, item, list->item_size);
	list->owners[list->count] = owner;
	list->before[list->count] = newest_of_chain(list, owner);
	list->newest[(uint32_t)owner % LIST_CHAINS] = list->count + 1; /* 0: none yet */
	list->lines[list->count++] = line;
}

static int32_t count_owned(const struct list *list, int32_t owner)
{
	int32_t count = 0;
	for (int32_t i = 0; i < list->count; i++)
		count += list->owners[i] == owner;
	return count;
}

static char *copy_owned(const struct list *list, int32_t owner, char *out)
{
	for (int32_t i = 0; i < list->count; i++) {
		if (list->owners[i] != owner)
			continue;
		memcpy(out, list->items + (size_t)i * list->item_size, list->item_size);
		out += list->item_size;
	}
	return out;
}

void *list_of(struct arena *arena, const struct list *list, int32_t owner, int32_t *count)
{
	*count = count_owned(list, owner) + count_owned(list, OWNER_ALL);
	if (*count == 0)
		return NULL;
	char *out = arena_array(arena, (size_t)*count, list->item_size);
	copy_owned(list, OWNER_ALL, copy_owned(list, owner, out));
	return out;
}

/* --- opening --- */

enum status load_sheet(struct almanac *almanac, const char *directory, const char *name,
	const char *const *columns, struct sheet *sheet, struct fault *why)
{
	enum status status =
		sheet_open(sheet, almanac->scratch, directory, name, columns, almanac->digest, why);
	if (status == STATUS_OK)
		almanac->digest = sheet->digest;
	return status;
}

enum status almanac_read(const char *directory, struct arena *arena, struct arena *scratch,
	struct almanac **out, struct fault *why)
{
	static enum status (*const tables[])(struct almanac *, const char *, struct fault *) = {
		load_sources, load_species, load_names, load_cuts, load_windows, load_feeds,
		load_facts, load_stages, load_cultivars, load_pollination, load_pollen, load_pests,
		load_degrees, load_work};
	struct almanac *almanac = arena_alloc(arena, sizeof *almanac);
	almanac->arena = arena;
	almanac->scratch = scratch;
	almanac->digest = UINT64_C(14695981039346656037);
	for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++) {
		enum status status = tables[i](almanac, directory, why);
		if (status != STATUS_OK)
			return status;
	}
	snprintf(almanac->digest_text, sizeof almanac->digest_text, "%016llx",
		(unsigned long long)almanac->digest);
	*out = almanac;
	return STATUS_OK;
}

static struct almanac *open_built_in(void)
{
	const size_t size = almanac_built_in.count * sizeof(uintptr_t);
	struct arena *arena = arena_new_of(size);
	uintptr_t *words = arena_alloc(arena, size);
	packed_open(&almanac_built_in, words);
	struct almanac *almanac = (struct almanac *)(void *)words;
	almanac->arena = arena;
	return almanac;
}

enum status almanac_open(const char *directory, struct almanac **out, struct fault *why)
{
	if (directory[0] == '\0') {
		*out = open_built_in();
		return STATUS_OK;
	}
	struct arena *arena = arena_new();
	struct arena *scratch = arena_new();
	enum status status = almanac_read(directory, arena, scratch, out, why);
	if (status != STATUS_OK) {
		arena_free(arena);
		arena_free(scratch);
	}
	return status;
}

void almanac_close(struct almanac *almanac)
{
	if (almanac == NULL)
		return;
	arena_free(almanac->scratch);
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
		if (word_is(almanac->species[i].key, key))
			return &almanac->species[i];
	}
	return NULL;
}

int32_t source_slot(const struct almanac *almanac, const char *key)
{
	uint32_t hash = 2166136261U; /* FNV-1a, 32 bits */
	for (const char *at = key; *at != '\0'; at++)
		hash = (hash ^ (unsigned char)*at) * 16777619U;
	int32_t slot = (int32_t)(hash & (SOURCE_SLOTS - 1));
	while (almanac->source_slots[slot] != 0 &&
		!word_is(almanac->sources[almanac->source_slots[slot] - 1].key, key))
		slot = (slot + 1) & (SOURCE_SLOTS - 1);
	return slot;
}

const struct source_row *almanac_source(const struct almanac *almanac, const char *key)
{
	int32_t place = almanac->source_slots[source_slot(almanac, key)];
	return place == 0 ? NULL : &almanac->sources[place - 1];
}
