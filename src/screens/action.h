/* SPDX-License-Identifier: MIT */
/* action.h - all that a key can ask for. What each is called, and what it does in words, is a row
 * of the table in keys.c; which key asks for it on which screen is a row of that screen. */
#ifndef SCREENS_ACTION_H
#define SCREENS_ACTION_H

#include <stdbool.h>

enum action {
	ACTION_NONE,
	ACTION_UP,
	ACTION_DOWN,
	ACTION_PAGE_UP,
	ACTION_PAGE_DOWN,
	ACTION_FIRST,
	ACTION_LAST,
	ACTION_LEFT,
	ACTION_RIGHT,
	ACTION_OPEN,       /* Enter: what the cursor is on */
	ACTION_NEXT_FIELD, /* Enter in a form that is filled in one by one */
	ACTION_BACK,       /* Esc: one screen back */
	ACTION_NEXT_PART,  /* Tab */
	ACTION_HELP,
	ACTION_FIND,
	ACTION_UNDO,
	ACTION_REDO,
	ACTION_QUIT,
	ACTION_YARD,
	ACTION_YEAR,
	ACTION_WALK,
	ACTION_REVIEW,
	ACTION_SEASON,
	ACTION_WEATHER,
	ACTION_FIGURES,
	ACTION_TREE,
	ACTION_COMPARE,   /* season: marks a tree, then another beside it */
	ACTION_SAVE,      /* a form, whole */
	ACTION_FACTS,     /* what is known of a tree, as a form */
	ACTION_LIKELY,    /* which cultivar a tree could be */
	ACTION_ADD,       /* trees */
	ACTION_LINE,      /* an entry line for what the cursor is on */
	ACTION_DONE,      /* review: the line comes filled in */
	ACTION_PUT_OFF,   /* a fortnight */
	ACTION_SET_ASIDE, /* with a reason */
	ACTION_WHY,       /* evidence */
	ACTION_ALL,       /* put off and set aside, or notes, too */
	ACTION_SAME_AGAIN,
	ACTION_EARLIER,
	ACTION_LATER,   /* season before, after */
	ACTION_NOTES,   /* review: folds and unfolds them */
	ACTION_DEMO,    /* first run: the invented yard */
	ACTION_COLOURS, /* the next scheme */
	ACTION_PLAN,
	ACTION_ROUTE,       /* a short one from the gate */
	ACTION_FLAGS_LAYER, /* what the signs of the plan tell; in the order of enum plan_layer */
	ACTION_STAGE_LAYER,
	ACTION_PARTNER_LAYER,
	ACTION_SUN_LAYER,
	ACTION_YIELD_LAYER,
	ACTION_CLOSER,
	ACTION_WIDER,
	ACTION_WHOLE,
	ACTION_THREAD,    /* year: what its rows tell */
	ACTION_NEXT_HERE, /* the next tree or graft of the same spot */
	ACTION_PAGE_LEFT,
	ACTION_PAGE_RIGHT,
	ACTION_MERGE,
	ACTION_KEEP_A, /* merge: a side of what two copies changed */
	ACTION_KEEP_B,
	ACTION_KEEP_C,
	ACTION_KEEP_D,
	ACTION_KEEP_BEFORE,
	ACTION_ALMANAC,
	ACTION_HISTORY,
	ACTION_ANSWERS,   /* what was put off, set aside, switched off */
	ACTION_SEARCH,    /* all that is written */
	ACTION_TAKE_BACK, /* the act, or the answer, that the cursor is on */
	ACTION_KEEP_OWN,  /* a line for a value of one's own */
	ACTION_EXPORT,
	ACTION_WRITE, /* the file that is named */
	ACTION_SHED,  /* products and containers */
	ACTION_NEW_PRODUCT,
	ACTION_NEW_CONTAINER,
	ACTION_REMOVE, /* what the cursor is on, out of the lists */
	ACTION_TOTAL
};

struct action_row {
	const char *name;  /* "put off a fortnight": at the foot and on the help page */
	const char *group; /* "moving", "work", "views" */
	const char *help;
	bool changes; /* the log, or what is typed next would: dropped while more input waits */
};
const struct action_row *action_row(enum action action);

#endif
