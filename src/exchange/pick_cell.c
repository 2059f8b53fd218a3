/* SPDX-License-Identifier: MIT */
#include "pick_cell.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "reckon/season.h"

static void add_amount(struct intake *intake, struct pick_cell *cell, const struct amount *amount,
	enum field field, const char *words)
{
	cell->amounts[cell->amount_count] = *amount;
	cell->amounts[cell->amount_count++].field = field;
	const char *const said[] = {cell->said, " ", words};
	cell->said = arena_join(intake->row_arena, said, 3);
}

enum status pick_weight(
	struct intake *intake, const char *text, struct pick_cell *cell, struct fault *why)
{
	struct amount amount = {0};

	if (intake_is_blank(intake, text))
		return STATUS_OK;
	const char *words = intake_with_unit(intake, text);
	if (words == text && text[strspn(text, "0123456789.,-/ ")] == '\0')
		return fault_set(why, STATUS_DOUBT,
			"'%s' of what? say --unit lb or kg, or write the unit in the file", text);
	enum status status =
		amount_parse(words, DIMENSION_MASS, NULL, &intake->context.numbers, &amount, why);
	if (status == STATUS_OK)
		add_amount(intake, cell, &amount, FIELD_WEIGHT, words);
	return status;
}

enum status pick_count(
	struct intake *intake, const char *text, struct pick_cell *cell, struct fault *why)
{
	struct amount amount = {0};

	if (intake_is_blank(intake, text))
		return STATUS_OK;
	enum status status = amount_parse(
		text, DIMENSION_COUNT, "fruit", &intake->context.numbers, &amount, why);
	if (status == STATUS_OK)
		add_amount(intake, cell, &amount, FIELD_COUNT,
			arena_format(intake->row_arena, "%s fruit", text));
	return status;
}

enum status pick_season(
	const char *text, struct date_span *day, struct maybe_i32 *season_year, struct fault *why)
{
	char span[EDTF_SIZE];
	int32_t year = 0;
	enum status status = season_parse(text, &year, why);

	if (status != STATUS_OK)
		return status;
	*season_year = known_i32(year);
	if (strchr(text, '/') != NULL)
		snprintf(span, sizeof span, "%04d/%04d", (int)year, (int)year + 1);
	else
		snprintf(span, sizeof span, "%04d", (int)year);
	return date_span_parse(span, HEMISPHERE_UNKNOWN, day, why);
}

void pick_entry(struct intake *intake, struct pick_cell *cell, struct entry *entry)
{
	const char *grade = cell->grade == NULL ? "" : cell->grade;
	const char *const words[] = {"picked", cell->said, grade[0] != '\0' ? " " : "", grade};

	entry->amounts = cell->amounts;
	entry->amount_count = cell->amount_count;
	entry->words = arena_join(intake->row_arena, words, 4);
	if (grade[0] != '\0') {
		struct detail *detail = arena_alloc(intake->row_arena, sizeof *detail);

		detail->field = FIELD_GRADE;
		text_copy(detail->text, sizeof detail->text, grade);
		entry->details = detail;
		entry->detail_count = 1;
	}
	clock_stamp(&intake->session->clock, entry->typed_at);
}

const char *pick_said(struct intake *intake, const struct entry *entry)
{
	if (!intake->options->dry_run)
		return "";
	return arena_format(intake->row_arena, "%s: %s, %s%s", entry->subject.label, entry->words,
		entry->season_year.known && strlen(entry->day.text) != 10 ? "season " : "",
		entry->day.text);
}
