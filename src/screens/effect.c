/* SPDX-License-Identifier: MIT */
#include <stdarg.h>
#include <stdio.h>

#include "core/text.h"
#include "screen.h"

void effect_usual(struct effect *out)
{
	out->kind = EFFECT_USUAL;
}

void effect_push(struct effect *out, const char *screen, const char *argument)
{
	out->kind = EFFECT_PUSH;
	out->screen = screen;
	(void)text_copy(out->argument, sizeof out->argument, argument);
}

void effect_say(struct effect *out, const char *format, ...)
{
	char text[FAULT_TEXT_SIZE * 2];
	va_list arguments;
	va_start(arguments, format);
	(void)vsnprintf(text, sizeof text, format, arguments);
	va_end(arguments);
	(void)text_copy(out->said, sizeof out->said, text);
}
