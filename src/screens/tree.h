/* SPDX-License-Identifier: MIT */
/* tree.h - the state of a tree's page, between what it does (tree.c) and what it shows
 * (tree_draw.c). */
#ifndef SCREENS_TREE_H
#define SCREENS_TREE_H

#include "ribbon.h"
#include "report/sun_report.h"
#include "screen.h"

struct tree_page {
	char id[ID_SIZE];
	const struct dossier *dossier;
	struct ribbon ribbon;
	const struct identity *opinions; /* oldest first */
	int32_t opinion_count;
	struct review review; /* its flags */
	const char *sun;      /* of where it stands; "" nothing to tell */
	const char *origin, *children, *stems;
	const struct entry *const *photos; /* newest first */
	int32_t photo_count;
	struct number_rules numbers;
	int32_t place; /* among the trees, in the order of labels; -1 not looked for yet */
	bool all;      /* entries in full, and its windows in words */
	int top;       /* row of the page that is seen first */
	int height;    /* of the page, at the width it was drawn last */
	struct date today;
};

/* Rows the page takes at this width. */
int tree_height(const struct tree_page *page, bool ascii, int columns);
void tree_draw(const void *state, struct paper *paper);

#endif
