/* SPDX-License-Identifier: MIT */
/* Normalising, folding and comparing. All of it reads text through one reader that gives
 * normalised characters one by one, so that comparing needs no copy and no limit. */
#include "core/text.h"

#include <string.h>

#include "core/text_tables.h"

/* A letter and its marks, composed; more marks than this are a new run. */
enum { RUN_MAX = 16 };

struct reader {
	const char *text;
	size_t length;
	size_t at;
	uint32_t run[RUN_MAX * 2]; /* composed, not yet given */
	size_t run_length;
	size_t run_at;
};

static struct reader reader_of(const char *text)
{
	return (struct reader){.text = text, .length = strlen(text)};
}

/* The other character of a row that holds code; code itself when none does. */
static uint32_t look_up(uint32_t code, const struct text_folding *rows, size_t count)
{
	size_t low = 0;
	while (low < count) {
		size_t middle = low + (count - low) / 2;
		const struct text_folding *row = &rows[middle];
		if (code > row->last)
			low = middle + 1;
		else if (code < row->first)
			count = middle;
		else if ((int32_t)(code - row->first) % row->step != 0)
			return code;
		else
			return (uint32_t)((int32_t)code + row->distance);
	}
	return code;
}

/* The plain form of one character; 0 when it is dropped. */
static uint32_t plain_code(uint32_t code)
{
	if (code >= 0x20 && code < 0x7F)
		return code;
	if (text_code_is_blank(code))
		return ' ';
	if (text_code_is_control(code))
		return TEXT_BAD;
	if (text_code_is_hidden(code))
		return 0;
	if (code >= 0xFF01 && code <= 0xFF5E)
		return code - 0xFF01 + '!';
	if (code == 0x2010 || code == 0x2011 || code == 0xFE63)
		return '-';
	if (code >= 0x2012 && code <= 0x2015)
		return 0x2013;
	if (code == 0x212A || code == 0x212B)
		return code == 0x212A ? 'K' : 0xC5;
	return code == 0x2126 ? 0x3A9 : look_up(code, text_singles, text_singles_count);
}

/* Combining class of the marks that compose; 0: no such mark. */
static int class_of(uint32_t code)
{
	if (code < 0x300 || code > 0x36F)
		return 0;
	for (size_t at = 0; at < text_classes_count; at++)
		if (code >= text_classes[at].first && code <= text_classes[at].last)
			return text_classes[at].combining;
	return 230;
}

static uint32_t compose(uint32_t base, uint32_t mark)
{
	size_t low = 0;
	size_t high = text_compositions_count;
	while (low < high) {
		size_t middle = low + (high - low) / 2;
		const struct text_composition *row = &text_compositions[middle];
		if (row->base == base && row->mark == mark)
			return row->composed;
		if (row->base < base || (row->base == base && row->mark < mark))
			low = middle + 1;
		else
			high = middle;
	}
	return 0;
}

/* Writes the letter and its marks apart at codes; returns how many (at most 4). */
static size_t decompose(uint32_t code, uint32_t codes[4])
{
	size_t marks = 0;
	uint32_t found[3];
	for (size_t at = 0; at < text_compositions_count && marks < 3; at++) {
		if (text_compositions[at].composed != code)
			continue;
		found[marks++] = text_compositions[at].mark;
		code = text_compositions[at].base;
		at = (size_t)-1; /* once more from the start, for the letter below */
	}
	codes[0] = code;
	for (size_t at = 0; at < marks; at++)
		codes[1 + at] = found[marks - 1 - at];
	return marks + 1;
}

/* Marks in the order of their classes, those of one class as they stood. */
static void sort_marks(uint32_t *marks, size_t count)
{
	for (size_t at = 1; at < count; at++) {
		uint32_t mark = marks[at];
		size_t to = at;
		for (; to > 0 && class_of(marks[to - 1]) > class_of(mark); to--)
			marks[to] = marks[to - 1];
		marks[to] = mark;
	}
}

/* Composes run[0] with the marks after it, and keeps those that do not compose. */
static void compose_run(struct reader *reader)
{
	uint32_t *run = reader->run;
	size_t kept = 1;
	int last_class = 0;
	sort_marks(run + 1, reader->run_length - 1);
	for (size_t at = 1; at < reader->run_length; at++) {
		int class = class_of(run[at]);
		uint32_t composed = last_class == class ? 0 : compose(run[0], run[at]);
		if (composed != 0) {
			run[0] = composed;
			continue;
		}
		last_class = class;
		run[kept++] = run[at];
	}
	reader->run_length = kept;
}

/* The next plain character without stepping on; *size is what it takes. 0 at the end. */
static uint32_t peek_plain(const struct reader *reader, size_t *size)
{
	size_t used = 0;
	uint32_t code = 0;
	*size = 0;
	while (code == 0 && reader->at + *size < reader->length) {
		code = plain_code(text_decode(reader->text + reader->at + *size,
			reader->length - reader->at - *size, &used));
		*size += used;
	}
	return code;
}

/* A plain letter with no mark behind it, which is most of what is written. */
static bool is_bare_ascii(const char *at)
{
	return at[0] >= 0x20 && at[0] < 0x7F && (at[1] & 0x80) == 0;
}

/* The next normalised character; 0 at the end. */
static uint32_t read_code(struct reader *reader)
{
	if (reader->run_at < reader->run_length)
		return reader->run[reader->run_at++];
	if (is_bare_ascii(reader->text + reader->at))
		return (uint32_t)reader->text[reader->at++];
	size_t size;
	uint32_t code = peek_plain(reader, &size);
	reader->at += size;
	if (code == 0 || class_of(peek_plain(reader, &size)) == 0)
		return code;
	reader->run_length = decompose(code, reader->run);
	while (reader->run_length < RUN_MAX) {
		uint32_t mark = peek_plain(reader, &size);
		if (class_of(mark) == 0)
			break;
		reader->run[reader->run_length++] = mark;
		reader->at += size;
	}
	compose_run(reader);
	reader->run_at = 1;
	return reader->run[0];
}

uint32_t text_fold_character(uint32_t code)
{
	if (code < 0x80)
		return code >= 'A' && code <= 'Z' ? code + ('a' - 'A') : code;
	if ((code >= 0x2018 && code <= 0x201B) || code == 0x2032 || code == 0x2BC)
		return '\'';
	if ((code >= 0x201C && code <= 0x201F) || code == 0x2033)
		return '"';
	return look_up(code, text_foldings, text_foldings_count);
}

/* The bare letters that stand next, at one go. */
static void write_ascii(struct reader *reader, bool folded, struct text_builder *builder)
{
	char plain[64];
	size_t size = 0;
	while (size < sizeof plain && reader->run_at == reader->run_length &&
		is_bare_ascii(reader->text + reader->at)) {
		char letter = reader->text[reader->at++];
		bool is_capital = folded && letter >= 'A' && letter <= 'Z';
		plain[size++] = is_capital ? (char)(letter + ('a' - 'A')) : letter;
	}
	text_add_n(builder, plain, size);
}

static bool write_codes(const char *text, bool folded, char *out, size_t size)
{
	struct text_builder builder = text_builder_fixed(out, size);
	struct reader reader = reader_of(text);
	uint32_t code = 0;
	do {
		write_ascii(&reader, folded, &builder);
		code = read_code(&reader);
		if (code != 0)
			text_add_character(&builder, folded ? text_fold_character(code) : code);
	} while (code != 0);
	return !builder.cut;
}

bool text_normalise(const char *text, char *out, size_t size)
{
	return write_codes(text, false, out, size);
}

bool text_fold(const char *text, char *out, size_t size)
{
	return write_codes(text, true, out, size);
}

static uint32_t read_folded(struct reader *reader)
{
	return text_fold_character(read_code(reader));
}

bool text_same(const char *a, const char *b)
{
	if (strcmp(a, b) == 0)
		return true;
	if (is_bare_ascii(a) && is_bare_ascii(b) &&
		text_fold_character((uint32_t)*a) != text_fold_character((uint32_t)*b))
		return false;
	struct reader left = reader_of(a);
	struct reader right = reader_of(b);
	uint32_t code;
	do {
		code = read_folded(&left);
		if (code != read_folded(&right))
			return false;
	} while (code != 0);
	return true;
}

bool text_starts(const char *text, const char *start)
{
	struct reader whole = reader_of(text);
	struct reader part = reader_of(start);
	for (uint32_t code = read_folded(&part); code != 0; code = read_folded(&part))
		if (code != read_folded(&whole))
			return false;
	return true;
}

static bool is_digit(uint32_t code)
{
	return code >= '0' && code <= '9';
}

/* Compares two numbers whose first digits are *a and *b, and leaves there what follows them. */
static int compare_numbers(struct reader *left, uint32_t *a, struct reader *right, uint32_t *b)
{
	while (*a == '0')
		*a = read_folded(left);
	while (*b == '0')
		*b = read_folded(right);
	int first_difference = 0;
	while (is_digit(*a) && is_digit(*b)) {
		if (first_difference == 0)
			first_difference = (*a > *b) - (*a < *b);
		*a = read_folded(left);
		*b = read_folded(right);
	}
	if (is_digit(*a) != is_digit(*b))
		return is_digit(*a) ? 1 : -1;
	return first_difference;
}

int text_compare_natural(const char *a, const char *b)
{
	struct reader left = reader_of(a);
	struct reader right = reader_of(b);
	uint32_t code_a = read_folded(&left);
	uint32_t code_b = read_folded(&right);
	while (code_a != 0 || code_b != 0) {
		if (is_digit(code_a) && is_digit(code_b)) {
			int order = compare_numbers(&left, &code_a, &right, &code_b);
			if (order != 0)
				return order;
			continue;
		}
		if (code_a != code_b)
			return code_a < code_b ? -1 : 1;
		code_a = read_folded(&left);
		code_b = read_folded(&right);
	}
	int bytes = strcmp(a, b);
	return (bytes > 0) - (bytes < 0);
}
