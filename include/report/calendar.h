/* SPDX-License-Identifier: MIT */
/* calendar.h - the year ahead as days: when what is clear to do, what is planned, and what was put
 * off until when. Plain values, for the command line and the calendar file. Says nothing that the
 * windows, the plans and the answers do not say. */
#ifndef REPORT_CALENDAR_H
#define REPORT_CALENDAR_H

#include "report/print.h"

enum { CALENDAR_DAYS = 365, CALENDAR_UID_SIZE = 220 };

enum calendar_kind { CALENDAR_WINDOW, CALENDAR_PLAN, CALENDAR_PUT_OFF };
const char *calendar_kind_key(enum calendar_kind kind); /* "window" */

struct calendar_event {
	enum calendar_kind kind;
	/* The same event in a later calendar has the same one: of letters, digits, '-' and '@'. */
	char uid[CALENDAR_UID_SIZE];
	struct date from, to; /* both ends in */
	const char *title;    /* "clear for the saw: apple" */
	const char *trees;    /* "A1, A2"; the subject of planned work; never NULL */
	const char *words;    /* what else there is to say; lines parted by '\n'; "" nothing */
	int32_t every_days;   /* of a plan that comes again; 0 once */
	struct maybe_date until;
};
struct calendar {
	const struct calendar_event *events; /* by their first day */
	int32_t count;
};
/* Windows of the next 365 days: of standing trees that are not left alone; trees of a kind whose
 * days are the same stand together. Planned work not done yet, put-offs that still hide something.
 * without_private: nothing of trees marked private. */
enum status calendar_make(struct yard *yard, bool without_private, struct arena *arena,
	struct calendar *out, struct fault *why) MUST_CHECK;
enum status print_calendar(const struct printer *printer, const struct calendar *calendar,
	struct fault *why) MUST_CHECK;

#endif
