/* SPDX-License-Identifier: MIT */
/* The days on which what the rules say could differ with no new entry, because time goes by. A
 * day too many costs a second look; a day too few would leave a flag standing that is not so. */
#include "cut_say.h"

/* How many days after an entry of a kind the rules look at it differently. */
static const struct {
	enum entry_kind kind;
	int32_t days;
} ages[] = {
	{KIND_CUT, ACT_DAYS},
	{KIND_CUT, CUT_IN_REST_DAYS},
	{KIND_CUT, WET_CUT_DAYS},
	{KIND_CUT, CUT_SHARE_DAYS},
	{KIND_CUT, HARD_CUT_DAYS},
	{KIND_CUT, FLOWER_CUT_DAYS},
	{KIND_CUT, REST_DAYS - 1},
	{KIND_CUT, FROST_CUT_DAYS},
	{KIND_CUT, BLIGHT_CUT_DAYS},
	{KIND_CUT, PACE_DAYS},
	{KIND_FEED, ACT_DAYS},
	{KIND_FEED, LATE_FEED_DAYS},
	{KIND_FEED, MANURE_DAYS},
	{KIND_FEED, LATE_CUT_DAYS},
	{KIND_CUT, LATE_CUT_DAYS},
	{KIND_MULCH, MANURE_DAYS},
	{KIND_PICK, ACT_DAYS},
	{KIND_PICK, CROP_TOLD_DAYS},
	{KIND_SPRAY, SPRAY_DAYS},
	{KIND_SAW, FROSTED_DAYS},
	{KIND_SAW, BLIGHTED_DAYS},
	{KIND_CUT, BLIGHTED_DAYS},
	{KIND_MEASURE, GROWTH_DAYS},
	{KIND_MEASURE, YOUNG_STALE_DAYS},
	{KIND_MEASURE, STALE_DAYS},
};

static void days_of_entry(const struct entry *entry, struct date today, struct flags *out)
{
	struct date day;

	if (!look_day(entry, &day))
		return;
	flags_change_on(out, today, day);
	for (size_t i = 0; i < sizeof ages / sizeof ages[0]; i++)
		if (ages[i].kind == entry->kind)
			flags_change_on(out, today, date_add_days(day, ages[i].days + 1));
}

static void days_of_birth(struct maybe_date planted, struct date today, struct flags *out)
{
	if (!planted.known)
		return;
	struct date_parts parts = date_parts(planted.value);
	const struct month_day born = {(int8_t)parts.month, (int8_t)parts.day};
	int32_t year = date_parts(today).year;
	for (int32_t on = year; on <= year + 1 && on <= 9999; on++) {
		struct date birthday = date_of_month_day(on, born);

		flags_change_on(out, today, birthday);
		flags_change_on(out, today, date_add_days(birthday, 1)); /* 29 February */
	}
}

/* A season opens, is picked empty, is over three quiet weeks later, turns. */
static void days_of_season(
	const struct dossier *dossier, int32_t year, struct date today, struct flags *out)
{
	enum { QUIET_DAYS = 21 };
	const struct season *season = dossier_season(dossier, year);
	struct window_span span = season_span(&dossier->season_rule, year);
	struct window_span harvest;

	flags_change_on(out, today, span.from);
	flags_change_on(out, today, date_add_days(span.to, 1));
	if (season_harvest(&dossier->season_rule, year, &harvest)) {
		flags_change_on(out, today, harvest.from);
		flags_change_on(out, today, date_add_days(harvest.to, 1));
		flags_change_on(out, today, date_add_days(harvest.to, QUIET_DAYS + 1));
	}
	if (season != NULL && season->last_pick.known) {
		struct date last = season->last_pick.value;

		flags_change_on(out, today, date_add_days(last, 1));
		flags_change_on(out, today, date_add_days(last, QUIET_DAYS + 1));
	}
}

static void days_of_weather(const struct dossier *dossier, struct date today, struct flags *out)
{
	if (look_bad_day(dossier, today) != NULL)
		flags_change_on(out, today, date_add_days(today, 1));
	for (int32_t i = 0; i < dossier->weather_count; i++)
		flags_change_on(out, today, dossier->weather[i].day);
	for (int32_t i = 0; i < dossier->place_entry_count; i++) {
		struct date day;

		if (look_day(dossier->place_entries[i], &day))
			flags_change_on(out, today, day);
	}
}

struct date look_years_after(struct date day, int32_t years)
{
	struct date_parts parts = date_parts(day);
	const struct month_day same = {(int8_t)parts.month, (int8_t)parts.day};

	return date_of_month_day(parts.year + years, same);
}

void look_days(const struct dossier *dossier, struct date today, struct flags *out)
{
	for (int32_t i = 0; i < dossier->entry_count; i++)
		days_of_entry(dossier->entries[i], today, out);
	if (dossier->picks_since.known)
		flags_change_on(out, today, dossier->picks_since.value);
	if (dossier->spot_crops_since.known)
		flags_change_on(out, today, dossier->spot_crops_since.value);
	days_of_birth(dossier->tree.planted.low, today, out);
	days_of_birth(dossier->tree.planted.high, today, out);
	for (int32_t year = dossier->season_year - 1; year <= dossier->season_year + 1; year++)
		days_of_season(dossier, year, today, out);
	days_of_weather(dossier, today, out);
}
