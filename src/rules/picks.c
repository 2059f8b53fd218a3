/* SPDX-License-Identifier: MIT */
/* Rules about picking: the window ahead, a harvest gone by without a word, the label's days. */
#include <stdio.h>
#include <string.h>

#include "fruit.h"
#include "reckon/sky.h"
#include "rules/harvest.h"

/* Seasons before `year` with a pick on record. */
static int32_t picked_before(const struct dossier *dossier, int32_t year)
{
	int32_t seasons = 0;

	for (int32_t i = 0; i < dossier->season_count; i++)
		if (dossier->seasons[i].year < year && dossier->seasons[i].picks > 0)
			seasons++;
	return seasons;
}

/* --- pick-soon --- */

static void say_by_bloom(const struct dossier *dossier, const struct harvest_ahead *ahead,
	struct flags *out, struct flag *flag)
{
	char words[64], bloom[24], offset[SKY_OFFSET_SIZE];
	struct date day = {0};

	(void)look_day(ahead->bloom, &day);
	date_format_plain(day, bloom, sizeof bloom);
	look_say(&flag->says,
		"Picking is near: %s, by %s its bloom of %s. Start looking; the tree decides.",
		look_span(ahead->span.from, ahead->span.to, words, sizeof words),
		ahead->by_heat ? "the warmth since" : "the days from", bloom);
	flag->window_from = known_date(ahead->span.from);
	flag->window_to = known_date(ahead->span.to);
	flag->source = ahead->days.source;
	snprintf(flag->basis, sizeof flag->basis, "your bloom of %s%s", bloom,
		ahead->by_heat           ? " and stored weather"
		: ahead->own_seasons > 0 ? " and the days of your own seasons"
					 : "");
	proof_entry(out, flag, "the bloom", ahead->bloom);
	if (ahead->by_heat)
		flag_evidence(out, flag,
			"%.0f of about %.0f degree-days over %.0f C since then%s, a tenth either "
			"way at the pace of the last three weeks: %s",
			ahead->heat, ahead->heat_needed, ahead->heat_base,
			sky_offset_words(dossier, offset), ahead->days.text);
	else if (ahead->own_seasons > 0)
		flag_evidence(out, flag,
			"%lld to %lld days from its first flowers to its first pick in %d seasons",
			(long long)ahead->days.low, (long long)ahead->days.high,
			ahead->own_seasons);
	else
		flag_evidence(out, flag, "%lld to %lld days from bloom, counted from %s%s%s",
			(long long)ahead->days.low, (long long)ahead->days.high,
			harvest_is_full_bloom(ahead->bloom) ? "full bloom"
							    : "the first flowers seen",
			ahead->days.text[0] != '\0' ? ": " : "", ahead->days.text);
}

static void say_by_window(const struct dossier *dossier, const struct harvest_ahead *ahead,
	int32_t year, struct flags *out, struct flag *flag)
{
	const struct window *harvest = &ahead->window;
	char words[64], by[64];

	look_set_window(flag, harvest, ahead->span);
	if (harvest->basis == BASIS_LEARNED)
		proof_first_picks(dossier, year, out, flag);
	look_say(&flag->says, "Picking is near: %s, %s. Start looking; the tree decides.",
		look_span(ahead->span.from, ahead->span.to, words, sizeof words),
		look_by(harvest, by, sizeof by));
	if (harvest->basis == BASIS_LEARNED)
		flag_evidence(out, flag,
			"first picks of %d seasons, %+d days to the almanac (%+d to %+d)",
			harvest->learned.seasons, harvest->learned.shift_days,
			harvest->learned.shift_min, harvest->learned.shift_max);
}

/* The day on which the days to harvest of all that was sprayed are over; unknown: none run. */
static struct maybe_date label_runs_until(const struct dossier *dossier, struct date today)
{
	struct maybe_date until = {.known = false};

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *spray = dossier->entries[i];
		const struct amount *days = entry_amount(spray, FIELD_DAYS_TO_HARVEST);
		struct date day;

		if (spray->kind != KIND_SPRAY || days == NULL || !days->low.known ||
			!look_day(spray, &day))
			continue;
		if (spray->day.high.known)
			day = spray->day.high.value;
		struct date end = date_add_days(
			day, (int32_t)(days->high.known ? days->high.value : days->low.value));
		if (date_compare(today, end) < 0 &&
			(!until.known || date_compare(until.value, end) < 0))
			until = known_date(end);
	}
	return until;
}

/* A harvest that nears while they run. */
static void say_label(
	const struct dossier *dossier, struct date today, struct flags *out, struct flag *flag)
{
	struct maybe_date until = label_runs_until(dossier, today);
	char ripe[FLAG_SAYS_SIZE], when[24];

	if (!until.known)
		return;
	memcpy(ripe, flag->action, sizeof ripe);
	look_say(&flag->action,
		"No fruit before %s: the days to harvest of what was sprayed run until then. %s",
		date_format_plain(until.value, when, sizeof when), ripe);
	flags_change_on(out, today, until.value);
}

void rule_pick_soon(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct species *species = dossier->kind.species;
	char cause[DATE_SIZE], sentence[FLAG_SAYS_SIZE];

	if (species == NULL)
		return;
	struct harvest_ahead ahead = harvest_ahead(dossier, today, out->arena);
	if (ahead.changes.known)
		flags_change_on(out, today, ahead.changes.value);
	if (!ahead.known)
		return;
	int32_t days = date_days_between(today, ahead.span.from);
	int32_t year = season_year_of(&dossier->season_rule, ahead.span.from);
	const struct season *season = dossier_season(dossier, year);
	flags_change_on(out, today, date_add_days(ahead.span.from, -SOON_DAYS));
	flags_change_on(out, today, date_add_days(ahead.span.from, 1));
	flags_change_on(out, today, date_add_days(ahead.span.to, 1));
	if (days < 0 || days > SOON_DAYS || picked_before(dossier, year) == 0 ||
		(season != NULL && (season->picks > 0 || season->none_said)))
		return;
	bool quiet = (ahead.by_bloom || ahead.by_heat) && !look_may_alarm(ahead.days.sure);
	struct flag *flag =
		flags_add(out, "pick-soon", dossier, quiet ? URGENCY_NOTE : URGENCY_SOON);
	if (ahead.by_bloom || ahead.by_heat)
		say_by_bloom(dossier, &ahead, out, flag);
	else
		say_by_window(dossier, &ahead, year, out, flag);
	const struct fact_row *ripe = species_fact(species, "ripeness");
	look_say(&flag->action, "%s",
		look_sentence(ripe != NULL ? ripe->text : "taste one, and log the first pick",
			sentence, sizeof sentence));
	say_label(dossier, today, out, flag);
	flag->began = known_date(date_add_days(ahead.span.from, -SOON_DAYS));
	flag->settles = KIND_PICK;
	snprintf(flag->fills, sizeof flag->fills, "%s picked ", dossier->tree.label);
	flag_key_set(
		flag, year, ahead.by_heat ? ahead.bloom->id : date_format(ahead.span.from, cause));
}

void rule_pick_unlogged(const struct dossier *dossier, struct date today, struct flags *out)
{
	enum { ASKED_DAYS = 60 };
	const struct species *species = dossier->kind.species;
	char to[24], by[64], season_text[16];

	if (species == NULL)
		return;
	struct window harvest = dossier_window(dossier, WINDOW_HARVEST, today);
	if (!harvest.known || harvest.all_year)
		return;
	struct window_span span = window_span_before(&harvest, today);
	int32_t past = date_days_between(span.to, today);
	int32_t year = season_year_of(&dossier->season_rule, span.from);
	const struct season *season = dossier_season(dossier, year);
	flags_change_on(out, today, date_add_days(span.to, 1));
	flags_change_on(out, today, date_add_days(span.to, ASKED_DAYS + 1));
	flags_change_on(out, today, date_add_days(window_span_at(&harvest, today).to, 1));
	if (past <= 0 || past > ASKED_DAYS || picked_before(dossier, year) < 2)
		return;
	if (season != NULL && (season->picks > 0 || season->none_said || season->lost.parts > 0 ||
				      season->lost.missing > 0))
		return;
	struct flag *flag = flags_add(out, "pick-unlogged", dossier, URGENCY_NOTE);
	look_set_window(flag, &harvest, span);
	proof_window(&harvest, span, out, flag);
	proof_first_picks(dossier, year, out, flag);
	look_season_name(dossier, year, season_text, sizeof season_text);
	look_say(&flag->says,
		"The %s harvest ended about %s, %s, and no pick is logged. Was there none?",
		season_text, date_format_plain(span.to, to, sizeof to),
		look_by(&harvest, by, sizeof by));
	look_say(&flag->action,
		"Log what you remember, or \"picked none\" if you saw none: a gap is never read as "
		"zero.");
	flag->began = known_date(date_add_days(span.to, 1));
	flag->settles = KIND_PICK;
	snprintf(flag->fills, sizeof flag->fills, "%s picked ", dossier->tree.label);
	flag_key_set(flag, year, "unlogged");
}

/* "picked none": nothing was taken. */
static bool took_none(const struct entry *pick)
{
	for (int32_t i = 0; i < pick->amount_count; i++)
		if (pick->amounts[i].none)
			return true;
	return false;
}

/* A pick inside the days to harvest that the grower typed from the label of a spray. */
static void flag_interval(const struct dossier *dossier, const struct entry *spray,
	const struct entry *pick, struct date until, struct date today, struct flags *out)
{
	char when[24], end[24];
	struct date day = {0}, sprayed = {0};

	(void)look_day(pick, &day);
	(void)look_day(spray, &sprayed);
	if (spray->day.high.known)
		sprayed = spray->day.high.value;
	int32_t wait_days = date_days_between(sprayed, until);
	struct flag *flag = flags_add(
		out, "spray-interval", dossier, look_harm_urgency(day, today, KNOWN_READ));
	look_say(&flag->says, "%s on %s%s inside the label's days to harvest: they run until %s.",
		pick->asked ? "A pick" : "Picked", date_format_plain(day, when, sizeof when),
		pick->asked ? " would fall" : ",", date_format_plain(until, end, sizeof end));
	look_say(&flag->action,
		"Do not eat or give away this fruit; what the label says is the law. Wait for that "
		"day before picking more.");
	flag->began = known_date(day);
	flag->source = "the product label, as you typed it";
	proof_entry(out, flag, "the pick", pick);
	proof_entry(out, flag, "the spray", spray);
	flag_evidence(out, flag, "the wait: the day of the spray and %d days = %s", wait_days, end);
	flag_key_set(flag, season_year_of(&dossier->season_rule, day), pick->id);
}

static void look_at_spray(const struct dossier *dossier, const struct entry *spray,
	struct date today, struct flags *out)
{
	const struct amount *days = entry_amount(spray, FIELD_DAYS_TO_HARVEST);
	struct date sprayed;

	if (spray->kind != KIND_SPRAY || days == NULL || !days->low.known ||
		!look_day(spray, &sprayed) || date_days_between(sprayed, today) > SPRAY_DAYS)
		return;
	if (spray->day.high.known)
		sprayed = spray->day.high.value;
	int64_t most = days->high.known ? days->high.value : days->low.value;
	struct date until = date_add_days(sprayed, (int32_t)most);
	for (int32_t p = 0; p < dossier->entry_count; p++) {
		const struct entry *pick = dossier->entries[p];
		struct date day, first;

		(void)look_day(spray, &first);
		if (pick->kind == KIND_PICK && look_day(pick, &day) && !took_none(pick) &&
			date_compare(day, first) >= 0 && date_compare(day, until) < 0)
			flag_interval(dossier, spray, pick, until, today, out);
	}
}

void rule_spray_interval(const struct dossier *dossier, struct date today, struct flags *out)
{
	for (int32_t i = 0; i < dossier->entry_count; i++)
		look_at_spray(dossier, dossier->entries[i], today, out);
	/* what was sprayed on the host is on the fruit of its grafts */
	for (int32_t i = 0; dossier->host != NULL && i < dossier->host->entry_count; i++)
		look_at_spray(dossier, dossier->host->entries[i], today, out);
}
