/* SPDX-License-Identifier: MIT */
/* name-by-harvest: picked far from when a cultivar of that name ripens. */
#include <string.h>

#include "almanac/cultivar.h"
#include "core/text.h"
#include "look.h"

/* One cultivar shifts a month between years and its days are good to a week or two; places differ
 * as much again: two months either way are ours. */
enum { OFF_DAYS = 60, PICK_TOLD_DAYS = 400 };

/* The last of its kind to ripen, of those told by the same reference. */
static const struct cultivar *last_to_ripen(
	const struct species *species, const struct cultivar *named)
{
	const struct cultivar *last = named;

	for (int32_t i = 0; i < species->cultivar_count; i++) {
		const struct cultivar *other = &species->cultivars[i];

		if (other->days.known && other->days.value > last->days.value &&
			strcmp(other->against, named->against) == 0)
			last = other;
	}
	return last;
}

/* Fruit taken ripe off this tree on a day that is known: no windfalls, none seen, no share of a
 * host. */
static bool is_ripe_pick(const struct dossier *dossier, const struct entry *entry, struct date *day)
{
	return entry->kind == KIND_PICK && look_day(entry, day) &&
	       date_span_is_exact(&entry->day) &&
	       strcmp(entry->subject.id, dossier->tree.id) == 0 &&
	       !look_tells(entry, "windfall|windfalls|drops|off the ground|unripe|green|none") &&
	       (entry->amount_count == 0 || !entry->amounts[0].none);
}

/* The first pick of the newest season that has one, of what the tree is now. */
static const struct entry *first_pick(const struct dossier *dossier, int32_t *year)
{
	const struct entry *first = NULL;
	struct date day;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];

		if (!is_ripe_pick(dossier, entry, &day))
			continue;
		int32_t of = season_year_of(&dossier->season_rule, day);
		bool own = dossier->season_own < dossier->season_count &&
			   of >= dossier->seasons[dossier->season_own].year;
		if (own && (first == NULL || of > *year)) {
			first = entry;
			*year = of;
		}
	}
	return first;
}

static void flag_name(const struct dossier *dossier, const struct cultivar *named,
	const struct cultivar *last, const struct entry *pick, struct date expected,
	struct flags *out)
{
	struct flag *flag = flags_add(out, "name-by-harvest", dossier, URGENCY_NOTE);
	char when[24], about[24], cause[DATE_SIZE];
	struct date day = {0};
	enum known_by sure;

	(void)look_day(pick, &day);
	look_say(&flag->says,
		"Its fruit was picked from %s; %s ripens about %s here, as far as the almanac "
		"tells: scion or label may have been another's.",
		date_format_plain(day, when, sizeof when), named->name,
		date_format_plain(expected, about, sizeof about));
	look_say(&flag->action,
		"Set it beside a tree of a known name that ripens with it. If the name is wrong: "
		"tree identify \"%.80s\" --cultivar \"unknown\" --sure unknown --reason WHY. The "
		"old "
		"name is kept with its day.",
		dossier->tree.label);
	flag->source = cultivar_source(named, "days", &sure);
	text_copy(flag->basis, sizeof flag->basis, "your picks, against the almanac's cultivars");
	flag->began = known_date(day);
	proof_entry(out, flag, "", pick);
	flag_evidence(out, flag, "%s: %d days from %s; the last of the kind, %s: %d", named->name,
		named->days.value, named->against, last->name, last->days.value);
	flag_evidence(out, flag,
		"counted back from the end of the kind's harvest; %d days either "
		"way are let pass (both ours)",
		OFF_DAYS);
	flag_key_set(flag, season_year_of(&dossier->season_rule, day), date_format(day, cause));
}

void rule_name_by_harvest(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct species *species = dossier->kind.species;
	struct window_span harvest;
	struct date day;
	int32_t year = 0;

	if (species == NULL || dossier->kind.cultivar[0] == '\0' ||
		!window_place_has_dates(dossier->place))
		return;
	const struct cultivar *named = cultivar_find(species, dossier->kind.cultivar);
	const struct entry *pick = first_pick(dossier, &year);
	if (named == NULL || !named->days.known || pick == NULL || !look_day(pick, &day) ||
		date_days_between(day, today) > PICK_TOLD_DAYS ||
		dossier_window(dossier, WINDOW_HARVEST, day).basis == BASIS_OWN ||
		!season_harvest(&dossier->season_rule, year, &harvest))
		return;
	flags_change_on(out, today, date_add_days(day, PICK_TOLD_DAYS + 1));
	const struct cultivar *last = last_to_ripen(species, named);
	struct date expected = date_add_days(harvest.to, named->days.value - last->days.value);
	int32_t off = date_days_between(expected, day);
	if (off > OFF_DAYS || off < -OFF_DAYS)
		flag_name(dossier, named, last, pick, expected, out);
}
