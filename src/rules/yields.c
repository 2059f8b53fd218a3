/* SPDX-License-Identifier: MIT */
/* A crop well under what the tree gave before: said once, with what the log holds, never one
 * cause. */
#include <stdio.h>

#include "fruit.h"

enum { PAST_LEAST = 3 };

/* The newest season that is over, picked or none seen. */
static const struct season *last_over(const struct dossier *dossier)
{
	for (int32_t i = dossier->season_count; i-- > dossier->season_own;) {
		enum season_state state = dossier->seasons[i].state;

		if (state == SEASON_COMPLETE || state == SEASON_NONE_SEEN)
			return &dossier->seasons[i];
	}
	return NULL;
}

/* The day its crop was all in: the last pick, else the end of the harvest. */
static bool in_since(const struct dossier *dossier, const struct season *season, struct date *day)
{
	struct window_span harvest;

	*day = season->last_pick.value;
	if (season->last_pick.known)
		return true;
	if (!season_harvest(&dossier->season_rule, season->year, &harvest))
		return false;
	*day = harvest.to;
	return true;
}

static void flag_low(const struct dossier *dossier, const struct season *season, int64_t total_mg,
	const struct expected_crop *past, struct date since, struct flags *out)
{
	enum unit_system units = dossier->place->units;
	char name[16], mass[32], middle[32], low[32], high[32], candidates[FLAG_SAYS_SIZE];
	struct flag *flag = flags_add(out, "yield-low", dossier, URGENCY_NOTE);

	season_title(season, name, sizeof name);
	mass_format_rough(total_mg, units, mass, sizeof mass);
	look_say(&flag->says,
		"The %s crop, %s, is under half of what it gave before: %s, %s to %s, %d seasons.",
		name, total_mg == 0 ? "none" : mass,
		mass_format_rough(past->mg, units, middle, sizeof middle),
		mass_format_rough(past->low_mg, units, low, sizeof low),
		mass_format_rough(past->high_mg, units, high, sizeof high), past->seasons);
	fruit_candidates(dossier, season->year, out, flag, candidates, sizeof candidates);
	look_say(&flag->action, "%s%s", candidates,
		candidates[0] != '\0' ? "Log what else you know before you change anything."
				      : "The log holds nothing that speaks to it: frost, water, "
					"bees, birds, picks not logged? Note what you know "
					"before you change anything.");
	proof_crops(dossier, season->year, out, flag);
	flag->seasons = past->seasons;
	snprintf(flag->basis, sizeof flag->basis, "your picks, %d seasons%s", past->seasons,
		past->estimate ? ", some by count" : "");
	flag->began = known_date(since);
	flag->window_to = known_date(date_add_days(since, CROP_TOLD_DAYS));
	flag->settles = KIND_NOTE;
	snprintf(flag->fills, sizeof flag->fills, "%s note ", dossier->tree.label);
	flag_key_set(flag, season->year, "low");
}

void rule_yield_low(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct season *season = last_over(dossier);
	struct date since;

	if (dossier->kind.species == NULL || season == NULL || !in_since(dossier, season, &since))
		return;
	flags_change_on(out, today, date_add_days(since, CROP_TOLD_DAYS + 1));
	if (date_days_between(since, today) > CROP_TOLD_DAYS)
		return;
	struct maybe_i64 total = causes_total_mg(dossier, season->year);
	struct expected_crop past = causes_past(dossier, season->year);
	struct fact_span share = fruit_fact(dossier->kind.species, "yield-low-share");
	if (!total.known || past.seasons < PAST_LEAST || share.row == NULL ||
		(double)total.value * 1000.0 >= (double)past.mg * (double)share.high)
		return;
	struct swing swing = causes_swing(dossier);
	if (swing.known && swing.heavy && swing.year == season->year + 1)
		return; /* alternate-on speaks of it */
	flag_low(dossier, season, total.value, &past, since, out);
}
