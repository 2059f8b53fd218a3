/* SPDX-License-Identifier: MIT */
#include "rules/saw.h"

#include <stdio.h>
#include <string.h>

#include "look.h"

enum { YEAR_DAYS = 366 };

static struct verdict_here verdict_on(const struct dossier *dossier, struct date day)
{
	return look_verdict(dossier, dossier->kind.species, CUT_SHAPE, day, (unsigned)REASONS_ALL);
}

static enum basis basis_of(const struct verdict_here *here)
{
	if (here->known && here->row == NULL)
		return BASIS_OWN;
	return here->moved || here->freed ? BASIS_LEARNED : BASIS_ALMANAC;
}

struct saw_day saw_on(const struct dossier *dossier, struct date day)
{
	const struct verdict_here here = verdict_on(dossier, day);

	return (struct saw_day){
		.known = here.known, .verdict = here.verdict, .basis = basis_of(&here)};
}

/* The last day on end, in steps of one day, that says the same; at most a year away. What the
 * span rests on is told by its days, and by the fruit that was off where it ends. */
static struct date run(const struct dossier *dossier, enum verdict verdict, struct date day,
	int32_t step, enum basis *basis)
{
	for (int32_t at = 0; at < YEAR_DAYS; at++) {
		struct date next = date_add_days(day, step);
		struct verdict_here here = verdict_on(dossier, next);
		bool same = here.known && here.verdict == verdict;

		if (here.freed || (same && basis_of(&here) != BASIS_ALMANAC))
			*basis = same ? basis_of(&here) : BASIS_LEARNED;
		if (!same)
			break;
		day = next;
	}
	return day;
}

struct saw_span saw_span_at(const struct dossier *dossier, enum verdict verdict, struct date day)
{
	struct saw_span span = {.known = false};

	for (int32_t at = 0; !span.known && at <= YEAR_DAYS; at++) {
		struct date first = date_add_days(day, at);
		struct saw_day here = saw_on(dossier, first);

		if (!here.known || here.verdict != verdict)
			continue;
		span = (struct saw_span){.known = true, .basis = here.basis};
		span.from = at == 0 ? run(dossier, verdict, first, -1, &span.basis) : first;
		span.to = run(dossier, verdict, first, 1, &span.basis);
	}
	span.all_year = span.known && date_days_between(span.from, span.to) >= YEAR_DAYS;
	return span;
}

/* --- a cut asked about --- */

static const char *const verdict_words[] = {
	[VERDICT_CLEAR] = "clear", [VERDICT_ALLOWED] = "allowed", [VERDICT_AVOID] = "not advised"};

static bool is_said(const struct saw_term *terms, int32_t count, const char *text)
{
	for (int32_t i = 0; i < count; i++)
		if (strcmp(terms[i].text, text) == 0)
			return true;
	return false;
}

static int32_t add_term(struct saw_term *terms, int32_t count, const char *text, const char *source)
{
	if (count == SAW_TERMS_MAX || is_said(terms, count, text))
		return count;
	look_say(&terms[count].text, "%s", text);
	terms[count].source = source;
	return count + 1;
}

/* "Clear 1 January to 28 February 2027: while dormant". */
static int32_t add_next_clear(const struct cut_window *cuts, int32_t cut_count, struct date day,
	struct saw_term *terms, int32_t count)
{
	const struct cut_row *row = NULL;
	struct maybe_date next = window_next_clear(cuts, cut_count, day, &row);
	char words[64], text[FLAG_SAYS_SIZE];

	for (int32_t i = 0; next.known && i < cut_count; i++) {
		const struct window window = {
			.known = true, .from = cuts[i].from, .to = cuts[i].to};

		if (cuts[i].row != row)
			continue;
		struct window_span span = window_span_at(&window, next.value);
		snprintf(text, sizeof text, "clear %s: %s",
			look_span(span.from, span.to, words, sizeof words), row->text);
		return add_term(terms, count, text, row->source);
	}
	return count;
}

static int32_t add_clashes(const struct species *species, struct saw_term *terms, int32_t count)
{
	for (int32_t i = 0; i < species->fact_count; i++)
		if (strstr(species->facts[i].key, "cut-clash") != NULL)
			count = add_term(
				terms, count, species->facts[i].text, species->facts[i].source);
	return count;
}

int32_t saw_terms(const struct dossier *dossier, const struct entry *cut, struct saw_term *out)
{
	const struct species *species = dossier->kind.species;
	const struct window_facts facts = dossier_window_facts(dossier);
	struct cut_window cuts[CUTS_MAX];
	struct date day;
	bool clear = false;
	int32_t count = 0;

	if (species == NULL || !window_place_has_dates(dossier->place) || !look_is_shaping(cut) ||
		!look_day(cut, &day))
		return 0;
	int32_t rows =
		window_cuts(&facts, dossier->kind.cultivar, look_cut_kind(cut), cuts, CUTS_MAX);
	if (rows > CUTS_MAX)
		rows = CUTS_MAX;
	for (int32_t i = 0; i < rows; i++) {
		const struct cut_row *row = cuts[i].row;
		char text[FLAG_SAYS_SIZE];

		if (!cut_window_holds(&cuts[i], day))
			continue;
		clear = clear || row->verdict == VERDICT_CLEAR;
		snprintf(text, sizeof text, "%s that day: %s", verdict_words[row->verdict],
			row->text);
		count = add_term(out, count, text, row->source);
	}
	if (!clear)
		count = add_next_clear(cuts, rows, day, out, count);
	bool big = look_cut_kind(cut) == CUT_HEIGHT || look_cut_kind(cut) == CUT_RENOVATION;
	return big ? add_clashes(species, out, count) : count;
}
