/* SPDX-License-Identifier: MIT */
/* feeding.csv: the published rates, with their caps and whose they are. */
#include <string.h>

#include "almanac/load.h"

enum {
	SPECIES,
	RULE,
	REGION,
	OF,
	PRODUCT_N,
	RATE,
	RATE_UNIT,
	PER,
	PERIOD,
	CAP,
	CAP_UNIT,
	CAP_SOURCE,
	SPLITS,
	MEASURED_AT,
	MEASURED_UNIT,
	AGE_FROM,
	AGE_TO,
	RATE_TO,
	CAP_TO,
	CONDITION,
	SOURCE,
	SURE
};
static const char *const COLUMNS[] = {"species", "rule", "region", "of", "product_n_percent",
	"rate", "rate_unit", "per", "period", "cap", "cap_unit", "cap_source", "splits",
	"measured_at", "measured_unit", "age_from", "age_to", "rate_to", "cap_to", "condition",
	"source", "sure", NULL};

static enum status read_mass(const struct sheet *sheet, int32_t column, int32_t unit_column,
	struct maybe_i64 *out, struct fault *why)
{
	const char *base = "";
	enum status status = sheet_quantity(sheet, column, unit_column, out, &base, why);
	if (status == STATUS_OK && out->known && strcmp(base, "mg") != 0)
		return sheet_fault(
			sheet, unit_column, STATUS_SYNTAX, why, "should be g, kg, oz or lb");
	return status;
}

static enum status read_rate(const struct sheet *sheet, struct feed_row *row, struct fault *why)
{
	static const char *const of[] = {"product", "nitrogen", NULL};
	static const char *const bases[] = {
		[FEED_PER_INCH] = "inch",
		[FEED_PER_AGE_YEAR] = "year-of-age",
		[FEED_PER_TREE] = "tree",
		[FEED_PER_FEED] = "feed",
		[FEED_PER_AREA] = "1000-sq-ft",
		NULL,
	};
	static const char *const periods[] = {
		[PERIOD_UNSTATED] = "unstated",
		[PERIOD_FEED] = "feed",
		[PERIOD_YEAR] = "year",
		NULL,
	};
	int what = 0;
	int basis = 0;
	int period = 0;
	struct maybe_i64 rate = {0};
	enum status status = sheet_choice(sheet, OF, of, &what, why);
	if (status == STATUS_OK)
		status =
			sheet_decimal(sheet, PRODUCT_N, 1000, 0, 100000, &row->product_n_mpct, why);
	if (status == STATUS_OK)
		status = read_mass(sheet, RATE, RATE_UNIT, &rate, why);
	if (status == STATUS_OK && (!rate.known || rate.value == 0))
		return sheet_fault(sheet, RATE, STATUS_RANGE, why, "should be above 0");
	if (status == STATUS_OK)
		status = sheet_choice(sheet, PER, bases, &basis, why);
	if (status == STATUS_OK)
		status = sheet_choice(sheet, PERIOD, periods, &period, why);
	row->of_nitrogen = what == 1;
	row->rate_mg = rate.value;
	row->basis = (enum feed_basis)basis;
	row->period = (enum feed_period)period;
	return status;
}

static enum status read_cap(
	struct almanac *almanac, const struct sheet *sheet, struct feed_row *row, struct fault *why)
{
	row->cap_source = arena_text(sheet->arena, "");
	enum status status = read_mass(sheet, CAP, CAP_UNIT, &row->cap_mg, why);
	if (status != STATUS_OK)
		return status;
	if (row->cap_mg.known)
		return load_source(almanac, sheet, CAP_SOURCE, &row->cap_source, why);
	if (sheet->cells[CAP_SOURCE][0] != '\0')
		return sheet_fault(sheet, CAP_SOURCE, STATUS_SYNTAX, why, "stands without a cap");
	return STATUS_OK;
}

/* The upper ends of a rate and a cap that the source gives as a range. */
static enum status read_ends(const struct sheet *sheet, struct feed_row *row, struct fault *why)
{
	enum status status = STATUS_OK;
	if (sheet->cells[RATE_TO][0] != '\0')
		status = read_mass(sheet, RATE_TO, RATE_UNIT, &row->rate_to_mg, why);
	if (status == STATUS_OK && row->rate_to_mg.known && row->rate_to_mg.value <= row->rate_mg)
		return sheet_fault(sheet, RATE_TO, STATUS_RANGE, why, "is not above the rate");
	if (status == STATUS_OK && sheet->cells[CAP_TO][0] != '\0')
		status = read_mass(sheet, CAP_TO, CAP_UNIT, &row->cap_to_mg, why);
	if (status == STATUS_OK && row->cap_to_mg.known &&
		(!row->cap_mg.known || row->cap_to_mg.value <= row->cap_mg.value))
		return sheet_fault(sheet, CAP_TO, STATUS_RANGE, why, "is not above the cap");
	return status;
}

static enum status read_limits(const struct sheet *sheet, struct feed_row *row, struct fault *why)
{
	const char *base = "";
	enum status status = sheet_decimal(sheet, SPLITS, 1, 1, 24, &row->splits, why);
	if (status == STATUS_OK)
		status = sheet_quantity(
			sheet, MEASURED_AT, MEASURED_UNIT, &row->measured_at_um, &base, why);
	if (status == STATUS_OK && row->measured_at_um.known && strcmp(base, "um") != 0)
		return sheet_fault(
			sheet, MEASURED_UNIT, STATUS_SYNTAX, why, "should be in, ft, cm or m");
	if (status == STATUS_OK)
		status = sheet_decimal(sheet, AGE_FROM, 1, 0, 200, &row->age_from, why);
	if (status == STATUS_OK)
		status = sheet_decimal(sheet, AGE_TO, 1, 0, 200, &row->age_to, why);
	if (status == STATUS_OK && row->age_from.known && row->age_to.known &&
		row->age_from.value > row->age_to.value)
		return sheet_fault(sheet, AGE_TO, STATUS_RANGE, why, "is smaller than age_from");
	return status;
}

static enum status read_feed(
	struct almanac *almanac, const struct sheet *sheet, struct feed_row *row, struct fault *why)
{
	row->region = sheet->cells[REGION];
	row->condition = sheet->cells[CONDITION];
	enum status status = sheet_key(sheet, RULE, &row->rule, why);
	if (status == STATUS_OK)
		status = read_rate(sheet, row, why);
	if (status == STATUS_OK)
		status = read_cap(almanac, sheet, row, why);
	if (status == STATUS_OK)
		status = read_ends(sheet, row, why);
	if (status == STATUS_OK)
		status = read_limits(sheet, row, why);
	if (status == STATUS_OK)
		status = load_source(almanac, sheet, SOURCE, &row->source, why);
	if (status == STATUS_OK)
		row->said_by = almanac_source(almanac, row->source);
	if (status == STATUS_OK)
		status = load_sure(sheet, SURE, &row->sure, why);
	return status;
}

/* A rule stands once for a kind, and once for all kinds or for single ones. */
static enum status check_rule(const struct sheet *sheet, const struct list *list, int32_t owner,
	const struct feed_row *row, struct fault *why)
{
	for (int32_t i = 0; i < list->count; i++) {
		const struct feed_row *other = (const struct feed_row *)list->items + i;
		bool same_tree = list->owners[i] == owner || owner == OWNER_ALL ||
				 list->owners[i] == OWNER_ALL;
		if (same_tree && strcmp(other->rule, row->rule) == 0)
			return sheet_fault(sheet, RULE, STATUS_SYNTAX, why,
				"\"%s\" stands in line %d already", row->rule, list->lines[i]);
	}
	return STATUS_OK;
}

enum status load_feeds(struct almanac *almanac, const char *directory, struct fault *why)
{
	struct sheet sheet;
	struct list list = {.item_size = sizeof(struct feed_row)};
	enum status status = load_sheet(almanac, directory, "feeding.csv", COLUMNS, &sheet, why);
	list.wanted = sheet.row_count;
	while (status == STATUS_OK && (status = sheet_next(&sheet, why)) == STATUS_OK) {
		struct feed_row row = {0};
		int32_t owner = 0;
		status = load_owner(almanac, &sheet, SPECIES, true, &owner, why);
		if (status == STATUS_OK)
			status = read_feed(almanac, &sheet, &row, why);
		if (status == STATUS_OK)
			status = check_rule(&sheet, &list, owner, &row, why);
		row.all_kinds = owner == OWNER_ALL;
		if (status == STATUS_OK)
			list_add(almanac, &list, &row, owner, sheet.line);
	}
	if (status != STATUS_END)
		return status;
	almanac->common_feeds =
		list_of(almanac->arena, &list, OWNER_NONE, &almanac->common_feed_count);
	for (int32_t i = 0; i < almanac->species_count; i++)
		almanac->species[i].feeds =
			list_of(almanac->arena, &list, i, &almanac->species[i].feed_count);
	return STATUS_OK;
}
