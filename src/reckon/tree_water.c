/* SPDX-License-Identifier: MIT */
#include "reckon/tree_water.h"

#include <string.h>

#include "water_grounds.h"

enum { SKY_DAYS = 120 };

/* --- spans --- */

static struct water_range range_of(double a, double b)
{
	return (struct water_range){.known = true, .low = a < b ? a : b, .high = a < b ? b : a};
}

static void widen(struct water_range *range, double value)
{
	if (!range->known) {
		*range = range_of(value, value);
		return;
	}
	if (value < range->low)
		range->low = value;
	if (value > range->high)
		range->high = value;
}

static double above_zero(double value)
{
	return value > 0 ? value : 0;
}

/* --- the tree --- */

static bool was_picked(const struct dossier *dossier)
{
	for (int32_t i = 0; i < dossier->entry_count; i++)
		if (dossier->entries[i]->kind == KIND_PICK)
			return true;
	return false;
}

static enum water_stand stand_of(const struct dossier *dossier)
{
	const struct fact_row *years =
		dossier->kind.species == NULL
			? NULL
			: species_fact(dossier->kind.species, "years-to-crop");
	struct maybe_i32 age_years = dossier->age_low_years;

	if (dossier->spot != NULL && dossier->spot->kind == SPOT_CONTAINER)
		return STAND_POT;
	if (age_years.known && age_years.value < 1)
		return STAND_NEW;
	if (was_picked(dossier))
		return STAND_BEARING;
	if (!age_years.known || years == NULL || !years->low.known)
		return STAND_UNKNOWN;
	return age_years.value >= years->low.value ? STAND_BEARING : STAND_YOUNG;
}

/* --- the week --- */

/* The last day that both extremes are known of, within THIRST_LATE_DAYS of today. */
static bool week_of(const struct sky *sky, struct date today, struct tree_water *out)
{
	for (int32_t i = sky->count; i-- > 0;) {
		const struct day_weather *day = &sky->days[i];

		if (date_days_between(day->day, today) > THIRST_LATE_DAYS)
			return false;
		if (day->min_decic.known && day->max_decic.known) {
			out->to = day->day;
			out->from = date_add_days(day->day, 1 - WATER_WEEK_DAYS);
			return true;
		}
	}
	return false;
}

static void read_day(const struct sky *sky, const struct day_weather *day, struct tree_water *out)
{
	struct maybe_i32 max_decic = sky_max_decic(sky, day);
	double counts_mm = 0;

	out->heat_days += max_decic.known && max_decic.value >= WATER_HEAT_DECIC;
	out->logged = out->logged || day->min_entry != NULL || day->max_entry != NULL;
	if (out->station[0] == '\0')
		out->station = day->station;
	if (!day->rain_um.known)
		return;
	out->rain_days++;
	out->rain_mm += (double)day->rain_um.value / 1000;
	if (water_rain_of_day_mm((double)day->rain_um.value / 1000, &counts_mm, NULL) == STATUS_OK)
		out->rain_counts_mm += counts_mm;
}

/* Reference and use of the week, mm, by these coefficients: the mean of the known days for all. */
static bool sum_week(const struct thirst_terms *terms, const struct sky *sky,
	struct tree_water *out, double *reference_mm, double *use_mm)
{
	struct thirst_terms bare = *terms; /* a coefficient of one all year: the reference */
	int32_t days = 0;

	bare.kc = (struct water_kc){.known = true, .early = 1, .mid = 1, .late = 1};
	bare.year = (struct leaf_year){.evergreen = true};
	*reference_mm = *use_mm = 0;
	for (int32_t i = 0; i < sky->count; i++) {
		double day_mm = 0, crop_mm = 0;
		struct fault why = {0};

		if (date_compare(sky->days[i].day, out->from) < 0 ||
			date_compare(sky->days[i].day, out->to) > 0)
			continue;
		if (thirst_of_day(&bare, sky, &sky->days[i], &day_mm, &why) != STATUS_OK ||
			thirst_of_day(terms, sky, &sky->days[i], &crop_mm, &why) != STATUS_OK) {
			if (strstr(why.text, "polar night") != NULL)
				out->lacks |= LACK_POLAR;
			continue;
		}
		*reference_mm += day_mm;
		*use_mm += crop_mm;
		days++;
	}
	out->days_known = days;
	if (days < WATER_DAYS_LEAST)
		return false;
	*reference_mm *= (double)WATER_WEEK_DAYS / days;
	*use_mm *= (double)WATER_WEEK_DAYS / days;
	return true;
}

/* --- soil and roots --- */

static void store_of(const struct dossier *dossier, struct tree_water *out)
{
	const struct spot *spot = dossier->spot;
	const struct species *species = dossier->kind.species;
	const struct water_soil *soil = water_soil_of(spot != NULL ? spot->soil : SOIL_UNKNOWN);

	if (out->stand == STAND_POT)
		return;
	if (soil != NULL) {
		widen(&out->mm_per_m, water_soil_mm_per_m(soil));
	} else {
		out->lacks |= LACK_SOIL;
		out->mm_per_m = range_of(water_soil_mm_per_m(water_soil_named("sand")),
			water_soil_mm_per_m(water_soil_named("silt")));
	}
	if (spot == NULL || !spot->root_depth_um.known)
		out->lacks |= LACK_ROOTS;
	if (spot != NULL && spot->root_depth_um.known) {
		widen(&out->root_m, (double)spot->root_depth_um.value / 1e6);
	} else if (species != NULL) {
		out->root_row = species_fact(
			species, out->stand == STAND_NEW ? "root-depth-new" : "root-depth");
		if (out->root_row != NULL && out->root_row->low.known && out->root_row->high.known)
			out->root_m = range_of((double)out->root_row->low.value / 1e6,
				(double)out->root_row->high.value / 1e6);
	}
	if (species != NULL)
		out->depletion_row = species_fact(species, "depletion");
}

/* What a full store gives, and how long, at a use of so much a day. */
static void span_store(struct tree_water *out, double day_mm)
{
	double depletion = (double)out->depletion_row->low.value / 1000;
	double soils[] = {out->mm_per_m.low, out->mm_per_m.high};
	double roots[] = {out->root_m.low, out->root_m.high};

	for (int i = 0; i < 2; i++) {
		struct water_store holds;
		struct water_days lasts;

		if (water_store_of(soils[i], roots[i], depletion, day_mm, &holds, NULL) !=
				STATUS_OK ||
			water_days_until_dry(&holds, 0, day_mm, &lasts, NULL) != STATUS_OK)
			return;
		widen(&out->ready_mm, holds.ready_mm);
		if (!lasts.never)
			widen(&out->full_days, lasts.days);
	}
}

/* Days from today until the store of one end is used, by the account of all told days. */
static void span_account(const struct dossier *dossier, const struct thirst_terms *terms,
	const struct sky *sky, struct date today, struct tree_water *out)
{
	struct thirst thirst;
	struct water_store holds;
	struct water_days dry;
	double day_mm = 0;

	if (!thirst_follow(dossier, terms, sky, today, &thirst))
		return;
	struct thirst_terms at = *terms;
	double reference_mm = 0;
	if (!sum_week(&at, sky, out, &reference_mm, &day_mm))
		return;
	day_mm /= WATER_WEEK_DAYS;
	if (water_store_of(terms->mm_per_m, terms->root_depth_m, terms->depletion, day_mm, &holds,
		    NULL) != STATUS_OK ||
		water_days_until_dry(&holds, thirst.used_mm, day_mm, &dry, NULL) != STATUS_OK ||
		dry.never)
		return;
	widen(&out->dry_days, dry.days);
	out->account_from = thirst.from;
}

/* --- watering --- */

static void read_given(const struct dossier *dossier, struct date today, struct tree_water *out)
{
	enum { GIVEN_MAX = 64 };
	const struct entry *given[GIVEN_MAX];
	int32_t count = dossier_between(dossier, KIND_WATER, out->from, today, given, GIVEN_MAX);

	for (int32_t i = 0; i < count && i < GIVEN_MAX; i++) {
		struct maybe_i64 volume_ul = water_volume_of_entry(given[i], dossier->spot);

		if (strcmp(entry_detail(given[i], FIELD_PER), "week") == 0)
			continue; /* a rate, no watering of that day */
		out->given_count++;
		if (volume_ul.known)
			out->given_l += (double)volume_ul.value / 1e6;
		else
			out->given_unknown++;
	}
	out->lacks |= out->given_unknown > 0 ? LACK_GIVEN : 0;
}

/* Emitters and flow: the spot's, else of the newest line that says both. */
static void read_method(const struct dossier *dossier, struct date today, struct tree_water *out)
{
	const struct spot *spot = dossier->spot;

	if (spot != NULL && spot->efficiency_permille.known && spot->efficiency_permille.value > 0)
		out->efficiency = spot->efficiency_permille.value / 1000.0;
	else
		out->lacks |= LACK_EFFICIENCY;
	if (spot != NULL && spot->emitters.known && spot->emitters.value > 0 &&
		spot->flow_ulh.known && spot->flow_ulh.value > 0) {
		out->emitters = spot->emitters.value;
		out->flow_ulh = spot->flow_ulh.value;
		return;
	}
	for (int32_t i = dossier->entry_count; i-- > 0 && out->emitters == 0;) {
		const struct entry *entry = dossier->entries[i];
		const struct amount *emitters = entry_amount(entry, FIELD_EMITTERS);
		const struct amount *flow = entry_amount(entry, FIELD_FLOW);
		struct maybe_date day = date_span_first(&entry->day);

		if (entry->kind != KIND_WATER || emitters == NULL || flow == NULL || !day.known ||
			date_compare(day.value, today) > 0)
			continue;
		out->emitters = (int32_t)(amount_point(emitters).value / 1000);
		out->flow_ulh = amount_point(flow).value;
		out->flow_entry = entry;
	}
	out->lacks |= out->emitters > 0 && out->flow_ulh > 0 ? 0 : LACK_EMITTERS;
}

/* --- ways to a week's depth --- */

static double to_litres(const struct tree_water *out, double depth_mm, double efficiency)
{
	double litres = 0;

	if (water_litres(depth_mm, out->canopy_m2, efficiency, &litres, NULL) != STATUS_OK)
		return 0;
	return litres;
}

static double run_of(const struct tree_water *out, double litres)
{
	int64_t run_s = 0;

	if (water_run_s(round_i64(litres * 1e6), out->emitters, out->flow_ulh, &run_s, NULL) !=
		STATUS_OK)
		return 0;
	return (double)run_s;
}

/* Rain off the depth, the crown's ground, what was given, the method. */
static void add_way(struct tree_water *out, struct water_way way)
{
	const struct water_range *give = &way.need_l;

	way.depth_mm = range_of(above_zero(way.full_mm.low - out->rain_counts_mm),
		above_zero(way.full_mm.high - out->rain_counts_mm));
	if (out->canopy_m2 > 0)
		way.need_l = range_of(
			to_litres(out, way.depth_mm.low, 1), to_litres(out, way.depth_mm.high, 1));
	if (way.need_l.known && out->efficiency > 0 && out->given_unknown == 0) {
		way.give_l = range_of(above_zero(way.need_l.low / out->efficiency - out->given_l),
			above_zero(way.need_l.high / out->efficiency - out->given_l));
		give = &way.give_l;
	}
	if (give->known && out->emitters > 0 && out->flow_ulh > 0)
		way.run_s = range_of(run_of(out, give->low), run_of(out, give->high));
	out->ways[out->way_count++] = way;
}

/* The newest line that says so much depth a week. */
static const struct entry *own_rate(
	const struct dossier *dossier, struct date today, double *depth_mm)
{
	for (int32_t i = dossier->entry_count; i-- > 0;) {
		const struct entry *entry = dossier->entries[i];
		const struct amount *depth = entry_amount(entry, FIELD_DEPTH);
		struct maybe_date day = date_span_first(&entry->day);

		if (entry->kind != KIND_WATER || depth == NULL || !amount_point(depth).known ||
			!day.known || date_compare(day.value, today) > 0 ||
			strcmp(entry_detail(entry, FIELD_PER), "week") != 0)
			continue;
		*depth_mm = (double)amount_point(depth).value / 1000;
		return entry;
	}
	return NULL;
}

static void add_rules(const struct dossier *dossier, struct date today, struct tree_water *out)
{
	const struct species *species = dossier->kind.species;
	const struct fact_row *rule = species != NULL ? species_fact(species, "water-week") : NULL;
	double own_mm = 0;
	const struct entry *own = own_rate(dossier, today, &own_mm);

	if (own != NULL)
		add_way(out, (struct water_way){.kind = WAY_OWN,
				     .entry = own,
				     .full_mm = range_of(own_mm, own_mm)});
	if (rule != NULL && rule->high.known && out->stand == STAND_BEARING &&
		out->phase != LEAF_REST)
		add_way(out, (struct water_way){.kind = WAY_RULE,
				     .rule = rule,
				     .full_mm = range_of(0, (double)rule->high.value / 1000)});
}

/* --- together --- */

static void follow_weather(const struct dossier *dossier, const struct sky *sky, struct date today,
	struct tree_water *out)
{
	struct water_kc least, most;
	struct thirst_terms terms = {.year = leaf_year_of(dossier, today),
		.latitude_deg = dossier->place->latitude_udeg.value / 1e6,
		.canopy_m2 = out->canopy_m2};
	double reference_mm = 0, least_mm = 0, most_mm = 0;

	bool has_kc = water_kcs_of(dossier, out, &least, &most);
	if (out->phase == LEAF_ANY) {
		least = water_kc_flat(&least, false);
		most = water_kc_flat(&most, true);
	}
	out->stages = terms.year.stages;
	out->lacks |= has_kc && out->phase == LEAF_UNKNOWN ? LACK_DATES : 0;
	terms.kc = least;
	if (!sum_week(&terms, sky, out, &reference_mm, &least_mm)) {
		out->lacks |= (out->lacks & LACK_POLAR) != 0 ? 0 : LACK_WEATHER;
		return;
	}
	out->reference_mm = range_of(reference_mm, reference_mm);
	if (!has_kc || out->phase == LEAF_UNKNOWN)
		return;
	terms.kc = most;
	(void)sum_week(&terms, sky, out, &reference_mm, &most_mm);
	out->kc = range_of(
		leaf_kc_on(&least, &terms.year, out->to), leaf_kc_on(&most, &terms.year, out->to));
	add_way(out,
		(struct water_way){.kind = WAY_WEATHER, .full_mm = range_of(least_mm, most_mm)});
	if (!out->mm_per_m.known || !out->root_m.known || out->depletion_row == NULL ||
		!out->depletion_row->low.known)
		return;
	span_store(out, least_mm / WATER_WEEK_DAYS);
	span_store(out, most_mm / WATER_WEEK_DAYS);
	terms.depletion = (double)out->depletion_row->low.value / 1000;
	terms.mm_per_m = out->mm_per_m.low;
	terms.root_depth_m = out->root_m.low;
	span_account(dossier, &terms, sky, today, out);
	terms.kc = least;
	terms.mm_per_m = out->mm_per_m.high;
	terms.root_depth_m = out->root_m.high;
	span_account(dossier, &terms, sky, today, out);
}

static void read_week(const struct sky *sky, struct tree_water *out)
{
	for (int32_t i = 0; i < sky->count; i++)
		if (date_compare(sky->days[i].day, out->from) >= 0 &&
			date_compare(sky->days[i].day, out->to) <= 0)
			read_day(sky, &sky->days[i], out);
	out->lacks |= out->rain_days < WATER_WEEK_DAYS ? LACK_RAIN : 0;
}

void tree_water_make(const struct dossier *dossier, struct date today, struct tree_water *out)
{
	*out = (struct tree_water){.dossier = dossier,
		.station = "",
		.stand = stand_of(dossier),
		.from = date_add_days(today, 1 - WATER_WEEK_DAYS),
		.to = today};
	struct sky sky =
		sky_open(dossier, (struct day_span){date_add_days(today, -SKY_DAYS), today});

	out->spread = dossier_spread(dossier, today, &out->spread_on);
	if (out->spread == NULL ||
		water_canopy_m2((double)(out->spread->low_um + out->spread->high_um) / 2e6,
			&out->canopy_m2, NULL) != STATUS_OK)
		out->lacks |= LACK_SPREAD;
	out->lacks |= dossier->kind.species == NULL ? LACK_KIND : 0;
	out->lacks |= !dossier->place->latitude_udeg.known ? LACK_LATITUDE : 0;
	bool has_week = week_of(&sky, today, out);
	if (dossier->kind.species != NULL) {
		struct leaf_year year = leaf_year_of(dossier, out->to);

		out->phase = leaf_phase_on(&year, out->to);
	}
	out->lacks |= has_week ? 0 : LACK_WEATHER;
	read_week(&sky, out);
	read_given(dossier, today, out);
	read_method(dossier, today, out);
	store_of(dossier, out);
	if (has_week && (out->lacks & (LACK_KIND | LACK_LATITUDE)) == 0)
		follow_weather(dossier, &sky, today, out);
	add_rules(dossier, today, out);
	sky_close(&sky);
}
