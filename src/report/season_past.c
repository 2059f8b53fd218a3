/* SPDX-License-Identifier: MIT */
/* All seasons of one tree together: middle, spread, trend, swing. */
#include <math.h>
#include <stdlib.h>

#include "core/text.h"
#include "report/season_report.h"
#include "reckon/yield.h"

static const double level_below = 0.01; /* of the mean, a year */

struct series {
	int32_t *years;
	double *values; /* milligrams */
	double *at;     /* the years again, for the trend */
	int32_t count;
};

static bool is_over(const struct season *season)
{
	return season->state == SEASON_COMPLETE || season->state == SEASON_NONE_SEEN;
}

/* Seasons that are over and have a weight: what was picked, or with what was lost. */
static struct series series_of(
	const struct season_line *lines, int32_t count, bool with_loss, struct arena *arena)
{
	const size_t room = (size_t)count + 1;
	struct series series = {.years = arena_array(arena, room, sizeof *series.years),
		.values = arena_array(arena, room, sizeof *series.values),
		.at = arena_array(arena, room, sizeof *series.at)};
	for (int32_t i = 0; i < count; i++) {
		const struct season *season = &lines[i].season;
		struct maybe_i64 crop =
			with_loss ? season_total_mg(season) : amount_sum_point(&season->picked);
		if (!is_over(season) || !crop.known)
			continue;
		series.years[series.count] = season->year;
		series.at[series.count] = season->year;
		series.values[series.count++] = (double)crop.value;
	}
	return series;
}

static const char *figures_words(
	const struct series *series, enum unit_system units, struct arena *arena)
{
	char mean[32], median[32];
	struct text_builder words = text_builder_in(arena);
	const struct yield_figures figures = yield_figures(series->values, series->count, arena);
	text_add_format(&words, "Picked, over %d seasons: mean %s, median %s", figures.count,
		mass_format(round_i64(figures.mean), units, mean, sizeof mean),
		mass_format(round_i64(figures.median), units, median, sizeof median));
	if (figures.has_cv)
		text_add_format(&words, ", CV %.0f %%", figures.cv_percent);
	return words.text;
}

static const char *trend_words(
	const struct series *series, enum unit_system units, struct arena *arena)
{
	char slope[32];
	struct text_builder words = text_builder_in(arena);
	const struct yield_trend trend =
		yield_trend(series->at, series->values, series->count, arena);
	if (!trend.known)
		return NULL;
	const double mean = yield_figures(series->values, series->count, arena).mean;
	const bool level = fabs(trend.slope) < mean * level_below;
	text_add(&words, "Trend: ");
	if (!level)
		text_add_format(&words, "%s %s a year",
			mass_format(round_i64(fabs(trend.slope)), units, slope, sizeof slope),
			trend.slope < 0 ? "less" : "more");
	text_add_format(
		&words, "%s (Theil-Sen, %d pairs of seasons)", level ? "level" : "", trend.pairs);
	return words.text;
}

static const char *swing_words(const struct series *series, struct arena *arena)
{
	struct text_builder words = text_builder_in(arena);
	const struct yield_alternation ratios =
		yield_alternation_ratios(series->years, series->values, series->count);
	const struct yield_alternation sums =
		yield_alternation_sums(series->years, series->values, series->count);
	const struct yield_alternation mean =
		yield_alternation_by_mean(series->years, series->values, series->count);
	if (ratios.pairs == 0)
		return NULL;
	text_add_format(&words,
		"Alternation, %d pair%s, lost fruit counted in: %.2f by the mean of ratios "
		"(Monselise and Goldschmidt), %.2f by the ratio of sums (Hoblyn), both 0 to 1; "
		"%.2f by the mean yield (Durand), 0 to 2",
		ratios.pairs, ratios.pairs == 1 ? "" : "s", ratios.index, sums.index, mean.index);
	return words.text;
}

static void add_years(struct text_builder *words, const struct season_line *lines, int32_t count,
	const struct series *series, enum yield_bearing which)
{
	bool some = false;
	for (int32_t i = 0; i < series->count; i++) {
		if (yield_bearing(series->years, series->values, series->count, i) != which)
			continue;
		for (int32_t k = 0; k < count; k++)
			if (lines[k].season.year == series->years[i])
				text_add_format(
					words, "%s%s", some ? ", " : "", lines[k].season_name);
		some = true;
	}
	if (!some)
		text_add(words, "none");
}

static const char *bearing_words(const struct season_line *lines, int32_t count,
	const struct series *series, struct arena *arena)
{
	struct text_builder words = text_builder_in(arena);
	if (count == 0 || !season_swings(&lines[count - 1].alternation))
		return NULL;
	text_add(&words, "On years: ");
	add_years(&words, lines, count, series, BEARING_ON);
	text_add(&words, "; off years: ");
	add_years(&words, lines, count, series, BEARING_OFF);
	text_add(&words, " (a fifth over or under the five years around)");
	return words.text;
}

int32_t season_past_words(const struct season_line *lines, int32_t count, enum unit_system units,
	struct arena *arena, const char *out[SEASON_PAST_MAX])
{
	const struct series picked = series_of(lines, count, false, arena);
	const struct series crops = series_of(lines, count, true, arena);
	int32_t said = 0;
	if (picked.count < 2)
		return 0;
	const char *const all[SEASON_PAST_MAX] = {figures_words(&picked, units, arena),
		trend_words(&picked, units, arena), swing_words(&crops, arena),
		bearing_words(lines, count, &crops, arena)};
	for (int32_t i = 0; i < SEASON_PAST_MAX; i++)
		if (all[i] != NULL)
			out[said++] = all[i];
	return said;
}
