/* SPDX-License-Identifier: MIT */
#include "input.h"

#include <curses.h>
#include <string.h>

#include "core/text.h"
#include "term.h"

enum {
	CODE_PASTE_BEGINS = KEY_MAX - 2, /* codes of ours among those of curses */
	CODE_PASTE_ENDS = KEY_MAX - 1,
	NOTHING = -1,
	ESCAPE = 27,
	ESCAPE_MS = 50,
	PASTE_MS = 1000, /* a paste that never ends, ends */
	SEQUENCE_MAX = 64,
	STRING_MAX = 4096,
};

void input_teach(void)
{
	(void)define_key("\033[200~", CODE_PASTE_BEGINS);
	(void)define_key("\033[201~", CODE_PASTE_ENDS);
}

/* --- codes of curses, one at a time --- */

static int code_now(struct input_reader *reader)
{
	if (reader->held_count > 0)
		return reader->held[--reader->held_count];
	const int code = getch();
	return code == ERR ? NOTHING : code;
}

static void hold(struct input_reader *reader, int code)
{
	if (reader->held_count < (int)(sizeof reader->held / sizeof reader->held[0]))
		reader->held[reader->held_count++] = code;
}

static int code_within(struct input_reader *reader, int milliseconds)
{
	const int code = code_now(reader);
	if (code != NOTHING || term_wait_keys(milliseconds) == false)
		return code;
	return code_now(reader);
}

bool input_waits(struct input_reader *reader)
{
	const int code = code_now(reader);
	if (code == NOTHING)
		return false;
	hold(reader, code);
	return true;
}

/* --- keys --- */

/* clang-format off */
static const struct { int code; uint32_t key; } codes[] = {
	{KEY_UP, KEYS_UP}, {KEY_DOWN, KEYS_DOWN}, {KEY_LEFT, KEYS_LEFT}, {KEY_RIGHT, KEYS_RIGHT},
	{KEY_HOME, KEYS_HOME}, {KEY_FIND, KEYS_HOME}, {KEY_A1, KEYS_HOME},
	{KEY_END, KEYS_END}, {KEY_SELECT, KEYS_END}, {KEY_C1, KEYS_END},
	{KEY_PPAGE, KEYS_PAGE_UP}, {KEY_A3, KEYS_PAGE_UP},
	{KEY_NPAGE, KEYS_PAGE_DOWN}, {KEY_C3, KEYS_PAGE_DOWN},
	{KEY_DC, KEYS_DELETE}, {KEY_BACKSPACE, KEYS_BACKSPACE}, {KEY_ENTER, KEYS_ENTER},
	{KEY_F(1), KEYS_F1}, {KEY_BTAB, KEYS_BACK_TAB}, {KEY_SLEFT, KEYS_WORD_LEFT}, {KEY_SRIGHT, KEYS_WORD_RIGHT},
	{8, KEYS_BACKSPACE}, {127, KEYS_BACKSPACE}, {9, KEYS_TAB}, {10, KEYS_ENTER}, {13, KEYS_ENTER},
};

/* What stands between "ESC [" (or "ESC O") and the end of a sequence, whole. */
static const struct { const char *sequence; uint32_t key; } sequences[] = {
	{"A", KEYS_UP}, {"B", KEYS_DOWN}, {"C", KEYS_RIGHT}, {"D", KEYS_LEFT},
	{"H", KEYS_HOME}, {"F", KEYS_END}, {"1~", KEYS_HOME}, {"4~", KEYS_END},
	{"7~", KEYS_HOME}, {"8~", KEYS_END}, {"5~", KEYS_PAGE_UP}, {"6~", KEYS_PAGE_DOWN},
	{"3~", KEYS_DELETE}, {"Z", KEYS_BACK_TAB}, {"M", KEYS_ENTER},
	{"1;5C", KEYS_WORD_RIGHT}, {"1;5D", KEYS_WORD_LEFT},
	{"1;3C", KEYS_WORD_RIGHT}, {"1;3D", KEYS_WORD_LEFT},
	{"P", KEYS_F1}, {"11~", KEYS_F1}, {"[A", KEYS_F1},
	{"5C", KEYS_WORD_RIGHT}, {"5D", KEYS_WORD_LEFT},
};
/* clang-format on */

static uint32_t key_of_code(int code)
{
	for (size_t i = 0; i < sizeof codes / sizeof codes[0]; i++) {
		if (codes[i].code == code)
			return codes[i].key;
	}
	const char *name =
		code > KEY_MAX ? keyname(code) : NULL; /* what terminfo adds on its own */
	if (name != NULL && (strcmp(name, "kLFT5") == 0 || strcmp(name, "kLFT3") == 0))
		return KEYS_WORD_LEFT;
	if (name != NULL && (strcmp(name, "kRIT5") == 0 || strcmp(name, "kRIT3") == 0))
		return KEYS_WORD_RIGHT;
	return KEYS_NONE;
}

static uint32_t key_of_sequence(const char *sequence)
{
	for (size_t i = 0; i < sizeof sequences / sizeof sequences[0]; i++) {
		if (strcmp(sequences[i].sequence, sequence) == 0)
			return sequences[i].key;
	}
	return KEYS_NONE;
}

/* --- sequences --- */

/* Text for the terminal that came back to us (titles, clipboards): up to BEL or ESC \. */
static void skip_string(struct input_reader *reader)
{
	int before = 0;
	for (int i = 0; i < STRING_MAX; i++) {
		const int code = code_within(reader, ESCAPE_MS);
		if (code == NOTHING || code == 7 || (before == ESCAPE && code == '\\'))
			return;
		before = code;
	}
}

/* After "ESC [": parameters, then one byte that ends it. */
static uint32_t read_csi(struct input_reader *reader)
{
	char sequence[SEQUENCE_MAX + 1] = "";
	size_t length = 0;
	for (;;) {
		const int code = code_within(reader, ESCAPE_MS);
		if (code == NOTHING)
			return KEYS_NONE;
		if (code < ' ' || code > '~') { /* broken off by another key */
			hold(reader, code);
			return KEYS_NONE;
		}
		if (length < SEQUENCE_MAX)
			sequence[length++] = (char)code;
		if (code == 'M' && length == 1) { /* a mouse told the old way: three more bytes */
			for (int i = 0; i < 3; i++)
				(void)code_within(reader, ESCAPE_MS);
			return KEYS_NONE;
		}
		if (code == '[' && length == 1) /* function keys of the console: one more byte */
			continue;
		if (code >= '@')
			break;
	}
	sequence[length] = '\0';
	if (strcmp(sequence, "200~") == 0)
		return KEYS_PASTE;
	return key_of_sequence(sequence);
}

/* A mouse told of although nobody asked: numbers up to M or m, or three bytes. */
static void skip_mouse(struct input_reader *reader)
{
	int code = code_within(reader, ESCAPE_MS);
	if (code < '0' || code > '9') {
		(void)code_within(reader, ESCAPE_MS);
		(void)code_within(reader, ESCAPE_MS);
		return;
	}
	while ((code >= '0' && code <= '9') || code == ';')
		code = code_within(reader, ESCAPE_MS);
}

/* curses has waited already for what a known sequence would go on with. */
static uint32_t read_escape(struct input_reader *reader)
{
	const int code = code_now(reader);
	if (code == NOTHING)
		return KEYS_ESCAPE;
	if (code == '[')
		return read_csi(reader);
	if (code == 'O') {
		const int last = code_within(reader, ESCAPE_MS);
		const char sequence[] = {(char)last, '\0'};
		return last == NOTHING || last > '~' ? KEYS_NONE : key_of_sequence(sequence);
	}
	if (code == ']' || code == 'P' || code == '_' || code == '^' || code == 'X') {
		skip_string(reader);
		return KEYS_NONE;
	}
	if (code == ESCAPE) { /* ESC ESC: a lone one, and perhaps a sequence after it */
		hold(reader, code);
		return KEYS_ESCAPE;
	}
	return KEYS_NONE; /* Alt with a key means nothing here */
}

/* --- pastes --- */

static bool paste_ends(struct input_reader *reader, int code)
{
	static const char end[] = "[201~";
	if (code == CODE_PASTE_ENDS)
		return true;
	if (code != ESCAPE)
		return false;
	for (const char *at = end; *at != '\0'; at++) {
		const int next = code_within(reader, ESCAPE_MS);
		if (next == *at)
			continue;
		if (next != NOTHING)
			hold(reader, next);
		return false;
	}
	return true;
}

static void read_paste(struct input_reader *reader)
{
	size_t length = 0;
	for (;;) {
		const int code = code_within(reader, PASTE_MS);
		if (code == NOTHING || paste_ends(reader, code))
			break;
		if (code > 255 || code == ESCAPE || length + 1 >= PASTE_SIZE)
			continue;
		reader->pasted[length++] = (char)(code == 0 ? ' ' : code);
	}
	reader->pasted[length] = '\0';
}

/* --- characters --- */

static size_t utf8_length(int first)
{
	if (first >= 0xC2 && first <= 0xDF)
		return 2;
	if (first >= 0xE0 && first <= 0xEF)
		return 3;
	return first >= 0xF0 && first <= 0xF4 ? 4 : 1;
}

/* A character that begins with this byte; KEYS_NONE: none. */
static uint32_t read_character(struct input_reader *reader, int first)
{
	char bytes[4] = {(char)first};
	const size_t wanted = utf8_length(first);
	size_t used;
	for (size_t i = 1; i < wanted; i++) {
		const int code = code_within(reader, ESCAPE_MS);
		if (code == NOTHING)
			return KEYS_NONE;
		if (code < 0x80 || code > 0xBF) {
			hold(reader, code);
			return KEYS_NONE;
		}
		bytes[i] = (char)code;
	}
	const uint32_t character = text_decode(bytes, wanted, &used);
	return wanted == 1 || character == TEXT_BAD || used != wanted ? KEYS_NONE : character;
}

struct input input_read(struct input_reader *reader)
{
	struct input input = {.key = KEYS_NONE};
	const int code = code_now(reader);
	if (code == NOTHING)
		return input;
	if (code == ESCAPE)
		input.key = read_escape(reader);
	else if (code == KEY_MOUSE)
		skip_mouse(reader);
	else if (code == CODE_PASTE_BEGINS)
		input.key = KEYS_PASTE;
	else if (key_of_code(code) != KEYS_NONE)
		input.key = key_of_code(code);
	else if (code < 0x80)
		input.key = (uint32_t)code;
	else if (code <= 255)
		input.key = read_character(reader, code);
	if (input.key == KEYS_PASTE) {
		read_paste(reader);
		input.pasted = reader->pasted;
	}
	input.more_waits = input_waits(reader);
	return input;
}
