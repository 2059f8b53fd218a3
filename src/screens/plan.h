/* SPDX-License-Identifier: MIT */
/* plan.h - the plan's screen in parts: its state, what its signs tell, and its words. */
#ifndef SCREENS_PLAN_H
#define SCREENS_PLAN_H

#include "core/edit.h"
#include "found.h"
#include "plan_layout.h"
#include "screen.h"

/* What the signs tell: in the order of the keys 1 to 5. */
enum plan_layer { LAYER_FLAGS, LAYER_STAGE, LAYER_PARTNERS, LAYER_SUN, LAYER_YIELD, LAYER_TOTAL };

/* What the cursor can stand on: a tree or graft, or a spot where nothing stands. */
struct plan_item {
	int32_t tree; /* of the plot; -1 none */
	int32_t spot; /* -1 none */
};

/* What was read of one tree for its signs; a sign of 0: not yet. */
struct plan_sight {
	char signs[LAYER_TOTAL];
	bool crop_about;
	char crop_season[12]; /* the last that is over */
	struct maybe_i64 crop_mg;
	struct maybe_i32 sun_min; /* on the longest day */
};

/* What is said of the tree the cursor is on, read in a quiet moment. */
enum { PLAN_SAYS = 3 };
struct plan_facts {
	bool known;
	char hazard[TEXT_SIZE];
	char kind[NAME_SIZE];
	char year[96];
	char last[FAULT_TEXT_SIZE];
	struct plan_says {
		char urgency; /* enum urgency */
		char says[FLAG_SAYS_SIZE];
	} says[PLAN_SAYS];
	int32_t say_count;
	char sun[400]; /* hours by month, of the sun's layer; "" not known */
};

struct plan_screen {
	const struct plot *plot;
	enum unit_system units;
	bool in_full;        /* ways are spelled out, for who listens */
	struct date longest; /* the day of the sun's signs */
	bool has_sun;        /* the latitude is known */

	/* spots that are placed */
	struct plan_near near;
	int32_t *spot_of_point;
	int64_t widest_um;      /* half the widest crown */
	struct plan_bounds all; /* of them, and of walls and lines */
	const struct plan_area *areas;
	int32_t area_count;
	int32_t unplaced; /* items that the picture lacks */

	const struct plan_item *items; /* trees in the order of labels, then empty spots */
	const int32_t *item_of_tree;
	const int32_t *item_of_spot; /* its first tree's, or its own */
	int32_t item_count;
	struct plan_sight *sights; /* by tree */
	int32_t partners_of;       /* the item whose partners are in the sights; -1 none */

	int32_t selected;
	char kept_id[ID_SIZE]; /* of the tree the cursor is on: the plot is gone on reading anew */
	enum plan_layer layer;
	bool as_list;
	int32_t top; /* of the list */
	struct plan_view view;
	bool whole; /* the view keeps to all of the yard */
	struct plan_facts facts;
	int32_t years_back; /* the plan as it was so many years ago; 0: as it is */
	struct date day;    /* that it is of */
	struct edit find;
	bool finding;
	struct found found;

	/* made anew before each draw */
	struct arena *drawn;
	int32_t *shown; /* spots in view */
	int32_t shown_count;
	struct plan_picture picture;
	char key[400];
	struct fault fault;
};

/* --- what is there (plan_read.c) --- */
/* Reads the yard; the cursor goes to the tree of that id, else to the first item. */
enum status plan_read(struct plan_screen *plan, struct context *context, const char *tree_id,
	struct fault *why) MUST_CHECK;
const struct plan_item *plan_selected(const struct plan_screen *plan); /* NULL: nothing there */
const struct plot_tree *plan_tree(const struct plan_screen *plan, const struct plan_item *item);
const struct plot_spot *plan_spot_at(const struct plan_screen *plan, const struct plan_item *item);
/* By its id the tree the cursor is on is found again when all is read anew. */
void plan_keep_id(struct plan_screen *plan);
/* The item of a tree; -1 none. */
int32_t plan_item_find(const struct plan_screen *plan, const char *tree_id);

/* --- signs and figures (plan_layer.c) --- */
/* Reads more of what the trees in view show, or those of the list while that is shown, until so
 * late; true: there was some to read. */
bool plan_layer_read(struct plan_screen *plan, struct session *session, double until_s);
/* The sign of a tree in the layer; ~ while it is not read. */
char plan_layer_sign(const struct plan_screen *plan, int32_t tree);
/* Of signs that share a cell the highest is shown. */
int plan_layer_rank(enum plan_layer layer, char sign);
/* "38 lb", "7.6 h", "33 ft": beside its sign; "" none. */
const char *plan_layer_figure(const struct plan_screen *plan, int32_t tree, char *out, size_t size);
/* In words: "due", "fruit hangs, leave the saw", "serves, 33 ft". */
const char *plan_layer_words(const struct plan_screen *plan, int32_t tree, char *out, size_t size);
/* All that the layer knows, in the order of its key. */
const char *plan_layer_signs(enum plan_layer layer);
/* What a sign means in the layer; "" nothing. */
const char *plan_sign_meaning(enum plan_layer layer, char sign);
enum style plan_sign_style(enum plan_layer layer, char sign);

/* --- words beside (plan_words.c) --- */
enum status plan_facts_read(
	struct plan_screen *plan, struct context *context, struct fault *why) MUST_CHECK;
/* How far, and which way: "16 ft NE"; "in one spot". */
const char *plan_way_words(const struct plan_screen *plan, const struct plot_point *from,
	const struct plot_point *to, char *out, size_t size);
/* Another spot and how far it is away. */
struct plan_away {
	int32_t place;
	double away_um;
};
/* The nearest other spots where something stands, within 64 m; returns how many, most <= 8. */
int32_t plan_nearest_spots(const struct plan_screen *plan, const struct plot_spot *from,
	struct plan_away *out, int32_t most);
/* "A2 16 ft E (crowns meet)". */
enum { PLAN_NEIGHBOUR_SIZE = LABEL_SIZE + 60 };
const char *plan_neighbour_words(const struct plan_screen *plan, const struct plot_spot *from,
	const struct plan_away *away, char *out, size_t size);
struct plan_words {
	struct plan_word {
		enum style style;
		const char *text;
		bool is_long; /* may be cut to a few rows */
	} lines[24];
	int32_t count;
};
/* In the order in which they matter; in the arena. */
void plan_words_make(const struct plan_screen *plan, struct arena *arena, struct plan_words *out);

/* --- drawing (plan_draw.c) --- */
struct plan_frame { /* of the body */
	int map_rows, map_columns;
	int key_row;
	int words_row, words_column, words_rows, words_cells;
};
struct plan_frame plan_frame_of(int rows, int columns);
/* Lays the picture out for the view. */
void plan_compose(struct plan_screen *plan, bool ascii);
int32_t plan_list_rows(int rows);
void plan_draw(const void *screen, struct paper *paper);

#endif
