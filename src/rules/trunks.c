/* SPDX-License-Identifier: MIT */
/* Rules about trunk measures: old ones, and a tape mistaken for a caliper. */
#include <stdio.h>

#include "look.h"

/* Days after which a girth is too old to dose by: trunks of young trees change fast. */
static int32_t stale_days(const struct dossier *dossier)
{
	return dossier->age_high_years.known && dossier->age_high_years.value < 8 ? 365 : 2 * 365;
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
	flags_change_on(out, today, date_add_days(dossier->trunk.day, stale_days(dossier) + 1));
	if (ahead < 0 || ahead > AHEAD_DAYS || old_days <= stale_days(dossier))
		return;
	struct flag *flag = flags_add(
		out, "girth-stale", dossier, ahead <= SOON_DAYS ? URGENCY_SOON : URGENCY_NOTE);
	look_set_window(flag, &feed, span);
	snprintf(flag->says, sizeof flag->says,
		"The trunk was last measured on %s; the feed reckoned from it would be for a "
		"smaller tree.",
		date_format_plain(dossier->trunk.day, when, sizeof when));
	snprintf(flag->action, sizeof flag->action,
		"Put a tape round the trunk, 1 ft (30 cm) above the soil, before feeding opens.");
	flag->began = known_date(date_add_days(dossier->trunk.day, stale_days(dossier) + 1));
	flag->source = "common practice";
	flag->settles = KIND_MEASURE;
	snprintf(flag->fills, sizeof flag->fills, "%s girth ", dossier->tree.label);
	flag_key_set(flag, look_work_year(dossier, span.to), date_format(span.from, cause));
}

static struct maybe_i32 age_on(const struct dossier *dossier, struct date day)
{
	struct maybe_date planted = date_span_first(&dossier->tree.planted);

	if (!planted.known || date_compare(planted.value, day) > 0)
		return (struct maybe_i32){0};
	return known_i32(date_days_between(planted.value, day) / 365);
}

void rule_girth_or_diameter(const struct dossier *dossier, struct date today, struct flags *out)
{
	char typed[32], girth[32], across[32];
	enum unit_system units = dossier->place->units;

	if (dossier->reading_count == 0)
		return;
	const struct trunk_reading *reading = &dossier->readings[dossier->reading_count - 1];
	struct maybe_i32 age = age_on(dossier, reading->day);
	if (reading->from_girth || date_compare(reading->day, today) > 0 ||
		!trunk_looks_like_girth(reading->diameter_um, age, reading->word_given))
		return;
	struct flag *flag = flags_add(out, "girth-or-diameter", dossier, URGENCY_NOTE);
	length_format(reading->diameter_um, units, typed, sizeof typed);
	length_format(trunk_diameter_of_girth_um(reading->diameter_um), units, girth, sizeof girth);
	length_format(reading->diameter_um, units, across, sizeof across);
	snprintf(flag->says, sizeof flag->says,
		"A trunk of %s: round or across? Across it is more than a tree of this age makes; "
		"round it "
		"is %s across. No dose is worked out until it is settled.",
		typed, girth);
	snprintf(flag->action, sizeof flag->action,
		"Mend the entry: \"girth %s\" for a tape round the trunk, \"across %s\" for its "
		"diameter.",
		typed, across);
	flag->source = "common practice";
	flag->began = known_date(reading->day);
	flag->settles = KIND_MEASURE;
	snprintf(flag->fills, sizeof flag->fills, "%s girth ", dossier->tree.label);
	if (age.known)
		flag_evidence(out, flag,
			"asked when the diameter in mm is over 40 + 25 x age (%d years)",
			age.value);
	else
		flag_evidence(out, flag, "asked when the diameter is over 600 mm (age not known)");
	flag_key_set(flag, 0, reading->entry_id);
}
