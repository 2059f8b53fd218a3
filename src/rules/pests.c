/* SPDX-License-Identifier: MIT */
/* scout-due: when to look for what was seen here before. */
#include "pests.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "reckon/sky.h"

enum {
	SCOUT_DAYS = 1100, /* what was seen so long ago is still looked for: common practice */
	BEFORE_DAYS = 14,  /* a look so long before its season counts */
	HABIT_SEASONS = 2, /* who looks a tree over in so many earlier seasons is told what shows */
	OPENED_DAYS = 21,  /* what began to show so lately is worth a look */
	NAMED_MAX = 3,
	KNOWN_MAX = 32,
};

static bool is_alive(const struct pest_row *pest)
{
	return pest->group != PEST_DISORDER && pest->group != PEST_ANIMAL;
}

/* The last entry, before its season, that names only this pest. */
static const struct entry *seen_before(
	const struct dossier *dossier, const struct pest_row *pest, struct date season_from)
{
	const struct entry *last = NULL;
	struct date day, end = date_add_days(season_from, -BEFORE_DAYS);

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];

		if (look_day(entry, &day) && date_compare(day, end) < 0 &&
			date_days_between(day, season_from) <= SCOUT_DAYS &&
			seen_pest(dossier, entry) == pest)
			last = entry;
	}
	return last;
}

/* Has it been looked for since shortly before its season? */
static bool is_looked_for(const struct dossier *dossier, const struct pest_row *pest,
	struct date season_from, struct date today)
{
	struct date day, from = date_add_days(season_from, -BEFORE_DAYS);

	for (int32_t i = 0; i < dossier->entry_count; i++)
		if (look_day(dossier->entries[i], &day) && date_compare(day, from) >= 0 &&
			date_compare(day, today) <= 0 && seen_looked_for(dossier->entries[i], pest))
			return true;
	return false;
}

static void say_why_now(const struct dossier *dossier, const struct pest_season *season,
	struct flags *out, struct flag *flag)
{
	char text[64], day[24], offset[SKY_OFFSET_SIZE];

	flag_evidence(out, flag, "its months here, by the almanac: %s",
		look_span(season->span.from, season->span.to, text, sizeof text));
	if (season->stage != NULL)
		proof_entry(out, flag, "the stage", season->stage);
	if (season->heat != NULL) {
		const struct degree_row *row = season->heat;

		flag_evidence(out, flag,
			"%.0f %s degree-days since %s%s; %s at %g (%s; a total holds for where it "
			"was made) [%s]",
			season->degree_days, row->fahrenheit ? "F" : "C",
			date_format_plain(season->heat_from, day, sizeof day),
			sky_offset_words(dossier, offset), row->event, row->low.value / 10.0,
			row->place, row->sources[0]);
	}
}

static void flag_scout(const struct dossier *dossier, const struct pest_row *pest,
	const struct entry *seen, const struct pest_season *season, struct flags *out)
{
	char when[80], first[FLAG_SAYS_SIZE];
	struct flag *flag = flags_add(out, "scout-due", dossier, URGENCY_NOTE);

	look_say(&flag->says,
		"Look for %s: it shows about now, and you may have seen it here on %s.", pest->name,
		date_span_format_plain(&seen->day, when, sizeof when));
	look_say(&flag->action, "Look for this: %s. If it is there, first: %s", pest->signs,
		look_ended(pest->first, first, sizeof first));
	flag->source = pest_first_source(pest);
	flag->began = known_date(season->span.from);
	flag->window_from = known_date(season->span.from);
	flag->window_to = known_date(season->span.to);
	snprintf(flag->basis, sizeof flag->basis, "%s",
		season->stage != NULL  ? "the stage you logged"
		: season->heat != NULL ? "almanac and stored weather"
				       : "almanac");
	flag->settles = KIND_SAW;
	snprintf(flag->fills, sizeof flag->fills, "%s saw ", dossier->tree.label);
	proof_entry(out, flag, "", seen);
	say_why_now(dossier, season, out, flag);
	if (pest->alike[0] != '\0')
		flag_evidence(out, flag, "it may be something else: %s", pest->alike);
	evidence_first(out, flag, pest);
	flag_key_set(flag, season_year_of(&dossier->season_rule, season->span.from), pest->key);
}

/* --- a grower who looks trees over --- */

struct opened {
	const struct pest_row *pests[NAMED_MAX];
	int32_t count;
	struct window_span span; /* of the first */
};

/* Pests of this kind alone whose season began lately, from sources that were read. */
static void find_opened(
	const struct dossier *dossier, struct date today, struct opened *opened, struct flags *out)
{
	const struct species *species = dossier->kind.species;

	for (int32_t i = 0; i < species->pest_count && opened->count < NAMED_MAX; i++) {
		const struct pest_row *pest = species->pests[i];

		if (!is_alive(pest) || strcmp(pest->hosts, "all") == 0 ||
			pest->report == REPORT_YES || pest->sure != KNOWN_READ ||
			(pest->read & (CELL_SIGNS | CELL_SEASON)) == 0)
			continue;
		struct pest_season season = pest_season_on(dossier, pest, today, out);
		flags_change_on(out, today, date_add_days(season.span.from, OPENED_DAYS + 1));
		if (!season.open || date_compare(season.span.from, today) > 0 ||
			date_days_between(season.span.from, today) > OPENED_DAYS ||
			seen_before(dossier, pest, season.span.from) != NULL)
			continue;
		if (opened->count == 0)
			opened->span = season.span;
		opened->pests[opened->count++] = pest;
	}
}

static bool has_looked_since(const struct dossier *dossier, struct date from, struct date today)
{
	return dossier_between(dossier, KIND_SAW, from, today, NULL, 0) > 0;
}

static void look_over(const struct dossier *dossier, struct date today, struct flags *out)
{
	struct opened opened = {0};
	char names[240], span[64];
	struct text_builder text = text_builder_fixed(names, sizeof names);

	find_opened(dossier, today, &opened, out);
	if (opened.count == 0 || has_looked_since(dossier, opened.span.from, today))
		return;
	text_add(&text, "");
	for (int32_t i = 0; i < opened.count; i++)
		text_add_format(&text, "%s%s",
			i == 0                  ? ""
			: i == opened.count - 1 ? " and "
						: ", ",
			opened.pests[i]->name);
	struct flag *flag = flags_add(out, "scout-due", dossier, URGENCY_NOTE);
	look_say(&flag->says, "You look this tree over each season: %s may begin to show now.",
		names);
	look_say(&flag->action, "Look at leaves, shoots, bark and fruit, and log what you saw.");
	flag->source = opened.pests[0]->sources[0];
	flag->began = known_date(opened.span.from);
	flag->window_from = known_date(opened.span.from);
	flag->window_to = known_date(date_add_days(opened.span.from, OPENED_DAYS));
	snprintf(flag->basis, sizeof flag->basis, "almanac");
	flag->settles = KIND_SAW;
	snprintf(flag->fills, sizeof flag->fills, "%s saw ", dossier->tree.label);
	flag_evidence(out, flag, "begins by the almanac, told for %d days: %s", OPENED_DAYS + 1,
		look_span(flag->window_from.value, flag->window_to.value, span, sizeof span));
	for (int32_t i = 0; i < opened.count; i++)
		flag_evidence(out, flag, "%s: %s [%s]", opened.pests[i]->name,
			opened.pests[i]->signs, opened.pests[i]->sources[0]);
	flag_key_set(flag, season_year_of(&dossier->season_rule, opened.span.from),
		opened.pests[0]->key);
}

/* What was ever seen here, each once, in the order in which it was seen first. */
static int32_t known_here(const struct dossier *dossier, const struct pest_row *known[KNOWN_MAX])
{
	int32_t count = 0;

	for (int32_t i = 0; i < dossier->entry_count && count < KNOWN_MAX; i++) {
		const struct pest_row *pest = seen_pest(dossier, dossier->entries[i]);
		bool is_new = pest != NULL && is_alive(pest);

		for (int32_t k = 0; k < count; k++)
			is_new = is_new && known[k] != pest;
		if (is_new)
			known[count++] = pest;
	}
	return count;
}

void rule_scout_due(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct pest_row *known[KNOWN_MAX];
	int32_t named = 0;

	if (dossier->kind.species == NULL || !window_place_has_dates(dossier->place))
		return;
	int32_t count = known_here(dossier, known);
	for (int32_t i = 0; i < count; i++) {
		struct pest_season season = pest_season_on(dossier, known[i], today, out);
		if (!season.open)
			continue;
		const struct entry *seen = seen_before(dossier, known[i], season.span.from);
		if (seen == NULL || is_looked_for(dossier, known[i], season.span.from, today))
			continue;
		flag_scout(dossier, known[i], seen, &season, out);
		named++;
	}
	if (named == 0 && look_seasons_with(dossier, KIND_SAW, look_work_year(dossier, today)) >=
				  HABIT_SEASONS)
		look_over(dossier, today, out);
}
