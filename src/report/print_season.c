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

static struct maybe_i64 pieces(const struct amount_sum *fruit)
{
	struct maybe_i64 point = amount_sum_point(fruit);

	if (point.known)
		point.value = round_i64((double)point.value / 1000.0);
	return point;
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
	rows_i64(rows, pieces(&season->fruit));
	rows_date(rows, season->first_pick);
	rows_date(rows, season->last_pick);
	rows_i32(rows, line->seasons_known);
	rows_grams(rows, line->past_mean_mg);
	rows_i64(rows, line->tcsa_mm2);
	rows_decimal(rows, line->efficiency_mg_per_mm2_milli.known,
		(double)line->efficiency_mg_per_mm2_milli.value / 1000.0, 3);
	rows_decimal(rows, line->alternation.pairs > 0, line->alternation.index, 3);
}

/* "52 lb", "40 to 50 lb", "100+ lb", "~30 lb +2 not weighed", or the state in words. */
static const char *say_sum(const struct printer *printer, const struct amount_sum *sum,
	int32_t unweighed, char *out, size_t size)
{
	struct maybe_i64 point = amount_sum_point(sum);
	char low[32] = "", more[32] = "";

	out[0] = '\0';
	if (unweighed > 0)
		snprintf(more, sizeof more, " +%d not weighed", unweighed);
	if (!point.known) {
		if (unweighed > 0)
			snprintf(out, size, "%d not weighed", unweighed);
		return out;
	}
	mass_format(point.value, printer->units, low, sizeof low);
	snprintf(out, size, "%s%s%s%s",
		sum->about && !sum->high_open && sum->low == sum->high ? "~" : "",
		sum->low != sum->high && !sum->high_open ? "~" : "", low,
		sum->high_open ? " or more" : "");
	text_copy(out + strlen(out), size - strlen(out), more);
	return out;
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
	char text[400] = "", part[96];
	struct text_builder more = text_builder_fixed(text, sizeof text);
	struct maybe_i64 fruit = pieces(&line->season.fruit);
	struct maybe_i64 lost = amount_sum_point(&line->season.lost);
	char day[24];

	if (fruit.known)
		text_add_format(&more, "%lld fruit; ", (long long)fruit.value);
	if (line->mean_fruit_mg.known)
		text_add_format(&more, "%s a fruit; ",
			mass_format(line->mean_fruit_mg.value, printer->units, part, sizeof part));
	if (lost.known && lost.value > 0)
		text_add_format(&more, "lost %s; ",
			mass_format(lost.value, printer->units, part, sizeof part));
	if (line->season.first_pick.known)
		text_add_format(&more, "first pick %s; ",
			date_format_plain(line->season.first_pick.value, day, sizeof day));
	if (line->season.last_pick.known)
		text_add_format(&more, "last %s; ",
			date_format_plain(line->season.last_pick.value, day, sizeof day));
	if (line->efficiency_mg_per_mm2_milli.known)
		text_add_format(&more, "%.2f kg per cm2 of trunk; ",
			(double)line->efficiency_mg_per_mm2_milli.value / 1e7);
	if (line->alternation.pairs > 0)
		text_add_format(&more, "alternation %.2f (%d pair%s)", line->alternation.index,
			line->alternation.pairs, line->alternation.pairs == 1 ? "" : "s");
	size_t length = strlen(text);
	if (length > 2 && text[length - 2] == ';')
		text[length - 2] = '\0';
	if (text[0] != '\0')
		say_wrapped(printer, "      ", "%s", text);
	for (int32_t i = 0; i < line->candidate_count; i++)
		say_wrapped(printer, i == 0 ? "      may bear on it: " : "                      ",
			"%s", line->candidates[i]);
}

static const char *say_state(enum season_state state)
{
	switch (state) {
	case SEASON_TO_COME:
		return "to come";
	case SEASON_IN_PROGRESS:
		return "in progress";
	case SEASON_COMPLETE:
		return "picked, no figure";
	case SEASON_NONE_SEEN:
		return "none seen";
	case SEASON_NOT_RECORDED:
		return "not recorded";
	}
	return "";
}

static void say_tree(const struct printer *printer, const struct season_line *line, bool by_tree)
{
	char name[TEXT_FIT_SIZE(20)], kind[TEXT_FIT_SIZE(14)], sum[96], past[96];
	int how = TEXT_PAD_RIGHT | (printer->ascii ? TEXT_ASCII : 0);

	say_sum(printer, &line->season.picked, line->season.unweighed, sum, sizeof sum);
	say_past(printer, line, past, sizeof past);
	text_fit(by_tree ? line->season_name : line->subject.label, by_tree ? 8 : 20, how, name,
		sizeof name);
	text_fit(line->kind_name, 14, how, kind, sizeof kind);
	say_line(printer, "%s  %s  %-16s  %s%s", name, kind,
		sum[0] != '\0' ? sum : say_state(line->season.state), past,
		line->season.state == SEASON_IN_PROGRESS && sum[0] != '\0' ? "  in progress" : "");
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
	char kind[TEXT_FIT_SIZE(20)], sum[96], mean[96];
	int how = TEXT_PAD_RIGHT | (printer->ascii ? TEXT_ASCII : 0);

	if (report->total_count > 0)
		say_line(printer, "%s", "");
	for (int32_t i = 0; i < report->total_count; i++) {
		const struct season_kind_total *total = &report->totals[i];

		text_fit(total->kind_name, 20, how, kind, sizeof kind);
		say_sum(printer, &total->picked, total->unweighed, sum, sizeof sum);
		say_mean(printer, total, mean, sizeof mean);
		say_wrapped(printer, kind, "  %d tree%s, %s%s%s", total->trees,
			total->trees == 1 ? "" : "s", sum[0] != '\0' ? sum : "nothing recorded",
			mean[0] != '\0' ? ", " : "", mean);
	}
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
	for (int32_t i = 0; i < report->count; i++)
		say_tree(printer, &report->lines[i], by_tree);
	if (report->count == 0)
		say_line(printer, "no tree has a record of that season");
	say_totals(printer, report);
	return say_end(printer, why);
}
