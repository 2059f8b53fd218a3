/* SPDX-License-Identifier: MIT */
#include "text_lines.h"

#include <string.h>

struct text_lines text_lines_cut(struct arena *arena, const char *text)
{
	struct text_lines out = {.count = 0};
	int count = 1;
	char *copy = arena_text(arena, text);
	for (const char *at = copy; *at != '\0'; at++)
		count += *at == '\n';
	out.lines = arena_array(arena, (size_t)count, sizeof out.lines[0]);
	for (char *at = copy; *at != '\0';) {
		char *end = at + strcspn(at, "\n");
		out.lines[out.count++] = at;
		at = *end == '\n' ? end + 1 : end;
		*end = '\0';
	}
	return out;
}
