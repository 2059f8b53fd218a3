/* SPDX-License-Identifier: MIT */
#include "pick_sheet.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "reckon/season.h"

enum { YEARS_MAX = 200 };
static const char title[] = "import picks of a sheet"; /* of the act: what a cell may change */

/* --- a column a year --- */

/* "2019..2024". */
static enum status read_years(const char *text, int32_t *from, int32_t *to, struct fault *why)
{
	char first[16];
	const char *dots = strstr(text, "..");

	if (dots == NULL || !text_copy_n(first, sizeof first, text, (size_t)(dots - text)) ||
		season_parse(first, from, NULL) != STATUS_OK ||
		season_parse(dots + 2, to, NULL) != STATUS_OK || *to < *from)
		return fault_set(why, STATUS_SYNTAX, "--years is as 2019..2024, not '%.40s'", text);
	if (*to - *from >= YEARS_MAX)
		return fault_set(why, STATUS_RANGE, "--years spans at most %d", YEARS_MAX);
	return STATUS_OK;
}

/* Where a year stands in a heading as a number of its own; NULL: nowhere. "2019/20" is 2019. */
static const char *year_in(const char *heading, int32_t year)
{
	char digits[8];

	snprintf(digits, sizeof digits, "%d", (int)year);
	for (const char *at = heading; (at = strstr(at, digits)) != NULL; at++) {
		const char *end = at + strlen(digits);
		bool starts = at == heading || strchr("0123456789/-", at[-1]) == NULL;

		if (starts && (*end < '0' || *end > '9'))
			return at;
	}
	return NULL;
}

static enum status find_year(struct pick_sheet *sheet, int32_t year, struct fault *why)
{
	const struct mapping *mapping = &sheet->intake->mapping;
	struct sheet_column *found = &sheet->columns[sheet->count];

	found->column = -1;
	for (int32_t i = 0; i < mapping->heading.count; i++) {
		const char *heading = csv_text(&mapping->heading, i);

		if (mapping->passed[i] || mapping_names(mapping, i) ||
			year_in(heading, year) == NULL)
			continue;
		if (found->column >= 0)
			return fault_set(why, STATUS_DOUBT,
				"two columns could be of %d: '%s' and '%s'; --columns skip=COLUMN "
				"passes over one",
				(int)year, csv_text(&mapping->heading, found->column), heading);
		found->column = i;
	}
	if (found->column < 0)
		return fault_set(why, STATUS_SYNTAX, "the file has no column for %d", (int)year);
	const char *at = year_in(csv_text(&mapping->heading, found->column), year);
	char season[16];
	snprintf(season, sizeof season, "%.*s",
		(int)(strspn(at, "0123456789") +
			(at[4] == '/' ? 1 + strspn(at + 5, "0123456789") : 0)),
		at);
	sheet->count++;
	return pick_season(season, &found->day, &found->season_year, why);
}

enum status pick_sheet_years(struct pick_sheet *sheet, struct fault *why)
{
	struct intake *intake = sheet->intake;
	int32_t from = 0, to = 0;
	enum status status = read_years(intake->years, &from, &to, why);

	if (status == STATUS_OK && !mapping_has(&intake->mapping, sheet->tree))
		status = fault_set(why, STATUS_SYNTAX,
			"which column holds the tree's label? --columns tree=COLUMN");
	if (status != STATUS_OK)
		return status;
	sheet->by_tree = true;
	sheet->columns =
		arena_array(intake->arena, (size_t)(to - from) + 1, sizeof sheet->columns[0]);
	for (int32_t year = from; status == STATUS_OK && year <= to; year++)
		status = find_year(sheet, year, why);
	return status;
}

/* --- a column a tree --- */

enum status sheet_find_trees(
	struct intake *intake, struct sheet_column **out, int32_t *count, struct fault *why)
{
	const struct mapping *mapping = &intake->mapping;
	const struct csv_row *heading = &mapping->heading;
	struct sheet_column *columns =
		arena_array(intake->arena, (size_t)heading->count, sizeof *columns);

	*out = columns;
	*count = 0;
	for (int32_t i = 0; i < heading->count; i++) {
		struct sheet_column *one = &columns[*count];
		const char *label = intake_cell(intake, heading, i);

		if (mapping->passed[i] || mapping_names(mapping, i))
			continue;
		one->column = i;
		enum status status = intake_tree(intake, label, &one->subject, why);
		if (status == STATUS_ABSENT) {
			return fault_set(why, STATUS_ABSENT,
				"line %d, column %d: '%s' is no tree; --columns skip=%s passes "
				"over "
				"it, or name what it is",
				heading->cells[i].line, heading->cells[i].column, label, label);
		}
		if (status != STATUS_OK)
			return status;
		++*count;
	}
	if (*count == 0)
		return fault_set(why, STATUS_SYNTAX, "no column of the file is a tree's label");
	return STATUS_OK;
}

enum status pick_sheet_trees(struct pick_sheet *sheet, struct fault *why)
{
	return sheet_find_trees(sheet->intake, &sheet->columns, &sheet->count, why);
}

/* --- cells --- */

/* What stood in such a sheet before gives way, and is kept in the history. */
static enum status put_cell(
	struct intake *intake, const struct csv_row *row, struct entry *entry, struct fault *why)
{
	struct claim claim;
	struct entry standing;
	bool known = false;
	enum status status = intake_known(intake, row, entry, &known, why);

	if (status != STATUS_OK || known)
		return status;
	status = store_claim_made(intake->claims, entry, title, intake->row_arena, &claim, why);
	if (status != STATUS_OK)
		return status;
	if (!claim.claimed) {
		intake_fresh(intake, row, pick_said(intake, entry));
		return store_entry_add(intake->session->store, entry, why);
	}
	status = store_entry_load(
		intake->session->store, claim.id, intake->row_arena, &standing, why);
	if (status != STATUS_OK)
		return status;
	intake_changed(intake, row,
		arena_format(intake->row_arena, "%s %s: %s is now %s", entry->subject.label,
			entry->day.text, claim.words, entry->words));
	standing.words = entry->words;
	standing.amounts = entry->amounts;
	standing.amount_count = entry->amount_count;
	return store_entry_save(intake->session->store, &standing, why);
}

static enum status take_cell(struct pick_sheet *sheet, const struct csv_row *row,
	const struct sheet_column *column, struct entry *entry, struct fault *why)
{
	struct intake *intake = sheet->intake;
	struct pick_cell cell = {.said = ""};
	const char *text = intake_cell(intake, row, column->column);
	bool fruit = intake->unit != NULL && strcmp(intake->unit, "fruit") == 0;
	enum status status = fruit ? pick_count(intake, text, &cell, why)
				   : pick_weight(intake, text, &cell, why);

	if (status != STATUS_OK)
		return status;
	if (cell.amount_count == 0) {
		intake->blank++;
		return STATUS_OK;
	}
	pick_entry(intake, &cell, entry);
	return put_cell(intake, row, entry, why);
}

/* Every cell of a row, each refused by itself; what the row is about must be sound first. */
static enum status take_row(struct pick_sheet *sheet, const struct csv_row *row, struct fault *why)
{
	struct intake *intake = sheet->intake;
	struct entry start = {.kind = KIND_PICK};
	enum status status;

	start.note = intake_text(intake, row, sheet->note);
	if (sheet->by_tree)
		status = intake_tree(
			intake, intake_text(intake, row, sheet->tree), &start.subject, why);
	else
		status = intake_day(intake, intake_text(intake, row, sheet->day), &start.day, why);
	for (int32_t i = 0; status == STATUS_OK && i < sheet->count; i++) {
		const struct sheet_column *column = &sheet->columns[i];
		struct entry entry = start;

		if (sheet->by_tree) {
			entry.day = column->day;
			entry.season_year = column->season_year;
		} else {
			entry.subject = column->subject;
		}
		status =
			intake_settle(intake, row, take_cell(sheet, row, column, &entry, why), why);
	}
	return status;
}

static enum status take(struct intake *intake, const struct csv_row *row, struct fault *why)
{
	return take_row(intake->import, row, why);
}

enum status pick_sheet_take(struct pick_sheet *sheet,
	enum status (*find)(struct pick_sheet *sheet, struct fault *why), struct fault *why)
{
	struct intake *intake = sheet->intake;
	enum status status = find(sheet, why);

	intake->import = sheet;
	intake->is_sheet = true;
	if (status == STATUS_OK)
		status = intake_begin(intake, title, why);
	return status == STATUS_OK ? intake_rows(intake, take, why) : status;
}
