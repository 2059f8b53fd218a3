/* SPDX-License-Identifier: MIT */
/* Rules about water: a soil store used up, watering every day. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "soil.h"
#include "water_advice.h"

/* How far back weather is followed; wilting seen is held so long. */
enum { STORE_DAYS = 120, WILT_DAYS = 30 };
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

/* --- water-short --- */

static bool is_habit(const struct dossier *dossier, struct date today)
{
	return look_seasons_with(dossier, KIND_WATER, look_work_year(dossier, today)) >= 2;
}

/* Today's row may be begun and not whole: it is left out. */
static void drop_unfinished(struct sky *sky, struct date today)
{
	while (sky->count > 0 && !thirst_is_told(&sky->days[sky->count - 1]) &&
		date_days_between(sky->days[sky->count - 1].day, today) <= THIRST_LATE_DAYS)
		sky->count--;
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
		if (!thirst_is_told(day) ||
			(i + 1 < sky->count && sky->days[i + 1].day.day - day->day.day != 1))
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

	if (sky->count == 0 || soil_rests(dossier, today) ||
		date_days_between(sky->days[sky->count - 1].day, today) > THIRST_LATE_DAYS)
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
	soil_settles(dossier, flag);
	if (wilt != NULL)
		proof_entry(out, flag, "", wilt);
	flag_evidence(out, flag,
		"common practice: a pot dries in two days at 30 C or in five; 10 mm of rain fill "
		"it");
	flag_key_set(flag, look_work_year(dossier, today), date_format(since, cause));
}

/* Is weather stored for one of the last days. */
static bool is_followed(const struct dossier *dossier, struct date today)
{
	for (int32_t i = dossier->weather_count; i-- > 0;) {
		int32_t ago = date_days_between(dossier->weather[i].day, today);

		if (ago >= 0)
			return ago <= THIRST_LATE_DAYS;
	}
	return false;
}

void rule_water_short(const struct dossier *dossier, struct date today, struct flags *out)
{
	if (dossier->kind.species == NULL || dossier->host != NULL || !is_followed(dossier, today))
		return;
	const struct entry *wilt = wilt_seen(dossier, today);
	flags_change_on(out, today, date_add_days(today, 1)); /* each day uses some */
	if ((wilt == NULL && !is_habit(dossier, today)) || look_bad_day(dossier, today) != NULL)
		return;
	struct sky sky =
		sky_open(dossier, (struct day_span){date_add_days(today, -STORE_DAYS), today});
	drop_unfinished(&sky, today);
	if (in_container(dossier))
		look_at_pot(dossier, &sky, today, wilt, out);
	else
		soil_look(dossier, &sky, today, wilt, out);
	sky_close(&sky);
}

/* --- water-daily --- */

/* Ten days of the last fourteen are daily (common practice); a line that says so holds a month. */
enum { DAILY_SPAN = 14, DAILY_LEAST = 10, DAILY_SAID_DAYS = 30 };

/* Days of the last fortnight on which it was watered. */
static int32_t daily_days(const struct dossier *dossier, struct date today,
	const struct entry **last, struct flags *out)
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
	look_say(&flag->action, "%s%s%s%s", look_sentence(seldom->text, sentence, sizeof sentence),
		own != NULL ? " " : "",
		own != NULL ? look_sentence(own->text, how, sizeof how) : "",
		is_time ? " A time is no amount: log the emitters and the flow of one with it."
			: "");
	flag->began = known_date(day);
	flag->source = seldom->source;
	snprintf(flag->basis, sizeof flag->basis, "almanac");
	proof_entry(out, flag, "the watering", last);
	if (!is_said_daily(last))
		flag_evidence(out, flag, "asked from %d days in %d on (common practice)",
			DAILY_LEAST, DAILY_SPAN);
	water_tell_amount(dossier, last, out, flag);
	water_say_mulch(dossier, out, flag);
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
	if (seldom == NULL || newest == NULL || date_days_between(on, today) > DAILY_SAID_DAYS)
		return;
	flags_change_on(out, today, date_add_days(on, DAILY_SAID_DAYS + 1));
	int32_t days = daily_days(dossier, today, &last, out);
	bool said = is_said_daily(newest);
	if (said || days >= DAILY_LEAST)
		flag_daily(dossier, said ? newest : last, days, seldom, today, out);
}
