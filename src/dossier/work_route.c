/* SPDX-License-Identifier: MIT */
/* A short route from the gate past all spots that have a position. */
#include <string.h>

#include "dossier/plot.h"
#include "dossier/work_inner.h"
#include "reckon/route.h"

static const double um_in_m = 1e6;

/* The spots on the plan, and a way past them. */
struct routing {
	const struct plot *plot;
	struct route_point gate;
	bool gate_drawn;
	int32_t *spots; /* of the plot */
	struct route_point *points;
	int32_t *order;
	int32_t count;
};

static struct route_point point_of(const struct plot_point *at)
{
	return (struct route_point){(double)at->east_um / um_in_m, (double)at->north_um / um_in_m};
}

static void find_way(struct routing *routing, struct arena *arena)
{
	const struct plot *plot = routing->plot;
	const struct plot_point gate = plot_gate(plot, &routing->gate_drawn);
	const size_t room = (size_t)plot->spot_count + 1;
	routing->gate = point_of(&gate);
	routing->spots = arena_array(arena, room, sizeof routing->spots[0]);
	routing->points = arena_array(arena, room, sizeof routing->points[0]);
	routing->order = arena_array(arena, room, sizeof routing->order[0]);
	for (int32_t i = 0; i < plot->spot_count; i++) {
		if (!plot->spots[i].placed)
			continue;
		routing->spots[routing->count] = i;
		routing->points[routing->count++] = point_of(&plot->spots[i].at);
	}
	route_nearest(&routing->gate, routing->points, routing->count, arena, routing->order);
	route_exchange(&routing->gate, routing->points, routing->count, arena, routing->order);
}

static enum status keep_way(
	struct yard *yard, const struct routing *routing, struct arena *arena, struct fault *why)
{
	const char **ids = arena_array(arena, (size_t)routing->count, sizeof ids[0]);
	for (int32_t i = 0; i < routing->count; i++)
		ids[i] = routing->plot->spots[routing->spots[routing->order[i]]].spot->id;
	enum status status = work_begin(yard, "a short route", why);
	if (status == STATUS_OK)
		status = work_end(
			yard, store_route_set(yard_store(yard), ids, routing->count, why), why);
	return status;
}

static void say_way(const struct yard *yard, const struct routing *routing, char *out, size_t size)
{
	struct text_builder said = text_builder_fixed(out, size);
	char length[24];
	const double length_m =
		route_length_m(&routing->gate, routing->points, routing->order, routing->count);
	const bool feet = yard_place(yard)->units == UNITS_US;
	const double step_um = feet ? 304800 : um_in_m;
	const int64_t whole_um = round_i64(length_m * um_in_m / step_um) * (int64_t)step_um;
	text_add_format(&said, "route of %d spots from %s, %s on foot", routing->count,
		routing->gate_drawn ? "the gate" : "the zero of the plan (no gate is drawn)",
		length_format(whole_um, feet ? UNITS_US : UNITS_SI, length, (int)sizeof length));
	const int32_t left = routing->plot->spot_count - routing->count;
	if (left > 0)
		text_add_format(&said, "; %d without a position here come%s last, by label", left,
			left == 1 ? "s" : "");
}

enum status work_route_auto(struct yard *yard, char said[FAULT_TEXT_SIZE], struct fault *why)
{
	struct arena *arena = arena_new();
	struct routing routing = {.count = 0};
	enum status status = yard_plot(yard, &routing.plot, why);
	if (status == STATUS_OK)
		find_way(&routing, arena);
	if (status == STATUS_OK && routing.count == 0)
		status = fault_set(why, STATUS_ABSENT,
			"no spot has a position yet: boughbook spot set NAME --east 3m --north 4m");
	if (status == STATUS_OK)
		status = keep_way(yard, &routing, arena, why);
	if (status == STATUS_OK)
		say_way(yard, &routing, said, FAULT_TEXT_SIZE);
	arena_free(arena);
	return status;
}
