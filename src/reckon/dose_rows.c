/* SPDX-License-Identifier: MIT */
#include "reckon/dose.h"

#include <string.h>

#include "reckon/dose_remark.h"

static const double um_in_inch = 25400;
static const double mm2_in_1000_sq_ft = 92903040;

/* --- how many times the rate is given --- */

/* Inches of trunk, years of age, or 1. False: what it takes is not known. */
static bool times_of(enum feed_basis basis, const struct dose_inputs *inputs, double *times)
{
	switch (basis) {
	case FEED_PER_INCH:
		*times = (double)inputs->trunk.diameter_um / um_in_inch;
		return inputs->trunk.known && !trunk_in_doubt(&inputs->trunk, inputs->age_years);
	case FEED_PER_AGE_YEAR:
		*times = inputs->age_years.value;
		return inputs->age_years.known && inputs->age_years.value >= 1;
	case FEED_PER_TREE:
	case FEED_PER_FEED:
		*times = 1;
		return true;
	case FEED_PER_AREA:
		*times = dose_ring_mm2(inputs->spread_um.value / 2, 0) / mm2_in_1000_sq_ft;
		return inputs->spread_um.known && *times > 0;
	}
	return false;
}

/* A row for certain years of age says nothing of a tree whose age is not known. */
static bool is_of_age(const struct feed_row *row, struct maybe_i32 age)
{
	if (!row->age_from.known && !row->age_to.known)
		return true;
	return age.known && (!row->age_from.known || age.value >= row->age_from.value) &&
	       (!row->age_to.known || age.value <= row->age_to.value);
}

/* --- product and nitrogen --- */

static struct maybe_i64 product_for(int64_t nitrogen_mg, const struct product *product)
{
	int64_t product_mg;
	if (product == NULL || !product->n_mpct.known ||
		dose_product_mg(nitrogen_mg, product->n_mpct.value, &product_mg, NULL) != STATUS_OK)
		return (struct maybe_i64){.known = false};
	return known_i64(product_mg);
}

static struct maybe_i64 nitrogen_in(int64_t product_mg, const struct product *product)
{
	if (product == NULL || !product->n_mpct.known)
		return (struct maybe_i64){.known = false};
	return known_i64(dose_nitrogen_mg(product_mg, product->n_mpct.value));
}

bool dose_is_of_hand(const struct feed_row *row)
{
	return !row->of_nitrogen && !row->product_n_mpct.known;
}

static int64_t nitrogen_of_row(const struct feed_row *row, int64_t mass_mg)
{
	return row->of_nitrogen ? mass_mg : dose_nitrogen_mg(mass_mg, row->product_n_mpct.value);
}

/* The upper end of a rate, or of a cap, that is published as a range. */
static void fill_most(struct dose *dose, const struct feed_row *row, double times)
{
	int64_t rate_mg = row->rate_to_mg.known ? row->rate_to_mg.value : row->rate_mg;
	int64_t mass_mg = round_i64((double)rate_mg * times);
	struct maybe_i64 cap_mg = row->cap_to_mg.known ? row->cap_to_mg : row->cap_mg;
	if (dose_is_of_hand(row) || (!row->rate_to_mg.known && !row->cap_to_mg.known))
		return;
	if (cap_mg.known && mass_mg > cap_mg.value)
		mass_mg = cap_mg.value;
	dose->nitrogen_most_mg = known_i64(nitrogen_of_row(row, mass_mg));
}

/* Turns the mass that the rule names into nitrogen and the product in hand. */
static void fill_masses(struct dose *dose, const struct feed_row *row, int64_t mass_mg,
	const struct product *product)
{
	if (dose_is_of_hand(row)) {
		dose->product_mg = known_i64(mass_mg);
		dose->nitrogen_mg = nitrogen_in(mass_mg, product);
		return;
	}
	int64_t nitrogen_mg = nitrogen_of_row(row, mass_mg);
	dose->nitrogen_mg = known_i64(nitrogen_mg);
	dose->product_mg = product_for(nitrogen_mg, product);
}

static void fill_splits(struct dose *dose)
{
	if (dose->splits.known && dose->splits.value > 1 && dose->product_mg.known &&
		dose->period != PERIOD_FEED)
		dose->per_split_mg =
			known_i64(dose_part(dose->product_mg.value, dose->splits.value, 0));
}

static bool dose_of_row(
	const struct feed_row *row, const struct dose_inputs *inputs, struct dose *dose)
{
	double times;
	if (!is_of_age(row, inputs->age_years) || !times_of(row->basis, inputs, &times))
		return false;
	*dose = (struct dose){.rule = row->rule,
		.region = row->region,
		.period = row->period,
		.splits = row->splits,
		.row = row};
	int64_t mass_mg = round_i64((double)row->rate_mg * times);
	if (row->cap_mg.known && mass_mg > row->cap_mg.value) {
		/* rates and caps are rounded to a milligram: eight ounces are not above 8 oz */
		dose->capped = mass_mg - row->cap_mg.value > row->cap_mg.value / 1000;
		dose->capped_by = dose->capped ? row->cap_source : NULL;
		mass_mg = row->cap_mg.value;
	}
	fill_masses(dose, row, mass_mg, inputs->product);
	fill_most(dose, row, times);
	fill_splits(dose);
	return true;
}

/* --- the grower's own rates --- */

static const struct own_per {
	const char *key;
	enum feed_basis basis;
	enum feed_period period;
} own_pers[] = {
	{"inch", FEED_PER_INCH, PERIOD_YEAR},
	{"year-of-age", FEED_PER_AGE_YEAR, PERIOD_YEAR},
	{"feed", FEED_PER_FEED, PERIOD_FEED},
	{"year", FEED_PER_TREE, PERIOD_YEAR},
};

static bool is_for_tree(const struct own_rate *rate, const struct dose_inputs *inputs)
{
	return rate->tree_id[0] != '\0' && inputs->tree_id != NULL &&
	       strcmp(rate->tree_id, inputs->tree_id) == 0;
}

static bool is_for_species(const struct own_rate *rate, const struct dose_inputs *inputs)
{
	return rate->tree_id[0] == '\0' && inputs->species != NULL &&
	       strcmp(rate->species, inputs->species->key) == 0;
}

static bool dose_of_own(
	const struct own_rate *rate, const struct dose_inputs *inputs, struct dose *dose)
{
	double times;
	for (size_t at = 0; at < sizeof own_pers / sizeof *own_pers; at++) {
		const struct own_per *per = &own_pers[at];
		if (strcmp(per->key, rate->per) != 0 || !times_of(per->basis, inputs, &times))
			continue;
		int64_t nitrogen_mg = round_i64((double)rate->nitrogen_mg * times);
		*dose = (struct dose){.rule = "own-rate",
			.region = "your own rate",
			.nitrogen_mg = known_i64(nitrogen_mg),
			.product_mg = product_for(nitrogen_mg, inputs->product),
			.period = per->period};
		return true;
	}
	return false;
}

static int32_t own_doses(const struct dose_inputs *inputs, struct dose *doses)
{
	bool has_own = false;
	for (int32_t at = 0; at < inputs->rate_count; at++)
		has_own = has_own || is_for_tree(&inputs->rates[at], inputs);
	int32_t count = 0;
	for (int32_t at = 0; at < inputs->rate_count; at++) {
		const struct own_rate *rate = &inputs->rates[at];
		bool fits = has_own ? is_for_tree(rate, inputs) : is_for_species(rate, inputs);
		count += fits && dose_of_own(rate, inputs, &doses[count]);
	}
	return count;
}

/* Purpose: how much feed each rule that fits gives one tree; see dose.h.
 *   mass = rate x (inches of trunk | years of age | 1), then the rule's own cap; nitrogen and the
 *   product in hand follow by analysis.
 * Given: what is known; a trunk of several stems counts as one of the same cross-section.
 * Example: a trunk of 6 in at 0.1 lb N an inch: 0.6 lb N, 6 lb of 10-10-10. */
int32_t dose_rows(const struct dose_inputs *inputs, struct arena *arena, struct dose **out)
{
	const struct species *species = inputs->species;
	const struct feed_row *rows = species != NULL ? species->feeds : inputs->common;
	int32_t row_count = species != NULL ? species->feed_count : inputs->common_count;
	size_t most = (size_t)row_count + (size_t)inputs->rate_count;
	struct dose *doses = arena_array(arena, most, sizeof *doses);
	int32_t count = own_doses(inputs, doses);
	for (int32_t at = 0; at < row_count; at++)
		count += dose_of_row(&rows[at], inputs, &doses[count]);
	for (int32_t at = 0; at < count; at++)
		dose_remark(&doses[at], inputs, doses, count);
	*out = doses;
	return count;
}
