/* SPDX-License-Identifier: MIT */
/* handout.h - what goes out of the log for people and their other programs: papers, the calendar,
 * the plan; each a file written whole or not at all. */
#ifndef EXCHANGE_HANDOUT_H
#define EXCHANGE_HANDOUT_H

#include "core/file.h"
#include "report/print.h"
#include "report/session.h"

struct handout {
	const char *what;      /* report walk sheet */
	const char *path;      /* "-" standard output */
	bool html;             /* papers: HTML, else text */
	bool ascii;            /* text on standard output where the locale has no UTF-8 */
	const char *tree_id;   /* NULL: all */
	struct maybe_i32 year; /* of the season report */
	struct maybe_date day; /* the log as it is on that day; unknown: today */
	bool without_private;
};

/* Is this a paper, to be had as text or HTML, of one tree too? */
bool handout_is_paper(const char *what);
/* Does the name of a file ask for HTML. */
bool handout_path_is_html(const char *path);
/* The file that is meant unless another is named: "yard-sheet-A3.html" beside the log, or in the
 * home folder where the log lies where logs lie when nobody says; with "-2", "-3" ... behind its
 * name while a file of it is there. `end` goes into the name: a label, a season; "" nothing. */
void handout_usual_path(
	struct session *session, const char *what, const char *end, char out[FILE_PATH_SIZE]);
/* Is this one of the things that handout_write writes? */
bool handout_is(const char *what);
enum status handout_write(
	struct session *session, const struct handout *handout, struct fault *why) MUST_CHECK;

#endif
