/* SPDX-License-Identifier: MIT */
/* Line mode: the plan in words. What the picture shows by place is said by distance and bearing. */
#include <string.h>

#include "core/text.h"
#include "plain_inner.h"
#include "plan.h"

enum { NEIGHBOURS_SAID = 6, ENOUGH_S = 5 };

/* --- the whole yard --- */

static void say_extent(struct plain *plain, const struct plan_screen *plan, bool gate)
{
	char across[24], up[24];
	const enum unit_system units = plan->units;
	if (plan->near.count == 0) {
		plain_say(plain, "No spot has a position yet.");
		return;
	}
	plain_say(plain, "From west to east %s, from south to north %s. Ways are told from %s.",
		length_format(plan->near.all.east_um - plan->near.all.west_um, units, across,
			(int)sizeof across),
		length_format(plan->near.all.north_um - plan->near.all.south_um, units, up,
			(int)sizeof up),
		gate ? "the gate" : "the place's zero: no gate is drawn");
}

static void say_lines(
	struct plain *plain, const struct plan_screen *plan, const struct plot_point *from)
{
	static const char *const kinds[] = {"wall", "house", "gate", "line"};
	for (int32_t i = 0; i < plan->plot->line_count; i++) {
		const struct plot_line *line = &plan->plot->lines[i];
		const struct plot_point middle = plot_line_middle(line);
		char way[40];
		if (line->kind == PLOT_GATE)
			continue;
		plain_say(plain, "%s, a %s: its middle %s.", line->name, kinds[line->kind],
			plan_way_words(plan, from, &middle, way, sizeof way));
	}
}

static void say_spot(struct plain *plain, const struct plan_screen *plan, int32_t place,
	const struct plot_point *from)
{
	const struct plot_spot *spot = &plan->plot->spots[place];
	struct arena *arena = arena_new();
	struct text_builder text = text_builder_in(arena);
	char way[40];
	text_add_format(&text, "%s", spot->spot->name);
	if (spot->area[0] != '\0')
		text_add_format(&text, ", in %s", spot->area);
	if (spot->placed)
		text_add_format(
			&text, ", %s", plan_way_words(plan, from, &spot->at, way, sizeof way));
	else
		text_add(&text, spot->spot->kind == SPOT_OFF_PLACE ? ", elsewhere"
								   : ", position not known");
	text_add(&text, ": ");
	for (int32_t i = 0; i < spot->count; i++) {
		const struct plot_tree *tree = &plan->plot->trees[spot->first + i];
		text_add_format(&text, "%s%s%s, %s", i > 0 ? "; " : "",
			tree->who->host_id[0] != '\0' ? "graft " : "", tree->who->label,
			tree->who->kind.name);
	}
	plain_say(plain, "%s.",
		spot->count > 0 ? text.text
				: arena_format(arena, "%snothing stands there", text.text));
	arena_free(arena);
}

static void say_yard(struct plain *plain, const struct plan_screen *plan)
{
	bool gate;
	const struct plot_point from = plot_gate(plan->plot, &gate);
	say_extent(plain, plan, gate);
	say_lines(plain, plan, &from);
	for (int32_t i = 0; i < plan->plot->spot_count; i++)
		say_spot(plain, plan, i, &from);
	for (int32_t i = 0; i < plan->plot->tree_count; i++)
		if (plan->plot->trees[i].spot < 0)
			plain_say(plain, "%s stands in no spot.", plan->plot->trees[i].who->label);
	plain_say(plain, "Say plan and a label for what stands around one tree.");
}

/* --- around one tree --- */

static void say_around(struct plain *plain, const struct plan_screen *plan)
{
	const struct plot_spot *spot = plan_spot_at(plan, plan_selected(plan));
	struct plan_away near[NEIGHBOURS_SAID];
	if (spot == NULL || !spot->placed)
		return;
	const int32_t count = plan_nearest_spots(plan, spot, near, NEIGHBOURS_SAID);
	for (int32_t i = 0; i < count; i++) {
		char said[PLAN_NEIGHBOUR_SIZE];
		plain_say(
			plain, "%s", plan_neighbour_words(plan, spot, &near[i], said, sizeof said));
	}
	if (count == 0)
		plain_say(plain, "Nothing else stands within %s.",
			plan->units == UNITS_US ? "210 ft" : "64 m");
}

static void say_tree(struct plain *plain, struct plan_screen *plan, struct context *context)
{
	struct arena *arena = arena_new();
	struct plan_words words;
	struct fault why = {.status = STATUS_OK};
	const int32_t tree = plan_selected(plan)->tree;
	if (plan_facts_read(plan, context, &why) != STATUS_OK)
		plain_say(plain, "%s", why.text);
	plan->layer = LAYER_SUN;
	(void)plan_layer_read(plan, context->session, clock_monotonic_s() + ENOUGH_S);
	plan_words_make(plan, arena, &words);
	for (int32_t i = 0; i < words.count; i++)
		if (strncmp(words.lines[i].text, "near: ", 6) != 0)
			plain_say(plain, "%s", words.lines[i].text);
	say_around(plain, plan);
	plan->layer = LAYER_YIELD;
	(void)plan_layer_read(plan, context->session, clock_monotonic_s() + ENOUGH_S);
	char said[120];
	if (plan_layer_words(plan, tree, said, sizeof said)[0] != '\0')
		plain_say(plain, "last season: %s", said);
	arena_free(arena);
}

void plain_plan(struct plain *plain, const char *label)
{
	struct context context = {.session = plain->session, .arena = arena_new()};
	struct plan_screen *plan = block_new(sizeof *plan);
	struct tree tree = {.id = ""};
	struct fault why = {.status = STATUS_OK};
	enum status status = STATUS_OK;
	plan->as_list = true;
	plan->in_full = true;
	plan->layer = LAYER_SUN; /* its words are read with the tree's */
	if (label[0] != '\0')
		status = store_tree_find(plain->session->store, label, &tree, &why);
	if (status == STATUS_OK)
		status = plan_read(plan, &context, tree.id, &why);
	if (status != STATUS_OK)
		plain_say(plain, "%s", why.text);
	else if (label[0] == '\0')
		say_yard(plain, plan);
	else if (plan_item_find(plan, tree.id) < 0)
		plain_say(plain, "%s stands here no more.", label);
	else
		say_tree(plain, plan, &context);
	block_free(plan);
	arena_free(context.arena);
}
