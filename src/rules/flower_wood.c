/* SPDX-License-Identifier: MIT */
/* The rule that matters most: a cut that takes the wood carrying the coming flowers, or the fruit
 * that hangs. Which cuts do, and when, is a row of the almanac, never a formula for all. */
#include <assert.h>
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "look.h"

enum { CROP_REASONS = (1U << REASON_FLOWERS) | (1U << REASON_FRUIT) };

/* One cut judged for one tree (the host, or a graft on it). */
struct judged {
	bool fires;
	bool in_doubt; /* the candidates, or the ends of an uncertain day, do not agree */
	const struct species *species;
	struct verdict_here verdict;
	int32_t crop_year;
	struct share share;
	struct crop_risk risk;
};

static const struct fact_row *fruit_weight(const struct species *species)
{
	return species_fact(species, "fruit-weight");
}

static struct expected_crop expected(const struct dossier *dossier, const struct species *species)
{
	const struct fact_row *row = fruit_weight(species);
	struct maybe_i64 fruit_mg = {0};

	if (row != NULL && row->low.known && row->high.known)
		fruit_mg = known_i64((row->low.value + row->high.value) / 2);
	return crop_expected(dossier->seasons, dossier->season_count, fruit_mg);
}

/* Fires on both ends of the day the cut was made on. */
static struct verdict_here verdict_on_days(const struct dossier *dossier,
	const struct species *species, const struct entry *entry, bool *in_doubt)
{
	enum cut_kind kind = look_cut_kind(entry);
	struct verdict_here first = {0};
	struct date day;

	*in_doubt = false;
	if (!look_day(entry, &day))
		return first;
	first = look_verdict(dossier, species, kind, day, CROP_REASONS);
	if (date_span_is_exact(&entry->day) || !entry->day.high.known)
		return first;
	struct verdict_here last =
		look_verdict(dossier, species, kind, entry->day.high.value, CROP_REASONS);
	bool first_avoids = first.known && first.verdict == VERDICT_AVOID;
	bool last_avoids = last.known && last.verdict == VERDICT_AVOID;
	*in_doubt = first_avoids != last_avoids;
	return last_avoids ? last : first;
}

/* Candidates: all must agree. */
static void judge_kind(
	const struct dossier *dossier, const struct entry *entry, struct judged *judged)
{
	const struct tree_kind *kind = &dossier->kind;
	int32_t count = kind->species != NULL ? 1 : kind->candidate_count;
	int32_t avoiding = 0;
	bool day_in_doubt = false;

	for (int32_t i = 0; i < count; i++) {
		const struct species *species =
			kind->species != NULL ? kind->species : kind->candidates[i];
		bool doubt;
		struct verdict_here here = verdict_on_days(dossier, species, entry, &doubt);

		day_in_doubt = day_in_doubt || doubt;
		if (!here.known || here.verdict != VERDICT_AVOID)
			continue;
		if (avoiding++ == 0) {
			judged->verdict = here;
			judged->species = species;
		}
	}
	judged->fires = avoiding > 0 && avoiding == count && !day_in_doubt;
	judged->in_doubt = avoiding > 0 && !judged->fires;
}

/* Cuts of the same coming crop that fired up to this one, this one included, joined. */
static struct share joined_share(
	const struct dossier *dossier, const struct entry *entry, int32_t crop_year, bool fruit)
{
	struct share share = look_crown_share(dossier, entry);

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *other = dossier->entries[i];
		struct judged judged = {0};
		struct date day;

		if (other == entry)
			break;
		if (!look_is_shaping(other) || !look_day(other, &day) ||
			look_crop_year(dossier, day, fruit) != crop_year)
			continue;
		judge_kind(dossier, other, &judged);
		if (judged.fires)
			share = share_join(share, look_crown_share(dossier, other));
	}
	return share;
}

static struct judged judge(const struct dossier *dossier, const struct entry *entry)
{
	struct judged judged = {0};
	struct date day = {0};

	if (!window_place_has_dates(dossier->place) && dossier->own_window_count == 0)
		return judged;
	judge_kind(dossier, entry, &judged);
	if ((!judged.fires && !judged.in_doubt) || !look_day(entry, &day))
		return judged;
	const struct cut_row *row = judged.verdict.row;
	bool fruit = row != NULL && row->reason == REASON_FRUIT;
	judged.crop_year = look_crop_year(dossier, day, fruit);
	const struct season *season = dossier_season(dossier, judged.crop_year);
	if (season != NULL &&
		(season->state == SEASON_COMPLETE || season->state == SEASON_NONE_SEEN))
		return (struct judged){0};
	judged.share = joined_share(dossier, entry, judged.crop_year, fruit);
	struct expected_crop crop = expected(dossier, judged.species);
	struct maybe_i64 picked = {0};
	if (fruit && season != NULL)
		picked = amount_sum_point(&season->picked);
	static const struct cut_row own_row = {.verdict = VERDICT_AVOID, .reason = REASON_FLOWERS};
	judged.risk = crop_at_risk(
		&crop, judged.share, row != NULL ? row : &own_row, picked.known ? picked.value : 0);
	return judged;
}

static void say_share(const struct share *share, char *out, int size)
{
	if (share->low == share->high)
		snprintf(out, (size_t)size, "%.0f %% of the crown", share->low * 100.0);
	else
		snprintf(out, (size_t)size, "%.0f to %.0f %% of the crown", share->low * 100.0,
			share->high * 100.0);
}

/* "about 8 lb of the 2027 crop (4 to 11 lb; 20 % of the crown, your picks of 4 seasons)" */
static void say_risk(const struct dossier *dossier, const struct judged *judged,
	const struct flag *flag, char *out, int size)
{
	enum unit_system units = dossier->place->units;
	char mid[32], low[32], high[32], share[64], season[16], tenth[32];

	look_season_name(dossier, judged->crop_year, season, sizeof season);
	say_share(&judged->share, share, sizeof share);
	if (flag->crop_at_risk_mg.known) {
		mass_format_rough(flag->crop_at_risk_mg.value, units, mid, sizeof mid);
		mass_format_rough(flag->crop_at_risk_low_mg.value, units, low, sizeof low);
		mass_format_rough(flag->crop_at_risk_high_mg.value, units, high, sizeof high);
		snprintf(out, (size_t)size,
			"about %s of the %s crop (%s to %s; %s, your picks of %d season%s%s)", mid,
			season, low, high, share, flag->seasons, flag->seasons == 1 ? "" : "s",
			judged->risk.estimate ? ", counts made into weight: an estimate" : "");
		return;
	}
	struct expected_crop crop = expected(dossier, judged->species);
	if (crop.seasons > 0) {
		mass_format_rough(crop.mg / 10, units, tenth, sizeof tenth);
		snprintf(out, (size_t)size,
			"part of the %s crop: each tenth of the crown is about %s (share not "
			"known; your "
			"picks of %d season%s)",
			season, tenth, crop.seasons, crop.seasons == 1 ? "" : "s");
		return;
	}
	const struct fact_row *typical = species_fact(judged->species, "yield-per-tree");
	if (typical != NULL && typical->low.known && typical->high.known) {
		mass_format_rough(typical->low.value, units, low, sizeof low);
		mass_format_rough(typical->high.value, units, high, sizeof high);
		snprintf(out, (size_t)size,
			"part of the %s crop: no picks of yours yet to say how much; published for "
			"this "
			"kind: %s to %s a tree",
			season, low, high);
		return;
	}
	snprintf(out, (size_t)size, "part of the %s crop: no picks of yours yet to say how much",
		season);
}

static void say_kind(const struct dossier *dossier, char *out, int size)
{
	const struct tree_kind *kind = &dossier->kind;

	if (kind->species == NULL)
		snprintf(out, (size_t)size,
			" It may be one of several kinds (%s): all say the same.", kind->name);
	else if (kind->sure == SURE_SUSPECTED)
		snprintf(out, (size_t)size, " This rests on a guess: the tree is taken for %s.",
			kind->species->name);
	else
		out[0] = '\0';
}

/* When the next clear window opens, as the row's event and as dates. */
static void say_next_clear(const struct dossier *dossier, const struct judged *judged,
	const struct entry *entry, struct date today, struct flag *flag)
{
	struct cut_window cuts[CUTS_MAX];
	const struct cut_row *clear = NULL;
	char from[24];
	struct window_facts facts = dossier_window_facts(dossier);
	facts.species = judged->species;
	int32_t count =
		window_cuts(&facts, dossier->kind.cultivar, look_cut_kind(entry), cuts, CUTS_MAX);
	struct date day = today;

	(void)look_day(entry, &day);
	if (date_compare(day, today) < 0)
		day = today;
	struct maybe_date next =
		window_next_clear(cuts, count < CUTS_MAX ? count : CUTS_MAX, day, &clear);
	const char *cut_already = judged->species->already_cut;
	if (!next.known) {
		snprintf(flag->action, sizeof flag->action, "%s", cut_already);
		return;
	}
	flag->window_from = next;
	for (int32_t i = 0; i < count && i < CUTS_MAX; i++)
		if (cuts[i].row == clear) {
			struct window window = {
				.known = true, .from = cuts[i].from, .to = cuts[i].to};

			flag->window_to = known_date(window_span_at(&window, next.value).to);
		}
	snprintf(flag->action, sizeof flag->action, "Next clear for this cut: from %s%s%s. %s",
		date_format_plain(next.value, from, sizeof from), clear->text[0] ? ": " : "",
		clear->text, cut_already);
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

static void explain(const struct dossier *dossier, const struct judged *judged,
	const struct entry *entry, struct flags *out, struct flag *flag)
{
	const struct cut_row *row = judged->verdict.row;
	const struct expected_crop crop = expected(dossier, judged->species);
	enum unit_system units = dossier->place->units;
	char mid[32], low[32], high[32];

	flag_evidence(out, flag, "the cut as logged: %s", entry->words);
	if (row == NULL) {
		flag_evidence(
			out, flag, "the day lies in the span you set by hand to avoid cutting");
		return;
	}
	flag_evidence(out, flag, "almanac, %s: %s", judged->species->name, row->text);
	if (crop.seasons > 0)
		flag_evidence(out, flag,
			"E, what the tree gives: %s (%s to %s), complete seasons %d",
			mass_format_rough(crop.mg, units, mid, sizeof mid),
			mass_format_rough(crop.low_mg, units, low, sizeof low),
			mass_format_rough(crop.high_mg, units, high, sizeof high), crop.seasons);
	if (judged->risk.known)
		flag_evidence(out, flag,
			"at risk = share %.2f to %.2f x loss a share %.2f to %.2f%s x E",
			judged->share.low, judged->share.high,
			row->loss_low_permille.known ? row->loss_low_permille.value / 1000.0 : 0.5,
			row->loss_high_permille.known ? row->loss_high_permille.value / 1000.0
						      : 1.0,
			judged->risk.loss_is_ours ? " (our own span: no published figure)" : "");
}

static enum known_by sure_of(const struct judged *judged)
{
	return judged->verdict.row != NULL ? judged->verdict.row->sure : KNOWN_READ;
}

static void say(const struct dossier *dossier, const struct judged *judged,
	const struct entry *entry, struct date day, struct flag *flag)
{
	const struct cut_row *row = judged->verdict.row;
	bool fruit = row != NULL && row->reason == REASON_FRUIT;
	char when[24], risk[300], kind[240];

	say_risk(dossier, judged, flag, risk, sizeof risk);
	say_kind(dossier, kind, sizeof kind);
	snprintf(flag->says, sizeof flag->says, "The %s cut of %s %s: %s.%s%s",
		cut_kind_row(look_cut_kind(entry))->title,
		date_format_plain(day, when, sizeof when),
		fruit ? "took wood with the fruit on it"
		      : "took wood that carries the coming flowers",
		risk, kind,
		entry_cut_kind(entry) == CUT_UNSAID
			? " The kind of cut was not said: judged as a shape cut."
			: "");
}

/* A cut in doubt (candidates or the day do not agree): one question, no alarm. */
static void ask_doubt(const struct dossier *dossier, const struct judged *judged,
	const struct entry *entry, struct flags *out)
{
	struct flag *flag = flags_add(out, "flower-wood", dossier, URGENCY_NOTE);

	snprintf(flag->says, sizeof flag->says, "Whether this cut took flower wood depends on %s.",
		date_span_is_exact(&entry->day)
			? "which kind the tree is: its candidates differ"
			: "the day: one end of the span is clear, the other not");
	snprintf(flag->action, sizeof flag->action, "Say %s, and this answers itself.",
		date_span_is_exact(&entry->day) ? "what the tree is" : "the day of the cut");
	flag_key_set(flag, judged->crop_year, entry->id);
	flag_entry_add(flag, entry);
	flag->source =
		judged->verdict.row != NULL ? judged->verdict.row->source : "set by hand here";
}

static void raise(const struct dossier *dossier, const struct judged *judged,
	const struct entry *entry, struct date today, struct flags *out)
{
	struct date day = {0};
	(void)look_day(entry, &day);
	enum urgency urgency = look_harm_urgency(day, today, sure_of(judged));
	struct flag *flag = flags_add(out, "flower-wood", dossier, urgency);

	flag->began = known_date(day);
	add_risk(flag, &judged->risk);
	for (int32_t i = 0; i < dossier->graft_count; i++) {
		struct judged graft = judge(dossier->grafts[i], entry);

		if (graft.fires)
			add_risk(flag, &graft.risk);
	}
	say(dossier, judged, entry, day, flag);
	say_next_clear(dossier, judged, entry, today, flag);
	explain(dossier, judged, entry, out, flag);
	flag->source =
		judged->verdict.row != NULL ? judged->verdict.row->source : "set by hand here";
	snprintf(flag->basis, sizeof flag->basis, "%s",
		judged->verdict.row == NULL ? "set by hand here"
		: judged->verdict.moved     ? "almanac, moved by this tree's own days"
					    : "almanac");
	flag_key_set(flag, judged->crop_year, entry->id);
	flag_entry_add(flag, entry);
	flags_change_on(out, today, date_add_days(day, ACT_DAYS + 1));
}

/* A cut on a host is judged there, once, for the host and its grafts. */
static bool judged_at_host(const struct dossier *dossier, const struct entry *entry)
{
	return dossier->host != NULL && strcmp(entry->subject.id, dossier->tree.id) != 0;
}

/* The host is not hurt, but a graft on it is: the flag stands at the graft. */
static void look_at_grafts(const struct dossier *dossier, const struct entry *entry,
	struct date today, struct flags *out)
{
	for (int32_t i = 0; i < dossier->graft_count; i++) {
		struct judged graft = judge(dossier->grafts[i], entry);

		if (graft.fires)
			raise(dossier->grafts[i], &graft, entry, today, out);
	}
}

void rule_flower_wood(const struct dossier *dossier, struct date today, struct flags *out)
{
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		struct date day;

		if (!look_is_shaping(entry) || !look_day(entry, &day) ||
			judged_at_host(dossier, entry) || date_days_between(day, today) > 550)
			continue;
		struct judged judged = judge(dossier, entry);
		if (judged.fires)
			raise(dossier, &judged, entry, today, out);
		else if (judged.in_doubt)
			ask_doubt(dossier, &judged, entry, out);
		if (!judged.fires)
			look_at_grafts(dossier, entry, today, out);
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
	const struct cut_row *row = NULL;
	struct date day = {0};

	(void)look_day(entry, &day);
	bool fires = rule_cut_cost_crop(dossier, entry, &row);
	return look_crop_year(dossier, day, fires && row != NULL && row->reason == REASON_FRUIT);
}
