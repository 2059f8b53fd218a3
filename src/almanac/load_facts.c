/* SPDX-License-Identifier: MIT */
/* facts.csv (single figures and sentences) and stages.csv (growth stages of a scale). */
#include <string.h>

#include "almanac/load.h"

/* --- facts.csv --- */

enum { SPECIES, KEY, LOW, HIGH, UNIT, TEXT, SOURCE, SURE };
static const char *const FACT_COLUMNS[] = {
	"species", "key", "low", "high", "unit", "text", "source", "sure", NULL};

static enum status read_fact(
	struct almanac *almanac, const struct sheet *sheet, struct fact_row *row, struct fault *why)
{
	row->text = sheet->cells[TEXT];
	enum status status = sheet_key(sheet, KEY, &row->key, why);
	if (status == STATUS_OK)
		status = sheet_quantity(sheet, LOW, UNIT, &row->low, &row->unit, why);
	if (status == STATUS_OK)
		status = sheet_quantity(sheet, HIGH, UNIT, &row->high, &row->unit, why);
	if (status != STATUS_OK)
		return status;
	if (!row->low.known && !row->high.known && row->text[0] == '\0')
		return sheet_fault(sheet, TEXT, STATUS_SYNTAX, why, "neither figure nor words");
	if (row->low.known && row->high.known && row->low.value > row->high.value)
		return sheet_fault(sheet, HIGH, STATUS_RANGE, why, "is smaller than low");
	status = load_source(almanac, sheet, SOURCE, &row->source, why);
	if (status == STATUS_OK)
		row->said_by = almanac_source(almanac, row->source);
	if (status == STATUS_OK)
		status = load_sure(sheet, SURE, &row->sure, why);
	return status;
}

/* The same key may stand again only from another source: that is how a clash is kept. */
static enum status check_fact(const struct sheet *sheet, const struct list *list, int32_t owner,
	const struct fact_row *row, struct fault *why)
{
	const struct fact_row *other;
	int32_t at = LIST_START;

	while ((other = list_older(list, owner, &at)) != NULL)
		if (word_is(other->key, row->key) && word_is(other->source, row->source))
			return sheet_fault(sheet, KEY, STATUS_SYNTAX, why,
				"\"%s\" stands in line %d already, from the same source", row->key,
				list_line(list, at));
	return STATUS_OK;
}

enum status load_facts(struct almanac *almanac, const char *directory, struct fault *why)
{
	struct sheet sheet;
	struct list list = {.item_size = sizeof(struct fact_row)};
	enum status status = load_sheet(almanac, directory, "facts.csv", FACT_COLUMNS, &sheet, why);
	list.wanted = sheet.row_count;
	while (status == STATUS_OK && (status = sheet_next(&sheet, why)) == STATUS_OK) {
		struct fact_row row = {0};
		int32_t owner = 0;
		status = load_owner(almanac, &sheet, SPECIES, true, &owner, why);
		if (status == STATUS_OK)
			status = read_fact(almanac, &sheet, &row, why);
		if (status == STATUS_OK)
			status = check_fact(&sheet, &list, owner, &row, why);
		if (status == STATUS_OK)
			list_add(almanac, &list, &row, owner, sheet.line);
	}
	if (status != STATUS_END)
		return status;
	for (int32_t i = 0; i < almanac->species_count; i++)
		almanac->species[i].facts =
			list_of(almanac->arena, &list, i, &almanac->species[i].fact_count);
	return STATUS_OK;
}

/* --- stages.csv --- */

enum { GROUP, CODE, WORDS, STAGE_SOURCE, STAGE_SURE };
static const char *const STAGE_COLUMNS[] = {"stages", "code", "words", "source", "sure", NULL};

/* A row of a scale, which several kinds may go by. */
struct scale_row {
	const char *group;
	struct stage_row stage;
};

static enum status read_stage(struct almanac *almanac, const struct sheet *sheet,
	struct scale_row *row, struct fault *why)
{
	struct maybe_i32 code = {0};
	enum status status = sheet_key(sheet, GROUP, &row->group, why);
	if (status == STATUS_OK)
		status = sheet_decimal(sheet, CODE, 1, 0, 999, &code, why);
	if (status == STATUS_OK && !code.known)
		return sheet_fault(sheet, CODE, STATUS_SYNTAX, why, "may not be blank");
	row->stage.code = code.value;
	if (status == STATUS_OK)
		status = sheet_text(sheet, WORDS, &row->stage.words, why);
	if (status == STATUS_OK)
		status = load_source(almanac, sheet, STAGE_SOURCE, &row->stage.source, why);
	if (status == STATUS_OK)
		status = load_sure(sheet, STAGE_SURE, &row->stage.sure, why);
	return status;
}

/* Codes rise within a scale. */
static enum status check_rising(const struct sheet *sheet, const struct list *list,
	const struct scale_row *row, struct fault *why)
{
	for (int32_t i = 0; i < list->count; i++) {
		const struct scale_row *other = (const struct scale_row *)list->items + i;
		if (word_is(other->group, row->group) && other->stage.code >= row->stage.code)
			return sheet_fault(sheet, CODE, STATUS_RANGE, why,
				"%d should be above that of line %d", row->stage.code,
				list->lines[i]);
	}
	return STATUS_OK;
}

static enum status give_stages(struct almanac *almanac, const struct list *list,
	struct species *species, struct fault *why)
{
	struct list own = {.item_size = sizeof(struct stage_row)};
	for (int32_t i = 0; i < list->count; i++) {
		const struct scale_row *row = (const struct scale_row *)list->items + i;
		if (word_is(row->group, species->stage_group))
			list_add(almanac, &own, &row->stage, 0, 0);
	}
	if (own.count == 0)
		return fault_set(why, STATUS_RANGE,
			"stages.csv: no stages \"%s\", which %s goes by", species->stage_group,
			species->key);
	species->stages = list_of(almanac->arena, &own, 0, &species->stage_count);
	return STATUS_OK;
}

enum status load_stages(struct almanac *almanac, const char *directory, struct fault *why)
{
	struct sheet sheet;
	struct list list = {.item_size = sizeof(struct scale_row)};
	enum status status =
		load_sheet(almanac, directory, "stages.csv", STAGE_COLUMNS, &sheet, why);
	list.wanted = sheet.row_count;
	while (status == STATUS_OK && (status = sheet_next(&sheet, why)) == STATUS_OK) {
		struct scale_row row = {0};
		status = read_stage(almanac, &sheet, &row, why);
		if (status == STATUS_OK)
			status = check_rising(&sheet, &list, &row, why);
		if (status == STATUS_OK)
			list_add(almanac, &list, &row, 0, sheet.line);
	}
	if (status != STATUS_END)
		return status;
	status = STATUS_OK;
	for (int32_t i = 0; i < almanac->species_count && status == STATUS_OK; i++)
		status = give_stages(almanac, &list, &almanac->species[i], why);
	return status;
}
