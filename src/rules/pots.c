/* SPDX-License-Identifier: MIT */
/* Rules about trees in containers: a pot too small to bear in, a pot outgrown. */
#include <stdio.h>
#include <string.h>

#include "look.h"

/* Roots seen without room are work for this long, and are told for this long (common practice). */
enum { ROOTS_DUE_DAYS = 60, ROOTS_DAYS = 400 };

/* Nursery gallons run small: what holds four fifths of the figure is the pot that is meant. */
static bool is_too_small(const struct dossier *dossier, const struct fact_row *least)
{
	return least != NULL && least->low.known && dossier->spot->volume_ul.known &&
	       dossier->spot->volume_ul.value < least->low.value / 5 * 4;
}

static bool in_container(const struct dossier *dossier)
{
	return dossier->host == NULL && dossier->spot != NULL &&
	       dossier->spot->kind == SPOT_CONTAINER;
}

/* Of an age to bear, or picked already: a small pot is right for a tree on its way. */
static bool should_bear(const struct dossier *dossier)
{
	const struct fact_row *years = species_fact(dossier->kind.species, "years-to-crop");

	for (int32_t i = 0; i < dossier->entry_count; i++)
		if (dossier->entries[i]->kind == KIND_PICK)
			return true;
	return years != NULL && years->low.known && dossier->age_low_years.known &&
	       dossier->age_low_years.value >= years->low.value;
}

static const char *const roots_out =
	"roots circling|circling roots|roots circle|roots at the drain|"
	"roots out of the pot|roots out of the drain|roots at the bottom|"
	"roots through the drain|roots through the bottom|roots out|"
	"root bound|rootbound|pot bound|potbound|roots in the drain";

/* The last time it got fresh room; NULL where that was never logged. */
static const struct entry *potting(const struct dossier *dossier)
{
	const struct entry *potted = NULL;
	struct date day;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];

		if ((entry->kind == KIND_POT_UP || entry->kind == KIND_PLANT) &&
			look_day(entry, &day))
			potted = entry;
	}
	return potted;
}

static struct maybe_date potted_on(const struct dossier *dossier)
{
	const struct entry *potted = potting(dossier);

	return potted != NULL ? date_span_first(&potted->day) : (struct maybe_date){0};
}

/* Roots seen out of room since then; NULL none. */
static const struct entry *roots_seen(const struct dossier *dossier, struct maybe_date potted)
{
	const struct entry *seen = NULL;
	struct date day;

	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];

		if ((entry->kind == KIND_SAW || entry->kind == KIND_NOTE) &&
			look_day(entry, &day) &&
			(!potted.known || date_compare(day, potted.value) > 0) &&
			look_tells(entry, roots_out))
			seen = entry;
	}
	return seen;
}

static void settle_by_potting(const struct dossier *dossier, struct flag *flag)
{
	flag->settles = KIND_POT_UP;
	snprintf(flag->fills, sizeof flag->fills, "%s potted up ", dossier->tree.label);
}

void rule_pot_small(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct species *species = dossier->kind.species;
	char has[32], wants[32], cause[32];

	(void)today;
	if (species == NULL || !in_container(dossier))
		return;
	const struct number_rules rules = {
		dossier->place->units, dossier->place->gallon, dossier->place->numbers};
	const struct fact_row *least = species_fact(species, "container-minimum");
	if (!is_too_small(dossier, least) || !should_bear(dossier) ||
		roots_seen(dossier, potted_on(dossier)) != NULL)
		return;
	struct flag *flag = flags_add(out, "pot-small", dossier, URGENCY_NOTE);
	look_say(&flag->says, "Its pot holds %s; to bear, this kind wants about %s.",
		volume_format(dossier->spot->volume_ul.value, &rules, has, sizeof has),
		volume_format(least->low.value, &rules, wants, sizeof wants));
	look_say(&flag->action,
		"Pot it up when you next can, or count on little fruit and water often. A full pot "
		"is heavy: do not lift it alone.");
	flag->source = least->source;
	snprintf(flag->basis, sizeof flag->basis, "almanac");
	settle_by_potting(dossier, flag);
	if (potting(dossier) != NULL)
		proof_entry(out, flag, "", potting(dossier));
	flag_evidence(
		out, flag, "asked under four fifths of the figure, once it is of an age to bear");
	snprintf(cause, sizeof cause, "%lld", (long long)dossier->spot->volume_ul.value);
	flag_key_set(flag, 0, cause);
}

static void flag_roots(const struct dossier *dossier, const struct entry *seen, struct date today,
	struct flags *out)
{
	struct date day = {0};
	char when[24];

	(void)look_day(seen, &day);
	flags_change_on(out, today, date_add_days(day, ROOTS_DUE_DAYS + 1));
	flags_change_on(out, today, date_add_days(day, ROOTS_DAYS + 1));
	int32_t ago = date_days_between(day, today);
	if (ago > ROOTS_DAYS)
		return;
	struct flag *flag = flags_add(
		out, "pot-up-due", dossier, ago <= ROOTS_DUE_DAYS ? URGENCY_DUE : URGENCY_NOTE);
	look_say(&flag->says, "Roots had no more room on %s.",
		date_format_plain(day, when, sizeof when));
	look_say(&flag->action,
		"Move it to the next size of pot, or cut the outer roots back and give it fresh "
		"mix; "
		"free roots that go round. A full pot is heavy: do not lift it alone.");
	flag->began = known_date(day);
	settle_by_potting(dossier, flag);
	proof_entry(out, flag, "", seen);
	flag_key_set(flag, 0, seen->id);
}

void rule_pot_up_due(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct species *species = dossier->kind.species;
	char when[24], cause[DATE_SIZE];

	if (!in_container(dossier))
		return;
	struct maybe_date potted = potted_on(dossier);
	const struct entry *seen = roots_seen(dossier, potted);
	if (seen != NULL) {
		flag_roots(dossier, seen, today, out);
		return;
	}
	const struct fact_row *years = species == NULL ? NULL : species_fact(species, "pot-years");
	if (!potted.known || years == NULL || !years->high.known)
		return;
	struct date due = look_years_after(potted.value, (int32_t)years->high.value);
	flags_change_on(out, today, due);
	if (date_compare(today, due) < 0 ||
		(is_too_small(dossier, species_fact(species, "container-minimum")) &&
			should_bear(dossier)))
		return;
	struct flag *flag = flags_add(out, "pot-up-due", dossier, URGENCY_NOTE);
	look_say(&flag->says, "In the same pot and mix since %s.",
		date_format_plain(potted.value, when, sizeof when));
	look_say(&flag->action,
		"Slip it out and look: where roots go round, give it a larger pot, or cut them "
		"back "
		"and give it fresh mix. A full pot is heavy: do not lift it alone.");
	flag->began = known_date(due);
	flag->source = years->source;
	settle_by_potting(dossier, flag);
	proof_entry(out, flag, "", potting(dossier));
	snprintf(flag->basis, sizeof flag->basis, "almanac");
	flag_evidence(
		out, flag, "looked at after %lld years in one pot", (long long)years->high.value);
	flag_key_set(flag, 0, date_format(potted.value, cause));
}
