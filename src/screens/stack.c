/* SPDX-License-Identifier: MIT */
#include "stack.h"

#include <stdio.h>
#include <string.h>

#include "core/text.h"
#include "store/network.h"
#include "term.h"

struct page *stack_top(struct stack *stack)
{
	return &stack->pages[stack->depth - 1];
}

void stack_say(struct stack *stack, const char *text)
{
	(void)text_copy(stack->said, sizeof stack->said, text);
}

enum status stack_open_log(struct stack *stack, struct fault *why)
{
	struct session_options options = {
		.path = stack->path[0] != '\0' ? stack->path : stack->options->path,
		.almanac = stack->options->almanac,
		.clock = stack->options->clock,
		.units = stack->options->units,
	};
	struct fault denied = {.status = STATUS_OK};
	char caution[NETWORK_CAUTION_SIZE];
	enum status status = session_open(&options, &stack->session, &denied);
	if (status == STATUS_OK && network_caution(store_path(stack->session->store), caution))
		stack_say(stack, caution);
	if (status == STATUS_DENIED) {
		options.read_only = true;
		status = session_open(&options, &stack->session, why);
		if (status == STATUS_OK)
			stack_say(stack,
				"this log can be read but not written: nothing will be saved");
		return status;
	}
	if (status != STATUS_OK)
		return fault_set(why, status, "%s", denied.text);
	session_keep_flags(stack->session);
	return STATUS_OK;
}

/* --- pages --- */

static void close_page(struct page *page)
{
	if (page->screen->close != NULL)
		page->screen->close(page->state);
	block_free(page->state);
	arena_free(page->context.arena);
	*page = (struct page){.screen = NULL};
}

static bool is_writable(const struct stack *stack)
{
	return stack->session != NULL && !store_is_read_only(stack->session->store);
}

/* Of the screen, or of what it is opened on. */
static void name_draft(struct page *page, const char *argument)
{
	struct text_builder key = text_builder_fixed(page->draft_key, sizeof page->draft_key);
	text_add(&key, page->screen->name);
	if (page->screen->draft_each)
		text_add_format(&key, " %s", argument);
}

/* What to open a page with: the argument, else the unsaved text of last time. */
static const char *opening(struct stack *stack, struct page *page, const char *argument)
{
	const char *body = "";
	struct fault why;
	page->context.draft = "";
	name_draft(page, argument);
	if (page->screen->draft == NULL || stack->session == NULL)
		return argument;
	if (store_draft_load(stack->session->store, page->draft_key, page->context.arena, &body,
		    &why) != STATUS_OK)
		return argument;
	(void)text_copy(page->draft, sizeof page->draft, body);
	page->context.draft = page->draft;
	return argument[0] == '\0' ? body : argument;
}

static enum status open_page(
	struct stack *stack, const struct screen *screen, const char *argument, struct fault *why)
{
	struct page *page = &stack->pages[stack->depth];
	*page = (struct page){.screen = screen,
		.state = block_new(screen->state_size),
		.context = {.session = stack->session,
			.arena = arena_new(),
			.ascii = stack->options->ascii,
			.options = stack->options}};
	argument = opening(stack, page, argument);
	const enum status status = screen->open(page->state, &page->context, argument, why);
	if (status != STATUS_OK) {
		close_page(page);
		return status;
	}
	stack->depth++;
	return STATUS_OK;
}

enum status stack_push(
	struct stack *stack, const char *name, const char *argument, struct fault *why)
{
	const struct screen *screen = screen_find(name);
	if (screen == NULL)
		return fault_set(why, STATUS_ABSENT, "there is no screen '%s'", name);
	if (stack->depth > 0)
		(void)stack_keep_draft(stack);
	for (int i = 0; i < stack->depth; i++) {
		if (stack->pages[i].screen != screen)
			continue;
		while (stack->depth > i + 1)
			stack_pop(stack);
		if (i == 0 && argument[0] == '\0')
			return STATUS_OK;
		close_page(&stack->pages[i]);
		stack->depth = i;
		return open_page(stack, screen, argument, why);
	}
	if (stack->depth == PAGES_MAX)
		stack_pop(stack);
	return open_page(stack, screen, argument, why);
}

void stack_pop(struct stack *stack)
{
	(void)stack_keep_draft(stack);
	close_page(stack_top(stack));
	stack->depth--;
}

bool stack_pop_to(struct stack *stack, const char *name)
{
	if (strcmp(stack_top(stack)->screen->name, name) != 0 && stack->depth > 1)
		stack_pop(stack);
	return strcmp(stack_top(stack)->screen->name, name) == 0;
}

enum status stack_freshen(struct stack *stack, struct fault *why)
{
	while (stack->depth > 0) {
		struct page *page = stack_top(stack);
		page->context.session = stack->session;
		if (!page->stale)
			return STATUS_OK;
		page->stale = false;
		const enum status status = page->screen->reread(page->state, &page->context, why);
		if (status == STATUS_OK)
			return STATUS_OK;
		if (stack->depth == 1)
			return status;
		stack_say(stack, why->text);
		stack_pop(stack);
	}
	return STATUS_OK;
}

enum status stack_changed(struct stack *stack, struct fault *why)
{
	const enum status status = session_refresh(stack->session, why);
	for (int i = 0; i < stack->depth; i++)
		stack->pages[i].stale = true;
	return status == STATUS_OK ? stack_freshen(stack, why) : status;
}

bool stack_keep_draft(struct stack *stack)
{
	struct page *page = stack_top(stack);
	char body[LINE_SIZE] = "";
	struct fault why;
	if (page->screen->draft == NULL || !is_writable(stack))
		return true;
	page->screen->draft(page->state, body, sizeof body);
	if (strcmp(body, page->draft) == 0)
		return true;
	if (store_draft_save(stack->session->store, page->draft_key, body, &why) != STATUS_OK)
		return false;
	(void)text_copy(page->draft, sizeof page->draft, body);
	return true;
}

void stack_close(struct stack *stack)
{
	while (stack->depth > 0)
		stack_pop(stack);
	session_close(stack->session);
	stack->session = NULL;
}

/* --- what lies in the log beside the records --- */

/* "the Walk", or "the Facts of A3"; false: nothing waits there. */
static bool find_draft(struct stack *stack, const struct screen *screen, struct arena *arena,
	char *where, size_t size)
{
	struct store *store = stack->session->store;
	struct text_builder words = text_builder_fixed(where, size);
	char prefix[40];
	const char *found = "";
	struct tree tree;
	struct fault why;
	text_add_format(&words, "the %s", screen->title);
	if (screen->draft == NULL)
		return false;
	if (!screen->draft_each)
		return store_draft_load(store, screen->name, arena, &found, &why) == STATUS_OK;
	(void)snprintf(prefix, sizeof prefix, "%s ", screen->name);
	if (store_draft_find(store, prefix, arena, &found, &why) != STATUS_OK)
		return false;
	if (store_tree_load(store, found + strlen(prefix), &tree, &why) == STATUS_OK)
		text_add_format(&words, " of %s", tree.label);
	return true;
}

/* Text left unsaved waits where it was typed. */
static void tell_of_drafts(struct stack *stack, struct arena *arena)
{
	char where[LABEL_SIZE + 40];
	for (int i = 0; screen_at(i) != NULL; i++) {
		struct effect said = {.kind = EFFECT_STAY};
		if (!find_draft(stack, screen_at(i), arena, where, sizeof where))
			continue;
		effect_say(&said, "a line was left unsaved; it waits in %s", where);
		stack_say(stack, said.said);
	}
}

static const char scheme_place[] = "colours"; /* lies with the drafts: no screen has that name */

void stack_begun(struct stack *stack)
{
	struct arena *arena = arena_new();
	struct fault why;
	const char *name = "";
	if (!term_scheme_is_asked() && store_draft_load(stack->session->store, scheme_place, arena,
					       &name, &why) == STATUS_OK) {
		const enum scheme scheme = scheme_find(name);
		if (scheme < SCHEME_TOTAL)
			(void)term_set_scheme(scheme);
	}
	tell_of_drafts(stack, arena);
	arena_free(arena);
}

void stack_next_scheme(struct stack *stack)
{
	struct effect say = {.kind = EFFECT_STAY};
	struct fault why;
	const enum scheme next = (enum scheme)((term_scheme() + 1) % SCHEME_TOTAL);
	if (!term_set_scheme(next)) {
		stack_say(stack, "this terminal has no colours");
		return;
	}
	effect_say(&say, "colours: %s (%s)", scheme_name(next), scheme_words(next));
	if (is_writable(stack) && store_draft_save(stack->session->store, scheme_place,
					  scheme_name(next), &why) != STATUS_OK)
		effect_say(&say, "colours: %s; not kept: %s", scheme_name(next), why.text);
	stack_say(stack, say.said);
}
