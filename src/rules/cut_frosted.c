/* SPDX-License-Identifier: MIT */
/* frosted-wait: wood hurt by frost is cut once new growth shows what is dead, not before. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "cut_say.h"

/* Frost out of season (no spring near): two months until growth shows, common practice. */
enum { SPRING_WITHIN_DAYS = 240, WAIT_DAYS_MIN = 30, WAIT_DAYS_ELSE = 60 };

/* Frost that hurt the tree, and until when its wood is left. */
struct frosted {
	bool known;
	bool seen; /* by the grower; else a night as cold as hurts this kind */
	const struct entry *cause;
	struct cut_weather night;
	struct date day;
	struct date until; /* not before this day */
};

static const struct fact_row *wait_row(const struct dossier *dossier)
{
	return species_fact(dossier->kind.species, "frost-wait");
}

static bool is_frost_damage(const struct entry *entry)
{
	static const char *const words[] = {"frost", "freeze", "frozen", NULL};

	return entry->kind == KIND_SAW &&
	       cut_word_in(entry_detail(entry, FIELD_SUBJECT_SEEN), words) != NULL;
}

/* The night that hurts this kind's wood: the lowest figure of the first source. */
static struct maybe_i64 hurts_below(const struct dossier *dossier)
{
	const struct fact_row *row = species_fact(dossier->kind.species, "cold-tree");

	if (row == NULL || !look_may_alarm(row->sure))
		return (struct maybe_i64){0};
	return row->low.known ? row->low : row->high;
}

/* The first day of the month from which frosted wood is cut (of the north, turned for the place),
 * where one comes within the wait; else so many days on. */
static struct date wait_until(const struct dossier *dossier, struct date day)
{
	const struct fact_row *row = species_fact(dossier->kind.species, "frost-wait-month");

	if (row != NULL && row->low.known) {
		const struct month_day first = {(int8_t)row->low.value, 1};
		const struct month_day here = window_turn(first, dossier->place->hemisphere);
		int32_t year = date_parts(day).year;
		struct date spring = date_of_month_day(year, here);

		if (date_compare(spring, day) < 0)
			spring = date_of_month_day(year + 1, here);
		if (date_days_between(day, spring) <= SPRING_WITHIN_DAYS &&
			date_days_between(day, spring) >= WAIT_DAYS_MIN)
			return spring;
		return date_add_days(day, date_days_between(day, spring) < WAIT_DAYS_MIN
						  ? WAIT_DAYS_MIN
						  : WAIT_DAYS_ELSE);
	}
	return date_add_days(day, WAIT_DAYS_ELSE);
}

/* Growth that the grower logged since: then the line between dead and live wood shows. */
static bool shows_growth(const struct entry *entry)
{
	static const char *const words[] = {
		"new growth", "regrow", "new shoots", "new leaves", "flush", "sprout", NULL};

	static const char *const resting[] = {"dormant", "leaf fall", "bare", NULL};

	if (entry->kind == KIND_STAGE)
		return cut_word_in(entry_detail(entry, FIELD_STAGE_WORD), resting) == NULL;
	if (entry->kind == KIND_SAW)
		return cut_word_in(entry_detail(entry, FIELD_SUBJECT_SEEN), words) != NULL;
	for (int32_t s = 0; entry->kind == KIND_MEASURE && s < entry->stem_count; s++)
		if (entry->stems[s].field == FIELD_SHOOT)
			return true;
	return false;
}

/* The last day of the wait is the day before `until`, or the day growth was logged. */
static void end_with_growth(const struct dossier *dossier, struct frosted *frosted)
{
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		struct date day;

		if (shows_growth(dossier->entries[i]) && look_day(dossier->entries[i], &day) &&
			date_compare(day, frosted->day) > 0 &&
			date_compare(day, frosted->until) < 0)
			frosted->until = day;
	}
}

/* The newest damage that the grower saw on or before the day. */
static struct frosted seen_by(const struct dossier *dossier, struct date day)
{
	struct frosted seen = {.known = false};

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		struct date at;

		if (is_frost_damage(dossier->entries[i]) && look_day(dossier->entries[i], &at) &&
			date_compare(at, day) <= 0 && date_days_between(at, day) <= FROSTED_DAYS)
			seen = (struct frosted){.known = true,
				.seen = true,
				.cause = dossier->entries[i],
				.day = at};
	}
	return seen;
}

/* The newest night, stored or logged, that was cold enough to hurt this kind. */
static struct frosted cold_by(const struct dossier *dossier, struct date day)
{
	struct maybe_i64 limit = hurts_below(dossier);
	struct frosted cold = {.known = false};

	if (!limit.known)
		return cold;
	cold.night = cut_newest_frost(
		dossier, date_add_days(day, -FROSTED_DAYS), day, (int32_t)limit.value);
	cold.known = cold.night.known;
	cold.day = cold.night.day;
	return cold;
}

/* What keeps the saw away from frosted wood on the day; what was seen stands before a figure. */
static struct frosted frosted_on(const struct dossier *dossier, struct date day)
{
	struct frosted found[] = {seen_by(dossier, day), cold_by(dossier, day)};

	for (size_t i = 0; i < 2; i++) {
		if (!found[i].known)
			continue;
		found[i].until = wait_until(dossier, found[i].day);
		end_with_growth(dossier, &found[i]);
	}
	bool later = found[0].known && found[1].known &&
		     date_compare(found[1].until, found[0].until) > 0;
	return found[0].known && !later ? found[0] : found[1];
}

static void say_cause(
	const struct dossier *dossier, const struct frosted *frosted, char *out, size_t size)
{
	char when[32], cold[32];

	date_format_plain(frosted->day, when, sizeof when);
	if (frosted->seen)
		snprintf(out, size, "Frost damage was seen on %s", when);
	else
		snprintf(out, size, "%s on %s is cold enough to hurt this kind",
			temperature_format(
				frosted->night.min_decic, dossier->place->units, cold, sizeof cold),
			when);
}

static void settle(const struct dossier *dossier, const struct frosted *frosted,
	const struct fact_row *row, struct flags *out, struct flag *flag)
{
	flag->window_from = known_date(frosted->day);
	flag->window_to = known_date(frosted->until);
	flag->source = row->source;
	snprintf(flag->basis, sizeof flag->basis, "%s",
		frosted->seen           ? "frost damage as you logged it"
		: frosted->night.logged ? "frost as logged here"
					: "stored weather");
	snprintf(flag->fills, sizeof flag->fills, "%s saw new growth", dossier->tree.label);
	if (frosted->cause != NULL)
		proof_entry(out, flag, "", frosted->cause);
	else
		flag_evidence(out, flag, "minimum %s", frosted->night.whose);
}

/* The state: not yet. */
static void flag_wait(const struct dossier *dossier, const struct frosted *frosted,
	const struct fact_row *row, struct date today, struct flags *out)
{
	bool state = frosted->seen && look_may_alarm(row->sure);
	struct flag *flag =
		flags_add(out, "frosted-wait", dossier, state ? URGENCY_LEAVE : URGENCY_NOTE);
	char cause[120], when[32], why[FLAG_SAYS_SIZE], day[DATE_SIZE];

	say_cause(dossier, frosted, cause, sizeof cause);
	look_say(&flag->says, "%s: do not cut yet, not before %s: %s", cause,
		date_format_plain(frosted->until, when, sizeof when),
		look_ended(row->text, why, sizeof why));
	look_say(&flag->action,
		"Water it, feed nothing, leave dead leaves on: they shelter what lives. Log new "
		"growth when it shows; then cut back to it.");
	flag->began = known_date(frosted->day);
	settle(dossier, frosted, row, out, flag);
	flag_key_set(flag, 0,
		frosted->cause != NULL ? frosted->cause->id : date_format(frosted->day, day));
	flags_change_on(out, today, frosted->until);
}

static void flag_cut(const struct dossier *dossier, const struct entry *entry,
	const struct frosted *frosted, const struct fact_row *row, struct date today,
	struct flags *out)
{
	char cause[120], name[CUT_NAME_SIZE], when[32], why[FLAG_SAYS_SIZE];
	struct date day = {0};

	(void)look_day(entry, &day);
	enum urgency urgency =
		frosted->seen ? look_harm_urgency(day, today, row->sure) : URGENCY_NOTE;
	struct flag *flag = flags_add(out, "frosted-wait", dossier, urgency);
	say_cause(dossier, frosted, cause, sizeof cause);
	look_say(&flag->says, "%s, and the %s %s before growth can show what is dead: %s", cause,
		cut_name(entry, name, sizeof name), entry->asked ? "would come" : "came",
		look_ended(row->text, why, sizeof why));
	look_say(&flag->action,
		"%s before %s, or until new growth shows the line. Frost damage keeps "
		"showing for months, and dead twigs shelter the live ones in a second frost.",
		entry->asked ? "Do not cut" : "Cut no more",
		date_format_plain(frosted->until, when, sizeof when));
	flag->began = known_date(day);
	proof_entry(out, flag, "the cut", entry);
	settle(dossier, frosted, row, out, flag);
	flag_key_set(flag, 0, entry->id);
}

/* Broken by wind or snow: that goes at once. */
static bool is_torn(const struct entry *entry)
{
	static const char *const words[] = {"broken", "storm", "wind", "snow", NULL};
	bool torn = false;

	for (const char *const *word = words; *word != NULL; word++)
		torn = torn || cut_says(entry, *word);
	return torn;
}

static bool is_early_cut(const struct dossier *dossier, const struct entry *entry,
	struct date today, struct frosted *frosted)
{
	struct date day;

	if (entry->kind != KIND_CUT || entry_cut_kind(entry) == CUT_SUCKER || is_torn(entry) ||
		!look_day(entry, &day) || !date_span_is_exact(&entry->day) ||
		date_compare(day, today) > 0 || date_days_between(day, today) > FROST_CUT_DAYS)
		return false;
	if (dossier->host != NULL && strcmp(entry->subject.id, dossier->tree.id) != 0)
		return false;
	*frosted = frosted_on(dossier, day);
	return frosted->known && date_compare(day, frosted->until) < 0;
}

void rule_frosted_wait(const struct dossier *dossier, struct date today, struct flags *out)
{
	static const char *const told_by[] = {"flower-wood", "cut-in-wet-season", NULL};
	const struct fact_row *row = dossier->kind.species != NULL ? wait_row(dossier) : NULL;

	if (row == NULL || !window_place_has_dates(dossier->place))
		return;
	struct frosted now = frosted_on(dossier, today);
	if (now.known && date_compare(today, now.until) < 0)
		flag_wait(dossier, &now, row, today, out);
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		struct frosted frosted;

		if (is_early_cut(dossier, entry, today, &frosted) &&
			!cut_is_told(out, entry, told_by))
			flag_cut(dossier, entry, &frosted, row, today, out);
	}
}
