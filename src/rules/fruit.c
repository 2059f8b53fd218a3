/* SPDX-License-Identifier: MIT */
#include "fruit.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "reckon/bloom.h"

bool fruit_told(const struct flags *out, const struct dossier *dossier, const char *rule)
{
	for (int32_t i = 0; i < out->count; i++)
		if (strcmp(out->items[i].rule, rule) == 0 &&
			strcmp(out->items[i].tree_id, dossier->tree.id) == 0)
			return true;
	return false;
}

int32_t fruit_seasons_with(const struct dossier *dossier, enum entry_kind kind, int32_t year)
{
	int32_t found = 0;
	int32_t last = INT32_MIN;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		struct date day;

		if (dossier->entries[i]->kind != kind || !look_day(dossier->entries[i], &day))
			continue;
		int32_t at = season_year_of(&dossier->season_rule, day);
		found += at < year && at != last;
		last = at;
	}
	return found;
}

static bool is_of(const struct dossier *dossier, const struct entry *entry, int32_t year)
{
	struct date day;

	return look_day(entry, &day) && season_year_of(&dossier->season_rule, day) == year;
}

const struct entry *fruit_entry_of(
	const struct dossier *dossier, enum entry_kind kind, int32_t year)
{
	for (int32_t i = dossier->entry_count; i-- > 0;)
		if (dossier->entries[i]->kind == kind && is_of(dossier, dossier->entries[i], year))
			return dossier->entries[i];
	return NULL;
}

const struct entry *fruit_heavy_set(const struct dossier *dossier, int32_t year)
{
	for (int32_t i = dossier->entry_count; i-- > 0;)
		if (bloom_set_heavily(dossier->entries[i]) &&
			is_of(dossier, dossier->entries[i], year))
			return dossier->entries[i];
	return NULL;
}

struct fact_span fruit_fact(const struct species *species, const char *key)
{
	struct fact_span span = {.row = NULL};

	for (int32_t i = 0; species != NULL && i < species->fact_count; i++) {
		const struct fact_row *row = &species->facts[i];

		if (strcmp(row->key, key) != 0 || (!row->low.known && !row->high.known))
			continue;
		int64_t low = row->low.known ? row->low.value : row->high.value;
		int64_t high = row->high.known ? row->high.value : row->low.value;
		if (span.row == NULL || low < span.low)
			span.low = low;
		if (span.row == NULL || high > span.high)
			span.high = high;
		if (span.row == NULL || row->sure < span.row->sure)
			span.row = row;
	}
	return span;
}

const struct fact_row *fruit_words(const struct species *species, const char *key)
{
	const struct fact_row *best = NULL;

	for (int32_t i = 0; species != NULL && i < species->fact_count; i++) {
		const struct fact_row *row = &species->facts[i];

		if (strcmp(row->key, key) == 0 && row->text[0] != '\0' &&
			(best == NULL || row->sure < best->sure))
			best = row;
	}
	return best;
}

bool fruit_is_of_age(const struct dossier *dossier)
{
	struct fact_span years = fruit_fact(dossier->kind.species, "years-to-crop");

	return dossier->age_low_years.known && years.row != NULL &&
	       dossier->age_low_years.value >= years.high;
}

const char *fruit_candidates(const struct dossier *dossier, int32_t year, struct flags *out,
	struct flag *flag, char *text, size_t size)
{
	enum { NAMED_MAX = 3 }; /* a longer list would be cut short on the screen */
	struct causes causes;
	struct text_builder words = text_builder_fixed(text, size);
	char named[100];

	causes_of_crop(dossier, year, out->arena, &causes);
	text_add(&words, "");
	for (int32_t i = 0; i < causes.count; i++) {
		flag_evidence(out, flag, "may have to do with it: %s", causes.texts[i]);
		if (i >= NAMED_MAX)
			continue;
		text_copy(named, sizeof named, causes.texts[i]);
		text_add_format(
			&words, "%s%s", i == 0 ? "In the log, none of it proven: " : "; ", named);
	}
	if (causes.count > NAMED_MAX)
		text_add_format(&words, "; and %d more", causes.count - NAMED_MAX);
	if (causes.count > 0)
		text_add(&words, ". ");
	return text;
}
