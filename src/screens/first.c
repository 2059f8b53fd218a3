/* SPDX-License-Identifier: MIT */
/* The first run: no log yet. Four questions and then the first trees, or the demo yard beside. */
#include <string.h>
#include <unistd.h>

#include "core/file.h"
#include "core/text.h"
#include "first_place.h"
#include "form.h"
#include "report/demo.h"

enum { ANSWER_NAME, ANSWER_WHERE, ANSWER_CLIMATE, ANSWER_UNITS, ANSWERS };

static const struct form_field questions[ANSWERS] = {
	{"What is the place called?", "any name: Hill yard", 80},
	{"Where is it?",
		"its latitude, 38.2 or -33.5, or just north or south (of the equator); without it "
		"no "
		"date is given",
		40},
	{"When is it wet, how are its winters?",
		"wet in winter, summer, all or little; winters hard, frosty or mild: summer frosty",
		40},
	{"Which units?", "us for pounds and feet, si for kilos and metres", 20},
};

struct first {
	bool asking; /* else it offers what can be done */
	struct form form;
	char path[FILE_PATH_SIZE];
	char demo[FILE_PATH_SIZE]; /* the demo yard's, beside it */
	bool is_default;           /* nobody named the log */
};

static enum status first_open(
	void *state, struct context *context, const char *argument, struct fault *why)
{
	struct first *first = state;
	(void)argument;
	form_start(&first->form, questions, ANSWERS);
	first->is_default = context->options->path == NULL;
	if (first->is_default) {
		const enum status status = file_default_log_path(first->path, why);
		if (status != STATUS_OK)
			return status;
	} else if (!text_copy(first->path, sizeof first->path, context->options->path)) {
		return fault_set(why, STATUS_RANGE, "the path of the log is too long");
	}
	const char *slash = strrchr(first->path, '/');
	const size_t folder = slash == NULL ? 0 : (size_t)(slash - first->path) + 1;
	struct text_builder demo = text_builder_fixed(first->demo, sizeof first->demo);
	text_add_n(&demo, first->path, folder);
	text_add(&demo, "demo.bough");
	return STATUS_OK;
}

static enum status first_reread(void *state, struct context *context, struct fault *why)
{
	(void)state;
	(void)context;
	(void)why;
	return STATUS_OK;
}

static void first_draw(const void *state, struct paper *paper)
{
	const struct first *first = state;
	if (first->asking) {
		const int row = form_draw(&first->form, paper, 1);
		(void)paper_wrap(paper, row + 1, 2, 0, 3, STYLE_PLAIN,
			"Only the name is needed; the rest can be left blank and told later. Enter "
			"goes "
			"on; after the last one the log is made and your first trees are asked "
			"for.");
		return;
	}
	int row = 1;
	(void)paper_put(paper, row, 2, 0, STYLE_TITLE, "No log yet");
	row += 2;
	row += paper_wrap(paper, row, 2, 0, 2, STYLE_PLAIN, first->path);
	row++;
	(void)paper_put(paper, row, 2, 0, STYLE_PLAIN, "Enter  begins yours: four short questions");
	paper_cursor(paper, row, 2);
	(void)paper_put(paper, row + 1, 2, 0, STYLE_PLAIN,
		"d      opens an invented yard to look round in, beside it");
	(void)paper_put(paper, row + 2, 2, 0, STYLE_PLAIN, "q      leaves; nothing is made");
}

/* --- the log --- */

static enum status read_answers(const struct first *first, struct place *place, struct fault *why)
{
	*place = (struct place){.id = ""};
	(void)text_copy(place->name, sizeof place->name, form_text(&first->form, ANSWER_NAME));
	(void)text_trim_in_place(place->name);
	if (place->name[0] == '\0')
		return fault_set(why, STATUS_SYNTAX, "a place wants a name, any name");
	enum status status = first_read_where(form_text(&first->form, ANSWER_WHERE), place, why);
	if (status == STATUS_OK)
		status = first_read_climate(form_text(&first->form, ANSWER_CLIMATE), place, why);
	if (status == STATUS_OK)
		status = first_read_units(form_text(&first->form, ANSWER_UNITS), place, why);
	return status;
}

static enum status make_log(const struct first *first, struct context *context, struct fault *why)
{
	struct clock clock = context->options->clock;
	const struct store_options options = {.clock = &clock};
	struct store *store = NULL;
	struct place place;
	enum status status = read_answers(first, &place, why);
	if (status == STATUS_OK && first->is_default)
		status = file_make_folders(first->path, why);
	if (status == STATUS_OK)
		status = store_create(first->path, &options, &place, &store, why);
	store_close(store);
	return status;
}

static void open_demo(const struct first *first, struct context *context, struct effect *out)
{
	char said[TEXT_SIZE] = "";
	struct fault why;
	struct clock clock = context->options->clock;
	enum status status = first->is_default ? file_make_folders(first->demo, &why) : STATUS_OK;
	if (status == STATUS_OK && access(first->demo, F_OK) != 0)
		status = demo_write(
			first->demo, context->options->almanac, clock_today(&clock), said, &why);
	if (status != STATUS_OK) {
		effect_say(out, "%s", why.text);
		return;
	}
	effect_say(out, "an invented yard, kept in %.300s", first->demo);
	out->kind = EFFECT_START;
	out->screen = "yard";
	(void)text_copy(out->argument, sizeof out->argument, first->demo);
}

/* --- acting --- */

static void next(struct first *first, struct context *context, struct effect *out)
{
	struct fault why;
	struct place place;
	const bool is_last = first->form.at == ANSWERS - 1;
	enum status status = read_answers(first, &place, &why);
	if (status == STATUS_OK && is_last)
		status = make_log(first, context, &why);
	if (status != STATUS_OK) {
		effect_say(out, "%s", why.text);
	} else if (is_last) {
		effect_say(
			out, "the log is made; now the trees, one or a row at a time; Esc ends it");
		out->kind = EFFECT_START;
		out->screen = "add";
	} else {
		form_go(&first->form, first->form.at + 1);
	}
}

static void first_act(void *state, struct context *context, enum action action, struct effect *out)
{
	struct first *first = state;
	switch ((int)action) {
	case ACTION_NEXT_FIELD:
		if (first->asking)
			next(first, context, out);
		first->asking = true;
		break;
	case ACTION_DEMO:
		open_demo(first, context, out);
		break;
	case ACTION_UP:
		form_go(&first->form, first->form.at - 1);
		break;
	case ACTION_DOWN:
		form_go(&first->form, first->form.at + 1);
		break;
	case ACTION_NEXT_PART:
		form_go(&first->form, (first->form.at + 1) % ANSWERS);
		break;
	case ACTION_BACK:
		first->asking = false;
		break;
	default:
		effect_usual(out);
		break;
	}
}

static void first_type(
	void *state, struct context *context, const struct input *input, struct effect *out)
{
	struct first *first = state;
	(void)context;
	(void)form_take(&first->form, input, out);
}

static const char *first_typed(const void *state)
{
	const struct first *first = state;
	return first->asking ? form_text(&first->form, first->form.at) : NULL;
}

/* clang-format off */
static const struct key_row first_keys[] = {
	{KEYS_ENTER, ACTION_NEXT_FIELD, false},
	{'d', ACTION_DEMO, false},
	{KEYS_TAB, ACTION_NEXT_PART, false},
	{KEYS_ESCAPE, ACTION_BACK, false},
	{0, ACTION_NONE, false},
};
/* clang-format on */

const struct screen screen_first = {
	.name = "first",
	.title = "Boughbook",
	.purpose = "begins a log: four questions, or the demo yard",
	.state_size = sizeof(struct first),
	.takes_text = true,
	.least_rows = 15,
	.least_columns = 60,
	.open = first_open,
	.reread = first_reread,
	.draw = first_draw,
	.act = first_act,
	.type = first_type,
	.keys = first_keys,
	.typed = first_typed,
};
