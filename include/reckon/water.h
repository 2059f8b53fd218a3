/* SPDX-License-Identifier: MIT */
/* water.h - how much water a tree uses, what the soil holds, when it runs dry, how long to run.
 *
 * Depths in mm over the ground, areas in m2, volumes in litres, all double; 1 mm over 1 m2 is
 * exactly 1 litre. The reference for what is not said otherwise is FAO Irrigation and Drainage
 * Paper 56 (Allen and others 1998). Guidance: Hargreaves' formula wants fitting to a place, and
 * water rules and the tree in front of you come first. Pure. */
#ifndef RECKON_WATER_H
#define RECKON_WATER_H

#include "almanac/species.h"

/* --- sun and reference evapotranspiration --- */

struct water_sun {
	double distance;        /* inverse relative distance to the sun, eq. 23 */
	double declination_rad; /* eq. 24 */
	double sunset_rad;      /* eq. 25; 0 polar night, pi polar day */
	double radiation_mj;    /* extraterrestrial, MJ per m2 and day, eq. 21 */
	double daylight_h;      /* eq. 34 */
};
/* Given: latitude -90..90 degrees, north positive; day of the year 1..366.
 * STATUS_RANGE outside. Accuracy: 0.1 MJ; poor beyond 55 degrees (as FAO warns).
 * Example: 20 S, day 246: 32.19 MJ, 11.67 h. */
enum status water_sun_of_day(double latitude_deg, int32_t day_of_year, struct water_sun *out,
	struct fault *why) MUST_CHECK;
/* Solar radiation from the day's range, MJ per m2 and day: 0.16 sqrt(max - min) times the
 * extraterrestrial; eq. 50, inland. STATUS_RANGE: not a number, minimum above maximum, below 0.
 * Example: 40.6 MJ, 14.8 to 26.6 C: 22.3. */
enum status water_solar_mj(
	double radiation_mj, double min_c, double max_c, double *out, struct fault *why) MUST_CHECK;
/* Purpose: reference evapotranspiration of a day, mm, by Hargreaves, eq. 52.
 * STATUS_RANGE: latitude, day of the year, extremes not numbers, outside -90..60 C, minimum above
 *   maximum, or polar night: there is no sun to reckon from. Below a mean of -17.8 C it is 0.
 * Accuracy: a week's sum within 10 to 20 %, single days worse.
 * Example: 40 N, day 196, 17 to 32 C: 6.27 mm. */
enum status water_reference_mm(double latitude_deg, int32_t day_of_year, double min_c, double max_c,
	double *out, struct fault *why) MUST_CHECK;

/* --- the crop --- */

struct water_ground {
	bool covered;        /* grass or another living cover under the tree */
	bool killing_frost;  /* winters with it: the tables print two rows */
	double canopy_share; /* of the ground, 0..1; citrus only; 0.5 where not known */
};
/* Crop coefficients of a kind: early season, mid season, end. */
struct water_kc {
	bool known;
	double early;
	double mid;
	double late;
	const char *source; /* key of the almanac's sources */
	enum known_by sure; /* of the least sure of the three */
	bool stands_in;     /* the almanac says another crop stands in: early is low, mid is high */
};
/* The almanac's rows for this ground, else its rows without ground. */
struct water_kc water_kc_of(const struct species *species, const struct water_ground *ground);
/* The least, or the most, of the three in place of each. */
struct water_kc water_kc_flat(const struct water_kc *kc, bool most);
/* Kc x reference, mm; eq. 58. STATUS_RANGE: below 0 or not a number. */
enum status water_crop_mm(
	double kc, double reference_mm, double *out, struct fault *why) MUST_CHECK;
/* Ground under a round crown, m2. STATUS_RANGE: not above 0. Example: 3 m: 7.069 m2. */
enum status water_canopy_m2(double spread_m, double *out, struct fault *why) MUST_CHECK;
/* Litres for a depth over an area by a method of this efficiency (0 < e <= 1).
 * Example: 5 mm over a crown 3 m across, all of it used: 35.34 l. */
enum status water_litres(double depth_mm, double area_m2, double efficiency, double *out,
	struct fault *why) MUST_CHECK;

/* --- rain --- */

/* Rain of one day that a tree has of it, mm: the first 0.1 in lost, up to 1 in whole, two thirds
 * of what lies between 1 and 2 in, nothing above. The first tenth is taken from larger rains too:
 * the source leaves that open. Reference: Texas A&M, Texas ET network, effective rainfall.
 * STATUS_RANGE: below 0 or not a number. Example: 25.4 mm: 22.86. */
enum status water_rain_of_day_mm(double rain_mm, double *out, struct fault *why) MUST_CHECK;
/* Of one month, by the USDA Soil Conservation Service: P (125 - 0.2 P) / 125 to 250 mm, then
 * 125 + 0.1 P. Example: 85 mm: 73.44. */
enum status water_rain_of_month_mm(double rain_mm, double *out, struct fault *why) MUST_CHECK;
/* Of one month, FAO's dependable rain: 0.6 P - 10 to 75 mm, then 0.8 P - 25, never below 0.
 * Example: 100 mm: 55. */
enum status water_rain_dependable_mm(double rain_mm, double *out, struct fault *why) MUST_CHECK;

/* --- the soil --- */

/* Water content at field capacity and wilting point, low and high, m3 per m3: FAO-56 table 19. */
struct water_soil {
	const char *name;
	double field_low, field_high;
	double wilting_low, wilting_high;
	double sheet_low_in_ft;  /* of water a foot holds, by a UC Extension sheet (P. Vossen, */
	double sheet_high_in_ft; /* Water management for fruit trees); 0 not printed */
};
/* By name ("loam", "silty clay loam"), NULL none. */
const struct water_soil *water_soil_named(const char *name);
/* Of a spot; clay loam is read as silty clay loam, which the table has. NULL not known. */
const struct water_soil *water_soil_of(enum soil_texture texture);
/* mm of water a metre of soil holds for roots, by the middles of the ranges. Loam: 130. */
double water_soil_mm_per_m(const struct water_soil *soil);

/* What the root zone holds. */
struct water_store {
	double total_mm; /* between field capacity and wilting point, eq. 82 */
	double ready_mm; /* of it, before the tree is short, eq. 83 */
};
/* Given: mm per m, root depth in m, depletion fraction p of the tables, crop use mm a day, by
 * which p is moved: p + 0.04 (5 - use), within 0.1..0.8 (use 5: as printed).
 * STATUS_RANGE: not above 0, p outside 0.1..0.8.
 * Example: 130 mm/m, 1 m, p 0.5, 5 mm a day: 130 and 65 mm. */
enum status water_store_of(double mm_per_m, double root_depth_m, double depletion, double crop_mm,
	struct water_store *out, struct fault *why) MUST_CHECK;
/* Share of its full use that a tree still draws with so much used up, 0..1; eq. 84.
 * STATUS_RANGE: below 0 or not a number. Example: store 130/65, 100 used: 0.4615. */
enum status water_stress(
	const struct water_store *store, double used_mm, double *out, struct fault *why) MUST_CHECK;
struct water_days {
	bool never;  /* nothing is used: crop_mm 0 */
	double days; /* 0: dry now */
};
/* Days until the ready water is gone. STATUS_RANGE: not a number, below 0.
 * Example: 65 mm, none used, 5.7 a day: 11.40. */
enum status water_days_until_dry(const struct water_store *store, double used_mm, double crop_mm,
	struct water_days *out, struct fault *why) MUST_CHECK;

/* --- giving it --- */

/* Seconds to run for a volume. STATUS_RANGE: no emitters, no flow. Example: 14 l by 4 emitters of
 * 2 l an hour: 6,300 s. */
enum status water_run_s(int64_t volume_ul, int32_t emitters, int64_t flow_ulh, int64_t *out,
	struct fault *why) MUST_CHECK;
/* Microlitres that a watering gave this tree: as said, or its time by its emitters and their flow;
 * what the line leaves out is the spot's (NULL none). Minutes alone are no volume: unknown. Said
 * for several trees together ("total"), or as a rate a week, is unknown too. */
struct maybe_i64 water_volume_of_entry(const struct entry *entry, const struct spot *spot);

#endif
