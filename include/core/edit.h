/* SPDX-License-Identifier: MIT */
/* edit.h - one line of text being edited: the entry line, a search, a form field.
 *
 * Pure: UTF-8 in, UTF-8 out, no screen and no keys. The cursor always stands between clusters
 * (core/text.h), never inside one. A plain value that owns nothing; copying with = is right. */
#ifndef CORE_EDIT_H
#define CORE_EDIT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "core/limits.h"

enum {
	EDIT_SIZE = LINE_SIZE, /* bytes of the longest line, and NUL */
	EDIT_STEPS_MAX = 100,  /* how far undo reaches back */
};

/* A change that can be taken back: `inserted` bytes at `at` stand where `removed` bytes stood. */
struct edit_step {
	uint16_t at;
	uint16_t inserted;
	uint16_t removed;
	uint16_t cursor; /* before the change */
};

struct edit {
	char text[EDIT_SIZE]; /* valid UTF-8, no controls, closed with NUL */
	size_t length;
	size_t cursor; /* byte place in text */
	size_t first;  /* byte place of the first cluster shown; edit_look keeps it */
	int32_t limit; /* characters, not bytes */
	bool typing;   /* the last change was typed: the next letter joins its step */
	int32_t steps_count;
	size_t kept_length;
	struct edit_step steps[EDIT_STEPS_MAX];
	char kept[EDIT_SIZE * 2]; /* the removed bytes of all steps, oldest first */
};

enum edit_act {
	EDIT_LEFT,
	EDIT_RIGHT,
	EDIT_WORD_LEFT, /* words stand between blanks */
	EDIT_WORD_RIGHT,
	EDIT_HOME,
	EDIT_END,
	EDIT_DELETE_BACK, /* the cluster before the cursor */
	EDIT_DELETE,      /* the cluster after it */
	EDIT_KILL_WORD,   /* back to the start of the word */
	EDIT_KILL_TO_END,
	EDIT_KILL_LINE,
	EDIT_UNDO,
};

/* Empties *edit. limit: characters it may hold. */
void edit_start(struct edit *edit, int32_t limit_characters);
/* The whole text anew, cursor at its end, nothing to undo. false: more than the limit, cut. */
bool edit_load(struct edit *edit, const char *text, int32_t limit_characters);
/* The whole text anew as one change that undo takes back. false: cut. */
bool edit_replace(struct edit *edit, const char *text);
/* Typed or pasted text at the cursor. Tabs and line ends become blanks, other controls are left
 * out, a bad byte becomes U+FFFD. false: the limit is reached, and the rest was left out. */
bool edit_insert(struct edit *edit, const char *text);
/* Carries out one act; false when there was nothing to do (no undo left, cursor at the end). */
bool edit_do(struct edit *edit, enum edit_act act);

/* What to show in a field of some cells: text[from..to), and the cell where the cursor stands,
 * which is always inside the field. before, after: more text lies outside. */
struct edit_view {
	size_t from;
	size_t to;
	int cursor;
	bool before;
	bool after;
};

/* how: TEXT_ASCII of core/text.h or TEXT_PLAIN, for the cells counted. Scrolls no further than the
 * cursor needs, and remembers where it scrolled to. cells >= 1. */
struct edit_view edit_look(struct edit *edit, int cells, int how);
/* The same, and the shown part cleaned into out and padded to `cells`. */
struct edit_view edit_show(struct edit *edit, int cells, int how, char *out, size_t size);

#endif
