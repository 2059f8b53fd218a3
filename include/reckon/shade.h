/* SPDX-License-Identifier: MIT */
/* shade.h - hours of direct sun at a spot, behind what stands around it. Pure.
 *
 * Metres from the place's own zero, east and north positive, on flat ground. A wall or house is a
 * line of corners as high as it is; a tree is an upright drum as wide as its spread, from the
 * ground to its top, which lets nothing through: in leaf all the year. Clear sky is taken.
 * Sun is counted while its centre stands above a flat horizon (then, lifted by air, the whole of
 * it is up), so a day here is some minutes shorter than from rise to set.
 * A tree that looks lower than half a degree is left out.
 * Method: each obstacle hides the sun where that stands inside the sector it takes up and lower
 * than its top seen from the spot; sectors by quarter degrees, sun by five minutes of every second
 * day. Accuracy: about 2 minutes a day of what is drawn; the drawing is coarser. */
#ifndef RECKON_SHADE_H
#define RECKON_SHADE_H

#include "core/memory.h"
#include "reckon/sun.h"

struct shade_point {
	double east_m;
	double north_m;
};

enum shade_kind { SHADE_BUILT, SHADE_TREE, SHADE_KINDS };

/* What can stand between a spot and the sun. */
struct shade_body {
	enum shade_kind kind;
	const struct shade_point *points; /* built: its corners in order; a tree: where it stands */
	int32_t point_count;
	bool closed;     /* built: the last corner is joined to the first */
	double radius_m; /* of a tree */
	double height_m;
};

/* What is seen all round from one point: by quarter degrees of azimuth the tangent of the highest
 * top, built things and trees apart. */
enum { SHADE_SECTORS = 1440 };
struct shade_horizon {
	struct shade_edge {
		float tangent; /* 0: nothing */
		int32_t body;  /* its place in the list; -1: nothing */
	} edges[SHADE_KINDS][SHADE_SECTORS];
	int32_t over; /* a tree whose crown reaches over the point; -1: none */
};
/* Purpose: the horizon of a point level_m above the ground. Bodies no higher hide nothing.
 * is_own: of the bodies that are the spot's own and hide nothing from it; NULL: none.
 * Edge: a point inside a crown has no sun but from the zenith, which is said by `over`. */
void shade_look(const struct shade_point *from, double level_m, const struct shade_body *bodies,
	const bool *is_own, int32_t count, struct shade_horizon *out);

/* The sun's way over a number of days, made once for all spots of a place. */
struct shade_path;
struct shade_days {
	struct date from;
	struct date to; /* both ends in */
	int32_t every_days;
	int32_t every_min;
};
/* STATUS_RANGE: as sun_position. The path lives in arena. */
enum status shade_path_make(const struct sun_site *site, const struct shade_days *days,
	struct arena *arena, const struct shade_path **out, struct fault *why) MUST_CHECK;
/* A calendar year, as the header above says. */
enum status shade_path_of_year(const struct sun_site *site, int32_t year, struct arena *arena,
	const struct shade_path **out, struct fault *why) MUST_CHECK;

/* Minutes of a mean day of one month; of the path's days only. Zero days: nothing is known. */
struct shade_month {
	int32_t days;
	double up_min;
	double sun_min;
	double hidden_min[SHADE_KINDS]; /* trees: only what no built thing hides already */
	double afternoon_up_min;        /* from the sun's highest on */
	double afternoon_sun_min;
};
enum { MONTHS = 12 };
void shade_months(const struct shade_path *path, const struct shade_horizon *horizon,
	struct shade_month out[MONTHS]);

/* Which of the bodies hide the sun: minutes of a mean day, by the body's place in the list. */
struct shade_when {
	uint32_t months;      /* a bit each, January the lowest */
	bool afternoons_only; /* from the sun's highest on */
};
void shade_by_body(const struct shade_path *path, const struct shade_horizon *horizon,
	struct shade_when when, double *by_body_min, int32_t count);

#endif
