/* SPDX-License-Identifier: MIT */
/* uses.h - what became of fruit once it was picked: entries that say so, and picks that went one
 * way as a whole. Weighed as the fruit was picked, whatever became of it. */
#ifndef DOSSIER_USES_H
#define DOSSIER_USES_H

#include "dossier/yard.h"

struct crop_use {
	enum use_kind became;
	enum use_kind out_of; /* the store it was taken from; USE_UNSAID: as picked */
	bool of_pick;         /* said of a whole pick */
	bool is_private;      /* of a tree marked private, or a graft on one */
	struct subject subject;
	char kind_name[NAME_SIZE]; /* as season reports call the kind; "unknown" */
	int32_t year;              /* the season it counts for */
	struct amount_sum mass;    /* of one entry; missing 1: it was not weighed */
};
/* Those dated from a day on, up to the yard's day. */
enum status yard_uses(struct yard *yard, struct date from, struct arena *arena,
	struct crop_use **out, int32_t *count, struct fault *why) MUST_CHECK;

/* A pick or a loss that was logged on an area, or on all trees of a kind, as one total: of no one
 * tree, never shared out. */
struct pooled_crop {
	char kind_name[NAME_SIZE]; /* "unknown" where the line named none */
	int32_t year;
	bool is_loss;
	struct amount_sum mass; /* missing 1: it was not weighed */
};
enum status yard_pooled_crops(struct yard *yard, struct arena *arena, struct pooled_crop **out,
	int32_t *count, struct fault *why) MUST_CHECK;

#endif
