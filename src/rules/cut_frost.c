/* SPDX-License-Identifier: MIT */
/* cut-near-frost: a cut that pushes tender shoots before frost, or a fresh wound in hard frost. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "cut_say.h"
#include "proof.h"
#include "reckon/sky.h"

/* Growth pushed by a cut needs about two months to harden: common practice. */
enum { HARDENING_DAYS = 60, FROST_SEASON_DAYS = 150, FROST_SEEN_DAYS = 30, SPAN_DAYS_MAX = 62 };

/* How long before the night of a forecast a cut is held to be near it: common practice. */
enum { FORECAST_DAYS = 14 };

static const char *const told_by[] = {"flower-wood", "cut-in-wet-season", "frosted-wait", NULL};

/* Is frost near on the day of a cut? */
enum frost_here {
	FROST_UNSAID, /* nothing known of it */
	FROST_FAR,
	FROST_NEAR,
};

struct frost_near {
	enum frost_here here;
	char why[200]; /* whole sentence, or "" */
	struct cut_weather night;
};

static enum frost_here of_days_said(const struct place *place, struct date day)
{
	int32_t at = circle_of_date(day);
	int32_t first = circle_of(place->first_frost);
	int32_t last = place->last_frost.month != 0 ? circle_of(place->last_frost)
						    : first + FROST_SEASON_DAYS;
	bool near = circle_within(at, circle_of(circle_month_day(first - HARDENING_DAYS)),
		circle_of(circle_month_day(last)));

	return near ? FROST_NEAR : FROST_FAR;
}

/* By the first frost set for the place, else by frost stored or logged round the day, else by how
 * winters are. */
static struct frost_near frost_near(
	const struct dossier *dossier, struct date day, struct date today)
{
	const struct place *place = dossier->place;
	struct frost_near near = {.here = FROST_UNSAID};
	struct date to = date_add_days(day, HARDENING_DAYS);
	char words[32], cold[32];

	if (date_compare(to, today) > 0)
		to = today;
	struct cut_weather night = cut_coldest(dossier, date_add_days(day, -FROST_SEEN_DAYS), to);
	if (night.known && night.min_decic <= 0) {
		near.here = FROST_NEAR;
		near.night = night;
		snprintf(near.why, sizeof near.why, " Frost came here: %s on %s.",
			temperature_format(night.min_decic, place->units, cold, sizeof cold),
			date_format_plain(night.day, words, sizeof words));
	} else if (place->first_frost.month != 0) {
		near.here = of_days_said(place, day);
		snprintf(near.why, sizeof near.why, " First frost here: about %d %s.",
			place->first_frost.day, date_month_name(place->first_frost.month));
	} else if (place->winter == WINTER_HARD || place->winter == WINTER_FROSTY) {
		near.here = FROST_NEAR;
	} else {
		snprintf(near.why, sizeof near.why,
			" Whether frost comes here then is not said (place set --first-frost).");
	}
	return near;
}

/* Row that says to keep the saw away for frost on every day the cut may have been made on. */
static const struct cut_row *frost_row(const struct dossier *dossier, const struct entry *entry)
{
	enum { REASONS = (1U << REASON_FROST) | (1U << REASON_REGROWTH) };
	const struct species *species = dossier->kind.species;
	enum cut_kind kind = look_cut_kind(entry);
	struct date day;

	if (!look_day(entry, &day) || !entry->day.high.known ||
		date_days_between(day, entry->day.high.value) > SPAN_DAYS_MAX)
		return NULL;
	struct verdict_here first = look_verdict(dossier, species, kind, day, REASONS);
	struct verdict_here last =
		look_verdict(dossier, species, kind, entry->day.high.value, REASONS);
	bool both = first.known && first.verdict == VERDICT_AVOID && last.known &&
		    last.verdict == VERDICT_AVOID && first.row == last.row;
	return both ? first.row : NULL;
}

static void flag_near_frost(const struct dossier *dossier, const struct entry *entry,
	const struct cut_row *row, struct date today, struct flags *out)
{
	char name[CUT_NAME_SIZE], why[FLAG_SAYS_SIZE];
	struct date day = {0};

	(void)look_day(entry, &day);
	struct frost_near near = frost_near(dossier, day, today);
	enum urgency urgency =
		near.here == FROST_NEAR ? look_harm_urgency(day, today, row->sure) : URGENCY_NOTE;
	struct flag *flag = flags_add(out, "cut-near-frost", dossier, urgency);
	look_say(&flag->says, "The %s %s %s: %s%s", cut_name(entry, name, sizeof name),
		entry->asked ? "would come" : "comes",
		row->reason == REASON_REGROWTH ? "too near frost"
					       : "in weeks that are kept free for frost",
		look_ended(row->text, why, sizeof why), near.why);
	look_say(&flag->action,
		"%s for now, feed nothing, and be ready to cover soft shoots on a frost night.",
		entry->asked ? "Leave it" : "Cut no more");
	cut_tell_next_clear(dossier, entry, today, out, flag);
	flag->began = known_date(day);
	flag->source = row->source;
	snprintf(flag->basis, sizeof flag->basis, "almanac, %s", climate_title(dossier->climate));
	proof_entry(out, flag, "the cut", entry);
	proof_cut_row(dossier, dossier->kind.species, row, day, out, flag);
	if (near.night.known)
		flag_evidence(out, flag, "minimum %s", near.night.whose);
	flag_key_set(flag, look_work_year(dossier, day), entry->id);
}

/* The night of hard frost on a wound that is still fresh: by the kind's own days of lowered
 * hardiness, else the night after the cut. */
static struct cut_weather hard_night(const struct dossier *dossier, struct date day,
	struct date today, const struct fact_row *limit)
{
	const struct fact_row *weeks = species_fact(dossier->kind.species, "cold-after-cut");
	int32_t days = weeks != NULL && weeks->low.known ? (int32_t)weeks->low.value : 1;
	struct date to = date_add_days(day, days);
	struct cut_weather night =
		cut_coldest(dossier, day, date_compare(to, today) < 0 ? to : today);

	if (night.known && night.min_decic > limit->low.value)
		night.known = false;
	return night;
}

static void look_at_wound(const struct dossier *dossier, const struct entry *entry, struct date day,
	struct date today, struct flags *out)
{
	const struct species *species = dossier->kind.species;
	const struct fact_row *limit = species_fact(species, "cut-cold-limit");
	enum unit_system units = dossier->place->units;
	char name[CUT_NAME_SIZE], cold[32], when[32], above[32];

	if (species->evergreen || limit == NULL || !limit->low.known ||
		!date_span_is_exact(&entry->day) || date_days_between(day, today) > HARD_NIGHT_DAYS)
		return;
	struct cut_weather night = hard_night(dossier, day, today, limit);
	if (!night.known)
		return;
	const struct fact_row *weeks = species_fact(species, "cold-after-cut");
	struct flag *flag = flags_add(out, "cut-near-frost", dossier, URGENCY_NOTE);
	look_say(&flag->says, "The wounds of the %s %s fresh in hard frost: %s on %s.%s%s%s",
		cut_name(entry, name, sizeof name), entry->asked ? "would be" : "were",
		temperature_format(night.min_decic, units, cold, sizeof cold),
		date_format_plain(night.day, when, sizeof when),
		weeks != NULL ? " For this kind " : "", weeks != NULL ? weeks->text : "",
		weeks != NULL ? "." : "");
	look_say(&flag->action,
		"Next time wait for days above about %s, hardiest kinds first, the tender and the "
		"young last. Look at these cuts when growth starts and trim what died.",
		temperature_format((int32_t)limit->low.value, units, above, sizeof above));
	flag->began = known_date(day);
	flag->source = weeks != NULL ? weeks->source : limit->source;
	flags_change_on(out, today, date_add_days(day, HARD_NIGHT_DAYS + 1));
	snprintf(flag->basis, sizeof flag->basis, "%s",
		night.logged ? "frost as logged here" : "stored weather");
	proof_entry(out, flag, "the cut", entry);
	flag_evidence(out, flag, "minimum %s, %s", cold, night.whose);
	flag_evidence(out, flag, "held against it: hard frost below %s on a fresh wound", above);
	flag_key_set(flag, look_work_year(dossier, day), entry->id);
}

/* --- weeks that only colder places keep free --- */

/* A row that allows the cut and says that colder places wait for frost. */
static const struct cut_row *colder_row(
	const struct dossier *dossier, const struct entry *entry, struct date day)
{
	struct verdict_here here = look_verdict(
		dossier, dossier->kind.species, look_cut_kind(entry), day, (unsigned)REASONS_ALL);
	bool waits = here.known && here.verdict == VERDICT_ALLOWED && here.row != NULL &&
		     here.row->reason == REASON_FROST;

	return waits ? here.row : NULL;
}

/* Where winters are hard, what colder places do is told; the days it is clear stand with it. */
static void note_colder(const struct dossier *dossier, const struct entry *entry, struct date day,
	struct date today, struct flags *out)
{
	const struct cut_row *row = colder_row(dossier, entry, day);
	char name[CUT_NAME_SIZE], why[FLAG_SAYS_SIZE];

	if (row == NULL || dossier->place->winter != WINTER_HARD ||
		date_days_between(day, today) > ACT_DAYS)
		return;
	struct flag *flag = flags_add(out, "cut-near-frost", dossier, URGENCY_NOTE);
	look_say(&flag->says,
		"The %s %s in weeks that colder places keep free, and winters are hard here: %s",
		cut_name(entry, name, sizeof name), entry->asked ? "would come" : "comes",
		look_ended(row->text, why, sizeof why));
	look_say(&flag->action, "%s for the clear weeks. A dead or broken limb may go now.",
		entry->asked ? "Leave it" : "Leave the rest");
	flag->began = known_date(day);
	flag->source = row->source;
	snprintf(flag->basis, sizeof flag->basis, "almanac, %s", climate_title(dossier->climate));
	proof_entry(out, flag, "the cut", entry);
	flag_key_set(flag, look_work_year(dossier, day), entry->id);
}

/* --- frost that is only forecast --- */

/* The night ahead that would hurt this kind's wood, and the rows that say so. */
struct forecast {
	struct cut_weather night;
	const struct fact_row *cold; /* what hurts it */
	const struct fact_row *wait; /* what to do of cutting then */
};

static struct forecast hurting_forecast(
	const struct dossier *dossier, struct date day, struct date today)
{
	struct forecast ahead = {.cold = species_fact(dossier->kind.species, "cold-tree"),
		.wait = species_fact(dossier->kind.species, "frost-wait")};

	if (ahead.cold == NULL || ahead.wait == NULL || !ahead.cold->low.known)
		return ahead;
	ahead.night = cut_forecast(dossier, today, date_add_days(day, FORECAST_DAYS));
	int64_t limit = ahead.cold->high.known ? ahead.cold->high.value : ahead.cold->low.value;
	if (ahead.night.known && ahead.night.min_decic > limit)
		ahead.night.known = false;
	return ahead;
}

/* "29 F is forecast for 4 December 2026, and this spot runs 3 F colder: about 26 F here". */
static const char *say_forecast(
	const struct dossier *dossier, const struct cut_weather *night, char *out, size_t size)
{
	int32_t offset = sky_offset_decic(dossier);
	enum unit_system units = dossier->place->units;
	struct text_builder words = text_builder_fixed(out, size);
	char cold[32], when[32], gap[32], here[32];

	text_add_format(&words, "%s is forecast for %s",
		temperature_format(night->min_decic - offset, units, cold, sizeof cold),
		date_format_plain(night->day, when, sizeof when));
	if (offset != 0)
		text_add_format(&words, ", and this spot runs %s %s: about %s here",
			temperature_gap_format(offset, units, gap, sizeof gap),
			offset < 0 ? "colder" : "warmer",
			temperature_format(night->min_decic, units, here, sizeof here));
	return out;
}

static void flag_forecast(const struct dossier *dossier, const struct entry *entry,
	const struct forecast *ahead, struct date today, struct flags *out)
{
	bool sure = look_may_alarm(ahead->cold->sure);
	char name[CUT_NAME_SIZE], night[160], why[FLAG_SAYS_SIZE], low[32], high[32];
	enum unit_system units = dossier->place->units;
	struct date day = {0};

	(void)look_day(entry, &day);
	struct flag *flag = flags_add(out, "cut-near-frost", dossier,
		sure ? look_harm_urgency(day, today, ahead->wait->sure) : URGENCY_NOTE);
	look_say(&flag->says, "%s. The %s %s just before it: %s",
		say_forecast(dossier, &ahead->night, night, sizeof night),
		cut_name(entry, name, sizeof name), entry->asked ? "would come" : "came",
		look_ended(ahead->wait->text, why, sizeof why));
	look_say(&flag->action,
		"%s until the frost is past and new growth shows what is alive; cover what can be "
		"covered, feed nothing. Plan it for then.",
		entry->asked ? "Leave it" : "Cut no more");
	cut_tell_next_clear(dossier, entry, today, out, flag);
	flag->began = known_date(day);
	flag->source = ahead->wait->source;
	snprintf(flag->basis, sizeof flag->basis, "%s",
		ahead->night.logged ? "a forecast as you logged it" : "an imported forecast");
	snprintf(flag->fills, sizeof flag->fills, "%s plan cut ", dossier->tree.label);
	proof_entry(out, flag, "the cut", entry);
	flag_evidence(out, flag, "minimum forecast for %s, %s",
		date_format_plain(ahead->night.day, night, sizeof night), ahead->night.whose);
	flag_evidence(out, flag, "%s is hurt at %s to %s: %s", dossier->kind.species->name,
		temperature_format((int32_t)ahead->cold->low.value, units, low, sizeof low),
		temperature_format((int32_t)(ahead->cold->high.known ? ahead->cold->high.value
								     : ahead->cold->low.value),
			units, high, sizeof high),
		ahead->cold->said_by->title);
	flag_key_set(flag, look_work_year(dossier, day), entry->id);
	flags_change_on(out, today, date_add_days(ahead->night.day, 1));
}

/* A cut in the two weeks before a night that is forecast to hurt the tree; once the night is past,
 * what came is another line. */
static bool is_before_forecast(
	const struct dossier *dossier, struct date day, struct date today, struct forecast *ahead)
{
	*ahead = hurting_forecast(dossier, day, today);
	return ahead->night.known;
}

void rule_cut_near_frost(const struct dossier *dossier, struct date today, struct flags *out)
{
	static const char *const here[] = {"cut-near-frost", NULL};

	if (dossier->kind.species == NULL || !window_place_has_dates(dossier->place))
		return;
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		struct date day;

		if (!cut_to_judge(dossier, entry, today, FROST_CUT_DAYS, &day) ||
			cut_is_told(out, entry, told_by))
			continue;
		const struct cut_row *row = frost_row(dossier, entry);
		struct forecast ahead;
		if (row != NULL)
			flag_near_frost(dossier, entry, row, today, out);
		else if (is_before_forecast(dossier, day, today, &ahead))
			flag_forecast(dossier, entry, &ahead, today, out);
		else
			look_at_wound(dossier, entry, day, today, out);
		if (!cut_is_told(out, entry, here))
			note_colder(dossier, entry, day, today, out);
	}
}
