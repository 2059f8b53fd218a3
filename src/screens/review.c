/* SPDX-License-Identifier: MIT */
/* The review: the week's flags, worst first. One key puts one off, one opens the line that settles
 * it, one asks why it is to be set aside. */
#include "review.h"

#include <string.h>

#include "core/text.h"
#include "dossier/work.h"
#include "field.h"
#include "walk_line.h"

enum { WHOSE_SIZE = 80 };

static const char held_key[] = "review-held";

const struct review_item *review_selected(const struct review_state *state)
{
	if (state->shown_count == 0 || state->shown[state->selected] == REVIEW_FOLD)
		return NULL;
	return &state->review.items[state->shown[state->selected]];
}

/* --- the list --- */

/* The item of that key, else the place where it was. */
static void select_again(struct review_state *state, const char *key)
{
	for (int32_t i = 0; key[0] != '\0' && i < state->shown_count; i++)
		if (state->shown[i] != REVIEW_FOLD &&
			strcmp(state->review.items[state->shown[i]].flag.key, key) == 0) {
			state->selected = i;
			return;
		}
	if (state->selected >= state->shown_count)
		state->selected = state->shown_count > 0 ? state->shown_count - 1 : 0;
}

static void list_anew(struct review_state *state, struct arena *arena)
{
	char key[FLAG_KEY_SIZE] = "";
	const struct review_item *item = review_selected(state);
	if (item != NULL)
		text_copy(key, sizeof key, item->flag.key);
	review_list(state, arena);
	select_again(state, key);
}

static enum status read_held(struct review_state *state, struct arena *arena, struct fault *why)
{
	const char *kept = "";
	struct date day;
	enum status status = store_walk_get(state->session->store, held_key, arena, &kept, why);
	if (status == STATUS_ABSENT)
		return STATUS_OK;
	if (status == STATUS_OK && date_parse_iso(kept, &day, NULL) == STATUS_OK)
		date_format_plain(day, state->held, sizeof state->held);
	return status;
}

static enum status read_label(struct review_state *state, struct fault *why)
{
	struct tree tree;
	if (state->tree_id[0] == '\0')
		return STATUS_OK;
	enum status status = store_tree_load(state->session->store, state->tree_id, &tree, why);
	if (status == STATUS_OK)
		(void)store_tree_title(&tree, state->label);
	return status;
}

/* Its line is saved: to the next item, also where this one stays. */
static void step_on(struct review_state *state)
{
	const struct review_item *item = review_selected(state);
	if (state->doing[0] != '\0' && item != NULL && strcmp(item->flag.key, state->doing) == 0 &&
		state->selected + 1 < state->shown_count)
		state->selected++;
	state->doing[0] = '\0';
}

/* What a line that is still being typed would raise, as items of a review. */
static enum status read_asked(
	struct review_state *state, struct context *context, struct fault *why)
{
	struct ask_answer answer;
	struct tree tree;
	enum status status = store_tree_load(context->session->store, state->tree_id, &tree, why);
	if (status == STATUS_OK)
		status = walk_line_ask(
			context->session, tree.label, state->asked, context->arena, &answer, why);
	if (status != STATUS_OK)
		return status;
	state->review = (struct review){.items = answer.items, .count = answer.count};
	for (int32_t i = 0; i < answer.count; i++)
		state->review.items[i].group = 1;
	text_copy(state->asked_said, sizeof state->asked_said, answer.said);
	state->notes_open = true;
	return STATUS_OK;
}

static enum status review_read(void *screen, struct context *context, struct fault *why)
{
	struct review_state *state = screen;
	char key[FLAG_KEY_SIZE] = "";
	const struct review_item *item = review_selected(state);
	int32_t before = state->review.open;
	if (item != NULL)
		text_copy(key, sizeof key, item->flag.key);
	arena_reset(context->arena);
	state->session = context->session;
	state->shown_count = 0;
	struct review_options options = {
		.tree_id = state->tree_id[0] != '\0' ? state->tree_id : NULL,
		.all = state->all,
		.keeper = context->session->keeper};
	enum status status = state->asked[0] != '\0' ? read_asked(state, context, why)
						     : review_make(context->session->yard, &options,
							       context->arena, &state->review, why);
	if (status != STATUS_OK)
		return status;
	if (state->review.open < before)
		state->gone += before - state->review.open;
	review_list(state, context->arena);
	select_again(state, key);
	step_on(state);
	return STATUS_OK;
}

/* argument: "" the whole yard, or a tree's id; with a tab behind it all evidence is shown, and with
 * a line behind the tab that of the line, which is not logged. */
static enum status review_open(
	void *screen, struct context *context, const char *argument, struct fault *why)
{
	struct review_state *state = screen;
	state->session = context->session;
	const size_t length = strcspn(argument, "\t");
	text_copy_n(state->tree_id, sizeof state->tree_id, argument, length);
	if (argument[length] == '\t') {
		state->why = true;
		text_copy(state->asked, sizeof state->asked, argument + length + 1);
	}
	enum status status = read_held(state, context->arena, why);
	if (status == STATUS_OK)
		status = read_label(state, why);
	if (status == STATUS_OK)
		status = review_read(state, context, why);
	if (status != STATUS_OK)
		return status;
	if (state->notes > 0 && state->notes == state->review.count) {
		state->notes_open = true; /* nothing else would be on the screen */
		review_list(state, context->arena);
	}
	return STATUS_OK;
}

void review_keep_held(struct session *session)
{
	char today[DATE_SIZE];
	struct fault why;
	if (store_is_read_only(session->store))
		return;
	date_format(clock_today(&session->clock), today);
	(void)!store_walk_put(session->store, held_key, today, &why);
}

/* It was held when it is left. */
static void review_close(void *screen)
{
	struct review_state *state = screen;
	if (state->session != NULL && state->tree_id[0] == '\0')
		review_keep_held(state->session);
}

/* --- moving --- */

static void keep_in_sight(struct review_state *state, int rows, int columns)
{
	int from, height;
	int room = review_list_rows(state, rows);
	int most = review_height(state, columns) - room;
	review_place_selected(state, columns, &from, &height);
	if (state->top > from + (height > room ? height - room : 0))
		state->top = from;
	if (state->top < from + height - room && height <= room)
		state->top = from + height - room;
	if (state->top < from && height > room)
		state->top = from;
	if (state->top > most)
		state->top = most;
	if (state->top < 0)
		state->top = 0;
}

static void review_settle(void *screen, struct context *context)
{
	struct review_state *state = screen;
	keep_in_sight(state, context->rows, context->columns);
}

/* Within an item taller than the screen first, then to the next. */
static void move_down(struct review_state *state, const struct context *context, int by)
{
	int from, height;
	int room = review_list_rows(state, context->rows);
	review_place_selected(state, context->columns, &from, &height);
	if (from + height > state->top + room) {
		int rest = from + height - state->top - room;
		state->top += rest < room - 1 ? rest : room - 1;
		return;
	}
	state->selected += by;
	if (state->selected >= state->shown_count)
		state->selected = state->shown_count > 0 ? state->shown_count - 1 : 0;
}

static void move_up(struct review_state *state, const struct context *context, int by)
{
	int from, height;
	int room = review_list_rows(state, context->rows);
	review_place_selected(state, context->columns, &from, &height);
	if (from < state->top) {
		int rest = state->top - from;
		state->top -= rest < room - 1 ? rest : room - 1;
		return;
	}
	state->selected = state->selected > by ? state->selected - by : 0;
}

static void move(struct review_state *state, const struct context *context, enum action action)
{
	int page = context->rows / 3;
	if (action == ACTION_UP)
		move_up(state, context, 1);
	else if (action == ACTION_DOWN)
		move_down(state, context, 1);
	else if (action == ACTION_PAGE_UP)
		move_up(state, context, page);
	else if (action == ACTION_PAGE_DOWN)
		move_down(state, context, page);
	else if (action == ACTION_FIRST)
		state->selected = 0;
	else if (state->shown_count > 0)
		state->selected = state->shown_count - 1;
}

/* --- answers --- */

/* What vanishes from the open ones by an answer was not done. */
static void answered(struct review_state *state, const struct review_item *item)
{
	if (item->flag.urgency != URGENCY_NOTE && item->flag.urgency != URGENCY_LEAVE)
		state->gone -= item->group;
}

static const char *whose(const struct review_item *item, char out[WHOSE_SIZE])
{
	return item->flag.label[0] != '\0' ? review_labels(item, out, WHOSE_SIZE) : "the yard";
}

/* The keys of all that are grouped here. */
static const char *const *keys_of(const struct review_item *item, struct arena *arena)
{
	const char **all = arena_array(arena, (size_t)item->group, sizeof *all);
	for (int32_t i = 0; i < item->group; i++)
		all[i] = item[i].flag.key;
	return all;
}

/* Only what is open can be answered; says why not. */
static const struct review_item *open_item(struct review_state *state, struct effect *out)
{
	const struct review_item *item = review_selected(state);
	if (state->asked[0] != '\0') {
		effect_say(out, "the line is not logged yet: Esc goes back to it");
		return NULL;
	}
	if (item == NULL) {
		effect_say(out, state->shown_count == 0 ? "there is nothing to answer"
							: "these are notes: n unfolds them");
		return NULL;
	}
	if (item->state != FLAG_OPEN) {
		effect_say(out, "this one is %s already; u takes the last answer back",
			flag_state_key(item->state));
		return NULL;
	}
	return item;
}

static void put_off(struct review_state *state, struct context *context, struct effect *out)
{
	char until[24], closes[120], labels[WHOSE_SIZE];
	struct fault why;
	const struct review_item *item = open_item(state, out);
	if (item == NULL)
		return;
	struct date day = date_add_days(yard_today(context->session->yard), REVIEW_PUT_OFF_DAYS);
	if (work_put_off_all(context->session->yard, keys_of(item, context->arena), item->group,
		    day, &why) != STATUS_OK) {
		effect_say(out, "%s", why.text);
		return;
	}
	state->put_off += item->group;
	answered(state, item);
	review_put_off_says(item, day, closes, sizeof closes);
	effect_say(out, "%s: put off until %s%s%s", whose(item, labels),
		date_format_plain(day, until, sizeof until), closes[0] != '\0' ? "; " : "", closes);
	out->wrote = true;
}

static void set_aside(struct review_state *state, struct context *context, struct effect *out)
{
	struct fault why;
	char labels[WHOSE_SIZE];
	const char *reason = text_trim_in_place(state->reason.text);
	const struct review_item *item = open_item(state, out);
	if (item == NULL)
		return;
	if (reason[0] == '\0') {
		effect_say(out, "say in a few words why; Esc leaves it as it is");
		return;
	}
	if (work_set_aside_all(context->session->yard, keys_of(item, context->arena), item->group,
		    reason, &why) != STATUS_OK) {
		effect_say(out, "%s", why.text);
		return;
	}
	state->reasoning = false;
	state->set_aside += item->group;
	answered(state, item);
	effect_say(out, "%s: set aside: %s", whose(item, labels), reason);
	out->wrote = true;
}

static void ask_reason(struct review_state *state, struct effect *out)
{
	if (open_item(state, out) == NULL)
		return;
	state->reasoning = true;
	edit_start(&state->reason, TEXT_SIZE - 1);
}

/* The line that settles it, at its tree; saved, it comes back here. */
static void push_line(struct review_state *state, bool filled, struct effect *out)
{
	char argument[ID_SIZE + sizeof((struct flag *)NULL)->fills + sizeof "\t\tback"];
	const bool answers = filled || state->asked[0] != '\0';
	const struct review_item *item = answers ? open_item(state, out) : review_selected(state);
	if (item == NULL)
		return;
	if (item->flag.tree_id[0] == '\0') {
		effect_say(out, "this is about %d trees: log it at each of them, on the walk",
			item->trees);
		return;
	}
	struct text_builder text = text_builder_fixed(argument, sizeof argument);
	text_add_format(&text, "%s\t%s%s", item->flag.tree_id, filled ? item->flag.fills : "",
		filled ? "\tback" : "");
	if (filled)
		text_copy(state->doing, sizeof state->doing, item->flag.key);
	if (filled && item->flag.fills[0] == '\0')
		effect_say(out, "no one line settles this: log what was done, or set it aside");
	else if (filled && item->group > 1)
		effect_say(out, "%s, the first of %d: Enter saves it and goes back to the review",
			item->flag.label, item->group);
	else if (filled)
		effect_say(out, "Enter saves it and goes back to the review");
	effect_push(out, "walk", argument);
}

static void open_selected(struct review_state *state, struct context *context, struct effect *out)
{
	const struct review_item *item = review_selected(state);
	if (item != NULL && item->flag.tree_id[0] != '\0') {
		effect_push(out, "tree", item->flag.tree_id);
	} else if (item == NULL && state->shown_count > 0) {
		state->notes_open = true;
		list_anew(state, context->arena);
	}
}

static void show_anew(struct review_state *state, struct context *context, struct effect *out)
{
	struct fault why;
	int32_t gone = state->gone;
	if (review_read(state, context, &why) != STATUS_OK)
		effect_say(out, "%s", why.text);
	state->gone = gone;
}

/* --- keys --- */

static bool is_moving(enum action action)
{
	return action == ACTION_UP || action == ACTION_DOWN || action == ACTION_PAGE_UP ||
	       action == ACTION_PAGE_DOWN || action == ACTION_FIRST || action == ACTION_LAST;
}

static void review_act(
	void *screen, struct context *context, enum action action, struct effect *out)
{
	struct review_state *state = screen;
	state->doing[0] = '\0'; /* came back without it */
	if (state->reasoning && action == ACTION_OPEN) {
		set_aside(state, context, out);
	} else if (state->reasoning) {
		state->reasoning = action != ACTION_BACK;
	} else if (is_moving(action)) {
		move(state, context, action);
	} else if (action == ACTION_OPEN) {
		open_selected(state, context, out);
	} else if (action == ACTION_DONE || action == ACTION_LINE) {
		push_line(state, action == ACTION_DONE, out);
	} else if (action == ACTION_PUT_OFF) {
		put_off(state, context, out);
	} else if (action == ACTION_SET_ASIDE) {
		ask_reason(state, out);
	} else if (action == ACTION_WHY) {
		state->why = !state->why;
	} else if (action == ACTION_NOTES) {
		state->notes_open = !state->notes_open;
		list_anew(state, context->arena);
	} else if (action == ACTION_ALL) {
		state->all = !state->all;
		show_anew(state, context, out);
	} else if (action == ACTION_NEXT_PART && state->asked[0] == '\0') {
		state->order = review_order_after(state->order);
		show_anew(state, context, out);
	} else {
		effect_usual(out);
	}
}

static void review_type(
	void *screen, struct context *context, const struct input *input, struct effect *out)
{
	struct review_state *state = screen;
	(void)context;
	(void)field_take(&state->reason, input, out);
}

static const char *review_typed(const void *screen)
{
	const struct review_state *state = screen;
	return state->reasoning ? state->reason.text : NULL;
}

static const struct key_row keys[] = {
	{'d', ACTION_DONE, false},
	{'p', ACTION_PUT_OFF, false},
	{'x', ACTION_SET_ASIDE, false},
	{'w', ACTION_WHY, false},
	{'n', ACTION_NOTES, false},
	{'a', ACTION_ALL, false},
	{'l', ACTION_LINE, false},
	{KEYS_TAB, ACTION_NEXT_PART, false},
	{KEYS_ESCAPE, ACTION_BACK, false},
	{0, ACTION_NONE, false},
};

const struct screen screen_review = {
	.name = "review",
	.title = "Review",
	.purpose = "what is due or was ill-timed, worst first, with its reason and its source",
	.state_size = sizeof(struct review_state),
	.takes_text = true,
	.least_rows = 12,
	.least_columns = 40,
	.open = review_open,
	.reread = review_read,
	.draw = review_draw,
	.act = review_act,
	.type = review_type,
	.close = review_close,
	.keys = keys,
	.typed = review_typed,
	.settle = review_settle,
};
