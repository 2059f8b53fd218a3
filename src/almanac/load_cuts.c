/* SPDX-License-Identifier: MIT */
/* cuts.csv: which cut, when and where, helps or harms. */
#include <string.h>

#include "almanac/load.h"

enum {
	SPECIES,
	CULTIVAR,
	CLIMATE,
	KIND,
	FROM,
	FROM_ANCHOR,
	TO,
	TO_ANCHOR,
	VERDICT,
	REASON,
	CROP,
	LOSS_LOW,
	LOSS_HIGH,
	SOURCE,
	SURE,
	TEXT
};
static const char *const COLUMNS[] = {"species", "cultivar", "climate", "kind", "from",
	"from_anchor", "to", "to_anchor", "verdict", "reason", "crop", "loss_low", "loss_high",
	"source", "sure", "text", NULL};

/* Sanitation and sucker cuts have no rows: they are allowed at any time. */
static enum status read_kind(const struct sheet *sheet, enum cut_kind *out, struct fault *why)
{
	enum cut_kind kind = cut_kind_of_key(sheet->cells[KIND]);
	if (kind == CUT_UNSAID || kind == CUT_SANITATION || kind == CUT_SUCKER)
		return sheet_fault(sheet, KIND, STATUS_SYNTAX, why,
			"\"%s\" is none of: thinning, heading, height, shape, renovation, "
			"summer-tip",
			sheet->cells[KIND]);
	*out = kind;
	return STATUS_OK;
}

static enum status read_span(const struct sheet *sheet, struct cut_row *row, struct fault *why)
{
	enum status status = sheet_month_day(sheet, FROM, &row->from, why);
	if (status == STATUS_OK)
		status = load_anchor(sheet, FROM_ANCHOR, &row->from_anchor, why);
	if (status == STATUS_OK)
		status = sheet_month_day(sheet, TO, &row->to, why);
	if (status == STATUS_OK)
		status = load_anchor(sheet, TO_ANCHOR, &row->to_anchor, why);
	return status;
}

static enum status read_verdict(const struct sheet *sheet, struct cut_row *row, struct fault *why)
{
	static const char *const verdicts[] = {"clear", "allowed", "avoid", NULL};
	static const char *const reasons[] = {"none", "flowers", "fruit", "disease", "frost", "sun",
		"bleeding", "regrowth", NULL};
	static const char *const crops[] = {"all", "breba", "main", NULL};
	int verdict = 0;
	int reason = 0;
	int crop = 0;
	enum status status = sheet_choice(sheet, VERDICT, verdicts, &verdict, why);
	if (status == STATUS_OK)
		status = sheet_choice(sheet, REASON, reasons, &reason, why);
	if (status == STATUS_OK)
		status = sheet_choice(sheet, CROP, crops, &crop, why);
	row->verdict = (enum verdict)verdict;
	row->reason = (enum cut_reason)reason;
	row->crop = (enum crop_part)crop;
	if (status == STATUS_OK && row->verdict == VERDICT_AVOID && row->reason == REASON_NONE)
		return sheet_fault(
			sheet, REASON, STATUS_SYNTAX, why, "a cut to avoid wants a reason");
	return status;
}

static enum status read_loss(const struct sheet *sheet, struct cut_row *row, struct fault *why)
{
	enum status status =
		sheet_decimal(sheet, LOSS_LOW, 1000, 0, 1000, &row->loss_low_permille, why);
	if (status == STATUS_OK)
		status = sheet_decimal(
			sheet, LOSS_HIGH, 1000, 0, 1000, &row->loss_high_permille, why);
	if (status != STATUS_OK)
		return status;
	if (row->loss_low_permille.known != row->loss_high_permille.known)
		return sheet_fault(sheet, LOSS_HIGH, STATUS_SYNTAX, why,
			"loss_low and loss_high stand together or not at all");
	if (row->loss_low_permille.value > row->loss_high_permille.value)
		return sheet_fault(sheet, LOSS_HIGH, STATUS_RANGE, why, "is smaller than loss_low");
	return STATUS_OK;
}

static enum status read_cut(
	struct almanac *almanac, const struct sheet *sheet, struct cut_row *row, struct fault *why)
{
	row->cultivar = sheet->cells[CULTIVAR];
	enum status status = load_climate(sheet, CLIMATE, &row->climate, why);
	if (status == STATUS_OK)
		status = read_kind(sheet, &row->kind, why);
	if (status == STATUS_OK)
		status = read_span(sheet, row, why);
	if (status == STATUS_OK)
		status = read_verdict(sheet, row, why);
	if (status == STATUS_OK)
		status = read_loss(sheet, row, why);
	if (status == STATUS_OK)
		status = load_source(almanac, sheet, SOURCE, &row->source, why);
	if (status == STATUS_OK)
		row->said_by = almanac_source(almanac, row->source);
	if (status == STATUS_OK)
		status = load_sure(sheet, SURE, &row->sure, why);
	if (status == STATUS_OK)
		status = sheet_text(sheet, TEXT, &row->text, why);
	return status;
}

static bool spans_meet(const struct cut_row *a, const struct cut_row *b)
{
	int32_t a_from = circle_of(a->from);
	int32_t b_from = circle_of(b->from);
	return circle_within(a_from, b_from, circle_of(b->to)) ||
	       circle_within(b_from, a_from, circle_of(a->to));
}

/* One day cannot be both clear and to be avoided for the same cut. */
static bool rows_clash(const struct cut_row *a, const struct cut_row *b)
{
	bool opposed = (a->verdict == VERDICT_CLEAR && b->verdict == VERDICT_AVOID) ||
		       (a->verdict == VERDICT_AVOID && b->verdict == VERDICT_CLEAR);
	return opposed && a->kind == b->kind && a->climate == b->climate &&
	       word_is(a->cultivar, b->cultivar) && spans_meet(a, b);
}

static enum status check_clash(const struct sheet *sheet, const struct list *list, int32_t owner,
	const struct cut_row *row, struct fault *why)
{
	const struct cut_row *other;
	int32_t at = LIST_START;

	while ((other = list_older(list, owner, &at)) != NULL)
		if (rows_clash(row, other))
			return sheet_fault(sheet, FROM, STATUS_RANGE, why,
				"%s..%s meets line %d: one day cannot be both clear and to be "
				"avoided",
				sheet->cells[FROM], sheet->cells[TO], list_line(list, at));
	return STATUS_OK;
}

enum status load_cuts(struct almanac *almanac, const char *directory, struct fault *why)
{
	struct sheet sheet;
	struct list list = {.item_size = sizeof(struct cut_row)};
	enum status status = load_sheet(almanac, directory, "cuts.csv", COLUMNS, &sheet, why);
	list.wanted = sheet.row_count;
	while (status == STATUS_OK && (status = sheet_next(&sheet, why)) == STATUS_OK) {
		struct cut_row row = {0};
		int32_t owner = 0;
		status = load_owner(almanac, &sheet, SPECIES, false, &owner, why);
		if (status == STATUS_OK)
			status = read_cut(almanac, &sheet, &row, why);
		if (status == STATUS_OK)
			status = check_clash(&sheet, &list, owner, &row, why);
		if (status == STATUS_OK)
			list_add(almanac, &list, &row, owner, sheet.line);
	}
	if (status != STATUS_END)
		return status;
	for (int32_t i = 0; i < almanac->species_count; i++)
		almanac->species[i].cuts =
			list_of(almanac->arena, &list, i, &almanac->species[i].cut_count);
	return STATUS_OK;
}
