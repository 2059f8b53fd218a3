/* SPDX-License-Identifier: MIT */
/* What follows a cut, or is left standing by one: suckers (suckers-standing), a feed that drives a
 * tree just cut hard (feed-after-hard-cut). */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "cut_say.h"
#include "reckon/dose.h"

/* --- suckers-standing --- */

enum { HABIT_SEASONS = 8, HABIT_DAYS = 30 };

static const struct fact_row *sucker_row(const struct dossier *dossier)
{
	return dossier->kind.species != NULL ? species_fact(dossier->kind.species, "suckers")
					     : NULL;
}

static bool saw_suckers(const struct entry *entry)
{
	static const char *const words[] = {"sucker", "water shoot", "water-shoot", "watershoot",
		"water sprout", "watersprout", "root shoot", "rootstock shoot",
		"shoots below the graft", "shoots from below", NULL};

	return entry->kind == KIND_SAW &&
	       cut_word_in(entry_detail(entry, FIELD_SUBJECT_SEEN), words) != NULL;
}

static bool is_sucker_cut(const struct entry *entry)
{
	return entry->kind == KIND_CUT && entry_cut_kind(entry) == CUT_SUCKER;
}

/* Suckers cut on this tree from..to. */
static bool cut_between(const struct dossier *dossier, struct date from, struct date to)
{
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		struct date day;

		if (is_sucker_cut(dossier->entries[i]) && look_day(dossier->entries[i], &day) &&
			date_compare(day, from) >= 0 && date_compare(day, to) <= 0)
			return true;
	}
	return false;
}

/* The newest sight of suckers that no cut followed. */
static const struct entry *standing(
	const struct dossier *dossier, struct date today, struct date *day)
{
	const struct entry *seen = NULL;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		struct date at;

		bool of_host =
			dossier->host != NULL && strcmp(entry->subject.id, dossier->tree.id) != 0;
		if (!saw_suckers(entry) || of_host || !look_day(entry, &at) ||
			date_compare(at, today) > 0 ||
			date_days_between(at, today) > SUCKERS_SEEN_DAYS ||
			cut_between(dossier, at, today))
			continue;
		seen = entry;
		*day = at;
	}
	return seen;
}

/* The growing year of a day begins in midwinter. */
static struct date year_start(const struct dossier *dossier, int32_t year)
{
	bool south = dossier->place->hemisphere == HEMISPHERE_SOUTH;

	return date_of_month_day(year, (struct month_day){south ? 7 : 1, 1});
}

static int32_t growing_year(const struct dossier *dossier, struct date day)
{
	int32_t year = date_parts(day).year;

	return date_compare(day, year_start(dossier, year)) < 0 ? year - 1 : year;
}

/* How many earlier years this grower cut suckers in, up to HABIT_SEASONS back, and how many days
 * into the year the earliest of them was; first: of the last two years, newest first. */
static int32_t habit_years(const struct dossier *dossier, int32_t year, int32_t *earliest_days,
	const struct entry *first[2])
{
	int32_t count = 0;
	int32_t last = INT32_MIN;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		struct date day;

		if (!is_sucker_cut(entry) || !date_span_is_exact(&entry->day) ||
			!look_day(entry, &day))
			continue;
		int32_t at = growing_year(dossier, day);
		if (at >= year || at < year - HABIT_SEASONS)
			continue;
		int32_t into = date_days_between(year_start(dossier, at), day);
		*earliest_days = count == 0 || into < *earliest_days ? into : *earliest_days;
		if (at != last) {
			count++;
			first[1] = first[0];
			first[0] = entry;
		}
		last = at;
	}
	return count;
}

/* The weeks in which this grower cuts suckers: a month from the earliest of those days. */
static bool habit_span(const struct dossier *dossier, int32_t year, struct window_span *span,
	const struct entry *first[2])
{
	int32_t earliest_days = 0;

	if (habit_years(dossier, year, &earliest_days, first) < 2)
		return false;
	span->from = date_add_days(year_start(dossier, year), earliest_days);
	span->to = date_add_days(span->from, HABIT_DAYS);
	return true;
}

static const char *whose_shoots(const struct dossier *dossier)
{
	const struct tree *tree = &dossier->tree;

	if (tree->rootstock[0] != '\0' || tree->how == ORIGIN_GRAFT || dossier->graft_count > 0)
		return "A shoot from below the graft is the rootstock: it must go at its root, not "
		       "at the soil. ";
	if (tree->how == ORIGIN_SEED || tree->how == ORIGIN_CUTTING || tree->how == ORIGIN_LAYER)
		return "On its own roots a sucker is the same tree: keep one only if you want it. ";
	return "Look where each starts: below a graft it is the rootstock. ";
}

static struct flag *begin_suckers(const struct dossier *dossier, const struct fact_row *row,
	enum urgency urgency, struct flags *out)
{
	struct flag *flag = flags_add(out, "suckers-standing", dossier,
		row != NULL && look_may_alarm(row->sure) ? urgency : URGENCY_NOTE);

	look_say(&flag->action,
		"%sTear or cut them off where they start while they are soft; leave no stub, and "
		"no weed-killer on them: it goes to the tree.",
		whose_shoots(dossier));
	flag->source = row != NULL ? row->source : "common practice";
	flag->settles = KIND_CUT;
	snprintf(flag->fills, sizeof flag->fills, "%s cut suckers", dossier->tree.label);
	return flag;
}

/* On a day of frost, rain, wind or storm it waits for another. */
static void say_not_today(const struct dossier *dossier, struct date today, struct flag *flag)
{
	const char *bad = look_bad_day(dossier, today);
	char action[FLAG_SAYS_SIZE];

	if (bad == NULL)
		return;
	text_copy(action, sizeof action, flag->action);
	look_say(&flag->action, "Not today: %s. %s", bad, action);
}

/* Shoots straight up from old wood, above any graft. */
static bool are_water_shoots(const struct entry *seen)
{
	static const char *const words[] = {"water", NULL};

	return cut_word_in(entry_detail(seen, FIELD_SUBJECT_SEEN), words) != NULL;
}

static struct flag *tell_water_shoots(const struct dossier *dossier, struct flags *out)
{
	struct flag *flag = begin_suckers(dossier, NULL, URGENCY_NOTE, out);

	look_say(&flag->action, "Rub or snap soft ones off by hand in early summer; thin what has "
				"turned to wood in "
				"the clear weeks, and keep a few where limbs want shade.");
	return flag;
}

static void flag_seen(const struct dossier *dossier, const struct entry *seen, struct date day,
	struct date today, struct flags *out)
{
	bool water = are_water_shoots(seen);
	const struct fact_row *row = water ? NULL : sucker_row(dossier);
	bool lately = date_days_between(day, today) <= SUCKERS_DUE_DAYS;
	struct flag *flag =
		water ? tell_water_shoots(dossier, out)
		      : begin_suckers(dossier, row, lately ? URGENCY_DUE : URGENCY_NOTE, out);
	char when[80], why[FLAG_SAYS_SIZE];

	say_not_today(dossier, today, flag);
	look_say(&flag->says, "%s seen on %s and no cut logged since%s%s",
		entry_detail(seen, FIELD_SUBJECT_SEEN),
		date_span_format_plain(&seen->day, when, sizeof when), row != NULL ? ": " : ".",
		row != NULL ? look_ended(row->text, why, sizeof why) : "");
	look_sentence(flag->says, why, sizeof why);
	text_copy(flag->says, sizeof flag->says, why);
	flag->began = known_date(day);
	snprintf(flag->basis, sizeof flag->basis, "as you saw");
	flags_change_on(out, today, date_add_days(day, SUCKERS_DUE_DAYS + 1));
	flags_change_on(out, today, date_add_days(day, SUCKERS_SEEN_DAYS + 1));
	proof_entry(out, flag, "", seen);
	flag_key_set(flag, look_work_year(dossier, day), seen->id);
}

static void look_at_habit(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct fact_row *row = sucker_row(dossier);
	int32_t year = growing_year(dossier, today);
	struct window_span span;
	const struct entry *cuts[2] = {NULL, NULL};
	char words[64], why[FLAG_SAYS_SIZE], cause[DATE_SIZE];

	if (dossier->host != NULL || dossier->place->hemisphere == HEMISPHERE_UNKNOWN)
		return;
	flags_change_on(out, today, year_start(dossier, year + 1));
	if (!habit_span(dossier, year, &span, cuts))
		return;
	flags_change_on(out, today, span.from);
	flags_change_on(out, today, date_add_days(span.to, 1));
	if (date_compare(today, span.from) < 0 || date_compare(today, span.to) > 0 ||
		cut_between(dossier, date_add_days(span.from, -SOON_DAYS), today))
		return;
	struct flag *flag = begin_suckers(dossier, row, URGENCY_DUE, out);
	say_not_today(dossier, today, flag);
	look_say(&flag->says, "You cut suckers here in earlier years; this year's weeks are %s%s%s",
		look_span(span.from, span.to, words, sizeof words), row != NULL ? ": " : ".",
		row != NULL ? look_ended(row->text, why, sizeof why) : "");
	flag->began = known_date(span.from);
	flag->window_from = known_date(span.from);
	flag->window_to = known_date(span.to);
	snprintf(flag->basis, sizeof flag->basis, "your own sucker cuts");
	for (size_t i = 0; i < 2 && cuts[i] != NULL; i++)
		proof_entry(out, flag, "", cuts[i]);
	flag_evidence(out, flag, "a month from the earliest day of the year you cut them on");
	flag_key_set(flag, year, date_format(span.from, cause));
}

void rule_suckers_standing(const struct dossier *dossier, struct date today, struct flags *out)
{
	struct date day = {0};
	const struct entry *seen = standing(dossier, today, &day);

	if (seen != NULL)
		flag_seen(dossier, seen, day, today, out);
	else
		look_at_habit(dossier, today, out);
}

/* --- feed-after-hard-cut --- */

static bool is_hard(const struct dossier *dossier, const struct entry *entry)
{
	struct share share = look_crown_share(dossier, entry);

	return look_is_shaping(entry) &&
	       (entry_cut_kind(entry) == CUT_RENOVATION ||
		       (share.known && share.low * 1000.0 >= HARD_CUT_PERMILLE));
}

/* Nitrogen, or a feed of unknown make; never one that is known to carry none. */
static bool drives_growth(const struct dossier *dossier, const struct entry *entry)
{
	struct maybe_i64 nitrogen_mg =
		dose_nitrogen_of_entry(entry, dossier->products, dossier->product_count);

	return entry->kind == KIND_FEED && (!nitrogen_mg.known || nitrogen_mg.value > 0);
}

/* The hard cut, done or planned, that this feed follows in its season or comes just before. */
static const struct entry *hard_cut_by(const struct dossier *dossier, struct date fed,
	const struct entry *const *entries, int32_t count)
{
	for (int32_t i = 0; i < count; i++) {
		struct date day;

		if (!is_hard(dossier, entries[i]) || !look_day(entries[i], &day))
			continue;
		int32_t after = date_days_between(day, fed);
		if (after <= (entries[i]->planned ? 0 : FEED_AFTER_CUT_DAYS) &&
			after >= -FEED_BEFORE_CUT_DAYS)
			return entries[i];
	}
	return NULL;
}

static void flag_driven(const struct dossier *dossier, const struct entry *feed,
	const struct entry *cut, struct date today, struct flags *out)
{
	const struct fact_row *row = species_fact(dossier->kind.species, "feed-after-hard-cut");
	char when[80], name[CUT_NAME_SIZE], why[FLAG_SAYS_SIZE];
	struct date fed = {0}, day = {0};

	(void)look_day(feed, &fed);
	(void)look_day(cut, &day);
	bool lately = date_days_between(fed, today) <= ACT_DAYS && look_may_alarm(row->sure);
	struct flag *flag =
		flags_add(out, "feed-after-hard-cut", dossier, lately ? URGENCY_DUE : URGENCY_NOTE);
	look_say(&flag->says, "The feed of %s %s the %s: %s",
		date_span_format_plain(&feed->day, when, sizeof when),
		date_compare(fed, day) >= 0 ? "follows" : "comes just before",
		cut_name(cut, name, sizeof name), look_ended(row->text, why, sizeof why));
	look_say(&flag->action,
		"%s this season. Rub off or thin the shoots that rush up while they are "
		"soft, and keep a few to shade the bark.",
		feed->asked ? "Do not feed it" : "Feed no more");
	flag->began = known_date(fed);
	flag->source = row->source;
	snprintf(flag->basis, sizeof flag->basis, "almanac");
	proof_entry(out, flag, "the feed", feed);
	proof_entry(out, flag, "the cut", cut);
	flag_key_set(flag, look_work_year(dossier, fed), feed->id);
}

void rule_feed_after_hard_cut(const struct dossier *dossier, struct date today, struct flags *out)
{
	static const char *const told_by_feeds[] = {"feed-late", "feed-over", NULL};

	if (dossier->kind.species == NULL || dossier->host != NULL ||
		species_fact(dossier->kind.species, "feed-after-hard-cut") == NULL)
		return;
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *feed = dossier->entries[i];
		struct date fed;

		if (!drives_growth(dossier, feed) || !look_day(feed, &fed) ||
			date_compare(fed, today) > 0 ||
			date_days_between(fed, today) > LATE_FEED_DAYS ||
			cut_is_told(out, feed, told_by_feeds))
			continue;
		const struct entry *cut =
			hard_cut_by(dossier, fed, dossier->entries, dossier->entry_count);
		if (cut == NULL)
			cut = hard_cut_by(dossier, fed, dossier->planned, dossier->planned_count);
		if (cut != NULL)
			flag_driven(dossier, feed, cut, today, out);
	}
}
