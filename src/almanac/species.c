/* SPDX-License-Identifier: MIT */
#include "almanac/species.h"

#include <string.h>

#include "core/text.h"

const struct fact_row *species_fact(const struct species *species, const char *key)
{
	for (int32_t i = 0; i < species->fact_count; i++) {
		if (strcmp(species->facts[i].key, key) == 0)
			return &species->facts[i];
	}
	return NULL;
}

const struct stage_row *species_stage(const struct species *species, int32_t code)
{
	for (int32_t i = 0; i < species->stage_count; i++) {
		if (species->stages[i].code == code)
			return &species->stages[i];
	}
	return NULL;
}

bool species_stage_is_bloom(const struct species *species, int32_t code)
{
	bool three_digits = species != NULL && species->stage_count > 0 &&
			    species->stages[species->stage_count - 1].code >= 100;
	bool two_digits = species != NULL && !three_digits;
	return (!three_digits && code >= 60 && code <= 69) ||
	       (!two_digits && code >= 600 && code <= 699);
}

/* The climate whose rows speak for a place with little rain. */
static enum climate climate_of_rows(enum climate climate)
{
	return climate == CLIMATE_LITTLE_RAIN ? CLIMATE_DRY_SUMMER : climate;
}

static bool is_cut_window(enum window_kind kind)
{
	return kind == WINDOW_CUT_CLEAR || kind == WINDOW_CUT_AVOID;
}

/* Clear and avoid stand for one table of cuts: a climate that names either speaks for both. */
static bool window_is_about(const struct window_row *row, enum window_kind kind)
{
	return row->kind == kind || (is_cut_window(row->kind) && is_cut_window(kind));
}

int32_t species_windows(const struct species *species, enum window_kind kind, enum climate climate,
	const struct window_row **out, int32_t max)
{
	enum climate named = CLIMATE_ANY;
	for (int32_t i = 0; i < species->window_count; i++) {
		if (window_is_about(&species->windows[i], kind) &&
			species->windows[i].climate == climate_of_rows(climate))
			named = climate_of_rows(climate);
	}
	int32_t count = 0;
	for (int32_t i = 0; i < species->window_count && count < max; i++) {
		const struct window_row *row = &species->windows[i];
		bool spared = climate == CLIMATE_LITTLE_RAIN && row->because == REASON_DISEASE;
		if (row->kind == kind && row->climate == named && !spared)
			out[count++] = row;
	}
	return count;
}

/* Is name one of the names of the cell, parted by ';'? */
static bool cultivar_is_in(const char *cell, const char *name)
{
	char one[NAME_SIZE];
	while (*cell != '\0') {
		size_t length = strcspn(cell, ";");
		text_copy_n(one, sizeof one, cell, length);
		if (text_same(text_trim_in_place(one), name))
			return true;
		cell += length + (cell[length] == ';' ? 1 : 0);
	}
	return false;
}

/* Does the row speak of this cultivar? own: rows that name it; else the rows of the kind. */
static bool cut_fits(const struct cut_row *row, bool own, const char *cultivar)
{
	return own ? cultivar_is_in(row->cultivar, cultivar) : row->cultivar[0] == '\0';
}

int32_t species_cuts(const struct species *species, const char *cultivar, enum climate climate,
	enum cut_kind kind, const struct cut_row **out, int32_t max)
{
	if (kind == CUT_UNSAID)
		kind = CUT_SHAPE;
	bool own = false;
	for (int32_t i = 0; i < species->cut_count && cultivar[0] != '\0'; i++)
		own = own || (species->cuts[i].kind == kind &&
				     cultivar_is_in(species->cuts[i].cultivar, cultivar));
	enum climate named = CLIMATE_ANY;
	for (int32_t i = 0; i < species->cut_count; i++) {
		const struct cut_row *row = &species->cuts[i];
		if (row->kind == kind && cut_fits(row, own, cultivar) &&
			row->climate == climate_of_rows(climate))
			named = climate_of_rows(climate);
	}
	int32_t count = 0;
	for (int32_t i = 0; i < species->cut_count && count < max; i++) {
		const struct cut_row *row = &species->cuts[i];
		bool spared = climate == CLIMATE_LITTLE_RAIN && row->reason == REASON_DISEASE;
		if (row->kind == kind && row->climate == named && cut_fits(row, own, cultivar) &&
			!spared)
			out[count++] = row;
	}
	return count;
}
