/* SPDX-License-Identifier: MIT */
#include "reckon/volume.h"

#include <math.h>

#include "core/measure.h"

static const double pi = 3.14159265358979323846;
static const double l_in_m3 = 1000;
static const double volume_max_l = 1e15; /* a layer of the largest length over the largest area */

static enum status check_length(double length_m, const char *what, struct fault *why)
{
	if (!(length_m >= 0 && length_m <= VOLUME_LENGTH_MAX_M))
		return fault_set(why, STATUS_RANGE, "%s of %g m is outside 0..%d m", what, length_m,
			VOLUME_LENGTH_MAX_M);
	return STATUS_OK;
}

static enum status check_volume(double volume_l, const char *what, struct fault *why)
{
	if (!(volume_l > 0 && volume_l <= volume_max_l))
		return fault_set(
			why, STATUS_RANGE, "%s of %g l is no volume above 0", what, volume_l);
	return STATUS_OK;
}

enum status volume_ring_m2(double across_m, double bare_radius_m, double *out, struct fault *why)
{
	enum status status = check_length(across_m, "a ring", why);

	if (status == STATUS_OK)
		status = check_length(bare_radius_m, "bare ground", why);
	if (status != STATUS_OK)
		return status;
	double outer_m = across_m / 2;
	if (bare_radius_m >= outer_m)
		return fault_set(why, STATUS_RANGE,
			"bare ground to %g m from the middle leaves nothing of a ring %g m across",
			bare_radius_m, across_m);
	*out = pi * (outer_m * outer_m - bare_radius_m * bare_radius_m);
	return STATUS_OK;
}

enum status volume_layer_l(double area_m2, double depth_m, double *out, struct fault *why)
{
	enum status status = check_length(depth_m, "a depth", why);
	const double area_max_m2 = (double)VOLUME_LENGTH_MAX_M * VOLUME_LENGTH_MAX_M;

	if (status != STATUS_OK)
		return status;
	if (!(area_m2 > 0 && area_m2 <= area_max_m2))
		return fault_set(why, STATUS_RANGE, "an area of %g m2 is outside above 0 to %g m2",
			area_m2, area_max_m2);
	if (depth_m <= 0)
		return fault_set(why, STATUS_RANGE, "a layer of no depth holds nothing");
	*out = area_m2 * depth_m * l_in_m3;
	return STATUS_OK;
}

enum status volume_cone_l(
	double top_m, double bottom_m, double height_m, double *out, struct fault *why)
{
	enum status status = check_length(top_m, "a top", why);

	if (status == STATUS_OK)
		status = check_length(bottom_m, "a bottom", why);
	if (status == STATUS_OK)
		status = check_length(height_m, "a height", why);
	if (status != STATUS_OK)
		return status;
	double squares_m2 = top_m * top_m + top_m * bottom_m + bottom_m * bottom_m;
	if (squares_m2 <= 0 || height_m <= 0)
		return fault_set(why, STATUS_RANGE, "%g and %g m across, %g m high holds nothing",
			top_m, bottom_m, height_m);
	*out = pi * height_m / 12 * squares_m2 * l_in_m3;
	return STATUS_OK;
}

enum status volume_backfill_l(double hole_l, double ball_l, double *out, struct fault *why)
{
	enum status status = check_volume(hole_l, "a hole", why);

	if (status == STATUS_OK)
		status = check_volume(ball_l, "a ball", why);
	if (status != STATUS_OK)
		return status;
	if (ball_l > hole_l)
		return fault_set(why, STATUS_RANGE,
			"a ball of %.4g l does not go into a hole of %.4g l", ball_l, hole_l);
	*out = hole_l - ball_l;
	return STATUS_OK;
}

enum status volume_bags(double volume_l, double bag_l, int64_t *out, struct fault *why)
{
	const double rounding = 1e-6;
	enum status status = check_volume(volume_l, "an amount", why);

	if (status == STATUS_OK)
		status = check_volume(bag_l, "a bag", why);
	if (status != STATUS_OK)
		return status;
	double bags = ceil(volume_l / bag_l - rounding);
	if (bags > 1e15)
		return fault_set(why, STATUS_RANGE, "%g bags are too many to count", bags);
	*out = bags < 1 ? 1 : round_i64(bags);
	return STATUS_OK;
}
