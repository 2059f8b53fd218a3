/* SPDX-License-Identifier: MIT */
/* Rules about cuts other than flower wood: wet weeks, too much at once, yearly work. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "look.h"

/* One cause, one flag: a cut that flower-wood speaks of is not named again for disease. */
static bool flower_wood_speaks(const struct flags *out, const struct entry *entry)
{
	for (int32_t i = 0; i < out->count; i++)
		if (strcmp(out->items[i].rule, "flower-wood") == 0 &&
			out->items[i].entry_count > 0 &&
			strcmp(out->items[i].entries[0], entry->id) == 0)
			return true;
	return false;
}

static void flag_wet_cut(const struct dossier *dossier, const struct entry *entry,
	struct verdict_here here, struct date today, struct flags *out)
{
	char when[24];
	struct date day = {0};

	(void)look_day(entry, &day);
	struct flag *flag = flags_add(
		out, "cut-in-wet-season", dossier, look_harm_urgency(day, today, here.row->sure));
	snprintf(flag->says, sizeof flag->says,
		"The %s cut of %s was made while wet-weather disease enters fresh wounds here: %s",
		cut_kind_row(look_cut_kind(entry))->title,
		date_format_plain(day, when, sizeof when), here.row->text);
	snprintf(flag->action, sizeof flag->action,
		"Watch these wounds for sunken bark, gum or silvered leaves; leave further cuts "
		"for a "
		"dry spell inside the clear window. Clean tools with alcohol.");
	flag->began = known_date(day);
	flag->source = here.row->source;
	snprintf(flag->basis, sizeof flag->basis, "almanac, %s", climate_title(dossier->climate));
	flag_evidence(out, flag, "the cut as logged: %s", entry->words);
	flag_key_set(flag, look_work_year(dossier, day), entry->id);
	flag_entry_add(flag, entry);
	flags_change_on(out, today, date_add_days(day, ACT_DAYS + 1));
}

void rule_cut_in_wet_season(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct species *species = dossier->kind.species;

	if (species == NULL || !window_place_has_dates(dossier->place))
		return;
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		struct date day;

		if (!look_is_shaping(entry) || !look_day(entry, &day) ||
			date_days_between(day, today) > 365 || flower_wood_speaks(out, entry))
			continue;
		struct verdict_here here = look_verdict(
			dossier, species, look_cut_kind(entry), day, 1U << REASON_DISEASE);
		if (here.known && here.verdict == VERDICT_AVOID && here.row != NULL)
			flag_wet_cut(dossier, entry, here, today, out);
	}
}

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

static struct taken taken_in(const struct dossier *dossier, int32_t year)
{
	struct taken taken = {0};
	double left = 1.0;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		struct date day;

		if (!look_is_shaping(entry) || !look_day(entry, &day) ||
			look_work_year(dossier, day) != year)
			continue;
		struct share share = limited_share(dossier, entry);
		if (!share.known)
			continue;
		left *= 1.0 - share.low;
		taken.known = true;
		taken.last = day;
		if (taken.count < FLAG_ENTRIES_MAX)
			taken.entries[taken.count++] = entry;
	}
	taken.share = 1.0 - left;
	return taken;
}

/* In its first three years a tree is being formed: no limit is held against it. */
static bool is_being_formed(const struct dossier *dossier, struct date day)
{
	return dossier->tree.planted.low.known &&
	       date_days_between(dossier->tree.planted.low.value, day) < 3 * 365;
}

static void flag_too_much(const struct dossier *dossier, const struct taken *taken, int32_t year,
	struct date today, struct flags *out)
{
	const struct species *species = dossier->kind.species;
	const char *whole = species->limit_is_shoots ? "last year's shoots" : "the crown";
	double limit = species->share_limit_permille.value / 1000.0;
	struct flag *flag = flags_add(out, "cut-too-much", dossier,
		look_harm_urgency(taken->last, today, species->share_sure));

	snprintf(flag->says, sizeof flag->says,
		"%.0f %% of %s came off in one season of work; no more than %.0f %% is advised for "
		"%s.",
		taken->share * 100.0, whole, limit * 100.0, species->name);
	snprintf(flag->action, sizeof flag->action,
		"Stop here for this season: no nitrogen to push regrowth, water evenly, shade bark "
		"that "
		"is newly in the sun, and spread the rest over coming years.");
	flag->began = known_date(taken->last);
	flag->source = species->share_source;
	snprintf(flag->basis, sizeof flag->basis, "almanac");
	for (int32_t i = 0; i < taken->count; i++) {
		flag_entry_add(flag, taken->entries[i]);
		flag_evidence(out, flag, "counted: %s", taken->entries[i]->words);
	}
	flag_key_set(flag, year, "share");
	flags_change_on(out, today, date_add_days(taken->last, ACT_DAYS + 1));
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
		snprintf(flag->says, sizeof flag->says,
			"%s of what? For %s the limit counts last year's shoots, not the crown.",
			share->typed, dossier->kind.species->name);
		snprintf(flag->action, sizeof flag->action,
			"Mend the entry: \"%s of shoots\" or \"%s of crown\".", share->typed,
			share->typed);
		flag->source = dossier->kind.species->share_source;
		flag_entry_add(flag, entry);
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
		if (!taken.known || date_days_between(taken.last, today) > 365 ||
			is_being_formed(dossier, taken.last))
			continue;
		if (taken.share * 1000.0 > species->share_limit_permille.value + 0.5)
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

void rule_shape_cut_due(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct cut_row *row;
	struct window_span span;
	char from[24], to[24];
	bool own;

	if (dossier->kind.species == NULL || dossier->host != NULL ||
		!shapes_yearly(dossier, today) || !clear_span(dossier, today, &span, &row, &own))
		return;
	flags_change_on(out, today, date_add_days(span.from, -SOON_DAYS));
	flags_change_on(out, today, span.from);
	flags_change_on(out, today, date_add_days(span.to, 1));
	int32_t ahead = date_days_between(today, span.from);
	if (ahead > SOON_DAYS ||
		shaped_since(dossier, date_add_days(span.from, -SOON_DAYS), span.to))
		return;
	enum urgency urgency = ahead > 0 ? URGENCY_SOON : URGENCY_DUE;
	if (row != NULL && !look_may_alarm(row->sure))
		urgency = URGENCY_NOTE;
	struct flag *flag = flags_add(out, "shape-cut-due", dossier, urgency);
	snprintf(flag->says, sizeof flag->says, "Clear for the yearly cut from %s to %s%s%s.",
		date_format_plain(span.from, from, sizeof from),
		date_format_plain(span.to, to, sizeof to), row != NULL ? ": " : "",
		row != NULL ? row->text : "");
	const char *bad = look_bad_day(dossier, today);
	snprintf(flag->action, sizeof flag->action,
		"%s%s%sCut in dry weather, from the ground where it can be done; %s",
		bad ? "Not today: " : "", bad ? bad : "", bad ? ". " : "",
		dossier->tree.hazard[0] ? dossier->tree.hazard
					: "look for power lines before any ladder goes up.");
	flag->began = known_date(span.from);
	flag->window_from = known_date(span.from);
	flag->window_to = known_date(span.to);
	snprintf(flag->basis, sizeof flag->basis, "%s", own ? "set by hand here" : "almanac");
	flag->source = row != NULL ? row->source : "set by hand here";
	flag->settles = KIND_CUT;
	snprintf(flag->fills, sizeof flag->fills, "%s cut shape ", dossier->tree.label);
	char cause[DATE_SIZE];
	flag_key_set(flag, look_work_year(dossier, span.to), date_format(span.from, cause));
}
