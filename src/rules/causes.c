/* SPDX-License-Identifier: MIT */
#include "rules/causes.h"

#include <stdio.h>
#include <string.h>

#include "look.h"
#include "reckon/sky.h"

/* Texts being gathered for the crop of one season. */
struct gathering {
	const struct dossier *dossier;
	int32_t year;
	struct window_span days; /* of the crop's making */
	struct arena *arena;
	struct causes *out;
};

static void offer(struct gathering *gathering, const char *text)
{
	struct causes *out = gathering->out;

	for (int32_t i = 0; i < out->count; i++)
		if (strcmp(out->texts[i], text) == 0)
			return;
	if (out->count < CAUSES_MAX)
		out->texts[out->count++] = arena_text(gathering->arena, text);
}

/* From the end of the harvest before to the last pick, else to the end of the harvest. */
static struct window_span crop_days(const struct dossier *dossier, int32_t year)
{
	const struct season *season = dossier_season(dossier, year);
	struct window_span span = season_span(&dossier->season_rule, year);
	struct window_span harvest;

	if (season_harvest(&dossier->season_rule, year, &harvest)) {
		if (date_compare(harvest.to, span.to) < 0)
			span.to = harvest.to;
		if (season_harvest(&dossier->season_rule, year - 1, &harvest))
			span.from = date_add_days(harvest.to, 1);
	}
	if (season != NULL && season->state == SEASON_COMPLETE && season->last_pick.known)
		span.to = season->last_pick.value;
	return span;
}

static bool day_in(const struct entry *entry, struct window_span span, struct date *day)
{
	return look_day(entry, day) && date_compare(*day, span.from) >= 0 &&
	       date_compare(*day, span.to) <= 0;
}

/* --- cuts --- */

/* Did the cut set the tree back for the crop of this season? */
static bool set_back(
	const struct dossier *dossier, const struct entry *entry, struct date day, int32_t year)
{
	struct window_span harvest;
	struct date until;

	return rule_cut_sets_back(dossier, entry, &until) &&
	       season_harvest(&dossier->season_rule, year, &harvest) &&
	       date_compare(day, harvest.to) < 0 && date_compare(harvest.from, until) < 0;
}

bool look_cut_fell_to(
	const struct dossier *dossier, const struct entry *cut, int32_t year, bool *flowers)
{
	struct date day;

	if (cut->kind != KIND_CUT || !look_day(cut, &day))
		return false;
	*flowers =
		rule_cut_cost_crop(dossier, cut, NULL) && rule_cut_crop_year(dossier, cut) == year;
	return *flowers || set_back(dossier, cut, day, year);
}

static void offer_cuts(struct gathering *gathering)
{
	const struct dossier *dossier = gathering->dossier;
	char text[240], when[24];
	bool flowers;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *cut = dossier->entries[i];
		const struct amount *share = entry_amount(cut, FIELD_SHARE_CROWN);
		struct date day;

		if (!look_cut_fell_to(dossier, cut, gathering->year, &flowers) ||
			!look_day(cut, &day))
			continue;
		if (share == NULL)
			share = entry_amount(cut, FIELD_SHARE);
		snprintf(text, sizeof text, "%s cut%s%s on %s: %s",
			cut_kind_row(entry_cut_kind(cut))->title, share != NULL ? " " : "",
			share != NULL ? share->typed : "",
			date_format_plain(day, when, sizeof when),
			flowers ? "flower wood or fruit went with it"
				: "this kind answers a hard cut with leaves for a while");
		offer(gathering, text);
	}
}

/* --- weather, losses --- */

static bool is_harsh(const char *what)
{
	return strcmp(what, "hail") == 0 || strcmp(what, "storm") == 0 || strcmp(what, "heat") == 0;
}

static void offer_weather(struct gathering *gathering)
{
	const struct dossier *dossier = gathering->dossier;
	char text[160], when[24];
	struct date day, last = {0};
	int32_t frosts = 0;

	for (int32_t i = 0; i < dossier->place_entry_count; i++) {
		const struct entry *entry = dossier->place_entries[i];
		const char *what = entry_detail(entry, FIELD_WEATHER);

		if (entry->kind != KIND_WEATHER || entry_is_forecast(entry) ||
			!day_in(entry, gathering->days, &day))
			continue;
		if (strcmp(what, "frost") == 0) {
			frosts++;
			last = day;
		} else if (is_harsh(what)) {
			snprintf(text, sizeof text, "%s on %s", what,
				date_format_plain(day, when, sizeof when));
			offer(gathering, text);
		}
	}
	if (frosts == 0)
		return;
	snprintf(text, sizeof text, "%d frost%s logged, the last on %s", frosts,
		frosts == 1 ? "" : "s", date_format_plain(last, when, sizeof when));
	offer(gathering, text);
}

/* The coldest stored night of the bloom, where it was as cold as one flower in ten stands. */
static void offer_cold_bloom(struct gathering *gathering)
{
	const struct dossier *dossier = gathering->dossier;
	const struct fact_row *kill =
		dossier->kind.species != NULL
			? species_fact(dossier->kind.species, "kill-10-full-bloom")
			: NULL;
	const struct weather_day *coldest = NULL;
	int32_t warmer_decic = sky_offset_decic(dossier);
	struct window_span bloom;
	char text[240], when[24], cold[24], offset[SKY_OFFSET_SIZE];

	if (kill == NULL || !kill->low.known || !look_bloom_of(dossier, gathering->year, &bloom))
		return;
	for (int32_t i = 0; i < dossier->weather_count; i++) {
		const struct weather_day *day = &dossier->weather[i];

		if (date_compare(day->day, bloom.from) >= 0 &&
			date_compare(day->day, bloom.to) <= 0 && day->min_decic.known &&
			day->min_decic.value + warmer_decic <= kill->low.value &&
			(coldest == NULL || day->min_decic.value < coldest->min_decic.value))
			coldest = day;
	}
	if (coldest == NULL)
		return;
	temperature_format(
		coldest->min_decic.value + warmer_decic, dossier->place->units, cold, sizeof cold);
	snprintf(text, sizeof text, "%s at bloom, the night of %s (stored weather%s)", cold,
		date_format_plain(coldest->day, when, sizeof when),
		sky_offset_words(dossier, offset));
	offer(gathering, text);
}

/* Nothing was picked: the longest dry time of stored days in the three months from its bloom, where
 * it got no water by hand. A day without a figure is unknown, never dry. */
static void offer_drought(struct gathering *gathering)
{
	enum { FROM_BLOOM_DAYS = 90, DRY_DAYS = 28, DRY_UM = 1000 };
	const struct dossier *dossier = gathering->dossier;
	const struct season *season = dossier_season(dossier, gathering->year);
	struct window_span bloom, dry = {{0}, {0}};
	struct date from = {0}, before = {0};
	int32_t run = 0, longest = 0;
	char text[120], words[64];

	if (season == NULL || season->state != SEASON_NONE_SEEN ||
		!look_bloom_of(dossier, gathering->year, &bloom))
		return;
	struct date to = date_add_days(bloom.from, FROM_BLOOM_DAYS);
	if (dossier_between(dossier, KIND_WATER, bloom.from, to, NULL, 0) > 0)
		return;
	for (int32_t i = 0; i < dossier->weather_count; i++) {
		const struct weather_day *day = &dossier->weather[i];
		bool is_dry = day->rain_um.known && day->rain_um.value < DRY_UM;

		if (date_compare(day->day, bloom.from) < 0 || date_compare(day->day, to) > 0)
			continue;
		if (!is_dry || run == 0 || date_days_between(before, day->day) != 1) {
			from = day->day;
			run = 0;
		}
		run += is_dry;
		before = day->day;
		if (run > longest) {
			longest = run;
			dry = (struct window_span){from, day->day};
		}
	}
	if (longest < DRY_DAYS)
		return;
	snprintf(text, sizeof text, "no rain %s (stored weather)",
		look_span(dry.from, dry.to, words, sizeof words));
	offer(gathering, text);
}

static void offer_losses(struct gathering *gathering)
{
	const struct dossier *dossier = gathering->dossier;
	char text[480], when[24];
	struct date day;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *loss = dossier->entries[i];
		const char *cause = entry_detail(loss, FIELD_CAUSE);

		if (loss->kind != KIND_LOSS || cause[0] == '\0' ||
			!day_in(loss, season_span(&dossier->season_rule, gathering->year), &day))
			continue;
		snprintf(text, sizeof text, "fruit lost on %s: %s",
			date_format_plain(day, when, sizeof when), cause);
		offer(gathering, text);
	}
}

/* --- what was seen and done --- */

static void offer_seen(struct gathering *gathering)
{
	const struct dossier *dossier = gathering->dossier;
	char text[480], when[24];
	struct date day;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		const char *severity = entry_detail(entry, FIELD_SEVERITY);

		if (!day_in(entry, gathering->days, &day))
			continue;
		date_format_plain(day, when, sizeof when);
		if (entry->kind == KIND_SAW)
			snprintf(text, sizeof text, "saw %s%s%s on %s",
				entry_detail(entry, FIELD_SUBJECT_SEEN),
				severity[0] != '\0' ? ", " : "", severity, when);
		else if (entry->kind == KIND_THIN)
			snprintf(text, sizeof text, "thinned on %s", when);
		else
			continue;
		offer(gathering, text);
	}
}

/* A season without the feed it used to get. */
static void offer_missed_feed(struct gathering *gathering)
{
	const struct dossier *dossier = gathering->dossier;
	char text[120];
	int32_t before = look_seasons_with(dossier, KIND_FEED, gathering->year);

	if (before < 2 || dossier_between(dossier, KIND_FEED, gathering->days.from,
				  gathering->days.to, NULL, 0) > 0)
		return;
	snprintf(text, sizeof text, "no feed logged; it was fed in %d earlier seasons", before);
	offer(gathering, text);
}

/* --- crops before --- */

/* A crop so heavy that the one after it is often light. */
static void offer_heavy_before(struct gathering *gathering)
{
	const struct dossier *dossier = gathering->dossier;
	struct maybe_i64 before = causes_total_mg(dossier, gathering->year - 1);
	struct maybe_i64 now = causes_total_mg(dossier, gathering->year);
	char text[160], mass[32], season[16];

	if (!before.known || (now.known && now.value * 2 > before.value))
		return;
	struct expected_crop past = causes_past(dossier, gathering->year - 1);
	if (past.seasons == 0 || before.value * 4 < past.mg * 5) /* a quarter above its past */
		return;
	snprintf(text, sizeof text, "the %s crop before it was heavy: %s",
		look_season_name(dossier, gathering->year - 1, season, sizeof season),
		mass_format_rough(before.value, dossier->place->units, mass, sizeof mass));
	offer(gathering, text);
}

/* Of the crops before this one, which is no witness of its own cause; from four seasons on. */
static void offer_swing(struct gathering *gathering)
{
	const struct dossier *dossier = gathering->dossier;
	const struct alternation swing = season_alternation(dossier->seasons + dossier->season_own,
		dossier->season_count - dossier->season_own, gathering->year - 1);
	char text[120];

	if (!season_swings(&swing))
		return;
	snprintf(text, sizeof text, "crops swing from year to year (index %.2f, %d pairs)",
		swing.index, swing.pairs);
	offer(gathering, text);
}

void causes_of_crop(
	const struct dossier *dossier, int32_t year, struct arena *arena, struct causes *out)
{
	struct gathering gathering = {.dossier = dossier,
		.year = year,
		.days = crop_days(dossier, year),
		.arena = arena,
		.out = out};

	*out = (struct causes){.count = 0};
	offer_cuts(&gathering);
	offer_weather(&gathering);
	offer_cold_bloom(&gathering);
	offer_drought(&gathering);
	offer_losses(&gathering);
	offer_heavy_before(&gathering);
	offer_seen(&gathering);
	offer_missed_feed(&gathering);
	offer_swing(&gathering);
}
