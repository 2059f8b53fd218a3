/* SPDX-License-Identifier: MIT */
/* The plan's screen: the picture put on paper, its key, the words beside it, and the list. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "field.h"
#include "plan.h"

enum {
	WIDE = 76,      /* from here on the words stand beside however high the screen is */
	LOW = 16,       /* and below this many rows however narrow */
	SCALE_MOST = 9, /* cells of the scale */
	CELLS_MOST = 500,
};

/* --- where things stand --- */

struct plan_frame plan_frame_of(int rows, int columns)
{
	struct plan_frame frame = {.words_row = 1};
	const int keys = rows >= 18 ? 2 : 1;
	frame.key_row = rows - keys;
	if (columns >= WIDE || rows < LOW) {
		frame.words_cells = columns >= 110 ? 42 : columns >= WIDE ? 29 : 24;
		frame.words_column = columns - frame.words_cells;
		frame.words_rows = rows - 1 - keys;
		frame.map_columns = columns - frame.words_cells - 1;
		frame.map_rows = rows - 1 - keys;
	} else {
		frame.words_rows = rows / 3;
		frame.words_cells = columns;
		frame.map_columns = columns;
		frame.map_rows = rows - 1 - keys - frame.words_rows;
		frame.key_row = 1 + frame.map_rows;
		frame.words_row = frame.key_row + keys;
	}
	frame.map_columns = frame.map_columns > CELLS_MOST ? CELLS_MOST : frame.map_columns;
	return frame;
}

int32_t plan_list_rows(int rows)
{
	const int left = rows - 2;
	return left < 1 ? 1 : left;
}

/* --- laying out --- */

/* The place of a tree's sign among those of its spot: trees, then + and the grafts. */
static int sign_place(const struct plan_screen *plan, const struct plot_spot *spot, int32_t tree)
{
	const struct plot_tree *trees = plan->plot->trees;
	const bool graft = trees[tree].who->host_id[0] != '\0';
	int place = graft ? 1 : 0;
	for (int32_t i = spot->first; i < spot->first + spot->count; i++) {
		const bool other = trees[i].who->host_id[0] != '\0';
		if (graft ? !other || i < tree : !other && i < tree)
			place++;
	}
	return place;
}

static void set_signs(
	const struct plan_screen *plan, const struct plot_spot *spot, struct plan_spot *out)
{
	int grafts = 0;
	if (spot->count == 0)
		out->signs[0] = out->best = '_';
	for (int32_t i = spot->first; i < spot->first + spot->count; i++) {
		const struct plot_tree *tree = &plan->plot->trees[i];
		const char sign = plan_layer_sign(plan, i);
		const int place = sign_place(plan, spot, i);
		const int rank = plan_layer_rank(plan->layer, sign);
		grafts += tree->who->host_id[0] != '\0' ? 1 : 0;
		if (place < PLAN_SIGNS_SIZE - 1)
			out->signs[place] = sign;
		if (out->best == 0 || rank > out->rank) {
			out->best = sign;
			out->rank = rank;
		}
		if (tree->spread_um.known && tree->spread_um.value / 2 > out->radius_um)
			out->radius_um = tree->spread_um.value / 2;
	}
	const int plus = spot->count - grafts;
	if (grafts > 0 && plus < PLAN_SIGNS_SIZE - 1)
		out->signs[plus] = '+';
}

/* Of two trees in one spot the spot's name; without the figure where both have no room. */
static void set_text(
	const struct plan_screen *plan, const struct plot_spot *spot, struct plan_spot *out)
{
	const struct plot_tree *trees = plan->plot->trees;
	const bool several = spot->count > 1 && trees[spot->first + 1].who->host_id[0] == '\0';
	const char *label =
		several || spot->count == 0 ? spot->spot->name : trees[spot->first].who->label;
	char figure[40] = "";
	if (spot->count > 0 && !several)
		(void)plan_layer_figure(plan, spot->first, figure, sizeof figure);
	out->text[0] = label;
	if (figure[0] == '\0')
		return;
	out->text[0] = arena_format(plan->drawn, "%s %s", label, figure);
	out->text[1] = label;
}

static void find_shown(struct plan_screen *plan)
{
	struct plan_bounds bounds = plan_view_bounds(&plan->view);
	const struct plan_item *item = plan_selected(plan);
	bounds.west_um -= plan->widest_um;
	bounds.east_um += plan->widest_um;
	bounds.south_um -= plan->widest_um;
	bounds.north_um += plan->widest_um;
	plan->shown = arena_array(plan->drawn, (size_t)plan->near.count + 1, sizeof plan->shown[0]);
	plan->shown_count = plan_near_within(&plan->near, &bounds, plan->shown, plan->near.count);
	for (int32_t i = 0; i < plan->shown_count; i++) {
		const int32_t spot = plan->spot_of_point[plan->shown[i]];
		plan->shown[i] = spot;
		if (item != NULL && spot == item->spot) { /* its label is given room first */
			plan->shown[i] = plan->shown[0];
			plan->shown[0] = spot;
		}
	}
}

static void add_key(struct text_builder *key, const char *sign, const char *meaning)
{
	if (meaning[0] != '\0')
		text_add_format(key, "  %s %s", sign, meaning);
}

static void note_seen(const struct plan_picture *picture, bool signs[128], bool parts[16])
{
	for (int i = 0; i < picture->rows * picture->columns; i++) {
		const struct plan_cell *cell = &picture->cells[i];
		parts[cell->part] = true;
		if (cell->part == PLAN_SIGN)
			signs[(unsigned char)cell->sign & 127] = true;
	}
}

/* The scale, then each sign that is there. */
static void make_key(struct plan_screen *plan, bool ascii)
{
	static const struct {
		enum plan_part part;
		const char *meaning;
	} marks[] = {{PLAN_CROWN, "crown"}, {PLAN_CROWNS, "crowns meet"},
		{PLAN_WALLED, "wall, house"}, {PLAN_LINED, "line"}, {PLAN_CORNER, "area"}};
	bool signs[128] = {false};
	bool parts[16] = {false};
	bool digits = false;
	char text[PLAN_CELL_SIZE], length[24];
	int cells;
	const int64_t scale_um =
		plan_scale_um(plan->view.cell_um, plan->units == UNITS_US, SCALE_MOST, &cells);
	struct text_builder key = text_builder_fixed(plan->key, sizeof plan->key);
	char day[24];
	if (plan->years_back > 0)
		text_add_format(&key, "as on %s: ", date_format_plain(plan->day, day, sizeof day));
	text_add(&key, ascii ? "N^ " : "N▲ ");
	if (scale_um > 0) {
		for (int i = 0; i < cells; i++)
			text_add(&key, i == 0 || i == cells - 1 ? "|" : ascii ? "-" : "─");
		text_add_format(&key, " %s",
			length_format(scale_um, plan->units, length, (int)sizeof length));
	}
	note_seen(&plan->picture, signs, parts);
	for (const char *sign = plan_layer_signs(plan->layer); *sign != '\0'; sign++) {
		const bool digit = *sign >= '0' && *sign <= '9';
		if (!signs[(unsigned char)*sign] || (digit && digits))
			continue;
		digits = digits || digit;
		add_key(&key, digit ? "0-9" : (char[]){*sign, '\0'},
			plan_sign_meaning(plan->layer, *sign));
	}
	for (const char *sign = "&~_"; *sign != '\0'; sign++)
		if (signs[(unsigned char)*sign])
			add_key(&key, (char[]){*sign, '\0'}, plan_sign_meaning(plan->layer, *sign));
	if (signs['+'])
		add_key(&key, "+", "grafts");
	for (size_t i = 0; i < sizeof marks / sizeof marks[0]; i++)
		if (parts[marks[i].part])
			add_key(&key,
				plan_cell_text(&(struct plan_cell){.part = (uint8_t)marks[i].part,
						       .sign = '0'},
					ascii, text),
				marks[i].meaning);
	if (parts[PLAN_GATED])
		add_key(&key, "[]", "gate");
}

void plan_compose(struct plan_screen *plan, bool ascii)
{
	const int32_t room = plan->view.rows * plan->view.columns;
	arena_reset(plan->drawn);
	find_shown(plan);
	struct plan_spot *spots =
		arena_array(plan->drawn, (size_t)plan->shown_count + 1, sizeof *spots);
	for (int32_t i = 0; i < plan->shown_count; i++) {
		const struct plot_spot *spot = &plan->plot->spots[plan->shown[i]];
		spots[i].at = spot->at;
		set_signs(plan, spot, &spots[i]);
		if (i == 0 || plan->shown_count < room / 4)
			set_text(plan, spot, &spots[i]);
	}
	const struct plan_scene scene = {.spots = spots,
		.spot_count = plan->shown_count,
		.lines = plan->plot->lines,
		.line_count = plan->plot->line_count,
		.areas = plan->areas,
		.area_count = plan->area_count};
	plan_lay_out(&scene, &plan->view, plan->drawn, &plan->picture);
	make_key(plan, ascii);
}

/* --- the picture --- */

static enum style style_of(const struct plan_screen *plan, const struct plan_cell *cell)
{
	switch ((enum plan_part)cell->part) {
	case PLAN_SIGN:
		return plan_sign_style(plan->layer, cell->sign);
	case PLAN_GATED:
		return STYLE_STRONG;
	case PLAN_BLANK:
	case PLAN_TEXT:
	case PLAN_WALLED:
		return STYLE_PLAIN;
	case PLAN_CROWN:
	case PLAN_CROWNS:
	case PLAN_CORNER:
	case PLAN_LINED:
		return STYLE_FAINT;
	}
	return STYLE_PLAIN;
}

/* Cells of one style at a time. */
static void draw_cells(
	const struct plan_screen *plan, struct paper *paper, int row, const struct plan_cell *cells)
{
	char text[CELLS_MOST * PLAN_CELL_SIZE], one[PLAN_CELL_SIZE];
	const int columns = plan->picture.columns;
	for (int at = 0; at < columns;) {
		struct text_builder run = text_builder_fixed(text, sizeof text);
		const enum style style = style_of(plan, &cells[at]);
		const int from = at;
		for (; at < columns && style_of(plan, &cells[at]) == style; at++)
			text_add(&run, plan_cell_text(&cells[at], paper_ascii(paper), one));
		(void)paper_put(paper, row, from, at - from, style, text);
	}
}

static void draw_cursor(const struct plan_screen *plan, struct paper *paper)
{
	const struct plan_item *item = plan_selected(plan);
	const struct plot_spot *spot = plan_spot_at(plan, item);
	int64_t row, column;
	if (spot == NULL || !spot->placed)
		return;
	plan_view_cell(&plan->view, &spot->at, &row, &column);
	if (row < 0 || row >= plan->picture.rows || column < 0 || column >= plan->picture.columns)
		return;
	const struct plan_cell *cells = &plan->picture.cells[row * plan->picture.columns];
	if (!cells[column].shared && item->tree >= 0) {
		/* signs of one spot stand together, a blank before the next */
		const int64_t place = column + sign_place(plan, spot, item->tree);
		while (column < place && column + 1 < plan->picture.columns &&
			cells[column + 1].part == PLAN_SIGN)
			column++;
	}
	if (column > 0 && cells[column - 1].part < PLAN_WALLED)
		(void)paper_put(paper, 1 + (int)row, (int)column - 1, 1, STYLE_SELECTED, ">");
	paper_select(paper, 1 + (int)row, (int)column, 1);
}

static void draw_picture(const struct plan_screen *plan, struct paper *paper)
{
	const struct plan_picture *picture = &plan->picture;
	for (int row = 0; row < picture->rows; row++)
		draw_cells(plan, paper, 1 + row, &picture->cells[row * picture->columns]);
	for (int32_t i = 0; i < picture->label_count; i++) {
		const struct plan_label *label = &picture->labels[i];
		(void)paper_put(paper, 1 + label->row, label->column, label->cells,
			label->is_area ? STYLE_FAINT : STYLE_PLAIN, label->text);
	}
	draw_cursor(plan, paper);
}

static void draw_words(
	const struct plan_screen *plan, struct paper *paper, const struct plan_frame *frame)
{
	struct plan_words words;
	struct arena *arena = arena_new();
	int row = frame->words_row;
	int last = frame->words_row + frame->words_rows;
	const struct plot_spot *spot = plan_spot_at(plan, plan_selected(plan));
	plan_words_make(plan, arena, &words);
	if (plan->unplaced > 0) {
		last--;
		(void)paper_format(paper, last, frame->words_column, frame->words_cells,
			STYLE_FAINT, "%d not drawn: Tab lists them", (int)plan->unplaced);
	}
	for (int32_t i = 0; i < words.count && row < last; i++) {
		const int few = frame->words_rows > 12 ? 5 : 3;
		const bool cut = words.lines[i].is_long && last - row > few;
		row += paper_wrap(paper, row, frame->words_column, frame->words_cells,
			cut ? few : last - row, words.lines[i].style, words.lines[i].text);
	}
	if (spot == NULL || !spot->placed)
		paper_cursor(paper, frame->words_row, frame->words_column);
	arena_free(arena);
}

/* --- the list --- */

struct columns {
	int label, kind, says, spot, crown;
};

static struct columns columns_of(int width)
{
	if (width >= 110)
		return (struct columns){2, 24, 48, 82, 108};
	if (width >= WIDE)
		return (struct columns){2, 15, 31, 56, 72};
	return (struct columns){2, 13, 25, 43, 54};
}

static void draw_item(const struct plan_screen *plan, struct paper *paper, int row, int32_t place)
{
	const struct columns at = columns_of(paper_columns(paper));
	const struct plan_item *item = &plan->items[place];
	const struct plot_tree *tree = plan_tree(plan, item);
	const struct plot_spot *spot = plan_spot_at(plan, item);
	char said[120] = "nothing stands here", across[24];
	const char *where = spot == NULL                         ? "in no spot"
			    : spot->spot->kind == SPOT_OFF_PLACE ? "elsewhere"
			    : !spot->placed                      ? "not placed"
								 : spot->spot->name;
	const bool graft = tree != NULL && tree->who->host_id[0] != '\0';
	const char *name = tree != NULL ? tree->who->label : spot != NULL ? spot->spot->name : "";
	if (tree != NULL)
		(void)plan_layer_words(plan, item->tree, said, sizeof said);
	(void)paper_format(paper, row, at.label, at.kind - at.label - 1, STYLE_STRONG, "%s%s",
		graft ? "+ " : "", name);
	if (tree != NULL)
		(void)paper_put(paper, row, at.kind, at.says - at.kind - 1, STYLE_PLAIN,
			tree->who->kind.name);
	(void)paper_put(paper, row, at.says, at.spot - at.says - 1,
		tree == NULL ? STYLE_FAINT
			     : plan_sign_style(plan->layer, plan_layer_sign(plan, item->tree)),
		said);
	(void)paper_put(paper, row, at.spot, at.crown - at.spot - 1, STYLE_PLAIN, where);
	if (tree != NULL && tree->spread_um.known)
		(void)paper_put(paper, row, at.crown, 0, STYLE_PLAIN,
			length_format(
				tree->spread_um.value, plan->units, across, (int)sizeof across));
}

static void draw_list(const struct plan_screen *plan, struct paper *paper)
{
	static const char *const says[] = {
		"flag", "its year now", "as partner", "sun, longest day", "last season"};
	const struct columns at = columns_of(paper_columns(paper));
	const int32_t rows = plan_list_rows(paper_rows(paper));
	(void)paper_put(paper, 1, at.label, 0, STYLE_FAINT, "tree");
	(void)paper_put(paper, 1, at.kind, 0, STYLE_FAINT, "kind");
	(void)paper_put(paper, 1, at.says, 0, STYLE_FAINT, says[plan->layer]);
	(void)paper_put(paper, 1, at.spot, 0, STYLE_FAINT, "spot");
	(void)paper_put(paper, 1, at.crown, 0, STYLE_FAINT, "crown");
	for (int32_t i = 0; i < rows && plan->top + i < plan->item_count; i++) {
		draw_item(plan, paper, 2 + (int)i, plan->top + i);
		if (plan->top + i == plan->selected)
			paper_select(paper, 2 + (int)i, 0, 0);
	}
	if (plan->item_count == 0)
		(void)paper_put(paper, 2, 2, 0, STYLE_PLAIN, "no spots and no trees yet");
}

/* --- all of it --- */

static void draw_tabs(const struct plan_screen *plan, struct paper *paper)
{
	int column = 0;
	for (int i = 0; i < LAYER_TOTAL; i++) {
		const bool on = i == (int)plan->layer;
		const char *name = action_row((enum action)(ACTION_FLAGS_LAYER + i))->name;
		column = paper_format(paper, 0, column, 0, on ? STYLE_STRONG : STYLE_FAINT,
			on ? "[%d %s]" : " %d %s ", i + 1, name);
	}
}

void plan_draw(const void *screen, struct paper *paper)
{
	const struct plan_screen *plan = screen;
	const int rows = paper_rows(paper);
	const struct plan_frame frame = plan_frame_of(rows, paper_columns(paper));
	draw_tabs(plan, paper);
	if (plan->fault.text[0] != '\0')
		(void)paper_wrap(paper, 2, 2, 0, 3, STYLE_STRONG, plan->fault.text);
	else if (plan->as_list)
		draw_list(plan, paper);
	else {
		draw_picture(plan, paper);
		draw_words(plan, paper, &frame);
		(void)paper_wrap(
			paper, frame.key_row, 0, 0, rows >= 18 ? 2 : 1, STYLE_FAINT, plan->key);
	}
	if (!plan->finding)
		return;
	const int column = paper_put(paper, rows - 1, 0, 0, STYLE_PLAIN, "find: ");
	field_draw(paper, rows - 1, column, 0, &plan->find, true);
}
