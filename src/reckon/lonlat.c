/* SPDX-License-Identifier: MIT */
#include "reckon/lonlat.h"

#include <math.h>

static const double equator_m = 6378137.0;
static const double flattening = 1.0 / 298.257223563;
static const double degree = 3.14159265358979323846 / 180.0;
static const double um_in_m = 1e6;
static const double udeg_in_deg = 1e6;
static const double pole_deg = 89.0;

static int is_far(int64_t um)
{
	return um > LONLAT_FAR_UM || um < -LONLAT_FAR_UM;
}

enum status lonlat_of(int32_t latitude_udeg, int32_t longitude_udeg, int64_t east_um,
	int64_t north_um, struct lonlat *out, struct fault *why)
{
	const double latitude_deg = latitude_udeg / udeg_in_deg;
	const double squared = flattening * (2.0 - flattening); /* eccentricity */
	const double sine = sin(latitude_deg * degree);
	const double w = 1.0 - squared * sine * sine;
	const double meridian_m = equator_m * (1.0 - squared) / pow(w, 1.5); /* 4-18 */
	const double normal_m = equator_m / sqrt(w);                         /* 4-20 */

	if (is_far(east_um) || is_far(north_um))
		return fault_set(why, STATUS_RANGE, "it lies over 10 km from the place's zero");
	if (fabs(latitude_deg) > pole_deg)
		return fault_set(why, STATUS_RANGE, "no plan within a degree of a pole");
	const double north_deg = (double)north_um / um_in_m / meridian_m / degree;
	const double parallel_m = normal_m * cos(latitude_deg * degree);
	const double east_deg = (double)east_um / um_in_m / parallel_m / degree;
	const struct lonlat found = {
		longitude_udeg / udeg_in_deg + east_deg, latitude_deg + north_deg};

	if (fabs(found.longitude_deg) > 180.0)
		return fault_set(why, STATUS_RANGE, "it lies across 180 degrees of longitude");
	*out = found;
	return STATUS_OK;
}
