/* SPDX-License-Identifier: MIT */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "entry_rows.h"
#include "pick_cell.h"
#include "pick_sheet.h"

enum { TREE, DAY, YEAR, SEASON, AMOUNT, COUNT, GRADE, NOTE };
static const char *const names[] = {
	"tree", "day", "year", "season", "amount", "count", "grade", "note", NULL};

static enum status read_when(
	struct intake *intake, const struct csv_row *row, struct entry *entry, struct fault *why)
{
	const struct import_options *options = intake->options;
	const char *season = intake_text(intake, row, SEASON);
	enum status status = STATUS_OK;

	if (season[0] == '\0')
		season = intake_text(intake, row, YEAR);
	if (season[0] == '\0' && options->season != NULL)
		season = options->season;
	if (season[0] != '\0')
		status = pick_season(season, &entry->day, &entry->season_year, why);
	if (status != STATUS_OK)
		return status;
	const char *day = intake_text(intake, row, DAY);
	if (day[0] == '\0' && options->day != NULL)
		day = options->day;
	if (day[0] != '\0')
		return intake_day(intake, day, &entry->day, why);
	if (season[0] != '\0')
		return STATUS_OK;
	return fault_set(why, STATUS_SYNTAX,
		"no day, year or season: map day=, year= or season=, or say --season");
}

static enum status read_amounts(
	struct intake *intake, const struct csv_row *row, struct pick_cell *cell, struct fault *why)
{
	enum status status = pick_weight(intake, intake_text(intake, row, AMOUNT), cell, why);

	if (status == STATUS_OK)
		status = pick_count(intake, intake_text(intake, row, COUNT), cell, why);
	return status;
}

static enum status take_row(struct intake *intake, const struct csv_row *row, struct fault *why)
{
	struct entry entry = {.kind = KIND_PICK};
	struct pick_cell cell = {.said = ""};
	enum status status =
		intake_tree(intake, intake_text(intake, row, TREE), &entry.subject, why);

	if (status == STATUS_OK)
		status = read_when(intake, row, &entry, why);
	if (status == STATUS_OK)
		status = read_amounts(intake, row, &cell, why);
	if (status != STATUS_OK)
		return status;
	if (cell.amount_count == 0) {
		intake->blank++;
		return STATUS_OK;
	}
	cell.grade = intake_text(intake, row, GRADE);
	entry.note = intake_text(intake, row, NOTE);
	intake->column = -1;
	pick_entry(intake, &cell, &entry);
	return intake_entry(intake, row, &entry, pick_said(intake, &entry), why);
}

/* A column a year, a column a tree, or a row a pick. */
static enum status take_file(struct intake *intake, struct fault *why)
{
	const struct mapping *mapping = &intake->mapping;
	struct pick_sheet sheet = {.intake = intake, .tree = TREE, .day = DAY, .note = NOTE};
	bool figures = mapping_has(mapping, AMOUNT) || mapping_has(mapping, COUNT);

	if (own_file_is(intake))
		return own_file_take(intake, "import picks", why);
	if (intake->years != NULL)
		return pick_sheet_take(&sheet, pick_sheet_years, why);
	if (!mapping_has(mapping, TREE) && mapping_has(mapping, DAY) && !figures)
		return pick_sheet_take(&sheet, pick_sheet_trees, why);
	if (!mapping_has(mapping, TREE))
		return fault_set(why, STATUS_SYNTAX,
			"which column holds the tree's label? --columns tree=COLUMN,...");
	enum status status = intake_begin(intake, "import picks", why);
	return status == STATUS_OK ? intake_rows(intake, take_row, why) : status;
}

enum status import_picks(struct session *session, const struct import_options *options,
	struct arena *arena, struct import_account *account, struct fault *why)
{
	struct intake intake = {.session = session,
		.options = options,
		.arena = arena,
		.account = account,
		.what = "picks",
		.names = names};
	enum status status = intake_open(&intake, why);

	if (status == STATUS_OK)
		status = take_file(&intake, why);
	return intake_close(&intake, status, why);
}
