/* SPDX-License-Identifier: MIT */
/* text_tables.h - what Unicode says of characters, as sorted tables, and the few questions about
 * one character that the parts of the text module share. */
#ifndef CORE_TEXT_TABLES_H
#define CORE_TEXT_TABLES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct text_range {
	uint32_t first;
	uint32_t last;
};

/* base and mark written apart are the one letter composed. Sorted by base, then mark. */
struct text_composition {
	uint16_t base;
	uint16_t mark;
	uint16_t composed;
};

/* Every step-th letter from first to last has its lower-case letter at this distance. */
struct text_folding {
	uint16_t first;
	uint16_t last;
	int16_t step;
	int16_t distance;
};

/* Canonical combining class of marks U+0300..U+036F; a mark in no row has 230 (above). */
struct text_class {
	uint16_t first;
	uint16_t last;
	uint16_t combining;
};

extern const struct text_range text_wide[];
extern const size_t text_wide_count;
extern const struct text_range text_marks[];
extern const size_t text_marks_count;
extern const struct text_composition text_compositions[];
extern const size_t text_compositions_count;
extern const struct text_folding text_foldings[];
extern const size_t text_foldings_count;
/* Characters that are written as another one: the same struct, and the distance to that one. */
extern const struct text_folding text_singles[];
extern const size_t text_singles_count;
extern const struct text_class text_classes[];
extern const size_t text_classes_count;

/* Is code in one of the ranges, which are sorted. */
bool text_in_ranges(uint32_t code, const struct text_range *ranges, size_t count);
/* Zero cells wide: a combining mark, a vowel or final of a Korean syllable written apart. */
bool text_code_is_mark(uint32_t code);
/* Belongs to the cluster before it. */
bool text_code_extends(uint32_t code);
bool text_code_is_control(uint32_t code);
/* Blanks of any width, tabs, line and paragraph ends. */
bool text_code_is_blank(uint32_t code);
/* Formatting that is not seen: directions, zero-width blanks, byte order marks, soft hyphens. */
bool text_code_is_hidden(uint32_t code);

#endif
