/* SPDX-License-Identifier: MIT */
/* list.h - rows one under the other, of which the one in hand is open: its further words stand
 * below it. */
#ifndef SCREENS_LIST_H
#define SCREENS_LIST_H

#include "screen.h"

enum { LIST_ID_SIZE = 200 };

struct list_row {
	const char *id;      /* for the screen: what the row is about */
	const char *head;    /* stands at the margin: a day, a kind */
	const char *text;    /* cut where it is too long, whole while the row is open */
	const char *more;    /* below, while it is open; lines end with '\n'; NULL none */
	enum style style;    /* of its text */
	const char *tree_id; /* that Enter goes to; NULL none */
};

struct list {
	struct list_row *rows; /* in the screen's arena */
	int32_t count;
	int32_t selected;
	int32_t top;
};

/* NULL: the list is empty. */
struct list_row *list_selected(const struct list *list);
/* Moves by an action of moving; false: it is none. */
bool list_act(struct list *list, enum action action, int rows);
/* Keeps the row in hand, open, within `rows` of `columns`. */
void list_clamp(struct list *list, int head_cells, int rows, int columns);
/* The id of the row in hand, for list_go after reading anew. */
void list_keep(const struct list *list, char id[LIST_ID_SIZE]);
/* Stands at the row with this id, should there be one. */
void list_go(struct list *list, const char *id);
/* Draws from a row of the paper down to `end`. */
void list_draw(const struct list *list, struct paper *paper, int row, int end, int head_cells);

#endif
