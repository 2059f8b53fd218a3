/* SPDX-License-Identifier: MIT */
/* plain.h - text as people type and paste it, made plain for the scanners of this layer.
 *
 * Blanks of every kind become one blank, dashes and the minus sign '-', curly quotes and prime
 * marks ' and ", full-width ASCII its plain form. Each byte of the result knows the byte of the
 * source that it came from, so that the words as typed are never lost. */
#ifndef CORE_PLAIN_H
#define CORE_PLAIN_H

#include <stdbool.h>
#include <stddef.h>

#include "core/fault.h"
#include "core/limits.h"

enum { PLAIN_SIZE = LINE_SIZE };

struct plain {
	char text[PLAIN_SIZE];
	char low[PLAIN_SIZE];          /* the same with A-Z as a-z; same length */
	unsigned short at[PLAIN_SIZE]; /* where in the source; at[length] is what was read of it */
	size_t length;
};

/* Reads at most limit bytes of source, whole characters only; the rest is left. Blanks at both
 * ends go. STATUS_SYNTAX for a control character or bytes that are not UTF-8. */
enum status plain_make(
	const char *source, size_t limit, struct plain *out, struct fault *why) MUST_CHECK;

/* How long the UTF-8 character at text is, 1..4; 0 when it is none. */
size_t plain_character(const char *text, size_t left);

/* --- small questions about lower-case ASCII text --- */
bool plain_is_letter(char byte); /* a-z, A-Z, or any byte of a character beyond ASCII */
bool plain_is_digit(char byte);
/* text starts with word, and the word ends there. Returns its length, else 0. A '_' in word
 * stands for one blank. */
size_t plain_word(const char *text, const char *word);
/* The same for any of a blank-separated list; the longest one counts. */
size_t plain_word_of(const char *text, const char *words);

#endif
