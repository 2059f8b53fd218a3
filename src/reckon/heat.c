/* SPDX-License-Identifier: MIT */
#include "reckon/heat.h"

#include <math.h>

#include "reckon/hourly.h"

static const double pi = 3.14159265358979323846;

/* Growing degree hours: base, best and critical temperature, C. */
static const double hour_base_c = 4;
static const double hour_best_c = 25;
static const double hour_critical_c = 36;

/* Area of the day's curve above a threshold. */
static double triangle_above(double min, double max, double threshold)
{
	if (max <= threshold)
		return 0;
	if (min >= threshold)
		return (min + max) / 2 - threshold;
	return (max - threshold) * (max - threshold) / (2 * (max - min));
}

static double sine_above(double min, double max, double threshold)
{
	double mean = (min + max) / 2;
	double half = (max - min) / 2;

	if (max <= threshold)
		return 0;
	if (min >= threshold)
		return mean - threshold;
	double angle = asin((threshold - mean) / half);
	return ((mean - threshold) * (pi / 2 - angle) + half * cos(angle)) / pi;
}

static double inside(double value, const struct heat_limits *limits)
{
	if (value < limits->lower)
		return limits->lower;
	return limits->has_upper && value > limits->upper ? limits->upper : value;
}

static enum status check(
	double min, double max, const struct heat_limits *limits, struct fault *why)
{
	if (!isfinite(min) || !isfinite(max))
		return fault_set(why, STATUS_RANGE, "%g to %g is no day's range", min, max);
	if (min > max)
		return fault_set(why, STATUS_RANGE, "minimum %g is above maximum %g", min, max);
	if (!isfinite(limits->lower))
		return fault_set(
			why, STATUS_RANGE, "lower threshold %g is no number", limits->lower);
	if (limits->has_upper && !(limits->upper > limits->lower && isfinite(limits->upper)))
		return fault_set(why, STATUS_RANGE, "upper threshold %g is not above the lower, %g",
			limits->upper, limits->lower);
	return STATUS_OK;
}

enum status heat_degree_days(enum heat_method method, double min, double max,
	const struct heat_limits *limits, double *out, struct fault *why)
{
	enum status status = check(min, max, limits, why);

	if (status != STATUS_OK)
		return status;
	switch (method) {
	case HEAT_AVERAGE:
		*out = inside((min + max) / 2, limits) - limits->lower;
		break;
	case HEAT_AVERAGE_LIFTED:
		*out = (inside(min, limits) + inside(max, limits)) / 2 - limits->lower;
		break;
	case HEAT_TRIANGLE:
		*out = triangle_above(min, max, limits->lower);
		if (limits->has_upper)
			*out -= triangle_above(min, max, limits->upper);
		break;
	case HEAT_SINE:
		*out = sine_above(min, max, limits->lower);
		if (limits->has_upper)
			*out -= sine_above(min, max, limits->upper);
		break;
	}
	return STATUS_OK;
}

enum status heat_degree_days_double(enum heat_method method, double min, double max,
	double next_min, const struct heat_limits *limits, double *out, struct fault *why)
{
	double morning = 0;
	double evening = 0;

	if (method != HEAT_TRIANGLE && method != HEAT_SINE)
		return fault_set(
			why, STATUS_RANGE, "only the triangle and the sine are cut in two at noon");
	enum status status = heat_degree_days(method, min, max, limits, &morning, why);
	if (status == STATUS_OK)
		status = heat_degree_days(method, next_min, max, limits, &evening, why);
	if (status == STATUS_OK)
		*out = (morning + evening) / 2;
	return status;
}

enum status heat_hour(double celsius, double *out, struct fault *why)
{
	double span = hour_best_c - hour_base_c;

	if (!(celsius >= HOURLY_LOWEST_C && celsius <= HOURLY_HIGHEST_C))
		return fault_set(why, STATUS_RANGE, "%g C is outside %d..%d C", celsius,
			HOURLY_LOWEST_C, HOURLY_HIGHEST_C);
	if (celsius < hour_base_c || celsius > hour_critical_c)
		*out = 0;
	else if (celsius <= hour_best_c)
		*out = span / 2 * (1 + cos(pi + pi * (celsius - hour_base_c) / span));
	else
		*out = span * (1 + cos(pi / 2 + pi / 2 * (celsius - hour_best_c) /
							(hour_critical_c - hour_best_c)));
	return STATUS_OK;
}

enum status heat_of_days(enum heat_method method, const struct day_weather *days, int32_t count,
	const struct heat_limits *limits_c, int32_t warmer_decic, struct day_span span,
	struct heat_span *out, struct fault *why)
{
	struct heat_span found = {0};
	enum status status = weather_days_check(days, count, span, why);

	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		const struct day_weather *day = &days[i];
		double today = 0;

		if (date_compare(day->day, span.from) < 0 || date_compare(day->day, span.to) > 0 ||
			!day->min_decic.known || !day->max_decic.known)
			continue;
		status = heat_degree_days(method, (day->min_decic.value + warmer_decic) / 10.0,
			(day->max_decic.value + warmer_decic) / 10.0, limits_c, &today, why);
		found.degree_days += today;
	}
	if (status != STATUS_OK)
		return status;
	found.cover = weather_days_cover(days, count, span);
	*out = found;
	return STATUS_OK;
}
