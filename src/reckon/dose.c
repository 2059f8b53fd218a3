/* SPDX-License-Identifier: MIT */
#include "reckon/dose.h"

#include <assert.h>

#include "core/text.h"

enum { WHOLE_MPCT = 100000, UM_PER_MM = 1000 };

static const double pi = 3.14159265358979323846;
static const double mass_p = 30.973762;
static const double mass_o = 15.999;
static const double mass_k = 39.0983;
static const double us_cup_ul = 236588.2365; /* 231 cubic inches / 16 */

/* whole x part / of, rounded half up, without a larger whole number in between. */
static int64_t portion(int64_t whole, int64_t part, int64_t of)
{
	return whole / of * part + (whole % of * part + of / 2) / of;
}

/* Purpose: nitrogen in a mass of product of grade n-p-k, product x n / 100.
 * Given: milligrams, 0 or more; thousandths of a percent, 0..100000. Returned: milligrams.
 * Example: 10 lb of 10-10-10 carry 1 lb. */
int64_t dose_nitrogen_mg(int64_t product_mg, int32_t n_mpct)
{
	assert(product_mg >= 0 && n_mpct >= 0 && n_mpct <= WHOLE_MPCT);
	return portion(product_mg, n_mpct, WHOLE_MPCT);
}

/* Purpose: product that carries a mass of nitrogen, nitrogen / (n / 100).
 * Given: milligrams, 0 or more; thousandths of a percent. A product without nitrogen has no such
 *   mass: STATUS_RANGE, not a very large answer.
 * Example: 1 lb N is 4.76 lb of 21-0-0. */
enum status dose_product_mg(
	int64_t nitrogen_mg, int32_t n_mpct, int64_t *product_mg, struct fault *why)
{
	if (n_mpct <= 0 || n_mpct > WHOLE_MPCT)
		return fault_set(why, STATUS_RANGE,
			"a product of %.3g %% nitrogen cannot carry it: above 0 to 100 %% can",
			(double)n_mpct / 1000);
	if (nitrogen_mg < 0)
		return fault_set(why, STATUS_RANGE, "%lld mg of nitrogen is below nothing",
			(long long)nitrogen_mg);
	*product_mg = portion(nitrogen_mg, WHOLE_MPCT, n_mpct);
	return STATUS_OK;
}

/* Purpose: phosphorus in a mass of P2O5, and potassium in one of K2O.
 * Reference: stoichiometry by the standard atomic masses P 30.973762, O 15.999, K 39.0983.
 * Example: 1 kg P2O5 holds 436.4 g P, 1 kg K2O holds 830.2 g K. */
int64_t dose_phosphorus_mg(int64_t p2o5_mg)
{
	return round_i64((double)p2o5_mg * (2 * mass_p / (2 * mass_p + 5 * mass_o)));
}

int64_t dose_potassium_mg(int64_t k2o_mg)
{
	return round_i64((double)k2o_mg * (2 * mass_k / (2 * mass_k + mass_o)));
}

/* Purpose: area of the ring that is fed or mulched, pi (Ro^2 - Ri^2).
 * Given: radii in micrometres; a negative one counts as 0. Returned: square millimetres.
 * Example: 6 ft out, 1 ft bare: 109.96 sq ft. */
double dose_ring_mm2(int64_t outer_radius_um, int64_t inner_radius_um)
{
	double outer_mm = (double)outer_radius_um / UM_PER_MM;
	double inner_mm = inner_radius_um > 0 ? (double)inner_radius_um / UM_PER_MM : 0;
	return outer_mm > inner_mm ? pi * (outer_mm * outer_mm - inner_mm * inner_mm) : 0;
}

/* Purpose: a whole in equal parts; the last takes what rounding left over.
 * Given: n 1 or more, k 0..n-1. Example: 100 in 3 is 33, 33, 34. */
int64_t dose_part(int64_t whole, int32_t n, int32_t k)
{
	assert(n >= 1 && k >= 0 && k < n);
	int64_t part = whole / n;
	return k == n - 1 ? whole - part * (n - 1) : part;
}

/* --- what a feed entry carried --- */

static struct maybe_i64 point_of(const struct entry *entry, enum field field)
{
	const struct amount *amount = entry_amount(entry, field);
	return amount == NULL ? (struct maybe_i64){.known = false} : amount_point(amount);
}

static const struct product *product_of(
	const struct entry *entry, const struct product *products, int32_t count)
{
	const char *name = entry_detail(entry, FIELD_PRODUCT);
	for (int32_t at = 0; at < count && name[0] != '\0'; at++)
		if (text_same(products[at].name, name))
			return &products[at];
	return NULL;
}

static struct maybe_i64 product_mass_of(const struct entry *entry, const struct product *product)
{
	struct maybe_i64 mass_mg = point_of(entry, FIELD_PRODUCT_MASS);
	struct maybe_i64 volume_ul = point_of(entry, FIELD_PRODUCT_VOLUME);
	if (mass_mg.known || !volume_ul.known || product == NULL || !product->cup_mg.known)
		return mass_mg;
	double cups = (double)volume_ul.value / us_cup_ul;
	return known_i64(round_i64(cups * (double)product->cup_mg.value));
}

struct maybe_i64 dose_nitrogen_of_entry(
	const struct entry *entry, const struct product *products, int32_t product_count)
{
	const struct product *product = product_of(entry, products, product_count);
	struct maybe_i64 stated = point_of(entry, FIELD_NITROGEN);
	struct maybe_i64 mass_mg = product_mass_of(entry, product);
	struct maybe_i64 n_mpct = point_of(entry, FIELD_ANALYSIS_N);
	if (stated.known)
		return stated;
	if (!n_mpct.known && product != NULL && product->n_mpct.known)
		n_mpct = known_i64(product->n_mpct.value);
	bool sound = mass_mg.known && mass_mg.value >= 0 && n_mpct.known && n_mpct.value >= 0 &&
		     n_mpct.value <= WHOLE_MPCT;
	if (!sound)
		return (struct maybe_i64){.known = false};
	return known_i64(dose_nitrogen_mg(mass_mg.value, (int32_t)n_mpct.value));
}
