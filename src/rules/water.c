/* SPDX-License-Identifier: MIT */
/* Rules about water: a soil store used up, watering every day. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "reckon/water.h"
#include "sky.h"

/* How far back weather is followed; a station may be two days late; wilting seen is held so long. */
enum { STORE_DAYS = 120, LATE_DAYS = 2, WILT_DAYS = 30 };
/* A pot, by common practice: dry after two days at or above 30 C, or after five; 10 mm fill it. */
enum { POT_HOT_DAYS = 2, POT_DAYS = 5, POT_HOT_DECIC = 300, POT_RAIN_UM = 10000 };

static bool in_container(const struct dossier *dossier)
{
	return dossier->spot != NULL && dossier->spot->kind == SPOT_CONTAINER;
}

/* The last watering up to a day; NULL none. */
static const struct entry *last_watering(
	const struct dossier *dossier, struct date day, struct date *on)
{
	const struct entry *last = dossier_last(dossier, KIND_WATER, day);

	return last != NULL && look_day(last, on) ? last : NULL;
}

/* Seen wilting within a month and not watered since; NULL none. */
static const struct entry *wilt_seen(const struct dossier *dossier, struct date today)
{
	struct date watered = {0};
	bool was_watered = last_watering(dossier, today, &watered) != NULL;
	const struct entry *seen = NULL;
	struct date day;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];

		if ((entry->kind == KIND_SAW || entry->kind == KIND_NOTE) &&
			look_day(entry, &day) && date_days_between(day, today) <= WILT_DAYS &&
			date_compare(day, today) <= 0 &&
			(!was_watered || date_compare(watered, day) < 0) &&
			look_tells(entry, "wilt|wilted|wilting|drooping|drought|dry soil|soil dry"))
			seen = entry;
	}
	return seen;
}

/* --- the time of year --- */

enum phase { PHASE_REST, PHASE_EARLY, PHASE_MID, PHASE_LATE };

/* Leaves are taken to fall by November in the north (common practice). */
static const struct month_day leaf_fall = {11, 1};

static enum phase phase_on(const struct dossier *dossier, struct date day)
{
	struct window bloom = dossier_window(dossier, WINDOW_BLOOM, day);
	struct window harvest = dossier_window(dossier, WINDOW_HARVEST, day);

	if (dossier->kind.species->evergreen)
		return PHASE_MID;
	if (!bloom.known || bloom.all_year || !window_place_has_dates(dossier->place))
		return PHASE_REST;
	int32_t opens = circle_of(bloom.from);
	int32_t falls = circle_of(window_turn(leaf_fall, dossier->place->hemisphere));
	int32_t at = circle_of_date(day);
	falls += falls < opens ? 365 : 0;
	if (!circle_within(at, opens, falls - 1))
		return PHASE_REST;
	if (window_holds(&bloom, day))
		return PHASE_EARLY;
	if (!harvest.known || harvest.all_year || window_holds(&harvest, day))
		return PHASE_MID;
	int32_t ends = circle_of(harvest.to);
	ends += ends < opens ? 365 : 0;
	return circle_within(at, opens, ends) ? PHASE_MID : PHASE_LATE;
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
static bool store_of(const struct dossier *dossier, struct store *store)
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
	store->canopy_m2 = canopy_of(dossier);
	store->sure = store->kc.sure > depletion->sure ? store->kc.sure : depletion->sure;
	return true;
}

/* A day is followed only when extremes and rain are both known. */
static bool is_told(const struct day_weather *day)
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

static void weather_of_day(const struct dossier *dossier, const struct store *store,
	const struct day_weather *day, struct balance *balance)
{
	struct water_store holds = {0};
	double reference_mm = 0;
	double crop_mm = 0;
	double rain_mm = 0;
	double share = 1; /* of its full use: a short tree draws less */

	if (water_reference_mm(store->latitude_deg, day_of_year(day->day),
		    day->min_decic.value / 10.0, day->max_decic.value / 10.0, &reference_mm,
		    NULL) == STATUS_OK)
		crop_mm = kc_on(&store->kc, phase_on(dossier, day->day)) * reference_mm;
	if (water_rain_of_day_mm((double)day->rain_um.value / 1000, &rain_mm, NULL) != STATUS_OK)
		rain_mm = 0;
	if (water_store_of(store->mm_per_m, store->root_depth_m, store->depletion, crop_mm, &holds,
		    NULL) != STATUS_OK ||
		water_stress(&holds, balance->used_mm, &share, NULL) != STATUS_OK)
		share = 1;
	balance->crop_mm += crop_mm * share;
	balance->rain_mm += rain_mm;
	balance->used_mm += crop_mm * share - rain_mm;
	balance->week_mm += (crop_mm - balance->week_mm) / (balance->days < 7 ? balance->days + 1 : 7);
	balance->days++;
	balance->to = day->day;
	if (balance->used_mm <= 0)
		*balance = (struct balance){.from = day->day, .to = day->day};
}

/* Place of the first day of the unbroken run of told days that ends with the last one. */
static int32_t run_start(const struct sky *sky)
{
	int32_t first = sky->count;

	while (first > 0 && is_told(&sky->days[first - 1]) &&
		(first == sky->count ||
			sky->days[first].day.day - sky->days[first - 1].day.day == 1))
		first--;
	return first;
}

/* Today's row may be begun and not whole: it is left out. */
static void drop_unfinished(struct sky *sky, struct date today)
{
	while (sky->count > 0 && !is_told(&sky->days[sky->count - 1]) &&
		date_days_between(sky->days[sky->count - 1].day, today) <= LATE_DAYS)
		sky->count--;
}

/* False: weather does not reach near enough to today, or not far enough back. */
static bool balance_of(const struct dossier *dossier, const struct store *store,
	const struct sky *sky, struct date today, struct balance *balance)
{
	int32_t first = run_start(sky);

	if (first == sky->count ||
		date_days_between(sky->days[sky->count - 1].day, today) > LATE_DAYS)
		return false;
	*balance = (struct balance){.from = sky->days[first].day, .to = sky->days[first].day};
	for (int32_t i = first; i < sky->count; i++) {
		weather_of_day(dossier, store, &sky->days[i], balance);
		water_of_day(dossier, store, sky->days[i].day, balance);
	}
	/* waterings after the last day of weather */
	for (struct date day = date_add_days(balance->to, 1); date_compare(day, today) <= 0;
		day.day++)
		water_of_day(dossier, store, day, balance);
	return true;
}

/* --- water-short --- */

static bool is_habit(const struct dossier *dossier, struct date today)
{
	return look_seasons_with(dossier, KIND_WATER, look_work_year(dossier, today)) >= 2;
}

static void settle_by_water(const struct dossier *dossier, struct flag *flag)
{
	flag->settles = KIND_WATER;
	snprintf(flag->fills, sizeof flag->fills, "%s watered ", dossier->tree.label);
}

static const char *volume_words(
	const struct dossier *dossier, double litres, char *out, int32_t size)
{
	const struct number_rules rules = {
		dossier->place->units, dossier->place->gallon, dossier->place->numbers};
	double step = litres < 50 ? 1 : 10; /* an estimate: no more digits than it deserves */

	return volume_format(round_i64(floor(litres / step + 0.5) * step * 1e6), &rules, out, size);
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

	text_add(&words, "Feel the soil a hand deep first. Where it is dry, water deeply at dawn or in "
			 "the evening, out to the edge of the crown, the trunk dry. ");
	if (litres > 0)
		text_add_format(&words, "About %s refills what is missing. ",
			volume_words(dossier, litres, volume, sizeof volume));
	if (litres > 0 && spot != NULL && spot->emitters.known && spot->flow_ulh.known &&
		water_run_s(round_i64(litres * 1e6), spot->emitters.value, spot->flow_ulh.value,
			&run_s, NULL) == STATUS_OK)
		text_add_format(&words, "Your %d emitters give that in about %.1f h. ",
			spot->emitters.value, (double)run_s / 3600);
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
		"use by Hargreaves' formula and Kc %.2f in mid season (%s)%s; it wants fitting to a "
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
	char used[32], rain[32], ready[32], when[24], cause[DATE_SIZE];

	look_say(&flag->says,
		"Likely dry: about %s used since %s and %s of rain that counts, where this spot "
		"gives %s before the tree is short%s.",
		sky_depth(balance->crop_mm, units, used, sizeof used),
		date_format_plain(balance->from, when, sizeof when),
		sky_depth(balance->rain_mm, units, rain, sizeof rain),
		sky_depth(holds->ready_mm, units, ready, sizeof ready),
		wilt != NULL ? ", and you saw it wilt" : "");
	say_refill(dossier, store, balance, flag);
	flag->began = known_date(balance->to);
	flag->source = store->kc.source;
	snprintf(flag->basis, sizeof flag->basis, "stored weather, %d days", balance->days);
	settle_by_water(dossier, flag);
	tell_store(dossier, store, holds, out, flag);
	if (wilt != NULL)
		flag_entry_add(flag, wilt);
	flag_key_set(flag, look_work_year(dossier, balance->to), date_format(balance->from, cause));
}

static void look_at_soil(const struct dossier *dossier, const struct sky *sky, struct date today,
	const struct entry *wilt, struct flags *out)
{
	struct store store;
	struct balance balance;
	struct water_store holds;

	if (!store_of(dossier, &store) || !balance_of(dossier, &store, sky, today, &balance) ||
		phase_on(dossier, today) == PHASE_REST)
		return;
	if (water_store_of(store.mm_per_m, store.root_depth_m, store.depletion, balance.week_mm,
		    &holds, NULL) != STATUS_OK)
		return;
	if (balance.used_mm >= holds.ready_mm)
		flag_dry(dossier, &store, &balance, &holds, wilt, out);
}

/* Days since a pot was watered or rained full, with weather told on each; -1 not known. */
static int32_t pot_days(
	const struct dossier *dossier, const struct sky *sky, struct date today, int32_t *hot)
{
	struct date watered = {0};
	bool was_watered = last_watering(dossier, today, &watered) != NULL;

	*hot = 0;
	for (int32_t i = sky->count; i-- > 0;) {
		const struct day_weather *day = &sky->days[i];

		if (was_watered && date_compare(day->day, watered) <= 0)
			return date_days_between(watered, today);
		if (!is_told(day) || (i + 1 < sky->count &&
					     sky->days[i + 1].day.day - day->day.day != 1))
			return -1;
		if (day->rain_um.value >= POT_RAIN_UM)
			return date_days_between(day->day, today);
		struct maybe_i32 max_decic = sky_max_decic(sky, day);
		*hot += max_decic.value >= POT_HOT_DECIC;
	}
	return -1;
}

static void look_at_pot(const struct dossier *dossier, const struct sky *sky, struct date today,
	const struct entry *wilt, struct flags *out)
{
	int32_t hot = 0;
	char cause[DATE_SIZE];

	if (sky->count == 0 || phase_on(dossier, today) == PHASE_REST ||
		date_days_between(sky->days[sky->count - 1].day, today) > LATE_DAYS)
		return;
	int32_t days = pot_days(dossier, sky, today, &hot);
	if (days < POT_HOT_DAYS || (hot < POT_HOT_DAYS && days < POT_DAYS))
		return;
	struct flag *flag = flags_add(out, "water-short", dossier, URGENCY_DUE);
	struct date since = date_add_days(today, -days);
	look_say(&flag->says,
		"Its pot has had no water and no rain to speak of for %d days, %d of them hot%s.",
		days, hot, wilt != NULL ? ", and you saw it wilt" : "");
	look_say(&flag->action,
		"Feel the mix two fingers deep; where it is dry, water until it runs out below, at "
		"dawn or in the evening. Local water rules come first.");
	flag->began = known_date(since);
	snprintf(flag->basis, sizeof flag->basis, "stored weather");
	settle_by_water(dossier, flag);
	flag_evidence(out, flag,
		"common practice: a pot dries in two days at 30 C or in five; 10 mm of rain fill it");
	if (wilt != NULL)
		flag_entry_add(flag, wilt);
	flag_key_set(flag, look_work_year(dossier, today), date_format(since, cause));
}

void rule_water_short(const struct dossier *dossier, struct date today, struct flags *out)
{
	if (dossier->kind.species == NULL || dossier->host != NULL || dossier->weather_count == 0)
		return;
	struct date newest = dossier->weather[dossier->weather_count - 1].day;
	if (date_days_between(newest, today) > LATE_DAYS)
		return;
	const struct entry *wilt = wilt_seen(dossier, today);
	flags_change_on(out, today, date_add_days(today, 1)); /* each day uses some */
	if ((wilt == NULL && !is_habit(dossier, today)) || look_bad_day(dossier, today) != NULL)
		return;
	struct sky sky = sky_open(
		dossier, (struct day_span){date_add_days(today, -STORE_DAYS), today});
	drop_unfinished(&sky, today);
	if (in_container(dossier))
		look_at_pot(dossier, &sky, today, wilt, out);
	else
		look_at_soil(dossier, &sky, today, wilt, out);
	sky_close(&sky);
}

/* --- water-daily --- */

/* Ten days of the last fourteen are daily (common practice); a line that says so is held a month. */
enum { DAILY_SPAN = 14, DAILY_LEAST = 10, DAILY_SAID_DAYS = 30 };

/* Days of the last fortnight on which it was watered. */
static int32_t watered_days(
	const struct dossier *dossier, struct date today, const struct entry **last, struct flags *out)
{
	struct date from = date_add_days(today, 1 - DAILY_SPAN);
	struct date before = {INT32_MIN};
	int32_t days = 0;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		struct date day;

		if (entry->kind != KIND_WATER || !look_day(entry, &day) ||
			date_compare(day, from) < 0 || date_compare(day, today) > 0)
			continue;
		days += day.day != before.day;
		before = day;
		*last = entry;
		flags_change_on(out, today, date_add_days(day, DAILY_SPAN));
	}
	return days;
}

static bool is_said_daily(const struct entry *entry)
{
	return strcmp(entry_detail(entry, FIELD_PER), "day") == 0;
}

static bool in_first_year(const struct dossier *dossier)
{
	return dossier->age_low_years.known && dossier->age_low_years.value < 1;
}

static void flag_daily(const struct dossier *dossier, const struct entry *last, int32_t days,
	const struct fact_row *seldom, struct date today, struct flags *out)
{
	bool due = look_may_alarm(seldom->sure) && look_bad_day(dossier, today) == NULL;
	struct flag *flag =
		flags_add(out, "water-daily", dossier, due ? URGENCY_DUE : URGENCY_NOTE);
	const struct fact_row *own = species_fact(dossier->kind.species, "water");
	char sentence[FLAG_SAYS_SIZE], how[FLAG_SAYS_SIZE] = "", cause[16];
	bool is_time = entry_amount(last, FIELD_DURATION) != NULL &&
		       !water_volume_of_entry(last, dossier->spot).known;
	struct date day = {0};

	(void)look_day(last, &day);
	if (is_said_daily(last))
		look_say(&flag->says, "Watered every day, as you logged it.");
	else
		look_say(&flag->says, "Watered on %d of the last %d days.", days, DAILY_SPAN);
	look_say(&flag->action, "%s %s%s", look_sentence(seldom->text, sentence, sizeof sentence),
		own != NULL ? look_sentence(own->text, how, sizeof how) : "",
		is_time ? " A time is no amount: log the emitters and the flow of one with it."
			: "");
	flag->began = known_date(day);
	flag->source = seldom->source;
	snprintf(flag->basis, sizeof flag->basis, "almanac");
	flag_entry_add(flag, last);
	flag_evidence(out, flag, "the watering as logged: %s", last->words);
	snprintf(cause, sizeof cause, "daily");
	flag_key_set(flag, look_work_year(dossier, day), cause);
}

void rule_water_daily(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct species *species = dossier->kind.species;
	const struct entry *last = NULL;
	struct date on = {0};

	if (species == NULL || dossier->host != NULL || in_container(dossier) ||
		in_first_year(dossier))
		return;
	const struct fact_row *seldom = species_fact(species, "water-seldom");
	const struct entry *newest = last_watering(dossier, today, &on);
	if (seldom == NULL || newest == NULL ||
		date_days_between(on, today) > DAILY_SAID_DAYS)
		return;
	flags_change_on(out, today, date_add_days(on, DAILY_SAID_DAYS + 1));
	int32_t days = watered_days(dossier, today, &last, out);
	bool said = is_said_daily(newest);
	if (said || days >= DAILY_LEAST)
		flag_daily(dossier, said ? newest : last, days, seldom, today, out);
}
