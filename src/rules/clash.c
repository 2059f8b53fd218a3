/* SPDX-License-Identifier: MIT */
#include "clash.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "rules/choice.h"

enum { SOURCES_MAX = 64, SAID_MAX = 3 };

const char *clash_chosen(const struct dossier *dossier, const char *rule)
{
	const char *sources[SOURCES_MAX];
	int32_t count =
		dossier->kind.species == NULL
			? 0
			: rule_choice_sources(rule, dossier->kind.species, sources, 0, SOURCES_MAX);

	for (int32_t i = dossier->choice_count; i-- > 0;)
		for (int32_t s = 0; s < count && s < SOURCES_MAX; s++)
			if (strcmp(dossier->choices[i].rule, rule) == 0 &&
				strcmp(dossier->choices[i].source, sources[s]) == 0)
				return sources[s];
	return NULL;
}

const char *clash_whose(const struct source_row *said_by, enum known_by sure, char *out, int size)
{
	bool region = said_by->region[0] != '\0';

	snprintf(out, (size_t)size, "%s%s%s%s", said_by->region, region ? "; " : "", said_by->title,
		sure == KNOWN_MEMORY && strstr(said_by->title, "memory") == NULL ? "; from memory"
										 : "");
	return out;
}

/* --- cuts --- */

/* The rows that are told, so that a source is told once and can be named to be chosen. */
struct told {
	const struct cut_row *rows[SAID_MAX];
	int32_t count;
	bool of_climate; /* some of them hold in another climate */
};

static bool is_told(const struct told *told, const struct cut_row *row)
{
	for (int32_t i = 0; i < told->count; i++)
		if (strcmp(told->rows[i]->source, row->source) == 0)
			return true;
	return false;
}

static bool row_counts(const struct clash_cut *cut, const struct cut_row *row)
{
	return row->verdict != VERDICT_AVOID || (cut->reasons & (1U << row->reason)) != 0;
}

static bool row_is_contrary(const struct clash_cut *cut, const struct cut_row *row)
{
	return (row->verdict == VERDICT_AVOID) != (cut->used->verdict == VERDICT_AVOID);
}

/* What the rows of another climate say of the day; NULL: nothing, or the same. */
static const struct cut_row *said_in(
	const struct dossier *dossier, const struct clash_cut *cut, enum climate climate)
{
	const struct cut_row *rows[CUTS_MAX];
	const struct cut_row *found = NULL;
	enum hemisphere hemisphere = dossier->place->hemisphere;
	int32_t count = species_cuts(
		cut->species, dossier->kind.cultivar, climate, cut->kind, rows, CUTS_MAX);

	for (int32_t i = 0; i < count; i++) {
		const struct cut_window span = {.row = rows[i],
			.from = window_turn(rows[i]->from, hemisphere),
			.to = window_turn_last(rows[i]->to, hemisphere)};

		if (rows[i]->climate != climate || !row_counts(cut, rows[i]) ||
			!cut_window_holds(&span, cut->day))
			continue;
		if (found == NULL || rows[i]->verdict == VERDICT_AVOID ||
			(found->verdict == VERDICT_ALLOWED && rows[i]->verdict == VERDICT_CLEAR))
			found = rows[i];
		if (found->verdict == VERDICT_AVOID)
			break;
	}
	return found != NULL && row_is_contrary(cut, found) ? found : NULL;
}

static void tell_row(const char *where, const struct cut_row *row, struct told *told,
	struct flags *out, struct flag *flag)
{
	char whose[240];

	if (told->count == SAID_MAX || is_told(told, row))
		return;
	told->rows[told->count++] = row;
	flag_evidence(out, flag, "%s: %s on that day: %s (%s)", where, proof_verdict(row->verdict),
		row->text, clash_whose(row->said_by, row->sure, whose, sizeof whose));
}

/* Rows that hold here too, of other sources. */
static void tell_here(const struct dossier *dossier, const struct clash_cut *cut,
	const struct cut_window *cuts, int32_t count, struct told *told, struct flags *out,
	struct flag *flag)
{
	for (int32_t i = 0; i < count; i++) {
		const struct cut_row *row = cuts[i].row;

		if (!cut_window_holds(&cuts[i], cut->day) || !row_counts(cut, row) ||
			!row_is_contrary(cut, row) || strcmp(row->source, cut->used->source) == 0 ||
			(row->reason == REASON_FRUIT && row->verdict == VERDICT_AVOID &&
				look_fruit_is_off(dossier, cut->species, cut->day)))
			continue;
		tell_row("another source", row, told, out, flag);
	}
}

static void tell_elsewhere(const struct dossier *dossier, const struct clash_cut *cut,
	struct told *told, struct flags *out, struct flag *flag)
{
	for (int climate = CLIMATE_ANY + 1; climate < CLIMATE_LITTLE_RAIN; climate++) {
		const struct cut_row *row = said_in(dossier, cut, (enum climate)climate);
		char where[80];

		if (row == NULL || row->climate == cut->used->climate ||
			row->climate == dossier->climate)
			continue;
		told->of_climate = true;
		snprintf(where, sizeof where, "elsewhere (%s)",
			climate_title((enum climate)climate));
		tell_row(where, row, told, out, flag);
	}
}

/* What the almanac keeps of a clash in words. */
static void tell_words(
	const struct clash_cut *cut, const struct told *told, struct flags *out, struct flag *flag)
{
	static const char *const keys[] = {"prune-clash", "winter-cut-clash", "prune-when"};
	char whose[240];

	for (size_t k = 0; k < sizeof keys / sizeof keys[0]; k++) {
		const struct fact_row *row = species_fact(cut->species, keys[k]);
		bool said = false;

		for (int32_t i = 0; row != NULL && i < told->count; i++)
			said = said || strcmp(told->rows[i]->source, row->source) == 0;
		if (row != NULL && !said)
			flag_evidence(out, flag, "sources differ: %s (%s)", row->text,
				clash_whose(row->said_by, row->sure, whose, sizeof whose));
	}
}

/* How whose word counts is changed. */
static void tell_how(const struct dossier *dossier, const struct clash_cut *cut, int32_t chosen,
	const struct told *told, struct flags *out, struct flag *flag)
{
	char line[240];
	struct text_builder words = text_builder_fixed(line, sizeof line);

	if (told->of_climate && dossier->climate == CLIMATE_ANY)
		flag_evidence(out, flag,
			"this place's seasons decide and are not known: when does it rain, how are "
			"its winters? (place set --wet --winter)");
	if (chosen > 0)
		flag_evidence(out, flag,
			"this place follows %s (own choice): own list shows it with the id to "
			"remove it by",
			cut->used->source);
	if (told->count == 0)
		return;
	for (int32_t i = 0; i < told->count; i++)
		text_add_format(&words, "%s%s", i == 0 ? "" : " or ", told->rows[i]->source);
	flag_evidence(out, flag, "to go by another here: own choice %s %s", flag->rule, line);
}

void clash_tell_cut(const struct dossier *dossier, const struct clash_cut *cut, struct flags *out,
	struct flag *flag)
{
	struct cut_window cuts[CUTS_MAX];
	struct window_facts facts = dossier_window_facts(dossier);
	struct told told = {.count = 0};
	int32_t chosen = 0;

	facts.species = cut->species;
	int32_t count = window_cuts(&facts, dossier->kind.cultivar, cut->kind, cuts, CUTS_MAX);
	for (int32_t i = 0; i < count; i++)
		if (cuts[i].row == cut->used)
			chosen = cuts[i].chosen;
	if (chosen > 0)
		snprintf(flag->basis, sizeof flag->basis,
			"almanac, by the source this place follows");
	tell_here(dossier, cut, cuts, count, &told, out, flag);
	tell_elsewhere(dossier, cut, &told, out, flag);
	tell_words(cut, &told, out, flag);
	tell_how(dossier, cut, chosen, &told, out, flag);
}
