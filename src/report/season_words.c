/* SPDX-License-Identifier: MIT */
/* A crop in words, for the printed season and the screens. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "report/season_report.h"

struct maybe_i64 season_fruit(const struct season *season)
{
	struct maybe_i64 point = amount_sum_point(&season->fruit);

	if (point.known)
		point.value = round_i64((double)point.value / 1000.0);
	return point;
}

struct maybe_i64 season_line_picked(const struct season_line *line)
{
	struct maybe_i64 point = amount_sum_point(&line->season.picked);

	if (!point.known && line->season.state == SEASON_NONE_SEEN)
		return known_i64(0);
	return point;
}

bool season_line_is_compared(const struct season_line *line)
{
	bool over = line->season.state == SEASON_COMPLETE || line->season.state == SEASON_NONE_SEEN;

	return over && season_line_picked(line).known;
}

double season_line_share(const struct season_line *line)
{
	if (!season_line_is_compared(line) || !line->past_mean_mg.known ||
		line->past_mean_mg.value == 0)
		return -1.0;
	return (double)season_line_picked(line).value / (double)line->past_mean_mg.value;
}

const char *season_sum_words(const struct amount_sum *sum, int32_t unweighed,
	enum unit_system units, char *out, size_t size)
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
	if (point.value == 0 && !sum->high_open && unweighed == 0) {
		text_copy(out, size, "none seen");
		return out;
	}
	mass_format(point.value, units, low, sizeof low);
	snprintf(out, size, "%s%s%s%s",
		sum->about && !sum->high_open && sum->low == sum->high ? "~" : "",
		sum->low != sum->high && !sum->high_open ? "~" : "", low,
		sum->high_open ? " or more" : "");
	text_copy(out + strlen(out), size - strlen(out), more);
	return out;
}

const char *season_state_words(enum season_state state)
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

/* A part and what parts it from the one before. */
static void add_part(struct text_builder *words, const char *before, const char *part)
{
	text_add_format(words, "%s%s%s", words->length > 0 ? "; " : "", before, part);
}

static void add_days(struct text_builder *words, const struct season *season)
{
	char day[24];

	if (season->first_pick.known)
		add_part(words, "first pick ",
			date_format_plain(season->first_pick.value, day, sizeof day));
	if (season->last_pick.known)
		add_part(words, "last ",
			date_format_plain(season->last_pick.value, day, sizeof day));
}

/* "second grade 9 kg (26 %)", of what was picked. */
static void add_grades(
	struct text_builder *words, const struct season_line *line, enum unit_system units)
{
	struct maybe_i64 picked = amount_sum_point(&line->season.picked);
	char mass[32], part[GRADE_NAME_SIZE + 48];

	for (int32_t i = 0; i < line->grade_count && picked.known && picked.value > 0; i++) {
		const struct season_grade *grade = &line->grades[i];

		snprintf(part, sizeof part, "%s %s (%.0f %%)", grade->name,
			mass_format(grade->mass_mg, units, mass, sizeof mass),
			100.0 * (double)grade->mass_mg / (double)picked.value);
		add_part(words, "", part);
	}
}

static void add_fruit(
	struct text_builder *words, const struct season_line *line, enum unit_system units)
{
	char part[32];
	struct maybe_i64 fruit = season_fruit(&line->season);
	struct maybe_i64 borne = season_total_mg(&line->season);
	struct maybe_i64 lost = amount_sum_point(&line->season.lost);

	if (fruit.known) {
		snprintf(part, sizeof part, "%lld fruit", (long long)fruit.value);
		add_part(words, "", part);
		if (line->season.fruit.parts < line->season.picks)
			text_add_format(words, " counted, in %d of %d picks",
				line->season.fruit.parts, line->season.picks);
	}
	if (line->mean_fruit_mg.known) {
		add_part(words, "",
			mass_format(line->mean_fruit_mg.value, units, part, sizeof part));
		text_add(words, " a fruit");
	}
	if (lost.known && lost.value > 0)
		add_part(words, "lost ", mass_format(lost.value, units, part, sizeof part));
	if (lost.known && lost.value > 0 && borne.known && borne.value > lost.value)
		text_add_format(
			words, " of %s borne", mass_format(borne.value, units, part, sizeof part));
}

const char *season_line_words(
	const struct season_line *line, enum unit_system units, char *out, size_t size)
{
	struct text_builder words = text_builder_fixed(out, size);
	char part[64];

	out[0] = '\0';
	add_fruit(&words, line, units);
	add_grades(&words, line, units);
	add_days(&words, &line->season);
	if (line->efficiency_mg_per_mm2_milli.known) {
		snprintf(part, sizeof part, "%.2f kg per cm2 of trunk",
			(double)line->efficiency_mg_per_mm2_milli.value / 1e7);
		add_part(&words, "", part);
		if (line->trunk_is_old)
			text_add_format(&words, " as it was on %s",
				date_format_plain(line->trunk_day.value, part, sizeof part));
	}
	if (line->alternation.pairs > 0) {
		snprintf(part, sizeof part, "alternation %.2f (mean of ratios, %d pair%s)",
			line->alternation.index, line->alternation.pairs,
			line->alternation.pairs == 1 ? "" : "s");
		add_part(&words, "", part);
	}
	return out;
}
