/* SPDX-License-Identifier: MIT */
#include "lines.h"

#include "core/text.h"

#include <stdarg.h>
#include <stdio.h>

enum { LINE_TEXT_SIZE = 600 };

void lines_add(struct lines *lines, bool is_fault, const char *format, ...)
{
	char text[LINE_TEXT_SIZE];
	va_list arguments;
	va_start(arguments, format);
	vsnprintf(text, sizeof text, format, arguments);
	va_end(arguments);
	if (lines->count == lines->room) {
		int32_t room = lines->room == 0 ? 32 : lines->room * 2;
		lines->items = arena_grow(lines->arena, lines->items,
			sizeof *lines->items * (size_t)lines->count,
			sizeof *lines->items * (size_t)room);
		lines->room = room;
	}
	lines->items[lines->count++] = (struct verify_line){
		.is_fault = is_fault, .text = text_clean_whole(lines->arena, text, TEXT_PLAIN)};
}
