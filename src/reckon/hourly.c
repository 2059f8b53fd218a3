/* SPDX-License-Identifier: MIT */
#include "reckon/hourly.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

static const double pi = 3.14159265358979323846;
static const double sun_edge_deg = -0.8333; /* refraction 34' and half the sun's width */
static const double lag_h = 4; /* the sine is as long as the day and this: highest at noon + 2 h */

static double radians(double degrees)
{
	return degrees * pi / 180;
}

/* Spencer 1971, radians. */
static double declination_rad(int32_t day_of_year)
{
	double g = 2 * pi * (day_of_year - 1) / 365;

	return 0.006918 - 0.399912 * cos(g) + 0.070257 * sin(g) - 0.006758 * cos(2 * g) +
	       0.000907 * sin(2 * g) - 0.002697 * cos(3 * g) + 0.00148 * sin(3 * g);
}

static struct daylight daylight_of(double latitude_deg, int32_t day_of_year)
{
	double latitude = radians(latitude_deg);
	double declination = declination_rad(day_of_year);
	double across = cos(latitude) * cos(declination);
	double height = sin(radians(sun_edge_deg)) - sin(latitude) * sin(declination);

	if (height <= -across)
		return (struct daylight){SUN_STAYS_UP, 0, 24, 24};
	if (height >= across)
		return (struct daylight){SUN_STAYS_DOWN, 12, 12, 0};
	double half_h = acos(height / across) * 12 / pi;
	return (struct daylight){SUN_RISES, 12 - half_h, 12 + half_h, 2 * half_h};
}

enum status hourly_daylight(
	double latitude_deg, int32_t day_of_year, struct daylight *out, struct fault *why)
{
	if (!(latitude_deg >= -90 && latitude_deg <= 90))
		return fault_set(
			why, STATUS_RANGE, "latitude %g is outside -90..90 degrees", latitude_deg);
	if (day_of_year < 1 || day_of_year > 366)
		return fault_set(
			why, STATUS_RANGE, "day %d of the year is outside 1..366", day_of_year);
	*out = daylight_of(latitude_deg, day_of_year);
	return STATUS_OK;
}

static enum status check_extremes(const struct extremes *day, struct fault *why)
{
	if (day == NULL)
		return STATUS_OK;
	if (!(day->min_c >= HOURLY_LOWEST_C && day->max_c <= HOURLY_HIGHEST_C))
		return fault_set(why, STATUS_RANGE, "%g to %g C is outside %d..%d C", day->min_c,
			day->max_c, HOURLY_LOWEST_C, HOURLY_HIGHEST_C);
	if (!(day->min_c <= day->max_c))
		return fault_set(why, STATUS_RANGE, "minimum %g C is above maximum %g C",
			day->min_c, day->max_c);
	return STATUS_OK;
}

static double by_day(const struct extremes *day, const struct daylight *light, double hour)
{
	double turn = pi * (hour - light->rise_h) / (light->length_h + lag_h);

	return day->min_c + (day->max_c - day->min_c) * sin(turn);
}

/* since_h hours after a sunset at set_c, in a night that ends at next_c. */
static double by_night(double set_c, double next_c, double since_h, double night_h)
{
	return set_c - (set_c - next_c) * log(since_h + 1) / log(night_h + 1);
}

struct days {
	const struct extremes *before;
	const struct extremes *today;
	const struct extremes *after;
	struct daylight light[3]; /* yesterday, today, tomorrow */
};

static double at_hour(const struct days *days, double hour)
{
	const struct daylight *light = &days->light[1];

	if (hour <= light->rise_h) {
		double set_c = by_day(days->before, &days->light[0], days->light[0].set_h);
		double since_h = hour + 24 - days->light[0].set_h;
		double night_h = light->rise_h + 24 - days->light[0].set_h;
		return by_night(set_c, days->today->min_c, since_h, night_h);
	}
	if (hour <= light->set_h)
		return by_day(days->today, light, hour);
	double set_c = by_day(days->today, light, light->set_h);
	double night_h = 24 - light->set_h + days->light[2].rise_h;
	return by_night(set_c, days->after->min_c, hour - light->set_h, night_h);
}

static bool has_nights(const struct days *days)
{
	for (int32_t i = 0; i < 3; i++)
		if (days->light[i].course != SUN_RISES)
			return false;
	return true;
}

enum status hourly_of_day(double latitude_deg, int32_t day_of_year, const struct extremes *before,
	const struct extremes *today, const struct extremes *after, struct hours *out,
	struct fault *why)
{
	struct days days = {.before = before, .today = today, .after = after};
	enum status status = hourly_daylight(latitude_deg, day_of_year, &days.light[1], why);

	if (status == STATUS_OK)
		status = check_extremes(before, why);
	if (status == STATUS_OK)
		status = check_extremes(today, why);
	if (status == STATUS_OK)
		status = check_extremes(after, why);
	if (status != STATUS_OK)
		return status;
	days.light[0] = daylight_of(latitude_deg, day_of_year > 1 ? day_of_year - 1 : 365);
	days.light[2] = daylight_of(latitude_deg, day_of_year < 365 ? day_of_year + 1 : 1);
	*out = (struct hours){.from = 0, .to = HOURS_A_DAY};
	bool nights = has_nights(&days);
	for (int32_t hour = 0; hour < HOURS_A_DAY; hour++) {
		if (nights && before == NULL && hour <= days.light[1].rise_h)
			out->from = hour + 1;
		else if (nights && after == NULL && hour > days.light[1].set_h)
			out->to = out->to < hour ? out->to : hour;
		else
			out->celsius[hour] =
				nights ? at_hour(&days, hour) : (today->min_c + today->max_c) / 2;
	}
	return STATUS_OK;
}
