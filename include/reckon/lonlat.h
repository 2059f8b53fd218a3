/* SPDX-License-Identifier: MIT */
/* lonlat.h - metres east and north of a place as degrees of longitude and latitude (WGS 84). */
#ifndef RECKON_LONLAT_H
#define RECKON_LONLAT_H

#include "core/fault.h"

#include <stdint.h>

struct lonlat {
	double longitude_deg;
	double latitude_deg;
};

/* Beyond this from its zero a yard is no plane: 10 km. */
#define LONLAT_FAR_UM INT64_C(10000000000)

/* The plane that touches the ellipsoid at the place: north over the radius of curvature in the
 * meridian, east over the radius of the parallel. Given: the place in micro-degrees, east_um and
 * north_um within LONLAT_FAR_UM of it. Accuracy below 70 degrees of latitude: half a metre at 1 km,
 * 0.01 m at 100 m: the curve that a plane leaves out. STATUS_RANGE: farther than that, within a
 * degree of a pole, or across 180 degrees of longitude, where one plan would be two.
 * Reference: J. P. Snyder, Map Projections - A Working Manual, US Geological Survey Professional
 * Paper 1395 (1987), pages 24-25, equations 4-18 and 4-20; the ellipsoid: World Geodetic System
 * 1984, a = 6,378,137 m, 1/f = 298.257223563. */
enum status lonlat_of(int32_t latitude_udeg, int32_t longitude_udeg, int64_t east_um,
	int64_t north_um, struct lonlat *out, struct fault *why) MUST_CHECK;

#endif
