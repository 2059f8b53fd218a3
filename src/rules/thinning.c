/* SPDX-License-Identifier: MIT */
/* Rules about too much fruit: thinning in its window, and a load that the tree should not carry. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "fruit.h"
#include "reckon/bloom.h"
#include "reckon/yield.h"

enum { MM2_PER_CM2 = 100 };

/* --- thin-due --- */

/* What the almanac says to leave: the surest row with a figure, else the row of the source that
 * gives the window; NULL where it only says that the kind is not thinned. */
static const struct fact_row *leave_row(const struct dossier *dossier, const struct window *window)
{
	const struct species *species = dossier->kind.species;
	const struct fact_row *best = NULL;

	for (int32_t i = 0; i < species->fact_count; i++) {
		const struct fact_row *row = &species->facts[i];
		bool of_window =
			window->row != NULL && strcmp(row->source, window->row->source) == 0;

		if (strcmp(row->key, "thinning") != 0 || row->text[0] == '\0' ||
			(!row->low.known && !of_window))
			continue;
		if (best == NULL || (row->low.known && !best->low.known) ||
			(row->low.known == best->low.known && row->sure < best->sure))
			best = row;
	}
	return best;
}

/* "2 to 4 in", "5 to 10 cm"; "" where the row has no length. */
static const char *apart(
	const struct dossier *dossier, const struct fact_row *row, char *out, size_t size)
{
	bool si = dossier->place->units == UNITS_SI;
	double unit_um = si ? 1e4 : 25400.0;

	out[0] = '\0';
	if (strcmp(row->unit, "um") != 0 || !row->low.known)
		return out;
	int64_t high_um = row->high.known ? row->high.value : row->low.value;
	if (high_um > row->low.value)
		snprintf(out, size, "%.0f to %.0f %s", (double)row->low.value / unit_um,
			(double)high_um / unit_um, si ? "cm" : "in");
	else
		snprintf(out, size, "%.0f %s", (double)row->low.value / unit_um, si ? "cm" : "in");
	return out;
}

/* In the source's own words, with the distance in the units of the place where they lack it. */
static const char *what_to_leave(
	const struct dossier *dossier, const struct fact_row *row, char *out, size_t size)
{
	struct text_builder words = text_builder_fixed(out, size);
	char distance[40];

	text_add(&words, "");
	if (row == NULL)
		return out;
	apart(dossier, row, distance, sizeof distance);
	bool named = strstr(row->text, "apart") != NULL;
	bool in_units =
		strstr(row->text, dossier->place->units == UNITS_SI ? " cm" : " in ") != NULL;
	text_add(&words, "What to leave: ");
	if (distance[0] != '\0' && !named)
		text_add_format(&words, "%s apart; ", distance);
	text_add(&words, row->text);
	if (distance[0] != '\0' && named && !in_units)
		text_add_format(&words, " (%s)", distance);
	text_add(&words, ". ");
	return out;
}

/* Sources that differ from the one used. */
static void other_sources(const struct dossier *dossier, const struct fact_row *used,
	struct flags *out, struct flag *flag)
{
	const struct species *species = dossier->kind.species;

	for (int32_t i = 0; i < species->fact_count; i++) {
		const struct fact_row *row = &species->facts[i];

		if (row != used && strcmp(row->key, "thinning") == 0 && row->text[0] != '\0')
			flag_evidence(out, flag, "another source says: %s", row->text);
	}
}

/* How many fruit the published load leaves on a trunk as thick as this; "" where that is not
 * known. */
static const char *count_to_leave(const struct dossier *dossier, struct flags *out,
	struct flag *flag, char *words, size_t size)
{
	const struct fact_span load = fruit_fact(dossier->kind.species, "crop-load");
	const struct trunk *trunk = &dossier->trunk;
	char across[32], day[24];

	words[0] = '\0';
	if (load.row == NULL || !trunk->known || dossier->host != NULL ||
		dossier->graft_count > 0 || trunk_in_doubt(trunk, dossier->age_high_years))
		return words;
	const double fives = trunk_area_mm2(trunk->diameter_um) / MM2_PER_CM2 / 5;
	snprintf(words, size,
		"On its trunk, %s across on %s, that is about %.0f to %.0f fruit (%lld to %lld a "
		"cm2). ",
		length_format(trunk->diameter_um, dossier->place->units, across, sizeof across),
		date_format_plain(trunk->day, day, sizeof day), 5 * round(fives * (double)load.low),
		5 * round(fives * (double)load.high), (long long)load.low, (long long)load.high);
	flag_evidence(out, flag, "fruit to leave: %s", load.row->text);
	return words;
}

static void flag_thin(const struct dossier *dossier, const struct window *window,
	struct window_span span, const struct entry *heavy, struct date today, struct flags *out)
{
	char words[80], by[64], cause[DATE_SIZE], care[TEXT_SIZE + 64], leave[TEXT_SIZE],
		count[160];
	bool quiet = window->row != NULL && window->basis != BASIS_OWN &&
		     !look_may_alarm(window->row->sure);
	int32_t year = season_year_of(&dossier->season_rule, span.from);
	int32_t habit = fruit_seasons_with(dossier, KIND_THIN, year);
	const struct fact_row *row = leave_row(dossier, window);
	struct flag *flag = flags_add(out, "thin-due", dossier, quiet ? URGENCY_NOTE : URGENCY_DUE);

	look_set_window(flag, window, span);
	look_span(span.from, span.to, words, sizeof words);
	look_by(window, by, sizeof by);
	if (heavy != NULL) {
		look_say(&flag->says, "Time to thin: %s, %s; you saw a heavy set.", words, by);
		proof_entry(out, flag, "", heavy);
	} else {
		look_say(&flag->says, "Time to thin: %s, %s; you thinned it in %d earlier seasons.",
			words, by, habit);
		proof_habit(dossier, KIND_THIN, BY_CROP, year, out, flag);
	}
	look_say(&flag->action,
		"%s Take off the small, hurt and crowded ones, keep the biggest. %s%sThe earlier "
		"in these weeks, the more it helps this crop and next year's bloom.",
		look_cut_care(dossier, today, care, sizeof care),
		what_to_leave(dossier, row, leave, sizeof leave),
		count_to_leave(dossier, out, flag, count, sizeof count));
	flag->began = known_date(span.from);
	flag->settles = KIND_THIN;
	snprintf(flag->fills, sizeof flag->fills, "%s thinned ", dossier->tree.label);
	if (window->row != NULL)
		flag_evidence(out, flag, "the window: %s", window->row->reason);
	other_sources(dossier, row, out, flag);
	struct swing swing = causes_swing(dossier);
	if (swing.known && swing.heavy && swing.year == year)
		flag_evidence(out, flag,
			"a heavy year is likely: its crops swing (index %.2f, %d seasons)",
			swing.index, swing.seasons);
	flag_key_set(flag, year, date_format(span.from, cause));
}

void rule_thin_due(const struct dossier *dossier, struct date today, struct flags *out)
{
	if (dossier->kind.species == NULL)
		return;
	struct window window = dossier_window(dossier, WINDOW_THINNING, today);
	if (!window.known || window.all_year)
		return;
	struct window_span span = window_span_at(&window, today);
	struct date early = date_add_days(span.from, -SOON_DAYS);
	int32_t year = season_year_of(&dossier->season_rule, span.from);
	const struct season *season = dossier_season(dossier, year);
	const struct entry *heavy = fruit_heavy_set(dossier, year);
	flags_change_on(out, today, span.from);
	flags_change_on(out, today, date_add_days(span.to, 1));
	if (date_compare(today, span.from) < 0 ||
		(season != NULL && (season->picks > 0 || season->none_said)) ||
		(heavy == NULL && fruit_seasons_with(dossier, KIND_THIN, year) < 2) ||
		dossier_between(dossier, KIND_THIN, early, span.to, NULL, 0) > 0)
		return;
	flag_thin(dossier, &window, span, heavy, today, out);
}

/* --- overbearing --- */

static bool says_props(const struct entry *entry)
{
	static const char *const words[] = {"prop", "stake", "support", "tied", "sling"};
	char folded[LINE_SIZE];

	text_fold(entry->words, folded, sizeof folded);
	for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
		if (strstr(folded, words[i]) != NULL)
			return true;
	return false;
}

/* Thinned, or propped, since it was seen. */
static bool is_relieved(const struct dossier *dossier, const struct entry *seen)
{
	struct date since = {0}, day;

	(void)look_day(seen, &since);
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];

		if (!look_day(entry, &day) || date_compare(day, since) < 0)
			continue;
		if (entry->kind == KIND_THIN || (entry->kind == KIND_PROTECT && says_props(entry)))
			return true;
	}
	return false;
}

/* Fruit of the season still hangs, as far as the log tells: the last day it may. */
static bool hangs(
	const struct dossier *dossier, int32_t year, struct date today, struct date *until)
{
	const struct season *season = dossier_season(dossier, year);
	struct window_span harvest;

	if (!season_harvest(&dossier->season_rule, year, &harvest))
		return false;
	*until = harvest.to;
	return date_compare(today, harvest.to) <= 0 &&
	       (season == NULL || (season->state != SEASON_COMPLETE && season->picks == 0 &&
					  !season->none_said));
}

static const char *next_year(const struct dossier *dossier, char *out, size_t size)
{
	const struct fact_row *fact = fruit_words(dossier->kind.species, "alternate");
	struct text_builder words = text_builder_fixed(out, size);

	text_add(&words, "");
	text_add(&words, "A load like this often means few flowers next year");
	if (fact != NULL)
		text_add_format(&words, " (of this kind: %s)", fact->text);
	text_add(&words, ".");
	return out;
}

static void flag_load(const struct dossier *dossier, const struct entry *seen, int32_t year,
	struct date until, bool young, struct flags *out)
{
	const struct fact_row *early = fruit_words(dossier->kind.species, "young-fruit-off");
	char when[80], next[TEXT_SIZE + 120], text[FLAG_SAYS_SIZE], span[64];
	struct flag *flag = flags_add(out, "overbearing", dossier, URGENCY_DUE);
	struct date day = {0};

	(void)look_day(seen, &day);
	date_span_format_plain(&seen->day, when, sizeof when);
	if (young) {
		look_say(&flag->says, "It carries fruit, seen on %s, %d year%s after planting: %s",
			when, dossier->age_high_years.value,
			dossier->age_high_years.value == 1 ? "" : "s",
			look_ended(early->text, text, sizeof text));
		look_say(&flag->action, "Take the fruit off while it is small; leave one or two if "
					"you want to know what it is.");
		flag->source = early->source;
	} else {
		look_say(&flag->says, "A heavy set was seen on %s, and no thinning is logged.",
			when);
		look_say(&flag->action,
			"Take off the small and crowded ones still; prop or tie up limbs that "
			"bend, before they break. Look up first: power lines. %s",
			next_year(dossier, next, sizeof next));
	}
	flag->began = known_date(day);
	flag->window_from = known_date(day);
	flag->window_to = known_date(until);
	flag_evidence(out, flag, "asked while the fruit hangs: %s",
		look_span(day, until, span, sizeof span));
	text_copy(flag->basis, sizeof flag->basis, young ? "almanac, as you saw" : "as you saw");
	flag->settles = KIND_THIN;
	snprintf(flag->fills, sizeof flag->fills, "%s thinned ", dossier->tree.label);
	proof_entry(out, flag, "", seen);
	flag_key_set(flag, year, seen->id);
}

/* Does the thinning window of the season still lie ahead, or hold today? Then thin-due speaks. */
static bool will_be_thinned(const struct dossier *dossier, int32_t year, struct date today)
{
	struct window window = dossier_window(dossier, WINDOW_THINNING, today);

	return window.known && !window.all_year &&
	       season_year_of(&dossier->season_rule, window_span_at(&window, today).from) == year;
}

/* The newest sign of fruit of this season on a tree so young that it should carry none. */
static const struct entry *fruit_on_young(
	const struct dossier *dossier, int32_t year, struct date today)
{
	struct fact_span off = fruit_fact(dossier->kind.species, "young-fruit-off");
	(void)today;

	if (off.row == NULL || dossier->host != NULL || !dossier->age_high_years.known ||
		dossier->age_high_years.value >= off.high)
		return NULL;
	for (int32_t i = dossier->entry_count; i-- > 0;) {
		struct date day;

		if (bloom_has_set(dossier->entries[i]) && look_day(dossier->entries[i], &day) &&
			season_year_of(&dossier->season_rule, day) == year)
			return dossier->entries[i];
	}
	return NULL;
}

static void look_at_load(const struct dossier *dossier, struct date today, struct flags *out)
{
	int32_t year = season_year_of(&dossier->season_rule, today);
	const struct entry *young = fruit_on_young(dossier, year, today);
	const struct entry *seen = young != NULL ? young : fruit_heavy_set(dossier, year);
	struct date until;

	if (seen == NULL || !hangs(dossier, year, today, &until))
		return;
	flags_change_on(out, today, date_add_days(until, 1));
	if (is_relieved(dossier, seen) || fruit_told(out, dossier, "thin-due") ||
		(young == NULL && will_be_thinned(dossier, year, today)))
		return;
	flag_load(dossier, seen, year, until, young != NULL, out);
}

/* --- a crop that is over and was far above what the tree bears --- */

/* Twice the middle of its own past and half as much again as the most it ever gave; a tree whose
 * crops rise from year to year is growing, not overbearing. */
static bool is_above_past(const struct dossier *dossier, int32_t year, int64_t total_mg)
{
	struct expected_crop past = causes_past(dossier, year);
	struct maybe_i64 a = causes_total_mg(dossier, year - 1);
	struct maybe_i64 b = causes_total_mg(dossier, year - 2);
	struct maybe_i64 c = causes_total_mg(dossier, year - 3);

	if (past.seasons < 3 || total_mg < 2 * past.mg || total_mg * 2 < 3 * past.high_mg)
		return false;
	return !(a.known && b.known && c.known && a.value > b.value && b.value > c.value);
}

/* Fruit a square centimetre of trunk; 0 where the fruit were not all counted, or the trunk not
 * measured by then. */
static double load_of(const struct dossier *dossier, const struct season *season)
{
	struct window_span span = season_span(&dossier->season_rule, season->year);
	int32_t stems = dossier->trunk.stems > 0 ? dossier->trunk.stems : 1;
	struct trunk trunk = trunk_at(dossier->readings, dossier->reading_count, stems, span.to);
	struct maybe_i64 fruit = amount_sum_point(&season->fruit);
	double load = 0;

	if (dossier->host != NULL || dossier->graft_count > 0 || !trunk.known || !fruit.known ||
		season->fruit.parts < season->picks ||
		trunk_in_doubt(&trunk, dossier->age_high_years) ||
		!yield_crop_load(
			(double)fruit.value / 1000.0, trunk_area_mm2(trunk.diameter_um), &load))
		return 0;
	return load;
}

static void flag_crop(const struct dossier *dossier, const struct season *season, double load,
	int64_t total_mg, struct date until, struct flags *out)
{
	enum unit_system units = dossier->place->units;
	struct fact_span published = fruit_fact(dossier->kind.species, "crop-load");
	struct expected_crop past = causes_past(dossier, season->year);
	char name[16], mass[32], middle[32], low[32], high[32], next[TEXT_SIZE + 120];
	struct flag *flag = flags_add(out, "overbearing", dossier, URGENCY_NOTE);

	season_title(season, name, sizeof name);
	if (load > 0) {
		look_say(&flag->says,
			"In %s it bore %.1f fruit for each square centimetre of trunk; published "
			"aims are %lld to %lld.",
			name, load, (long long)published.low, (long long)published.high);
		flag->source = published.row->source;
		flag_evidence(out, flag, "the aims: %s", published.row->text);
	} else {
		look_say(&flag->says,
			"The %s crop, %s, is far above its own past: %s, %s to %s, %d seasons.",
			name, mass_format_rough(total_mg, units, mass, sizeof mass),
			mass_format_rough(past.mg, units, middle, sizeof middle),
			mass_format_rough(past.low_mg, units, low, sizeof low),
			mass_format_rough(past.high_mg, units, high, sizeof high), past.seasons);
		flag->seasons = past.seasons;
		snprintf(flag->basis, sizeof flag->basis, "your picks, %d seasons", past.seasons);
		flag_evidence(
			out, flag, "asked from twice the middle, and from half above the most");
	}
	proof_crops(dossier, season->year, out, flag);
	look_say(&flag->action, "%s Next time thin early, and prop limbs before they bend.",
		next_year(dossier, next, sizeof next));
	flag->window_to = known_date(until);
	flag_key_set(flag, season->year, "crop");
}

static void look_at_crop(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct species *species = dossier->kind.species;
	struct fact_span published = fruit_fact(species, "crop-load");
	const struct season *season = NULL;
	struct date until;

	for (int32_t i = dossier->season_own; i < dossier->season_count; i++)
		if (dossier->seasons[i].state == SEASON_COMPLETE)
			season = &dossier->seasons[i];
	if (season == NULL || !season->last_pick.known || causes_swing(dossier).known)
		return;
	until = date_add_days(season->last_pick.value, CROP_TOLD_DAYS);
	flags_change_on(out, today, date_add_days(until, 1));
	if (date_compare(today, until) > 0)
		return;
	struct maybe_i64 total = causes_total_mg(dossier, season->year);
	double load = load_of(dossier, season);
	bool by_trunk = published.row != NULL && load * 2 > 3.0 * (double)published.high;
	if (by_trunk || (total.known && is_above_past(dossier, season->year, total.value)))
		flag_crop(dossier, season, by_trunk ? load : 0, total.value, until, out);
}

void rule_overbearing(const struct dossier *dossier, struct date today, struct flags *out)
{
	if (dossier->kind.species == NULL)
		return;
	look_at_load(dossier, today, out);
	look_at_crop(dossier, today, out);
}
