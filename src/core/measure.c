/* SPDX-License-Identifier: MIT */
#include "core/measure.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#include "core/amount_parts.h"
#include "core/plain.h"

static const char *const dimension_names[DIMENSION_TOTAL] = {
	[DIMENSION_NONE] = "a number",
	[DIMENSION_COUNT] = "a count",
	[DIMENSION_MASS] = "a weight",
	[DIMENSION_LENGTH] = "a length",
	[DIMENSION_VOLUME] = "a volume",
	[DIMENSION_SHARE] = "a share",
	[DIMENSION_DURATION] = "a time",
	[DIMENSION_DAYS] = "a span of days",
	[DIMENSION_TEMPERATURE] = "a temperature",
	[DIMENSION_FLOW] = "a flow",
	[DIMENSION_SPEED] = "a speed",
	[DIMENSION_AREA] = "an area",
	[DIMENSION_ANALYSIS] = "a portion of the bag",
	[DIMENSION_CODE] = "a growth-stage code",
};

static const char *const dimension_examples[DIMENSION_TOTAL] = {
	[DIMENSION_NONE] = "12",
	[DIMENSION_COUNT] = "12 fruit or 3 dozen",
	[DIMENSION_MASS] = "6 lb 4 oz or 2.5 kg",
	[DIMENSION_LENGTH] = "5 1/8 in, 12 ft or 41 cm",
	[DIMENSION_VOLUME] = "12 gal or 60 l",
	[DIMENSION_SHARE] = "20 %",
	[DIMENSION_DURATION] = "35 min or 2 h",
	[DIMENSION_DAYS] = "6 weeks or 14 days",
	[DIMENSION_TEMPERATURE] = "28 F or -2 C",
	[DIMENSION_FLOW] = "2 l/h or 1 gal/h",
	[DIMENSION_SPEED] = "40 km/h or 25 mph",
	[DIMENSION_AREA] = "100 sq ft or 12 m2",
	[DIMENSION_ANALYSIS] = "10",
	[DIMENSION_CODE] = "65",
};

int64_t round_i64(double value)
{
	assert(fabs(value) < 9.2e18);
	return llround(value);
}

bool amounts_agree(const struct amount *a, const struct amount *b)
{
	struct maybe_i64 one = amount_point(a);
	struct maybe_i64 two = amount_point(b);
	if (!one.known || !two.known)
		return false;
	double x = (double)one.value;
	double y = (double)two.value;
	return fabs(x - y) <= 0.02 * fmax(fabs(x), fabs(y));
}

struct maybe_i64 amount_point(const struct amount *amount)
{
	if (amount->low.known && amount->high.known)
		return known_i64(amount->low.value + (amount->high.value - amount->low.value) / 2);
	return amount->low;
}

void amount_sum_add(struct amount_sum *sum, const struct amount *amount)
{
	if (!amount->low.known && !amount->high.known) {
		sum->missing++;
		return;
	}
	bool first = sum->parts == 0;
	sum->none = amount->none && (first || sum->none);
	sum->parts++;
	sum->low += amount->low.known ? amount->low.value : 0;
	sum->high += amount->high.known ? amount->high.value : amount->low.value;
	sum->high_open = sum->high_open || !amount->high.known;
	bool exact =
		amount->low.known && amount->high.known && amount->low.value == amount->high.value;
	bool estimate = amount->containers_low.known || amount->containers_high.known;
	sum->about = sum->about || amount->about || !exact || estimate;
}

struct maybe_i64 amount_sum_point(const struct amount_sum *sum)
{
	if (sum->parts == 0)
		return (struct maybe_i64){.known = false};
	return known_i64(sum->high_open ? sum->low : sum->low + (sum->high - sum->low) / 2);
}

/* A bare number as this dimension: in the default unit, or as it stands where it needs none. */
static enum status give_unit(struct amount *amount, enum dimension wanted, const char *default_unit,
	const struct number_rules *rules, const char *text, struct fault *why)
{
	int64_t thousandths[2] = {amount->low.value, amount->high.value};
	const struct unit *unit = NULL;
	if (default_unit != NULL)
		unit = unit_find(default_unit, strlen(default_unit), rules, NULL);
	bool own = wanted == DIMENSION_COUNT || wanted == DIMENSION_ANALYSIS;
	if (unit == NULL && !own && wanted != DIMENSION_CODE)
		return fault_set(why, STATUS_SYNTAX, "'%.60s' has no unit: %s is written as %s",
			text, dimension_names[wanted], dimension_examples[wanted]);
	for (int i = 0; i < 2 && !own; i++) {
		double value = (double)thousandths[i] / 1000;
		thousandths[i] = unit == NULL ? round_i64(value) : unit_to_base(unit, value, false);
	}
	amount->dimension = unit == NULL ? wanted : unit->dimension;
	amount->low.value = thousandths[0];
	amount->high.value = thousandths[1];
	return STATUS_OK;
}

static bool may_be_none(enum dimension dimension)
{
	return dimension == DIMENSION_NONE || dimension == DIMENSION_COUNT ||
	       dimension == DIMENSION_MASS || dimension == DIMENSION_VOLUME;
}

static struct amount none_of(enum dimension dimension)
{
	return (struct amount){
		.dimension = dimension, .low = known_i64(0), .high = known_i64(0), .none = true};
}

static enum status refuse_amount(
	const char *text, enum dimension wanted, const char *what, struct fault *why)
{
	return fault_set(why, STATUS_SYNTAX, "'%.60s' %s: %s is written as %s", text, what,
		dimension_names[wanted], dimension_examples[wanted]);
}

static enum status check_dimension(struct amount *amount, enum dimension wanted,
	const char *default_unit, const struct number_rules *rules, const char *text,
	struct fault *why)
{
	if (amount->dimension == DIMENSION_NONE && wanted != DIMENSION_NONE) {
		enum status status = give_unit(amount, wanted, default_unit, rules, text, why);
		if (status != STATUS_OK)
			return status;
	}
	if (wanted != DIMENSION_NONE && amount->dimension != wanted)
		return refuse_amount(text, wanted, "is another measure", why);
	bool zero = amount->low.known && amount->high.known && amount->low.value == 0 &&
		    amount->high.value == 0;
	amount->none = zero && may_be_none(amount->dimension);
	return STATUS_OK;
}

enum status amount_parse(const char *text, enum dimension wanted, const char *default_unit,
	const struct number_rules *rules, struct amount *out, struct fault *why)
{
	struct plain plain;
	struct amount amount;
	if (amount_quick(text, rules, &amount)) {
		enum status status =
			check_dimension(&amount, wanted, default_unit, rules, text, why);
		if (status == STATUS_OK)
			*out = amount;
		return status;
	}
	enum status status = plain_make(text, PLAIN_SIZE, &plain, why);
	if (status != STATUS_OK)
		return status;
	if (plain.length == 0)
		return refuse_amount(text, wanted, "is empty", why);
	if (may_be_none(wanted) && plain_word_of(plain.low, "none nil") == plain.length) {
		*out = none_of(wanted);
		memcpy(out->typed, plain.text, plain.length + 1);
		return STATUS_OK;
	}
	size_t used = 0;
	status = amount_scan(plain.text, rules, &amount, &used, why);
	if (status == STATUS_ABSENT || (status == STATUS_OK && used < plain.length))
		return refuse_amount(text, wanted, "is not understood", why);
	if (status == STATUS_OK)
		status = check_dimension(&amount, wanted, default_unit, rules, text, why);
	if (status == STATUS_OK)
		*out = amount;
	return status;
}

/* One exact figure of one dimension. */
static enum status exact_parse(const char *text, enum dimension dimension,
	const struct number_rules *rules, int64_t *base, struct fault *why)
{
	struct amount amount;
	enum status status = amount_parse(text, dimension, NULL, rules, &amount, why);
	if (status != STATUS_OK)
		return status;
	bool exact = amount.low.known && amount.high.known &&
		     amount.low.value == amount.high.value && !amount.about &&
		     amount.typed[0] != 'n';
	if (!exact)
		return refuse_amount(text, dimension, "is not one exact figure", why);
	*base = amount.low.value;
	return STATUS_OK;
}

enum status length_parse(
	const char *text, const struct number_rules *rules, int64_t *length_um, struct fault *why)
{
	return exact_parse(text, DIMENSION_LENGTH, rules, length_um, why);
}

enum status mass_parse(
	const char *text, const struct number_rules *rules, int64_t *mass_mg, struct fault *why)
{
	return exact_parse(text, DIMENSION_MASS, rules, mass_mg, why);
}

enum status volume_parse(
	const char *text, const struct number_rules *rules, int64_t *volume_ul, struct fault *why)
{
	return exact_parse(text, DIMENSION_VOLUME, rules, volume_ul, why);
}

enum status temperature_parse(const char *text, const struct number_rules *rules, bool difference,
	int32_t *decic, struct fault *why)
{
	int64_t base = 0;
	enum status status = exact_parse(text, DIMENSION_TEMPERATURE, rules, &base, why);
	if (status != STATUS_OK)
		return status;
	if (difference && strpbrk(text, "fF") != NULL) {
		/* Read as a point of the scale, 32 came off; a gap has none: 2 F is 1.1 C. */
		struct amount_notes notes;
		struct amount amount;
		struct plain plain;
		size_t used = 0;
		if (plain_make(text, PLAIN_SIZE, &plain, why) != STATUS_OK ||
			amount_scan_plain(plain.low, rules, &amount, &notes, &used, why) !=
				STATUS_OK)
			return STATUS_SYNTAX;
		base = unit_to_base(unit_named("F"), notes.low, true);
	}
	if (base < -1000 || base > 1000)
		return fault_set(why, STATUS_RANGE, "'%.60s' is outside -100..100 C", text);
	*decic = (int32_t)base;
	return STATUS_OK;
}
