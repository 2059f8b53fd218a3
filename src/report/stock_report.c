/* SPDX-License-Identifier: MIT */
/* What became of a season's fruit, and what is still in store. */
#include "report/stock_report.h"

#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "dossier/uses.h"
#include "rules/harvest.h"

enum { STORE_YEARS = 2, FORTNIGHT_DAYS = 14, AHEAD_DAYS = 270 };

struct stocking {
	struct yard *yard;
	const struct stock_options *options;
	struct arena *arena;
	struct stock_report *out;
	int32_t capacity;
	struct stock_ripe *ripe;
	int32_t ripe_count;
	int32_t ripe_capacity;
};

/* --- what was picked and what became of it --- */

static struct stock_line *line_of(struct stocking *stocking, const char *kind)
{
	struct stock_report *report = stocking->out;

	for (int32_t i = 0; i < report->count; i++)
		if (strcmp(report->lines[i].kind_name, kind) == 0)
			return &report->lines[i];
	if (report->count == stocking->capacity) {
		int32_t capacity = stocking->capacity == 0 ? 8 : stocking->capacity * 2;
		size_t size = sizeof *report->lines;
		report->lines = arena_grow(stocking->arena, report->lines,
			(size_t)report->count * size, (size_t)capacity * size);
		stocking->capacity = capacity;
	}
	struct stock_line *line = &report->lines[report->count++];
	*line = (struct stock_line){.unweighed = 0};
	text_copy(line->kind_name, sizeof line->kind_name, kind);
	return line;
}

static void add_to(struct maybe_i64 *sum, int64_t value)
{
	*sum = known_i64((sum->known ? sum->value : 0) + value);
}

static enum status add_picked(struct stocking *stocking, struct fault *why)
{
	const struct season_options options = {.year = stocking->options->year,
		.without_private = stocking->options->without_private,
		.depth = SEASON_CROPS};
	struct season_report season;
	enum status status =
		season_report_make(stocking->yard, &options, stocking->arena, &season, why);

	if (status != STATUS_OK)
		return status;
	stocking->out->year = season.year;
	for (int32_t i = 0; i < season.total_count; i++) {
		const struct season_kind_total *total = &season.totals[i];

		if (total->picked.parts == 0 && total->unweighed == 0)
			continue;
		struct stock_line *line = line_of(stocking, total->kind_name);
		line->picked_mg = amount_sum_point(&total->picked);
		line->unweighed = total->unweighed;
		line->hung_lost_mg = amount_sum_point(&total->lost);
	}
	return STATUS_OK;
}

static void add_store(struct stock_line *line, const struct crop_use *use, int64_t mg)
{
	if (use_kind_row(use->became)->kept)
		add_to(&line->in_store[use->became], mg);
	if (use->out_of != USE_UNSAID && line->in_store[use->out_of].known)
		add_to(&line->in_store[use->out_of], -mg);
}

static void add_use(struct stocking *stocking, const struct crop_use *use)
{
	struct maybe_i64 mass = amount_sum_point(&use->mass);
	const int32_t year = stocking->out->year;

	if (use->year > year || (stocking->options->without_private && use->is_private))
		return;
	struct stock_line *line = line_of(stocking, use->kind_name);
	if (mass.known)
		add_store(line, use, mass.value);
	if (use->year != year || use->out_of != USE_UNSAID)
		return;
	if (mass.known)
		add_to(&line->became[use->became], mass.value);
	else
		line->not_weighed[use->became]++;
}

static void settle(struct stock_line *line)
{
	int64_t told = 0;

	for (int use = USE_UNSAID + 1; use < USE_TOTAL; use++) {
		told += line->became[use].known ? line->became[use].value : 0;
		if (line->in_store[use].known && line->in_store[use].value < 0)
			line->in_store[use].value = 0;
	}
	if (!line->picked_mg.known)
		return;
	line->untold_mg =
		known_i64(line->picked_mg.value > told ? line->picked_mg.value - told : 0);
	if (told > line->picked_mg.value)
		line->over_mg = known_i64(told - line->picked_mg.value);
}

static int by_name(const void *left, const void *right)
{
	const struct stock_line *a = left;
	const struct stock_line *b = right;

	return strcmp(a->kind_name, b->kind_name);
}

/* A kind of which nothing was picked, told or kept says nothing. */
static bool is_empty(const struct stock_line *line)
{
	for (int use = USE_UNSAID + 1; use < USE_TOTAL; use++)
		if (line->became[use].known || line->not_weighed[use] > 0 ||
			(line->in_store[use].known && line->in_store[use].value > 0))
			return false;
	return !line->picked_mg.known && line->unweighed == 0;
}

static enum status add_uses(struct stocking *stocking, struct fault *why)
{
	struct stock_report *report = stocking->out;
	struct date from = date_of_month_day(
		report->year - STORE_YEARS, (struct month_day){.month = 1, .day = 1});
	struct crop_use *uses = NULL;
	int32_t count = 0;
	enum status status = yard_uses(stocking->yard, from, stocking->arena, &uses, &count, why);
	int32_t kept = 0;

	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		add_use(stocking, &uses[i]);
	for (int32_t i = 0; i < report->count; i++) {
		settle(&report->lines[i]);
		if (!is_empty(&report->lines[i]))
			report->lines[kept++] = report->lines[i];
	}
	report->count = kept;
	if (kept > 1)
		qsort(report->lines, (size_t)kept, sizeof *report->lines, by_name);
	return status;
}

/* --- what will ripen together --- */

static const char *basis_of(const struct harvest_ahead *ahead)
{
	if (ahead->by_bloom)
		return "this season's bloom";
	switch (ahead->window.basis) {
	case BASIS_OWN:
		return "set by you";
	case BASIS_LEARNED:
		return "your picks";
	case BASIS_ALMANAC:
		break;
	}
	return "almanac";
}

static enum status visit_ripe(void *owner, const struct dossier *dossier, struct fault *why)
{
	struct stocking *stocking = owner;
	const struct date today = yard_today(stocking->yard);
	(void)why;

	if (dossier->kind.species == NULL || dossier->tree.over_fence ||
		(stocking->options->without_private && dossier_is_private(dossier)))
		return STATUS_OK;
	struct arena *arena = arena_new();
	struct harvest_ahead ahead = harvest_ahead(dossier, today, arena);
	struct date from = ahead.span.from;
	arena_free(arena);
	if (!ahead.known || date_compare(from, today) < 0 ||
		date_days_between(today, from) > AHEAD_DAYS)
		return STATUS_OK;
	if (stocking->ripe_count == stocking->ripe_capacity) {
		int32_t capacity = stocking->ripe_capacity == 0 ? 16 : stocking->ripe_capacity * 2;
		size_t size = sizeof *stocking->ripe;
		stocking->ripe = arena_grow(stocking->arena, stocking->ripe,
			(size_t)stocking->ripe_count * size, (size_t)capacity * size);
		stocking->ripe_capacity = capacity;
	}
	struct stock_ripe *ripe = &stocking->ripe[stocking->ripe_count++];
	*ripe = (struct stock_ripe){
		.from = from, .basis = basis_of(&ahead), .seasons = dossier->expected.seasons};
	if (dossier->expected.seasons > 0)
		ripe->expected_mg = known_i64(dossier->expected.mg);
	text_copy(ripe->label, sizeof ripe->label, dossier->tree.label);
	text_copy(ripe->kind_name, sizeof ripe->kind_name, dossier->kind.name);
	return STATUS_OK;
}

static int by_day(const void *left, const void *right)
{
	const struct stock_ripe *a = left;
	const struct stock_ripe *b = right;
	int order = date_compare(a->from, b->from);

	return order != 0 ? order : strcmp(a->label, b->label);
}

static bool is_new_kind(const struct stock_ripe *ripe, int32_t at)
{
	for (int32_t i = 0; i < at; i++)
		if (strcmp(ripe[i].kind_name, ripe[at].kind_name) == 0)
			return false;
	return true;
}

static struct stock_fortnight fortnight_from(const struct stock_ripe *ripe, int32_t count)
{
	struct stock_fortnight found = {.ripe = ripe};

	while (found.count < count &&
		date_days_between(ripe[0].from, ripe[found.count].from) < FORTNIGHT_DAYS) {
		found.kinds += is_new_kind(ripe, found.count);
		found.with_figure += ripe[found.count].expected_mg.known;
		found.expected_mg += ripe[found.count].expected_mg.known
					     ? ripe[found.count].expected_mg.value
					     : 0;
		found.count++;
	}
	return found;
}

/* Fortnights in which two trees or more come in. */
static enum status add_fortnights(struct stocking *stocking, struct fault *why)
{
	const struct yard_visitor visitor = {.owner = stocking, .visit = visit_ripe};
	enum status status = yard_each(stocking->yard, false, &visitor, why);
	struct stock_fortnight *fortnights =
		arena_array(stocking->arena, (size_t)stocking->ripe_count + 1, sizeof *fortnights);
	int32_t found = 0;

	if (status != STATUS_OK)
		return status;
	if (stocking->ripe_count > 1)
		qsort(stocking->ripe, (size_t)stocking->ripe_count, sizeof *stocking->ripe, by_day);
	for (int32_t i = 0; i < stocking->ripe_count;) {
		struct stock_fortnight one =
			fortnight_from(&stocking->ripe[i], stocking->ripe_count - i);
		if (one.count > 1)
			fortnights[found++] = one;
		i += one.count;
	}
	stocking->out->fortnights = fortnights;
	stocking->out->fortnight_count = found;
	return STATUS_OK;
}

enum status stock_report_make(struct yard *yard, const struct stock_options *options,
	struct arena *arena, struct stock_report *out, struct fault *why)
{
	struct stocking stocking = {.yard = yard, .options = options, .arena = arena, .out = out};

	*out = (struct stock_report){.count = 0};
	enum status status = add_picked(&stocking, why);
	if (status == STATUS_OK)
		status = add_uses(&stocking, why);
	if (status == STATUS_OK && !options->without_ahead)
		status = add_fortnights(&stocking, why);
	return status;
}
