/* SPDX-License-Identifier: MIT */
/* Showing text: which bytes stand for a cluster, and how many cells they take. */
#include "core/text.h"

#include <limits.h>
#include <string.h>

#include "core/text_tables.h"

enum { DOTTED_CIRCLE = 0x25CC, ELLIPSIS = 0x2026, MARKS_SHOWN = 4 };

/* One cluster as it is shown. */
struct piece {
	char bytes[TEXT_CLUSTER_SIZE];
	size_t length;
	int cells;
};

static void add_code(struct piece *piece, uint32_t code)
{
	char bytes[4];
	size_t size = text_encode(code, bytes);
	if (piece->length + size <= sizeof piece->bytes) {
		memcpy(piece->bytes + piece->length, bytes, size);
		piece->length += size;
	}
}

static int cells_of(uint32_t code)
{
	if (text_code_is_mark(code))
		return 0;
	return code >= 0x1100 && text_in_ranges(code, text_wide, text_wide_count) ? 2 : 1;
}

static bool is_flag_half(uint32_t code)
{
	return code >= 0x1F1E6 && code <= 0x1F1FF;
}

/* Variation selectors ask for a look that terminals do not agree on. */
static bool is_selector(uint32_t code)
{
	return (code >= 0xFE00 && code <= 0xFE0F) || (code >= 0xE0100 && code <= 0xE01EF) ||
	       (code >= 0x180B && code <= 0x180F);
}

/* What is shown for the first character of a cluster. */
static uint32_t safe_code(uint32_t code)
{
	if (text_code_is_blank(code))
		return ' ';
	if (code < 0x20)
		return 0x2400 + code;
	if (code == 0x7F)
		return 0x2421;
	bool no_character = (code & 0xFFFE) == 0xFFFE || (code >= 0xFDD0 && code <= 0xFDEF);
	if (text_code_is_control(code) || text_code_is_hidden(code) || no_character)
		return TEXT_BAD;
	return code;
}

/* Dashes and quotes have an ASCII form that a reader takes for the same. */
static char ascii_of(uint32_t code)
{
	code = safe_code(code);
	if (code < 0x80)
		return (char)code;
	if ((code >= 0x2010 && code <= 0x2015) || code == 0x2212)
		return '-';
	if (code >= 0x2018 && code <= 0x201B)
		return '\'';
	if (code >= 0x201C && code <= 0x201F)
		return '"';
	return code == 0xD7 ? 'x' : '?';
}

/* The rest of a cluster after its first character: marks, and the other half of a flag. */
static void add_rest(struct piece *piece, uint32_t first, const char *text, size_t length)
{
	int marks = 0;
	size_t used;
	for (size_t at = 0; at < length; at += used) {
		uint32_t code = text_decode(text + at, length - at, &used);
		if (is_flag_half(first) && is_flag_half(code)) {
			add_code(piece, code);
			piece->cells += cells_of(code);
		}
		bool shown = (text_code_is_mark(code) && !is_selector(code)) || code == 0x200C;
		if (shown && ++marks <= MARKS_SHOWN)
			add_code(piece, code);
	}
}

/* A letter of ASCII that nothing beside it can join: most text is of these. */
static bool stands_alone(const char *text, size_t length, size_t at)
{
	return text[at] >= 0x20 && text[at] < 0x7F && (at + 1 == length || text[at + 1] > 0);
}

/* Fills piece for the cluster at `at` and returns where the next one starts. */
static size_t show_cluster(const char *text, size_t length, size_t at, int how, struct piece *piece)
{
	if (stands_alone(text, length, at)) {
		piece->bytes[0] = text[at];
		piece->length = 1;
		piece->cells = 1;
		return at + 1;
	}
	size_t next = text_next(text, length, at);
	size_t used;
	uint32_t first = text_decode(text + at, length - at, &used);
	*piece = (struct piece){.cells = 1};
	if (how & TEXT_ASCII) {
		add_code(piece, (unsigned char)ascii_of(first));
		return next;
	}
	if (text_code_extends(first)) {
		add_code(piece, DOTTED_CIRCLE);
		add_rest(piece, first, text + at, next - at);
		return next;
	}
	uint32_t safe = safe_code(first);
	add_code(piece, safe);
	piece->cells = cells_of(safe);
	add_rest(piece, first, text + at + used, next - at - used);
	return next;
}

static bool add_piece(struct text_builder *builder, const struct piece *piece)
{
	if (builder->arena == NULL && builder->length + piece->length >= builder->size)
		builder->cut = true;
	text_add_n(builder, piece->bytes, piece->length);
	return !builder->cut;
}

static void clean_into(struct text_builder *builder, const char *text, int how)
{
	size_t length = strlen(text);
	struct piece piece;
	size_t at = 0;
	while (at < length) {
		at = show_cluster(text, length, at, how, &piece);
		if (!add_piece(builder, &piece))
			return;
	}
}

const char *text_clean(const char *text, int how, char *out, size_t size)
{
	struct text_builder builder = text_builder_fixed(out, size);
	clean_into(&builder, text, how);
	return out;
}

const char *text_clean_whole(struct arena *arena, const char *text, int how)
{
	struct text_builder builder = text_builder_in(arena);
	clean_into(&builder, text, how);
	return builder.text;
}

/* How many cells the first whole clusters of text take that fit into `room`. */
static int cells_within(const char *text, size_t length, int how, int room)
{
	struct piece piece;
	int cells = 0;
	for (size_t at = 0; at < length;) {
		at = show_cluster(text, length, at, how, &piece);
		if (piece.cells > room - cells)
			return cells;
		cells += piece.cells;
	}
	return cells;
}

int text_width_n(const char *text, size_t length)
{
	return cells_within(text, length, TEXT_PLAIN, INT_MAX);
}

int text_width(const char *text)
{
	return text_width_n(text, strlen(text));
}

static bool fits(const char *text, size_t length, int how, int cells)
{
	struct piece piece;
	for (size_t at = 0; at < length && cells >= 0;) {
		at = show_cluster(text, length, at, how, &piece);
		cells -= piece.cells;
	}
	return cells >= 0;
}

static void add_blanks(struct text_builder *builder, int count)
{
	while (count-- > 0)
		text_add_n(builder, " ", 1);
}

const char *text_fit(const char *text, int cells, int how, char *out, size_t size)
{
	struct text_builder builder = text_builder_fixed(out, size);
	if (cells <= 0)
		return out;
	size_t length = strlen(text);
	bool whole = fits(text, length, how, cells);
	int room = whole ? cells : cells - 1;
	int used = cells_within(text, length, how, room);
	int blanks = room - used;
	int after = how & TEXT_PAD_RIGHT ? blanks : 0;
	if (how & TEXT_PAD_LEFT) {
		after /= 2;
		add_blanks(&builder, blanks - after);
	}
	struct piece piece;
	for (size_t at = 0; used > 0 && at < length;) {
		at = show_cluster(text, length, at, how, &piece);
		if (piece.cells > used || !add_piece(&builder, &piece))
			break;
		used -= piece.cells;
	}
	if (!whole)
		text_add_character(&builder, how & TEXT_ASCII ? '~' : ELLIPSIS);
	add_blanks(&builder, after);
	return out;
}
