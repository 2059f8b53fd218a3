/* SPDX-License-Identifier: MIT */
/* Two trees side by side, season by season: what both gave, on one scale. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "screen.h"
#include "season_bar.h"

enum { SIDES = 2, HEAD_ROWS = 2, FOOT_ROWS = 4, YEAR_CELLS = 9, SUM_CELLS = 14 };

struct compare {
	char id[SIDES][ID_SIZE];
	struct season_report report[SIDES];
	struct pair {
		int32_t year;
		const struct season_line *line[SIDES]; /* NULL: no such season of this one */
	} * pairs;                                     /* oldest first */
	int32_t count;
	int32_t selected, top;
	int64_t most_mg;
	enum unit_system units;
};

/* --- reading --- */

static struct pair *pair_of(struct compare *compare, int32_t year)
{
	int32_t at = 0;
	while (at < compare->count && compare->pairs[at].year < year)
		at++;
	if (at < compare->count && compare->pairs[at].year == year)
		return &compare->pairs[at];
	memmove(&compare->pairs[at + 1], &compare->pairs[at],
		(size_t)(compare->count - at) * sizeof compare->pairs[0]);
	compare->count++;
	compare->pairs[at] = (struct pair){.year = year};
	return &compare->pairs[at];
}

static void pair_up(struct compare *compare, struct arena *arena)
{
	const int32_t most = compare->report[0].count + compare->report[1].count;
	compare->pairs = arena_array(arena, (size_t)most + 1, sizeof compare->pairs[0]);
	compare->count = 0;
	compare->most_mg = 0;
	for (int side = 0; side < SIDES; side++)
		for (int32_t i = 0; i < compare->report[side].count; i++) {
			const struct season_line *line = &compare->report[side].lines[i];
			const struct maybe_i64 picked = season_line_picked(line);
			pair_of(compare, line->season.year)->line[side] = line;
			if (picked.known && picked.value > compare->most_mg)
				compare->most_mg = picked.value;
		}
}

static enum status compare_reread(void *state, struct context *context, struct fault *why)
{
	struct compare *compare = state;
	enum status status = STATUS_OK;
	arena_reset(context->arena);
	compare->units = context->session->units;
	for (int side = 0; status == STATUS_OK && side < SIDES; side++) {
		const struct season_options options = {.tree_id = compare->id[side]};
		status = season_report_make(context->session->yard, &options, context->arena,
			&compare->report[side], why);
		if (status == STATUS_OK && compare->report[side].count == 0)
			status = fault_set(
				why, STATUS_ABSENT, "one of the two has no season to compare");
	}
	if (status == STATUS_OK)
		pair_up(compare, context->arena);
	return status;
}

/* argument: "ID TAB ID" */
static enum status compare_open(
	void *state, struct context *context, const char *argument, struct fault *why)
{
	struct compare *compare = state;
	const size_t length = strcspn(argument, "\t");
	if (argument[length] == '\0')
		return fault_set(why, STATUS_ABSENT,
			"two trees are compared: c on each of them in the season");
	(void)text_copy_n(compare->id[0], ID_SIZE, argument, length);
	(void)text_copy(compare->id[1], ID_SIZE, argument + length + 1);
	enum status status = compare_reread(state, context, why);
	compare->selected = compare->count - 1;
	return status;
}

/* --- what both gave --- */

struct both {
	int32_t seasons;
	int64_t sum_mg[SIDES];
	int32_t ahead[SIDES]; /* seasons in which this one gave more */
};

static struct both both_of(const struct compare *compare)
{
	struct both both = {.seasons = 0};
	for (int32_t i = 0; i < compare->count; i++) {
		const struct pair *pair = &compare->pairs[i];
		if (pair->line[0] == NULL || pair->line[1] == NULL ||
			!season_line_is_compared(pair->line[0]) ||
			!season_line_is_compared(pair->line[1]))
			continue;
		const int64_t left = season_line_picked(pair->line[0]).value;
		const int64_t right = season_line_picked(pair->line[1]).value;
		both.seasons++;
		both.sum_mg[0] += left;
		both.sum_mg[1] += right;
		both.ahead[0] += left > right;
		both.ahead[1] += right > left;
	}
	return both;
}

static void both_words(const struct compare *compare, char *out, size_t size)
{
	const struct both both = both_of(compare);
	const char *left = compare->report[0].lines[0].subject.label;
	const char *right = compare->report[1].lines[0].subject.label;
	char means[SIDES][32];
	if (both.seasons == 0) {
		(void)snprintf(out, size, "no season is over and weighed on both");
		return;
	}
	for (int side = 0; side < SIDES; side++)
		(void)mass_format(both.sum_mg[side] / both.seasons, compare->units, means[side],
			sizeof means[side]);
	(void)snprintf(out, size,
		"%d season%s weighed on both: %s gave %s a season, %s %s; %s more in %d, %s in %d",
		both.seasons, both.seasons == 1 ? "" : "s", left, means[0], right, means[1], left,
		both.ahead[0], right, both.ahead[1]);
}

/* --- drawing --- */

static void draw_side(const struct compare *compare, const struct season_line *line,
	struct paper *paper, int row, int column, int cells)
{
	char sum[96], bar[SEASON_BAR_SIZE];
	if (line == NULL) {
		paper_put_right(paper, row, column, SUM_CELLS - 1, STYLE_FAINT, "-");
		return;
	}
	season_sum_words(
		&line->season.picked, line->season.unweighed, compare->units, sum, sizeof sum);
	paper_put_right(paper, row, column, SUM_CELLS - 1, STYLE_PLAIN,
		sum[0] != '\0' ? sum : season_state_words(line->season.state));
	if (!season_line_picked(line).known || compare->most_mg == 0)
		return;
	const struct season_bar shown = {.value = season_line_picked(line).value,
		.full = compare->most_mg,
		.mark = -1,
		.cells = cells,
		.open = !season_line_is_compared(line),
		.ascii = paper_ascii(paper)};
	paper_put(paper, row, column + SUM_CELLS, cells, shown.open ? STYLE_FAINT : STYLE_GOOD,
		season_bar_draw(&shown, bar));
}

static int list_rows(int rows)
{
	return rows - HEAD_ROWS - FOOT_ROWS;
}

static void draw_foot(const struct compare *compare, struct paper *paper, int row)
{
	char words[800];
	const int end = paper_rows(paper);
	const int columns = paper_columns(paper);
	const struct pair *pair = &compare->pairs[compare->selected];
	paper_rule(paper, row++, 0, columns);
	both_words(compare, words, sizeof words);
	row += paper_wrap(paper, row, 2, columns - 2, end - row, STYLE_STRONG, words);
	for (int side = 0; side < SIDES && row < end; side++) {
		if (pair->line[side] == NULL)
			continue;
		char text[1200];
		season_line_words(pair->line[side], compare->units, words, sizeof words);
		(void)snprintf(text, sizeof text, "%s, %s: %s", pair->line[side]->subject.label,
			pair->line[side]->season_name,
			words[0] != '\0' ? words : "no more is recorded");
		row += paper_wrap(paper, row, 2, columns - 2, end - row, STYLE_PLAIN, text);
	}
}

static void compare_draw(const void *state, struct paper *paper)
{
	const struct compare *compare = state;
	const int half = (paper_columns(paper) - 2 - YEAR_CELLS) / SIDES;
	const int cells = half - SUM_CELLS - 1;
	const int rows = list_rows(paper_rows(paper));
	for (int side = 0; side < SIDES; side++) {
		const struct season_line *line = &compare->report[side].lines[0];
		paper_format(paper, 0, 2 + YEAR_CELLS + side * half, half - 1, STYLE_STRONG,
			"%s  %s", line->subject.label, line->kind_name);
		paper_put_right(paper, 1, 2 + YEAR_CELLS + side * half, SUM_CELLS - 1, STYLE_FAINT,
			"picked");
	}
	paper_put(paper, 1, 2, YEAR_CELLS - 1, STYLE_FAINT, "season");
	for (int row = 0; row < rows && compare->top + row < compare->count; row++) {
		const struct pair *pair = &compare->pairs[compare->top + row];
		const struct season_line *named =
			pair->line[0] != NULL ? pair->line[0] : pair->line[1];
		paper_put(paper, HEAD_ROWS + row, 2, YEAR_CELLS - 1, STYLE_STRONG,
			named->season_name);
		for (int side = 0; side < SIDES; side++)
			draw_side(compare, pair->line[side], paper, HEAD_ROWS + row,
				2 + YEAR_CELLS + side * half, cells);
	}
	paper_select(paper, HEAD_ROWS + compare->selected - compare->top, 0, 2 + YEAR_CELLS - 1);
	draw_foot(compare, paper, HEAD_ROWS + rows);
}

/* --- acting --- */

static void choose(struct compare *compare, int32_t at)
{
	compare->selected = at >= compare->count ? compare->count - 1 : at < 0 ? 0 : at;
}

static void compare_settle(void *state, struct context *context)
{
	struct compare *compare = state;
	const int32_t rows = list_rows(context->rows);
	choose(compare, compare->selected);
	if (compare->selected < compare->top)
		compare->top = compare->selected;
	if (compare->selected >= compare->top + rows)
		compare->top = compare->selected - rows + 1;
	if (compare->top > 0 && compare->top + rows > compare->count)
		compare->top = compare->count > rows ? compare->count - rows : 0;
}

static void compare_act(
	void *state, struct context *context, enum action action, struct effect *out)
{
	struct compare *compare = state;
	const int32_t page = list_rows(context->rows);
	if (action == ACTION_UP)
		choose(compare, compare->selected - 1);
	else if (action == ACTION_DOWN)
		choose(compare, compare->selected + 1);
	else if (action == ACTION_PAGE_UP)
		choose(compare, compare->selected - page);
	else if (action == ACTION_PAGE_DOWN)
		choose(compare, compare->selected + page);
	else if (action == ACTION_FIRST)
		choose(compare, 0);
	else if (action == ACTION_LAST)
		choose(compare, compare->count - 1);
	else
		effect_usual(out);
}

static const struct key_row keys[] = {{0, ACTION_NONE, false}};

const struct screen screen_compare = {
	.name = "compare",
	.title = "Two trees",
	.purpose = "what two trees gave, season by season, on one scale",
	.state_size = sizeof(struct compare),
	.least_rows = 15,
	.least_columns = 60,
	.open = compare_open,
	.reread = compare_reread,
	.draw = compare_draw,
	.act = compare_act,
	.keys = keys,
	.settle = compare_settle,
};
