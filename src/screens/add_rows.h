/* SPDX-License-Identifier: MIT */
/* add_rows.h - trees told in three answers, one or a row of them: the form of the screen and the
 * questions of the line mode. */
#ifndef SCREENS_ADD_ROWS_H
#define SCREENS_ADD_ROWS_H

#include "core/label_range.h"
#include "report/session.h"

struct add_words {
	const char *labels;  /* "A1", "A1..A12" */
	const char *sort;    /* "apple", "apple, Gravenstein"; "" not known */
	const char *planted; /* "" not known */
};
/* The first tree of the row, without its label where there are more. */
enum status add_rows_read(const struct add_words *words, struct session *session,
	struct new_tree *tree, struct label_range *range, struct fault *why) MUST_CHECK;
/* All of them as one act. `asked` gets a question that came up. */
enum status add_rows_keep(struct session *session, struct new_tree *tree,
	const struct label_range *range, char asked[TEXT_SIZE], struct fault *why) MUST_CHECK;
/* "A1", or "A1 to A12, 12 trees". */
const char *add_rows_words(const struct label_range *range, char *out, int size);

#endif
