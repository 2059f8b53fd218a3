/* SPDX-License-Identifier: MIT */
/* walk_line.h - what a line being typed will log: its live reading, the doubt with its choices,
 * and before a cut what the rules would say. */
#ifndef SCREENS_WALK_LINE_H
#define SCREENS_WALK_LINE_H

#include "screen.h"

enum { WALK_LINES_MAX = 8 };

struct walk_reading {
	enum status status;             /* of the line; STATUS_END: there is none */
	char said[FAULT_TEXT_SIZE * 2]; /* the reading, or what is wrong or asked */
	char asked[FAULT_TEXT_SIZE];    /* the worst flag it would raise; "" none */
	enum urgency urgency;           /* of that */
	int32_t more;                   /* flags besides */
	char settles[TEXT_SIZE];
	char lines[WALK_LINES_MAX][160]; /* a line that holds several: what it would take */
	int32_t line_count;
};

/* Reads a line typed at the tree. */
void walk_line_read(
	struct walk_reading *out, struct session *session, const char *label, const char *line);
/* What the rules would say of the line if it were logged at the tree, in the arena. */
enum status walk_line_ask(struct session *session, const char *label, const char *line,
	struct arena *arena, struct ask_answer *out, struct fault *why) MUST_CHECK;
/* Logs it; STATUS_OK only when it is on the disk. `wants_id`: refuse a line for another tree. */
enum status walk_line_log(struct session *session, const char *label, const char *line,
	const char *wants_id, struct work_logged *out, struct fault *why) MUST_CHECK;
/* Draws it into rows row..row+rows. */
void walk_line_draw(const struct walk_reading *reading, struct paper *paper, int row, int rows);

#endif
