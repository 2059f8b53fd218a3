/* SPDX-License-Identifier: MIT */
/* volumes.h - what `volume` is asked, and its answer for people and machines: mulch, a pot, a hole,
 * each figure with where it is from. */
#ifndef REPORT_VOLUMES_H
#define REPORT_VOLUMES_H

#include "almanac/almanac.h"
#include "report/print.h"

enum volume_what { VOLUME_MULCH, VOLUME_POT, VOLUME_HOLE };

/* A figure asked with: um, mm2 or ul. */
struct volume_figure {
	bool known;
	int64_t value;
	char from[160]; /* "given", "measured 3 May 2025", the title of a source */
};
struct volume_ask {
	enum volume_what what;
	char tree[LABEL_SIZE];       /* whose mulch; "" of no tree */
	struct volume_figure across; /* ring, rim of the pot, hole */
	struct volume_figure bottom; /* of the pot, across */
	struct volume_figure depth;
	struct volume_figure trunk; /* across */
	struct volume_figure gap;   /* bare ground from the bark */
	struct volume_figure area;  /* a bed as said: no ring then */
	struct volume_figure ball;  /* across its top */
	struct volume_figure ball_bottom;
	struct volume_figure ball_depth;
	struct volume_figure bag;
	const struct fact_row
		*depth_told; /* what the almanac says of a mulch's depth; NULL nothing */
};

/* STATUS_SYNTAX asks for the figure that lacks; STATUS_RANGE: figures that make no volume. */
enum status print_volume(
	const struct printer *printer, const struct volume_ask *ask, struct fault *why) MUST_CHECK;

#endif
