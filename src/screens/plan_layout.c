/* SPDX-License-Identifier: MIT */
#include "plan_layout.h"

#include <string.h>

#include "core/text.h"

enum {
	MARGIN_COLUMNS = 3, /* left of the westernmost spot; and north, south: a row */
	LABEL_COLUMNS = 5,  /* right of the easternmost: room for its label */
	EDGE_COLUMNS = 4,
	EDGE_ROWS = 1,
	CORNER_COLUMNS = 2, /* an area's corners stand so far out */
};

/* Rounds down, below zero too. */
static int64_t floor_div(int64_t a, int64_t b)
{
	return a / b - (a % b < 0 ? 1 : 0);
}

/* --- the view --- */

static int64_t cell_of_all(const struct plan_bounds *all, int rows, int columns)
{
	int across = columns - MARGIN_COLUMNS - LABEL_COLUMNS;
	int up = rows - 2;
	across = across < 1 ? 1 : across;
	up = up < 1 ? 1 : up;
	const int64_t width_um = (all->east_um - all->west_um) / across + 1;
	const int64_t height_um = (all->north_um - all->south_um) / up / 2 + 1;
	const int64_t cell_um = width_um > height_um ? width_um : height_um;
	return cell_um < PLAN_CELL_LEAST_UM ? PLAN_CELL_LEAST_UM : cell_um;
}

struct plan_view plan_view_of_all(const struct plan_bounds *all, int rows, int columns)
{
	struct plan_view view = {.rows = rows, .columns = columns};
	const bool one = all->east_um - all->west_um < PLAN_CELL_LEAST_UM &&
			 all->north_um - all->south_um < PLAN_CELL_LEAST_UM;
	view.cell_um = one ? PLAN_CELL_USUAL_UM : cell_of_all(all, rows, columns);
	view.middle = (struct plot_point){
		all->west_um + (all->east_um - all->west_um) / 2 +
			view.cell_um * (LABEL_COLUMNS - MARGIN_COLUMNS) / 2,
		all->south_um + (all->north_um - all->south_um) / 2,
	};
	return view;
}

bool plan_view_zoom(struct plan_view *view, const struct plan_bounds *all, bool closer)
{
	const struct plan_view whole = plan_view_of_all(all, view->rows, view->columns);
	const int64_t before_um = view->cell_um;
	view->cell_um = closer ? before_um * 2 / 3 : before_um * 3 / 2;
	if (view->cell_um < PLAN_CELL_LEAST_UM)
		view->cell_um = PLAN_CELL_LEAST_UM;
	if (!closer && view->cell_um >= whole.cell_um)
		*view = whole;
	return view->cell_um != before_um;
}

/* The north-western corner. */
static struct plot_point corner_of(const struct plan_view *view)
{
	return (struct plot_point){view->middle.east_um - view->cell_um * view->columns / 2,
		view->middle.north_um + view->cell_um * view->rows};
}

struct plan_bounds plan_view_bounds(const struct plan_view *view)
{
	const struct plot_point corner = corner_of(view);
	return (struct plan_bounds){corner.east_um,
		corner.east_um + view->cell_um * view->columns - 1,
		corner.north_um - view->cell_um * 2 * view->rows + 1, corner.north_um};
}

void plan_view_cell(
	const struct plan_view *view, const struct plot_point *at, int64_t *row, int64_t *column)
{
	const struct plot_point corner = corner_of(view);
	*column = floor_div(at->east_um - corner.east_um, view->cell_um);
	*row = floor_div(corner.north_um - at->north_um, 2 * view->cell_um);
}

/* How far the view moves along one side, in cells: 0 while the cell stands clear of the edges. */
static int64_t to_clear(int64_t cell, int cells, int edge)
{
	if (cells <= 2 * edge)
		edge = (cells - 1) / 2;
	if (cell < edge)
		return cell - edge;
	return cell > cells - 1 - edge ? cell - (cells - 1 - edge) : 0;
}

void plan_view_follow(struct plan_view *view, const struct plot_point *at)
{
	int64_t row, column;
	plan_view_cell(view, at, &row, &column);
	view->middle.east_um += to_clear(column, view->columns, EDGE_COLUMNS) * view->cell_um;
	view->middle.north_um -= to_clear(row, view->rows, EDGE_ROWS) * 2 * view->cell_um;
}

/* --- laying out --- */

struct laying {
	const struct plan_view *view;
	struct plan_picture *picture;
};

static struct plan_cell *cell_at(const struct laying *laying, int64_t row, int64_t column)
{
	const struct plan_picture *picture = laying->picture;
	if (row < 0 || row >= picture->rows || column < 0 || column >= picture->columns)
		return NULL;
	return &picture->cells[row * picture->columns + column];
}

/* A crown covers the cells whose middles lie under it. */
static void lay_crown_row(const struct laying *laying, const struct plan_spot *spot, int row)
{
	const struct plan_view *view = laying->view;
	const struct plot_point corner = corner_of(view);
	const int64_t radius_um = spot->radius_um;
	int64_t first = floor_div(spot->at.east_um - radius_um - corner.east_um, view->cell_um);
	int64_t last = floor_div(spot->at.east_um + radius_um - corner.east_um, view->cell_um);
	const double north = (double)(corner.north_um - view->cell_um * (2 * row + 1)) -
			     (double)spot->at.north_um;
	first = first < 0 ? 0 : first;
	last = last >= view->columns ? view->columns - 1 : last;
	for (int64_t column = first; column <= last; column++) {
		struct plan_cell *cell = cell_at(laying, row, column);
		const int64_t half_um = view->cell_um / 2;
		const double east = (double)(corner.east_um + view->cell_um * column + half_um -
					     spot->at.east_um);
		if (east * east + north * north <= (double)radius_um * (double)radius_um)
			cell->part = cell->part == PLAN_BLANK ? PLAN_CROWN : PLAN_CROWNS;
	}
}

static void lay_crowns(const struct laying *laying, const struct plan_scene *scene)
{
	const struct plan_view *view = laying->view;
	for (int32_t i = 0; i < scene->spot_count; i++) {
		const struct plan_spot *spot = &scene->spots[i];
		const struct plot_point top = {
			spot->at.east_um, spot->at.north_um + spot->radius_um};
		const struct plot_point foot = {
			spot->at.east_um, spot->at.north_um - spot->radius_um};
		int64_t first, last, column;
		if (spot->radius_um < view->cell_um / 2)
			continue;
		plan_view_cell(view, &top, &first, &column);
		plan_view_cell(view, &foot, &last, &column);
		first = first < 0 ? 0 : first;
		last = last >= view->rows ? view->rows - 1 : last;
		for (int64_t row = first; row <= last; row++)
			lay_crown_row(laying, spot, (int)row);
	}
}

/* --- lines --- */

/* Cuts the part of a to b that lies between low and high on one side; false: none does. */
static bool clip(double a, double b, double low, double high, double *from, double *to)
{
	if (a >= low && a <= high && b >= low && b <= high)
		return true;
	if ((a < low && b < low) || (a > high && b > high))
		return false;
	const double enters = ((a < b ? low : high) - a) / (b - a);
	const double leaves = ((a < b ? high : low) - a) / (b - a);
	*from = enters > *from ? enters : *from;
	*to = leaves < *to ? leaves : *to;
	return *from <= *to;
}

static void lay_stretch(const struct laying *laying, const struct plot_point *a,
	const struct plot_point *b, enum plan_part part)
{
	const struct plan_view *view = laying->view;
	const struct plan_bounds shown = plan_view_bounds(view);
	const double east = (double)(b->east_um - a->east_um);
	const double north = (double)(b->north_um - a->north_um);
	double from = 0;
	double to = 1;
	if (!clip((double)a->east_um, (double)b->east_um, (double)shown.west_um,
		    (double)shown.east_um, &from, &to) ||
		!clip((double)a->north_um, (double)b->north_um, (double)shown.south_um,
			(double)shown.north_um, &from, &to))
		return;
	const int steps = 2 * (view->columns + view->rows);
	for (int i = 0; i <= steps; i++) {
		const double share = from + (to - from) * i / steps;
		const struct plot_point at = {a->east_um + (int64_t)(east * share),
			a->north_um + (int64_t)(north * share)};
		int64_t row, column;
		plan_view_cell(view, &at, &row, &column);
		struct plan_cell *cell = cell_at(laying, row, column);
		if (cell != NULL && cell->part < part)
			cell->part = (uint8_t)part;
	}
}

static void lay_gate(const struct laying *laying, const struct plot_line *line)
{
	const struct plot_point middle = plot_line_middle(line);
	int64_t row, column;
	plan_view_cell(laying->view, &middle, &row, &column);
	for (int i = 0; i < 2; i++) {
		struct plan_cell *cell = cell_at(laying, row, column + i);
		if (cell != NULL)
			*cell = (struct plan_cell){.part = PLAN_GATED, .sign = "[]"[i]};
	}
}

static void lay_lines(const struct laying *laying, const struct plan_scene *scene)
{
	for (int32_t i = 0; i < scene->line_count; i++) {
		const struct plot_line *line = &scene->lines[i];
		const enum plan_part part = line->kind == PLOT_LINE || line->kind == PLOT_GATE
						    ? PLAN_LINED
						    : PLAN_WALLED;
		for (int32_t p = 0; p + 1 < line->point_count; p++)
			lay_stretch(laying, &line->points[p], &line->points[p + 1], part);
		if (line->point_count == 1)
			lay_stretch(laying, line->points, line->points, part);
		if (line->kind == PLOT_HOUSE && line->point_count > 2)
			lay_stretch(
				laying, &line->points[line->point_count - 1], line->points, part);
	}
	for (int32_t i = 0; i < scene->line_count; i++)
		if (scene->lines[i].kind == PLOT_GATE)
			lay_gate(laying, &scene->lines[i]);
}

/* --- spots --- */

static void lay_first_signs(const struct laying *laying, const struct plan_scene *scene)
{
	for (int32_t i = 0; i < scene->spot_count; i++) {
		const struct plan_spot *spot = &scene->spots[i];
		int64_t row, column;
		plan_view_cell(laying->view, &spot->at, &row, &column);
		struct plan_cell *cell = cell_at(laying, row, column);
		if (cell == NULL)
			continue;
		if (cell->part != PLAN_SIGN) {
			*cell = (struct plan_cell){.part = PLAN_SIGN,
				.sign = spot->signs[0],
				.best = spot->best,
				.rank = spot->rank};
			continue;
		}
		cell->shared = true;
		if (spot->rank > cell->rank)
			*cell = (struct plan_cell){.part = PLAN_SIGN,
				.best = spot->best,
				.rank = spot->rank,
				.shared = true};
		cell->sign = cell->best;
	}
}

static bool is_free(const struct laying *laying, int64_t row, int64_t column, int64_t cells)
{
	for (int64_t i = 0; i < cells; i++) {
		const struct plan_cell *cell = cell_at(laying, row, column + i);
		if (cell == NULL || cell->part > PLAN_LINED)
			return false;
	}
	return true;
}

/* Cells to the right that are free for signs, a blank one kept before what stands there. */
static int room_for_signs(const struct laying *laying, int64_t row, int64_t column)
{
	for (int room = 0; room < PLAN_SIGNS_SIZE; room++) {
		const struct plan_cell *cell = cell_at(laying, row, column + room);
		if (cell == NULL)
			return room;
		if (cell->part > PLAN_LINED)
			return room > 0 ? room - 1 : 0;
	}
	return PLAN_SIGNS_SIZE;
}

/* The other trees of a spot and its grafts; & where there is no room for all. Returns the column
 * behind them. */
static int64_t lay_signs(
	const struct laying *laying, const struct plan_spot *spot, int64_t row, int64_t column)
{
	const int signs = (int)strlen(spot->signs) - 1;
	const int room = room_for_signs(laying, row, column);
	for (int i = 0; i < signs && i < room; i++) {
		const char sign = i == room - 1 && signs > room ? '&' : spot->signs[i + 1];
		*cell_at(laying, row, column + i) =
			(struct plan_cell){.part = PLAN_SIGN, .sign = sign, .rank = spot->rank};
	}
	return column + (signs < room ? signs : room);
}

static void take_label(const struct laying *laying, int64_t row, int64_t column, int cells,
	const char *text, bool is_area)
{
	struct plan_picture *picture = laying->picture;
	for (int i = 0; i < cells; i++)
		cell_at(laying, row, column + i)->part = PLAN_TEXT;
	picture->labels[picture->label_count++] = (struct plan_label){.row = (int)row,
		.column = (int)column,
		.cells = cells,
		.text = text,
		.is_area = is_area};
}

/* Right of its signs alone, so that each label is read with the sign before it; a blank cell on
 * each side. */
static bool lay_text(const struct laying *laying, int64_t row, int64_t behind, const char *text)
{
	const int cells = text_width(text);
	const int64_t after = behind + 1 + cells;
	const int64_t last = after < laying->view->columns ? after + 1 : after;
	if (cells == 0 || !is_free(laying, row, behind, last - behind))
		return false;
	take_label(laying, row, behind + 1, cells, text, false);
	return true;
}

static void lay_spots(const struct laying *laying, const struct plan_scene *scene)
{
	lay_first_signs(laying, scene);
	for (int32_t i = 0; i < scene->spot_count; i++) {
		const struct plan_spot *spot = &scene->spots[i];
		int64_t row, column;
		plan_view_cell(laying->view, &spot->at, &row, &column);
		const struct plan_cell *cell = cell_at(laying, row, column);
		if (cell == NULL || cell->shared)
			continue;
		const int64_t behind = lay_signs(laying, spot, row, column + 1);
		for (int t = 0; t < 2; t++)
			if (spot->text[t] != NULL && lay_text(laying, row, behind, spot->text[t]))
				break;
	}
}

/* --- houses and areas --- */

/* A house's name in its middle. */
static void lay_house_name(const struct laying *laying, const struct plot_line *line)
{
	const struct plot_point middle = plot_line_middle(line);
	const int cells = text_width(line->name);
	int64_t row, column;
	plan_view_cell(laying->view, &middle, &row, &column);
	column -= cells / 2;
	if (cells > 0 && is_free(laying, row, column, cells))
		take_label(laying, row, column, cells, line->name, true);
}

static void lay_area(const struct laying *laying, const struct plan_area *area)
{
	const struct plot_point north_west = {area->bounds.west_um, area->bounds.north_um};
	const struct plot_point south_east = {area->bounds.east_um, area->bounds.south_um};
	int64_t top, left, foot, right;
	plan_view_cell(laying->view, &north_west, &top, &left);
	plan_view_cell(laying->view, &south_east, &foot, &right);
	top--, foot++, left -= CORNER_COLUMNS, right += CORNER_COLUMNS;
	for (int i = 0; i < 4; i++) {
		struct plan_cell *cell =
			cell_at(laying, i < 2 ? top : foot, i % 2 == 0 ? left : right);
		if (cell != NULL && cell->part < PLAN_CORNER)
			*cell = (struct plan_cell){.part = PLAN_CORNER, .sign = (char)('0' + i)};
	}
	const int cells = text_width(area->name);
	const int64_t row = top < 0 ? 0 : top;
	const int64_t column = left < 0 ? 0 : left + 1;
	if (cells > 0 && is_free(laying, row, column, cells))
		take_label(laying, row, column, cells, area->name, true);
}

void plan_lay_out(const struct plan_scene *scene, const struct plan_view *view, struct arena *arena,
	struct plan_picture *out)
{
	const struct laying laying = {.view = view, .picture = out};
	*out = (struct plan_picture){.rows = view->rows, .columns = view->columns};
	out->cells = arena_array(
		arena, (size_t)view->rows * (size_t)view->columns + 1, sizeof out->cells[0]);
	out->labels = arena_array(arena, (size_t)scene->spot_count + (size_t)scene->area_count + 1,
		sizeof out->labels[0]);
	lay_crowns(&laying, scene);
	lay_lines(&laying, scene);
	lay_spots(&laying, scene);
	for (int32_t i = 0; i < scene->line_count; i++)
		if (scene->lines[i].kind == PLOT_HOUSE)
			lay_house_name(&laying, &scene->lines[i]);
	for (int32_t i = 0; i < scene->area_count; i++)
		lay_area(&laying, &scene->areas[i]);
}

const char *plan_cell_text(const struct plan_cell *cell, bool ascii, char out[PLAN_CELL_SIZE])
{
	static const char *const corners[] = {"┌", "┐", "└", "┘"};
	static const char *const signs[] = {[PLAN_BLANK] = " ",
		[PLAN_CROWN] = "░",
		[PLAN_CROWNS] = "▒",
		[PLAN_LINED] = "┄",
		[PLAN_WALLED] = "█",
		[PLAN_TEXT] = " "};
	static const char plain[] = {[PLAN_BLANK] = ' ',
		[PLAN_CROWN] = '.',
		[PLAN_CROWNS] = ':',
		[PLAN_CORNER] = ',',
		[PLAN_LINED] = '-',
		[PLAN_WALLED] = '#',
		[PLAN_TEXT] = ' '};
	out[1] = '\0';
	if (cell->part == PLAN_SIGN || cell->part == PLAN_GATED)
		out[0] = cell->sign;
	else if (ascii)
		out[0] = plain[cell->part];
	else
		(void)text_copy(out, PLAN_CELL_SIZE,
			cell->part == PLAN_CORNER ? corners[cell->sign - '0'] : signs[cell->part]);
	return out;
}

int64_t plan_scale_um(int64_t cell_um, bool feet, int most, int *cells)
{
	const int64_t unit_um = feet ? 304800 : 1000000;
	int64_t best_um = 0;
	for (int64_t ten_um = unit_um; ten_um / cell_um < most; ten_um *= 10)
		for (int step = 1; step <= 5; step += step == 1 ? 1 : 3)
			if (ten_um * step / cell_um <= most)
				best_um = ten_um * step;
	*cells = (int)((best_um + cell_um / 2) / cell_um);
	return best_um;
}
