/* SPDX-License-Identifier: MIT */
/* cut-in-wet-season: wounds made while wet-weather disease enters them. */
#include <stdio.h>
#include <string.h>

#include "clash.h"
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

/* A wet-weather verdict: the row that speaks first, and of all that agree the one known most
 * surely, which decides how loud it is said. */
struct wet {
	struct verdict_here here;
	const struct cut_row *surest;
};

static bool holds_all_of(const struct cut_window *cut, const struct entry *entry, struct date day)
{
	struct date last = entry->day.high.known ? entry->day.high.value : day;

	return cut_window_holds(cut, day) && cut_window_holds(cut, last);
}

/* Of the rows that mind the day for disease, the one known most surely; the first of equals. */
static const struct cut_row *surest_of(const struct dossier *dossier, const struct species *species,
	const struct entry *entry, struct date day, const struct verdict_here *here)
{
	struct cut_window cuts[CUTS_MAX];
	struct window_facts facts = dossier_window_facts(dossier);
	const struct cut_row *surest = here->row;

	facts.species = species;
	int32_t count =
		window_cuts(&facts, dossier->kind.cultivar, look_cut_kind(entry), cuts, CUTS_MAX);
	for (int32_t i = 0; i < count && i < CUTS_MAX; i++) {
		const struct cut_row *row = cuts[i].row;

		if (row->verdict == VERDICT_AVOID && row->reason == REASON_DISEASE &&
			cuts[i].chosen == here->chosen && row->sure < surest->sure &&
			holds_all_of(&cuts[i], entry, day))
			surest = row;
	}
	return surest;
}

/* The verdict for disease on the day of the cut, and on the last day it may have been made on. */
static struct wet wet_verdict_of(
	const struct dossier *dossier, const struct species *species, const struct entry *entry)
{
	struct wet found = {.surest = NULL};
	struct date day;

	if (species == NULL || !look_day(entry, &day))
		return found;
	found.here =
		look_verdict(dossier, species, look_cut_kind(entry), day, 1U << REASON_DISEASE);
	if (!found.here.known || found.here.verdict != VERDICT_AVOID || found.here.row == NULL)
		return (struct wet){.surest = NULL};
	found.surest = surest_of(dossier, species, entry, day, &found.here);
	if (date_span_is_exact(&entry->day) || !entry->day.high.known)
		return found;
	struct verdict_here last = look_verdict(dossier, species, look_cut_kind(entry),
		entry->day.high.value, 1U << REASON_DISEASE);
	bool both =
		last.row == found.here.row && date_days_between(day, entry->day.high.value) < 62;
	return both ? found : (struct wet){.surest = NULL};
}

/* The same of a tree between kinds: only where all of them say so, and by the one that is known
 * least surely. */
static struct wet wet_verdict(
	const struct dossier *dossier, const struct entry *entry, const struct species **of)
{
	const struct tree_kind *kind = &dossier->kind;
	struct wet least = {.surest = NULL};

	*of = kind->species;
	if (kind->species != NULL)
		return wet_verdict_of(dossier, kind->species, entry);
	for (int32_t i = 0; i < kind->candidate_count; i++) {
		struct wet one = wet_verdict_of(dossier, kind->candidates[i], entry);

		if (!one.here.known)
			return (struct wet){.surest = NULL};
		if (!least.here.known || one.surest->sure > least.surest->sure) {
			least = one;
			*of = kind->candidates[i];
		}
	}
	return least;
}

/* A cut on a host is told once: at the host, else at its first graft that minds. */
static bool wet_told_elsewhere(const struct dossier *dossier, const struct entry *entry)
{
	const struct dossier *host = dossier->host;
	const struct species *of;

	if (host == NULL || strcmp(entry->subject.id, dossier->tree.id) == 0)
		return false;
	if (wet_verdict(host, entry, &of).here.known)
		return true;
	for (int32_t i = 0; i < host->graft_count; i++) {
		if (strcmp(host->grafts[i]->tree.id, dossier->tree.id) == 0)
			return false;
		if (wet_verdict(host->grafts[i], entry, &of).here.known)
			return true;
	}
	return false;
}

/* The next span of one row on or after a day. */
static struct window_span span_of_row(const struct cut_window *cut, struct date day)
{
	const struct window window = {.known = true, .from = cut->from, .to = cut->to};

	return window_span_at(&window, day);
}

/* A row that allows the cut and opens before the day `until`; NULL none. */
static const struct cut_window *allowed_before(const struct dossier *dossier,
	const struct species *species, const struct entry *entry, const struct cut_window *cuts,
	int32_t count, struct date day, struct date until)
{
	for (int32_t i = 0; i < count; i++) {
		struct date from = span_of_row(&cuts[i], day).from;
		struct verdict_here here = look_verdict(
			dossier, species, look_cut_kind(entry), from, (unsigned)REASONS_ALL);

		if (cuts[i].row->verdict == VERDICT_ALLOWED && date_compare(from, day) > 0 &&
			date_compare(from, until) < 0 && here.row == cuts[i].row)
			return &cuts[i];
	}
	return NULL;
}

/* Before the cut: when to make it, and what needs no waiting. */
static void say_wait(const struct dossier *dossier, const struct species *species,
	const struct entry *entry, struct date day, struct flag *flag)
{
	struct cut_window cuts[CUTS_MAX];
	struct window_facts facts = dossier_window_facts(dossier);
	const struct cut_row *row = NULL;
	char words[64], when[FLAG_SAYS_SIZE] = "", sooner[FLAG_SAYS_SIZE] = "";

	facts.species = species;
	int32_t count =
		window_cuts(&facts, dossier->kind.cultivar, look_cut_kind(entry), cuts, CUTS_MAX);
	if (count > CUTS_MAX)
		count = CUTS_MAX;
	struct maybe_date next = window_next_clear(cuts, count, day, &row);
	for (int32_t i = 0; next.known && i < count; i++) {
		if (cuts[i].row != row)
			continue;
		struct window_span span = span_of_row(&cuts[i], next.value);
		const struct cut_window *early =
			allowed_before(dossier, species, entry, cuts, count, day, span.from);
		flag->window_from = known_date(span.from);
		flag->window_to = known_date(span.to);
		snprintf(when, sizeof when, " Next clear for this cut: %s (%s).",
			look_span(span.from, span.to, words, sizeof words), row->text);
		if (early == NULL)
			break;
		span = span_of_row(early, day);
		snprintf(sooner, sizeof sooner, " Allowed %s (%s).",
			look_span(span.from, span.to, words, sizeof words), early->row->text);
		break;
	}
	look_say(&flag->action,
		"Not now; plan it, naming the limbs. A dead, broken or dangerous limb comes off at "
		"any time: log it as such.%s%s Clean tools with alcohol.",
		sooner, when);
}

/* Whose word it is, where the row that is told is not the one known most surely. */
static void tell_wet_rows(const struct wet *wet, struct flags *out, struct flag *flag)
{
	const struct cut_row *const rows[] = {wet->here.row, wet->surest};
	char whose[240];

	for (size_t i = 0; i < 2 && rows[0] != rows[1]; i++)
		flag_evidence(out, flag, "to avoid that day: %s (%s)", rows[i]->text,
			clash_whose(rows[i]->said_by, rows[i]->sure, whose, sizeof whose));
}

static void flag_wet_cut(const struct dossier *dossier, const struct entry *entry,
	const struct wet *wet, const struct species *species, struct date today, struct flags *out)
{
	char when[80], why[FLAG_SAYS_SIZE];
	const char *title = cut_kind_row(look_cut_kind(entry))->title;
	const struct tree_kind *kind = &dossier->kind;
	struct date day = {0};

	(void)look_day(entry, &day);
	struct flag *flag = flags_add(out, "cut-in-wet-season", dossier,
		look_harm_urgency(day, today, wet->surest->sure));
	look_say(&flag->says,
		"The %s%s of %s %s made while wet-weather disease enters fresh wounds here: "
		"%s%s%s%s",
		title, strstr(title, " cut") == NULL ? " cut" : "",
		date_span_format_plain(&entry->day, when, sizeof when),
		entry->asked ? "would be" : "was", look_ended(wet->here.row->text, why, sizeof why),
		kind->species == NULL ? " It may be one of several kinds (" : "",
		kind->species == NULL ? kind->name : "",
		kind->species == NULL ? "): all say the same." : "");
	if (entry->asked)
		say_wait(dossier, species, entry, day, flag);
	else
		look_say(&flag->action,
			"Watch these wounds for sunken bark, gum or silvered leaves; leave further "
			"cuts for a dry spell inside the clear window. Clean tools with alcohol.");
	flag->began = known_date(day);
	flag->source = wet->surest->source;
	snprintf(flag->basis, sizeof flag->basis, "almanac, %s", climate_title(dossier->climate));
	proof_entry(out, flag, "the cut", entry);
	proof_cut_row(dossier, species, wet->here.row, day, out, flag);
	tell_wet_rows(wet, out, flag);
	const struct clash_cut cut = {.species = species,
		.kind = look_cut_kind(entry),
		.day = day,
		.used = wet->here.row,
		.reasons = 1U << REASON_DISEASE};
	clash_tell_cut(dossier, &cut, out, flag);
	flag_key_set(flag, look_work_year(dossier, day), entry->id);
}

void rule_cut_in_wet_season(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct species *species;

	if (!window_place_has_dates(dossier->place))
		return;
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		struct date day;

		if (!look_is_shaping(entry) || !look_day(entry, &day) ||
			date_days_between(day, today) > WET_CUT_DAYS ||
			flower_wood_speaks(out, entry) || wet_told_elsewhere(dossier, entry))
			continue;
		struct wet wet = wet_verdict(dossier, entry, &species);
		if (wet.here.known)
			flag_wet_cut(dossier, entry, &wet, species, today, out);
	}
}
