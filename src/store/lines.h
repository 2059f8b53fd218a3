/* SPDX-License-Identifier: MIT */
/* lines.h - what verify and salvage say, gathered line by line. */
#ifndef STORE_LINES_H
#define STORE_LINES_H

#include "sql.h"

struct lines {
	struct arena *arena;
	struct verify_line *items;
	int32_t count;
	int32_t room;
};

void lines_add(struct lines *lines, bool is_fault, const char *format, ...)
	__attribute__((format(printf, 3, 4)));

#endif
