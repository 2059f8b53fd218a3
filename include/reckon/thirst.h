/* SPDX-License-Identifier: MIT */
/* thirst.h - day by day: what a tree drew from its soil, what rain and watering gave back, and what
 * is missing today.
 *
 * Depths in mm over the ground under the crown. Use is Kc x reference (reckon/water.h), Kc by the
 * time of year of the tree's own windows; a tree that is short draws less (FAO-56 eq. 84). Only
 * days with both extremes and rain are followed: a day that nobody measured is unknown, never
 * dry. Pure. */
#ifndef RECKON_THIRST_H
#define RECKON_THIRST_H

#include "reckon/sky.h"
#include "reckon/water.h"

/* --- the time of year --- */

enum leaf_phase {
	LEAF_UNKNOWN, /* no bloom window holds here, or no dates at all */
	LEAF_REST,    /* bare */
	LEAF_EARLY,   /* in bloom; of an evergreen the tables' first stage */
	LEAF_MID,     /* to the end of the harvest; of an evergreen the second and third stage */
	LEAF_LATE,    /* picked, not yet bare; of an evergreen the rest of its year */
	LEAF_ANY,     /* an evergreen whose stages are not known: any of them */
};
/* An evergreen's year in stages, as its source prints them ("60, 90, 120 and 95 days from
 * January", turned for the south). */
struct leaf_stages {
	bool known;
	struct month_day opens;
	int32_t days[4]; /* first, rising, middle, late; what is left of the year is like the end */
	const struct fact_row *row;
};
/* The year of a tree, resolved once for all days that are followed. */
struct leaf_year {
	bool evergreen;
	struct leaf_stages stages; /* of an evergreen */
	bool known;                /* of others */
	struct window bloom;
	struct window harvest;
	int32_t falls; /* place of the year at which leaves fall, after the bloom's */
};
/* Leaves are taken to fall by 1 November in the north, 1 May in the south (common practice). The
 * tree's kind must be known. */
struct leaf_year leaf_year_of(const struct dossier *dossier, struct date day);
enum leaf_phase leaf_phase_on(const struct leaf_year *year, struct date day);
/* The coefficient of a day; 0 where nothing is used or the phase is not known. An evergreen's goes
 * in straight lines from stage to stage (FAO-56 eq. 66); where its stages are not known `mid`
 * stands all year, and water_kc_flat says what that may be.
 * Example: an orange on bare ground, 0.65, 0.60 and 0.65: 0.625 on 15 April. */
double leaf_kc_on(const struct water_kc *kc, const struct leaf_year *year, struct date day);

/* --- the account --- */

/* What it stands on; the caller says what holds where a fact is not known. */
struct thirst_terms {
	double latitude_deg;
	struct leaf_year year;
	struct water_kc kc;
	double mm_per_m; /* of the soil */
	double root_depth_m;
	double depletion;
	double canopy_m2; /* 0 not known */
};
/* What was used and what fell since the store was full last. */
struct thirst {
	struct date from; /* the day it was full, or the first that is known */
	struct date to;   /* the last day of weather */
	double used_mm;   /* net of rain: what is missing from a full store */
	double crop_mm;   /* use */
	double rain_mm;   /* that counts */
	int32_t days;
	double week_mm; /* mean use a day of the last seven */
};
/* A station's last day may lie so far back, and the account still reaches today. */
enum { THIRST_LATE_DAYS = 2 };

/* Both extremes and rain are known. */
bool thirst_is_told(const struct day_weather *day);
/* Use of one day in mm, as if the soil were wet. STATUS_RANGE: what water_reference_mm refuses. */
enum status thirst_of_day(const struct thirst_terms *terms, const struct sky *sky,
	const struct day_weather *day, double *crop_mm, struct fault *why) MUST_CHECK;
/* The account over the unbroken run of days that are told and can be reckoned (extremes that cross
 * and polar night break it) and that ends within THIRST_LATE_DAYS of today; the
 * run begins with a full store. A watering whose amount is not known, or on ground whose size is
 * not, fills it. False: no such run. */
bool thirst_follow(const struct dossier *dossier, const struct thirst_terms *terms,
	const struct sky *sky, struct date today, struct thirst *out);

#endif
