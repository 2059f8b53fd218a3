/* SPDX-License-Identifier: MIT */
/* ground.h - the yard as it stands on the ground: its spots, and what can stand between them and
 * the sun. Read once, when first asked for; lives as long as the yard. */
#ifndef DOSSIER_GROUND_H
#define DOSSIER_GROUND_H

#include "dossier/yard.h"
#include "reckon/shade.h"

/* A wall, a house or a standing tree of known place and size. */
struct ground_body {
	char name[LABEL_SIZE];
	char spot_id[ID_SIZE];      /* of a tree; "" built */
	struct maybe_date measured; /* of a tree: its height; unknown: on a day not known */
	bool bares; /* a tree that may stand bare in winter: deciduous, or its kind is not known */
};

/* What stands on the plan, or may, and cannot be counted: never taken for nothing. */
enum ground_lack { GAP_POSITION, GAP_HEIGHT, GAP_SPREAD, GAP_POINTS, GAP_TOTAL };
struct ground_gap {
	char name[LABEL_SIZE];
	char spot_id[ID_SIZE]; /* of a tree; "" built, or in no spot */
	enum ground_lack lack; /* the first of them that is not known */
};

struct yard_ground {
	const struct spot *spots; /* by name, as they are listed */
	int32_t spot_count;
	const struct ground_body *bodies; /* walls and houses, then trees */
	const struct shade_body *shapes;  /* of the bodies, in their order */
	int32_t body_count;
	const struct ground_gap *gaps; /* in the natural order of names */
	int32_t gap_count;
	/* months with a day of 35.0 C or more in the observed weather of the last 400 days: a bit
	 * each, January the lowest */
	uint32_t hot_months;
};

/* Gates and lines hide nothing. Grafts are part of their host; what stands off the place is no
 * part of the ground. */
enum status yard_ground(
	struct yard *yard, const struct yard_ground **out, struct fault *why) MUST_CHECK;

#endif
