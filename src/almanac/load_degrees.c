/* SPDX-License-Identifier: MIT */
/* degree_days.csv (totals from a start to an event) and work.csv (the year's small work). */
#include <string.h>

#include "almanac/load.h"

/* --- degree_days.csv --- */

enum {
	KEY,
	PEST,
	FORM,
	PLACE,
	BASE,
	UPPER,
	BASE_UNIT,
	METHOD,
	START,
	START_DAY,
	EVENT,
	LOW,
	HIGH,
	UNIT,
	TEXT,
	FROM_MEMORY,
	SOURCE,
	SURE
};
static const char *const DEGREE_COLUMNS[] = {"key", "pest", "form", "place", "base", "upper",
	"base_unit", "method", "start", "start_day", "event", "low", "high", "unit", "text",
	"from_memory", "source", "sure", NULL};

static enum status read_thresholds(
	const struct sheet *sheet, struct degree_row *row, struct fault *why)
{
	static const char *const methods[] = {
		[DEGREE_AVERAGE] = "average",
		[DEGREE_SINE] = "sine",
		[DEGREE_SINE_HORIZONTAL] = "sine-horizontal",
		[DEGREE_SINE_VERTICAL] = "sine-vertical",
		[DEGREE_LABORATORY] = "laboratory",
		[DEGREE_DAYS] = "days",
		[DEGREE_UNSTATED] = "unstated",
		[DEGREE_NONE] = "none",
		NULL,
	};
	int method = 0;
	const char *base = "decic";
	enum status status = sheet_quantity(sheet, BASE, BASE_UNIT, &row->base_decic, &base, why);
	row->no_upper = word_is(sheet->cells[UPPER], "none");
	if (status == STATUS_OK && !row->no_upper)
		status = sheet_quantity(sheet, UPPER, BASE_UNIT, &row->upper_decic, &base, why);
	if (status == STATUS_OK && row->base_decic.known && !word_is(base, "decic"))
		return sheet_fault(sheet, BASE_UNIT, STATUS_SYNTAX, why, "is neither F nor C");
	if (status == STATUS_OK && row->upper_decic.known &&
		row->upper_decic.value <= row->base_decic.value)
		return sheet_fault(sheet, UPPER, STATUS_RANGE, why, "is not above the base");
	if (status == STATUS_OK)
		status = sheet_choice(sheet, METHOD, methods, &method, why);
	row->method = (enum degree_method)method;
	return status;
}

static enum status read_total(const struct sheet *sheet, struct degree_row *row, struct fault *why)
{
	static const char *const units[] = {"", "F", "C", NULL};
	int unit = 0;
	enum status status = sheet_choice(sheet, UNIT, units, &unit, why);
	if (status == STATUS_OK)
		status = sheet_decimal(sheet, LOW, 10, 0, 50000, &row->low, why);
	if (status == STATUS_OK)
		status = sheet_decimal(sheet, HIGH, 10, 0, 50000, &row->high, why);
	if (status != STATUS_OK)
		return status;
	row->fahrenheit = unit == 1;
	if (row->low.known != row->high.known || row->low.known != (unit != 0))
		return sheet_fault(sheet, UNIT, STATUS_SYNTAX, why,
			"low, high and unit stand or lack together");
	if (row->low.known && row->low.value > row->high.value)
		return sheet_fault(sheet, HIGH, STATUS_RANGE, why, "is smaller than low");
	if (row->low.known && (!row->base_decic.known || row->event[0] == '\0'))
		return sheet_fault(
			sheet, LOW, STATUS_SYNTAX, why, "a total needs a base and an event");
	if (!row->low.known && row->text[0] == '\0')
		return sheet_fault(sheet, TEXT, STATUS_SYNTAX, why, "neither total nor words");
	return STATUS_OK;
}

static enum status read_degrees(struct almanac *almanac, const struct sheet *sheet,
	struct degree_row *row, struct fault *why)
{
	enum status status = sheet_key(sheet, KEY, &row->key, why);
	if (status == STATUS_OK)
		status = sheet_key(sheet, PEST, &row->pest, why);
	if (status == STATUS_OK && almanac_pest(almanac, row->pest) == NULL)
		return sheet_fault(
			sheet, PEST, STATUS_SYNTAX, why, "\"%s\" is not in pests.csv", row->pest);
	if (status == STATUS_OK)
		status = sheet_text(sheet, PLACE, &row->place, why);
	row->form = sheet->cells[FORM];
	row->start = sheet->cells[START];
	row->event = sheet->cells[EVENT];
	row->text = sheet->cells[TEXT];
	row->from_memory = sheet->cells[FROM_MEMORY];
	if (status == STATUS_OK && sheet->cells[START_DAY][0] != '\0')
		status = sheet_month_day(sheet, START_DAY, &row->start_day, why);
	if (status == STATUS_OK)
		status = read_thresholds(sheet, row, why);
	if (status == STATUS_OK)
		status = read_total(sheet, row, why);
	if (status == STATUS_OK)
		status = load_sources_of(
			almanac, sheet, SOURCE, row->sources, &row->source_count, why);
	return status == STATUS_OK ? load_sure(sheet, SURE, &row->sure, why) : status;
}

/* Each pest its totals, in the order of the table. */
static void give_degrees(struct almanac *almanac)
{
	for (int32_t i = 0; i < almanac->pest_count; i++) {
		struct pest_row *pest = &almanac->pests[i];
		int32_t count = 0;
		for (int32_t k = 0; k < almanac->degree_count; k++)
			pest->degree_count += word_is(almanac->degrees[k].pest, pest->key);
		const struct degree_row **rows =
			arena_array(almanac->arena, (size_t)pest->degree_count, sizeof *rows);
		for (int32_t k = 0; k < almanac->degree_count; k++)
			if (word_is(almanac->degrees[k].pest, pest->key))
				rows[count++] = &almanac->degrees[k];
		pest->degrees = rows;
	}
}

enum status load_degrees(struct almanac *almanac, const char *directory, struct fault *why)
{
	struct sheet sheet;
	struct list list = {.item_size = sizeof(struct degree_row)};
	enum status status =
		load_sheet(almanac, directory, "degree_days.csv", DEGREE_COLUMNS, &sheet, why);
	list.wanted = sheet.row_count;
	while (status == STATUS_OK && (status = sheet_next(&sheet, why)) == STATUS_OK) {
		struct degree_row row = {0};
		status = read_degrees(almanac, &sheet, &row, why);
		for (int32_t i = 0; status == STATUS_OK && i < list.count; i++)
			if (strcmp(((const struct degree_row *)list.items + i)->key, row.key) == 0)
				status = sheet_fault(&sheet, KEY, STATUS_SYNTAX, why,
					"\"%s\" stands in line %d already", row.key, list.lines[i]);
		if (status == STATUS_OK)
			list_add(almanac, &list, &row, 0, sheet.line);
	}
	if (status != STATUS_END)
		return status;
	almanac->degrees = list_of(almanac->arena, &list, 0, &almanac->degree_count);
	give_degrees(almanac);
	return STATUS_OK;
}

/* --- work.csv --- */

enum {
	WORK_KEY,
	WORK_CLIMATES,
	WORK_HOSTS,
	WORK_MONTHS,
	WORK_TASK,
	WORK_WHEN,
	WORK_CONDITION,
	WORK_PESTS,
	WORK_TOLD,
	WORK_SETTLED_BY,
	WORK_SOURCE,
	WORK_SURE
};
static const char *const WORK_COLUMNS[] = {"key", "climates", "hosts", "months", "task", "when",
	"condition", "pests", "told", "settled_by", "source", "sure", NULL};

static enum status read_climates(const struct sheet *sheet, struct work_row *row, struct fault *why)
{
	const char *at = sheet->cells[WORK_CLIMATES];
	row->climates = at;
	for (const char *word; (word = load_word(sheet->arena, &at, " ")) != NULL;)
		if (climate_of_key(word) == CLIMATE_TOTAL && !word_is(word, "frost-free"))
			return sheet_fault(sheet, WORK_CLIMATES, STATUS_SYNTAX, why,
				"\"%s\" is no climate", word);
	return STATUS_OK;
}

/* The pests it answers, the words that tell of it, the kind of entry that settles it. */
static enum status read_answer(const struct almanac *almanac, const struct sheet *sheet,
	struct work_row *row, struct fault *why)
{
	static const char *const settlers[] = {"", "cut", NULL};
	const char *at = sheet->cells[WORK_PESTS];
	int settler = 0;
	row->pests = at;
	row->told = sheet->cells[WORK_TOLD];
	for (const char *word; (word = load_word(sheet->arena, &at, " ")) != NULL;)
		if (almanac_pest(almanac, word) == NULL)
			return sheet_fault(sheet, WORK_PESTS, STATUS_SYNTAX, why,
				"\"%s\" is not in pests.csv", word);
	if ((row->pests[0] != '\0') != (row->told[0] != '\0'))
		return sheet_fault(
			sheet, WORK_TOLD, STATUS_SYNTAX, why, "stands exactly where pests stand");
	enum status status = sheet_choice(sheet, WORK_SETTLED_BY, settlers, &settler, why);
	row->cut_settles = settler == 1;
	return status;
}

static enum status read_work(const struct almanac *almanac, const struct sheet *sheet,
	struct work_row *row, struct fault *why)
{
	enum status status = sheet_key(sheet, WORK_KEY, &row->key, why);
	if (status == STATUS_OK)
		status = read_climates(sheet, row, why);
	if (status == STATUS_OK)
		status = load_hosts(almanac, sheet, WORK_HOSTS, &row->hosts, why);
	if (status == STATUS_OK &&
		!load_months(sheet->cells[WORK_MONTHS], &row->from_month, &row->to_month))
		return sheet_fault(sheet, WORK_MONTHS, STATUS_SYNTAX, why, "\"%s\" is not MM..MM",
			sheet->cells[WORK_MONTHS]);
	if (status == STATUS_OK)
		status = sheet_text(sheet, WORK_TASK, &row->task, why);
	row->when = sheet->cells[WORK_WHEN];
	row->condition = sheet->cells[WORK_CONDITION];
	if (status == STATUS_OK)
		status = read_answer(almanac, sheet, row, why);
	if (status == STATUS_OK)
		status = load_sources_of(
			almanac, sheet, WORK_SOURCE, row->sources, &row->source_count, why);
	return status == STATUS_OK ? load_sure(sheet, WORK_SURE, &row->sure, why) : status;
}

/* Each kind its work, wherever the climate. */
static void give_work(struct almanac *almanac, struct species *species)
{
	int32_t count = 0;
	for (int32_t i = 0; i < almanac->work_count; i++)
		species->work_count += work_is_on(&almanac->work[i], species->key);
	const struct work_row **rows =
		arena_array(almanac->arena, (size_t)species->work_count, sizeof *rows);
	for (int32_t i = 0; i < almanac->work_count; i++)
		if (work_is_on(&almanac->work[i], species->key))
			rows[count++] = &almanac->work[i];
	species->work = rows;
}

enum status load_work(struct almanac *almanac, const char *directory, struct fault *why)
{
	struct sheet sheet;
	struct list list = {.item_size = sizeof(struct work_row)};
	enum status status = load_sheet(almanac, directory, "work.csv", WORK_COLUMNS, &sheet, why);
	list.wanted = sheet.row_count;
	while (status == STATUS_OK && (status = sheet_next(&sheet, why)) == STATUS_OK) {
		struct work_row row = {0};
		status = read_work(almanac, &sheet, &row, why);
		for (int32_t i = 0; status == STATUS_OK && i < list.count; i++)
			if (strcmp(((const struct work_row *)list.items + i)->key, row.key) == 0)
				status = sheet_fault(&sheet, WORK_KEY, STATUS_SYNTAX, why,
					"\"%s\" stands in line %d already", row.key, list.lines[i]);
		if (status == STATUS_OK)
			list_add(almanac, &list, &row, 0, sheet.line);
	}
	if (status != STATUS_END)
		return status;
	almanac->work = list_of(almanac->arena, &list, 0, &almanac->work_count);
	for (int32_t i = 0; i < almanac->species_count; i++)
		give_work(almanac, &almanac->species[i]);
	return STATUS_OK;
}
