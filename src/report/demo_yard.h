/* SPDX-License-Identifier: MIT */
/* demo_yard.h - what the invented yard holds, as tables. */
#ifndef REPORT_DEMO_YARD_H
#define REPORT_DEMO_YARD_H

#include <stdint.h>

struct demo_tree {
	const char *label;
	const char *species;
	const char *cultivar;
	const char *sure;    /* of the cultivar, or of both when there is none; "" as usual */
	const char *planted; /* ISO 8601-2 with {-N} for the year N before today's */
	const char *spot;
	int16_t east_dm; /* decimetres from the gate */
	int16_t north_dm;
	const char *host;
	const char *hazard;
	const char *note;
	const char *second; /* another candidate species, "" none */
};

/* One line of the log. `when` is "MM-DD" of the year `years` before today's, or "+N" / "-N" days
 * from today, moved back `years` years. Days after today are left out. {+N} and {-N} in the line
 * are days from today. */
struct demo_line {
	int8_t years;
	const char *when;
	const char *line;
};

/* A span set by hand, its ends days from today. */
struct demo_window {
	const char *label;
	const char *window;
	int16_t from;
	int16_t to;
};

/* Each table ends with a row whose first text is NULL. */
extern const struct demo_tree demo_trees[];
extern const struct demo_line demo_lines[];
extern const struct demo_window demo_windows[];

#endif
