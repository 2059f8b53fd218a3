/* SPDX-License-Identifier: MIT */
/* Rules about feeding: due, too much, too late. */
#include <stdio.h>
#include <string.h>

#include "clash.h"
#include "core/text.h"
#include "cut_say.h"
#include "reckon/dose.h"

static const struct fact_row *growth_target(const struct dossier *dossier)
{
	return species_fact(dossier->kind.species, "growth-target-bearing");
}

/* The newest shoot growth logged within 18 months; unknown else. */
static struct maybe_i64 shoot_growth_um(const struct dossier *dossier, struct date today)
{
	struct maybe_i64 growth_um = {0};

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		struct date day;

		if (entry->kind != KIND_MEASURE || !look_day(entry, &day) ||
			date_days_between(day, today) > GROWTH_DAYS)
			continue;
		for (int32_t s = 0; s < entry->stem_count; s++)
			if (entry->stems[s].field == FIELD_SHOOT)
				growth_um = known_i64(
					(entry->stems[s].low_um + entry->stems[s].high_um) / 2);
	}
	return growth_um;
}

static bool cut_hard_lately(const struct dossier *dossier, struct date today)
{
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		struct date day;

		if (!look_is_shaping(entry) || !look_day(entry, &day) ||
			date_days_between(day, today) > HARD_CUT_DAYS)
			continue;
		struct share share = look_crown_share(dossier, entry);
		if (entry_cut_kind(entry) == CUT_RENOVATION ||
			(share.known && share.low * 1000.0 >= HARD_CUT_PERMILLE))
			return true;
	}
	return false;
}

/* Seen or cut out on a kind whose sources say that nitrogen feeds it. */
static bool blighted_lately(const struct dossier *dossier, struct date today)
{
	bool told = species_fact(dossier->kind.species, "blight-feed") != NULL;

	for (int32_t i = 0; told && i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		bool cut = entry->kind == KIND_CUT && cut_says(entry, "blight");
		bool saw = entry->kind == KIND_SAW && cut_says(entry, "blight") &&
			   !look_tells(entry, "no blight|no fire blight|no sign|no strikes");
		struct date day;

		if ((cut || saw) && look_day(entry, &day) &&
			date_days_between(day, today) <= BLIGHTED_DAYS)
			return true;
	}
	return false;
}

static bool frosted_lately(const struct dossier *dossier, struct date today)
{
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		struct date day;

		if (entry->kind == KIND_SAW && look_day(entry, &day) &&
			date_days_between(day, today) <= FROSTED_DAYS &&
			strstr(entry_detail(entry, FIELD_SUBJECT_SEEN), "frost") != NULL)
			return true;
	}
	return false;
}

/* In its first four years, and some published rate speaks of trees of that age. */
static bool feeds_young(const struct dossier *dossier)
{
	const struct species *species = dossier->kind.species;

	if (!dossier->age_high_years.known || dossier->age_high_years.value >= 4)
		return false;
	int32_t age = dossier->age_high_years.value;
	if (age == 0 && look_first_year_waits(dossier))
		return false;
	for (int32_t i = 0; i < species->feed_count; i++) {
		const struct feed_row *row = &species->feeds[i];
		bool from = !row->age_from.known || row->age_from.value <= age;
		bool to = !row->age_to.known || row->age_to.value >= age;

		if (from && to && (row->basis == FEED_PER_AGE_YEAR || row->age_to.known))
			return true;
	}
	return false;
}

bool look_feeds(const struct dossier *dossier, struct date today, const char **why_text)
{
	const struct species *species = dossier->kind.species;

	if (species == NULL || dossier->host != NULL)
		return false;
	const struct fact_row *target = growth_target(dossier);
	struct maybe_i64 growth_um = shoot_growth_um(dossier, today);
	if (growth_um.known && target != NULL && target->high.known &&
		growth_um.value > target->high.value)
		return false;
	if (cut_hard_lately(dossier, today) || frosted_lately(dossier, today) ||
		blighted_lately(dossier, today))
		return false;
	if (growth_um.known && target != NULL && target->low.known &&
		growth_um.value < target->low.value) {
		*why_text = "its shoots grew less than this kind should";
		return true;
	}
	if (look_seasons_with(dossier, KIND_FEED, look_work_year(dossier, today)) >= 2) {
		*why_text = "you fed it in earlier seasons";
		return true;
	}
	*why_text = "it is in its first four years";
	return feeds_young(dossier);
}

void rule_feed_due(const struct dossier *dossier, struct date today, struct flags *out)
{
	const char *why_text = "";
	char words[64], by[64], cause[DATE_SIZE];

	if (!look_feeds(dossier, today, &why_text))
		return;
	struct window window = dossier_window(dossier, WINDOW_FEED_CLEAR, today);
	if (!window.known || window.all_year)
		return;
	struct window_span span = window_span_at(&window, today);
	struct date early = date_add_days(span.from, -SOON_DAYS);
	flags_change_on(out, today, early);
	flags_change_on(out, today, span.from);
	flags_change_on(out, today, date_add_days(span.to, 1));
	if (date_compare(today, early) < 0 ||
		dossier_between(dossier, KIND_FEED, early, span.to, NULL, 0) > 0)
		return;
	enum urgency urgency = date_compare(today, span.from) < 0 ? URGENCY_SOON : URGENCY_DUE;
	bool quiet = window.row != NULL && window.basis != BASIS_OWN &&
		     !look_may_alarm(window.row->sure);
	bool bare = dossier->entry_count == 0; /* a tree only just typed in is no one's backlog */
	if (quiet || bare)
		urgency = URGENCY_NOTE;
	struct flag *flag = flags_add(out, "feed-due", dossier, urgency);
	if (bare) /* the young trees of a year are one line */
		snprintf(flag->fact, sizeof flag->fact, "feed %d", date_parts(span.to).year);
	look_set_window(flag, &window, span);
	look_say(&flag->says, "Time to feed: clear %s, %s; %s.",
		look_span(span.from, span.to, words, sizeof words), look_by(&window, by, sizeof by),
		why_text);
	look_say(&flag->action,
		"See what \"dose %s\" works out for this trunk, by which rule; spread it under the "
		"canopy, off the trunk, and water it in. The product label comes first.",
		dossier->tree.label);
	flag->began = known_date(span.from);
	flag->settles = KIND_FEED;
	snprintf(flag->fills, sizeof flag->fills, "%s fed ", dossier->tree.label);
	proof_habit(dossier, KIND_FEED, BY_WORK, look_work_year(dossier, today), out, flag);
	flag_evidence(out, flag, "no feed logged since %s",
		date_format_plain(early, words, sizeof words));
	flag_key_set(flag, look_work_year(dossier, span.to), date_format(span.from, cause));
}

/* Feeds of one season of work in the weeks to keep nitrogen away: one flag names them all. */
struct late {
	int32_t year;
	const struct entry *entries[FLAG_ENTRIES_MAX];
	struct date days[FLAG_ENTRIES_MAX];
	int32_t count;
	struct window avoid; /* of the newest */
};

/* In a time for feeding that the grower set: it stands before the almanac's weeks to wait. */
static bool is_own_time(const struct dossier *dossier, struct date day)
{
	struct window clear = dossier_window(dossier, WINDOW_FEED_CLEAR, day);

	return clear.known && clear.basis == BASIS_OWN && window_holds(&clear, day);
}

/* Weeks to keep nitrogen away; for an evergreen where winters freeze also those whose new growth
 * would be frosted, outside its time for feeding. */
static bool nitrogen_waits(const struct dossier *dossier, struct date day, struct window *weeks)
{
	enum winter_kind winter = dossier->place->winter;
	struct window clear = dossier_window(dossier, WINDOW_FEED_CLEAR, day);

	*weeks = dossier_window(dossier, WINDOW_FEED_AVOID, day);
	if (weeks->known && window_holds(weeks, day))
		return true;
	if (dossier->kind.species == NULL || !dossier->kind.species->evergreen ||
		(winter != WINTER_FROSTY && winter != WINTER_HARD) ||
		(clear.known && window_holds(&clear, day)))
		return false;
	*weeks = dossier_window(dossier, WINDOW_REGROWTH, day);
	return weeks->known && window_holds(weeks, day);
}

static const char *why_waits(const struct window *weeks)
{
	if (weeks->kind == WINDOW_REGROWTH)
		return "frost takes the new growth it would push";
	return weeks->row != NULL ? weeks->row->reason : "your own span";
}

bool look_feed_waits(const struct dossier *dossier, struct date day, char *out, size_t size)
{
	struct window weeks, clear = dossier_window(dossier, WINDOW_FEED_CLEAR, day);
	char why[FLAG_SAYS_SIZE], span_words[64], by[160];

	out[0] = '\0';
	if (!nitrogen_waits(dossier, day, &weeks) || is_own_time(dossier, day))
		return false;
	snprintf(out, size, "Not then: it falls in weeks to keep nitrogen away: %s",
		look_ended(why_waits(&weeks), why, sizeof why));
	if (clear.known) {
		struct window_span span = window_span_at(&clear, day);
		size_t used = strlen(out);

		snprintf(out + used, size - used, " Good for feeding: %s, %s.",
			look_span(span.from, span.to, span_words, sizeof span_words),
			look_by(&clear, by, sizeof by));
	}
	return true;
}

void look_tell_feed_calendars(const struct dossier *dossier, struct flags *out, struct flag *flag)
{
	const struct species *species = dossier->kind.species;
	char whose[240];

	for (int32_t i = 0; species != NULL && i < species->fact_count; i++) {
		const struct fact_row *row = &species->facts[i];

		if (strcmp(row->key, "feed-calendar") == 0)
			flag_evidence(out, flag, "another calendar: %s (%s)", row->text,
				clash_whose(row->said_by, row->sure, whose, sizeof whose));
	}
}

static bool late_feed(const struct dossier *dossier, const struct entry *entry, struct date today,
	struct date *day, struct window *avoid)
{
	if (entry->kind != KIND_FEED || !look_day(entry, day) ||
		date_days_between(*day, today) > LATE_FEED_DAYS)
		return false;
	if (!nitrogen_waits(dossier, *day, avoid))
		return false;
	struct date last = entry->day.high.known ? entry->day.high.value : *day;
	if (avoid->basis != BASIS_OWN && (is_own_time(dossier, *day) || is_own_time(dossier, last)))
		return false;
	return window_holds(avoid, last);
}

static void flag_late(const struct dossier *dossier, const struct late *late, struct date today,
	struct flags *out)
{
	const struct window *avoid = &late->avoid;
	struct date newest = late->days[late->count - 1];
	enum known_by sure = avoid->row != NULL ? avoid->row->sure : KNOWN_READ;
	bool harm = avoid->kind == WINDOW_FEED_AVOID;
	struct flag *flag = flags_add(out, "feed-late", dossier,
		harm ? look_harm_urgency(newest, today, sure) : URGENCY_NOTE);
	struct text_builder says = text_builder_fixed(flag->says, sizeof flag->says);
	bool asked = late->entries[late->count - 1]->asked;
	const char *fall = asked ? " would fall" : late->count > 1 ? " fall" : " falls";
	char words[FLAG_SAYS_SIZE];

	struct window_span span = window_span_before(avoid, newest);
	look_set_window(flag, avoid, span);
	text_add(&says, late->count > 1 ? "The feeds of " : "The feed of ");
	for (int32_t i = 0; i < late->count; i++) {
		text_add(&says, i == 0 ? "" : i == late->count - 1 ? " and " : ", ");
		text_add(&says, date_format_plain(late->days[i], words, sizeof words));
		proof_entry(out, flag, "the feed", late->entries[i]);
	}
	proof_window(avoid, span, out, flag);
	text_add_format(&says, "%s in the weeks to keep nitrogen away: %s", fall,
		look_ended(why_waits(avoid), words, sizeof words));
	look_say(&flag->action,
		"%s now and do not cut; be ready to cover soft growth on a frost night.",
		asked ? "Feed nothing" : "Feed no more");
	flag->began = known_date(late->days[0]);
	look_tell_feed_calendars(dossier, out, flag);
	flag_key_set(flag, late->year, late->entries[late->count - 1]->id);
}

void rule_feed_late(const struct dossier *dossier, struct date today, struct flags *out)
{
	struct late late = {0};

	if (dossier->kind.species == NULL || dossier->host != NULL)
		return;
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		struct window avoid;
		struct date day;

		if (!late_feed(dossier, dossier->entries[i], today, &day, &avoid))
			continue;
		int32_t year = look_work_year(dossier, day);
		if (late.count == FLAG_ENTRIES_MAX || (late.count > 0 && late.year != year)) {
			flag_late(dossier, &late, today, out);
			late.count = 0;
		}
		late.year = year;
		late.avoid = avoid;
		late.entries[late.count] = dossier->entries[i];
		late.days[late.count++] = day;
	}
	if (late.count > 0)
		flag_late(dossier, &late, today, out);
}
