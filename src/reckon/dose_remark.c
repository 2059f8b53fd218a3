/* SPDX-License-Identifier: MIT */
#include "reckon/dose_remark.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
	POUND_MG = 453592,      /* 1 lb N a tree a year: what home rules stop at */
	SAME_HEIGHT_UM = 50000, /* closer than this is the same place on a trunk */
	TEXT_PART = 320
};

/* Adds a part after "; "; a part that does not fit is left out whole. */
__attribute__((format(printf, 2, 3))) static void say(struct dose *dose, const char *format, ...)
{
	char part[TEXT_PART];
	va_list arguments;
	va_start(arguments, format);
	int length = vsnprintf(part, sizeof part, format, arguments);
	va_end(arguments);
	size_t used = strlen(dose->remark);
	const char *joint = used > 0 ? "; " : "";
	if (length < 0 || length >= TEXT_PART ||
		used + strlen(joint) + strlen(part) >= sizeof dose->remark)
		return;
	snprintf(dose->remark + used, sizeof dose->remark - used, "%s%s", joint, part);
}

/* More than by a rounding. */
static bool is_above(int64_t nitrogen_mg, int64_t limit_mg)
{
	return nitrogen_mg > limit_mg + limit_mg / 1000;
}

struct maybe_i64 dose_year_mg(const struct dose *dose)
{
	if (dose->period == PERIOD_YEAR || !dose->nitrogen_mg.known)
		return dose->period == PERIOD_YEAR ? dose->nitrogen_mg
						   : (struct maybe_i64){.known = false};
	if (dose->period == PERIOD_FEED && dose->splits.known)
		return known_i64(dose->nitrogen_mg.value * dose->splits.value);
	return (struct maybe_i64){.known = false};
}

/* --- a pound of the product in hand, against what is published --- */

struct published {
	const struct dose *low;
	const struct dose *high;
};

/* Lowest and highest nitrogen a year among the rules of one standing: those that were read, or
 * those that were not. */
static struct published published_of(const struct dose *doses, int32_t count, bool read)
{
	struct published found = {NULL, NULL};
	for (int32_t at = 0; at < count; at++) {
		const struct feed_row *row = doses[at].row;
		struct maybe_i64 year_mg = dose_year_mg(&doses[at]);
		if (row == NULL || dose_is_of_hand(row) || !year_mg.known ||
			(row->sure == KNOWN_READ) != read)
			continue;
		if (found.low == NULL || year_mg.value < dose_year_mg(found.low).value)
			found.low = &doses[at];
		if (found.high == NULL || year_mg.value > dose_year_mg(found.high).value)
			found.high = &doses[at];
	}
	return found;
}

static const char *whose(const struct dose *dose)
{
	return dose->region[0] != '\0' ? dose->region : dose->rule;
}

/* "8 oz a year (Utah) to 1 lb (San Diego)" for nitrogen, or the product that carries it. */
static const char *range_text(const struct published *published, const struct product *product,
	enum unit_system units, char *out, size_t size)
{
	int64_t low_mg = dose_year_mg(published->low).value;
	int64_t high_mg = dose_year_mg(published->high).value;
	bool named = product == NULL;
	if (product != NULL &&
		(dose_product_mg(low_mg, product->n_mpct.value, &low_mg, NULL) != STATUS_OK ||
			dose_product_mg(high_mg, product->n_mpct.value, &high_mg, NULL) !=
				STATUS_OK))
		return "";
	char low[32], high[32];
	mass_format(low_mg, units, low, sizeof low);
	mass_format(high_mg, units, high, sizeof high);
	if (published->low == published->high || strcmp(low, high) == 0)
		snprintf(out, size, named ? "%s a year (%.60s)" : "%s", low, whose(published->low));
	else if (named)
		snprintf(out, size, "%s a year (%.60s) to %s (%.60s)", low, whose(published->low),
			high, whose(published->high));
	else
		snprintf(out, size, "%s to %s", low, high);
	return out;
}

static void compare_with_published(struct dose *dose, const struct dose_inputs *inputs,
	const struct dose *doses, int32_t count)
{
	char rates[220], carries[80];
	int64_t nitrogen_mg = dose->nitrogen_mg.value;
	struct published published = published_of(doses, count, true);
	if (published.low == NULL)
		published = published_of(doses, count, false);
	if (published.low == NULL || !is_above(nitrogen_mg, dose_year_mg(published.low).value))
		return;
	bool above_all = is_above(nitrogen_mg, dose_year_mg(published.high).value);
	range_text(&published, NULL, inputs->units, rates, sizeof rates);
	range_text(&published, inputs->product, inputs->units, carries, sizeof carries);
	say(dose, "above the %s for this tree, %s: %s of this product carries that N",
		above_all ? "published rate" : "lowest published rate", rates, carries);
}

static void remark_pound(struct dose *dose, const struct dose_inputs *inputs,
	const struct dose *doses, int32_t count)
{
	char carries[32], holds[32];
	const struct product *product = inputs->product;
	if (product == NULL) {
		say(dose, "no product named: the nitrogen it carries is not known, read the bag");
		return;
	}
	if (!product->n_mpct.known) {
		say(dose, "the analysis of %.80s is not known: neither is the nitrogen it carries",
			product->name);
		return;
	}
	int64_t nitrogen_mg = dose->nitrogen_mg.value;
	say(dose, "carries %s of actual N",
		mass_format(nitrogen_mg, inputs->units, carries, sizeof carries));
	compare_with_published(dose, inputs, doses, count);
	int64_t pound_mg;
	if (is_above(nitrogen_mg, POUND_MG) &&
		dose_product_mg(POUND_MG, product->n_mpct.value, &pound_mg, NULL) == STATUS_OK)
		say(dose, "above 1 lb N a tree a year, which %s carries",
			mass_format(pound_mg, inputs->units, holds, sizeof holds));
}

/* --- the other rules --- */

static void remark_above_a_pound(struct dose *dose)
{
	struct maybe_i64 year_mg = dose_year_mg(dose);
	if (year_mg.known && is_above(year_mg.value, POUND_MG))
		say(dose, "above 1 lb N a tree a year");
}

static void remark_product(struct dose *dose, const struct dose_inputs *inputs)
{
	const struct product *product = inputs->product;
	if (dose->product_mg.known)
		return;
	if (product == NULL)
		return; /* nitrogen only, as asked */
	if (!product->n_mpct.known)
		say(dose, "the analysis of %.80s is not known, so neither is its weight",
			product->name);
	else
		say(dose, "%.80s carries no nitrogen", product->name);
}

static void remark_trunk(struct dose *dose, const struct dose_inputs *inputs)
{
	char rule[32], here[32];
	const struct feed_row *row = dose->row;
	struct maybe_i64 height_um = inputs->trunk.at_height_um;
	if (row->basis != FEED_PER_INCH)
		return;
	if (inputs->trunk.stems > 1)
		say(dose, "%d stems taken as one trunk of the same cross-section",
			inputs->trunk.stems);
	if (!row->measured_at_um.known)
		return;
	if (row->measured_at_um.value == 0)
		snprintf(rule, sizeof rule, "just above the soil");
	else
		snprintf(rule, sizeof rule, "%s up",
			length_format(row->measured_at_um.value, inputs->units, here, sizeof here));
	if (!height_um.known)
		say(dose, "the rule measures %s, here the height is not noted", rule);
	else if (llabs(height_um.value - row->measured_at_um.value) > SAME_HEIGHT_UM)
		say(dose, "the rule measures %s, here it was %s up", rule,
			length_format(height_um.value, inputs->units, here, sizeof here));
}

void dose_remark(struct dose *dose, const struct dose_inputs *inputs, const struct dose *doses,
	int32_t count)
{
	const struct feed_row *row = dose->row;
	if (row != NULL && dose_is_of_hand(row))
		remark_pound(dose, inputs, doses, count);
	else
		remark_product(dose, inputs);
	if (row == NULL) {
		remark_above_a_pound(dose);
		return;
	}
	if (row->all_kinds && !dose_is_of_hand(row))
		remark_above_a_pound(dose);
	remark_trunk(dose, inputs);
	if (row->condition != NULL && row->condition[0] != '\0')
		say(dose, "%s", row->condition);
}
