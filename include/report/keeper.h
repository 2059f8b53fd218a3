/* SPDX-License-Identifier: MIT */
/* keeper.h - flags that were worked out, on their way into the log. Only who may write has one: the
 * screens, on a writable log, on the real day. What a review finds kept it reads without. */
#ifndef REPORT_KEEPER_H
#define REPORT_KEEPER_H

#include "dossier/yard.h"

struct keeper;

struct keeper *keeper_new(void);
void keeper_free(struct keeper *keeper);             /* NULL is fine */
int32_t keeper_waiting(const struct keeper *keeper); /* trees; of NULL none */
/* Works out what the log lacks, for some seconds, and puts it there; true: there is more. */
bool keeper_fill(struct keeper *keeper, struct yard *yard, double seconds);
/* Puts what waits into the log. What cannot be written is forgotten: it is only a cache. */
void keeper_write(struct keeper *keeper, struct yard *yard);

#endif
