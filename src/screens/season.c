/* SPDX-License-Identifier: MIT */
/* The season: what each tree gave against its own past, and what may bear on it. */
#include "season.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"

const struct season_list *season_shown(const struct season_page *page)
{
	return page->one ? &page->seasons : &page->trees;
}

static struct season_list *shown(struct season_page *page)
{
	return page->one ? &page->seasons : &page->trees;
}

/* NULL: nothing is there. */
static const struct season_line *selected(const struct season_page *page)
{
	const struct season_list *list = season_shown(page);
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

static enum status read_yard(struct season_page *page, struct context *context, struct fault *why)
{
	/* what may bear on a crop is shown of one: it is read when its line is chosen */
	struct season_options options = {.year = page->year, .depth = SEASON_FIGURES};
	enum status status = season_report_make(
		context->session->yard, &options, context->arena, &page->report, why);
	if (status != STATUS_OK)
		return status;
	page->year = known_i32(page->report.year);
	page->trees.lines = page->report.lines;
	page->trees.count = page->report.count;
	return STATUS_OK;
}

/* A spot picked as one has no story of its own but its crops. */
static enum status read_spot(struct season_page *page, struct context *context, struct fault *why)
{
	const struct spot_crop *crop = NULL;
	enum status status = yard_spot_crop(
		context->session->yard, page->subject.id, context->arena, &crop, why);
	if (status != STATUS_OK)
		return status;
	struct season_line *lines =
		arena_array(context->arena, (size_t)crop->season_count + 1, sizeof lines[0]);
	for (int32_t i = 0; i < crop->season_count; i++) {
		lines[i] =
			(struct season_line){.subject = page->subject, .season = crop->seasons[i]};
		text_copy(lines[i].kind_name, sizeof lines[i].kind_name, crop->kind_name);
		season_name(&crop->season_rule, crop->seasons[i].year, lines[i].season_name,
			sizeof lines[i].season_name);
	}
	page->seasons.lines = lines;
	page->seasons.count = crop->season_count;
	return STATUS_OK;
}

static enum status read_one(struct season_page *page, struct context *context, struct fault *why)
{
	struct season_report report;
	struct season_options options = {.tree_id = page->subject.id};
	if (page->subject.kind == SUBJECT_SPOT)
		return read_spot(page, context, why);
	enum status status =
		season_report_make(context->session->yard, &options, context->arena, &report, why);
	page->seasons.lines = report.lines;
	page->seasons.count = report.count;
	if (status == STATUS_OK && report.count > 0)
		page->subject = report.lines[0].subject;
	return status;
}

static enum status season_reread(void *screen, struct context *context, struct fault *why)
{
	struct season_page *page = screen;
	char id[ID_SIZE] = "";
	const struct season_list *trees = &page->trees;
	if (trees->count > 0)
		text_copy(id, sizeof id, trees->lines[trees->selected].subject.id);
	arena_reset(context->arena);
	page->trees.count = 0;
	page->seasons.count = 0;
	page->units = context->session->units;
	enum status status = read_yard(page, context, why);
	if (status == STATUS_OK)
		choose_subject(&page->trees, id);
	if (status == STATUS_OK && page->one)
		status = read_one(page, context, why);
	choose(&page->seasons, page->seasons.selected);
	return status;
}

/* The seasons of the subject, standing at the one that was looked at. */
static enum status open_one(struct season_page *page, struct context *context, struct fault *why)
{
	enum status status = read_one(page, context, why);
	if (status != STATUS_OK)
		return status;
	page->one = true;
	page->seasons.top = 0;
	choose(&page->seasons, page->seasons.count);
	for (int32_t i = 0; i < page->seasons.count; i++)
		if (page->seasons.lines[i].season.year == page->year.value)
			page->seasons.selected = i;
	return STATUS_OK;
}

/* argument: "" or a tree's id, whose seasons are wanted. */
static enum status season_open(
	void *screen, struct context *context, const char *argument, struct fault *why)
{
	struct season_page *page = screen;
	page->units = context->session->units;
	enum status status = read_yard(page, context, why);
	if (status != STATUS_OK || argument[0] == '\0')
		return status;
	page->subject.kind = SUBJECT_TREE;
	text_copy(page->subject.id, sizeof page->subject.id, argument);
	choose_subject(&page->trees, argument);
	return open_one(page, context, why);
}

/* --- acting --- */

/* Where it cannot be read, the line stands without. */
static void complete_selected(struct season_page *page, struct context *context)
{
	struct season_report *report = &page->report;
	if (page->one || page->trees.count == 0)
		return;
	if (season_line_complete(context->session->yard, &report->lines[page->trees.selected],
		    context->arena, NULL) != STATUS_OK)
		report->lines[page->trees.selected].candidate_count = 0;
}

static void season_settle(void *screen, struct context *context)
{
	struct season_page *page = screen;
	struct season_list *list = shown(page);
	int rows = season_list_rows(page, context->rows);
	complete_selected(page, context);
	if (list->top > list->selected)
		list->top = list->selected;
	if (list->top < list->selected - rows + 1)
		list->top = list->selected - rows + 1;
	if (list->top > list->count - rows)
		list->top = list->count > rows ? list->count - rows : 0;
}

static enum status look_for_first(void *owner, const struct dossier *dossier, struct fault *why)
{
	struct maybe_i32 *first = owner;
	(void)why;
	for (int32_t i = 0; i < dossier->season_count; i++) {
		const struct season *season = &dossier->seasons[i];
		bool has_record = season->picks > 0 || season->lost.parts > 0;
		if (has_record && (!first->known || season->year < first->value))
			*first = known_i32(season->year);
	}
	return STATUS_OK;
}

/* Where there is nothing any more: before the first pick of the yard, after the season to come. */
static enum status check_year(
	struct season_page *page, struct yard *yard, int32_t year, struct fault *why)
{
	static const struct kind_set crop_kinds = {KIND_BIT(KIND_PICK) | KIND_BIT(KIND_LOSS)};
	struct yard_visitor visitor = {.owner = &page->first_year,
		.visit = look_for_first,
		.alone = true,
		.kinds = &crop_kinds};
	enum status status = STATUS_OK;
	if (year > date_parts(yard_today(yard)).year + 1)
		return fault_set(why, STATUS_RANGE, "that season is still to come");
	if (year > page->year.value)
		return STATUS_OK;
	if (!page->first_year.known)
		status = yard_each(yard, true, &visitor, why);
	if (status == STATUS_OK && (!page->first_year.known || year < page->first_year.value))
		return fault_set(why, STATUS_RANGE, "nothing was picked before that");
	return status;
}

static void change_year(
	struct season_page *page, struct context *context, int32_t by, struct effect *out)
{
	struct fault why;
	int32_t year = page->year.value + by;
	enum status status = check_year(page, context->session->yard, year, &why);
	if (status == STATUS_OK) {
		page->year = known_i32(year);
		status = season_reread(page, context, &why);
	}
	if (status != STATUS_OK)
		effect_say(out, "%s", why.text);
}

/* Of one tree: a row up or down is a season; left and right do the same. */
static void other_season(
	struct season_page *page, struct context *context, int32_t by, struct effect *out)
{
	if (page->one)
		choose(&page->seasons, page->seasons.selected + by);
	else
		change_year(page, context, by, out);
}

static void open_selected(struct season_page *page, struct context *context, struct effect *out)
{
	struct fault why;
	const struct season_line *line = selected(page);
	if (line == NULL || page->one)
		return;
	page->subject = line->subject;
	if (open_one(page, context, &why) != STATUS_OK)
		effect_say(out, "%s", why.text);
}

static void push_tree(const struct season_page *page, const char *screen, struct effect *out)
{
	const struct season_line *line = selected(page);
	if (line == NULL)
		return;
	if (line->subject.kind == SUBJECT_TREE)
		effect_push(out, screen, line->subject.id);
	else
		effect_say(out, "%s is a spot picked as one: no tree of it is meant",
			line->subject.label);
}

/* The first press marks a tree, the next on another one shows both. */
static void compare(struct season_page *page, struct effect *out)
{
	const struct season_line *line = selected(page);
	char both[2 * ID_SIZE + 1];
	if (line == NULL)
		return;
	if (line->subject.kind != SUBJECT_TREE) {
		effect_say(
			out, "%s is a spot picked as one: trees are compared", line->subject.label);
	} else if (page->marked.id[0] == '\0' || strcmp(page->marked.id, line->subject.id) == 0) {
		page->marked = line->subject;
		effect_say(out, "%s is marked: c on another tree shows the two side by side",
			line->subject.label);
	} else {
		(void)snprintf(both, sizeof both, "%s\t%s", page->marked.id, line->subject.id);
		effect_push(out, "compare", both);
		page->marked.id[0] = '\0';
	}
}

/* The seasons of the tree that is shown, or the season. */
static void push_export(const struct season_page *page, struct effect *out)
{
	char argument[ID_SIZE + 32];
	if (page->one && page->subject.kind == SUBJECT_TREE)
		(void)snprintf(argument, sizeof argument, "season\t\t%s", page->subject.id);
	else if (page->year.known)
		(void)snprintf(argument, sizeof argument, "season\t%d", (int)page->year.value);
	else
		(void)snprintf(argument, sizeof argument, "season");
	effect_push(out, "export", argument);
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
	struct season_page *page = screen;
	if (move(shown(page), action, season_list_rows(page, context->rows)))
		return;
	if (action == ACTION_EARLIER || action == ACTION_LATER)
		other_season(page, context, action == ACTION_LATER ? 1 : -1, out);
	else if (action == ACTION_NEXT_PART)
		page->totals = !page->totals;
	else if (action == ACTION_OPEN)
		open_selected(page, context, out);
	else if (action == ACTION_TREE)
		push_tree(page, "tree", out);
	else if (action == ACTION_LINE)
		push_tree(page, "walk", out);
	else if (action == ACTION_COMPARE)
		compare(page, out);
	else if (action == ACTION_FIGURES)
		effect_push(out, "figures", "");
	else if (action == ACTION_EXPORT)
		push_export(page, out);
	else if (action == ACTION_BACK && page->one)
		page->one = false;
	else
		effect_usual(out);
}

static const struct key_row keys[] = {
	{KEYS_LEFT, ACTION_EARLIER, false},
	{KEYS_RIGHT, ACTION_LATER, false},
	{KEYS_ENTER, ACTION_OPEN, false},
	{'t', ACTION_TREE, false},
	{'l', ACTION_LINE, false},
	{'c', ACTION_COMPARE, false},
	{'f', ACTION_FIGURES, false},
	{KEYS_TAB, ACTION_NEXT_PART, false},
	{'X', ACTION_EXPORT, false},
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
