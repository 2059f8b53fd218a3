/* SPDX-License-Identifier: MIT */
#include "core/fault.h"

#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

/* How many bytes the UTF-8 sequence that starts with this byte wants; 0 for a trail byte. */
static size_t sequence_length(unsigned char lead)
{
	if (lead < 0x80)
		return 1;
	if (lead < 0xC0)
		return 0;
	if (lead < 0xE0)
		return 2;
	return lead < 0xF0 ? 3 : 4;
}

/* vsnprintf cuts between bytes; takes away the first part of a character left at the end. */
static void drop_broken_end(char *text)
{
	size_t length = strlen(text);
	for (size_t back = 1; back <= 3 && back <= length; back++) {
		size_t wants = sequence_length((unsigned char)text[length - back]);
		if (wants == 0)
			continue;
		if (wants > back)
			text[length - back] = '\0';
		return;
	}
}

/* "%.40s" cuts between bytes too: takes away the first part of a character before a quote. */
static void drop_broken_quotes(char *text)
{
	char *to = text;
	for (const char *from = text; *from != '\0'; from++) {
		const char letter = *from;
		if (letter == '\'') {
			*to = '\0';
			drop_broken_end(text);
			to = text + strlen(text);
		}
		*to++ = letter;
	}
	*to = '\0';
}

static void format_text(char *out, const char *format, va_list arguments)
{
	int wanted = vsnprintf(out, FAULT_TEXT_SIZE, format, arguments);
	if (wanted < 0)
		out[0] = '\0';
	else if (wanted >= FAULT_TEXT_SIZE)
		drop_broken_end(out);
	drop_broken_quotes(out);
}

/* Formats into a room of its own first, so that an argument may be the old why->text. */
enum status fault_set(struct fault *why, enum status status, const char *format, ...)
{
	if (why == NULL)
		return status;
	char text[FAULT_TEXT_SIZE];
	va_list arguments;
	va_start(arguments, format);
	format_text(text, format, arguments);
	va_end(arguments);
	why->status = status;
	memcpy(why->text, text, strlen(text) + 1);
	return status;
}

void fault_prefix(struct fault *why, const char *format, ...)
{
	if (why == NULL)
		return;
	char prefix[FAULT_TEXT_SIZE];
	va_list arguments;
	va_start(arguments, format);
	format_text(prefix, format, arguments);
	va_end(arguments);
	size_t start = strlen(prefix);
	size_t room = FAULT_TEXT_SIZE - 1 - start;
	size_t kept = strlen(why->text);
	bool cut = kept > room;
	if (cut)
		kept = room;
	memmove(why->text + start, why->text, kept);
	memcpy(why->text, prefix, start);
	why->text[start + kept] = '\0';
	if (cut)
		drop_broken_end(why->text);
}
