/* SPDX-License-Identifier: MIT */
/* review.h - the state of the review screen, between what it does (review.c) and what it shows
 * (review_draw.c). */
#ifndef SCREENS_REVIEW_H
#define SCREENS_REVIEW_H

#include "core/edit.h"
#include "screen.h"

enum { REVIEW_FOLD = -1, REVIEW_PUT_OFF_DAYS = 14 };

/* In what order the items stand; Tab goes to the next. */
enum review_order {
	ORDER_WORST,
	ORDER_TREE, /* by label, the worst of each first; none stands for several trees */
	ORDER_WORK, /* cuts, feeds, picks ...: what would settle it */
	ORDER_TOTAL
};

struct review_state {
	struct session *session;
	struct review review;
	char tree_id[ID_SIZE];       /* "" the whole yard */
	char label[TREE_TITLE_SIZE]; /* of that tree */
	char asked[LINE_SIZE];       /* a line of it that is not logged: what that would raise */
	char asked_said[FAULT_TEXT_SIZE]; /* the same, as it was read */
	char held[24];                    /* when it was held last; "" never */
	/* what is in the list: places in review.items, or REVIEW_FOLD for the folded notes */
	int32_t *shown;
	int32_t shown_count;
	int32_t selected; /* of the list */
	int top;          /* row of the list that is seen first */
	int32_t notes;    /* in review.items */
	bool all;         /* put off and set aside too */
	bool notes_open;
	enum review_order order;
	bool why;
	int32_t put_off, set_aside, gone; /* settled since it was opened */
	char doing[FLAG_KEY_SIZE];        /* whose line is being typed on the walk; "" none */
	/* the reason being typed */
	bool reasoning;
	struct edit reason;
};

/* Remembers that the review of the whole yard was held today. That it could not be kept harms
 * nobody. */
void review_keep_held(struct session *session);
/* Fills `shown` from the items, in the order asked for. */
void review_list(struct review_state *state, struct arena *arena);
enum review_order review_order_after(enum review_order order);
const char *review_order_words(enum review_order order); /* "by tree"; "" worst first */
/* NULL: the cursor is on the folded notes, or there is nothing. */
const struct review_item *review_selected(const struct review_state *state);
/* Rows of the body that the list has. */
int review_list_rows(const struct review_state *state, int rows);
/* Where the selected item begins in the list, and its height. */
void review_place_selected(const struct review_state *state, int columns, int *from, int *height);
int review_height(const struct review_state *state, int columns);
void review_draw(const void *screen, struct paper *paper);

#endif
