/* SPDX-License-Identifier: MIT */
/* descent_inner.h - the parts of a tree's descent. */
#ifndef REPORT_DESCENT_INNER_H
#define REPORT_DESCENT_INNER_H

#include "report/descent.h"

/* Fills out->says: what carries over, when a first crop may come, its pot, its seeds. */
void descent_say_all(struct yard *yard, struct descent *out, struct arena *arena);

#endif
