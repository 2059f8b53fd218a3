/* SPDX-License-Identifier: MIT */
/* feed-over: the nitrogen of one season of work against published rates, which differ by region. */
#include <stdio.h>
#include <string.h>

#include "clash.h"
#include "reckon/dose.h"
#include "rules/given.h"

enum { HOME_MOST_MG = 453592 }; /* 1 lb N a tree a year: what home rules stop at */

static bool is_feed_of(
	const struct dossier *dossier, const struct entry *entry, int32_t year, struct date *day)
{
	return entry->kind == KIND_FEED && look_day(entry, day) &&
	       look_work_year(dossier, *day) == year;
}

struct feeds_given feeds_given(const struct dossier *dossier, struct date today)
{
	struct feeds_given given = {0};
	const int32_t year = look_work_year(dossier, today);
	struct date day, last = {0};

	for (int32_t i = 0; i < dossier->entry_count; i++)
		if (is_feed_of(dossier, dossier->entries[i], year, &day))
			last = day;
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];

		if (!is_feed_of(dossier, entry, year, &day) ||
			date_days_between(day, last) > ONE_YEAR_DAYS)
			continue;
		struct maybe_i64 nitrogen_mg =
			dose_nitrogen_of_entry(entry, dossier->products, dossier->product_count);
		given.last = entry;
		given.day = day;
		if (nitrogen_mg.known) {
			given.nitrogen_mg += nitrogen_mg.value;
			given.known++;
			if (given.entry_count < GIVEN_ENTRIES_MAX)
				given.entries[given.entry_count++] = entry;
		} else {
			given.unknown++;
		}
	}
	return given;
}

/* The lowest and the highest nitrogen a year that published rules give this tree, each by its upper
 * end. */
struct allowed {
	const struct dose *low;
	const struct dose *high;
	int64_t high_mg;
	const char *chosen; /* the source whose rates alone count here; NULL: none */
};

static bool is_yearly(const struct dose *dose)
{
	return dose->nitrogen_mg.known && dose->period == PERIOD_YEAR && dose->row != NULL;
}

/* The most a year by one rule: the upper end of a range. */
static int64_t most_of(const struct dose *dose)
{
	return dose->nitrogen_most_mg.known ? dose->nitrogen_most_mg.value
					    : dose->nitrogen_mg.value;
}

/* Beside rules of the kind itself, one for all kinds counts where it was read and gives no more
 * than home rules do: what rises with age without a cap is no measure beside rules of its own. */
static bool counts_beside(const struct dose *dose)
{
	return dose->row->sure == KNOWN_READ && most_of(dose) <= HOME_MOST_MG;
}

/* From the lowest of the rules of the kind itself, by their upper ends, to the highest of them and
 * of those for all kinds; where it has none, those for all kinds. */
static struct allowed allowed_by_rules(const struct dose *doses, int32_t count)
{
	struct allowed allowed = {NULL, NULL, 0, NULL};
	bool of_kind = false;

	for (int32_t i = 0; i < count; i++)
		of_kind = of_kind || (is_yearly(&doses[i]) && !doses[i].row->all_kinds);
	for (int32_t i = 0; i < count; i++) {
		const struct dose *dose = &doses[i];
		bool beside = of_kind && is_yearly(dose) && dose->row->all_kinds;

		if (!is_yearly(dose) || (beside && !counts_beside(dose)))
			continue;
		if (!beside && (allowed.low == NULL || most_of(dose) < most_of(allowed.low)))
			allowed.low = dose;
		if (allowed.high == NULL || most_of(dose) > allowed.high_mg) {
			allowed.high = dose;
			allowed.high_mg = most_of(dose);
		}
	}
	return allowed;
}

static const char *region_of(const struct dose *dose)
{
	return dose->region[0] != '\0' ? dose->region : dose->rule;
}

/* "1 oz an age year, 6 years": a rate with what it was taken times. */
static void say_rate(const struct dossier *dossier, const struct dose *dose, char *out, size_t size)
{
	enum unit_system units = dossier->place->units;
	const struct feed_row *row = dose->row;
	char rate[32], to[40] = "", across[32], times[64] = "";

	mass_format(row->rate_mg, units, rate, sizeof rate);
	if (row->rate_to_mg.known)
		snprintf(to, sizeof to, " to %s",
			mass_format(row->rate_to_mg.value, units, across, sizeof across));
	switch (row->basis) {
	case FEED_PER_INCH:
		snprintf(times, sizeof times, " an inch of trunk, %s across",
			length_format(dossier->trunk.diameter_um, units, across, sizeof across));
		break;
	case FEED_PER_AGE_YEAR:
		snprintf(times, sizeof times, " a year of age, %d years",
			dossier->age_high_years.value);
		break;
	case FEED_PER_TREE:
		snprintf(times, sizeof times, " a tree");
		break;
	case FEED_PER_FEED:
		snprintf(times, sizeof times, " a feed");
		break;
	case FEED_PER_AREA:
		snprintf(times, sizeof times, " for 1000 sq ft under the crown");
		break;
	}
	snprintf(out, size, "%s%s of %s%s%s", rate, to,
		row->of_nitrogen ? "actual N" : "the product it names", times,
		dose->capped ? ", at its cap" : "");
}

static void tell_rate(const struct dossier *dossier, const struct dose *dose, struct flags *out,
	struct flag *flag)
{
	enum unit_system units = dossier->place->units;
	char rate[200], nitrogen[32], most[32], to[40] = "", whose[240];

	say_rate(dossier, dose, rate, sizeof rate);
	if (dose->nitrogen_most_mg.known)
		snprintf(to, sizeof to, " to %s",
			mass_format(dose->nitrogen_most_mg.value, units, most, sizeof most));
	flag_evidence(out, flag, "%s: %s%s a year of actual N (%s)", rate,
		mass_format(dose->nitrogen_mg.value, units, nitrogen, sizeof nitrogen), to,
		clash_whose(dose->row->said_by, dose->row->sure, whose, sizeof whose));
}

/* What was given, the rates it is held against, and how to say whose rate counts here. */
static void explain_over(const struct dossier *dossier, const struct feeds_given *given,
	const struct allowed *allowed, struct flags *out, struct flag *flag)
{
	char sum[32], more[48] = "";

	mass_format(given->nitrogen_mg, dossier->place->units, sum, sizeof sum);
	if (given->unknown > 0)
		snprintf(more, sizeof more, "; %d more without a figure", given->unknown);
	flag_evidence(out, flag, "given: %s of actual N in %d feed%s%s", sum, given->known,
		given->known == 1 ? "" : "s", more);
	tell_rate(dossier, allowed->high, out, flag);
	if (allowed->low != allowed->high)
		tell_rate(dossier, allowed->low, out, flag);
	if (allowed->chosen != NULL)
		flag_evidence(out, flag,
			"this place follows %s (own choice): own list shows it with the id to "
			"remove it by",
			allowed->chosen);
	else if (strcmp(allowed->low->row->source, allowed->high->row->source) != 0)
		flag_evidence(out, flag, "to go by one of them here: own choice feed-over %s or %s",
			allowed->low->row->source, allowed->high->row->source);
}

static void say_over(const struct dossier *dossier, const struct feeds_given *given,
	const struct allowed *allowed, bool above_all, struct flag *flag)
{
	enum unit_system units = dossier->place->units;
	const char *so = given->last->asked ? "would be given" : "given";
	bool differ = allowed->low != allowed->high;
	char sum[32], low[32], high[32], lowest[96] = "";

	mass_format(given->nitrogen_mg, units, sum, sizeof sum);
	mass_format(most_of(allowed->low), units, low, sizeof low);
	mass_format(allowed->high_mg, units, high, sizeof high);
	if (differ)
		snprintf(lowest, sizeof lowest, ", the lowest %s (%s)", low,
			region_of(allowed->low));
	if (above_all)
		look_say(&flag->says,
			"%s of actual N %s this season; the %s for this tree is %s a year "
			"(%s)%s.",
			sum, so,
			allowed->chosen != NULL ? "rate this place follows"
						: "highest published rate",
			high, region_of(allowed->high), lowest);
	else
		look_say(&flag->says,
			"%s of actual N %s this season%s between published rates: %s a year "
			"(%s) and %s (%s).",
			sum, so, given->last->asked ? ", which lies" : " lies", low,
			region_of(allowed->low), high, region_of(allowed->high));
}

static void flag_over(const struct dossier *dossier, const struct feeds_given *given,
	const struct allowed *allowed, int32_t year, struct date today, struct flags *out)
{
	bool above_all = given->nitrogen_mg > allowed->high_mg;
	enum urgency urgency = URGENCY_NOTE;

	if (above_all)
		urgency = look_harm_urgency(given->day, today, allowed->high->row->sure);
	struct flag *flag = flags_add(out, "feed-over", dossier, urgency);
	say_over(dossier, given, allowed, above_all, flag);
	look_say(&flag->action, "%s%s",
		above_all && given->last->asked ? "Give less, or none this season. "
		: above_all ? "Give no more nitrogen this season; water deeply. "
			    : "Regions differ: say whose rate you follow (own choice feed-over "
			      "SOURCE). ",
		"Late soft growth is what frost and blight take first.");
	flag->began = known_date(given->day);
	flag->source = allowed->high->row->source;
	snprintf(flag->basis, sizeof flag->basis, "%s",
		allowed->chosen != NULL ? "almanac, by the source this place follows"
					: "almanac, by this trunk");
	for (int32_t i = 0; i < given->entry_count; i++)
		proof_entry(out, flag, "the feed", given->entries[i]);
	explain_over(dossier, given, allowed, out, flag);
	flag_key_set(flag, year, "nitrogen");
}

/* Where the place follows a source that has a yearly rate for this tree, the others are silent.
 * Returns that source. */
static const char *keep_chosen(const struct dossier *dossier, struct dose *doses, int32_t count)
{
	const char *chosen = clash_chosen(dossier, "feed-over");
	bool has = false;

	for (int32_t i = 0; chosen != NULL && i < count; i++)
		has = has || (is_yearly(&doses[i]) && strcmp(doses[i].row->source, chosen) == 0);
	for (int32_t i = 0; has && i < count; i++)
		if (doses[i].row != NULL && strcmp(doses[i].row->source, chosen) != 0)
			doses[i].nitrogen_mg.known = false;
	return has ? chosen : NULL;
}

void rule_feed_over(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct species *species = dossier->kind.species;
	struct dose *doses = NULL;

	if (species == NULL || dossier->host != NULL)
		return;
	int32_t year = look_work_year(dossier, today);
	struct feeds_given given = feeds_given(dossier, today);
	if (given.known == 0)
		return;
	struct dose_inputs inputs = {.species = species,
		.trunk = dossier->trunk,
		.age_years = dossier->age_high_years,
		.tree_id = dossier->tree.id,
		.rates = dossier->own_rates,
		.rate_count = dossier->own_rate_count};
	int32_t count = dose_rows(&inputs, out->arena, &doses);
	const char *chosen = keep_chosen(dossier, doses, count);
	struct allowed allowed = allowed_by_rules(doses, count);
	allowed.chosen = chosen;
	if (allowed.low != NULL && given.nitrogen_mg > most_of(allowed.low))
		flag_over(dossier, &given, &allowed, year, today, out);
}
