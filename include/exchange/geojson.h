/* SPDX-License-Identifier: MIT */
/* geojson.h - the plan as other programs read it: RFC 7946 (The GeoJSON Format, August 2016).
 *
 * One FeatureCollection: a Point for each spot with who stands there; walls, gates and lines as
 * LineStrings, houses as Polygons with the corners counterclockwise (3.1.6). A spot without a
 * position, or elsewhere, is a feature without a geometry (3.2). Positions are longitude and
 * latitude with 7 decimals; bbox west, south, east, north (5). */
#ifndef EXCHANGE_GEOJSON_H
#define EXCHANGE_GEOJSON_H

#include <stdio.h>

#include "dossier/plot.h"

/* without_private: trees marked private are not named. STATUS_ABSENT: the place has no latitude
 * and longitude; STATUS_RANGE: a position that cannot be told (reckon/lonlat.h), by name. */
enum status geojson_write(
	FILE *stream, struct yard *yard, bool without_private, struct fault *why) MUST_CHECK;

#endif
