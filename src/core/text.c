/* SPDX-License-Identifier: MIT */
/* Characters, clusters, copying and building. Showing is in text_show.c, folding in text_fold.c. */
#include "core/text.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "core/text_tables.h"

/* --- characters --- */

/* Least code of a sequence of this many bytes: an overlong form is no character. */
static const uint32_t least_code[] = {0, 0, 0x80, 0x800, 0x10000};

static bool is_character(uint32_t code)
{
	return code <= 0x10FFFF && (code < 0xD800 || code > 0xDFFF);
}

uint32_t text_decode(const char *text, size_t length, size_t *used)
{
	const unsigned char *bytes = (const unsigned char *)text;
	*used = length == 0 ? 0 : 1;
	if (length == 0)
		return 0;
	if (bytes[0] < 0x80)
		return bytes[0];
	size_t wanted = bytes[0] < 0xC2 ? 0 : bytes[0] < 0xE0 ? 2 : bytes[0] < 0xF0 ? 3 : 4;
	if (wanted == 0 || bytes[0] > 0xF4 || wanted > length)
		return TEXT_BAD;
	uint32_t code = bytes[0] & (0x7FU >> wanted);
	for (size_t at = 1; at < wanted; at++) {
		if ((bytes[at] & 0xC0) != 0x80)
			return TEXT_BAD;
		code = code << 6 | (bytes[at] & 0x3F);
	}
	if (code < least_code[wanted] || !is_character(code))
		return TEXT_BAD;
	*used = wanted;
	return code;
}

size_t text_encode(uint32_t code, char out[4])
{
	if (!is_character(code))
		code = TEXT_BAD;
	if (code < 0x80) {
		out[0] = (char)code;
		return 1;
	}
	size_t size = code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
	for (size_t at = size - 1; at > 0; at--) {
		out[at] = (char)(0x80 | (code & 0x3F));
		code >>= 6;
	}
	out[0] = (char)((0xF00U >> size & 0xF0) | code);
	return size;
}

bool text_is_valid(const char *text, size_t length)
{
	size_t used;
	for (size_t at = 0; at < length; at += used) {
		/* U+FFFD itself takes three bytes; a bad byte takes one. */
		if (text_decode(text + at, length - at, &used) == TEXT_BAD && used == 1)
			return false;
	}
	return true;
}

size_t text_count_characters(const char *text)
{
	size_t length = strlen(text);
	size_t count = 0;
	size_t used;
	for (size_t at = 0; at < length; at += used, count++)
		text_decode(text + at, length - at, &used);
	return count;
}

/* --- clusters --- */

bool text_in_ranges(uint32_t code, const struct text_range *ranges, size_t count)
{
	size_t low = 0;
	while (low < count) {
		size_t middle = low + (count - low) / 2;
		if (code > ranges[middle].last)
			low = middle + 1;
		else if (code < ranges[middle].first)
			count = middle;
		else
			return true;
	}
	return false;
}

bool text_code_is_mark(uint32_t code)
{
	return code >= 0x300 && text_in_ranges(code, text_marks, text_marks_count);
}

bool text_code_is_control(uint32_t code)
{
	return code < 0x20 || (code >= 0x7F && code < 0xA0);
}

bool text_code_is_blank(uint32_t code)
{
	static const struct text_range blanks[] = {{0x09, 0x0D}, {0x20, 0x20}, {0x85, 0x85},
		{0xA0, 0xA0}, {0x1680, 0x1680}, {0x2000, 0x200A}, {0x2028, 0x2029},
		{0x202F, 0x202F}, {0x205F, 0x205F}, {0x3000, 0x3000}};
	return text_in_ranges(code, blanks, sizeof blanks / sizeof *blanks);
}

bool text_code_is_hidden(uint32_t code)
{
	static const struct text_range hidden[] = {{0xAD, 0xAD}, {0x61C, 0x61C}, {0x180E, 0x180E},
		{0x200B, 0x200B}, {0x200E, 0x200F}, {0x202A, 0x202E}, {0x2060, 0x206F},
		{0xFEFF, 0xFEFF}, {0xFFF9, 0xFFFB}, {0x13430, 0x13438}, {0x1BCA0, 0x1BCA3},
		{0x1D173, 0x1D17A}, {0xE0000, 0xE001F}};
	return text_in_ranges(code, hidden, sizeof hidden / sizeof *hidden);
}

/* Signs that a zero width joiner ties into one emoji. */
static bool is_pictograph(uint32_t code)
{
	return (code >= 0x1F000 && code <= 0x1FAFF) || (code >= 0x2190 && code <= 0x2BFF) ||
	       code == 0xA9 || code == 0xAE || code == 0x3030;
}

bool text_code_extends(uint32_t code)
{
	bool skin_tone = code >= 0x1F3FB && code <= 0x1F3FF;
	bool tag = code >= 0xE0020 && code <= 0xE007F;
	bool joiner = code == 0x200C || code == 0x200D;
	return skin_tone || tag || joiner || text_code_is_mark(code);
}

size_t text_next(const char *text, size_t length, size_t at)
{
	size_t used;
	if (at >= length)
		return length;
	uint32_t code = text_decode(text + at, length - at, &used);
	at += used;
	if (text_code_is_control(code))
		return at;
	bool pictograph = is_pictograph(code);
	bool flag_half = code >= 0x1F1E6 && code <= 0x1F1FF;
	bool joined = false;
	while (at < length) {
		code = text_decode(text + at, length - at, &used);
		bool flag_end = flag_half && code >= 0x1F1E6 && code <= 0x1F1FF;
		bool next_of_sequence = pictograph && joined && is_pictograph(code);
		if (!text_code_extends(code) && !flag_end && !next_of_sequence)
			break;
		flag_half = false;
		joined = code == 0x200D;
		at += used;
	}
	return at;
}

size_t text_previous(const char *text, size_t length, size_t at)
{
	size_t start = 0;
	if (at > length)
		at = length;
	for (size_t next = text_next(text, length, 0); next < at;
		next = text_next(text, length, next))
		start = next;
	return start;
}

/* --- copying --- */

const char *text_trim(const char *text, size_t *length)
{
	size_t left = strlen(text);
	while (left > 0 && strchr(" \t\r\n\v\f", text[left - 1]) != NULL)
		left--;
	while (left > 0 && strchr(" \t\r\n\v\f", *text) != NULL) {
		text++;
		left--;
	}
	*length = left;
	return text;
}

char *text_trim_in_place(char *text)
{
	size_t length;
	const char *start = text_trim(text, &length);
	memmove(text, start, length);
	text[length] = '\0';
	return text;
}

size_t text_whole(const char *text, size_t length)
{
	for (size_t back = 1; back <= 3 && back <= length; back++) {
		unsigned char byte = (unsigned char)text[length - back];
		if ((byte & 0xC0) == 0x80)
			continue;
		size_t wanted = byte < 0xC0 ? 1 : byte < 0xE0 ? 2 : byte < 0xF0 ? 3 : 4;
		return wanted > back ? length - back : length;
	}
	return length;
}

bool text_copy_n(char *out, size_t size, const char *text, size_t length)
{
	assert(size > 0);
	size_t fits = length < size ? length : text_whole(text, size - 1);
	if (fits > 0)
		memmove(out, text, fits);
	out[fits] = '\0';
	return fits == length;
}

bool text_copy(char *out, size_t size, const char *text)
{
	return text_copy_n(out, size, text == NULL ? "" : text, text == NULL ? 0 : strlen(text));
}

/* --- building --- */

struct text_builder text_builder_in(struct arena *arena)
{
	enum { FIRST_SIZE = 128 };
	return (struct text_builder){
		.arena = arena, .text = arena_alloc(arena, FIRST_SIZE), .size = FIRST_SIZE};
}

struct text_builder text_builder_fixed(char *room, size_t size)
{
	assert(size > 0);
	room[0] = '\0';
	return (struct text_builder){.text = room, .size = size};
}

static void make_room(struct text_builder *builder, size_t more)
{
	size_t wanted = builder->length + more + 1;
	if (builder->arena == NULL || wanted <= builder->size)
		return;
	size_t size = builder->size * 2 > wanted ? builder->size * 2 : wanted;
	builder->text = arena_grow(builder->arena, builder->text, builder->length, size);
	builder->size = size;
}

void text_add_n(struct text_builder *builder, const char *text, size_t length)
{
	if (builder->cut)
		return;
	make_room(builder, length);
	size_t room = builder->size - builder->length;
	builder->cut = !text_copy_n(builder->text + builder->length, room, text, length);
	builder->length += builder->cut ? strlen(builder->text + builder->length) : length;
}

void text_add(struct text_builder *builder, const char *text)
{
	text_add_n(builder, text, strlen(text));
}

void text_add_character(struct text_builder *builder, uint32_t code)
{
	char bytes[4];
	text_add_n(builder, bytes, text_encode(code, bytes));
}

void text_add_format(struct text_builder *builder, const char *format, ...)
{
	if (builder->cut)
		return;
	va_list arguments;
	va_list again;
	va_start(arguments, format);
	va_copy(again, arguments);
	size_t room = builder->size - builder->length;
	char *end = builder->text + builder->length;
	int wanted = vsnprintf(end, room, format, arguments);
	va_end(arguments);
	assert(wanted >= 0);
	size_t length = (size_t)wanted;
	if (length >= room && builder->arena != NULL) {
		make_room(builder, length);
		vsnprintf(builder->text + builder->length, length + 1, format, again);
	} else if (length >= room) {
		/* vsnprintf cut between bytes: take away the first part of a character. */
		builder->cut = true;
		length = text_whole(end, room - 1);
		end[length] = '\0';
	}
	va_end(again);
	builder->length += length;
}
