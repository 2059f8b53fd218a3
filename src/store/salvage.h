/* SPDX-License-Identifier: MIT */
/* salvage.h - the two halves of store_salvage: reading rows, and mending what then dangles. */
#ifndef STORE_SALVAGE_H
#define STORE_SALVAGE_H

#include "lines.h"

struct salvage {
	struct store *from;
	struct store *into;
	struct lines *lines;
	int64_t rows;
};

/* Makes a sound log of the rows that were read: acts that are lost stand as acts without a name,
 * references into the lost are let go, what cannot be without its owner goes, there is a place,
 * and the search is built anew. Each step is told. */
enum status salvage_mend(struct salvage *salvage, struct fault *why) MUST_CHECK;

#endif
