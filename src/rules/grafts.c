/* SPDX-License-Identifier: MIT */
/* Rules about what is being raised: grafts to look at, seeds that must not dry. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "look.h"

/* --- graft-check: the grafts of one day are one piece of work, told at their host --- */

struct graft_weeks {
	struct date from;
	struct date to;
	const struct fact_row *fact;
};

static bool weeks_of(const struct dossier *host, const struct dossier *graft, struct date *made,
	struct graft_weeks *weeks)
{
	const struct species *species =
		graft->kind.species != NULL ? graft->kind.species : host->kind.species;

	if (species == NULL || !date_span_is_exact(&graft->tree.planted))
		return false;
	weeks->fact = species_fact(species, "graft-check");
	if (weeks->fact == NULL || !weeks->fact->low.known || !weeks->fact->high.known)
		return false;
	*made = graft->tree.planted.low.value;
	weeks->from = date_add_days(*made, 7 * (int32_t)weeks->fact->low.value);
	weeks->to = date_add_days(*made, 7 * (int32_t)weeks->fact->high.value);
	return true;
}

static bool is_within(const struct entry *entry, const struct graft_weeks *weeks)
{
	struct date day;

	return look_day(entry, &day) && date_days_between(weeks->from, day) >= -SOON_DAYS &&
	       date_compare(day, weeks->to) <= 0;
}

/* Anything logged of the graft itself was a look at it; of the host, where it speaks of grafts. */
static bool was_looked_at(
	const struct dossier *host, const struct dossier *graft, const struct graft_weeks *weeks)
{
	for (int32_t i = 0; i < graft->entry_count; i++)
		if (strcmp(graft->entries[i]->subject.id, graft->tree.id) == 0 &&
			is_within(graft->entries[i], weeks))
			return true;
	for (int32_t i = 0; i < host->entry_count; i++)
		if ((host->entries[i]->kind == KIND_SAW || host->entries[i]->kind == KIND_NOTE) &&
			is_within(host->entries[i], weeks) &&
			look_tells(host->entries[i], "graft|grafts|scion|scions|tie|ties|bud|buds"))
			return true;
	return false;
}

static void flag_grafts(const struct dossier *host, const struct dossier *const *grafts,
	int32_t count, struct date made, const struct graft_weeks *weeks, struct flags *out)
{
	struct flag *flag = flags_add(out, "graft-check", host, URGENCY_DUE);
	char names[200], when[24], cause[DATE_SIZE], span[64];
	struct text_builder list = text_builder_fixed(names, sizeof names);

	for (int32_t i = 0; i < count; i++)
		text_add_format(&list, "%s%s", i == 0 ? "" : ", ", grafts[i]->tree.label);
	look_say(&flag->says, "Grafted on %s (%s): by now it shows whether %s took.",
		date_format_plain(made, when, sizeof when), names, count > 1 ? "they" : "it");
	look_say(&flag->action,
		"Look for growth, and loosen ties before they cut in; log what you see, or that it "
		"died (%s died).",
		grafts[0]->tree.label);
	flag->began = known_date(weeks->from);
	flag->window_from = known_date(weeks->from);
	flag->window_to = known_date(weeks->to);
	flag->source = weeks->fact->source;
	snprintf(flag->basis, sizeof flag->basis, "almanac");
	flag->settles = KIND_SAW;
	snprintf(flag->fills, sizeof flag->fills, "%s saw ", grafts[0]->tree.label);
	for (int32_t i = 0; i < host->entry_count; i++) {
		const struct entry *entry = host->entries[i];

		if (entry->kind == KIND_GRAFT && date_span_is_exact(&entry->day) &&
			date_compare(entry->day.low.value, made) == 0)
			proof_entry(out, flag, "", entry);
	}
	flag_evidence(out, flag, "%lld to %lld weeks after grafting, by the almanac: %s",
		(long long)weeks->fact->low.value, (long long)weeks->fact->high.value,
		look_span(weeks->from, weeks->to, span, sizeof span));
	flag_key_set(flag, 0, date_format(made, cause));
}

void rule_graft_check(const struct dossier *dossier, struct date today, struct flags *out)
{
	enum { TOGETHER_MAX = 12 };
	const struct dossier *together[TOGETHER_MAX];
	struct graft_weeks weeks = {.fact = NULL};
	struct date made, other;

	if (dossier->host != NULL)
		return;
	for (int32_t i = 0; i < dossier->graft_count; i++) {
		int32_t count = 0;
		bool told = false;

		if (!weeks_of(dossier, dossier->grafts[i], &made, &weeks))
			continue;
		flags_change_on(out, today, weeks.from);
		flags_change_on(out, today, date_add_days(weeks.to, 1));
		if (date_compare(today, weeks.from) < 0 || date_compare(today, weeks.to) > 0)
			continue;
		for (int32_t k = 0; k < dossier->graft_count && count < TOGETHER_MAX; k++) {
			struct graft_weeks same;

			if (!weeks_of(dossier, dossier->grafts[k], &other, &same) ||
				date_compare(other, made) != 0 ||
				was_looked_at(dossier, dossier->grafts[k], &same))
				continue;
			told = told || k < i;
			together[count++] = dossier->grafts[k];
		}
		if (count > 0 && !told && together[0] == dossier->grafts[i])
			flag_grafts(dossier, together, count, made, &weeks, out);
	}
}

/* --- seed-drying: seeds of kinds whose seeds die when they dry --- */

static const char *const seeds_taken =
	"took seed|took seeds|took the seeds|seed taken|seeds taken|saved seed|saved seeds|"
	"saved the seeds|seed saved|seeds saved|kept seed|kept seeds|kept the seeds|seeds kept|"
	"collected seed|collected seeds|seeds collected|washed seeds|washed the seeds|seeds washed|"
	"cleaned seeds|seed for sowing|seeds for sowing|seeds to sow|seed to sow|nuts for sowing|"
	"nuts to sow|saved nuts|nuts saved|pits to sow|stones to sow";

/* Does the sowing speak of another tree of the yard, or of its kind? */
static bool names_another(
	const struct dossier *dossier, const struct entry *sowing, struct flags *out)
{
	if (!look_has_neighbours(dossier, out))
		return false;
	for (int32_t i = 0; i < dossier->neighbour_count; i++) {
		const struct neighbour *other = &dossier->neighbours[i];

		if (strcmp(other->tree_id, dossier->tree.id) == 0)
			continue;
		if (look_names(sowing, other->label) ||
			(other->kind.species != NULL &&
				look_names(sowing, other->kind.species->name)))
			return true;
	}
	return false;
}

/* Sown since: said of the tree, or told in the sowing by its label or kind, or with nothing said of
 * whence the seeds were. */
static bool is_sown(const struct dossier *dossier, const struct entry *sowing, struct date taken,
	struct flags *out)
{
	struct date day;

	if (!look_day(sowing, &day) || date_compare(day, taken) < 0)
		return false;
	return strcmp(sowing->subject.id, dossier->tree.id) == 0 ||
	       look_names(sowing, dossier->tree.label) ||
	       look_names(sowing, dossier->kind.species->name) ||
	       !names_another(dossier, sowing, out);
}

static bool were_sown(
	const struct dossier *dossier, struct date taken, struct date today, struct flags *out)
{
	bool sown = false;
	struct date day;

	for (int32_t i = 0; i < dossier->sowing_count; i++) {
		if (!is_sown(dossier, dossier->sowings[i], taken, out) ||
			!look_day(dossier->sowings[i], &day))
			continue;
		flags_change_on(out, today, day);
		sown = sown || date_compare(day, today) <= 0;
	}
	return sown;
}

static void flag_drying(const struct dossier *dossier, const struct entry *taken,
	const struct fact_row *fact, struct date until, struct flags *out)
{
	struct flag *flag = flags_add(out, "seed-drying", dossier, URGENCY_NOTE);
	char when[80], why[FLAG_SAYS_SIZE];
	struct date day = {0};

	(void)look_day(taken, &day);
	look_say(&flag->says, "Seeds were taken on %s and no sowing is logged: these must not dry.",
		date_span_format_plain(&taken->day, when, sizeof when));
	look_say(&flag->action, "%s", look_sentence(fact->text, why, sizeof why));
	flag->began = known_date(day);
	flag->window_from = known_date(day);
	flag->window_to = known_date(until);
	flag->source = fact->source;
	snprintf(flag->basis, sizeof flag->basis, "almanac");
	flag->settles = KIND_SOW;
	snprintf(flag->fills, sizeof flag->fills, "%s sowed ", dossier->tree.label);
	proof_entry(out, flag, "", taken);
	flag_evidence(out, flag, "told for %lld days, the longest they are said to keep: %s",
		(long long)fact->high.value, look_span(day, until, when, sizeof when));
	flag_key_set(flag, 0, taken->id);
}

void rule_seed_drying(const struct dossier *dossier, struct date today, struct flags *out)
{
	const struct species *species = dossier->kind.species;
	const struct fact_row *fact = NULL;
	struct date day;

	if (species != NULL)
		fact = species_fact(species, "seed-keep-moist");
	if (fact == NULL || !fact->high.known)
		return;
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *taken = dossier->entries[i];

		if (strcmp(taken->subject.id, dossier->tree.id) != 0 || !look_day(taken, &day) ||
			(taken->kind != KIND_NOTE && taken->kind != KIND_SAW &&
				taken->kind != KIND_PICK) ||
			!look_tells(taken, seeds_taken))
			continue;
		struct date until = date_add_days(day, (int32_t)fact->high.value);
		flags_change_on(out, today, date_add_days(until, 1));
		if (date_compare(today, until) <= 0 && !were_sown(dossier, day, today, out))
			flag_drying(dossier, taken, fact, until, out);
	}
}
