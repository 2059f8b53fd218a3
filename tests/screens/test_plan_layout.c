/* SPDX-License-Identifier: MIT */
/* The yard from above as cells: scale, north, both ends of the zoom, crowns that meet, labels. */
#include "screens/plan_layout.h"
#include "support/test.h"

#include <string.h>

#define METRE INT64_C(1000000)

enum { PICTURE_SIZE = 8000 };

struct drawing {
	struct arena *arena;
	struct plan_picture picture;
	char text[PICTURE_SIZE]; /* the picture in ASCII, a line a row, blanks at the end cut */
};

static void draw(
	struct drawing *drawing, const struct plan_scene *scene, const struct plan_view *view)
{
	char cell[PLAN_CELL_SIZE];
	size_t length = 0;
	drawing->arena = arena_new();
	plan_lay_out(scene, view, drawing->arena, &drawing->picture);
	const struct plan_picture *picture = &drawing->picture;
	assert_true((size_t)(view->rows * (view->columns + 1)) < sizeof drawing->text);
	for (int row = 0; row < picture->rows; row++) {
		const size_t start = length;
		for (int column = 0; column < picture->columns; column++)
			drawing->text[length++] = plan_cell_text(
				&picture->cells[row * picture->columns + column], true, cell)[0];
		for (int32_t i = 0; i < picture->label_count; i++)
			if (picture->labels[i].row == row)
				memcpy(&drawing->text[start + (size_t)picture->labels[i].column],
					picture->labels[i].text, (size_t)picture->labels[i].cells);
		while (length > start && drawing->text[length - 1] == ' ')
			length--;
		drawing->text[length++] = '\n';
	}
	drawing->text[length] = '\0';
}

static struct plan_spot spot_at(int64_t east_m, int64_t north_m, const char *label)
{
	struct plan_spot spot = {
		.at = {east_m * METRE, north_m * METRE}, .best = 'o', .text = {label, NULL}};
	spot.signs[0] = 'o';
	return spot;
}

static struct plan_bounds bounds_of(const struct plan_spot *spots, int32_t count)
{
	struct plan_bounds all = plan_bounds_of(&spots[0].at);
	for (int32_t i = 1; i < count; i++)
		plan_bounds_widen(&all, &spots[i].at);
	return all;
}

static struct plan_view view_of(int64_t east_m, int64_t north_m, int64_t cell_um)
{
	return (struct plan_view){.middle = {east_m * METRE, north_m * METRE},
		.cell_um = cell_um,
		.rows = 9,
		.columns = 30};
}

static void north_is_up_and_a_row_is_twice_a_column(void **state)
{
	(void)state;
	const struct plan_view view = view_of(0, 0, METRE);
	const struct plot_point points[] = {
		{0, 0}, {4 * METRE, 0}, {0, 4 * METRE}, {-4 * METRE, 0}, {0, -4 * METRE}};
	static const int rows[] = {4, 4, 2, 4, 6};
	static const int columns[] = {15, 19, 15, 11, 15};
	for (size_t i = 0; i < sizeof points / sizeof points[0]; i++) {
		int64_t row, column;
		plan_view_cell(&view, &points[i], &row, &column);
		check_int(row, rows[i], "row");
		check_int(column, columns[i], "column");
	}
	const struct plan_bounds shown = plan_view_bounds(&view);
	check_int(shown.east_um - shown.west_um + 1, 30 * METRE, "across");
	check_int(shown.north_um - shown.south_um + 1, 18 * METRE, "up");
}

static void a_crown_is_round_and_two_that_meet_show_it(void **state)
{
	(void)state;
	struct drawing drawing;
	struct plan_spot spots[] = {spot_at(-4, 0, "A1"), spot_at(4, 0, "A2")};
	const struct plan_view view = view_of(0, 0, METRE);
	const struct plan_scene scene = {.spots = spots, .spot_count = 2};
	spots[0].radius_um = spots[1].radius_um = 5 * METRE;
	draw(&drawing, &scene, &view);
	check_text(drawing.text,
		"\n"
		"\n"
		"        ......  ......\n"
		"      ........::........\n"
		"      .....o.A1:...o.A2.\n"
		"      ........::........\n"
		"        ......  ......\n"
		"\n"
		"\n",
		"two crowns of 10 m, 8 m apart");
	arena_free(drawing.arena);
}

static void trees_of_one_spot_and_grafts_are_told_apart(void **state)
{
	(void)state;
	struct drawing drawing;
	struct plan_spot spots[] = {spot_at(-10, 0, "hole"), spot_at(0, 0, "B3")};
	const struct plan_view view = view_of(0, 0, METRE);
	const struct plan_scene scene = {.spots = spots, .spot_count = 2};
	strcpy(spots[0].signs, "AD");
	strcpy(spots[1].signs, "n+oS");
	draw(&drawing, &scene, &view);
	check_has(drawing.text, "\n     AD hole   n+oS B3\n", "two trees; one with two grafts");
	arena_free(drawing.arena);
	/* another spot stands close: no sign touches it, and what lacks is told */
	spots[0].at.east_um = 4 * METRE;
	draw(&drawing, &scene, &view);
	check_has(drawing.text, "\n               n+& AD hole\n", "one more than there is room");
	arena_free(drawing.arena);
}

static void spots_in_one_cell_show_the_highest_sign_and_no_label(void **state)
{
	(void)state;
	struct drawing drawing;
	struct plan_spot spots[] = {spot_at(0, 0, "A1"), spot_at(0, 0, "A2"), spot_at(1, 0, "A3")};
	const struct plan_view view = view_of(0, 0, 5 * METRE);
	const struct plan_scene scene = {.spots = spots, .spot_count = 3};
	spots[1].best = spots[1].signs[0] = 'D';
	spots[1].rank = 5;
	draw(&drawing, &scene, &view);
	check_has(drawing.text, "\n               D\n", "the highest alone");
	check_int(drawing.picture.label_count, 0, "labels");
	assert_true(drawing.picture.cells[4 * 30 + 15].shared);
	arena_free(drawing.arena);
}

static void a_label_never_stands_behind_another_ones_sign(void **state)
{
	(void)state;
	struct drawing drawing;
	struct plan_spot spots[] = {
		spot_at(0, 0, "first"), spot_at(1, 0, "second"), spot_at(7, 0, NULL)};
	const struct plan_view view = view_of(0, 0, METRE);
	const struct plan_scene scene = {.spots = spots, .spot_count = 3};
	spots[1].text[1] = "2";
	draw(&drawing, &scene, &view);
	/* "second" would touch the third sign; "first" has a sign in its way */
	check_has(drawing.text, "\n               oo 2   o\n", "the shorter of the second");
	arena_free(drawing.arena);
}

static void walls_houses_gates_and_areas_are_drawn(void **state)
{
	(void)state;
	static const struct plot_point house[] = {{-12 * METRE, -7 * METRE},
		{-2 * METRE, -7 * METRE}, {-2 * METRE, -1 * METRE}, {-12 * METRE, -1 * METRE}};
	static const struct plot_point gate[] = {{8 * METRE, -8 * METRE}, {10 * METRE, -8 * METRE}};
	static const struct plot_point wall[] = {
		{-400 * METRE, 8 * METRE}, {400 * METRE, 8 * METRE}};
	const struct plot_line lines[] = {{"barn", PLOT_HOUSE, house, 4},
		{"in", PLOT_GATE, gate, 2}, {"north wall", PLOT_WALL, wall, 2}};
	struct drawing drawing;
	const struct plan_spot spots[] = {spot_at(4, 0, "A1"), spot_at(10, 2, "A2")};
	const struct plan_area area = {"Orchard", bounds_of(spots, 2)};
	const struct plan_view view = view_of(0, 0, METRE);
	const struct plan_scene scene = {.spots = spots,
		.spot_count = 2,
		.lines = lines,
		.line_count = 3,
		.areas = &area,
		.area_count = 1};
	draw(&drawing, &scene, &view);
	check_text(drawing.text,
		"##############################\n"
		"\n"
		"                 ,Orchard  ,\n"
		"                         o A2\n"
		"                   o A1\n"
		"   ###########   ,         ,\n"
		"   #  barn   #\n"
		"   #         #\n"
		"   ###########         -[]\n",
		"a wall that reaches far beyond, a house, a gate, an area");
	arena_free(drawing.arena);
}

static void the_whole_yard_fits_at_any_size(void **state)
{
	(void)state;
	const struct plan_spot spots[] = {
		spot_at(-3, -2, "SW"), spot_at(57, 11, "NE"), spot_at(20, 3, "M")};
	const struct plan_bounds all = bounds_of(spots, 3);
	for (int rows = 1; rows <= 60; rows++)
		for (int columns = 1; columns <= 200; columns += 7) {
			const struct plan_view view = plan_view_of_all(&all, rows, columns);
			assert_true(view.cell_um >= PLAN_CELL_LEAST_UM);
			for (int i = 0; i < 3 && rows >= 3 && columns >= 13; i++) {
				int64_t row, column;
				plan_view_cell(&view, &spots[i].at, &row, &column);
				assert_in_range(row, 0, rows - 1);
				assert_in_range(column, 0, columns - 1);
			}
		}
}

static void zoom_ends_at_the_closest_and_at_the_whole_yard(void **state)
{
	(void)state;
	const struct plan_spot spots[] = {spot_at(0, 0, "A"), spot_at(500, 300, "B")};
	const struct plan_bounds all = bounds_of(spots, 2);
	const struct plan_view whole = plan_view_of_all(&all, 18, 50);
	struct plan_view view = whole;
	int steps = 0;
	assert_false(plan_view_zoom(&view, &all, false));
	check_int(view.cell_um, whole.cell_um, "no wider than all");
	for (int64_t before = view.cell_um; plan_view_zoom(&view, &all, true); steps++) {
		assert_true(view.cell_um < before);
		before = view.cell_um;
	}
	check_int(view.cell_um, PLAN_CELL_LEAST_UM, "the closest");
	assert_in_range(steps, 5, 40);
	while (plan_view_zoom(&view, &all, false))
		steps--;
	check_int(view.cell_um, whole.cell_um, "and back");
	check_int(view.middle.east_um, whole.middle.east_um, "where it was");
}

static void one_spot_a_line_of_spots_and_none_have_a_view(void **state)
{
	(void)state;
	struct drawing drawing;
	const struct plan_spot line[] = {
		spot_at(0, 0, "A1"), spot_at(0, 5, "A2"), spot_at(0, 10, "A3")};
	const struct plan_bounds one = bounds_of(line, 1);
	const struct plan_bounds all = bounds_of(line, 3);
	const struct plan_scene scenes[] = {{.spots = line, .spot_count = 1},
		{.spots = line, .spot_count = 3}, {.spot_count = 0}};
	struct plan_view view = plan_view_of_all(&one, 9, 30);
	check_int(view.cell_um, PLAN_CELL_USUAL_UM, "nothing says a scale");
	draw(&drawing, &scenes[0], &view);
	check_has(drawing.text, "o A1\n", "one spot");
	arena_free(drawing.arena);
	view = plan_view_of_all(&all, 9, 30);
	draw(&drawing, &scenes[1], &view);
	const char *third = strstr(drawing.text, "o A3\n");
	const char *second = strstr(drawing.text, "o A2\n");
	const char *first = strstr(drawing.text, "o A1\n");
	assert_true(third != NULL && third < second && second < first);
	arena_free(drawing.arena);
	draw(&drawing, &scenes[2], &view);
	check_int((int64_t)strspn(drawing.text, "\n"), 9, "blank rows");
	arena_free(drawing.arena);
}

static void the_view_follows_by_as_little_as_needed(void **state)
{
	(void)state;
	struct plan_view view = view_of(0, 0, METRE);
	const struct plot_point inside = {5 * METRE, 2 * METRE};
	const struct plot_point outside = {100 * METRE, -40 * METRE};
	int64_t row, column;
	plan_view_follow(&view, &inside);
	check_int(view.middle.east_um, 0, "it stays");
	plan_view_follow(&view, &outside);
	plan_view_cell(&view, &outside, &row, &column);
	check_int(column, 30 - 1 - 4, "clear of the eastern edge");
	check_int(row, 9 - 1 - 1, "and of the southern");
	for (int rows = 1; rows < 6; rows++)
		for (int columns = 1; columns < 12; columns++) {
			view.rows = rows;
			view.columns = columns;
			plan_view_follow(&view, &outside);
			plan_view_cell(&view, &outside, &row, &column);
			assert_in_range(row, 0, rows - 1);
			assert_in_range(column, 0, columns - 1);
		}
}

static void the_scale_is_a_round_length_that_fits(void **state)
{
	(void)state;
	static const struct {
		int64_t cell_um;
		bool feet;
		int64_t want_um;
		int cells;
	} cases[] = {
		{METRE, false, 5 * METRE, 5},
		{500000, false, 2 * METRE, 4},
		{400000, true, 3048000, 8},
		{50000000, false, 200 * METRE, 4},
		{120000, false, METRE, 8},
		{100000, true, 2 * 304800, 6},
	};
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		int cells;
		check_int(plan_scale_um(cases[i].cell_um, cases[i].feet, 9, &cells),
			cases[i].want_um, "length");
		check_int(cells, cases[i].cells, "cells");
	}
}

static int any(uint32_t *random, int below)
{
	*random = *random * 1664525U + 1013904223U;
	return (int)(*random >> 8) % below;
}

static void whatever_is_drawn_stays_in_the_picture(void **state)
{
	(void)state;
	enum { SPOTS = 60, ROUNDS = 200 };
	uint32_t random = 20261;
	for (int round = 0; round < ROUNDS; round++) {
		struct arena *arena = arena_new();
		struct plan_spot spots[SPOTS];
		for (int i = 0; i < SPOTS; i++) {
			spots[i] = spot_at(any(&random, 60) - 30, any(&random, 60) - 30,
				i % 3 == 0 ? "\xe4\xb8\x96\xe7\x95\x8c" : "row 1");
			spots[i].radius_um = any(&random, 9) * METRE;
			strcpy(spots[i].signs, i % 5 == 0 ? "o+ooooo" : "oo");
		}
		const struct plan_view view = {.middle = {any(&random, 20) * METRE, 0},
			.cell_um = 50000 + any(&random, 3000000),
			.rows = 1 + any(&random, 30),
			.columns = 1 + any(&random, 90)};
		const struct plan_scene scene = {.spots = spots, .spot_count = SPOTS};
		struct plan_picture picture;
		plan_lay_out(&scene, &view, arena, &picture);
		for (int32_t i = 0; i < picture.label_count; i++) {
			const struct plan_label *label = &picture.labels[i];
			assert_in_range(label->row, 0, view.rows - 1);
			assert_true(label->column >= 0);
			assert_true(label->column + label->cells <= view.columns);
			for (int c = 0; c < label->cells; c++)
				check_int(
					picture.cells[label->row * view.columns + label->column + c]
						.part,
					PLAN_TEXT, "no sign stands under a label");
		}
		arena_free(arena);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(north_is_up_and_a_row_is_twice_a_column),
		cmocka_unit_test(a_crown_is_round_and_two_that_meet_show_it),
		cmocka_unit_test(trees_of_one_spot_and_grafts_are_told_apart),
		cmocka_unit_test(spots_in_one_cell_show_the_highest_sign_and_no_label),
		cmocka_unit_test(a_label_never_stands_behind_another_ones_sign),
		cmocka_unit_test(walls_houses_gates_and_areas_are_drawn),
		cmocka_unit_test(the_whole_yard_fits_at_any_size),
		cmocka_unit_test(zoom_ends_at_the_closest_and_at_the_whole_yard),
		cmocka_unit_test(one_spot_a_line_of_spots_and_none_have_a_view),
		cmocka_unit_test(the_view_follows_by_as_little_as_needed),
		cmocka_unit_test(the_scale_is_a_round_length_that_fits),
		cmocka_unit_test(whatever_is_drawn_stays_in_the_picture),
	};
	return cmocka_run_group_tests_name("plan_layout", tests, NULL, NULL) != 0;
}
