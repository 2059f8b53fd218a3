/* SPDX-License-Identifier: MIT */
/* The season: what each tree gave against its own past, and what may bear on it. */
#include "season.h"

#include <string.h>

#include "core/text.h"

enum { YEAR_FIRST = 1800 };

const struct season_list *season_shown(const struct season_page *state)
{
	return state->one ? &state->seasons : &state->trees;
}

static struct season_list *shown(struct season_page *state)
{
	return state->one ? &state->seasons : &state->trees;
}

/* NULL: nothing is there. */
static const struct season_line *selected(const struct season_page *state)
{
	const struct season_list *list = season_shown(state);
	return list->count > 0 ? &list->lines[list->selected] : NULL;
}

/* --- reading --- */

static void choose(struct season_list *list, int32_t at)
{
	if (at >= list->count)
		at = list->count - 1;
	list->selected = at < 0 ? 0 : at;
}

static void choose_subject(struct season_list *list, const char *id)
{
	for (int32_t i = 0; id[0] != '\0' && i < list->count; i++)
		if (strcmp(list->lines[i].subject.id, id) == 0)
			list->selected = i;
	choose(list, list->selected);
}

static enum status read_yard(struct season_page *state, struct context *context, struct fault *why)
{
	struct season_options options = {.year = state->year};
	enum status status = season_report_make(
		context->session->yard, &options, context->arena, &state->report, why);
	if (status != STATUS_OK)
		return status;
	state->year = known_i32(state->report.year);
	state->trees.lines = state->report.lines;
	state->trees.count = state->report.count;
	return STATUS_OK;
}

/* A spot picked as one has no story of its own but its crops. */
static enum status read_spot(struct season_page *state, struct context *context, struct fault *why)
{
	const struct spot_crop *crop = NULL;
	enum status status = yard_spot_crop(
		context->session->yard, state->subject.id, context->arena, &crop, why);
	if (status != STATUS_OK)
		return status;
	struct season_line *lines =
		arena_array(context->arena, (size_t)crop->season_count + 1, sizeof lines[0]);
	for (int32_t i = 0; i < crop->season_count; i++) {
		lines[i] =
			(struct season_line){.subject = state->subject, .season = crop->seasons[i]};
		text_copy(lines[i].kind_name, sizeof lines[i].kind_name, crop->kind_name);
		season_name(&crop->season_rule, crop->seasons[i].year, lines[i].season_name,
			sizeof lines[i].season_name);
	}
	state->seasons.lines = lines;
	state->seasons.count = crop->season_count;
	return STATUS_OK;
}

static enum status read_one(struct season_page *state, struct context *context, struct fault *why)
{
	struct season_report report;
	struct season_options options = {.tree_id = state->subject.id};
	if (state->subject.kind == SUBJECT_SPOT)
		return read_spot(state, context, why);
	enum status status =
		season_report_make(context->session->yard, &options, context->arena, &report, why);
	state->seasons.lines = report.lines;
	state->seasons.count = report.count;
	if (status == STATUS_OK && report.count > 0)
		state->subject = report.lines[0].subject;
	return status;
}

static enum status season_reread(void *screen, struct context *context, struct fault *why)
{
	struct season_page *state = screen;
	char id[ID_SIZE] = "";
	const struct season_list *trees = &state->trees;
	if (trees->count > 0)
		text_copy(id, sizeof id, trees->lines[trees->selected].subject.id);
	arena_reset(context->arena);
	state->trees.count = 0;
	state->seasons.count = 0;
	state->units = context->session->units;
	enum status status = read_yard(state, context, why);
	if (status == STATUS_OK)
		choose_subject(&state->trees, id);
	if (status == STATUS_OK && state->one)
		status = read_one(state, context, why);
	choose(&state->seasons, state->seasons.selected);
	return status;
}

/* The seasons of the subject, standing at the one that was looked at. */
static enum status open_one(struct season_page *state, struct context *context, struct fault *why)
{
	enum status status = read_one(state, context, why);
	if (status != STATUS_OK)
		return status;
	state->one = true;
	state->seasons.top = 0;
	choose(&state->seasons, state->seasons.count);
	for (int32_t i = 0; i < state->seasons.count; i++)
		if (state->seasons.lines[i].season.year == state->year.value)
			state->seasons.selected = i;
	return STATUS_OK;
}

/* argument: "" or a tree's id, whose seasons are wanted. */
static enum status season_open(
	void *screen, struct context *context, const char *argument, struct fault *why)
{
	struct season_page *state = screen;
	state->units = context->session->units;
	enum status status = read_yard(state, context, why);
	if (status != STATUS_OK || argument[0] == '\0')
		return status;
	state->subject.kind = SUBJECT_TREE;
	text_copy(state->subject.id, sizeof state->subject.id, argument);
	choose_subject(&state->trees, argument);
	return open_one(state, context, why);
}

/* --- acting --- */

static void season_settle(void *screen, struct context *context)
{
	struct season_page *state = screen;
	struct season_list *list = shown(state);
	int rows = season_list_rows(state, context->rows);
	if (list->top > list->selected)
		list->top = list->selected;
	if (list->top < list->selected - rows + 1)
		list->top = list->selected - rows + 1;
	if (list->top > list->count - rows)
		list->top = list->count > rows ? list->count - rows : 0;
}

/* A season that nobody has anything of is gone to all the same, but not past the first such. */
static void change_year(
	struct season_page *state, struct context *context, int32_t by, struct effect *out)
{
	struct fault why;
	int32_t this_year = date_parts(yard_today(context->session->yard)).year;
	int32_t year = state->year.value + by;
	bool empty = state->trees.count == 0;
	if ((by < 0 && (empty || year < YEAR_FIRST)) || (by > 0 && year > this_year + 1)) {
		effect_say(out, by < 0 ? "nothing is kept from before that"
				       : "that season is still to come");
		return;
	}
	state->year = known_i32(year);
	if (season_reread(state, context, &why) != STATUS_OK)
		effect_say(out, "%s", why.text);
}

/* Of one tree: a row up or down is a season; left and right do the same. */
static void other_season(
	struct season_page *state, struct context *context, int32_t by, struct effect *out)
{
	if (state->one)
		choose(&state->seasons, state->seasons.selected + by);
	else
		change_year(state, context, by, out);
}

static void open_selected(struct season_page *state, struct context *context, struct effect *out)
{
	struct fault why;
	const struct season_line *line = selected(state);
	if (line == NULL || state->one)
		return;
	state->subject = line->subject;
	if (open_one(state, context, &why) != STATUS_OK)
		effect_say(out, "%s", why.text);
}

static void push_tree(const struct season_page *state, const char *screen, struct effect *out)
{
	const struct season_line *line = selected(state);
	if (line == NULL)
		return;
	if (line->subject.kind == SUBJECT_TREE)
		effect_push(out, screen, line->subject.id);
	else
		effect_say(out, "%s is a spot picked as one: no tree of it is meant",
			line->subject.label);
}

static bool move(struct season_list *list, enum action action, int rows)
{
	int32_t by = 0;
	if (action == ACTION_UP)
		by = -1;
	else if (action == ACTION_DOWN)
		by = 1;
	else if (action == ACTION_PAGE_UP)
		by = -rows;
	else if (action == ACTION_PAGE_DOWN)
		by = rows;
	else if (action == ACTION_FIRST)
		by = -list->count;
	else if (action == ACTION_LAST)
		by = list->count;
	choose(list, list->selected + by);
	return by != 0 || action == ACTION_FIRST || action == ACTION_LAST;
}

static void season_act(
	void *screen, struct context *context, enum action action, struct effect *out)
{
	struct season_page *state = screen;
	if (move(shown(state), action, season_list_rows(state, context->rows)))
		return;
	if (action == ACTION_EARLIER || action == ACTION_LATER)
		other_season(state, context, action == ACTION_LATER ? 1 : -1, out);
	else if (action == ACTION_NEXT_PART)
		state->totals = !state->totals;
	else if (action == ACTION_OPEN)
		open_selected(state, context, out);
	else if (action == ACTION_TREE)
		push_tree(state, "tree", out);
	else if (action == ACTION_LINE)
		push_tree(state, "walk", out);
	else if (action == ACTION_BACK && state->one)
		state->one = false;
	else
		effect_usual(out);
}

static const struct key_row keys[] = {
	{KEYS_LEFT, ACTION_EARLIER, false},
	{KEYS_RIGHT, ACTION_LATER, false},
	{KEYS_ENTER, ACTION_OPEN, false},
	{'t', ACTION_TREE, false},
	{'l', ACTION_LINE, false},
	{KEYS_TAB, ACTION_NEXT_PART, false},
	{KEYS_ESCAPE, ACTION_BACK, false},
	{0, ACTION_NONE, false},
};

const struct screen screen_season = {
	.name = "season",
	.title = "Season",
	.purpose = "what each tree gave, against its own past; Enter shows all seasons of one",
	.state_size = sizeof(struct season_page),
	.least_rows = 15,
	.least_columns = 60,
	.open = season_open,
	.reread = season_reread,
	.draw = season_draw,
	.act = season_act,
	.keys = keys,
	.settle = season_settle,
};
