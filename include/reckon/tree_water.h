/* SPDX-License-Identifier: MIT */
/* tree_water.h - one tree's water: what it draws in a week, what rain and watering gave, what its
 * soil holds, what to give and how long to run, with what each figure rests on.
 *
 * What is not known is never taken for one value: where cover, share of the ground, soil or roots
 * are not told, the figures are the span from the least to the most that the tables allow, and what
 * would narrow it is named. A week without weather, or a crown not measured, gives no figure.
 * Pure. */
#ifndef RECKON_TREE_WATER_H
#define RECKON_TREE_WATER_H

#include "reckon/thirst.h"

enum water_stand {
	STAND_UNKNOWN, /* age not known and nothing picked yet */
	STAND_NEW,     /* under a year in the ground: its roots are still in the ball */
	STAND_YOUNG,   /* not of an age to bear */
	STAND_BEARING,
	STAND_POT,
};

/* What is not known, or would be better known: bits. */
enum water_lack {
	LACK_KIND = 1 << 0,
	LACK_KC = 1 << 1, /* the tables have no coefficient for the kind */
	LACK_LATITUDE = 1 << 2,
	LACK_WEATHER = 1 << 3, /* fewer than WATER_DAYS_LEAST of the last seven days */
	LACK_RAIN = 1 << 4,    /* not told on each of them */
	LACK_DATES = 1 << 5,   /* no time of year holds here */
	LACK_COVER = 1 << 6,
	LACK_WINTER = 1 << 7,
	LACK_SHARE = 1 << 8, /* of the ground under crowns; citrus */
	LACK_SPREAD = 1 << 9,
	LACK_SOIL = 1 << 10,
	LACK_ROOTS = 1 << 11,
	LACK_EFFICIENCY = 1 << 12,
	LACK_EMITTERS = 1 << 13,
	LACK_GIVEN = 1 << 14, /* a watering of the week whose amount is not known */
	LACK_POLAR = 1 << 15, /* polar night: no sun to reckon from */
};

enum { WATER_WEEK_DAYS = 7, WATER_DAYS_LEAST = 4, WATER_HEAT_DECIC = 350 };

struct water_range {
	bool known;
	double low;
	double high;
};

/* A way to the week's depth: use less rain, or a rule's depth less rain. */
enum water_way_kind { WAY_WEATHER, WAY_RULE, WAY_OWN, WAY_TOTAL };
struct water_way {
	enum water_way_kind kind;
	const struct fact_row *rule; /* of WAY_RULE */
	const struct entry *entry;   /* of WAY_OWN: the line that says so much a week */
	struct water_range full_mm;  /* before rain is taken off */
	struct water_range depth_mm; /* a week, rain taken off */
	struct water_range need_l;   /* at the roots */
	struct water_range give_l;   /* less what was given, by the method's efficiency; not known
	                                where that is not */
	struct water_range run_s;    /* for give_l, else at least so long for need_l */
};

struct tree_water {
	const struct dossier *dossier;
	enum water_stand stand;
	unsigned lacks; /* bits of enum water_lack */

	/* the week looked back on */
	struct date from;
	struct date to;
	int32_t days_known; /* with both extremes */
	int32_t rain_days;  /* with rain told */
	int32_t heat_days;  /* maximum of 35.0 C or more */
	const char *station;
	bool logged;                     /* a figure of it is a line of the grower's */
	struct water_range reference_mm; /* the week, by the mean of the known days */
	double rain_mm;
	double rain_counts_mm;

	enum leaf_phase phase;     /* on the week's last day, else today */
	struct water_range kc;     /* of that phase */
	struct water_kc kc_row;    /* whose it is */
	struct leaf_stages stages; /* of an evergreen, where they are known */

	const struct stem_measure *spread;
	struct maybe_date spread_on;
	double canopy_m2; /* 0 not known */

	int32_t given_count; /* waterings logged in the week and since */
	double given_l;      /* by them, as far as it is known */
	int32_t given_unknown;

	struct water_range mm_per_m;
	struct water_range root_m;
	const struct fact_row *root_row; /* NULL: the grower's own, or none */
	const struct fact_row *depletion_row;
	struct water_range ready_mm;  /* of a full store, before the tree is short */
	struct water_range full_days; /* that it lasts at the week's use */
	struct water_range dry_days;  /* from today, where the account reaches it */
	struct date account_from;

	int32_t emitters; /* 0 not known */
	int64_t flow_ulh;
	const struct entry *flow_entry; /* NULL: the spot's */
	double efficiency;              /* 0 not known */

	struct water_way ways[WAY_TOTAL];
	int32_t way_count;
};

/* Purpose: all of it for a tree on a day. A graft has its host's water: ask that.
 * Sources: as reckon/water.h says; the week is the last seven days of weather up to today, whose
 *   last may lie two days back; days without extremes stand by the mean of the others.
 * Accuracy: that of Hargreaves' formula, 10 to 20 % of a week, before what is not known. */
void tree_water_make(const struct dossier *dossier, struct date today, struct tree_water *out);

#endif
