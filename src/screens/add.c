/* SPDX-License-Identifier: MIT */
/* Adding trees: one, or a row of them, and then the next. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/text.h"
#include "add_rows.h"
#include "form.h"

enum { FIELD_LABELS, FIELD_SORT, FIELD_DAY, FIELDS };
enum { ADDED_SHOWN = 12 };

static const struct form_field fields[FIELDS] = {
	{"label", "what you call the place it stands in: A3, or a row of them: A1..A12",
		LABEL_CHARACTERS_MAX * 2},
	{"kind", "apple, or apple, Gravenstein; blank where you do not know", 80},
	{"planted", "2014, about 2012, March 2020, in the 90s; blank where you do not know", 60},
};

struct add {
	struct form form;
	bool again; /* a tree was added: kind and day still stand from it */
	char added[ADDED_SHOWN][FAULT_TEXT_SIZE]; /* newest first */
	int32_t count;
};

static enum status add_open(
	void *state, struct context *context, const char *argument, struct fault *why)
{
	struct add *add = state;
	form_start(&add->form, fields, FIELDS);
	form_split(&add->form, argument);
	if (store_is_read_only(context->session->store))
		return fault_set(why, STATUS_DENIED, "this log can be read but not written");
	return STATUS_OK;
}

static enum status add_reread(void *state, struct context *context, struct fault *why)
{
	(void)state;
	(void)context;
	(void)why;
	return STATUS_OK;
}

static void add_draw(const void *state, struct paper *paper)
{
	const struct add *add = state;
	int row = form_draw(&add->form, paper, 0);
	if (add->again && add->form.at == FIELD_LABELS)
		row += paper_wrap(paper, row, 2, 0, 2, STYLE_PLAIN,
			"Enter twice adds this one, of the same kind and day");
	row++;
	for (int32_t i = 0; i < add->count && row < paper_rows(paper); i++)
		row += paper_wrap(paper, row, 2, 0, 2, STYLE_PLAIN, add->added[i]);
}

/* --- adding --- */

static enum status read_fields(const struct add *add, struct context *context,
	struct new_tree *tree, struct label_range *range, struct fault *why)
{
	const struct add_words words = {.labels = form_text(&add->form, FIELD_LABELS),
		.sort = form_text(&add->form, FIELD_SORT),
		.planted = form_text(&add->form, FIELD_DAY)};
	return add_rows_read(&words, context->session, tree, range, why);
}

static void tell(struct add *add, const struct label_range *range, const char *asked)
{
	char words[2 * LABEL_SIZE + 24];
	memmove(add->added[1], add->added[0], (ADDED_SHOWN - 1) * sizeof add->added[0]);
	if (add->count < ADDED_SHOWN)
		add->count++;
	struct text_builder said = text_builder_fixed(add->added[0], sizeof add->added[0]);
	text_add_format(&said, "added %s", add_rows_words(range, words, sizeof words));
	if (asked[0] != '\0')
		text_add_format(&said, "; %s", asked);
}

/* The label after the last one, where it ends in a number. */
static void suggest(struct add *add, const struct label_range *range)
{
	char label[LABEL_SIZE];
	char next[LABEL_SIZE] = "";
	(void)label_range_at(range, range->count - 1, label);
	size_t digits = strlen(label);
	while (digits > 0 && label[digits - 1] >= '0' && label[digits - 1] <= '9')
		digits--;
	const long number = strtol(label + digits, NULL, 10);
	if (label[digits] != '\0' && strlen(label + digits) < 9) {
		struct text_builder builder = text_builder_fixed(next, sizeof next);
		text_add_n(&builder, label, digits);
		text_add_format(&builder, "%ld", number + 1);
	}
	form_load(&add->form, FIELD_LABELS, next);
	form_go(&add->form, FIELD_LABELS);
}

static void finish(struct add *add, struct context *context, struct effect *out)
{
	struct arena *arena = arena_new();
	struct new_tree *tree = arena_alloc(arena, sizeof *tree);
	struct label_range range;
	char asked[TEXT_SIZE] = "";
	struct fault why;
	enum status status = read_fields(add, context, tree, &range, &why);
	if (status == STATUS_OK)
		status = add_rows_keep(context->session, tree, &range, asked, &why);
	if (status == STATUS_OK) {
		out->wrote = true;
		tell(add, &range, asked);
		suggest(add, &range);
		add->again = true;
		effect_say(out, "%.200s; u in the yard takes it back", add->added[0]);
	} else {
		effect_say(out, "not added: %s", why.text);
	}
	arena_free(arena);
}

/* --- acting --- */

/* Each field is looked at where its answer was typed. */
static void check_here(struct add *add, struct context *context, struct effect *out)
{
	struct arena *arena = arena_new();
	struct new_tree *tree = arena_alloc(arena, sizeof *tree);
	struct label_range range;
	struct fault why;
	if (read_fields(add, context, tree, &range, &why) != STATUS_OK)
		effect_say(out, "%s", why.text);
	else if (add->again && add->form.at == FIELD_LABELS)
		form_go(&add->form, FIELD_DAY);
	else
		form_go(&add->form, add->form.at + 1);
	arena_free(arena);
}

static void add_act(void *state, struct context *context, enum action action, struct effect *out)
{
	struct add *add = state;
	switch ((int)action) {
	case ACTION_NEXT_FIELD:
		if (add->form.at == FIELD_DAY)
			finish(add, context, out);
		else
			check_here(add, context, out);
		break;
	case ACTION_UP:
		form_go(&add->form, add->form.at - 1);
		break;
	case ACTION_DOWN:
	case ACTION_NEXT_PART:
		form_go(&add->form,
			action == ACTION_DOWN ? add->form.at + 1 : (add->form.at + 1) % FIELDS);
		break;
	case ACTION_BACK:
		out->kind = EFFECT_POP;
		break;
	default:
		effect_usual(out);
		break;
	}
}

static void add_type(
	void *state, struct context *context, const struct input *input, struct effect *out)
{
	struct add *add = state;
	(void)context;
	(void)form_take(&add->form, input, out);
}

static const char *add_typed(const void *state)
{
	const struct add *add = state;
	return form_text(&add->form, add->form.at);
}

static void add_draft(const void *state, char *out, size_t size)
{
	const struct add *add = state;
	out[0] = '\0';
	if (!add->again) /* what stands there after that came from us */
		form_join(&add->form, out, size);
}

/* clang-format off */
static const struct key_row add_keys[] = {
	{KEYS_ENTER, ACTION_NEXT_FIELD, false},
	{KEYS_DOWN, ACTION_DOWN, false},
	{KEYS_UP, ACTION_UP, false},
	{KEYS_TAB, ACTION_NEXT_PART, false},
	{KEYS_ESCAPE, ACTION_BACK, false},
	{'?', ACTION_HELP, true},
	{0, ACTION_NONE, false},
};
/* clang-format on */

const struct screen screen_add = {
	.name = "add",
	.title = "Add trees",
	.purpose = "adds trees: one, or a row of them in one line",
	.state_size = sizeof(struct add),
	.takes_text = true,
	.least_rows = 15,
	.least_columns = 60,
	.open = add_open,
	.reread = add_reread,
	.draw = add_draw,
	.act = add_act,
	.type = add_type,
	.keys = add_keys,
	.typed = add_typed,
	.draft = add_draft,
};
