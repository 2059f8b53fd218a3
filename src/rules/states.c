/* SPDX-License-Identifier: MIT */
/* Rules about states and gaps: leave alone, planned work, facts that are missing. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "look.h"
#include "rules/plans.h"

/* --- leave-alone --- */

/* A span in which a tree is to be left alone, by the grower or by the almanac after a hard cut. */
struct rest {
	struct date from;
	struct maybe_date until;
	bool by_rule;
	const char *reason;
	const char *source;
	enum known_by sure;
	const struct entry *cause;
};

static bool rest_of_leave(const struct entry *entry, enum hemisphere hemisphere, struct rest *rest)
{
	struct date_span until;

	if (entry->kind != KIND_LEAVE || !look_day(entry, &rest->from))
		return false;
	rest->until = (struct maybe_date){0};
	if (date_span_parse(entry_detail(entry, FIELD_UNTIL), hemisphere, &until, NULL) ==
		STATUS_OK)
		rest->until = until.low;
	rest->by_rule = false;
	rest->reason = entry->note != NULL ? entry->note : "";
	rest->source = "as you logged it";
	rest->sure = KNOWN_READ;
	rest->cause = entry;
	return true;
}

/* Kinds that answer a hard cut with leaves: the almanac says for how many days to leave them. */
static bool rest_of_cut(const struct dossier *dossier, const struct entry *entry, struct rest *rest)
{
	if (dossier->kind.species == NULL || !look_is_shaping(entry) ||
		!look_day(entry, &rest->from))
		return false;
	const struct fact_row *fact = species_fact(dossier->kind.species, "leave-after-hard-cut");
	if (fact == NULL || !fact->low.known)
		return false;
	struct share share = look_crown_share(dossier, entry);
	if (entry_cut_kind(entry) != CUT_RENOVATION &&
		!(share.known && share.low * 1000.0 >= HARD_CUT_PERMILLE))
		return false;
	rest->until = known_date(date_add_days(rest->from, (int32_t)fact->low.value));
	rest->by_rule = true;
	rest->reason = fact->text;
	rest->source = fact->source;
	rest->sure = fact->sure;
	rest->cause = entry;
	return true;
}

bool rule_cut_sets_back(
	const struct dossier *dossier, const struct entry *entry, struct date *until)
{
	struct rest rest = {0};
	bool back = rest_of_cut(dossier, entry, &rest);

	if (back)
		*until = rest.until.value;
	return back;
}

static void flag_rest(const struct dossier *dossier, const struct rest *rest, struct date today,
	struct flags *out)
{
	char until[24] = "you say otherwise", why[FLAG_SAYS_SIZE];
	struct flag *flag = flags_add(out, "leave-alone", dossier, URGENCY_LEAVE);

	if (rest->until.known)
		date_format_plain(rest->until.value, until, sizeof until);
	look_say(&flag->says, "Leave this tree alone until %s%s%s", until,
		rest->reason[0] ? ": " : "",
		rest->reason[0] ? look_ended(rest->reason, why, sizeof why) : ".");
	look_say(&flag->action,
		"No cut and no feed is asked for until then; pests, water, picks and hazards still "
		"speak.");
	flag->began = known_date(rest->from);
	flag->window_from = known_date(rest->from);
	flag->window_to = rest->until;
	flag->source = rest->source;
	text_copy(flag->basis, sizeof flag->basis, rest->by_rule ? "almanac" : rest->source);
	proof_entry(out, flag, "", rest->cause);
	flag_key_set(flag, 0, rest->cause->id);
	if (rest->until.known)
		flags_change_on(out, today, rest->until.value);
}

static void flag_cut_in_rest(const struct dossier *dossier, const struct rest *rest,
	const struct entry *cut, struct date today, struct flags *out)
{
	char when[80], why[FLAG_SAYS_SIZE];
	struct date day = {0};
	(void)look_day(cut, &day);
	enum urgency urgency =
		rest->by_rule ? look_harm_urgency(day, today, rest->sure) : URGENCY_NOTE;
	struct flag *flag = flags_add(out, "leave-alone", dossier, urgency);

	look_say(&flag->says, "The cut of %s %s while the tree %s to be left alone%s%s",
		date_span_format_plain(&cut->day, when, sizeof when),
		cut->asked ? "would come" : "came", cut->asked ? "is" : "was",
		rest->reason[0] ? ": " : "",
		rest->reason[0] ? look_ended(rest->reason, why, sizeof why) : ".");
	look_say(&flag->action, "Let it grow through; cut %s this season.",
		cut->asked ? "nothing" : "no more");
	flag->began = known_date(day);
	flag->source = rest->source;
	proof_entry(out, flag, "the cut", cut);
	proof_entry(out, flag, "to be left alone", rest->cause);
	flag_key_set(flag, 0, cut->id);
}

static bool rest_holds(const struct rest *rest, struct date day)
{
	return date_compare(day, rest->from) > 0 &&
	       (!rest->until.known || date_compare(day, rest->until.value) < 0);
}

/* A shaping cut that is still told of. */
static bool is_late_cut(const struct entry *cut, struct date today, struct date *day)
{
	return look_is_shaping(cut) && look_day(cut, day) &&
	       date_days_between(*day, today) <= CUT_IN_REST_DAYS;
}

/* The word of the grower that held on the day: the newest before it. */
static bool leave_on(const struct dossier *dossier, struct date day, struct rest *leave)
{
	bool left = false;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		struct rest rest = {0};

		if (rest_of_leave(dossier->entries[i], dossier->place->hemisphere, &rest) &&
			date_compare(rest.from, day) <= 0) {
			*leave = rest;
			left = true;
		}
	}
	return left;
}

/* The hard cut, other than this one, that keeps the tree resting longest on the day. */
static bool rest_on(const struct dossier *dossier, struct date day, const struct entry *but,
	struct rest *longest)
{
	bool rests = false;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		struct rest rest = {0};

		if (dossier->entries[i] == but ||
			!rest_of_cut(dossier, dossier->entries[i], &rest) ||
			date_compare(rest.from, day) > 0 ||
			date_compare(day, rest.until.value) >= 0 ||
			date_days_between(rest.from, day) >= REST_DAYS)
			continue;
		if (!rests || date_compare(rest.until.value, longest->until.value) > 0)
			*longest = rest;
		rests = true;
	}
	return rests;
}

static void look_at_cuts_in_rest(
	const struct dossier *dossier, struct date today, struct flags *out)
{
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *cut = dossier->entries[i];
		struct rest rest = {0};
		struct date day;

		bool of_host =
			dossier->host != NULL && strcmp(cut->subject.id, dossier->tree.id) != 0;
		if (of_host || !is_late_cut(cut, today, &day)) /* told at the host */
			continue;
		if ((rest_on(dossier, day, cut, &rest) && rest_holds(&rest, day)) ||
			(leave_on(dossier, day, &rest) && rest_holds(&rest, day)))
			flag_cut_in_rest(dossier, &rest, cut, today, out);
	}
}

void rule_leave_alone(const struct dossier *dossier, struct date today, struct flags *out)
{
	struct rest rest = {0};

	if (leave_on(dossier, today, &rest) &&
		(!rest.until.known || date_compare(today, rest.until.value) < 0))
		flag_rest(dossier, &rest, today, out);
	if (rest_on(dossier, today, NULL, &rest))
		flag_rest(dossier, &rest, today, out);
	look_at_cuts_in_rest(dossier, today, out);
}

/* --- plan-due --- */

static bool plan_is_done(const struct dossier *dossier, const struct entry *plan, struct date due)
{
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		struct date day;

		if (entry->kind == plan->kind && look_day(entry, &day) &&
			date_compare(day, date_add_days(due, -SOON_DAYS)) >= 0)
			return true;
	}
	return false;
}

/* The day planned work is due: its own, or so many days after the last time it was done. */
static struct date plan_day(
	const struct dossier *dossier, const struct entry *plan, struct date planned)
{
	const struct amount *every = entry_amount(plan, FIELD_EVERY);
	struct date due = planned;

	if (every == NULL || !every->low.known || every->low.value < 1)
		return due;
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		struct date day;

		if (dossier->entries[i]->kind == plan->kind &&
			look_day(dossier->entries[i], &day) &&
			date_compare(day, date_add_days(planned, -SOON_DAYS)) >= 0)
			due = date_add_days(day, (int32_t)every->low.value);
	}
	return due;
}

/* The day planned work is due, and the last day it was planned for. */
struct day_pair {
	struct date due;
	struct date last;
};

/* What stands before "log it when it is done": of a cut the care, of a feed whether it waits. */
static const char *plan_care(const struct dossier *dossier, const struct entry *plan,
	struct date due, struct date today, char *out, size_t size)
{
	out[0] = '\0';
	if (plan->kind == KIND_CUT)
		return look_cut_care(dossier, today, out, size);
	if (plan->kind == KIND_FEED)
		(void)look_feed_waits(dossier, due, out, size);
	return out;
}

static void flag_plan(const struct dossier *dossier, const struct entry *plan, struct day_pair days,
	struct date today, struct flags *out)
{
	char when[24], cause[DATE_SIZE + ID_SIZE + 1], day_text[DATE_SIZE];
	char words[FLAG_SAYS_SIZE], care[FLAG_SAYS_SIZE];
	enum urgency urgency = URGENCY_DUE;

	if (date_compare(today, days.due) < 0)
		urgency = URGENCY_SOON;
	else if (date_days_between(days.last, today) > SOON_DAYS)
		urgency = URGENCY_NOTE;
	struct flag *flag = flags_add(out, "plan-due", dossier, urgency);
	look_say(&flag->says, "Planned for %s: %s", date_format_plain(days.due, when, sizeof when),
		look_ended(plan->words, words, sizeof words));
	plan_care(dossier, plan, days.due, today, care, sizeof care);
	look_say(&flag->action, "%s%s%s it when it is done, or plan it for another day.", care,
		care[0] != '\0' ? " " : "",
		plan->kind == KIND_CUT ? "Ask before the cut; log" : "Log");
	flag->source = "your own plan";
	flag->began = known_date(days.due);
	flag->window_from = known_date(days.due);
	flag->window_to = known_date(days.last);
	flag->settles = plan->kind;
	snprintf(flag->fills, sizeof flag->fills, "%s %s ", dossier->tree.label,
		kind_row(plan->kind)->past);
	text_copy(flag->basis, sizeof flag->basis, flag->source);
	proof_entry(out, flag, "", plan);
	if (days.last.day != days.due.day)
		flag_evidence(out, flag, "planned for %s",
			look_span(days.due, days.last, words, sizeof words));
	if (plan->kind == KIND_FEED && care[0] != '\0')
		look_tell_feed_calendars(dossier, out, flag);
	snprintf(cause, sizeof cause, "%s %s", plan->id, date_format(days.due, day_text));
	flag_key_set(flag, 0, cause);
}

enum { PLAN_AFTER_DAYS = 60 };

static bool plan_days(const struct dossier *dossier, const struct entry *plan, struct day_pair *out)
{
	struct date day;

	if (!look_day(plan, &day))
		return false;
	out->due = out->last = plan_day(dossier, plan, day);
	if (entry_amount(plan, FIELD_EVERY) == NULL && plan->day.high.known)
		out->last = plan->day.high.value;
	return true;
}

bool rule_plan_open(const struct dossier *dossier, const struct entry *plan, struct date today,
	struct date *due, struct date *last)
{
	struct day_pair days;

	if (!plan_days(dossier, plan, &days) ||
		date_days_between(days.last, today) > PLAN_AFTER_DAYS)
		return false;
	*due = days.due;
	*last = days.last;
	return entry_amount(plan, FIELD_EVERY) != NULL || !plan_is_done(dossier, plan, days.due);
}

void rule_plan_due(const struct dossier *dossier, struct date today, struct flags *out)
{
	for (int32_t i = 0; i < dossier->planned_count; i++) {
		const struct entry *plan = dossier->planned[i];
		struct day_pair days;

		if (!plan_days(dossier, plan, &days))
			continue;
		flags_change_on(out, today, date_add_days(days.due, -SOON_DAYS));
		flags_change_on(out, today, days.due);
		flags_change_on(out, today, date_add_days(days.last, SOON_DAYS + 1));
		flags_change_on(out, today, date_add_days(days.last, PLAN_AFTER_DAYS + 1));
		if (date_days_between(today, days.due) <= SOON_DAYS &&
			rule_plan_open(dossier, plan, today, &days.due, &days.last))
			flag_plan(dossier, plan, days, today, out);
	}
}

/* --- facts-missing: only what stops an act or a due; folded over the yard by the review --- */

static void ask_fact(const struct dossier *dossier, const char *fact, const char *says,
	const char *action, struct flags *out)
{
	struct flag *flag = flags_add(out, "facts-missing", dossier, URGENCY_NOTE);

	text_copy(flag->fact, sizeof flag->fact, fact);
	look_say(&flag->says, "%s", says);
	look_say(&flag->action, "%s", action);
	flag->source = "needed for dates and doses";
	flag_key_set(flag, 0, fact);
}

/* Do this kind's cut rows depend on the climate? */
static bool rows_need_climate(const struct species *species)
{
	for (int32_t i = 0; i < species->cut_count; i++)
		if (species->cuts[i].climate != CLIMATE_ANY)
			return true;
	return false;
}

static bool in_tropics(const struct dossier *dossier)
{
	return dossier->place->hemisphere != HEMISPHERE_UNKNOWN &&
	       !window_place_has_dates(dossier->place);
}

void rule_facts_missing(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct tree_kind *kind = &dossier->kind;
	const char *why_text = "";

	if (kind->species == NULL && kind->candidate_count == 0 && kind->outside == NULL)
		ask_fact(dossier, "kind", "kind not known",
			"Say what it is, or which it could be: no date is given for an unknown "
			"kind.",
			out);
	if (dossier->place->hemisphere == HEMISPHERE_UNKNOWN)
		ask_fact(dossier, "hemisphere", "hemisphere not known",
			"Say north or south (place set --hemisphere): until then no date is given.",
			out);
	if (kind->species != NULL && in_tropics(dossier) &&
		!dossier_window(dossier, WINDOW_HARVEST, today).known)
		ask_fact(dossier, "tropics", "no dates this near the equator",
			"Set this tree's own windows (own window LABEL harvest MM-DD MM-DD): the "
			"almanac has no months for places between 12 N and 12 S.",
			out);
	if (kind->species != NULL && !in_tropics(dossier) && dossier->climate == CLIMATE_ANY &&
		dossier->place->hemisphere != HEMISPHERE_UNKNOWN &&
		rows_need_climate(kind->species))
		ask_fact(dossier, "climate", "wet season and winters not known",
			"Say when it rains and how winters are (place set --wet --winter): the "
			"right time to cut depends on it.",
			out);
	if (!dossier->trunk.known && look_feeds(dossier, today, &why_text))
		ask_fact(dossier, "girth", "girth not known",
			"Put a tape round the trunk: a dose is worked out from it.", out);
}
