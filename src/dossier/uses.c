/* SPDX-License-Identifier: MIT */
/* What became of fruit, entry by entry, each put to its kind and its season. */
#include "dossier/uses.h"

#include <string.h>

#include "core/text.h"
#include "dossier/inner.h"

struct collecting {
	struct yard *yard;
	struct arena *arena; /* of the answer */
	struct crop_use *items;
	int32_t count;
	int32_t capacity;
};

static struct crop_use *new_use(struct collecting *collecting)
{
	if (collecting->count == collecting->capacity) {
		int32_t capacity = collecting->capacity == 0 ? 16 : collecting->capacity * 2;
		size_t size = sizeof *collecting->items;
		collecting->items = arena_grow(collecting->arena, collecting->items,
			(size_t)collecting->count * size, (size_t)capacity * size);
		collecting->capacity = capacity;
	}
	return &collecting->items[collecting->count++];
}

/* --- whose it was --- */

/* What an entry is about: its kind, how seasons are named there, whether others may see it. */
struct bearer {
	struct tree_kind kind;
	struct season_rule rule;
	bool is_private;
};

static enum status bearer_of_tree(
	struct yard *yard, const char *tree_id, struct bearer *out, struct fault *why)
{
	struct tree tree, host;
	enum status status = store_tree_load(yard->store, tree_id, &tree, why);
	if (status == STATUS_OK)
		status = yard_kind(yard, tree_id, yard->today, &out->kind, why);
	if (status != STATUS_OK)
		return status;
	out->rule = rule_of_kind(yard, &out->kind, tree_id);
	out->is_private = tree.is_private;
	if (tree.host_id[0] == '\0')
		return STATUS_OK;
	status = store_tree_load(yard->store, tree.host_id, &host, why);
	out->is_private = out->is_private || (status == STATUS_OK && host.is_private);
	return status;
}

static enum status bearer_of_spot(
	struct yard *yard, const char *spot_id, struct bearer *out, struct fault *why)
{
	struct arena *arena = arena_new();
	const struct spot_crop *crop = NULL;
	enum status status = yard_spot_crop(yard, spot_id, arena, &crop, why);
	if (status == STATUS_OK) {
		out->kind.species = crop->species;
		text_copy(out->kind.name, sizeof out->kind.name, crop->kind_name);
		out->rule = crop->season_rule;
	}
	arena_free(arena);
	return status;
}

/* Fruit of many trees put together: the kind as it was named. */
static void bearer_of_name(struct yard *yard, const char *name, struct bearer *out)
{
	out->kind.species = almanac_species(yard->almanac, name);
	text_copy(out->kind.name, sizeof out->kind.name,
		out->kind.species != NULL ? out->kind.species->name : name);
	out->rule = rule_of_kind(yard, &out->kind, "");
}

static enum status find_bearer(
	struct yard *yard, const struct entry *entry, struct bearer *out, struct fault *why)
{
	*out = (struct bearer){.is_private = false};
	switch (entry->subject.kind) {
	case SUBJECT_TREE:
		return bearer_of_tree(yard, entry->subject.id, out, why);
	case SUBJECT_SPOT:
		return bearer_of_spot(yard, entry->subject.id, out, why);
	case SUBJECT_AREA:
	case SUBJECT_PLACE:
		break;
	}
	bearer_of_name(yard, entry_detail(entry, FIELD_NAME), out);
	return STATUS_OK;
}

/* --- one entry --- */

static enum status add_use(void *owner, const struct entry *entry, struct fault *why)
{
	struct collecting *collecting = owner;
	const char *became = entry_detail(entry, FIELD_BECAME);
	struct entry as_pick = *entry;
	struct bearer bearer;
	int32_t year = 0;

	if (became[0] == '\0')
		return STATUS_OK;
	enum status status = find_bearer(collecting->yard, entry, &bearer, why);
	as_pick.kind = KIND_PICK; /* seasons are those of the picks it came from */
	if (status != STATUS_OK ||
		!season_of_entry(&as_pick, &bearer.rule, collecting->yard->today, &year))
		return status;
	struct crop_use *use = new_use(collecting);
	*use = (struct crop_use){.became = use_kind_of_key(became),
		.out_of = use_kind_of_key(entry_detail(entry, FIELD_OUT_OF)),
		.of_pick = entry->kind == KIND_PICK,
		.is_private = bearer.is_private,
		.subject = entry->subject,
		.year = year};
	text_copy(use->kind_name, sizeof use->kind_name,
		bearer.kind.name[0] != '\0' ? bearer.kind.name : "unknown");
	use->mass = entry_mass(collecting->yard, entry,
		bearer.kind.species != NULL ? bearer.kind.species->key : "");
	return STATUS_OK;
}

enum status yard_uses(struct yard *yard, struct date from, struct arena *arena,
	struct crop_use **out, int32_t *count, struct fault *why)
{
	static const enum entry_kind kinds[] = {KIND_PICK, KIND_USE};
	struct collecting collecting = {.yard = yard, .arena = arena};
	enum status status = STATUS_OK;

	for (size_t i = 0; status == STATUS_OK && i < sizeof kinds / sizeof kinds[0]; i++) {
		const struct entry_query query = {.kind_given = true,
			.kind = kinds[i],
			.from = known_date(from),
			.planned = 0};
		status = store_entry_each(yard->store, &query, add_use, &collecting, why);
	}
	*out = collecting.items;
	*count = collecting.count;
	return status;
}

/* --- totals of several trees --- */

struct pooling {
	struct yard *yard;
	struct arena *arena;
	struct pooled_crop *items;
	int32_t count;
	int32_t capacity;
};

static void add_pooled(struct pooling *pooling, const struct entry *entry)
{
	struct bearer bearer = {.is_private = false};
	const char *name = entry_detail(entry, FIELD_NAME);
	int32_t year = 0;

	bearer_of_name(pooling->yard, name, &bearer);
	if (!season_of_entry(entry, &bearer.rule, pooling->yard->today, &year))
		return;
	if (pooling->count == pooling->capacity) {
		int32_t capacity = pooling->capacity == 0 ? 8 : pooling->capacity * 2;
		size_t size = sizeof *pooling->items;
		pooling->items = arena_grow(pooling->arena, pooling->items,
			(size_t)pooling->count * size, (size_t)capacity * size);
		pooling->capacity = capacity;
	}
	struct pooled_crop *crop = &pooling->items[pooling->count++];
	*crop = (struct pooled_crop){.year = year, .is_loss = entry->kind == KIND_LOSS};
	text_copy(crop->kind_name, sizeof crop->kind_name,
		bearer.kind.name[0] != '\0' ? bearer.kind.name : "unknown");
	crop->mass = entry_mass(
		pooling->yard, entry, bearer.kind.species != NULL ? bearer.kind.species->key : "");
}

/* subject_id: of an area; "" the place's own. */
static enum status pool(struct pooling *pooling, const char *subject_id, struct fault *why)
{
	static const enum entry_kind kinds[] = {KIND_PICK, KIND_LOSS};
	enum status status = STATUS_OK;

	for (size_t k = 0; status == STATUS_OK && k < sizeof kinds / sizeof kinds[0]; k++) {
		const struct entry_query query = {.subject_id = subject_id,
			.kind_given = true,
			.kind = kinds[k],
			.planned = 0};
		struct entry *entries = NULL;
		int32_t count = 0;

		status = store_entry_list(
			pooling->yard->store, &query, pooling->arena, &entries, &count, why);
		for (int32_t i = 0; status == STATUS_OK && i < count; i++)
			add_pooled(pooling, &entries[i]);
	}
	return status;
}

enum status yard_pooled_crops(struct yard *yard, struct arena *arena, struct pooled_crop **out,
	int32_t *count, struct fault *why)
{
	struct pooling pooling = {.yard = yard, .arena = arena};
	struct area *areas = NULL;
	int32_t area_count = 0;
	enum status status = store_area_list(yard->store, arena, &areas, &area_count, why);

	if (status == STATUS_OK)
		status = pool(&pooling, "", why);
	for (int32_t i = 0; status == STATUS_OK && i < area_count; i++)
		status = pool(&pooling, areas[i].id, why);
	*out = pooling.items;
	*count = pooling.count;
	return status;
}
