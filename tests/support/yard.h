/* SPDX-License-Identifier: MIT */
/* yard.h - short ways to fill a test's log with records through the store's public functions. Each
 * fails the test when the store refuses, unless its name says otherwise. */
#ifndef SUPPORT_YARD_H
#define SUPPORT_YARD_H

#include "store/records.h"

#include "support/log.h"

/* Every call of an action as an act of its own. */
void yard_begin(struct log *yard, const char *what);
void yard_commit(struct log *yard);

struct date yard_day(const char *iso);
struct maybe_date yard_maybe_day(const char *iso); /* "" : not known */
struct date_span yard_span(const char *edtf);
struct amount yard_amount(enum field field, int64_t low, int64_t high, const char *typed);

/* Inside an act; each answers the id, which stays valid as long as the yard's arena. */
const char *yard_area(struct log *yard, struct arena *arena, const char *name);
const char *yard_spot(struct log *yard, struct arena *arena, const char *name);
const char *yard_tree(
	struct log *yard, struct arena *arena, const char *label, const char *spot_id);
const char *yard_graft(
	struct log *yard, struct arena *arena, const char *label, const char *host_id);
const char *yard_pick(struct log *yard, struct arena *arena, const char *tree_id, const char *day,
	int64_t weight_mg);

#endif
