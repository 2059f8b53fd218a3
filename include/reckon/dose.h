/* SPDX-License-Identifier: MIT */
/* dose.h - how much feed a published rule gives a tree. Guidance with its inputs, never an order:
 * the product label and local rules come first. Formulas: grade n-p-k is percent by mass of N,
 * P2O5 and K2O; product = wanted N / (n / 100). */
#ifndef RECKON_DOSE_H
#define RECKON_DOSE_H

#include "almanac/almanac.h"
#include "reckon/trunk.h"

struct dose_inputs {
	const struct species *species; /* NULL: the kind is not known, only rules for all kinds */
	const struct feed_row *common; /* those rules, read where species is NULL */
	int32_t common_count;
	struct trunk trunk;
	struct maybe_i32 age_years;
	struct maybe_i64 spread_um;
	const struct product *product; /* NULL: no product in hand */
	const struct own_rate *rates;
	int32_t rate_count;
	const char *tree_id;
	enum unit_system units; /* of the remarks */
};
struct dose {
	const char *rule;
	const char *region;
	struct maybe_i64
		product_mg; /* of the product in hand. A rule in nitrogen, or in a product of
	                                another analysis, gives none without a product of known
	                                analysis; a pound an inch is a pound of whatever it is */
	struct maybe_i64 nitrogen_mg;
	struct maybe_i64 nitrogen_most_mg; /* by the upper end, where the rule gives a range */
	bool capped;
	const char *capped_by; /* whose cap */
	enum feed_period period;
	struct maybe_i32 splits;
	struct maybe_i64 per_split_mg; /* product, last part takes the remainder */
	const struct feed_row *row;    /* NULL: the grower's own rate */
	char remark[400];              /* pound-per-inch above the published rate, and the like */
};
/* One row for every rule that fits what is known: the grower's own rates (for the tree, else for
 * the species here), then the almanac's. A trunk that looks like a girth gives no row by the inch:
 * ask first (trunk_in_doubt). Returns how many. */
int32_t dose_rows(const struct dose_inputs *inputs, struct arena *arena, struct dose **out);
/* Nitrogen in a mass of product; analysis in thousandths of a percent. */
int64_t dose_nitrogen_mg(int64_t product_mg, int32_t n_mpct);
/* Product that carries the nitrogen; STATUS_RANGE when the analysis is 0. */
enum status dose_product_mg(
	int64_t nitrogen_mg, int32_t n_mpct, int64_t *product_mg, struct fault *why) MUST_CHECK;
/* The element in an oxide of the grade: P in P2O5, K in K2O. N needs no factor. */
int64_t dose_phosphorus_mg(int64_t p2o5_mg);
int64_t dose_potassium_mg(int64_t k2o_mg);
/* Area of the ring between trunk (or gap) and drip line, mm2; 0 when nothing is between. */
double dose_ring_mm2(int64_t outer_radius_um, int64_t inner_radius_um);
/* The k-th (0-based) of n parts of a whole: all parts add up exactly. */
int64_t dose_part(int64_t whole, int32_t n, int32_t k);
/* Actual N of a feed entry: stated, or product mass x analysis (the entry's own, else the
 * product's); a volume by the product's weight of a cup (US, 236.6 ml); unknown else. */
struct maybe_i64 dose_nitrogen_of_entry(
	const struct entry *entry, const struct product *products, int32_t product_count);

#endif
