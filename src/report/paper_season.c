/* SPDX-License-Identifier: MIT */
/* The season report: of the yard, or of one tree. */
#include <stdlib.h>
#include <string.h>

#include "paper_parts.h"

enum { YEARS = 6, EXTREMES = 3, BAR_WORDS = 160 };

/* What one gave in a year. */
struct year_crop {
	char id[ID_SIZE];
	struct season season;
};

struct season_paper {
	const struct on_paper *paper;
	struct arena *arena;
	struct document document;
	struct season_report years[YEARS]; /* the newest first; of those before it no lines */
	struct year_crop *by_id[YEARS];    /* of each line, ordered by whose it is */
	int32_t counts[YEARS];
	int32_t swing_at; /* the line of the tree that is told next */
	bool swings_begun;
};

/* --- the yard --- */

static void say_kinds(struct season_paper *season)
{
	static const struct document_column columns[] = {{"kind", 18, false}, {"trees", 6, true},
		{"picked", 20, true}, {"a tree", 0, false}};
	const struct season_report *report = &season->years[0];
	const enum unit_system units = season->paper->printer.units;
	char text[96], mean[32];

	document_heading(&season->document, "By kind");
	document_table(&season->document, columns, 4);
	for (int32_t i = 0; i < report->total_count; i++) {
		const struct season_kind_total *total = &report->totals[i];

		document_cell(&season->document, total->kind_name);
		document_cell(&season->document,
			total->trees == 0 ? "as one"
					  : arena_format(season->arena, "%d", (int)total->trees));
		season_sum_words(&total->picked, total->unweighed, units, text, sizeof text);
		document_cell(&season->document, text[0] != '\0' ? text : "nothing recorded");
		document_cell(&season->document,
			total->mean_mg.known ? arena_format(season->arena, "%s (n %d)",
						       mass_format(total->mean_mg.value, units,
							       mean, sizeof mean),
						       (int)total->with_figure)
					     : "-");
	}
}

/* What all trees gave in a year: the sums by kind, added. */
static struct amount_sum sum_of_year(const struct season_report *report, int32_t *unweighed)
{
	struct amount_sum sum = {0};

	*unweighed = 0;
	for (int32_t i = 0; i < report->total_count; i++) {
		const struct amount_sum *part = &report->totals[i].picked;
		sum.low += part->low;
		sum.high += part->high;
		sum.high_open = sum.high_open || part->high_open;
		sum.parts += part->parts;
		sum.about = sum.about || part->about;
		*unweighed += report->totals[i].unweighed;
	}
	return sum;
}

static bool goes_on(const struct season_paper *season, int32_t year)
{
	for (int32_t i = 0; i < season->counts[year]; i++)
		if (season->by_id[year][i].season.state == SEASON_IN_PROGRESS)
			return true;
	return false;
}

static void say_years(struct season_paper *season)
{
	struct document_bar bars[YEARS];
	char text[96];

	for (int32_t i = 0; i < YEARS; i++) {
		const struct season_report *report = &season->years[YEARS - 1 - i];
		const bool open = goes_on(season, YEARS - 1 - i);
		int32_t unweighed;
		const struct amount_sum sum = sum_of_year(report, &unweighed);

		season_sum_words(&sum, unweighed, season->paper->printer.units, text, sizeof text);
		bars[i] = (struct document_bar){
			.label = arena_format(season->arena, "%d", (int)report->year),
			.words = arena_format(season->arena, "%s%s",
				text[0] != '\0' ? text : "nothing recorded",
				open ? ", not over" : ""),
			.size = amount_sum_point(&sum),
			.open = open};
	}
	document_bars(&season->document, "All trees, year by year", bars, YEARS,
		(struct maybe_i64){.known = false});
}

static void say_lines(struct season_paper *season)
{
	const struct season_report *report = &season->years[0];
	const enum unit_system units = season->paper->printer.units;
	struct document_bar *bars =
		arena_array(season->arena, (size_t)report->count + 1, sizeof *bars);
	char text[96], mean[32];

	for (int32_t i = 0; i < report->count; i++) {
		const struct season_line *line = &report->lines[i];
		const double share = season_line_share(line);

		mean[0] = '\0';
		if (line->past_mean_mg.known)
			mass_format(line->past_mean_mg.value, units, mean, sizeof mean);
		bars[i] = (struct document_bar){
			.label = arena_format(season->arena, "%s%s", line->is_graft ? "+ " : "",
				line->subject.label),
			.size = season_line_picked(line),
			.open = !season_line_is_compared(line)};
		paper_sum_words(line, units, text, sizeof text);
		bars[i].words =
			share >= 0.0 ? arena_format(season->arena, "%s, %.0f %% of %s (n %d)", text,
					       100.0 * share, mean, (int)line->seasons_known)
				     : arena_format(season->arena, "%s%s", text,
					       line->season.state == SEASON_IN_PROGRESS &&
							       season_line_picked(line).known
						       ? ", in progress"
						       : "");
	}
	document_bars(&season->document,
		"Tree by tree; beside it the mean of its own past, n seasons", bars, report->count,
		(struct maybe_i64){.known = false});
}

/* --- best and least --- */

static int compare_shares(const void *a, const void *b)
{
	const double one = season_line_share(*(const struct season_line *const *)a);
	const double other = season_line_share(*(const struct season_line *const *)b);

	return one < other ? 1 : one > other ? -1 : 0;
}

static void say_share(struct season_paper *season, const char *head, const struct season_line *line)
{
	char mean[32];

	document_row(&season->document, head, "%s, %s: %.0f %% of its mean of %s, %d season%s",
		line->subject.label, line->kind_name, 100.0 * season_line_share(line),
		mass_format(
			line->past_mean_mg.value, season->paper->printer.units, mean, sizeof mean),
		(int)line->seasons_known, line->seasons_known == 1 ? "" : "s");
}

/* Against its own past, never one tree against another. */
static void say_extremes(struct season_paper *season)
{
	const struct season_report *report = &season->years[0];
	const struct season_line **lines =
		arena_array(season->arena, (size_t)report->count + 1, sizeof *lines);
	int32_t count = 0;

	for (int32_t i = 0; i < report->count; i++)
		if (season_line_share(&report->lines[i]) >= 0.0)
			lines[count++] = &report->lines[i];
	if (count < 2)
		return;
	qsort(lines, (size_t)count, sizeof *lines, compare_shares);
	document_heading(&season->document, "Best and least, each against its own past");
	const int32_t most = count / 2 < EXTREMES ? count / 2 : EXTREMES;
	for (int32_t i = 0; i < most; i++)
		say_share(season, i == 0 ? "best" : "", lines[i]);
	for (int32_t i = 0; i < most; i++)
		say_share(season, i == 0 ? "least" : "", lines[count - 1 - i]);
}

/* --- what changed --- */

static int compare_ids(const void *a, const void *b)
{
	return strcmp(((const struct year_crop *)a)->id, ((const struct year_crop *)b)->id);
}

static void order_by_id(
	struct season_paper *season, int32_t year, const struct season_report *report)
{
	struct year_crop *crops =
		arena_array(season->arena, (size_t)report->count + 1, sizeof *crops);

	for (int32_t i = 0; i < report->count; i++) {
		text_copy(crops[i].id, sizeof crops[i].id, report->lines[i].subject.id);
		crops[i].season = report->lines[i].season;
	}
	qsort(crops, (size_t)report->count, sizeof *crops, compare_ids);
	season->by_id[year] = crops;
	season->counts[year] = report->count;
}

/* What the same tree gave that year; NULL: it has no line. */
static const struct season *same_in(
	const struct season_paper *season, int32_t year, const struct season_line *line)
{
	struct year_crop wanted;

	text_copy(wanted.id, sizeof wanted.id, line->subject.id);
	const struct year_crop *found = bsearch(&wanted, season->by_id[year],
		(size_t)season->counts[year], sizeof wanted, compare_ids);
	return found != NULL ? &found->season : NULL;
}

static void say_changes(struct season_paper *season)
{
	const struct season_report *now = &season->years[0];
	const enum unit_system units = season->paper->printer.units;
	char words[96], before[96];
	bool begun = false;

	for (int32_t i = 0; i < now->count; i++) {
		const struct season_line *line = &now->lines[i];
		const struct season *before_it = same_in(season, 1, line);
		struct season_line old = {.season.state = SEASON_NOT_RECORDED};

		if (before_it != NULL)
			old.season = *before_it;
		bool both = before_it != NULL && season_line_is_compared(line) &&
			    season_line_is_compared(&old);

		if (!both && line->candidate_count == 0)
			continue;
		if (!begun)
			document_heading(&season->document,
				"What changed since the season before, and what may bear on it");
		begun = true;
		paper_sum_words(line, units, words, sizeof words);
		if (both)
			document_row(&season->document, line->subject.label, "%s, before it %s",
				words, paper_sum_words(&old, units, before, sizeof before));
		else
			document_row(&season->document, line->subject.label, "%s", words);
		for (int32_t c = 0; c < line->candidate_count; c++)
			document_row(&season->document, "", "%s", line->candidates[c]);
	}
}

/* --- on and off --- */

static void say_swing(
	struct season_paper *season, const struct season_line *line, const struct dossier *dossier)
{
	const struct season_options options = {.depth = SEASON_FIGURES};
	struct arena *arena = arena_new();
	struct season_report past;
	const char *sentences[SEASON_PAST_MAX];

	season_report_of(season->paper->yard, dossier, &options, arena, &past);
	if (!season->swings_begun)
		document_heading(&season->document, "On and off years");
	season->swings_begun = true;
	const int32_t count = season_past_words(
		past.lines, past.count, season->paper->printer.units, arena, sentences);
	document_row(&season->document, line->subject.label,
		"alternation %.2f (mean of ratios, %d pairs)%s%s", line->alternation.index,
		(int)line->alternation.pairs, count == SEASON_PAST_MAX ? "; " : "",
		count == SEASON_PAST_MAX ? sentences[SEASON_PAST_MAX - 1] : "");
	arena_free(arena);
}

/* Trees come in the order of the lines. */
static enum status visit_swing(void *owner, const struct dossier *dossier, struct fault *why)
{
	struct season_paper *season = owner;
	const struct season_report *report = &season->years[0];
	(void)why;

	if (season->swing_at == report->count)
		return STATUS_END;
	const struct season_line *line = &report->lines[season->swing_at];
	if (strcmp(line->subject.id, dossier->tree.id) != 0)
		return STATUS_OK;
	season->swing_at++;
	if (season_swings(&line->alternation))
		say_swing(season, line, dossier);
	return STATUS_OK;
}

static enum status say_swings(struct season_paper *season, struct fault *why)
{
	static const struct kind_set crop_kinds = {KIND_BIT(KIND_PICK) | KIND_BIT(KIND_LOSS)};
	const struct yard_visitor visitor = {
		.owner = season, .visit = visit_swing, .alone = true, .kinds = &crop_kinds};

	return yard_each(season->paper->yard, true, &visitor, why);
}

/* --- the years beside one another --- */

/* "52 lb", with what is open or not known said in few cells. */
static const char *cell_words(
	const struct season *season, enum unit_system units, char *out, size_t size)
{
	struct season_line line = {.season.state = SEASON_NOT_RECORDED};

	if (season != NULL)
		line.season = *season;
	const struct maybe_i64 picked = season_line_picked(&line);

	if (picked.known && picked.value == 0)
		text_copy(out, size, "none");
	else if (picked.known)
		mass_format_rough(picked.value, units, out, (int)size);
	else
		text_copy(out, size, "-");
	if (picked.known && line.season.state == SEASON_IN_PROGRESS)
		text_copy(out + strlen(out), size - strlen(out), "+");
	return out;
}

static void say_table(struct season_paper *season)
{
	struct document_column *columns = arena_array(season->arena, YEARS + 1, sizeof *columns);
	const struct season_report *report = &season->years[0];
	char text[40];

	columns[0] = (struct document_column){"tree", 15, false};
	for (int32_t i = 0; i < YEARS; i++)
		columns[i + 1] = (struct document_column){
			arena_format(season->arena, "%d", (int)season->years[YEARS - 1 - i].year),
			8, true};
	document_heading(&season->document, "Year by year");
	document_table(&season->document, columns, YEARS + 1);
	for (int32_t i = 0; i < report->count; i++) {
		document_cell(&season->document, report->lines[i].subject.label);
		for (int32_t y = YEARS - 1; y >= 0; y--)
			document_cell(&season->document,
				cell_words(same_in(season, y, &report->lines[i]),
					season->paper->printer.units, text, sizeof text));
	}
	document_say(&season->document,
		"Two figures, for the eye; - is not recorded, never nothing; + is not over yet.");
}

/* Of the years before it the crops alone, and none of the lines. */
static enum status read_years(struct season_paper *season, struct fault *why)
{
	struct season_options options = {
		.year = season->paper->year, .without_private = season->paper->without_private};
	enum status status = STATUS_OK;

	for (int32_t i = 0; status == STATUS_OK && i < YEARS; i++) {
		struct season_report *report = &season->years[i];
		struct arena *arena = i == 0 ? season->arena : arena_new();

		status = season_report_make(season->paper->yard, &options, arena, report, why);
		if (status == STATUS_OK)
			order_by_id(season, i, report);
		options.year = known_i32(report->year - 1);
		options.depth = SEASON_CROPS;
		if (i == 0)
			continue;
		report->totals = arena_grow(season->arena, report->totals,
			(size_t)report->total_count * sizeof *report->totals,
			(size_t)report->total_count * sizeof *report->totals);
		report->lines = NULL;
		report->count = 0;
		arena_free(arena);
	}
	return status;
}

static enum status say_yard(struct season_paper *season, struct fault *why)
{
	enum status status = read_years(season, why);

	if (status != STATUS_OK)
		return status;
	paper_begin(&season->document, season->paper,
		arena_format(season->arena, "%s: season %d", yard_place(season->paper->yard)->name,
			(int)season->years[0].year));
	if (season->years[0].count == 0)
		document_say(&season->document, "no tree has a record of that season");
	if (season->years[0].count > 0) {
		say_kinds(season);
		say_years(season);
		say_extremes(season);
		say_lines(season);
		say_changes(season);
		status = say_swings(season, why);
		say_table(season);
	}
	if (status == STATUS_OK)
		status = paper_stock(&season->document, season->paper, season->years[0].year,
			season->arena, why);
	return status;
}

/* --- one tree --- */

static enum status say_one(struct season_paper *season, struct fault *why)
{
	const struct season_options options = {.tree_id = season->paper->tree_id};
	const enum unit_system units = season->paper->printer.units;
	struct season_report report;
	char words[400], sum[96];
	enum status status =
		season_report_make(season->paper->yard, &options, season->arena, &report, why);

	if (status != STATUS_OK)
		return status;
	paper_begin(&season->document, season->paper,
		arena_format(season->arena, "%s: %s, season by season",
			yard_place(season->paper->yard)->name,
			report.count > 0 ? report.lines[0].subject.label : "no season yet"));
	paper_seasons(&season->document, &report, units, season->arena);
	for (int32_t i = 0; i < report.count; i++) {
		const struct season_line *line = &report.lines[i];

		season_line_words(line, units, words, sizeof words);
		document_row(&season->document, line->season_name, "%s%s%s",
			paper_sum_words(line, units, sum, sizeof sum), words[0] != '\0' ? "; " : "",
			words);
		for (int32_t c = 0; c < line->candidate_count; c++)
			document_row(&season->document, c == 0 ? "may bear on it" : "", "%s",
				line->candidates[c]);
	}
	return STATUS_OK;
}

enum status on_paper_season(const struct on_paper *paper, struct fault *why)
{
	struct season_paper season = {.paper = paper, .arena = arena_new()};
	enum status status = paper->tree_id != NULL ? paper_allows(paper, why) : STATUS_OK;

	if (status == STATUS_OK)
		status = paper->tree_id != NULL ? say_one(&season, why) : say_yard(&season, why);
	status = paper_finish(&season.document, status, why);
	arena_free(season.arena);
	return status;
}
