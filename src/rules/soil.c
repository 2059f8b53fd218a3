/* SPDX-License-Identifier: MIT */
/* What the soil under a tree holds, and whether the weather has used it up. */
#include "soil.h"

#include <math.h>
#include <stdio.h>

#include "core/text.h"
#include "reckon/water.h"

/* --- the time of year --- */

enum phase { PHASE_REST, PHASE_EARLY, PHASE_MID, PHASE_LATE };

/* Leaves are taken to fall by November in the north (common practice). */
static const struct month_day leaf_fall = {11, 1};

/* The year of a tree, resolved once for all days that are followed. */
struct year {
	bool evergreen;
	bool known;
	struct window bloom;
	struct window harvest;
	int32_t falls; /* place of the year at which leaves fall, after the bloom's */
};

static struct year year_of(const struct dossier *dossier, struct date day)
{
	struct year year = {.evergreen = dossier->kind.species->evergreen};

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

static enum phase phase_on(const struct year *year, struct date day)
{
	if (year->evergreen)
		return PHASE_MID;
	if (!year->known)
		return PHASE_REST;
	int32_t opens = circle_of(year->bloom.from);
	int32_t at = circle_of_date(day);
	if (!circle_within(at, opens, year->falls - 1))
		return PHASE_REST;
	if (window_holds(&year->bloom, day))
		return PHASE_EARLY;
	if (!year->harvest.known || year->harvest.all_year || window_holds(&year->harvest, day))
		return PHASE_MID;
	int32_t ends = circle_of(year->harvest.to);
	ends += ends < opens ? 365 : 0;
	return circle_within(at, opens, ends) ? PHASE_MID : PHASE_LATE;
}

bool soil_rests(const struct dossier *dossier, struct date day)
{
	struct year year = year_of(dossier, day);

	return phase_on(&year, day) == PHASE_REST;
}

static double kc_on(const struct water_kc *kc, enum phase phase)
{
	switch (phase) {
	case PHASE_REST:
		return 0;
	case PHASE_EARLY:
		return kc->early;
	case PHASE_MID:
		return kc->mid;
	case PHASE_LATE:
		return kc->late;
	}
	return 0;
}

/* --- the store of the soil --- */

struct store {
	struct year year;
	double latitude_deg;
	struct water_kc kc;
	double mm_per_m;
	double root_depth_m;
	double depletion;
	bool soil_known;
	bool depth_known;
	double canopy_m2; /* 0 not known */
	enum known_by sure;
};

/* What was used and what fell since the store was full last. */
struct balance {
	struct date from; /* the day it was full */
	struct date to;   /* the last day of weather */
	double used_mm;   /* net of rain: what is missing from a full store */
	double crop_mm;   /* use */
	double rain_mm;   /* that counts */
	int32_t days;
	double week_mm; /* mean use a day of the last seven */
};

static double canopy_of(const struct dossier *dossier)
{
	double canopy_m2 = 0;

	for (int32_t i = dossier->entry_count; i-- > 0;) {
		const struct entry *entry = dossier->entries[i];

		for (int32_t s = 0; s < entry->stem_count; s++)
			if (entry->stems[s].field == FIELD_SPREAD &&
				water_canopy_m2((double)entry->stems[s].low_um / 1e6, &canopy_m2,
					NULL) == STATUS_OK)
				return canopy_m2;
	}
	return 0;
}

/* Where a fact is not known, the soil and roots that hold most: a tree that is dry by those is
 * dry. */
static bool store_of(const struct dossier *dossier, struct date today, struct store *store)
{
	const struct species *species = dossier->kind.species;
	const struct spot *spot = dossier->spot;
	const struct fact_row *roots = species_fact(species, "root-depth");
	const struct fact_row *depletion = species_fact(species, "depletion");
	const struct water_soil *soil =
		spot != NULL ? water_soil_of(spot->soil) : water_soil_of(SOIL_UNKNOWN);
	const struct water_ground ground = {
		.covered = spot != NULL && spot->cover == COVER_GRASS,
		.killing_frost = dossier->place->winter == WINTER_HARD,
		.canopy_share = 0.5,
	};

	store->kc = water_kc_of(species, &ground);
	store->soil_known = soil != NULL;
	store->depth_known = spot != NULL && spot->root_depth_um.known;
	if (!store->kc.known || depletion == NULL || !depletion->low.known ||
		(!store->depth_known && (roots == NULL || !roots->high.known)) ||
		!dossier->place->latitude_udeg.known)
		return false;
	store->latitude_deg = dossier->place->latitude_udeg.value / 1e6;
	store->mm_per_m = water_soil_mm_per_m(soil != NULL ? soil : water_soil_named("silt"));
	store->root_depth_m =
		(double)(store->depth_known ? spot->root_depth_um.value : roots->high.value) / 1e6;
	store->depletion = (double)depletion->low.value / 1000;
	store->year = year_of(dossier, today);
	store->canopy_m2 = canopy_of(dossier);
	store->sure = store->kc.sure > depletion->sure ? store->kc.sure : depletion->sure;
	return true;
}

/* A day is followed only when extremes and rain are both known. */
bool soil_is_told(const struct day_weather *day)
{
	return day->min_decic.known && day->max_decic.known && day->rain_um.known;
}

static int32_t day_of_year(struct date day)
{
	return date_days_between(
		       date_of_month_day(date_parts(day).year, (struct month_day){1, 1}), day) +
	       1;
}

/* How much of the lack a day's waterings made good; what is not known fills the store. */
static void water_of_day(const struct dossier *dossier, const struct store *store, struct date day,
	struct balance *balance)
{
	const struct entry *given[8];
	int32_t count = dossier_between(dossier, KIND_WATER, day, day, given, 8);

	for (int32_t i = 0; i < count && i < 8; i++) {
		struct maybe_i64 volume_ul = water_volume_of_entry(given[i], dossier->spot);
		double depth_mm = (double)volume_ul.value / 1e6 / store->canopy_m2;

		if (!volume_ul.known || store->canopy_m2 <= 0 || depth_mm >= balance->used_mm) {
			*balance = (struct balance){.from = day, .to = day};
			return;
		}
		balance->used_mm -= depth_mm;
	}
}

static void weather_of_day(
	const struct store *store, const struct day_weather *day, struct balance *balance)
{
	struct water_store holds = {0};
	double reference_mm = 0;
	double crop_mm = 0;
	double rain_mm = 0;
	double share = 1; /* of its full use: a short tree draws less */

	if (water_reference_mm(store->latitude_deg, day_of_year(day->day),
		    day->min_decic.value / 10.0, day->max_decic.value / 10.0, &reference_mm,
		    NULL) == STATUS_OK)
		crop_mm = kc_on(&store->kc, phase_on(&store->year, day->day)) * reference_mm;
	if (water_rain_of_day_mm((double)day->rain_um.value / 1000, &rain_mm, NULL) != STATUS_OK)
		rain_mm = 0;
	if (water_store_of(store->mm_per_m, store->root_depth_m, store->depletion, crop_mm, &holds,
		    NULL) != STATUS_OK ||
		water_stress(&holds, balance->used_mm, &share, NULL) != STATUS_OK)
		share = 1;
	balance->crop_mm += crop_mm * share;
	balance->rain_mm += rain_mm;
	balance->used_mm += crop_mm * share - rain_mm;
	balance->week_mm +=
		(crop_mm - balance->week_mm) / (balance->days < 7 ? balance->days + 1 : 7);
	balance->days++;
	balance->to = day->day;
	if (balance->used_mm <= 0)
		*balance = (struct balance){.from = day->day, .to = day->day};
}

/* Place of the first day of the unbroken run of told days that ends with the last one. */
static int32_t run_start(const struct sky *sky)
{
	int32_t first = sky->count;

	while (first > 0 && soil_is_told(&sky->days[first - 1]) &&
		(first == sky->count ||
			sky->days[first].day.day - sky->days[first - 1].day.day == 1))
		first--;
	return first;
}

/* False: weather does not reach near enough to today, or not far enough back. */
static bool balance_of(const struct dossier *dossier, const struct store *store,
	const struct sky *sky, struct date today, struct balance *balance)
{
	int32_t first = run_start(sky);

	if (first == sky->count ||
		date_days_between(sky->days[sky->count - 1].day, today) > SOIL_LATE_DAYS)
		return false;
	*balance = (struct balance){.from = sky->days[first].day, .to = sky->days[first].day};
	for (int32_t i = first; i < sky->count; i++) {
		weather_of_day(store, &sky->days[i], balance);
		water_of_day(dossier, store, sky->days[i].day, balance);
	}
	/* waterings after the last day of weather */
	for (struct date day = date_add_days(balance->to, 1); date_compare(day, today) <= 0;
		day.day++)
		water_of_day(dossier, store, day, balance);
	return true;
}

/* --- what is said --- */

void soil_settles(const struct dossier *dossier, struct flag *flag)
{
	flag->settles = KIND_WATER;
	snprintf(flag->fills, sizeof flag->fills, "%s watered ", dossier->tree.label);
}

/* An estimate has two figures. */
static double two_figures(double value)
{
	double step = value > 0 ? pow(10, floor(log10(value)) - 1) : 1;

	return floor(value / step + 0.5) * step;
}

static const char *volume_words(
	const struct dossier *dossier, double litres, char *out, int32_t size)
{
	const struct number_rules rules = {
		dossier->place->units, dossier->place->gallon, dossier->place->numbers};
	double unit = 1;

	if (rules.units == UNITS_US)
		unit = rules.gallon == GALLON_IMPERIAL ? 4.54609 : 3.785411784;
	return volume_format(round_i64(two_figures(litres / unit) * unit * 1e6), &rules, out, size);
}

/* Litres that fill the store again by the grower's own method; 0 not known. */
static double refill_litres(
	const struct dossier *dossier, const struct store *store, const struct balance *balance)
{
	const struct spot *spot = dossier->spot;
	double efficiency = spot != NULL && spot->efficiency_permille.known
				    ? spot->efficiency_permille.value / 1000.0
				    : 1;
	double litres = 0;

	if (store->canopy_m2 <= 0 || water_litres(balance->used_mm, store->canopy_m2, efficiency,
					     &litres, NULL) != STATUS_OK)
		return 0;
	return litres;
}

static void say_refill(const struct dossier *dossier, const struct store *store,
	const struct balance *balance, struct flag *flag)
{
	const struct spot *spot = dossier->spot;
	double litres = refill_litres(dossier, store, balance);
	struct text_builder words = text_builder_fixed(flag->action, sizeof flag->action);
	char volume[32];
	int64_t run_s = 0;

	text_add(&words,
		"Feel the soil a hand deep first. Where it is dry, water deeply at dawn or in "
		"the evening, out to the edge of the crown, the trunk dry. ");
	if (litres > 0)
		text_add_format(&words, "About %s refills what is missing. ",
			volume_words(dossier, litres, volume, sizeof volume));
	if (litres > 0 && spot != NULL && spot->emitters.known && spot->flow_ulh.known &&
		water_run_s(round_i64(litres * 1e6), spot->emitters.value, spot->flow_ulh.value,
			&run_s, NULL) == STATUS_OK)
		text_add_format(&words, "Your %d emitters give that in about %.*f h. ",
			spot->emitters.value, run_s < 36000 ? 1 : 0, (double)run_s / 3600);
	text_add(&words, "Local water rules come first.");
}

static void tell_store(const struct dossier *dossier, const struct store *store,
	const struct water_store *holds, struct flags *out, struct flag *flag)
{
	enum unit_system units = dossier->place->units;
	const struct spot *spot = dossier->spot;
	char total[32], ready[32], depth[32];

	flag_evidence(out, flag, "%s, roots to %s%s: holds %s, of which %s before it is short",
		store->soil_known ? water_soil_of(spot->soil)->name
				  : "soil not known, taken as the one that holds most",
		length_format(round_i64(store->root_depth_m * 1e6), units, depth, sizeof depth),
		store->depth_known ? "" : " (not known, the most printed)",
		sky_depth(holds->total_mm, units, total, sizeof total),
		sky_depth(holds->ready_mm, units, ready, sizeof ready));
	flag_evidence(out, flag,
		"use by Hargreaves' formula and Kc %.2f in mid season (%s)%s; it wants fitting to "
		"a "
		"place",
		store->kc.mid, store->kc.source, store->kc.stands_in ? ", a stand-in" : "");
}

static void flag_dry(const struct dossier *dossier, const struct store *store,
	const struct balance *balance, const struct water_store *holds, const struct entry *wilt,
	struct flags *out)
{
	enum unit_system units = dossier->place->units;
	bool due = look_may_alarm(store->sure);
	struct flag *flag =
		flags_add(out, "water-short", dossier, due ? URGENCY_DUE : URGENCY_NOTE);
	char used[32], rain[64] = "no rain", ready[32], when[24], cause[DATE_SIZE];

	if (balance->rain_mm >= 1)
		snprintf(rain, sizeof rain, "%s of rain",
			sky_depth(balance->rain_mm, units, used, sizeof used));
	look_say(&flag->says,
		"Likely dry: about %s used since %s and %s that counts, where this spot gives %s "
		"before the tree is short%s.",
		sky_depth(balance->crop_mm, units, used, sizeof used),
		date_format_plain(balance->from, when, sizeof when), rain,
		sky_depth(holds->ready_mm, units, ready, sizeof ready),
		wilt != NULL ? ", and you saw it wilt" : "");
	say_refill(dossier, store, balance, flag);
	flag->began = known_date(balance->to);
	flag->source = store->kc.source;
	snprintf(flag->basis, sizeof flag->basis, "stored weather, %d days", balance->days);
	soil_settles(dossier, flag);
	tell_store(dossier, store, holds, out, flag);
	if (wilt != NULL)
		flag_entry_add(flag, wilt);
	flag_key_set(flag, look_work_year(dossier, balance->to), date_format(balance->from, cause));
}

void soil_look(const struct dossier *dossier, const struct sky *sky, struct date today,
	const struct entry *wilt, struct flags *out)
{
	struct store store;
	struct balance balance;
	struct water_store holds;

	if (!store_of(dossier, today, &store) ||
		!balance_of(dossier, &store, sky, today, &balance) || soil_rests(dossier, today))
		return;
	if (water_store_of(store.mm_per_m, store.root_depth_m, store.depletion, balance.week_mm,
		    &holds, NULL) != STATUS_OK)
		return;
	if (balance.used_mm >= holds.ready_mm)
		flag_dry(dossier, &store, &balance, &holds, wilt, out);
}
