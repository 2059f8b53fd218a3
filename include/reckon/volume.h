/* SPDX-License-Identifier: MIT */
/* volume.h - how much mulch a ring takes, what a pot holds, what goes back into a hole, how many
 * bags that is.
 *
 * Lengths in m, areas in m2, volumes in litres, all double. Geometry: exact to the digits of a
 * double; what is heaped, settles or is packed differs from it. Pure. */
#ifndef RECKON_VOLUME_H
#define RECKON_VOLUME_H

#include <stdint.h>

#include "core/fault.h"

/* Every length is at most this, and every area at most its square: beyond it somebody slipped. */
enum { VOLUME_LENGTH_MAX_M = 1000 };

/* Purpose: ground of a ring, m2, between a round piece left bare about the trunk and the edge.
 * Given: how far it is across outside, and from the middle of the trunk to where it begins (0: a
 *   disc). STATUS_RANGE: not a number, below 0, above 1000 m, or nothing lies between.
 * Formula: pi (Ro^2 - Ri^2). Example: 12 ft across, 1 ft left bare: 109.96 sq ft. */
enum status volume_ring_m2(
	double across_m, double bare_radius_m, double *out, struct fault *why) MUST_CHECK;
/* Purpose: litres of a layer: 1 m2 by 1 mm is a litre, 1 sq ft by 1 in a twelfth of a cubic foot.
 * STATUS_RANGE: an area or depth that is not above 0, or too large.
 * Example: 1,000 sq ft, 2 in: 6.17 cu yd. */
enum status volume_layer_l(
	double area_m2, double depth_m, double *out, struct fault *why) MUST_CHECK;
/* Purpose: litres of a round pot or hole that narrows evenly; ends of one width: a cylinder.
 * Formula: pi h / 12 (D1^2 + D1 D2 + D2^2), a frustum of a cone. One end may be 0 across.
 * STATUS_RANGE: below 0, not a number, no height, or both ends 0.
 * Example: 153 and 135 mm across, 175 mm high: 2.85 l. */
enum status volume_cone_l(
	double top_m, double bottom_m, double height_m, double *out, struct fault *why) MUST_CHECK;
/* Purpose: litres that go back into a hole beside the ball. STATUS_RANGE: below 0, or the ball is
 *   larger than the hole: it does not go in. Example: 7.07 and 0.66 cu ft: 6.41. */
enum status volume_backfill_l(
	double hole_l, double ball_l, double *out, struct fault *why) MUST_CHECK;
/* Purpose: whole bags to buy. A millionth over a whole number is rounding, and no bag more.
 * STATUS_RANGE: not above 0. Example: 83.33 cu ft in bags of 2: 42. */
enum status volume_bags(double volume_l, double bag_l, int64_t *out, struct fault *why) MUST_CHECK;

#endif
