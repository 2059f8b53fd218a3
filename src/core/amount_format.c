/* SPDX-License-Identifier: MIT */
/* Amounts as people read them: the place's units, as many digits as the size deserves. */
#include "core/amount_parts.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double mg_in_lb = 453592.37;
static const double um_in_inch = 25400;

/* "2.50" as "2.5", "12.0" as "12". */
static void trim_zeros(char *text)
{
	if (strchr(text, '.') == NULL)
		return;
	size_t length = strlen(text);
	while (text[length - 1] == '0')
		length--;
	if (text[length - 1] == '.')
		length--;
	text[length] = '\0';
}

/* value with at most `places` places, and its unit. */
static const char *put_figure(double value, int places, const char *unit, char *out, int size)
{
	char figure[48];
	(void)snprintf(figure, sizeof(figure), "%.*f", places, value);
	trim_zeros(figure);
	if (strcmp(figure, "-0") == 0)
		memcpy(figure, "0", 2);
	(void)snprintf(out, (size_t)size, "%s%s%s", figure, unit[0] == '\0' ? "" : " ", unit);
	return out;
}

/* Whole large units and whole small ones: "6 lb 4 oz", "12 ft 6 in"; the small part only if any. */
static const char *put_two(int64_t small, int64_t per_large, const char *large_unit,
	const char *small_unit, char *out, int size)
{
	long long whole = small / per_large;
	long long rest = small % per_large;
	if (rest == 0)
		(void)snprintf(out, (size_t)size, "%lld %s", whole, large_unit);
	else
		(void)snprintf(
			out, (size_t)size, "%lld %s %lld %s", whole, large_unit, rest, small_unit);
	return out;
}

const char *mass_format(int64_t mass_mg, enum unit_system units, char *out, int size)
{
	double mg = (double)mass_mg;
	if (units == UNITS_US) {
		double lb = mg / mg_in_lb;
		int64_t ounces = round_i64(lb * 16);
		if (lb < 1 && ounces < 16)
			return put_figure(lb * 16, 1, "oz", out, size);
		if (ounces < 20 * 16)
			return put_two(ounces, 16, "lb", "oz", out, size);
		return put_figure(lb, lb < 1000 ? 1 : 0, "lb", out, size);
	}
	if (mass_mg < 1000)
		return put_figure(mg, 0, "mg", out, size);
	if (mass_mg < 1000000)
		return put_figure(mg / 1e3, mass_mg < 10000 ? 2 : 0, "g", out, size);
	int places = mass_mg < 100000000 ? 2 : mass_mg < 1000000000 ? 1 : 0;
	return put_figure(mg / 1e6, places, "kg", out, size);
}

const char *length_format(int64_t length_um, enum unit_system units, char *out, int size)
{
	double um = (double)length_um;
	if (units == UNITS_US) {
		int64_t inches = round_i64(um / um_in_inch);
		if (inches >= 48)
			return put_two(inches, 12, "ft", "in", out, size);
		double exact = um / um_in_inch;
		return put_figure(exact, exact < 1 ? 2 : 1, "in", out, size);
	}
	if (length_um < 20000)
		return put_figure(um / 1e3, 1, "mm", out, size);
	if (length_um < 1500000)
		return put_figure(um / 1e4, 1, "cm", out, size);
	return put_figure(um / 1e6, 2, "m", out, size);
}

const char *volume_format(int64_t volume_ul, const struct number_rules *rules, char *out, int size)
{
	double ul = (double)volume_ul;
	if (rules->units == UNITS_US) {
		bool imperial = rules->gallon == GALLON_IMPERIAL;
		const struct unit *gallon = unit_named(imperial ? "imp gal" : "gal");
		double gallons = ul * (double)gallon->denominator / (double)gallon->numerator;
		double ounces = gallons * (imperial ? 160 : 128);
		if (gallons < 0.5)
			return put_figure(ounces, 1, imperial ? "imp fl oz" : "fl oz", out, size);
		return put_figure(gallons, gallons < 100 ? 1 : 0, gallon->name, out, size);
	}
	if (volume_ul < 1000000)
		return put_figure(ul / 1e3, 0, "ml", out, size);
	return put_figure(ul / 1e6, volume_ul < 100000000 ? 1 : 0, "l", out, size);
}

const char *temperature_format(int32_t decic, enum unit_system units, char *out, int size)
{
	if (units == UNITS_US)
		return put_figure(decic * 0.18 + 32, 0, "F", out, size);
	return put_figure(decic / 10.0, 1, "C", out, size);
}

const char *temperature_gap_format(int32_t decic, enum unit_system units, char *out, int size)
{
	const double rounding_f = 0.09; /* half of a tenth of a degree Celsius */
	double gap = fabs(decic / 10.0);

	if (units != UNITS_US)
		return put_figure(gap, 1, "C", out, size);
	gap *= 1.8;
	return put_figure(gap, fabs(gap - round(gap)) <= rounding_f + 1e-9 ? 0 : 1, "F", out, size);
}

/* Two significant figures. */
static const char *put_rough(double value, const char *unit, char *out, int size)
{
	if (value <= 0)
		return put_figure(0, 0, unit, out, size);
	int magnitude = (int)floor(log10(value));
	double step = pow(10, magnitude - 1);
	double rounded = round(value / step) * step;
	return put_figure(rounded, magnitude >= 1 ? 0 : 1 - magnitude, unit, out, size);
}

const char *mass_format_rough(int64_t mass_mg, enum unit_system units, char *out, int size)
{
	double mg = (double)mass_mg;
	if (units == UNITS_US) {
		double lb = mg / mg_in_lb;
		if (lb < 0.95)
			return put_rough(lb * 16, "oz", out, size);
		return put_rough(lb, "lb", out, size);
	}
	if (mass_mg < 100000000)
		return mg < 95000 ? put_rough(mg / 1e3, "g", out, size)
				  : put_rough(mg / 1e6, "kg", out, size);
	return put_rough(mg / 1e6, "kg", out, size);
}

const char *volume_format_rough(
	int64_t volume_ul, const struct number_rules *rules, char *out, int size)
{
	double ul = (double)volume_ul;
	if (rules->units == UNITS_US) {
		bool imperial = rules->gallon == GALLON_IMPERIAL;
		const struct unit *gallon = unit_named(imperial ? "imp gal" : "gal");
		double gallons = ul * (double)gallon->denominator / (double)gallon->numerator;
		return put_rough(gallons, gallon->name, out, size);
	}
	if (volume_ul < 950000)
		return put_rough(ul / 1e3, "ml", out, size);
	return put_rough(ul / 1e6, "l", out, size);
}

static const char *duration_format(int64_t seconds, char *out, int size)
{
	if (seconds >= 3600 && seconds % 60 == 0)
		return put_two(seconds / 60, 60, "h", "min", out, size);
	if (seconds % 60 == 0 && seconds > 0)
		return put_figure((double)seconds / 60, 0, "min", out, size);
	return put_figure((double)seconds, 0, "s", out, size);
}

static const char *area_format(int64_t area_mm2, enum unit_system units, char *out, int size)
{
	double mm2 = (double)area_mm2;
	if (units == UNITS_US)
		return put_figure(mm2 / 92903.04, 1, "sq ft", out, size);
	return put_figure(mm2 / 1e6, 2, "m2", out, size);
}

static const char *flow_format(int64_t flow_ulh, enum unit_system units, char *out, int size)
{
	double ulh = (double)flow_ulh;
	if (units == UNITS_US)
		return put_figure(ulh / 3785411.784, 2, "gal/h", out, size);
	return put_figure(ulh / 1e6, 2, "l/h", out, size);
}

static const char *speed_format(int64_t speed_mms, enum unit_system units, char *out, int size)
{
	double mms = (double)speed_mms;
	if (units == UNITS_US)
		return put_figure(mms / 447.04, 0, "mph", out, size);
	return put_figure(mms * 0.0036, 0, "km/h", out, size);
}

static const char *figure_format(int64_t base, enum dimension dimension,
	const struct number_rules *rules, char *out, int size)
{
	switch (dimension) {
	case DIMENSION_MASS:
		return mass_format(base, rules->units, out, size);
	case DIMENSION_LENGTH:
		return length_format(base, rules->units, out, size);
	case DIMENSION_VOLUME:
		return volume_format(base, rules, out, size);
	case DIMENSION_TEMPERATURE:
		return temperature_format((int32_t)base, rules->units, out, size);
	case DIMENSION_SHARE:
		return put_figure((double)base / 10, 1, "%", out, size);
	case DIMENSION_DURATION:
		return duration_format(base, out, size);
	case DIMENSION_DAYS:
		return put_figure((double)base, 0, base == 1 ? "day" : "days", out, size);
	case DIMENSION_FLOW:
		return flow_format(base, rules->units, out, size);
	case DIMENSION_SPEED:
		return speed_format(base, rules->units, out, size);
	case DIMENSION_AREA:
		return area_format(base, rules->units, out, size);
	case DIMENSION_CODE:
		return put_figure((double)base, 0, "", out, size);
	case DIMENSION_ANALYSIS:
		return put_figure((double)base / 1000, 3, "%", out, size);
	case DIMENSION_NONE:
	case DIMENSION_COUNT:
	case DIMENSION_TOTAL:
		break;
	}
	return put_figure((double)base / 1000, 3, "", out, size);
}

/* "3 stockpots", with nothing known of what one holds. */
static const char *containers_format(const struct amount *amount, char *out, int size)
{
	char low[24];
	char high[24];
	(void)put_figure((double)amount->containers_low.value / 1000, 2, "", low, sizeof(low));
	if (!amount->containers_high.known ||
		amount->containers_high.value == amount->containers_low.value) {
		(void)snprintf(out, (size_t)size, "%s x %s", low, amount->container);
		return out;
	}
	(void)put_figure((double)amount->containers_high.value / 1000, 2, "", high, sizeof(high));
	(void)snprintf(out, (size_t)size, "%s to %s x %s", low, high, amount->container);
	return out;
}

const char *amount_format(
	const struct amount *amount, const struct number_rules *rules, char *out, int size)
{
	char low[40];
	char high[40];
	if (amount->typed[0] != '\0') {
		(void)snprintf(out, (size_t)size, "%s", amount->typed);
		return out;
	}
	if (amount->none) {
		(void)snprintf(out, (size_t)size, "none");
		return out;
	}
	if (!amount->low.known) {
		if (amount->containers_low.known)
			return containers_format(amount, out, size);
		if (!amount->high.known) {
			(void)snprintf(out, (size_t)size, "amount not known");
			return out;
		}
		(void)figure_format(
			amount->high.value, amount->dimension, rules, high, sizeof(high));
		(void)snprintf(out, (size_t)size, "under %s", high);
		return out;
	}
	const char *about = amount->about ? "about " : "";
	(void)figure_format(amount->low.value, amount->dimension, rules, low, sizeof(low));
	if (!amount->high.known) {
		(void)snprintf(out, (size_t)size, "at least %s", low);
		return out;
	}
	(void)figure_format(amount->high.value, amount->dimension, rules, high, sizeof(high));
	if (amount->low.value == amount->high.value)
		(void)snprintf(out, (size_t)size, "%s%s", about, low);
	else if (amount->low.value == 0)
		(void)snprintf(out, (size_t)size, "under %s", high);
	else
		(void)snprintf(out, (size_t)size, "%s%s to %s", about, low, high);
	return out;
}
