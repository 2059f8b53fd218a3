/* SPDX-License-Identifier: MIT */
/* plan_near.h - which points lie in a part of the yard, and which is next in a direction. Pure.
 *
 * The points are put into a grid of about as many squares as there are points, once; looking then
 * costs by what lies in the part looked at, not by how many there are. */
#ifndef SCREENS_PLAN_NEAR_H
#define SCREENS_PLAN_NEAR_H

#include "dossier/plot.h"

struct plan_bounds { /* all ends in */
	int64_t west_um, east_um, south_um, north_um;
};

struct plan_bounds plan_bounds_of(const struct plot_point *at);
void plan_bounds_widen(struct plan_bounds *bounds, const struct plot_point *at);

struct plan_near {
	const struct plot_point *points;
	int32_t count;
	struct plan_bounds all; /* of the points; nothing known when count is 0 */
	int64_t side_um;        /* of a square */
	int32_t across, up;     /* squares */
	int32_t *starts;        /* into `places`, by square; one more than squares */
	int32_t *places;        /* of points, square by square */
};

/* points: each within PLOT_FAR_UM of the zero; they and the grid live in arena. */
void plan_near_make(
	const struct plot_point *points, int32_t count, struct arena *arena, struct plan_near *out);
/* Places of the points in the bounds, in no order of note; fills at most most, returns how many
 * it filled. */
int32_t plan_near_within(
	const struct plan_near *near, const struct plan_bounds *bounds, int32_t *out, int32_t most);
/* The point nearest to another one; -1: there is none. */
int32_t plan_near_nearest(const struct plan_near *near, struct plot_point to);

enum plan_way { PLAN_NORTH, PLAN_EAST, PLAN_SOUTH, PLAN_WEST };
/* The next point that way: the nearest within 45 degrees of it; where there is none, the one that
 * turns off least. -1: none lies that way. */
int32_t plan_near_toward(const struct plan_near *near, struct plot_point from, enum plan_way way);

#endif
