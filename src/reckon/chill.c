/* SPDX-License-Identifier: MIT */
#include "reckon/chill.h"

#include <math.h>

static double hour_units(double celsius)
{
	return celsius >= 0 && celsius <= 7.2 ? 1 : 0;
}

static double utah_units(double celsius)
{
	/* up to and with this many degrees C, this many units */
	static const struct {
		double to_c;
		double units;
	} steps[] = {{1.4, 0}, {2.4, 0.5}, {9.1, 1}, {12.4, 0.5}, {15.9, 0}, {18, -0.5}};

	for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++)
		if (celsius <= steps[i].to_c)
			return steps[i].units;
	return -1;
}

/* The Dynamic model's constants, as printed by Erez and others 1990: energies over the gas
 * constant in K, rates an hour. */
static const double e0_k = 4153.5;
static const double e1_k = 12888.8;
static const double a0 = 139500;
static const double a1 = 2.567e18;
static const double slope = 1.6;
static const double tf_k = 277;
static const double zero_c_k = 273; /* not 273.15: the constants were fitted with this */

static void add_dynamic(struct chill *chill, double celsius)
{
	double kelvin = celsius + zero_c_k;
	double level = a0 / a1 * exp((e1_k - e0_k) / kelvin); /* where the store settles */
	double rate = a1 * exp(-e1_k / kelvin);
	double store = level - (level - chill->store) * exp(-rate);

	if (store >= 1) {
		double fixed = 1 / (1 + exp(-slope * tf_k * (kelvin - tf_k) / kelvin));
		chill->portions += fixed * store;
		store *= 1 - fixed;
	}
	chill->store = store;
}

enum status chill_add_hour(struct chill *chill, double celsius, struct fault *why)
{
	if (!(celsius >= HOURLY_LOWEST_C && celsius <= HOURLY_HIGHEST_C))
		return fault_set(why, STATUS_RANGE, "%g C is outside %d..%d C", celsius,
			HOURLY_LOWEST_C, HOURLY_HIGHEST_C);
	double utah = utah_units(celsius);
	chill->hours++;
	chill->chilling_hours += hour_units(celsius);
	chill->utah += utah;
	chill->utah_positive += utah > 0 ? utah : 0;
	add_dynamic(chill, celsius);
	return STATUS_OK;
}

void chill_add_gap(struct chill *chill)
{
	chill->store = 0;
	chill->gaps++;
}

enum status chill_add_hours(
	struct chill *chill, const struct hours *hours, bool *told, struct fault *why)
{
	enum status status = STATUS_OK;

	for (int32_t hour = 0; status == STATUS_OK && hour < HOURS_A_DAY; hour++) {
		bool is_known = hour >= hours->from && hour < hours->to;

		if (is_known && !*told && chill->hours > 0)
			chill_add_gap(chill);
		if (is_known)
			status = chill_add_hour(chill, hours->celsius[hour], why);
		*told = is_known;
	}
	return status;
}

enum status chill_of_days(const struct day_weather *days, int32_t count, double latitude_deg,
	int32_t warmer_decic, struct day_span span, struct chill_span *out, struct fault *why)
{
	const struct weather_record record = {.days = days,
		.day_count = count,
		.has_latitude = true,
		.latitude_deg = latitude_deg,
		.warmer_decic = warmer_decic};
	struct chill_span found = {0};
	struct daylight light;
	bool told = false;

	enum status status = hourly_daylight(latitude_deg, 1, &light, why);
	if (status == STATUS_OK)
		status = weather_days_check(days, count, span, why);
	for (struct date day = span.from; status == STATUS_OK && date_compare(day, span.to) <= 0;
		day.day++) {
		enum hours_from from;
		struct hours hours;

		status = weather_hours_of_day(&record, day, &hours, &from, why);
		if (status == STATUS_OK)
			status = chill_add_hours(&found.chill, &hours, &told, why);
	}
	if (status != STATUS_OK)
		return status;
	found.cover = weather_days_cover(days, count, span);
	*out = found;
	return STATUS_OK;
}
