/* SPDX-License-Identifier: MIT */
/* The winter's chill of each kind, cultivar and spot in the yard against what is listed for it. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "weather_inner.h"

struct needing {
	struct weather_report *report;
	const struct weather_record *record;
	struct arena *arena;
	const struct spot *spots;
	int32_t spot_count;
	const struct entry *lines; /* of weather, in the winter, about anything */
	int32_t line_count;
	int32_t need_room;
};

static int32_t offset_of(const struct needing *needing, const char *id)
{
	for (int32_t i = 0; id[0] != '\0' && i < needing->spot_count; i++)
		if (strcmp(needing->spots[i].id, id) == 0)
			return needing->spots[i].offset_decic;
	return 0;
}

/* --- figures logged at one tree --- */

/* What the lines about a tree say, by day. */
static int32_t own_days(
	const struct needing *needing, const char *tree_id, struct day_weather **out)
{
	struct weather_sources sources = {0};
	const struct entry **own = arena_array(
		needing->arena, (size_t)needing->line_count + 1, sizeof(const struct entry *));

	for (int32_t i = 0; i < needing->line_count; i++)
		if (needing->lines[i].subject.kind == SUBJECT_TREE &&
			strcmp(needing->lines[i].subject.id, tree_id) == 0 &&
			!entry_is_forecast(&needing->lines[i]))
			own[sources.entry_count++] = &needing->lines[i];
	if (sources.entry_count == 0)
		return 0;
	sources.entries = own;
	return weather_days_join(&sources, needing->arena, out);
}

/* What was measured at the tree stands as it is, whatever the spot runs. False: it told nothing. */
static bool take_own(struct day_weather *row, const struct day_weather *own, int32_t warmer_decic)
{
	if (own->min_decic.known) {
		row->min_decic = known_i32(own->min_decic.value - warmer_decic);
		row->min_entry = own->min_entry;
	}
	if (own->max_decic.known) {
		row->max_decic = known_i32(own->max_decic.value - warmer_decic);
		row->max_entry = own->max_entry;
	}
	return own->min_decic.known || own->max_decic.known;
}

/* The record with a tree's own figures in it. Returns on how many days it has some; 0: it has
 * none, and *out is not made. A day that the record has no row of lacks an extreme either way. */
static int32_t own_record(const struct needing *needing, const struct neighbour *tree,
	int32_t warmer_decic, struct weather_record *out)
{
	struct day_weather *own = NULL;
	int32_t count = own_days(needing, tree->tree_id, &own), told = 0;
	size_t size = (size_t)needing->record->day_count * sizeof(struct day_weather);

	if (count == 0 || size == 0)
		return 0;
	struct day_weather *days = arena_alloc(needing->arena, size);
	memcpy(days, needing->record->days, size);
	for (int32_t i = 0, at = 0; i < count; i++) {
		while (at < needing->record->day_count &&
			date_compare(days[at].day, own[i].day) < 0)
			at++;
		if (at < needing->record->day_count && days[at].day.day == own[i].day.day)
			told += take_own(&days[at], &own[i], warmer_decic);
	}
	weather_days_uncross(days, needing->record->day_count);
	*out = *needing->record;
	out->days = days;
	return told;
}

/* --- kinds --- */

static bool is_same_need(const struct weather_need *need, const struct tree_kind *kind,
	bool of_cultivar, int32_t warmer_decic)
{
	bool named = need->need_count > 0 && need->needs[0].of_cultivar;

	return need->kind.species == kind->species && need->warmer_decic == warmer_decic &&
	       need->own_days == 0 && named == of_cultivar &&
	       (!named || strcmp(need->kind.cultivar, kind->cultivar) == 0);
}

static void add_label(struct weather_need *need, const char *label)
{
	size_t used = strlen(need->labels);

	need->trees++;
	if (used + strlen(label) + 3 >= sizeof need->labels - 24 || need->listed < need->trees - 1)
		return;
	snprintf(need->labels + used, sizeof need->labels - used, "%s%s", used > 0 ? ", " : "",
		label);
	need->listed++;
}

/* One walk for each offset there is, and for each tree with figures of its own. */
static enum status sum_need(const struct needing *needing, struct weather_need *need,
	const struct weather_record *own, struct fault *why)
{
	const struct weather_report *report = needing->report;
	struct weather_record record = need->own_days > 0 ? *own : *needing->record;

	for (const struct weather_need *same = report->needs; same < need; same++)
		if (need->own_days == 0 && same->own_days == 0 &&
			same->warmer_decic == need->warmer_decic) {
			need->winter = same->winter;
			return STATUS_OK;
		}
	record.warmer_decic = need->warmer_decic;
	need->winter.span = report->stretches[0].winter.span;
	return weather_sum_spans(&record, &need->winter, 1, why);
}

static struct weather_need *new_need(struct needing *needing)
{
	struct weather_report *report = needing->report;

	if (report->need_count == needing->need_room) {
		int32_t room = needing->need_room * 2 + 32;

		report->needs = arena_regrow(needing->arena, report->needs,
			(size_t)report->need_count * sizeof *report->needs,
			(size_t)room * sizeof *report->needs);
		needing->need_room = room;
	}
	return &report->needs[report->need_count++];
}

static enum status add_tree(
	struct needing *needing, const struct neighbour *tree, struct fault *why)
{
	struct weather_report *report = needing->report;
	int32_t warmer_decic = offset_of(needing, tree->spot_id);
	struct chill_need needs[CHILL_NEEDS_MAX] = {{0}};
	int32_t count = chill_needs(&tree->kind, needs);
	struct weather_record own;
	int32_t days = own_record(needing, tree, warmer_decic, &own);

	for (int32_t i = 0; days == 0 && i < report->need_count; i++)
		if (is_same_need(&report->needs[i], &tree->kind, count > 0 && needs[0].of_cultivar,
			    warmer_decic)) {
			add_label(&report->needs[i], tree->label);
			return STATUS_OK;
		}
	struct weather_need *need = new_need(needing);
	*need = (struct weather_need){.kind = tree->kind,
		.warmer_decic = warmer_decic,
		.own_days = days,
		.need_count = count};
	memcpy(need->needs, needs, sizeof needs);
	add_label(need, tree->label);
	return sum_need(needing, need, &own, why);
}

/* They come with any tree's dossier. */
enum status weather_list_trees(struct yard *yard, struct arena *arena, const struct neighbour **out,
	int32_t *count, struct fault *why)
{
	const struct tree_query query = {.most = 1};
	const struct dossier *dossier = NULL;
	struct tree *trees = NULL;
	int32_t found = 0;
	enum status status = store_tree_list(yard_store(yard), &query, arena, &trees, &found, why);

	*count = 0;
	if (status != STATUS_OK || found == 0)
		return status;
	status = yard_dossier_in(yard, trees[0].id, arena, &dossier, why);
	if (status != STATUS_OK)
		return status;
	*out = dossier->neighbours;
	*count = dossier->neighbour_count;
	return STATUS_OK;
}

static enum status load_lines(struct needing *needing, struct store *store, struct fault *why)
{
	const struct day_span winter = needing->report->stretches[0].winter.span;
	const struct entry_query query = {.kind_given = true,
		.kind = KIND_WEATHER,
		.from = known_date(winter.from),
		.to = known_date(winter.to),
		.planned = 0};
	struct entry *lines = NULL;
	enum status status =
		store_entry_list(store, &query, needing->arena, &lines, &needing->line_count, why);

	needing->lines = lines;
	return status;
}

enum status weather_find_needs(struct yard *yard, struct weather_report *report,
	const struct weather_record *record, struct arena *arena, struct fault *why)
{
	struct needing needing = {.report = report, .record = record, .arena = arena};
	const struct neighbour *trees = NULL;
	struct spot *spots = NULL;
	int32_t count = 0;
	enum status status = weather_list_trees(yard, arena, &trees, &count, why);

	if (status == STATUS_OK)
		status = store_spot_list(yard_store(yard), arena, &spots, &needing.spot_count, why);
	needing.spots = spots;
	if (status == STATUS_OK)
		status = load_lines(&needing, yard_store(yard), why);
	for (int32_t i = 0; status == STATUS_OK && i < count; i++)
		if (trees[i].kind.species != NULL && !trees[i].over_fence)
			status = add_tree(&needing, &trees[i], why);
	return status;
}
