/* SPDX-License-Identifier: MIT */
#include "reckon/thirst.h"

#include <stdlib.h>
#include <string.h>

/* --- the time of year --- */

static const struct month_day leaf_fall = {11, 1}; /* in the north */

/* The lengths of a text that begins with four of them; returns what follows, NULL where they are
 * not four whole numbers above nothing. */
static const char *read_lengths(const char *text, int32_t days[4])
{
	for (int32_t at = 0; at < 4; at++) {
		char *end = NULL;
		long length = strtol(text, &end, 10);

		if (end == text || length <= 0 || length > 365)
			return NULL;
		days[at] = (int32_t)length;
		text = end + (at < 3 ? strcspn(end, "0123456789") : 0);
	}
	return text;
}

/* "60, 90, 120 and 95 days from January; more in humid places". */
static struct leaf_stages stages_of(const struct dossier *dossier)
{
	static const char from[] = " days from ";
	const struct fact_row *row = species_fact(dossier->kind.species, "kc-stages");
	struct leaf_stages stages = {.row = row};

	if (row == NULL || !window_place_has_dates(dossier->place))
		return stages;
	const char *rest = read_lengths(row->text, stages.days);
	if (rest == NULL || strncmp(rest, from, sizeof from - 1) != 0)
		return stages;
	rest += sizeof from - 1;
	for (int32_t month = 1; month <= 12; month++) {
		const char *name = date_month_name(month);

		if (strncmp(rest, name, strlen(name)) != 0)
			continue;
		stages.opens = window_turn(
			(struct month_day){(int8_t)month, 1}, dossier->place->hemisphere);
		stages.known = true;
	}
	return stages;
}

struct leaf_year leaf_year_of(const struct dossier *dossier, struct date day)
{
	struct leaf_year year = {.evergreen = dossier->kind.species->evergreen};

	if (year.evergreen) {
		year.stages = stages_of(dossier);
		return year;
	}
	year.bloom = dossier_window(dossier, WINDOW_BLOOM, day);
	year.harvest = dossier_window(dossier, WINDOW_HARVEST, day);
	year.known =
		year.bloom.known && !year.bloom.all_year && window_place_has_dates(dossier->place);
	year.falls = circle_of(window_turn(leaf_fall, dossier->place->hemisphere));
	if (year.known && year.falls < circle_of(year.bloom.from))
		year.falls += 365;
	return year;
}

/* Which day of an evergreen's year, the first is 1. */
static int32_t stage_day(const struct leaf_stages *stages, struct date day)
{
	return (circle_of_date(day) - circle_of(stages->opens) + 365) % 365 + 1;
}

static enum leaf_phase stage_on(const struct leaf_stages *stages, struct date day)
{
	if (!stages->known)
		return LEAF_ANY;
	int32_t at = stage_day(stages, day);
	if (at <= stages->days[0])
		return LEAF_EARLY;
	return at <= stages->days[0] + stages->days[1] + stages->days[2] ? LEAF_MID : LEAF_LATE;
}

enum leaf_phase leaf_phase_on(const struct leaf_year *year, struct date day)
{
	if (year->evergreen)
		return stage_on(&year->stages, day);
	if (!year->known)
		return LEAF_UNKNOWN;
	int32_t opens = circle_of(year->bloom.from);
	int32_t at = circle_of_date(day);
	if (!circle_within(at, opens, year->falls - 1))
		return LEAF_REST;
	if (window_holds(&year->bloom, day))
		return LEAF_EARLY;
	if (!year->harvest.known || year->harvest.all_year || window_holds(&year->harvest, day))
		return LEAF_MID;
	int32_t ends = circle_of(year->harvest.to);
	ends += ends < opens ? 365 : 0;
	return circle_within(at, opens, ends) ? LEAF_MID : LEAF_LATE;
}

/* So many days into a stage of a given length. */
static double on_the_way(double from, double to, int32_t past, int32_t length)
{
	if (past <= 0)
		return from;
	return past >= length ? to : from + (to - from) * past / length;
}

static double kc_of_stage(
	const struct water_kc *kc, const struct leaf_stages *stages, struct date day)
{
	const int32_t *days = stages->days;
	int32_t middle = days[0] + days[1] + days[2];
	int32_t at = stage_day(stages, day);

	return at <= middle ? on_the_way(kc->early, kc->mid, at - days[0], days[1])
			    : on_the_way(kc->mid, kc->late, at - middle, days[3]);
}

double leaf_kc_on(const struct water_kc *kc, const struct leaf_year *year, struct date day)
{
	if (year->evergreen)
		return year->stages.known ? kc_of_stage(kc, &year->stages, day) : kc->mid;
	switch (leaf_phase_on(year, day)) {
	case LEAF_EARLY:
		return kc->early;
	case LEAF_MID:
		return kc->mid;
	case LEAF_LATE:
		return kc->late;
	case LEAF_UNKNOWN:
	case LEAF_REST:
	case LEAF_ANY:
		return 0;
	}
	return 0;
}

/* --- the account --- */

bool thirst_is_told(const struct day_weather *day)
{
	return day->min_decic.known && day->max_decic.known && day->rain_um.known;
}

static int32_t day_of_year(struct date day)
{
	return date_days_between(
		       date_of_month_day(date_parts(day).year, (struct month_day){1, 1}), day) +
	       1;
}

enum status thirst_of_day(const struct thirst_terms *terms, const struct sky *sky,
	const struct day_weather *day, double *crop_mm, struct fault *why)
{
	struct maybe_i32 min_decic = sky_min_decic(sky, day);
	struct maybe_i32 max_decic = sky_max_decic(sky, day);
	double reference_mm = 0;

	if (!min_decic.known || !max_decic.known)
		return fault_set(why, STATUS_RANGE, "a day without both extremes has no use");
	enum status status = water_reference_mm(terms->latitude_deg, day_of_year(day->day),
		min_decic.value / 10.0, max_decic.value / 10.0, &reference_mm, why);
	if (status == STATUS_OK)
		status = water_crop_mm(
			leaf_kc_on(&terms->kc, &terms->year, day->day), reference_mm, crop_mm, why);
	return status;
}

/* How much of the lack a day's waterings made good; what is not known fills the store. */
static void water_of_day(const struct dossier *dossier, const struct thirst_terms *terms,
	struct date day, struct thirst *thirst)
{
	const struct entry *given[8];
	int32_t count = dossier_between(dossier, KIND_WATER, day, day, given, 8);

	for (int32_t i = 0; i < count && i < 8; i++) {
		struct maybe_i64 volume_ul = water_volume_of_entry(given[i], dossier->spot);
		double depth_mm = (double)volume_ul.value / 1e6 / terms->canopy_m2;

		if (!volume_ul.known || terms->canopy_m2 <= 0 || depth_mm >= thirst->used_mm) {
			*thirst = (struct thirst){.from = day, .to = day};
			return;
		}
		thirst->used_mm -= depth_mm;
	}
}

/* Its use and its rain are known; a day that cannot be, or of polar night, is none without use. */
static bool day_is_reckoned(const struct thirst_terms *terms, const struct sky *sky,
	const struct day_weather *day, double *crop_mm, double *rain_mm)
{
	return thirst_is_told(day) && thirst_of_day(terms, sky, day, crop_mm, NULL) == STATUS_OK &&
	       water_rain_of_day_mm((double)day->rain_um.value / 1000, rain_mm, NULL) == STATUS_OK;
}

static void weather_of_day(const struct thirst_terms *terms, const struct sky *sky,
	const struct day_weather *day, struct thirst *thirst)
{
	struct water_store holds = {0};
	double crop_mm = 0;
	double rain_mm = 0;
	double share = 1; /* of its full use: a short tree draws less */

	(void)day_is_reckoned(terms, sky, day, &crop_mm, &rain_mm); /* the run holds no other */
	if (water_store_of(terms->mm_per_m, terms->root_depth_m, terms->depletion, crop_mm, &holds,
		    NULL) != STATUS_OK ||
		water_stress(&holds, thirst->used_mm, &share, NULL) != STATUS_OK)
		share = 1;
	thirst->crop_mm += crop_mm * share;
	thirst->rain_mm += rain_mm;
	thirst->used_mm += crop_mm * share - rain_mm;
	thirst->week_mm += (crop_mm - thirst->week_mm) / (thirst->days < 7 ? thirst->days + 1 : 7);
	thirst->days++;
	thirst->to = day->day;
	if (thirst->used_mm <= 0)
		*thirst = (struct thirst){.from = day->day, .to = day->day};
}

/* Place of the first day of the unbroken run of reckoned days that ends with the last one. */
static int32_t run_start(const struct thirst_terms *terms, const struct sky *sky)
{
	int32_t first = sky->count;
	double crop_mm, rain_mm;

	while (first > 0 &&
		day_is_reckoned(terms, sky, &sky->days[first - 1], &crop_mm, &rain_mm) &&
		(first == sky->count ||
			sky->days[first].day.day - sky->days[first - 1].day.day == 1))
		first--;
	return first;
}

bool thirst_follow(const struct dossier *dossier, const struct thirst_terms *terms,
	const struct sky *sky, struct date today, struct thirst *out)
{
	int32_t first = run_start(terms, sky);

	if (first == sky->count ||
		date_days_between(sky->days[sky->count - 1].day, today) > THIRST_LATE_DAYS)
		return false;
	*out = (struct thirst){.from = sky->days[first].day, .to = sky->days[first].day};
	for (int32_t i = first; i < sky->count; i++) {
		weather_of_day(terms, sky, &sky->days[i], out);
		water_of_day(dossier, terms, sky->days[i].day, out);
	}
	/* waterings after the last day of weather */
	for (struct date day = date_add_days(out->to, 1); date_compare(day, today) <= 0; day.day++)
		water_of_day(dossier, terms, day, out);
	return true;
}
