/* SPDX-License-Identifier: MIT */
#include "report/season_report.h"

#include <string.h>

#include "core/text.h"
#include "season_inner.h"

/* A trunk measured longer before the season's end was thinner then. */
enum { TRUNK_OLD_DAYS = 730 };

/* The work of one report while trees go by. */
struct making {
	struct yard *yard;
	const struct season_options *options;
	struct arena *arena;
	struct season_report *out;
	int32_t capacity;
	int32_t year;
	int32_t passed; /* trees looked at for the latest season */
	bool again;     /* of some of them there is no line, or one of another season */
};

static struct season_line *new_line(struct making *making)
{
	struct season_report *out = making->out;

	if (out->count == making->capacity) {
		int32_t capacity = making->capacity + making->capacity / 4 + 64;

		out->lines = arena_grow(making->arena, out->lines,
			(size_t)out->count * sizeof out->lines[0],
			(size_t)capacity * sizeof out->lines[0]);
		making->capacity = capacity;
	}
	struct season_line *line = &out->lines[out->count++];
	*line = (struct season_line){0};
	return line;
}

/* Mean of the complete seasons with a figure before this one: the tree's own past. */
static void compare_with_past(struct season_line *line, const struct season *seasons, int32_t count)
{
	double sum = 0.0;

	for (int32_t i = 0; i < count && seasons[i].year < line->season.year; i++) {
		struct maybe_i64 point = amount_sum_point(&seasons[i].picked);

		if (seasons[i].state != SEASON_COMPLETE && seasons[i].state != SEASON_NONE_SEEN)
			continue;
		if (!point.known)
			continue;
		sum += (double)point.value;
		line->seasons_known++;
	}
	if (line->seasons_known > 0)
		line->past_mean_mg = known_i64(round_i64(sum / line->seasons_known));
	line->alternation = season_alternation(seasons, count, line->season.year);
}

/* The trunk as it was at the end of the season, when measured by then. */
static void work_out_size(struct season_line *line, const struct dossier *dossier)
{
	struct window_span span = season_span(&dossier->season_rule, line->season.year);
	int32_t stems = dossier->trunk.stems > 0 ? dossier->trunk.stems : 1;
	struct trunk trunk = trunk_at(dossier->readings, dossier->reading_count, stems, span.to);
	struct maybe_i64 picked = amount_sum_point(&line->season.picked);

	if (!trunk.known)
		return;
	double area = trunk_area_mm2(trunk.diameter_um);
	line->tcsa_mm2 = known_i64(round_i64(area));
	line->trunk_day = known_date(trunk.day);
	line->trunk_is_old = date_days_between(trunk.day, span.to) > TRUNK_OLD_DAYS;
	if (picked.known && area > 0.0)
		line->efficiency_mg_per_mm2_milli =
			known_i64(round_i64((double)picked.value * 1000.0 / area));
}

static void add_tree_line(
	struct making *making, const struct dossier *dossier, const struct season *season)
{
	struct season_line *line = new_line(making);

	line->subject.kind = SUBJECT_TREE;
	text_copy(line->subject.id, sizeof line->subject.id, dossier->tree.id);
	char title[TREE_TITLE_SIZE];
	text_copy(line->subject.label, sizeof line->subject.label,
		store_tree_title(&dossier->tree, title));
	if (dossier->kind.species != NULL)
		text_copy(line->species_key, sizeof line->species_key, dossier->kind.species->key);
	text_copy(line->kind_name, sizeof line->kind_name, dossier->kind.name);
	line->is_graft = dossier->host != NULL || dossier->tree.host_id[0] != '\0';
	line->season = *season;
	season_title(season, line->season_name, sizeof line->season_name);
	if (making->options->depth == SEASON_CROPS)
		return;
	compare_with_past(line, dossier->seasons, dossier->season_count);
	line->mean_fruit_mg = season_fruit_mg(&line->season, 1);
	work_out_size(line, dossier);
	season_grades(dossier, yard_today(making->yard), line);
	if (making->options->depth == SEASON_WHOLE)
		season_candidates(dossier, line, making->arena);
	line->is_whole = making->options->depth == SEASON_WHOLE;
}

/* A season the tree has no row for: to come, or before its first record. */
static struct season empty_season(const struct dossier *dossier, int32_t year)
{
	struct window_span span = season_span(&dossier->season_rule, year);
	struct season season = {.year = year,
		.crosses = dossier->season_rule.crosses,
		.state = SEASON_NOT_RECORDED};

	if (year > dossier->season_year || span.from.day > INT32_MAX / 2)
		season.state = SEASON_TO_COME;
	return season;
}

/* Was it there then: planted by the season's end and not gone before its start. */
static bool stood_in(const struct dossier *dossier, int32_t year)
{
	struct window_span span = season_span(&dossier->season_rule, year);
	const struct tree *tree = &dossier->tree;

	if (tree->planted.low.known && date_compare(tree->planted.low.value, span.to) > 0)
		return false;
	return tree->gone.text[0] == '\0' || !tree->gone.high.known ||
	       date_compare(tree->gone.high.value, span.from) >= 0;
}

static bool is_left_out(const struct making *making, const struct dossier *dossier)
{
	return making->options->without_private && dossier_is_private(dossier);
}

static enum status visit_year(void *owner, const struct dossier *dossier, struct fault *why)
{
	struct making *making = owner;
	const struct season *season = dossier_season(dossier, making->year);
	(void)why;
	bool has_crop = season != NULL && (season->picks > 0 || season->lost.parts > 0);

	if (is_left_out(making, dossier) || (!has_crop && !stood_in(dossier, making->year)))
		return STATUS_OK;
	if (season != NULL) {
		add_tree_line(making, dossier, season);
	} else {
		struct season empty = empty_season(dossier, making->year);

		add_tree_line(making, dossier, &empty);
	}
	return STATUS_OK;
}

/* The latest season with picks is known only at the end: lines are made of the latest so far, and
 * trees that were passed before it was met have to be looked at once more. */
static enum status visit_latest(void *owner, const struct dossier *dossier, struct fault *why)
{
	struct making *making = owner;

	if (is_left_out(making, dossier))
		return STATUS_OK;
	for (int32_t i = 0; i < dossier->season_count; i++)
		if (dossier->seasons[i].picks > 0 && dossier->seasons[i].year > making->year) {
			making->again = making->passed > 0;
			making->year = dossier->seasons[i].year;
		}
	making->passed++;
	return making->again || making->year == INT32_MIN ? STATUS_OK
							  : visit_year(owner, dossier, why);
}

static void add_spot_line(
	struct making *making, const struct spot_crop *crop, const struct season *season)
{
	struct season_line *line = new_line(making);

	line->subject.kind = SUBJECT_SPOT;
	text_copy(line->subject.id, sizeof line->subject.id, crop->spot.id);
	text_copy(line->subject.label, sizeof line->subject.label, crop->spot.name);
	if (crop->species != NULL)
		text_copy(line->species_key, sizeof line->species_key, crop->species->key);
	text_copy(line->kind_name, sizeof line->kind_name, crop->kind_name);
	line->season = *season;
	season_title(season, line->season_name, sizeof line->season_name);
	compare_with_past(line, crop->seasons, crop->season_count);
	line->mean_fruit_mg = season_fruit_mg(&line->season, 1);
}

/* Spots picked as one: a row of their own, never shared out among their trees. */
static enum status add_spots(struct making *making, struct fault *why)
{
	struct arena *spots_arena = arena_new();
	struct arena *scratch = arena_new();
	struct spot *spots = NULL;
	int32_t count = 0;
	enum status status =
		store_spot_picked_list(yard_store(making->yard), spots_arena, &spots, &count, why);

	for (int32_t i = 0; status == STATUS_OK && i < count; i++) {
		const struct spot_crop *crop = NULL;

		arena_reset(scratch);
		status = yard_spot_crop(making->yard, spots[i].id, scratch, &crop, why);
		if (status != STATUS_OK || crop->entry_count == 0)
			continue;
		for (int32_t s = 0; s < crop->season_count; s++)
			if (crop->seasons[s].year == making->year &&
				(crop->seasons[s].picks > 0 || crop->seasons[s].lost.parts > 0))
				add_spot_line(making, crop, &crop->seasons[s]);
	}
	arena_free(scratch);
	arena_free(spots_arena);
	return status;
}

/* One tree: all its seasons, or the one asked for. */
void season_report_of(struct yard *yard, const struct dossier *dossier,
	const struct season_options *options, struct arena *arena, struct season_report *out)
{
	struct making making = {.yard = yard, .options = options, .arena = arena, .out = out};

	*out = (struct season_report){.year = dossier->season_year};
	for (int32_t i = 0; i < dossier->season_count; i++)
		if (!options->year.known || dossier->seasons[i].year == options->year.value)
			add_tree_line(&making, dossier, &dossier->seasons[i]);
	if (out->count == 0 && options->year.known) {
		struct season empty = empty_season(dossier, options->year.value);

		add_tree_line(&making, dossier, &empty);
	}
}

static enum status make_tree(struct yard *yard, const struct season_options *options,
	struct arena *arena, struct season_report *out, struct fault *why)
{
	const struct dossier *dossier = NULL;
	struct arena *scratch = arena_new();
	enum status status = yard_dossier_shown(yard, options->tree_id, scratch, &dossier, why);

	if (status == STATUS_OK)
		season_report_of(yard, dossier, options, arena, out);
	arena_free(scratch);
	return status;
}

enum status season_line_complete(
	struct yard *yard, struct season_line *line, struct arena *arena, struct fault *why)
{
	const struct dossier *dossier = NULL;
	struct arena *scratch = arena_new();
	enum status status = STATUS_OK;

	if (line->subject.kind == SUBJECT_TREE && !line->is_whole)
		status = yard_dossier_shown(yard, line->subject.id, scratch, &dossier, why);
	if (dossier != NULL && status == STATUS_OK)
		season_candidates(dossier, line, arena);
	line->is_whole = line->is_whole || status == STATUS_OK;
	arena_free(scratch);
	return status;
}

/* --- all trees --- */

/* A line for each tree there is: the list is never copied for want of room. */
static enum status make_room(struct making *making, struct fault *why)
{
	const struct tree_query all = {.gone_too = true};
	enum status status =
		store_tree_count(yard_store(making->yard), &all, &making->capacity, why);

	if (status == STATUS_OK)
		making->out->lines = arena_array(
			making->arena, (size_t)making->capacity, sizeof making->out->lines[0]);
	return status;
}

/* What is read of each tree: picks and losses tell a crop, measurements its size. */
static const struct kind_set *kinds_for(enum season_depth depth)
{
	static const struct kind_set crops = {KIND_BIT(KIND_PICK) | KIND_BIT(KIND_LOSS)};
	static const struct kind_set figures = {
		KIND_BIT(KIND_PICK) | KIND_BIT(KIND_LOSS) | KIND_BIT(KIND_MEASURE)};

	return depth == SEASON_CROPS ? &crops : depth == SEASON_FIGURES ? &figures : NULL;
}

static enum status make_lines(struct making *making, struct fault *why)
{
	const struct season_options *options = making->options;
	struct yard_visitor visitor = {.owner = making,
		.visit = visit_latest,
		.alone = true,
		.kinds = kinds_for(options->depth)};
	enum status status = make_room(making, why);

	making->year = options->year.known ? options->year.value : INT32_MIN;
	if (status == STATUS_OK && !options->year.known)
		status = yard_each(making->yard, true, &visitor, why);
	if (making->year == INT32_MIN) {
		making->year = date_parts(yard_today(making->yard)).year;
		making->again = true;
	}
	if (status == STATUS_OK && (options->year.known || making->again)) {
		making->out->count = 0;
		visitor.visit = visit_year;
		status = yard_each(making->yard, true, &visitor, why);
	}
	return status == STATUS_OK ? add_spots(making, why) : status;
}

enum status season_report_make(struct yard *yard, const struct season_options *options,
	struct arena *arena, struct season_report *out, struct fault *why)
{
	struct making making = {.yard = yard, .options = options, .arena = arena, .out = out};
	struct pooled_crop *pooled = NULL;
	int32_t pooled_count = 0;

	*out = (struct season_report){0};
	if (options->tree_id != NULL)
		return make_tree(yard, options, arena, out, why);
	enum status status = make_lines(&making, why);
	out->year = making.year;
	if (status == STATUS_OK)
		status = yard_pooled_crops(yard, arena, &pooled, &pooled_count, why);
	if (status == STATUS_OK)
		season_totals(out, pooled, pooled_count, arena);
	return status;
}
