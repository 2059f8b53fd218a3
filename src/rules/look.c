/* SPDX-License-Identifier: MIT */
#include "look.h"

#include <stdio.h>
#include <string.h>

#include "reckon/sky.h"

bool look_day(const struct entry *entry, struct date *day)
{
	struct maybe_date first = date_span_first(&entry->day);

	if (first.known)
		*day = first.value;
	return first.known;
}

bool look_is_shaping(const struct entry *entry)
{
	if (entry->kind != KIND_CUT)
		return false;
	enum cut_kind kind = entry_cut_kind(entry);
	return kind != CUT_SANITATION && kind != CUT_SUCKER;
}

enum cut_kind look_cut_kind(const struct entry *entry)
{
	enum cut_kind kind = entry_cut_kind(entry);

	return kind == CUT_UNSAID ? CUT_SHAPE : kind;
}

struct share look_crown_share(const struct dossier *dossier, const struct entry *entry)
{
	const struct species *species = dossier->kind.species;
	const struct amount *crown = entry_amount(entry, FIELD_SHARE_CROWN);
	const struct amount *unsaid = entry_amount(entry, FIELD_SHARE);

	if (crown == NULL && unsaid != NULL && (species == NULL || !species->limit_is_shoots))
		crown = unsaid;
	return share_of_amount(crown);
}

/* Last day of work of season `year`: its last pick when it is over, else its harvest's end. */
static struct maybe_date work_to(const struct dossier *dossier, int32_t year)
{
	const struct season *season = dossier_season(dossier, year);
	struct window_span harvest;

	if (season != NULL && season->state == SEASON_COMPLETE && season->last_pick.known)
		return season->last_pick;
	if (season_harvest(&dossier->season_rule, year, &harvest))
		return known_date(harvest.to);
	return known_date(season_span(&dossier->season_rule, year).to);
}

int32_t look_work_year(const struct dossier *dossier, struct date day)
{
	int32_t year = season_year_of(&dossier->season_rule, day) - 1;

	while (date_compare(work_to(dossier, year).value, day) < 0)
		year++;
	return year;
}

int32_t look_crop_year(const struct dossier *dossier, const struct species *species,
	struct date day, const struct cut_row *row)
{
	struct season_rule rule = dossier->season_rule;
	struct window_span harvest;

	if (dossier->kind.species == NULL && species != NULL)
		rule = season_rule_for(species, dossier->climate, dossier->place,
			dossier->own_windows, dossier->own_window_count, dossier->tree.id);
	int32_t year = season_year_of(&rule, day);
	if ((row != NULL && (row->reason == REASON_FRUIT || row->crop == CROP_MAIN)) ||
		!season_harvest(&rule, year, &harvest))
		return year;
	year--;
	while (season_harvest(&rule, year, &harvest) && date_compare(harvest.from, day) <= 0)
		year++;
	return year;
}

/* Does the day lie in the second half of the span it belongs to, or after it? */
static bool is_late_in(const struct window *window, struct date day)
{
	struct window_span span = window_span_before(window, day);
	struct window_span next = window_span_at(window, day);
	int32_t half = date_days_between(span.from, span.to) / 2;

	if (date_compare(day, span.to) > 0 &&
		date_days_between(day, next.from) < date_days_between(span.to, day))
		return false; /* early for the next one, not late for the last */
	return date_days_between(span.from, day) > half;
}

/* A cut window is an event before it is a month. */
bool look_fruit_is_off(
	const struct dossier *dossier, const struct species *species, struct date day)
{
	enum { AFTER_DAYS = 7 };

	if (dossier->season_count == 0)
		return false;
	const struct season *season =
		dossier_season(dossier, season_year_of(&dossier->season_rule, day));
	struct window_facts facts = dossier_window_facts(dossier);

	if (season == NULL || !season->last_pick.known ||
		date_compare(season->last_pick.value, day) > 0)
		return false;
	struct date last = season->last_pick.value;
	if (season->said_last)
		return true;
	facts.species = species;
	struct window harvest = window_resolve(&facts, WINDOW_HARVEST, last);
	return harvest.known && !harvest.all_year && date_days_between(last, day) >= AFTER_DAYS &&
	       is_late_in(&harvest, last);
}

const char *look_season_name(const struct dossier *dossier, int32_t year, char *out, int size)
{
	return season_name(&dossier->season_rule, year, out, size);
}

/* The grower's own cut windows stand before the almanac's rows. */
static struct verdict_here own_verdict(const struct dossier *dossier, struct date day)
{
	struct window avoid = dossier_window(dossier, WINDOW_CUT_AVOID, day);
	struct window clear = dossier_window(dossier, WINDOW_CUT_CLEAR, day);

	if (avoid.known && avoid.basis == BASIS_OWN && window_holds(&avoid, day))
		return (struct verdict_here){.known = true, .verdict = VERDICT_AVOID};
	if (clear.known && clear.basis == BASIS_OWN && window_holds(&clear, day))
		return (struct verdict_here){.known = true, .verdict = VERDICT_CLEAR};
	return (struct verdict_here){.known = false};
}

/* Where several rows hold a day: to avoid stands before clear, clear before allowed. */
static int weight_of(enum verdict verdict)
{
	switch (verdict) {
	case VERDICT_AVOID:
		return 2;
	case VERDICT_CLEAR:
		return 1;
	case VERDICT_ALLOWED:
		break;
	}
	return 0;
}

/* Whose row this place chose to follow stands first; then the graver word; the first of equals,
 * but a later clear or allowed row. */
static bool stands_before(const struct cut_window *cut, const struct verdict_here *found)
{
	if (cut->chosen != found->chosen)
		return cut->chosen > found->chosen;
	return found->verdict != VERDICT_AVOID &&
	       weight_of(cut->row->verdict) >= weight_of(found->verdict);
}

struct verdict_here look_verdict(const struct dossier *dossier, const struct species *species,
	enum cut_kind kind, struct date day, unsigned reasons)
{
	struct cut_window cuts[CUTS_MAX];
	struct verdict_here found = own_verdict(dossier, day);

	if (found.known)
		return found;
	struct window_facts facts = dossier_window_facts(dossier);
	facts.species = species;
	bool freed = false;
	int32_t count = window_cuts(&facts, dossier->kind.cultivar, kind, cuts, CUTS_MAX);
	for (int32_t i = 0; i < count && i < CUTS_MAX; i++) {
		const struct cut_row *row = cuts[i].row;

		if (!cut_window_holds(&cuts[i], day))
			continue;
		if (row->verdict == VERDICT_AVOID && (reasons & (1U << row->reason)) == 0)
			continue;
		if (row->verdict == VERDICT_AVOID && row->reason == REASON_FRUIT &&
			look_fruit_is_off(dossier, species, day)) {
			freed = true;
			continue;
		}
		if (found.known && !stands_before(&cuts[i], &found))
			continue;
		found = (struct verdict_here){.known = true,
			.verdict = row->verdict,
			.row = row,
			.moved = cuts[i].moved,
			.chosen = cuts[i].chosen};
	}
	found.freed = freed;
	return found;
}

bool look_may_alarm(enum known_by sure)
{
	return sure == KNOWN_READ || sure == KNOWN_COMMON_PRACTICE;
}

enum urgency look_harm_urgency(struct date day, struct date today, enum known_by sure)
{
	bool lately = date_days_between(day, today) <= ACT_DAYS;

	return lately && look_may_alarm(sure) ? URGENCY_ACT : URGENCY_NOTE;
}

void look_set_window(struct flag *flag, const struct window *window, struct window_span span)
{
	flag->window_from = known_date(span.from);
	flag->window_to = known_date(span.to);
	look_basis(window, flag->basis, sizeof flag->basis);
	if (window->basis != BASIS_OWN && window->row != NULL)
		flag->source = window->row->source;
	else
		flag->source = look_own_source;
}

int32_t look_seasons_with(const struct dossier *dossier, enum entry_kind kind, int32_t year)
{
	int32_t found = 0;
	int32_t last = INT32_MIN;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		struct date day;

		if (entry->kind != kind || !look_day(entry, &day))
			continue;
		if (kind == KIND_CUT && !look_is_shaping(entry))
			continue;
		int32_t at = look_work_year(dossier, day);
		if (at < year && at != last)
			found++;
		last = at;
	}
	return found;
}

/* "rain", with a depth of 1 mm or more or with none said. */
static bool is_wet(const struct entry *entry)
{
	const struct amount *depth = entry_amount(entry, FIELD_DEPTH);
	struct maybe_i64 depth_um = depth != NULL ? amount_point(depth) : (struct maybe_i64){0};

	return strcmp(entry_detail(entry, FIELD_WEATHER), "rain") == 0 &&
	       (!depth_um.known || depth_um.value >= 1000);
}

/* The weather words of place entries on a day that keep people off ladders. */
static const char *bad_word(const struct dossier *dossier, struct date day)
{
	static const char *const bad[] = {"wind", "hail", "storm", "frost", "snow", "ice"};

	for (int32_t i = 0; i < dossier->place_entry_count; i++) {
		const struct entry *entry = dossier->place_entries[i];
		struct date at;

		if (entry->kind != KIND_WEATHER || entry_is_forecast(entry) ||
			!look_day(entry, &at) || at.day != day.day)
			continue;
		for (size_t w = 0; w < sizeof bad / sizeof bad[0]; w++)
			if (strcmp(entry_detail(entry, FIELD_WEATHER), bad[w]) == 0)
				return bad[w];
		if (is_wet(entry))
			return "rain";
	}
	return NULL;
}

const char *look_bad_day(const struct dossier *dossier, struct date day)
{
	int32_t warmer_decic = sky_offset_decic(dossier);

	for (int32_t i = 0; i < dossier->weather_count; i++) {
		const struct weather_day *weather = &dossier->weather[i];

		if (weather->day.day != day.day)
			continue;
		if (weather->rain_um.known && weather->rain_um.value >= 1000)
			return "rain";
		if (weather->min_decic.known && weather->min_decic.value + warmer_decic <= 0)
			return "frost";
	}
	return bad_word(dossier, day);
}

bool look_has_neighbours(const struct dossier *dossier, struct flags *out)
{
	out->wants_neighbours = out->wants_neighbours || !dossier->neighbours_told;
	return dossier->neighbours_told;
}
