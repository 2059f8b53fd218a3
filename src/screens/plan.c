/* SPDX-License-Identifier: MIT */
/* The plan: the yard drawn to scale with north up, the tree under the cursor in words beside it,
 * and the same trees as a list. */
#include "plan.h"

#include <string.h>

#include "core/text.h"
#include "field.h"

enum { FIND_CHARACTERS = 40, HERE_MOST = 64 };

static const double quiet_s = 0.04;

/* argument: a tree's id, or "". */
static enum status plan_open(
	void *state, struct context *context, const char *argument, struct fault *why)
{
	struct plan_screen *plan = state;
	edit_start(&plan->find, FIND_CHARACTERS);
	plan->drawn = arena_new();
	plan->whole = true;
	const enum status status = plan_read(plan, context, argument, why);
	if (status != STATUS_OK)
		arena_free(plan->drawn);
	return status;
}

static enum status plan_reread(void *state, struct context *context, struct fault *why)
{
	struct plan_screen *plan = state;
	arena_reset(context->arena);
	return plan_read(plan, context, plan->kept_id, why);
}

static void plan_close(void *state)
{
	struct plan_screen *plan = state;
	arena_free(plan->drawn);
}

/* --- before a draw --- */

static void clamp_list(struct plan_screen *plan, int rows)
{
	const int32_t most = plan_list_rows(rows) - (plan->finding ? 1 : 0);
	if (plan->top > plan->selected)
		plan->top = plan->selected;
	if (plan->top < plan->selected - most + 1)
		plan->top = plan->selected - most + 1;
	if (plan->top + most > plan->item_count)
		plan->top = plan->item_count > most ? plan->item_count - most : 0;
	plan->shown_count = most;
}

static void fit_view(struct plan_screen *plan, const struct context *context)
{
	const struct plan_frame frame = plan_frame_of(context->rows, context->columns);
	const struct plot_spot *spot = plan_spot_at(plan, plan_selected(plan));
	if (plan->whole)
		plan->view = plan_view_of_all(&plan->all, frame.map_rows, frame.map_columns);
	plan->view.rows = frame.map_rows;
	plan->view.columns = frame.map_columns;
	if (spot != NULL && spot->placed)
		plan_view_follow(&plan->view, &spot->at);
}

static void plan_settle(void *state, struct context *context)
{
	struct plan_screen *plan = state;
	if (plan->as_list) {
		clamp_list(plan, context->rows);
		return;
	}
	fit_view(plan, context);
	plan_compose(plan, context->ascii);
}

/* The words of the tree first: that is what was gone there for. */
static bool plan_idle(void *state, struct context *context)
{
	struct plan_screen *plan = state;
	struct fault why;
	const bool had = plan->facts.known;
	if (plan->finding && found_prepare(context->session))
		return true;
	if (!had && plan_facts_read(plan, context, &why) != STATUS_OK)
		plan->facts = (struct plan_facts){.known = true};
	return plan_layer_read(plan, context->session, clock_monotonic_s() + quiet_s) || !had;
}

/* --- moving --- */

static void go(struct plan_screen *plan, int32_t item)
{
	if (item < 0 || item >= plan->item_count || item == plan->selected)
		return;
	plan->selected = item;
	plan->facts = (struct plan_facts){.known = false};
	plan_keep_id(plan);
}

static void go_to_point(struct plan_screen *plan, int32_t point)
{
	if (point >= 0)
		go(plan, plan->item_of_spot[plan->spot_of_point[point]]);
}

static void step(struct plan_screen *plan, enum plan_way way)
{
	const struct plot_spot *spot = plan_spot_at(plan, plan_selected(plan));
	if (spot != NULL && spot->placed)
		go_to_point(plan, plan_near_toward(&plan->near, spot->at, way));
	else
		go_to_point(plan, plan_near_nearest(&plan->near, plan->view.middle));
}

/* By half a picture; the cursor to what is nearest to its middle. */
static void scroll(struct plan_screen *plan, int across, int up)
{
	plan->whole = false;
	plan->view.middle.east_um += across * plan->view.cell_um * plan->view.columns / 2;
	plan->view.middle.north_um += up * plan->view.cell_um * plan->view.rows;
	go_to_point(plan, plan_near_nearest(&plan->near, plan->view.middle));
}

static void zoom(struct plan_screen *plan, bool closer, struct effect *out)
{
	const struct plot_spot *spot = plan_spot_at(plan, plan_selected(plan));
	if (closer && spot != NULL && spot->placed)
		plan->view.middle = spot->at;
	plan->whole = false;
	if (!plan_view_zoom(&plan->view, &plan->all, closer))
		effect_say(out, closer ? "closer shows no more" : "this is the whole yard");
}

/* All that is drawn in the cursor's cell, in turn. */
static void next_here(struct plan_screen *plan, struct effect *out)
{
	const struct plan_item *item = plan_selected(plan);
	const struct plot_spot *spot = plan_spot_at(plan, item);
	int32_t here[HERE_MOST];
	int32_t count = 0;
	int64_t row, column, other_row, other_column;
	if (spot == NULL || !spot->placed || plan->as_list)
		return;
	plan_view_cell(&plan->view, &spot->at, &row, &column);
	for (int32_t i = 0; i < plan->shown_count; i++) {
		const struct plot_spot *other = &plan->plot->spots[plan->shown[i]];
		plan_view_cell(&plan->view, &other->at, &other_row, &other_column);
		if (other_row != row || other_column != column)
			continue;
		if (other->count == 0 && count < HERE_MOST)
			here[count++] = plan->item_of_spot[plan->shown[i]];
		for (int32_t t = 0; t < other->count && count < HERE_MOST; t++)
			here[count++] = plan->item_of_tree[other->first + t];
	}
	/* the next above in the order of the list, else the lowest: the round does not depend on
	 * the order in which spots are drawn */
	int32_t next = -1;
	int32_t lowest = plan->selected;
	for (int32_t i = 0; i < count; i++) {
		lowest = here[i] < lowest ? here[i] : lowest;
		if (here[i] > plan->selected && (next < 0 || here[i] < next))
			next = here[i];
	}
	if (count < 2)
		effect_say(out, "nothing else stands here");
	go(plan, next >= 0 ? next : lowest);
}

static void move_in_list(struct plan_screen *plan, int32_t by)
{
	int32_t to = plan->selected + by;
	to = to >= plan->item_count ? plan->item_count - 1 : to;
	go(plan, to < 0 ? 0 : to);
}

static bool list_act(struct plan_screen *plan, enum action action, int32_t page)
{
	if (action == ACTION_UP || action == ACTION_DOWN)
		move_in_list(plan, action == ACTION_DOWN ? 1 : -1);
	else if (action == ACTION_PAGE_UP || action == ACTION_PAGE_DOWN)
		move_in_list(plan, action == ACTION_PAGE_DOWN ? page : -page);
	else
		return false;
	return true;
}

static bool picture_act(struct plan_screen *plan, enum action action, struct effect *out)
{
	switch ((int)action) {
	case ACTION_UP:
		step(plan, PLAN_NORTH);
		return true;
	case ACTION_DOWN:
		step(plan, PLAN_SOUTH);
		return true;
	case ACTION_LEFT:
		step(plan, PLAN_WEST);
		return true;
	case ACTION_RIGHT:
		step(plan, PLAN_EAST);
		return true;
	case ACTION_PAGE_UP:
	case ACTION_PAGE_DOWN:
		scroll(plan, 0, action == ACTION_PAGE_UP ? 1 : -1);
		return true;
	case ACTION_PAGE_LEFT:
	case ACTION_PAGE_RIGHT:
		scroll(plan, action == ACTION_PAGE_RIGHT ? 1 : -1, 0);
		return true;
	case ACTION_CLOSER:
	case ACTION_WIDER:
		zoom(plan, action == ACTION_CLOSER, out);
		return true;
	case ACTION_WHOLE:
		plan->whole = true;
		return true;
	case ACTION_NEXT_HERE:
		next_here(plan, out);
		return true;
	default:
		return false;
	}
}

/* --- acting --- */

/* The plan as it was a year before, or after. */
static void other_year(
	struct plan_screen *plan, struct context *context, int32_t by, struct effect *out)
{
	enum { YEARS_MAX = 99 };
	struct fault why;
	const int32_t years = plan->years_back + by;
	if (years < 0 || years > YEARS_MAX) {
		effect_say(out, years < 0 ? "this is the plan as it is" : "so far back it goes");
		return;
	}
	plan->years_back = years;
	if (plan_reread(plan, context, &why) != STATUS_OK)
		effect_say(out, "%s", why.text);
}

static void end_find(struct plan_screen *plan)
{
	plan->finding = false;
	edit_start(&plan->find, FIND_CHARACTERS);
}

static void go_away(struct plan_screen *plan, const char *screen, struct effect *out)
{
	const struct plot_tree *tree = plan_tree(plan, plan_selected(plan));
	if (tree != NULL)
		effect_push(out, screen, tree->who->tree_id);
	else
		effect_say(out, "no tree stands here");
	end_find(plan);
}

static void plan_act(void *state, struct context *context, enum action action, struct effect *out)
{
	struct plan_screen *plan = state;
	if (action >= ACTION_FLAGS_LAYER && action <= ACTION_YIELD_LAYER) {
		plan->layer = (enum plan_layer)(action - ACTION_FLAGS_LAYER);
		plan->facts.known = false;
	} else if (plan->as_list ? list_act(plan, action, plan_list_rows(context->rows))
				 : picture_act(plan, action, out)) {
		return;
	} else if (action == ACTION_FIRST || action == ACTION_LAST) {
		go(plan, action == ACTION_FIRST ? 0 : plan->item_count - 1);
	} else if (action == ACTION_NEXT_PART) {
		plan->as_list = !plan->as_list;
		plan->shown_count = 0;
	} else if (action == ACTION_OPEN) {
		go_away(plan, "tree", out);
	} else if (action == ACTION_LINE || action == ACTION_WALK) {
		go_away(plan, "walk", out);
	} else if (action == ACTION_EARLIER || action == ACTION_LATER) {
		other_year(plan, context, action == ACTION_EARLIER ? 1 : -1, out);
	} else if (action == ACTION_FIND) {
		plan->finding = true;
	} else if (action == ACTION_BACK && plan->finding) {
		end_find(plan);
	} else {
		effect_usual(out);
	}
}

static const char *plan_typed(const void *state)
{
	const struct plan_screen *plan = state;
	return plan->finding ? plan->find.text : NULL;
}

/* The cursor goes along with the letters. */
static void plan_type(
	void *state, struct context *context, const struct input *input, struct effect *out)
{
	struct plan_screen *plan = state;
	if (!plan->finding || !field_take(&plan->find, input, out))
		return;
	found_look(&plan->found, context->session, plan->find.text);
	if (plan->found.id[0] != '\0')
		go(plan, plan_item_find(plan, plan->found.id));
	else if (plan->find.length > 0)
		effect_say(out, "%s", plan->found.says);
}

/* clang-format off */
static const struct key_row plan_keys[] = {
	{KEYS_ENTER, ACTION_OPEN, false},
	{KEYS_TAB, ACTION_NEXT_PART, false},
	{'l', ACTION_LINE, false},
	{'/', ACTION_FIND, false},
	{'1', ACTION_FLAGS_LAYER, false},
	{'2', ACTION_STAGE_LAYER, false},
	{'3', ACTION_PARTNER_LAYER, false},
	{'4', ACTION_SUN_LAYER, false},
	{'5', ACTION_YIELD_LAYER, false},
	{'+', ACTION_CLOSER, false},
	{'-', ACTION_WIDER, false},
	{'0', ACTION_WHOLE, false},
	{'n', ACTION_NEXT_HERE, false},
	{'[', ACTION_EARLIER, false},
	{']', ACTION_LATER, false},
	{KEYS_PAGE_UP, ACTION_PAGE_UP, false},
	{KEYS_PAGE_DOWN, ACTION_PAGE_DOWN, false},
	{KEYS_WORD_LEFT, ACTION_PAGE_LEFT, false},
	{KEYS_WORD_RIGHT, ACTION_PAGE_RIGHT, false},
	{KEYS_ESCAPE, ACTION_BACK, false},
	{0, ACTION_NONE, false},
};
/* clang-format on */

const struct screen screen_plan = {
	.name = "plan",
	.title = "Plan",
	.purpose = "the yard from above, to scale: what stands where, and what asks for you",
	.state_size = sizeof(struct plan_screen),
	.takes_text = true,
	.least_rows = 15,
	.least_columns = 60,
	.open = plan_open,
	.reread = plan_reread,
	.draw = plan_draw,
	.act = plan_act,
	.type = plan_type,
	.close = plan_close,
	.keys = plan_keys,
	.typed = plan_typed,
	.settle = plan_settle,
	.idle = plan_idle,
};
