/* SPDX-License-Identifier: MIT */
/* plot.h - the yard seen from above: spots and who stands in them, crowns at their spread, walls,
 * houses, gates and lines, in micrometres from the place's own zero, north up. Read once, when
 * first asked for; lives as long as the yard. */
#ifndef DOSSIER_PLOT_H
#define DOSSIER_PLOT_H

#include "dossier/yard.h"

/* Whatever lies farther from the zero is a slip of typing, and is not placed: 1,000 km. */
#define PLOT_FAR_UM INT64_C(1000000000000)

struct plot_point {
	int64_t east_um;
	int64_t north_um;
};

enum plot_line_kind { PLOT_WALL, PLOT_HOUSE, PLOT_GATE, PLOT_LINE };
struct plot_line {
	char name[LABEL_SIZE];
	enum plot_line_kind kind;
	const struct plot_point *points; /* a house's last corner is joined to its first */
	int32_t point_count;
};

struct plot_tree {
	const struct neighbour *who;
	int32_t spot;               /* its place among the spots, a graft's its host's; -1 none */
	struct maybe_i64 spread_um; /* measured last, up to today; grafts have none of their own */
	struct maybe_date spread_on;
	struct maybe_i64 height_um;
};

struct plot_spot {
	const struct spot *spot;
	const char *area; /* its name; "" none */
	bool placed;      /* here, and its position is known */
	struct plot_point at;
	int32_t first; /* of the trees: its own, each followed by its grafts */
	int32_t count;
};

struct plot {
	const struct plot_spot *spots; /* in the natural order of names */
	int32_t spot_count;
	/* those that stand, spot by spot; by labels within; last those in no spot */
	const struct plot_tree *trees;
	int32_t tree_count;
	const struct plot_line *lines; /* those of no point are left out */
	int32_t line_count;
};
enum status yard_plot(struct yard *yard, const struct plot **out, struct fault *why) MUST_CHECK;

/* The middle of its corners. */
struct plot_point plot_line_middle(const struct plot_line *line);
/* Where the walk begins: the middle of the first gate; without one, the zero. */
struct plot_point plot_gate(const struct plot *plot, bool *drawn);

#endif
