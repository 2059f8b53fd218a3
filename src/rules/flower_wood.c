/* SPDX-License-Identifier: MIT */
/* The rule that matters most: a cut that takes the wood carrying the coming flowers, or the fruit
 * that hangs. Which cuts do, and when, is a row of the almanac, never a formula for all. */
#include <string.h>

#include "flower.h"

enum { SPAN_DAYS_MAX = 366 };

/* Of the crop that the row speaks of: all of it, or a fig's breba or main alone. */
static struct expected_crop expected(const struct dossier *dossier, const struct species *species,
	const struct cut_row *crop_row)
{
	if (crop_row != NULL && crop_row->crop != CROP_ALL)
		return dossier->parts[crop_row->crop].expected;
	return crop_expected(dossier->seasons, dossier->season_count, crop_fruit_mg(species));
}

/* The verdict on every day that the cut may have been made on: avoid only where all say so. */
static struct verdict_here verdict_on_days(const struct dossier *dossier,
	const struct species *species, const struct entry *entry, struct date *last, bool *in_doubt)
{
	enum cut_kind kind = look_cut_kind(entry);
	struct verdict_here found = {0};
	struct date day;
	int32_t avoiding = 0;
	int32_t days = 1;

	*in_doubt = false;
	if (!look_day(entry, &day))
		return found;
	if (entry->day.low.known && entry->day.high.known)
		days += date_days_between(entry->day.low.value, entry->day.high.value);
	if (days > SPAN_DAYS_MAX)
		return found;
	for (int32_t on = 0; on < days; on++) {
		struct date at = date_add_days(day, on);
		struct verdict_here here = look_verdict(dossier, species, kind, at, FLOWER_REASONS);

		if (!here.known || here.verdict != VERDICT_AVOID)
			continue;
		avoiding++;
		found = here;
		*last = at;
	}
	*in_doubt = avoiding > 0 && avoiding < days;
	return found;
}

static enum known_by sure_of(const struct verdict_here *verdict)
{
	return verdict->row != NULL ? verdict->row->sure : KNOWN_READ;
}

/* Candidates: all must agree. */
static void judge_kind(
	const struct dossier *dossier, const struct entry *entry, struct judged *judged)
{
	const struct tree_kind *kind = &dossier->kind;
	bool candidates = kind->species == NULL && kind->candidate_count > 0;
	int32_t count = candidates ? kind->candidate_count : 1;
	int32_t avoiding = 0;
	bool day_in_doubt = false;

	for (int32_t i = 0; i < count; i++) {
		const struct species *species = candidates ? kind->candidates[i] : kind->species;
		struct date last = {0};
		bool doubt;
		struct verdict_here here = verdict_on_days(dossier, species, entry, &last, &doubt);

		day_in_doubt = day_in_doubt || doubt;
		if (!here.known || here.verdict != VERDICT_AVOID)
			continue;
		/* the row that is known least surely speaks for all */
		if (avoiding++ == 0 || sure_of(&here) > sure_of(&judged->verdict)) {
			judged->verdict = here;
			judged->species = species;
			judged->day = last;
		}
	}
	judged->fires = avoiding > 0 && avoiding == count && !day_in_doubt;
	judged->in_doubt = avoiding > 0 && !judged->fires;
}

static int32_t crop_year_of(const struct dossier *dossier, const struct judged *judged)
{
	return look_crop_year(dossier, judged->species, judged->day, judged->verdict.row);
}

/* Cuts of the same coming crop that fired up to this one, this one included, joined. */
static void join_shares(
	const struct dossier *dossier, const struct entry *entry, struct judged *joined)
{
	joined->share = look_crown_share(dossier, entry);
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *other = dossier->entries[i];
		struct judged judged = {0};
		struct date day;

		if (other == entry)
			break;
		if (!look_is_shaping(other) || !look_day(other, &day))
			continue;
		judge_kind(dossier, other, &judged);
		if (!judged.fires || crop_year_of(dossier, &judged) != joined->crop_year)
			continue;
		joined->share = share_join(joined->share, look_crown_share(dossier, other));
		if (joined->joined_count < JOINED_MAX)
			joined->joined[joined->joined_count++] = other;
	}
}

/* Once the crop is in, the cut is history. */
static bool is_over(const struct dossier *dossier, const struct season *season, int32_t crop_year)
{
	if (season == NULL)
		return crop_year < dossier->season_year;
	return season->state == SEASON_COMPLETE || season->state == SEASON_NONE_SEEN ||
	       season->state == SEASON_NOT_RECORDED;
}

static const struct season *part_season(
	const struct dossier *dossier, enum crop_part part, int32_t year)
{
	const struct part_crop *crop = &dossier->parts[part];

	for (int32_t i = 0; i < crop->season_count; i++)
		if (crop->seasons[i].year == year)
			return &crop->seasons[i];
	return NULL;
}

static struct judged judge(const struct dossier *dossier, const struct entry *entry)
{
	static const struct cut_row own_row = {.verdict = VERDICT_AVOID, .reason = REASON_FLOWERS};
	struct judged judged = {0};

	if (!window_place_has_dates(dossier->place) && dossier->own_window_count == 0)
		return judged;
	judge_kind(dossier, entry, &judged);
	if (!judged.fires && !judged.in_doubt)
		return judged;
	const struct cut_row *row = judged.verdict.row;
	judged.crop_year = crop_year_of(dossier, &judged);
	const struct season *season = dossier_season(dossier, judged.crop_year);
	if (is_over(dossier, season, judged.crop_year))
		return (struct judged){0};
	join_shares(dossier, entry, &judged);
	judged.crop = expected(dossier, judged.species, row);
	struct maybe_i64 picked = {0};
	const struct season *hanging = row != NULL && row->crop != CROP_ALL
					       ? part_season(dossier, row->crop, judged.crop_year)
					       : season;
	if (row != NULL && row->reason == REASON_FRUIT && hanging != NULL)
		picked = amount_sum_point(&hanging->picked);
	judged.risk = crop_at_risk(&judged.crop, judged.share, row != NULL ? row : &own_row,
		picked.known ? picked.value : 0);
	judged.picked_mg = picked.known ? picked.value : 0;
	return judged;
}

static void add_risk(struct flag *flag, const struct crop_risk *risk)
{
	if (!risk->known)
		return;
	flag->crop_at_risk_mg = known_i64(flag->crop_at_risk_mg.value + risk->mg);
	flag->crop_at_risk_low_mg = known_i64(flag->crop_at_risk_low_mg.value + risk->low_mg);
	flag->crop_at_risk_high_mg = known_i64(flag->crop_at_risk_high_mg.value + risk->high_mg);
	if (risk->seasons > flag->seasons)
		flag->seasons = risk->seasons;
}

static void raise(const struct dossier *dossier, const struct judged *judged,
	const struct entry *entry, struct date today, struct flags *out)
{
	struct date day = {0};

	(void)look_day(entry, &day);
	struct flag *flag = flags_add(out, "flower-wood", dossier,
		look_harm_urgency(day, today, sure_of(&judged->verdict)));
	flag->began = known_date(day);
	add_risk(flag, &judged->risk);
	for (int32_t i = 0; i < dossier->graft_count; i++) {
		struct judged graft = judge(dossier->grafts[i], entry);

		if (graft.fires)
			add_risk(flag, &graft.risk);
	}
	flower_tell(dossier, judged, entry, today, out, flag);
	flag_key_set(flag, judged->crop_year, entry->id);
}

/* A cut on a host is judged there, once, for the host and its grafts; where the host is not hurt
 * the flag stands at the graft that is. */
static bool told_at_host(const struct dossier *dossier, const struct entry *entry)
{
	return dossier->host != NULL && strcmp(entry->subject.id, dossier->tree.id) != 0 &&
	       judge(dossier->host, entry).fires;
}

/* Spans set by hand judge a cut where the almanac cannot. */
static bool has_own_cut_windows(const struct dossier *dossier, struct date day)
{
	struct window avoid = dossier_window(dossier, WINDOW_CUT_AVOID, day);
	struct window clear = dossier_window(dossier, WINDOW_CUT_CLEAR, day);

	return (avoid.known && avoid.basis == BASIS_OWN) ||
	       (clear.known && clear.basis == BASIS_OWN);
}

void rule_flower_wood(const struct dossier *dossier, struct date today, struct flags *out)
{
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		struct date day;

		if (!look_is_shaping(entry) || !look_day(entry, &day) ||
			date_days_between(day, today) > FLOWER_CUT_DAYS)
			continue;
		struct judged judged = judge(dossier, entry);
		if (judged.fires && !told_at_host(dossier, entry))
			raise(dossier, &judged, entry, today, out);
		else if (judged.in_doubt)
			flower_ask(dossier, &judged, entry, out);
		else if (!has_own_cut_windows(dossier, day) &&
			 date_days_between(day, today) <= ACT_DAYS && dossier->host == NULL) {
			flower_ask_fact(dossier, entry, out);
			flags_change_on(out, today, date_add_days(day, ACT_DAYS + 1));
		}
	}
}

bool rule_cut_cost_crop(
	const struct dossier *dossier, const struct entry *entry, const struct cut_row **row)
{
	struct judged judged = {0};

	if (!look_is_shaping(entry) || !window_place_has_dates(dossier->place))
		return false;
	judge_kind(dossier, entry, &judged);
	if (row != NULL)
		*row = judged.verdict.row;
	return judged.fires;
}

int32_t rule_cut_crop_year(const struct dossier *dossier, const struct entry *entry)
{
	struct judged judged = {0};

	(void)look_day(entry, &judged.day);
	judge_kind(dossier, entry, &judged);
	return crop_year_of(dossier, &judged);
}
