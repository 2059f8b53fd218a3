/* SPDX-License-Identifier: MIT */
/* Cuts that bare bark to the sun or bleed (cut-bares-or-bleeds), and cuts on a day of bad weather
 * (cut-on-bad-day). */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "cut_say.h"

/* --- cut-bares-or-bleeds --- */

static const char *const told_before_sun[] = {
	"flower-wood", "cut-in-wet-season", "frosted-wait", "cut-near-frost", NULL};

/* The row that speaks of sun or bleeding on the day; a span set by hand as clear stands before. */
static const struct cut_row *bark_row(
	const struct dossier *dossier, enum cut_kind kind, struct date day)
{
	struct cut_window cuts[CUTS_MAX];
	struct window_facts facts = dossier_window_facts(dossier);
	struct window own = dossier_window(dossier, WINDOW_CUT_CLEAR, day);
	const struct cut_row *found = NULL;

	if (own.known && own.basis == BASIS_OWN && window_holds(&own, day))
		return NULL;
	int32_t count = window_cuts(&facts, dossier->kind.cultivar, kind, cuts, CUTS_MAX);
	for (int32_t i = 0; i < count && i < CUTS_MAX; i++) {
		const struct cut_row *row = cuts[i].row;
		bool ours = row->reason == REASON_SUN || row->reason == REASON_BLEEDING;

		if (!ours || !cut_window_holds(&cuts[i], day))
			continue;
		if (found == NULL || row->verdict == VERDICT_AVOID)
			found = row;
	}
	return found;
}

/* Paint or shade on the bared bark, logged with the cut or since. */
static bool is_shaded(const struct dossier *dossier, const struct entry *cut, struct date day)
{
	if (cut_says(cut, "paint") ||
		(cut->note != NULL && cut_word_in(cut->note, (const char *const[]){"paint", NULL})))
		return true;
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		struct date at;

		if (dossier->entries[i]->kind == KIND_PROTECT &&
			look_day(dossier->entries[i], &at) && date_compare(at, day) >= 0)
			return true;
	}
	return false;
}

/* Does it bare limbs: a third of the crown or more, a lowered top, an old tree brought back. */
static bool bares_limbs(const struct dossier *dossier, const struct entry *entry)
{
	struct share share = look_crown_share(dossier, entry);
	enum cut_kind kind = entry_cut_kind(entry);

	return kind == CUT_RENOVATION || kind == CUT_HEIGHT ||
	       (share.known && share.low * 1000.0 >= HARD_CUT_PERMILLE);
}

static enum urgency bark_urgency(const struct dossier *dossier, const struct entry *entry,
	const struct cut_row *row, struct date day, struct date today)
{
	if (row->verdict == VERDICT_AVOID)
		return look_harm_urgency(day, today, row->sure);
	if (row->reason == REASON_SUN && look_may_alarm(row->sure) && bares_limbs(dossier, entry))
		return URGENCY_DUE;
	return URGENCY_NOTE;
}

static void flag_bark(const struct dossier *dossier, const struct entry *entry,
	const struct cut_row *row, struct date today, struct flags *out)
{
	bool sun = row->reason == REASON_SUN;
	char name[CUT_NAME_SIZE], why[FLAG_SAYS_SIZE];
	struct date day = {0};

	(void)look_day(entry, &day);
	struct flag *flag = flags_add(
		out, "cut-bares-or-bleeds", dossier, bark_urgency(dossier, entry, row, day, today));
	look_say(&flag->says, "The %s %s: %s", cut_name(entry, name, sizeof name),
		!sun           ? "may bleed"
		: entry->asked ? "would let the sun on bark that was in shade"
			       : "lets the sun on bark that was in shade",
		look_ended(row->text, why, sizeof why));
	if (sun)
		look_say(&flag->action,
			"Paint limbs that are newly in the sun with white interior water paint and "
			"water, half and half; leave shade shoots; water the roots.");
	else
		look_say(&flag->action,
			"Put nothing on the wounds; the rest waits for the clear weeks.");
	if (!sun)
		cut_tell_next_clear(dossier, entry, today, out, flag);
	flag->began = known_date(day);
	flag->source = row->source;
	snprintf(flag->basis, sizeof flag->basis, "almanac");
	flag->settles = sun ? KIND_PROTECT : KIND_TOTAL;
	if (sun)
		snprintf(flag->fills, sizeof flag->fills, "%s protected white paint",
			dossier->tree.label);
	proof_entry(out, flag, "the cut", entry);
	proof_cut_row(dossier, dossier->kind.species, row, day, out, flag);
	flag_key_set(flag, look_work_year(dossier, day), entry->id);
}

void rule_cut_bares_or_bleeds(const struct dossier *dossier, struct date today, struct flags *out)
{
	if (dossier->kind.species == NULL || !window_place_has_dates(dossier->place))
		return;
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		struct date day;

		if (!cut_to_judge(dossier, entry, today, ACT_DAYS, &day) ||
			!date_span_is_exact(&entry->day) ||
			cut_is_told(out, entry, told_before_sun))
			continue;
		const struct cut_row *row = bark_row(dossier, look_cut_kind(entry), day);
		if (row != NULL && !(row->reason == REASON_SUN && is_shaded(dossier, entry, day)))
			flag_bark(dossier, entry, row, today, out);
	}
}

/* --- cut-on-bad-day --- */

static const char *const told_before_bad_day[] = {"flower-wood", "cut-in-wet-season",
	"frosted-wait", "cut-near-frost", "cut-bares-or-bleeds", NULL};

/* The row that says why wet wounds matter for this kind of cut here: one that holds on the day
 * first, then any that was read and says to avoid. */
static const struct cut_row *wet_row(
	const struct dossier *dossier, enum cut_kind kind, struct date day)
{
	struct cut_window cuts[CUTS_MAX];
	const struct window_facts facts = dossier_window_facts(dossier);
	int32_t count = window_cuts(&facts, dossier->kind.cultivar, kind, cuts, CUTS_MAX);
	const struct cut_row *found = NULL;

	for (int32_t i = 0; i < count && i < CUTS_MAX; i++) {
		const struct cut_row *row = cuts[i].row;

		if (row->reason != REASON_DISEASE)
			continue;
		if (cut_window_holds(&cuts[i], day))
			return row;
		if (row->verdict == VERDICT_AVOID && look_may_alarm(row->sure) && found == NULL)
			found = row;
	}
	return found;
}

static struct flag *begin_bad_day(const struct dossier *dossier, const struct entry *entry,
	struct date day, enum urgency urgency, struct flags *out)
{
	struct flag *flag = flags_add(out, "cut-on-bad-day", dossier, urgency);

	flag->began = known_date(day);
	proof_entry(out, flag, "the cut", entry);
	flag_key_set(flag, look_work_year(dossier, day), entry->id);
	return flag;
}

/* What is stored, and logged, of the day. */
static void tell_weather(
	const struct dossier *dossier, struct date day, struct flags *out, struct flag *flag)
{
	enum unit_system units = dossier->place->units;
	struct cut_weather rain = cut_first_rain(dossier, day, day);
	struct cut_weather night = cut_coldest(dossier, day, day);
	char cold[32];

	for (int32_t i = 0; i < dossier->place_entry_count; i++) {
		const struct entry *entry = dossier->place_entries[i];
		struct date at;

		if (entry->kind == KIND_WEATHER && !entry_is_forecast(entry) &&
			look_day(entry, &at) && at.day == day.day)
			proof_entry(out, flag, "the weather", entry);
	}
	if (rain.known && !rain.logged)
		flag_evidence(out, flag, "rain that day: %.1f mm", (double)rain.rain_um / 1000.0);
	if (night.known && !night.logged)
		flag_evidence(out, flag, "the night: %s",
			temperature_format(night.min_decic, units, cold, sizeof cold));
}

static void flag_wet_wound(const struct dossier *dossier, const struct entry *entry,
	const struct cut_row *row, struct cut_weather rain, struct date today, struct flags *out)
{
	struct date day = rain.day;
	char name[CUT_NAME_SIZE], why[FLAG_SAYS_SIZE];
	enum urgency urgency = look_harm_urgency(day, today, row->sure);

	if (urgency == URGENCY_ACT && row->verdict != VERDICT_AVOID)
		urgency = URGENCY_DUE;
	struct flag *flag = begin_bad_day(dossier, entry, day, urgency, out);
	look_say(&flag->says, "The %s %s made in rain, and wet wounds matter for this kind: %s",
		cut_name(entry, name, sizeof name), entry->asked ? "would be" : "was",
		look_ended(row->text, why, sizeof why));
	look_say(&flag->action,
		"%sWatch these wounds for sunken bark, gum or dying tips; put no paint on them. "
		"Cut on after two dry days at least, tools cleaned with alcohol.",
		date_compare(day, today) == 0 ? "Not today: rain. " : "");
	flag->source = row->source;
	snprintf(flag->basis, sizeof flag->basis, "%s",
		rain.logged ? "rain as logged here" : "stored rain");
	tell_weather(dossier, day, out, flag);
}

/* Rain in the weeks that the source wants dry after a cut. */
static void look_for_rain_after(const struct dossier *dossier, const struct entry *entry,
	struct date day, struct date today, struct flags *out)
{
	const struct fact_row *weeks = species_fact(dossier->kind.species, "dry-weeks-after-cut");
	char name[CUT_NAME_SIZE], when[32];

	if (weeks == NULL || !weeks->low.known || dossier->climate == CLIMATE_LITTLE_RAIN)
		return;
	struct date to = date_add_days(day, 7 * (int32_t)weeks->low.value);
	struct cut_weather rain = cut_first_rain(
		dossier, date_add_days(day, 1), date_compare(to, today) < 0 ? to : today);
	if (!rain.known)
		return;
	struct flag *flag = begin_bad_day(dossier, entry, day, URGENCY_NOTE, out);
	look_say(&flag->says,
		"Rain fell on %s, %d days after the %s; for %s the wounds should stay dry for %d "
		"weeks.",
		date_format_plain(rain.day, when, sizeof when), date_days_between(day, rain.day),
		cut_name(entry, name, sizeof name), dossier->kind.species->name,
		(int)weeks->low.value);
	look_say(&flag->action, "Look at these wounds for gum, sunken bark and limbs that die "
				"back, this summer and "
				"the next; cut such wood out well below the stain in a dry spell.");
	flag->source = weeks->source;
	snprintf(flag->basis, sizeof flag->basis, "%s",
		rain.logged ? "rain as logged here" : "stored rain");
	tell_weather(dossier, rain.day, out, flag);
}

/* On the day itself, for whoever stands on the ladder. */
static void flag_bad_today(const struct dossier *dossier, const struct entry *entry,
	const char *bad, struct date today, struct flags *out)
{
	struct flag *flag = begin_bad_day(dossier, entry, today, URGENCY_NOTE, out);
	char care[TEXT_SIZE + 64];

	look_say(&flag->says, "Today has %s: no day to be up a tree, nor for a clean cut.", bad);
	look_say(&flag->action, "%s The cut can wait for a dry, still day.",
		look_cut_care(dossier, today, care, sizeof care));
	snprintf(flag->basis, sizeof flag->basis, "weather of the day");
	tell_weather(dossier, today, out, flag);
}

static void look_at_bad_day(const struct dossier *dossier, const struct entry *entry,
	struct date day, struct date today, struct flags *out)
{
	const char *bad = look_bad_day(dossier, day);
	struct cut_weather rain = cut_first_rain(dossier, day, day);
	const struct cut_row *row = rain.known && dossier->kind.species != NULL &&
						    window_place_has_dates(dossier->place)
					    ? wet_row(dossier, look_cut_kind(entry), day)
					    : NULL;

	if (row != NULL)
		flag_wet_wound(dossier, entry, row, rain, today, out);
	else if (day.day == today.day && (bad != NULL || rain.known))
		flag_bad_today(dossier, entry, bad != NULL ? bad : "rain", today, out);
	else if (dossier->kind.species != NULL)
		look_for_rain_after(dossier, entry, day, today, out);
}

void rule_cut_on_bad_day(const struct dossier *dossier, struct date today, struct flags *out)
{
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		struct date day;

		if (cut_to_judge(dossier, entry, today, WET_CUT_DAYS, &day) &&
			date_span_is_exact(&entry->day) &&
			!cut_is_told(out, entry, told_before_bad_day))
			look_at_bad_day(dossier, entry, day, today, out);
	}
}
