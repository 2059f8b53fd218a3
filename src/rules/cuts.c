/* SPDX-License-Identifier: MIT */
/* Rules about cuts other than flower wood: too much at once, yearly work. */
#include <stdio.h>

#include "clash.h"
#include "core/text.h"
#include "look.h"

/* What counts toward the limit in one season of work. */
struct taken {
	double share; /* low end, joined */
	bool known;
	const struct entry *entries[FLAG_ENTRIES_MAX];
	int32_t count;
	struct date last;
};

static struct share limited_share(const struct dossier *dossier, const struct entry *entry)
{
	if (dossier->kind.species->limit_is_shoots)
		return share_of_amount(entry_amount(entry, FIELD_SHARE_SHOOTS));
	return look_crown_share(dossier, entry);
}

static bool is_taken_in(
	const struct dossier *dossier, const struct entry *entry, int32_t year, struct date *day)
{
	return look_is_shaping(entry) && look_day(entry, day) &&
	       look_work_year(dossier, *day) == year && limited_share(dossier, entry).known;
}

static struct taken taken_in(const struct dossier *dossier, int32_t year)
{
	struct taken taken = {0};
	double left = 1.0;
	struct date day;

	for (int32_t i = 0; i < dossier->entry_count; i++)
		if (is_taken_in(dossier, dossier->entries[i], year, &day))
			taken.last = day;
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];

		if (!is_taken_in(dossier, entry, year, &day) ||
			date_days_between(day, taken.last) > ONE_YEAR_DAYS)
			continue;
		left *= 1.0 - limited_share(dossier, entry).low;
		taken.known = true;
		if (taken.count < FLAG_ENTRIES_MAX)
			taken.entries[taken.count++] = entry;
	}
	taken.share = 1.0 - left;
	return taken;
}

/* In its first three years a tree is being formed: no limit is held against it. */
static bool is_being_formed(const struct dossier *dossier, struct date day)
{
	const struct date_span *planted = &dossier->tree.planted;
	struct maybe_date youngest = planted->high.known ? planted->high : planted->low;

	return youngest.known && date_days_between(youngest.value, day) < 3 * 365;
}

/* What else is published of a tree that is brought down, where all that was counted is of that
 * kind; NULL none. */
static const struct fact_row *share_of_renovation(
	const struct dossier *dossier, const struct taken *taken)
{
	const struct fact_row *row = species_fact(dossier->kind.species, "renovation-share");

	for (int32_t i = 0; row != NULL && i < taken->count; i++) {
		enum cut_kind kind = entry_cut_kind(taken->entries[i]);

		if (kind != CUT_RENOVATION && kind != CUT_HEIGHT)
			return NULL;
	}
	return row != NULL && row->high.known ? row : NULL;
}

/* The other limit beside the first: sources differ, and both are said. */
static void tell_other_share(const struct fact_row *other, struct flags *out, struct flag *flag)
{
	char whose[240], text[FLAG_SAYS_SIZE];

	text_copy(text, sizeof text, flag->says);
	look_say(&flag->says, "%s Others take about %.0f %% %s.", text,
		(double)other->high.value / 10.0, other->text);
	flag_evidence(out, flag, "sources differ: about %.0f %% %s (%s)",
		(double)other->high.value / 10.0, other->text,
		clash_whose(other->said_by, other->sure, whose, sizeof whose));
}

/* "1 - (1 - 0.30) x (1 - 0.30) = 0.51, held against 0.25" */
static void tell_sum(const struct dossier *dossier, const struct taken *taken, struct flags *out,
	struct flag *flag)
{
	char sum[200];
	struct text_builder text = text_builder_fixed(sum, sizeof sum);

	text_add(&text, "");
	for (int32_t i = 0; i < taken->count; i++)
		text_add_format(&text, "%s(1 - %.2f)", i > 0 ? " x " : "",
			limited_share(dossier, taken->entries[i]).low);
	flag_evidence(out, flag, "the low end of each share: 1 - %s = %.2f, held against %.2f", sum,
		taken->share, dossier->kind.species->share_limit_permille.value / 1000.0);
}

static void flag_too_much(const struct dossier *dossier, const struct taken *taken, int32_t year,
	struct date today, struct flags *out)
{
	const struct species *species = dossier->kind.species;
	const struct fact_row *other = share_of_renovation(dossier, taken);
	bool asked = taken->count > 0 && taken->entries[taken->count - 1]->asked;
	bool within = other != NULL && taken->share * 1000.0 < (double)other->high.value + 5;
	const char *whole = species->limit_is_shoots ? "last year's shoots" : "the crown";
	struct flag *flag = flags_add(out, "cut-too-much", dossier,
		within ? URGENCY_NOTE : look_harm_urgency(taken->last, today, species->share_sure));

	look_say(&flag->says,
		"%.0f %% of %s %s off in one season of work; the advice for %s is no more than "
		"%.0f %%.",
		taken->share * 100.0, whole, asked ? "would come" : "came", species->name,
		species->share_limit_permille.value / 10.0);
	look_say(&flag->action,
		"%s: no nitrogen to push regrowth, even watering, shade on "
		"bark that is newly in the sun; spread the rest over coming years.",
		!asked   ? "Stop here for this season"
		: within ? "Take no more than this"
			 : "Take less");
	flag->began = known_date(taken->last);
	flag->source = species->share_source;
	snprintf(flag->basis, sizeof flag->basis, "almanac");
	for (int32_t i = 0; i < taken->count; i++) {
		proof_entry(out, flag, "the cut", taken->entries[i]);
	}
	tell_sum(dossier, taken, out, flag);
	if (other != NULL)
		tell_other_share(other, out, flag);
	flag_key_set(flag, year, "share");
}

/* "30 %" on a kind whose limit counts shoots: of what? */
static void ask_share(
	const struct dossier *dossier, int32_t year, struct date today, struct flags *out)
{
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		const struct amount *share = entry_amount(entry, FIELD_SHARE);
		struct date day;

		if (!look_is_shaping(entry) || share == NULL || !share->low.known ||
			share->low.value <= 250 || !look_day(entry, &day) ||
			look_work_year(dossier, day) != year || date_compare(day, today) > 0)
			continue;
		struct flag *flag = flags_add(out, "cut-too-much", dossier, URGENCY_NOTE);
		look_say(&flag->says,
			"%s of what? For %s the limit counts last year's shoots, not the crown.",
			share->typed, dossier->kind.species->name);
		look_say(&flag->action, "Mend the entry: \"%s of shoots\" or \"%s of crown\".",
			share->typed, share->typed);
		flag->source = dossier->kind.species->share_source;
		proof_entry(out, flag, "", entry);
		flag_key_set(flag, year, entry->id);
	}
}

void rule_cut_too_much(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct species *species = dossier->kind.species;

	if (species == NULL || !species->share_limit_permille.known || dossier->host != NULL)
		return;
	int32_t year = look_work_year(dossier, today);
	for (int32_t at = year - 1; at <= year; at++) {
		struct taken taken = taken_in(dossier, at);

		if (species->limit_is_shoots && at == year)
			ask_share(dossier, at, today, out);
		if (!taken.known || date_days_between(taken.last, today) > CUT_SHARE_DAYS ||
			is_being_formed(dossier, taken.last))
			continue;
		/* in whole percents, as it is said: shares are told by eye */
		if (taken.share * 1000.0 >= species->share_limit_permille.value + 5)
			flag_too_much(dossier, &taken, at, today, out);
	}
}

/* Yearly shaping is this grower's practice here, or they set a goal for it. */
static bool shapes_yearly(const struct dossier *dossier, struct date today)
{
	int32_t year = look_work_year(dossier, today);
	int32_t seasons = look_seasons_with(dossier, KIND_CUT, year);

	if (seasons == 0)
		return false;
	if (dossier->tree.target_height_um.known)
		return true;
	return seasons >= 2 && dossier->kind.species->pruned_yearly;
}

static bool shaped_since(const struct dossier *dossier, struct date from, struct date to)
{
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		struct date day;

		if (look_is_shaping(dossier->entries[i]) && look_day(dossier->entries[i], &day) &&
			date_compare(day, from) >= 0 && date_compare(day, to) <= 0)
			return true;
	}
	return false;
}

/* The clear span for a yearly cut that holds today or opens next: the grower's own, else of the
 * almanac's rows for a shape cut (for thinning, where shaping has none). */
static bool clear_span(const struct dossier *dossier, struct date today, struct window_span *span,
	const struct cut_row **row, bool *own)
{
	struct window mine = dossier_window(dossier, WINDOW_CUT_CLEAR, today);
	struct cut_window cuts[CUTS_MAX];
	const enum cut_kind kinds[] = {CUT_SHAPE, CUT_THINNING};
	const struct window_facts facts = dossier_window_facts(dossier);

	*own = mine.known && mine.basis == BASIS_OWN;
	*row = NULL;
	if (*own) {
		*span = window_span_at(&mine, today);
		return true;
	}
	for (size_t k = 0; k < 2; k++) {
		int32_t count =
			window_cuts(&facts, dossier->kind.cultivar, kinds[k], cuts, CUTS_MAX);
		if (count > CUTS_MAX)
			count = CUTS_MAX;
		struct maybe_date next = window_next_clear(cuts, count, today, row);
		for (int32_t i = 0; next.known && i < count; i++)
			if (cuts[i].row == *row) {
				struct window window = {
					.known = true, .from = cuts[i].from, .to = cuts[i].to};

				*span = window_span_at(&window, next.value);
				return true;
			}
	}
	return false;
}

/* Work since this day counts for the span: two weeks early, and all that was cut since the last
 * fruit where the span waits for that. */
static struct date counts_from(
	const struct dossier *dossier, struct window_span span, const struct cut_row *row)
{
	struct date from = date_add_days(span.from, -SOON_DAYS);

	if (row == NULL || row->from_anchor != ANCHOR_HARVEST)
		return from;
	for (int32_t i = 0; i < dossier->season_count; i++) {
		struct maybe_date last = dossier->seasons[i].last_pick;

		if (last.known && date_compare(last.value, from) < 0 &&
			date_days_between(last.value, span.from) < 183)
			return last.value;
	}
	return from;
}

void rule_shape_cut_due(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct cut_row *row;
	struct window_span span;
	char words[64], care[TEXT_SIZE + 64], cause[DATE_SIZE];
	bool own;

	if (dossier->kind.species == NULL || dossier->host != NULL ||
		!shapes_yearly(dossier, today) || !clear_span(dossier, today, &span, &row, &own))
		return;
	flags_change_on(out, today, span.from);
	flags_change_on(out, today, date_add_days(span.to, 1));
	if (date_compare(today, span.from) < 0 ||
		shaped_since(dossier, counts_from(dossier, span, row), span.to))
		return;
	bool quiet = row != NULL && !look_may_alarm(row->sure);
	struct flag *flag =
		flags_add(out, "shape-cut-due", dossier, quiet ? URGENCY_NOTE : URGENCY_DUE);
	look_say(&flag->says, "Clear for the yearly cut: %s%s%s.",
		look_span(span.from, span.to, words, sizeof words), row != NULL ? "; " : "",
		row != NULL ? row->text : ", as set by hand here");
	look_say(&flag->action, "%s Cut in dry weather, from the ground where it can be done.",
		look_cut_care(dossier, today, care, sizeof care));
	flag->began = known_date(span.from);
	flag->window_from = known_date(span.from);
	flag->window_to = known_date(span.to);
	snprintf(flag->basis, sizeof flag->basis, "%s", own ? "set by hand here" : "almanac");
	flag->source = row != NULL ? row->source : look_own_source;
	const struct clash_cut cut = {.species = dossier->kind.species,
		.kind = row != NULL ? row->kind : CUT_SHAPE,
		.day = today,
		.used = row,
		.reasons = (unsigned)REASONS_ALL};
	proof_habit(dossier, KIND_CUT, BY_WORK, look_work_year(dossier, today), out, flag);
	if (row != NULL)
		clash_tell_cut(dossier, &cut, out, flag);
	flag->settles = KIND_CUT;
	snprintf(flag->fills, sizeof flag->fills, "%s cut shape ", dossier->tree.label);
	flag_key_set(flag, look_work_year(dossier, span.to), date_format(span.from, cause));
}
