/* SPDX-License-Identifier: MIT */
/* going_out.h - what the screens and the line mode write to files: papers, lists as CSV, the
 * calendar, the plan. */
#ifndef SCREENS_GOING_OUT_H
#define SCREENS_GOING_OUT_H

#include "core/file.h"
#include "report/session.h"

struct going_out {
	int32_t what;          /* its place in the table */
	char tree_id[ID_SIZE]; /* "" the yard */
	char label[LABEL_SIZE];
	struct maybe_i32 year; /* of the season report */
	bool without_private;
};

int32_t going_out_count(void);
/* The word that asks for it: "report". */
const char *going_out_word(int32_t what);
/* Its place, by a word of this length, or by the name of the screen that shows the same; -1: there
 * is none. */
int32_t going_out_find(const char *word, size_t length);
/* "the season report of 2026", "A3: its sheet". */
const char *going_out_title(const struct going_out *out, char *text, size_t size);
/* Is the tree, not the yard, what it is of. */
bool going_out_is_of_tree(const struct going_out *out);
/* Is it a page that is plain text, or HTML where the file's name says so. */
bool going_out_is_paper(const struct going_out *out);
/* Can trees marked private be left out. */
bool going_out_leaves_out(const struct going_out *out);
/* The file that is meant unless another is named; none of that name is there. */
void going_out_usual(
	const struct going_out *out, struct session *session, char path[FILE_PATH_SIZE]);
enum status going_out_write(const struct going_out *out, struct session *session, const char *path,
	struct fault *why) MUST_CHECK;

#endif
