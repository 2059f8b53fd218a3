/* SPDX-License-Identifier: MIT */
/* packed.h - the tables built in, small: packed when the program is built, unpacked at its start.
 *
 * The tables are words of the size of a pointer. Packed they are bytes, a step after the other:
 *   number   its lower 32 bits, then its upper
 *   place    a pointer into the tables: so many bytes from their beginning
 *   text     a pointer to a text: so many bytes from the beginning of all texts
 *   copy     so many words once more, from so many words back (may reach into itself)
 * A step begins with its first figure times four plus its kind; a figure is groups of seven bits,
 * lowest first, the last with its top bit off. Texts stay where they are, each once. */
#ifndef ALMANAC_PACKED_H
#define ALMANAC_PACKED_H

#include <stddef.h>
#include <stdint.h>

enum packed_kind { PACKED_NUMBER, PACKED_PLACE, PACKED_TEXT, PACKED_COPY };

struct packed_word { /* what a word of the tables is */
	enum packed_kind kind;
	uint64_t value;
};

struct packed {
	const unsigned char *bytes;
	const char *texts;
	size_t count; /* of words */
};

/* Returns how many bytes that took; out has room for PACKED_MOST of each word. */
enum { PACKED_MOST = 15 };
size_t packed_make(const struct packed_word *words, size_t count, unsigned char *out);
/* out has room for count words, and is where places point to. */
void packed_open(const struct packed *packed, uintptr_t *out);

#endif
