/* SPDX-License-Identifier: MIT */
/* What the soil under a tree holds, and whether the weather has used it up. */
#include "soil.h"

#include <stdio.h>

#include "core/text.h"

bool soil_rests(const struct dossier *dossier, struct date day)
{
	struct leaf_year year = leaf_year_of(dossier, day);
	enum leaf_phase phase = leaf_phase_on(&year, day);

	return phase == LEAF_REST || phase == LEAF_UNKNOWN;
}

/* --- the store of the soil --- */

struct store {
	struct thirst_terms terms;
	bool soil_known;
	bool depth_known;
	enum known_by sure;
};

static double canopy_of(const struct dossier *dossier, struct date today)
{
	const struct stem_measure *spread = dossier_spread(dossier, today, NULL);
	double canopy_m2 = 0;

	if (spread == NULL ||
		water_canopy_m2((double)spread->low_um / 1e6, &canopy_m2, NULL) != STATUS_OK)
		return 0;
	return canopy_m2;
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

	store->terms.kc = water_kc_of(species, &ground);
	store->terms.year = leaf_year_of(dossier, today);
	if (store->terms.year.evergreen) /* the least of its year: its stages are second-hand */
		store->terms.kc = water_kc_flat(&store->terms.kc, false);
	store->soil_known = soil != NULL;
	store->depth_known = spot != NULL && spot->root_depth_um.known;
	if (!store->terms.kc.known || depletion == NULL || !depletion->low.known ||
		(!store->depth_known && (roots == NULL || !roots->high.known)) ||
		!dossier->place->latitude_udeg.known)
		return false;
	store->terms.latitude_deg = dossier->place->latitude_udeg.value / 1e6;
	store->terms.mm_per_m = water_soil_mm_per_m(soil != NULL ? soil : water_soil_named("silt"));
	store->terms.root_depth_m =
		(double)(store->depth_known ? spot->root_depth_um.value : roots->high.value) / 1e6;
	store->terms.depletion = (double)depletion->low.value / 1000;
	store->terms.canopy_m2 = canopy_of(dossier, today);
	store->sure =
		store->terms.kc.sure > depletion->sure ? store->terms.kc.sure : depletion->sure;
	return true;
}

/* --- what is said --- */

void soil_settles(const struct dossier *dossier, struct flag *flag)
{
	flag->settles = KIND_WATER;
	snprintf(flag->fills, sizeof flag->fills, "%s watered ", dossier->tree.label);
}

/* Litres that fill the store again by the grower's own method; 0 not known. */
static double refill_litres(
	const struct dossier *dossier, const struct store *store, const struct thirst *thirst)
{
	const struct spot *spot = dossier->spot;
	double efficiency = spot != NULL && spot->efficiency_permille.known
				    ? spot->efficiency_permille.value / 1000.0
				    : 1;
	double litres = 0;

	if (store->terms.canopy_m2 <= 0 || water_litres(thirst->used_mm, store->terms.canopy_m2,
						   efficiency, &litres, NULL) != STATUS_OK)
		return 0;
	return litres;
}

static void say_refill(const struct dossier *dossier, const struct store *store,
	const struct thirst *thirst, struct flag *flag)
{
	const struct spot *spot = dossier->spot;
	double litres = refill_litres(dossier, store, thirst);
	const struct number_rules rules = {
		dossier->place->units, dossier->place->gallon, dossier->place->numbers};
	struct text_builder words = text_builder_fixed(flag->action, sizeof flag->action);
	char volume[32];
	int64_t run_s = 0;

	text_add(&words,
		"Feel the soil a hand deep first. Where it is dry, water deeply at dawn or in "
		"the evening, out to the edge of the crown, the trunk dry. ");
	if (litres > 0)
		text_add_format(&words, "About %s refills what is missing. ",
			volume_format_rough(
				round_i64(litres * 1e6), &rules, volume, sizeof volume));
	if (litres > 0 && spot != NULL && spot->emitters.known && spot->flow_ulh.known &&
		water_run_s(round_i64(litres * 1e6), spot->emitters.value, spot->flow_ulh.value,
			&run_s, NULL) == STATUS_OK)
		text_add_format(&words, "Your %d emitter%s that in about %.*f h. ",
			spot->emitters.value, spot->emitters.value == 1 ? " gives" : "s give",
			run_s < 36000 ? 1 : 0, (double)run_s / 3600);
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
		length_format(
			round_i64(store->terms.root_depth_m * 1e6), units, depth, sizeof depth),
		store->depth_known ? "" : " (not known, the most printed)",
		sky_depth(holds->total_mm, units, total, sizeof total),
		sky_depth(holds->ready_mm, units, ready, sizeof ready));
	flag_evidence(out, flag,
		"use by Hargreaves' formula and Kc %.2f %s (%s)%s; it wants fitting to a place",
		store->terms.kc.mid,
		store->terms.year.evergreen ? "all year, the least of its stages" : "in mid season",
		store->terms.kc.source, store->terms.kc.stands_in ? ", a stand-in" : "");
}

/* The watering that the count begins with. */
static void tell_watered(
	const struct dossier *dossier, struct date from, struct flags *out, struct flag *flag)
{
	const struct entry *given[1];

	if (dossier_between(dossier, KIND_WATER, from, from, given, 1) > 0)
		proof_entry(out, flag, "", given[0]);
}

static void flag_dry(const struct dossier *dossier, const struct store *store,
	const struct thirst *thirst, const struct water_store *holds, const struct entry *wilt,
	struct flags *out)
{
	enum unit_system units = dossier->place->units;
	bool due = look_may_alarm(store->sure);
	struct flag *flag =
		flags_add(out, "water-short", dossier, due ? URGENCY_DUE : URGENCY_NOTE);
	char used[32], rain[64] = "no rain", ready[32], when[24], cause[DATE_SIZE];

	if (thirst->rain_mm >= 1)
		snprintf(rain, sizeof rain, "%s of rain",
			sky_depth(thirst->rain_mm, units, used, sizeof used));
	look_say(&flag->says,
		"Likely dry: about %s used since %s and %s that counts, where this spot gives %s "
		"before the tree is short%s.",
		sky_depth(thirst->crop_mm, units, used, sizeof used),
		date_format_plain(thirst->from, when, sizeof when), rain,
		sky_depth(holds->ready_mm, units, ready, sizeof ready),
		wilt != NULL ? ", and you saw it wilt" : "");
	say_refill(dossier, store, thirst, flag);
	flag->began = known_date(thirst->to);
	flag->source = store->terms.kc.source;
	snprintf(flag->basis, sizeof flag->basis, "stored weather, %d days", thirst->days);
	soil_settles(dossier, flag);
	if (wilt != NULL)
		proof_entry(out, flag, "", wilt);
	tell_watered(dossier, thirst->from, out, flag);
	tell_store(dossier, store, holds, out, flag);
	flag_evidence(out, flag, "used net of rain and water: %s in %d days of stored weather",
		sky_depth(thirst->used_mm, units, used, sizeof used), thirst->days);
	flag_key_set(flag, look_work_year(dossier, thirst->to), date_format(thirst->from, cause));
}

void soil_look(const struct dossier *dossier, const struct sky *sky, struct date today,
	const struct entry *wilt, struct flags *out)
{
	struct store store;
	struct thirst thirst;
	struct water_store holds;

	if (!store_of(dossier, today, &store) ||
		!thirst_follow(dossier, &store.terms, sky, today, &thirst) ||
		soil_rests(dossier, today))
		return;
	if (water_store_of(store.terms.mm_per_m, store.terms.root_depth_m, store.terms.depletion,
		    thirst.week_mm, &holds, NULL) != STATUS_OK)
		return;
	if (thirst.used_mm >= holds.ready_mm)
		flag_dry(dossier, &store, &thirst, &holds, wilt, out);
}
