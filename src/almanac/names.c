/* SPDX-License-Identifier: MIT */
/* names.csv, and finding kinds by what people call them. */
#include <string.h>

#include "almanac/almanac.h"
#include "almanac/load.h"
#include "core/text.h"

enum { NAME_COLUMN, SPECIES_COLUMN, LANGUAGE_COLUMN, NOTE_COLUMN, SOURCE_COLUMN, SURE_COLUMN };
static const char *const COLUMNS[] = {
	"name", "species", "language", "note", "source", "sure", NULL};

/* The folded text, in the arena. */
static const char *folded_in(struct arena *arena, const char *text)
{
	size_t size = 3 * strlen(text) + 1;
	char *out = arena_alloc(arena, size);
	text_fold(text, out, size);
	return out;
}

static enum status read_name(const struct almanac *almanac, const struct sheet *sheet,
	struct name_row *row, struct fault *why)
{
	enum status status = sheet_text(sheet, NAME_COLUMN, &row->name, why);
	if (status != STATUS_OK)
		return status;
	if (strlen(row->name) >= NAME_SIZE)
		return sheet_fault(sheet, NAME_COLUMN, STATUS_RANGE, why, "is longer than %d bytes",
			NAME_SIZE - 1);
	if ((status = sheet_key(sheet, SPECIES_COLUMN, &row->species, why)) != STATUS_OK)
		return status;
	if ((status = sheet_key(sheet, LANGUAGE_COLUMN, &row->language, why)) != STATUS_OK)
		return status;
	if ((status = load_source(almanac, sheet, SOURCE_COLUMN, &row->source, why)) != STATUS_OK)
		return status;
	if ((status = load_sure(sheet, SURE_COLUMN, &row->sure, why)) != STATUS_OK)
		return status;
	row->note = sheet->cells[NOTE_COLUMN];
	row->folded = folded_in(almanac->scratch, row->name);
	return STATUS_OK;
}

enum status load_names(struct almanac *almanac, const char *directory, struct fault *why)
{
	struct sheet sheet;
	struct list list = {.item_size = sizeof(struct name_row), .stays = true};
	enum status status = load_sheet(almanac, directory, "names.csv", COLUMNS, &sheet, why);
	list.wanted = sheet.row_count;
	while (status == STATUS_OK && (status = sheet_next(&sheet, why)) == STATUS_OK) {
		struct name_row row = {0};
		status = read_name(almanac, &sheet, &row, why);
		int32_t initial = status == STATUS_OK ? row.folded[0] : 0;
		const struct name_row *other;
		int32_t at = LIST_START;
		while (status == STATUS_OK && (other = list_older(&list, initial, &at)) != NULL)
			if (word_is(other->folded, row.folded) &&
				word_is(other->species, row.species))
				status = sheet_fault(&sheet, NAME_COLUMN, STATUS_SYNTAX, why,
					"\"%s\" stands in line %d already", row.name,
					list_line(&list, at));
		if (status == STATUS_OK)
			list_add(almanac, &list, &row, initial, sheet.line);
	}
	if (status != STATUS_END)
		return status;
	almanac->names = (struct name_row *)list.items;
	almanac->name_count = list.count;
	return STATUS_OK;
}

static bool species_has_name(
	const struct almanac *almanac, const struct species *species, const char *folded)
{
	if (text_same(species->name, folded) || text_same(species->botanical, folded))
		return true;
	for (int32_t i = 0; i < almanac->name_count; i++) {
		const struct name_row *row = &almanac->names[i];
		if (word_is(row->species, species->key) && word_is(row->folded, folded))
			return true;
	}
	return false;
}

/* Trimmed and folded; false when it is longer than any name. */
static bool fold_name(const char *name, char *out, size_t size)
{
	bool whole = text_fold(name, out, size);
	text_trim_in_place(out);
	return whole;
}

enum { FOLDED_SIZE = 3 * NAME_SIZE };

int32_t almanac_find_species(
	const struct almanac *almanac, const char *name, const struct species **out, int32_t max)
{
	char folded[FOLDED_SIZE];
	if (!fold_name(name, folded, sizeof folded) || folded[0] == '\0')
		return 0;
	const struct species *by_key = almanac_species(almanac, folded);
	if (by_key != NULL) {
		if (max > 0)
			out[0] = by_key;
		return 1;
	}
	int32_t count = 0;
	for (int32_t i = 0; i < almanac->species_count; i++) {
		if (!species_has_name(almanac, &almanac->species[i], folded))
			continue;
		if (count < max)
			out[count] = &almanac->species[i];
		count++;
	}
	return count;
}

/* The first name of the table for a kind. */
static const char *plain_name(const struct almanac *almanac, const char *species)
{
	for (int32_t i = 0; i < almanac->name_count; i++) {
		if (word_is(almanac->names[i].species, species))
			return almanac->names[i].name;
	}
	return NULL;
}

const char *almanac_outside_kind(const struct almanac *almanac, const char *name)
{
	char folded[FOLDED_SIZE];
	if (!fold_name(name, folded, sizeof folded) || almanac_species(almanac, folded) != NULL)
		return NULL;
	const struct name_row *found = NULL;
	for (int32_t i = 0; i < almanac->name_count; i++) {
		const struct name_row *row = &almanac->names[i];
		if (almanac_species(almanac, row->species) != NULL)
			continue;
		if (word_is(row->species, folded))
			return plain_name(almanac, row->species);
		if (!word_is(row->folded, folded))
			continue;
		if (found != NULL && !word_is(found->species, row->species))
			return row->name; /* two kinds: the name itself ("plum") */
		found = row;
	}
	return found == NULL ? NULL : plain_name(almanac, found->species);
}

struct kinds_found {
	struct kind_name *out;
	int32_t max;
	int32_t count;
	const char *last; /* rows of one kind stand together */
};

static void put_kind(struct kinds_found *found, const char *key, const char *name)
{
	if (found->last != NULL && word_is(found->last, key))
		return;
	if (found->count < found->max)
		found->out[found->count] = (struct kind_name){key, name};
	found->count++;
	found->last = key;
}

int32_t almanac_find_kinds(
	const struct almanac *almanac, const char *name, struct kind_name *out, int32_t max)
{
	const struct species *fits[8];
	struct kinds_found found = {.out = out, .max = max};
	char folded[FOLDED_SIZE];
	int32_t count = almanac_find_species(almanac, name, fits, 8);
	if (!fold_name(name, folded, sizeof folded) || folded[0] == '\0')
		return 0;
	for (int32_t i = 0; i < count && i < 8; i++)
		put_kind(&found, fits[i]->key, fits[i]->name);
	if (almanac_species(almanac, folded) != NULL)
		return found.count;
	for (int32_t i = 0; i < almanac->name_count; i++) {
		const char *key = almanac->names[i].species;
		if (almanac_species(almanac, key) != NULL)
			continue;
		if (word_is(key, folded) && max > 0) {
			out[0] = (struct kind_name){key, plain_name(almanac, key)};
			return 1;
		}
		if (word_is(almanac->names[i].folded, folded))
			put_kind(&found, key, plain_name(almanac, key));
	}
	return found.count;
}

int32_t almanac_names(const struct almanac *almanac, const char *species,
	const struct name_row **out, int32_t max)
{
	int32_t count = 0;
	for (int32_t i = 0; i < almanac->name_count; i++) {
		if (!word_is(almanac->names[i].species, species))
			continue;
		if (count < max)
			out[count] = &almanac->names[i];
		count++;
	}
	return count;
}
