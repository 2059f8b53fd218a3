/* SPDX-License-Identifier: MIT */
/* The walk: tree by tree along the route, what was done there last, and one line to type. */
#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "report/walk_route.h"
#include "field.h"
#include "found.h"
#include "walk_line.h"
#include "walk_progress.h"
#include "walk_tree.h"

enum { FIND_CHARACTERS = 40, CTRL_R = 18, CTRL_X = 24 };

static const char position_key[] = "walk-at";
/* A held Backspace empties the line and goes no further: only one after a pause takes back work. */
static const double backspace_pause_s = 0.3;

struct walk {
	struct walk_route route;
	int32_t at;    /* on the route */
	int32_t trees; /* standing when the route was read */
	struct walk_tree tree;
	bool tree_known;
	struct walk_progress progress;
	int32_t first_entry; /* shown */
	struct edit line;
	struct walk_reading reading;
	char read_line[EDIT_SIZE]; /* the line that `reading` is of */
	bool reading_known;
	char last_line[EDIT_SIZE]; /* logged last for one tree */
	char kept_id[ID_SIZE];     /* the position as it lies in the log */
	bool finding;
	struct edit find;
	struct found found;
	bool found_known;
	bool returns;        /* sent by the review: back there with the line saved */
	bool asked_to_leave; /* Esc with a line unsaved was said */
	double backspace_s;
	struct fault fault; /* the tree could not be read */
};

/* --- where it stands --- */

static const char *id_at(const struct walk *walk)
{
	return walk->route.count > 0 ? walk->route.ids[walk->at] : "";
}

static void go(struct walk *walk, int32_t at)
{
	walk->at = at < 0 ? 0 : at >= walk->route.count ? walk->route.count - 1 : at;
	if (walk->at < 0)
		walk->at = 0;
	walk->tree_known = false;
	walk->reading_known = false;
	walk->first_entry = 0;
	walk->returns = false; /* walking on */
}

static enum status read_route(struct walk *walk, struct context *context, struct fault *why)
{
	const struct tree_query all = {.most = 0};
	arena_reset(context->arena);
	walk->route = (struct walk_route){.count = 0};
	enum status status = store_tree_count(context->session->store, &all, &walk->trees, why);
	if (status == STATUS_OK)
		status =
			walk_route_read(context->session->store, context->arena, &walk->route, why);
	walk->tree_known = false;
	return status;
}

/* A line handed over may begin with the label, which stands before the line already. */
static void load_line(struct walk *walk, struct session *session, const char *line)
{
	struct tree tree;
	struct fault why;
	if (store_tree_load(session->store, id_at(walk), &tree, &why) == STATUS_OK) {
		const size_t length = strlen(tree.label);
		if (strncmp(line, tree.label, length) == 0 && line[length] == ' ')
			line += length + 1;
	}
	(void)edit_load(&walk->line, line, LINE_SIZE - LABEL_SIZE);
}

static void resume(struct walk *walk, struct session *session)
{
	struct arena *arena = arena_new();
	const char *id = "";
	struct fault why;
	if (store_walk_get(session->store, position_key, arena, &id, &why) == STATUS_OK) {
		go(walk, walk_route_place(&walk->route, id));
		(void)text_copy(walk->kept_id, sizeof walk->kept_id, id);
	}
	arena_free(arena);
}

/* argument: "" the place of last time, or a tree's id, or "ID TAB LINE" with the line filled in;
 * "ID TAB LINE TAB back" goes back to the review once a line is saved. */
static enum status walk_open(
	void *state, struct context *context, const char *argument, struct fault *why)
{
	struct walk *walk = state;
	char id[LINE_SIZE];
	char line[LINE_SIZE] = "";
	bool returns = false;
	const size_t length = strcspn(argument, "\t");
	(void)text_copy_n(id, sizeof id, argument, length);
	if (argument[length] == '\t') {
		const char *rest = argument + length + 1;
		const size_t line_length = strcspn(rest, "\t");
		(void)text_copy_n(line, sizeof line, rest, line_length);
		returns = strcmp(rest + line_length, "\tback") == 0;
	}
	edit_start(&walk->line, LINE_SIZE - LABEL_SIZE);
	edit_start(&walk->find, FIND_CHARACTERS);
	const enum status status = read_route(walk, context, why);
	if (status != STATUS_OK)
		return status;
	if (walk->route.count == 0)
		return fault_set(why, STATUS_ABSENT, "no trees to walk past yet: a adds them");
	const int32_t place = walk_route_place(&walk->route, id);
	if (place >= 0)
		go(walk, place);
	else
		resume(walk, context->session);
	if (line[0] != '\0')
		load_line(walk, context->session, line);
	walk->returns = returns;
	return STATUS_OK;
}

static enum status walk_reread(void *state, struct context *context, struct fault *why)
{
	struct walk *walk = state;
	char id[ID_SIZE];
	struct tree tree;
	int32_t trees;
	uint64_t sum;
	const struct tree_query all = {.most = 0};
	(void)text_copy(id, sizeof id, id_at(walk));
	walk->tree_known = false;
	walk->reading_known = false;
	enum status status = store_tree_count(context->session->store, &all, &trees, why);
	if (status != STATUS_OK)
		return status;
	status = walk_route_sum(context->session->store, &sum, why);
	if (status != STATUS_OK)
		return status;
	if (trees == walk->trees && sum == walk->route.sum &&
		store_tree_load(context->session->store, id, &tree, why) == STATUS_OK &&
		tree.gone.text[0] == '\0')
		return STATUS_OK;
	status = read_route(walk, context, why);
	if (status == STATUS_OK && walk->route.count == 0)
		status = fault_set(why, STATUS_ABSENT, "no tree stands any more");
	const int32_t place = walk_route_place(&walk->route, id);
	go(walk, place >= 0 ? place : walk->at);
	return status;
}

/* --- before a draw --- */

static void find_now(struct walk *walk, struct session *session)
{
	walk->found_known = true;
	found_look(&walk->found, session, walk->find.text);
}

static void walk_settle(void *state, struct context *context)
{
	struct walk *walk = state;
	if (!walk->tree_known) {
		walk->tree_known = true;
		walk->fault.text[0] = '\0';
		if (walk_tree_read(&walk->tree, context->session, id_at(walk), &walk->fault) !=
			STATUS_OK)
			walk->tree = (struct walk_tree){.id = ""};
		walk_progress_read(&walk->progress, context->session, walk->at, walk->route.count);
	}
	if (!walk->reading_known || strcmp(walk->read_line, walk->line.text) != 0) {
		walk->reading_known = true;
		(void)text_copy(walk->read_line, sizeof walk->read_line, walk->line.text);
		walk_line_read(&walk->reading, context->session, walk->tree.label, walk->line.text);
	}
	walk->tree.why_key = walk->line.length == 0 && !walk->finding;
	if (walk->finding && !walk->found_known)
		find_now(walk, context->session);
}

/* Keeps the place, so that a walk broken off goes on where it was. */
static bool walk_idle(void *state, struct context *context)
{
	struct walk *walk = state;
	struct fault why;
	if (store_is_read_only(context->session->store) || strcmp(walk->kept_id, id_at(walk)) == 0)
		return false;
	(void)text_copy(walk->kept_id, sizeof walk->kept_id, id_at(walk));
	if (store_walk_put(context->session->store, position_key, walk->kept_id, &why) != STATUS_OK)
		walk->kept_id[0] = '\0'; /* busy: with the next key */
	return false;
}

/* --- drawing --- */

static int reading_rows(int rows)
{
	return rows >= 18 ? 5 : 4;
}

static void draw_rule(const struct walk *walk, struct paper *paper, int row)
{
	char words[WALK_PROGRESS_SIZE];
	(void)walk_progress_words(&walk->progress, words);
	const int column = paper_columns(paper) - text_width(words) - 1;
	paper_rule(paper, row, 0, 0);
	(void)paper_put(paper, row, column, 0, STYLE_FAINT, words);
}

static void walk_draw(const void *state, struct paper *paper)
{
	const struct walk *walk = state;
	const int rows = paper_rows(paper);
	const int below = reading_rows(rows);
	const int line = rows - below - 1;
	const int ruled = rows >= 12 ? 1 : 0;
	char place[WALK_PROGRESS_SIZE];
	(void)walk_progress_place(&walk->progress, ruled == 0, place);
	if (walk->fault.text[0] != '\0')
		(void)paper_wrap(paper, 0, 0, 0, line, STYLE_STRONG, walk->fault.text);
	else
		walk_tree_draw(&walk->tree, paper, line - ruled, walk->first_entry, place);
	if (ruled > 0)
		draw_rule(walk, paper, line - 1);
	const int prompt = paper_columns(paper) / 3;
	if (walk->finding) {
		const int column = paper_put(paper, line, 0, prompt, STYLE_TITLE, "find:") + 1;
		field_draw(paper, line, column, 0, &walk->find, true);
		(void)paper_wrap(paper, line + 1, 0, 0, below, STYLE_PLAIN, walk->found.says);
		return;
	}
	const int column = paper_put(paper, line, 0, prompt, STYLE_TITLE, walk->tree.label) + 1;
	field_draw(paper, line, column, 0, &walk->line, true);
	walk_line_draw(&walk->reading, paper, line + 1, below);
}

/* --- acting --- */

static void log_line(struct walk *walk, struct context *context, const char *line, bool again,
	struct effect *out)
{
	struct work_logged logged;
	struct fault why;
	struct tree tree;
	if (store_tree_load(context->session->store, id_at(walk), &tree, &why) != STATUS_OK ||
		walk_line_log(context->session, tree.label, line, again ? tree.id : "", &logged,
			&why) != STATUS_OK) {
		effect_say(out, "not saved: %s", why.text);
		return;
	}
	effect_say(
		out, "saved, %s takes it back: %s", walk->returns ? "u" : "Backspace", logged.said);
	out->wrote = true;
	if (walk->returns) {
		out->kind = EFFECT_RETURN;
		out->screen = "review";
	}
	if (line != walk->last_line)
		(void)text_copy(walk->last_line, sizeof walk->last_line, line);
	edit_start(&walk->line, LINE_SIZE - LABEL_SIZE);
}

static void move(struct walk *walk, int32_t by, struct effect *out)
{
	if (walk->line.length > 0)
		effect_say(out, "the line is not saved: Enter saves it, Ctrl-U clears it");
	else if (walk->at + by >= walk->route.count)
		effect_say(out, "this is the last tree");
	else if (walk->at + by < 0)
		effect_say(out, "this is the first tree");
	else
		go(walk, walk->at + by);
}

static void end_find(struct walk *walk)
{
	walk->finding = false;
	edit_start(&walk->find, FIND_CHARACTERS);
}

static void find_act(
	struct walk *walk, struct context *context, enum action action, struct effect *out)
{
	if (action == ACTION_LINE) {
		find_now(walk, context->session);
		const int32_t place = walk_route_place(&walk->route, walk->found.id);
		if (place >= 0)
			go(walk, place);
		else
			effect_say(out, "no tree has these letters");
	} else if (action != ACTION_BACK && action != ACTION_UNDO) {
		return;
	}
	end_find(walk);
}

static void scroll(struct walk *walk, int32_t by)
{
	walk->first_entry += by;
	if (walk->first_entry >= walk->tree.entry_count)
		walk->first_entry = walk->tree.entry_count - 1;
	if (walk->first_entry < 0)
		walk->first_entry = 0;
}

static void undo(struct walk *walk, struct effect *out)
{
	const double now_s = clock_monotonic_s();
	const bool held = now_s - walk->backspace_s < backspace_pause_s;
	walk->backspace_s = now_s;
	if (!held)
		effect_usual(out);
}

static void back(struct walk *walk, struct effect *out)
{
	if (walk->line.length > 0 && !walk->asked_to_leave) {
		walk->asked_to_leave = true;
		effect_say(out,
			"the line is not saved: Enter saves it, Ctrl-U clears it, Esc again "
			"leaves it here for later");
		return;
	}
	out->kind = EFFECT_POP;
}

/* The walk goes on at the tree it stands at. */
static void shorten(const struct walk *walk, struct context *context, struct effect *out)
{
	char said[FAULT_TEXT_SIZE];
	struct fault why;
	if (walk->line.length > 0) {
		effect_say(out, "the line is not saved: Enter saves it, Ctrl-U clears it");
		return;
	}
	out->wrote = work_route_auto(context->session->yard, said, &why) == STATUS_OK;
	if (out->wrote)
		effect_say(out, "%s; Backspace takes it back", said);
	else
		effect_say(out, "%s", why.text);
}

/* Of the line that is typed, what it would raise; else what stands at the tree. */
static void why(const struct walk *walk, struct effect *out)
{
	char argument[LINE_SIZE];
	struct text_builder text = text_builder_fixed(argument, sizeof argument);
	const bool typed = walk->line.length > 0;
	text_add_format(&text, "%s\t%s", id_at(walk), walk->line.text);
	if (typed && walk->reading.asked[0] == '\0')
		effect_say(out, "no rule speaks against this line");
	else if (!typed && walk->tree.flag_count == 0)
		effect_say(out, "nothing is flagged at this tree");
	else
		effect_push(out, "review", argument);
}

static void walk_act(void *state, struct context *context, enum action action, struct effect *out)
{
	struct walk *walk = state;
	if (walk->finding) {
		find_act(walk, context, action, out);
		return;
	}
	switch ((int)action) {
	case ACTION_LINE:
		if (walk->line.length > 0)
			log_line(walk, context, walk->line.text, false, out);
		else
			move(walk, 1, out);
		break;
	case ACTION_DOWN:
		move(walk, 1, out);
		break;
	case ACTION_UP:
		move(walk, -1, out);
		break;
	case ACTION_PAGE_DOWN:
		scroll(walk, 3);
		break;
	case ACTION_PAGE_UP:
		scroll(walk, -3);
		break;
	case ACTION_SAME_AGAIN:
		if (walk->last_line[0] != '\0')
			log_line(walk, context, walk->last_line, true, out);
		else
			effect_say(out, "nothing was logged on this walk yet");
		break;
	case ACTION_FIND:
		walk->finding = true;
		walk->found_known = false;
		break;
	case ACTION_UNDO:
		undo(walk, out);
		break;
	case ACTION_BACK:
		back(walk, out);
		break;
	case ACTION_TREE:
		effect_push(out, "tree", id_at(walk));
		break;
	case ACTION_ROUTE:
		shorten(walk, context, out);
		break;
	case ACTION_WHY:
		why(walk, out);
		break;
	default:
		effect_usual(out);
		break;
	}
}

static void walk_type(
	void *state, struct context *context, const struct input *input, struct effect *out)
{
	struct walk *walk = state;
	(void)context;
	if (input->key == KEYS_BACKSPACE)
		walk->backspace_s = clock_monotonic_s();
	walk->asked_to_leave = false;
	if (walk->finding) {
		(void)field_take(&walk->find, input, out);
		walk->found_known = false;
	} else {
		(void)field_take(&walk->line, input, out);
	}
}

static const char *walk_typed(const void *state)
{
	const struct walk *walk = state;
	return walk->finding ? walk->find.text : walk->line.text;
}

static void walk_draft(const void *state, char *out, size_t size)
{
	const struct walk *walk = state;
	struct text_builder draft = text_builder_fixed(out, size);
	if (walk->line.length > 0)
		text_add_format(&draft, "%s\t%s", id_at(walk), walk->line.text);
}

/* clang-format off */
static const struct key_row walk_keys[] = {
	{KEYS_ENTER, ACTION_LINE, false},
	{KEYS_DOWN, ACTION_DOWN, false},
	{KEYS_UP, ACTION_UP, false},
	{'=', ACTION_SAME_AGAIN, true},
	{KEYS_BACKSPACE, ACTION_UNDO, true},
	{'/', ACTION_FIND, true},
	{KEYS_TAB, ACTION_TREE, false},
	{KEYS_ESCAPE, ACTION_BACK, false},
	{'!', ACTION_WHY, true},
	{KEYS_BACK_TAB, ACTION_WHY, false},
	{CTRL_R, ACTION_ROUTE, false},
	{CTRL_X, ACTION_EXPORT, false},
	{'?', ACTION_HELP, true},
	{0, ACTION_NONE, false},
};
/* clang-format on */

const struct screen screen_walk = {
	.name = "walk",
	.title = "Walk",
	.purpose = "tree by tree: what was done last, and one line to log what you do or see",
	.state_size = sizeof(struct walk),
	.takes_text = true,
	.least_rows = 12,
	.least_columns = 40,
	.open = walk_open,
	.reread = walk_reread,
	.draw = walk_draw,
	.act = walk_act,
	.type = walk_type,
	.keys = walk_keys,
	.typed = walk_typed,
	.settle = walk_settle,
	.idle = walk_idle,
	.draft = walk_draft,
};
