/* SPDX-License-Identifier: MIT */
/* no-partner, said: who is missing, what would serve, how near and how soon. */
#include <stdio.h>

#include "clash.h"
#include "core/text.h"
#include "partner_asked.h"

enum { SUGGESTED = 3 };

/* In whole feet or metres. */
static const char *round_length(
	const struct dossier *dossier, int64_t length_um, char *out, int size)
{
	const int64_t foot_um = 304800, metre_um = 1000000;
	int64_t step = dossier->place->units == UNITS_US ? foot_um : metre_um;
	return length_format(
		(length_um + step / 2) / step * step, dossier->place->units, out, size);
}

/* Of rows that serve the taker those that serve the other too. Returns how many; where there are
 * none, all are kept. */
static int32_t keep_for_both(
	const struct cultivar **rows, int32_t count, const struct partner *other, bool *both)
{
	int32_t kept = 0;

	for (int32_t i = 0; i < count; i++) {
		const struct partner giver = {
			.species = other->species, .cultivar = rows[i], .name = rows[i]->name};
		struct partner_verdict verdict = partner_serves(&giver, other);

		if (verdict.answer >= PARTNER_PARTLY && !verdict.harm &&
			verdict.bloom != BLOOMS_APART)
			rows[kept++] = rows[i];
	}
	*both = kept > 0;
	return kept > 0 ? kept : count;
}

/* "Benton, Cristalina or Skeena": what is known best; "" none. Those of memory say so. A third tree
 * that is to serve a triploid beside it too, *both, where one is on record. */
static const char *suggested(const struct asking *asking, char *out, size_t size, bool *both)
{
	enum { CONSIDERED = 40 };
	const struct partner *taker = &asking->taker;
	const struct cultivar *rows[CONSIDERED];
	bool from_memory = false;
	int32_t kept = 0;
	int32_t count = partner_suggest(taker, rows, asking->barren ? CONSIDERED : SUGGESTED);
	struct text_builder text = text_builder_fixed(out, size);

	if (asking->barren != NULL) {
		const struct partner barren =
			partner_of(taker->species, asking->barren->kind.cultivar);
		count = keep_for_both(rows, count, &barren, both);
	}
	for (; kept < count && kept < SUGGESTED; kept++) {
		struct partner giver = {.species = taker->species,
			.cultivar = rows[kept],
			.name = rows[kept]->name};
		bool memory = partner_serves(&giver, taker).sure == KNOWN_MEMORY;
		if (memory && kept > 0 && !from_memory)
			break; /* the rest are no surer */
		from_memory = memory;
	}
	out[0] = '\0';
	for (int32_t i = 0; i < kept; i++)
		text_add_format(&text, "%s%s",
			i == 0          ? ""
			: i + 1 == kept ? " or "
					: ", ",
			rows[i]->name);
	if (from_memory)
		text_add_format(&text, " (from memory)");
	return out;
}

/* "Bing does not set alone", "Bing? does ..." where it is only suspected. */
static const char *say_need(const struct dossier *dossier, char *out, size_t size)
{
	if (dossier->kind.cultivar[0] == '\0')
		snprintf(out, size,
			"It bloomed and gave no fruit; most of its kind do not set alone");
	else
		snprintf(out, size, "%s%s does not set alone", dossier->kind.cultivar,
			dossier->kind.cultivar_sure == SURE_CERTAIN ? "" : "?");
	return out;
}

static void say_gap(const struct asking *asking, struct flag *flag)
{
	char need[NAME_SIZE + 80];
	char away[32] = "";

	say_need(asking->dossier, need, sizeof need);
	if (asking->far != NULL && asking->doubtful == 0)
		look_say(&flag->says, "%s, and the nearest that serves it, %s, stands %s off.",
			need, asking->far->label,
			round_length(asking->dossier, asking->far_um, away, sizeof away));
	else if (asking->doubtful == 1)
		look_say(&flag->says, "%s, and whether %s serves it is not known.", need,
			asking->doubt->label);
	else if (asking->doubtful > 0)
		look_say(&flag->says, "%s, and whether one of %d trees serves it is not known.",
			need, asking->doubtful);
	else
		look_say(&flag->says, "%s, and no tree on record serves it.", need);
}

static void say_what_to_do(const struct asking *asking, struct flag *flag)
{
	const struct pollination *kind = asking->taker.species->pollination;
	char names[200], near[32], near_text[64] = "", few_text[400] = "", wanted[FLAG_SAYS_SIZE];
	const struct fact_row *years = species_fact(asking->taker.species, "partner-years");
	char soon[200];
	bool unnamed = asking->taker.name[0] == '\0';
	bool both = false;
	const char *few = suggested(asking, names, sizeof names, &both);

	if (asking->near_um > 0)
		snprintf(near_text, sizeof near_text, " Within about %s.",
			round_length(asking->dossier, asking->near_um, near, sizeof near));
	if (few[0] != '\0')
		snprintf(few_text, sizeof few_text, " For one%s%s%s: %s.",
			both ? " that serves " : "", both ? asking->barren->label : "",
			both ? " too" : "", few);
	look_say(&flag->action,
		"%sIs there one over the fence? Add it, marked so. The gap: %s%s%s%s%s",
		unnamed                ? "Find out which cultivar it is. "
		: asking->doubtful > 0 ? "Find out which they are. "
				       : "",
		look_ended(kind->text, wanted, sizeof wanted), few_text, near_text,
		years != NULL ? " " : "",
		years != NULL ? look_sentence(years->text, soon, sizeof soon) : "");
}

/* Whence it is that this tree does not set alone: the row of the cultivar, or of the kind where
 * that is the surer. */
static void say_alone(const struct partner *tree, struct flag *flag, struct flags *out)
{
	bool of_kind = false;
	const char *source = "";
	enum known_by sure = KNOWN_MEMORY;
	const struct pollination *kind = tree->species->pollination;

	partner_alone(tree, &of_kind, &source, &sure);
	if (!of_kind && sure == KNOWN_MEMORY && kind->alone == SELF_NO) {
		of_kind = true;
		source = kind->source;
		sure = kind->sure;
	}
	flag_evidence(out, flag, "alone: no, %s",
		of_kind ? "as most of its kind" : "by the row of the cultivar");
	flag->source = source;
	snprintf(flag->basis, sizeof flag->basis, "almanac");
}

static void add_evidence(const struct asking *asking, struct flag *flag, struct flags *out)
{
	int32_t blooms = asking->dossier->learning.bloom.seasons;
	const struct fact_row *years = species_fact(asking->taker.species, "partner-years");
	char whose[240];

	say_alone(&asking->taker, flag, out);
	if (blooms > 0 && asking->crops == 0)
		flag_evidence(out, flag, "bloom logged in %d season%s, no fruit in any", blooms,
			blooms == 1 ? "" : "s");
	for (int32_t i = 0; i < asking->line_count; i++)
		flag_evidence(out, flag, "%s", asking->lines[i]);
	if (years != NULL)
		flag_evidence(out, flag, "%s (%s)", years->text,
			clash_whose(years->said_by, years->sure, whose, sizeof whose));
	if (asking->strangers > 0)
		flag_evidence(
			out, flag, "%d trees of a kind not known could be one", asking->strangers);
}

void partner_say(const struct asking *asking, struct flag *flag, struct flags *out)
{
	say_gap(asking, flag);
	say_what_to_do(asking, flag);
	add_evidence(asking, flag, out);
}
