/* SPDX-License-Identifier: MIT */
/* plan_layout.h - the yard from above laid out in cells. Pure: spots, crowns, lines and a view in,
 * cells and labels out; no paper, no log, no clock.
 *
 * A cell is twice as high as it is wide, so a row stands for twice the ground of a column, and
 * what is round in the yard looks round. North is up.
 *
 *      ,  Orchard                    crowns: ░ one, ▒ where two meet
 *        ░░░░░                       a sign for each tree of a spot, + before its grafts
 *       ░░A B1░░   oo south hole     a label where there is room for it
 *        ░░░░░                       # wall and house, [] gate
 */
#ifndef SCREENS_PLAN_LAYOUT_H
#define SCREENS_PLAN_LAYOUT_H

#include "dossier/plot.h"
#include "plan_near.h"

enum {
	PLAN_SIGNS_SIZE = 9, /* of one spot: a tree each, + and its grafts */
	PLAN_CELL_SIZE = 5,  /* one character and NUL */
	PLAN_CELL_LEAST_UM = 50000,
	PLAN_CELL_USUAL_UM = 300000, /* where one spot alone says nothing of a scale */
};

struct plan_view {
	struct plot_point middle;
	int64_t cell_um; /* a column's width; a row is twice that */
	int rows, columns;
};

/* The view that shows all of the bounds, with a margin for labels and crowns. */
struct plan_view plan_view_of_all(const struct plan_bounds *all, int rows, int columns);
/* Half as much again to each side, or less by as much: the closest shows a cell as
 * PLAN_CELL_LEAST_UM wide, the farthest all of the bounds. false: it stands at that end already. */
bool plan_view_zoom(struct plan_view *view, const struct plan_bounds *all, bool closer);
/* What the view shows, whole cells. */
struct plan_bounds plan_view_bounds(const struct plan_view *view);
/* The cell of a point; it may lie outside. */
void plan_view_cell(
	const struct plan_view *view, const struct plot_point *at, int64_t *row, int64_t *column);
/* Moves the view as little as needed for the point to stand clear of its edges. */
void plan_view_follow(struct plan_view *view, const struct plot_point *at);

/* What is drawn of a spot. */
struct plan_spot {
	struct plot_point at;
	int64_t radius_um; /* of the widest crown; 0 not known */
	char signs[PLAN_SIGNS_SIZE];
	char best;           /* of its signs the one to show where several spots share a cell */
	int rank;            /* of `best`: the highest of the cell is shown */
	const char *text[2]; /* beside it: whole, and where that has no room; NULL none */
};
/* An area's spots, all of them. */
struct plan_area {
	const char *name;
	struct plan_bounds bounds;
};

struct plan_scene {
	const struct plan_spot *spots; /* in the order in which labels are given room */
	int32_t spot_count;
	const struct plot_line *lines;
	int32_t line_count;
	const struct plan_area *areas;
	int32_t area_count;
};

/* What a cell shows. */
enum plan_part {
	PLAN_BLANK,
	PLAN_CROWN,  /* of one spot's trees */
	PLAN_CROWNS, /* where crowns of two spots and more meet */
	PLAN_CORNER, /* of an area */
	PLAN_LINED,  /* a line */
	PLAN_WALLED, /* a wall or house */
	PLAN_GATED,
	PLAN_SIGN,
	PLAN_TEXT /* taken by a label */
};
struct plan_cell {
	uint8_t part; /* enum plan_part */
	char sign;    /* of PLAN_SIGN and PLAN_GATED; of a corner which */
	char best;    /* of its spot */
	bool shared;  /* several spots lie in this cell */
	int rank;
};
struct plan_label {
	int row, column, cells;
	const char *text;
	bool is_area; /* or a house */
};
struct plan_picture {
	int rows, columns;
	struct plan_cell *cells; /* row by row */
	struct plan_label *labels;
	int32_t label_count;
};

/* Lives in arena. */
void plan_lay_out(const struct plan_scene *scene, const struct plan_view *view, struct arena *arena,
	struct plan_picture *out);
/* What a cell without a label looks like. */
const char *plan_cell_text(const struct plan_cell *cell, bool ascii, char out[PLAN_CELL_SIZE]);

/* A round length for the scale: 1, 2 or 5 and noughts of feet or metres, at most so many cells
 * long; *cells says how many it takes. */
int64_t plan_scale_um(int64_t cell_um, bool feet, int most, int *cells);

#endif
