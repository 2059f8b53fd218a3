/* SPDX-License-Identifier: MIT */
/* demo_yard.h - what the invented yard holds, as tables. */
#ifndef REPORT_DEMO_YARD_H
#define REPORT_DEMO_YARD_H

#include "core/record.h"

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

/* What was seen of a tree whose name is not known. */
struct demo_trait {
	const char *label;
	const char *name;
	const char *value;
};

/* What is known of a spot: its soil and how it is watered. */
struct demo_spot {
	const char *name;
	enum soil_texture soil;
	enum ground_cover cover;
	const char *watering; /* "" not told, and nothing after it */
	int8_t emitters;
	int32_t flow_ulh; /* of one of them */
	int16_t efficiency_permille;
	int16_t offset_decic; /* so much warmer than the place */
};

/* Where a tree came from. */
struct demo_descent {
	const char *label;
	enum origin how;
	const char *parent; /* "" none */
};

/* Each table ends with a row whose first text is NULL. */
extern const struct demo_tree demo_trees[];
extern const struct demo_descent demo_descents[];
extern const struct demo_line demo_lines[];
extern const struct demo_window demo_windows[];
extern const struct demo_spot demo_spots[];
extern const struct demo_trait demo_traits[];

/* The station's figures of a day, for a yard that is written on the day today. False: it lost that
 * day. */
bool demo_weather_of_day(struct date day, struct date today, struct weather_day *out);

#endif
