/* SPDX-License-Identifier: MIT */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "season.h"
#include "season_bar.h"

enum {
	HEAD_ROWS = 2,
	NARROW = 76,
	WIDE = 110,
	NOTE_SIZE = 80,
};

/* First cells of the columns. */
struct columns {
	int name, kind, picked, bar, note, end;
};

static struct columns columns_of(int width, bool one)
{
	struct columns columns = {.name = 2, .end = width};
	int name = one ? 9 : width < NARROW ? 10 : width < WIDE ? 13 : 20;
	int kind = one ? 0 : width < NARROW ? 10 : width < WIDE ? 13 : 20;
	int note = width < NARROW ? 14 : width < WIDE ? 25 : 30;
	columns.kind = columns.name + name;
	columns.picked = columns.kind + kind;
	columns.bar = columns.picked + (width < NARROW ? 13 : 14);
	columns.note = width - note;
	if (columns.note - columns.bar > SEASON_BAR_CELLS_MAX + 1)
		columns.note = columns.bar + SEASON_BAR_CELLS_MAX + 1;
	return columns;
}

/* Does this tree swing from year to year, by all its seasons. */
static bool swings(const struct season_list *list)
{
	if (list->count == 0)
		return false;
	const struct alternation *whole = &list->lines[list->count - 1].alternation;
	return season_swings(whole);
}

static int64_t mean_of(const struct season_list *list)
{
	double sum = 0.0;
	int32_t count = 0;
	for (int32_t i = 0; i < list->count; i++)
		if (season_line_is_compared(&list->lines[i])) {
			sum += (double)season_line_picked(&list->lines[i]).value;
			count++;
		}
	return count > 0 ? round_i64(sum / count) : -1;
}

static int64_t most_of(const struct season_list *list)
{
	int64_t most = 0;
	for (int32_t i = 0; i < list->count; i++)
		if (season_line_picked(&list->lines[i]).known &&
			season_line_picked(&list->lines[i]).value > most)
			most = season_line_picked(&list->lines[i]).value;
	return most;
}

/* --- rows --- */

static const char *sum_of(
	const struct season_line *line, enum unit_system units, char *out, size_t size)
{
	season_sum_words(&line->season.picked, line->season.unweighed, units, out, size);
	if (out[0] == '\0')
		text_copy(out, size, season_state_words(line->season.state));
	return out;
}

/* "104 % of 52 lb (5)"; n is always shown. */
static const char *note_of_tree(
	const struct season_line *line, enum unit_system units, bool narrow, char out[NOTE_SIZE])
{
	char mean[32];
	double share = season_line_share(line);
	out[0] = '\0';
	if (line->past_mean_mg.known)
		mass_format(line->past_mean_mg.value, units, mean, sizeof mean);
	if (share >= 0.0 && narrow)
		snprintf(out, NOTE_SIZE, "%.0f %% (n %d)", 100.0 * share, line->seasons_known);
	else if (share >= 0.0)
		snprintf(out, NOTE_SIZE, "%.0f %% of %s (n %d)", 100.0 * share, mean,
			line->seasons_known);
	else if (line->season.state == SEASON_IN_PROGRESS)
		snprintf(out, NOTE_SIZE, "in progress");
	else if (season_line_is_compared(line))
		snprintf(out, NOTE_SIZE, "first on record");
	else if (line->past_mean_mg.known && !narrow)
		snprintf(out, NOTE_SIZE, "mean %s (n %d)", mean, line->seasons_known);
	return out;
}

static void draw_tree_row(const struct season_page *page, const struct season_line *line,
	struct paper *paper, int row)
{
	struct columns at = columns_of(paper_columns(paper), false);
	char sum[96], note[NOTE_SIZE], bar[SEASON_BAR_SIZE];
	bool narrow = at.end < NARROW;
	int cells = at.note - at.bar - 1;
	int64_t mean = line->past_mean_mg.known ? line->past_mean_mg.value : -1;
	paper_format(paper, row, at.name, at.kind - at.name - 1, STYLE_STRONG, "%s%s",
		line->is_graft ? "+ " : "", line->subject.label);
	paper_put(paper, row, at.kind, at.picked - at.kind - 1, STYLE_PLAIN, line->kind_name);
	paper_put_right(paper, row, at.picked, at.bar - at.picked - 1, STYLE_PLAIN,
		sum_of(line, page->units, sum, sizeof sum));
	if (mean > 0) {
		struct season_bar shown = {
			.value = season_line_is_compared(line) ? season_line_picked(line).value : 0,
			.full = 2 * mean,
			.mark = mean,
			.cells = cells,
			.ascii = paper_ascii(paper)};
		paper_put(paper, row, at.bar, cells, STYLE_GOOD, season_bar_draw(&shown, bar));
	}
	paper_put(
		paper, row, at.note, 0, STYLE_PLAIN, note_of_tree(line, page->units, narrow, note));
}

/* "on" and "off" only for a tree that swings, and only for seasons that are over. */
static const char *note_of_season(const struct season_list *list, const struct season_line *line)
{
	if (line->season.state == SEASON_IN_PROGRESS)
		return "in progress";
	if (!season_line_is_compared(line) || !swings(list))
		return "";
	return season_line_picked(line).value >= mean_of(list) ? "on year" : "off year";
}

static void draw_season_row(const struct season_page *page, const struct season_line *line,
	struct paper *paper, int row)
{
	struct columns at = columns_of(paper_columns(paper), true);
	char sum[96], bar[SEASON_BAR_SIZE];
	int cells = at.note - at.bar - 1;
	paper_put(paper, row, at.name, at.kind - at.name - 1, STYLE_STRONG, line->season_name);
	paper_put_right(paper, row, at.picked, at.bar - at.picked - 1, STYLE_PLAIN,
		sum_of(line, page->units, sum, sizeof sum));
	if (season_line_picked(line).known) {
		struct season_bar shown = {.value = season_line_picked(line).value,
			.full = most_of(&page->seasons),
			.mark = mean_of(&page->seasons),
			.cells = cells,
			.open = !season_line_is_compared(line),
			.ascii = paper_ascii(paper)};
		paper_put(paper, row, at.bar, cells, shown.open ? STYLE_FAINT : STYLE_GOOD,
			season_bar_draw(&shown, bar));
	}
	paper_put(paper, row, at.note, 0, STYLE_PLAIN, note_of_season(&page->seasons, line));
}

/* --- head --- */

static const struct season_line *extreme(const struct season_list *trees, bool best)
{
	const struct season_line *found = NULL;
	for (int32_t i = 0; i < trees->count; i++) {
		double share = season_line_share(&trees->lines[i]);
		if (share < 0.0)
			continue;
		if (found == NULL || (best ? share > season_line_share(found)
					   : share < season_line_share(found)))
			found = &trees->lines[i];
	}
	return found;
}

static void add_extremes(struct text_builder *line, const struct season_list *trees)
{
	const struct season_line *best = extreme(trees, true);
	const struct season_line *least = extreme(trees, false);
	if (best == least)
		return; /* none, or one alone */
	text_add_format(line, "; by its own past: best %s %.0f %%, least %s %.0f %%",
		best->subject.label, 100.0 * season_line_share(best), least->subject.label,
		100.0 * season_line_share(least));
}

static void draw_yard_head(const struct season_page *page, struct paper *paper)
{
	char text[240];
	struct text_builder line = text_builder_fixed(text, sizeof text);
	struct columns at = columns_of(paper_columns(paper), false);
	text_add_format(&line, "Season %d", page->year.value);
	add_extremes(&line, &page->trees);
	paper_put(paper, 0, 2, 0, STYLE_STRONG, text);
	paper_put(paper, 1, at.name, 0, STYLE_FAINT, "tree");
	paper_put(paper, 1, at.kind, 0, STYLE_FAINT, "kind");
	paper_put_right(paper, 1, at.picked, at.bar - at.picked - 1, STYLE_FAINT, "picked");
	paper_format(paper, 1, at.bar, at.note - at.bar - 1, STYLE_FAINT, "%s its mean",
		paper_ascii(paper) ? "|" : "│");
	if (at.end >= NARROW)
		paper_put(paper, 1, at.note, 0, STYLE_FAINT, "against its past");
}

static void draw_one_head(const struct season_page *page, struct paper *paper)
{
	char mean[32];
	struct columns at = columns_of(paper_columns(paper), true);
	int64_t mean_mg = mean_of(&page->seasons);
	const char *kind = page->seasons.count > 0 ? page->seasons.lines[0].kind_name : "";
	paper_format(paper, 0, 2, 0, STYLE_STRONG, "%s  %s, season by season", page->subject.label,
		kind);
	paper_put(paper, 1, at.name, 0, STYLE_FAINT, "season");
	paper_put_right(paper, 1, at.picked, at.bar - at.picked - 1, STYLE_FAINT, "picked");
	if (mean_mg >= 0)
		paper_format(paper, 1, at.bar, 0, STYLE_FAINT, "%s its mean, %s",
			paper_ascii(paper) ? "|" : "│",
			mass_format(mean_mg, page->units, mean, sizeof mean));
}

/* --- foot --- */

/* Rows below the list, its rule included: more where the screen is tall, or the list short. */
static int foot_rows(const struct season_page *page, int rows)
{
	int least = rows * 2 / 5;
	int left = rows - HEAD_ROWS - (int)season_shown(page)->count;
	return left > least ? left : least;
}

int season_list_rows(const struct season_page *page, int rows)
{
	int room = rows - HEAD_ROWS - foot_rows(page, rows);
	return room < 1 ? 1 : room;
}

/* Words about the selected crop; returns the row after them. */
static int draw_words(const struct season_page *page, struct paper *paper, int row, int end)
{
	const struct season_list *list = season_shown(page);
	int columns = paper_columns(paper);
	char words[400], sum[96];
	if (list->count == 0)
		return row;
	const struct season_line *line = &list->lines[list->selected];
	season_line_words(line, page->units, words, sizeof words);
	struct text_builder text = text_builder_in(arena_new());
	text_add_format(&text, "%s, %s: %s%s%s", line->subject.label, line->season_name,
		sum_of(line, page->units, sum, sizeof sum), words[0] != '\0' ? "; " : "", words);
	row += paper_wrap(paper, row, 2, columns - 2, end - row, STYLE_PLAIN, text.text);
	arena_free(text.arena);
	for (int32_t i = 0; i < line->candidate_count && row < end; i++) {
		paper_put(paper, row, 2, 0, STYLE_FAINT, i == 0 ? "may bear on it:" : "");
		row += paper_wrap(
			paper, row, 18, columns - 18, end - row, STYLE_PLAIN, line->candidates[i]);
	}
	return row;
}

static void draw_total(const struct season_page *page, const struct season_kind_total *total,
	struct paper *paper, int row)
{
	char sum[96], mean[32], text[200];
	struct text_builder line = text_builder_fixed(text, sizeof text);
	int column = paper_columns(paper) < NARROW ? 13 : 18;
	season_sum_words(&total->picked, total->unweighed, page->units, sum, sizeof sum);
	if (total->trees > 0)
		text_add_format(&line, "%d tree%s, ", total->trees, total->trees == 1 ? "" : "s");
	else
		text_add(&line, "picked as one, "); /* its trees are counted with their kinds */
	text_add(&line, sum[0] != '\0' ? sum : "nothing recorded");
	if (total->mean_mg.known)
		text_add_format(&line, ", mean %s a tree (n %d)",
			mass_format(total->mean_mg.value, page->units, mean, sizeof mean),
			total->with_figure);
	paper_put(paper, row, 2, column - 3, STYLE_PLAIN, total->kind_name);
	paper_put(paper, row, column, 0, STYLE_PLAIN, text);
}

/* Sums by kind; where not all fit, the last row says so. */
static int draw_totals(const struct season_page *page, struct paper *paper, int row, int end)
{
	int32_t count = page->report.total_count;
	int32_t i = 0;
	for (; i < count && row < end; i++, row++) {
		if (row == end - 1 && i < count - 1) {
			paper_format(paper, row, 2, 0, STYLE_FAINT,
				page->totals ? "%d more kinds" : "%d kinds summed: Tab",
				page->totals ? count - i : count);
			return row + 1;
		}
		draw_total(page, &page->report.totals[i], paper, row);
	}
	return row;
}

/* All seasons of one together; returns the row after them. */
static int draw_past(const struct season_page *page, struct paper *paper, int row, int end)
{
	const char *sentences[SEASON_PAST_MAX];
	struct arena *arena = arena_new();
	int32_t count = season_past_words(
		page->seasons.lines, page->seasons.count, page->units, arena, sentences);
	for (int32_t i = 0; i < count && row < end; i++)
		row += paper_wrap(paper, row, 2, paper_columns(paper) - 2, end - row, STYLE_PLAIN,
			sentences[i]);
	arena_free(arena);
	return row;
}

static void draw_one_foot(const struct season_page *page, struct paper *paper, int row, int end)
{
	if (page->totals)
		row = draw_past(page, paper, row, end);
	if (row < end)
		row = draw_words(page, paper, row, end);
	if (!page->totals && row + 1 < end)
		(void)draw_past(page, paper, row + 1, end);
}

static void draw_foot(const struct season_page *page, struct paper *paper)
{
	int end = paper_rows(paper);
	int row = end - foot_rows(page, end);
	bool sums = page->report.total_count > 0;
	paper_rule(paper, row++, 0, paper_columns(paper));
	if (page->one) {
		draw_one_foot(page, paper, row, end);
		return;
	}
	if (sums && page->totals)
		row = draw_totals(page, paper, row, end);
	row = draw_words(page, paper, row, end - (sums && !page->totals ? 1 : 0));
	if (sums && !page->totals) {
		int32_t left = end - row;
		if (left > page->report.total_count)
			row++;
		draw_totals(page, paper, row, end);
	}
}

void season_draw(const void *screen, struct paper *paper)
{
	const struct season_page *page = screen;
	const struct season_list *list = season_shown(page);
	int rows = season_list_rows(page, paper_rows(paper));
	if (page->one)
		draw_one_head(page, paper);
	else
		draw_yard_head(page, paper);
	if (list->count == 0)
		paper_put(paper, HEAD_ROWS + 1, 2, 0, STYLE_PLAIN,
			"no tree has a record of that season; Left goes back, Right on");
	for (int i = 0; i < rows && list->top + i < list->count; i++) {
		const struct season_line *line = &list->lines[list->top + i];
		if (page->one)
			draw_season_row(page, line, paper, HEAD_ROWS + i);
		else
			draw_tree_row(page, line, paper, HEAD_ROWS + i);
		if (list->top + i == list->selected)
			paper_select(paper, HEAD_ROWS + i, 0, 0);
	}
	draw_foot(page, paper);
}
