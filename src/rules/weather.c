/* SPDX-License-Identifier: MIT */
/* Rules about heat and about winter chill. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "reckon/chill.h"
#include "reckon/chill_need.h"
#include "reckon/sky.h"
#include "reckon/weather_season.h"
#include "look.h"

/* --- heat --- */

/* Heat is told for so long after; a spell ends with four days below the limit; how far back its
 * first day is looked for. Two hot days in a row are a spell. */
enum { HEAT_DAYS = 14, SPELL_GAP_DAYS = 3, SPELL_DAYS = 60, SPELL_LONG = 3, YOUNG_YEARS = 3 };

struct spell {
	const struct day_weather *first;
	const struct day_weather *last;
	const struct day_weather *hottest;
	int32_t hottest_decic;
	int32_t days;
};

/* The last spell of days at or above the limit. */
static struct spell last_spell(const struct sky *sky, int32_t limit_decic)
{
	struct spell spell = {.days = 0};

	for (int32_t i = 0; i < sky->count; i++) {
		const struct day_weather *day = &sky->days[i];
		struct maybe_i32 max_decic = sky_max_decic(sky, day);

		if (!max_decic.known || max_decic.value < limit_decic)
			continue;
		if (spell.days > 0 &&
			date_days_between(spell.last->day, day->day) > SPELL_GAP_DAYS + 1)
			spell = (struct spell){.days = 0};
		if (spell.days == 0)
			spell.first = day;
		if (spell.days == 0 || max_decic.value > spell.hottest_decic) {
			spell.hottest = day;
			spell.hottest_decic = max_decic.value;
		}
		spell.last = day;
		spell.days++;
	}
	return spell;
}

static bool in_container(const struct dossier *dossier)
{
	return dossier->spot != NULL && dossier->spot->kind == SPOT_CONTAINER;
}

static bool is_young(const struct dossier *dossier)
{
	return dossier->age_high_years.known && dossier->age_high_years.value < YOUNG_YEARS;
}

/* Shaded or looked at since the spell began. */
static bool is_answered(const struct dossier *dossier, struct date from)
{
	struct date day;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		bool answers = entry->kind == KIND_PROTECT ||
			       (entry->kind == KIND_SAW &&
				       look_tells(entry, "scorch|scorched|sunburn|burnt|heat"));

		if (answers && look_day(entry, &day) && date_compare(day, from) >= 0)
			return true;
	}
	return false;
}

static void flag_heat(const struct dossier *dossier, const struct spell *spell,
	const struct fact_row *limit, struct date today, struct flags *out)
{
	enum unit_system units = dossier->place->units;
	bool tender = in_container(dossier) || is_young(dossier);
	bool work = look_may_alarm(limit->sure) && (tender || spell->days >= SPELL_LONG) &&
		    look_bad_day(dossier, today) == NULL;
	struct flag *flag =
		flags_add(out, "heat-scorch", dossier, work ? URGENCY_DUE : URGENCY_NOTE);
	char hot[32], bears[32], when[24], whose[160], cause[DATE_SIZE], days[32] = "";

	if (spell->days > 1)
		snprintf(days, sizeof days, " (%d such days)", spell->days);
	look_say(&flag->says, "%s on %s%s; this kind's limit is about %s: %s.",
		temperature_format(spell->hottest_decic, units, hot, sizeof hot),
		date_format_plain(spell->hottest->day, when, sizeof when), days,
		temperature_format((int32_t)limit->low.value, units, bears, sizeof bears),
		limit->text);
	look_say(&flag->action,
		"%sWater at dawn or in the evening where the soil is dry. Leave scorched leaves "
		"on, "
		"they shade the bark; cut nothing now. Mind the heat yourself: work at dawn, "
		"drink, "
		"keep to the shade.",
		tender ? "Shade it from the afternoon sun, a young or potted tree first. " : "");
	flag->began = known_date(spell->first->day);
	flag->source = limit->source;
	snprintf(flag->basis, sizeof flag->basis, "almanac");
	flag->settles = KIND_PROTECT;
	snprintf(flag->fills, sizeof flag->fills, "%s covered shade cloth ", dossier->tree.label);
	flag_evidence(out, flag, "almanac, limit %s: %s", bears, limit->text);
	flag_evidence(out, flag, "maximum %s, %s", hot,
		sky_whose(dossier, spell->hottest, spell->hottest->max_entry, whose, sizeof whose));
	if (spell->hottest->max_entry != NULL)
		proof_entry(out, flag, "the day", spell->hottest->max_entry);
	flag_key_set(flag, season_year_of(&dossier->season_rule, spell->first->day),
		date_format(spell->first->day, cause));
}

void rule_heat_scorch(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct species *species = dossier->kind.species;
	const struct fact_row *limit = species != NULL ? species_fact(species, "heat-limit") : NULL;

	if (limit == NULL || !limit->low.known || dossier->host != NULL)
		return;
	struct sky sky =
		sky_open(dossier, (struct day_span){date_add_days(today, -SPELL_DAYS), today});
	struct spell spell = last_spell(&sky, (int32_t)limit->low.value);
	if (spell.days > 0) {
		flags_change_on(out, today, date_add_days(spell.last->day, HEAT_DAYS + 1));
		/* the spell's first day, and with it the key, goes out of sight */
		flags_change_on(out, today, date_add_days(spell.first->day, SPELL_DAYS + 1));
		if (date_days_between(spell.last->day, today) <= HEAT_DAYS &&
			!is_answered(dossier, spell.first->day))
			flag_heat(dossier, &spell, limit, today, out);
	}
	sky_close(&sky);
}

/* --- chill --- */

/* Of the winter that weather_season names, in the north. */
static const struct month_day chill_last_month = {2, 1};

enum { COVER_PERCENT = 90, GAP_DAYS = 5 };
/* The most a day can give: constant 7 to 8 C in the Dynamic model; every hour. */
static const double most_portions = 0.85;

/* What the winter that is left can still add. */
struct chill_left {
	int32_t days; /* still to come, or missing */
	double most;  /* that it can be in all */
};

/* What this tree is held to: portions where the almanac prints any for its kind, else hours. */
static bool need_of(const struct tree_kind *kind, struct chill_need *need)
{
	struct chill_need needs[CHILL_NEEDS_MAX];
	int32_t count = chill_needs(kind, needs);

	if (count == 0 || (!needs[0].portions && species_fact(kind->species, "chill-portions")))
		return false;
	*need = needs[0];
	return need->least > 0;
}

/* The winter that holds the day, if the day is in its last month; says when the next one opens. */
static bool winter_of(const struct dossier *dossier, struct date today, struct day_span *winter,
	struct flags *out)
{
	const struct place *place = dossier->place;

	if (!window_place_has_dates(place) || !place->latitude_udeg.known)
		return false;
	struct month_day last = window_turn(chill_last_month, place->hemisphere);
	struct weather_season season = weather_season_at(place, today);
	struct date opens = date_of_month_day(date_parts(season.winter.to).year, last);
	flags_change_on(out, today, opens);
	flags_change_on(out, today, date_add_days(season.winter.to, 1));
	struct weather_season next = weather_season_of_year(place, season.year + 1);
	flags_change_on(out, today, date_of_month_day(date_parts(next.winter.to).year, last));
	*winter = season.winter;
	return date_compare(today, opens) >= 0 && date_compare(today, season.winter.to) <= 0;
}

static void flag_chill(const struct dossier *dossier, const struct chill_need *need,
	const struct chill_span *chill, const struct chill_left *left, struct day_span counted,
	struct flags *out)
{
	struct flag *flag = flags_add(out, "chill-short", dossier, URGENCY_NOTE);
	double got = need->portions ? chill->chill.portions : chill->chill.chilling_hours;
	const char *unit = need->portions ? "chill portions" : "chilling hours";
	char words[64], cause[DATE_SIZE], listed[200] = "", offset[SKY_OFFSET_SIZE];

	if (need->row->text[0] != '\0')
		snprintf(listed, sizeof listed, " (%s)", need->row->text);
	look_say(&flag->says,
		"About %.0f %s from %s; %s is listed %s %lld%s, and the winter that is left cannot "
		"make that up.",
		got, unit, look_span(counted.from, counted.to, words, sizeof words),
		need->of_cultivar ? dossier->kind.cultivar : "this kind",
		need->of_cultivar ? "with" : "from", (long long)need->least,
		need->of_cultivar ? "" : listed);
	look_say(&flag->action,
		"Nothing to do in the yard: expect a late, straggling, thin bloom. Thin less, and "
		"leave shaping cuts until it shows which buds wake. Log the bloom.");
	flag->began = known_date(counted.from);
	flag->source = need->row->source;
	snprintf(flag->basis, sizeof flag->basis, "almanac, stored weather");
	flag->settles = KIND_STAGE;
	snprintf(flag->fills, sizeof flag->fills, "%s bloom ", dossier->tree.label);
	flag_evidence(out, flag, "%d of %d days have both extremes; the longest gap is %d days",
		chill->cover.known, chill->cover.days, chill->cover.longest_gap);
	flag_evidence(out, flag,
		"hours made from daily extremes (Linvill 1990)%s; %.1f portions, %.0f hours of 0 "
		"to "
		"7.2 C, %.0f Utah units",
		sky_offset_words(dossier, offset), chill->chill.portions,
		chill->chill.chilling_hours, chill->chill.utah);
	flag_evidence(out, flag,
		"days that are missing or still to come are reckoned at the most a day can give: "
		"%.0f + %d days x %g = %.0f, where %lld are wanted",
		got, left->days, need->portions ? most_portions : 24.0, left->most,
		(long long)need->least);
	flag_key_set(flag, season_year_of(&dossier->season_rule, counted.to),
		date_format(counted.from, cause));
}

void rule_chill_short(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct species *species = dossier->kind.species;
	struct day_span winter;
	struct chill_span chill;

	if (species == NULL || dossier->host != NULL || dossier->weather_count == 0 ||
		!winter_of(dossier, today, &winter, out))
		return;
	flags_change_on(out, today, date_add_days(today, 1));
	struct day_span counted = {winter.from, date_add_days(today, -1)};
	struct chill_need need;
	if (!need_of(&dossier->kind, &need))
		return;
	struct sky sky = sky_open(dossier, (struct day_span){winter.from, today});
	sky_to_spot(&sky);
	enum status status = chill_of_days(sky.days, sky.count,
		dossier->place->latitude_udeg.value / 1e6, sky.warmer_decic, counted, &chill, NULL);
	sky_close(&sky);
	if (status != STATUS_OK || chill.cover.known * 100 < chill.cover.days * COVER_PERCENT ||
		chill.cover.longest_gap > GAP_DAYS)
		return;
	struct chill_left left = {.days = date_days_between(today, winter.to) + 1 +
					  chill.cover.days - chill.cover.known +
					  3 * chill.chill.gaps};
	left.most = need.portions ? chill.chill.portions + left.days * most_portions
				  : chill.chill.chilling_hours + left.days * 24.0;
	if (left.most < (double)need.least)
		flag_chill(dossier, &need, &chill, &left, counted, out);
}
