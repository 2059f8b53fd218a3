/* SPDX-License-Identifier: MIT */
#include "core/plain.h"

#include <stdint.h>
#include <string.h>

/* Characters that mean a plain one; "" goes away. Ranges of code points, both ends in. */
struct plain_row {
	uint32_t from;
	uint32_t to;
	const char *plain;
};

/* clang-format off */
static const struct plain_row plain_rows[] = {
	{0x0009, 0x0009, " "}, {0x00A0, 0x00A0, " "}, {0x1680, 0x1680, " "}, {0x2000, 0x200A, " "},
	{0x202F, 0x202F, " "}, {0x205F, 0x205F, " "}, {0x3000, 0x3000, " "},
	{0x200B, 0x200B, ""},  {0xFEFF, 0xFEFF, ""},
	{0x2010, 0x2015, "-"}, {0x2212, 0x2212, "-"}, {0xFE58, 0xFE58, "-"}, {0xFE63, 0xFE63, "-"},
	{0x2018, 0x201B, "'"}, {0x02BC, 0x02BC, "'"}, {0x2032, 0x2032, "'"}, {0x00B4, 0x00B4, "'"},
	{0x201C, 0x201F, "\""}, {0x2033, 0x2033, "\""},
	{0x2044, 0x2044, "/"}, {0x2215, 0x2215, "/"}, {0x00D7, 0x00D7, "x"},
	{0x00BA, 0x00BA, "\xC2\xB0"}, {0x2103, 0x2103, "\xC2\xB0" "C"},
	{0x2109, 0x2109, "\xC2\xB0" "F"},
};
/* clang-format on */

size_t plain_character(const char *text, size_t left)
{
	const unsigned char *byte = (const unsigned char *)text;
	if (left == 0 || byte[0] == 0)
		return 0;
	if (byte[0] < 0x80)
		return 1;
	size_t wants = byte[0] < 0xC2 ? 0 : byte[0] < 0xE0 ? 2 : byte[0] < 0xF0 ? 3 : 4;
	if (wants == 0 || byte[0] > 0xF4 || left < wants)
		return 0;
	for (size_t i = 1; i < wants; i++) {
		if ((byte[i] & 0xC0) != 0x80)
			return 0;
	}
	bool overlong = (byte[0] == 0xE0 && byte[1] < 0xA0) || (byte[0] == 0xF0 && byte[1] < 0x90);
	bool surrogate = byte[0] == 0xED && byte[1] >= 0xA0;
	bool beyond = byte[0] == 0xF4 && byte[1] >= 0x90;
	return overlong || surrogate || beyond ? 0 : wants;
}

static uint32_t code_point(const char *text, size_t length)
{
	const unsigned char *byte = (const unsigned char *)text;
	if (length == 1)
		return byte[0];
	uint32_t code = byte[0] & (0xFFU >> (length + 1));
	for (size_t i = 1; i < length; i++)
		code = (code << 6) | (byte[i] & 0x3FU);
	return code;
}

static const char *plain_form(uint32_t code)
{
	for (size_t i = 0; i < sizeof(plain_rows) / sizeof(plain_rows[0]); i++) {
		if (code >= plain_rows[i].from && code <= plain_rows[i].to)
			return plain_rows[i].plain;
	}
	return NULL;
}

static void put(struct plain *out, const char *bytes, size_t count, size_t at)
{
	bool blank = count == 1 && bytes[0] == ' ';
	if (blank && (out->length == 0 || out->text[out->length - 1] == ' '))
		return;
	for (size_t i = 0; i < count && out->length < PLAIN_SIZE - 1; i++) {
		char byte = bytes[i];
		out->text[out->length] = byte;
		out->low[out->length] = byte >= 'A' && byte <= 'Z' ? (char)(byte + 32) : byte;
		out->at[out->length++] = (unsigned short)at;
	}
}

static void put_character(struct plain *out, const char *text, size_t count, size_t at)
{
	if (count == 1 && text[0] != '\t') { /* no row of the table is any other ASCII */
		put(out, text, 1, at);
		return;
	}
	uint32_t code = code_point(text, count);
	const char *form = plain_form(code);
	char ascii = ' ';
	if (code >= 0xFF01 && code <= 0xFF5E) {
		ascii = (char)(code - 0xFEE0);
		put(out, &ascii, 1, at);
	} else if (form != NULL) {
		put(out, form, strlen(form), at);
	} else {
		put(out, text, count, at);
	}
}

enum status plain_make(const char *source, size_t limit, struct plain *out, struct fault *why)
{
	size_t left = strnlen(source, limit < PLAIN_SIZE ? limit : PLAIN_SIZE - 1);
	bool whole = source[left] == '\0';
	size_t at = 0;
	out->length = 0;
	while (at < left) {
		size_t count = plain_character(source + at, left - at);
		if (count == 0 && !whole && left - at < 4)
			break;
		if (count == 0)
			return fault_set(why, STATUS_SYNTAX, "byte %zu is not UTF-8 text", at + 1);
		uint32_t code = code_point(source + at, count);
		if ((code < 0x20 && code != '\t') || (code >= 0x7F && code < 0xA0))
			return fault_set(why, STATUS_SYNTAX,
				"a control character (U+%04X) stands at byte %zu", (unsigned)code,
				at + 1);
		put_character(out, source + at, count, at);
		at += count;
	}
	if (whole && out->length > 0 && out->text[out->length - 1] == ' ')
		at = out->at[--out->length];
	out->text[out->length] = '\0';
	out->low[out->length] = '\0';
	out->at[out->length] = (unsigned short)at;
	return STATUS_OK;
}

bool plain_is_letter(char byte)
{
	return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') ||
	       (unsigned char)byte >= 0x80;
}

bool plain_is_digit(char byte)
{
	return byte >= '0' && byte <= '9';
}

static size_t starts_with(const char *text, const char *word, size_t length)
{
	for (size_t i = 0; i < length; i++) {
		if (text[i] != (word[i] == '_' ? ' ' : word[i]))
			return 0;
	}
	bool inside = plain_is_letter(text[length]) || plain_is_digit(text[length]);
	return inside ? 0 : length;
}

size_t plain_word(const char *text, const char *word)
{
	if (text[0] != word[0] && word[0] != '_')
		return 0;
	return starts_with(text, word, strlen(word));
}

size_t plain_word_of(const char *text, const char *words)
{
	size_t longest = 0;
	for (const char *word = words; *word != '\0';) {
		size_t length = 1;
		while (word[length] != ' ' && word[length] != '\0')
			length++;
		bool begins = word[0] == text[0] || word[0] == '_';
		size_t fits = begins ? starts_with(text, word, length) : 0;
		if (fits > longest)
			longest = fits;
		word += length;
		while (*word == ' ')
			word++;
	}
	return longest;
}
