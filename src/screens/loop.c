/* SPDX-License-Identifier: MIT */
/* The main loop: waits for a key, lets the screen on top act, and carries its effect out. */
#include <curses.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "core/file.h"
#include "core/text.h"
#include "frame.h"
#include "input.h"
#include "plain.h"
#include "term.h"

enum {
	IDLE_MS = 2000,      /* how often to look whether another window wrote */
	UNSEEN_MS = 100,     /* a flood of keys is handled that long before anything is drawn */
	DRAFT_S = 1,         /* unsaved text is kept when typing stops that long */
	BACKUP_S = 60,       /* the daily copy is made when no key came that long */
	EMPTY_READS_MAX = 5, /* a terminal that is ready but gives nothing is gone */
	CTRL_C = 3,
	CTRL_L = 12,
	CTRL_Z = 26,
	INTERRUPTED = 2, /* SIGINT */
	HUNG_UP = 1,     /* SIGHUP */
};

static const double fill_s = 0.04; /* as long as a key may wait for flags being kept */

struct loop {
	struct stack stack;
	struct input_reader reader;
	bool leaving;
	int signal_number; /* to end with; 0 none */
	bool dirty;        /* something is to be drawn */
	bool keys_wait;    /* input was read from the terminal, but not handled yet */
	bool draft_waits;
	double last_key_s;
	int empty_reads;
	bool moved;         /* the log was taken away, and it was said */
	struct fault fault; /* why it cannot go on */
};

static void say_fault(struct loop *loop, const struct fault *why)
{
	stack_say(&loop->stack, why->text);
}

static bool is_writable(const struct loop *loop)
{
	return loop->stack.session != NULL && !store_is_read_only(loop->stack.session->store);
}

/* --- the log under the screens --- */

static void read_anew(struct loop *loop)
{
	struct fault why = {.status = STATUS_OK};
	if (stack_changed(&loop->stack, &why) != STATUS_OK) {
		loop->fault = why;
		loop->leaving = true;
	}
	loop->dirty = true;
}

static void wrote(struct loop *loop)
{
	loop->stack.saved = true;
	(void)store_changed_elsewhere(loop->stack.session->store);
	read_anew(loop);
	if (!loop->leaving && loop->stack.depth > 0 && stack_top(&loop->stack)->draft[0] != '\0')
		(void)stack_keep_draft(&loop->stack); /* what was saved is no draft any more */
}

static bool log_is_there(struct loop *loop)
{
	if (loop->stack.session == NULL || !store_was_moved(loop->stack.session->store))
		return true;
	stack_say(&loop->stack, "the log was moved or replaced: nothing more is saved; copy what "
				"you typed, leave, and start again");
	return false;
}

static void back_up(struct loop *loop)
{
	char said[TEXT_SIZE] = "";
	struct fault why;
	loop->stack.saved = false;
	if (store_backup_daily(loop->stack.session->store, said, &why) != STATUS_OK) {
		stack_say(&loop->stack, why.text);
		loop->dirty = true;
	} else if (said[0] != '\0') {
		stack_say(&loop->stack, said);
		loop->dirty = true;
	}
}

static void turn(struct loop *loop, bool redo)
{
	char what[TEXT_SIZE] = "";
	struct fault why;
	struct effect say = {.kind = EFFECT_STAY};
	if (loop->stack.session == NULL)
		return;
	struct store *store = loop->stack.session->store;
	const enum status status =
		redo ? store_redo(store, what, &why) : store_undo(store, what, &why);
	if (status != STATUS_OK) {
		say_fault(loop, &why);
		return;
	}
	bool empty;
	const bool types = frame_types(stack_top(&loop->stack), &empty);
	effect_say(&say, "%s: %s%s", redo ? "done again" : "undone", what,
		redo || types ? "" : " (U does it again)");
	stack_say(&loop->stack, say.said);
	wrote(loop);
}

/* --- effects --- */

static void push(struct loop *loop, const char *name, const char *argument)
{
	struct fault why = {.status = STATUS_OK};
	if (stack_push(&loop->stack, name, argument, &why) == STATUS_OK)
		return;
	say_fault(loop, &why);
	if (loop->stack.depth == 0) {
		loop->fault = why;
		loop->leaving = true;
	}
}

static void do_usual(struct loop *loop, enum action action)
{
	const char *screen = screen_of(action);
	if (action == ACTION_QUIT)
		loop->leaving = true;
	else if (action == ACTION_COLOURS)
		stack_next_scheme(&loop->stack);
	else if (action == ACTION_BACK && loop->stack.depth > 1)
		stack_pop(&loop->stack);
	else if (action == ACTION_UNDO || action == ACTION_REDO)
		turn(loop, action == ACTION_REDO);
	else if (action == ACTION_HELP)
		push(loop, "help", stack_top(&loop->stack)->screen->name);
	else if (screen != NULL && loop->stack.session != NULL) /* of what is shown here */
		push(loop, screen,
			action == ACTION_EXPORT ? stack_top(&loop->stack)->screen->name : "");
}

static void start(struct loop *loop, const struct effect *effect)
{
	struct fault why = {.status = STATUS_OK};
	(void)text_copy(loop->stack.path, sizeof loop->stack.path, effect->argument);
	if (stack_open_log(&loop->stack, &why) != STATUS_OK) {
		say_fault(loop, &why);
		return;
	}
	while (loop->stack.depth > 0)
		stack_pop(&loop->stack);
	push(loop, "yard", "");
	if (!loop->leaving && effect->screen != NULL && strcmp(effect->screen, "yard") != 0)
		push(loop, effect->screen, "");
}

static void carry_out(struct loop *loop, const struct effect *effect, enum action action)
{
	if (effect->said[0] != '\0')
		stack_say(&loop->stack, effect->said);
	if (effect->wrote)
		wrote(loop);
	if (loop->leaving)
		return;
	switch (effect->kind) {
	case EFFECT_STAY:
		break;
	case EFFECT_REPLACE:
		if (loop->stack.depth > 1)
			stack_pop(&loop->stack);
		push(loop, effect->screen, effect->argument);
		break;
	case EFFECT_PUSH:
		push(loop, effect->screen, effect->argument);
		break;
	case EFFECT_POP:
		do_usual(loop, ACTION_BACK);
		break;
	case EFFECT_RETURN:
		if (!stack_pop_to(&loop->stack, effect->screen))
			push(loop, effect->screen, "");
		break;
	case EFFECT_QUIT:
		loop->leaving = true;
		break;
	case EFFECT_USUAL:
		do_usual(loop, action);
		break;
	case EFFECT_START:
		start(loop, effect);
		break;
	}
}

/* --- keys --- */

/* Actions that no screen needs a row of its own for. */
static bool is_usual(enum action action)
{
	switch ((int)action) {
	case ACTION_BACK:
	case ACTION_HELP:
	case ACTION_UNDO:
	case ACTION_REDO:
	case ACTION_QUIT:
		return true;
	case ACTION_PLAN: /* a page of a tree says which one */
		return false;
	default:
		return action != ACTION_ADD && screen_of(action) != NULL;
	}
}

/* Enter may save what stands in a line or a form. */
static bool takes_line(enum action action)
{
	return action == ACTION_OPEN || action == ACTION_NEXT_FIELD || action == ACTION_SAVE;
}

static void take_key(struct loop *loop, const struct input *input)
{
	struct page *page = stack_top(&loop->stack);
	struct effect *effect = block_new(sizeof *effect);
	bool own;
	bool empty;
	const bool types = frame_types(page, &empty);
	const enum action action = frame_action(page, input->key, &own);
	const struct action_row *row = action_row(action);
	if (!types && row->changes && input->more_waits) {
		effect_say(effect, "'%s' was not taken: more keys waited behind it", row->name);
		carry_out(loop, effect, action);
	} else if ((row->changes || takes_line(action)) && action != ACTION_QUIT &&
		   !log_is_there(loop)) {
		/* said */
	} else if (action == ACTION_NONE && types && page->screen->type != NULL) {
		page->screen->type(page->state, &page->context, input, effect);
		carry_out(loop, effect, action);
	} else if (action == ACTION_NONE && input->key == KEYS_PASTE) {
		stack_say(&loop->stack, "a paste needs a line to go into: l or w opens one");
	} else if (action != ACTION_NONE && !own && is_usual(action)) {
		do_usual(loop, action);
	} else if (action != ACTION_NONE) {
		page->screen->act(page->state, &page->context, action, effect);
		carry_out(loop, effect, action);
	}
	block_free(effect);
}

/* On a terminal too small for the screen on top nothing is typed and nothing logged; what needs
 * less room can be gone to. */
static void take_key_unseen(struct loop *loop, const struct input *input)
{
	bool empty;
	const bool types = frame_types(stack_top(&loop->stack), &empty) && !empty;
	if (input->key == KEYS_ESCAPE)
		do_usual(loop, ACTION_BACK);
	else if (input->key == 'q')
		loop->leaving = true;
	else if (input->key == 'w' && !types)
		do_usual(loop, ACTION_WALK);
	else if (input->key == 'r' && !types)
		do_usual(loop, ACTION_REVIEW);
}

static void leave_by_signal(struct loop *loop, int number)
{
	loop->signal_number = number;
	loop->leaving = true;
}

static void take_input(struct loop *loop, const struct input *input)
{
	loop->last_key_s = clock_monotonic_s();
	loop->dirty = true;
	if (input->key == CTRL_C) {
		leave_by_signal(loop, INTERRUPTED);
	} else if (input->key == CTRL_Z) {
		term_suspend();
	} else if (input->key == CTRL_L) {
		(void)clearok(curscr, TRUE);
	} else if (frame_too_small(stack_top(&loop->stack))) {
		take_key_unseen(loop, input);
	} else {
		loop->stack.said[0] = '\0';
		take_key(loop, input);
		loop->draft_waits = true;
	}
}

/* Whatever waits, before anything is drawn again; of a flood a part. */
static void take_waiting(struct loop *loop)
{
	const double until_s = clock_monotonic_s() + UNSEEN_MS / 1000.0;
	int read = 0;
	loop->keys_wait = true;
	while (loop->keys_wait && !loop->leaving && clock_monotonic_s() < until_s) {
		const struct input input = input_read(&loop->reader);
		loop->keys_wait = input.more_waits;
		if (input.key == KEYS_NONE && !input.more_waits)
			break;
		read++;
		if (input.key != KEYS_NONE)
			take_input(loop, &input);
	}
	loop->empty_reads = read == 0 ? loop->empty_reads + 1 : 0;
	if (loop->empty_reads > EMPTY_READS_MAX)
		term_set_lost();
}

/* --- quiet moments --- */

static void look_round(struct loop *loop)
{
	struct session *session = loop->stack.session;
	if (session == NULL)
		return;
	const struct date today = clock_today(&session->clock);
	if (store_changed_elsewhere(session->store) ||
		date_compare(today, yard_today(session->yard)) != 0)
		read_anew(loop);
	if (!loop->moved && store_was_moved(session->store)) {
		loop->moved = true;
		loop->dirty = true;
		(void)log_is_there(loop);
	}
}

/* Milliseconds until something is to be done without a key. */
static int until_next(const struct loop *loop)
{
	if (!loop->draft_waits)
		return IDLE_MS;
	const double left = loop->last_key_s + DRAFT_S - clock_monotonic_s();
	return left <= 0 ? 0 : (int)(left * 1000) + 1;
}

/* true: what was read anew may have more to read. */
static bool be_quiet(struct loop *loop)
{
	const double quiet_s = clock_monotonic_s() - loop->last_key_s;
	if (loop->draft_waits && quiet_s >= DRAFT_S)
		loop->draft_waits = !stack_keep_draft(&loop->stack);
	if (loop->draft_waits) /* it was busy: try again a second later */
		loop->last_key_s = clock_monotonic_s();
	look_round(loop);
	if (loop->stack.saved && quiet_s >= BACKUP_S && is_writable(loop))
		back_up(loop);
	return loop->dirty;
}

/* --- rounds --- */

static void draw(struct loop *loop)
{
	struct page *page = stack_top(&loop->stack);
	frame_measure(page);
	if (page->screen->settle != NULL && !frame_too_small(page))
		page->screen->settle(page->state, &page->context);
	frame_draw(&loop->stack);
	loop->dirty = false;
}

/* true: the screen on top has more to read in quiet. */
static bool read_a_little(struct loop *loop)
{
	struct page *page = stack_top(&loop->stack);
	if (page->screen->idle == NULL || frame_too_small(page) ||
		!page->screen->idle(page->state, &page->context))
		return false;
	loop->dirty = true;
	return true;
}

static void round_once(struct loop *loop, bool *more)
{
	if (loop->dirty)
		draw(loop);
	enum term_event event = term_wait(*more || loop->keys_wait ? 0 : until_next(loop));
	if (event == TERM_TIME && loop->keys_wait)
		event = TERM_KEYS;
	switch (event) {
	case TERM_KEYS:
		take_waiting(loop);
		*more = true;
		break;
	case TERM_TIME:
		*more = *more ? read_a_little(loop) ||
					session_fill_flags(loop->stack.session, fill_s)
			      : be_quiet(loop);
		break;
	case TERM_STOP:
	case TERM_RESIZED:
	case TERM_WOKEN:
		if (event == TERM_STOP)
			term_suspend();
		*more = loop->dirty = true;
		break;
	case TERM_LEAVE:
		leave_by_signal(loop, term_is_lost() ? HUNG_UP : term_signal());
		break;
	}
	if (loop->leaving || loop->stack.depth == 0)
		return;
	if (stack_freshen(&loop->stack, &loop->fault) != STATUS_OK)
		loop->leaving = true;
}

static void run(struct loop *loop)
{
	bool more = true;
	loop->dirty = true;
	loop->last_key_s = clock_monotonic_s();
	while (!loop->leaving)
		round_once(loop, &more);
	if (loop->stack.depth > 0)
		(void)stack_keep_draft(&loop->stack);
	if (loop->signal_number == 0)
		session_write_flags(loop->stack.session);
}

/* --- beginning and end --- */

static bool is_missing(const struct screens_options *options)
{
	char path[FILE_PATH_SIZE];
	struct fault why;
	if (options->path != NULL)
		return access(options->path, F_OK) != 0;
	return file_default_log_path(path, &why) == STATUS_OK && access(path, F_OK) != 0;
}

static enum status begin(struct loop *loop, struct fault *why)
{
	if (is_missing(loop->stack.options))
		return stack_push(&loop->stack, "first", "", why);
	enum status status = stack_open_log(&loop->stack, why);
	if (status == STATUS_OK)
		status = stack_push(&loop->stack, "yard", "", why);
	if (status == STATUS_OK)
		stack_begun(&loop->stack);
	return status;
}

enum status screens_run(const struct screens_options *options, struct fault *why)
{
	char said[FAULT_TEXT_SIZE];
	if (options->plain)
		return plain_run(options, why);
	enum status status = term_start(why);
	if (status != STATUS_OK)
		return status;
	input_teach();
	struct loop *loop = block_new(sizeof *loop);
	loop->stack.options = options;
	loop->reader.ascii = options->ascii;
	status = begin(loop, why);
	loop->stack.said[FAULT_TEXT_SIZE - 1] = '\0';
	if (status == STATUS_OK)
		run(loop);
	if (status == STATUS_OK && loop->fault.status != STATUS_OK)
		status = fault_set(why, loop->fault.status, "%s", loop->fault.text);
	loop->stack.said[0] = '\0';
	if (loop->signal_number == 0 && is_writable(loop) && !log_is_there(loop))
		loop->stack.saved = false;
	else if (loop->signal_number == 0 && is_writable(loop))
		back_up(loop);
	(void)text_copy(said, sizeof said, loop->stack.said);
	const int number = loop->signal_number;
	stack_close(&loop->stack);
	block_free(loop);
	term_end();
	if (said[0] != '\0')
		(void)fprintf(stderr, "boughbook: %s\n", said);
	if (number != 0)
		term_die(number);
	return status;
}
