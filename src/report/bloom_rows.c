/* SPDX-License-Identifier: MIT */
#include "bloom_rows.h"

#include <stdlib.h>
#include <string.h>

#include "core/text.h"

struct blooming {
	struct yard *yard;
	struct arena *arena;
	struct bloom_rows *out;
	bool without_private;
	int32_t capacity;
};

static enum status visit_bloom(void *owner, const struct dossier *dossier, struct fault *why)
{
	struct blooming *blooming = owner;
	const struct window window =
		dossier_window(dossier, WINDOW_BLOOM, yard_today(blooming->yard));
	(void)why;

	if (dossier->kind.species == NULL ||
		(blooming->without_private && dossier_is_private(dossier)))
		return STATUS_OK;
	if (blooming->out->count == blooming->capacity) {
		int32_t capacity = blooming->capacity == 0 ? 32 : blooming->capacity * 2;
		size_t size = sizeof *blooming->out->items;
		blooming->out->items = arena_grow(blooming->arena, blooming->out->items,
			(size_t)blooming->out->count * size, (size_t)capacity * size);
		blooming->capacity = capacity;
	}
	struct bloom_row *row = &blooming->out->items[blooming->out->count++];
	const struct cultivar *cultivar =
		cultivar_find(dossier->kind.species, dossier->kind.cultivar);
	*row = (struct bloom_row){.species = dossier->kind.species->key,
		.class = cultivar != NULL ? cultivar->bloom : BLOOM_UNKNOWN,
		.known = window.known,
		.all_year = window.all_year,
		.by_log = window.known && window.basis != BASIS_ALMANAC,
		.seasons = dossier->learning.bloom.seasons,
		.over_fence = dossier->tree.over_fence,
		.from = window.from,
		.to = window.to};
	text_copy(row->label, sizeof row->label, dossier->tree.label);
	text_copy(row->kind, sizeof row->kind, dossier->kind.species->name);
	text_copy(row->cultivar, sizeof row->cultivar, dossier->kind.cultivar);
	return STATUS_OK;
}

/* By kind, then who opens first; those without a day last. */
static int compare_rows(const void *left, const void *right)
{
	const struct bloom_row *a = left;
	const struct bloom_row *b = right;
	int order = strcmp(a->species, b->species);

	if (order == 0)
		order = (int)b->known - (int)a->known;
	if (order == 0 && a->known)
		order = (a->from.month - b->from.month) * 31 + a->from.day - b->from.day;
	return order != 0 ? order : strcmp(a->label, b->label);
}

enum status bloom_rows_make(struct yard *yard, bool without_private, struct arena *arena,
	struct bloom_rows *out, struct fault *why)
{
	struct blooming blooming = {
		.yard = yard, .arena = arena, .out = out, .without_private = without_private};
	static const struct kind_set bloom_kinds = {KIND_BIT(KIND_STAGE)};
	const struct yard_visitor visitor = {
		.owner = &blooming, .visit = visit_bloom, .alone = true, .kinds = &bloom_kinds};

	*out = (struct bloom_rows){.count = 0};
	enum status status = yard_each(yard, false, &visitor, why);
	if (out->count > 1)
		qsort(out->items, (size_t)out->count, sizeof *out->items, compare_rows);
	return status;
}
