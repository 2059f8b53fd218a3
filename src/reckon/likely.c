/* SPDX-License-Identifier: MIT */
#include "reckon/likely.h"

#include <stdlib.h>
#include <string.h>

#include "likely_traits.h"
#include "likely_words.h"

enum {
	CELL_SIZE = 120,
	/* days by which published orders of ripening are good (facts of the tables), and by which
	   two sites may differ besides */
	ORDER_FITS_DAYS = 10,
	ORDER_NEAR_DAYS = 21,
	APART_DAYS = 14, /* ripening further apart than this tells two apart */
	LEADING_MOST = 12,
	LEADING_LEAST = 4,
	FIT_POINTS = 4, /* for each weight */
	NEAR_POINTS = 1,
	DIFFERS_POINTS = 2,
};

/* --- one row and one note --- */

struct maybe_i32 likely_days_between(const struct cultivar *from, const struct cultivar *to)
{
	if (!from->days.known || !to->days.known || strcmp(from->against, to->against) != 0)
		return (struct maybe_i32){.known = false};
	return known_i32(to->days.value - from->days.value);
}

/* -1: `row` is over before `other` begins, 1: the other way round, 0: they overlap. */
static bool class_side(const struct cultivar *row, const struct cultivar *other, int32_t *side)
{
	int32_t from, to, other_from, other_to;
	if (!likely_season_span(row->season, &from, &to) ||
		!likely_season_span(other->season, &other_from, &other_to))
		return false;
	*side = to < other_from ? -1 : from > other_to ? 1 : 0;
	return true;
}

static enum likely_fit fits_days(int32_t apart_days, const struct likely_note *note)
{
	if (note->days.known) {
		const int32_t off = abs(apart_days - note->days.value);
		return off <= ORDER_FITS_DAYS   ? LIKELY_FITS
		       : off <= ORDER_NEAR_DAYS ? LIKELY_NEAR
						: LIKELY_DIFFERS;
	}
	if (apart_days * note->side > 0)
		return LIKELY_FITS;
	return abs(apart_days) <= ORDER_FITS_DAYS ? LIKELY_NEAR : LIKELY_DIFFERS;
}

/* Days from what the note compares with to the row. */
static struct maybe_i32 days_from(const struct likely_note *note, const struct cultivar *row)
{
	if (note->reference != NULL && row->days.known &&
		strcmp(row->against, note->reference) == 0)
		return row->days;
	return note->against != NULL ? likely_days_between(note->against, row)
				     : (struct maybe_i32){.known = false};
}

static enum likely_fit fits_order(const struct cultivar *row, const struct likely_note *note)
{
	const struct maybe_i32 apart = days_from(note, row);
	const int32_t wanted = !note->days.known                     ? note->side
			       : note->days.value < -ORDER_FITS_DAYS ? -1
			       : note->days.value > ORDER_FITS_DAYS  ? 1
								     : 0;
	int32_t side = 0;
	if (row == note->against && note->days.known && note->days.value == 0)
		return LIKELY_FITS;
	if (apart.known)
		return fits_days(apart.value, note);
	if (note->against == NULL || !class_side(row, note->against, &side))
		return LIKELY_NOT_KNOWN;
	if (side == wanted)
		return LIKELY_FITS;
	return side == 0 || wanted == 0 ? LIKELY_NEAR : LIKELY_DIFFERS;
}

static enum likely_fit fit_of(const struct cultivar *row, const struct likely_note *note,
	bool *first, enum known_by *sure)
{
	char cell[CELL_SIZE];
	*first = false;
	if (strcmp(note->trait, LIKELY_ORDER) == 0) {
		(void)cultivar_source(row, row->days.known ? "days" : "season", sure);
		return fits_order(row, note);
	}
	if (!likely_cell(row, note->trait, cell, sizeof cell, sure))
		return LIKELY_NOT_KNOWN;
	return likely_compare(note->value, cell, first);
}

enum likely_fit likely_fits(const struct cultivar *row, const struct likely_note *note)
{
	bool first = false;
	enum known_by sure = KNOWN_MEMORY;
	return fit_of(row, note, &first, &sure);
}

/* --- scores --- */

/* What one answer is worth; what is not read in a source speaks against a row by half. */
static int32_t points(enum likely_fit fit, int32_t weight, enum known_by sure)
{
	switch (fit) {
	case LIKELY_FITS:
		return weight * FIT_POINTS;
	case LIKELY_NEAR:
		return weight * NEAR_POINTS;
	case LIKELY_DIFFERS:
		return -weight * (sure == KNOWN_READ ? DIFFERS_POINTS : DIFFERS_POINTS / 2);
	case LIKELY_NOT_KNOWN:
		return 0;
	}
	return 0;
}

/* A candidate with what orders equal scores. */
struct placed {
	struct likely_candidate candidate;
	int32_t likelier; /* notes that fit its first word */
	int32_t place;    /* in the tables */
};

static int32_t weight_of(const struct likely_note *notes, int32_t count, int32_t at)
{
	int32_t same = 0;
	for (int32_t i = 0; i < count; i++)
		same += strcmp(notes[i].trait, notes[at].trait) == 0;
	/* several orders share what one weighs */
	const int32_t weight = likely_weight(notes[at].trait);
	return same > 1 && weight > same ? weight / same : same > 1 ? 1 : weight;
}

static void judge(struct placed *placed, const struct likely_note *notes, int32_t count)
{
	struct likely_candidate *candidate = &placed->candidate;
	enum known_by surest = KNOWN_MEMORY;
	int32_t compared = 0;
	for (int32_t i = 0; i < count; i++) {
		bool first = false;
		enum known_by sure = KNOWN_MEMORY;
		const enum likely_fit fit = fit_of(candidate->row, &notes[i], &first, &sure);
		candidate->fits[i] = fit;
		candidate->score += points(fit, weight_of(notes, count, i), sure);
		placed->likelier += fit == LIKELY_FITS && first;
		compared += fit != LIKELY_NOT_KNOWN;
		surest = fit != LIKELY_NOT_KNOWN && sure < surest ? sure : surest;
	}
	candidate->surest = compared > 0 ? surest : candidate->row->sure;
}

static int compare_placed(const void *a, const void *b)
{
	const struct placed *one = a;
	const struct placed *two = b;
	if (one->candidate.score != two->candidate.score)
		return one->candidate.score > two->candidate.score ? -1 : 1;
	if (one->likelier != two->likelier)
		return one->likelier > two->likelier ? -1 : 1;
	return one->place < two->place ? -1 : one->place > two->place;
}

/* --- what to look at next --- */

static int32_t parted_by(
	const struct likely_candidate *a, const struct likely_candidate *b, const char *trait)
{
	char cell[CELL_SIZE], other[CELL_SIZE];
	enum known_by sure;
	bool first;
	if (strcmp(trait, LIKELY_ORDER) == 0) {
		const struct maybe_i32 days = likely_days_between(a->row, b->row);
		int32_t side = 0;
		if (days.known)
			return abs(days.value) > APART_DAYS;
		return class_side(a->row, b->row, &side) && side != 0;
	}
	if (!likely_cell(a->row, trait, cell, sizeof cell, &sure) ||
		!likely_cell(b->row, trait, other, sizeof other, &sure))
		return 0;
	return likely_compare(cell, other, &first) == LIKELY_DIFFERS;
}

/* Is there an order of days among the leading ones, and not only classes that `season` tells? */
static bool has_days(const struct likely *likely)
{
	for (int32_t i = 0; i < likely->leading; i++)
		if (likely->candidates[i].row->days.known)
			return true;
	return false;
}

static bool is_noted(const struct likely_note *notes, int32_t count, const char *trait)
{
	for (int32_t i = 0; i < count; i++)
		if (strcmp(notes[i].trait, trait) == 0)
			return true;
	return false;
}

/* Put where its worth has it: pairs parted, by the weight of the trait. */
static void put_next(struct likely *out, const struct likely_next *next)
{
	int32_t at = out->next_count;
	const int32_t worth = next->parted * likely_weight(next->trait);
	while (at > 0 && out->next[at - 1].parted * likely_weight(out->next[at - 1].trait) < worth)
		at--;
	if (at >= LIKELY_NEXT)
		return;
	for (int32_t i = LIKELY_NEXT - 1; i > at; i--)
		out->next[i] = out->next[i - 1];
	out->next[at] = *next;
	out->next_count += out->next_count < LIKELY_NEXT;
}

static bool is_ripening(const char *trait)
{
	return strcmp(trait, LIKELY_ORDER) == 0 || strcmp(trait, "season") == 0;
}

/* Where looks leave many alike, the order of ripening is worth more than any colour. */
static void put_first(struct likely *out, const struct likely_next *next)
{
	int32_t at = 0;
	while (at < out->next_count && out->next[at].trait != next->trait)
		at++;
	if (at == out->next_count)
		at = LIKELY_NEXT - 1;
	for (; at > 0; at--)
		out->next[at] = out->next[at - 1];
	out->next[0] = *next;
}

static void find_next(struct likely *out, const struct likely_kind *kinds, int32_t kind_count,
	const struct likely_note *notes, int32_t note_count)
{
	const char *traits[LIKELY_TRAITS_MAX];
	struct likely_next ripening = {.parted = 0};
	const int32_t count = likely_traits(kinds, kind_count, traits);
	for (int32_t t = count - 1; t >= 0; t--) { /* order before season */
		struct likely_next next = {.trait = traits[t]};
		if (is_noted(notes, note_count, traits[t]) ||
			(strcmp(traits[t], LIKELY_ORDER) == 0 && !has_days(out)))
			continue;
		for (int32_t i = 0; i < out->leading; i++)
			for (int32_t k = 0; k < i; k++) {
				next.parted += parted_by(
					&out->candidates[i], &out->candidates[k], traits[t]);
				next.pairs++;
			}
		if (next.parted > 0)
			put_next(out, &next);
		if (next.parted > 0 && is_ripening(traits[t]) && ripening.parted == 0)
			ripening = next;
	}
	if (out->leading > LEADING_LEAST && ripening.parted > 0)
		put_first(out, &ripening);
}

/* --- ranking --- */

/* Those that share the first place, else the first few. */
static int32_t leading_of(const struct likely_candidate *candidates, int32_t count)
{
	int32_t leading = 0;
	while (leading < count && leading < LEADING_MOST && candidates[leading].rank <= 1)
		leading++;
	while (leading < count && leading < LEADING_LEAST)
		leading++;
	return leading;
}

void likely_rank(const struct likely_kind *kinds, int32_t kind_count,
	const struct likely_note *notes, int32_t note_count, struct arena *arena,
	struct likely *out)
{
	int32_t count = 0;
	*out = (struct likely){.count = 0};
	for (int32_t k = 0; k < kind_count; k++)
		count += kinds[k].count;
	struct placed *placed = arena_array(arena, (size_t)count + 1, sizeof *placed);
	struct likely_candidate *all = arena_array(arena, (size_t)count + 1, sizeof *all);
	for (int32_t k = 0; k < kind_count; k++)
		for (int32_t i = 0; i < kinds[k].count; i++, out->count++) {
			placed[out->count] = (struct placed){.place = out->count,
				.candidate = {.kind = &kinds[k], .row = &kinds[k].rows[i]}};
			judge(&placed[out->count], notes, note_count);
		}
	qsort(placed, (size_t)count, sizeof *placed, compare_placed);
	for (int32_t i = 0; i < count; i++) {
		all[i] = placed[i].candidate;
		const bool shares = i > 0 && all[i].score == all[i - 1].score;
		all[i].rank = shares ? all[i - 1].rank : i + 1;
	}
	out->candidates = all;
	out->leading = leading_of(all, count);
	find_next(out, kinds, kind_count, notes, note_count);
}

/* --- two rows --- */

bool likely_alike(const struct cultivar *a, const struct cultivar *b)
{
	const struct likely_kind kinds[] = {{.rows = a, .count = 1}, {.rows = b, .count = 1}};
	const char *traits[LIKELY_TRAITS_MAX];
	const int32_t count = likely_traits(kinds, 2, traits);
	char cell[CELL_SIZE], other[CELL_SIZE];
	enum known_by sure;
	bool first;
	for (int32_t i = 0; i < count; i++)
		if (likely_is_look(traits[i]) &&
			likely_cell(a, traits[i], cell, sizeof cell, &sure) &&
			likely_cell(b, traits[i], other, sizeof other, &sure) &&
			likely_compare(cell, other, &first) < LIKELY_FITS)
			return false;
	return true;
}
