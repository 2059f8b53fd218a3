/* SPDX-License-Identifier: MIT */
/* The shed: products to feed and spray with, containers to pick into; a form for each. */
#include "shed.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "dossier/shed.h"
#include "list.h"

enum { HEAD_CELLS = 11, HEAD_ROWS = 1 };

struct shed_page {
	struct list list;
	const char **names; /* of the rows */
	int32_t products;   /* how many of them come first; the rest are containers */
	bool telling;       /* the form is open */
	bool asked;         /* whether what it says may be left */
	struct shed_form form;
};

/* --- reading --- */

static enum status read_shed(struct shed_page *page, struct context *context, struct fault *why)
{
	struct session *session = context->session;
	struct arena *arena = context->arena;
	struct product *products = NULL;
	struct container *containers = NULL;
	struct container_weight *weights = NULL;
	int32_t count = 0, weight_count = 0;
	arena_reset(arena);
	page->list.count = 0;
	enum status status =
		store_product_list(session->store, arena, &products, &page->products, why);
	if (status == STATUS_OK)
		status = store_container_list(
			session->store, arena, &containers, &count, &weights, &weight_count, why);
	if (status != STATUS_OK)
		return status;
	page->list.rows =
		arena_array(arena, (size_t)(page->products + count) + 1, sizeof page->list.rows[0]);
	page->names =
		arena_array(arena, (size_t)(page->products + count) + 1, sizeof page->names[0]);
	for (int32_t i = 0; i < page->products; i++)
		page->names[i] = products[i].name;
	for (int32_t i = 0; i < count; i++)
		page->names[page->products + i] = containers[i].name;
	for (int32_t i = 0; i < page->products; i++)
		page->list.rows[page->list.count++] = (struct list_row){.id = products[i].id,
			.head = "product",
			.text = arena_format(arena, "%s: %s", products[i].name,
				shed_product_words(&products[i], session, arena)),
			.more = products[i].elements};
	for (int32_t i = 0; i < count; i++)
		page->list.rows[page->list.count++] = (struct list_row){.id = containers[i].id,
			.head = "container",
			.text = arena_format(arena, "%s%s%s", containers[i].name,
				containers[i].volume_ul.known ? ": " : "",
				shed_container_words(&containers[i], session, arena)),
			.more = shed_weight_words(
				&containers[i], weights, weight_count, session, arena)};
	return STATUS_OK;
}

/* A form that was left unsaved stands open again: which it was, of what, and its fields. */
static void take_up_draft(struct shed_page *page, struct context *context, const char *draft)
{
	char id[ID_SIZE];
	const char *rest = draft + strcspn(draft, "\t");
	if (*rest == '\0')
		return;
	const char *fields = rest + 1 + strcspn(rest + 1, "\t");
	if (*fields == '\0' || !text_copy_n(id, sizeof id, rest + 1, (size_t)(fields - rest - 1)))
		return;
	shed_form_start(&page->form, draft[0] == 'c');
	page->telling =
		id[0] == '\0' || shed_form_load(&page->form, context->session, id, context->arena);
	if (page->telling)
		form_split(&page->form.form, fields + 1);
}

static enum status shed_open(
	void *screen, struct context *context, const char *argument, struct fault *why)
{
	struct shed_page *page = screen;
	enum status status = read_shed(page, context, why);
	if (status == STATUS_OK)
		take_up_draft(page, context, argument);
	return status;
}

static enum status shed_reread(void *screen, struct context *context, struct fault *why)
{
	struct shed_page *page = screen;
	char id[LIST_ID_SIZE];
	list_keep(&page->list, id);
	enum status status = read_shed(page, context, why);
	if (status == STATUS_OK)
		list_go(&page->list, id);
	return status;
}

static void shed_settle(void *screen, struct context *context)
{
	struct shed_page *page = screen;
	list_clamp(&page->list, HEAD_CELLS, context->rows - HEAD_ROWS, context->columns);
}

/* --- showing --- */

static void shed_draw(const void *screen, struct paper *paper)
{
	const struct shed_page *page = screen;
	if (page->telling) {
		(void)paper_format(paper, 0, 2, 0, STYLE_PLAIN, "%s %s",
			page->form.id[0] == '\0' ? "A new" : "This",
			page->form.is_container ? "container" : "product");
		(void)form_draw(&page->form.form, paper, HEAD_ROWS);
		return;
	}
	if (page->list.count == 0) {
		(void)paper_wrap(paper, 0, 2, 0, 4, STYLE_PLAIN,
			"Nothing is kept here yet: n adds a product, so that what it holds is "
			"reckoned; c a container, so that picks counted in it have a weight.");
		paper_cursor(paper, 0, 0);
		return;
	}
	(void)paper_put(paper, 0, 2, 0, STYLE_PLAIN, "What you feed and spray with, and pick into");
	list_draw(&page->list, paper, HEAD_ROWS, paper_rows(paper), HEAD_CELLS);
}

/* --- acting --- */

static void tell(struct shed_page *page, struct context *context, const char *id, bool is_container,
	struct effect *out)
{
	if (store_is_read_only(context->session->store)) {
		effect_say(out, "this log can be read but not written");
		return;
	}
	shed_form_start(&page->form, is_container);
	page->asked = false;
	page->telling =
		id[0] == '\0' || shed_form_load(&page->form, context->session, id, context->arena);
}

static void keep(struct shed_page *page, struct context *context, struct effect *out)
{
	struct fault why;
	page->asked = false;
	if (!shed_form_differs(&page->form)) {
		effect_say(out, "nothing was changed");
	} else if (shed_form_keep(&page->form, context->session, &why) != STATUS_OK) {
		effect_say(out, "not saved: %s", why.text);
		return;
	} else {
		out->wrote = true;
		effect_say(out, "saved, u takes it back");
	}
	page->telling = false;
}

static void act_in_form(
	struct shed_page *page, struct context *context, enum action action, struct effect *out)
{
	struct form *form = &page->form.form;
	switch ((int)action) {
	case ACTION_OPEN:
		keep(page, context, out);
		break;
	case ACTION_UP:
		form_go(form, form->at - 1);
		break;
	case ACTION_DOWN:
		form_go(form, form->at + 1);
		break;
	case ACTION_NEXT_PART:
		form_go(form, (form->at + 1) % SHED_FIELDS);
		break;
	case ACTION_BACK:
		if (shed_form_differs(&page->form) && !page->asked) {
			page->asked = true;
			effect_say(out, "not saved: Enter saves it, Esc once more leaves it");
			break;
		}
		page->telling = false;
		break;
	default:
		break;
	}
}

static void remove_row(struct shed_page *page, struct context *context, struct effect *out)
{
	const struct list_row *row = list_selected(&page->list);
	char name[NAME_SIZE];
	struct fault why;
	if (row == NULL)
		return;
	(void)text_copy(name, sizeof name, page->names[page->list.selected]);
	const char *table = page->list.selected < page->products ? "product" : "container";
	if (shed_remove(context->session->yard, table, row->id, name, &why) != STATUS_OK) {
		effect_say(out, "%s", why.text);
		return;
	}
	out->wrote = true;
	effect_say(out, "%s %s removed; entries that name it stay (u brings it back)", table, name);
}

static void shed_act(void *screen, struct context *context, enum action action, struct effect *out)
{
	struct shed_page *page = screen;
	const struct list_row *row = list_selected(&page->list);
	if (page->telling)
		act_in_form(page, context, action, out);
	else if (action == ACTION_NEW_PRODUCT || action == ACTION_NEW_CONTAINER)
		tell(page, context, "", action == ACTION_NEW_CONTAINER, out);
	else if (action == ACTION_OPEN && row != NULL)
		tell(page, context, row->id, page->list.selected >= page->products, out);
	else if (action == ACTION_REMOVE)
		remove_row(page, context, out);
	else if (!list_act(&page->list, action, context->rows - HEAD_ROWS))
		effect_usual(out);
}

static void shed_type(
	void *screen, struct context *context, const struct input *input, struct effect *out)
{
	struct shed_page *page = screen;
	(void)context;
	page->asked = false;
	(void)form_take(&page->form.form, input, out);
}

static const char *shed_typed(const void *screen)
{
	const struct shed_page *page = screen;
	return page->telling ? form_text(&page->form.form, page->form.form.at) : NULL;
}

static void shed_draft(const void *screen, char *out, size_t size)
{
	const struct shed_page *page = screen;
	struct text_builder draft = text_builder_fixed(out, size);
	char fields[LINE_SIZE];
	text_add(&draft, "");
	if (!page->telling || !shed_form_differs(&page->form))
		return;
	form_join(&page->form.form, fields, sizeof fields);
	text_add_format(&draft, "%s\t%s\t%s", page->form.is_container ? "container" : "product",
		page->form.id, fields);
}

/* clang-format off */
static const struct key_row keys[] = {
	{KEYS_ENTER, ACTION_OPEN, false},
	{'n', ACTION_NEW_PRODUCT, false},
	{'c', ACTION_NEW_CONTAINER, false},
	{'x', ACTION_REMOVE, false},
	{KEYS_UP, ACTION_UP, false},
	{KEYS_DOWN, ACTION_DOWN, false},
	{KEYS_TAB, ACTION_NEXT_PART, false},
	{KEYS_ESCAPE, ACTION_BACK, false},
	{0, ACTION_NONE, false},
};
/* clang-format on */

const struct screen screen_shed = {
	.name = "shed",
	.title = "Shed",
	.purpose = "products and containers: what a bag holds, what a full bucket weighs",
	.state_size = sizeof(struct shed_page),
	.takes_text = true,
	.least_rows = 12,
	.least_columns = 50,
	.open = shed_open,
	.reread = shed_reread,
	.draw = shed_draw,
	.act = shed_act,
	.type = shed_type,
	.keys = keys,
	.typed = shed_typed,
	.settle = shed_settle,
	.draft = shed_draft,
};
