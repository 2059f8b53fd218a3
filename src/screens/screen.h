/* SPDX-License-Identifier: MIT */
/* screen.h - what a screen is: a table row of operations with the same verbs everywhere.
 *
 * open reads, draw shows, act answers a key with an effect; only the main loop carries effects
 * out. draw sees no store and no clock. Actions are rows, bindings are rows; the help page, the
 * line of keys at the foot and the manual's list come from them. To add a screen: its file, and
 * a row in screens.c. */
#ifndef SCREENS_SCREEN_H
#define SCREENS_SCREEN_H

#include "action.h"
#include "paper.h"
#include "report/session.h"
#include "report/review.h"
#include "report/season_report.h"
#include "screens/screens.h"

/* Keys above any character. */
enum key {
	KEYS_FROM = 0x110000,
	KEYS_UP,
	KEYS_DOWN,
	KEYS_LEFT,
	KEYS_RIGHT,
	KEYS_HOME,
	KEYS_END,
	KEYS_PAGE_UP,
	KEYS_PAGE_DOWN,
	KEYS_DELETE,
	KEYS_BACKSPACE,
	KEYS_ENTER,
	KEYS_ESCAPE,
	KEYS_TAB,
	KEYS_BACK_TAB,
	KEYS_WORD_LEFT,
	KEYS_WORD_RIGHT,
	KEYS_PASTE,
	KEYS_RESIZE,
	KEYS_F1,
	KEYS_NONE
};
struct key_row {
	uint32_t key; /* a character, or enum key; Ctrl-U is 21 */
	enum action action;
	bool on_empty; /* on a screen that takes text: only while its line is empty */
};
/* What the key of a row is called at the foot and on the help page: "Enter", "PgDn", "r". */
const char *key_word(uint32_t key, char out[KEY_SIZE]);
/* Of every screen, behind its own rows; on screens that take text their characters do not act. */
const struct key_row *keys_common(void);

/* One key as it was read: a character or enum key, or a paste. */
struct input {
	uint32_t key;
	const char *pasted; /* UTF-8, for KEYS_PASTE */
	bool more_waits;    /* more input waits: letters that change the log are dropped */
};

/* What the loop is asked to do after an act. */
enum effect_kind {
	EFFECT_STAY,
	EFFECT_PUSH,
	EFFECT_REPLACE,
	EFFECT_POP,
	EFFECT_RETURN, /* to the screen that sent here: below, else opened in this one's stead */
	EFFECT_QUIT,
	EFFECT_USUAL, /* what the loop does for this action where no screen has a row for it: back,
	                 help, undo, redo, quit, and going to another screen */
	EFFECT_START, /* first run: the log is there (argument: its path, "" the one asked for) */
};
struct effect {
	enum effect_kind kind;
	const char *screen;         /* of PUSH, REPLACE and RETURN: its name */
	char argument[LINE_SIZE];   /* for its open: a tree id, a season, a line filled in */
	char said[FAULT_TEXT_SIZE]; /* for the line of messages; "" nothing */
	bool wrote;                 /* the log changed: every screen reads anew */
};

/* What an act may use. */
struct context {
	struct session *session; /* NULL on the first run, until there is a log */
	struct arena *arena;     /* of this screen; lives until it is closed; reread may reset it */
	bool ascii;
	const char *draft; /* at open, of draft_each: what was left unsaved; "" nothing */
	int rows, columns; /* of the body; settle comes before each draw, also when they change */
	const struct screens_options *options;
};

struct screen {
	const char *name;    /* "walk" */
	const char *title;   /* "Walk" */
	const char *purpose; /* one line for help */
	size_t state_size;
	bool takes_text; /* letters type into its line */
	int least_rows, least_columns;
	/* argument: "" or what was handed over. */
	enum status (*open)(
		void *state, struct context *context, const char *argument, struct fault *why);
	/* Reads anew after the log changed, keeping the cursor where it can. */
	enum status (*reread)(void *state, struct context *context, struct fault *why);
	void (*draw)(const void *state, struct paper *paper);
	/* An action of its keys. */
	void (*act)(void *state, struct context *context, enum action action, struct effect *out);
	/* Text typed (takes_text screens): anything that is no action. May be NULL. */
	void (*type)(void *state, struct context *context, const struct input *input,
		struct effect *out);
	void (*close)(void *state); /* may be NULL */
	const struct key_row *keys; /* ended by key 0 */
	/* All of these may be NULL. */
	/* What stands in its line; NULL: no line is open, letters act. Without it a takes_text
	 * screen has a line at all times, and on_empty rows never hold. */
	const char *(*typed)(const void *state);
	/* Before a draw, once all input that waits was handled: reading that only the eye needs. */
	void (*settle)(void *state, struct context *context);
	/* A little reading in a quiet moment; true: more is left, with something to show. */
	bool (*idle)(void *state, struct context *context);
	bool draft_each; /* unsaved text is kept of each argument apart; context.draft has it */
	/* What to keep of unsaved text, as an argument for open; "" nothing. Kept in the log a
	 * second after typing stops and on every signal to leave; handed to open at its next
	 * opening without an argument. */
	void (*draft)(const void *state, char *out, size_t size);
};

void effect_usual(struct effect *out);
void effect_push(struct effect *out, const char *screen, const char *argument);
void effect_say(struct effect *out, const char *format, ...) __attribute__((format(printf, 2, 3)));
const struct screen *screen_find(const char *name);
/* The name of the screen that an action opens; NULL: none. */
const char *screen_of(enum action action);
/* By its place in the table; NULL at its end. */
const struct screen *screen_at(int place);
extern const struct screen screen_yard, screen_year, screen_walk, screen_tree, screen_facts,
	screen_compare, screen_review, screen_season, screen_help, screen_first, screen_add,
	screen_weather, screen_figures, screen_likely, screen_plan, screen_merge, screen_almanac,
	screen_history, screen_answers, screen_search, screen_export, screen_shed;

#endif
