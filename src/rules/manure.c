/* SPDX-License-Identifier: MIT */
/* Raw manure and fruit that is eaten: the days between them. */
#include "core/manure.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "fruit.h"

/* The published days for this kind, and whether its crop is gathered from the ground. */
struct rest_days {
	struct fact_span tree;
	struct fact_span ground;
	bool off_ground;
};

static const struct species *kind_of(const struct dossier *dossier)
{
	if (dossier->kind.species != NULL)
		return dossier->kind.species;
	return dossier->kind.candidate_count > 0 ? dossier->kind.candidates[0] : NULL;
}

static bool days_of(const struct dossier *dossier, struct rest_days *days)
{
	const struct species *species = kind_of(dossier);

	days->tree = fruit_fact(species, "manure-days-tree");
	days->ground = fruit_fact(species, "manure-days-ground");
	days->off_ground = dossier->kind.species != NULL &&
			   species_fact(species, "gathered-off-ground") != NULL;
	return days->tree.row != NULL && days->ground.row != NULL;
}

static bool took_none(const struct entry *pick)
{
	for (int32_t i = 0; i < pick->amount_count; i++)
		if (pick->amounts[i].none)
			return true;
	return false;
}

/* Fruit that lay on the soil counts by the longer span. */
static bool is_off_ground(const struct entry *pick, const struct rest_days *days)
{
	char folded[TEXT_SIZE];

	text_fold(entry_detail(pick, FIELD_GRADE), folded, sizeof folded);
	return days->off_ground || strstr(folded, "windfall") != NULL ||
	       strstr(folded, "drop") != NULL || strstr(folded, "ground") != NULL;
}

/* First and last day the manure may have been spread on. */
static bool spread_on(const struct entry *manure, struct date *first, struct date *last)
{
	if (!look_day(manure, first))
		return false;
	*last = manure->day.high.known ? manure->day.high.value : *first;
	return true;
}

struct inside {
	const struct entry *picks[FLAG_ENTRIES_MAX - 1];
	int32_t count;
	struct date newest;
	bool ground;
};

static struct inside picks_inside(
	const struct dossier *dossier, const struct entry *manure, const struct rest_days *days)
{
	struct inside inside = {.count = 0};
	struct date first, last, day;

	if (!spread_on(manure, &first, &last))
		return inside;
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *pick = dossier->entries[i];

		if (pick->kind != KIND_PICK || took_none(pick) || !look_day(pick, &day) ||
			date_compare(day, first) < 0)
			continue;
		bool ground = is_off_ground(pick, days);
		int64_t most = ground ? days->ground.high : days->tree.high;
		if (date_days_between(last, day) >= most || inside.count == FLAG_ENTRIES_MAX - 1)
			continue;
		inside.picks[inside.count++] = pick;
		inside.newest = day;
		inside.ground = inside.ground || ground;
	}
	return inside;
}

static void name_source(struct flags *out, struct flag *flag, const struct rest_days *days)
{
	flag->source = days->tree.row->source;
	flag_evidence(out, flag, "the standard: %s", days->tree.row->text);
	flag_evidence(out, flag, "fruit off the ground: %s", days->ground.row->text);
}

/* "10 June 2026 + 90 days = 8 September 2026" */
static void tell_wait(struct date last, int64_t days, struct flags *out, struct flag *flag)
{
	char from[24], until[24];

	flag_evidence(out, flag, "the wait: %s + %lld days = %s",
		date_format_plain(last, from, sizeof from), (long long)days,
		date_format_plain(date_add_days(last, (int32_t)days), until, sizeof until));
}

static void flag_inside(const struct dossier *dossier, const struct entry *manure,
	const struct inside *inside, const struct rest_days *days, struct date today,
	struct flags *out)
{
	char spread[80], picked[24], until[24];
	struct date first = {0}, last = {0};

	(void)spread_on(manure, &first, &last);
	int64_t most = inside->ground ? days->ground.high : days->tree.high;
	struct flag *flag = flags_add(out, "manure-interval", dossier,
		look_harm_urgency(inside->newest, today, days->tree.row->sure));
	look_say(&flag->says,
		"Picked on %s, %d days after raw manure (%s): the published wait is %lld days%s.",
		date_format_plain(inside->newest, picked, sizeof picked),
		date_days_between(first, inside->newest),
		date_span_format_plain(&manure->day, spread, sizeof spread), (long long)most,
		inside->ground ? " for fruit that touched the ground" : "");
	look_say(&flag->action,
		"Eat none of it raw: cook it, or leave it. Nothing off the ground for juice. "
		"Pick no more before %s, and ask your food-safety authority where you sell or "
		"give away.",
		date_format_plain(date_add_days(last, (int32_t)most), until, sizeof until));
	flag->began = known_date(inside->newest);
	name_source(out, flag, days);
	proof_entry(out, flag, "", manure);
	for (int32_t i = 0; i < inside->count; i++)
		proof_entry(out, flag, "the pick", inside->picks[i]);
	tell_wait(last, most, out, flag);
	flag_key_set(flag, season_year_of(&dossier->season_rule, first), manure->id);
}

/* --- before the pick --- */

static bool bears(const struct dossier *dossier)
{
	for (int32_t i = 0; i < dossier->season_count; i++)
		if (dossier->seasons[i].picks > 0)
			return true;
	for (int32_t i = 0; i < dossier->graft_count; i++)
		if (bears(dossier->grafts[i]))
			return true;
	return fruit_is_of_age(dossier);
}

static void flag_ahead(const struct dossier *dossier, const struct entry *manure,
	struct window_span harvest, const struct window *window, const struct rest_days *days,
	struct date today, struct flags *out)
{
	char spread[80], tree[24], ground[24], span[80], by[64];
	struct date first = {0}, last = {0};

	(void)spread_on(manure, &first, &last);
	struct date tree_from = date_add_days(last, (int32_t)days->tree.high);
	struct date ground_from = date_add_days(last, (int32_t)days->ground.high);
	bool near = date_days_between(today, harvest.from) <= SOON_DAYS &&
		    look_may_alarm(days->tree.row->sure);
	struct flag *flag =
		flags_add(out, "manure-interval", dossier, near ? URGENCY_SOON : URGENCY_NOTE);
	date_span_format_plain(&manure->day, spread, sizeof spread);
	if (window->all_year)
		look_say(&flag->says,
			"Raw manure (%s) under a tree that is picked all year: too near for "
			"fruit eaten raw.",
			spread);
	else
		look_say(&flag->says,
			"Raw manure (%s), and the harvest is %s, %s: too near for fruit eaten raw.",
			spread, look_span(harvest.from, harvest.to, span, sizeof span),
			look_by(window, by, sizeof by));
	date_format_plain(ground_from, ground, sizeof ground);
	if (days->off_ground)
		look_say(&flag->action,
			"Gather none before %s: it lies on the soil. Use manure in autumn, or "
			"compost it first.",
			ground);
	else
		look_say(&flag->action,
			"Pick none before %s, take none off the ground before %s. Rake the "
			"manure away from under the tree; next time compost it first.",
			date_format_plain(tree_from, tree, sizeof tree), ground);
	flag->began = known_date(first);
	flag->window_from = known_date(first);
	flag->window_to = known_date(days->off_ground ? ground_from : tree_from);
	name_source(out, flag, days);
	proof_entry(out, flag, "", manure);
	tell_wait(last, days->off_ground ? days->ground.high : days->tree.high, out, flag);
	text_copy(flag->basis, sizeof flag->basis, "almanac, from the day you logged");
	flag_key_set(flag, season_year_of(&dossier->season_rule, first), manure->id);
}

/* Does a harvest open, or run, before the days are over? */
static void look_ahead(const struct dossier *dossier, const struct entry *manure,
	const struct rest_days *days, struct date today, struct flags *out)
{
	struct date first = {0}, last = {0};

	(void)spread_on(manure, &first, &last);
	int64_t most = days->off_ground ? days->ground.high : days->tree.high;
	struct date over = date_add_days(last, (int32_t)most);
	flags_change_on(out, today, over);
	struct window harvest = dossier_window(dossier, WINDOW_HARVEST, today);
	if (date_compare(today, over) >= 0 || !harvest.known || !bears(dossier))
		return;
	struct window_span span = window_span_at(&harvest, today);
	flags_change_on(out, today, date_add_days(span.from, -SOON_DAYS));
	flags_change_on(out, today, date_add_days(span.to, 1));
	const struct season *season =
		dossier_season(dossier, season_year_of(&dossier->season_rule, span.from));
	bool off = season != NULL &&
		   (season->said_last || season->none_said || season->state == SEASON_COMPLETE);
	if (!off && date_compare(span.from, over) < 0)
		flag_ahead(dossier, manure, span, &harvest, days, today, out);
}

static void look_at_manure(const struct dossier *dossier, const struct entry *manure,
	const struct rest_days *days, bool of_host, struct date today, struct flags *out)
{
	struct date first, last;

	if (manure_of_entry(manure) != MANURE_RAW || !spread_on(manure, &first, &last) ||
		date_days_between(first, today) > MANURE_DAYS)
		return;
	struct inside inside = picks_inside(dossier, manure, days);
	if (inside.count > 0)
		flag_inside(dossier, manure, &inside, days, today, out);
	else if (!of_host) /* the harvest ahead is told at the host */
		look_ahead(dossier, manure, days, today, out);
}

void rule_manure_interval(const struct dossier *dossier, struct date today, struct flags *out)
{
	struct rest_days days;

	if (!days_of(dossier, &days))
		return;
	for (int32_t i = 0; i < dossier->entry_count; i++)
		look_at_manure(dossier, dossier->entries[i], &days, false, today, out);
	/* what lies under the host lies under its grafts */
	for (int32_t i = 0; dossier->host != NULL && i < dossier->host->entry_count; i++)
		look_at_manure(dossier, dossier->host->entries[i], &days, true, today, out);
}
