/* SPDX-License-Identifier: MIT */
/* no-partner: a tree of bearing age that does not set alone, and nobody on record to serve it.
 *
 * Quiet where somebody serves it, where it has cropped in two seasons, where a partner would
 * only bring seeds, and where the kind itself is in doubt; of no known cultivar, until it is seen
 * to bloom for nothing. What is not on record is asked, never claimed; distance and bloom are
 * named. In a yard of thousands a cultivar is asked once, not at each of its trees. */
#include <string.h>

#include "partner_asked.h"

enum { PICKS_LOGGED_DAYS = 365 };
enum { CROPS_ENOUGH = 2, BLOOMS_ENOUGH = 2 };
enum { LINES_TOLD = FLAG_EVIDENCE_MAX - 4 }; /* of neighbours; the rest is of the tree */

/* --- whom it concerns --- */

/* Did the season give anything? */
static bool gave_fruit(const struct season *season)
{
	struct maybe_i64 total_mg = season_total_mg(season);

	return season->unweighed > 0 || (total_mg.known && total_mg.value > 0) ||
	       (season->picks > 0 && !season->none_said);
}

static int32_t crops_of(const struct dossier *dossier)
{
	int32_t crops = 0;

	for (int32_t i = 0; i < dossier->season_count; i++)
		crops += gave_fruit(&dossier->seasons[i]);
	return crops;
}

/* A gap is no zero: it tells of fruit only where picks have been logged here for a year. */
static bool gaps_tell(const struct dossier *dossier, struct date today)
{
	return dossier->picks_since.known &&
	       date_days_between(dossier->picks_since.value, today) >= PICKS_LOGGED_DAYS;
}

/* Bloom in two seasons, or "none seen" in one, and never any fruit. */
static bool blooms_for_nothing(const struct dossier *dossier, struct date today)
{
	bool none_seen = false;

	for (int32_t i = 0; i < dossier->season_count; i++)
		none_seen = none_seen || dossier->seasons[i].none_said;
	return crops_of(dossier) == 0 &&
	       ((dossier->learning.bloom.seasons >= BLOOMS_ENOUGH && gaps_tell(dossier, today)) ||
		       (none_seen && dossier->learning.bloom.seasons > 0));
}

/* Old enough by the almanac, or seen in bloom or in fruit. */
static bool is_of_bearing_age(const struct dossier *dossier)
{
	const struct fact_row *years = species_fact(dossier->kind.species, "years-to-crop");
	struct maybe_i64 from = {0};

	if (crops_of(dossier) > 0 || dossier->learning.bloom.seasons > 0)
		return true;
	if (years != NULL)
		from = years->high.known ? years->high : years->low;
	return from.known && dossier->age_low_years.known &&
	       dossier->age_low_years.value >= from.value;
}

/* Fruit without seeds, for want of a partner: none is wished for. */
static bool is_better_alone(const struct partner *tree)
{
	char seeds[40] = "";
	if (tree->species->pollination->model != POLLEN_PARTH || tree->cultivar == NULL)
		return tree->species->pollination->model == POLLEN_PARTH;
	cultivar_more(tree->cultivar, "seeds", seeds, sizeof seeds);
	return strstr(seeds, "seedless") != NULL || seeds[0] == '\0';
}

/* A tree of no known cultivar may set alone: it is asked about only when it blooms for nothing. */
static bool wants_partner(
	const struct dossier *dossier, const struct partner *tree, struct date today)
{
	bool of_kind = false;
	const char *source = "";
	enum known_by sure = KNOWN_MEMORY;

	if (tree->species == NULL || tree->species->pollination == NULL ||
		dossier->tree.over_fence || dossier->kind.sure < SURE_SUSPECTED)
		return false;
	enum self_fruitful alone = partner_alone(tree, &of_kind, &source, &sure);
	const struct pollination *kind = tree->species->pollination;
	bool vouched =
		sure != KNOWN_MEMORY || (kind->alone == SELF_NO && kind->sure != KNOWN_MEMORY);
	if (alone != SELF_NO || !vouched || is_better_alone(tree))
		return false;
	if (tree->name[0] == '\0')
		return blooms_for_nothing(dossier, today);
	return is_of_bearing_age(dossier) && crops_of(dossier) < CROPS_ENOUGH;
}

/* --- asking the neighbours --- */

static void tell(struct asking *asking, const struct neighbour *neighbour, const char *kind,
	const struct partner_verdict *verdict, const char *more)
{
	if (asking->line_count == LINES_TOLD)
		return;
	asking->lines[asking->line_count++] = arena_format(asking->arena, "%s%s, %s: %s, %s%s%s",
		neighbour->label, neighbour->over_fence ? " over the fence" : "", kind,
		partner_word(verdict->answer), verdict->reason, more,
		verdict->sure == KNOWN_MEMORY && verdict->source[0] != '\0' ? " (from memory)"
									    : "");
}

/* What the neighbour is called here: "Van", else its kind. */
static const char *called(const struct neighbour *neighbour)
{
	return neighbour->kind.cultivar[0] != '\0' ? neighbour->kind.cultivar
						   : neighbour->kind.name;
}

static void doubts(struct asking *asking, const struct neighbour *neighbour)
{
	asking->doubtful++;
	asking->doubt = neighbour;
}

/* Serves: but is it near enough, in bloom with it, and surely what it is taken for? */
static void weigh(struct asking *asking, const struct neighbour *neighbour,
	const struct partner_verdict *verdict)
{
	struct maybe_i64 away = dossier_distance(asking->dossier, neighbour);
	bool in_doubt = neighbour->kind.cultivar[0] != '\0' &&
			neighbour->kind.cultivar_sure < SURE_SUSPECTED;

	if (away.known && asking->near_um > 0 && away.value > asking->near_um) {
		if (asking->far == NULL || away.value < asking->far_um) {
			asking->far = neighbour;
			asking->far_um = away.value;
		}
		tell(asking, neighbour, called(neighbour), verdict, "; it stands too far off");
	} else if (verdict->bloom == BLOOMS_APART) {
		doubts(asking, neighbour);
		tell(asking, neighbour, called(neighbour), verdict,
			"; their bloom is two classes apart, so only if the days meet");
	} else if (in_doubt) {
		doubts(asking, neighbour);
		tell(asking, neighbour, called(neighbour), verdict,
			"; if it is what it is taken for");
	} else {
		asking->serve++;
	}
}

static bool may_be_of_kind(const struct neighbour *neighbour, const struct species *species)
{
	for (int32_t i = 0; i < neighbour->kind.candidate_count; i++)
		if (neighbour->kind.candidates[i] == species)
			return true;
	return false;
}

/* One whose kind is told as candidates, this one's among them. */
static void tell_in_doubt(struct asking *asking, const struct neighbour *neighbour)
{
	doubts(asking, neighbour);
	if (asking->line_count < LINES_TOLD)
		asking->lines[asking->line_count++] =
			arena_format(asking->arena, "%s, %s: not known, its kind is in doubt",
				neighbour->label, neighbour->kind.name);
}

/* A tree of no known cultivar can be the same as one of two that differ, never as both: where any
 * other cultivar serves, one of them does. */
static void count_named(struct asking *asking, const char *cultivar, const struct partner *giver)
{
	if (asking->taker.name[0] != '\0' || cultivar[0] == '\0' ||
		giver->species != asking->taker.species || !asking->kind->unstated_serves)
		return;
	if (asking->named.species == NULL)
		asking->named = *giver;
	else if (!partner_is_same(&asking->named, giver))
		asking->serve++;
}

/* The answer of a tree of known kind, asked once for each cultivar. */
static const struct answered *answer_of(struct asking *asking, const struct tree_kind *kind)
{
	int32_t kept = asking->answer_count < ANSWERS_KEPT ? asking->answer_count : ANSWERS_KEPT;

	for (int32_t i = 0; i < kept && kind->species != NULL; i++)
		if (asking->answers[i].species == kind->species &&
			strcmp(asking->answers[i].cultivar, kind->cultivar) == 0)
			return &asking->answers[i];
	struct answered *answer = &asking->answers[asking->answer_count++ % ANSWERS_KEPT];
	struct partner giver = partner_of(kind->species, kind->cultivar);
	giver.outside = kind->outside;
	*answer = (struct answered){
		.species = kind->species,
		.cultivar = kind->cultivar,
		.giver = giver,
		.verdict = partner_serves(&giver, &asking->taker),
	};
	return answer;
}

static bool gives_none(const struct partner *giver, const struct partner *taker)
{
	return giver->species == taker->species && giver->cultivar != NULL &&
	       giver->cultivar->ploidy == PLOIDY_3X;
}

static void ask_one(struct asking *asking, const struct neighbour *neighbour)
{
	const struct tree_kind *kind = &neighbour->kind;

	if (kind->species == NULL && kind->outside == NULL) {
		if (may_be_of_kind(neighbour, asking->taker.species))
			tell_in_doubt(asking, neighbour);
		else
			asking->strangers++;
		return;
	}
	const struct answered *answer = answer_of(asking, kind);
	const struct partner_verdict *verdict = &answer->verdict;
	bool untold = asking->line_count < LINES_TOLD && kind->species == asking->taker.species;
	if (verdict->answer == PARTNER_NO && !untold)
		return;
	if (strcmp(neighbour->tree_id, asking->dossier->tree.id) == 0)
		return;
	switch (verdict->answer) {
	case PARTNER_YES:
	case PARTNER_PARTLY:
		if (!verdict->harm)
			weigh(asking, neighbour, verdict);
		else
			tell(asking, neighbour, called(neighbour), verdict, "");
		return;
	case PARTNER_NOT_KNOWN:
		count_named(asking, kind->cultivar, &answer->giver);
		doubts(asking, neighbour);
		tell(asking, neighbour, called(neighbour), verdict, "");
		return;
	case PARTNER_NO:
		if (asking->barren == NULL && gives_none(&answer->giver, &asking->taker))
			asking->barren = neighbour;
		tell(asking, neighbour, called(neighbour), verdict, "");
		return;
	}
}

/* Can trees of this kind, or of none that is known, have to do with the taker at all? */
static bool kind_matters(const struct asking *asking, const struct species *giver)
{
	const struct species *taker = asking->taker.species;

	if (giver == NULL || giver == taker)
		return true;
	for (int32_t i = 0; i < taker->pair_count; i++)
		if (strcmp(taker->pairs[i].giver_species, giver->key) == 0)
			return true;
	return giver->pollination != NULL &&
	       strcmp(giver->pollination->pool, taker->pollination->pool) == 0;
}

/* Kind by kind, until one serves: then all is well. */
static void ask_all(struct asking *asking)
{
	const struct dossier *dossier = asking->dossier;
	const struct fact_row *near = species_fact(asking->taker.species, "partner-distance");

	if (near != NULL && near->high.known)
		asking->near_um = near->high.value;
	for (int32_t at = 0; at < dossier->neighbour_count && asking->serve == 0;) {
		const struct species *species = dossier->neighbours[at].kind.species;
		int32_t count = 0;
		const struct neighbour *kind = dossier_neighbours_of(dossier, species, &count);
		bool matters = kind_matters(asking, species);

		for (int32_t i = 0; matters && i < count && asking->serve == 0; i++)
			ask_one(asking, &kind[i]);
		at += count > 0 ? count : 1;
	}
}

void rule_no_partner(const struct dossier *dossier, struct date today, struct flags *out)
{
	struct asking asking = {.dossier = dossier, .arena = out->arena};

	asking.taker = partner_of(dossier->kind.species, dossier->kind.cultivar);
	if (dossier->picks_since.known)
		flags_change_on(
			out, today, date_add_days(dossier->picks_since.value, PICKS_LOGGED_DAYS));
	if (!wants_partner(dossier, &asking.taker, today) || !look_has_neighbours(dossier, out))
		return;
	asking.kind = asking.taker.species->pollination;
	ask_all(&asking);
	if (asking.serve > 0)
		return;
	asking.crops = crops_of(dossier);
	struct flag *flag = flags_add(out, "no-partner", dossier, URGENCY_NOTE);
	partner_say(&asking, flag, out);
	flag_key_set(flag, 0, "partner");
}
