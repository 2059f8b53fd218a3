/* SPDX-License-Identifier: MIT */
/* pests.csv: pests, diseases and disorders. */
#include <stdlib.h>
#include <string.h>

#include "almanac/load.h"
#include "core/text.h"

enum {
	KEY,
	NAME,
	SCIENTIFIC,
	GROUP,
	HOSTS,
	SIGNS,
	ALIKE,
	STAGE,
	STAGE_FROM,
	STAGE_TO,
	SEASON,
	WEATHER,
	FIRST,
	CUT_LOW,
	CUT_HIGH,
	CUT_UNIT,
	CUT,
	WORSE,
	REPORT,
	REPORT_WHERE,
	ALIASES,
	SOURCE,
	READ,
	SURE
};
static const char *const COLUMNS[] = {"key", "name", "scientific", "group", "hosts", "signs",
	"alike", "stage", "stage_from", "stage_to", "season", "weather", "first", "cut_low",
	"cut_high", "cut_unit", "cut", "worse", "report", "report_where", "aliases", "source",
	"read", "sure", NULL};

/* --- cells of several words --- */

const char *load_word(struct arena *arena, const char **at, const char *parts)
{
	*at += strspn(*at, parts);
	size_t length = strcspn(*at, parts);
	if (length == 0)
		return NULL;
	char *word = arena_alloc(arena, length + 1);
	memcpy(word, *at, length);
	*at += length;
	while (length > 0 && word[length - 1] == ' ')
		word[--length] = '\0';
	return word[0] == '\0' ? NULL : word;
}

enum status load_hosts(const struct almanac *almanac, const struct sheet *sheet, int32_t column,
	const char **out, struct fault *why)
{
	enum status status = sheet_text(sheet, column, out, why);
	const char *at = *out;
	if (status != STATUS_OK || word_is(*out, "all"))
		return status;
	for (const char *word; (word = load_word(sheet->arena, &at, " ")) != NULL;)
		if (almanac_species(almanac, word) == NULL)
			return sheet_fault(sheet, column, STATUS_SYNTAX, why,
				"\"%s\" is not in species.csv", word);
	return STATUS_OK;
}

enum status load_sources_of(const struct almanac *almanac, const struct sheet *sheet,
	int32_t column, const char **out, int32_t *count, struct fault *why)
{
	const char *at = sheet->cells[column];
	*count = 0;
	for (const char *word; (word = load_word(sheet->arena, &at, " ")) != NULL;) {
		if (*count == PEST_SOURCES_MAX)
			return sheet_fault(sheet, column, STATUS_RANGE, why,
				"names more than %d sources", PEST_SOURCES_MAX);
		const struct source_row *source = almanac_source(almanac, word);
		if (source == NULL)
			return sheet_fault(sheet, column, STATUS_SYNTAX, why,
				"\"%s\" is not in sources.csv", word);
		out[(*count)++] = source->key;
	}
	if (*count == 0)
		return sheet_fault(sheet, column, STATUS_SYNTAX, why, "may not be blank");
	return STATUS_OK;
}

bool load_months(const char *text, int32_t *from, int32_t *to)
{
	char *end = NULL;
	long low = strtol(text, &end, 10);
	if (end != text + 2 || strncmp(end, "..", 2) != 0)
		return false;
	const char *second = end + 2;
	long high = strtol(second, &end, 10);
	*from = (int32_t)low;
	*to = (int32_t)high;
	return end == second + 2 && *end == '\0' && low >= 1 && low <= 12 && high >= 1 &&
	       high <= 12;
}

/* --- season --- */

/* "loquat 10..05", "enters 10..02", "03..06". */
static enum status read_span(const struct almanac *almanac, const struct sheet *sheet,
	const char *text, struct pest_span *span, struct fault *why)
{
	const char *at = text;
	const char *months = text;
	span->hosts = arena_text(sheet->arena, "");
	bool known = true;
	for (const char *word; known && (word = load_word(sheet->arena, &at, " ")) != NULL;) {
		months = word;
		if (word_is(word, "enters"))
			span->enters = true;
		else if (almanac_species(almanac, word) != NULL)
			span->hosts = arena_format(sheet->arena, "%s%s%s", span->hosts,
				span->hosts[0] == '\0' ? "" : " ", word);
		else
			known = *at == '\0';
	}
	if (!known || !load_months(months, &span->from_month, &span->to_month))
		return sheet_fault(sheet, SEASON, STATUS_SYNTAX, why,
			"\"%s\" is not MM..MM, with \"enters\" or kinds before it", text);
	return STATUS_OK;
}

static enum status read_season(const struct almanac *almanac, const struct sheet *sheet,
	struct pest_row *row, struct fault *why)
{
	const char *at = sheet->cells[SEASON];
	for (const char *text; (text = load_word(sheet->arena, &at, ";")) != NULL;) {
		if (row->span_count == PEST_SPANS_MAX)
			return sheet_fault(sheet, SEASON, STATUS_RANGE, why,
				"holds more than %d spans", PEST_SPANS_MAX);
		text += strspn(text, " ");
		enum status status =
			read_span(almanac, sheet, text, &row->spans[row->span_count++], why);
		if (status != STATUS_OK)
			return status;
	}
	if (row->span_count == 0)
		return sheet_fault(sheet, SEASON, STATUS_SYNTAX, why, "may not be blank");
	return STATUS_OK;
}

static enum status read_stages(const struct sheet *sheet, struct pest_row *row, struct fault *why)
{
	enum status status = sheet_decimal(sheet, STAGE_FROM, 1, 0, 99, &row->stage_from, why);
	if (status == STATUS_OK)
		status = sheet_decimal(sheet, STAGE_TO, 1, 0, 99, &row->stage_to, why);
	if (status != STATUS_OK)
		return status;
	if (row->stage_from.known != row->stage_to.known)
		return sheet_fault(sheet, STAGE_TO, STATUS_SYNTAX, why,
			"stage_from and stage_to stand or lack together");
	if (row->stage_from.known && row->stage_from.value > row->stage_to.value)
		return sheet_fault(
			sheet, STAGE_TO, STATUS_RANGE, why, "is smaller than stage_from");
	return STATUS_OK;
}

/* --- what to do --- */

static enum status read_cut(const struct sheet *sheet, struct pest_row *row, struct fault *why)
{
	const char *base = "";
	enum status status = sheet_quantity(sheet, CUT_LOW, CUT_UNIT, &row->cut_low_um, &base, why);
	if (status == STATUS_OK)
		status = sheet_quantity(sheet, CUT_HIGH, CUT_UNIT, &row->cut_high_um, &base, why);
	if (status != STATUS_OK)
		return status;
	if (row->cut_low_um.known && !word_is(base, "um"))
		return sheet_fault(sheet, CUT_UNIT, STATUS_SYNTAX, why, "is no length");
	if (row->cut_low_um.known != row->cut_high_um.known)
		return sheet_fault(sheet, CUT_HIGH, STATUS_SYNTAX, why,
			"cut_low and cut_high stand or lack together");
	if (row->cut_low_um.known && row->cut_low_um.value > row->cut_high_um.value)
		return sheet_fault(sheet, CUT_HIGH, STATUS_RANGE, why, "is smaller than cut_low");
	row->cut = sheet->cells[CUT];
	return STATUS_OK;
}

static enum status read_report(const struct sheet *sheet, struct pest_row *row, struct fault *why)
{
	static const char *const words[] = {
		[REPORT_NO] = "no",
		[REPORT_SOME] = "some",
		[REPORT_YES] = "yes",
		[REPORT_PROTECTED] = "protected",
		NULL,
	};
	int found = 0;
	enum status status = sheet_choice(sheet, REPORT, words, &found, why);
	row->report = (enum pest_report)found;
	row->report_where = sheet->cells[REPORT_WHERE];
	if (status == STATUS_OK && (found != 0) != (row->report_where[0] != '\0'))
		return sheet_fault(sheet, REPORT_WHERE, STATUS_SYNTAX, why,
			"says where, and only where there is something to report");
	return status;
}

static enum status read_tellers(const struct almanac *almanac, const struct sheet *sheet,
	struct pest_row *row, struct fault *why)
{
	static const char *const cells[] = {
		"signs", "alike", "season", "weather", "first", "cut", "worse", "report"};
	const char *at = sheet->cells[READ];
	enum status status =
		load_sources_of(almanac, sheet, SOURCE, row->sources, &row->source_count, why);
	if (status == STATUS_OK)
		status = load_sure(sheet, SURE, &row->sure, why);
	if (status != STATUS_OK)
		return status;
	for (const char *word; (word = load_word(sheet->arena, &at, " ")) != NULL;) {
		size_t cell = 0;
		while (cell < sizeof cells / sizeof cells[0] && !word_is(cells[cell], word))
			cell++;
		if (cell == sizeof cells / sizeof cells[0])
			return sheet_fault(
				sheet, READ, STATUS_SYNTAX, why, "\"%s\" names no cell", word);
		row->read |= 1U << cell;
	}
	if ((row->sure == KNOWN_MEMORY) == ((row->read & CELL_FIRST) != 0))
		return sheet_fault(sheet, SURE, STATUS_RANGE, why,
			"memory, exactly where \"first\" was not read");
	return STATUS_OK;
}

/* --- names --- */

static enum status add_name(
	const struct sheet *sheet, const char *text, struct pest_row *row, struct fault *why)
{
	if (row->name_count == PEST_NAMES_MAX)
		return sheet_fault(sheet, ALIASES, STATUS_RANGE, why, "holds more than %d names",
			PEST_NAMES_MAX - 2);
	size_t size = 3 * strlen(text) + 1;
	char *folded = arena_alloc(sheet->arena, size);
	text_fold(text, folded, size);
	for (int32_t i = 0; i < row->name_count; i++)
		if (word_is(row->names[i], folded))
			return sheet_fault(sheet, ALIASES, STATUS_SYNTAX, why,
				"\"%s\" stands there twice", text);
	row->names[row->name_count++] = folded;
	return STATUS_OK;
}

static enum status read_names(const struct sheet *sheet, struct pest_row *row, struct fault *why)
{
	enum status status = sheet_text(sheet, NAME, &row->name, why);
	const char *at = sheet->cells[ALIASES];
	row->scientific = sheet->cells[SCIENTIFIC];
	if (status == STATUS_OK)
		status = add_name(sheet, row->name, row, why);
	if (status == STATUS_OK && row->scientific[0] != '\0')
		status = add_name(sheet, row->scientific, row, why);
	for (const char *text;
		status == STATUS_OK && (text = load_word(sheet->arena, &at, ";")) != NULL;)
		status = add_name(sheet, text + strspn(text, " "), row, why);
	return status;
}

/* --- the table --- */

static enum status read_pest(const struct almanac *almanac, const struct sheet *sheet,
	struct pest_row *row, struct fault *why)
{
	static const char *const groups[] = {
		"insect", "mite", "disease", "disorder", "nematode", "animal", NULL};
	int group = 0;
	enum status status = sheet_key(sheet, KEY, &row->key, why);
	if (status == STATUS_OK)
		status = read_names(sheet, row, why);
	if (status == STATUS_OK)
		status = sheet_choice(sheet, GROUP, groups, &group, why);
	row->group = (enum pest_group)group;
	if (status == STATUS_OK)
		status = load_hosts(almanac, sheet, HOSTS, &row->hosts, why);
	if (status == STATUS_OK)
		status = sheet_text(sheet, SIGNS, &row->signs, why);
	if (status == STATUS_OK)
		status = sheet_text(sheet, FIRST, &row->first, why);
	row->alike = sheet->cells[ALIKE];
	row->stage = sheet->cells[STAGE];
	row->weather = sheet->cells[WEATHER];
	row->worse = sheet->cells[WORSE];
	if (status == STATUS_OK)
		status = read_stages(sheet, row, why);
	if (status == STATUS_OK)
		status = read_season(almanac, sheet, row, why);
	if (status == STATUS_OK)
		status = read_cut(sheet, row, why);
	if (status == STATUS_OK)
		status = read_report(sheet, row, why);
	return status == STATUS_OK ? read_tellers(almanac, sheet, row, why) : status;
}

/* Each kind its pests, those that name it before those of every kind. */
static void give_pests(struct almanac *almanac, struct species *species)
{
	species->pest_count = almanac_pests(almanac, species->key, NULL, 0);
	const struct pest_row **rows =
		arena_array(almanac->arena, (size_t)species->pest_count + 1, sizeof *rows);
	(void)almanac_pests(almanac, species->key, rows, species->pest_count);
	species->pests = rows;
}

enum status load_pests(struct almanac *almanac, const char *directory, struct fault *why)
{
	struct sheet sheet;
	struct list list = {.item_size = sizeof(struct pest_row)};
	enum status status = load_sheet(almanac, directory, "pests.csv", COLUMNS, &sheet, why);
	list.wanted = sheet.row_count;
	while (status == STATUS_OK && (status = sheet_next(&sheet, why)) == STATUS_OK) {
		struct pest_row row = {0};
		status = read_pest(almanac, &sheet, &row, why);
		for (int32_t i = 0; status == STATUS_OK && i < list.count; i++)
			if (strcmp(((const struct pest_row *)list.items + i)->key, row.key) == 0)
				status = sheet_fault(&sheet, KEY, STATUS_SYNTAX, why,
					"\"%s\" stands in line %d already", row.key, list.lines[i]);
		if (status == STATUS_OK)
			list_add(almanac, &list, &row, 0, sheet.line);
	}
	if (status != STATUS_END)
		return status;
	almanac->pests = list_of(almanac->arena, &list, 0, &almanac->pest_count);
	for (int32_t i = 0; i < almanac->species_count; i++)
		give_pests(almanac, &almanac->species[i]);
	return STATUS_OK;
}
