/* SPDX-License-Identifier: MIT */
/* name_guess.h - what a grower wrote as the name of a kind or a cultivar, and how sure it is.
 *
 * "Comice or Bosc" is two candidates, "Fuji?" one, "Unknown #2" none. Names are kept as typed. */
#ifndef CORE_NAME_GUESS_H
#define CORE_NAME_GUESS_H

#include "core/line.h"

enum { GUESSES_MAX = 4 };

struct name_guess {
	char names[GUESSES_MAX][NAME_SIZE];
	int32_t count;  /* 0: the grower does not know */
	enum sure sure; /* SURE_CERTAIN where the words hold no doubt; the caller may lower it */
};

/* STATUS_DOUBT: words that name several trees, several grafts, two kinds ("Japanese plum", when
 * names finds two), or that may be no name at all ("N/A"). STATUS_SYNTAX: blank, or no plain text.
 * STATUS_RANGE: too long. names may be NULL. */
enum status name_guess_read(const char *text, const struct line_names *names,
	struct name_guess *out, struct fault *why) MUST_CHECK;

#endif
