/* SPDX-License-Identifier: MIT */
/* text.h - UTF-8 text: its characters, its cells on a screen, and making it safe to show.
 *
 * Text is UTF-8 inside the program, whatever the locale. Bytes that are not UTF-8 count as
 * one U+FFFD each; no text, however hostile, is refused here. Tables of our own (Unicode, made by
 * tests/tools/text_tables.py): composing and folding know Latin, Greek, Cyrillic and Vietnamese.
 *
 * A cluster is what a person takes for one character: a letter with its marks, an emoji sequence,
 * a pair of regional indicators. Allocates nothing; sizes count bytes and the closing NUL. */
#ifndef CORE_TEXT_H
#define CORE_TEXT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "core/memory.h"

/* --- characters --- */
enum { TEXT_BAD = 0xFFFD };

/* The character at the start of text, and how many bytes it takes: one for a bad byte, which is
 * TEXT_BAD. length 0 gives 0 and takes none. */
uint32_t text_decode(const char *text, size_t length, size_t *used);
/* Writes 1 to 4 bytes, no NUL, and returns how many; no character: those of TEXT_BAD. */
size_t text_encode(uint32_t code, char out[4]);
bool text_is_valid(const char *text, size_t length);
/* length, less the first part of a character that stands cut at the end. */
size_t text_whole(const char *text, size_t length);
size_t text_count_characters(const char *text); /* what limits count: characters, not bytes */

/* --- clusters: byte places in text[0..length) --- */
size_t text_next(const char *text, size_t length, size_t at);     /* length at the end */
size_t text_previous(const char *text, size_t length, size_t at); /* 0 at the start */

/* --- showing --- */

/* A cluster is shown in at most this many bytes; of its marks the first four. */
enum { TEXT_CLUSTER_SIZE = 20 };

/* Flags; they may be added. */
enum text_how {
	TEXT_PLAIN = 0,
	TEXT_ASCII = 1, /* what is not ASCII becomes ?, a dash -, a curly quote a straight one */
	TEXT_PAD_RIGHT = 2, /* blanks after it, up to the cells: a column of words */
	TEXT_PAD_LEFT = 4,  /* blanks before it: a column of figures; both: in the middle */
};

/* The one way to make text safe to print: tabs, line ends and odd blanks become a blank, controls
 * a visible sign (U+241B for ESC), C1, directional and hidden characters U+FFFD, and a mark with
 * no letter before it stands on a dotted circle. An emoji sequence keeps its first sign only,
 * because terminals do not agree on the width of the whole. Cuts at a cluster when out is full. */
const char *text_clean(const char *text, int how, char *out, size_t size);
/* The same of any length, in the arena. */
const char *text_clean_whole(struct arena *arena, const char *text, int how);
/* Cells that text_clean's answer takes. */
int text_width(const char *text);
int text_width_n(const char *text, size_t length);
/* The one way to fit text to a number of cells: cleaned; too long: cut between clusters and closed
 * with an ellipsis (~ in ASCII); too short: padded if `how` says so.
 * Never wider than `cells`; a size of TEXT_FIT_SIZE(cells) never cuts more. Directional controls
 * are never passed on, so that text written from right to left stays in its column. */
const char *text_fit(const char *text, int cells, int how, char *out, size_t size);
#define TEXT_FIT_SIZE(cells) ((size_t)(cells)*TEXT_CLUSTER_SIZE + 1)

/* --- reading what was typed --- */

/* NFC; full-width forms to ASCII; every blank to a plain one; hidden characters dropped; hyphens to
 * '-', longer dashes to U+2013 (a range), while U+2212 (a minus) stays. false: cut, did not fit
 * (out of 3 * strlen + 1 bytes never cuts). */
bool text_normalise(const char *text, char *out, size_t size);
/* For comparing labels and words: normalised, lower case, curly quotes straight. Accents count. */
bool text_fold(const char *text, char *out, size_t size);
uint32_t text_fold_character(uint32_t code);
bool text_same(const char *a, const char *b);          /* equal when folded */
bool text_starts(const char *text, const char *start); /* text begins with start, both folded */
/* A2 before A10; capitals count only between equals. A total order: 0 for equal bytes alone. */
int text_compare_natural(const char *a, const char *b);

/* The part between blanks: returns its first byte and sets its length. */
const char *text_trim(const char *text, size_t *length);
/* Trims the text in place and returns it. */
char *text_trim_in_place(char *text);
/* Cuts at a character; false when not all of it fit. text may be NULL: "". */
bool text_copy(char *out, size_t size, const char *text);
bool text_copy_n(char *out, size_t size, const char *text, size_t length);

/* --- building --- */

/* Text that grows in an arena, or up to the end of a room given; `text` is always closed with NUL.
 * In a room, what does not fit is cut at a character, `cut` is set and the rest is dropped. */
struct text_builder {
	struct arena *arena; /* NULL: the room is fixed */
	char *text;
	size_t length;
	size_t size;
	bool cut;
};

struct text_builder text_builder_in(struct arena *arena);
struct text_builder text_builder_fixed(char *room, size_t size);
void text_add(struct text_builder *builder, const char *text);
void text_add_n(struct text_builder *builder, const char *text, size_t length);
void text_add_character(struct text_builder *builder, uint32_t code);
void text_add_format(struct text_builder *builder, const char *format, ...)
	__attribute__((format(printf, 2, 3)));

#endif
