/* SPDX-License-Identifier: MIT */
#include "reckon/thirst.h"

/* --- the time of year --- */

static const struct month_day leaf_fall = {11, 1}; /* in the north */

struct leaf_year leaf_year_of(const struct dossier *dossier, struct date day)
{
	struct leaf_year year = {.evergreen = dossier->kind.species->evergreen};

	if (year.evergreen)
		return year;
	year.bloom = dossier_window(dossier, WINDOW_BLOOM, day);
	year.harvest = dossier_window(dossier, WINDOW_HARVEST, day);
	year.known =
		year.bloom.known && !year.bloom.all_year && window_place_has_dates(dossier->place);
	year.falls = circle_of(window_turn(leaf_fall, dossier->place->hemisphere));
	if (year.known && year.falls < circle_of(year.bloom.from))
		year.falls += 365;
	return year;
}

enum leaf_phase leaf_phase_on(const struct leaf_year *year, struct date day)
{
	if (year->evergreen)
		return LEAF_MID;
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

double leaf_kc(const struct water_kc *kc, enum leaf_phase phase)
{
	switch (phase) {
	case LEAF_UNKNOWN:
	case LEAF_REST:
		return 0;
	case LEAF_EARLY:
		return kc->early;
	case LEAF_MID:
		return kc->mid;
	case LEAF_LATE:
		return kc->late;
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
		status = water_crop_mm(leaf_kc(&terms->kc, leaf_phase_on(&terms->year, day->day)),
			reference_mm, crop_mm, why);
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

static void weather_of_day(const struct thirst_terms *terms, const struct sky *sky,
	const struct day_weather *day, struct thirst *thirst)
{
	struct water_store holds = {0};
	double crop_mm = 0;
	double rain_mm = 0;
	double share = 1; /* of its full use: a short tree draws less */

	if (thirst_of_day(terms, sky, day, &crop_mm, NULL) != STATUS_OK)
		crop_mm = 0;
	if (water_rain_of_day_mm((double)day->rain_um.value / 1000, &rain_mm, NULL) != STATUS_OK)
		rain_mm = 0;
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

/* Place of the first day of the unbroken run of told days that ends with the last one. */
static int32_t run_start(const struct sky *sky)
{
	int32_t first = sky->count;

	while (first > 0 && thirst_is_told(&sky->days[first - 1]) &&
		(first == sky->count ||
			sky->days[first].day.day - sky->days[first - 1].day.day == 1))
		first--;
	return first;
}

bool thirst_follow(const struct dossier *dossier, const struct thirst_terms *terms,
	const struct sky *sky, struct date today, struct thirst *out)
{
	int32_t first = run_start(sky);

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
