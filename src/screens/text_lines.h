/* SPDX-License-Identifier: MIT */
/* text_lines.h - a printed page as lines, for a screen to show some of. */
#ifndef SCREENS_TEXT_LINES_H
#define SCREENS_TEXT_LINES_H

#include "core/memory.h"

struct text_lines {
	const char **lines;
	int count;
};
/* A copy of the text, cut where lines end; in the arena. */
struct text_lines text_lines_cut(struct arena *arena, const char *text);

#endif
