/* SPDX-License-Identifier: MIT */
/* Sun, reference evapotranspiration, crop coefficients, areas. */
#include "reckon/water.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reckon/hourly.h"

static const double pi = 3.14159265358979323846;
static const double solar_constant = 0.0820; /* MJ per m2 and minute, FAO-56 eq. 21 */
static const double mm_per_mj = 0.408;       /* water that a MJ per m2 evaporates, eq. 20 */
static const double hargreaves = 0.0023;     /* eq. 52, with the two below */
static const double hargreaves_c = 17.8;
static const double krs_inland = 0.16; /* eq. 50 */

/* --- sun --- */

enum status water_sun_of_day(
	double latitude_deg, int32_t day_of_year, struct water_sun *out, struct fault *why)
{
	if (!(latitude_deg >= -90 && latitude_deg <= 90))
		return fault_set(
			why, STATUS_RANGE, "latitude %g is outside -90..90 degrees", latitude_deg);
	if (day_of_year < 1 || day_of_year > 366)
		return fault_set(
			why, STATUS_RANGE, "day %d of the year is outside 1..366", day_of_year);
	double latitude = latitude_deg * pi / 180;
	double turn = 2 * pi * day_of_year / 365;
	double distance = 1 + 0.033 * cos(turn);
	double declination = 0.409 * sin(turn - 1.39);
	double edge = -tan(latitude) * tan(declination);
	double sunset = acos(edge < -1 ? -1 : edge > 1 ? 1 : edge);
	double height = sunset * sin(latitude) * sin(declination) +
			cos(latitude) * cos(declination) * sin(sunset);
	*out = (struct water_sun){
		.distance = distance,
		.declination_rad = declination,
		.sunset_rad = sunset,
		.radiation_mj = 24 * 60 / pi * solar_constant * distance * height,
		.daylight_h = 24 * sunset / pi,
	};
	return STATUS_OK;
}

static enum status check_extremes(double min_c, double max_c, struct fault *why)
{
	if (!(min_c >= HOURLY_LOWEST_C && max_c <= HOURLY_HIGHEST_C))
		return fault_set(why, STATUS_RANGE, "%g to %g C is outside %d..%d C", min_c, max_c,
			HOURLY_LOWEST_C, HOURLY_HIGHEST_C);
	if (!(min_c <= max_c))
		return fault_set(
			why, STATUS_RANGE, "minimum %g C is above maximum %g C", min_c, max_c);
	return STATUS_OK;
}

enum status water_solar_mj(
	double radiation_mj, double min_c, double max_c, double *out, struct fault *why)
{
	enum status status = check_extremes(min_c, max_c, why);

	if (status != STATUS_OK)
		return status;
	if (!(radiation_mj >= 0 && isfinite(radiation_mj)))
		return fault_set(
			why, STATUS_RANGE, "a radiation of %g MJ is below nothing", radiation_mj);
	*out = krs_inland * sqrt(max_c - min_c) * radiation_mj;
	return STATUS_OK;
}

enum status water_reference_mm(double latitude_deg, int32_t day_of_year, double min_c, double max_c,
	double *out, struct fault *why)
{
	struct water_sun sun;
	enum status status = check_extremes(min_c, max_c, why);

	if (status == STATUS_OK)
		status = water_sun_of_day(latitude_deg, day_of_year, &sun, why);
	if (status != STATUS_OK)
		return status;
	if (sun.sunset_rad <= 0)
		return fault_set(why, STATUS_RANGE,
			"day %d is polar night at latitude %g: no sun to reckon from", day_of_year,
			latitude_deg);
	double warmth = (min_c + max_c) / 2 + hargreaves_c;
	*out = warmth <= 0
		       ? 0
		       : hargreaves * warmth * sqrt(max_c - min_c) * mm_per_mj * sun.radiation_mj;
	return STATUS_OK;
}

/* --- crop --- */

/* The rows of one stage, most telling first: the ground as it is, then none. */
static const struct fact_row *kc_row(
	const struct species *species, const char *stage, const struct water_ground *ground)
{
	static const char *const bare_or_cover[] = {"bare", "cover"};
	const char *cover = bare_or_cover[ground->covered];
	int32_t share = ground->canopy_share >= 0.6 ? 70 : ground->canopy_share >= 0.35 ? 50 : 20;
	char keys[4][KEY_SIZE];

	snprintf(keys[0], KEY_SIZE, "kc-%s-%s-%s", stage, cover,
		ground->killing_frost ? "frost" : "no-frost");
	snprintf(keys[1], KEY_SIZE, "kc-%s-%s-%d", stage, cover, share);
	snprintf(keys[2], KEY_SIZE, "kc-%s-%s", stage, cover);
	snprintf(keys[3], KEY_SIZE, "kc-%s", stage);
	for (int32_t i = 0; i < 4; i++) {
		const struct fact_row *row = species_fact(species, keys[i]);
		if (row != NULL && row->low.known)
			return row;
	}
	/* a table of bare ground only */
	snprintf(keys[0], KEY_SIZE, "kc-%s-bare", stage);
	return species_fact(species, keys[0]);
}

static enum known_by least_sure(enum known_by a, enum known_by b)
{
	return a > b ? a : b;
}

static struct water_kc stand_in(const struct species *species)
{
	const struct fact_row *row = species_fact(species, "kc-stand-in");

	if (row == NULL || !row->low.known || !row->high.known)
		return (struct water_kc){.known = false};
	return (struct water_kc){
		.known = true,
		.early = (double)row->low.value / 1000,
		.mid = (double)row->high.value / 1000,
		.late = (double)(row->low.value + row->high.value) / 2000,
		.source = row->source,
		.sure = row->sure,
		.stands_in = true,
	};
}

struct water_kc water_kc_of(const struct species *species, const struct water_ground *ground)
{
	const struct fact_row *early = kc_row(species, "ini", ground);
	const struct fact_row *mid = kc_row(species, "mid", ground);
	const struct fact_row *late = kc_row(species, "end", ground);

	if (early == NULL || mid == NULL || late == NULL)
		return stand_in(species);
	return (struct water_kc){
		.known = true,
		.early = (double)early->low.value / 1000,
		.mid = (double)mid->low.value / 1000,
		.late = (double)late->low.value / 1000,
		.source = mid->source,
		.sure = least_sure(early->sure, least_sure(mid->sure, late->sure)),
	};
}

struct water_kc water_kc_flat(const struct water_kc *kc, bool most)
{
	struct water_kc flat = *kc;
	double end = most ? fmax(kc->early, fmax(kc->mid, kc->late))
			  : fmin(kc->early, fmin(kc->mid, kc->late));

	flat.early = flat.mid = flat.late = end;
	return flat;
}

static enum status check_amount(double value, const char *what, struct fault *why)
{
	if (!(value >= 0 && isfinite(value)))
		return fault_set(
			why, STATUS_RANGE, "%s of %g is no amount of 0 or more", what, value);
	return STATUS_OK;
}

enum status water_crop_mm(double kc, double reference_mm, double *out, struct fault *why)
{
	enum status status = check_amount(kc, "a crop coefficient", why);

	if (status == STATUS_OK)
		status = check_amount(reference_mm, "a use in mm", why);
	if (status == STATUS_OK)
		*out = kc * reference_mm;
	return status;
}

enum status water_canopy_m2(double spread_m, double *out, struct fault *why)
{
	if (!(spread_m > 0 && isfinite(spread_m)))
		return fault_set(why, STATUS_RANGE, "a spread of %g m gives no area", spread_m);
	*out = pi / 4 * spread_m * spread_m;
	return STATUS_OK;
}

enum status water_litres(
	double depth_mm, double area_m2, double efficiency, double *out, struct fault *why)
{
	enum status status = check_amount(depth_mm, "a depth in mm", why);

	if (status != STATUS_OK)
		return status;
	if (!(area_m2 > 0 && isfinite(area_m2)))
		return fault_set(why, STATUS_RANGE, "an area of %g m2 takes no water", area_m2);
	if (!(efficiency > 0 && efficiency <= 1))
		return fault_set(why, STATUS_RANGE, "an efficiency of %g is outside above 0 to 1",
			efficiency);
	*out = depth_mm * area_m2 / efficiency;
	return STATUS_OK;
}
