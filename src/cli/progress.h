/* SPDX-License-Identifier: MIT */
/* progress.h - how far a long file is read: a line on a terminal that mends itself, from the first
 * second on. Nothing where standard error is no terminal, or with --plain. */
#ifndef CLI_PROGRESS_H
#define CLI_PROGRESS_H

#include "command.h"

struct progress {
	bool shown;
	bool any;
	double next_s;
};

struct progress progress_start(const struct call *call);
/* As struct import_options wants it; context is the struct progress. */
void progress_tell(void *context, int32_t rows, int64_t at, int64_t size);
/* Wipes the line. */
void progress_end(const struct progress *progress);

#endif
