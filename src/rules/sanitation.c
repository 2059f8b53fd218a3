/* SPDX-License-Identifier: MIT */
/* sanitation-due: mummies, cankers, fallen leaves, where the cause was seen or the grower does it
 * each year. quarantine-check: what leaves or enters the place. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "cut_say.h"
#include "pests.h"

/* --- sanitation-due --- */

enum {
	STRIKES_TOLD = FLAG_EVIDENCE_MAX - 4, /* the rest of the evidence stands before and after */
	AROUND_DAYS = 30, /* work told so far outside its months is of that year all the same */
	HABIT_YEARS = 2,
};

/* What an entry tells of the work itself: what was only seen is not done yet. */
static bool tells_work(const struct entry *entry, const struct work_row *work)
{
	bool sanitation = entry->kind == KIND_CUT && entry_cut_kind(entry) == CUT_SANITATION;

	return entry->kind != KIND_SAW && entry->kind != KIND_LOSS && entry->kind != KIND_USE &&
	       (look_tells(entry, work->told) || (work->cut_settles && sanitation));
}

/* The last entry of the year up to the end of these months that names a pest the work answers. */
static const struct entry *cause_of(const struct dossier *dossier, const struct work_row *work,
	struct window_span span, const struct pest_row **pest)
{
	const struct pest_row *fits[SEEN_FITS_MAX];
	const struct entry *cause = NULL;
	struct date day, from = date_add_days(span.from, -365);

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];

		if (!look_day(entry, &day) || date_compare(day, from) < 0 ||
			date_compare(day, span.to) > 0)
			continue;
		int32_t count = seen_pests(dossier, entry, fits);
		for (int32_t k = 0; k < count; k++)
			if (work_answers(work, fits[k]->key)) {
				*pest = fits[k];
				cause = entry;
			}
	}
	return cause;
}

static bool is_done(const struct dossier *dossier, const struct work_row *work,
	struct window_span span, struct date today)
{
	struct date day, from = date_add_days(span.from, -SOON_DAYS);

	for (int32_t i = 0; i < dossier->entry_count; i++)
		if (look_day(dossier->entries[i], &day) && date_compare(day, from) >= 0 &&
			date_compare(day, today) <= 0 && tells_work(dossier->entries[i], work))
			return true;
	return false;
}

struct habit {
	int32_t years;
	const struct entry *entries[2]; /* of the last two of them, newest first */
};

/* In how many of the years before did the grower do it, in its months or near? Words alone count: a
 * cut for another reason is no habit. */
static struct habit years_done(const struct dossier *dossier, const struct work_row *work,
	const struct window *months, struct window_span span)
{
	struct habit habit = {.years = 0};
	const struct entry *found = NULL;
	struct date day;

	for (int32_t back = 1; back <= 6; back++) {
		struct window_span then =
			window_span_before(months, date_add_days(span.from, -365 * back + 5));
		bool done = false;

		for (int32_t i = 0; i < dossier->entry_count && !done; i++) {
			const struct entry *entry = dossier->entries[i];

			found = entry;
			done = look_day(entry, &day) && entry->kind != KIND_SAW &&
			       entry->kind != KIND_LOSS &&
			       date_compare(day, date_add_days(then.from, -AROUND_DAYS)) >= 0 &&
			       date_compare(day, date_add_days(then.to, AROUND_DAYS)) <= 0 &&
			       look_tells(entry, work->told);
		}
		if (done && habit.years < 2)
			habit.entries[habit.years] = found;
		habit.years += done;
	}
	return habit;
}

/* Each time the pest was seen in that year, and each cut that says how far below its sign it went:
 * the list to find them again by, limb by limb as they were typed. Returns how often it was seen;
 * with a flag, puts them into its evidence. */
static int32_t tell_strikes(const struct dossier *dossier, const struct pest_row *pest,
	struct window_span span, struct flags *out, struct flag *flag)
{
	const struct pest_row *fits[SEEN_FITS_MAX];
	int32_t seen = 0, told = 0;
	struct date day, from = date_add_days(span.from, -365);

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		bool is_cut = entry_amount(entry, FIELD_BELOW_SIGN) != NULL;
		bool is_seen = false;

		if (!look_day(entry, &day) || date_compare(day, from) < 0 ||
			date_compare(day, span.to) > 0)
			continue;
		int32_t count = is_cut ? 0 : seen_pests(dossier, entry, fits);
		for (int32_t k = 0; k < count; k++)
			is_seen = is_seen || fits[k] == pest;
		seen += is_seen;
		if (flag != NULL && (is_seen || is_cut) && told++ < STRIKES_TOLD)
			proof_entry(out, flag, "", entry);
	}
	if (told > STRIKES_TOLD)
		flag_evidence(
			out, flag, "and %d more on the page of the tree", told - STRIKES_TOLD);
	return seen;
}

/* How often, and how far below the last sign it is cut: the other half of what is said. */
static void say_cause(const struct dossier *dossier, const struct work_row *work,
	const struct pest_row *pest, const struct entry *cause, struct window_span span,
	struct flags *out, struct flag *flag)
{
	char task[FLAG_SAYS_SIZE], when[80], below[200];
	int32_t seen = tell_strikes(dossier, pest, span, out, NULL);
	char times[32] = "";

	if (seen > 1)
		snprintf(times, sizeof times, "%d times, last ", seen);
	look_say(&flag->says, "%s What may be %s was seen here %son %s.",
		look_sentence(work->task, task, sizeof task), pest->name, times,
		date_span_format_plain(&cause->day, when, sizeof when));
	if (work->cut_settles &&
		cut_below_words(dossier, cause, span.from, below, sizeof below)[0] != '\0')
		look_say(&flag->action, "Cut %s below the last sign. ", below);
}

static void flag_sanitation(const struct dossier *dossier, const struct work_row *work,
	const struct pest_row *pest, const struct entry *cause, struct window_span span,
	const struct habit *habit, struct date today, struct flags *out)
{
	char care[FLAG_SAYS_SIZE] = "";
	char task[FLAG_SAYS_SIZE], text[64], how_far[FLAG_SAYS_SIZE];
	bool alarm = look_may_alarm(work->sure);
	struct flag *flag =
		flags_add(out, "sanitation-due", dossier, alarm ? URGENCY_DUE : URGENCY_NOTE);

	if (cause != NULL)
		say_cause(dossier, work, pest, cause, span, out, flag);
	else
		look_say(&flag->says, "%s You did so in %d of the last 6 years.",
			look_sentence(work->task, task, sizeof task), habit->years);
	text_copy(how_far, sizeof how_far, flag->action);
	if (work->cut_settles)
		look_cut_care(dossier, today, care, sizeof care);
	look_say(&flag->action,
		"%s%s%s%s%s%sBag or bin what you take off; burn it only where that is allowed.",
		care, care[0] ? " " : "", how_far,
		work->when[0] ? look_sentence(work->when, task, sizeof task) : "",
		work->when[0] ? " " : "",
		work->cut_settles ? "Clean the tools between cuts. " : "");
	flag->source = work->sources[0];
	flag->began = known_date(span.from);
	flag->window_from = known_date(span.from);
	flag->window_to = known_date(span.to);
	snprintf(flag->basis, sizeof flag->basis, "almanac");
	flag->settles = work->cut_settles ? KIND_CUT : KIND_NOTE;
	if (work->cut_settles)
		snprintf(
			flag->fills, sizeof flag->fills, "%s cut sanitation ", dossier->tree.label);
	else
		snprintf(flag->fills, sizeof flag->fills, "%s note %.*s ", dossier->tree.label,
			(int)strcspn(work->told, "|"), work->told);
	flag_evidence(out, flag, "its months here, by the almanac: %s",
		look_span(span.from, span.to, text, sizeof text));
	if (cause != NULL)
		tell_strikes(dossier, pest, span, out, flag);
	for (size_t i = 0; i < 2 && habit->entries[i] != NULL; i++)
		proof_entry(out, flag, "", habit->entries[i]);
	if (pest != NULL)
		evidence_first(out, flag, pest);
	flag_key_set(flag, season_year_of(&dossier->season_rule, span.from), work->key);
}

static void look_at_work(const struct dossier *dossier, const struct work_row *work,
	struct date today, struct flags *out)
{
	struct window months = months_here(dossier, work->from_month, work->to_month);
	struct window_span span = window_span_at(&months, today);
	const struct pest_row *pest = NULL;

	flags_change_on(out, today, span.from);
	flags_change_on(out, today, date_add_days(span.to, 1));
	if (date_compare(span.from, today) > 0 || is_done(dossier, work, span, today))
		return;
	const struct entry *cause = cause_of(dossier, work, span, &pest);
	struct habit habit = {.years = 0};

	if (cause == NULL)
		habit = years_done(dossier, work, &months, span);
	if (cause != NULL || habit.years >= HABIT_YEARS)
		flag_sanitation(dossier, work, pest, cause, span, &habit, today, out);
}

void rule_sanitation_due(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct species *species = dossier->kind.species;

	if (species == NULL || !window_place_has_dates(dossier->place))
		return;
	for (int32_t i = 0; i < species->work_count; i++)
		if (species->work[i]->pests[0] != '\0')
			look_at_work(dossier, species->work[i], today, out);
}

/* --- quarantine-check --- */

enum { MOVED_DAYS = 60, REPORTED_DAYS = 400 };

static const char leaving[] = "gave|given|given away|gave away|sold|swapped|sent|posted|took to|"
			      "taken to|brought to|off the place|to a neighbour|to a neighbor|"
			      "to a friend|for a neighbour|for a neighbor|for a friend";
static const char entering[] =
	"from a neighbour|from a neighbor|from my neighbour|from my neighbor|from the neighbour|"
	"from the neighbor|from a friend|from abroad|by post|by mail|scion exchange|scion swap|"
	"brought home|brought in";
static const char wood[] = "scion|scions|scion wood|scionwood|budwood|bud wood|cutting|cuttings|"
			   "firewood|wood|prunings|clippings|plant|plants|sucker|suckers|tree|"
			   "seedling|seedlings|graft|grafts|leaves|branch|branches";

/* Seen within the last year or so, and to be reported in some places at least. */
static const struct pest_row *reported_seen(const struct dossier *dossier, struct date today,
	enum pest_report least, const struct entry **seen, struct flags *out)
{
	const struct pest_row *found = NULL;
	struct date day;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		if (!look_day(dossier->entries[i], &day) ||
			date_days_between(day, today) > REPORTED_DAYS)
			continue;
		const struct pest_row *pest = seen_pest(dossier, dossier->entries[i]);
		if (pest == NULL || (pest->report != REPORT_YES &&
					    (pest->report != REPORT_SOME || least != REPORT_SOME)))
			continue;
		flags_change_on(out, today, date_add_days(day, REPORTED_DAYS + 1));
		found = pest;
		*seen = dossier->entries[i];
	}
	return found;
}

static void flag_quarantine(const struct dossier *dossier, const struct pest_row *pest,
	const struct entry *seen, const struct entry *moved, struct flags *out)
{
	const struct fact_row *fact = species_fact(dossier->kind.species, "caution-quarantine");
	char when[80], moved_on[80] = "", text[FLAG_SAYS_SIZE];
	struct flag *flag = flags_add(out, "quarantine-check", dossier, URGENCY_NOTE);

	if (moved != NULL)
		date_span_format_plain(&moved->day, moved_on, sizeof moved_on);
	if (seen != NULL)
		look_say(&flag->says,
			"What may be %s was seen here on %s%s%s: it is to be reported in "
			"places (%s).",
			pest->name, date_span_format_plain(&seen->day, when, sizeof when),
			moved != NULL ? ", and something was moved on " : "", moved_on,
			pest->report_where);
	else
		look_say(&flag->says, "Wood, plants or fruit of this tree moved on %s: %s",
			moved_on, look_ended(fact->text, text, sizeof text));
	look_say(&flag->action,
		"Ask your plant health authority before anything leaves or enters%s.",
		seen != NULL ? "; photograph it, do not move or compost it" : "");
	flag->source = seen != NULL && (pest->read & CELL_REPORT) != 0 ? pest->sources[0]
		       : fact != NULL                                  ? fact->source
								       : "ours";
	snprintf(flag->basis, sizeof flag->basis, "almanac");
	if (seen != NULL) {
		proof_entry(out, flag, "", seen);
		flag_evidence(out, flag, "it may be something else: %s", pest->alike);
		evidence_first(out, flag, pest);
	}
	if (moved != NULL) {
		proof_entry(out, flag, "", moved);
	}
	flag_evidence(out, flag, "lists of what is to be reported change: the authority has them");
	flag_key_set(flag, 0, moved != NULL ? moved->id : seen->id);
}

/* Does the entry tell of wood or plants, or of fruit, that leave or enter? */
static bool tells_move(const struct dossier *dossier, const struct entry *entry, bool fruit_too)
{
	bool told = entry->kind == KIND_NOTE || entry->kind == KIND_GRAFT ||
		    entry->kind == KIND_CUT || entry->kind == KIND_PLANT ||
		    entry->kind == KIND_PICK || entry->kind == KIND_DIED ||
		    entry->kind == KIND_MOVE;

	if (entry->kind == KIND_MOVE && dossier->spot != NULL &&
		dossier->spot->kind == SPOT_OFF_PLACE)
		return true;
	if (told && look_tells(entry, leaving) && look_tells(entry, wood))
		return true;
	if (told && look_tells(entry, entering))
		return true;
	return fruit_too && (entry->kind == KIND_PICK || entry->kind == KIND_NOTE) &&
	       look_tells(entry, leaving);
}

static void look_at_moves(const struct dossier *dossier, const struct pest_row *pest,
	const struct entry *seen, struct date today, struct flags *out)
{
	/* grubs travel in fruit; of the rest only what is to be reported nearly everywhere */
	bool fruit = pest != NULL && (pest->report == REPORT_YES || pest->group == PEST_INSECT);
	bool listed = species_fact(dossier->kind.species, "caution-quarantine") != NULL;
	struct date day;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];

		if (!look_day(entry, &day) || date_days_between(day, today) > MOVED_DAYS ||
			!tells_move(dossier, entry, fruit) || (!listed && seen == NULL))
			continue;
		flags_change_on(out, today, date_add_days(day, MOVED_DAYS + 1));
		flag_quarantine(dossier, pest, seen, entry, out);
	}
}

void rule_quarantine_check(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct entry *seen = NULL, *listed_seen = NULL;

	if (dossier->kind.species == NULL)
		return;
	const struct pest_row *listed =
		reported_seen(dossier, today, REPORT_YES, &listed_seen, out);
	if (listed != NULL)
		flag_quarantine(dossier, listed, listed_seen, NULL, out);
	const struct pest_row *pest = reported_seen(dossier, today, REPORT_SOME, &seen, out);
	look_at_moves(dossier, pest, seen, today, out);
}
