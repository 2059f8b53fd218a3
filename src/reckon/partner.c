/* SPDX-License-Identifier: MIT */
#include "reckon/partner.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"

#include "partner_alleles.h"

struct partner partner_of(const struct species *species, const char *cultivar)
{
	struct partner partner = {.species = species, .name = cultivar};
	if (species != NULL && cultivar[0] != '\0')
		partner.cultivar = cultivar_find(species, cultivar);
	return partner;
}

const char *partner_word(enum partner_answer answer)
{
	static const char *const words[] = {
		[PARTNER_NOT_KNOWN] = "not known",
		[PARTNER_NO] = "does not serve",
		[PARTNER_PARTLY] = "serves half",
		[PARTNER_YES] = "serves",
	};
	return words[answer];
}

/* The name to show: the almanac's, else as typed. */
static const char *name_of(const struct partner *tree)
{
	return tree->cultivar != NULL ? tree->cultivar->name : tree->name;
}

static void says(struct partner_verdict *verdict, enum partner_answer answer, const char *format,
	...) __attribute__((format(printf, 3, 4)));
static void says(
	struct partner_verdict *verdict, enum partner_answer answer, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	verdict->answer = answer;
	vsnprintf(verdict->reason, sizeof verdict->reason, format, arguments);
	va_end(arguments);
}

/* The weaker of what was used so far and this. */
static void rests_on(struct partner_verdict *verdict, const char *source, enum known_by sure)
{
	if (verdict->source[0] != '\0' && sure <= verdict->sure)
		return;
	verdict->source = source;
	verdict->sure = sure;
}

static void rests_on_trait(
	struct partner_verdict *verdict, const struct cultivar *cultivar, const char *trait)
{
	enum known_by sure = KNOWN_MEMORY;
	const char *source = cultivar_source(cultivar, trait, &sure);
	rests_on(verdict, source, sure);
}

/* --- one clone --- */

bool partner_is_same(const struct partner *a, const struct partner *b)
{
	if (a->species == NULL || a->species != b->species)
		return false;
	if (a->cultivar != NULL || b->cultivar != NULL)
		return a->cultivar == b->cultivar;
	return a->name[0] != '\0' && text_same(a->name, b->name);
}

enum self_fruitful partner_alone(
	const struct partner *tree, bool *of_kind, const char **source, enum known_by *sure)
{
	const struct pollination *kind = tree->species == NULL ? NULL : tree->species->pollination;
	*of_kind = tree->cultivar == NULL || tree->cultivar->self == SELF_UNKNOWN;
	*source = "";
	*sure = KNOWN_MEMORY;
	if (!*of_kind) {
		*source = cultivar_source(tree->cultivar, "self", sure);
		return tree->cultivar->self;
	}
	if (kind == NULL)
		return SELF_UNKNOWN;
	*source = kind->source;
	*sure = kind->sure;
	return kind->alone;
}

static void serves_itself(struct partner_verdict *verdict, const struct partner *tree)
{
	bool of_kind = false;
	const char *source = "";
	enum known_by sure = KNOWN_MEMORY;
	enum self_fruitful self = partner_alone(tree, &of_kind, &source, &sure);

	verdict->same = true;
	verdict->bloom = BLOOMS_MEET;
	rests_on(verdict, source, sure);
	switch (self) {
	case SELF_YES:
		says(verdict, PARTNER_YES, "one and the same, and it sets with its own pollen");
		return;
	case SELF_PARTLY:
		says(verdict, PARTNER_PARTLY,
			"one and the same, and it sets in part with its own pollen");
		return;
	case SELF_NO:
		says(verdict, PARTNER_NO,
			"one and the same, and it does not set with its own pollen");
		return;
	case SELF_UNKNOWN:
		says(verdict, PARTNER_NOT_KNOWN,
			"one and the same; whether it sets with its own pollen is not on record");
		return;
	}
}

/* --- what a giver is worth --- */

/* true when the answer is settled: its pollen is no good, or is in doubt. */
static bool gives_nothing(struct partner_verdict *verdict, const struct partner *giver)
{
	const struct cultivar *row = giver->cultivar;
	if (row == NULL)
		return false;
	if (row->ploidy == PLOIDY_3X) {
		rests_on_trait(verdict, row, "ploidy");
		says(verdict, PARTNER_NO,
			"%s is a triploid: it takes pollen and gives none that serves", row->name);
		return true;
	}
	if (row->pollen == POLLEN_NONE) {
		rests_on_trait(verdict, row, "pollen");
		says(verdict, PARTNER_NO, "%s has no good pollen", row->name);
		return true;
	}
	if (row->ploidy == PLOIDY_PERHAPS_3X || row->pollen == POLLEN_POOR) {
		rests_on_trait(verdict, row, row->pollen == POLLEN_POOR ? "pollen" : "ploidy");
		says(verdict, PARTNER_NOT_KNOWN, "%s is a poor giver%s", row->name,
			row->pollen == POLLEN_POOR ? "" : ": by some sources it is a triploid");
		return true;
	}
	return false;
}

/* --- listed pairs --- */

/* Does a side of a pair mean this tree? */
static bool side_fits(const char *side, const struct partner *tree)
{
	if (side[0] == '\0')
		return true;
	if (tree->cultivar == NULL)
		return false;
	if (strncmp(side, "type:", 5) == 0)
		return strcmp(tree->cultivar->type, side + 5) == 0;
	return strcmp(tree->cultivar->name, side) == 0;
}

static bool giver_kind_fits(const struct pollen_pair *pair, const struct partner *giver)
{
	if (giver->species != NULL)
		return strcmp(pair->giver_species, giver->species->key) == 0;
	return giver->outside != NULL && text_same(pair->giver_kind, giver->outside);
}

static bool is_listed(
	struct partner_verdict *verdict, const struct partner *giver, const struct partner *taker)
{
	static const enum partner_answer answers[] = {
		[PAIR_NO] = PARTNER_NO,
		[PAIR_PARTLY] = PARTNER_PARTLY,
		[PAIR_YES] = PARTNER_YES,
		[PAIR_UNKNOWN] = PARTNER_NOT_KNOWN,
	};
	for (int32_t i = 0; i < taker->species->pair_count; i++) {
		const struct pollen_pair *pair = &taker->species->pairs[i];
		if (!giver_kind_fits(pair, giver) || !side_fits(pair->giver, giver) ||
			!side_fits(pair->receiver, taker))
			continue;
		if (pair->giver[0] == '\0' && gives_nothing(verdict, giver))
			return true; /* a row for all of a kind means those that have pollen */
		rests_on(verdict, pair->source, pair->sure);
		verdict->harm = pair->harm;
		says(verdict, answers[pair->answer], "%s", pair->text);
		return true;
	}
	return false;
}

/* --- models --- */

/* Both named, alleles or groups not on record: what the kind's rule says of another cultivar. */
static void serves_unstated(struct partner_verdict *verdict, const struct partner *taker)
{
	const struct pollination *kind = taker->species->pollination;
	rests_on(verdict, kind->source, kind->sure);
	verdict->unstated = true;
	if (kind->unstated_serves)
		says(verdict, PARTNER_YES,
			"another cultivar; their alleles are not on record, and few pairs are "
			"barred");
	else
		says(verdict, PARTNER_NOT_KNOWN, "their alleles or groups are not on record");
}

static void serves_by_groups(struct partner_verdict *verdict, const struct cultivar *giver,
	const struct cultivar *taker, const char *same, enum partner_answer answer)
{
	rests_on_trait(verdict, giver, "group");
	rests_on_trait(verdict, taker, "group");
	if (strcmp(giver->group, taker->group) == 0)
		says(verdict, PARTNER_NO, "both are of group %s: %s", giver->group, same);
	else
		says(verdict, answer, "of different groups, %s and %s", giver->group, taker->group);
}

static void serves_by_alleles(
	struct partner_verdict *verdict, const struct cultivar *giver, const struct cultivar *taker)
{
	struct alleles_passing passing = alleles_pass(giver->alleles, taker->alleles);
	char broken[8];
	bool m_broken = cultivar_more(giver, "m-broken", broken, sizeof broken) &&
			strcmp(broken, "yes") == 0;

	/* that a self-fertile one's own grain passes is known where its second allele is not */
	bool passes_anyway = passing.answer == PARTNER_PARTLY && giver->self == SELF_YES &&
			     strchr(giver->alleles, '\'') != NULL;
	rests_on_trait(verdict, giver, passes_anyway ? "self" : "alleles");
	rests_on_trait(verdict, taker, "alleles");
	if (passing.answer == PARTNER_NO && m_broken) {
		says(verdict, PARTNER_PARTLY,
			"%s; but the second place, M, is broken in %s, and such pollen passes",
			passing.words, giver->name);
		return;
	}
	says(verdict, passing.answer, "%s", passing.words);
}

static bool both_have(const char *a, const char *b)
{
	return a[0] != '\0' && b[0] != '\0';
}

static void serves_gsi(
	struct partner_verdict *verdict, const struct partner *giver, const struct partner *taker)
{
	const struct cultivar *from = giver->cultivar;
	const struct cultivar *to = taker->cultivar;

	if (to != NULL && to->ploidy == PLOIDY_3X) {
		rests_on_trait(verdict, to, "ploidy");
		says(verdict, PARTNER_YES,
			"%s is a triploid and takes pollen of others; its pistil is not worked out",
			to->name);
	} else if (from == NULL || to == NULL) {
		serves_unstated(verdict, taker);
	} else if (both_have(from->group, to->group) && strcmp(from->group, to->group) == 0) {
		serves_by_groups(verdict, from, to, "they will not take each other", PARTNER_NO);
	} else if (both_have(from->alleles, to->alleles)) {
		serves_by_alleles(verdict, from, to);
	} else if (both_have(from->group, to->group)) {
		serves_by_groups(verdict, from, to, "", PARTNER_YES);
	} else {
		serves_unstated(verdict, taker);
	}
}

static void serves_ssi(
	struct partner_verdict *verdict, const struct partner *giver, const struct partner *taker)
{
	const struct cultivar *from = giver->cultivar;
	const struct cultivar *to = taker->cultivar;
	if (from == NULL || to == NULL || to->alleles[0] == '\0' ||
		(from->alleles[0] == '\0' && from->shows[0] == '\0')) {
		serves_unstated(verdict, taker);
		return;
	}
	struct alleles_passing passing =
		alleles_shown_pass(from->shows, from->alleles, to->alleles);
	rests_on_trait(verdict, from, from->shows[0] != '\0' ? "shows" : "alleles");
	rests_on_trait(verdict, to, "alleles");
	says(verdict, passing.answer, "%s", passing.words);
}

/* Kinds that set fruit without pollen: a giver of good pollen brings seeds. */
static void serves_parth(
	struct partner_verdict *verdict, const struct partner *giver, const struct partner *taker)
{
	char seeds[40] = "";
	const struct pollination *kind = taker->species->pollination;
	if (giver->cultivar == NULL) {
		rests_on(verdict, kind->source, kind->sure);
		says(verdict, PARTNER_NOT_KNOWN, "whether it has good pollen is not on record");
		return;
	}
	if (giver->cultivar->pollen != POLLEN_GOOD) {
		rests_on(verdict, kind->source, kind->sure);
		says(verdict, PARTNER_NO, "it has no pollen that serves");
		return;
	}
	rests_on_trait(verdict, giver->cultivar, "pollen");
	if (taker->cultivar != NULL)
		cultivar_more(taker->cultivar, "seeds", seeds, sizeof seeds);
	bool never = strcmp(seeds, "seedless") == 0;
	verdict->harm = !never && (strstr(seeds, "seedless") != NULL || seeds[0] == '\0');
	says(verdict, PARTNER_YES, "%s",
		verdict->harm ? "it serves, and brings seeds into fruit that would have none"
			      : "it has good pollen");
}

static void serves_clone(
	struct partner_verdict *verdict, const struct partner *giver, const struct partner *taker)
{
	const struct pollination *kind = taker->species->pollination;
	const struct cultivar *from = giver->cultivar;
	const struct cultivar *to = taker->cultivar;
	rests_on(verdict, kind->source, kind->sure);
	if (from == NULL || to == NULL)
		says(verdict, PARTNER_NOT_KNOWN, "its species is not on record");
	else if (strcmp(from->type, to->type) == 0 || from->type[0] == '\0' ||
		 to->type[0] == '\0' || strcmp(from->type, "hybrid") == 0 ||
		 strcmp(to->type, "hybrid") == 0)
		says(verdict, PARTNER_YES, "another clone with good pollen");
	else
		says(verdict, PARTNER_NOT_KNOWN,
			"%s and %s: no source here says whether they serve each other", from->type,
			to->type);
}

static void serves_by_model(
	struct partner_verdict *verdict, const struct partner *giver, const struct partner *taker)
{
	const struct pollination *kind = taker->species->pollination;
	const struct cultivar *from = giver->cultivar;
	const struct cultivar *to = taker->cultivar;
	bool grouped = from != NULL && to != NULL && both_have(from->group, to->group);

	switch (kind->model) {
	case POLLEN_GSI:
		serves_gsi(verdict, giver, taker);
		return;
	case POLLEN_SSI:
		serves_ssi(verdict, giver, taker);
		return;
	case POLLEN_GROUPS:
	case POLLEN_LETTERS:
		if (grouped)
			serves_by_groups(verdict, from, to,
				kind->model == POLLEN_GROUPS ? "they will not take each other"
							     : "it gives little",
				PARTNER_YES);
		else
			serves_unstated(verdict, taker);
		return;
	case POLLEN_PARTH:
		serves_parth(verdict, giver, taker);
		return;
	case POLLEN_CLONE:
		serves_clone(verdict, giver, taker);
		return;
	case POLLEN_DAYS:
	case POLLEN_OWN:
	case POLLEN_WIND:
	case POLLEN_TABLE:
		verdict->by_days = kind->model == POLLEN_DAYS;
		rests_on(verdict, kind->source, kind->sure);
		says(verdict, PARTNER_YES, "%s", kind->text);
		return;
	}
}

/* --- the whole --- */

/* Both of kinds that can serve each other at all? Settles the answer where not. */
static bool kinds_apart(
	struct partner_verdict *verdict, const struct partner *giver, const struct partner *taker)
{
	const struct species *from = giver->species;
	const struct species *to = taker->species;
	if (from == NULL && giver->outside == NULL)
		says(verdict, PARTNER_NOT_KNOWN, "the kind of the giver is not known");
	else if (from == NULL)
		says(verdict, PARTNER_NO, "%s and %s are different kinds", giver->outside,
			to->name);
	else if (from != to && (from->pollination == NULL || to->pollination == NULL ||
				       strcmp(from->pollination->pool, to->pollination->pool) != 0))
		says(verdict, PARTNER_NO, "%s and %s are different kinds", from->name, to->name);
	else
		return false;
	return true;
}

/* A cultivar that is not known could be the other one over again; where nothing else is asked of
 * a partner than to be of the kind, that is no matter. */
static bool is_unnamed(
	struct partner_verdict *verdict, const struct partner *giver, const struct partner *taker)
{
	enum pollen_model model = taker->species->pollination->model;
	bool asks = model == POLLEN_GSI || model == POLLEN_SSI || model == POLLEN_GROUPS ||
		    model == POLLEN_LETTERS || model == POLLEN_CLONE || model == POLLEN_TABLE;
	if (!asks || (name_of(giver)[0] != '\0' && name_of(taker)[0] != '\0'))
		return false;
	says(verdict, PARTNER_NOT_KNOWN, "the cultivar of the %s is not known",
		name_of(giver)[0] == '\0' ? "giver" : "taker");
	return true;
}

struct partner_verdict partner_serves(const struct partner *giver, const struct partner *taker)
{
	struct partner_verdict verdict = {.source = "", .sure = KNOWN_READ};

	if (taker->species == NULL || taker->species->pollination == NULL) {
		says(&verdict, PARTNER_NOT_KNOWN, "the kind of the taker is not known");
		return verdict;
	}
	if (partner_is_same(giver, taker)) {
		serves_itself(&verdict, taker);
		return verdict;
	}
	verdict.bloom = partner_bloom(giver, taker);
	if (is_listed(&verdict, giver, taker) || kinds_apart(&verdict, giver, taker) ||
		gives_nothing(&verdict, giver) || is_unnamed(&verdict, giver, taker))
		return verdict;
	serves_by_model(&verdict, giver, taker);
	return verdict;
}

/* --- bloom --- */

enum partner_bloom partner_bloom(const struct partner *a, const struct partner *b)
{
	if (a->species != b->species || a->cultivar == NULL || b->cultivar == NULL ||
		a->cultivar->bloom == BLOOM_UNKNOWN || b->cultivar->bloom == BLOOM_UNKNOWN)
		return BLOOMS_NOT_KNOWN;
	int apart = abs((int)a->cultivar->bloom - (int)b->cultivar->bloom);
	return apart <= 1 ? BLOOMS_MEET : BLOOMS_APART;
}

int32_t partner_overlap_days(struct window_span a, struct window_span b)
{
	struct date from = date_compare(a.from, b.from) > 0 ? a.from : b.from;
	struct date to = date_compare(a.to, b.to) < 0 ? a.to : b.to;
	int32_t days = date_days_between(from, to) + 1;
	return days > 0 ? days : 0;
}

/* --- what would fill a gap --- */

int32_t partner_suggest(const struct partner *taker, const struct cultivar **out, int32_t max)
{
	int32_t count = 0;
	if (taker->species == NULL || taker->cultivar == NULL)
		return 0;
	for (int sure = KNOWN_READ; sure <= KNOWN_MEMORY; sure++) {
		for (int32_t i = 0; i < taker->species->cultivar_count && count < max; i++) {
			const struct cultivar *row = &taker->species->cultivars[i];
			struct partner giver = {
				.species = taker->species, .cultivar = row, .name = row->name};
			struct partner_verdict verdict = partner_serves(&giver, taker);
			bool meets = verdict.bloom == BLOOMS_MEET ||
				     taker->cultivar->bloom == BLOOM_UNKNOWN;
			bool fills = verdict.answer == PARTNER_YES && !verdict.same && meets &&
				     !verdict.harm && !verdict.unstated;
			if (fills && (int)verdict.sure == sure)
				out[count++] = row;
		}
	}
	return count;
}
