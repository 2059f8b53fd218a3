/* SPDX-License-Identifier: MIT */
/* sun_report.h - the sun of a place: its rise and set on a day, and the hours of direct sun at the
 * spots by month, with what could not be counted. Plain values, for the command line and the
 * screens. */
#ifndef REPORT_SUN_REPORT_H
#define REPORT_SUN_REPORT_H

#include "dossier/ground.h"

/* Height above the ground that spots are looked at from: of a young tree's leaves. Own choice. */
enum { SUN_LEVEL_UM = 1000000 };

struct sun_options {
	const char *spot_id;   /* NULL: all spots */
	struct maybe_date day; /* known: the hours of that day; else of all months */
	int64_t level_um;
};

/* Who takes the sun, and how many minutes of a mean day. */
struct sun_taker {
	const struct ground_body *body;
	const struct shade_body *shape;
	double minutes;
};
enum { SUN_TAKERS = 6 };

struct sun_spot {
	const struct spot *spot;
	bool placed;                       /* else nothing below is known */
	const struct ground_body *under;   /* whose crown reaches over it; NULL none */
	struct shade_month months[MONTHS]; /* of one day: only its month is filled */
	/* most first; NULL body: no more */
	struct sun_taker takers[SUN_TAKERS];     /* of the whole year, or the day */
	struct sun_taker afternoons[SUN_TAKERS]; /* of the afternoons in heat */
	double afternoon_up_min;                 /* those in heat */
	double afternoon_sun_min;
};

enum heat_basis { HEAT_UNKNOWN, HEAT_LOGGED, HEAT_SUMMER };
struct sun_report {
	bool latitude_known;  /* else nothing is */
	bool longitude_known; /* else no times */
	struct date date;     /* of `day` */
	struct sun_day day;
	int64_t level_um;
	struct shade_month open[MONTHS]; /* on open ground */
	struct sun_spot *spots;
	int32_t spot_count;
	const struct yard_ground *ground;
	/* the months in heat: those with a day of 35 C or more in stored weather, else the three of
	 * summer; between 12 N and 12 S only the first */
	uint32_t hot_months;
	enum heat_basis heat;
};
/* Is a gap of the ground one for the spot (NULL: for all): not of its own trees? */
bool sun_gap_counts(const struct ground_gap *gap, const struct spot *spot);
int32_t sun_gap_count(const struct yard_ground *ground, const struct spot *spot);

enum status sun_report_make(struct yard *yard, const struct sun_options *options,
	struct arena *arena, struct sun_report *out, struct fault *why) MUST_CHECK;

/* "7.6 of 14.2 h in June, 2.1 of 9.6 h in December; ..." of the spot a tree stands in; "" where
 * there is no plan to tell it from: no latitude, no position, or nothing of known size around. */
enum status sun_words_of_tree(struct yard *yard, const struct dossier *dossier, struct arena *arena,
	const char **out, struct fault *why) MUST_CHECK;

/* "June, July"; "June to August" where three and more follow one another. */
const char *sun_month_words(uint32_t months, char *out, size_t size);

#endif
