/* SPDX-License-Identifier: MIT */
/* pollination.csv (how a kind is pollinated) and pollen.csv (pairs that were tested or listed). */
#include <string.h>

#include "almanac/load.h"

/* --- pollination.csv --- */

enum { KIND, POOL, MODEL, ALONE, UNSTATED, CARRIED, MODEL_TEXT, MODEL_SOURCE, MODEL_SURE };
static const char *const MODEL_COLUMNS[] = {
	"species", "pool", "model", "alone", "unstated", "carried", "text", "source", "sure", NULL};

static enum status read_model(const struct almanac *almanac, const struct sheet *sheet,
	struct pollination *row, struct fault *why)
{
	static const char *const models[] = {"gsi", "ssi", "groups", "letters", "days", "own",
		"parth", "wind", "clone", "table", NULL};
	static const char *const selves[] = {"", "no", "partly", "yes", NULL};
	static const char *const unstated[] = {"unknown", "yes", NULL};
	int found = 0;
	enum status status = sheet_key(sheet, POOL, &row->pool, why);
	if (status == STATUS_OK)
		status = sheet_choice(sheet, MODEL, models, &found, why);
	row->model = (enum pollen_model)found;
	if (status == STATUS_OK)
		status = sheet_choice(sheet, ALONE, selves, &found, why);
	row->alone = (enum self_fruitful)found;
	if (status == STATUS_OK)
		status = sheet_choice(sheet, UNSTATED, unstated, &found, why);
	row->unstated_serves = found == 1;
	if (status == STATUS_OK)
		status = sheet_text(sheet, CARRIED, &row->carried, why);
	if (status == STATUS_OK)
		status = sheet_text(sheet, MODEL_TEXT, &row->text, why);
	if (status == STATUS_OK)
		status = load_source(almanac, sheet, MODEL_SOURCE, &row->source, why);
	return status == STATUS_OK ? load_sure(sheet, MODEL_SURE, &row->sure, why) : status;
}

enum status load_pollination(struct almanac *almanac, const char *directory, struct fault *why)
{
	struct sheet sheet;
	enum status status =
		load_sheet(almanac, directory, "pollination.csv", MODEL_COLUMNS, &sheet, why);
	while (status == STATUS_OK && (status = sheet_next(&sheet, why)) == STATUS_OK) {
		struct pollination *row = arena_alloc(almanac->arena, sizeof *row);
		int32_t owner = OWNER_NONE;
		*row = (struct pollination){0};
		status = load_owner(almanac, &sheet, KIND, false, &owner, why);
		if (status == STATUS_OK && almanac->species[owner].pollination != NULL)
			return sheet_fault(&sheet, KIND, STATUS_SYNTAX, why,
				"\"%s\" stands there twice", almanac->species[owner].key);
		if (status == STATUS_OK)
			status = read_model(almanac, &sheet, row, why);
		if (status == STATUS_OK)
			almanac->species[owner].pollination = row;
	}
	return status == STATUS_END ? STATUS_OK : status;
}

/* --- pollen.csv --- */

enum { TAKER_KIND, TAKER, GIVER_KIND, GIVER, BOTH, ANSWER, HARM, TEXT, SOURCE, SURE };
static const char *const PAIR_COLUMNS[] = {"receiver_species", "receiver", "giver_species", "giver",
	"both", "answer", "harm", "text", "source", "sure", NULL};

/* Blank, "type:hybrid" of a type that the kind has, or a cultivar of the kind by its own name. */
static enum status read_side(const struct almanac *almanac, const struct sheet *sheet,
	int32_t column, const char *species, const char **out, struct fault *why)
{
	const char *cell = sheet->cells[column];
	bool is_type = strncmp(cell, "type:", 5) == 0;
	int32_t count = 0;
	const struct cultivar *rows = almanac_cultivars(almanac, species, &count);
	*out = cell;
	if (cell[0] == '\0')
		return STATUS_OK;
	for (int32_t i = 0; i < count; i++)
		if (strcmp(is_type ? rows[i].type : rows[i].name, is_type ? cell + 5 : cell) == 0)
			return STATUS_OK;
	return sheet_fault(sheet, column, STATUS_SYNTAX, why,
		"\"%s\" is neither a cultivar of %s in cultivars.csv nor a type of one", cell,
		species);
}

static enum status read_giver_kind(const struct almanac *almanac, const struct sheet *sheet,
	struct pollen_pair *row, struct fault *why)
{
	const struct name_row *name = NULL;
	enum status status = sheet_key(sheet, GIVER_KIND, &row->giver_species, why);
	if (status != STATUS_OK)
		return status;
	const struct species *species = almanac_species(almanac, row->giver_species);
	if (species == NULL && almanac_names(almanac, row->giver_species, &name, 1) == 0)
		return sheet_fault(sheet, GIVER_KIND, STATUS_SYNTAX, why,
			"\"%s\" is neither in species.csv nor in names.csv", row->giver_species);
	row->giver_kind = species != NULL ? species->name : name->name;
	return STATUS_OK;
}

static enum status read_pair(const struct almanac *almanac, const struct sheet *sheet,
	struct pollen_pair *row, bool *both, struct fault *why)
{
	static const char *const answers[] = {"no", "partly", "yes", "unknown", NULL};
	int32_t owner = OWNER_NONE;
	int found = 0;
	enum status status = load_owner(almanac, sheet, TAKER_KIND, false, &owner, why);
	if (status == STATUS_OK)
		row->receiver_species = almanac->species[owner].key;
	if (status == STATUS_OK)
		status = read_side(
			almanac, sheet, TAKER, row->receiver_species, &row->receiver, why);
	if (status == STATUS_OK)
		status = read_giver_kind(almanac, sheet, row, why);
	if (status == STATUS_OK)
		status = read_side(almanac, sheet, GIVER, row->giver_species, &row->giver, why);
	if (status == STATUS_OK)
		status = sheet_flag(sheet, BOTH, both, why);
	if (status == STATUS_OK)
		status = sheet_choice(sheet, ANSWER, answers, &found, why);
	row->answer = (enum pair_answer)found;
	if (status == STATUS_OK)
		status = sheet_flag(sheet, HARM, &row->harm, why);
	if (status == STATUS_OK)
		status = sheet_text(sheet, TEXT, &row->text, why);
	if (status == STATUS_OK)
		status = load_source(almanac, sheet, SOURCE, &row->source, why);
	return status == STATUS_OK ? load_sure(sheet, SURE, &row->sure, why) : status;
}

/* Adds the row, and where it holds both ways the row turned round. */
static enum status add_pair(struct almanac *almanac, const struct sheet *sheet, struct list *list,
	const struct pollen_pair *row, bool both, struct fault *why)
{
	const struct species *giver = almanac_species(almanac, row->giver_species);
	struct pollen_pair turned = *row;
	list_add(almanac, list, row,
		(int32_t)(almanac_species(almanac, row->receiver_species) - almanac->species),
		sheet->line);
	if (!both)
		return STATUS_OK;
	if (giver == NULL)
		return sheet_fault(sheet, BOTH, STATUS_SYNTAX, why,
			"%s is known by name only and is no receiver", row->giver_species);
	turned.receiver_species = row->giver_species;
	turned.receiver = row->giver;
	turned.giver_species = row->receiver_species;
	turned.giver_kind = almanac_species(almanac, row->receiver_species)->name;
	turned.giver = row->receiver;
	list_add(almanac, list, &turned, (int32_t)(giver - almanac->species), sheet->line);
	return STATUS_OK;
}

enum status load_pollen(struct almanac *almanac, const char *directory, struct fault *why)
{
	struct sheet sheet;
	struct list list = {.item_size = sizeof(struct pollen_pair)};
	enum status status =
		load_sheet(almanac, directory, "pollen.csv", PAIR_COLUMNS, &sheet, why);
	list.wanted = sheet.row_count;
	while (status == STATUS_OK && (status = sheet_next(&sheet, why)) == STATUS_OK) {
		struct pollen_pair row = {0};
		bool both = false;
		status = read_pair(almanac, &sheet, &row, &both, why);
		if (status == STATUS_OK)
			status = add_pair(almanac, &sheet, &list, &row, both, why);
	}
	if (status != STATUS_END)
		return status;
	for (int32_t i = 0; i < almanac->species_count; i++)
		almanac->species[i].pairs =
			list_of(almanac->arena, &list, i, &almanac->species[i].pair_count);
	return STATUS_OK;
}
