/* SPDX-License-Identifier: MIT */
/* sources.csv and species.csv, and the cells that other tables share. */
#include <string.h>

#include "almanac/load.h"

/* --- shared cells --- */

enum status load_source(const struct almanac *almanac, const struct sheet *sheet, int32_t column,
	const char **out, struct fault *why)
{
	enum status status = sheet_key(sheet, column, out, why);
	if (status == STATUS_OK && almanac_source(almanac, *out) == NULL)
		return sheet_fault(
			sheet, column, STATUS_SYNTAX, why, "\"%s\" is not in sources.csv", *out);
	return status;
}

enum status load_sure(
	const struct sheet *sheet, int32_t column, enum known_by *out, struct fault *why)
{
	static const char *const words[] = {
		[KNOWN_READ] = "read",
		[KNOWN_COMMON_PRACTICE] = "common-practice",
		[KNOWN_SECOND_HAND] = "second-hand",
		[KNOWN_MEMORY] = "memory",
		NULL,
	};
	int found = 0;
	enum status status = sheet_choice(sheet, column, words, &found, why);
	if (status == STATUS_OK)
		*out = (enum known_by)found;
	return status;
}

/* Of rows: the climate of a place has no key for little rain. */
static const char *const CLIMATE_KEYS[] = {
	[CLIMATE_ANY] = "",
	[CLIMATE_DRY_SUMMER] = "dry-summer",
	[CLIMATE_COOL_MARITIME] = "cool-maritime",
	[CLIMATE_CONTINENTAL] = "continental",
	[CLIMATE_HUMID_MILD] = "humid-mild",
	NULL,
};

enum status load_climate(
	const struct sheet *sheet, int32_t column, enum climate *out, struct fault *why)
{
	int found = 0;
	enum status status = sheet_choice(sheet, column, CLIMATE_KEYS, &found, why);
	if (status == STATUS_OK)
		*out = (enum climate)found;
	return status;
}

enum climate climate_of_key(const char *key)
{
	for (int i = CLIMATE_DRY_SUMMER; CLIMATE_KEYS[i] != NULL; i++)
		if (word_is(CLIMATE_KEYS[i], key))
			return (enum climate)i;
	return CLIMATE_TOTAL;
}

const char *climate_key(enum climate climate)
{
	return climate <= CLIMATE_HUMID_MILD ? CLIMATE_KEYS[climate] : "";
}

enum status load_anchor(
	const struct sheet *sheet, int32_t column, enum anchor *out, struct fault *why)
{
	static const char *const words[] = {
		[ANCHOR_CALENDAR] = "calendar",
		[ANCHOR_BLOOM] = "bloom",
		[ANCHOR_HARVEST] = "harvest",
		NULL,
	};
	int found = 0;
	enum status status = sheet_choice(sheet, column, words, &found, why);
	if (status == STATUS_OK)
		*out = (enum anchor)found;
	return status;
}

enum status load_owner(const struct almanac *almanac, const struct sheet *sheet, int32_t column,
	bool all, int32_t *out, struct fault *why)
{
	if (all && sheet->cells[column][0] == '\0') {
		*out = OWNER_ALL;
		return STATUS_OK;
	}
	const char *key = NULL;
	enum status status = sheet_key(sheet, column, &key, why);
	if (status != STATUS_OK)
		return status;
	for (int32_t i = 0; i < almanac->species_count; i++) {
		if (word_is(almanac->species[i].key, key)) {
			*out = i;
			return STATUS_OK;
		}
	}
	return sheet_fault(sheet, column, STATUS_SYNTAX, why, "\"%s\" is not in species.csv", key);
}

/* --- sources.csv --- */

enum { SOURCE_KEY, SOURCE_TITLE, SOURCE_ADDRESS, SOURCE_REGION };
static const char *const SOURCE_COLUMNS[] = {"source", "title", "address", "region", NULL};

static enum status read_source(struct almanac *almanac, const struct sheet *sheet,
	struct source_row *row, struct fault *why)
{
	enum status status = sheet_key(sheet, SOURCE_KEY, &row->key, why);
	if (status == STATUS_OK)
		status = sheet_text(sheet, SOURCE_TITLE, &row->title, why);
	if (status != STATUS_OK)
		return status;
	row->address = sheet->cells[SOURCE_ADDRESS];
	row->region = sheet->cells[SOURCE_REGION];
	if (almanac_source(almanac, row->key) != NULL)
		return sheet_fault(sheet, SOURCE_KEY, STATUS_SYNTAX, why,
			"\"%s\" stands there twice", row->key);
	return STATUS_OK;
}

enum status load_sources(struct almanac *almanac, const char *directory, struct fault *why)
{
	struct sheet sheet;
	struct list list = {.item_size = sizeof(struct source_row), .stays = true};
	enum status status =
		load_sheet(almanac, directory, "sources.csv", SOURCE_COLUMNS, &sheet, why);
	list.wanted = sheet.row_count;
	almanac->source_slots =
		arena_array(almanac->arena, SOURCE_SLOTS, sizeof almanac->source_slots[0]);
	while (status == STATUS_OK && (status = sheet_next(&sheet, why)) == STATUS_OK) {
		struct source_row row = {0};
		status = read_source(almanac, &sheet, &row, why);
		if (status != STATUS_OK)
			break;
		if (list.count == SOURCE_SLOTS / 2)
			return sheet_fault(&sheet, SOURCE_KEY, STATUS_RANGE, why,
				"more than %d sources", SOURCE_SLOTS / 2);
		list_add(almanac, &list, &row, 0, sheet.line);
		almanac->sources = (struct source_row *)list.items;
		almanac->source_count = list.count;
		almanac->source_slots[source_slot(almanac, row.key)] = list.count;
	}
	return status == STATUS_END ? STATUS_OK : status;
}

/* --- species.csv --- */

enum {
	KEY,
	NAME,
	BOTANICAL,
	EPPO,
	STAGES,
	LEAF,
	PRUNED_YEARLY,
	ALL_YEAR,
	WIDE,
	FLOWER_WOOD,
	ALREADY_CUT,
	SHARE_LIMIT,
	SHARE_OF,
	SHARE_SOURCE,
	SHARE_SURE,
	SOURCE,
	SURE
};
static const char *const SPECIES_COLUMNS[] = {"species", "name", "botanical", "eppo", "stages",
	"leaf", "pruned_yearly", "harvest_all_year", "wide_harvest", "flower_wood", "already_cut",
	"share_limit_percent", "share_of", "share_source", "share_sure", "source", "sure", NULL};

/* An EPPO code of a plant: five capitals or digits; blank where not sure. */
static enum status read_eppo(const struct sheet *sheet, const char **out, struct fault *why)
{
	const char *cell = sheet->cells[EPPO];
	if (cell[0] != '\0' &&
		(strlen(cell) != 5 || strspn(cell, "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789") != 5))
		return sheet_fault(sheet, EPPO, STATUS_SYNTAX, why,
			"\"%s\" is not five capitals or digits", cell);
	*out = cell;
	return STATUS_OK;
}

static enum status read_texts(
	struct almanac *almanac, const struct sheet *sheet, struct species *row, struct fault *why)
{
	enum status status = sheet_key(sheet, KEY, &row->key, why);
	if (status == STATUS_OK && almanac_species(almanac, row->key) != NULL)
		return sheet_fault(
			sheet, KEY, STATUS_SYNTAX, why, "\"%s\" stands there twice", row->key);
	if (status == STATUS_OK)
		status = sheet_text(sheet, NAME, &row->name, why);
	if (status == STATUS_OK)
		status = sheet_text(sheet, BOTANICAL, &row->botanical, why);
	if (status == STATUS_OK)
		status = read_eppo(sheet, &row->eppo, why);
	if (status == STATUS_OK)
		status = sheet_key(sheet, STAGES, &row->stage_group, why);
	if (status == STATUS_OK)
		status = sheet_text(sheet, FLOWER_WOOD, &row->flower_wood, why);
	if (status == STATUS_OK)
		status = sheet_text(sheet, ALREADY_CUT, &row->already_cut, why);
	return status;
}

static enum status read_words(const struct sheet *sheet, struct species *row, struct fault *why)
{
	static const char *const leaves[] = {"deciduous", "evergreen", NULL};
	static const char *const bases[] = {"crown", "shoots", NULL};
	int leaf = 0;
	int base = 0;
	enum status status = sheet_choice(sheet, LEAF, leaves, &leaf, why);
	row->evergreen = leaf == 1;
	if (status == STATUS_OK)
		status = sheet_flag(sheet, PRUNED_YEARLY, &row->pruned_yearly, why);
	if (status == STATUS_OK)
		status = sheet_flag(sheet, ALL_YEAR, &row->harvest_all_year, why);
	if (status == STATUS_OK)
		status = sheet_flag(sheet, WIDE, &row->wide_harvest, why);
	if (status == STATUS_OK)
		status = sheet_choice(sheet, SHARE_OF, bases, &base, why);
	row->limit_is_shoots = base == 1;
	return status;
}

static enum status read_species(
	struct almanac *almanac, const struct sheet *sheet, struct species *row, struct fault *why)
{
	enum status status = read_texts(almanac, sheet, row, why);
	if (status == STATUS_OK)
		status = read_words(sheet, row, why);
	if (status == STATUS_OK)
		status = sheet_decimal(
			sheet, SHARE_LIMIT, 10, 10, 1000, &row->share_limit_permille, why);
	if (status == STATUS_OK)
		status = load_source(almanac, sheet, SHARE_SOURCE, &row->share_source, why);
	if (status == STATUS_OK)
		status = load_sure(sheet, SHARE_SURE, &row->share_sure, why);
	if (status == STATUS_OK)
		status = load_source(almanac, sheet, SOURCE, &row->source, why);
	if (status == STATUS_OK)
		status = load_sure(sheet, SURE, &row->sure, why);
	return status;
}

enum status load_species(struct almanac *almanac, const char *directory, struct fault *why)
{
	struct sheet sheet;
	struct list list = {.item_size = sizeof(struct species), .stays = true};
	enum status status =
		load_sheet(almanac, directory, "species.csv", SPECIES_COLUMNS, &sheet, why);
	list.wanted = sheet.row_count;
	while (status == STATUS_OK && (status = sheet_next(&sheet, why)) == STATUS_OK) {
		struct species row = {0};
		status = read_species(almanac, &sheet, &row, why);
		if (status != STATUS_OK)
			break;
		list_add(almanac, &list, &row, 0, sheet.line);
		almanac->species = (struct species *)list.items;
		almanac->species_count = list.count;
	}
	return status == STATUS_END ? STATUS_OK : status;
}
