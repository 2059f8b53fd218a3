/* SPDX-License-Identifier: MIT */
/* no-partner: a tree of bearing age that does not set alone, and nobody on record to serve it.
 *
 * Quiet where somebody serves it, where it has cropped in two seasons, where a partner would
 * only bring seeds, and where the kind itself is in doubt; of no known cultivar, until it is seen
 * to bloom for nothing. What is not on record is asked, never claimed; distance and bloom are
 * named. In a yard of thousands a cultivar is asked once, not at each of its trees. */
#include <stdio.h>
#include <string.h>

#include "clash.h"
#include "core/text.h"
#include "look.h"
#include "reckon/partner.h"

enum { PICKS_LOGGED_DAYS = 365 };
enum { CROPS_ENOUGH = 2, BLOOMS_ENOUGH = 2, SUGGESTED = 3, ANSWERS_KEPT = 12 };
enum { LINES_TOLD = FLAG_EVIDENCE_MAX - 4 }; /* of neighbours; the rest is of the tree */

/* What a cultivar of a kind answered. */
struct answered {
	const struct species *species;
	const char *cultivar;
	struct partner giver;
	struct partner_verdict verdict;
};

/* How the neighbours answer. */
struct asking {
	const struct dossier *dossier;
	struct partner taker;
	const struct pollination *kind; /* of the taker's kind */
	struct partner named;           /* the first of known cultivar, where the taker's is not */
	int64_t near_um;                /* 0: not stated */
	int32_t serve;                  /* somebody does, as far as is known */
	int32_t doubtful;
	int32_t strangers;             /* trees whose kind nobody knows */
	const struct neighbour *doubt; /* the last doubtful one */
	const struct neighbour *far;   /* the nearest that serves, and stands too far */
	int64_t far_um;
	const struct neighbour
		*barren; /* of its kind, a triploid: it takes pollen and gives none */
	const char *lines[FLAG_EVIDENCE_MAX];
	int32_t line_count;
	struct arena *arena;
	struct answered answers[ANSWERS_KEPT]; /* the newest over the oldest */
	int32_t answer_count;
};

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

/* --- saying so --- */

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
	char names[200], near[32], near_text[64] = "", few_text[300] = "", wanted[FLAG_SAYS_SIZE];
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
}

static void add_evidence(const struct asking *asking, struct flag *flag, struct flags *out)
{
	int32_t blooms = asking->dossier->learning.bloom.seasons;
	const struct fact_row *years = species_fact(asking->taker.species, "partner-years");
	char whose[240];

	say_alone(&asking->taker, flag, out);
	if (blooms > 0 && crops_of(asking->dossier) == 0)
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

void rule_no_partner(const struct dossier *dossier, struct date today, struct flags *out)
{
	struct asking asking = {.dossier = dossier, .arena = out->arena};

	asking.taker = partner_of(dossier->kind.species, dossier->kind.cultivar);
	if (dossier->picks_since.known)
		flags_change_on(
			out, today, date_add_days(dossier->picks_since.value, PICKS_LOGGED_DAYS));
	if (!wants_partner(dossier, &asking.taker, today))
		return;
	asking.kind = asking.taker.species->pollination;
	ask_all(&asking);
	if (asking.serve > 0)
		return;
	struct flag *flag = flags_add(out, "no-partner", dossier, URGENCY_NOTE);
	say_gap(&asking, flag);
	say_what_to_do(&asking, flag);
	add_evidence(&asking, flag, out);
	flag_key_set(flag, 0, "partner");
}
