/* SPDX-License-Identifier: MIT */
/* The weather tree by tree: harvests to come, and frost nights with what they cost. */
#include "report/weather_report.h"

#include <stdlib.h>
#include <string.h>

#include "core/text.h"

struct looking {
	const struct weather_report *report;
	struct day_span span; /* days of frost that are asked for, none to come */
	struct arena *arena;
	struct weather_trees *trees;
	int32_t harvest_room;
	int32_t frost_room;
	struct arena *scratch; /* of one tree */
};

static void *grown(struct arena *arena, void *items, int32_t count, int32_t *room, size_t size)
{
	if (count < *room)
		return items;
	int32_t wider = *room == 0 ? 32 : *room * 2;
	void *out = arena_regrow(arena, items, (size_t)count * size, (size_t)wider * size);
	*room = wider;
	return out;
}

static int32_t offset_of(const struct dossier *dossier)
{
	return dossier->spot != NULL ? dossier->spot->offset_decic : 0;
}

/* --- harvests --- */

static bool is_picked(const struct dossier *dossier, const struct harvest_ahead *ahead)
{
	int32_t year = season_year_of(&dossier->season_rule, ahead->span.from);
	const struct season *season = dossier_season(dossier, year);

	return season != NULL && (season->picks > 0 || season->none_said);
}

/* Of its own picks the first days, as far apart as they lay; where they agree, three days either
 * way (ours): never one day. */
static struct window_span opens_of(const struct harvest_ahead *ahead)
{
	enum { AGREED_DAYS = 3 };
	struct window_span opens = ahead->span;

	if (!ahead->by_bloom && !ahead->by_heat && ahead->window.basis == BASIS_LEARNED) {
		const struct learned *learned = &ahead->window.learned;
		struct date first = ahead->span.from;

		opens.from = date_add_days(first, learned->shift_min - learned->shift_days);
		opens.to = date_add_days(first, learned->shift_max - learned->shift_days);
	}
	if (opens.from.day == opens.to.day) {
		opens.from = date_add_days(opens.from, -AGREED_DAYS);
		opens.to = date_add_days(opens.to, AGREED_DAYS);
	}
	return opens;
}

static void look_for_harvest(struct looking *looking, const struct dossier *dossier)
{
	struct weather_trees *trees = looking->trees;
	struct harvest_ahead ahead;

	if (dossier->kind.species == NULL || dossier->tree.over_fence)
		return;
	ahead = harvest_ahead(dossier, looking->report->today, looking->scratch);
	if ((!ahead.known && ahead.heat_needed <= 0) || (ahead.known && is_picked(dossier, &ahead)))
		return;
	trees->harvests = grown(looking->arena, trees->harvests, trees->harvest_count,
		&looking->harvest_room, sizeof trees->harvests[0]);
	struct weather_harvest *harvest = &trees->harvests[trees->harvest_count++];
	*harvest = (struct weather_harvest){.ahead = ahead, .warmer_decic = offset_of(dossier)};
	harvest->opens = opens_of(&ahead);
	if (ahead.bloom != NULL)
		harvest->bloom_day = date_span_first(&ahead.bloom->day);
	harvest->ahead.bloom = NULL; /* it goes with the dossier */
	harvest->ahead.days.text = arena_text(looking->arena, ahead.days.text);
	text_copy(harvest->label, sizeof harvest->label, dossier->tree.label);
	text_copy(harvest->kind_name, sizeof harvest->kind_name, dossier->kind.name);
}

/* --- frost --- */

static void keep_frost(
	struct looking *looking, const struct dossier *dossier, const struct frost_night *night)
{
	struct weather_trees *trees = looking->trees;

	trees->frosts = grown(looking->arena, trees->frosts, trees->frost_count,
		&looking->frost_room, sizeof trees->frosts[0]);
	struct weather_frost *frost = &trees->frosts[trees->frost_count++];
	*frost =
		(struct weather_frost){.night = *night, .stage_logged = night->stage_entry != NULL};
	frost->needs = species_fact(dossier->kind.species, "buds-needed");
	frost_night_known(night, frost->known, sizeof frost->known);
	if (night->observed != NULL) {
		frost->observed = arena_text(looking->arena, night->observed->words);
		frost->observed_day = date_span_first(&night->observed->day);
	}
	frost->night.stage_entry = frost->night.min_entry = frost->night.observed = NULL;
	text_copy(frost->label, sizeof frost->label, dossier->tree.label);
	text_copy(frost->kind_name, sizeof frost->kind_name, dossier->kind.name);
}

static void look_for_frost(struct looking *looking, const struct dossier *dossier)
{
	struct dossier whole = *dossier; /* its own weather is that of the last 400 days */
	struct frost_night *nights = NULL;

	whole.weather = looking->report->stored;
	whole.weather_count = looking->report->stored_count;
	int32_t count = frost_nights(&whole, looking->span, looking->scratch, &nights);
	for (int32_t i = 0; i < count; i++) {
		if (nights[i].has_stage)
			keep_frost(looking, dossier, &nights[i]);
		else
			looking->trees->untold++;
	}
}

static enum status look_at_tree(void *owner, const struct dossier *dossier, struct fault *why)
{
	struct looking *looking = owner;

	(void)why;
	if (dossier->tree.gone.text[0] == '\0')
		look_for_harvest(looking, dossier);
	if (!dossier->tree.over_fence)
		look_for_frost(looking, dossier);
	arena_reset(looking->scratch);
	return STATUS_OK;
}

static int compare_harvests(const void *left, const void *right)
{
	const struct weather_harvest *a = left;
	const struct weather_harvest *b = right;

	if (a->ahead.known != b->ahead.known)
		return a->ahead.known ? -1 : 1;
	int order = a->ahead.known ? date_compare(a->opens.from, b->opens.from) : 0;
	return order != 0 ? order : text_compare_natural(a->label, b->label);
}

static int compare_frosts(const void *left, const void *right)
{
	const struct weather_frost *a = left;
	const struct weather_frost *b = right;
	int order = date_compare(a->night.day, b->night.day);

	return order != 0 ? order : text_compare_natural(a->label, b->label);
}

enum status weather_trees_make(struct yard *yard, const struct weather_report *report,
	struct arena *arena, struct weather_trees *out, struct fault *why)
{
	struct looking looking = {.report = report,
		.span = report->stretches[0].sum.span,
		.arena = arena,
		.trees = out,
		.scratch = arena_new()};
	const struct yard_visitor visitor = {
		.owner = &looking, .visit = look_at_tree, .alone = true};

	*out = (struct weather_trees){0};
	if (date_compare(looking.span.to, report->today) > 0)
		looking.span.to = report->today;
	enum status status = yard_each(yard, false, &visitor, why);
	arena_free(looking.scratch);
	if (out->harvest_count > 1)
		qsort(out->harvests, (size_t)out->harvest_count, sizeof out->harvests[0],
			compare_harvests);
	if (out->frost_count > 1)
		qsort(out->frosts, (size_t)out->frost_count, sizeof out->frosts[0], compare_frosts);
	return status;
}
