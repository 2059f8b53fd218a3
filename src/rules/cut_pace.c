/* SPDX-License-Identifier: MIT */
/* How fast: an old tree brought back in fewer years than the sources take (renovation-pace), a tall
 * one lowered too much at once or below the height that was set (height-pace). */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "cut_say.h"

static const char *const told_by[] = {"flower-wood", "cut-too-much", NULL};

/* --- renovation-pace --- */

/* The renovation of one season of work. */
struct renovation {
	int32_t parts_done; /* different parts of the same number of parts */
	int32_t parts;      /* 0 none said */
	double share;       /* of the crown, low end, joined */
	bool share_known;
	const struct entry *entries[FLAG_ENTRIES_MAX];
	int32_t count;
	struct date last;
};

static int32_t whole(const struct amount *amount)
{
	return amount != NULL && amount->low.known ? (int32_t)(amount->low.value / 1000) : 0;
}

static bool is_renovation(const struct entry *entry)
{
	return entry_cut_kind(entry) == CUT_RENOVATION ||
	       (look_is_shaping(entry) && whole(entry_amount(entry, FIELD_PARTS)) > 1);
}

static bool has_part(const struct renovation *work, int32_t part, int32_t parts)
{
	for (int32_t i = 0; i < work->count; i++)
		if (whole(entry_amount(work->entries[i], FIELD_PART)) == part &&
			whole(entry_amount(work->entries[i], FIELD_PARTS)) == parts)
			return true;
	return false;
}

static void add_work(
	const struct dossier *dossier, struct renovation *work, const struct entry *entry)
{
	int32_t part = whole(entry_amount(entry, FIELD_PART));
	int32_t parts = whole(entry_amount(entry, FIELD_PARTS));
	struct share share = look_crown_share(dossier, entry);

	if (parts > 1) {
		if (work->parts != parts)
			work->parts_done = 0;
		work->parts_done += !has_part(work, part, parts);
		work->parts = parts;
	}
	if (share.known) {
		work->share = 1.0 - (1.0 - work->share) * (1.0 - share.low);
		work->share_known = true;
	}
	if (work->count < FLAG_ENTRIES_MAX)
		work->entries[work->count++] = entry;
}

static bool is_work_of(const struct dossier *dossier, const struct entry *entry, int32_t year,
	struct date today, struct date *day)
{
	return cut_to_judge(dossier, entry, today, PACE_DAYS, day) && is_renovation(entry) &&
	       look_work_year(dossier, *day) == year;
}

static struct renovation renovation_in(
	const struct dossier *dossier, int32_t year, struct date today)
{
	struct renovation work = {0};
	struct date day;

	for (int32_t i = 0; i < dossier->entry_count; i++)
		if (is_work_of(dossier, dossier->entries[i], year, today, &day))
			work.last = day;
	for (int32_t i = 0; i < dossier->entry_count; i++)
		if (is_work_of(dossier, dossier->entries[i], year, today, &day) &&
			date_days_between(day, work.last) <= ONE_YEAR_DAYS)
			add_work(dossier, &work, dossier->entries[i]);
	return work;
}

/* What is too fast about it, in words; "" nothing. years: that the source takes at least. */
static const char *too_fast(const struct renovation *work, int32_t years, char *out, size_t size)
{
	bool asked = work->entries[work->count - 1]->asked;
	const char *came = asked ? "would come" : "came";

	out[0] = '\0';
	if (work->parts_done > 1)
		snprintf(out, size, "%d of %d parts of the renovation %s off in one season",
			work->parts_done, work->parts, came);
	else if (work->parts > 1 && work->parts < years)
		snprintf(out, size, "the renovation is planned in %d parts", work->parts);
	else if (work->share_known && work->share > 1.0 / years + 0.005)
		snprintf(out, size, "%.0f %% of the crown %s off in one season of renovation",
			work->share * 100.0, came);
	return out;
}

static void flag_renovation(const struct dossier *dossier, const struct renovation *work,
	const struct fact_row *row, const char *what, int32_t year, struct date today,
	struct flags *out)
{
	struct flag *flag = flags_add(
		out, "renovation-pace", dossier, look_harm_urgency(work->last, today, row->sure));
	char why[FLAG_SAYS_SIZE], first[FLAG_SAYS_SIZE];

	look_sentence(what, first, sizeof first);
	look_say(&flag->says, "%s The advice: %s", first, look_ended(row->text, why, sizeof why));
	look_say(&flag->action,
		"Leave the rest until the next clear season; no nitrogen, thin the water shoots in "
		"summer and keep the best placed, shade bark that is newly in the sun.");
	flag->began = known_date(work->last);
	flag->source = row->source;
	snprintf(flag->basis, sizeof flag->basis, "almanac");
	snprintf(flag->fills, sizeof flag->fills, "%s plan cut renovation ", dossier->tree.label);
	for (int32_t i = 0; i < work->count; i++) {
		proof_entry(out, flag, "the cut", work->entries[i]);
	}
	flag_evidence(out, flag, "held against it: %lld years at least, one part a year",
		(long long)row->low.value);
	flag_key_set(flag, year, "pace");
}

void rule_renovation_pace(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct fact_row *row =
		dossier->kind.species != NULL
			? species_fact(dossier->kind.species, "renovation-years")
			: NULL;
	char what[FLAG_SAYS_SIZE];

	if (row == NULL || !row->low.known || dossier->host != NULL)
		return;
	int32_t year = look_work_year(dossier, today);
	for (int32_t at = year - 1; at <= year; at++) {
		struct renovation work = renovation_in(dossier, at, today);

		if (work.count == 0 ||
			too_fast(&work, (int32_t)row->low.value, what, sizeof what)[0] == '\0' ||
			cut_is_told(out, work.entries[work.count - 1], told_by))
			continue;
		flag_renovation(dossier, &work, row, what, at, today, out);
	}
}

/* --- height-pace --- */

enum { MEASURE_BEFORE_DAYS = 3 * 365, MEASURE_AFTER_DAYS = 60 };

/* A height, and the entry that tells it. */
struct height {
	bool known;
	int64_t um;
	struct date day;
	const struct entry *entry;
};

/* What an entry says of how tall the tree stands: measured, or left by a cut. */
static bool height_of(const struct entry *entry, struct height *height)
{
	const struct amount *left = entry_amount(entry, FIELD_HEIGHT);

	if (!look_day(entry, &height->day))
		return false;
	height->entry = entry;
	if (entry->kind == KIND_CUT && left != NULL && left->low.known) {
		height->um = left->low.value;
		return true;
	}
	for (int32_t s = 0; entry->kind == KIND_MEASURE && s < entry->stem_count; s++)
		if (entry->stems[s].field == FIELD_HEIGHT) {
			height->um = (entry->stems[s].low_um + entry->stems[s].high_um) / 2;
			return true;
		}
	return false;
}

/* One season's lowering: from the last height before its first height cut to the height after. */
struct lowering {
	struct height before;
	struct height after;
	const struct entry *first;
	const struct entry *cut; /* the last of the season */
	struct date from;
	struct date day;
};

static bool find_cuts(
	const struct dossier *dossier, int32_t year, struct date today, struct lowering *lowering)
{
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		struct date day;

		if (!cut_to_judge(dossier, entry, today, PACE_DAYS, &day) ||
			(entry_cut_kind(entry) != CUT_HEIGHT &&
				entry_amount(entry, FIELD_HEIGHT) == NULL) ||
			look_work_year(dossier, day) != year)
			continue;
		if (lowering->first == NULL) {
			lowering->first = entry;
			lowering->from = day;
		}
		lowering->cut = entry;
		lowering->day = day;
	}
	return lowering->cut != NULL;
}

static void find_heights(const struct dossier *dossier, struct lowering *lowering)
{
	bool past = false;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		struct height height = {.known = true};

		past = past || dossier->entries[i] == lowering->first;
		if (!height_of(dossier->entries[i], &height))
			continue;
		if (!past && date_days_between(height.day, lowering->from) <= MEASURE_BEFORE_DAYS)
			lowering->before = height;
		if (past && date_days_between(lowering->day, height.day) <= MEASURE_AFTER_DAYS &&
			(date_compare(height.day, lowering->day) > 0 ||
				height.entry == lowering->cut))
			lowering->after = height;
	}
}

/* A trim of a fifth of its height a year is upkeep. Of more, no more of what stands above the
 * height wanted than the source takes in a year; with no height set, no more than a third of the
 * tree: both common practice where the source is silent. */
static bool lowered_too_fast(
	const struct dossier *dossier, const struct lowering *lowering, int32_t years)
{
	int64_t before = lowering->before.um;
	int64_t taken = before - lowering->after.um;
	struct maybe_i64 target = dossier->tree.target_height_um;

	if (!lowering->before.known || !lowering->after.known || taken * 5 <= before)
		return false;
	if (target.known && target.value < before)
		return taken * years > before - target.value;
	return taken * 3 > before;
}

static bool below_target(const struct dossier *dossier, const struct lowering *lowering)
{
	struct maybe_i64 target = dossier->tree.target_height_um;

	return target.known && lowering->after.known && lowering->after.um * 10 < target.value * 9;
}

static void say_lowering(const struct dossier *dossier, const struct lowering *lowering, bool fast,
	bool low, const struct fact_row *row, struct flag *flag)
{
	enum unit_system units = dossier->place->units;
	struct text_builder says = text_builder_fixed(flag->says, sizeof flag->says);
	char from[32], to[32], target[32], why[FLAG_SAYS_SIZE];

	length_format(lowering->after.um, units, to, sizeof to);
	length_format(dossier->tree.target_height_um.value, units, target, sizeof target);
	if (fast)
		text_add_format(&says, "%s from %s to %s in one season. The advice: %s",
			lowering->cut->asked ? "It would be lowered" : "Lowered",
			length_format(lowering->before.um, units, from, sizeof from), to,
			look_ended(row->text, why, sizeof why));
	if (low)
		text_add_format(&says, "%s%s is below the height you set, %s.", fast ? " " : "", to,
			target);
}

static void flag_lowering(const struct dossier *dossier, const struct lowering *lowering,
	const struct fact_row *row, int32_t year, struct flags *out)
{
	bool low = below_target(dossier, lowering);
	bool fast = lowered_too_fast(dossier, lowering, (int32_t)row->low.value);
	struct flag *flag = flags_add(out, "height-pace", dossier, URGENCY_NOTE);

	say_lowering(dossier, lowering, fast, low, row, flag);
	look_say(&flag->action,
		"%s this year; no nitrogen; rub off shoots that rush up from the "
		"cuts in early summer, and shade bark that is newly in the sun.",
		lowering->cut->asked ? "Take less" : "Lower it no more");
	flag->began = known_date(lowering->day);
	flag->source = row->source;
	snprintf(flag->basis, sizeof flag->basis, "%s",
		dossier->tree.target_height_um.known ? "the height you set" : "almanac");
	if (lowering->before.known)
		proof_entry(out, flag, "the height before", lowering->before.entry);
	proof_entry(out, flag, "the height after", lowering->after.entry);
	if (lowering->cut != lowering->after.entry)
		proof_entry(out, flag, "the cut", lowering->cut);
	flag_key_set(flag, year, "height");
}

void rule_height_pace(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct fact_row *row = dossier->kind.species != NULL
					     ? species_fact(dossier->kind.species, "height-years")
					     : NULL;

	if (row == NULL || !row->low.known || dossier->host != NULL)
		return;
	int32_t year = look_work_year(dossier, today);
	for (int32_t at = year - 1; at <= year; at++) {
		struct lowering lowering = {.first = NULL};

		if (!find_cuts(dossier, at, today, &lowering))
			continue;
		find_heights(dossier, &lowering);
		if (cut_is_told(out, lowering.cut, told_by) || !lowering.after.known ||
			!(lowered_too_fast(dossier, &lowering, (int32_t)row->low.value) ||
				below_target(dossier, &lowering)))
			continue;
		flag_lowering(dossier, &lowering, row, at, out);
	}
}
