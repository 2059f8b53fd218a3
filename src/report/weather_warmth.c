/* SPDX-License-Identifier: MIT */
/* Warmth since bloom, and since the days from which totals of pests count. */
#include "report/weather_warmth.h"

#include <string.h>

#include "almanac/pest.h"
#include "core/text.h"
#include "reckon/heat.h"
#include "reckon/sky.h"
#include "weather_inner.h"

enum { YEAR_DAYS = 366 };

struct warming {
	struct yard *yard;
	const struct weather_report *report;
	struct date last; /* the last day that counts */
	struct arena *arena;
	struct weather_warmth *out;
	struct text_builder without;
};

/* Of days with both extremes; none: not counted. */
static enum status add_up(const struct warming *warming, enum heat_method method,
	const struct heat_limits *limits, int32_t warmer_decic, struct warmth_sum *sum,
	struct fault *why)
{
	const struct weather_report *report = warming->report;
	struct heat_span heat = {0};

	sum->span.to = warming->last;
	if (date_compare(sum->span.from, sum->span.to) > 0)
		return STATUS_OK;
	enum status status = heat_of_days(method, report->days, report->day_count, limits,
		warmer_decic, sum->span, &heat, why);
	sum->counted = status == STATUS_OK && heat.cover.known > 0;
	sum->degree_days = heat.degree_days;
	sum->cover = heat.cover;
	return status;
}

/* --- from bloom to harvest --- */

static enum status add_tree(struct warming *warming, const struct neighbour *tree,
	const struct fact_row *row, double base_c, struct fault *why)
{
	const struct heat_limits limits = {.lower = base_c};
	struct warmth_tree *told = &warming->out->trees[warming->out->tree_count++];
	struct arena *scratch = arena_new();
	const struct dossier *dossier = NULL;
	enum status status = yard_dossier_in(warming->yard, tree->tree_id, scratch, &dossier, why);

	*told = (struct warmth_tree){.row = row, .base_c = base_c};
	text_copy(told->label, sizeof told->label, tree->label);
	text_copy(told->kind_name, sizeof told->kind_name, tree->kind.name);
	if (status == STATUS_OK) {
		const struct entry *bloom = harvest_last_bloom(dossier, warming->last);
		struct maybe_date day = {0};

		if (bloom != NULL)
			day = date_span_first(&bloom->day);
		told->warmer_decic = sky_offset_decic(dossier);
		told->has_bloom = day.known &&
				  date_days_between(day.value, warming->last) < YEAR_DAYS &&
				  date_compare(day.value, warming->last) <= 0;
		told->sum.span.from = day.value;
		if (told->has_bloom)
			status = add_up(warming, HEAT_AVERAGE, &limits, told->warmer_decic,
				&told->sum, why);
	}
	arena_free(scratch);
	return status;
}

static enum status look_at_trees(
	struct warming *warming, const struct neighbour *trees, int32_t count, struct fault *why)
{
	const struct species *before = NULL;
	enum status status = STATUS_OK;

	warming->out->trees =
		arena_array(warming->arena, (size_t)count + 1, sizeof warming->out->trees[0]);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		const struct species *species = trees[i].kind.species;
		double base_c = 0;

		if (species == NULL || trees[i].over_fence)
			continue;
		const struct fact_row *row = species_fact(species, "heat-bloom-to-harvest");
		if (row != NULL && row->low.known && harvest_heat_base(row, &base_c))
			status = add_tree(warming, &trees[i], row, base_c, why);
		else if (species != before)
			text_add_format(&warming->without, "%s%s",
				warming->without.length > 0 ? ", " : "", species->name);
		before = species;
	}
	return status;
}

/* --- from a day of the year to what a pest does --- */

static bool counts_from_a_day(const struct degree_row *row)
{
	bool reckoned = row->method == DEGREE_AVERAGE || row->method == DEGREE_SINE ||
			row->method == DEGREE_SINE_HORIZONTAL || row->method == DEGREE_UNSTATED;

	return reckoned && row->low.known && row->base_decic.known && row->start_day.month != 0;
}

static bool is_here(const struct pest_row *pest, const struct neighbour *trees, int32_t count)
{
	for (int32_t i = 0; i < count; i++)
		if (trees[i].kind.species != NULL && !trees[i].over_fence &&
			pest_is_on(pest, trees[i].kind.species->key))
			return true;
	return false;
}

/* The last such day on or before the last day that counts. */
static struct date starts_on(const struct warming *warming, struct month_day day)
{
	struct month_day here = window_turn(day, yard_place(warming->yard)->hemisphere);
	int32_t year = date_parts(warming->last).year;
	struct date start = date_of_month_day(year, here);

	return date_compare(start, warming->last) <= 0 ? start : date_of_month_day(year - 1, here);
}

static enum status add_pest(struct warming *warming, const struct pest_row *pest,
	const struct degree_row *row, struct fault *why)
{
	const struct heat_limits limits = {.lower = (double)row->base_decic.value / 10,
		.upper = (double)row->upper_decic.value / 10,
		.has_upper = row->upper_decic.known};
	struct warmth_pest *told = &warming->out->pests[warming->out->pest_count++];

	*told = (struct warmth_pest){
		.pest = pest, .row = row, .by_sine = row->method != DEGREE_AVERAGE};
	told->sum.span.from = starts_on(warming, row->start_day);
	enum status status = add_up(
		warming, told->by_sine ? HEAT_SINE : HEAT_AVERAGE, &limits, 0, &told->sum, why);
	told->sum.degree_days *= row->fahrenheit ? 1.8 : 1;
	return status;
}

static enum status look_at_pests(
	struct warming *warming, const struct neighbour *trees, int32_t count, struct fault *why)
{
	int32_t pest_count = 0, rows = 0;
	const struct almanac *almanac = yard_almanac(warming->yard);
	const struct pest_row *pests = almanac_pest_list(almanac, &pest_count);
	enum status status = STATUS_OK;

	(void)almanac_degrees(almanac, &rows);
	warming->out->pests =
		arena_array(warming->arena, (size_t)rows + 1, sizeof warming->out->pests[0]);
	if (!window_place_has_dates(yard_place(warming->yard)))
		return STATUS_OK;
	for (int32_t i = 0; status == STATUS_OK && i < pest_count; i++) {
		if (pests[i].degree_count == 0 || !is_here(&pests[i], trees, count))
			continue;
		for (int32_t k = 0; status == STATUS_OK && k < pests[i].degree_count; k++)
			if (counts_from_a_day(pests[i].degrees[k]))
				status = add_pest(warming, &pests[i], pests[i].degrees[k], why);
	}
	return status;
}

enum status weather_warmth_make(struct yard *yard, const struct weather_report *report,
	struct arena *arena, struct weather_warmth *out, struct fault *why)
{
	char without[2000];
	struct warming warming = {.yard = yard,
		.report = report,
		.last = report->stretches[0].sum.span.to,
		.arena = arena,
		.out = out,
		.without = text_builder_fixed(without, sizeof without)};
	const struct neighbour *trees = NULL;
	int32_t count = 0;

	*out = (struct weather_warmth){.kinds_without = ""};
	text_add(&warming.without, "");
	if (date_compare(warming.last, report->today) > 0)
		warming.last = report->today;
	enum status status = weather_list_trees(yard, arena, &trees, &count, why);
	if (status == STATUS_OK)
		status = look_at_trees(&warming, trees, count, why);
	if (status == STATUS_OK)
		status = look_at_pests(&warming, trees, count, why);
	out->kinds_without = arena_text(arena, without);
	return status;
}
