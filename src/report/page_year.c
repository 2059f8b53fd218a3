/* SPDX-License-Identifier: MIT */
/* The spans of a kind's year, its cuts and its feeds, on its page of the almanac. */
#include "page.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "reckon/window.h"

enum { ROWS_MAX = 128, KINDS_SIZE = 160, CUTS_SHAPING = 5, MASSES_SIZE = 72 };

/* --- the year --- */

static bool window_is_here(const struct page *page, const struct window_row *row)
{
	const struct window_row *rows[ROWS_MAX];
	int32_t count = species_windows(page->species, row->kind, page->climate, rows, ROWS_MAX);

	for (int32_t i = 0; i < count; i++)
		if (rows[i] == row)
			return true;
	return false;
}

/* The windows made from the cut rows are told among the cuts. */
static bool is_of_the_year(const struct window_row *row)
{
	return row->kind != WINDOW_CUT_CLEAR && row->kind != WINDOW_CUT_AVOID;
}

static void say_window(struct page *page, const struct window_row *row)
{
	char days[PAGE_DAYS_SIZE] = "all year", head[32], source[PAGE_SOURCE_SIZE];

	struct window window = window_of_row(row, page->hemisphere, NULL);
	if (!row->all_year)
		page_days(window.from, window.to, days);
	snprintf(head, sizeof head, "    %-14s  ", days);
	say_wrapped(page->printer, head, "%s%s%s%s", window_title(row->kind),
		row->reason[0] != '\0' ? ": " : "", row->reason,
		page_source(page, row->source, row->sure, source));
}

void page_year(struct page *page)
{
	const struct species *species = page->species;

	for (int32_t group = page_group_first(page); group >= 0; group = page_group_next(group)) {
		bool begun = false;

		for (int32_t i = 0; i < species->window_count; i++) {
			const struct window_row *row = &species->windows[i];

			if (!is_of_the_year(row) || !page_group_has(page, group, row->climate,
							    window_is_here(page, row)))
				continue;
			if (!begun)
				page_group_heading(page, group);
			begun = true;
			say_window(page, row);
		}
	}
}

/* --- cuts --- */

static bool same_but_cultivar(const struct cut_row *a, const struct cut_row *b)
{
	return a->climate == b->climate && a->verdict == b->verdict &&
	       a->from.month == b->from.month && a->from.day == b->from.day &&
	       a->to.month == b->to.month && a->to.day == b->to.day &&
	       strcmp(a->text, b->text) == 0 && strcmp(a->source, b->source) == 0 &&
	       a->sure == b->sure;
}

static bool same_verdict(const struct cut_row *a, const struct cut_row *b)
{
	return same_but_cultivar(a, b) && strcmp(a->cultivar, b->cultivar) == 0;
}

/* Does the row hold at the place, for the first cultivar that it names? */
static bool cut_is_here(const struct page *page, const struct cut_row *row)
{
	const struct cut_row *rows[ROWS_MAX];
	char cultivar[NAME_SIZE];

	snprintf(
		cultivar, sizeof cultivar, "%.*s", (int)strcspn(row->cultivar, ";"), row->cultivar);
	int32_t count =
		species_cuts(page->species, cultivar, page->climate, row->kind, rows, ROWS_MAX);
	for (int32_t i = 0; i < count; i++)
		if (rows[i] == row)
			return true;
	return false;
}

/* Do two rows say the same of two kinds of cut, and both hold here or neither? */
static bool same_words(const struct page *page, const struct cut_row *a, const struct cut_row *b)
{
	return same_verdict(a, b) && cut_is_here(page, a) == cut_is_here(page, b);
}

/* All kinds of cut that a verdict is given for, at its first row. */
static const char *kinds_of_verdict(const struct page *page, int32_t first, char out[KINDS_SIZE])
{
	const struct species *species = page->species;
	struct text_builder kinds = text_builder_fixed(out, KINDS_SIZE);
	int32_t count = 0;
	bool tip = false;

	text_add(&kinds, "");
	for (int32_t i = first; i < species->cut_count; i++)
		if (same_words(page, &species->cuts[first], &species->cuts[i])) {
			tip = tip || species->cuts[i].kind == CUT_SUMMER_TIP;
			count++;
			text_add_format(&kinds, "%s%s", kinds.length > 0 ? ", " : "",
				cut_kind_row(species->cuts[i].kind)->title);
		}
	if (count == CUTS_SHAPING + 1)
		return "all cuts";
	return count == CUTS_SHAPING && !tip ? "all cuts but summer tips" : out;
}

/* By an earlier row, or of a cultivar what the whole kind is told of the same cut. */
static bool was_said(const struct page *page, int32_t at)
{
	const struct species *species = page->species;
	const struct cut_row *row = &species->cuts[at];

	for (int32_t i = 0; i < species->cut_count; i++) {
		const struct cut_row *other = &species->cuts[i];
		bool of_the_kind = row->cultivar[0] != '\0' && other->cultivar[0] == '\0' &&
				   other->kind == row->kind && same_but_cultivar(other, row);
		if (of_the_kind || (i < at && same_words(page, other, row)))
			return true;
	}
	return false;
}

static void say_cut(struct page *page, int32_t at)
{
	static const char *const verdicts[] = {[VERDICT_CLEAR] = "clear",
		[VERDICT_ALLOWED] = "allowed",
		[VERDICT_AVOID] = "avoid"};
	const struct cut_row *row = &page->species->cuts[at];
	char kinds[KINDS_SIZE], head[48], days[PAGE_DAYS_SIZE], source[PAGE_SOURCE_SIZE];

	snprintf(head, sizeof head, "    %-14s  %-8s ",
		page_days(window_turn(row->from, page->hemisphere),
			window_turn_last(row->to, page->hemisphere), days),
		verdicts[row->verdict]);
	say_wrapped(page->printer, head, "%s", kinds_of_verdict(page, at, kinds));
	if (row->cultivar[0] != '\0')
		say_wrapped(page->printer, "        only ", "%s", row->cultivar);
	say_wrapped(page->printer, "        ", "%s%s", row->text,
		page_source(page, row->source, row->sure, source));
}

struct shown_cut {
	int32_t at; /* in the kind's rows */
	enum verdict verdict;
	int32_t first; /* day of the year, as it is printed */
};

/* The clear times first, since they are asked for; then by the day on which they begin. */
static int by_verdict(const void *a, const void *b)
{
	const struct shown_cut *one = a;
	const struct shown_cut *other = b;

	if (one->verdict != other->verdict)
		return one->verdict < other->verdict ? -1 : 1;
	return one->first != other->first ? one->first - other->first : one->at - other->at;
}

static void say_cuts_of(struct page *page, int32_t group)
{
	const struct species *species = page->species;
	struct arena *arena = arena_new();
	struct shown_cut *shown = arena_array(arena, (size_t)species->cut_count + 1, sizeof *shown);
	size_t count = 0;

	for (int32_t i = 0; i < species->cut_count; i++) {
		const struct cut_row *row = &species->cuts[i];

		if (!was_said(page, i) &&
			page_group_has(page, group, row->climate, cut_is_here(page, row)))
			shown[count++] = (struct shown_cut){i, row->verdict,
				circle_of(window_turn(row->from, page->hemisphere))};
	}
	qsort(shown, count, sizeof *shown, by_verdict);
	if (count > 0)
		page_group_heading(page, group);
	for (size_t i = 0; i < count; i++)
		say_cut(page, shown[i].at);
	arena_free(arena);
}

void page_cuts(struct page *page)
{
	const struct species *species = page->species;
	char source[PAGE_SOURCE_SIZE];

	say_wrapped(page->printer, "  ",
		"Clear: the time for it. Allowed: with the words below it. Avoid: it costs crop or "
		"health. What is dead, damaged or diseased, and suckers, may go at any time, on a "
		"dry day.");
	for (int32_t group = page_group_first(page); group >= 0; group = page_group_next(group))
		say_cuts_of(page, group);
	say_wrapped(page->printer, "  ", "Already cut out of season: %s", species->already_cut);
	if (species->share_limit_permille.known)
		say_wrapped(page->printer, "  ", "At most %.0f %% of %s in one season%s",
			species->share_limit_permille.value / 10.0,
			species->limit_is_shoots ? "last year's shoots" : "the crown",
			page_source(page, species->share_source, species->share_sure, source));
}

/* --- feeds --- */

static const char *basis_words(const struct page *page, enum feed_basis basis)
{
	switch (basis) {
	case FEED_PER_INCH:
		return page->printer->units == UNITS_US ? " for each inch of trunk"
							: " for each inch (2.5 cm) of trunk";
	case FEED_PER_AGE_YEAR:
		return " for each year of age";
	case FEED_PER_TREE:
		return " for a tree";
	case FEED_PER_FEED:
		return "";
	case FEED_PER_AREA:
		return " for 1000 sq ft (93 m2) under the crown";
	}
	return "";
}

/* "3 lb to 5 lb": a mass, or a range of it. */
static const char *mass_words(
	const struct page *page, int64_t from_mg, struct maybe_i64 to_mg, char out[MASSES_SIZE])
{
	char low[32], high[32];

	mass_format(from_mg, page->printer->units, low, sizeof low);
	if (to_mg.known)
		snprintf(out, MASSES_SIZE, "%s to %s", low,
			mass_format(to_mg.value, page->printer->units, high, sizeof high));
	else
		snprintf(out, MASSES_SIZE, "%s", low);
	return out;
}

/* "1 lb product (21 % N) a year for a tree, at most 2 lb": the figures of a rate. */
static void add_rate(const struct page *page, const struct feed_row *row, struct text_builder *text)
{
	static const char *const periods[] = {
		[PERIOD_UNSTATED] = "", [PERIOD_FEED] = " a feed", [PERIOD_YEAR] = " a year"};
	char mass[MASSES_SIZE];

	text_add_format(text, "%s %s", mass_words(page, row->rate_mg, row->rate_to_mg, mass),
		row->of_nitrogen ? "actual N" : "product");
	if (!row->of_nitrogen && row->product_n_mpct.known)
		text_add_format(text, " (%g %% N)", row->product_n_mpct.value / 1000.0);
	text_add_format(text, "%s%s", periods[row->period], basis_words(page, row->basis));
	if (row->cap_mg.known)
		text_add_format(text, ", at most %s",
			mass_words(page, row->cap_mg.value, row->cap_to_mg, mass));
	if (row->period == PERIOD_UNSTATED)
		text_add(text, "; how often is not said");
}

/* For which trees, where measured, in how many feeds. */
static void add_terms(
	const struct page *page, const struct feed_row *row, struct text_builder *text)
{
	char height[40];
	int32_t from = row->age_from.value;
	int32_t to = row->age_to.value;

	if (row->age_from.known && row->age_to.known && from == to)
		text_add_format(text, "; %d year%s old", from, from == 1 ? "" : "s");
	else if (row->age_from.known && row->age_to.known)
		text_add_format(text, "; %d to %d years old", from, to);
	else if (row->age_from.known)
		text_add_format(text, "; from %d years old", from);
	else if (row->age_to.known)
		text_add_format(text, "; up to %d years old", to);
	if (row->splits.known)
		text_add_format(text, "; in %d feeds", row->splits.value);
	if (row->measured_at_um.known)
		text_add_format(text, "; trunk measured %s up",
			length_format(row->measured_at_um.value, page->printer->units, height,
				sizeof height));
	if (row->condition[0] != '\0')
		text_add_format(text, "; %s", row->condition);
}

void page_feeds(struct page *page)
{
	const struct species *species = page->species;
	char room[600], source[PAGE_SOURCE_SIZE];

	for (int32_t i = 0; i < species->feed_count; i++) {
		const struct feed_row *row = &species->feeds[i];
		struct text_builder text = text_builder_fixed(room, sizeof room);

		if (row->all_kinds && (i == 0 || !species->feeds[i - 1].all_kinds))
			say_line(page->printer, "  For any fruit tree");
		text_add_format(&text, "%s%s", row->region, row->region[0] != '\0' ? ": " : "");
		add_rate(page, row, &text);
		add_terms(page, row, &text);
		say_wrapped(page->printer, "  - ", "%s%s", room,
			page_source(page, row->source, row->sure, source));
	}
}
