/* SPDX-License-Identifier: MIT */
/* Rules about trunk measures: old ones, and a tape mistaken for a caliper. */
#include <stdio.h>

#include "look.h"

/* Days after which a girth is too old to dose by: trunks of young trees change fast. */
static int32_t stale_days(const struct dossier *dossier)
{
	bool young = dossier->age_high_years.known && dossier->age_high_years.value < 8;

	return young ? YOUNG_STALE_DAYS : STALE_DAYS;
}

/* The measures that its diameter was made of. */
static void prove_trunk(const struct dossier *dossier, struct flags *out, struct flag *flag)
{
	for (int32_t i = 0; i < dossier->reading_count; i++)
		if (date_compare(dossier->readings[i].day, dossier->trunk.day) == 0)
			proof_entry_id(dossier, "", dossier->readings[i].entry_id, out, flag);
}

void rule_girth_stale(const struct dossier *dossier, struct date today, struct flags *out)
{
	enum { AHEAD_DAYS = 60 };
	const char *why_text = "";
	char when[24], cause[DATE_SIZE];

	if (!dossier->trunk.known || !look_feeds(dossier, today, &why_text))
		return;
	struct window feed = dossier_window(dossier, WINDOW_FEED_CLEAR, today);
	if (!feed.known || feed.all_year)
		return;
	struct window_span span = window_span_at(&feed, today);
	int32_t ahead = date_days_between(today, span.from);
	int32_t old_days = date_days_between(dossier->trunk.day, today);
	flags_change_on(out, today, date_add_days(span.from, -AHEAD_DAYS));
	flags_change_on(out, today, date_add_days(span.from, 1));
	flags_change_on(out, today, date_add_days(span.from, -SOON_DAYS));
	flags_change_on(out, today, date_add_days(span.to, 1));
	flags_change_on(out, today, date_add_days(dossier->trunk.day, stale_days(dossier) + 1));
	if (ahead < 0 || ahead > AHEAD_DAYS || old_days <= stale_days(dossier))
		return;
	struct flag *flag = flags_add(
		out, "girth-stale", dossier, ahead <= SOON_DAYS ? URGENCY_SOON : URGENCY_NOTE);
	look_set_window(flag, &feed, span);
	look_say(&flag->says,
		"The trunk was last measured on %s; a dose by it would be for a smaller tree.",
		date_format_plain(dossier->trunk.day, when, sizeof when));
	look_say(&flag->action,
		"Put a tape round the trunk, 1 ft (30 cm) above the soil, before feeding opens.");
	flag->began = known_date(date_add_days(dossier->trunk.day, stale_days(dossier) + 1));
	flag->source = "common practice";
	flag->settles = KIND_MEASURE;
	snprintf(flag->fills, sizeof flag->fills, "%s girth ", dossier->tree.label);
	prove_trunk(dossier, out, flag);
	proof_window(&feed, span, out, flag);
	flag_evidence(out, flag, "asked after %d days, in the %d before it", stale_days(dossier),
		AHEAD_DAYS);
	flag_key_set(flag, look_work_year(dossier, span.to), date_format(span.from, cause));
}

static struct maybe_i32 age_on(const struct dossier *dossier, struct date day)
{
	struct maybe_date planted = date_span_first(&dossier->tree.planted);

	if (!planted.known || date_compare(planted.value, day) > 0)
		return (struct maybe_i32){0};
	return known_i32(date_days_between(planted.value, day) / 365);
}

/* The thickest of the stems measured last that was typed without a word and is thicker than its
 * tree can be; NULL none. */
static const struct trunk_reading *reading_in_doubt(
	const struct dossier *dossier, struct date today)
{
	enum { TOGETHER_DAYS = 90 };
	const struct trunk_reading *doubted = NULL;
	const struct trunk_reading *newest[STEMS_MAX + 1] = {NULL};

	for (int32_t i = 0; i < dossier->reading_count; i++) {
		const struct trunk_reading *reading = &dossier->readings[i];

		if (date_compare(reading->day, today) <= 0 && reading->stem <= STEMS_MAX)
			newest[reading->stem] = reading;
	}
	const struct trunk_reading *last = NULL;
	for (int32_t stem = 0; stem <= STEMS_MAX; stem++)
		if (newest[stem] != NULL &&
			(last == NULL || date_compare(newest[stem]->day, last->day) > 0))
			last = newest[stem];
	for (int32_t stem = 0; stem <= STEMS_MAX; stem++) {
		const struct trunk_reading *reading = newest[stem];

		if (reading == NULL || reading->from_girth ||
			date_days_between(reading->day, last->day) > TOGETHER_DAYS ||
			!trunk_looks_like_girth(reading->diameter_um, age_on(dossier, reading->day),
				reading->word_given))
			continue;
		if (doubted == NULL || reading->diameter_um > doubted->diameter_um)
			doubted = reading;
	}
	return doubted;
}

void rule_girth_or_diameter(const struct dossier *dossier, struct date today, struct flags *out)
{
	char typed[32], girth[32];
	enum unit_system units = dossier->place->units;
	const struct trunk_reading *reading = reading_in_doubt(dossier, today);

	if (reading == NULL)
		return;
	struct maybe_i32 age = age_on(dossier, reading->day);
	struct flag *flag = flags_add(out, "girth-or-diameter", dossier, URGENCY_NOTE);
	length_format(reading->diameter_um, units, typed, sizeof typed);
	length_format(trunk_diameter_of_girth_um(reading->diameter_um), units, girth, sizeof girth);
	look_say(&flag->says,
		"A trunk of %s: round or across? Across it is more than a tree %s makes; round it "
		"is %s across. No dose by the inch until that is settled.",
		typed, age.known ? "of this age" : "here usually", girth);
	look_say(&flag->action,
		"Mend the entry: \"girth %s\" for a tape round the trunk, \"diameter %s\" for its "
		"diameter.",
		typed, typed);
	flag->source = "common practice";
	flag->began = known_date(reading->day);
	flag->settles = KIND_MEASURE;
	snprintf(flag->fills, sizeof flag->fills, "%s girth ", dossier->tree.label);
	proof_entry_id(dossier, "", reading->entry_id, out, flag);
	if (age.known)
		flag_evidence(out, flag,
			"asked when the diameter in mm is over 40 + 25 x age (%d years)",
			age.value);
	else
		flag_evidence(out, flag, "asked when the diameter is over 600 mm (age not known)");
	flag_key_set(flag, 0, reading->entry_id);
}
