/* SPDX-License-Identifier: MIT */
/* windows.csv: the spans of the year. Those for cutting are made from the shape rows of cuts.csv,
 * so that the two tables cannot disagree. */
#include <string.h>

#include "almanac/load.h"

enum { SPECIES, CLIMATE, WINDOW, FROM, TO, ANCHOR, ALL_YEAR, REASON, SOURCE, SURE };
static const char *const COLUMNS[] = {"species", "climate", "window", "from", "to", "anchor",
	"all_year", "reason", "source", "sure", NULL};

static enum status read_kind(const struct sheet *sheet, enum window_kind *out, struct fault *why)
{
	enum window_kind kind = window_of_key(sheet->cells[WINDOW]);
	if (kind == WINDOW_TOTAL)
		return sheet_fault(sheet, WINDOW, STATUS_SYNTAX, why,
			"\"%s\" is no window: flower-wood, initiation, bloom, fruit, harvest, "
			"feed-clear, feed-avoid, regrowth, thinning",
			sheet->cells[WINDOW]);
	if (kind == WINDOW_CUT_CLEAR || kind == WINDOW_CUT_AVOID)
		return sheet_fault(sheet, WINDOW, STATUS_SYNTAX, why,
			"windows for cutting are made from cuts.csv");
	*out = kind;
	return STATUS_OK;
}

static enum status read_span(const struct sheet *sheet, struct window_row *row, struct fault *why)
{
	enum status status = sheet_month_day(sheet, FROM, &row->from, why);
	if (status == STATUS_OK)
		status = sheet_month_day(sheet, TO, &row->to, why);
	if (status == STATUS_OK)
		status = load_anchor(sheet, ANCHOR, &row->anchor, why);
	if (status == STATUS_OK)
		status = sheet_flag(sheet, ALL_YEAR, &row->all_year, why);
	if (status != STATUS_OK)
		return status;
	bool whole = circle_of(row->from) == 1 && circle_of(row->to) == 365;
	if (row->all_year != whole)
		return sheet_fault(sheet, ALL_YEAR, STATUS_RANGE, why,
			"all_year and 01-01..12-31 stand together or not at all");
	return STATUS_OK;
}

static enum status read_window(struct almanac *almanac, const struct sheet *sheet,
	struct window_row *row, struct fault *why)
{
	enum status status = load_climate(sheet, CLIMATE, &row->climate, why);
	if (status == STATUS_OK)
		status = read_kind(sheet, &row->kind, why);
	if (status == STATUS_OK)
		status = read_span(sheet, row, why);
	if (status == STATUS_OK)
		status = sheet_text(sheet, REASON, &row->reason, why);
	if (status == STATUS_OK)
		status = load_source(almanac, sheet, SOURCE, &row->source, why);
	if (status == STATUS_OK)
		status = load_sure(sheet, SURE, &row->sure, why);
	return status;
}

static bool spans_meet(const struct window_row *a, const struct window_row *b)
{
	int32_t a_from = circle_of(a->from);
	int32_t b_from = circle_of(b->from);
	return circle_within(a_from, b_from, circle_of(b->to)) ||
	       circle_within(b_from, a_from, circle_of(a->to));
}

/* One harvest and one bloom a climate, since seasons are named by them; no day both good and bad
 * for feeding. */
static enum status check_others(const struct sheet *sheet, const struct list *list, int32_t owner,
	const struct window_row *row, struct fault *why)
{
	bool single = row->kind == WINDOW_HARVEST || row->kind == WINDOW_BLOOM;
	enum window_kind opposite = row->kind == WINDOW_FEED_CLEAR   ? WINDOW_FEED_AVOID
				    : row->kind == WINDOW_FEED_AVOID ? WINDOW_FEED_CLEAR
								     : WINDOW_TOTAL;
	const struct window_row *other;
	int32_t at = LIST_START;

	while ((other = list_older(list, owner, &at)) != NULL) {
		if (other->climate != row->climate)
			continue;
		if (single && other->kind == row->kind)
			return sheet_fault(sheet, WINDOW, STATUS_SYNTAX, why,
				"a second row beside line %d: one a kind and climate",
				list_line(list, at));
		if (other->kind == opposite && spans_meet(row, other))
			return sheet_fault(sheet, FROM, STATUS_RANGE, why,
				"meets line %d: one day cannot be both good and bad for feeding",
				list_line(list, at));
	}
	return STATUS_OK;
}

/* The window of a shape row; it stays where it is unless both its ends hang on the same event. */
static void add_cut_window(
	struct almanac *almanac, struct list *list, const struct cut_row *cut, int32_t owner)
{
	if (cut->kind != CUT_SHAPE || cut->cultivar[0] != '\0' || cut->verdict == VERDICT_ALLOWED)
		return;
	struct window_row row = {
		.kind = cut->verdict == VERDICT_CLEAR ? WINDOW_CUT_CLEAR : WINDOW_CUT_AVOID,
		.climate = cut->climate,
		.from = cut->from,
		.to = cut->to,
		.anchor = cut->from_anchor == cut->to_anchor ? cut->from_anchor : ANCHOR_CALENDAR,
		.reason = cut->text,
		.source = cut->source,
		.sure = cut->sure,
		.because = cut->reason,
	};
	list_add(almanac, list, &row, owner, 0);
}

/* A kind without a harvest that holds everywhere has no seasons; the word in species.csv must
 * agree. */
static enum status check_harvest(const struct species *species, struct fault *why)
{
	for (int32_t i = 0; i < species->window_count; i++) {
		const struct window_row *row = &species->windows[i];
		if (row->kind != WINDOW_HARVEST || row->climate != CLIMATE_ANY)
			continue;
		if (row->all_year != species->harvest_all_year)
			return fault_set(why, STATUS_RANGE,
				"windows.csv: the harvest of %s and harvest_all_year in "
				"species.csv differ",
				species->key);
		return STATUS_OK;
	}
	return fault_set(why, STATUS_RANGE,
		"windows.csv: %s has no harvest row with a blank climate", species->key);
}

enum status load_windows(struct almanac *almanac, const char *directory, struct fault *why)
{
	struct sheet sheet;
	struct list list = {.item_size = sizeof(struct window_row)};
	enum status status = load_sheet(almanac, directory, "windows.csv", COLUMNS, &sheet, why);
	list.wanted = sheet.row_count;
	while (status == STATUS_OK && (status = sheet_next(&sheet, why)) == STATUS_OK) {
		struct window_row row = {0};
		int32_t owner = 0;
		status = load_owner(almanac, &sheet, SPECIES, false, &owner, why);
		if (status == STATUS_OK)
			status = read_window(almanac, &sheet, &row, why);
		if (status == STATUS_OK)
			status = check_others(&sheet, &list, owner, &row, why);
		if (status == STATUS_OK)
			list_add(almanac, &list, &row, owner, sheet.line);
	}
	if (status != STATUS_END)
		return status;
	for (int32_t i = 0; i < almanac->species_count; i++) {
		struct species *species = &almanac->species[i];
		for (int32_t k = 0; k < species->cut_count; k++)
			add_cut_window(almanac, &list, &species->cuts[k], i);
		species->windows = list_of(almanac->arena, &list, i, &species->window_count);
		status = check_harvest(species, why);
		if (status != STATUS_OK)
			return status;
	}
	return STATUS_OK;
}
