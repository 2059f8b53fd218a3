/* SPDX-License-Identifier: MIT */
/* stack.h - the screens that are open, one over the other, and the log under them. */
#ifndef SCREENS_STACK_H
#define SCREENS_STACK_H

#include "screen.h"

enum { PAGES_MAX = 10 };

struct page {
	const struct screen *screen;
	void *state;
	struct context context;
	bool stale;            /* the log changed since it was read */
	char draft[LINE_SIZE]; /* as it lies in the log */
	char draft_key[80];    /* under which */
};

struct stack {
	const struct screens_options *options;
	struct session *session; /* NULL until there is a log */
	char path[4096];         /* of the log; "" the options' */
	struct page pages[PAGES_MAX];
	int depth;
	char said[FAULT_TEXT_SIZE]; /* for the line of messages */
	bool saved;                 /* something was written since the last daily copy */
};

struct page *stack_top(struct stack *stack);
void stack_say(struct stack *stack, const char *text);
/* Opens the log; STATUS_DENIED is tried again for reading alone. */
enum status stack_open_log(struct stack *stack, struct fault *why) MUST_CHECK;
/* A screen that is open already is opened anew, and what lies over it is closed. */
enum status stack_push(
	struct stack *stack, const char *name, const char *argument, struct fault *why) MUST_CHECK;
void stack_pop(struct stack *stack);
/* Closes the top page unless it is that screen; true: that screen is on top now. */
bool stack_pop_to(struct stack *stack, const char *name);
/* Reads the top anew if it is stale; a screen that cannot be read is closed with its reason as
 * the message. STATUS other than OK: not even the lowest can. */
enum status stack_freshen(struct stack *stack, struct fault *why) MUST_CHECK;
/* The log changed: all that is open is stale. */
enum status stack_changed(struct stack *stack, struct fault *why) MUST_CHECK;
/* Keeps the top's unsaved text in the log, when it differs from what lies there. false: it could
 * not be kept now. */
bool stack_keep_draft(struct stack *stack);
/* The log is open: its colours are taken, and text left unsaved is told of. */
void stack_begun(struct stack *stack);
/* The next scheme of colours, kept in the log. */
void stack_next_scheme(struct stack *stack);
void stack_close(struct stack *stack);

#endif
