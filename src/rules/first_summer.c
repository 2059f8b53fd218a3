/* SPDX-License-Identifier: MIT */
/* water-first-summer: a tree set in leaf, until its first autumn. */
#include <stdio.h>
#include <string.h>

#include "look.h"

/* A watering logged is taken to hold so long (common practice). */
enum { WATERED_DAYS = 7 };

/* Set while it was in leaf: after the bloom of its kind began and before the weeks that harden its
 * wood. Evergreens are set in spring as a rule. The end is where those weeks begin. */
static bool set_in_leaf(const struct dossier *dossier, struct date set, struct date *end)
{
	struct window bloom = dossier_window(dossier, WINDOW_BLOOM, set);
	struct window late = dossier_window(dossier, WINDOW_REGROWTH, set);

	if (dossier->kind.species->evergreen || !bloom.known || !late.known ||
		!window_place_has_dates(dossier->place))
		return false;
	int32_t leaf = circle_of(bloom.to), autumn = circle_of(late.from);
	int32_t day = circle_of_date(set);
	if (!circle_within(day, leaf, autumn) || day == autumn)
		return false;
	*end = window_span_at(&late, set).from;
	return true;
}

/* Does another rule about water speak of this tree already? */
static bool is_told(const struct flags *out, const struct dossier *dossier)
{
	for (int32_t i = 0; i < out->count; i++)
		if (strcmp(out->items[i].tree_id, dossier->tree.id) == 0 &&
			strcmp(out->items[i].rule, "water-short") == 0)
			return true;
	return false;
}

static void flag_summer(
	const struct dossier *dossier, struct date set, struct date end, struct flags *out)
{
	struct flag *flag = flags_add(out, "water-first-summer", dossier, URGENCY_NOTE);
	char when[24], cause[DATE_SIZE], span[64];

	snprintf(flag->fact, sizeof flag->fact, "first-summer");
	look_say(&flag->says,
		"Set on %s, in leaf: it goes through its first summer on the roots it came with.",
		date_format_plain(set, when, sizeof when));
	look_say(&flag->action,
		"Feel the soil over its roots every few days, and water them where it is dry a "
		"finger deep. A watering logged keeps this quiet for a week. Local water rules "
		"come first.");
	flag->source = "common practice";
	snprintf(flag->basis, sizeof flag->basis, "your day of planting, and the almanac");
	flag->began = known_date(set);
	flag->window_from = known_date(set);
	flag->window_to = known_date(date_add_days(end, -1));
	flag->settles = KIND_WATER;
	snprintf(flag->fills, sizeof flag->fills, "%s watered ", dossier->tree.label);
	flag_evidence(out, flag, "told until the weeks when growth hardens, by the almanac: %s",
		look_span(set, flag->window_to.value, span, sizeof span));
	flag_key_set(flag, 0, date_format(set, cause));
}

void rule_water_first_summer(const struct dossier *dossier, struct date today, struct flags *out)
{
	struct date end, on, set;

	if (dossier->kind.species == NULL || dossier->host != NULL ||
		!date_span_is_exact(&dossier->tree.planted) ||
		(dossier->spot != NULL && dossier->spot->kind != SPOT_HOLE))
		return;
	set = dossier->tree.planted.low.value;
	if (!set_in_leaf(dossier, set, &end))
		return;
	flags_change_on(out, today, set);
	flags_change_on(out, today, end);
	if (date_compare(today, set) < 0 || date_compare(today, end) >= 0)
		return;
	const struct entry *water = dossier_last(dossier, KIND_WATER, today);
	if (water != NULL && look_day(water, &on) && date_days_between(on, today) < WATERED_DAYS) {
		flags_change_on(out, today, date_add_days(on, WATERED_DAYS));
		return;
	}
	if (!is_told(out, dossier))
		flag_summer(dossier, set, end, out);
}
