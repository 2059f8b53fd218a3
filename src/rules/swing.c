/* SPDX-License-Identifier: MIT */
/* What a tree's own crops say of it: its past, and whether heavy and light years take turns. */
#include <string.h>

#include "core/text.h"
#include "look.h"
#include "reckon/bloom.h"
#include "rules/causes.h"

enum { RUN_LEAST = 4 };

static const struct season *own_seasons(const struct dossier *dossier, int32_t *count)
{
	*count = dossier->season_count - dossier->season_own;
	return dossier->seasons + dossier->season_own;
}

struct expected_crop causes_past(const struct dossier *dossier, int32_t year)
{
	int32_t count;
	const struct season *seasons = own_seasons(dossier, &count);

	while (count > 0 && seasons[count - 1].year >= year)
		count--;
	return crop_expected(seasons, count, crop_fruit_mg(dossier->kind.species));
}

struct maybe_i64 causes_total_mg(const struct dossier *dossier, int32_t year)
{
	int32_t count;
	const struct season *seasons = own_seasons(dossier, &count);

	for (int32_t i = 0; i < count; i++)
		if (seasons[i].year == year)
			return crop_season_mg(
				seasons, count, i, crop_fruit_mg(dossier->kind.species));
	return (struct maybe_i64){.known = false};
}

/* --- a light year with a cause of its own is no swing --- */

static bool says_lost(const char *text)
{
	static const char *const words[] = {"frost", "freeze", "froze", "hail"};
	char folded[TEXT_SIZE];

	if (text == NULL)
		return false;
	text_fold(text, folded, sizeof folded);
	for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
		if (strstr(folded, words[i]) != NULL)
			return true;
	return false;
}

static bool crop_was_lost(const struct dossier *dossier, int32_t year)
{
	for (int32_t i = 0; i < dossier->entry_count; i++) {
		const struct entry *entry = dossier->entries[i];
		struct date day;
		bool flowers;

		if (look_cut_fell_to(dossier, entry, year, &flowers))
			return true;
		if ((entry->kind != KIND_PICK && entry->kind != KIND_LOSS) ||
			!look_day(entry, &day) ||
			season_year_of(&dossier->season_rule, day) != year)
			continue;
		if (says_lost(entry_detail(entry, FIELD_CAUSE)) || says_lost(entry->note))
			return true;
	}
	return false;
}

bool look_bloom_of(const struct dossier *dossier, int32_t year, struct window_span *span)
{
	enum { IN_FLOWER_DAYS = 21 };
	struct window_span harvest;
	struct date day;

	if (!season_harvest(&dossier->season_rule, year, &harvest))
		return false;
	struct window bloom = dossier_window(dossier, WINDOW_BLOOM, harvest.from);
	if (!bloom.known || bloom.all_year)
		return false;
	*span = window_span_before(&bloom, harvest.from);
	for (int32_t i = 0; i < dossier->entry_count; i++)
		if (bloom_is_seen(dossier->entries[i]) && look_day(dossier->entries[i], &day) &&
			date_compare(day, span->from) >= 0 && date_compare(day, span->to) <= 0) {
			span->from = day;
			span->to = date_add_days(day, IN_FLOWER_DAYS);
			return true;
		}
	int32_t quarter = date_days_between(span->from, span->to) / 4;
	span->from = date_add_days(span->from, quarter);
	span->to = date_add_days(span->to, -quarter);
	return true;
}

/* Frost logged while that crop was in flower. */
static bool bloom_was_frosted(const struct dossier *dossier, int32_t year)
{
	struct window_span span;
	struct date day;

	if (!look_bloom_of(dossier, year, &span))
		return false;
	for (int32_t i = 0; i < dossier->place_entry_count; i++) {
		const struct entry *entry = dossier->place_entries[i];

		if (strcmp(entry_detail(entry, FIELD_WEATHER), "frost") == 0 &&
			look_day(entry, &day) && date_compare(day, span.from) >= 0 &&
			date_compare(day, span.to) <= 0)
			return true;
	}
	return false;
}

/* --- the swing --- */

/* The last season that is over and has a figure, if none after it is over without one. */
static int32_t last_over(const struct dossier *dossier)
{
	for (int32_t i = dossier->season_count; i-- > dossier->season_own;) {
		enum season_state state = dossier->seasons[i].state;

		if (state == SEASON_COMPLETE || state == SEASON_NONE_SEEN)
			return i;
		if (state == SEASON_NOT_RECORDED)
			return -1;
	}
	return -1;
}

/* Has every second season of the last four been the heavier one? */
static bool takes_turns(const struct dossier *dossier, int32_t last, bool *last_is_heavy)
{
	for (int32_t i = 0; i < RUN_LEAST - 1; i++) {
		int32_t year = dossier->seasons[last].year - i;
		struct maybe_i64 after = causes_total_mg(dossier, year);
		struct maybe_i64 before = causes_total_mg(dossier, year - 1);

		if (!after.known || !before.known || after.value == before.value)
			return false;
		bool heavier = after.value > before.value;
		if (i == 0)
			*last_is_heavy = heavier;
		else if (heavier != (*last_is_heavy == (i % 2 == 0)))
			return false;
	}
	return true;
}

/* Was one of the light ones among them lost? */
static bool has_lost(const struct dossier *dossier, int32_t last, bool last_is_heavy)
{
	int32_t light = dossier->seasons[last].year - (last_is_heavy ? 1 : 0);

	for (; light > dossier->seasons[last].year - RUN_LEAST; light -= 2)
		if (crop_was_lost(dossier, light) || bloom_was_frosted(dossier, light))
			return true;
	return false;
}

/* The index over the seasons in a row that end with the last. */
static void work_out_index(const struct dossier *dossier, int32_t last_year, struct swing *swing)
{
	struct maybe_i64 after = causes_total_mg(dossier, last_year);
	double sum = 0;

	swing->seasons = 1;
	for (int32_t year = last_year - 1;; year--) {
		struct maybe_i64 before = causes_total_mg(dossier, year);

		if (!before.known)
			break;
		swing->seasons++;
		double a = (double)after.value, b = (double)before.value;
		if (a + b > 0) {
			sum += (a > b ? a - b : b - a) / (a + b);
			swing->pairs++;
		}
		after = before;
	}
	if (swing->pairs > 0)
		swing->index = sum / swing->pairs;
}

struct swing causes_swing(const struct dossier *dossier)
{
	struct swing swing = {.known = false};
	const struct species *species = dossier->kind.species;
	const struct fact_row *least =
		species != NULL ? species_fact(species, "alternate-index") : NULL;
	int32_t last = species != NULL ? last_over(dossier) : -1;
	bool heavy = false;

	if (least == NULL || !least->low.known || last < dossier->season_own ||
		dossier->seasons[last].year < dossier->season_year - 1 ||
		!takes_turns(dossier, last, &heavy) || has_lost(dossier, last, heavy))
		return swing;
	int32_t year = dossier->seasons[last].year;
	work_out_index(dossier, year, &swing);
	swing.year = year + 1;
	swing.heavy = !heavy;
	swing.last_mg = causes_total_mg(dossier, year).value;
	swing.known =
		swing.seasons >= RUN_LEAST && swing.index * 1000.0 >= (double)least->low.value;
	return swing;
}
