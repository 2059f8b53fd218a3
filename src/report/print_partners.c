/* SPDX-License-Identifier: MIT */
/* Whom a tree needs: who serves it, whom it serves, how near, and whether they bloom together. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "reckon/partner.h"
#include "report/rows.h"

enum {
	SUGGESTED = 6,
	DAYS_OF_YEAR = 365,
	MEETS_DAYS = 7,  /* first blooms no further apart: they meet (common practice) */
	APART_DAYS = 14, /* this far apart: one is over before the other opens */
};

/* One neighbour and one way round. */
struct pairing {
	const struct neighbour *neighbour;
	bool gives; /* the neighbour gives, the tree takes */
	struct partner_verdict verdict;
	struct maybe_i64 away_um;
	struct maybe_i32 days; /* between their first days of bloom, by what was logged for both */
};

struct pairings {
	const struct dossier *dossier;
	struct arena *scratch; /* of one neighbour's dossier */
	struct partner tree;
	struct pairing *items;
	int32_t count;
};

static struct partner partner_of_kind(const struct tree_kind *kind)
{
	struct partner partner = partner_of(kind->species, kind->cultivar);

	partner.outside = kind->outside;
	return partner;
}

/* --- bloom by what was logged, before the almanac's classes --- */

static bool has_own_bloom(const struct dossier *dossier, struct date day, struct window *bloom)
{
	*bloom = dossier_window(dossier, WINDOW_BLOOM, day);
	return bloom->known && !bloom->all_year && bloom->basis != BASIS_ALMANAC;
}

/* Days between the usual first days of their bloom, by what was logged for both. A span of the
 * almanac is that of many cultivars, so only its first day, moved by the log, is used. */
static struct maybe_i32 days_apart(
	const struct dossier *dossier, const struct dossier *other, struct date today)
{
	struct window own, theirs;

	if (!has_own_bloom(dossier, today, &own) || !has_own_bloom(other, today, &theirs))
		return (struct maybe_i32){.known = false};
	int32_t apart = circle_of(own.from) - circle_of(theirs.from);
	apart = apart < 0 ? -apart : apart;
	return known_i32(apart > DAYS_OF_YEAR / 2 ? DAYS_OF_YEAR - apart : apart);
}

/* --- making --- */

static void add_pairing(struct pairings *pairings, const struct neighbour *neighbour, bool gives,
	const struct partner_verdict *verdict, struct maybe_i32 days)
{
	pairings->items[pairings->count++] = (struct pairing){
		.neighbour = neighbour,
		.gives = gives,
		.verdict = *verdict,
		.away_um = dossier_distance(pairings->dossier, neighbour),
		.days = days,
	};
}

/* Trees of kinds that have nothing to do with this one's are left out. */
static enum status add_neighbour(struct pairings *pairings, struct yard *yard,
	const struct neighbour *neighbour, struct fault *why)
{
	struct partner other = partner_of_kind(&neighbour->kind);
	struct partner_verdict served = partner_serves(&other, &pairings->tree);
	struct partner_verdict serves = partner_serves(&pairings->tree, &other);
	bool same = other.species != NULL && other.species == pairings->tree.species;
	bool known = other.species != NULL || other.outside != NULL;
	const struct dossier *dossier = NULL;
	struct maybe_i32 days = {.known = false};

	if (!known || (!same && served.answer == PARTNER_NO && serves.answer == PARTNER_NO))
		return STATUS_OK;
	arena_reset(pairings->scratch);
	enum status status =
		yard_dossier_shown(yard, neighbour->tree_id, pairings->scratch, &dossier, why);
	if (status != STATUS_OK)
		return status;
	days = days_apart(pairings->dossier, dossier, yard_today(yard));
	if (same || served.answer != PARTNER_NO)
		add_pairing(pairings, neighbour, true, &served, days);
	if (other.species != NULL && (same || serves.answer != PARTNER_NO))
		add_pairing(pairings, neighbour, false, &serves, days);
	return STATUS_OK;
}

static enum status make_pairings(
	struct pairings *pairings, struct yard *yard, struct arena *arena, struct fault *why)
{
	const struct dossier *dossier = pairings->dossier;
	enum status status = STATUS_OK;

	pairings->tree = partner_of_kind(&dossier->kind);
	pairings->items = arena_array(
		arena, 2 * (size_t)dossier->neighbour_count + 1, sizeof *pairings->items);
	if (pairings->tree.species == NULL)
		return STATUS_OK;
	for (int32_t i = 0; status == STATUS_OK && i < dossier->neighbour_count; i++)
		if (strcmp(dossier->neighbours[i].tree_id, dossier->tree.id) != 0)
			status = add_neighbour(pairings, yard, &dossier->neighbours[i], why);
	return status;
}

/* --- for machines --- */

static const char *const keys[] = {"tree", "other", "direction", "answer", "harm", "bloom",
	"bloom_apart_days", "distance_mm", "over_fence", "reason", "source", "sure", NULL};

static const char *bloom_word(const struct pairing *pairing)
{
	if (pairing->days.known && pairing->days.value <= MEETS_DAYS)
		return "meets";
	if (pairing->days.known && pairing->days.value >= APART_DAYS)
		return "apart";
	switch (pairing->verdict.bloom) {
	case BLOOMS_MEET:
		return "meets";
	case BLOOMS_APART:
		return "apart";
	case BLOOMS_NOT_KNOWN:
		return "";
	}
	return "";
}

static const char *sure_word(const struct partner_verdict *verdict)
{
	return verdict->source[0] == '\0' ? "" : known_by_word(verdict->sure);
}

static enum status put_rows(const struct printer *printer, const struct pairings *pairings,
	const struct almanac *almanac, struct fault *why)
{
	struct rows rows = rows_begin(printer, keys);

	for (int32_t i = 0; i < pairings->count; i++) {
		const struct pairing *pairing = &pairings->items[i];
		const struct partner_verdict *verdict = &pairing->verdict;
		struct maybe_i64 away_mm = pairing->away_um;

		away_mm.value /= 1000;
		rows_text(&rows, pairings->dossier->tree.label);
		rows_text(&rows, pairing->neighbour->label);
		rows_text(&rows, pairing->gives ? "takes" : "gives");
		rows_text(&rows, partner_word(verdict->answer));
		rows_bool(&rows, verdict->harm);
		rows_text(&rows, bloom_word(pairing));
		rows_i64(&rows, pairing->days.known ? known_i64(pairing->days.value)
						    : (struct maybe_i64){.known = false});
		rows_i64(&rows, away_mm);
		rows_bool(&rows, pairing->neighbour->over_fence);
		rows_text(&rows, verdict->reason);
		rows_text(&rows, source_title(almanac, verdict->source));
		rows_text(&rows, sure_word(verdict));
	}
	return rows_end(&rows, why);
}

/* --- for people --- */

static void say_alone(
	const struct printer *printer, const struct partner *tree, const struct almanac *almanac)
{
	static const char *const words[] = {
		[SELF_UNKNOWN] = "Whether it sets alone is not on record",
		[SELF_NO] = "Does not set alone",
		[SELF_PARTLY] = "Sets in part alone",
		[SELF_YES] = "Sets alone"};
	bool of_kind = false;
	const char *source = "";
	enum known_by sure = KNOWN_MEMORY;
	enum self_fruitful self = partner_alone(tree, &of_kind, &source, &sure);

	say_wrapped(printer, "  ", "%s%s%s%s%s", words[self],
		of_kind && self != SELF_UNKNOWN ? ", as most of its kind" : "",
		source[0] != '\0' ? " [" : "",
		sure == KNOWN_MEMORY ? "from memory" : source_title(almanac, source),
		source[0] != '\0' ? "]." : ".");
}

static void say_pairing(
	const struct printer *printer, const struct pairing *pairing, const struct almanac *almanac)
{
	const struct neighbour *neighbour = pairing->neighbour;
	const struct partner_verdict *verdict = &pairing->verdict;
	const char *name = neighbour->kind.cultivar;
	const char *doubt =
		name[0] != '\0' && neighbour->kind.cultivar_sure != SURE_CERTAIN ? "?" : "";
	const char *bloom = bloom_word(pairing);
	char away[40] = "", both[64] = "", text[24];

	if (pairing->away_um.known)
		snprintf(away, sizeof away, ", %s off",
			length_format(pairing->away_um.value, printer->units, text, sizeof text));
	if (pairing->days.known)
		snprintf(both, sizeof both, "; first days of bloom %d apart, by your log",
			pairing->days.value);
	say_wrapped(printer, "  ", "%s %s%s%s%s: %s%s%s%s%s", neighbour->label,
		name[0] != '\0' ? name : neighbour->kind.name, doubt,
		neighbour->over_fence ? ", over the fence" : "", away,
		partner_word(verdict->answer), verdict->harm ? ", and spoils" : "",
		bloom[0] != '\0' ? "; bloom " : "", bloom, both);
	say_wrapped(printer, "      ", "%s%s%s%s", verdict->reason,
		verdict->source[0] != '\0' ? " [" : "",
		verdict->source[0] == '\0'      ? ""
		: verdict->sure == KNOWN_MEMORY ? "from memory"
						: source_title(almanac, verdict->source),
		verdict->source[0] != '\0' ? "]" : "");
}

/* One way round, the best answers first. */
static void say_way(const struct printer *printer, const struct pairings *pairings, bool gives,
	const struct almanac *almanac)
{
	static const enum partner_answer order[] = {
		PARTNER_YES, PARTNER_PARTLY, PARTNER_NOT_KNOWN, PARTNER_NO};
	int32_t said = 0;

	say_line(printer, "%s", gives ? "Who serves it" : "Whom it serves");
	for (size_t o = 0; o < sizeof order / sizeof order[0]; o++) {
		for (int32_t i = 0; i < pairings->count; i++) {
			const struct pairing *pairing = &pairings->items[i];

			if (pairing->gives != gives || pairing->verdict.answer != order[o])
				continue;
			say_pairing(printer, pairing, almanac);
			said++;
		}
	}
	if (said == 0)
		say_line(printer, "  nobody of its kind is on record");
}

/* In whole feet or metres. */
static int64_t whole(int64_t length_um, enum unit_system units)
{
	const int64_t step = units == UNITS_US ? 304800 : 1000000;

	return (length_um + step / 2) / step * step;
}

static void say_gap(
	const struct printer *printer, const struct partner *tree, const struct almanac *almanac)
{
	const struct pollination *kind = tree->species->pollination;
	const struct fact_row *near = species_fact(tree->species, "partner-distance");
	const struct cultivar *rows[SUGGESTED];
	int32_t count = partner_suggest(tree, rows, SUGGESTED);
	char away[24];

	say_line(printer, "What a partner is");
	say_wrapped(printer, "  ", "%s; carried by %s [%s]", kind->text, kind->carried,
		source_title(almanac, kind->source));
	if (near != NULL && near->high.known)
		say_wrapped(printer, "  ",
			"advised within about %s; distance shades the answer, it does not settle "
			"it [%s]",
			length_format(whole(near->high.value, printer->units), printer->units, away,
				sizeof away),
			near->sure == KNOWN_MEMORY ? "from memory"
						   : source_title(almanac, near->source));
	const struct fact_row *years = species_fact(tree->species, "partner-years");
	if (years != NULL)
		say_wrapped(printer, "  ", "%s [%s]", years->text,
			source_title(almanac, years->source));
	for (int32_t i = 0; i < count; i++) {
		struct partner giver = {
			.species = tree->species, .cultivar = rows[i], .name = rows[i]->name};
		struct partner_verdict verdict = partner_serves(&giver, tree);
		say_wrapped(printer, "  ", "%s would: %s%s", rows[i]->name, verdict.reason,
			verdict.sure == KNOWN_MEMORY ? " (from memory)" : "");
	}
}

static enum status say_all(const struct printer *printer, const struct pairings *pairings,
	const struct almanac *almanac, struct fault *why)
{
	const struct dossier *dossier = pairings->dossier;
	const struct tree_kind *kind = &dossier->kind;

	say_wrapped(printer, "", "%s  %s%s%s%s", dossier->tree.label, kind->name,
		kind->cultivar[0] != '\0' ? ", " : "", kind->cultivar,
		kind->cultivar[0] != '\0' && kind->cultivar_sure != SURE_CERTAIN ? "?" : "");
	if (pairings->tree.species == NULL || pairings->tree.species->pollination == NULL) {
		say_wrapped(printer, "  ",
			"Of which kind it is is not known here: whom it needs cannot be said.");
		return say_end(printer, why);
	}
	say_alone(printer, &pairings->tree, almanac);
	say_way(printer, pairings, true, almanac);
	say_way(printer, pairings, false, almanac);
	say_gap(printer, &pairings->tree, almanac);
	return say_end(printer, why);
}

enum status print_partners(
	const struct printer *printer, struct yard *yard, const char *tree_id, struct fault *why)
{
	struct arena *arena = arena_new();
	struct pairings pairings = {.scratch = arena_new()};
	enum status status = yard_dossier(yard, tree_id, &pairings.dossier, why);

	if (status == STATUS_OK)
		status = make_pairings(&pairings, yard, arena, why);
	if (status == STATUS_OK && printer->format == FORMAT_TEXT)
		status = say_all(printer, &pairings, yard_almanac(yard), why);
	else if (status == STATUS_OK)
		status = put_rows(printer, &pairings, yard_almanac(yard), why);
	arena_free(pairings.scratch);
	arena_free(arena);
	return status;
}
