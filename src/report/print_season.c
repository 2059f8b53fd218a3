/* SPDX-License-Identifier: MIT */
/* The season, tree by tree, with the sums by kind. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "report/rows.h"

static const char *const season_keys[] = {"tree", "season", "state", "picked_g", "picked_low_g",
	"picked_high_g", "unweighed", "lost_g", "fruit", "first_pick", "last_pick", "seasons_known",
	"mean_g", "tcsa_mm2", "efficiency_mg_per_mm2", "alternation", NULL};

/* The ends of a sum; unknown where nothing was added or the top is open. */
static struct maybe_i64 low_of(const struct amount_sum *sum)
{
	return (struct maybe_i64){sum->low, amount_sum_point(sum).known};
}

static struct maybe_i64 high_of(const struct amount_sum *sum)
{
	return (struct maybe_i64){sum->high, amount_sum_point(sum).known && !sum->high_open};
}

static void season_row(struct rows *rows, const struct season_line *line)
{
	const struct season *season = &line->season;

	rows_text(rows, line->subject.label);
	rows_text(rows, line->season_name);
	rows_text(rows, season_state_key(season->state));
	rows_grams(rows, amount_sum_point(&season->picked));
	rows_grams(rows, low_of(&season->picked));
	rows_grams(rows, high_of(&season->picked));
	rows_i32(rows, season->unweighed);
	rows_grams(rows, amount_sum_point(&season->lost));
	rows_i64(rows, season_fruit(season));
	rows_date(rows, season->first_pick);
	rows_date(rows, season->last_pick);
	rows_i32(rows, line->seasons_known);
	rows_grams(rows, line->past_mean_mg);
	rows_i64(rows, line->tcsa_mm2);
	rows_decimal(rows, line->efficiency_mg_per_mm2_milli.known,
		(double)line->efficiency_mg_per_mm2_milli.value / 1000.0, 3);
	rows_decimal(rows, line->alternation.pairs > 0, line->alternation.index, 3);
}

static void say_past(
	const struct printer *printer, const struct season_line *line, char *out, size_t size)
{
	struct maybe_i64 point = amount_sum_point(&line->season.picked);
	char mean[32];

	out[0] = '\0';
	if (!line->past_mean_mg.known)
		return;
	mass_format(line->past_mean_mg.value, printer->units, mean, sizeof mean);
	if (point.known && line->past_mean_mg.value > 0 && line->season.state == SEASON_COMPLETE)
		snprintf(out, size, "%.0f %% of %s (%d)",
			100.0 * (double)point.value / (double)line->past_mean_mg.value, mean,
			line->seasons_known);
	else
		snprintf(out, size, "mean %s (%d)", mean, line->seasons_known);
}

/* What stands below a tree's line: fruit, loss, size, alternation, candidates. */
static void say_more(const struct printer *printer, const struct season_line *line)
{
	char text[400];
	bool goes_on = line->season.state == SEASON_IN_PROGRESS &&
		       amount_sum_point(&line->season.picked).known;

	season_line_words(line, printer->units, text, sizeof text);
	if (goes_on || text[0] != '\0')
		say_wrapped(printer, "      ", "%s%s%s", goes_on ? "in progress" : "",
			goes_on && text[0] != '\0' ? "; " : "", text);
	for (int32_t i = 0; i < line->candidate_count; i++)
		say_wrapped(printer, i == 0 ? "      may bear on it: " : "                      ",
			"%s", line->candidates[i]);
}

static void say_tree(const struct printer *printer, const struct season_line *line, bool by_tree)
{
	char name[TEXT_FIT_SIZE(20)], kind[TEXT_FIT_SIZE(14)], sum[96], past[96];
	int how = TEXT_PAD_RIGHT | (printer->ascii ? TEXT_ASCII : 0);

	season_sum_words(
		&line->season.picked, line->season.unweighed, printer->units, sum, sizeof sum);
	say_past(printer, line, past, sizeof past);
	text_fit(by_tree ? line->season_name : line->subject.label, by_tree ? 8 : 20, how, name,
		sizeof name);
	text_fit(line->kind_name, 14, how, kind, sizeof kind);
	say_line(printer, "%s  %s  %-16s  %s", name, kind,
		sum[0] != '\0' ? sum : season_state_words(line->season.state), past);
	say_more(printer, line);
}

/* Three decimals: sums of a published table must agree to the digit. */
static void say_mean(const struct printer *printer, const struct season_kind_total *total,
	char *out, size_t size)
{
	double divisor = printer->units == UNITS_US ? 453592.37 : 1e6;

	out[0] = '\0';
	if (total->mean_mg.known)
		snprintf(out, size, "mean %.3f %s (n %d)", (double)total->mean_mg.value / divisor,
			printer->units == UNITS_US ? "lb" : "kg", total->with_figure);
}

static void say_totals(const struct printer *printer, const struct season_report *report)
{
	char kind[TEXT_FIT_SIZE(20)], sum[96], mean[96], pooled[96];
	int how = TEXT_PAD_RIGHT | (printer->ascii ? TEXT_ASCII : 0);

	if (report->total_count > 0)
		say_line(printer, "%s", "");
	for (int32_t i = 0; i < report->total_count; i++) {
		const struct season_kind_total *total = &report->totals[i];

		text_fit(total->kind_name, 20, how, kind, sizeof kind);
		season_sum_words(&total->picked, total->unweighed, printer->units, sum, sizeof sum);
		say_mean(printer, total, mean, sizeof mean);
		season_sum_words(&total->pooled, 0, printer->units, pooled, sizeof pooled);
		say_wrapped(printer, kind, "  %d tree%s, %s%s%s%s%s", total->trees,
			total->trees == 1 ? "" : "s", sum[0] != '\0' ? sum : "nothing recorded",
			pooled[0] != '\0' ? ", of it as a total of several trees " : "", pooled,
			mean[0] != '\0' ? ", " : "", mean);
	}
}

static void say_together(const struct printer *printer, const struct season_report *report)
{
	const char *sentences[SEASON_PAST_MAX];
	struct arena *arena = arena_new();
	int32_t count =
		season_past_words(report->lines, report->count, printer->units, arena, sentences);
	for (int32_t i = 0; i < count; i++)
		say_wrapped(
			printer, i == 0 ? "All together  " : "              ", "%s", sentences[i]);
	arena_free(arena);
}

enum status print_season(const struct printer *printer, const struct season_report *report,
	const struct yard *yard, struct fault *why)
{
	if (printer->format != FORMAT_TEXT) {
		struct rows rows = rows_begin(printer, season_keys);

		for (int32_t i = 0; i < report->count; i++)
			season_row(&rows, &report->lines[i]);
		return rows_end(&rows, why);
	}
	bool by_tree = report->total_count == 0 && report->count > 0;
	if (by_tree)
		say_line(printer, "%s: %s, season by season", yard_place(yard)->name,
			report->lines[0].subject.label);
	else
		say_line(printer, "%s: season %d", yard_place(yard)->name, report->year);
	if (report->count > 0)
		say_line(printer, "%-*s  %-14s  %-16s  %s", by_tree ? 8 : 20,
			by_tree ? "season" : "tree", "kind", "picked", "own mean (seasons)");
	for (int32_t i = 0; i < report->count; i++)
		say_tree(printer, &report->lines[i], by_tree);
	if (report->count == 0)
		say_line(printer, "no tree has a record of that season");
	if (by_tree)
		say_together(printer, report);
	else
		say_totals(printer, report);
	return say_end(printer, why);
}
