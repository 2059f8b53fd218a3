/* SPDX-License-Identifier: MIT */
#include "support/garden.h"

#include "dossier/plot.h"

static void act(struct garden *garden)
{
	struct fault why = {0};
	check_ok(store_act_begin(garden->store, ACT_WORK, "plot", &why), &why);
}

static void end(struct garden *garden)
{
	struct fault why = {0};
	check_ok(store_act_commit(garden->store, &why), &why);
}

static void add_spot(struct garden *garden, const char *name, enum spot_kind kind,
	struct maybe_i64 east_um, struct maybe_i64 north_um)
{
	struct fault why = {0};
	struct spot spot = {.kind = kind, .east_um = east_um, .north_um = north_um};
	snprintf(spot.name, sizeof spot.name, "%s", name);
	act(garden);
	check_ok(store_spot_add(garden->store, &spot, &why), &why);
	end(garden);
}

static void add_obstacle(
	struct garden *garden, const char *name, const char *kind, const char *points)
{
	struct fault why = {0};
	struct obstacle obstacle = {.points = points};
	snprintf(obstacle.name, sizeof obstacle.name, "%s", name);
	snprintf(obstacle.kind, sizeof obstacle.kind, "%s", kind);
	act(garden);
	check_ok(store_obstacle_add(garden->store, &obstacle, &why), &why);
	end(garden);
}

static const struct plot *plot_of(struct garden *garden)
{
	struct fault why = {0};
	const struct plot *plot = NULL;
	garden_look(garden);
	check_ok(yard_plot(garden->yard, &plot, &why), &why);
	return plot;
}

static const struct plot_spot *spot_of(const struct plot *plot, const char *name)
{
	for (int32_t i = 0; i < plot->spot_count; i++)
		if (strcmp(plot->spots[i].spot->name, name) == 0)
			return &plot->spots[i];
	fail_msg("there is no spot %s", name);
	return NULL;
}

/* The labels of a spot in the order they are told: "B3,B3 east". */
static const char *labels_of(const struct plot *plot, const struct plot_spot *spot)
{
	static char labels[200];
	size_t length = 0;
	labels[0] = '\0';
	for (int32_t i = 0; i < spot->count; i++)
		length += (size_t)snprintf(labels + length, sizeof labels - length, "%s%s",
			i > 0 ? "," : "", plot->trees[spot->first + i].who->label);
	return labels;
}

static void trees_stand_in_their_spots_with_their_grafts_behind_them(void **state)
{
	(void)state;
	struct garden garden;
	garden_make(&garden, "2026-11-24");
	const struct maybe_i64 at = known_i64(5000000);
	add_spot(&garden, "two holes", SPOT_HOLE, at, at);
	garden_tree(&garden, "B10", "apple", "", "two holes");
	garden_tree(&garden, "B9", "apple", "", "two holes");
	garden_tree(&garden, "stray", "fig", "", "");
	garden_log(&garden, "B9 graft Comice");
	garden_log(&garden, "B9 graft Anjou");
	const struct plot *plot = plot_of(&garden);
	check_int(plot->tree_count, 5, "trees and grafts");
	check_text(labels_of(plot, spot_of(plot, "two holes")), "B9,B9/Anjou,B9/Comice,B10",
		"each with its grafts");
	check_text(plot->trees[4].who->label, "stray", "in no spot: last");
	check_int(plot->trees[4].spot, -1, "in no spot");
	garden_free(&garden);
}

static void spread_and_height_are_the_latest_up_to_today(void **state)
{
	(void)state;
	struct garden garden;
	garden_make(&garden, "2026-11-24");
	garden_tree(&garden, "A1", "apple", "2015", "A1");
	garden_log(&garden, "A1 spread 3 m @ 2024-06-01");
	garden_log(&garden, "A1 spread 4 m @ 2025-06-01");
	garden_log(&garden, "A1 height 5 m @ 2025-06-01");
	const struct plot *plot = plot_of(&garden);
	check_int(plot->trees[0].spread_um.value, 4000000, "the later one");
	check_text(date_format(plot->trees[0].spread_on.value, (char[DATE_SIZE]){0}), "2025-06-01",
		"its day");
	check_int(plot->trees[0].height_um.value, 5000000, "height");
	garden_today(&garden, "2024-12-01");
	plot = plot_of(&garden);
	check_int(plot->trees[0].spread_um.value, 3000000, "as it was then");
	assert_false(plot->trees[0].height_um.known);
	garden_free(&garden);
}

static void what_is_elsewhere_or_far_off_is_not_placed(void **state)
{
	(void)state;
	struct garden garden;
	garden_make(&garden, "2026-11-24");
	const struct maybe_i64 near = known_i64(2000000);
	add_spot(&garden, "here", SPOT_CONTAINER, near, near);
	add_spot(&garden, "at the neighbour's", SPOT_OFF_PLACE, near, near);
	add_spot(&garden, "half", SPOT_HOLE, near, (struct maybe_i64){.known = false});
	add_spot(&garden, "slip", SPOT_HOLE, near, known_i64(PLOT_FAR_UM + 1));
	add_spot(&garden, "edge", SPOT_HOLE, near, known_i64(-PLOT_FAR_UM));
	const struct plot *plot = plot_of(&garden);
	assert_true(spot_of(plot, "here")->placed);
	assert_false(spot_of(plot, "at the neighbour's")->placed);
	assert_false(spot_of(plot, "half")->placed);
	assert_false(spot_of(plot, "slip")->placed);
	assert_true(spot_of(plot, "edge")->placed);
	check_int(spot_of(plot, "here")->at.east_um, 2000000, "east");
	garden_free(&garden);
}

static void the_gate_is_the_middle_of_the_first_else_the_zero(void **state)
{
	(void)state;
	struct garden garden;
	bool drawn = true;
	garden_make(&garden, "2026-11-24");
	struct plot_point gate = plot_gate(plot_of(&garden), &drawn);
	assert_false(drawn);
	check_int(gate.east_um, 0, "the zero");
	add_obstacle(&garden, "long wall", "wall", "0,0 9000000,0");
	add_obstacle(&garden, "main gate", "gate", "1000000,-2000000 3000000,-2000000");
	const struct plot *plot = plot_of(&garden);
	gate = plot_gate(plot, &drawn);
	assert_true(drawn);
	check_int(gate.east_um, 2000000, "its middle");
	check_int(gate.north_um, -2000000, "its middle");
	check_int(plot->line_count, 2, "lines");
	garden_free(&garden);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(trees_stand_in_their_spots_with_their_grafts_behind_them),
		cmocka_unit_test(spread_and_height_are_the_latest_up_to_today),
		cmocka_unit_test(what_is_elsewhere_or_far_off_is_not_placed),
		cmocka_unit_test(the_gate_is_the_middle_of_the_first_else_the_zero),
	};
	return cmocka_run_group_tests_name("plot", tests, NULL, NULL) != 0;
}
